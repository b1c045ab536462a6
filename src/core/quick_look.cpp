#include "core/quick_look.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <utility>

#include <thole/error.hpp>

#include "core/assessment_parts.hpp"
#include "core/board_limits.hpp"
#include "core/board_rules.hpp"
#include "core/load_list.hpp"
#include "core/plate_search.hpp"

namespace thole {

KnownLoads known_loads(const Setup& s) {
  KnownLoads out;
  out.cases = load_cases(s);
  if (!s.case_edits.empty()) out.listed = listed_cases(s);
  for (const Gear& g : s.gear) {
    out.towing.push_back(g.downrigger ? trolling_pull(*g.downrigger, s) : PullRange{});
  }
  out.life = fatigue_life_of(s);
  return out;
}

namespace {

constexpr double infinite = std::numeric_limits<double>::infinity();
// Most checks of one mount whose loads are looked for: the worst of many fail together.
constexpr std::size_t most_checks = 3;
constexpr double swings_too_far = 0.10;  // of the boom: as the assessment of a board has it

// As on a board: a wire pulls hard for minutes only.
Category category_of_limit(const LoadCase& c) {
  return c.path == LoadPath::tip ? Category::occasional : Category::everyday;
}

int gear_of_least_limit(const Setup& s, const Assessment& a) {
  const GearLimit* least = nullptr;
  for (const GearLimit& l : a.gear_limits) {
    if (l.hold_limit && (least == nullptr || *l.hold_limit < *least->hold_limit)) least = &l;
  }
  for (std::size_t g = 0; least != nullptr && g < s.gear.size(); ++g) {
    if (s.gear[g].name == least->gear) return int(g);
  }
  return -1;
}

// Checks under a load that count against a mount: those that fail, and of a wall that is not
// measured those that leave no verdict.
std::vector<const CheckResult*> failing(const Setup& s, const Assessment& a, double least) {
  std::vector<const CheckResult*> out;
  for (const CheckResult& r : a.checks) {
    if (r.standing != Standing::applies || r.case_title.empty()) continue;
    if (parts::limits_life(s, r.mode) || r.factor >= least * r.needed) continue;
    if (out.size() < most_checks) out.push_back(&r);
  }
  return out;
}

// ---- Boards
// --------------------------------------------------------------------------------------

// How far the tip of a boom swings under the pull of a case, over the length of the boom.
double swing(board::Engine& e, const Setup& s, const LoadCase& c, const board::Trial& t) {
  const std::optional<Downrigger>& d = s.gear[std::size_t(c.gear)].downrigger;
  if (!d || !(d->boom_length.value() > 0)) return 0;
  // At rest as the assessment has it: under no pull, the boom in its first position.
  board::Trial rest = t;
  rest.boom = 0;
  if (e.act(0, rest, e.load(c, rest, 0)).mechanism) return 0;
  const auto at_rest = e.base_motion(c.gear);
  if (e.act(0, t, e.load(c, t, c.pull.value())).mechanism) return 0;
  const Eigen::Matrix<double, 6, 1> m = e.base_motion(c.gear) - at_rest;
  const Eigen::Vector3d tip =
      e.common().gear[std::size_t(c.gear)].to_board * boom_tip(*d, std::size_t(t.boom)).si_values();
  const Eigen::Vector3d turn = m.tail<3>();
  const Eigen::Vector3d shift = m.head<3>() + turn.cross(tip);
  return shift.norm() / d->boom_length.value();
}

// The case under whose pull the assessment looks at the movements of a gear.
int case_of_movement(const std::vector<LoadCase>& cases, int gear) {
  int out = -1;
  for (std::size_t i = 0; i < cases.size(); ++i) {
    const LoadCase& c = cases[i];
    if (c.gear != gear || c.path != LoadPath::tip || c.left_out) continue;
    if (c.kind == "trolling-in-waves" && out < 0) out = int(i);
    if (c.kind == "hung-up-slipping" || c.kind == "hung-up-weak-link") out = int(i);
  }
  return out;
}

// The least ratio of some modes under one load; 0 for a mechanism.
template <class Counts>
double least_ratio(board::Engine& e, const LoadCase& c, const HardLoad& k, double pull,
                   Counts counts, const board::Mode** which = nullptr) {
  const board::Vector F = e.load(c, k.trial, pull);
  if (k.of_feet) {
    e.stand(F, k.trial);
  } else if (e.act(k.variant, k.trial, F).mechanism) {
    return 0;
  }
  double least = infinite;
  for (const board::Mode& m : e.modes()) {
    if (m.of_foot != k.of_feet || !m.mode->needs_load || m.mode->fatigue || !counts(m)) continue;
    const double r =
        m.mode->use_on_board(e.actions(), c.category).factor() / e.needed(m, c.category);
    if (!(r < least)) continue;
    least = r;
    if (which != nullptr) *which = &m;
  }
  return least;
}

// From a load to harder ones nearby, by `ratio(load)`.
template <class Ratio>
void follow(board::Engine& e, const LoadCase& c, Angle step, HardLoad& best, double& least,
            Ratio ratio) {
  for (int round = 0; round < 6; ++round) {
    const HardLoad centre = best;
    const auto attempt = [&](const HardLoad& k) {
      const double r = ratio(k);
      if (r < least) {
        least = r;
        best = k;
      }
    };
    const auto all = [&](const std::vector<board::Trial>& trials) {
      for (const board::Trial& t : trials) {
        HardLoad k = centre;
        k.trial = t;
        attempt(k);
      }
    };
    all(e.around(c, centre.trial, step));
    if (round % 3 == 0 && !centre.of_feet) {
      all(e.otherwise(c, centre.trial));
      for (int v = 0; v < board::Engine::variants(); ++v) {
        HardLoad k = best;
        k.variant = v;
        if (v != best.variant) attempt(k);
      }
    }
    step = 0.5 * step;
  }
}

// The hardest load of a case by `ratio(load)`; where it is less than `most` it is kept.
template <class Ratio>
void keep_hardest(board::Engine& e, std::size_t index, bool of_feet, HardLoad::Kind kind,
                  Angle step, double most, std::vector<HardLoad>& out, Ratio ratio) {
  const LoadCase& c = e.cases()[index];
  HardLoad best;
  double least = infinite;
  for (int v = 0; v < (of_feet ? 1 : board::Engine::variants()); ++v) {
    for (const board::Trial& t : e.trials(c, step)) {
      HardLoad k;
      k.kind = kind;
      k.load_case = index;
      k.trial = t;
      k.variant = v;
      k.of_feet = of_feet;
      const double r = ratio(k);
      if (r < least) {
        least = r;
        best = k;
      }
    }
  }
  if (!(least < infinite)) return;
  follow(e, c, 0.5 * step, best, least, ratio);
  if (least < most) out.push_back(best);
}

// ---- Plates
// --------------------------------------------------------------------------------------

Force pull_of(const LoadCase& c) { return c.path == LoadPath::ride ? Force{} : c.pull; }

LoadPath own_path(const Gear& g) {
  return g.downrigger ? LoadPath::tip : g.rod_holder ? LoadPath::line : LoadPath::point;
}

// What a check of a plate needs here: half as much again where it hangs on a wall that nobody
// measured, for within that there is no verdict.
double needed_on(const plate::Engine& e, const plate::Standby& w, Category category,
                 bool wall_assumed) {
  const auto& on = w.mode->depends_on;
  const bool wall =
      wall_assumed && std::find(on.begin(), on.end(), "mount.host.thickness") != on.end();
  return (wall ? 1.5 : 1.0) * e.needed(w, category);
}

// From the hardest direction on a coarse grid of each setting to finer ones; `ratio(load)`.
template <class Ratio>
void keep_hardest(const std::vector<plate::Setting>& settings,
                  const std::vector<DirectionRange>& ranges, bool ride, HardLoad k, Angle step,
                  double most, std::vector<HardLoad>& out, Ratio ratio) {
  HardLoad best;
  double least = infinite;
  const auto take = [&](const HardLoad& load) {
    const double r = ratio(load);
    if (!(r < least)) return false;
    least = r;
    best = load;
    return true;
  };
  for (const DirectionRange& range : ranges) {
    const plate::Field field(range, step);
    for (const plate::Setting& s : settings) {
      k.setting = s;
      if (ride) {
        (void)take(k);
        continue;
      }
      int at = -1;
      for (const int spot : field.coarse()) {
        k.way = field.direction(spot);
        if (take(k)) at = spot;
      }
      if (at < 0) continue;
      field.descend(at, [&](int spot) {
        k.way = field.direction(spot);
        return take(k);
      });
    }
    if (ride) break;
  }
  if (least < most) out.push_back(best);
}

}  // namespace

QuickLook::QuickLook(const Setup& s) : known_(known_loads(s)), refusals_(parts::refusals(s)) {
  wall_assumed_ = !s.on_board() && parts::is_assumed(s, "mount.host.thickness");
  if (std::none_of(known_.cases.begin(), known_.cases.end(), [](const LoadCase& c) {
        return c.decides && !c.left_out && c.path != LoadPath::warning;
      })) {
    refusals_.emplace_back("no load case is left that decides");
  }
}

Look QuickLook::look(const Setup& mount, std::span<const HardLoad> breaking,
                     std::span<const HardLoad> limiting,
                     const std::optional<Force>& more_than) const {
  try {
    if (!mount.on_board()) {
      validate(mount);
    } else if (const std::optional<BrokenRule> r = first_broken_board_rule(mount)) {
      return {Look::Result::does_not_fit, std::to_string(int(r->part)) + r->key};
    }
    if (!refusals_.empty()) return {Look::Result::refused, refusals_.front()};
    return mount.on_board() ? look_at_board(mount, breaking, limiting, more_than)
                            : look_at_plate(mount, breaking, limiting, more_than);
  } catch (const DomainError& e) {
    return {Look::Result::does_not_fit, e.what()};
  }
}

Look QuickLook::look_at_board(const Setup& mount, std::span<const HardLoad> breaking,
                              std::span<const HardLoad> limiting,
                              const std::optional<Force>& more_than) const {
  board::Engine e(mount, &known_);
  for (const board::Mode& m : e.all()) {
    if (m.applicable.standing == Standing::refused) {
      return {Look::Result::refused, m.applicable.why};
    }
  }
  const auto& cases = e.cases();
  // Distances do not depend on loads.
  e.stand(board::Vector::Zero(e.common().gear_columns()), board::Trial{});
  for (const board::Mode& m : e.modes()) {
    if (m.mode->needs_load) continue;
    const Category any = cases.empty() ? Category::everyday : cases.front().category;
    if (m.mode->use_on_board(e.actions(), any).factor() < surely_fails * e.needed(m, any)) {
      return {Look::Result::distance, std::string(m.mode->gives_way)};
    }
  }
  for (std::size_t i = 0; more_than && i < limiting.size(); ++i) {
    const HardLoad& k = limiting[i];
    const LoadCase& c = cases[k.load_case];
    if (e.worst_ratio(k.variant, k.trial, e.load(c, k.trial, more_than->value()),
                      category_of_limit(c), true, nullptr, nullptr, true, true) < 1) {
      return {Look::Result::outweighed, "", int(i)};
    }
  }
  for (std::size_t i = 0; i < breaking.size(); ++i) {
    HardLoad k = breaking[i];
    const LoadCase& c = cases[k.load_case];
    // People are put as far out as this board reaches.
    if (c.path == LoadPath::board) k.trial.y = std::copysign(e.reach_of_people(c), k.trial.y);
    if (k.kind == HardLoad::Kind::swings) {
      if (swing(e, mount, c, k.trial) * surely_fails < swings_too_far) continue;
      return {Look::Result::breaks, "the boom tip swings too far for the model", int(i)};
    }
    const board::Mode* which = nullptr;
    const bool motion_only = k.kind == HardLoad::Kind::moves;
    const auto every = [&](const board::Mode&) { return !motion_only; };
    const double ratio = least_ratio(e, c, k, c.pull.value(), every, &which);
    if (ratio >= surely_fails) continue;
    if (which == nullptr) {
      // It moves: so it must under a little less as well.
      const bool ride = c.path == LoadPath::ride;
      if (!ride && least_ratio(e, c, k, surely_fails * c.pull.value(), every) > 0) continue;
      return {Look::Result::breaks, "the board moves as a whole", int(i)};
    }
    return {Look::Result::breaks, std::string(which->mode->gives_way), int(i)};
  }
  return {};
}

Look QuickLook::look_at_plate(const Setup& mount, std::span<const HardLoad> breaking,
                              std::span<const HardLoad> limiting,
                              const std::optional<Force>& more_than) const {
  plate::Engine e(mount, &known_);
  for (const plate::Standby& w : e.all()) {
    if (w.applicable.standing == Standing::refused) {
      return {Look::Result::refused, w.applicable.why};
    }
  }
  const plate::Acting rest = e.at_rest();
  for (const plate::Standby& w : e.modes()) {
    if (w.mode->needs_load) continue;
    if (e.use(w, rest, Category::everyday).factor() <
        surely_fails * needed_on(e, w, Category::everyday, wall_assumed_)) {
      return {Look::Result::distance, std::string(w.mode->gives_way)};
    }
  }
  for (std::size_t i = 0; more_than && i < limiting.size(); ++i) {
    const HardLoad& k = limiting[i];
    const LoadPath path = own_path(mount.gear[k.load_case]);
    if (e.worst_ratio({&k.setting, 1}, path, *more_than, k.way, nullptr, true) < 1) {
      return {Look::Result::outweighed, "", int(i)};
    }
  }
  for (std::size_t i = 0; i < breaking.size(); ++i) {
    const HardLoad& k = breaking[i];
    const LoadCase& c = known_.cases[k.load_case];
    double least = infinite;
    const plate::Standby* which = nullptr;
    const auto visit = [&](const plate::Acting& acting) {
      if (k.kind == HardLoad::Kind::moves) return;
      for (const plate::Standby& w : e.modes()) {
        if (!w.mode->needs_load || w.mode->fatigue) continue;
        const double r =
            e.use(w, acting, c.category).factor() / needed_on(e, w, c.category, wall_assumed_);
        if (!(r < least)) continue;
        least = r;
        which = &w;
      }
    };
    const std::string motion = e.act({&k.setting, 1}, c.path, pull_of(c), k.way, visit);
    if (!motion.empty()) {
      const auto ignore = [](const plate::Acting&) {};
      if (c.path == LoadPath::ride ||
          !e.act({&k.setting, 1}, c.path, Force(surely_fails * c.pull), k.way, ignore).empty()) {
        return {Look::Result::breaks, "the base moves as a whole", int(i)};
      }
    }
    if (which != nullptr && least < surely_fails) {
      return {Look::Result::breaks, std::string(which->mode->gives_way), int(i)};
    }
  }
  return {};
}

std::vector<HardLoad> QuickLook::hard_loads(const Setup& mount, const Assessment& a, Angle step,
                                            bool limits) const {
  return mount.on_board() ? hard_for_board(mount, a, step, limits)
                          : hard_for_plate(mount, a, step, limits);
}

std::vector<HardLoad> QuickLook::hard_for_board(const Setup& mount, const Assessment& a, Angle step,
                                                bool limits) const {
  std::vector<HardLoad> out;
  board::Engine e(mount, &known_);
  const auto& cases = e.cases();
  const Angle wide = 5.0 * step;
  for (const CheckResult* r : failing(mount, a, 1)) {
    const auto mode = std::find_if(e.modes().begin(), e.modes().end(),
                                   [&](const board::Mode& m) { return m.mode->id == r->mode; });
    if (mode == e.modes().end()) continue;
    for (std::size_t i = 0; i < cases.size(); ++i) {
      if (!cases[i].decides || cases[i].left_out || cases[i].title != r->case_title) continue;
      keep_hardest(e, i, mode->of_foot, HardLoad::Kind::breaks, wide, 1.0, out,
                   [&](const HardLoad& k) {
                     return least_ratio(e, cases[i], k, cases[i].pull.value(),
                                        [&](const board::Mode& m) { return &m == &*mode; });
                   });
    }
  }
  for (std::size_t i = 0; i < a.cases.size() && i < cases.size(); ++i) {
    if (a.cases[i].motion.empty() || !cases[i].decides) continue;
    // Where it moves already under less.
    const double pull = cases[i].pull.value();
    keep_hardest(e, i, false, HardLoad::Kind::moves, wide, 1.0, out, [&](const HardLoad& k) {
      for (const double share : {0.5, 0.9, 1.0}) {
        if (e.act(k.variant, k.trial, e.load(cases[i], k.trial, share * pull)).mechanism) {
          return share - 0.5;
        }
      }
      return 2.0;
    });
  }
  for (const MovementRow& m : a.movements) {
    if (!m.rough) continue;
    for (std::size_t g = 0; g < mount.gear.size(); ++g) {
      const int index = case_of_movement(cases, int(g));
      if (mount.gear[g].name != m.gear || index < 0) continue;
      const LoadCase& c = cases[std::size_t(index)];
      HardLoad best;
      double most = 0;
      for (const board::Trial& t : e.trials(c, 2.5 * step)) {
        const double far = swing(e, mount, c, t);
        if (far <= most) continue;
        most = far;
        best.trial = t;
      }
      best.kind = HardLoad::Kind::swings;
      best.load_case = std::size_t(index);
      if (most > 0) out.push_back(best);
    }
  }
  const int gear = limits ? gear_of_least_limit(mount, a) : -1;
  const int index = gear >= 0 ? board::widest_case(cases, gear) : -1;
  if (index >= 0) {
    const LoadCase& c = cases[std::size_t(index)];
    keep_hardest(e, std::size_t(index), false, HardLoad::Kind::limits, wide, infinite, out,
                 [&](const HardLoad& k) {
                   return e.worst_ratio(k.variant, k.trial,
                                        e.load(c, k.trial, a.hold_limit->value()),
                                        category_of_limit(c), true, nullptr);
                 });
  }
  return out;
}

std::vector<HardLoad> QuickLook::hard_for_plate(const Setup& mount, const Assessment& a, Angle step,
                                                bool limits) const {
  std::vector<HardLoad> out;
  plate::Engine e(mount, &known_);
  const auto& cases = known_.cases;
  const Angle wide = 4.0 * step;
  for (const CheckResult* r : failing(mount, a, wall_assumed_ ? 1.5 : 1)) {
    const auto mode = std::find_if(
        e.modes().begin(), e.modes().end(),
        [&](const plate::Standby& w) { return w.mode->id == r->mode && w.part == r->part; });
    if (mode == e.modes().end()) continue;
    for (std::size_t i = 0; i < cases.size(); ++i) {
      const LoadCase& c = cases[i];
      if (!c.decides || c.left_out || c.title != r->case_title) continue;
      HardLoad k;
      k.load_case = i;
      keep_hardest(e.settings(c), c.ranges, c.path == LoadPath::ride, k, wide, infinite, out,
                   [&](const HardLoad& load) {
                     double least = infinite;
                     const std::string motion =
                         e.act({&load.setting, 1}, c.path, pull_of(c), load.way,
                               [&](const plate::Acting& acting) {
                                 least = std::min(least, e.use(*mode, acting, c.category).factor());
                               });
                     return motion.empty() ? least : 0;
                   });
    }
  }
  for (std::size_t i = 0; i < cases.size(); ++i) {
    const LoadCase& c = cases[i];
    const bool moves = std::any_of(a.cases.begin(), a.cases.end(), [&](const CaseResult& r) {
      return !r.motion.empty() && r.load_case.id == c.id;
    });
    if (!moves || !c.decides) continue;
    HardLoad k;
    k.kind = HardLoad::Kind::moves;
    k.load_case = i;
    keep_hardest(e.settings(c), c.ranges, c.path == LoadPath::ride, k, wide, 1.0, out,
                 [&](const HardLoad& load) {
                   for (const double share : {0.5, 0.9, 1.0}) {
                     if (!e.act({&load.setting, 1}, c.path, Force(share * pull_of(c)), load.way,
                                [](const plate::Acting&) {})
                              .empty()) {
                       return share - 0.5;
                     }
                   }
                   return 2.0;
                 });
  }
  const int gear = limits ? gear_of_least_limit(mount, a) : -1;
  if (gear >= 0) {
    const LoadPath path = own_path(mount.gear[std::size_t(gear)]);
    std::vector<DirectionRange> ranges;
    for (const LoadCase& c : cases) {
      if (c.gear != gear || !load_list::is_a_pull(c.path) || c.left_out) continue;
      for (const DirectionRange& r : c.ranges) {
        if (std::find(ranges.begin(), ranges.end(), r) == ranges.end()) ranges.push_back(r);
      }
    }
    HardLoad k;
    k.kind = HardLoad::Kind::limits;
    k.load_case = std::size_t(gear);
    keep_hardest(
        e.beside(std::size_t(gear)), ranges, false, k, wide, infinite, out,
        [&](const HardLoad& load) {
          return e.worst_ratio({&load.setting, 1}, path, *a.hold_limit, load.way, nullptr, true);
        });
  }
  return out;
}

}  // namespace thole
