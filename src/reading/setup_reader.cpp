#include <algorithm>
#include <cmath>

#include <thole/error.hpp>
#include <thole/reading.hpp>

#include "reading/fields.hpp"

namespace thole {
namespace {

using reading::Document;
using reading::Fields;
using reading::Node;
using reading::ObjectSchema;
using reading::Reading;
using reading::Sign;

constexpr auto assumed = Knowledge::assumed;
constexpr auto tagged = Knowledge::tagged;
using namespace literals;

const std::string pair_schema =
    R"({"type": "array", "minItems": 2, "maxItems": 2, "items": {"type": "string"}})";
const std::string points_schema =
    R"({"type": "array", "minItems": 1, "maxItems": 48, "items": )" + pair_schema + "}";
const std::string range_schema = R"({"oneOf": [{"type": "string"}, )" + pair_schema + "]}";

// Names in tables: reports an unknown one at its place.
template <class Get>
auto look_up(Fields& at, std::string_view key, Get get) -> std::optional<decltype(get())> {
  try {
    return get();
  } catch (const UnknownName& e) {
    if (const Node* n = at.node() != nullptr ? at.node()->find(key) : nullptr) {
      at.complain(n->kind == Node::Kind::map && n->find("is") != nullptr ? *n->find("is") : *n,
                  at.path() + "." + std::string(key) + ": " + e.what());
    }
  } catch (const DomainError& e) {
    if (const Node* n = at.node() != nullptr ? at.node()->find(key) : nullptr) {
      at.complain(*n, at.path() + "." + std::string(key) + ": " + e.what());
    }
  }
  return std::nullopt;
}

// Complains about a key that was given.
void complain_at(Fields& f, std::string_view key, const std::string& message) {
  if (f.has(key)) f.complain(*f.node()->find(key), f.path() + "." + std::string(key) + message);
}

// A slipped unit here makes a mount look strong.
void refuse_thick(Fields& f, Length thickness) {
  if (thickness > 2.0_in) {
    complain_at(f, "thickness", ": above 2 in (50 mm), no plate of a small boat");
  }
}

std::string metal_schema(const reading::Key& key) {
  return "{\"description\": " + json_text(key.help) +
         R"(, "oneOf": [{"type": ["string", "number"], "maxLength": 200},
{"type": "object", "properties": {"is": {"type": ["string", "number"], "maxLength": 200}, "known": {"enum": ["measured", "tagged", "assumed"]}}, "required": ["is"], "additionalProperties": false},
{"type": "object", "properties": {"name": {"type": "string"}, "ultimate": {"type": "string"}, "yield": {"type": "string"}, "modulus": {"type": "string"}, "source": {"type": "string"}}, "required": ["name", "ultimate", "yield", "source"], "additionalProperties": false}]})";
}

// A metal by name, or written out in place with its source.
std::optional<Metal> read_metal(Fields& at, const reading::Key& key, bool needed,
                                const MaterialLibrary& library, bool weld) {
  if (at.describing()) {
    (void)at.raw(key, needed, metal_schema(key));
    return std::nullopt;
  }
  const Node* node = at.node() != nullptr ? at.node()->find(key.name) : nullptr;
  const bool written_out =
      node != nullptr && node->kind == Node::Kind::map && node->find("is") == nullptr;
  if (!written_out) {
    const auto name = at.text(key, needed, true);
    if (!name) return std::nullopt;
    return look_up(at, key.name, [&] { return library.metal(name->value, weld); });
  }
  ObjectSchema unused;
  Fields f = at.map(key, needed, &unused);
  const auto name = f.text({"name", "name of the metal", "its name"}, true);
  const auto ultimate = f.need<Stress>({"ultimate", "ultimate strength", "specified minimum"});
  const auto yield = f.need<Stress>({"yield", "yield strength", "specified minimum"});
  const auto modulus = f.optional<Stress>({"modulus", "modulus", "Young's modulus"});
  const auto source =
      f.text({"source", "source of the strengths", "a certificate, a standard"}, true);
  f.finish();
  if (!name || !source) return std::nullopt;
  if (ultimate.value.value() > 0 && yield.value > ultimate.value) {
    f.complain(*f.node()->find("yield"), f.path() + ".yield: above the ultimate strength");
  }
  Metal m;
  m.name = name->value;
  m.ultimate = ultimate.value;
  m.yield = yield.value;
  m.shear_ultimate = 0.6 * ultimate.value;
  m.modulus = modulus ? modulus->value : 10100.0_ksi;
  m.source = {source->value, "", Seen::copy};
  at.reading().inputs.push_back({.path = f.path(),
                                 .label = std::string(key.label),
                                 .value = m.name,
                                 .si = 0,
                                 .is_text = true,
                                 .known = tagged,
                                 .defaulted = false});
  if (weld) {
    f.complain_here(f.path() + ": a metal written out here has no strength for the weld zone");
  }
  return m;
}

PlanPoint turned(PlanPoint p, Angle a) {
  const double c = std::cos(radians(a));
  const double s = std::sin(radians(a));
  return {c * p.x - s * p.y, s * p.x + c * p.y};
}

std::optional<std::vector<PlanPoint>> read_points(Fields& at, const Node& node,
                                                  const std::string& label) {
  std::vector<PlanPoint> out;
  if (node.kind != Node::Kind::list || node.items.empty() || node.items.size() > 48) {
    at.complain(node, label + ": a list of 1 to 48 points is expected, as in [[1 in, 2 in]]");
    return std::nullopt;
  }
  for (const Node& item : node.items) {
    if (item.kind != Node::Kind::list || item.items.size() != 2) {
      at.complain(item, label + ": a point is [forward, outboard], as in [1 in, -2 in]");
      return std::nullopt;
    }
    const auto x = at.measure_of(item.items[0], label, Dimension::length, Sign::any);
    const auto y = at.measure_of(item.items[1], label, Dimension::length, Sign::any);
    if (!x || !y) return std::nullopt;
    out.push_back({Length::from_value(x->si), Length::from_value(y->si)});
  }
  return out;
}

Answer read_answer(Fields& f, const char* key, const char* label, const char* help) {
  const auto a =
      f.choice({key, label, help, Knowledge::measured}, {"no", "yes", "not known"}, false, true);
  if (a.value == "yes") return Answer::yes;
  if (a.value == "no") return Answer::no;
  if (!f.describing() && !f.has(key)) {
    f.reading().inputs.push_back({.path = f.path() + "." + key,
                                  .label = label,
                                  .value = "not answered",
                                  .si = 0,
                                  .is_text = true,
                                  .known = assumed,
                                  .defaulted = true});
  }
  return Answer::not_known;
}

Condition read_condition(Fields f) {
  Condition c;
  c.cracks = read_answer(f, "cracks", "cracks at or near the base",
                         "cracks in metal or paint near the base, old holes or welds");
  c.loose_rivets = read_answer(f, "loose_rivets", "loose or weeping rivets in reach",
                               "rivets within 12 in (300 mm) that move, weep or are missing");
  c.bent_or_corroded =
      read_answer(f, "bent_or_corroded", "bent or corroded hardware", "any bent or pitted part");
  c.soft_wood_or_core = read_answer(f, "soft_wood_or_core", "soft wood or core",
                                    "an awl sinks in, a tap sounds dull");
  c.weld_near_base = read_answer(f, "weld_near_base", "a weld within 1 in of the base",
                                 "a weld within 1 in (25 mm): the metal is softer there");
  c.within_150_mm =
      f.choice({"within_6_in", "what ties the wall within 6 in of the base",
                "what is within 6 in (150 mm) of the base"},
               {"rib", "knee", "thwart", "gusset", "nothing", "not known"}, false, true)
          .value;
  if (c.within_150_mm == "not known") c.within_150_mm.clear();
  f.finish();
  return c;
}

Host read_host(Fields f, const MaterialLibrary& library, bool weld) {
  Host h;
  const std::string form = f.choice({"form", "form of the wall",
                                     "closed_section: a flat between two bends; open_lip: a "
                                     "flange with a free edge; sheet: a wide sheet"},
                                    {"closed_section", "open_lip", "sheet"}, true)
                               .value;
  h.form = form == "open_lip" ? WallForm::open_lip
           : form == "sheet"  ? WallForm::sheet
                              : WallForm::closed_section;
  if (auto m = read_metal(f,
                          {"alloy", "wall alloy",
                           "metal of the wall by its name in the tables, "
                           "or {name, ultimate, yield, source}",
                           assumed},
                          true, library, weld)) {
    h.metal = *m;
  }
  h.thickness =
      f.need<Length>({"thickness", "wall thickness", "metal only, no paint", assumed}).value;
  refuse_thick(f, h.thickness);
  const auto flat = f.optional<Length>(
      {"flat", "width of the flat", "across the flat, edge to edge (closed_section, open_lip)"});
  if (flat) h.flat = flat->value;
  if (!f.has("flat") && !f.describing() && form != "sheet" && !form.empty() &&
      f.node() != nullptr) {
    f.complain_here(f.path() + ".flat is missing: width of the flat, a length, for example 2 in");
  }
  if (form == "closed_section" && flat && h.thickness.value() > 0 &&
      2.0 * h.thickness >= flat->value) {
    f.complain(*f.node()->find("thickness"),
               f.path() +
                   ".thickness: two such walls leave no room in a section as wide as its "
                   "flat");
  }
  h.lip_root_inboard = f.choice({"root", "side the lip hangs on", "open_lip: inboard or outboard"},
                                {"inboard", "outboard"}, false)
                           .value != "outboard";
  if (form == "open_lip" && f.node() != nullptr && !f.has("root")) {
    f.complain_here(f.path() + ".root is missing: side the lip hangs on, inboard or outboard");
  }
  if (auto v = f.optional<Length>({"to_support", "base centre to the nearest stiffener",
                                   "sheet: distance to the nearest rib, bend or stiffener"})) {
    h.to_support = v->value;
  } else if (form == "sheet" && f.node() != nullptr && !f.has("to_support")) {
    f.complain_here(f.path() +
                    ".to_support is missing: base centre to the nearest stiffener, a "
                    "length, for example 4 in");
  }
  if (auto v =
          f.optional<Length>({"to_end", "base centre to the free end of the wall",
                              "fore or aft, the nearer; leave out when the end is far or capped "
                              "and welded"})) {
    h.to_end = v->value;
  }
  if (auto v = f.optional<Angle>({"slope", "slope of the wall toward outboard",
                                  "0 level; 90 deg a face that looks outboard"},
                                 Sign::any)) {
    h.slope = v->value;
  }
  h.screw_channel =
      f.choice({"holes", "what the fasteners enter",
                "round: drilled holes; screw_channel: an open channel of an extrusion"},
               {"round", "screw_channel"}, false)
          .value == "screw_channel";
  if (form == "closed_section" || form == "open_lip") {
    complain_at(f, "to_support", ": belongs to form: sheet, but the form is " + form);
  }
  if (form == "closed_section" || form == "sheet") {
    complain_at(f, "root", ": belongs to form: open_lip, but the form is " + form);
  }
  f.finish();
  return h;
}

BasePlate read_base(Fields f, const MaterialLibrary& library, const Host& host, Angle& turn) {
  BasePlate b;
  const std::string shape = f.choice({"shape", "shape of the base", "rectangle, round or outline"},
                                     {"rectangle", "round", "outline"}, false)
                                .value;
  const auto fore_aft = f.optional<Length>({"fore_aft", "base along the boat", "rectangle"});
  const auto athwart = f.optional<Length>({"athwart", "base across the boat", "rectangle"});
  const auto diameter = f.optional<Length>({"diameter", "base diameter", "round"});
  const Node* outline =
      f.raw({"outline", "outline of the base", "a list of corners [forward, outboard] in order"},
            false, points_schema);
  if (auto v = f.optional<Angle>({"turned", "base turned", "seen from above, counter-clockwise"},
                                 Sign::any)) {
    turn = v->value;
  }
  bool fits = !f.has("shape") || !shape.empty();
  const std::string meant = shape.empty() ? "rectangle" : shape;
  const std::pair<const char*, const char*> owners[] = {{"fore_aft", "rectangle"},
                                                        {"athwart", "rectangle"},
                                                        {"diameter", "round"},
                                                        {"outline", "outline"}};
  for (const auto& [key, owner] : owners) {
    if (!fits || !f.has(key) || meant == owner) continue;
    f.complain(*f.node()->find(key), f.path() + "." + key + ": belongs to shape: " + owner +
                                         ", but the shape is " + meant);
    fits = false;
  }
  if (!f.describing() && f.node() != nullptr && fits) {
    if (shape == "round") {
      if (!diameter && !f.has("diameter")) {
        f.complain_here(f.path() +
                        ".diameter is missing: base diameter, a length, for example 3 "
                        "in");
      }
      if (diameter) {
        // A polygon of 48 corners inside the circle: its edges lie 0.2 % further in.
        for (int i = 0; i < 48; ++i) {
          const double a = 2 * std::numbers::pi * i / 48;
          b.outline.push_back(
              {0.5 * std::cos(a) * diameter->value, 0.5 * std::sin(a) * diameter->value});
        }
      }
    } else if (shape == "outline") {
      if (outline == nullptr) {
        f.complain_here(f.path() + ".outline is missing: corners as [[forward, outboard], ...]");
      } else if (auto points = read_points(f, *outline, f.path() + ".outline")) {
        b.outline = *points;
        if (area_of(b.outline).value() < 0) std::reverse(b.outline.begin(), b.outline.end());
      }
    } else {
      for (const char* side : {"fore_aft", "athwart"}) {
        if (!f.has(side)) {
          f.complain_here(f.path() + "." + side +
                          " is missing: size of the base, a length, for "
                          "example 3 in");
        }
      }
      if (fore_aft && athwart) {
        const Length x = 0.5 * fore_aft->value;
        const Length y = 0.5 * athwart->value;
        b.outline = {{-x, -y}, {x, -y}, {x, y}, {-x, y}};
      }
    }
  }
  Length smaller_size{};
  if (!b.outline.empty()) {
    const auto [aft, fore] = std::minmax_element(b.outline.begin(), b.outline.end(),
                                                 [](auto& p, auto& q) { return p.x < q.x; });
    const auto [in, out] = std::minmax_element(b.outline.begin(), b.outline.end(),
                                               [](auto& p, auto& q) { return p.y < q.y; });
    smaller_size = std::min(fore->x - aft->x, out->y - in->y);
  }
  for (PlanPoint& p : b.outline) p = turned(p, turn);
  const reading::Key material{"material", "base material",
                              "metal of the base, or \"not known\" for plastic or unknown"};
  const Node* m = f.node() != nullptr ? f.node()->find("material") : nullptr;
  if (m != nullptr && m->kind == Node::Kind::text && m->text == "not known") {
    (void)f.text(material, false);
  } else {
    b.metal = read_metal(f, material, true, library, false);
  }
  if (auto v = f.optional<Length>({"thickness", "base thickness", "of the plate itself"})) {
    b.thickness = v->value;
    refuse_thick(f, b.thickness);
  } else if (b.metal && f.node() != nullptr && !f.has("thickness")) {
    f.complain_here(f.path() +
                    ".thickness is missing: base thickness, a length, for example 1/8 "
                    "in");
  }
  if (auto v = f.optional<Length>({"body", "foot of the body on the base",
                                   "smaller width of the tube, boss or post where it meets the "
                                   "base"})) {
    b.body = v->value;
    if (!b.outline.empty() && *b.body > smaller_size) {
      complain_at(f, "body", ": wider than the base");
    }
  }
  if (auto v = f.optional<Length>({"from_inboard_edge", "base centre from the inboard edge",
                                   "on the flat; middle when left out"},
                                  Sign::not_negative)) {
    b.from_inboard_edge = v->value;
  } else {
    b.from_inboard_edge = 0.5 * host.flat;
  }
  f.finish();
  return b;
}

Fastening read_fastening(Fields f, const MaterialLibrary& library, Angle turn) {
  Fastening out;
  const std::string hold =
      f.choice({"hold", "how the fasteners hold",
                "tapped: threads in the wall; tapped_bar: threads in a bar behind it; "
                "through_bolt: nuts behind"},
               {"tapped", "tapped_bar", "through_bolt"}, true)
          .value;
  out.hold = hold == "tapped_bar"     ? HoldBy::tapped_bar
             : hold == "through_bolt" ? HoldBy::through_bolt
                                      : HoldBy::tapped;
  if (auto name = f.text({"thread", "thread", "1/4-20, '#10-24' (quoted) or M6"}, true)) {
    if (auto t = look_up(f, "thread", [&] { return library.thread(name->value); })) {
      out.thread = *t;
    }
  }
  if (auto name = f.text({"material", "fastener material", "its name in the tables", assumed}, true,
                         true)) {
    if (auto m = look_up(f, "material", [&] { return library.fastener_material(name->value); })) {
      out.material = *m;
    }
  }
  if (auto v = f.optional<Length>({"head", "head or washer on the base",
                                   "diameter; the hexagon of the thread when left out"})) {
    out.head = v->value;
    const Length d = out.thread.diameter;
    if (d.value() > 0 && (out.head <= d || out.head > 10.0 * d)) {
      complain_at(f, "head", ": a head or washer is 1 to 10 times as wide as its thread");
    }
  } else {
    out.head = out.thread.head_across_flats;
  }
  out.countersunk_wall =
      f.choice({"countersunk_wall", "chamfer on the tapped hole", "takes half a thread away"},
               {"yes", "no"}, false)
          .value == "yes";
  if (auto name = f.text({"washer", "washer under the nut", "through_bolt: its name in the tables"},
                         false)) {
    out.washer = look_up(f, "washer", [&] { return library.washer(name->value); });
    if (hold == "tapped" || hold == "tapped_bar") {
      f.complain(*f.node()->find("washer"),
                 f.path() + ".washer: lies under a nut, but there is none; hold: through_bolt");
    }
  }
  {
    ObjectSchema schema;
    const reading::Key key{"holes", "hole pattern",
                           "fore_aft and athwart spacing of 4 holes (one of them: 2 holes), or "
                           "circle, or points"};
    Fields h = f.map(key, true, &schema);
    const auto fore_aft =
        h.optional<Length>({"fore_aft", "hole spacing along the boat", "4 holes"});
    const auto athwart = h.optional<Length>({"athwart", "hole spacing across the boat", "4 holes"});
    const auto circle = h.optional<Length>({"circle", "hole circle", "diameter of the circle"});
    const auto count = h.number({"count", "holes on the circle", "2 to 24"}, 2, max_fasteners);
    const auto first = h.optional<Angle>(
        {"first_at", "first hole on the circle", "from forward toward outboard"}, Sign::any);
    const Node* points =
        h.raw({"points", "holes", "a list of [forward, outboard]"}, false, points_schema);
    if (h.node() != nullptr) {
      const int kinds = (fore_aft || athwart || h.has("fore_aft") || h.has("athwart") ? 1 : 0) +
                        (h.has("circle") ? 1 : 0) + (points != nullptr ? 1 : 0);
      for (const char* only : {"count", "first_at"}) {
        if (kinds == 1 && h.has(only) && !h.has("circle")) {
          h.complain(*h.node()->find(only),
                     h.path() + "." + only + ": belongs to a circle of holes");
        }
      }
      if (kinds != 1) {
        h.complain_here(h.path() +
                        ": give either fore_aft and athwart, or circle and count, or "
                        "points");
      } else if (circle && count) {
        if (std::floor(count->value) != count->value) {
          h.complain(*h.node()->find("count"),
                     h.path() + ".count: a whole number of holes is expected");
        }
        for (int i = 0; i < int(count->value); ++i) {
          const double a =
              radians(first ? first->value : Angle{}) + 2 * std::numbers::pi * i / count->value;
          out.holes.push_back(
              {0.5 * std::cos(a) * circle->value, 0.5 * std::sin(a) * circle->value});
        }
      } else if (circle && !h.has("count")) {
        h.complain_here(h.path() + ".count is missing: how many holes lie on the circle");
      } else if (points != nullptr) {
        if (auto p = read_points(h, *points, h.path() + ".points")) out.holes = *p;
      } else if (fore_aft || athwart) {
        out.rows_along_sides = true;
        const Length x = fore_aft ? Length(0.5 * fore_aft->value) : Length{};
        const Length y = athwart ? Length(0.5 * athwart->value) : Length{};
        if (fore_aft && athwart) {
          out.holes = {{-x, -y}, {x, -y}, {x, y}, {-x, y}};
        } else {
          out.holes = {{-x, -y}, {x, y}};
        }
      }
    }
    h.finish();
    f.close(key, schema);
  }
  for (PlanPoint& p : out.holes) p = turned(p, turn);
  {
    ObjectSchema schema;
    const reading::Key key{"behind", "plate or bar behind the wall",
                           "backing plate of through bolts, or the tapped bar"};
    Fields b = f.map(key, out.hold == HoldBy::tapped_bar && !f.describing(), &schema);
    if (b.node() != nullptr || b.describing()) {
      Backing backing;
      if (auto m = read_metal(b, {"material", "metal behind the wall", "by name"}, true, library,
                              false)) {
        backing.metal = *m;
      }
      backing.thickness =
          b.need<Length>({"thickness", "thickness behind the wall", "plate or bar"}).value;
      refuse_thick(b, backing.thickness);
      backing.fore_aft = b.need<Length>({"fore_aft", "plate along the boat", "size"}).value;
      backing.athwart = b.need<Length>({"athwart", "plate across the boat", "size"}).value;
      b.finish();
      if (!b.describing()) out.backing = backing;
    }
    f.close(key, schema);
  }
  if (hold == "tapped" && out.backing) {
    f.complain(*f.node()->find("behind"),
               f.path() +
                   ".behind: threads in the wall itself leave the plate behind it unused; "
                   "hold: tapped_bar or through_bolt");
  }
  f.finish();
  return out;
}

// `toward: outboard`, or an angle from astern toward outboard.
Angle read_toward(Fields& f) {
  const reading::Key key{"toward", "where the tube leans",
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
  const reading::Key growth{"spool_growth", "spool growth",
                            "full over least spool radius; the pull grows by it as line runs off",
                            assumed};
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

// One angle, or [from, to].
void read_range(Fields& f, const reading::Key& key, Angle& from, Angle& to) {
  const Node* n = f.raw(key, true, range_schema);
  if (n == nullptr) return;
  const std::string label = f.path() + "." + std::string(key.name);
  if (n->kind == Node::Kind::list) {
    if (n->items.size() != 2) {
      f.complain(*n, label + ": a range is [from, to], as in [0 deg, 90 deg]");
      return;
    }
    const auto a = f.measure_of(n->items[0], label, Dimension::angle, Sign::any);
    const auto b = f.measure_of(n->items[1], label, Dimension::angle, Sign::any);
    if (!a || !b) return;
    if (b->si < a->si) {
      f.complain(*n, label + ": the range ends below its start");
      return;
    }
    from = Angle::from_value(a->si);
    to = Angle::from_value(b->si);
  } else if (auto a = f.measure_of(*n, label, Dimension::angle, Sign::any)) {
    from = to = Angle::from_value(a->si);
  }
  if (from.value() < -7 || to.value() > 7) f.complain(*n, label + ": within one turn, please");
}

PlainLoad read_plain_load(Fields& f) {
  PlainLoad p;
  ObjectSchema schema;
  const reading::Key key{"at", "where the load acts", "from the base centre on the wall"};
  Fields at = f.map(key, true, &schema);
  const Length x = at.need<Length>({"forward", "load forward of the base", ""}, Sign::any).value;
  const Length y = at.need<Length>({"outboard", "load outboard of the base", ""}, Sign::any).value;
  const Length z = at.need<Length>({"up", "load above the wall", ""}, Sign::any).value;
  at.finish();
  f.close(key, schema);
  p.at = Position<Base>(x, y, z);
  p.pull = f.need<Force>({"pull", "pull", "size of the load"}).value;
  read_range(f,
             {"azimuth", "azimuth of the load",
              "0 deg astern, 90 deg outboard, 180 deg ahead; "
              "or [from, to]"},
             p.range.azimuth_from, p.range.azimuth_to);
  read_range(f,
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

Gear read_gear(Fields f) {
  Gear g;
  const std::string kind = f.choice({"kind", "kind of gear", "rod_holder or plain_load"},
                                    {"rod_holder", "plain_load"}, true)
                               .value;
  if (auto name = f.text({"name", "name", "your own words"}, false)) g.name = name->value;
  if (f.describing()) {
    (void)read_rod_holder(f);
    // Keys of the other kind; `mass` is described once.
    (void)read_plain_load(f);
    return g;
  }
  if (kind == "rod_holder") g.rod_holder = read_rod_holder(f);
  if (kind == "plain_load") g.plain_load = read_plain_load(f);
  if (!kind.empty()) f.finish();
  return g;
}

Setup read_all(Fields top, const MaterialLibrary& library) {
  Setup s;
  Reading& r = top.reading();
  if (auto v = top.number({"thole", "format of this file", "1"}, 1, 1);
      !v && !top.has("thole") && !top.describing()) {
    top.complain_here("thole is missing: the format of the file, thole: 1");
  }
  if (auto v = top.text({"title", "title", "your own words"}, false)) s.title = v->value;
  s.units =
      top.choice({"units", "units of the report", "inch or metric"}, {"inch", "metric"}, false)
                  .value == "metric"
          ? ReaderUnits::metric
          : ReaderUnits::inch;
  r.units = s.units;
  s.salt_water =
      top.choice({"water", "water", "fresh or salt"}, {"fresh", "salt"}, false).value == "salt";
  {
    ObjectSchema schema;
    const reading::Key key{"condition", "what somebody saw who looked",
                           "answers: no, yes, not "
                           "known"};
    s.condition = read_condition(top.map(key, false, &schema));
    top.close(key, schema);
  }
  const bool weld = s.condition.weld_near_base == Answer::yes;
  {
    ObjectSchema schema;
    const reading::Key key{"mount", "the mount", "what is built"};
    Fields m = top.map(key, true, &schema);
    (void)m.choice({"kind", "kind of mount", "gunwale_plate: a base on a metal wall"},
                   {"gunwale_plate"}, true);
    ObjectSchema host_schema;
    const reading::Key host{"host", "the wall of the boat", "what the fasteners enter"};
    s.mount.host = read_host(m.map(host, true, &host_schema), library, weld);
    m.close(host, host_schema);
    Angle turn{};
    ObjectSchema base_schema;
    const reading::Key base{"base", "the base plate", "what sits on the wall"};
    s.mount.base = read_base(m.map(base, true, &base_schema), library, s.mount.host, turn);
    m.close(base, base_schema);
    ObjectSchema fastening_schema;
    const reading::Key fastening{"fastening", "the fastening", "like fasteners and how they hold"};
    s.mount.fastening = read_fastening(m.map(fastening, true, &fastening_schema), library, turn);
    m.close(fastening, fastening_schema);
    if (s.mount.base.outline.size() == 4 && s.mount.fastening.rows_along_sides) {
      s.mount.base.sides_turned = turn;
    }
    m.finish();
    top.close(key, schema);
  }
  {
    ObjectSchema schema;
    const reading::Key key{"gear", "the gear", "one rod holder or plain load"};
    for (Fields& item : top.list(key, true, &schema)) {
      if (s.gear.size() == 1) {
        item.complain_here("gear: one gear sits on a gunwale plate; write a setup for each plate");
        break;
      }
      s.gear.push_back(read_gear(item));
    }
    // The keys of both kinds stand in one description: `mass` once, and only `kind` always needed.
    auto& all = schema.properties;
    for (std::size_t i = all.size(); i-- > 0;) {
      const auto first = std::find_if(all.begin(), all.end(),
                                      [&](const auto& p) { return p.first == all[i].first; });
      if (first != all.begin() + std::ptrdiff_t(i)) all.erase(all.begin() + std::ptrdiff_t(i));
    }
    schema.required = {"kind"};
    top.close_list(key, schema);
  }
  {
    ObjectSchema schema;
    const reading::Key key{"factors", "factors needed",
                           "raise freely; lowering is marked in the "
                           "report"};
    Fields f = top.map(key, false, &schema);
    for (const std::string& group : library.names("required_factor")) {
      const TableValue& stored = library.required_factor(group);
      s.required_factors[group] = stored;
      std::string name = group;
      std::replace(name.begin(), name.end(), ' ', '_');
      if (auto v = f.number({name, "factor needed", group}, 0.1, 100)) {
        s.factor_overrides[group] = v->value;
      }
    }
    f.finish();
    top.close(key, schema);
  }
  s.common_walls = library.walls(s.units == ReaderUnits::inch ? "inch" : "metric");
  top.finish();
  return s;
}

// The value that a rule of `validate` is about, as far as its text tells; else the mount.
const Node& place_of(const Node& root, std::string_view rule) {
  struct Place {
    std::string_view word;
    std::vector<std::string_view> path;
  };
  const Place places[] = {
      {"a piece", {"mount", "fastening", "behind", "athwart"}},
      {"hole", {"mount", "fastening", "holes"}},
      {"fasteners in one pattern", {"mount", "fastening", "holes"}},
      {"the outline of the base", {"mount", "base", "outline"}},
      {"base centre must lie", {"mount", "base", "from_inboard_edge"}},
      {"base", {"mount", "base"}},
      {"", {"mount"}},
  };
  for (const Place& place : places) {
    if (rule.find(place.word) == std::string_view::npos) continue;
    const Node* at = &root;
    for (const std::string_view key : place.path) {
      const Node* next = at->find(key);
      if (next == nullptr) break;
      at = next;
    }
    return *at;
  }
  return root;
}

}  // namespace

Setup read_setup(std::string_view text, const std::string& file, const MaterialLibrary& library) {
  const Document document = reading::read_yaml(text, file);
  Reading r;
  r.document = &document;
  if (document.root.kind != Node::Kind::map) {
    throw InputError({document.problem({1, 1}, 1,
                                       "a setup is expected: keys with values, see "
                                       "`thole new`")});
  }
  Setup s = read_all(Fields(r, &document.root, "", nullptr), library);
  if (r.problems.empty()) {
    s.file = file;
    s.inputs = std::move(r.inputs);
    try {
      validate(s);
      return s;
    } catch (const DomainError& e) {
      r.problems.push_back(document.problem(place_of(document.root, e.what()).mark, 1, e.what()));
    }
  }
  std::stable_sort(r.problems.begin(), r.problems.end(), [](const Problem& a, const Problem& b) {
    return a.line != b.line ? a.line < b.line : a.column < b.column;
  });
  throw InputError(std::move(r.problems));
}

std::string setup_schema() {
  Reading r;
  ObjectSchema schema;
  schema.help = "A setup of thole: boat, mount, gear and use in one YAML file.";
  Fields top(r, nullptr, "", &schema);
  (void)read_all(top, built_in_materials());
  schema.required.insert(schema.required.begin(), "thole");
  const std::string body = schema.json();
  return "{\"$schema\": \"https://json-schema.org/draft/2020-12/schema\",\n\"title\": \"thole "
         "setup, format 1\",\n" +
         body.substr(1) + "\n";
}

}  // namespace thole
