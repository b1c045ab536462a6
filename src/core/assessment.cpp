#include <thole/assessment.hpp>

#include <algorithm>
#include <cmath>
#include <limits>

#include <thole/check.hpp>
#include <thole/display.hpp>
#include <thole/error.hpp>

#include "core/assessment_parts.hpp"
#include "core/stable_order.hpp"

namespace thole {

std::string_view word_for(Verdict v) {
  switch (v) {
    case Verdict::holds:
      return "holds";
    case Verdict::holds_if:
      return "holds if";
    case Verdict::does_not_hold:
      return "does not hold";
    case Verdict::no_verdict:
      return "no verdict";
  }
  throw InternalError("a verdict without a word");
}

namespace {

// What pulls one fastener's joint apart. Of a board only the worst case is known: the floor is then
// high.
void set_floors(Assessment& a) {
  const auto demand = [&](std::string_view mode) -> std::optional<Force> {
    for (const CheckResult& c : a.checks) {
      if (c.mode == mode && c.standing == Standing::applies && !c.case_title.empty()) {
        return Force::from_value(c.demand.si);
      }
    }
    return std::nullopt;
  };
  for (TighteningRow& r : a.tightening) {
    std::optional<Force> f;
    switch (r.what) {
      case Fastened::base:
        if (a.everyday_tension) set_floor(r, *a.everyday_tension, "everyday cases");
        continue;
      case Fastened::ledge:
        f = demand("ledge-bolt-tension");
        break;
      case Fastened::hold_down:
        f = demand("hold-down-tension");
        break;
      case Fastened::gear:
        f = demand("gear-bolt-tension");
        break;
    }
    if (f && std::isfinite(f->value())) set_floor(r, *f, "the worst deciding case");
  }
}

}  // namespace

Assessment beside_the_checks(const Setup& s, const std::vector<LoadCase>& cases) {
  Assessment out;
  out.towing = parts::towing_rows(s);
  out.sockets = parts::socket_rows(s, cases);
  out.boat = parts::boat_side(s, cases);
  out.look_again = parts::look_again(s);
  out.case_changes = parts::case_changes(s, cases);
  out.notes = parts::snag_notes(s);
  if (std::string road = parts::road_note(s); !road.empty()) out.notes.push_back(std::move(road));
  out.tightening = tightening_rows(s);
  return out;
}

Assessment assess(const Setup& s, const AssessOptions& options) {
  if (options.pull_scale != 1) {
    if (!(options.pull_scale > 0) || !std::isfinite(options.pull_scale)) {
      throw DomainError("assessment: a scale of the pulls above zero is expected");
    }
    Setup scaled = s;
    scaled.pull_scale *= options.pull_scale;
    AssessOptions plain = options;
    plain.pull_scale = 1;
    return assess(scaled, plain);
  }
  validate(s);
  Assessment out = s.on_board() ? assess_board(s, options) : assess_plate(s, options);
  Assessment beside = beside_the_checks(s, load_cases(s));
  out.towing = std::move(beside.towing);
  out.sockets = std::move(beside.sockets);
  out.boat = std::move(beside.boat);
  out.tightening = std::move(beside.tightening);
  set_floors(out);
  out.look_again = std::move(beside.look_again);
  out.case_changes = std::move(beside.case_changes);
  out.notes.insert(out.notes.end(), beside.notes.begin(), beside.notes.end());
  // What is assessed for one row of the report needs no rows of its own.
  AssessOptions plain = options;
  plain.by_direction = plain.after_loss = plain.margins = plain.forces = false;
  if (options.one_missing) out.one_missing = parts::one_missing(s, out, plain);
  if (options.after_loss) out.losses = parts::losses(s, out, plain);
  for (const Citation& c : out.boat.sources) parts::add_source(out.sources, c);
  for (const TighteningRow& r : out.tightening) {
    for (const Citation& c : r.sources) parts::add_source(out.sources, c);
  }
  return out;
}

namespace parts {

GroupFactor group_factor(const Setup& s, const FailureMode& mode) {
  const double stored = s.required_factors.at(std::string(mode.group)).measure.si;
  const auto own = s.factor_overrides.find(std::string(mode.group));
  const double needed = own == s.factor_overrides.end() ? stored : own->second;
  return {needed, std::max(needed, stored), needed < stored};
}

bool is_assumed(const Setup& s, std::string_view path) {
  return std::any_of(s.inputs.begin(), s.inputs.end(), [&](const Input& i) {
    return i.path == path && i.known == Knowledge::assumed;
  });
}

std::string label_of(const Setup& s, std::string_view path) {
  for (const Input& i : s.inputs) {
    if (i.path == path) return i.label + " is " + i.value;
  }
  return std::string(path);
}

std::string plain_path(std::string path) {
  for (const std::string_view side : {".both", ".port", ".starboard"}) {
    const std::size_t at = path.find(std::string(side) + ".");
    if (at != std::string::npos) path.erase(at, side.size());
  }
  return path;
}

constexpr double far_from_needed = 3;

void add_assumed_of_cases(const Setup& s, const std::vector<CaseResult>& cases,
                          std::vector<std::string>& conditions) {
  for (const Input& in : s.inputs) {
    if (in.known != Knowledge::assumed || in.path.starts_with("condition.")) continue;
    const std::string path = plain_path(in.path);
    const bool enters = std::any_of(cases.begin(), cases.end(), [&](const CaseResult& r) {
      const LoadCase& c = r.load_case;
      return c.decides && !c.left_out && c.path != LoadPath::warning &&
             r.factor < far_from_needed * r.needed &&
             std::find(c.depends_on.begin(), c.depends_on.end(), path) != c.depends_on.end();
    });
    if (enters) add_condition(conditions, in.label + " is " + in.value);
  }
}

std::vector<std::string> refusals(const Setup& s) {
  const Condition& c = s.condition;
  std::vector<std::string> out;
  if (c.cracks == Answer::yes) {
    out.emplace_back("a crack at or near the base: no calculation covers cracked metal");
  }
  if (c.loose_rivets == Answer::yes) {
    out.emplace_back("loose, weeping or missing rivets in reach: the wall is not tied as assumed");
  }
  if (c.bent_or_corroded == Answer::yes) {
    out.emplace_back("bent or corroded hardware: replace it, then check again");
  }
  if (c.soft_wood_or_core == Answer::yes) {
    out.emplace_back("soft wood or core: no factor for decay exists; replace it");
  }
  return out;
}

void add_source(std::vector<Citation>& all, Citation c) {
  if (std::find(all.begin(), all.end(), c) == all.end()) all.push_back(std::move(c));
}

void sort_checks(std::vector<CheckResult>& checks) {
  sort_stably(checks, [](const CheckResult& a, const CheckResult& b) {
    const auto rank = [](const CheckResult& c) {
      switch (c.standing) {
        case Standing::refused:
          return 0;
        case Standing::applies:
          return 1;
        case Standing::not_checked:
          return 2;
        case Standing::not_concerned:
          return 3;
      }
      return 4;
    };
    if (rank(a) != rank(b)) return rank(a) < rank(b);
    if (a.standing != Standing::applies) return false;
    // A distance that is kept is no way of giving way: behind the loads.
    const bool kept_a = a.case_title.empty() && a.holds;
    const bool kept_b = b.case_title.empty() && b.holds;
    if (kept_a != kept_b) return kept_b;
    // What lets go at once comes before what lasts too short.
    const auto short_lived = [](const CheckResult& c) { return c.mode.ends_with("-fatigue"); };
    if (short_lived(a) != short_lived(b)) return short_lived(b);
    if (a.holds != b.holds) return b.holds;
    return a.factor / a.needed < b.factor / b.needed;
  });
}

bool hardly_counts(std::string_view path, const CheckResult& check) {
  // Twice the range is eight times the cycles and more.
  return path == "use.hours_per_season" && check.factor >= 2 * check.needed;
}

namespace {

// How much more a shaken part may feel where the gear is off on the road; 1 where that is not
// counted.
double worth_of_taking_off(const Setup& s) {
  const FatigueLife on = fatigue_life_of(s);
  if (!(on.road_hours > 0)) return 1;
  Setup off = s;
  off.use.gear_off_on_road = true;
  // What its owner made of a case that is then left out cannot be done to it any more.
  std::erase_if(off.case_edits, [](const CaseEdit& e) { return e.name == "on-the-trailer"; });
  const FatigueLife without = fatigue_life_of(off);
  double least = std::numeric_limits<double>::infinity();
  for (std::size_t i = 0; i < fatigue_details; ++i) {
    least = std::min<double>(
        least, without.of(FatigueWay::riding).allowed[i] / on.of(FatigueWay::riding).allowed[i]);
  }
  return least;
}

bool is_ride(const Setup& s, const std::string& title) {
  const std::vector<LoadCase> cases = load_cases(s);
  return std::any_of(cases.begin(), cases.end(), [&](const LoadCase& c) {
    return c.path == LoadPath::ride && c.title == title;
  });
}

}  // namespace

std::string road_note(const Setup& s) {
  const double worth = worth_of_taking_off(s);
  if (!(worth > 1)) return "";
  return "the road counts for the life of the metal, " + show_number(s.use.road_hours_per_season) +
         " h a season with the gear on (judgement; use.road_hours_per_season); with the gear off " +
         "on the road (use.gear_off_on_road: yes) shaking may be " + show_factor(worth) +
         " times as hard";
}

std::string may_crack(const Setup& s, const std::vector<CheckResult>& checks, bool figures) {
  std::string list;
  int more = 0;
  for (const CheckResult& r : checks) {
    if (r.standing != Standing::applies || r.holds || !limits_life(s, r.mode)) continue;
    if (!list.empty()) {
      ++more;
      continue;
    }
    list = r.gives_way;
    if (!figures) continue;
    list +=
        " (" + r.case_title + ", factor " + show_factor(r.factor) + " of " + show_number(r.needed);
    const double worth = is_ride(s, r.case_title) ? worth_of_taking_off(s) : 1;
    if (worth > 1) list += ", " + show_factor(worth * r.factor) + " with the gear off on the road";
    list += ")";
  }
  if (more > 0) list += " and " + std::to_string(more) + " more";
  return list;
}

bool limits_life(const Setup& s, std::string_view mode) {
  const auto list = catalogue_for(s);
  return std::any_of(list.begin(), list.end(),
                     [&](const FailureMode& m) { return m.fatigue && m.id == mode; });
}

void add_fatigue_not_checked(const Setup& s, const std::vector<LoadCase>& cases,
                             std::vector<std::string>& n) {
  n.emplace_back(s.on_board() ? "fatigue of wood, its joints, laminates, eyes and the gear itself"
                              : "fatigue of the gear itself and of a base that is no metal");
  const bool road = std::any_of(cases.begin(), cases.end(), [](const LoadCase& c) {
    return c.kind == "on-the-trailer" && !c.left_out;
  });
  if (road && s.use.road_hours_per_season > 0 && !(fatigue_life_of(s).road_hours > 0)) {
    n.emplace_back("fatigue from the road: take the gear off for it");
  }
}

void add_condition(std::vector<std::string>& conditions, const std::string& text) {
  if (std::find(conditions.begin(), conditions.end(), text) == conditions.end()) {
    conditions.push_back(text);
  }
}

}  // namespace parts

}  // namespace thole
