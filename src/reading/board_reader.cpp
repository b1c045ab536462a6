// Inputs of a cross-board, as the checks name them (lists have no index in their path, a ledge
// written once for both sides has `both` in it):
//
//   mount.board.         form size laid width thickness diameter wall length wood alloy service
//                        treated incised strip.thickness strip.depth strip.forward
//   mount.               clear_width port_overhang starboard_higher bow_up
//   mount.ledges.both.   kind along fore_aft angle leg_thickness alloy root flare packed gap
//   mount.ledges.both.fastening.
//                        hull hull_thickness hull_alloy material count spacing below_seat
//                        foot_below behind.material behind.thickness behind.fore_aft behind.athwart
//   mount.hold_downs.    kind outboard forward material eye washer_diameter hole slack standoff
//   mount.legs.          outboard forward beside length foot_forward foot_outboard gap fore_aft
//                        athwart wood service treated incised alloy wall stands_on foot_slope
//                        friction foot_held
//
// Defaults that are listed as assumed: flare, root, friction, the material of an eye bolt. The
// overhang of a board laid in the middle is listed as tagged.

#include <algorithm>
#include <cmath>

#include <thole/display.hpp>
#include <thole/wood_strength.hpp>

#include "reading/setup_parts.hpp"

namespace thole::reading {

using namespace literals;
constexpr auto assumed = Knowledge::assumed;

namespace {

// ---- Wood and metal of a piece
// -------------------------------------------------------------------

// `wood: not known` counts as the lowest softwood.
constexpr const char* lowest_wood = "unknown softwood";

std::optional<Wood> read_wood(Fields& f, const MaterialLibrary& library) {
  const auto name =
      f.text({"wood", "wood and grade",
              "its name in the tables, as the stamp says; \"not known\" takes the lowest softwood",
              assumed},
             false, true);
  if (!name) return std::nullopt;
  const bool unknown = name->value == "not known";
  if (unknown) f.reading().inputs.back().known = assumed;
  return look_up(f, "wood", [&] { return library.wood(unknown ? lowest_wood : name->value); });
}

struct PieceMaterial {
  std::optional<Wood> wood;
  std::optional<Metal> metal;
  bool wet = true;
  bool treated = false;
  bool incised = false;
};

enum class Made { wood, metal, either };

// Wood or metal with the keys that belong to each. `why` names what asks for it, as in "form:
// plank".
PieceMaterial read_material(Fields& f, const MaterialLibrary& library, bool weld, Made made,
                            const std::string& why) {
  PieceMaterial m;
  m.wood = read_wood(f, library);
  m.metal =
      read_metal(f, {"alloy", "alloy", "metal of the piece by its name in the tables", assumed},
                 false, library, weld);
  const std::string service =
      f.choice({"service", "how wet the wood gets", "wet (when left out): any open boat; or dry"},
               {"wet", "dry"}, false, true)
          .value;
  m.wet = service != "dry";
  m.treated =
      read_yes(f, {"treated", "treated with preservative", "waterborne, often green"}, false);
  m.incised =
      read_yes(f, {"incised", "incised", "rows of small slits for the preservative"}, false);
  if (f.describing() || f.node() == nullptr) return m;
  if (made == Made::wood) complain_at(f, "alloy", ": a metal, but " + why + " is made of wood");
  if (made == Made::metal) complain_at(f, "wood", ": a wood, but " + why + " is made of metal");
  if (made == Made::either && f.has("wood")) {
    complain_at(f, "alloy", ": give wood or alloy, not both");
  }
  if (made == Made::wood && !f.has("wood") && !f.has("alloy")) {
    complain_missing(f, "wood", "wood and grade by name, for example C24, or \"not known\"");
  }
  if (made == Made::metal && !f.has("alloy") && !f.has("wood")) {
    complain_missing(f, "alloy", "alloy by name, for example 6061-T6 extrusion");
  }
  if (made == Made::either && !f.has("wood") && !f.has("alloy")) {
    complain_missing(f, "wood", "wood (or alloy) of the piece by name, for example C24");
  }
  if (f.has("alloy")) {
    for (const char* key : {"service", "treated", "incised"}) {
      complain_at(f, key, ": belongs to wood, but the piece is made of metal");
    }
  }
  return m;
}

// The strength of a piece as it lies; the sizes may be those after a problem.
std::optional<WoodStrength> strength_of(Fields& f, const PieceMaterial& m, Length a, Length b,
                                        const MaterialLibrary& library) {
  if (!m.wood || !(a.value() > 0) || !(b.value() > 0)) return std::nullopt;
  return look_up(f, "wood", [&] {
    return nominal_wood(
        *m.wood,
        {.thickness = std::min(a, b), .width = std::max(a, b), .wet = m.wet, .incised = m.incised},
        library);
  });
}

// ---- Board
// ---------------------------------------------------------------------------------------

Length size_of(const Entry& e, std::string_view property) {
  const auto it = e.values.find(std::string(property));
  if (it == e.values.end()) throw DomainError("the table entry has no " + std::string(property));
  return Length::from_value(it->second.measure.si);
}

// An entry by name; UnknownName with the nearest spelling.
const Entry& stock(const MaterialLibrary& library, std::string_view kind, const std::string& what,
                   const std::string& name) {
  if (const Entry* e = library.find(kind, name)) return *e;
  throw UnknownName("no " + what + " is called \"" + name + "\"" + library.near_names(kind, name));
}

// Store size to the sizes as laid.
void read_size(Fields& f, const MaterialLibrary& library, const std::string& name, bool on_edge,
               BoardPiece& b) {
  (void)look_up(f, "size", [&] {
    Length wide{};
    Length high{};
    switch (b.form) {
      case BoardForm::plank:
      case BoardForm::plank_with_strip: {
        const Entry& e = stock(library, "lumber_size", "lumber size", name);
        wide = size_of(e, "width");
        high = size_of(e, "thickness");
        break;
      }
      case BoardForm::rectangular_tube:
      case BoardForm::round_tube: {
        const Entry& e = stock(library, "tube", "tube", name);
        const auto shape = e.about.find("shape");
        const bool round = shape != e.about.end() && shape->second == "round";
        if (round != (b.form == BoardForm::round_tube)) {
          throw DomainError("\"" + name + "\" is a " + (round ? "round" : "rectangular") +
                            " tube, but the form is " +
                            (round ? "rectangular_tube" : "round_tube"));
        }
        const Length p = size_of(e, "outside_a");
        const Length q = size_of(e, "outside_b");
        wide = std::max(p, q);
        high = std::min(p, q);
        b.wall = size_of(e, "wall");
        break;
      }
      case BoardForm::channel_down:
      case BoardForm::channel_up: {
        const Entry& e = stock(library, "channel", "channel", name);
        wide = size_of(e, "depth");
        high = size_of(e, "flange");
        b.wall = size_of(e, "thickness");
        break;
      }
    }
    b.width = on_edge ? high : wide;
    b.thickness = on_edge ? wide : high;
    return true;
  });
}

const std::vector<std::string> form_words{"plank",      "plank_with_strip", "rectangular_tube",
                                          "round_tube", "channel_down",     "channel_up"};

BoardPiece read_piece(Fields f, const MaterialLibrary& library, bool weld) {
  BoardPiece b;
  const std::string form =
      f.choice({"form", "form of the board",
                "plank; plank_with_strip: a strip on edge below it; rectangular_tube; round_tube; "
                "channel_down: web on top; channel_up: web below"},
               form_words, true)
          .value;
  const auto word = std::find(form_words.begin(), form_words.end(), form);
  if (word != form_words.end()) b.form = static_cast<BoardForm>(word - form_words.begin());
  const auto size =
      f.text({"size", "size", "store size by name, for example 2x8 or 48x198"}, false, true);
  const std::string laid = f.choice({"laid", "how the size lies",
                                     "flat (when left out): its wider side level; or on_edge"},
                                    {"flat", "on_edge"}, false)
                               .value;
  refuse_foreign(
      f, "form", form,
      {{"laid", {"plank", "rectangular_tube"}},
       {"width", {"plank", "plank_with_strip", "rectangular_tube", "channel_down", "channel_up"}},
       {"thickness",
        {"plank", "plank_with_strip", "rectangular_tube", "channel_down", "channel_up"}},
       {"diameter", {"round_tube"}},
       {"wall", {"rectangular_tube", "round_tube", "channel_down", "channel_up"}},
       {"strip", {"plank_with_strip"}}});
  const bool tube = form == "rectangular_tube" || form == "round_tube";
  const bool walled = tube || form.starts_with("channel");
  const bool round = form == "round_tube";
  const bool any = f.has("width") || f.has("thickness") || f.has("diameter") || f.has("wall");
  const bool written = !form.empty() && !f.has("size") && any;
  if (!form.empty() && !f.has("size") && !any) {
    complain_missing(f, "size",
                     "store size by name, for example 2x8; or " +
                         std::string(round    ? "diameter and wall"
                                     : walled ? "width, thickness and wall"
                                              : "width and thickness"));
  }
  const auto width = need_if<Length>(f, written && !round,
                                     {"width", "width of the board", "fore and aft, as it lies"});
  const auto thickness = need_if<Length>(
      f, written && !round, {"thickness", "thickness of the board", "up and down, as it lies"});
  const auto diameter = need_if<Length>(f, written && round,
                                        {"diameter", "outside diameter of the tube", "round_tube"});
  const auto wall =
      need_if<Length>(f, written && walled, {"wall", "wall thickness", "tube or channel", assumed});
  if (f.has("size")) {
    const std::string twice = ": size says it already; give the one or the other";
    if (!round) complain_at(f, "width", twice);
    if (!round) complain_at(f, "thickness", twice);
    if (round) complain_at(f, "diameter", twice);
    if (walled) complain_at(f, "wall", twice);
    if (size && !form.empty()) read_size(f, library, size->value, laid == "on_edge", b);
  } else {
    complain_at(f, "laid", ": belongs to size; width is fore and aft and thickness up and down");
    if (width) b.width = width->value;
    if (thickness) b.thickness = thickness->value;
    if (diameter) b.width = b.thickness = diameter->value;
    if (wall) b.wall = wall->value;
  }
  b.length = f.need<Length>({"length", "length of the board", "end to end"}).value;
  const PieceMaterial m = read_material(f, library, weld,
                                        form.empty() ? Made::either
                                        : walled     ? Made::metal
                                                     : Made::wood,
                                        "form: " + form);
  b.wood = m.wood;
  b.metal = m.metal;
  b.wet = m.wet;
  b.treated = m.treated;
  b.wood_strength = strength_of(f, m, b.width, b.thickness, library);
  {
    ObjectSchema schema;
    const Key key{"strip", "strip below the plank", "on edge, glued and bolted along its length"};
    Fields s = f.map(key, false, &schema);
    if (form == "plank_with_strip" && !f.has("strip")) {
      complain_missing(f, "strip", "on edge below the plank, as in {thickness: 2 in, depth: 4 in}");
    }
    if (s.node() != nullptr || s.describing()) {
      b.strip_thickness =
          s.need<Length>({"thickness", "thickness of the strip", "fore and aft"}).value;
      b.strip_depth = s.need<Length>({"depth", "depth of the strip", "below the plank"}).value;
      if (auto v = s.optional<Length>(
              {"forward", "strip forward of the middle line", "in the middle when left out"},
              Sign::any)) {
        b.strip_forward = v->value;
      }
      s.finish();
    }
    f.close(key, schema);
  }
  f.finish();
  return b;
}

// ---- Ledges
// --------------------------------------------------------------------------------------

LedgeFastening read_ledge_fastening(Fields f, const MaterialLibrary& library, bool weld,
                                    std::optional<Length> upright) {
  LedgeFastening out;
  const std::string hull =
      f.choice({"hull", "what the bolts of the ledge enter", "metal_wall, laminate or timber"},
               {"metal_wall", "laminate", "timber"}, true, true)
          .value;
  out.hull = hull == "laminate" ? HullKind::laminate
             : hull == "timber" ? HullKind::timber
                                : HullKind::metal_wall;
  refuse_foreign(f, "hull", hull, {{"hull_alloy", {"metal_wall"}}});
  out.hull_thickness =
      f.need<Length>({"hull_thickness", "thickness of the hull", "at the ledge, no paint", assumed})
          .value;
  refuse_above(f, "hull_thickness", out.hull_thickness, 4.0_in,
               "above 4 in (100 mm), no hull of a small boat");
  out.hull_metal = read_metal(
      f, {"hull_alloy", "alloy of the hull", "metal_wall: its name in the tables", assumed}, false,
      library, weld);
  if (hull == "metal_wall" && f.node() != nullptr && !f.has("hull_alloy")) {
    complain_missing(f, "hull_alloy", "alloy of the hull by name, for example 5052-H32 sheet");
  }
  out.thread = read_thread(f, library);
  out.material = read_fastener_material(f, library);
  const auto count = f.number({"count", "bolts of the ledge", "in one row, fore and aft"}, 1, 24);
  if (count) {
    out.count = int(count->value);
    if (std::floor(count->value) != count->value) {
      complain_at(f, "count", ": a whole number of bolts is expected");
    }
  } else if (f.node() != nullptr && !f.has("count")) {
    complain_missing(f, "count", "bolts of the ledge, a bare number, for example 3");
  }
  if (const auto v = need_if<Length>(
          f, out.count > 1, {"spacing", "spacing of the ledge's bolts", "centre to centre"})) {
    out.spacing = v->value;
    if (out.count == 1) complain_at(f, "spacing", ": one bolt has no spacing");
  }
  out.below_seat = f.need<Length>({"below_seat", "bolts below the seat",
                                   "centre of the row below "
                                   "what the board rests on"})
                       .value;
  if (auto v = f.optional<Length>({"foot_below", "foot of the ledge below the seat",
                                   "lower end of the upright leg; its length when left out"})) {
    out.foot_below = v->value;
  } else if (upright) {
    out.foot_below = *upright;  // zero where the angle is not known, which is reported
  } else if (f.node() != nullptr && !f.has("foot_below")) {
    complain_missing(f, "foot_below",
                     "lower end of the upright leg below the seat, a length, for example 2 in");
  }
  out.assembly = read_assembly(f);
  if (auto name = f.text({"washer", "washer behind the hull", "its name in the tables"}, false)) {
    out.washer = look_up(f, "washer", [&] { return library.washer(name->value); });
    if (out.washer && out.washer->hole < out.thread.diameter) {
      complain_at(f, "washer", ": its hole is smaller than the thread");
    }
  }
  out.backing = read_backing(f, {"behind", "plate behind the hull", "under the nuts"}, false,
                             library, "behind the hull");
  f.finish();
  return out;
}

// `angle: 60 x 60 x 6 mm`: the leg that lies level, the other, the thickness.
struct AngleSize {
  Length level{};
  Length upright{};
  Length thickness{};
};

std::optional<AngleSize> read_angle(Fields& f, const MaterialLibrary& library,
                                    const std::optional<Known<Length>>& along) {
  const auto name =
      f.text({"angle", "angle", "its size by name in the tables, for example 60 x 60 x 6 mm"},
             false, true);
  if (!name) return std::nullopt;
  const auto entry =
      look_up(f, "angle", [&] { return &stock(library, "angle", "angle", name->value); });
  if (!entry) return std::nullopt;
  AngleSize out{size_of(**entry, "leg_a"), size_of(**entry, "leg_b"),
                size_of(**entry, "thickness")};
  const ReaderUnits u = f.reading().units;
  const auto same = [](Length a, Length b) { return abs(a - b) < 0.5_mm; };
  if (along && same(along->value, out.upright)) std::swap(out.level, out.upright);
  if (along && !same(along->value, out.level)) {
    complain_at(f, "along",
                ": neither leg of the angle; its legs are " + show(out.level, u) + " and " +
                    show(out.upright, u));
  } else if (!along && !f.has("along") && !same(out.level, out.upright)) {
    complain_missing(f, "along",
                     "the leg of the angle that lies level: " + show(out.level, u) + " or " +
                         show(out.upright, u));
  }
  return out;
}

Ledge read_ledge(Fields f, const MaterialLibrary& library, bool weld) {
  Ledge l;
  const std::string kind =
      f.choice(
           {"kind", "kind of ledge",
            "angle: on the side of the hull, the board on its level leg; gunwale_top: the board "
            "on the gunwale; saddle: a solid block or bracket"},
           {"angle", "gunwale_top", "saddle"}, true)
          .value;
  l.kind = kind == "gunwale_top" ? LedgeKind::gunwale_top
           : kind == "saddle"    ? LedgeKind::saddle
                                 : LedgeKind::angle;
  const bool angle = kind == "angle";
  refuse_foreign(f, "kind", kind,
                 {{"angle", {"angle"}},
                  {"leg_thickness", {"angle"}},
                  {"alloy", {"angle"}},
                  {"root", {"angle"}},
                  {"fastening", {"angle"}}});
  const auto along = need_if<Length>(
      f, !kind.empty() && !(angle && f.has("angle")),
      {"along", "seat along the board", "from its inner edge outboard; the level leg of an angle"});
  if (along) l.along = along->value;
  l.fore_aft = f.need<Length>({"fore_aft", "seat along the boat", "length of the ledge"}).value;
  const std::optional<AngleSize> size = read_angle(f, library, along);
  const auto leg = need_if<Length>(f, angle && !f.has("angle"),
                                   {"leg_thickness", "thickness of the angle",
                                    "its level leg, when the angle has no name", assumed});
  if (f.has("angle")) {
    complain_at(f, "leg_thickness", ": angle says it already; give the one or the other");
  }
  if (leg) l.leg_thickness = leg->value;
  refuse_above(f, "leg_thickness", l.leg_thickness, 1.0_in,
               "above 1 in (25 mm), no angle of a small boat");
  if (size) {
    l.leg_thickness = size->thickness;
    if (!along) l.along = size->level;
  }
  l.metal = read_metal(f, {"alloy", "alloy of the angle", "its name in the tables", assumed}, false,
                       library, weld);
  if (angle && f.node() != nullptr && !f.has("alloy")) {
    complain_missing(f, "alloy", "alloy of the angle by name, for example 6061-T6 extrusion");
  }
  {
    const Key key{"root", "side of the upright leg",
                  "angle: outboard (when left out) or inboard of the seat", assumed};
    l.root_outboard = f.choice(key, {"outboard", "inboard"}, false, true).value != "inboard";
    if (angle) note_default(f, key, "outboard");
  }
  {
    const Key key{"flare", "rise of the seat toward its inner edge",
                  "an angle on a flared side; 0 deg level", assumed};
    l.flare = (angle ? f.defaulted<Angle>(key, Angle{}, Sign::not_negative)
                     : f.optional<Angle>(key, Sign::not_negative).value_or(Known<Angle>{}))
                  .value;
  }
  l.packed = read_yes(f, {"packed", "wedge that takes the flare up", "yes or no"}, true);
  if (l.flare.value() > 0 && f.node() != nullptr && !f.has("packed")) {
    complain_missing(f, "packed", "does a wedge take up the flare? yes or no");
  }
  if (auto v = f.optional<Length>(
          {"gap", "board above the seat", "before anything presses it down"}, Sign::not_negative)) {
    l.gap = v->value;
  }
  {
    ObjectSchema schema;
    const Key key{"fastening", "bolts of the ledge",
                  "one row through its upright leg; without them they are not checked"};
    Fields b = f.map(key, false, &schema);
    if (b.node() != nullptr || b.describing()) {
      std::optional<Length> upright;
      if (f.has("angle")) upright = size ? size->upright : Length{};
      const LedgeFastening read = read_ledge_fastening(b, library, weld, upright);
      if (!b.describing()) l.fastening = read;
    }
    f.close(key, schema);
  }
  f.finish();
  return l;
}

void read_ledges(Fields f, const MaterialLibrary& library, bool weld, CrossBoard& out,
                 BoardPlaces& places) {
  const auto one = [&](const char* name, const char* help) -> std::optional<Ledge> {
    ObjectSchema schema;
    const Key key{name, "ledge", help};
    Fields l = f.map(key, false, &schema);
    std::optional<Ledge> read;
    if (l.node() != nullptr || l.describing()) read = read_ledge(l, library, weld);
    f.close(key, schema);
    return read;
  };
  const auto both = one("both", "the same ledge on each side");
  const auto port = one("port", "ledge on the port side");
  const auto starboard = one("starboard", "ledge on the starboard side");
  f.finish();
  if (f.describing() || f.node() == nullptr) return;
  if (f.has("both") && (f.has("port") || f.has("starboard"))) {
    for (const char* side : {"port", "starboard"}) {
      complain_at(f, side, ": both says it already; give both, or port and starboard");
    }
    return;
  }
  if (!f.has("both")) {
    for (const char* side : {"port", "starboard"}) {
      if (!f.has(side)) complain_missing(f, side, "the ledge on that side, or both");
    }
  }
  places.port = f.node()->find(f.has("both") ? "both" : "port");
  places.starboard = f.node()->find(f.has("both") ? "both" : "starboard");
  if (both) out.port = out.starboard = *both;
  if (port) out.port = *port;
  if (starboard) out.starboard = *starboard;
}

// ---- Hold-downs
// ----------------------------------------------------------------------------------

// "port forward eye bolt"; the middle has no word.
std::string name_on(Side side, Length forward, std::string_view what) {
  std::string out(word_for(side));
  if (forward > 1.0_mm) out += " forward";
  if (forward < -1.0_mm) out += " aft";
  return out + " " + std::string(what);
}

// The user's own name, with its side where there are two; else the plain one.
std::string named(const std::optional<Known<std::string>>& own, Side side, Sides sides,
                  const std::string& plain) {
  if (!own) return plain;
  return sides == Sides::both ? std::string(word_for(side)) + " " + own->value : own->value;
}

void read_hold_down(Fields f, const MaterialLibrary& library, CrossBoard& out,
                    BoardPlaces& places) {
  HoldDown h;
  const std::optional<Sides> sides = read_side(f);
  const std::string kind =
      f.choice({"kind", "kind of hold-down",
                "eye_bolt; bolt; u_bolt: straddles the board; pin: keeps it from sliding only"},
               {"eye_bolt", "bolt", "u_bolt", "pin"}, true)
          .value;
  h.kind = kind == "bolt"     ? HoldDownKind::bolt
           : kind == "u_bolt" ? HoldDownKind::u_bolt
           : kind == "pin"    ? HoldDownKind::pin
                              : HoldDownKind::eye_bolt;
  refuse_foreign(f, "kind", kind,
                 {{"eye", {"eye_bolt"}},
                  {"washer", {"eye_bolt", "bolt", "u_bolt"}},
                  {"washer_diameter", {"eye_bolt", "bolt", "u_bolt"}},
                  {"slack", {"eye_bolt", "bolt", "u_bolt"}},
                  {"hole", {"eye_bolt", "bolt", "pin"}}});
  const auto name = read_name(f);
  h.place.outboard =
      f.need<Length>({"outboard", "hold-down outboard of the inner edge of the ledge",
                      "inboard of it: negative"},
                     Sign::any)
          .value;
  if (auto v = f.optional<Length>({"forward", "hold-down forward of the middle line of the board",
                                   "in the middle when left out"},
                                  Sign::any)) {
    h.place.forward = v->value;
  }
  h.thread = read_thread(f, library);
  if (kind.empty() && !f.describing()) {
    (void)f.raw({"material", "", ""}, false, "");
  } else if (kind == "eye_bolt" && !f.has("material")) {
    const Key key{"material", "material of the eye bolt", "", assumed};
    constexpr const char* lowest = "stainless, unmarked";
    h.material = library.fastener_material(lowest);
    note_default(f, key, lowest);
  } else {
    h.material = read_fastener_material(f, library, !f.describing());
  }
  const auto eye = f.text({"eye", "eye bolt by its kind",
                           "eye_bolt: forged shoulder, forged collar, machinery or bent wire; see "
                           "thole materials eye bolts",
                           assumed},
                          false, true);
  if (eye && h.thread.diameter.value() > 0) {
    h.eye = look_up(f, "eye", [&] { return library.eye_bolt(eye->value, h.thread); });
  } else if (kind == "eye_bolt" && f.node() != nullptr && !f.has("eye")) {
    complain_missing(
        f, "eye", "eye bolt by its kind: forged shoulder, forged collar, machinery or bent wire");
  }
  const auto washer = read_washer_width(f, library, h.thread);
  if (washer) h.washer = *washer;
  if (!kind.empty() && kind != "pin" && f.node() != nullptr && !f.has("washer") &&
      !f.has("washer_diameter")) {
    complain_missing(f, "washer",
                     "what presses on the board: washer (a name), or washer_diameter of a washer, "
                     "shoulder or saddle");
  }
  h.hole = read_hole(f, h.thread);
  if (kind == "u_bolt") h.hole = Length{};
  h.assembly = read_assembly(f);
  if (auto v =
          f.optional<Length>({"slack", "lift of the board before it holds", "none when left out"},
                             Sign::not_negative)) {
    h.slack = v->value;
  }
  if (auto v = f.optional<Length>(
          {"standoff", "free shank between board and seat", "through packing; bends the bolt"},
          Sign::not_negative)) {
    h.standoff = v->value;
  }
  if (!kind.empty()) f.finish();
  if (f.describing() || !sides || kind.empty()) return;
  const std::string_view what = kind == "eye_bolt" ? "eye bolt"
                                : kind == "u_bolt" ? "U-bolt"
                                : kind == "bolt"   ? "bolt"
                                                   : "pin";
  for (const Side side : each(*sides)) {
    HoldDown one = h;
    one.place.side = side;
    one.name = unlike_others(out.hold_downs,
                             named(name, side, *sides, name_on(side, h.place.forward, what)));
    out.hold_downs.push_back(one);
    places.hold_downs.push_back(f.node());
  }
}

// ---- Legs
// ----------------------------------------------------------------------------------------

void read_leg(Fields f, const MaterialLibrary& library, bool weld, CrossBoard& out,
              BoardPlaces& places) {
  Leg l;
  const std::optional<Sides> sides = read_side(f);
  const auto name = read_name(f);
  l.place.outboard = f.need<Length>({"outboard", "leg outboard of the inner edge of the ledge",
                                     "its top; inboard of the edge: negative"},
                                    Sign::any)
                         .value;
  l.place.forward = f.need<Length>({"forward", "leg forward of the middle line of the board",
                                    "its top; a leg beside the board: the edge"},
                                   Sign::any)
                        .value;
  l.beside =
      read_yes(f, {"beside", "leg beside the board", "fastened to its edge, not under it"}, false);
  l.length = f.need<Length>({"length", "length of the leg", "top to foot"}).value;
  const auto offset = [&](const char* key, const char* label) {
    const auto v = f.optional<Length>({key, label, "right below when left out"}, Sign::any);
    return v ? v->value : Length{};
  };
  l.foot_forward = offset("foot_forward", "foot forward of the top of the leg");
  l.foot_outboard = offset("foot_outboard", "foot outboard of the top of the leg");
  if (auto v = f.optional<Length>({"gap", "gap at the leg", "at its top or foot, before it pushes"},
                                  Sign::not_negative)) {
    l.gap = v->value;
  }
  l.fore_aft = f.need<Length>({"fore_aft", "leg along the boat", "its section"}).value;
  l.athwart = f.need<Length>({"athwart", "leg across the boat", "its section"}).value;
  const PieceMaterial m = read_material(f, library, weld, Made::either, "the leg");
  l.wood = m.wood;
  l.metal = m.metal;
  l.wood_strength = strength_of(f, m, l.fore_aft, l.athwart, library);
  if (auto v = f.optional<Length>({"wall", "wall thickness of the leg", "a metal tube", assumed})) {
    l.wall = v->value;
    if (f.has("wood"))
      complain_at(f, "wall", ": belongs to a metal tube, but the leg is made of wood");
  }
  const std::string stands_on =
      f.choice({"stands_on", "what the leg stands on", "ledge, hull, thwart or floor"},
               {"ledge", "hull", "thwart", "floor"}, true)
          .value;
  l.stands_on = stands_on == "ledge"    ? LegFoot::ledge
                : stands_on == "thwart" ? LegFoot::thwart
                : stands_on == "floor"  ? LegFoot::floor
                                        : LegFoot::hull;
  if (auto v = f.optional<Angle>({"foot_slope", "slope under the foot", "0 deg level", assumed},
                                 Sign::not_negative)) {
    l.foot_slope = v->value;
  } else if (!f.has("foot_slope") && stands_on == "hull") {
    complain_missing(f, "foot_slope",
                     "slope of the hull under the foot, an angle, for example 15 deg");
  }
  {
    const Key key{"friction", "friction under the foot",
                  "wet, measured; a wet value is assumed when left out", assumed};
    if (auto v = f.number(key, 0, 1.5)) {
      l.friction = v->value;
    } else {
      note_default(f, key, "not measured");
    }
  }
  l.foot_held =
      read_yes(f, {"foot_held", "foot held from sliding", "by a block or a screw"}, false);
  f.finish();
  if (f.describing() || !sides) return;
  for (const Side side : each(*sides)) {
    Leg one = l;
    one.place.side = side;
    one.name =
        unlike_others(out.legs, named(name, side, *sides, name_on(side, l.place.forward, "leg")));
    out.legs.push_back(one);
    places.legs.push_back(f.node());
  }
}

}  // namespace

// ---- Board on its ledges
// -------------------------------------------------------------------------

CrossBoard read_board(Fields& m, const MaterialLibrary& library, bool weld, BoardPlaces& places) {
  CrossBoard out;
  {
    ObjectSchema schema;
    const Key key{"board", "the board", "plank, tube or channel from side to side"};
    out.board = read_piece(m.map(key, true, &schema), library, weld);
    m.close(key, schema);
  }
  out.clear_width = m.need<Length>({"clear_width", "width between the ledges",
                                    "from inner edge to inner edge, where the board lies"})
                        .value;
  {
    const Key key{
        "port_overhang", "overhang of the port end",
        "port end of the board beyond the inner edge of the port ledge; when left out the "
        "board lies in the middle"};
    if (auto v = m.optional<Length>(key)) {
      out.port_overhang = v->value;
    } else if (!m.describing() && !m.has("port_overhang")) {
      out.port_overhang = 0.5 * (out.board.length - out.clear_width);
      m.reading().inputs.push_back(
          {.path = m.path() + ".port_overhang",
           .label = std::string(key.label),
           .value = show(out.port_overhang, m.reading().units) + ", board in the middle",
           .si = out.port_overhang.value(),
           .is_text = false,
           .known = Knowledge::tagged,
           .defaulted = true});
    }
  }
  if (auto v = m.optional<Length>(
          {"starboard_higher", "starboard seat above the port seat", "lower: negative"},
          Sign::any)) {
    out.starboard_higher = v->value;
  }
  if (auto v = m.optional<Angle>(
          {"bow_up", "slope of the seats along the boat", "forward edge higher: positive"},
          Sign::any)) {
    out.bow_up = v->value;
  }
  {
    ObjectSchema schema;
    const Key key{"ledges", "the ledges", "what the board rests on at each side"};
    read_ledges(m.map(key, true, &schema), library, weld, out, places);
    m.close(key, schema);
  }
  {
    ObjectSchema schema;
    const Key key{"hold_downs", "the hold-downs", "what keeps the board down and in its place"};
    for (Fields& item : m.list(key, false, &schema)) {
      read_hold_down(item, library, out, places);
    }
    m.close_list(key, schema);
  }
  {
    ObjectSchema schema;
    const Key key{"legs", "the legs", "they push only, and keep the board from twisting"};
    for (Fields& item : m.list(key, false, &schema)) read_leg(item, library, weld, out, places);
    m.close_list(key, schema);
  }
  return out;
}

}  // namespace thole::reading
