#include <thole/material.hpp>

#include <algorithm>
#include <iterator>

#include <thole/error.hpp>

namespace thole {

std::string_view word_for(Basis basis) {
  switch (basis) {
    case Basis::minimum:
      return "minimum";
    case Basis::characteristic:
      return "characteristic";
    case Basis::mean_yield:
      return "mean_yield";
    case Basis::rated:
      return "rated";
    case Basis::mean:
      return "mean";
    case Basis::typical:
      return "typical";
    case Basis::nominal:
      return "nominal";
    case Basis::exact:
      return "exact";
    case Basis::judgement:
      return "judgement";
  }
  throw InternalError("a basis without a word");
}

const std::vector<KindRule>& table_kinds() {
  constexpr auto stress = Dimension::stress;
  constexpr auto length = Dimension::length;
  constexpr auto number = Dimension::number;
  static const std::vector<KindRule> kinds{
      {"metal",
       "metals",
       {{"ultimate", stress, true},
        {"yield", stress, true},
        {"shear_ultimate", stress, false},
        {"modulus", stress, true},
        {"shear_modulus", stress, false},
        {"density", Dimension::density, false},
        {"poisson", number, false},
        {"compression_yield", stress, false},
        {"weld_ultimate", stress, false},
        {"weld_yield", stress, false},
        {"weld_shear_ultimate", stress, false},
        {"min_thickness", length, false},
        {"max_thickness", length, false}}},
      {"backing_sheet",
       "backing sheets",
       {{"tension", stress, false},
        {"flexure", stress, false},
        {"compression_flat", stress, false},
        {"punching_shear", stress, false},
        {"modulus", stress, false},
        {"density", Dimension::density, false}}},
      {"fastener_material",
       "fastener materials",
       {{"ultimate", stress, true},
        {"yield", stress, true},
        {"proof", stress, false},
        {"shear_ratio", number, false},
        {"shear_ultimate", stress, false},
        {"modulus", stress, false},
        {"min_diameter", length, false},
        {"max_diameter", length, false}}},
      {"thread",
       "threads",
       {{"diameter", length, true},
        {"pitch", length, true},
        {"external_major_min", length, true},
        {"external_pitch_min", length, true},
        {"internal_minor_max", length, true},
        {"internal_pitch_max", length, true},
        {"tap_drill", length, false},
        {"clearance_close", length, false},
        {"clearance_normal", length, false},
        {"head_across_flats", length, false}}},
      {"drill", "drills by number and letter", {{"diameter", length, true}}},
      {"spaced_thread",
       "spaced threads of self-tapping screws",
       {{"diameter", length, true},
        {"pitch", length, true},
        {"root", length, true},
        {"head", length, true}}},
      {"blind_insert",
       "threaded rivets",
       {{"turns_at", Dimension::moment, false}, {"thread_proof", Dimension::force, false}}},
      {"washer",
       "washers",
       {{"outside", length, true}, {"hole", length, true}, {"thickness", length, false}}},
      {"eye_bolt",
       "eye bolts",
       {{"diameter", length, false},
        {"in_line", Dimension::force, false},
        {"at_45_deg", Dimension::force, false},
        {"breaking", Dimension::force, false}}},
      {"lumber_size", "lumber sizes", {{"thickness", length, true}, {"width", length, true}}},
      {"store_length", "lengths in stores", {{"length", length, true}}},
      {"wood_grade",
       "lumber species and grades",
       {{"bending", stress, true},
        {"tension", stress, false},
        {"shear", stress, true},
        {"compression_perp", stress, true},
        {"compression", stress, false},
        {"modulus", stress, true},
        {"modulus_min", stress, false},
        {"specific_gravity", number, false},
        {"density", Dimension::density, false}}},
      {"clear_wood",
       "clear wood (means)",
       {{"rupture_green", stress, false},
        {"rupture_dry", stress, false},
        {"modulus_green", stress, false},
        {"modulus_dry", stress, false},
        {"crushing_green", stress, false},
        {"crushing_dry", stress, false},
        {"compression_perp_green", stress, false},
        {"compression_perp_dry", stress, false},
        {"shear_green", stress, false},
        {"shear_dry", stress, false},
        {"tension_perp_green", stress, false},
        {"tension_perp_dry", stress, false},
        {"specific_gravity_green", number, false},
        {"specific_gravity_dry", number, false}}},
      {"wood_factor", "adjustment factors of wood", {{"factor", number, true}}},
      {"angle",
       "angles",
       {{"leg_a", length, true}, {"leg_b", length, true}, {"thickness", length, true}}},
      {"flat_bar", "flat bars", {{"thickness", length, true}, {"width", length, true}}},
      {"tube",
       "tubes",
       {{"outside_a", length, true}, {"outside_b", length, true}, {"wall", length, true}}},
      {"channel",
       "channels",
       {{"depth", length, true}, {"flange", length, true}, {"thickness", length, true}}},
      {"wall", "common walls", {{"thickness", length, true}}},
      {"required_factor", "factors needed", {{"factor", number, true}}},
  };
  return kinds;
}

const KindRule& table_kind(std::string_view kind) {
  for (const KindRule& rule : table_kinds()) {
    if (rule.kind == kind) return rule;
  }
  std::vector<std::string> names;
  for (const KindRule& rule : table_kinds()) names.emplace_back(rule.kind);
  std::string message = "no kind of table is called \"" + std::string(kind) + "\"";
  const std::string near = nearest_spelling(kind, names);
  if (!near.empty()) message += "; did you mean \"" + near + "\"?";
  throw UnknownName(message);
}

namespace {

std::string key(std::string_view kind, std::string_view name) {
  return std::string(kind) + '\n' + std::string(name);
}

const TableValue* value_of(const Entry& e, std::string_view property) {
  const auto it = e.values.find(std::string(property));
  return it == e.values.end() ? nullptr : &it->second;
}

template <class Q>
std::optional<Q> get(const Entry& e, std::string_view property) {
  const TableValue* v = value_of(e, property);
  if (v == nullptr) return std::nullopt;
  return Q::from_value(v->measure.si);
}

template <class Q>
Q need_value(const Entry& e, std::string_view property) {
  const std::optional<Q> v = get<Q>(e, property);
  if (!v) {
    throw DomainError("the table entry \"" + e.name + "\" has no value for " +
                      std::string(property));
  }
  return *v;
}

std::string about(const Entry& e, const std::string& what) {
  const auto it = e.about.find(what);
  return it == e.about.end() ? std::string() : it->second;
}

}  // namespace

void MaterialLibrary::add(Entry entry) {
  const KindRule& rule = table_kind(entry.kind);
  for (const PropertyRule& p : rule.properties) {
    const TableValue* v = value_of(entry, p.name);
    if (v == nullptr) {
      if (p.required) {
        throw DomainError("\"" + entry.name + "\" lacks " + std::string(p.name) + ", " +
                          std::string(name_of(p.dimension)));
      }
      continue;
    }
    if (v->measure.dimension != p.dimension) {
      throw DomainError("\"" + entry.name + "\": " + std::string(p.name) + " is " +
                        std::string(name_of(v->measure.dimension)) + ", expected " +
                        std::string(name_of(p.dimension)));
    }
    if (!(v->measure.si > 0)) {
      throw DomainError("\"" + entry.name + "\": " + std::string(p.name) + " must be above zero");
    }
    const bool stiffness = p.name.find("modulus") != std::string_view::npos;
    if (v->basis == Basis::typical && p.dimension == Dimension::stress && !stiffness) {
      throw DomainError("\"" + entry.name + "\": " + std::string(p.name) +
                        " is typical; a strength must be a minimum or a characteristic value");
    }
  }
  std::vector<std::string> spellings{entry.name};
  spellings.insert(spellings.end(), entry.also.begin(), entry.also.end());
  for (const std::string& s : spellings) {
    if (index_.contains(key(entry.kind, s))) {
      throw DomainError("there is a " + entry.kind + " called \"" + s + "\" already");
    }
  }
  for (const std::string& s : spellings) index_[key(entry.kind, s)] = entries_.size();
  entries_.push_back(std::move(entry));
}

const Entry* MaterialLibrary::find(std::string_view kind, std::string_view name) const {
  const auto it = index_.find(key(kind, name));
  return it == index_.end() ? nullptr : &entries_[it->second];
}

std::vector<std::string> MaterialLibrary::names(std::string_view kind) const {
  std::vector<std::string> out;
  for (const Entry& e : entries_) {
    if (e.kind != kind) continue;
    out.push_back(e.name);
    out.insert(out.end(), e.also.begin(), e.also.end());
  }
  return out;
}

std::string MaterialLibrary::near_names(std::string_view kind, std::string_view name) const {
  constexpr std::size_t most_shown = 4;
  std::vector<const Entry*> seen;
  std::vector<std::string> near;
  for (const std::string& n : nearest_spellings(name, names(kind))) {
    const Entry* e = find(kind, n);
    if (std::find(seen.begin(), seen.end(), e) != seen.end()) continue;
    seen.push_back(e);
    near.push_back('"' + n + '"');
  }
  if (near.empty()) return "";
  const std::size_t shown = std::min(near.size(), most_shown);
  std::string list = near[0];
  for (std::size_t i = 1; i < shown; ++i) list += (i + 1 == near.size() ? " or " : ", ") + near[i];
  if (shown == near.size()) return "; did you mean " + list + "?";
  return "; " + std::to_string(near.size()) + " are as near: " + list + ", ...";
}

const Entry& MaterialLibrary::need(std::string_view kind, std::string_view name) const {
  if (const Entry* e = find(kind, name)) return *e;
  std::string plain(kind);
  std::replace(plain.begin(), plain.end(), '_', ' ');
  throw UnknownName("no " + plain + " is called \"" + std::string(name) + "\"" +
                    near_names(kind, name));
}

Metal metal_of(const Entry& e, bool weld_affected) {
  Metal m;
  m.name = e.name;
  m.weld_affected = weld_affected;
  const auto family = e.about.find("family");
  m.aluminium = family == e.about.end() || family->second == "aluminium";
  m.modulus = need_value<Stress>(e, "modulus");
  const std::string prefix = weld_affected ? "weld_" : "";
  if (weld_affected && value_of(e, "weld_ultimate") == nullptr) {
    throw DomainError("no strength is stored for \"" + e.name +
                      "\" beside a weld (weld_near_base: yes)");
  }
  m.ultimate = need_value<Stress>(e, prefix + "ultimate");
  m.yield = need_value<Stress>(e, prefix + "yield");
  m.source = value_of(e, prefix + "ultimate")->source;
  const Stress by_rule = 0.6 * m.ultimate;
  const Stress stored = get<Stress>(e, prefix + "shear_ultimate").value_or(by_rule);
  m.shear_ultimate = std::min(stored, by_rule);
  return m;
}

Metal MaterialLibrary::metal(std::string_view name, bool weld_affected) const {
  return metal_of(need("metal", name), weld_affected);
}

FastenerMaterial MaterialLibrary::fastener_material(std::string_view name) const {
  using namespace literals;
  const Entry& e = need("fastener_material", name);
  FastenerMaterial m;
  m.name = e.name;
  m.ultimate = need_value<Stress>(e, "ultimate");
  m.yield = need_value<Stress>(e, "yield");
  m.source = value_of(e, "ultimate")->source;
  const TableValue* ratio = value_of(e, "shear_ratio");
  const Stress by_ratio = (ratio != nullptr ? ratio->measure.si : 0.55) * m.ultimate;
  m.shear_ultimate = std::min(get<Stress>(e, "shear_ultimate").value_or(by_ratio), by_ratio);
  m.modulus = get<Stress>(e, "modulus").value_or(28000.0_ksi);
  return m;
}

Thread MaterialLibrary::thread(std::string_view name) const {
  const Entry& e = need("thread", name);
  Thread t;
  t.name = e.name;
  t.diameter = need_value<Length>(e, "diameter");
  t.pitch = need_value<Length>(e, "pitch");
  t.external_major_min = need_value<Length>(e, "external_major_min");
  t.external_pitch_min = need_value<Length>(e, "external_pitch_min");
  t.internal_minor_max = need_value<Length>(e, "internal_minor_max");
  t.internal_pitch_max = need_value<Length>(e, "internal_pitch_max");
  t.clearance = get<Length>(e, "clearance_normal").value_or(1.1 * t.diameter);
  t.head_across_flats = get<Length>(e, "head_across_flats").value_or(1.5 * t.diameter);
  t.tap_drill = get<Length>(e, "tap_drill").value_or(t.diameter - t.pitch);
  t.tap_drill_name = about(e, "tap_drill_name");
  t.source = value_of(e, "diameter")->source;
  return t;
}

Thread MaterialLibrary::spaced_thread(std::string_view name) const {
  using namespace literals;
  const Entry& e = need("spaced_thread", name);
  Thread t;
  t.name = e.name;
  t.diameter = need_value<Length>(e, "diameter");
  t.pitch = need_value<Length>(e, "pitch");
  t.root = need_value<Length>(e, "root");
  t.head_across_flats = need_value<Length>(e, "head");
  t.clearance = t.diameter + 1.0 / 32 * 1.0_in;
  t.source = value_of(e, "diameter")->source;
  return t;
}

BlindInsertRow MaterialLibrary::blind_insert(std::string_view metal, const Thread& thread) const {
  BlindInsertRow row;
  if (const Entry* e = find("blind_insert", thread.name + " " + std::string(metal))) {
    row.turns_at = get<Moment>(*e, "turns_at");
    row.thread_proof = get<Force>(*e, "thread_proof");
    row.source = e->values.begin()->second.source;
  }
  return row;
}

Washer MaterialLibrary::washer(std::string_view name) const {
  const Entry& e = need("washer", name);
  return {.name = e.name,
          .outside = need_value<Length>(e, "outside"),
          .hole = need_value<Length>(e, "hole"),
          .thickness = get<Length>(e, "thickness").value_or(Length{})};
}

Wood wood_of(const Entry& e) {
  using namespace literals;
  const std::string rules = about(e, "rules");
  Wood w;
  w.name = e.name;
  w.nds = rules.starts_with("NDS");
  if (!w.nds && !rules.starts_with("EN 338")) {
    throw DomainError("the table entry \"" + e.name +
                      "\" must say under about which rules its values follow: NDS or EN 338");
  }
  const std::string species = about(e, "species");
  w.southern_pine = w.nds && species.find("Southern Pine") != std::string::npos;
  w.hardwood =
      species.find("Oak") != std::string::npos || species.find("hardwood") != std::string::npos;

  w.bending = need_value<Stress>(e, "bending");
  w.source = value_of(e, "bending")->source;
  w.shear = need_value<Stress>(e, "shear");
  w.compression_perp = need_value<Stress>(e, "compression_perp");
  w.modulus = need_value<Stress>(e, "modulus");
  w.tension = get<Stress>(e, "tension").value_or(0.4 * w.bending);
  w.compression = get<Stress>(e, "compression").value_or(0.5 * w.bending);
  // NDS Appendix D with a coefficient of variation of 0.25; EN 384 has 0.67 for softwood.
  const double least = w.nds ? (1 - 1.645 * 0.25) * 1.03 / 1.66 : 0.66;
  w.modulus_min = get<Stress>(e, "modulus_min").value_or(least * w.modulus);

  if (const TableValue* g = value_of(e, "specific_gravity")) {
    w.specific_gravity = g->measure.si;
  } else if (w.nds) {
    static_cast<void>(need_value<Stress>(e, "specific_gravity"));  // throws
  } else {
    // Density at 12 % moisture to the oven-dry basis: rho = 1000 G 1.12 / (1 + 0.009 x 12 G), NDS
    // Supplement 3.1.3.
    const double x = need_value<Density>(e, "density").value() / 1120.0;
    w.specific_gravity = x / (1 - 0.108 * x);
  }

  if (w.southern_pine) {
    // Size of the values, "2x8, ..." under about: actual widths of PS 20.
    static const std::map<std::string, Length> actual{
        {"2x4", 3.5_in}, {"2x6", 5.5_in}, {"2x8", 7.25_in}, {"2x10", 9.25_in}, {"2x12", 11.25_in}};
    const std::string size = about(e, "size");
    const auto it = actual.find(size.substr(0, size.find_first_of(", ")));
    if (it == actual.end()) {
      throw DomainError("the table entry \"" + e.name +
                        "\" must say under about for which size its values hold, such as 2x8");
    }
    w.tabulated_width = it->second;
  }

  const auto weakness = [](Seen s) {
    constexpr Seen order[] = {Seen::page,   Seen::computed, Seen::copy,
                              Seen::memory, Seen::practice, Seen::judgement};
    return std::find(std::begin(order), std::end(order), s) - std::begin(order);
  };
  for (const auto& value : e.values) {
    if (weakness(value.second.source.seen) > weakness(w.seen)) w.seen = value.second.source.seen;
  }
  return w;
}

Wood MaterialLibrary::wood(std::string_view name) const {
  return wood_of(need("wood_grade", name));
}

EyeRating MaterialLibrary::eye_bolt(std::string_view name, const Thread& thread) const {
  const std::string size = thread.name.substr(0, thread.name.find('-'));  // 5/16-18: 5/16
  const std::string whole = std::string(name) + " " + size;
  const Entry* found = find("eye_bolt", whole);
  std::string sizes;
  for (const std::string& n : names("eye_bolt")) {
    if (n.starts_with(std::string(name) + " ")) sizes += (sizes.empty() ? "" : ", ") + n;
  }
  if (found == nullptr && !sizes.empty()) {
    throw DomainError("\"" + std::string(name) + "\" has no size for the thread " + thread.name +
                      "; there are " + sizes);
  }
  const Entry& e = found != nullptr ? *found : need("eye_bolt", name);
  const std::optional<Length> d = get<Length>(e, "diameter");
  if (d && abs(*d - thread.diameter).value() > 1e-5) {
    throw DomainError("\"" + e.name + "\" does not have the thread " + thread.name);
  }
  EyeRating r;
  r.name = e.name;
  r.shouldered = about(e, "shoulder") == "yes";
  r.rated = about(e, "rated") == "yes";
  if (r.rated) {
    r.in_line = need_value<Force>(e, "in_line");
    r.at_45_deg = need_value<Force>(e, "at_45_deg");
    r.breaking = need_value<Force>(e, "breaking");
    r.source = value_of(e, "in_line")->source;
  } else {
    r.source = {"common practice, no published rating", "", Seen::practice};
  }
  return r;
}

double MaterialLibrary::wood_factor(std::string_view name) const {
  return need("wood_factor", name).values.at("factor").measure.si;
}

const TableValue& MaterialLibrary::required_factor(std::string_view group) const {
  return need("required_factor", group).values.at("factor");
}

std::vector<Length> MaterialLibrary::walls(std::string_view market) const {
  std::vector<Length> out;
  for (const Entry& e : entries_) {
    if (e.kind == "wall" && about(e, "market") == market) {
      out.push_back(need_value<Length>(e, "thickness"));
    }
  }
  std::sort(out.begin(), out.end());
  return out;
}

}  // namespace thole
