#include <thole/assessment.hpp>

#include <algorithm>

#include <thole/error.hpp>

#include "core/assessment_parts.hpp"

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

Assessment beside_the_checks(const Setup& s, const std::vector<LoadCase>& cases) {
  Assessment out;
  out.towing = parts::towing_rows(s);
  out.sockets = parts::socket_rows(s, cases);
  out.boat = parts::boat_side(s, cases);
  out.look_again = parts::look_again(s);
  out.case_changes = parts::case_changes(s, cases);
  out.notes = parts::snag_notes(s);
  return out;
}

Assessment assess(const Setup& s, const AssessOptions& options) {
  validate(s);
  Assessment out = s.on_board() ? assess_board(s, options) : assess_plate(s, options);
  Assessment beside = beside_the_checks(s, load_cases(s));
  out.towing = std::move(beside.towing);
  out.sockets = std::move(beside.sockets);
  out.boat = std::move(beside.boat);
  out.look_again = std::move(beside.look_again);
  out.case_changes = std::move(beside.case_changes);
  out.notes.insert(out.notes.end(), beside.notes.begin(), beside.notes.end());
  for (const Citation& c : out.boat.sources) parts::add_source(out.sources, c);
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
  std::stable_sort(checks.begin(), checks.end(), [](const CheckResult& a, const CheckResult& b) {
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
    return a.factor / a.needed < b.factor / b.needed;
  });
}

void add_condition(std::vector<std::string>& conditions, const std::string& text) {
  if (std::find(conditions.begin(), conditions.end(), text) == conditions.end()) {
    conditions.push_back(text);
  }
}

}  // namespace parts

}  // namespace thole
