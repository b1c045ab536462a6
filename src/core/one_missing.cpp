#include <algorithm>
#include <limits>

#include <thole/error.hpp>

#include "core/assessment_parts.hpp"

namespace thole::parts {

namespace {

// So many are taken away in turn, those that carry most first: a bound on the time.
constexpr std::size_t most_tried = 8;
// Grid of directions while the one that is missed most is looked for.
const Angle coarse = degrees(15);

// What stands on a base or holds a board down, as numbers in the setup.
struct Lost {
  std::size_t number = 0;
  bool second = false;  ///< of a base with fasteners of two kinds
  std::string what;
  bool governs = false;  ///< some check is nearest to giving way there
  Force pull{};
  Force shear{};
};

void add_fasteners(const Setup& s, const Assessment& a, std::vector<Lost>& out) {
  const GunwalePlate& m = s.plate();
  const std::size_t first = m.fastening.holes.size();
  const std::size_t all = first + (m.second ? m.second->holes.size() : 0);
  for (std::size_t i = 0; i < all; ++i) {
    Lost l{.number = i < first ? i : i - first,
           .second = i >= first,
           .what = "fastener no. " + std::to_string(i + 1)};
    if (i < a.fasteners.size()) {
      l.pull = a.fasteners[i].tension;
      l.shear = a.fasteners[i].shear;
    }
    out.push_back(std::move(l));
  }
}

void add_hold_downs(const Setup& s, const Assessment& a, std::vector<Lost>& out) {
  const auto& all = s.board().hold_downs;
  for (std::size_t i = 0; i < all.size(); ++i) {
    Lost l{.number = i, .what = all[i].name};
    for (const SupportRow& r : a.supports) {
      if (r.name == all[i].name) l.pull = std::max(l.pull, r.force);
    }
    out.push_back(std::move(l));
  }
}

// Those at which some check is nearest to giving way, then by what they carry.
std::vector<Lost> candidates(const Setup& s, const Assessment& a) {
  std::vector<Lost> out;
  if (s.on_board()) {
    add_hold_downs(s, a, out);
  } else {
    add_fasteners(s, a, out);
  }
  // Fasteners of a fitting have numbers of their own.
  const auto of_fitting = [&](const CheckResult& c) {
    const auto& bracket = s.plate().bracket;
    return bracket && bracket->fitting && c.part == bracket->fitting->name;
  };
  for (const CheckResult& c : a.checks) {
    if (c.standing != Standing::applies || c.case_title.empty()) continue;
    for (std::size_t i = 0; i < out.size(); ++i) {
      const bool here =
          s.on_board() ? c.where == out[i].what : !of_fitting(c) && c.fastener == int(i);
      out[i].governs = out[i].governs || here;
    }
  }
  std::stable_sort(out.begin(), out.end(), [](const Lost& x, const Lost& y) {
    if (x.governs != y.governs) return x.governs;
    return x.pull != y.pull ? x.pull > y.pull : x.shear > y.shear;
  });
  return out;
}

void take_away(Setup& s, const Lost& l) {
  const auto at = std::ptrdiff_t(l.number);
  if (s.on_board()) {
    auto& all = s.board().hold_downs;
    all.erase(all.begin() + at);
    return;
  }
  GunwalePlate& m = s.plate();
  auto& holes = l.second ? m.second->holes : m.fastening.holes;
  holes.erase(holes.begin() + at);
  if (!m.second) return;
  if (m.fastening.holes.empty()) {
    m.fastening = *m.second;
    m.second.reset();
  } else if (m.second->holes.empty()) {
    m.second.reset();
  }
}

MissingRow without(const Setup& s, const Lost& l, const AssessOptions& options) {
  Setup other = s;
  take_away(other, l);
  // It is missed at the next look, after a season at most: of twenty that parts shall last.
  other.use.hours_per_season /= 20;
  other.use.road_hours_per_season /= 20;
  MissingRow row;
  row.what = l.what;
  try {
    validate(other);
    const Assessment rest =
        other.on_board() ? assess_board(other, options) : assess_plate(other, options);
    row.verdict = rest.verdict;
    row.reasons = rest.reasons;
    row.hold_limit = rest.hold_limit;
    for (const CheckResult& c : rest.checks) {
      // A matter of distances is no worse for a lost fastener.
      if (c.standing != Standing::applies || c.case_title.empty()) continue;
      row.worst_ratio = c.factor / c.needed;
      row.gives_way = c.gives_way;
      break;
    }
  } catch (const DomainError& e) {
    row.verdict = Verdict::no_verdict;
    row.reasons = {e.what()};
  }
  return row;
}

// The one that is missed more: without a verdict, then by what is left of the factor needed.
bool worse(const MissingRow& x, const MissingRow& y) {
  const bool none_x = x.verdict == Verdict::no_verdict;
  const bool none_y = y.verdict == Verdict::no_verdict;
  if (none_x != none_y) return none_x;
  return x.worst_ratio < y.worst_ratio;
}

}  // namespace

std::optional<MissingRow> one_missing(const Setup& s, const Assessment& a,
                                      const AssessOptions& options) {
  std::vector<Lost> all = candidates(s, a);
  if (all.empty()) return std::nullopt;
  const int of = int(all.size());
  if (all.size() > most_tried) all.resize(most_tried);
  AssessOptions quick = options;
  quick.neighbours = false;
  quick.one_missing = false;
  AssessOptions rough = quick;
  rough.step = std::max(quick.step, coarse);
  const Lost* missed = &all.front();
  if (all.size() > 1) {
    std::optional<MissingRow> worst;
    for (const Lost& l : all) {
      MissingRow row = without(s, l, rough);
      if (worst && !worse(row, *worst)) continue;
      worst = std::move(row);
      missed = &l;
    }
  }
  MissingRow out = without(s, *missed, quick);
  out.tried = int(all.size());
  out.of = of;
  return out;
}

}  // namespace thole::parts
