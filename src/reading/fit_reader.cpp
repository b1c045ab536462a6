// The block `fit`: where the mount stands and what is round it. Places are [forward of the transom,
// to starboard of the middle line]; port is negative.

#include "reading/fit_reader.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include <thole/fit.hpp>

#include "reading/quoting.hpp"
#include "reading/setup_parts.hpp"

namespace thole::reading {

using namespace literals;

namespace {

constexpr std::size_t most_winches = 8;  // two of each gear
constexpr int longest_name = 60;
const std::string pair_of_texts =
    R"({"type": "array", "minItems": 2, "maxItems": 2, "items": {"type": "string"}})";

std::string schema_of(const Key& key, const std::string& body) {
  return R"({"description": )" + json_text(key.help) + ", " + body.substr(1);
}

std::optional<FitPoint> point_at(Fields& f, const Node& n, const std::string& label) {
  if (n.kind != Node::Kind::list || n.items.size() != 2) {
    f.complain(n, label +
                      ": a place is [forward of the transom, to starboard of the middle line], as "
                      "in [300 mm, -700 mm] for port");
    return std::nullopt;
  }
  const auto x = f.measure_of(n.items[0], label, Dimension::length, Sign::any);
  const auto y = f.measure_of(n.items[1], label, Dimension::length, Sign::any);
  if (!x || !y) return std::nullopt;
  return FitPoint{Length::from_value(x->si), Length::from_value(y->si)};
}

std::optional<FitPoint> read_place(Fields& f, const Key& key, bool needed) {
  const Node* n = f.raw(key, needed, schema_of(key, pair_of_texts));
  if (n == nullptr) return std::nullopt;
  return point_at(f, *n, f.path() + "." + std::string(key.name));
}

std::optional<std::pair<Length, Length>> read_lengths(Fields& f, const Key& key, bool needed) {
  const Node* n = f.raw(key, needed, schema_of(key, pair_of_texts));
  if (n == nullptr) return std::nullopt;
  const std::string label = f.path() + "." + std::string(key.name);
  if (n->kind != Node::Kind::list || n->items.size() != 2) {
    f.complain(*n, label + ": two lengths are expected, [from, to], as in [100 mm, 450 mm]");
    return std::nullopt;
  }
  const auto a = f.measure_of(n->items[0], label, Dimension::length, Sign::any);
  const auto b = f.measure_of(n->items[1], label, Dimension::length, Sign::any);
  if (!a || !b) return std::nullopt;
  if (!(b->si > a->si)) {
    f.complain(*n, label + ": [from, to] must rise");
    return std::nullopt;
  }
  return std::pair{Length::from_value(a->si), Length::from_value(b->si)};
}

// [bottom, top] above the gunwale; both nothing when not given.
void read_heights(Fields& f, std::string_view name, std::optional<Length>& bottom,
                  std::optional<Length>& top) {
  const Key key{name, "heights", "[lowest, highest] above the gunwale; left out: every height"};
  if (const auto v = read_lengths(f, key, false)) {
    bottom = v->first;
    top = v->second;
  }
}

// ---- Forms of a thing
// -----------------------------------------------------------------------------

std::optional<FitShape> read_box(Fields& f) {
  const auto x =
      read_lengths(f, {"forward", "box along the boat", "[from, to] forward of the transom"}, true);
  const auto y = read_lengths(
      f, {"athwart", "box across the boat", "[from, to] to starboard of the middle line"}, true);
  if (!x || !y) return std::nullopt;
  FitShape s;
  s.points = {
      {x->first, y->first}, {x->second, y->first}, {x->second, y->second}, {x->first, y->second}};
  return s;
}

FitShape disc(const FitPoint& at, Length radius) {
  FitShape s;
  s.form = FitShape::Form::sector;
  s.points = {at};
  s.outer = radius;
  s.to = 2 * std::numbers::pi * si::radian;
  return s;
}

std::optional<FitShape> read_circle(Fields& f) {
  const auto at = read_place(f, {"at", "middle of the circle", "its middle"}, true);
  const auto radius = f.need<Length>({"radius", "radius of the circle", "half its width"});
  if (!at || !(radius.value > Length{})) return std::nullopt;
  return disc(*at, radius.value);
}

std::optional<FitShape> read_arc(Fields& f) {
  const auto at = read_place(f, {"at", "hinge of the arc", "what it turns about"}, true);
  const auto outer = f.need<Length>({"radius", "radius of the arc", "hinge to its far end"});
  const auto inner = f.optional<Length>({"inner", "inner radius", "where what swings begins"});
  const Key from_key{"from", "start of the arc",
                     "0 deg astern, 90 deg to port, 180 deg ahead, 270 deg to starboard"};
  const auto from = f.need<Angle>(from_key, Sign::any);
  const auto to =
      f.need<Angle>({"to", "end of the arc", "more than from, clockwise from above"}, Sign::any);
  if (!at || !f.has("from") || !f.has("to")) return std::nullopt;
  const double span = in_degrees(to.value) - in_degrees(from.value);
  if (!(span > 1e-9) || span > 360 + 1e-9) {
    complain_at(f, "to",
                ": an arc runs from `from` clockwise, seen from above, to `to`: more than from, by "
                "360 deg at most");
    return std::nullopt;
  }
  if (inner && outer.value > Length{} && inner->value >= outer.value) {
    complain_at(f, "inner", ": must be less than the radius");
    return std::nullopt;
  }
  if (!(outer.value > Length{})) return std::nullopt;
  FitShape s = disc(*at, outer.value);
  s.inner = inner ? inner->value : Length{};
  s.from = from.value;
  s.to = to.value;
  return s;
}

std::optional<FitShape> read_line(Fields& f) {
  const auto from = read_place(f, {"from", "start of the line", "its start"}, true);
  const auto to = read_place(f, {"to", "end of the line", "its end"}, true);
  const auto width =
      f.optional<Length>({"width", "width of the line", "0 when left out"}, Sign::not_negative);
  if (!from || !to) return std::nullopt;
  FitShape s;
  s.form = FitShape::Form::path;
  s.points = {*from, *to};
  if (width) s.width = width->value;
  return s;
}

struct Form {
  const char* key;
  const char* label;
  const char* help;
  std::optional<FitShape> (*read)(Fields&);
};
constexpr Form forms[] = {
    {"box", "box", "{forward: [from, to], athwart: [from, to]}", read_box},
    {"circle", "circle", "{at: [forward, athwart], radius}", read_circle},
    {"arc", "arc", "what swings: {at, radius, inner, from, to}", read_arc},
    {"line", "line", "{from: [forward, athwart], to: [forward, athwart], width}", read_line},
};

std::optional<FitShape> read_corners(Fields& f) {
  const Key key{"outline", "outline", "corners [forward, athwart] in order"};
  const Node* n =
      f.raw(key, false,
            schema_of(key, R"({"type": "array", "minItems": 3, "maxItems": 48, "items": )" +
                               pair_of_texts + "}"));
  if (n == nullptr) return std::nullopt;
  const std::string label = f.path() + ".outline";
  if (n->kind != Node::Kind::list || n->items.size() < 3 || n->items.size() > 48) {
    f.complain(*n, label + ": 3 to 48 corners [forward, athwart] are expected");
    return std::nullopt;
  }
  FitShape s;
  for (const Node& item : n->items) {
    const auto p = point_at(f, item, label);
    if (!p) return std::nullopt;
    s.points.push_back(*p);
  }
  return s;
}

FitShape mirrored(FitShape s) {
  for (FitPoint& p : s.points) p.y = -p.y;
  if (s.form == FitShape::Form::sector) {
    const Angle from = s.from;
    s.from = -s.to;
    s.to = -from;
  }
  return s;
}

// ---- Things
// ---------------------------------------------------------------------------------------

std::vector<std::string> kinds_of_boat() {
  std::vector<std::string> out;
  for (const FitKind& k : fit_kinds()) {
    if (k.of_boat && k.key != "motor") out.emplace_back(k.key);
  }
  return out;
}

// Kinds that are a place, no shape.
bool is_place(const std::string& kind) {
  return kind == "sitting" || kind == "standing" || kind == "light";
}

void read_thing(Fields& f, std::vector<FitThing>& out) {
  std::string help = "one of:";
  for (const std::string& k : kinds_of_boat()) {
    help += " " + k + " (" + std::string(fit_kind(k).help) + ");";
  }
  help.pop_back();
  const std::string kind = f.choice({"kind", "kind of thing", help}, kinds_of_boat(), true).value;
  const auto name = read_name(f);
  std::vector<FitShape> shapes;
  std::string given;
  const auto take = [&](const char* key, const std::optional<FitShape>& shape) {
    if (!given.empty() && f.has(key)) {
      complain_at(f, key, ": one shape for each thing; this one is a " + given + " already");
      return;
    }
    if (f.has(key)) given = key;
    if (shape) shapes.push_back(*shape);
  };
  for (const Form& form : forms) {
    ObjectSchema schema;
    const Key key{form.key, form.label, form.help};
    Fields g = f.map(key, false, &schema);
    if (g.node() != nullptr || g.describing()) {
      const auto shape = form.read(g);
      g.finish();
      if (!f.describing()) take(form.key, shape);
    }
    f.close(key, schema);
  }
  {
    const auto shape = read_corners(f);
    if (f.has("outline")) take("outline", shape);
  }
  const auto at =
      read_place(f, {"at", "place", "sitting, standing, light: [forward, athwart]"}, false);
  std::optional<Length> bottom, top;
  read_heights(f, "heights", bottom, top);
  const auto height = f.optional<Length>(
      {"height", "height", "of a light above the gunwale; left out: every height"}, Sign::any);
  const bool both = read_yes(
      f, {"both_sides", "on both sides", "yes: the same mirrored on the other side"}, false);
  const auto clearance = f.optional<Length>(
      {"clearance", "clearance", "in place of the usual one of its kind"}, Sign::not_negative);
  const std::size_t before = f.reading().problems.size();
  f.finish();
  if (f.describing() || kind.empty()) return;
  const bool misspelt = f.reading().problems.size() > before;

  if (name && characters(name->value) > longest_name) {
    complain_at(f, "name", ": at most 60 characters");
  }
  if (is_place(kind)) {
    for (const char* key : {"box", "circle", "arc", "line", "outline", "heights"}) {
      complain_at(f, key, ": kind: " + kind + " is a place, as in at: [600 mm, -400 mm]");
    }
    if (!f.has("at")) {
      complain_missing(f, "at", "the place as [forward of the transom, to starboard], of " + kind);
    }
    shapes.clear();
    if (at) shapes = {disc(*at, 1.0_mm)};
  } else {
    complain_at(f, "at", ": belongs to kind: sitting, standing or light; else a shape holds it");
    if (given.empty() && !misspelt && !f.has("at")) {
      f.complain_here(f.path() + ": a shape is missing: box, circle, arc, line or outline");
    } else if (!given.empty() && kind == "net" && given != "line") {
      complain_at(f, given, ": kind: net is a line along the rail");
      shapes.clear();
    }
  }
  if (kind != "light")
    complain_at(f, "height", ": belongs to kind: light; else heights: [low, high]");
  if (kind == "light" && height) bottom = top = height->value;
  if (shapes.empty()) return;
  for (FitShape& s : shapes) {
    s.bottom = bottom;
    s.top = top;
    try {
      (void)gap_between(s, s);
    } catch (const DomainError& e) {
      complain_at(f, given, std::string(": ") + e.what());
      return;
    }
  }
  FitThing t = fit_thing(kind, name ? name->value : "", shapes);
  if (clearance) {
    t.clearance = clearance->value;
    t.close = std::min(t.close, t.clearance);
    t.clearance_given = true;
  }
  if (!both) {
    out.push_back(t);
    return;
  }
  double y = 0;
  for (const FitPoint& p : shapes.front().points) y += p.y.value();
  FitThing other = t;
  for (FitShape& s : other.shapes) s = mirrored(s);
  (y < 0 ? t : other).name = "port " + t.name;
  (y < 0 ? other : t).name = "starboard " + (y < 0 ? other : t).name;
  out.push_back(y < 0 ? t : other);
  out.push_back(y < 0 ? other : t);
}

// ---- Motor and winches
// ----------------------------------------------------------------------------

FitMotor read_motor(Fields& f) {
  FitMotor m;
  m.pivot.x = f.need<Length>({"forward", "steering axis of the motor",
                              "forward of the transom's inner face; behind it: negative"},
                             Sign::any)
                  .value;
  if (auto v =
          f.optional<Length>({"athwart", "motor off the middle line", "to starboard"}, Sign::any)) {
    m.pivot.y = v->value;
  }
  m.width = f.need<Length>({"width", "width of the cowl", "across"}).value;
  m.cowl_forward = f.need<Length>({"cowl_forward", "cowl ahead of the steering axis",
                                   "motor down, to its front"},
                                  Sign::not_negative)
                       .value;
  m.cowl_aft = f.need<Length>({"cowl_aft", "cowl behind the steering axis", "motor down"},
                              Sign::not_negative)
                   .value;
  read_heights(f, "heights", m.bottom, m.top);
  const auto lock = f.optional<Angle>(
      {"lock", "full lock of the motor", "to each side; 35 deg when left out"}, Sign::not_negative);
  m.lock = lock ? lock->value : 35.0_deg;
  if (in_degrees(m.lock) > 90) complain_value(f, "lock", "must lie between 0 and 90 deg");
  m.tilted_forward = f.need<Length>({"tilted_forward", "motor tilted up",
                                     "steering axis to the foremost part of the cowl, straight "
                                     "ahead, fully tilted"})
                         .value;
  read_heights(f, "tilted_heights", m.tilted_bottom, m.tilted_top);
  if (auto v = f.optional<Length>({"propeller", "propeller", "its diameter"})) {
    m.propeller = v->value;
  }
  if (auto v = f.optional<Length>({"propeller_aft", "propeller aft of the steering axis", "down"},
                                  Sign::not_negative)) {
    m.propeller_aft = v->value;
  }
  if (f.node() != nullptr && f.has("propeller") != f.has("propeller_aft")) {
    complain_missing(f, f.has("propeller") ? "propeller_aft" : "propeller",
                     "diameter and place of the propeller go together");
  }
  if (auto v = f.optional<Length>({"tiller", "tiller", "steering axis to the end of its handle"})) {
    m.tiller = v->value;
  }
  read_heights(f, "tiller_heights", m.tiller_bottom, m.tiller_top);
  f.finish();
  if (!f.describing() && m.width > Length{} && f.has("cowl_forward") && f.has("cowl_aft") &&
      !(m.cowl_forward + m.cowl_aft > Length{})) {
    complain_at(f, "cowl_aft", ": the cowl has no length");
  }
  return m;
}

FitWinch read_winch(Fields& f, const Setup& s) {
  FitWinch w;
  const auto gear =
      f.text({"gear", "whose winch", "name of a downrigger; left out: of all"}, false);
  w.behind = f.need<Length>({"behind", "crank behind the middle of the base",
                             "away from the tip; toward it: negative"},
                            Sign::any)
                 .value;
  w.across = f.need<Length>({"across", "crank beside the line of the boom",
                             "to the right, seen toward the tip; left: negative"},
                            Sign::any)
                 .value;
  w.crank = f.need<Length>({"crank", "radius of the crank", "axis to knob"}).value;
  w.axis_height = f.need<Length>({"axis_height", "axis of the crank", "above board or wall"},
                                 Sign::not_negative)
                      .value;
  f.finish();
  if (gear) {
    w.gear = gear->value;
    std::vector<std::string> names;
    for (const Gear& g : s.gear) {
      if (g.downrigger) names.push_back(g.name);
    }
    if (!s.gear.empty() && std::find(names.begin(), names.end(), w.gear) == names.end()) {
      const std::string near = nearest_spelling(w.gear, names);
      complain_value(f, "gear",
                     "is the name of no downrigger" +
                         (near.empty() ? "" : "; did you mean \"" + near + "\"?"));
    }
  }
  return w;
}

void read_clearances(Fields& top, FitPlan& plan) {
  ObjectSchema schema;
  const Key key{"clearances", "clearances", "your own in place of the usual ones, by kind"};
  Fields f = top.map(key, false, &schema);
  for (const FitKind& k : fit_kinds()) {
    const bool of_part = !k.of_boat && k.clearance == 0;
    if (of_part) continue;
    const std::string label = "clearance of " + std::string(k.name);
    if (auto v = f.optional<Length>({k.key, label, label}, Sign::not_negative)) {
      plan.clearances.emplace_back(std::string(k.key), v->value);
    }
  }
  f.finish();
  top.close(key, schema);
}

void read_none(Fields& f, FitPlan& plan) {
  std::vector<std::string> kinds = kinds_of_boat();
  kinds.insert(kinds.begin(), "motor");
  std::string list;
  std::string quoted;
  for (const std::string& k : kinds) {
    list += (list.empty() ? "" : ", ") + k;
    quoted += (quoted.empty() ? "\"" : ", \"") + k + "\"";
  }
  const Key key{"none", "what the boat does not have", "kinds, as in [oar, cover]"};
  const Node* n = f.raw(
      key, false,
      schema_of(key, R"({"type": "array", "minItems": 1, "items": {"enum": [)" + quoted + "]}}"));
  if (n == nullptr) return;
  if (n->kind != Node::Kind::list || n->items.empty()) {
    f.complain(*n, f.path() + ".none: a list of kinds is expected, as in [oar, cover]");
    return;
  }
  for (const Node& item : n->items) {
    if (std::find(kinds.begin(), kinds.end(), item.text) == kinds.end()) {
      const std::string near = nearest_spelling(item.text, kinds);
      f.complain(item, f.path() + ".none: " + shown(item.text) + " is not one of " + list +
                           (near.empty() ? "" : "; did you mean \"" + near + "\"?"));
      continue;
    }
    const bool there = (item.text == "motor" && plan.motor) ||
                       std::any_of(plan.things.begin(), plan.things.end(),
                                   [&](const FitThing& t) { return t.kind == item.text; });
    if (there) {
      f.complain(item,
                 f.path() + ".none: " + shown(item.text) + " is described, and said not to be");
    }
    plan.none.push_back(item.text);
  }
}

void read_mount_place(Fields& f, FitPlan& plan, const std::string& kind) {
  const bool on_board = kind == "cross_board";
  const Key forward{"board_forward", "middle line of the board",
                    "cross_board: forward of the transom's inner face"};
  const auto v = f.optional<Length>(forward, Sign::not_negative);
  if (v) plan.mount_at.x = v->value;
  const auto top = f.optional<Length>(
      {"board_top", "top of the board",
       "cross_board: above the gunwale; below: negative; left out: not known, every height counts"},
      Sign::any);
  if (top) plan.board_top = top->value;

  ObjectSchema schema;
  const Key at{"mount_at", "where the base stands",
               "gunwale_plate: its middle; bracket: the middle of its fasteners"};
  Fields g = f.map(at, false, &schema);
  if (g.node() != nullptr || g.describing()) {
    const auto x = g.need<Length>({"forward", "base forward of the transom", "its middle"},
                                  Sign::not_negative);
    const auto y = g.need<Length>({"off_middle", "base off the middle line", "its middle"},
                                  Sign::not_negative);
    const std::string side =
        g.choice({"side", "side of the boat", "port or starboard"}, {"port", "starboard"}, true)
            .value;
    g.finish();
    plan.starboard = side == "starboard";
    plan.mount_at = {x.value, plan.starboard ? y.value : Length(-y.value)};
  }
  f.close(at, schema);
  if (f.describing() || kind.empty()) return;
  if (on_board) {
    complain_at(f, "mount_at",
                ": belongs to mount kind: gunwale_plate or bracket, but the kind is " + kind);
    if (!f.has("board_forward")) {
      complain_missing(f, "board_forward",
                       "middle line of the board forward of the transom, for example 450 mm");
    }
  } else {
    for (const char* key : {"board_forward", "board_top"}) {
      complain_at(f, key, ": belongs to mount kind: cross_board, but the kind is " + kind);
    }
    if (!f.has("mount_at")) {
      complain_missing(f, "mount_at",
                       "where the base stands, {forward: 450 mm, off_middle: 800 mm, side: port}");
    }
  }
}

}  // namespace

void read_fit(Fields& top, Setup& setup, const std::string& kind) {
  const std::vector<Input> inputs = top.reading().inputs;
  ObjectSchema schema;
  const Key key{"fit", "what is round the mount",
                "motor, hands, cleats, hatch, oars, rods: for thole fit; geometry only"};
  Fields f = top.map(key, false, &schema);
  if (f.node() != nullptr || f.describing()) {
    FitPlan plan;
    read_mount_place(f, plan, kind);
    {
      ObjectSchema motor_schema;
      const Key motor{"motor", "outboard motor", "cowl down and tilted up, tiller, propeller"};
      Fields m = f.map(motor, false, &motor_schema);
      if (m.node() != nullptr || m.describing()) plan.motor = read_motor(m);
      f.close(motor, motor_schema);
    }
    {
      ObjectSchema winch_schema;
      const Key winches{"winches", "cranks of the winches", "where the knuckles go"};
      std::vector<Fields> items = f.list(winches, false, &winch_schema);
      if (items.size() > most_winches) {
        f.complain(*f.node()->find("winches"), f.path() + ".winches: at most 8 items");
        items.clear();
      }
      for (Fields& w : items) {
        if (w.node() != nullptr || w.describing()) plan.winches.push_back(read_winch(w, setup));
      }
      f.close_list(winches, winch_schema);
    }
    {
      ObjectSchema thing_schema;
      const Key things{"things", "things on the boat",
                       "places are [forward of the transom, to starboard of the middle line]"};
      for (Fields& t : f.list(things, false, &thing_schema)) {
        if (t.node() != nullptr || t.describing()) read_thing(t, plan.things);
      }
      f.close_list(things, thing_schema);
    }
    read_clearances(f, plan);
    read_none(f, plan);
    if (auto v = f.optional<Length>(
            {"road_width", "legal width on the road", "2.55 m or 8 ft 6 in when left out"})) {
      refuse_outside(f, "road_width", v, 1.5_m, 4.0_m, "1.5 and 4 m (4 ft 11 in and 13 ft)");
      plan.road_width = v->value;
    }
    f.finish();
    if (!f.describing()) setup.fit = plan;
  }
  top.close(key, schema);
  top.reading().inputs = inputs;
}

}  // namespace thole::reading
