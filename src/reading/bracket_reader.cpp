// A plate over or beside an edge or a gap of the boat. All places are given from the middle of the
// plate; the setup has them from the middle of the fasteners.

#include <algorithm>

#include "reading/setup_parts.hpp"

namespace thole::reading {

using namespace literals;

namespace {

constexpr Key fastening_key{"fastening", "the fastening",
                            "like fasteners and how they hold; u_bolt over a fitting; clamp"};

constexpr std::size_t most_angles = 8;

std::string hold_of(const Fields& m) {
  const Node* f = m.node() != nullptr ? m.node()->find("fastening") : nullptr;
  const Node* hold = f != nullptr && f->kind == Node::Kind::map ? f->find("hold") : nullptr;
  return hold != nullptr && hold->kind == Node::Kind::text ? hold->text : std::string();
}

// U-bolts or clamps: nothing enters the host.
Fastening read_clasp(Fields f, const MaterialLibrary& library, Angle turned) {
  Fastening out;
  const std::string hold =
      f.choice({"hold", "how the bracket is held",
                "u_bolt: over a fitting of the boat; clamp: jaws round an edge"},
               {"u_bolt", "clamp"}, true)
          .value;
  out.hold = hold == "clamp" ? HoldBy::clamp : HoldBy::u_bolt;
  out.thread = read_thread(f, library);
  out.material = read_fastener_material(f, library, hold == "u_bolt");
  out.head = out.thread.head_across_flats;
  if (auto v = f.optional<Length>(
          {"head", "washer or plate under each nut", "diameter; the nut when left out"})) {
    out.head = v->value;
    const Length d = out.thread.diameter;
    if (d.value() > 0 && (out.head <= d || out.head > 10.0 * d)) {
      complain_at(f, "head", ": a head or washer is 1 to 10 times as wide as its thread");
    }
  }
  out.assembly = read_assembly(f);
  const Holes holes = read_holes(f);  // the middle of each U-bolt, the screw of each clamp
  out.holes = holes.points;
  out.rows_along_sides = holes.rows_along_sides;
  turn(out.holes, turned);
  f.finish();
  return out;
}

void read_fastening_of(Fields& m, const MaterialLibrary& library, GunwalePlate& out, Angle turned) {
  if (m.describing()) {
    ObjectSchema bolts;
    ObjectSchema clasp;
    const std::string path = m.path() + ".fastening";
    bolts.help = clasp.help = fastening_key.help;
    (void)read_fastening(Fields(m.reading(), nullptr, path, &bolts), library, out, turned);
    (void)read_clasp(Fields(m.reading(), nullptr, path, &clasp), library, turned);
    (void)m.raw(fastening_key, true, one_of({bolts, clasp}));
    return;
  }
  const std::string hold = hold_of(m);
  ObjectSchema unused;
  const Fields f = m.map(fastening_key, true, &unused);
  out.fastening = hold == "u_bolt" || hold == "clamp" ? read_clasp(f, library, turned)
                                                      : read_fastening(f, library, out, turned);
}

Outline rectangle_of(const Range& fore_aft, const Range& athwart, Angle turned) {
  const auto at = [](double x, double y) {
    return PlanPoint{Length::from_value(x), Length::from_value(y)};
  };
  Outline out{at(fore_aft.from, athwart.from), at(fore_aft.to, athwart.from),
              at(fore_aft.to, athwart.to), at(fore_aft.from, athwart.to)};
  turn(out, turned);
  return out;
}

void read_bearing(Fields& m, Bracket& out, Angle turned) {
  ObjectSchema schema;
  const Key key{"bears_on", "what the bracket bears on",
                "parts of the plate that find the boat: rectangles from the middle of the plate"};
  std::vector<Fields> items = m.list(key, true, &schema);
  for (Fields& f : items) {
    if (f.node() == nullptr && !f.describing()) continue;
    const auto fore_aft = read_range(
        f, {"fore_aft", "part of the plate along the boat", "[from, to], forward is positive"},
        Dimension::length, Sign::any);
    const auto athwart = read_range(
        f, {"athwart", "part of the plate across the boat", "[from, to], outboard is positive"},
        Dimension::length, Sign::any);
    const bool firm = read_yes(
        f,
        {"firm", "firm below",
         "yes: over a rib, a knee or the turned edge itself, where the wall does not give"},
        false);
    f.finish();
    if (f.describing()) continue;
    for (const auto& [name, range] : {std::pair{"fore_aft", fore_aft}, {"athwart", athwart}}) {
      if (range && !(range->to > range->from)) {
        complain_at(f, name, ": from and to are wanted, as in [-3 in, 1 in]");
      }
    }
    if (!fore_aft || !athwart) continue;
    out.bears_on.push_back(rectangle_of(*fore_aft, *athwart, turned));
    out.firm.push_back(firm);
  }
  if (!m.describing() && items.size() > std::size_t(max_patches)) {
    complain_at(m, key.name, ": at most 6 parts");
  }
  m.close_list(key, schema);
}

PlanPoint read_spot(Fields& f, std::string_view what, Angle turned) {
  const std::string forward = std::string(what) + " forward of the middle of the plate";
  const std::string outboard = std::string(what) + " outboard of the middle of the plate";
  std::vector<PlanPoint> at(1);
  if (auto v = f.optional<Length>({"forward", forward, "aft of it: negative; 0 when left out"},
                                  Sign::any)) {
    at[0].x = v->value;
  }
  at[0].y = f.need<Length>({"outboard", outboard, "inboard of it: negative"}, Sign::any).value;
  turn(at, turned);
  return at[0];
}

void read_gear_foot(Fields& m, Bracket& out, Angle turned) {
  ObjectSchema schema;
  const Key key{"gear_foot", "where the gear stands", "the foot of the gear on the plate"};
  Fields f = m.map(key, true, &schema);
  if (f.node() != nullptr || f.describing()) {
    out.gear_at = read_spot(f, "gear", turned);
    out.gear_width = f.need<Length>({"width", "foot of the gear on the plate",
                                     "smaller width of what is bolted to the plate"})
                         .value;
    f.finish();
  }
  m.close(key, schema);
}

BasePlate read_fitting_foot(Fields f, const MaterialLibrary& library) {
  BasePlate out;
  out.outline = read_base_shape(f).outline;
  const Key material{"material", "metal of the fitting", "by name; left out: not known"};
  out.metal = read_metal(f, material, false, library, false);
  if (auto v = f.optional<Length>({"thickness", "foot of the fitting", "thickness at its holes"})) {
    out.thickness = v->value;
    refuse_thick(f, out.thickness);
  } else if (out.metal && !f.has("thickness")) {
    complain_missing(f, "thickness", "thickness of the foot at its holes, for example 4 mm");
  }
  f.finish();
  return out;
}

void read_fitting(Fields& m, const MaterialLibrary& library, const GunwalePlate& on,
                  const std::string& hold, Bracket& out, Angle turned) {
  ObjectSchema schema;
  const Key key{"fitting", "fitting under the U-bolts",
                "hold: u_bolt: the cleat or rail that they go over, and its own fasteners"};
  Fields f = m.map(key, false, &schema);
  if (f.node() != nullptr || f.describing()) {
    Fitting fitting;
    if (auto v = f.text({"name", "name of the fitting", "cleat when left out"}, false)) {
      fitting.name = v->value;
    }
    fitting.at = read_spot(f, "fitting", turned);
    fitting.height =
        f.need<Length>({"height", "fitting above the wall", "middle of what the U-bolts go over"})
            .value;
    {
      ObjectSchema foot_schema;
      const Key foot{"foot", "foot of the fitting", "its outline on the wall"};
      Fields map = f.map(foot, true, &foot_schema);
      if (map.node() != nullptr || map.describing()) {
        fitting.foot = read_fitting_foot(map, library);
      }
      f.close(foot, foot_schema);
    }
    GunwalePlate stand = on;
    stand.base = fitting.foot;
    ObjectSchema fastening_schema;
    const Key fastening{"fastening", "fasteners of the fitting", "its own, into the wall"};
    Fields bolts = f.map(fastening, true, &fastening_schema);
    if (bolts.node() != nullptr || bolts.describing()) {
      fitting.fastening = read_fastening(bolts, library, stand, Angle{});
    }
    f.close(fastening, fastening_schema);
    f.finish();
    if (!f.describing()) {
      if (fitting.foot.outline.size() == 4 && fitting.fastening.rows_along_sides) {
        fitting.foot.sides_turned = Angle{};
      }
      out.fitting = fitting;
    }
  }
  m.close(key, schema);
  if (m.describing() || hold.empty()) return;
  if (hold == "u_bolt" && !m.has("fitting")) {
    complain_missing(m, "fitting",
                     "the cleat or rail that the U-bolts go over, with its own fasteners");
  }
  if (hold != "u_bolt") {
    complain_at(m, "fitting", ": belongs to fastening.hold: u_bolt, but the hold is " + hold);
  }
}

void read_clamp(Fields& m, const std::string& hold, Bracket& out) {
  ObjectSchema schema;
  const Key key{"clamp", "the clamps", "hold: clamp: what they grip and what they hold"};
  Fields f = m.map(key, false, &schema);
  if (f.node() != nullptr || f.describing()) {
    Clamp clamp;
    clamp.under_edge =
        f.choice({"jaw", "what the clamp grips",
                  "under_edge: a jaw reaches under it; two_faces: it holds by friction only"},
                 {"under_edge", "two_faces"}, true)
            .value == "under_edge";
    clamp.holds = read_given<GivenForce>(
        f, {.name = "holds",
            .label = "what one clamp holds",
            .help = "pulled open: its maker or a test; no verdict without it",
            .example = "400 lbf"});
    if (auto v = f.optional<Moment>({"tightened", "torque on the screw of a clamp", "by hand"})) {
      clamp.tightened = v->value;
    }
    f.finish();
    if (!f.describing()) out.clamp = clamp;
  }
  m.close(key, schema);
  if (m.describing() || hold.empty()) return;
  if (hold == "clamp" && !m.has("clamp")) {
    complain_missing(m, "clamp", "what the clamps grip, as in {jaw: under_edge}");
  }
  if (hold != "clamp") {
    complain_at(m, "clamp", ": belongs to fastening.hold: clamp, but the hold is " + hold);
  }
}

void read_angles(Fields& m, const MaterialLibrary& library, Bracket& out, Angle turned) {
  ObjectSchema schema;
  const Key key{"angles", "angles along the plate",
                "equal angles fastened to it, one leg flat on the plate"};
  std::vector<Fields> items = m.list(key, false, &schema);
  if (items.size() > most_angles) {
    complain_at(m, key.name, ": at most 8 angles under one plate");
    items.clear();
  }
  for (Fields& f : items) {
    if (f.node() == nullptr && !f.describing()) continue;
    Stiffener a;
    if (auto metal = read_metal(f, {"alloy", "alloy of the angle", "by its name in the tables"},
                                true, library, false)) {
      a.metal = *metal;
    }
    a.leg = f.need<Length>({"leg", "leg of the angle", "outside width, both alike"}).value;
    a.thickness = f.need<Length>({"thickness", "thickness of the angle", "of its legs"}).value;
    refuse_thick(f, a.thickness);
    const std::string runs =
        f.choice({"runs", "way of the angle", "athwart or fore_aft"}, {"athwart", "fore_aft"}, true)
            .value;
    const auto ends = read_range(
        f, {"ends", "ends of the angle", "[from, to] along it, from the middle of the plate"},
        Dimension::length, Sign::any);
    Length at{};
    if (auto v = f.optional<Length>({"at", "place of the angle",
                                     "of an angle that runs athwart, forward of the middle of the "
                                     "plate; of one fore_aft, outboard; 0 when left out"},
                                    Sign::any)) {
      at = v->value;
    }
    f.finish();
    if (!ends || f.describing()) continue;
    const Length from = Length::from_value(ends->from);
    const Length to = Length::from_value(ends->to);
    std::vector<PlanPoint> line = runs == "fore_aft" ? std::vector<PlanPoint>{{from, at}, {to, at}}
                                                     : std::vector<PlanPoint>{{at, from}, {at, to}};
    turn(line, turned);
    a.from = line[0];
    a.to = line[1];
    out.stiffeners.push_back(a);
  }
  m.close_list(key, schema);
}

void shift(GunwalePlate& m) {
  Bracket& b = *m.bracket;
  PlanPoint middle;
  const auto n = double(m.fastening.holes.size());
  for (const PlanPoint& p : m.fastening.holes) {
    middle = {middle.x + p.x / n, middle.y + p.y / n};
  }
  const auto move = [&](PlanPoint& p) { p = {p.x - middle.x, p.y - middle.y}; };
  for (PlanPoint& p : m.fastening.holes) move(p);
  for (PlanPoint& p : m.base.outline) move(p);
  for (Outline& o : b.bears_on) {
    for (PlanPoint& p : o) move(p);
  }
  move(b.gear_at);
  if (b.fitting) move(b.fitting->at);
  for (Stiffener& a : b.stiffeners) {
    move(a.from);
    move(a.to);
  }
  m.base.from_inboard_edge += middle.y;
}

}  // namespace

GunwalePlate read_bracket(Fields& m, const MaterialLibrary& library, bool weld) {
  GunwalePlate out;
  out.host = read_host(m, library, weld);
  Angle turned{};
  out.base = read_base(m, library, out.host, turned);
  read_fastening_of(m, library, out, turned);
  if (out.base.outline.size() == 4 && out.fastening.rows_along_sides) {
    out.base.sides_turned = turned;
  }
  const std::string hold = hold_of(m);
  Bracket b;
  read_bearing(m, b, turned);
  read_gear_foot(m, b, turned);
  read_fitting(m, library, out, hold, b, turned);
  read_clamp(m, hold, b);
  read_angles(m, library, b, turned);
  b.stop = read_yes(m,
                    {"stop", "stop against sliding",
                     "yes: a lip, pin or bolt keeps the bracket from sliding and turning"},
                    false);
  if (auto v = m.number({"friction", "friction of the bracket",
                         "measured wet: pull that slides it over the weight on it"},
                        0.01, 0.99)) {
    b.friction = v->value;
  }
  if (m.describing() || m.node() == nullptr) return out;
  const Node* base = m.node()->find("base");
  const Node* body = base != nullptr ? base->find("body") : nullptr;
  if (body != nullptr) {
    m.complain(*body, m.path() +
                          ".base.body: belongs to kind: gunwale_plate; of a bracket "
                          "gear_foot says where its gear stands");
  }
  const bool flat = out.host.is_metal() && out.host.form != WallForm::sheet;
  if (flat && base != nullptr && base->find("from_inboard_edge") == nullptr) {
    m.complain(*base, m.path() +
                          ".base.from_inboard_edge is missing: middle of the plate from the "
                          "inboard edge of the flat, which it may lie beyond");
  }
  out.bracket = b;
  shift(out);
  return out;
}

}  // namespace thole::reading
