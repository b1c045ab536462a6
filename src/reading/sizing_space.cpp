#include "reading/sizing_space.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <numbers>

#include <thole/display.hpp>
#include <thole/error.hpp>

#include "core/stable_order.hpp"

namespace thole {

using namespace literals;

const std::vector<SizeWord>& size_words() {
  static const std::vector<SizeWord> words{
      {"stock", "planks of a market, or tubes or channels of the form as drawn", true, false},
      {"laid", "flat or on edge", true, false},
      {"wood", "species and grade", true, false},
      {"legs", "none, as drawn, one below each gear", true, false},
      {"ledge", "angles that the board rests on", true, false},
      {"bolts", "thread of the hold-downs, or of the fasteners of a base", true, true},
      {"washer", "what presses on the board at the hold-downs, or on the base", true, true},
      {"spacing", "hold-downs forward and aft of the middle line", true, false},
      {"plate", "plate under the gear, or behind the wall as the fasteners hold", true, true},
      {"behind", "plate behind the hull at the bolts of the ledges", true, false},
      {"base", "thickness of the base", false, true},
      {"hold", "tapped, tapped bar or through-bolted, and what is behind", false, true},
      {"pattern", "spacing of the holes in the base", false, true},
  };
  return words;
}

namespace reading {

namespace {

// Of a choice that a rigger would make first; the rest is for who asks.
std::vector<std::string> usual(const Setup& s, const SizeQuestion& q) {
  if (s.on_board()) {
    std::vector<std::string> out{"stock", "laid", "legs", "bolts", "washer"};
    if (!q.woods.empty()) out.emplace_back("wood");
    return out;
  }
  const HoldBy hold = s.plate().fastening.hold;
  std::vector<std::string> out;
  if (s.plate().bracket) out.emplace_back("base");
  out.emplace_back("bolts");
  if (hold == HoldBy::u_bolt || hold == HoldBy::clamp) return out;
  out.insert(out.end(), {"hold", "washer"});
  return out;
}

void check_words(const Setup& s, const SizeQuestion& q) {
  std::vector<std::string> here;
  std::vector<std::string> known;
  for (const SizeWord& w : size_words()) {
    known.emplace_back(w.word);
    if (s.on_board() ? w.on_board : w.on_plate) here.emplace_back(w.word);
  }
  for (const std::string& word : q.free) {
    if (std::find(here.begin(), here.end(), word) != here.end()) continue;
    std::string list;
    for (const std::string& w : here) list += (list.empty() ? "" : ", ") + w;
    if (std::find(known.begin(), known.end(), word) != known.end()) {
      throw DomainError("\"" + word + "\" is no quantity of a " +
                        (s.on_board()        ? "cross_board"
                         : s.plate().bracket ? "bracket"
                                             : "gunwale_plate") +
                        "; those are " + list);
    }
    const std::string near = nearest_spelling(word, known);
    throw UnknownName("no quantity is called \"" + word + "\"" +
                      (near.empty() ? "" : "; did you mean \"" + near + "\"?") +
                      "; those of this mount are " + list);
  }
}

}  // namespace

SizeSpace::SizeSpace(const Setup& s, const SizeQuestion& q, const MaterialLibrary& library)
    : s_(s), q_(q), library_(library), free_(q.free), bare_(s) {
  check_words(s, q);
  if (free_.empty()) free_ = usual(s, q);
  if (!q.woods.empty()) free_.emplace_back("wood");
  // Inputs are for reports; which wall is assumed is asked of the setup itself.
  bare_.inputs.clear();
  read_washers();
}

std::size_t SizeSpace::designs() const {
  std::size_t n = 1;
  for (const SizeQuantity& q : quantities_) {
    if (n > std::numeric_limits<std::size_t>::max() / q.options.size()) {
      return std::numeric_limits<std::size_t>::max();
    }
    n *= q.options.size();
  }
  return n;
}

Choice SizeSpace::choice(std::size_t design) const {
  Choice out(quantities_.size());
  for (std::size_t i = quantities_.size(); i-- > 0;) {
    const std::size_t n = quantities_[i].options.size();
    out[i] = design % n;
    design /= n;
  }
  return out;
}

std::size_t SizeSpace::number(const Choice& c) const {
  std::size_t out = 0;
  for (std::size_t i = 0; i < quantities_.size(); ++i) {
    out = out * quantities_[i].options.size() + c[i];
  }
  return out;
}

Setup SizeSpace::setup_of(const Choice& c) const {
  Setup out = s_;
  build(c, out);
  set_inputs(c, out);
  return out;
}

void SizeSpace::describe(SizeAnswer& out) const {
  out.space = quantities_;
  out.fixed = words_.fixed;
  out.remarks = words_.remarks;
  out.section_of = words_.section_of;
  out.mass_of = words_.mass_of;
  out.not_weighed = words_.not_weighed;
  out.market = words_.market;
  out.leg_size = words_.leg_size;
  out.designs = designs();
}

bool SizeSpace::is_asked(std::string_view word) const {
  return std::find(q_.free.begin(), q_.free.end(), word) != q_.free.end();
}

bool SizeSpace::is_free(std::string_view word) {
  return std::find(free_.begin(), free_.end(), word) != free_.end();
}

void SizeSpace::cannot(std::string_view word, const std::string& why) {
  const std::string text = std::string(word) + ": " + why;
  if (is_asked(word)) throw DomainError(text);
  if (is_free(word)) words_.remarks.push_back(text);
}

std::size_t SizeSpace::add(SizeQuantity q) {
  quantities_.push_back(std::move(q));
  return quantities_.size() - 1;
}

void SizeSpace::forget(Setup& s, const std::vector<std::string>& paths) {
  std::erase_if(s.inputs, [&](const Input& i) {
    return std::any_of(paths.begin(), paths.end(), [&](std::string_view p) {
      return p.ends_with('.') ? i.path.starts_with(p) : i.path == p;
    });
  });
}

void SizeSpace::note(Setup& s, const std::string& path, const std::string& label,
                     const std::string& value, Knowledge known) {
  s.inputs.push_back({.path = path,
                      .label = label,
                      .value = value,
                      .is_text = true,
                      .known = known,
                      .defaulted = true});
}

// ---- Masses
// --------------------------------------------------------------------------------------

double SizeSpace::density(const Metal& m) const {
  const Entry* e = library_.find("metal", m.name);
  if (e != nullptr) {
    const auto d = e->values.find("density");
    if (d != e->values.end()) return d->second.measure.si;
  }
  return m.aluminium ? 2700 : 7900;  // as the weight of a board has it
}

double SizeSpace::density(const FastenerMaterial& m) {
  if (m.modulus > 22000.0_ksi) return 7900;
  return m.modulus > 12000.0_ksi ? 8500 : 2800;
}

double SizeSpace::density(const Wood& w, bool wet) {
  // Classes of EN 338 have the density that 19 of 20 planks exceed: their mean is 1.2 times it.
  return (w.nds ? 1.0 : 1.2) * 1000 * w.specific_gravity * (wet ? 1.20 : 1.10);
}

double SizeSpace::bolt(const Thread& t, const FastenerMaterial& m, Length grip, bool nut) {
  const double d = t.diameter.value();
  const double hexagon = 0.866 * t.head_across_flats.value() * t.head_across_flats.value();
  const double shank = 0.25 * std::numbers::pi * d * d * (grip.value() + (nut ? 1.2 * d : 0.0));
  return density(m) * (shank + hexagon * (0.65 + (nut ? 0.85 : 0.0)) * d);
}

double SizeSpace::washer(Length outside, Length hole, double density) {
  const double d = outside.value();
  const double h = std::min(hole.value(), d);
  // No table has their thickness: a tenth of the width, at least 1 mm (judgement).
  return density * 0.25 * std::numbers::pi * (d * d - h * h) * std::max(0.1 * d, 0.001);
}

// ---- Sizes of the tables
// -------------------------------------------------------------------------

namespace {

Length length_of(const Entry& e, std::string_view property) {
  const auto it = e.values.find(std::string(property));
  return it == e.values.end() ? Length{} : Length::from_value(it->second.measure.si);
}

bool sold_in(const Entry& e, bool inch) {
  const auto it = e.about.find("market");
  return it != e.about.end() && it->second == (inch ? "inch" : "metric");
}

void insert(std::vector<Length>& list, Length v) {
  if (!(v.value() > 0)) return;
  const bool there =
      std::any_of(list.begin(), list.end(), [&](Length o) { return abs(o - v) < 0.05_mm; });
  if (!there) list.push_back(v);
  std::sort(list.begin(), list.end());
}

}  // namespace

void SizeSpace::read_washers() {
  for (const Entry& e : library_.entries()) {
    if (e.kind != "washer") continue;
    const std::size_t space = e.name.find(' ');
    if (space == std::string::npos) continue;
    const std::string size = e.name.substr(0, space);
    const Washer w = library_.washer(e.name);
    if (e.name == size + " plain") {
      plain_[size] = w;
      continue;
    }
    const auto [known, is_new] = wide_.try_emplace(size, w);
    if (!is_new && w.outside > known->second.outside) known->second = w;
  }
}

const Washer* SizeSpace::table_washer(const Thread& t, bool wide) const {
  // "1/4-20" and "#10-24" are 1/4 and #10 among the washers.
  const std::string_view size = std::string_view(t.name).substr(0, t.name.find('-'));
  const auto& list = wide ? wide_ : plain_;
  const auto it = list.find(size);
  return it == list.end() ? nullptr : &it->second;
}

std::vector<Thread> SizeSpace::threads(Length least, Length most, const Thread& drawn) const {
  static constexpr std::array<const char*, 8> in_inch{"#8-32",  "#10-24",  "1/4-20", "5/16-18",
                                                      "3/8-16", "7/16-14", "1/2-13", ""};
  static constexpr std::array<const char*, 8> in_metric{"M4",  "M5",  "M6", "M8",
                                                        "M10", "M12", "",   ""};
  std::vector<Thread> out;
  for (const char* name : inch() ? in_inch : in_metric) {
    if (*name == '\0' || library_.find("thread", name) == nullptr) continue;
    Thread t = library_.thread(name);
    if (t.diameter >= least && t.diameter <= most) out.push_back(std::move(t));
  }
  const bool there =
      std::any_of(out.begin(), out.end(), [&](const Thread& t) { return t.name == drawn.name; });
  if (!there) out.push_back(drawn);
  sort_stably(out, [](const Thread& a, const Thread& b) { return a.diameter < b.diameter; });
  return out;
}

std::vector<Length> SizeSpace::bar_thicknesses() const {
  std::vector<Length> out;
  for (const Entry& e : library_.entries()) {
    if (e.kind == "flat_bar" && sold_in(e, inch())) insert(out, length_of(e, "thickness"));
  }
  return out;
}

std::vector<Length> SizeSpace::bar_widths() const {
  std::vector<Length> out;
  for (const Entry& e : library_.entries()) {
    if (e.kind == "flat_bar" && sold_in(e, inch())) insert(out, length_of(e, "width"));
  }
  return out;
}

std::unique_ptr<SizeSpace> space_of(const Setup& s, const SizeQuestion& q,
                                    const MaterialLibrary& library) {
  return s.on_board() ? board_space(s, q, library) : plate_space(s, q, library);
}

}  // namespace reading
}  // namespace thole
