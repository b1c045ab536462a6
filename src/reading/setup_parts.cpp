#include "reading/setup_parts.hpp"

#include <algorithm>
#include <cctype>
#include <cmath>
#include <numbers>

#include "reading/quoting.hpp"

namespace thole::reading {

using namespace literals;

namespace {

const std::string pair_schema =
    R"({"type": "array", "minItems": 2, "maxItems": 2, "items": {"type": "string"}})";
const std::string points_schema =
    R"({"type": "array", "minItems": 1, "maxItems": 48, "items": )" + pair_schema + "}";

}  // namespace

// ---- Complaints
// ----------------------------------------------------------------------------------

void complain_at(Fields& f, std::string_view key, const std::string& message) {
  if (f.has(key)) f.complain(*f.node()->find(key), f.path() + "." + std::string(key) + message);
}

void complain_value(Fields& f, std::string_view key, const std::string& text) {
  const Node* n = f.node() != nullptr ? f.node()->find(key) : nullptr;
  if (n == nullptr) return;
  if (n->kind == Node::Kind::map && n->find("is") != nullptr) n = n->find("is");
  f.complain(*n, f.path() + "." + std::string(key) + ": " + shown(n->text) + " " + text);
}

std::optional<Known<std::string>> read_name(Fields& f) {
  auto name = f.text({"name", "name", "your own words"}, false);
  if (!name) return name;
  const std::string& own = name->value;
  const std::size_t digits = std::min(own.find_first_not_of("0123456789"), own.size());
  const bool ends =
      digits == own.size() || (own[digits] == '.' && digits + 1 < own.size() &&
                               !std::isdigit(static_cast<unsigned char>(own[digits + 1])));
  if (digits > 0 && ends) {
    complain_value(f, "name",
                   "reads like the number of an item; a word before it is expected, as in \"gear " +
                       own.substr(0, digits) + "\"");
  }
  return name;
}

void complain_missing(Fields& f, std::string_view key, const std::string& what) {
  f.complain_here(f.path() + "." + std::string(key) + " is missing: " + what);
}

void refuse_above(Fields& f, std::string_view key, Length value, Length most,
                  const std::string& text) {
  if (value > most) complain_at(f, key, ": " + text);
}

void refuse_thick(Fields& f, Length thickness) {
  refuse_above(f, "thickness", thickness, 2.0_in, "above 2 in (50 mm), no plate of a small boat");
}

void refuse_foreign(Fields& f, std::string_view what, const std::string& choice,
                    const std::vector<Owner>& owners) {
  if (choice.empty()) return;
  for (const Owner& owner : owners) {
    if (std::find(owner.choices.begin(), owner.choices.end(), choice) != owner.choices.end()) {
      continue;
    }
    if (f.reading().asked != nullptr) {
      f.reading().asked->foreign.emplace_back(f.node(), owner.key);
    }
    std::string list;
    for (std::size_t i = 0; i < owner.choices.size(); ++i) {
      if (i > 0) list += i + 1 == owner.choices.size() ? " or " : ", ";
      list += owner.choices[i];
    }
    complain_at(f, owner.key,
                ": belongs to " + std::string(what) + ": " + list + ", but the " +
                    std::string(what) + " is " + choice);
  }
}

std::string one_of(const std::vector<ObjectSchema>& schemas) {
  std::string out;
  for (const ObjectSchema& s : schemas) out += (out.empty() ? "" : ",\n") + s.json();
  return "{\"oneOf\": [" + out + "]}";
}

// ---- Metals
// --------------------------------------------------------------------------------------

namespace {

std::string metal_schema(const Key& key) {
  return "{\"description\": " + json_text(key.help) +
         R"(, "oneOf": [{"type": ["string", "number"], "maxLength": 200},
{"type": "object", "properties": {"is": {"type": ["string", "number"], "maxLength": 200}, "known": {"enum": ["measured", "tagged", "assumed"]}}, "required": ["is"], "additionalProperties": false},
{"type": "object", "properties": {"name": {"type": "string"}, "ultimate": {"type": "string"}, "yield": {"type": "string"}, "modulus": {"type": "string"}, "source": {"type": "string"}}, "required": ["name", "ultimate", "yield", "source"], "additionalProperties": false}]})";
}

// A length that another key asks for, as far as it reads.
std::optional<Length> quietly(const Node* n) {
  if (n != nullptr && n->kind == Node::Kind::map) n = n->find("is");
  if (n == nullptr || n->kind != Node::Kind::text) return std::nullopt;
  try {
    return parse<Length>(n->text);
  } catch (const UnitError&) {
    return std::nullopt;
  }
}

// Of tubes and channels `thickness` is that of the whole piece.
bool hollow_form(const Fields& f) {
  const Node* form = f.node()->find("form");
  return form != nullptr && (form->text.find("tube") != std::string::npos ||
                             form->text.find("channel") != std::string::npos);
}

// Where a size lies beyond what a table entry says of sizes: "begins at 0.063 in"; "" within it. A
// hair is forgiven for rounding of units.
std::string beyond(const Entry& entry, Length size, std::string_view least, std::string_view most) {
  const auto limit = [&](std::string_view name) -> const TableValue* {
    const auto it = entry.values.find(std::string(name));
    return it == entry.values.end() ? nullptr : &it->second;
  };
  const TableValue* low = limit(least);
  const TableValue* high = limit(most);
  if (low != nullptr && size.value() < (1 - 1e-6) * low->measure.si) {
    return "begins at " + low->written;
  }
  if (high != nullptr && size.value() > (1 + 1e-6) * high->measure.si) {
    return "ends at " + high->written;
  }
  return "";
}

// Where the thickness beside a metal lies beyond its entry.
std::string beyond_thickness(const Fields& f, std::string_view metal_key, const Entry& entry) {
  const bool hull = metal_key == "hull_alloy";
  for (const std::string_view key : {"hull_thickness", "wall", "leg_thickness", "thickness"}) {
    if ((key == "hull_thickness") != hull || !f.has(key)) continue;
    if (key == "thickness" && hollow_form(f)) return "";
    const auto t = quietly(f.node()->find(key));
    return t ? beyond(entry, *t, "min_thickness", "max_thickness") : "";
  }
  return "";
}

// The last input does not hold for its size: taken all the same, as assumed.
void doubt(Fields& f, const std::string& why) {
  Input& i = f.reading().inputs.back();
  i.value += ", which " + why;
  i.known = Knowledge::assumed;
}

// Beyond the thickness of their entry metals are weaker than it, or not listed at all: entries side
// by side differ by up to 0.846 (yield of 6063-T5 in EN 1999-1-1, to 3 mm and over); judgement.
constexpr double beyond_its_entry = 0.84;

}  // namespace

std::optional<Metal> read_metal(Fields& at, const Key& key, bool needed,
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
    auto metal = look_up(at, key.name, [&] { return library.metal(name->value, weld); });
    if (!metal) return std::nullopt;
    const std::string why = beyond_thickness(at, key.name, *library.find("metal", name->value));
    if (!why.empty()) {
      doubt(at, why);
      metal->ultimate *= beyond_its_entry;
      metal->yield *= beyond_its_entry;
      metal->shear_ultimate *= beyond_its_entry;
    }
    return metal;
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
                                 .known = Knowledge::tagged,
                                 .defaulted = false});
  if (weld) {
    f.complain_here(f.path() + ": a metal written out here has no strength for the weld zone");
  }
  return m;
}

// ---- Bases and holes
// -----------------------------------------------------------------------------

void turn(std::vector<PlanPoint>& points, Angle by) {
  const double c = std::cos(radians(by));
  const double s = std::sin(radians(by));
  for (PlanPoint& p : points) p = {c * p.x - s * p.y, s * p.x + c * p.y};
}

namespace {

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

// Every crossing of some lines along the boat with some across it holds a point.
bool full_grid(const std::vector<PlanPoint>& points) {
  const auto lines = [&](auto coordinate) {
    std::vector<double> at;
    for (const PlanPoint& p : points) {
      const double v = coordinate(p).value();
      if (std::none_of(at.begin(), at.end(), [&](double o) { return std::abs(o - v) < 1e-6; })) {
        at.push_back(v);
      }
    }
    return at.size();
  };
  // No two holes in one place: `validate` sees to that.
  return lines([](const PlanPoint& p) { return p.x; }) *
             lines([](const PlanPoint& p) { return p.y; }) ==
         points.size();
}

}  // namespace

BaseShape read_base_shape(Fields& f) {
  BaseShape out;
  const std::string shape = f.choice({"shape", "shape of the base", "rectangle, round or outline"},
                                     {"rectangle", "round", "outline"}, false)
                                .value;
  const auto fore_aft = f.optional<Length>({"fore_aft", "base along the boat", "rectangle"});
  const auto athwart = f.optional<Length>({"athwart", "base across the boat", "rectangle"});
  const auto diameter = f.optional<Length>({"diameter", "base diameter", "round"});
  const Node* outline =
      f.raw({"outline", "outline of the base", "a list of corners [forward, outboard] in order"},
            false, points_schema);
  if (auto v = f.optional<Angle>({"turned", "base turned",
                                  "from forward toward outboard: seen from above counter-clockwise "
                                  "on the port side, clockwise on the starboard side"},
                                 Sign::any)) {
    out.turn = v->value;
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
          out.outline.push_back(
              {0.5 * std::cos(a) * diameter->value, 0.5 * std::sin(a) * diameter->value});
        }
      }
    } else if (shape == "outline") {
      if (outline == nullptr) {
        f.complain_here(f.path() + ".outline is missing: corners as [[forward, outboard], ...]");
      } else if (auto points = read_points(f, *outline, f.path() + ".outline")) {
        out.outline = *points;
        if (area_of(out.outline).value() < 0) std::reverse(out.outline.begin(), out.outline.end());
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
        out.outline = {{-x, -y}, {x, -y}, {x, y}, {-x, y}};
      }
    }
  }
  if (!out.outline.empty()) {
    const auto [aft, fore] = std::minmax_element(out.outline.begin(), out.outline.end(),
                                                 [](auto& p, auto& q) { return p.x < q.x; });
    const auto [in, port] = std::minmax_element(out.outline.begin(), out.outline.end(),
                                                [](auto& p, auto& q) { return p.y < q.y; });
    out.smaller_size = std::min(fore->x - aft->x, port->y - in->y);
  }
  turn(out.outline, out.turn);
  return out;
}

Holes read_holes(Fields& f) {
  Holes out;
  ObjectSchema schema;
  const Key key{"holes", "hole pattern",
                "fore_aft and athwart spacing of 4 holes (one of them: 2 holes), or "
                "circle, or points"};
  Fields h = f.map(key, true, &schema);
  const auto fore_aft = h.optional<Length>({"fore_aft", "hole spacing along the boat", "4 holes"});
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
        h.complain(*h.node()->find(only), h.path() + "." + only + ": belongs to a circle of holes");
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
        out.points.push_back(
            {0.5 * std::cos(a) * circle->value, 0.5 * std::sin(a) * circle->value});
      }
    } else if (circle && !h.has("count")) {
      h.complain_here(h.path() + ".count is missing: how many holes lie on the circle");
    } else if (points != nullptr) {
      if (auto p = read_points(h, *points, h.path() + ".points")) out.points = *p;
      out.rows_along_sides = full_grid(out.points);
    } else if (fore_aft || athwart) {
      out.rows_along_sides = true;
      const Length x = fore_aft ? Length(0.5 * fore_aft->value) : Length{};
      const Length y = athwart ? Length(0.5 * athwart->value) : Length{};
      if (fore_aft && athwart) {
        out.points = {{-x, -y}, {x, -y}, {x, y}, {-x, y}};
      } else {
        out.points = {{-x, -y}, {x, y}};
      }
    }
  }
  h.finish();
  f.close(key, schema);
  return out;
}

// ---- Fasteners
// -----------------------------------------------------------------------------------

Thread read_thread(Fields& f, const MaterialLibrary& library) {
  if (auto name = f.text({"thread", "thread", "1/4-20, '#10-24' (quoted) or M6"}, true)) {
    if (auto t = look_up(f, "thread", [&] { return library.thread(name->value); })) return *t;
  }
  return {};
}

namespace {

// Where the thread beside a grade lies beyond the sizes that its standard names.
std::string beyond_diameter(const Fields& f, const MaterialLibrary& library,
                            const std::string& name) {
  const Node* n = f.node() != nullptr ? f.node()->find("thread") : nullptr;
  if (n == nullptr || n->kind != Node::Kind::text) return "";
  for (const char* kind : {"thread", "spaced_thread"}) {
    const Entry* thread = library.find(kind, n->text);
    if (thread == nullptr) continue;
    return beyond(*library.find("fastener_material", name),
                  Length::from_value(thread->values.at("diameter").measure.si), "min_diameter",
                  "max_diameter");
  }
  return "";
}

// No more than the lowest hardware of the tables.
void as_unmarked(FastenerMaterial& m, const MaterialLibrary& library) {
  const FastenerMaterial low = library.fastener_material("stainless, unmarked");
  m.ultimate = std::min(m.ultimate, low.ultimate);
  m.yield = std::min(m.yield, low.yield);
  m.shear_ultimate = std::min(m.shear_ultimate, low.shear_ultimate);
}

}  // namespace

FastenerMaterial read_fastener_material(Fields& f, const MaterialLibrary& library, bool needed) {
  if (auto name =
          f.text({"material", "fastener material", "its name in the tables", Knowledge::assumed},
                 needed, true)) {
    if (auto m = look_up(f, "material", [&] { return library.fastener_material(name->value); })) {
      if (const std::string why = beyond_diameter(f, library, name->value); !why.empty()) {
        doubt(f, why);
        as_unmarked(*m, library);
      }
      return *m;
    }
  }
  return {};
}

std::optional<Backing> read_backing(Fields& f, const Key& key, bool needed,
                                    const MaterialLibrary& library, const std::string& where) {
  ObjectSchema schema;
  std::optional<Backing> out;
  const std::string metal = "metal " + where;
  const std::string thickness = "thickness " + where;
  Fields b = f.map(key, needed && !f.describing(), &schema);
  if (b.node() != nullptr || b.describing()) {
    Backing backing;
    if (auto m = read_metal(b, {"material", metal, "by name"}, true, library, false)) {
      backing.metal = *m;
    }
    backing.thickness = b.need<Length>({"thickness", thickness, "plate or bar"}).value;
    refuse_thick(b, backing.thickness);
    backing.fore_aft = b.need<Length>({"fore_aft", "plate along the boat", "size"}).value;
    backing.athwart = b.need<Length>({"athwart", "plate across the boat", "size"}).value;
    b.finish();
    if (!b.describing()) out = backing;
  }
  f.close(key, schema);
  return out;
}

std::optional<Length> read_washer_width(Fields& f, const MaterialLibrary& library,
                                        const Thread& thread) {
  std::optional<Length> out;
  if (auto name = f.text({"washer", "washer on the board", "its name in the tables"}, false)) {
    if (auto w = look_up(f, "washer", [&] { return library.washer(name->value); })) {
      out = w->outside;
      if (w->hole < thread.diameter) {
        complain_at(f, "washer", ": its hole is smaller than the thread");
      }
    }
  }
  if (auto v = f.optional<Length>({"washer_diameter", "outside diameter of the washer",
                                   "washer, shoulder or saddle on the board"})) {
    if (f.has("washer")) {
      complain_at(f, "washer_diameter", ": give it or washer, not both");
    } else if (thread.diameter.value() > 0 && v->value <= thread.diameter) {
      complain_at(f, "washer_diameter", ": not wider than the thread");
    }
    out = v->value;
  }
  return out;
}

// ---- Small keys
// ----------------------------------------------------------------------------------

Length read_hole(Fields& f, const Thread& thread) {
  const auto v = f.optional<Length>(
      {"hole", "hole in the board", "the clearance hole of the thread when left out"});
  if (!v) return thread.clearance;
  if (v->value < thread.diameter) complain_at(f, "hole", ": narrower than the thread");
  if (thread.diameter.value() > 0 && v->value > 2.0 * thread.diameter) {
    complain_at(f, "hole", ": more than twice as wide as the thread");
  }
  return v->value;
}

void note_default(Fields& f, const Key& key, const std::string& value) {
  if (f.describing() || f.has(key.name)) return;
  f.reading().inputs.push_back({.path = f.path() + "." + std::string(key.name),
                                .label = std::string(key.label),
                                .value = value,
                                .si = 0,
                                .is_text = true,
                                .known = Knowledge::assumed,
                                .defaulted = true});
}

Assembly read_assembly(Fields& f) {
  Assembly out;
  const std::string oiled =
      f.choice(
           {"lubricated", "threads oiled or pasted",
            "yes or no; left out: the ceiling of the torque takes oiled, its floor dry threads"},
           {"yes", "no"}, false)
          .value;
  if (!oiled.empty()) out.lubricated = oiled == "yes";
  const std::string lock = f.choice({"locking", "what keeps it from turning",
                                     "nut: a locking nut; thread_locker; none (when left out)"},
                                    {"nut", "thread_locker", "none"}, false)
                               .value;
  if (!lock.empty()) {
    out.locking = lock == "nut"             ? Locking::nut
                  : lock == "thread_locker" ? Locking::thread_locker
                                            : Locking::none;
  }
  const std::string bed =
      f.choice(
           {"bedding", "what lies under it",
            "between the part and what it is fastened to: none (metal on metal or wood), "
            "sealant, plastic, rubber, wood; left out: not known, nothing is said to stay tight"},
           {"none", "sealant", "plastic", "rubber", "wood"}, false)
          .value;
  for (const Bedding b :
       {Bedding::none, Bedding::sealant, Bedding::plastic, Bedding::rubber, Bedding::wood}) {
    if (bed == word_for(b)) out.bedding = b;
  }
  return out;
}

bool read_yes(Fields& f, const Key& key, bool otherwise) {
  const std::string word = f.choice(key, {"yes", "no"}, false, true).value;
  return word.empty() ? otherwise : word == "yes";
}

std::optional<Range> read_range(Fields& f, const Key& key, Dimension dimension, Sign sign,
                                bool needed) {
  const Node* n = f.raw(key, needed,
                        R"({"description": )" + json_text(key.help) +
                            R"(, "oneOf": [{"type": "string"}, )" + pair_schema + "]}");
  if (n == nullptr) return std::nullopt;
  const std::string label = f.path() + "." + std::string(key.name);
  if (n->kind != Node::Kind::list) {
    const auto a = f.measure_of(*n, label, dimension, sign);
    if (!a) return std::nullopt;
    return Range{a->si, a->si};
  }
  if (n->items.size() != 2) {
    const std::string unit = dimension == Dimension::speed ? "[1.5 mph, 3 mph]" : "[0 deg, 90 deg]";
    f.complain(*n, label + ": a range is [from, to], as in " + unit);
    return std::nullopt;
  }
  const auto a = f.measure_of(n->items[0], label, dimension, sign);
  const auto b = f.measure_of(n->items[1], label, dimension, sign);
  if (!a || !b) return std::nullopt;
  if (b->si < a->si) {
    f.complain(*n, label + ": the range ends below its start");
    return std::nullopt;
  }
  return Range{a->si, b->si};
}

std::optional<DirectionRange> read_directions(Fields& f, const std::string& what, bool needed) {
  const std::string azimuth_label = "azimuth " + what;
  const std::string dip_label = "dip " + what;
  const auto azimuth = read_range(
      f, {"azimuth", azimuth_label, "0 deg astern, 90 deg outboard, 180 deg ahead; or [from, to]"},
      Dimension::angle, Sign::any, needed);
  const auto dip = read_range(
      f, {"dip", dip_label, "below level: 0 deg level, 90 deg straight down; or [from, to]"},
      Dimension::angle, Sign::any, needed);
  if (!needed && f.has("azimuth") != f.has("dip")) {
    complain_missing(f, f.has("azimuth") ? "dip" : "azimuth",
                     "azimuth and dip make a direction together");
  }
  if (!azimuth || !dip) return std::nullopt;
  const DirectionRange range{Angle::from_value(azimuth->from), Angle::from_value(azimuth->to),
                             Angle::from_value(dip->from), Angle::from_value(dip->to)};
  if (std::abs(in_degrees(range.dip_from)) > 90.001 ||
      std::abs(in_degrees(range.dip_to)) > 90.001) {
    complain_at(f, "dip", ": must lie between -90 and 90 deg");
    return std::nullopt;
  }
  return range;
}

std::optional<Sides> read_side(Fields& f) {
  const std::string word =
      f.choice({"side", "side of the boat", "port, starboard, or both: the same on each side"},
               {"port", "starboard", "both"}, true)
          .value;
  if (word.empty()) return std::nullopt;
  return word == "port" ? Sides::port : word == "both" ? Sides::both : Sides::starboard;
}

std::vector<Side> each(Sides sides) {
  switch (sides) {
    case Sides::port:
      return {Side::port};
    case Sides::starboard:
      return {Side::starboard};
    case Sides::both:
      return {Side::port, Side::starboard};
  }
  throw InternalError("a side without an item");
}

}  // namespace thole::reading
