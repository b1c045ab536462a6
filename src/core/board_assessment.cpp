#include <algorithm>
#include <array>
#include <cmath>
#include <limits>

#include <thole/display.hpp>
#include <thole/error.hpp>
#include <thole/metal_pairs.hpp>

#include "checks/least_distances.hpp"
#include "core/assessment_parts.hpp"
#include "core/board_engine.hpp"
#include "core/board_forces.hpp"
#include "core/board_limits.hpp"
#include "core/board_mirror.hpp"
#include "core/load_list.hpp"
#include "core/no_figures.hpp"
#include "core/stable_order.hpp"
#include "core/ties.hpp"

namespace thole {

using namespace literals;
using namespace parts;
using board::Engine;
using board::Hard;
using board::hardest_first;
using board::hardest_kept;
using board::LimitSearch;
using board::Mode;
using board::most_pull;
using board::same_peak;
using board::Trial;

namespace {

constexpr double infinite = std::numeric_limits<double>::infinity();

// Coarse grid of directions; the worst of each mode is then followed to a finer one.
Angle coarse(const LoadCase& c, Angle step) {
  if (c.path == LoadPath::board) return 4.0 * step;  // a person pushes any way: smooth
  if (!c.decides || c.category == Category::everyday) return 3.0 * step;
  if (c.others == Others::together) return 3.5 * step;  // with every position of the other booms
  return 2.5 * step;
}

// A mode so far from its limit is not followed to finer directions: it decides nothing.
constexpr double far_from_limit = 3.0;

struct Worst {
  double ratio = infinite;
  Use use;
  double needed = 0;
  int load_case = -1;
  Trial trial;
  int variant = 0;
};

// Where the search of a mode goes on from: the worst of each case, boom and part of the sky.
struct Start {
  double ratio = infinite;
  int index = -1;  ///< of the case
  int variant = 0;
  Trial trial;
  [[nodiscard]] bool like(const Start& o) const {
    return index == o.index && trial.boom == o.trial.boom && trial.person == o.trial.person &&
           trial.y == o.trial.y && trial.way.si_values().dot(o.trial.way.si_values()) > same_peak;
  }
};
constexpr std::size_t starts_kept = 40;

std::string place_of(const Setup& s, const Engine& e, const Mode& m, int item) {
  if (item < 0) return "";
  const CrossBoard& b = s.board();
  const auto i = std::size_t(item);
  switch (m.mode->item) {
    case Item::cut: {
      return show(Length::from_value(std::round(e.common().cuts[i].x * 1000) / 1000), s.units) +
             " from the port end";
    }
    case Item::hold_down:
      return b.hold_downs[i].name;
    case Item::ledge:
      return std::string(word_for(item == 0 ? Side::port : Side::starboard)) + " ledge";
    case Item::leg:
      return b.legs[i].name;
    case Item::gear:
      return s.gear[i].name;
    case Item::fastener:
      break;
  }
  return "";
}

class BoardAssessor {
 public:
  BoardAssessor(const Setup& s, const AssessOptions& options)
      : s_(s), options_(options), engine_(s), worst_(engine_.modes().size()) {
    for (const LoadCase& c : engine_.cases()) {
      CaseResult r;
      r.load_case = c;
      r.factor = infinite;
      results_.push_back(r);
    }
    hardest_.resize(engine_.cases().size());
    starts_.resize(engine_.modes().size());
    last_.resize(engine_.modes().size(), infinite);
    hardest_of_case_.resize(engine_.cases().size());
    per_case_.resize(engine_.cases().size(), std::vector<Start>(engine_.modes().size()));
  }

  Assessment run() {
    sweep();
    if (mechanism_.empty()) refine();
    if (mechanism_.empty()) refine_cases();
    for (std::size_t i = 0; i < results_.size(); ++i) {
      if (mirrored(i) && mechanism_.empty()) copy_of_mirror(i);
    }
    Assessment out;
    out.cases = results_;
    out.cases.resize(results_.size() - engine_.hidden());
    for (std::size_t i = 0; i < out.cases.size(); ++i) {
      CaseResult& c = out.cases[i];
      // After a mechanism the rest of the cases was not looked at.
      c.holds = c.motion.empty() && !c.worst_mode.empty() && c.factor >= c.needed;
      if (c.motion.empty() && !c.worst_mode.empty()) {
        c.direction = engine_.describe(c.load_case, hardest_of_case_[i].trial);
      }
    }
    if (mechanism_.empty()) limits(out);
    checks(out);
    if (mechanism_.empty()) {
      supports(out);
      movements(out);
    }
    verdict(out);
    words(out);
    if (options_.margins) margins(out);
    if (options_.forces && mechanism_.empty()) forces(out);
    return out;
  }

 private:
  // What is hard for this board is hard for the same board a little worse off: the loads that were
  // followed there are looked at again, and nothing else.
  Assessment look_again(const BoardAssessor& before) {
    const auto& cases = engine_.cases();
    std::vector<std::vector<Start>> loads(cases.size());
    // Another mirror than the one that the loads were found with knows nothing of them.
    if (!before.mirror_) mirror_.reset();
    const auto add_one = [&](const Start& s) {
      if (mirrored(std::size_t(s.index))) return;
      auto& all = loads[std::size_t(s.index)];
      const bool known = std::any_of(all.begin(), all.end(), [&](const Start& o) {
        return o.variant == s.variant && o.trial == s.trial;
      });
      if (!known) all.push_back(s);
    };
    // Worse off, the board need not be the same from both sides.
    const auto add = [&](const Start& s) {
      add_one(s);
      if (before.mirror_ && !mirror_ && !before.goes_both_ways(s)) add_one(before.image_of(s));
    };
    for (std::size_t i = 0; i < before.starts_.size(); ++i) {
      const auto& of_mode = before.starts_[i];
      // What lies this far behind in its mode does not come out ahead.
      for (const Start& s : of_mode) {
        if (s.ratio <= 1.25 * of_mode.front().ratio) add(s);
      }
      for (std::size_t k = 0; k < cases.size(); ++k) {
        const Start& own = before.per_case_[k][i];
        if (own.index >= 0 && (cases[k].decides || load_list::is_a_pull(cases[k].path))) add(own);
      }
    }
    for (std::size_t k = 0; k < cases.size() && mechanism_.empty(); ++k) {
      const LoadCase& c = cases[k];
      results_[k].needed = 1;
      bool first = true;
      for (const Start& s : loads[k]) {
        const double pull = c.pull.value();
        if (first && c.path != LoadPath::ride && !look(s.variant, int(k), s.trial, 0)) break;
        first = false;
        if (!look(s.variant, int(k), s.trial, pull)) break;
        if (c.path != LoadPath::board) look_at_feet(int(k), s.trial, pull);
      }
    }
    Assessment out;
    if (mechanism_.empty()) limits(out);
    checks(out);
    if (mechanism_.empty()) movements(out);
    verdict(out);
    return out;
  }

  void margins(Assessment& out) const {
    AssessOptions plain;
    plain.step = options_.step;
    plain.neighbours = false;
    for (const Worsening& w : worsenings(s_)) {
      try {
        validate(w.setup);
        BoardAssessor worse(w.setup, plain);
        if (!mechanism_.empty() || worse.engine_.modes().size() != engine_.modes().size()) {
          out.margins.push_back(margin_row(w, worse.run()));
        } else {
          out.margins.push_back(margin_row(w, worse.look_again(*this)));
        }
      } catch (const DomainError& e) {
        out.margins.push_back(margin_row(w, e.what()));
      }
    }
  }

  // The best starts of a mode, worst ratio first.
  void keep_start(std::size_t mode, const Start& s) {
    std::vector<Start>& all = starts_[mode];
    if (all.size() == starts_kept && s.ratio >= all.back().ratio) return;
    auto same = std::find_if(all.begin(), all.end(), [&](const Start& o) { return o.like(s); });
    if (same != all.end()) {
      // A tie of mirrored gears stays with the first.
      if (s.ratio >= same->ratio * (1 - 1e-7)) return;
      *same = s;
    } else {
      if (all.size() == starts_kept) all.pop_back();
      all.push_back(s);
      same = all.end() - 1;
    }
    while (same != all.begin() && same->ratio < (same - 1)->ratio) {
      std::swap(*same, *(same - 1));
      --same;
    }
  }

  // Keeps the worst of the modes of the board (or of the gears' feet) under one load.
  void keep(int variant, int index, const Trial& t, bool feet, double pull) {
    const LoadCase& c = engine_.cases()[std::size_t(index)];
    CaseResult& result = results_[std::size_t(index)];
    const auto& modes = engine_.modes();
    double hardest = infinite;
    for (std::size_t i = 0; i < modes.size(); ++i) {
      if (modes[i].of_foot != feet) continue;
      // Distances do not depend on loads: once.
      if (!modes[i].mode->needs_load && worst_[i].load_case >= 0) continue;
      const Use use = modes[i].mode->use_on_board(engine_.actions(), c.category);
      const double needed = engine_.needed(modes[i], c.category);
      const double ratio = parts::steady(use.factor() / needed);
      if (modes[i].mode->needs_load && !modes[i].mode->fatigue) {
        hardest = std::min(hardest, ratio);
      }
      auto& own = per_case_[std::size_t(index)][i];
      if (ratio < own.ratio) own = {ratio, index, variant, t};
      // A tie of mirrored gears stays with the first.
      if (c.decides && ratio < worst_[i].ratio * (1 - 1e-7)) {
        worst_[i] = {ratio, use, needed, index, t, variant};
      }
      last_[i] = ratio;
      if (c.decides && std::isfinite(ratio)) keep_start(i, {ratio, index, variant, t});
      // A row of the cases is about one load, not about a life.
      if (modes[i].mode->needs_load && !modes[i].mode->fatigue &&
          ratio < parts::steady(result.factor / result.needed)) {
        result.worst_mode = modes[i].mode->id;
        result.worst_gives_way = modes[i].mode->gives_way;
        result.factor = use.factor();
        result.needed = needed;
        hardest_of_case_[std::size_t(index)] = {t, variant, pull};
      }
    }
    if (pull > 0) hardest_[std::size_t(index)].push_back({hardest, variant, t});
  }

  bool look(int variant, int index, const Trial& t, double pull) {
    const LoadCase& c = engine_.cases()[std::size_t(index)];
    const board::Outcome o = engine_.act(variant, t, engine_.load(c, t, pull));
    if (o.mechanism) {
      CaseResult& result = results_[std::size_t(index)];
      result.motion = o.motion;
      result.direction = engine_.describe(c, t);
      if (c.decides && mechanism_.empty()) {
        mechanism_ = o.motion + " (" + c.title + ", " + engine_.describe(c, t) + ")";
        remedy_ = o.remedy;
      }
      return false;
    }
    keep(variant, index, t, false, pull);
    return true;
  }

  void look_at_feet(int index, const Trial& t, double pull) {
    engine_.stand(engine_.load(engine_.cases()[std::size_t(index)], t, pull), t);
    keep(0, index, t, true, pull);
  }

  // Does only this case show which loads are hard for the hold limit of its gear?
  [[nodiscard]] bool serves_the_limit(const LoadCase& c) const {
    if (c.decides || c.gear < 0 || c.left_out || !load_list::is_a_pull(c.path)) return false;
    if (c.others == Others::together) return false;
    const auto& all = engine_.cases();
    return std::none_of(all.begin(), all.end(), [&](const LoadCase& o) {
      if (o.gear != c.gear || o.path != c.path || o.left_out) return false;
      return o.others == Others::towing && o.decides && o.ranges == c.ranges;
    });
  }

  // Does another deciding case of the same kind pull harder in all its directions and more? Then it
  // is looked at in the middle of the ranges only.
  [[nodiscard]] bool surpassed(const LoadCase& c) const {
    if (c.path == LoadPath::ride || c.path == LoadPath::board) return false;
    const auto& all = engine_.cases();
    return std::any_of(all.begin(), all.end(), [&](const LoadCase& o) {
      return &o != &c && o.decides && !o.left_out && o.gear == c.gear && o.path == c.path &&
             o.category == c.category && o.others == c.others && o.pull > c.pull &&
             o.heave >= c.heave &&
             std::all_of(c.ranges.begin(), c.ranges.end(),
                         [&](const DirectionRange& r) { return board::covers(o.ranges, r); });
    });
  }

  // Is a case the mirror image of one before it, which stands for both?
  [[nodiscard]] bool mirrored(std::size_t index) const {
    return mirror_ && mirror_->load_case(index) < index;
  }
  [[nodiscard]] bool passed_over(const LoadCase& c, const Trial& t) const {
    return mirror_ && board::Mirror::repeats(c, t);
  }
  // All gears at once, one case for both sides: its loads are looked at whole.
  [[nodiscard]] bool goes_both_ways(const Start& s) const {
    const auto index = std::size_t(s.index);
    return engine_.cases()[index].gear >= 0 && mirror_->load_case(index) == index;
  }
  [[nodiscard]] Start image_of(const Start& s) const {
    return {s.ratio, int(mirror_->load_case(std::size_t(s.index))), s.variant,
            mirror_->image(s.trial)};
  }
  void copy_of_mirror(std::size_t index) {
    const std::size_t other = mirror_->load_case(index);
    CaseResult& r = results_[index];
    const LoadCase own = r.load_case;
    r = results_[other];
    r.load_case = own;
    r.motion = board::Mirror::image(r.motion);
    hardest_of_case_[index] = hardest_of_case_[other];
    hardest_of_case_[index].trial = mirror_->image(hardest_of_case_[other].trial);
    for (std::size_t i = 0; i < per_case_[other].size(); ++i) {
      if (per_case_[other][i].index >= 0) per_case_[index][i] = image_of(per_case_[other][i]);
    }
  }

  // Every deciding case on a coarse grid, at every end of the ranges of stiffness, slack and hold.
  void sweep() {
    for (std::size_t i = 0; i < engine_.cases().size(); ++i) {
      const LoadCase& c = engine_.cases()[i];
      results_[i].needed = 1;
      if (mirrored(i)) {
        copy_of_mirror(i);
        continue;
      }
      const bool serves = serves_the_limit(c);
      const Angle step = serves ? 2.5 * options_.step : coarse(c, options_.step);
      const std::vector<Trial> all = engine_.trials(c, step);
      const bool whole = serves || (c.decides && !surpassed(c));
      for (int variant = 0; variant < (whole ? engine_.variants() : 1); ++variant) {
        bool first = true;
        for (const Trial& t : all) {
          if (passed_over(c, t)) continue;
          // The other booms elsewhere: in the middle of the ranges, the ends are followed from
          // there.
          if (c.path != LoadPath::ride && variant > 0 && t.others >= 0 && t.others != t.boom) {
            continue;
          }
          // The weights alone are looked at as well.
          if (first && c.path != LoadPath::ride && !look(variant, int(i), t, 0)) break;
          first = false;
          if (!look(variant, int(i), t, c.pull.value())) break;
        }
        if (!mechanism_.empty()) return;
      }
      if (c.path == LoadPath::board) continue;  // a person on the board, not on a gear
      // What a foot does to its bolts has no contact states: smooth, a wider grid will do.
      for (const Trial& t : engine_.trials(c, 2.0 * coarse(c, options_.step))) {
        if (!passed_over(c, t)) look_at_feet(int(i), t, c.pull.value());
      }
    }
  }

  // From the worst direction of each mode, at each end of the ranges, to a finer grid.
  void refine() {
    for (std::size_t i = 0; i < worst_.size(); ++i) {
      const Mode& mode = engine_.modes()[i];
      if (worst_[i].load_case < 0 || !mode.mode->needs_load) continue;
      if (worst_[i].ratio > far_from_limit) continue;
      std::vector<Start> starts = starts_[i];
      // Of each case at least the best: many of one case must not push the others out.
      for (std::size_t k = 0; k < per_case_.size(); ++k) {
        const Start& own = per_case_[k][i];
        const bool there =
            std::any_of(starts.begin(), starts.end(), [&](const Start& o) { return o.like(own); });
        if (engine_.cases()[k].decides && own.index >= 0 && !there && !mirrored(k)) {
          starts.push_back(own);
        }
      }
      sort_stably(starts, [](const Start& a, const Start& b) { return a.ratio < b.ratio; });
      for (const Start& start : starts) {
        // The grid misses a few per cent of a peak, no more.
        if (start.ratio > 1.12 * worst_[i].ratio) break;
        if (!follow(i, start)) return;
      }
    }
  }

  // What is worst in each case by itself, for its own row of the report.
  void refine_cases() {
    for (std::size_t k = 0; k < results_.size() && mechanism_.empty(); ++k) {
      const LoadCase& c = engine_.cases()[k];
      if (!c.decides || c.path == LoadPath::ride || mirrored(k)) continue;
      for (std::size_t i = 0; i < worst_.size(); ++i) {
        const Mode& mode = engine_.modes()[i];
        if (mode.mode->id != results_[k].worst_mode) continue;
        const Start start = per_case_[k][i];
        if (start.index >= 0 && start.ratio < far_from_limit && !follow(i, start, false)) return;
      }
    }
  }

  // From one start to finer directions; false for a mechanism.
  bool follow(std::size_t i, const Start& start, bool against_worst = true) {
    const Mode& mode = engine_.modes()[i];
    const LoadCase& c = engine_.cases()[std::size_t(start.index)];
    Angle step = (mode.of_foot ? 1.0 : 0.5) * coarse(c, options_.step);
    Start best = start;
    const auto attempt = [&](const std::vector<Trial>& all, int variant) {
      for (const Trial& t : all) {
        if (mode.of_foot) {
          look_at_feet(start.index, t, c.pull.value());
        } else if (!look(variant, start.index, t, c.pull.value())) {
          return false;
        }
        if (last_[i] < best.ratio) best = {last_[i], start.index, variant, t};
      }
      return true;
    };
    for (int round = 0; round < 7; ++round) {
      const Start centre = best;
      if (!attempt(engine_.around(c, centre.trial, step), centre.variant)) return false;
      if (round % 3 == 0) {
        if (!attempt(engine_.otherwise(c, best.trial), best.variant)) return false;
        const int own = best.variant;
        for (int v = 0; v < engine_.variants() && !mode.of_foot; ++v) {
          if (v != own && !attempt({best.trial}, v)) return false;
        }
      }
      if (best.ratio >= centre.ratio) step = 0.5 * step;
      // What stays behind after this will not come out ahead.
      const double behind = best.ratio / worst_[i].ratio - 1;
      if (against_worst && behind > (round == 0 ? 0.06 : round == 1 ? 0.03 : 0.015)) break;
    }
    return true;
  }

  // Feet that are far stronger than the board at the same loads cannot end the pull.
  [[nodiscard]] bool feet_count(int index, bool full) const {
    const LoadCase& c = engine_.cases()[std::size_t(index)];
    double of_board = infinite, of_feet = infinite;
    for (std::size_t i = 0; i < engine_.modes().size(); ++i) {
      const Mode& m = engine_.modes()[i];
      if (!m.mode->needs_load || m.mode->fatigue || (!full && m.mode->spoils)) continue;
      const double target = full ? 1.0 : 1 / engine_.needed(m, c.category);
      double& least = m.of_foot ? of_feet : of_board;
      least = std::min(least, per_case_[std::size_t(index)][i].ratio / target);
    }
    return of_feet < 3 * of_board;
  }

  // A part of the directions of one gear.
  struct Part {
    RangeLimit row;
    LoadCase load_case;
    int angle = -1;  ///< of the boom; -1: any
    std::size_t angles = 1;
    [[nodiscard]] bool has(const Trial& t) const {
      if (t.gear != load_case.gear) return false;
      if (angle >= 0) return int(std::size_t(t.boom) % angles) == angle;
      return board::lies_in(load_case.ranges, t.way);
    }
  };

  LimitSearch search(const LoadCase& c, int index, bool full) {
    return {engine_, c, options_.step, full, feet_count(index, full)};
  }

  Engine::Limit limit_of(const LoadCase& c, int index, bool full, Trial* at) {
    LimitSearch low = search(c, index, full);
    // The hardest loads of this gear's own cases: which are hard hardly changes with the pull.
    std::vector<Hard> all;
    for (std::size_t i = 0; i < engine_.cases().size(); ++i) {
      const LoadCase& o = engine_.cases()[i];
      if (o.gear != c.gear || o.path != c.path) continue;
      // All at once is a case of its own; one gear's own pulls are the rest.
      if ((o.others == Others::together || c.others == Others::together) && int(i) != index)
        continue;
      auto ranked = hardest_[i];
      hardest_first(ranked);
      if (ranked.size() > hardest_kept) ranked.resize(hardest_kept);
      all.insert(all.end(), ranked.begin(), ranked.end());
      for (const std::vector<Start>& of_mode : starts_) {
        for (const Start& start : of_mode) {
          if (start.index == int(i)) all.push_back({start.ratio, start.variant, start.trial});
        }
      }
    }
    hardest_first(all);
    std::vector<Hard> looked_at;
    const auto look_at = [&](int variant, const Trial& t) {
      looked_at.push_back({low.lower(variant, t), variant, t});
    };
    for (const Hard& h : all) {
      look_at(h.variant, h.trial);
      for (const Trial& t : engine_.otherwise(c, h.trial)) look_at(h.variant, t);
    }
    const bool found = low.found();
    for (int variant = 0; variant < engine_.variants() && found; ++variant) {
      (void)low.lower(variant, low.at());
      Angle step = 0.5 * coarse(c, options_.step);
      for (int round = 0; round < 6; ++round) {
        const double before = low.pull();
        const Trial centre = low.at();
        for (const Trial& t : engine_.around(c, centre, step)) (void)low.lower(variant, t);
        if (round % 3 == 0) {
          for (const Trial& t : engine_.otherwise(c, low.at())) (void)low.lower(variant, t);
        }
        if (low.pull() >= before) step = 0.5 * step;
      }
    }
    // What stays as it is beside the pull, weights and the other gears, counts for more at a small
    // one: directions that the sweep at the pulls of the cases passed over may be hardest here.
    // Each part of the directions looks for itself; all gears at once have no parts.
    if (found && c.others == Others::together) {
      for (const Trial& t : engine_.trials(c, 4.0 * options_.step)) {
        for (int variant = 0; variant < engine_.variants(); ++variant) look_at(variant, t);
      }
    }
    low.follow_hardest(looked_at);
    if (at != nullptr) *at = low.at();
    return low.limit();
  }

  // The same in one part of the directions: where the boom points, or a sector. Which loads are
  // hard is known from the whole; a coarse grid at the pull found tells what that left out.
  // `first`: a load to begin with.
  Engine::Limit limit_in(const Part& part, int index, bool full, Trial& first) {
    const LoadCase& c = part.load_case;
    LimitSearch low = search(c, index, full);
    if (first.gear >= 0) {
      for (int variant = 0; variant < engine_.variants(); ++variant) low.lower(variant, first);
    }
    std::vector<Hard> all;
    for (std::size_t i = 0; i < engine_.cases().size(); ++i) {
      const LoadCase& o = engine_.cases()[i];
      if (o.gear != c.gear || o.path != c.path || o.others == Others::together) continue;
      for (const std::vector<Start>& of_mode : starts_) {
        int kept = 0;
        for (const Start& s : of_mode) {
          if (s.index != int(i) || !part.has(s.trial) || kept == 2) continue;
          ++kept;
          all.push_back({s.ratio, s.variant, s.trial});
        }
      }
    }
    hardest_first(all);
    if (all.size() > hardest_kept) all.resize(hardest_kept);
    for (Hard& h : all) h.ratio = low.lower(h.variant, h.trial);
    low.look_round(all, [&](const Trial& t) { return part.has(t); });
    low.follow_hardest(all);
    if (low.found()) first = low.at();
    return low.limit();
  }

  // Limits of a gear in each part of its directions. `hold`, `first`: the loads that set those of
  // the whole.
  void limits_by_direction(const LoadCase& c, int index, const Trial& hold, const Trial& first,
                           GearLimit& l) {
    const auto gear = std::size_t(c.gear);
    std::vector<Part> parts;
    if (const auto& d = s_.gear[gear].downrigger) {
      for (std::size_t a = 0; a < d->boom_angles.size(); ++a) {
        parts.push_back({row_of(*d, a), c, int(a), d->boom_angles.size()});
      }
    } else {
      for (const Sector& sector : sectors_of(c.ranges)) {
        parts.push_back({row_of(s_.gear[gear], sector), c, -1, 1});
        parts.back().load_case.ranges = sector.ranges;
      }
    }
    double least = l.hold_limit ? l.hold_limit->value() * (1 - 1e-9) : most_pull;
    for (Part& part : parts) {
      RangeLimit& row = part.row;
      Trial at = part.has(hold) ? hold : Trial{};
      const Engine::Limit holds = limit_in(part, index, true, at);
      if (holds.pull < most_pull) {
        row.hold_limit = holds.pull * si::newton;
        row.set_by = holds.mode != nullptr ? std::string(holds.mode->mode->gives_way) : holds.tips;
        row.tips = holds.tips;
        if (holds.pull < least) {
          least = holds.pull;
          l.direction = engine_.describe(c, at);
        }
      }
      // What is hard at full factors is a good beginning.
      if (part.has(first)) at = first;
      const Engine::Limit goes = limit_in(part, index, false, at);
      if (goes.pull < most_pull) {
        row.not_before = goes.pull * si::newton;
        row.first = goes.mode != nullptr ? std::string(goes.mode->mode->gives_way) : goes.tips;
      }
      l.by_direction.push_back(row);
    }
    lower_to_rows(l);
  }

  // Pull of each gear that the board takes when all balls hang up at once, at full factors or until
  // something goes.
  std::vector<std::optional<Force>> all_at_once(bool full) {
    std::vector<std::optional<Force>> out(s_.gear.size());
    for (std::size_t i = 0; i < engine_.cases().size(); ++i) {
      const LoadCase& c = engine_.cases()[i];
      if (c.kind != "both-hung-up" || c.left_out || !(c.pull.value() > 0) || mirrored(i)) continue;
      const Engine::Limit l = limit_of(c, int(i), full, nullptr);
      if (l.pull >= most_pull) continue;
      for (std::size_t g = 0; g < out.size(); ++g) {
        if (!(c.pulls[g].value() > 0)) continue;
        const Force own = l.pull / c.pull.value() * c.pulls[g];
        if (!out[g] || own < *out[g]) out[g] = own;
      }
    }
    return out;
  }

  GearLimit limits_of_gear(int gear, int index) {
    const LoadCase c = board::own_pull(engine_, index);
    GearLimit l;
    l.gear = s_.gear[std::size_t(gear)].name;
    Trial at;
    const Engine::Limit hold = limit_of(c, index, true, &at);
    if (hold.pull < most_pull) {
      l.hold_limit = hold.pull * si::newton;
      l.set_by = hold.mode != nullptr ? std::string(hold.mode->mode->gives_way) : hold.tips;
      l.tips = hold.tips;
      l.direction = engine_.describe(c, at);
    }
    Trial at_first;
    const Engine::Limit first = limit_of(c, index, false, &at_first);
    if (hold.pull < most_pull) of_limits_.emplace_back(index, at);
    if (first.pull < most_pull) of_limits_.emplace_back(index, at_first);
    if (first.pull < most_pull) {
      l.not_before = first.pull * si::newton;
      l.first = first.mode != nullptr ? std::string(first.mode->mode->gives_way) : first.tips;
    }
    limits_by_direction(c, index, at, at_first, l);
    return l;
  }

  // Of the gear on the other side, with port for starboard.
  GearLimit limits_of_mirror(int gear, GearLimit l) {
    l.gear = s_.gear[std::size_t(gear)].name;
    const auto turn = [](auto& limit) {
      limit.set_by = board::Mirror::image(limit.set_by);
      limit.tips = board::Mirror::image(limit.tips);
      limit.first = board::Mirror::image(limit.first);
    };
    turn(l);
    for (RangeLimit& row : l.by_direction) turn(row);
    const auto there = of_limits_;
    for (const auto& [index, trial] : there) {
      if (trial.gear == mirror_->gear(gear)) {
        of_limits_.emplace_back(int(mirror_->load_case(std::size_t(index))), mirror_->image(trial));
      }
    }
    return l;
  }

  void limits(Assessment& out) {
    const bool refused = std::any_of(engine_.all().begin(), engine_.all().end(), [](const Mode& m) {
      return m.applicable.standing == Standing::refused;
    });
    if (refused) return;
    const std::vector<std::optional<Force>> at_once = all_at_once(true);
    if (options_.neighbours) all_go_ = all_at_once(false);
    std::vector<GearLimit> of_mount(s_.gear.size());  // before the settings
    for (int g = 0; g < int(s_.gear.size()); ++g) {
      const int index = board::widest_case(engine_.cases(), g);
      if (index < 0) continue;
      const bool copied = mirror_ && mirror_->gear(g) < g;
      GearLimit l = copied ? limits_of_mirror(g, of_mount[std::size_t(mirror_->gear(g))])
                           : limits_of_gear(g, index);
      l.all_hung_up = at_once[std::size_t(g)];
      of_mount[std::size_t(g)] = l;
      if (options_.by_direction) {
        add_settings(s_, std::size_t(g), owners_cases(), l);
      } else {
        l.by_direction.clear();
      }
      add_setting(s_, std::size_t(g), engine_.cases(), l);
      out.gear_limits.push_back(l);
      const auto least = [](std::optional<Force>& a, const std::optional<Force>& b) {
        if (b && (!a || *b < *a)) a = b;
      };
      least(out.hold_limit, l.hold_limit);
      least(out.not_before, l.not_before);
      least(out.setting, l.setting);
      least(out.test_pull, l.test_pull);
    }
  }

  // Pull at which one mode alone is used up: over the loads of the gears' own pulls that were worst
  // for it in the sweep, and those that set the limits, at every end of the ranges. The sweep knows
  // how hard they are at the pulls of its cases only: with all that stays as it is beside the pull,
  // weights and the other gears, another may be hardest here.
  std::optional<Force> goes_at(std::size_t mode) {
    const Mode& m = engine_.modes()[mode];
    double best = most_pull;
    std::pair<int, Trial> hardest{-1, {}};
    const auto lower = [&](int index, int variant, const Trial& trial) {
      const LoadCase& c = engine_.cases()[std::size_t(index)];
      const auto used = [&](double pull) {
        return 1 / engine_.worst_ratio(variant, trial, engine_.load(c, trial, pull), c.category,
                                       false, &m) -
               1;
      };
      double high = best;
      double f_high = used(high);
      if (!(f_high > parts::tie)) return;
      double low = 0.5 * high;
      double f_low = used(low);
      while (f_low > 0 && low > 1e-3) {
        high = low;
        f_high = f_low;
        low *= 0.5;
        f_low = used(low);
      }
      // Two figures are shown of it; the hold limit and the first to go are walked exactly.
      for (int k = 0; k < 30 && f_low < 0 && high - low > 1e-4 * high; ++k) {
        double at = std::isfinite(f_high) ? (low * f_high - high * f_low) / (f_high - f_low)
                                          : 0.5 * (low + high);
        if (!(at > low && at < high) || k % 3 == 2) at = 0.5 * (low + high);
        const double f = used(at);
        if (std::abs(f) < 1e-4) {
          low = f > parts::tie ? at * (1 - 1e-4) : at;
          break;
        }
        (f > 0 ? high : low) = at;
        (f > 0 ? f_high : f_low) = f;
      }
      best = low;
      hardest = {index, trial};
    };
    // The nearest by the sweep first: the others then mostly pass by one look.
    std::vector<std::pair<double, int>> near;
    for (std::size_t i = 0; i < engine_.cases().size(); ++i) {
      const LoadCase& c = engine_.cases()[i];
      if (c.gear < 0 || c.others == Others::together || !load_list::is_a_pull(c.path)) continue;
      const double ratio = per_case_[i][mode].ratio;
      if (!std::isfinite(ratio)) continue;
      near.emplace_back(ratio * engine_.needed(m, c.category) * c.pull.value(), int(i));
    }
    std::sort(near.begin(), near.end());
    for (const auto& n : near) {
      const Start& start = per_case_[std::size_t(n.second)][mode];
      lower(n.second, start.variant, start.trial);
    }
    const std::pair<int, Trial> worst = hardest;
    for (int v = 0; v < board::Engine::variants(); ++v) {
      if (worst.first >= 0) lower(worst.first, v, worst.second);
      for (const auto& l : of_limits_) lower(l.first, v, l.second);
    }
    if (best >= most_pull) return std::nullopt;
    return best * si::newton;
  }

  // A board that moves as a whole has no forces: what was met before is no result.
  static void without_figures(CheckResult& r) {
    r.standing = Standing::not_checked;
    r.why = no_figures;
    r.demand = r.strength = {};
    r.factor = 0;
    r.holds = false;
    r.where.clear();
    r.case_title.clear();
    r.direction.clear();
  }

  void checks(Assessment& out) {
    for (const Mode& m : engine_.all()) {
      CheckResult r;
      r.mode = m.mode->id;
      r.gives_way = m.mode->gives_way;
      r.standing = m.applicable.standing;
      r.why = m.applicable.why;
      r.source = {std::string(m.mode->source), "", m.mode->seen};
      r.valid = m.mode->valid;
      r.accuracy = m.mode->accuracy;
      r.outside_checks = m.mode->outside_checks;
      r.advice = m.mode->advice;
      r.lowered = m.lowered;
      if (r.standing == Standing::applies) {
        std::size_t i = 0;
        while (engine_.modes()[i].mode != m.mode) ++i;
        const Worst& w = worst_[i];
        r.demand = w.use.demand;
        r.strength = w.use.strength;
        r.factor = w.load_case < 0 ? infinite : w.use.factor();
        r.needed = w.load_case < 0 ? m.needed : w.needed;
        r.holds = w.ratio >= 1;
        r.where = place_of(s_, engine_, m, w.use.fastener);
        const LoadCase* c = nullptr;
        if (w.load_case >= 0 && m.mode->needs_load) {
          c = &engine_.cases()[std::size_t(w.load_case)];
          r.case_title = c->title;
          r.direction = engine_.describe(*c, w.trial);
        }
        // What the check itself asks for comes first, then what its load does, then the rest.
        std::array<std::vector<std::string>, 3> assumed;
        for (const Input& in : s_.inputs) {
          if (in.known != Knowledge::assumed) continue;
          const std::string path = plain_path(in.path);
          const auto names = [&](const auto& list) {
            return std::find(list.begin(), list.end(), path) != list.end();
          };
          bool enters = names(m.mode->depends_on);
          std::size_t rank = enters ? 0 : 2;
          if (c != nullptr) {
            if (!enters && names(c->depends_on)) {
              enters = true;
              rank = 1;
            }
            // Sizes, places and stiffnesses enter every check of a board: all that belongs neither
            // to one check nor to one case.
            const auto& modes = board_catalogue();
            const bool own = std::any_of(modes.begin(), modes.end(),
                                         [&](const FailureMode& f) { return names(f.depends_on); });
            const auto& cases = engine_.cases();
            const bool of_a_case = std::any_of(
                cases.begin(), cases.end(), [&](const LoadCase& k) { return names(k.depends_on); });
            const bool of_board = path.starts_with("mount.") || path.starts_with("gear.");
            enters = enters || (of_board && !own && !of_a_case && !only_beside(path));
          }
          if (enters && !hardly_counts(path, r)) assumed[rank].push_back(in.path);
        }
        for (const auto& some : assumed) {
          for (const std::string& in : some) add_condition(r.assumed, in);
        }
        if (m.mode->needs_load && !m.mode->spoils && !m.mode->fatigue && mechanism_.empty() &&
            options_.neighbours) {
          r.goes_at = goes_at(i);
        }
        if (!mechanism_.empty() && (m.mode->needs_load || w.load_case < 0)) without_figures(r);
      }
      out.checks.push_back(r);
    }
    sort_checks(out.checks);
  }

  void verdict(Assessment& out) {
    out.reasons = refusals(s_);
    const std::vector<LoadCase>& all = engine_.cases();
    if (std::none_of(all.begin(), all.end(), [](const LoadCase& c) {
          return c.decides && !c.left_out && c.path != LoadPath::warning;
        })) {
      out.reasons.emplace_back("no load case is left that decides");
    }
    bool all_hold = true;
    for (const CheckResult& r : out.checks) {
      if (r.standing == Standing::refused) add_condition(out.reasons, r.why);
      if (r.standing != Standing::applies || limits_life(s_, r.mode)) continue;
      all_hold = all_hold && r.holds;
    }
    if (!mechanism_.empty()) {
      out.reasons.push_back(mechanism_ + "; what would stop it: " + remedy_);
    }
    for (const MovementRow& m : out.movements) {
      if (m.rough && all_hold) {
        out.reasons.push_back("the boom tip of " + m.gear +
                              " swings too far for the small movements of the model: stiffen or "
                              "tighten the board first");
      }
    }
    if (!out.reasons.empty()) {
      out.verdict = Verdict::no_verdict;
      return;
    }
    if (!all_hold) {
      out.verdict = Verdict::does_not_hold;
      return;
    }
    // Those of the check that is nearest to its limit first: checks are sorted so.
    for (const CheckResult& r : out.checks) {
      if (r.standing != Standing::applies || limits_life(s_, r.mode)) continue;
      for (const std::string& p : r.assumed) add_condition(out.holds_if, label_of(s_, p));
    }
    if (const std::string cracks = may_crack(s_, out.checks); !cracks.empty()) {
      add_condition(out.holds_if, "no crack grows in time, an estimate: " + cracks);
    }
    add_assumed_of_cases(s_, out.cases, out.holds_if);
    for (const std::string& text : owners_conditions(s_, owners_cases())) {
      add_condition(out.holds_if, text);
    }
    // What concerns the board and is not checked may be the weak link.
    for (const std::string& u : unchecked()) add_condition(out.holds_if, "not checked: " + u);
    const Condition& c = s_.condition;
    const auto ask = [&](Answer a, const char* text) {
      if (a == Answer::not_known) add_condition(out.holds_if, text);
    };
    ask(c.cracks, "there is no crack near a ledge");
    ask(c.bent_or_corroded, "no hardware is bent or corroded");
    ask(c.loose_rivets, "no rivet in reach is loose");
    ask(c.soft_wood_or_core, "no wood or core is soft");
    ask(c.weld_near_base, "no weld lies within 1 in (25 mm) of a ledge's bolts");
    out.verdict = out.holds_if.empty() ? Verdict::holds : Verdict::holds_if;
  }

  // The load that is worst of all deciding ones.
  [[nodiscard]] const Worst* worst_of_all() const {
    const Worst* worst = nullptr;
    for (std::size_t i = 0; i < worst_.size(); ++i) {
      if (worst_[i].load_case < 0 || !engine_.modes()[i].mode->needs_load) continue;
      if (worst == nullptr || worst_[i].ratio < worst->ratio) worst = &worst_[i];
    }
    return worst;
  }

  void supports(Assessment& out) {
    const Worst* w = worst_of_all();
    if (w == nullptr) return;
    const LoadCase& c = engine_.cases()[std::size_t(w->load_case)];
    (void)engine_.act(w->variant, w->trial, engine_.load(c, w->trial, c.pull.value()));
    const auto& all = engine_.model(w->variant, w->trial.near).structure.supports;
    for (std::size_t i = 0; i < all.size(); ++i) {
      SupportRow r;
      r.name = all[i].support.name;
      r.force = engine_.answer().s(Eigen::Index(i)) * si::newton;
      r.open = !all[i].support.two_way && r.force.value() == 0;
      out.supports.push_back(r);
    }
  }

  // Last of all, as it leaves other contact states behind.
  void forces(Assessment& out) {
    const Worst* worst = nullptr;
    for (std::size_t i = 0; i < worst_.size(); ++i) {
      const FailureMode& mode = *engine_.modes()[i].mode;
      if (worst_[i].load_case < 0 || !mode.needs_load || mode.fatigue) continue;
      if (worst == nullptr || worst_[i].ratio < worst->ratio) worst = &worst_[i];
    }
    for (std::size_t i = 0; i < out.cases.size(); ++i) {
      const CaseResult& c = out.cases[i];
      if (!c.motion.empty() || c.worst_mode.empty()) continue;
      std::optional<CaseForces> f = board::forces_of(engine_, s_, c.load_case, hardest_of_case_[i]);
      if (!f) continue;
      f->loading.load_case = i;
      f->loading.words = c.direction;
      if (worst != nullptr && worst->load_case == int(i)) out.worst_forces = out.forces.size();
      out.forces.push_back(std::move(*f));
    }
  }

  void movements(Assessment& out) {
    for (int g = 0; g < int(s_.gear.size()); ++g) {
      const Gear& gear = s_.gear[std::size_t(g)];
      if (!gear.downrigger) continue;
      // Under the pull that the brake lets by, or else the towed wire in waves.
      int index = -1;
      for (std::size_t i = 0; i < engine_.cases().size(); ++i) {
        const LoadCase& c = engine_.cases()[i];
        if (c.gear != g || c.path != LoadPath::tip || c.left_out) continue;
        if (c.kind == "trolling-in-waves" && index < 0) index = int(i);
        if (c.kind == "hung-up-slipping" || c.kind == "hung-up-weak-link") index = int(i);
      }
      if (index < 0) continue;
      const LoadCase& c = engine_.cases()[std::size_t(index)];
      MovementRow r;
      r.gear = gear.name;
      r.pull = c.pull;
      const double boom = gear.downrigger->boom_length.value();
      const std::vector<Trial> all = engine_.trials(c, coarse(c, options_.step));
      // At rest no direction counts.
      if (engine_.act(0, all.front(), engine_.load(c, all.front(), 0)).mechanism) continue;
      const auto at_rest = engine_.base_motion(g);
      for (const Trial& t : all) {
        if (engine_.act(0, t, engine_.load(c, t, c.pull.value())).mechanism) continue;
        const Eigen::Matrix<double, 6, 1> m = engine_.base_motion(g) - at_rest;
        const Eigen::Vector3d tip = engine_.common().gear[std::size_t(g)].to_board *
                                    boom_tip(*gear.downrigger, std::size_t(t.boom)).si_values();
        const Eigen::Vector3d turn = m.tail<3>();
        const Eigen::Vector3d shift = m.head<3>() + turn.cross(tip);
        if (shift.norm() > r.tip.value()) {
          r.tip = shift.norm() * si::metre;
          r.base = m.head<3>().norm() * si::metre;
          r.turn = turn.norm() * si::radian;
        }
      }
      const double share = boom > 0 ? r.tip.value() / boom : 0;
      r.rough = share >= 0.10;  // rotations are no longer small
      r.feel = share < 0.02   ? "stiff"
               : share < 0.05 ? "gives a little"
               : share < 0.10 ? "springy"
                              : "swings: the figures are rough, the board needs more hold";
      out.movements.push_back(r);
    }
    for (std::size_t i = 0; i < engine_.cases().size(); ++i) {
      const LoadCase& c = engine_.cases()[i];
      if (c.kind != "sit-on-board" || c.left_out) continue;
      Trial middle = engine_.trials(c, coarse(c, options_.step)).front();
      middle.way = line_direction(Angle{}, 90.0_deg);
      double sag = 0;
      for (const Side near : {Side::port, Side::starboard}) {
        middle.near = near;
        if (!engine_.act(0, middle, engine_.load(c, middle, c.pull.value())).mechanism) {
          sag = std::min(sag, engine_.sag());
        }
      }
      out.notes.push_back("the middle of the board sags " +
                          show(Length::from_value(std::round(-sag * 1e4) / 1e4), s_.units) +
                          " when somebody sits on it (" + about(c.pull, s_.units) + ")");
    }
  }

  [[nodiscard]] std::vector<LoadCase> owners_cases() const {
    const auto& all = engine_.cases();
    return {all.begin(), all.end() - std::ptrdiff_t(engine_.hidden())};
  }

  // A bolt of its foot through wood lies nearer than a hold-down may.
  [[nodiscard]] bool near_an_edge(const Gear& g) const {
    const CrossBoard& m = s_.board();
    if (!g.foot || !m.board.wood) return false;
    const Length d = g.foot->thread.diameter;
    return std::any_of(g.foot->holes.begin(), g.foot->holes.end(), [&](const PlanPoint& p) {
      const Length x = m.station({g.place.side, g.place.outboard + p.y, g.place.forward + p.x});
      const Length edge = 0.5 * m.board.width - abs(Length(g.place.forward + p.x));
      const Length end = std::min<Length>(x, m.board.length - x);
      return edge < checks::least_edge_in_board(d) * (1 - 1e-9) ||
             end < checks::least_end_in_board(d) * (1 - 1e-9);
    });
  }

  // What this board depends on and no check covers.
  [[nodiscard]] std::vector<std::string> unchecked() const {
    const CrossBoard& m = s_.board();
    std::vector<std::string> out;
    for (const Side side : {Side::port, Side::starboard}) {
      const Ledge& l = m.ledge(side);
      const std::string the = "the " + std::string(word_for(side)) + " ledge";
      if (l.kind != LedgeKind::angle || !l.metal || !l.fastening) {
        out.push_back("how " + the + " is held to the hull: not described");
        continue;
      }
      const LedgeFastening& f = *l.fastening;
      if (f.hull == HullKind::laminate) {
        out.push_back("the laminate round the bolts of " + the + ": no published strength in hand");
      } else if (f.hull == HullKind::timber) {
        out.push_back("the wood round the bolts of " + the);
      } else if (f.backing && f.backing->thickness >= 1.5 * f.hull_thickness) {
        out.push_back("the plate behind the hull at " + the);
      }
    }
    for (const Gear& g : s_.gear) {
      if (!g.foot)
        out.push_back("the bolts of the " + g.name + " through the board: not described");
      if (near_an_edge(g))
        add_condition(out, "splitting of the board at a gear's bolts, near its edge or end");
    }
    const BoardPiece& b = m.board;
    if (!b.wood) out.emplace_back("the walls of the board at its bolts and seats");
    if (b.form == BoardForm::plank_with_strip) out.emplace_back("glue and bolts of the strip");
    if (b.wood && b.thickness > b.width)
      out.emplace_back("splitting of the plank on edge at bolts");
    for (const Leg& l : m.legs) {
      add_condition(out, "the " + std::string(word_for(l.stands_on)) + " that the legs stand on");
      if (l.beside) add_condition(out, "bolts of the leg beside the board");
    }
    return out;
  }

  void words(Assessment& out);

  const Setup& s_;
  const AssessOptions& options_;
  Engine engine_;
  // Not used: two searches of one thing, the lower counting, found on boards with rods what one
  // missed (a hold limit of 7 N for 24 N). To be set by board::Mirror::of once the search finds it
  // alone.
  std::optional<board::Mirror> mirror_;
  std::vector<Worst> worst_;
  std::vector<CaseResult> results_;
  std::vector<std::vector<Start>> per_case_;  ///< case, mode: worst load
  std::vector<std::vector<Hard>> hardest_;    ///< case: worst ratio of each load
  std::vector<std::vector<Start>> starts_;    ///< mode
  std::vector<double> last_;                  ///< mode: ratio under the last load
  std::vector<board::Hardest> hardest_of_case_;
  std::vector<std::pair<int, Trial>> of_limits_;  ///< case, load: what sets those of a gear
  std::vector<std::optional<Force>> all_go_;      ///< of each gear when all hang up at once
  std::string mechanism_, remedy_;
};

std::string in_words(const CheckResult& c) {
  return c.gives_way + (c.where.empty() ? "" : " (" + c.where + ")");
}

void BoardAssessor::words(Assessment& out) {
  const ReaderUnits u = s_.units;
  for (const CheckResult& c : out.checks) {
    if (c.standing != Standing::applies || !c.goes_at) continue;
    LadderStep& step = out.ladder.emplace_back();
    step.what = in_words(c);
    step.low = c.goes_at;
    step.mode = c.mode;
    step.part = c.where;
  }
  finish_ladder(s_, out, "hull", all_go_);

  // Sentence.
  const CheckResult* worst = nullptr;
  for (const CheckResult& c : out.checks) {
    if (c.standing != Standing::applies) continue;
    if (worst == nullptr) worst = &c;
  }
  if (out.verdict == Verdict::no_verdict) {
    for (const std::string& r : out.reasons) {
      out.sentence += (out.sentence.empty() ? "" : "; ") + r;
    }
  } else {
    if (worst != nullptr && worst->holds && !worst->case_title.empty()) {
      out.sentence = "nearest to giving way: the " + in_words(*worst) + ", factor " +
                     show_factor(worst->factor) + " where " + show_number(worst->needed) +
                     " is needed (" + worst->case_title + ")";
    } else if (worst != nullptr) {
      out.sentence = "the " + in_words(*worst) + ": factor " + show_factor(worst->factor) +
                     " where " + show_number(worst->needed) + " is needed" +
                     (worst->case_title.empty() ? "" : " (" + worst->case_title + ")");
    }
    // The limits look in every direction, the single items only where they are hardest.
    const GearLimit* weakest = nullptr;
    for (const GearLimit& l : out.gear_limits) {
      if (l.not_before && (weakest == nullptr || *l.not_before < *weakest->not_before))
        weakest = &l;
    }
    if (weakest != nullptr && !weakest->first.empty()) {
      out.sentence += "; first to go under a pull: the " + weakest->first + ", not before about " +
                      about(*weakest->not_before, u, Rounding::down);
    }
  }

  // What to do.
  for (const CheckResult& r : out.checks) {
    if (r.standing != Standing::applies || r.holds || limits_life(s_, r.mode)) continue;
    add_condition(out.to_do, r.advice);
  }
  if (out.to_do.size() > 3) out.to_do.resize(3);
  if (!mechanism_.empty()) out.to_do = {remedy_};
  for (std::size_t i = 0; i < out.gear_limits.size(); ++i) {
    const GearLimit& l = out.gear_limits[i];
    for (const Gear& g : s_.gear) {
      if (g.name == l.gear && g.downrigger) advise_brake(*g.downrigger, l, u, out.to_do);
    }
  }

  // Cautions.
  auto& c = out.cautions;
  c.emplace_back(s_.use.not_a_seat ? "not a seat, step or handhold: mark that on the board"
                                   : "not a step or handhold for boarding");
  for (const CaseResult& r : out.cases) {
    if (r.load_case.kind == "boarding-grab" && !r.load_case.left_out &&
        (!r.holds || !r.motion.empty())) {
      c.emplace_back("a swimmer who climbs in by it may break or tip it");
    }
  }
  c.emplace_back("never tie off, tow, moor, anchor or lift from this board");
  c.emplace_back(
      "snagged: throttle off, cutter at hand, release before you turn; never power "
      "against it");
  if (std::string seized = if_seized(out, u); !seized.empty()) c.push_back(std::move(seized));
  c.emplace_back("before drilling look behind: fuel, wires, cables, foam, outer hull");
  const BoardPiece& b = s_.board().board;
  for (const std::string& text : pair_cautions(s_)) c.push_back(text);
  if (const std::string cracks = may_crack(s_, out.checks, false); !cracks.empty()) {
    c.push_back("an estimate: " + cracks + "; look every season");
  }
  for (const CheckResult& r : out.checks) {
    if (r.lowered) c.push_back("the factor needed for \"" + r.gives_way + "\" was lowered");
  }
  for (const MovementRow& m : out.movements) {
    if (m.tip.value() > 0.1 * 0.6) {
      c.push_back("the boom tip of " + m.gear + " swings " + show(m.tip, u) +
                  ": figures are rough");
    }
  }

  // Not checked.
  auto& n = out.not_checked;
  n.emplace_back("the gear's own body, boom and clamp");
  n.emplace_back("the hull round the ledges");
  n.emplace_back("cross-grain bending of the board under a gear's foot");
  n.emplace_back("working loose, wear, corrosion, decay");
  add_fatigue_not_checked(s_, engine_.cases(), n);
  for (const LoadCase& k : engine_.cases()) {
    if (k.kind == "on-the-trailer" && k.left_out) n.emplace_back("the trailer");
  }
  n.emplace_back("stability of the boat");
  for (const std::string& item : unchecked()) add_condition(n, item);

  // Notes and sources.
  out.notes.emplace_back(
      "seats, legs and bolts assessed at a third, once and three times their guessed stiffness, "
      "the "
      "board held along itself at either end, hold-downs also with 0.5 mm of slack: each check "
      "takes its bad end");
  for (const CheckResult& r : out.checks) {
    if (r.standing == Standing::applies) add_source(out.sources, r.source);
  }
  if (b.wood) add_source(out.sources, b.wood->source);
  if (b.metal) add_source(out.sources, b.metal->source);
  for (const HoldDown& h : s_.board().hold_downs) {
    add_source(out.sources, h.material.source);
    add_source(out.sources, h.thread.source);
    if (h.eye) add_source(out.sources, h.eye->source);
  }
  for (const auto& [group, value] : s_.required_factors) add_source(out.sources, value.source);
  add_source(out.sources, {"ASCE 7-10, 4.5.1 and 4.5.4, point loads of people", "", Seen::page});
  add_source(out.sources,
             {"towed wire: steady equations of Pode 1951 and Landweber 1947", "", Seen::memory});
}

}  // namespace

Assessment assess_board(const Setup& s, const AssessOptions& options) {
  return BoardAssessor(s, options).run();
}

}  // namespace thole
