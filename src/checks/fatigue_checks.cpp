// Cracks in time: parts of metal of both mounts under the loads of every day. A range is what a
// part feels between slack and the load at hand, weights included.

#include <algorithm>
#include <cmath>
#include <numbers>

#include <thole/metal_strength.hpp>
#include <thole/motions.hpp>
#include <thole/thread.hpp>

#include "checks/board_checks.hpp"
#include "checks/board_model.hpp"
#include "checks/checks.hpp"
#include "core/bracket.hpp"
#include "core/geometry.hpp"
#include "core/metal_hold.hpp"

namespace thole {

namespace {

// All of them judgement.
constexpr double seasons = 20;
constexpr double waves_in_an_hour = 1500;  // where nothing better is known, as the load cases
constexpr double turning_share = 0.1;      // of the hours
constexpr double running_share = 0.1;      // of the hours
constexpr double bumps_in_an_hour = 3600;  // running, and on the road
constexpr double salt_shortens = 2;        // splashed, not under water
constexpr double least_share = 1.0 / 3;
constexpr double threads_wear_from = 1e5;  // cycles
// On the road along and across the boat, over what comes from below.
constexpr double road_aside = 0.5;
// Highest over significant wave of about a thousand, and mean over the highest hundredth of peaks
// that follow an exponential law.
constexpr double highest_wave = 1.86;
constexpr double hundredth_over_mean = 5.6;

bool is_pull(const LoadCase& c) {
  return c.path == LoadPath::tip || c.path == LoadPath::line || c.path == LoadPath::point;
}

// Waves of all heights as one, over the highest: Rayleigh.
double rayleigh(double m) {
  return std::pow(std::tgamma(1 + 0.5 * m), 1 / m) / (std::numbers::sqrt2 * highest_wave);
}

struct Everyday {
  double crest = 0;  ///< of the pull
  double mean = 0;
  [[nodiscard]] double share() const {
    return crest > 0 ? std::clamp(1 - mean / crest, least_share, 1.0) : 0.0;
  }
};

// Mean, over the highest hundredth of peaks by an exponential law, of ranges that do the harm of
// all.
double exponential(double m) { return std::pow(std::tgamma(1 + m), 1 / m) / hundredth_over_mean; }

// What the everyday bumps of the running boat are, in g.
struct Running {
  double bump = 0;  ///< on top of gravity
  double fore = 0;
  double aside = 0;
  void take(const Shake& s) {
    bump = std::max(bump, -s.up - 1);
    fore = std::max(fore, std::abs(s.forward));
    aside = std::max(aside, std::abs(s.starboard));
  }
  // Range on the road over the load at hand, for the part that feels the road most.
  [[nodiscard]] double road(double m) const {
    const RoadAcceleration a = road_acceleration();
    const double peak = std::max(a.down - 1, 1 - a.up);
    const double least = std::min(fore, aside);
    return 2 * peak * exponential(m) * std::max(1 / (1 + bump), road_aside / least);
  }
};

// Hours of a season on the road that count: nothing to measure them by where the running boat
// shakes nothing.
double road_hours_of(const Setup& s, const std::vector<LoadCase>& cases, const Running& running) {
  const bool travels = std::any_of(cases.begin(), cases.end(), [](const LoadCase& c) {
    return c.kind == "on-the-trailer" && !c.left_out;
  });
  return travels && std::min(running.fore, running.aside) > 0.05 ? s.use.road_hours_per_season : 0;
}

}  // namespace

FatigueWay fatigue_way_of(const Direction<Boat>& d) {
  const double level = std::hypot(d.x(), d.y());
  if (level < std::cos(degrees(75).value())) return FatigueWay::straight;
  const double aside = std::atan2(std::abs(d.y()), -d.x());
  return aside > degrees(46).value() ? FatigueWay::turning : FatigueWay::straight;
}

FatigueLife fatigue_life_of(const Setup& s) {
  const std::vector<LoadCase> cases = load_cases(s);
  std::array<bool, fatigue_ways> used{};
  double an_hour = 0;
  Running running;
  double share = 0;
  std::vector<Everyday> everyday(s.gear.size());
  for (const LoadCase& c : cases) {
    // Cases that are left out still tell how often waves come.
    an_hour = std::max(an_hour, c.cycles_per_hour);
    if (c.left_out || c.category != Category::everyday || c.path == LoadPath::warning) continue;
    if (c.path == LoadPath::ride) {
      used[std::size_t(FatigueWay::riding)] = true;
      for (const Shake& shake : c.shakes) running.take(shake);
      continue;
    }
    used[std::size_t(FatigueWay::straight)] = true;
    if (c.path == LoadPath::tip || c.path == LoadPath::line) {
      used[std::size_t(FatigueWay::turning)] = true;
    }
    if (c.gear < 0 || !is_pull(c) || c.origin == CaseOrigin::added) {
      share = 1;
      continue;
    }
    Everyday& own = everyday[std::size_t(c.gear)];
    own.crest = std::max(own.crest, c.pull.value());
    if (c.kind == "trolling") own.mean = c.pull.value();
    if (const auto& rod = s.gear[std::size_t(c.gear)].rod_holder) {
      own.mean = std::min<Force>(s.pull_scale * rod->running_pull, c.pull).value();
    }
  }
  if (!(an_hour > 0)) an_hour = waves_in_an_hour;
  for (const Everyday& e : everyday) share = std::max(share, e.share());
  const double hours = seasons * s.use.hours_per_season;
  // Straight towing gets two parts of the life, turning and riding one each.
  constexpr std::array<double, fatigue_ways> part{2, 1, 1};
  double parts = 0;
  for (std::size_t w = 0; w < fatigue_ways; ++w) parts += used[w] ? part[w] : 0.0;
  FatigueLife out;
  out.road_hours = road_hours_of(s, cases, running);
  const double bumps = seasons * out.road_hours * bumps_in_an_hour;
  for (std::size_t w = 0; w < fatigue_ways; ++w) {
    FatigueLife::Way& way = out.ways[w];
    const bool riding = FatigueWay(w) == FatigueWay::riding;
    way.cycles = riding                                 ? hours * running_share * bumps_in_an_hour
                 : FatigueWay(w) == FatigueWay::turning ? hours * turning_share * an_hour
                                                        : hours * an_hour;
    for (std::size_t i = 0; i < fatigue_details; ++i) {
      const auto detail = FatigueDetail(i);
      const double m = fatigue_curve(detail).slope;
      double cycles = way.cycles;
      if (riding) {
        // From free fall to the peak. Bumps of the road as running ones that do the same harm.
        way.share[i] = (1 + 2 * running.bump * exponential(m)) / (1 + running.bump);
        if (bumps > 0) cycles += bumps * std::pow(running.road(m) / way.share[i], m);
      } else {
        const bool level = !(share < 1);  // always the same
        way.share[i] = level ? 1.0 : std::min(1.0, 2 * share * std::max(0.5, rayleigh(m)));
        // Rare harder pulls as everyday ones that do the same harm.
        for (const LoadCase& c : cases) {
          if (c.left_out || c.gear < 0 || !(c.times_per_season > 0) || !is_pull(c)) continue;
          const double crest = everyday[std::size_t(c.gear)].crest;
          if (!(crest > 0)) continue;  // nothing to compare with: static checks cover so few
          cycles +=
              seasons * c.times_per_season * std::pow(c.pull.value() / (way.share[i] * crest), m);
        }
      }
      const double harder = (s.salt_water ? salt_shortens : 1.0) * std::max(1.0, parts / part[w]);
      way.allowed[i] = fatigue_range(detail, std::max(1.0, harder * cycles)) / way.share[i];
    }
    if (riding) way.cycles += bumps;
  }
  return out;
}

namespace checks {

namespace {

constexpr double pi = std::numbers::pi;
constexpr double poisson = 0.33;
// Bending that turns round while the boat runs: a range begins at free fall, sway adds to it.
constexpr double turned_round = 1.3;
// A plate works elastically at two thirds of its plastic moment: Fty t^2/6.
constexpr double elastic = 1.5;

template <class A>
Stress allowed(const A& a, FatigueDetail d) {
  return a.life.of(a.way).allowed[std::size_t(d)];
}

template <class A>
double turns_round(const A& a) {
  return a.way == FatigueWay::riding ? turned_round : 1.0;
}

FatigueDetail of_fastener(const FastenerMaterial& m) {
  // The curve is for steel; aluminium and bronze take the lowest one for metal (judgement).
  return m.modulus.value() > 150e9 ? FatigueDetail::thread_tension : FatigueDetail::bolted_bending;
}

// The worst of stresses with their own allowed ranges.
class Cracks {
 public:
  void take(double range, Stress allowed, int item) {
    const double ratio = range / allowed.value();
    if (ratio <= ratio_) return;
    ratio_ = ratio;
    use_ = {{range, Dimension::stress}, measured(allowed), item};
  }
  [[nodiscard]] Use use() const { return use_; }

 private:
  double ratio_ = -1;
  Use use_{{0, Dimension::stress}, {1, Dimension::stress}, -1};
};

Use unconcerned() { return {{0, Dimension::stress}, {1, Dimension::stress}, -1}; }

// A load in the middle of a patch of radius r pulls on a plate with its support at R: moment per
// width over the load, under the load and at a distance. A long strip b wide counts as a circle of
// radius 2b/pi. Small patches spread by the thickness (Westergaard). Timoshenko and
// Woinowsky-Krieger 16, 33 and 37, from memory.
double patch_radius(double r, double t) {
  return r < 0.5 * t ? std::sqrt(1.6 * r * r + t * t) - 0.675 * t : r;
}

double under_load(double patch, double support) {
  const double far = std::max(4 / pi * support, patch);
  return ((1 + poisson) * std::log(far / patch) + 1) / (4 * pi);
}

double beside_load(double distance, double patch, double support) {
  const double far = 4 / pi * support;
  const double r = std::max(distance, patch);
  return r < far ? ((1 + poisson) * std::log(far / r) + (1 - poisson)) / (4 * pi) : 0.0;
}

bool comes_and_goes(const Setup& s) {
  if (s.on_board() || !s.case_edits.empty()) return true;
  return std::any_of(s.gear.begin(), s.gear.end(), [](const Gear& g) {
    if (g.plain_load) {
      return g.plain_load->category == Category::everyday || g.plain_load->mass.value() > 0;
    }
    return g.rod_holder.has_value() || g.downrigger.has_value();
  });
}

Applicability if_it_comes_and_goes(const Setup& s, Applicability a) {
  if (a.standing == Standing::applies && !comes_and_goes(s)) {
    return {Standing::not_concerned, "no load of every day"};
  }
  return a;
}

// Radius of what holds the wall at a fastener: as the checks of the wall take it, a plate behind
// no farther than three times its thickness beyond the washer or screw.
double boss(const Setup& s, const PlanPoint& p) {
  const Fastening& f = s.plate().fastening;
  Length r = 0.5 * f.thread.diameter;
  if (f.hold == HoldBy::through_bolt) {
    r = 0.5 * (f.washer ? f.washer->outside : f.thread.head_across_flats);
  }
  if (f.backing) {
    const Length overhang = geometry::to_backing_edge(*f.backing, p) - r;
    r += std::clamp(overhang, Length{}, 3.0 * f.backing->thickness);
  }
  return r.value();
}

// Stress of a plate from its share of the plastic moment.
double elastic_stress(const Use& plastic, const Metal& metal) {
  return plastic.strength.si > 0
             ? elastic * metal.yield.value() * plastic.demand.si / plastic.strength.si
             : 0.0;
}

}  // namespace

// ---- Gunwale plates
// ------------------------------------------------------------------------------

Applicability wall_fatigue_applies(const Setup& s) { return if_it_comes_and_goes(s, {}); }

Use wall_fatigue(const Setup& s, const Actions& a, Category c) {
  if (c != Category::everyday) return unconcerned();
  const Host& h = s.plate().host;
  const auto& holes = s.plate().fastening.holes;
  const double t = h.thickness.value();
  const Stress at_hole = allowed(a, FatigueDetail::bolted_bending);
  Cracks worst;
  std::array<double, max_fasteners> patch{}, support{};
  for (int j = 0; j < a.count; ++j) {
    const auto k = std::size_t(j);
    support[k] = geometry::to_far_support(s.plate(), holes[k]).value();
    patch[k] = patch_radius(boss(s, holes[k]), t);
  }
  for (int i = 0; i < a.count; ++i) {
    const PlanPoint& p = holes[std::size_t(i)];
    double moment = 0;
    for (int j = 0; j < a.count; ++j) {
      const auto k = std::size_t(j);
      const double pull = a.tension[k].value();
      if (!(pull > 0)) continue;
      const double distance = std::hypot((holes[k].x - p.x).value(), (holes[k].y - p.y).value());
      moment += pull * (i == j ? under_load(patch[k], support[k])
                               : beside_load(distance, patch[k], support[k]));
    }
    worst.take(6 * moment / (t * t), at_hole, i);
  }
  if (s.plate().fastening.backing) {
    // Held between base and plate the wall bends where that ends: as its yield lines have it, a
    // detail without holes but with a hard edge on it.
    worst = {};
    const bool weld = s.condition.weld_near_base == Answer::yes;
    const Use plastic = wall_yield(s, a, c);
    worst.take(elastic_stress(plastic, h.metal),
               allowed(a, weld ? FatigueDetail::bolted_bending : FatigueDetail::bolted),
               plastic.fastener);
  }
  if (h.form == WallForm::open_lip) {
    const bool weld = s.condition.weld_near_base == Answer::yes;
    const FatigueDetail root = weld ? FatigueDetail::bolted_bending : FatigueDetail::plain_metal;
    const double turn = turns_round(a);
    worst.take(turn * elastic_stress(lip_bending(s, a, c), h.metal), allowed(a, root), -1);
  }
  return worst.use();
}

Applicability base_fatigue_applies(const Setup& s) {
  return if_it_comes_and_goes(
      s, s.plate().bracket ? bracket_bends_applies(s) : base_bending_applies(s));
}

Use base_fatigue(const Setup& s, const Actions& a, Category c) {
  if (c != Category::everyday) return unconcerned();
  const BasePlate& b = s.plate().base;
  const Fastening& f = s.plate().fastening;
  const double t = b.thickness.value();
  const double turn = turns_round(a);
  Cracks worst;
  if (s.plate().bracket) {
    // Where it bends most may be a line of holes, or the foot of its gear, which is bolted on.
    worst.take(turn * elastic_stress(bracket_bends(s, a, c), *b.metal),
               allowed(a, FatigueDetail::bolted_bending), -1);
    return worst.use();
  }
  // At the foot of the body plain metal; how the body is joined to it is the gear's own affair.
  worst.take(turn * elastic_stress(base_bending(s, a, c), *b.metal),
             allowed(a, FatigueDetail::plain_metal), -1);
  // On a cut through a hole: what presses beyond it, and what prying puts on its edge.
  const Stress at_hole = allowed(a, FatigueDetail::bolted_bending);
  for (int i = 0; i < a.count; ++i) {
    const PlanPoint& p = f.holes[std::size_t(i)];
    const auto cut = [&](double x, double y) {
      const Length at = x * p.x + y * p.y;
      if (!(at.value() > 0)) return;
      double width = geometry::chord(b.outline, x, y, at).value();
      double pried = 0;
      Length edge{};
      for (const PlanPoint& q : b.outline) edge = std::max(edge, Length(x * q.x + y * q.y));
      for (int j = 0; j < a.count; ++j) {
        const auto k = std::size_t(j);
        const Length beyond = x * f.holes[k].x + y * f.holes[k].y - at;
        if (abs(beyond) < 0.5 * f.thread.diameter) width -= f.thread.clearance.value();
        if (beyond > -0.5 * f.thread.diameter) {
          pried += (a.tension[k] - a.result.tension[k]).value() * (edge - at - beyond).value();
        }
      }
      if (!(width > 0)) return;
      const double moment = abs(a.contact->moment_beyond(a.result, x, y, at)).value() + pried;
      worst.take(turn * 6 * moment / (width * t * t), at_hole, i);
    };
    const double size = std::hypot(p.x.value(), p.y.value());
    if (size > 1e-9) cut(p.x.value() / size, p.y.value() / size);
    for (std::size_t k = 0; k < b.outline.size(); ++k) {
      const PlanPoint& q = b.outline[k];
      const PlanPoint& r = b.outline[(k + 1) % b.outline.size()];
      const double nx = (r.y - q.y).value(), ny = (q.x - r.x).value();
      const double side = std::hypot(nx, ny);
      if (side > 1e-9) cut(nx / side, ny / side);
    }
  }
  return worst.use();
}

Applicability backing_fatigue_applies(const Setup& s) {
  return if_it_comes_and_goes(s, backing_applies(s));
}

Use backing_fatigue(const Setup& s, const Actions& a, Category c) {
  if (c != Category::everyday) return unconcerned();
  const Use plastic = backing_bending(s, a, c);
  Cracks worst;
  worst.take(elastic_stress(plastic, s.plate().fastening.backing->metal),
             allowed(a, FatigueDetail::bolted_bending), plastic.fastener);
  return worst.use();
}

Applicability fastener_fatigue_applies(const Setup& s) {
  if (s.plate().fastening.rivet) {
    return {Standing::not_checked, "no curve in hand for rivets that are pulled again and again"};
  }
  if (s.plate().fastening.hold == HoldBy::clamp) {
    return {Standing::not_checked, "no curve in hand for clamps"};
  }
  return if_it_comes_and_goes(s, {});
}

Use fastener_fatigue(const Setup& s, const Actions& a, Category c) {
  if (c != Category::everyday) return unconcerned();
  const Fastening& f = s.plate().fastening;
  const double area = tensile_stress_area(f.thread).value();
  const Stress most = allowed(a, of_fastener(f.material));
  const double share = f.hold == HoldBy::u_bolt ? bracket::share_of_leg : 1.0;
  Cracks worst;
  for (int i = 0; i < a.count; ++i) {
    worst.take(share * a.tension[std::size_t(i)].value() / area, most, i);
  }
  return worst.use();
}

Applicability thread_fatigue_applies(const Setup& s) {
  const Applicability still = any_pull_out_applies(s);
  if (still.standing == Standing::refused) {
    return {Standing::not_concerned, "the threads have no strength to begin with"};
  }
  return if_it_comes_and_goes(s, still);
}

Use thread_fatigue(const Setup& s, const Actions& a, Category c) {
  const Fastening& f = s.plate().fastening;
  const Force once = held_in_metal(f, s.plate().host).value_or(Force{});
  const FatigueLife::Way& way = a.life.of(a.way);
  const double share = std::min(1.0, way.share[std::size_t(FatigueDetail::thread_tension)]);
  const Force strength =
      way.cycles > threads_wear_from ? std::min<Force>(once, once / (3.0 * share)) : once;
  if (c != Category::everyday) return {measured(Force{}), measured(strength), -1};
  return worst_fastener(a, [&](int i) {
    return Use{measured(a.tension[std::size_t(i)]), measured(strength), i};
  });
}

// ---- Cross-boards
// --------------------------------------------------------------------------------

Applicability hold_down_fatigue_applies(const Setup& s) { return pulls_apply(s); }

Use hold_down_fatigue(const BoardActions& a, Category c) {
  if (c != Category::everyday) return unconcerned();
  const board::Model& m = *a.model;
  Cracks worst;
  for (std::size_t i = 0; i < m.hold_downs.size(); ++i) {
    const board::HoldDownData& d = m.hold_downs[i];
    if (d.row < 0) continue;
    const HoldDown& h = m.setup->board().hold_downs[i];
    const double shanks = h.kind == HoldDownKind::u_bolt ? 2 : 1;
    double stress = a.support[d.row] / (shanks * tensile_stress_area(h.thread).value());
    if (d.standoff > 0) {
      const double along = d.shank_x < 0 ? 0.0 : d.share_x * a.support[d.shank_x];
      const double across = d.shank_y < 0 ? 0.0 : a.support[d.shank_y];
      const double root = std::sqrt(root_area(h.thread).value() / (0.25 * pi));
      // A free shank may be pushed to and fro.
      stress +=
          2 * std::hypot(along, across) * d.standoff / (shanks * pi * root * root * root / 32);
    }
    worst.take(stress, allowed(a, of_fastener(h.material)), int(i));
  }
  return worst.use();
}

Applicability ledge_bolt_fatigue_applies(const Setup& s) { return ledge_bolts_apply(s); }

Use ledge_bolt_fatigue(const BoardActions& a, Category c) {
  if (c != Category::everyday) return unconcerned();
  Cracks worst;
  for (const Side side : {Side::port, Side::starboard}) {
    const auto k = std::size_t(side == Side::port ? 0 : 1);
    const Ledge& l = a.model->setup->board().ledge(side);
    if (a.model->ledges[k].holes.empty() || !l.fastening) continue;
    const LedgeFastening& f = *l.fastening;
    worst.take(a.ledge_tension[k] / tensile_stress_area(f.thread).value(),
               allowed(a, of_fastener(f.material)), int(k));
  }
  return worst.use();
}

Applicability gear_bolt_fatigue_applies(const Setup& s) { return foot_applies(s); }

Use gear_bolt_fatigue(const BoardActions& a, Category c) {
  if (c != Category::everyday) return unconcerned();
  const board::Model& m = *a.model;
  Cracks worst;
  for (std::size_t g = 0; g < m.gear.size(); ++g) {
    if (m.gear[g].contact.empty() || !a.loaded[g]) continue;
    const GearFoot& f = *m.setup->gear[g].foot;
    const double area = tensile_stress_area(f.thread).value();
    const Stress most = allowed(a, of_fastener(f.material));
    for (const ContactResult& r : a.foot[g]) {
      if (r.balance == Balance::mechanism) worst.take(1e300, most, int(g));
      for (int i = 0; i < r.count; ++i) {
        worst.take(r.tension[std::size_t(i)].value() / area, most, int(g));
      }
    }
  }
  return worst.use();
}

Applicability ledge_leg_fatigue_applies(const Setup& s) { return angle_applies(s); }

// At the heel the leg is plain metal; at the holes of the hold-downs it bends where it is bolted.
// The board presses and the hold-downs pull at different places: both count, for a wave may press
// where it lifted before.
Use ledge_leg_fatigue(const BoardActions& a, Category c) {
  if (c != Category::everyday) return unconcerned();
  const board::Model& m = *a.model;
  const bool weld = m.setup->condition.weld_near_base == Answer::yes;
  const Stress at_heel =
      allowed(a, weld ? FatigueDetail::bolted_bending : FatigueDetail::plain_metal);
  const Stress at_hole = allowed(a, FatigueDetail::bolted_bending);
  Cracks worst;
  for (const Side side : {Side::port, Side::starboard}) {
    const auto k = std::size_t(side == Side::port ? 0 : 1);
    const board::LedgeData& l = m.ledges[k];
    if (l.leg_moment <= 0) continue;
    const double t = m.setup->board().ledge(side).leg_thickness.value();
    // Pushes and pulls in a line add where the leg feels them together, as in the static checks.
    const auto pushed = [&](double y, double from) {
      double moment = 0;
      for (const board::SeatPoint& p : l.seats) {
        if (p.reach <= 0 || p.from_root <= from) continue;
        const double share = 1 - std::abs(p.y - y) / p.reach;
        if (share <= 0) continue;
        moment += share * a.support[p.row] * p.leg_down * (p.from_root - from) / p.from_root;
      }
      return moment;
    };
    double down = 0, up = 0;
    for (const board::SeatPoint& p : l.seats) down = std::max(down, pushed(p.y, 0));
    for (const int i : l.hold_downs) {
      const board::HoldDownData& here = m.hold_downs[std::size_t(i)];
      if (here.row < 0) continue;
      double moment = 0;
      for (const int n : l.hold_downs) {
        const board::HoldDownData& h = m.hold_downs[std::size_t(n)];
        if (h.leg_lift <= 0 || h.row < 0) continue;
        const double share = 1 - std::abs(h.forward - here.forward) * h.leg_lift / h.from_root;
        if (share > 0) moment += share * a.support[h.row] * h.leg_lift;
      }
      up = std::max(up, moment);
      if (here.from_root <= 0) continue;
      // A nut under the leg.
      const Thread& thread = m.setup->board().hold_downs[std::size_t(i)].thread;
      const double patch =
          patch_radius(0.5 * std::max(thread.head_across_flats, thread.diameter).value(), t);
      const double local = a.support[here.row] * under_load(patch, here.from_root);
      worst.take(6 * (local + pushed(here.forward, here.from_root)) / (t * t), at_hole, int(k));
    }
    worst.take(6 * (down + up) / (t * t), at_heel, int(k));
  }
  return worst.use();
}

Applicability metal_board_fatigue_applies(const Setup& s) { return metal_board(s); }

Use metal_board_fatigue(const BoardActions& a, Category c) {
  if (c != Category::everyday) return unconcerned();
  const board::Model& m = *a.model;
  using namespace board_kernel;
  const Stress at_hole = allowed(a, FatigueDetail::bolted_bending);
  const Stress plain = allowed(a, FatigueDetail::plain_metal);
  const double turn = turns_round(a);
  Cracks worst;
  const double* f = a.cut;
  for (std::size_t i = 0; i < m.cuts.size(); ++i, f += cut_forces) {
    const board::Cut& cut = m.cuts[i];
    double most = 0;
    for (const board::Corner& p : m.shape.corners) {
      most = std::max(most, std::abs(f[bimoment] * p.warp) +
                                cut.net_flat * std::abs(f[bend_flat] * p.flat) +
                                cut.net_edge * std::abs(f[bend_edge] * p.edge));
    }
    most += std::abs(f[axial]) / m.shape.area;
    worst.take(turn * most, cut.hole ? at_hole : plain, int(i));
  }
  return worst.use();
}

}  // namespace checks

}  // namespace thole
