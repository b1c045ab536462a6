#include <algorithm>
#include <limits>

#include <thole/error.hpp>

#include "core/assessment_parts.hpp"
#include "core/stable_order.hpp"
#include "core/ties.hpp"

namespace thole::parts {

namespace {

// So many are taken away in turn, those that carry most first: a bound on the time.
constexpr std::size_t most_tried = 8;
// Grid of directions while the one that is missed most is looked for.
const Angle coarse = degrees(15);

// What stands on a base or holds a board down.
struct Lost {
  Taken taken;
  std::string what;
  bool governs = false;  ///< some check is nearest to giving way there
  Force pull{};
  Force shear{};
};

void add_fasteners(const Setup& s, const Assessment& a, std::vector<Lost>& out) {
  for (std::size_t i = 0; i < count_of(s, Taken::What::fastener); ++i) {
    Lost l{.taken = {Taken::What::fastener, i}, .what = "fastener no. " + std::to_string(i + 1)};
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
    Lost l{.taken = {Taken::What::hold_down, i}, .what = all[i].name};
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
  sort_stably(out, [](const Lost& x, const Lost& y) {
    if (x.governs != y.governs) return x.governs;
    const double by_pull = parts::steady(x.pull.value()) - parts::steady(y.pull.value());
    if (by_pull != 0) return by_pull > 0;
    return parts::steady(x.shear.value()) > parts::steady(y.shear.value());
  });
  return out;
}

MissingRow without(const Setup& s, const Lost& l, const AssessOptions& options) {
  Setup other = s;
  take_away(other, l.taken);
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
  return parts::below(x.worst_ratio, y.worst_ratio);
}

}  // namespace

std::size_t count_of(const Setup& s, Taken::What what) {
  switch (what) {
    case Taken::What::hold_down:
      return s.board().hold_downs.size();
    case Taken::What::leg:
      return s.board().legs.size();
    case Taken::What::of_fitting:
      return s.plate().bracket->fitting->fastening.holes.size();
    case Taken::What::fastener:
      break;
  }
  const GunwalePlate& m = s.plate();
  return m.fastening.holes.size() + (m.second ? m.second->holes.size() : 0);
}

void take_away(Setup& s, const Taken& taken) {
  const auto out_of = [](auto& all, std::size_t number) {
    all.erase(all.begin() + std::ptrdiff_t(number));
  };
  switch (taken.what) {
    case Taken::What::hold_down:
      return out_of(s.board().hold_downs, taken.number);
    case Taken::What::leg:
      return out_of(s.board().legs, taken.number);
    case Taken::What::of_fitting:
      return out_of(s.plate().bracket->fitting->fastening.holes, taken.number);
    case Taken::What::fastener:
      break;
  }
  GunwalePlate& m = s.plate();
  const std::size_t first = m.fastening.holes.size();
  if (taken.number < first) {
    out_of(m.fastening.holes, taken.number);
  } else {
    out_of(m.second->holes, taken.number - first);
  }
  if (!m.second) return;
  if (m.fastening.holes.empty()) {
    m.fastening = *m.second;
    m.second.reset();
  } else if (m.second->holes.empty()) {
    m.second.reset();
  }
}

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
