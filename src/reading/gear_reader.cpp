// Inputs of the gear, all with the path `gear.` and their key; of nested maps `gear.on_board.`,
// `gear.foot.`, `gear.foot.holes.`, `gear.foot.plate.` and their key. A gear for both sides is one
// input.

#include <algorithm>
#include <cmath>

#include "reading/setup_parts.hpp"

namespace thole::reading {

using namespace literals;
constexpr auto assumed = Knowledge::assumed;

namespace {

constexpr std::size_t most_gears = 4;
constexpr std::size_t most_boom_angles = 24;
constexpr double deepest = 150;  // metres

// `toward: outboard`, or an angle from astern toward outboard.
Angle read_toward(Fields& f) {
  const Key key{"toward", "where the tube leans",
                "astern, outboard, ahead, inboard, or degrees from astern to outboard"};
  const auto word = f.text(key, true);
  if (!word) return {};
  if (word->value == "astern") return 0.0_deg;
  if (word->value == "outboard") return 90.0_deg;
  if (word->value == "ahead") return 180.0_deg;
  if (word->value == "inboard") return -90.0_deg;
  const Node& node = *f.node()->find("toward");
  const std::string found = f.path() + ".toward: \"" + word->value + "\" is ";
  try {
    const Angle a = parse<Angle>(word->value);
    if (std::abs(in_degrees(a)) <= 360) return a;
    f.complain(node, found + "more than one turn");
  } catch (const UnitError&) {
    const std::string near =
        nearest_spelling(word->value, {"astern", "outboard", "ahead", "inboard"});
    f.complain(node, found + "not astern, outboard, ahead, inboard or an angle such as 45 deg" +
                         (near.empty() ? "" : "; did you mean \"" + near + "\"?"));
  }
  return {};
}

RodHolder read_rod_holder(Fields& f) {
  RodHolder r;
  r.height = f.need<Length>({"height", "rim of the holder above the wall",
                             "where the rod leaves "
                             "the tube"})
                 .value;
  if (auto v = f.optional<Length>({"forward", "rim forward of the base centre", ""}, Sign::any)) {
    r.forward = v->value;
  }
  if (auto v = f.optional<Length>({"outboard", "rim outboard of the base centre", ""}, Sign::any)) {
    r.outboard = v->value;
  }
  r.lean = f.need<Angle>({"lean", "tube from upright", "0 deg upright, 90 deg level"},
                         Sign::not_negative)
               .value;
  if (in_degrees(r.lean) > 180) complain_at(f, "lean", ": must lie between 0 and 180 deg");
  r.toward = read_toward(f);
  r.rod_length = f.need<Length>({"rod_length", "rod length", "butt to tip"}).value;
  if (auto v = f.optional<BendingStiffness>(
          {"butt_stiffness", "stiffness of the rod's butt",
           "EI of the butt third: pull x length^3 / (3 x droop); without it the rod counts as "
           "rigid"})) {
    r.butt_stiffness = v->value;
  }
  r.line_test = f.need<Force>({"line_test", "line test", "on the label of the line"}).value;
  r.drag = f.need<Force>({"drag", "drag setting",
                          "pull at which the reel gives line: hang a "
                          "luggage scale on the line and read it when the spool creeps",
                          assumed});
  const Key growth{"spool_growth", "spool growth",
                   "full over least spool radius; the pull grows by it as line runs off", assumed};
  if (auto v = f.number(growth, 1, 4)) {
    r.spool_growth = v->value;
  } else if (!f.describing() && !f.has("spool_growth")) {
    f.reading().inputs.push_back({.path = f.path() + ".spool_growth",
                                  .label = "spool growth",
                                  .value = "1.5",
                                  .si = 1.5,
                                  .is_text = false,
                                  .known = assumed,
                                  .defaulted = true});
  }
  r.running_pull = f.defaulted<Force>({"running_pull", "pull of the running line",
                                       "planer or lure: read it with a scale", assumed},
                                      8.0_lbf)
                       .value;
  r.mass = f.defaulted<Mass>({"mass", "rod, reel and holder", "together", assumed}, 1.8_kg).value;
  return r;
}

void read_angles(Fields& f, const Key& key, Angle& from, Angle& to) {
  if (const auto r = read_range(f, key, Dimension::angle, Sign::any)) {
    from = Angle::from_value(r->from);
    to = Angle::from_value(r->to);
  }
}

PlainLoad read_plain_load(Fields& f) {
  PlainLoad p;
  ObjectSchema schema;
  const Key key{"at", "where the load acts", "from the base centre on the wall"};
  Fields at = f.map(key, true, &schema);
  const Length x = at.need<Length>({"forward", "load forward of the base", ""}, Sign::any).value;
  const Length y = at.need<Length>({"outboard", "load outboard of the base", ""}, Sign::any).value;
  const Length z = at.need<Length>({"up", "load above the wall", ""}, Sign::any).value;
  at.finish();
  f.close(key, schema);
  p.at = Position<Base>(x, y, z);
  p.pull = f.need<Force>({"pull", "pull", "size of the load"}).value;
  read_angles(f,
              {"azimuth", "azimuth of the load",
               "0 deg astern, 90 deg outboard, 180 deg ahead; "
               "or [from, to]"},
              p.range.azimuth_from, p.range.azimuth_to);
  read_angles(f,
              {"dip", "dip of the load",
               "below level: 0 deg level, 90 deg straight down; or "
               "[from, to]"},
              p.range.dip_from, p.range.dip_to);
  if (std::abs(in_degrees(p.range.dip_from)) > 90.001 ||
      std::abs(in_degrees(p.range.dip_to)) > 90.001) {
    complain_at(f, "dip", ": must lie between -90 and 90 deg");
  }
  const std::string category =
      f.choice({"category", "how often", "everyday (when left out), occasional or accident"},
               {"everyday", "occasional", "accident"}, false)
          .value;
  p.category = category == "occasional" ? Category::occasional
               : category == "accident" ? Category::accident
                                        : Category::everyday;
  if (auto v =
          f.optional<Mass>({"mass", "mass of the gear", "its weight acts at the same point"})) {
    p.mass = v->value;
  }
  return p;
}

// One angle, or a list of them.
std::vector<Angle> read_boom_angles(Fields& f) {
  const Key key{"boom_angles", "boom angles",
                "where the boom may point, from astern toward outboard: one angle or a list"};
  const Node* n = f.raw(key, true,
                        R"({"description": )" + json_text(key.help) +
                            R"(, "oneOf": [{"type": "string"}, {"type": "array", )"
                            R"("minItems": 1, "maxItems": 24, )"
                            R"("items": {"type": "string"}}]})");
  if (n == nullptr) return {};
  const std::string label = f.path() + ".boom_angles";
  std::vector<Angle> out;
  if (n->kind == Node::Kind::list) {
    if (n->items.empty() || n->items.size() > most_boom_angles) {
      f.complain(*n, label +
                         ": a list of 1 to 24 angles is expected, as in [0 deg, 45 deg, 90 deg]; "
                         "found " +
                         std::to_string(n->items.size()));
      return {};
    }
    for (const Node& item : n->items) {
      if (const auto a = f.measure_of(item, label, Dimension::angle, Sign::any)) {
        out.push_back(Angle::from_value(a->si));
      }
    }
  } else if (const auto a = f.measure_of(*n, label, Dimension::angle, Sign::any)) {
    out.push_back(Angle::from_value(a->si));
  }
  if (!out.empty()) {
    std::string list;
    for (const Angle& a : out) list += (list.empty() ? "" : ", ") + show(a);
    f.reading().inputs.push_back({.path = label,
                                  .label = std::string(key.label),
                                  .value = list,
                                  .si = 0,
                                  .is_text = true,
                                  .known = Knowledge::tagged,
                                  .defaulted = false});
  }
  return out;
}

// The only length beyond the bounds of a small boat, so it is read here.
Length read_depth(Fields& f) {
  const Key key{"depth", "depth of the ball", "the deepest that is fished"};
  const std::string text = R"({"type": "string"})";
  const Node* n =
      f.raw(key, false,
            R"({"description": )" + json_text(key.help) + R"(, "oneOf": [)" + text +
                R"(, {"type": "object", "properties": {"is": )" + text +
                R"(, "known": {"enum": ["measured", "tagged", "assumed"]}}, "required": ["is"], )"
                R"("additionalProperties": false}]})");
  const std::string label = f.path() + ".depth";
  if (n == nullptr) {
    if (!f.describing() && !f.has("depth")) {
      complain_missing(f, "depth", "depth of the ball, a length, for example 100 ft or 30 m");
    }
    return {};
  }
  Knowledge known = Knowledge::tagged;
  if (n->kind == Node::Kind::map) {
    ObjectSchema unused;
    Fields both = f.map(key, false, &unused);
    const std::string word =
        both.choice({"known", "how it is known", "measured, tagged or assumed"},
                    {"measured", "tagged", "assumed"}, false)
            .value;
    if (word == "measured") known = Knowledge::measured;
    if (word == "assumed") known = Knowledge::assumed;
    (void)both.raw({"is", "depth of the ball", "a length, for example 30 m"}, true, "");
    both.finish();
    n = n->find("is");
    if (n == nullptr) return {};
  }
  if (n->kind != Node::Kind::text) {
    f.complain(*n, label + ": one value is expected, for example 100 ft or 30 m");
    return {};
  }
  try {
    const Measure m = parse_measure(n->text, Dimension::length);
    if (!(m.si > 0) || m.si > deepest) {
      f.complain(*n, label + ": \"" + n->text + "\" must lie between 0 and 150 m (490 ft)");
      return {};
    }
    f.reading().inputs.push_back({.path = label,
                                  .label = std::string(key.label),
                                  .value = show(m, f.reading().units),
                                  .si = m.si,
                                  .is_text = false,
                                  .known = known,
                                  .defaulted = false});
    return Length::from_value(m.si);
  } catch (const UnitError& e) {
    f.complain(*n, label + ": " + e.what());
  }
  return {};
}

Downrigger read_downrigger(Fields& f) {
  Downrigger d;
  d.mass = f.need<Mass>({"mass", "mass of the downrigger", "without the ball"}).value;
  d.mass_height =
      f.need<Length>({"mass_height", "middle of its mass above the board", "about the drum"},
                     Sign::not_negative)
          .value;
  d.boom_length = f.need<Length>({"boom_length", "boom length",
                                  "from the middle of the base to the tip, level"})
                      .value;
  d.tip_height =
      f.need<Length>({"tip_height", "boom tip above the board", "below it: negative"}, Sign::any)
          .value;
  d.boom_angles = read_boom_angles(f);
  d.ball = f.need<Mass>({"ball", "ball", "stamped on it, or weigh it"}).value;
  if (d.ball > 50.0_kg) {
    complain_at(f, "ball", ": above 50 kg (110 lb), no ball of a small boat");
  }
  {
    const Key key{"ball_metal", "metal of the ball", "lead when left out", assumed};
    const std::string metal =
        f.choice(key, {"lead", "hard lead", "steel", "cast iron"}, false, true).value;
    d.ball_density = ball_density(metal == "hard lead"   ? BallMaterial::antimonial_lead
                                  : metal == "steel"     ? BallMaterial::steel
                                  : metal == "cast iron" ? BallMaterial::cast_iron
                                                         : BallMaterial::lead);
    note_default(f, key, "lead");
  }
  const std::string wire =
      f.choice({"wire", "wire", "strand_1x7 or strand_7x7 (stainless steel), or braid"},
               {"strand_1x7", "strand_7x7", "braid"}, true, true)
          .value;
  d.wire = wire == "braid"        ? WireKind::braid
           : wire == "strand_7x7" ? WireKind::rope_7x7
                                  : WireKind::strand_1x7;
  d.wire_diameter = f.need<Length>({"wire_diameter", "wire diameter", "caliper or label"}).value;
  if (auto v = f.optional<Force>({"wire_break", "breaking load of the wire",
                                  "on the label; a cautious figure when left out"})) {
    d.wire_break = v->value;
  }
  d.depth = read_depth(f);
  if (const auto r = read_range(f,
                                {"speed", "speed through the water",
                                 "when the ball is down: one speed, or [slowest, fastest]"},
                                Dimension::speed, Sign::above_zero)) {
    d.slowest = Speed::from_value(r->from);
    d.fastest = Speed::from_value(r->to);
    const auto text = [&](double v) { return show({v, Dimension::speed}, f.reading().units); };
    f.reading().inputs.push_back(
        {.path = f.path() + ".speed",
         .label = "speed through the water",
         .value = r->to > r->from ? text(r->from) + " to " + text(r->to) : text(r->from),
         .si = r->to,
         .is_text = false,
         .known = Knowledge::tagged,
         .defaulted = false});
  }
  d.brake_slip =
      f.optional<Force>({"brake_slip", "pull at which the brake slips",
                         "hang a luggage scale on the wire; counts only when measured", assumed});
  if (auto v = f.optional<Force>(
          {"weak_link", "breaking load of a weak link", "a link at the clip that parts first"})) {
    d.weak_link = v->value;
  }
  if (auto v = f.optional<Force>({"winch_stall", "pull at which a powered winch stalls",
                                  "on its plate; leave out for a hand crank"})) {
    d.winch_stall = v->value;
  }
  return d;
}

GearFoot read_foot(Fields f, const MaterialLibrary& library) {
  GearFoot foot;
  const BaseShape shape = read_base_shape(f);
  foot.outline = shape.outline;
  foot.holes = read_holes(f).points;
  turn(foot.holes, shape.turn);
  foot.thread = read_thread(f, library);
  foot.material = read_fastener_material(f, library);
  const std::optional<Length> washer = read_washer_width(f, library, foot.thread);
  foot.plate = read_backing(f, {"plate", "plate under the board", "in place of washers"}, false,
                            library, "under the board");
  foot.washer = washer.value_or(Length{});
  if (f.has("plate")) {
    for (const char* key : {"washer", "washer_diameter"}) {
      complain_at(f, key, ": give washers or a plate under the board, not both");
    }
  } else if (!f.has("washer") && !f.has("washer_diameter")) {
    complain_missing(f, "washer",
                     "what lies under the nuts below the board: washer (a name), washer_diameter "
                     "or plate");
  }
  foot.hole = read_hole(f, foot.thread);
  f.finish();
  return foot;
}

const std::vector<std::string> plate_kinds{"rod_holder", "plain_load"};
const std::vector<std::string> board_kinds{"rod_holder", "plain_load", "downrigger"};

void read_kind_of_gear(Fields& f, Gear& g, const std::string& kind) {
  if (kind == "rod_holder") g.rod_holder = read_rod_holder(f);
  if (kind == "plain_load") g.plain_load = read_plain_load(f);
  if (kind == "downrigger") g.downrigger = read_downrigger(f);
}

// The place and the bolts of a gear on a board.
std::optional<Sides> read_place(Fields& f, Gear& g, const MaterialLibrary& library) {
  std::optional<Sides> sides;
  {
    ObjectSchema schema;
    const Key key{"on_board", "place on the board",
                  "middle of the base; needed on a cross_board, not for a gunwale_plate"};
    Fields at = f.map(key, false, &schema);
    if (!f.describing() && !f.has("on_board")) {
      complain_missing(f, "on_board",
                       "its place, as in {side: port, outboard: 4 in, forward: 0 in}");
    }
    if (at.node() != nullptr || at.describing()) {
      sides = read_side(at);
      g.place.outboard =
          at.need<Length>({"outboard", "base outboard of the inner edge of the ledge",
                           "inboard of it: negative"},
                          Sign::any)
              .value;
      if (auto v = at.optional<Length>({"forward", "base forward of the middle line of the board",
                                        "in the middle when left out"},
                                       Sign::any)) {
        g.place.forward = v->value;
      }
      at.finish();
    }
    f.close(key, schema);
  }
  {
    ObjectSchema schema;
    const Key key{"foot", "base of the gear on the board",
                  "its outline and bolts; without it they are not checked"};
    Fields foot = f.map(key, false, &schema);
    if (foot.node() != nullptr || foot.describing()) {
      const GearFoot read = read_foot(foot, library);
      if (!foot.describing()) g.foot = read;
    }
    f.close(key, schema);
  }
  return sides;
}

// "downrigger", "rod holder", "load"
std::string plain_name(const std::string& kind) {
  return kind == "rod_holder" ? "rod holder" : kind == "plain_load" ? "load" : kind;
}

std::string gear_schema(Fields& top, const MaterialLibrary& library, const Key& list) {
  std::vector<ObjectSchema> schemas;
  for (const std::string& kind : board_kinds) {
    ObjectSchema& schema = schemas.emplace_back();
    schema.help = list.help;
    Fields f(top.reading(), nullptr, "gear", &schema);
    (void)f.choice({"kind", "kind of gear", plain_name(kind)}, {kind}, true);
    (void)f.text({"name", "name", "your own words"}, false);
    Gear g;
    read_kind_of_gear(f, g, kind);
    (void)read_place(f, g, library);
  }
  return R"({"type": "array", "minItems": 1, "maxItems": 4, "items": )" + one_of(schemas) + "}";
}

}  // namespace

std::vector<Gear> read_gear(Fields& top, const MaterialLibrary& library, bool on_board,
                            BoardPlaces& places) {
  const Key list{"gear", "the gear", "rod holders, downriggers or plain loads"};
  std::vector<Gear> out;
  if (top.describing()) {
    (void)top.raw(list, true, gear_schema(top, library, list));
    return out;
  }
  std::vector<Fields> items = top.list(list, true, nullptr);
  for (std::size_t i = 0; i < items.size(); ++i) {
    Fields& f = items[i];
    if (!on_board && i == 1) {
      f.complain_here("gear: one gear sits on a gunwale plate; write a setup for each plate");
      break;
    }
    const Node* node = f.node();
    if (node == nullptr) continue;
    const Node* word = node->find("kind");
    if (!on_board && word != nullptr && word->text == "downrigger") {
      f.complain(*word,
                 "gear.kind: a downrigger sits on a cross_board; on a gunwale_plate it is not "
                 "checked");
      continue;
    }
    Gear g;
    const std::string kind = f.choice({"kind", "kind of gear", "what kind of gear"},
                                      on_board ? board_kinds : plate_kinds, true)
                                 .value;
    const auto name = f.text({"name", "name", "your own words"}, false);
    if (name) g.name = name->value;
    read_kind_of_gear(f, g, kind);
    if (!on_board) {
      for (const char* key : {"on_board", "foot"}) {
        complain_at(f, key,
                    ": belongs to mount kind: cross_board; the base of this gear is "
                    "mount.base");
        if (f.has(key)) (void)f.raw({key, "", ""}, false, "");
      }
      if (!kind.empty()) f.finish();
      out.push_back(g);
      continue;
    }
    const std::optional<Sides> sides = read_place(f, g, library);
    if (!kind.empty()) f.finish();
    if (!sides || kind.empty()) continue;
    const std::string own = name ? g.name : plain_name(kind);
    for (const Side side : each(*sides)) {
      Gear one = g;
      one.place.side = side;
      const bool plain = name && *sides != Sides::both;
      one.name = unlike_others(out, plain ? own : std::string(word_for(side)) + " " + own);
      out.push_back(one);
      places.gear.push_back(node);
    }
    if (out.size() > most_gears) {
      f.complain_here("gear: at most 4 on one board, those for both sides counted twice");
      break;
    }
  }
  return out;
}

}  // namespace thole::reading
