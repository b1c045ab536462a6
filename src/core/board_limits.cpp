#include "core/board_limits.hpp"

#include <algorithm>
#include <limits>

#include "core/assessment_parts.hpp"
#include "core/load_list.hpp"
#include "core/stable_order.hpp"
#include "core/ties.hpp"

namespace thole::board {

void hardest_first(std::vector<Hard>& all) {
  sort_stably(all, [](const Hard& a, const Hard& b) { return a.ratio < b.ratio; });
}

bool can_limit(const LoadCase& c, int gear) {
  return c.gear == gear && load_list::is_a_pull(c.path) && c.others != Others::together &&
         !c.left_out && c.origin != CaseOrigin::added;
}

int widest_case(const std::vector<LoadCase>& all, int gear) {
  int best = -1;
  for (std::size_t i = 0; i < all.size(); ++i) {
    const LoadCase& c = all[i];
    if (!can_limit(c, gear)) continue;
    if (best < 0 || c.ranges.size() >= all[std::size_t(best)].ranges.size()) best = int(i);
  }
  return best;
}

LoadCase own_pull(const Engine& engine, int index) {
  LoadCase out = engine.cases()[std::size_t(index)];
  for (const LoadCase& o : engine.cases()) {
    if (o.gear == out.gear && o.path == out.path && !o.left_out) parts::join(out.ranges, o.ranges);
  }
  return out;
}

double LimitSearch::lower(int variant, const Trial& t) {
  if (!(limit_.pull > 0)) return std::numeric_limits<double>::infinity();
  const double at = limit_.pull;
  const double ratio = engine_.worst_ratio(variant, t, engine_.load(case_, t, at), category(),
                                           full_, nullptr, nullptr, true, feet_);
  if (parts::steady(ratio) >= 1) return parts::steady(ratio * at);
  const Engine::Limit l = engine_.largest_pull(variant, case_, t, at, full_, nullptr, feet_);
  if (l.pull < at) {
    limit_ = l;
    at_ = t;
    variant_ = variant;
  }
  return parts::steady(l.pull);
}

void LimitSearch::look_round(std::vector<Hard>& all, const std::function<bool(const Trial&)>& has) {
  const std::vector<Trial> trials = engine_.trials(case_, grid());
  for (int variant = 0; variant < Engine::variants(); ++variant) {
    for (const Trial& t : trials) {
      if (has(t)) all.push_back({lower(variant, t), variant, t});
    }
  }
  // Another may be hardest while the other booms point elsewhere or other gears are idle.
  hardest_first(all);
  const std::vector<Hard> hardest(all.begin(),
                                  all.begin() + std::ptrdiff_t(std::min(all.size(), hardest_kept)));
  for (const Hard& h : hardest) {
    for (const Trial& t : engine_.otherwise(case_, h.trial)) {
      all.push_back({lower(h.variant, t), h.variant, t});
    }
  }
}

void LimitSearch::follow_hardest(std::vector<Hard>& all) {
  hardest_first(all);
  constexpr std::size_t most_followed = 6;
  std::vector<Hard> followed;
  for (const Hard& h : all) {
    // The grid misses a few per cent of a peak, no more.
    if (!(h.ratio <= 1.12 * limit_.pull) || followed.size() == most_followed) break;
    if (std::any_of(followed.begin(), followed.end(), [&](const Hard& o) {
          return o.trial.boom == h.trial.boom &&
                 o.trial.way.si_values().dot(h.trial.way.si_values()) > same_peak;
        })) {
      continue;
    }
    followed.push_back(h);
    Hard now = h;
    Angle step = 0.5 * grid();
    for (int round = 0; round < 7 && limit_.pull > 0; ++round) {
      const double before = now.ratio;
      const auto take = [&](int variant, const std::vector<Trial>& some) {
        for (const Trial& t : some) {
          const double own = lower(variant, t);
          if (own < now.ratio) now = {own, variant, t};
        }
      };
      take(now.variant, engine_.around(case_, now.trial, step));
      if (round % 3 == 0) {
        take(now.variant, engine_.otherwise(case_, now.trial));
        for (int v = 0; v < Engine::variants(); ++v) {
          if (v != now.variant) take(v, {now.trial});
        }
      }
      if (now.ratio >= before) step = 0.5 * step;
      const double behind = now.ratio / limit_.pull - 1;
      if (behind > (round == 0 ? 0.06 : round == 1 ? 0.03 : 0.015)) break;
    }
  }
}

}  // namespace thole::board
