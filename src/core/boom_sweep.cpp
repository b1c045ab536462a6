#include <algorithm>
#include <cmath>
#include <limits>

#include <thole/error.hpp>

#include "core/assessment_parts.hpp"
#include "core/board_engine.hpp"
#include "core/stable_order.hpp"

namespace thole {

using board::Engine;
using board::Mode;
using board::Trial;

namespace {

constexpr double infinite = std::numeric_limits<double>::infinity();
constexpr double most_pull = 1e5;  // N
constexpr std::size_t hardest_kept = 16;
constexpr std::size_t most_followed = 8;

bool same_azimuth(Angle a, Angle b) {
  return std::abs(std::remainder((a - b).value(), 2 * std::numbers::pi)) < 1e-6;
}

bool is_among(const std::vector<Angle>& angles, Angle a) {
  return std::any_of(angles.begin(), angles.end(),
                     [&](const Angle& o) { return same_azimuth(o, a); });
}

// Every `step` all round, and the angles of the setup.
Setup with_all_angles(const Setup& s, int gear, Angle step) {
  Setup out = s;
  auto& angles = out.gear[std::size_t(gear)].downrigger->boom_angles;
  const int n = std::max(1, int(std::lround(2 * std::numbers::pi / step.value())));
  for (int i = 0; i < n; ++i) {
    const Angle a = (2 * std::numbers::pi * i / n - std::numbers::pi) * si::radian;
    if (!is_among(angles, a)) angles.push_back(a);
  }
  for (Angle& a : angles) {
    // -180 and 180 deg are one: from just above -180 to 180.
    double v = std::remainder(a.value(), 2 * std::numbers::pi);
    if (v < -std::numbers::pi + 1e-9) v += 2 * std::numbers::pi;
    a = v * si::radian;
  }
  std::sort(angles.begin(), angles.end());
  return out;
}

// Heeling moment of a pull on one gear whose boom points one way.
std::optional<Moment> heeling_of(Setup s, int gear, Angle azimuth, LoadCase c, Force pull) {
  s.gear[std::size_t(gear)].downrigger->boom_angles = {azimuth};
  c.pull = pull;
  const BoatSide side = parts::boat_side(s, {c});
  if (side.rows.empty()) return std::nullopt;
  return side.rows.front().moment;
}

// One load that is hard at one azimuth.
struct Hard {
  double ratio = infinite;
  int variant = 0;
  Trial trial;
};

class Sweep {
 public:
  Sweep(const Setup& s, int gear, Angle step, const AssessOptions& options)
      : setup_(with_all_angles(s, gear, step)),
        gear_(gear),
        allowed_(s.gear[std::size_t(gear)].downrigger->boom_angles),
        step_(3.0 * options.step),
        engine_(setup_) {}

  std::vector<BoomRow> run() {
    std::vector<BoomRow> rows;
    const auto& angles = downrigger().boom_angles;
    for (std::size_t i = 0; i < angles.size(); ++i) rows.push_back(row(angles[i], i));
    return rows;
  }

 private:
  [[nodiscard]] const Downrigger& downrigger() const {
    return *setup_.gear[std::size_t(gear_)].downrigger;
  }

  // Trials of a case with the boom at one of the angles, whatever its height.
  [[nodiscard]] std::vector<Trial> trials_at(const LoadCase& c, std::size_t angle) const {
    std::vector<Trial> out;
    const std::size_t n = downrigger().boom_angles.size();
    for (Trial t : engine_.trials(c, step_)) {
      if (std::size_t(t.boom) % n != angle) continue;
      // Their other positions are in the list, or looked at in `otherwise`.
      if (t.others < 0) t.others = 0;
      out.push_back(t);
    }
    return out;
  }

  BoomRow row(Angle azimuth, std::size_t angle) {
    BoomRow r;
    r.gear = setup_.gear[std::size_t(gear_)].name;
    r.azimuth = azimuth;
    r.allowed = is_among(allowed_, azimuth);
    r.worst_ratio = infinite;
    std::vector<Hard> hard;
    int widest = -1;
    for (std::size_t i = 0; i < engine_.cases().size(); ++i) {
      const LoadCase& c = engine_.cases()[i];
      if (c.left_out) continue;
      // A ball left on the tip belongs to the boom as well.
      if (c.path == LoadPath::ride && c.ball_on_tip && c.decides) look(c, angle, r, hard);
      if (c.gear != gear_ || c.path != LoadPath::tip) continue;
      if (c.others == Others::towing && c.origin != CaseOrigin::added &&
          (widest < 0 || c.ranges.size() >= engine_.cases()[std::size_t(widest)].ranges.size())) {
        widest = int(i);
      }
      if (c.decides) look(c, angle, r, hard);
    }
    if (widest >= 0 && std::isfinite(r.worst_ratio)) limit(int(widest), angle, r, hard);
    return r;
  }

  double ratio_of(const LoadCase& c, int variant, const Trial& t, double pull, const Mode** which) {
    return engine_.worst_ratio(variant, t, engine_.load(c, t, pull), c.category, true, nullptr,
                               which);
  }

  void look(const LoadCase& c, std::size_t angle, BoomRow& r, std::vector<Hard>& hard) {
    std::vector<Hard> starts;
    const auto attempt = [&](int variant, const Trial& t) {
      const Mode* which = nullptr;
      const double ratio = ratio_of(c, variant, t, c.pull.value(), &which);
      if (c.path == LoadPath::tip && c.others == Others::towing) {
        hard.push_back({ratio, variant, t});
      }
      if (ratio < r.worst_ratio) {
        r.worst_ratio = ratio;
        r.gives_way = which != nullptr ? std::string(which->mode->gives_way) : "the board tips";
        r.case_title = c.title;
      }
      return ratio;
    };
    const std::vector<Trial> all = trials_at(c, angle);
    for (int variant = 0; variant < Engine::variants(); ++variant) {
      for (const Trial& t : all) starts.push_back({attempt(variant, t), variant, t});
    }
    if (c.path == LoadPath::ride) return;
    sort_stably(starts, [](const Hard& a, const Hard& b) { return a.ratio < b.ratio; });
    // The hardest of each part of the sky and of each position of the others.
    std::vector<Hard> followed;
    for (const Hard& s : starts) {
      if (s.ratio > 1.12 * r.worst_ratio || followed.size() == most_followed) break;
      const bool near = std::any_of(followed.begin(), followed.end(), [&](const Hard& f) {
        return f.trial.others == s.trial.others && f.trial.boom == s.trial.boom &&
               f.trial.way.si_values().dot(s.trial.way.si_values()) > 0.9;
      });
      if (near) continue;
      followed.push_back(s);
      follow(c, s, attempt);
    }
  }

  template <class Attempt>
  void follow(const LoadCase& c, Hard worst, const Attempt& attempt) {
    Angle step = 0.5 * step_;
    for (int round = 0; round < 6; ++round) {
      const double before = worst.ratio;
      const auto take = [&](int variant, const std::vector<Trial>& all) {
        for (const Trial& t : all) {
          const double ratio = attempt(variant, t);
          if (ratio < worst.ratio) worst = {ratio, variant, t};
        }
      };
      take(worst.variant, engine_.around(c, worst.trial, step));
      if (round % 2 == 0) {
        take(worst.variant, engine_.otherwise(c, worst.trial));
        for (int v = 0; v < Engine::variants(); ++v) take(v, {worst.trial});
      }
      if (worst.ratio >= before) step = 0.5 * step;
    }
  }

  void limit(int widest, std::size_t angle, BoomRow& r, std::vector<Hard>& hard) {
    const LoadCase& c = engine_.cases()[std::size_t(widest)];
    sort_stably(hard, [](const Hard& a, const Hard& b) { return a.ratio < b.ratio; });
    std::vector<Hard> first(hard.begin(),
                            hard.begin() + std::ptrdiff_t(std::min(hardest_kept, hard.size())));
    double best = most_pull;
    Hard where;
    const auto attempt = [&](int variant, const Trial& t) {
      if (!(best > 0)) return;
      if (engine_.worst_ratio(variant, t, engine_.load(c, t, best), Category::occasional, true,
                              nullptr, nullptr, true) >= 1) {
        return;
      }
      const Engine::Limit l = engine_.largest_pull(variant, c, t, best, true, nullptr);
      if (l.pull < best) {
        best = l.pull;
        where = {0, variant, t};
      }
    };
    for (const Hard& h : first) attempt(h.variant, h.trial);
    const std::vector<Trial> all = trials_at(c, angle);
    for (int variant = 0; variant < Engine::variants(); ++variant) {
      for (const Trial& t : all) attempt(variant, t);
    }
    if (best >= most_pull) return;
    Angle step = 0.5 * step_;
    for (int round = 0; round < 5; ++round) {
      const double before = best;
      const Hard centre = where;
      for (const Trial& t : engine_.around(c, centre.trial, step)) attempt(centre.variant, t);
      for (const Trial& t : engine_.otherwise(c, centre.trial)) attempt(centre.variant, t);
      if (best >= before) step = 0.5 * step;
    }
    r.hold_limit = best * si::newton;
    r.heeling = heeling_of(setup_, gear_, r.azimuth, c, *r.hold_limit);
  }

  Setup setup_;
  int gear_;
  std::vector<Angle> allowed_;
  Angle step_;
  Engine engine_;
};

// On a plate, where one azimuth is a small assessment of its own.
std::vector<BoomRow> sweep_plate(const Setup& s, int gear, Angle step,
                                 const AssessOptions& options) {
  Setup one = with_all_angles(s, gear, step);
  Downrigger& d = *one.gear[std::size_t(gear)].downrigger;
  const std::vector<Angle> angles = d.boom_angles;
  // At full factors: none counts that the user lowered.
  std::erase_if(one.factor_overrides, [&](const auto& own) {
    return own.second < s.required_factors.at(own.first).measure.si;
  });
  AssessOptions quick = options;
  quick.neighbours = false;
  quick.one_missing = quick.by_direction = quick.after_loss = quick.margins = false;
  std::vector<BoomRow> rows;
  for (const Angle& azimuth : angles) {
    d.boom_angles = {azimuth};
    const Assessment a = assess_plate(one, quick);
    BoomRow r;
    r.gear = one.gear[std::size_t(gear)].name;
    r.azimuth = azimuth;
    r.allowed = is_among(s.gear[std::size_t(gear)].downrigger->boom_angles, azimuth);
    r.worst_ratio = infinite;
    r.hold_limit = a.gear_limits[std::size_t(gear)].hold_limit;
    const LoadCase* widest = nullptr;
    for (const CaseResult& c : a.cases) {
      const LoadCase& own = c.load_case;
      const bool pull = own.gear == gear && own.path == LoadPath::tip;
      if (own.left_out || !(pull || own.ball_on_tip)) continue;
      if (pull && (widest == nullptr || own.ranges.size() >= widest->ranges.size())) widest = &own;
      if (!own.decides) continue;
      const double ratio = c.motion.empty() ? c.factor / c.needed : 0.0;
      if (c.motion.empty() && c.worst_mode.empty()) continue;
      if (ratio >= r.worst_ratio) continue;
      r.worst_ratio = ratio;
      r.gives_way = c.motion.empty() ? c.worst_gives_way : c.motion;
      r.case_title = own.title;
    }
    if (r.hold_limit && widest != nullptr) {
      r.heeling = heeling_of(one, gear, azimuth, *widest, *r.hold_limit);
    }
    rows.push_back(r);
  }
  return rows;
}

}  // namespace

std::vector<BoomRow> boom_sweep(const Setup& s, Angle step, const AssessOptions& options) {
  validate(s);
  if (!(step.value() >= degrees(1).value()) || !(step.value() <= degrees(90).value())) {
    throw DomainError("sweep of the booms: a step of 1 to 90 deg is expected");
  }
  std::vector<BoomRow> out;
  for (std::size_t i = 0; i < s.gear.size(); ++i) {
    if (!s.gear[i].downrigger) continue;
    const std::vector<BoomRow> rows = s.on_board() ? Sweep(s, int(i), step, options).run()
                                                   : sweep_plate(s, int(i), step, options);
    out.insert(out.end(), rows.begin(), rows.end());
  }
  if (out.empty()) throw DomainError("sweep of the booms: a downrigger is expected");
  return out;
}

}  // namespace thole
