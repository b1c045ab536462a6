// Inputs of the gear, all with the path `gear.` and their key; of nested maps `gear.on_board.`,
// `gear.planer.`, `gear.foot.`, `gear.foot.holes.`, `gear.foot.plate.` and their key. A gear for
// both sides is one input.

#include <algorithm>
#include <cmath>
#include <numbers>

#include <thole/rod.hpp>

#include "reading/setup_parts.hpp"

namespace thole::reading {

using namespace literals;
constexpr auto assumed = Knowledge::assumed;

namespace {

constexpr std::size_t most_gears = 4;
constexpr std::size_t most_angles = 24;
constexpr std::size_t most_heights = 6;
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

// The pull of a planer from its size and speed; nothing when there is no planer.
std::optional<Force> read_planer(Fields& f, Density water) {
  const Key key{"planer", "diving planer or disc",
                "{diameter, speed} or {area, speed}: its pull is computed; in place of "
                "running_pull, which is better when measured",
                assumed, how::running_pull};
  ObjectSchema schema;
  Fields p = f.map(key, false, &schema);
  std::optional<Force> out;
  if (p.node() != nullptr || p.describing()) {
    const auto diameter = p.optional<Length>({"diameter", "diameter of the planer", "a disc"});
    refuse_outside(p, "diameter", diameter, 20.0_mm, 500.0_mm, "20 and 500 mm (0.8 and 20 in)");
    const auto area = p.optional<Area>({"area", "area of the planer", "seen flat"});
    refuse_outside(p, "area", area, 300.0_mm2, 200000.0_mm2,
                   "300 and 200000 mm^2 (0.5 and 310 in^2)");
    const auto speed = p.need<Speed>(
        {"speed", "speed of the planer", "through the water, the fastest that it is run at"});
    p.finish();
    if (p.node() != nullptr && p.has("diameter") == p.has("area")) {
      p.complain_here(p.path() + ": give its diameter or its area" +
                      (p.has("area") ? ", not both" : ""));
    }
    if (speed.value.value() > 10) {
      complain_value(p, "speed", "is above 10 m/s (22 mph): nobody trolls so fast");
    } else if (speed.value.value() > 0 && diameter.has_value() != area.has_value()) {
      const Area a =
          area ? area->value : Area(0.25 * std::numbers::pi * diameter->value * diameter->value);
      out = planer_pull(a, speed.value, water);
    }
  }
  f.close(key, schema);
  return out;
}

Force read_running_pull(Fields& f, Density water) {
  const std::optional<Force> computed = read_planer(f, water);
  const Key key{"running_pull", "pull of the running line", "planer, weight or lure", assumed,
                how::running_pull};
  if (!f.has("planer")) return f.defaulted<Force>(key, 8.0_lbf).value;
  if (f.has(key.name)) {
    (void)f.optional<Force>(key);
    complain_at(f, key.name, ": give it or planer, not both");
  } else {
    (void)f.optional<Force>(key);  // known here
  }
  if (!computed) return {};
  f.reading().inputs.push_back(
      {.path = f.path() + ".running_pull",
       .label = std::string(key.label),
       .value = show(*computed, f.reading().units) + ", computed from the planer",
       .si = computed->value(),
       .is_text = false,
       .known = assumed,
       .defaulted = true});
  return *computed;
}

// What the holder or body takes: {moment, source} or {pull, source}.
std::optional<GearRating> read_rating(Fields& f, const Key& key) {
  ObjectSchema schema;
  Fields g = f.map(key, false, &schema);
  std::optional<GearRating> out;
  if (g.node() != nullptr || g.describing()) {
    GearRating r;
    if (const auto v = g.optional<Moment>(
            {"moment", "moment that it takes", "at its base, as its maker or a test has it"})) {
      r.moment = v->value;
    }
    if (const auto v = g.optional<Force>(
            {"pull", "pull that it takes", "at the rim or the boom tip, any way"})) {
      r.pull = v->value;
    }
    const auto source =
        g.text({"source", "source of the rating", "its maker's sheet, a test"}, false);
    if (g.node() != nullptr) {
      if (g.has("moment") == g.has("pull")) {
        g.complain_here(g.path() + ": give a moment at its base or a pull" +
                        (g.has("pull") ? ", not both" : ""));
      }
      if (!g.has("source")) {
        complain_missing(g, "source", "where the rating comes from: its maker's sheet, a test");
      } else if (source && source->value.find_first_not_of(' ') == std::string::npos) {
        complain_at(g, "source", ": empty; where does the rating come from?");
      }
    }
    g.finish();
    if (source && r.moment.has_value() != r.pull.has_value()) {
      r.source = source->value;
      out = r;
    }
  }
  f.close(key, schema);
  return out;
}

RodHolder read_rod_holder(Fields& f, Density water) {
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
  const Key depth{"tube_depth", "butt in the tube", "from the rim to where the butt stands"};
  const auto in_tube = f.optional<Length>(depth);
  refuse_outside(f, depth.name, in_tube, 20.0_mm, 600.0_mm, "20 and 600 mm (0.8 and 24 in)");
  r.tube_depth = in_tube ? in_tube->value : 0.2_m;
  note_default(f, depth, r.tube_depth);
  r.rod_length = f.need<Length>({"rod_length", "rod length", "butt to tip"}).value;
  if (auto v = f.optional<BendingStiffness>(
          {"butt_stiffness", "stiffness of the rod's butt",
           "EI of the butt third: pull x length^3 / (3 x droop); without it the rod counts as "
           "rigid"})) {
    r.butt_stiffness = v->value;
  }
  r.line_test = f.need<Force>({"line_test", "line test", "on the label of the line"}).value;
  r.drag = f.need<Force>(
      {"drag", "drag setting", "pull at which the reel gives line", assumed, how::drag});
  r.spool_growth = f.defaulted_number(
      {"spool_growth", "spool growth",
       "full over least spool radius; the pull grows by it as line runs off", assumed},
      1, 4, 1.5);
  r.running_pull = read_running_pull(f, water);
  const Key link{"weak_link", "breaking load of a weak link",
                 "a lighter leader or a link at the end of the line that parts first"};
  if (auto v = f.optional<Force>(link)) {
    r.weak_link = v->value;
    if (*r.weak_link <= r.running_pull) {
      complain_value(f, link.name,
                     "is no more than the pull of the running line: it parts at once");
    }
  }
  r.holder_rating = read_rating(
      f, {"holder_rating", "what the holder itself takes",
          "{moment, source} at its base or {pull, source} at its rim, not its breaking load; "
          "without it the holder is no known link"});
  r.mass = f.defaulted<Mass>({"mass", "rod, reel and holder", "together", assumed}, 1.8_kg).value;
  return r;
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
  if (const auto range = read_directions(f, "of the load", true)) p.range = *range;
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

// One angle, or a list of them; empty when left out.
std::vector<Angle> read_angle_list(Fields& f, const Key& key, bool needed, std::size_t most,
                                   const std::string& example) {
  const std::string number = std::to_string(most);
  const Node* n = f.raw(key, needed,
                        R"({"description": )" + json_text(key.help) +
                            R"(, "oneOf": [{"type": "string"}, {"type": "array", )"
                            R"("minItems": 1, "maxItems": )" +
                            number + R"(, "items": {"type": "string"}}]})");
  if (n == nullptr) return {};
  const std::string label = f.path() + "." + std::string(key.name);
  std::vector<Angle> out;
  if (n->kind == Node::Kind::list) {
    if (n->items.empty() || n->items.size() > most) {
      f.complain(*n, label + ": a list of 1 to " + number + " angles is expected, as in " +
                         example + "; found " + std::to_string(n->items.size()));
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

// One speed, or [slowest, fastest].
std::optional<Range> read_speeds(Fields& f, const Key& key, Sign sign, bool needed) {
  const auto r = read_range(f, key, Dimension::speed, sign, needed);
  if (!r) return std::nullopt;
  const auto text = [&](double v) { return show({v, Dimension::speed}, f.reading().units); };
  f.reading().inputs.push_back(
      {.path = f.path() + "." + std::string(key.name),
       .label = std::string(key.label),
       .value = r->to > r->from ? text(r->from) + " to " + text(r->to) : text(r->from),
       .si = r->to,
       .is_text = false,
       .known = Knowledge::tagged,
       .defaulted = false});
  return r;
}

// Only the bound of depth is its own: it is the one length beyond those of a small boat.
Length read_depth(Fields& f) {
  const Key key{"depth", "depth of the ball", "the deepest that is fished", Knowledge::tagged, {},
                1e6,     "100 ft or 30 m"};
  const auto v = f.need<Length>(key);
  if (v.value.value() > deepest) {
    complain_value(f, "depth", "must lie between 0 and 150 m (490 ft)");
  }
  return v.value;
}

void read_boom(Fields& f, Downrigger& d) {
  d.boom_length = f.need<Length>({"boom_length", "boom length",
                                  "from the middle of its base to the tip, level"})
                      .value;
  d.tip_height =
      f.need<Length>({"tip_height", "boom tip above board or wall", "below it: negative"},
                     Sign::any)
          .value;
  d.boom_angles = read_angle_list(
      f,
      {"boom_angles", "boom angles",
       "where the boom may point, from astern toward outboard: one angle or a list"},
      true, most_angles, "[0 deg, 45 deg, 90 deg]");
  const Key raised{"boom_raised", "boom raised",
                   "above level when fishing: one angle or a list; level when left out"};
  if (const auto v = read_angle_list(f, raised, false, most_heights, "[0 deg, 60 deg]");
      !v.empty()) {
    d.boom_raised = v;
    for (const Angle& a : v) {
      if (in_degrees(a) < -30.001 || in_degrees(a) > 90.001) {
        complain_at(f, raised.name, ": " + show(a) + " must lie between -30 and 90 deg");
        break;
      }
    }
  }
  note_default(f, raised, "0 deg");
  const Key stowed{
      "stowed_angles", "boom when running",
      "where the stowed boom points, from astern toward outboard: one angle or a list; "
      "any way when left out"};
  d.stowed_angles = read_angle_list(f, stowed, false, most_angles, "[0 deg, 180 deg]");
  note_default(f, stowed, "any way");
  const Key reach{"mass_reach", "middle of its mass toward the tip",
                  "from the middle of its base; about 1 ft when left out"};
  const auto at = f.optional<Length>(reach, Sign::any);
  d.mass_reach = at ? at->value : std::min(0.3_m, Length(0.5 * d.boom_length));
  note_default(f, reach, d.mass_reach);
}

void read_winch(Fields& f, Downrigger& d) {
  const Key winch{"winch", "winch", "hand or powered; powered when left out"};
  d.powered = f.choice(winch, {"hand", "powered"}, false, true).value != "hand";
  note_default(f, winch, "powered");
  const Key stall{"winch_stall", "pull at which the winch stalls",
                  "on its plate; leave it out for a hand crank", Knowledge::tagged,
                  how::winch_stall};
  if (const auto v = f.optional<Force>(stall)) {
    d.winch_stall = v->value;
  } else if (d.powered) {
    note_default(f, stall, 60.0_lbf);  // by the list of load cases
  }
}

Downrigger read_downrigger(Fields& f) {
  Downrigger d;
  d.mass = f.need<Mass>({"mass", "mass of the downrigger", "without the ball"}).value;
  d.mass_height =
      f.need<Length>({"mass_height", "middle of its mass above board or wall", "about the drum"},
                     Sign::not_negative)
          .value;
  read_boom(f, d);
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
  d.ball_drag =
      f.defaulted_number({"ball_drag", "drag coefficient of the ball",
                          "on its frontal area: 0.5 with clip and fin, 1 with weed", assumed},
                         0.2, 2, 0.5);
  {
    const Key key{"finned", "a fin on the ball", "yes: it may track to either side"};
    d.finned = read_yes(f, key, false);
    note_default(f, key, "no");
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
  if (const auto r = read_speeds(f,
                                 {"speed", "speed through the water",
                                  "when the ball is down: one speed, or [slowest, fastest]"},
                                 Sign::above_zero, true)) {
    d.slowest = Speed::from_value(r->from);
    d.fastest = Speed::from_value(r->to);
  }
  {
    const Key key{
        "speed_at_ball", "speed of the water at the ball",
        "with current: one speed, or [slowest, fastest]; as at the surface when left out"};
    if (const auto r = read_speeds(f, key, Sign::not_negative, false)) {
      d.slowest_at_ball = Speed::from_value(r->from);
      d.fastest_at_ball = Speed::from_value(r->to);
    }
  }
  d.brake_slip = f.optional<Force>({"brake_slip", "pull at which the brake slips",
                                    "counts only when measured", assumed, how::brake_slip});
  if (auto v = f.optional<Force>(
          {"weak_link", "breaking load of a weak link", "a link at the clip that parts first"})) {
    d.weak_link = v->value;
  }
  read_winch(f, d);
  d.body_rating = read_rating(
      f, {"body_rating", "what the body of the gear takes",
          "{moment, source} at its base or {pull, source} at the boom tip, not its breaking load; "
          "without it the body is no known link"});
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

const std::vector<std::string> kinds{"rod_holder", "plain_load", "downrigger"};

void read_kind_of_gear(Fields& f, Gear& g, const std::string& kind, Density water) {
  if (kind == "rod_holder") g.rod_holder = read_rod_holder(f, water);
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

std::string gear_schema(Fields& top, const MaterialLibrary& library, Density water,
                        const Key& list) {
  std::vector<ObjectSchema> schemas;
  for (const std::string& kind : kinds) {
    ObjectSchema& schema = schemas.emplace_back();
    schema.help = list.help;
    Fields f(top.reading(), nullptr, "gear", &schema);
    (void)f.choice({"kind", "kind of gear", plain_name(kind)}, {kind}, true);
    (void)read_name(f);
    Gear g;
    read_kind_of_gear(f, g, kind, water);
    (void)read_place(f, g, library);
  }
  return R"({"type": "array", "minItems": 1, "maxItems": 4, "items": )" + one_of(schemas) + "}";
}

}  // namespace

std::vector<Gear> read_gear(Fields& top, const MaterialLibrary& library, bool on_board,
                            Density water, BoardPlaces& places) {
  const Key list{"gear", "the gear", "rod holders, downriggers or plain loads"};
  std::vector<Gear> out;
  if (top.describing()) {
    (void)top.raw(list, true, gear_schema(top, library, water, list));
    return out;
  }
  std::vector<Fields> items = top.list(list, true, nullptr);
  for (Fields& f : items) {
    const Node* node = f.node();
    if (node == nullptr) continue;
    Gear g;
    const std::string kind =
        f.choice({"kind", "kind of gear", "what kind of gear"}, kinds, true).value;
    const auto name = read_name(f);
    read_kind_of_gear(f, g, kind, water);
    std::optional<Sides> sides;
    if (on_board) {
      sides = read_place(f, g, library);
    } else {
      for (const char* key : {"on_board", "foot"}) {
        complain_at(f, key,
                    ": belongs to mount kind: cross_board; the base of this gear is "
                    "mount.base");
        if (f.has(key)) (void)f.raw({key, "", ""}, false, "");
      }
    }
    if (!kind.empty()) f.finish();
    if (kind.empty() || (on_board && !sides)) continue;
    const std::string own = name ? name->value : plain_name(kind);
    if (name && std::any_of(out.begin(), out.end(), [&](auto& o) { return o.name == own; })) {
      complain_value(f, "name", "is the name of another gear");
      continue;
    }
    if (!on_board) {
      g.name = unlike_others(out, own);
      out.push_back(g);
      places.gear.push_back(node);
    }
    for (const Side side : on_board ? each(*sides) : std::vector<Side>{}) {
      Gear one = g;
      one.place.side = side;
      const bool plain = name && *sides != Sides::both;
      one.name = unlike_others(out, plain ? own : std::string(word_for(side)) + " " + own);
      out.push_back(one);
      places.gear.push_back(node);
    }
    if (out.size() > most_gears) {
      f.complain_here(on_board ? "gear: at most 4 on one board, those for both sides counted twice"
                               : "gear: at most 4 on one plate");
      break;
    }
  }
  return out;
}

}  // namespace thole::reading
