#include <cmath>
#include <numbers>
#include <set>
#include <utility>

#include <thole/display.hpp>
#include <thole/error.hpp>
#include <thole/loads.hpp>
#include <thole/reading.hpp>
#include <thole/sweep.hpp>

#include "core/stable_order.hpp"
#include "reading/tree_edits.hpp"
#include "reading/trials.hpp"
#include "reading/variants.hpp"

namespace thole {

namespace reading {
namespace {

// ---- How far off an input may be
// -----------------------------------------------------------------

/// By a share of the value, or by an amount.
struct Off {
  double share = 0;
  double metric = 0;  ///< SI
  double inch = 0;    ///< SI, the like of it in inches
};
constexpr double inches = 0.0254;
constexpr double degree = std::numbers::pi / 180;
constexpr Off share(double v) { return {v, 0, 0}; }
constexpr Off turned_by(double deg) { return {0, deg * degree, deg * degree}; }
constexpr Off tape{0, 5e-3, 0.25 * inches};
constexpr Off ruler{0, 1e-3, inches / 32};
constexpr Off caliper{0, 1e-4, 0.005 * inches};
constexpr Off one_mm{0, 1e-3, 0.04 * inches};

enum class Way {
  more,
  less,
  both,       ///< the worse of the two is told
  wall,       ///< less; an assumed one the next thinner common wall
  material,   ///< the next weaker of its table
  other_word  ///< the other of two words, where it is the worse
};

struct OffRule {
  /// Of the path without the numbers of items; `*` at the front: any that end so.
  std::string_view path;
  Way way;
  Off measured, tagged, assumed;
  std::string_view why;
  std::string_view word = {};  ///< other_word: the worse
};

// What nothing worse is tried of, and why.
struct LeftRule {
  std::string_view path;  ///< `*` at the end: any below
  std::string_view why;
};

constexpr std::string_view scale = "a luggage scale in a jerking hand; assumed, a brake in the wet";
constexpr std::string_view by_tape = "a tape: 5 mm or 1/4 in; a tenth where nobody measured";
constexpr std::string_view by_rule = "a rule on a small part: 1 mm or 1/32 in";
constexpr std::string_view by_caliper = "a caliper, and paint under it: 0.1 mm or 0.005 in";
constexpr std::string_view by_level = "a phone held as a level";
constexpr std::string_view by_owner = "a figure that its owner brings: a tenth less";
constexpr std::string_view by_hours = "nobody counts hours";

/// THE table of ranges, all of them judgement; the first row that fits counts.
constexpr OffRule off_rules[]{
    // Walls and thicknesses.
    {"mount.host.thickness", Way::wall, caliper, share(0.05), share(0.1),
     "measured: a caliper, paint under it; tagged: tolerance of the mill"},
    {"mount.board.wall", Way::wall, caliper, share(0.05), share(0.1),
     "measured: a caliper, paint under it; tagged: tolerance of the mill"},
    {"*.hull_thickness", Way::wall, caliper, share(0.05), share(0.2),
     "measured: a caliper, paint under it; laid by hand it varies"},
    {"*.skin_top", Way::less, caliper, share(0.1), share(0.2), "skins laid by hand vary"},
    {"*.skin_below", Way::less, caliper, share(0.1), share(0.2), "skins laid by hand vary"},
    {"*.core_thickness", Way::both, one_mm, share(0.1), share(0.2), "cores are ground to fit"},
    {"mount.board.thickness", Way::less, ruler, ruler, share(0.1), "a plank is planed and dries"},
    {"mount.board.width", Way::less, ruler, ruler, share(0.1), "a plank is planed and dries"},
    {"*.thickness", Way::less, caliper, share(0.05), share(0.2),
     "measured: a caliper; tagged: tolerance of the mill"},
    {"*.leg_thickness", Way::less, caliper, share(0.05), share(0.2),
     "measured: a caliper; tagged: tolerance of the mill"},
    {"*.wall", Way::less, caliper, share(0.05), share(0.2),
     "measured: a caliper; tagged: tolerance of the mill"},
    // Pulls.
    {"*.brake_slip", Way::more, share(0.2), share(0.5), share(0.5), scale},
    {"*.drag", Way::more, share(0.2), share(0.5), share(0.5), scale},
    {"*.running_pull", Way::more, share(0.2), share(0.5), share(0.5),
     "a luggage scale; assumed, a larger planer"},
    {"*.winch_stall", Way::more, share(0.2), share(0.5), share(0.5), "a full battery"},
    {"*.spool_growth", Way::more, share(0.1), share(0.1), share(0.2), "how far the line runs off"},
    {"*.line_test", Way::more, share(0.3), share(0.3), share(0.3), "lines break above their label"},
    {"*.weak_link", Way::more, share(0.3), share(0.3), share(0.3),
     "links of line break above their label"},
    {"*.wire_break", Way::more, share(0.2), share(0.2), share(0.2),
     "wires break above their label"},
    {"*.pull", Way::more, share(0.2), share(0.2), share(0.5), scale},
    {"use.running_peak", Way::more, share(0.3), share(0.3), share(0.3),
     "a larger wave, a faster hour"},
    // Masses, water.
    {"*.ball", Way::more, share(0.02), share(0.02), share(0.1), "cast balls vary"},
    {"boat.loaded_mass", Way::both, share(0.1), share(0.1), share(0.2), "who and what is aboard"},
    {"*.mass", Way::both, share(0.02), share(0.1), share(0.2),
     "what hangs on it besides; where it holds something down, less"},
    {"*.depth", Way::more, share(0.2), share(0.2), share(0.2), "a deeper hole"},
    {"*.speed", Way::more, share(0.2), share(0.2), share(0.2), "a gust, a current"},
    {"*.ball_drag", Way::more, share(0.2), share(0.2), share(0.4), "its shape, weed on it"},
    {"*.wire_diameter", Way::more, caliper, share(0.1), share(0.2), by_caliper},
    {"*.wave_height", Way::more, share(0.3), share(0.3), share(0.5), "waves come in groups"},
    {"boat.top_speed", Way::more, share(0.2), share(0.2), share(0.3), "alone on flat water"},
    {"*.hours_per_season", Way::more, share(0.3), share(0.3), share(1.0), by_hours},
    {"*.road_hours_per_season", Way::more, share(0.3), share(0.3), share(1.0), by_hours},
    {"*.finned", Way::other_word, {}, {}, {}, "a fin pulls sideways", "yes"},
    {"use.gear_off_on_road", Way::other_word, {}, {}, {}, "one day it stays on", "no"},
    {"use.not_a_seat", Way::other_word, {}, {}, {}, "somebody sits on it after all", "no"},
    {"*.service", Way::other_word, {}, {}, {}, "a plank in a boat is wet half the year", "wet"},
    // Friction, gaps, strengths.
    {"*.friction", Way::less, share(0.2), share(0.2), share(0.5), "wet, greasy, worn"},
    {"*.gap", Way::more, one_mm, one_mm, one_mm, "what a feeler or an eye can tell: 1 mm"},
    {"*.slack", Way::more, one_mm, one_mm, one_mm, "what a feeler or an eye can tell: 1 mm"},
    {"*.standoff", Way::more, one_mm, one_mm, share(0.2), "what an eye can tell: 1 mm"},
    {"*.packing", Way::more, one_mm, one_mm, share(0.2), "what an eye can tell: 1 mm"},
    {"*.butt_stiffness", Way::both, share(0.2), share(0.2), share(0.5), "droop read on a bent rod"},
    {"*.ultimate", Way::less, share(0.1), share(0.1), share(0.1), by_owner},
    {"*.yield", Way::less, share(0.1), share(0.1), share(0.1), by_owner},
    {"*.modulus", Way::both, share(0.1), share(0.1), share(0.1), by_owner},
    {"*.punch_shear", Way::less, share(0.1), share(0.1), share(0.1), by_owner},
    {"*.bearing", Way::less, share(0.1), share(0.1), share(0.1), by_owner},
    {"*.core_crush", Way::less, share(0.1), share(0.1), share(0.1), by_owner},
    {"*.flexural", Way::less, share(0.1), share(0.1), share(0.1), by_owner},
    {"*.alloy", Way::material, {}, {}, {}, "the next weaker of the same form in the tables"},
    {"*.hull_alloy", Way::material, {}, {}, {}, "the next weaker of the same form in the tables"},
    {"*.material", Way::material, {}, {}, {}, "the next weaker of its kind in the tables"},
    {"*.wood", Way::material, {}, {}, {}, "the next lower grade of the same wood"},
    // Sizes of parts that a rule lies on.
    {"*.head", Way::less, caliper, share(0.05), share(0.1),
     "heads and washers are sold under size"},
    {"*.washer_diameter", Way::less, caliper, share(0.05), share(0.1),
     "heads and washers are sold under size"},
    {"*.holes.fore_aft", Way::both, ruler, ruler, share(0.1), by_rule},
    {"*.holes.athwart", Way::both, ruler, ruler, share(0.1), by_rule},
    {"*.holes.circle", Way::both, ruler, ruler, share(0.1), by_rule},
    {"*.hole", Way::both, ruler, ruler, share(0.1), by_rule},
    {"*.points", Way::both, ruler, ruler, ruler, by_rule},
    {"*.outline", Way::both, ruler, ruler, ruler, by_rule},
    {"*.body", Way::less, ruler, ruler, share(0.1), by_rule},
    {"*.base.fore_aft", Way::both, ruler, ruler, share(0.1), by_rule},
    {"*.base.athwart", Way::both, ruler, ruler, share(0.1), by_rule},
    {"*.foot.fore_aft", Way::both, ruler, ruler, share(0.1), by_rule},
    {"*.foot.athwart", Way::both, ruler, ruler, share(0.1), by_rule},
    {"*.plate.fore_aft", Way::less, ruler, ruler, share(0.1), by_rule},
    {"*.plate.athwart", Way::less, ruler, ruler, share(0.1), by_rule},
    {"*.behind.fore_aft", Way::less, ruler, ruler, share(0.1), by_rule},
    {"*.behind.athwart", Way::less, ruler, ruler, share(0.1), by_rule},
    {"*.flange", Way::less, caliper, share(0.05), share(0.1), by_caliper},
    {"*.bulb", Way::less, caliper, share(0.05), share(0.1), by_caliper},
};

constexpr LeftRule left_rules[]{
    {"thole", "the format of the file"},
    {"condition.*", "what somebody saw; it has no number"},
    {"*.boom_angles", "a choice of use: thole booms, thole sweep --of \"boom angle\""},
    {"*.boom_raised", "a choice of use: thole sweep shows others"},
    {"*.stowed_angles", "a choice of use: thole sweep shows others"},
    {"*.size", "a size from a store"},
    {"*.angle", "a size from a store"},
    {"*.thread", "a size from a store"},
    {"*.count", "counted"},
    {"*.water_temperature", "nothing worse is known for it"},
};

bool fits(std::string_view rule_path, const std::string& path) {
  if (rule_path.starts_with('*')) return path.ends_with(rule_path.substr(1));
  if (rule_path.ends_with('*')) return path.starts_with(rule_path.substr(0, rule_path.size() - 1));
  return path == rule_path;
}

const OffRule* rule_of(std::string path) {
  if (path.ends_with(".is")) path.resize(path.size() - 3);  // a figure with its source
  for (const OffRule& r : off_rules) {
    if (fits(r.path, path)) return &r;
  }
  return nullptr;
}

// What no row names, by what it measures.
const OffRule* rule_for(Dimension d) {
  static constexpr OffRule length{"", Way::both, tape, tape, share(0.1), by_tape};
  static constexpr OffRule angle{"", Way::both, turned_by(2), turned_by(3), turned_by(5), by_level};
  static constexpr OffRule force{"", Way::more, share(0.2), share(0.2), share(0.5), scale};
  static constexpr OffRule other{"",         Way::both,  share(0.1),
                                 share(0.1), share(0.2), "a tenth, a fifth where nobody measured"};
  switch (d) {
    case Dimension::length:
      return &length;
    case Dimension::angle:
      return &angle;
    case Dimension::force:
      return &force;
    default:
      return &other;
  }
}

// ---- The tables
// ----------------------------------------------------------------------------------

std::string about(const Entry& e, const char* key) {
  const auto at = e.about.find(key);
  return at == e.about.end() ? std::string() : at->second;
}

double value(const Entry& e, const char* key) {
  const auto at = e.values.find(key);
  return at == e.values.end() ? 0 : at->second.measure.si;
}

// The strongest of those that are weaker than a material and else of its kind; "" where there is
// none.
std::string next_weaker(const MaterialLibrary& library, const std::string& name) {
  const auto best_of = [&](const char* kind, auto like, auto weaker, const char* by) {
    const Entry* best = nullptr;
    for (const Entry& e : library.entries()) {
      if (e.kind != kind || !like(e) || !weaker(e)) continue;
      if (best == nullptr || value(e, by) > value(*best, by)) best = &e;
    }
    return best == nullptr ? std::string() : best->name;
  };
  if (const Entry* m = library.find("metal", name)) {
    const bool en = about(*m, "rules").starts_with("EN ");
    return best_of(
        "metal",
        [&](const Entry& e) {
          return about(e, "family") == about(*m, "family") &&
                 about(e, "product") == about(*m, "product") &&
                 about(e, "rules").starts_with("EN ") == en;
        },
        [&](const Entry& e) {
          const double u = value(e, "ultimate") - value(*m, "ultimate");
          const double y = value(e, "yield") - value(*m, "yield");
          return u <= 0 && y <= 0 && u + y < 0;
        },
        "yield");
  }
  if (const Entry* f = library.find("fastener_material", name)) {
    // Unmarked stainless is the lowest grade of its table.
    const Entry* lowest = library.find("fastener_material", "stainless, unmarked");
    if (lowest == nullptr || about(*f, "alloy").find("stainless") == std::string::npos) return "";
    return value(*lowest, "ultimate") < value(*f, "ultimate") ? lowest->name : std::string();
  }
  if (const Entry* w = library.find("wood_grade", name)) {
    return best_of(
        "wood_grade",
        [&](const Entry& e) {
          return about(e, "species") == about(*w, "species") &&
                 about(e, "rules") == about(*w, "rules") && about(e, "size") == about(*w, "size");
        },
        [&](const Entry& e) { return value(e, "bending") < value(*w, "bending"); }, "bending");
  }
  return "";
}

// ---- Trials
// --------------------------------------------------------------------------------------

struct Both {
  Worth worth;
  Worth loaded;  // without checks of distances
};

bool same(const Shake& a, const Shake& b) {
  return a.forward == b.forward && a.starboard == b.starboard && a.up == b.up;
}

// In all that mount and gear feel of it; words may differ.
bool same(const LoadCase& a, const LoadCase& b) {
  return a.id == b.id && a.kind == b.kind && a.category == b.category && a.decides == b.decides &&
         a.path == b.path && a.pull == b.pull && a.range == b.range &&
         a.depends_on == b.depends_on && a.gear == b.gear && a.ranges == b.ranges &&
         a.others == b.others && a.pulls == b.pulls &&
         std::equal(a.shakes.begin(), a.shakes.end(), b.shakes.begin(), b.shakes.end(),
                    [](const Shake& x, const Shake& y) { return same(x, y); }) &&
         a.ball_on_tip == b.ball_on_tip && a.heave == b.heave &&
         a.cycles_per_hour == b.cycles_per_hour && a.times_per_season == b.times_per_season &&
         a.origin == b.origin && a.left_out == b.left_out;
}

bool same(const std::vector<LoadCase>& a, const std::vector<LoadCase>& b) {
  return std::equal(a.begin(), a.end(), b.begin(), b.end(),
                    [](const LoadCase& x, const LoadCase& y) { return same(x, y); });
}

struct Trial {
  std::size_t effect = 0;
  std::string tried;
  std::vector<Edit> edits;  // written into `root`
  double pull_scale = 1;
  bool size_written_out = false;
  std::optional<Setup> setup;
  std::string why_not;
  std::optional<Both> worth;
};

double worth_ratio(const Worth& w) { return w.verdict == Verdict::no_verdict ? 0 : w.ratio; }

std::string percent(double v) { return show_number(std::round(v * 1000) / 10) + " %"; }

void paths_to(const Node& at, const std::string& rest, const std::string& seen,
              std::vector<std::string>& there, std::vector<std::string>& absent) {
  if (at.kind == Node::Kind::list) {
    for (std::size_t i = 0; i < at.items.size(); ++i) {
      paths_to(at.items[i], rest, joined(seen, std::to_string(i)), there, absent);
    }
    return;
  }
  const std::string key = rest.substr(0, rest.find('.'));
  const std::string below = rest.substr(std::min(rest.size(), key.size() + 1));
  const Node* next = at.kind == Node::Kind::map ? at.find(key) : nullptr;
  if (below.empty()) {
    (next != nullptr ? there : absent).push_back(joined(seen, key));
  } else if (next != nullptr) {
    paths_to(*next, below, joined(seen, key), there, absent);
  }
}

// As its owner wrote it; "" of a group of keys.
std::string text_of(const Node& node) {
  if (node.kind == Node::Kind::text) return node.text;
  std::string out;
  if (node.kind == Node::Kind::list) {
    for (const Node& n : node.items) {
      if (n.kind != Node::Kind::text) return "";
      out += (out.empty() ? "" : ", ") + n.text;
    }
  }
  return out;
}

std::string unsigned_text(const std::string& text) {
  return text.starts_with('-') ? text.substr(1) : text;
}

// Paths of all values with a unit that stand by themselves.
void sizes_below(const Node& at, const std::string& seen, std::vector<std::string>& out) {
  if (at.kind == Node::Kind::text) {
    const auto m = measure_in(at.text);
    if (m && m->dimension != Dimension::number) out.push_back(seen);
    return;
  }
  if (at.kind == Node::Kind::map && at.find("is") != nullptr) {
    sizes_below(*at.find("is"), seen, out);
    return;
  }
  for (std::size_t i = 0; i < at.items.size(); ++i) {
    const bool list = at.kind == Node::Kind::list;
    sizes_below(at.items[i], joined(seen, list ? std::to_string(i) : at.keys[i]), out);
  }
}

class Looking {
 public:
  Looking(std::string_view text, const std::string& file, const MaterialLibrary& library,
          const SweepOptions& options)
      : document_(read_yaml(text, file)),
        library_(library),
        options_(options),
        drawn_(read_tree(document_, library)),
        root_(bare(document_.root)) {}

  InputAnswer run() {
    Both drawn = worth(drawn_, 1);
    out_.as_drawn = std::move(drawn.worth);
    out_.loaded = std::move(drawn.loaded);
    if (out_.as_drawn.verdict == Verdict::no_verdict) {
      for (const Input& i : drawn_.inputs) {
        leave(i.label, {i.path}, "without a verdict as drawn there is nothing to compare");
      }
      merge_left();
      return std::move(out_);
    }
    if (root_.find("use") == nullptr) {
      Node use;
      use.kind = Node::Kind::map;
      use.mark = root_.mark;
      add(root_, "use", std::move(use));
    }
    always();
    wall_of_size();
    std::set<std::string> seen;
    for (const Input& i : drawn_.inputs) {
      if (seen.insert(i.path + (i.defaulted ? "?" : "")).second) look_at(i);
    }
    places();
    tell_apart();
    read_trials();
    calculate();
    merge_left();
    return std::move(out_);
  }

 private:
  [[nodiscard]] bool inch() const { return drawn_.units == ReaderUnits::inch; }

  Both worth(const Setup& s, double pull_scale) const {
    // By direction, as `thole check`: no limit is promised that it would not find.
    const Assessment a = assess(s, {.step = options_.step,
                                    .neighbours = false,
                                    .by_direction = true,
                                    .pull_scale = pull_scale});
    return {worth_of(s, a), worth_under_load(s, a)};
  }

  // The loss of the least ratio: of all checks, or of those under load where that is more.
  [[nodiscard]] double loss(const Both& then, bool& under_load) const {
    const auto of = [](const Worth& before, const Worth& after) {
      return before.ratio > 0 ? worth_ratio(after) / before.ratio - 1 : 0.0;
    };
    const double all = of(out_.as_drawn, then.worth);
    const double loaded = of(out_.loaded, then.loaded);
    under_load = loaded < all;
    return std::min(all, loaded);
  }

  void leave(const std::string& label, std::vector<std::string> paths, std::string_view why) {
    out_.not_tried.push_back({label, std::move(paths), std::string(why)});
  }

  std::size_t effect(InputEffect e) {
    out_.effects.push_back(std::move(e));
    return out_.effects.size() - 1;
  }

  // More load, and the walls one common size thinner, whatever is known.
  void always() {
    InputEffect load;
    load.label = "load";
    load.is_input = false;
    load.value = "as drawn";
    load.why_tried = "always shown: each pull, weights and people as they are";
    load.tried = "20 % more";
    trials_.push_back({.effect = effect(std::move(load)),
                       .tried = "20 % more",
                       .edits = {},
                       .pull_scale = 1.2,
                       .size_written_out = false,
                       .setup = drawn_,
                       .why_not = {},
                       .worth = {}});
    for (const char* pattern :
         {"mount.host.thickness", "mount.board.wall", "mount.ledges.*.fastening.hull_thickness"}) {
      for (const std::string& path : expanded(root_, pattern)) {
        if (!metal_wall(path)) continue;
        const Node* at = value_at(root_, path);
        if (at == nullptr || known_of(without_items(root_, path)) == Knowledge::assumed) continue;
        InputEffect wall;
        wall.paths = {path};
        wall.label = "next thinner wall";
        wall.is_input = false;
        wall.known = known_of(without_items(root_, path));
        wall.value = at->text;
        wall.why_tried = "always shown: one common wall thinner than it is known to be";
        thinner(effect(std::move(wall)), {path}, *at);
      }
    }
  }

  // A tube of a size from a store.
  void wall_of_size() {
    if (!drawn_.on_board() || !(drawn_.board().board.wall.value() > 0) ||
        !expanded(root_, "mount.board.wall").empty()) {
      return;
    }
    const Node at = text_node(in_unit_of(inch() ? "1 in" : "1 mm",
                                         {drawn_.board().board.wall.value(), Dimension::length}),
                              {});
    InputEffect wall;
    wall.paths = {"mount.board.size"};
    wall.label = "next thinner wall";
    wall.is_input = false;
    wall.known = Knowledge::tagged;
    wall.value = at.text;
    wall.why_tried = "always shown: one common wall thinner than that size";
    thinner(effect(std::move(wall)), {"mount.board.wall"}, at);
    trials_.back().size_written_out = true;
  }

  [[nodiscard]] bool metal_wall(const std::string& path) const {
    if (path == "mount.host.thickness") return !drawn_.on_board() && drawn_.plate().host.is_metal();
    if (path == "mount.board.wall") return true;
    const auto& l = drawn_.board().port.fastening;
    const auto& r = drawn_.board().starboard.fastening;
    return (!l || l->hull == HullKind::metal_wall) && (!r || r->hull == HullKind::metal_wall);
  }

  [[nodiscard]] Knowledge known_of(const std::string& path) const {
    Knowledge out = Knowledge::measured;
    for (const Input& i : drawn_.inputs) {
      if (i.path == path) out = std::max(out, i.known);
    }
    return out;
  }

  void thinner(std::size_t effect, const std::vector<std::string>& paths, const Node& at) {
    const auto m = measure_in(at.text);
    if (!m) return;
    double next = 0.9 * m->si;
    std::string words = "a tenth thinner: no common wall is";
    for (const Length& wall : drawn_.common_walls) {
      if (wall.value() < m->si - 1e-6) {
        next = wall.value();
        words = "the next thinner common wall";
      }
    }
    Trial t;
    t.effect = effect;
    const std::string text = length_text(at.text, next);
    t.tried = text + ", " + words;
    for (const std::string& path : paths) t.edits.push_back({path, text});
    trials_.push_back(std::move(t));
  }

  // As walls are written, "0.080 in", where that is the same number.
  [[nodiscard]] std::string length_text(const std::string& like, double si) const {
    const std::string shown = show(Length::from_value(si), drawn_.units);
    const auto back = measure_in(shown);
    if (back && std::abs(back->si - si) <= 1e-9 * si) return shown;
    return in_unit_of(like, {si, Dimension::length});
  }

  void look_at(const Input& input) {
    for (const LeftRule& r : left_rules) {
      if (fits(r.path, input.path)) {
        leave(input.label, {input.path}, r.why);
        return;
      }
    }
    std::vector<std::string> there;
    std::vector<std::string> absent;
    paths_to(root_, input.path, "", there, absent);
    if (input.defaulted) {
      by_default(input, absent);
      return;
    }
    // What has one value in several places is off in all of them.
    std::vector<std::vector<std::string>> groups;
    std::vector<std::string> texts;
    for (const std::string& path : there) {
      const Node* at = value_at(root_, path);
      const std::string text = at == nullptr ? "" : unsigned_text(text_of(*at));
      const auto same = std::find(texts.begin(), texts.end(), text);
      if (same == texts.end()) {
        texts.push_back(text);
        groups.push_back({path});
      } else {
        groups[std::size_t(same - texts.begin())].push_back(path);
      }
    }
    if (groups.empty()) leave(input.label, {input.path}, "it follows from other values");
    for (const std::vector<std::string>& paths : groups) {
      const Node* at = value_at(root_, paths.front());
      if (at == nullptr || text_of(*at).empty()) {
        leave(input.label, paths, "written out in place; its own figures are tried");
        continue;
      }
      try_input(input, paths, *at);
    }
  }

  // Sizes in lists of places, which no input has: of holes, of what a bracket bears on.
  void places() {
    std::vector<std::string> told;
    for (const InputEffect& e : out_.effects) {
      told.insert(told.end(), e.paths.begin(), e.paths.end());
    }
    for (const InputNotTried& n : out_.not_tried) {
      told.insert(told.end(), n.paths.begin(), n.paths.end());
    }
    for (std::string& t : told) {
      if (t.ends_with(".is")) t.resize(t.size() - 3);  // a figure with its source
    }
    std::vector<std::string> all;
    for (const char* part : {"mount", "gear", "boat", "use", "cases"}) {
      if (const Node* at = root_.find(part)) sizes_below(*at, part, all);
    }
    std::vector<InputEffect> found;
    for (const std::string& path : all) {
      const std::string plain = without_items(root_, path);
      if (std::any_of(told.begin(), told.end(),
                      [&](const std::string& t) { return covers(t, path) || covers(t, plain); })) {
        continue;
      }
      InputEffect e;
      const std::size_t last = plain.rfind('.');
      const std::size_t up = plain.rfind('.', last - 1);
      e.label = plain.substr(up + 1, last - up - 1) + ", " + plain.substr(last + 1);
      std::replace(e.label.begin(), e.label.end(), '_', ' ');
      if (plain.ends_with(".points")) e.label = "place of a hole or corner";
      e.value = value_at(root_, path)->text;
      e.known = Knowledge::tagged;
      e.paths = {path};
      // Like ones, mirrored or not, are off together.
      const auto like = std::find_if(found.begin(), found.end(), [&](const InputEffect& f) {
        return unsigned_text(f.value) == unsigned_text(e.value) &&
               without_items(root_, f.paths.front()) == plain;
      });
      if (like != found.end()) {
        like->paths.push_back(path);
      } else {
        found.push_back(std::move(e));
      }
    }
    for (InputEffect& e : found) {
      const std::vector<std::string> paths = e.paths;
      const Node at = *value_at(root_, paths.front());
      const OffRule* rule = rule_of(without_items(root_, paths.front()));
      if (rule == nullptr) rule = rule_for(measure_in(at.text)->dimension);
      e.why_tried = std::string(rule->why);
      const std::size_t index = effect(std::move(e));
      for (const int sign : {1, -1}) {
        if (rule->way == (sign > 0 ? Way::less : Way::more)) continue;
        quantity(index, paths, at, rule->tagged, sign);
      }
    }
  }

  void by_default(const Input& input, const std::vector<std::string>& absent) {
    Node node = text_node(input.value.substr(0, input.value.find(',')), {});
    // Its unit there may be words: "5 g".
    const auto m = measure_in(node.text);
    if (!input.is_text && !(m && std::abs(m->si - input.si) <= 0.01 * std::abs(input.si))) {
      node.text = exact_number(input.si);
    }
    std::vector<std::string> paths;
    for (const std::string& path : absent) {
      Node root = root_;
      std::string why_not;
      if (put_value(root, path, node).empty() &&
          read_changed(root, document_.file, library_, why_not)) {
        paths.push_back(path);
      }
    }
    if (paths.empty()) {
      leave(input.label, {input.path}, "a default that follows from other values");
      return;
    }
    try_input(input, paths, node);
  }

  void try_input(const Input& input, const std::vector<std::string>& paths, const Node& at) {
    const OffRule* rule = rule_of(input.path);
    InputEffect e;
    e.paths = paths;
    e.label = input.label;
    e.value = input.defaulted ? input.value : text_of(at);
    e.known = known_of(input.path);
    const std::string last =
        at.kind == Node::Kind::list && !at.items.empty() ? at.items.back().text : text_of(at);
    const auto m = measure_in(last);
    if (rule != nullptr && rule->way == Way::material) {
      const std::string next = next_weaker(library_, last);
      if (next.empty()) {
        leave(input.label, paths, "no weaker one of its kind is in the tables");
        return;
      }
      e.why_tried = std::string(rule->why);
      simple_trial(std::move(e), next, next);
      return;
    }
    if (rule != nullptr && rule->way == Way::other_word) {
      if (last == rule->word) {
        leave(input.label, paths, "the worse of its words already");
        return;
      }
      e.why_tried = std::string(rule->why);
      simple_trial(std::move(e), std::string(rule->word), std::string(rule->word));
      return;
    }
    if (!m || input.is_text) {
      leave(input.label, paths, "a word: nothing worse is known for it");
      return;
    }
    if (rule == nullptr) rule = rule_for(m->dimension);
    e.why_tried = std::string(rule->why);
    const Knowledge known = e.known;
    const bool wall =
        rule->way == Way::wall && known == Knowledge::assumed && metal_wall(paths.front());
    if (wall) e.why_tried = "assumed: one common wall thinner";
    const std::size_t index = effect(std::move(e));
    if (wall) {
      thinner(index, paths, at);
      return;
    }
    const Off& off = known == Knowledge::measured ? rule->measured
                     : known == Knowledge::tagged ? rule->tagged
                                                  : rule->assumed;
    if (rule->way != Way::less && rule->way != Way::wall) quantity(index, paths, at, off, 1);
    if (rule->way != Way::more) quantity(index, paths, at, off, -1);
  }

  void simple_trial(InputEffect e, const std::string& text, const std::string& words) {
    Trial t;
    t.tried = words;
    for (const std::string& path : e.paths) t.edits.push_back({path, text});
    t.effect = effect(std::move(e));
    trials_.push_back(std::move(t));
  }

  // Farther from zero, or nearer.
  void quantity(std::size_t index, const std::vector<std::string>& paths, const Node& otherwise,
                const Off& off, int sign) {
    Trial t;
    t.effect = index;
    for (const std::string& path : paths) {
      const Node* at = value_at(root_, path);
      if (at == nullptr) at = &otherwise;  // left out
      std::string text = text_of(*at);
      const bool list = at->kind == Node::Kind::list;
      if (list) text = at->items.back().text;
      const auto m = measure_in(text);
      if (!m) continue;
      double by = off.share > 0 ? off.share * std::abs(m->si) : inch() ? off.inch : off.metric;
      // A share of nothing is nothing: what nobody measured may be a tape's width off as well.
      if (by == 0 && m->dimension == Dimension::length) by = inch() ? tape.inch : tape.metric;
      if (by == 0 && m->dimension == Dimension::angle) by = 3 * degree;
      if (by == 0) continue;
      const double from = m->si < 0 ? -1 : 1;
      // A tape's width of what is written in feet is told in inches.
      const bool feet = m->dimension == Dimension::length &&
                        (text.ends_with("ft") || text.find("ft ") != std::string::npos);
      const std::string like = feet ? "1 in" : text;
      const std::string next = in_unit_of(like, {m->si + sign * from * by, m->dimension});
      t.edits.push_back({list ? path + "." + std::to_string(at->items.size() - 1) : path, next});
      if (t.tried.empty()) {
        t.tried = unsigned_text(next);
        if (m->si + sign * from * by < 0) t.tried = next;
        t.tried += ", ";
        if (off.share > 0 && m->si != 0) {
          t.tried += percent(off.share) + (sign > 0 ? " more" : " less");
        } else {
          const bool small = m->dimension == Dimension::length && !inch();
          t.tried += in_unit_of(small ? "1 mm" : like, {by, m->dimension}) +
                     (sign > 0 ? " more" : " less");
        }
      }
      // A flare must say whether a wedge takes it up: none is the worse.
      if (path.ends_with(".flare")) {
        const std::string packed = path.substr(0, path.rfind('.')) + ".packed";
        if (value_at(root_, packed) == nullptr) {
          t.edits.push_back({packed, "no"});
          t.tried += ", no wedge under it";
        }
      }
    }
    if (!t.edits.empty()) trials_.push_back(std::move(t));
  }

  // Two rows of one name: which of them.
  void tell_apart() {
    std::vector<std::string> labels;
    for (const InputEffect& e : out_.effects) labels.push_back(e.label);
    for (InputEffect& e : out_.effects) {
      if (e.paths.empty() || std::count(labels.begin(), labels.end(), e.label) < 2) continue;
      // The last item of a list on the way, by its name.
      std::string item;
      for (std::size_t dot = e.paths.front().find('.'); dot != std::string::npos;
           dot = e.paths.front().find('.', dot + 1)) {
        const std::string up = e.paths.front().substr(0, dot);
        Node* at = value_at(root_, up);
        const Node* name = at != nullptr ? at->find("name") : nullptr;
        if (name != nullptr && name->kind == Node::Kind::text) item = name->text;
      }
      const std::string up = e.paths.front().substr(0, e.paths.front().rfind('.'));
      e.label += item.empty() ? " (" + up + ")" : ", " + item;
    }
  }

  void read_trials() {
    for (Trial& t : trials_) {
      if (t.setup) continue;
      Node root = root_;
      if (t.size_written_out) write_size_out(root, drawn_);
      for (const Edit& edit : t.edits) {
        t.why_not = put_value(root, edit.path, text_node(edit.value, {}));
        if (!t.why_not.empty()) break;
      }
      if (t.why_not.empty()) t.setup = read_changed(root, document_.file, library_, t.why_not);
    }
  }

  // Only the boat differs, and the boat comes to the mount by its load cases alone: without a
  // difference in them there is none in any check.
  [[nodiscard]] bool feels_nothing(const Trial& t) const {
    if (t.pull_scale != 1 || t.size_written_out || t.edits.empty()) return false;
    if (!std::all_of(t.edits.begin(), t.edits.end(),
                     [](const Edit& e) { return e.path.starts_with("boat."); })) {
      return false;
    }
    validate(*t.setup);
    return same(load_cases(*t.setup), drawn_cases_);
  }

  void calculate() {
    drawn_cases_ = load_cases(drawn_);
    std::vector<Trial*> all;
    for (Trial& t : trials_) {
      if (t.setup) all.push_back(&t);
    }
    out_.stopped =
        !each_by_itself(all.size(), options_.threads, options_.watch, [&](std::size_t i) {
          try {
            if (feels_nothing(*all[i])) {
              // Its own heel is nothing that is told here.
              all[i]->worth = Both{out_.as_drawn, out_.loaded};
              all[i]->worth->worth.boat_ratio.reset();
              all[i]->worth->loaded.boat_ratio.reset();
              return;
            }
            all[i]->worth = worth(*all[i]->setup, all[i]->pull_scale);
          } catch (const DomainError& e) {
            all[i]->why_not = e.what();
          }
        });
    std::vector<InputEffect> kept;
    for (std::size_t i = 0; i < out_.effects.size(); ++i) {
      InputEffect& e = out_.effects[i];
      const Trial* worst = nullptr;
      std::string why_not;
      for (const Trial& t : trials_) {
        if (t.effect != i) continue;
        if (!t.worth) {
          why_not += (why_not.empty() ? "" : "; ") +
                     (t.why_not.empty() ? std::string("not looked at: stopped before")
                                        : t.tried + ": " + t.why_not);
          continue;
        }
        bool under_load = false;
        const double change = loss(*t.worth, under_load);
        const bool turns = out_.as_drawn.holds() && !t.worth->worth.holds();
        const bool turned = out_.as_drawn.holds() && !e.worth.holds();
        if (worst != nullptr && (turned && !turns)) continue;
        if (worst != nullptr && turned == turns && change >= e.change) continue;
        worst = &t;
        const Worth& before = under_load ? out_.loaded : out_.as_drawn;
        const Worth& after = under_load ? t.worth->loaded : t.worth->worth;
        e.tried = t.tried;
        e.worth = t.worth->worth;
        e.before = before.ratio;
        e.after = worth_ratio(after);
        e.gives_way = after.gives_way;
        e.change = change;
        e.decides = turns || e.worth.verdict == Verdict::no_verdict || change < -0.1;
      }
      // A bad end that cannot be read is told beside the other.
      if (worst != nullptr && !why_not.empty() && !out_.stopped) {
        e.why_tried += "; not tried " + why_not;
      }
      // It is said whether a pull is at work in what governs at all.
      if (worst != nullptr && worst->pull_scale != 1 && std::abs(e.change) < 0.0005) {
        e.why_tried +=
            "; what governs comes of weights, people or running, not of a pull: see bumps";
      }
      if (worst == nullptr) {
        leave(e.label, e.paths, why_not.empty() ? "nothing worse is known for it" : why_not);
        continue;
      }
      kept.push_back(std::move(e));
    }
    sort_stably(kept,
                [](const InputEffect& a, const InputEffect& b) { return a.change < b.change; });
    out_.effects = std::move(kept);
    for (const InputEffect& e : out_.effects) {
      if (e.is_input && e.decides && e.known == Knowledge::assumed) {
        out_.measure_first.push_back(e.label);
      }
    }
  }

  // One row for one reason of one input.
  void merge_left() {
    std::vector<InputNotTried> merged;
    for (InputNotTried& n : out_.not_tried) {
      const auto same = std::find_if(merged.begin(), merged.end(), [&](const InputNotTried& m) {
        return m.label == n.label && m.why == n.why;
      });
      if (same == merged.end()) {
        merged.push_back(std::move(n));
        continue;
      }
      for (std::string& p : n.paths) {
        if (std::find(same->paths.begin(), same->paths.end(), p) == same->paths.end()) {
          same->paths.push_back(std::move(p));
        }
      }
    }
    out_.not_tried = std::move(merged);
  }

  Document document_;
  const MaterialLibrary& library_;
  const SweepOptions& options_;
  Setup drawn_;
  Node root_;
  std::vector<Trial> trials_;
  std::vector<LoadCase> drawn_cases_;
  InputAnswer out_;
};

}  // namespace
}  // namespace reading

InputAnswer which_inputs_decide(std::string_view text, const std::string& file,
                                const MaterialLibrary& library, const SweepOptions& options) {
  return reading::Looking(text, file, library, options).run();
}

}  // namespace thole
