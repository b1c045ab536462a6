#include <thole/assessment.hpp>

#include <algorithm>
#include <cmath>
#include <functional>
#include <limits>
#include <span>

#include <thole/error.hpp>
#include <thole/metal_pairs.hpp>
#include <thole/metal_strength.hpp>

#include "core/assessment_parts.hpp"
#include "core/geometry.hpp"

namespace thole {

using namespace literals;

namespace {

using namespace parts;

constexpr double infinite = std::numeric_limits<double>::infinity();

// How stiff the bed is against the fasteners is a guess: (stiffness of all fasteners) / (bed
// stiffness x contact area) from a hard to a soft bed. Every check takes its bad end (judgement).
constexpr std::array bed_softness{0.05, 0.25, 1.0};
// Wood gives across the grain and panels bend: softer beds too (judgement).
constexpr std::array soft_bed_softness{0.05, 0.25, 1.0, 4.0};

std::span<const double> bed_softness_of(const Host& host) {
  if (host.is_metal()) return bed_softness;
  return soft_bed_softness;
}
const LinearStiffness fastener_stiffness = LinearStiffness::from_value(8e6);
// Bed for the bending of the base: that of the solid models behind `flexible_base_factor`.
const BedStiffness bed_for_flex = BedStiffness::from_value(20e9);

struct Standby {
  const FailureMode* mode = nullptr;
  Applicability applicable;
  double needed = 0;
  double full = 0;  ///< never below the stored one: limits are at full factors
  bool lowered = false;
};

// What acts beside a pull that is looked at: gears that pull in proportion to it, and all that
// stays as it is.
struct Setting {
  std::vector<std::pair<std::size_t, double>> pulling;  ///< gear, its pull over that of the case
  BaseLoad steady;
};

BaseLoad& operator+=(BaseLoad& a, const BaseLoad& b) {
  a.force += b.force;
  a.moment += b.moment;
  return a;
}

BaseLoad operator+(BaseLoad a, const BaseLoad& b) { return a += b; }

BaseLoad operator*(double s, const BaseLoad& b) { return {s * b.force, s * b.moment}; }

bool acts(const BaseLoad& b) { return b.force.norm().value() > 0 || b.moment.norm().value() > 0; }

// One base, ready for any load.
class Engine {
 public:
  explicit Engine(const Setup& s) : setup_(s) {
    const Outline bed = geometry::bed_of(s.plate());
    const auto& holes = s.plate().fastening.holes;
    const double n = double(holes.size());
    const Area area = area_of(bed);
    for (const double softness : bed_softness_of(s.plate().host)) {
      contacts_.emplace_back(bed, BedStiffness(n * fastener_stiffness / (softness * area)), holes,
                             fastener_stiffness);
    }
    starts_.resize(contacts_.size());
    actions_.count = int(holes.size());
    actions_.life = fatigue_life_of(s);
    growth_ = base_growth();
    accident_least_ = s.required_factors.at("metal yield in an accident").measure.si;
    for (const FailureMode& m : catalogue()) {
      if (!is_of_host(m, s)) continue;
      Standby w;
      w.mode = &m;
      w.applicable = m.applies(s);
      const GroupFactor f = group_factor(s, m);
      w.needed = f.needed;
      w.full = f.full;
      w.lowered = f.lowered;
      if (w.applicable.standing == Standing::applies) modes_.push_back(w);
      all_.push_back(w);
    }
    for (const Gear& g : s.gear) weights_ += weight_load(s.plate().host, g, Shake{});
    for (const Gear& g : s.gear) towing_.push_back(towing(g));
  }

  [[nodiscard]] const std::vector<Standby>& modes() const { return modes_; }
  [[nodiscard]] const std::vector<Standby>& all() const { return all_; }

  [[nodiscard]] double needed(const Standby& w, Category c) const {
    return needed_factor(*w.mode, w.needed, c, accident_least_);
  }

  // The others pull or do not: they may load the base or relieve it.
  [[nodiscard]] std::vector<Setting> beside(std::size_t gear) const {
    std::vector<Setting> out{{{{gear, 1.0}}, weights_}};
    BaseLoad others;
    for (std::size_t i = 0; i < setup_.gear.size(); ++i) {
      if (i != gear) others += towing_[i];
    }
    if (!acts(others)) return out;
    out.push_back(out.front());
    out.back().steady += others;
    return out;
  }

  [[nodiscard]] std::vector<Setting> settings(const LoadCase& c) const {
    std::vector<Setting> out;
    if (c.path == LoadPath::ride) {
      for (const Shake& shake : c.shakes) {
        Setting s;
        for (const Gear& g : setup_.gear) s.steady += weight_load(setup_.plate().host, g, shake);
        out.push_back(s);
      }
      return out;
    }
    if (c.others == Others::together) {
      Setting all{{}, weights_};
      for (std::size_t i = 0; i < setup_.gear.size(); ++i) {
        const double share =
            i < c.pulls.size() && c.pull.value() > 0 ? double(c.pulls[i] / c.pull) : 0.0;
        if (share > 0) {
          all.pulling.emplace_back(i, share);
        } else {
          all.steady += towing_[i];
        }
      }
      out.push_back(all);
      // Each alone as well: together they may relieve one another.
      if (all.pulling.size() > 1 || acts(all.steady + -1.0 * weights_)) {
        for (const auto& one : all.pulling) out.push_back({{one}, weights_});
      }
    } else {
      for (std::size_t i = 0; i < setup_.gear.size(); ++i) {
        if (c.gear >= 0 && std::size_t(c.gear) != i) continue;
        for (const Setting& s : beside(i)) out.push_back(s);
      }
    }
    if (!(c.heave > 0)) return out;
    std::vector<Setting> heaving;
    for (const double by : {c.heave, -c.heave}) {
      for (Setting s : out) {
        s.steady += by * weights_;
        heaving.push_back(s);
      }
    }
    return heaving;
  }

  [[nodiscard]] double factor(std::size_t mode, const Actions& a, Category c) const {
    return modes_[mode].mode->use(setup_, a, c).factor();
  }

  // A rod may bend any way where its line runs back along it, so that the load jumps there.
  [[nodiscard]] std::vector<Direction<Boat>> jumps(const std::vector<Setting>& settings,
                                                   LoadPath path) const {
    std::vector<Direction<Boat>> out;
    if (path != LoadPath::line) return out;
    std::vector<bool> seen(setup_.gear.size(), false);
    for (const Setting& s : settings) {
      for (const auto& [gear, share] : s.pulling) {
        const auto& rod = setup_.gear[gear].rod_holder;
        if (!rod || seen[gear]) continue;
        seen[gear] = true;
        out.push_back(line_direction(rod->toward + degrees(180), degrees(90) - rod->lean));
      }
    }
    return out;
  }

  // Calls `visit(actions)` for each setting and bed; returns the motion of a mechanism, or "".
  template <class Visit>
  std::string act(const std::vector<Setting>& settings, LoadPath path, Force pull,
                  const Direction<Boat>& d, Visit visit) {
    for (const Setting& s : settings) {
      std::string motion = act(s, path, pull, d, visit);
      if (!motion.empty()) return motion;
    }
    return "";
  }

  // One over the largest share of use of the modes, or of one; 0 for a mechanism.
  double worst_ratio(const std::vector<Setting>& settings, LoadPath path, Force pull,
                     const Direction<Boat>& d, const Standby* only, bool full_factors,
                     const Standby** which = nullptr) {
    double worst = infinite;
    // A limit must allow the everyday pull too, where pull-over is halved; what goes once does not.
    const Category category = full_factors ? Category::everyday : Category::occasional;
    const auto visit = [&](const Actions& a) {
      const auto use = [&](const Standby& w) {
        if (!w.mode->needs_load || w.mode->fatigue) return;
        if (!full_factors && w.mode->spoils) return;  // nothing goes by a dent
        const double f = w.mode->use(setup_, a, category).factor() / (full_factors ? w.full : 1.0);
        if (f >= worst) return;
        worst = f;
        if (which != nullptr) *which = &w;
      };
      if (only != nullptr) return use(*only);
      for (const Standby& w : modes_) use(w);
    };
    return act(settings, path, pull, d, visit).empty() ? worst : 0;
  }

 private:
  template <class Visit>
  std::string act(const Setting& s, LoadPath path, Force pull, const Direction<Boat>& d,
                  Visit& visit) {
    const GunwalePlate& m = setup_.plate();
    Actions& a = actions_;
    a.load = s.steady;
    a.way = path == LoadPath::ride   ? FatigueWay::riding
            : path == LoadPath::line ? fatigue_way_of(d)
                                     : FatigueWay::straight;
    if (pull.value() > 0) {
      for (const auto& [gear, share] : s.pulling) {
        const Gear& g = setup_.gear[gear];
        a.load += pull_load(m.host, g, path_of(g, path), Force(share * pull), d);
      }
    }
    try {
      const auto shear =
          share_in_plane(m.fastening.holes, a.load.force.x(), a.load.force.y(), a.load.moment.z());
      std::copy(shear.begin(), shear.end(), a.shear.begin());
    } catch (const DomainError&) {
      return "the base spins about its only fastener";
    }
    for (std::size_t b = 0; b < contacts_.size(); ++b) {
      a.contact = &contacts_[b];
      contacts_[b].solve(a.load.force.z(), a.load.moment.x(), a.load.moment.y(), starts_[b],
                         a.result);
      if (a.result.balance == Balance::mechanism) return a.result.motion;
      for (int i = 0; i < a.count; ++i) {
        a.tension[std::size_t(i)] = growth_ * a.result.tension[std::size_t(i)];
      }
      visit(a);
    }
    return "";
  }

  static LoadPath path_of(const Gear& g, LoadPath path) {
    if (path == LoadPath::rim) return path;
    return g.rod_holder ? LoadPath::line : LoadPath::point;
  }

  // What a gear does while another one is looked at: a rod trolls with its line astern and 15 deg
  // down as on boards, a load of every day pulls in the middle of its range.
  [[nodiscard]] BaseLoad towing(const Gear& g) const {
    const Host& host = setup_.plate().host;
    if (g.plain_load) {
      if (g.plain_load->category != Category::everyday) return {};
      const DirectionRange& r = g.plain_load->range;
      return pull_load(
          host, g, LoadPath::point, g.plain_load->pull,
          line_direction(0.5 * (r.azimuth_from + r.azimuth_to), 0.5 * (r.dip_from + r.dip_to)));
    }
    const RodHolder& r = *g.rod_holder;
    const Force pull =
        std::min<Force>({Force(1.5 * r.running_pull), Force(1.5 * r.spool_growth * r.drag.value),
                         Force(1.3 * r.line_test)});
    return pull_load(host, g, LoadPath::line, pull, line_direction(Angle{}, 15.0_deg));
  }

  double base_growth() const {
    const BasePlate& b = setup_.plate().base;
    const Fastening& f = setup_.plate().fastening;
    // Lever from the foot of the body to the farthest fastener line, and on to the edge.
    const Length half = b.body ? 0.5 * *b.body : Length{};
    double growth = 1;
    const auto grow = [&](Length lever, Length beyond) {
      if (!(lever.value() > 0)) return;
      growth =
          std::max(growth, b.metal ? flexible_base_factor(b.thickness, b.metal->modulus, lever,
                                                          beyond, f.thread.diameter, bed_for_flex)
                                         .factor
                                   : prying_bound(lever, beyond, f.thread.diameter));
    };
    for (const PlanPoint& p : f.holes) {
      if (!b.sides_turned) {
        grow(std::hypot(p.x.value(), p.y.value()) * si::metre - half,
             geometry::to_outline_edge(b.outline, p));
        continue;
      }
      const double c = std::cos(radians(*b.sides_turned));
      const double n = std::sin(radians(*b.sides_turned));
      for (const auto& axis : {std::pair{c, n}, std::pair{-n, c}}) {
        const Length at = abs(Length(axis.first * p.x + axis.second * p.y));
        Length edge{};
        for (const PlanPoint& corner : b.outline) {
          edge = std::max(edge, Length(axis.first * corner.x + axis.second * corner.y));
        }
        grow(at - half, edge - at);
      }
    }
    return growth;
  }

  const Setup& setup_;
  std::vector<BaseContact> contacts_;
  std::vector<ContactStart> starts_;  ///< of each bed
  Actions actions_;
  std::vector<Standby> modes_;
  std::vector<Standby> all_;
  BaseLoad weights_;              ///< of all gears, at rest
  std::vector<BaseLoad> towing_;  ///< of each gear
  double growth_ = 1;
  double accident_least_ = 1.25;
};

// Directions of one range: a coarse grid with its corners, each of its steps in `fine` parts. What
// is found at a direction is kept.
//
// A demand is the largest of smooth ones (fasteners, beds, settings), so its peaks are smooth or
// lie on the border of the range, which the grid has: a coarse peak within `basin` of the highest
// is followed down to one part.
class Field {
 public:
  static constexpr int fine = 16;
  static constexpr double basin = 1.08;

  Field(const DirectionRange& range, Angle step) : range_(range) {
    const auto parts = [&](Angle from, Angle to) {
      const double span = (to - from).value();
      return span > 1e-9 ? int(std::ceil(span / step.value() - 1e-9)) : 0;
    };
    azimuths_ = fine * parts(range.azimuth_from, range.azimuth_to);
    dips_ = fine * parts(range.dip_from, range.dip_to);
    round_ = (range.azimuth_to - range.azimuth_from).value() > 2 * std::numbers::pi - 1e-9;
    for (int j = 0; j <= dips_; j += fine) {
      for (int i = 0; i <= azimuths_; i += fine) {
        const int k = spot(i, j);
        if (std::find(coarse_.begin(), coarse_.end(), k) == coarse_.end()) coarse_.push_back(k);
      }
    }
  }

  [[nodiscard]] int size() const { return (azimuths_ + 1) * (dips_ + 1); }
  [[nodiscard]] const std::vector<int>& coarse() const { return coarse_; }

  [[nodiscard]] Direction<Boat> direction(int spot) const {
    const auto at = [](Angle from, Angle to, int i, int n) {
      return n == 0 ? from : Angle(from + (to - from) * (double(i) / n));
    };
    return line_direction(
        at(range_.azimuth_from, range_.azimuth_to, spot % (azimuths_ + 1), azimuths_),
        at(range_.dip_from, range_.dip_to, spot / (azimuths_ + 1), dips_));
  }

  // Calls `visit(spot)` for those round a spot, `by` parts away.
  template <class Visit>
  void around(int spot, int by, Visit visit) const {
    const int i = spot % (azimuths_ + 1);
    const int j = spot / (azimuths_ + 1);
    if (is_pole(j)) {  // all azimuths of the next circle
      const int next = j + by <= dips_ ? j + by : j - by;
      if (next < 0 || next > dips_) return;
      for (int k = 0; k <= azimuths_; k += fine) visit(this->spot(k, next));
      return;
    }
    for (int dj = -by; dj <= by; dj += by) {
      for (int di = -by; di <= by; di += by) {
        if (di == 0 && dj == 0) continue;
        int a = i + di;
        const int d = j + dj;
        if (round_ && azimuths_ > 0) a = (a % azimuths_ + azimuths_) % azimuths_;
        // A corner or border nearer than the step is looked at itself.
        a = std::clamp(a, 0, azimuths_);
        const int next = this->spot(a, std::clamp(d, 0, dips_));
        if (next != spot) visit(next);
      }
    }
  }

  // Spots close round a direction, if it lies in the range.
  [[nodiscard]] std::vector<int> close_to(const Direction<Boat>& d) const {
    constexpr double turn = 2 * std::numbers::pi;
    constexpr double slack = 0.02;
    const double from = range_.azimuth_from.value();
    const double to = range_.azimuth_to.value();
    const double low = range_.dip_from.value();
    const double high = range_.dip_to.value();
    const double dip = std::atan2(-d.z(), std::hypot(d.x(), d.y()));
    double azimuth = std::atan2(d.y(), -d.x());
    while (azimuth < from - slack) azimuth += turn;
    while (azimuth > to + slack) azimuth -= turn;
    const bool pole = std::abs(std::cos(dip)) < slack;
    if (!(dip >= low - slack && dip <= high + slack)) return {};
    if (!pole && azimuth < from - slack) return {};
    const auto part = [](double v, double a, double b, int n) {
      return n == 0 ? 0 : int(std::lround(std::clamp((v - a) / (b - a), 0.0, 1.0) * n));
    };
    const int middle = spot(part(azimuth, from, to, azimuths_), part(dip, low, high, dips_));
    std::vector<int> out;
    for (const int by : {1, 3}) {
      around(middle, by, [&](int k) { out.push_back(k); });
    }
    return out;
  }

  // Spots of the coarse grid no neighbour of which has less, and little more than the least.
  template <class Value>
  [[nodiscard]] std::vector<int> basins(Value value) const {
    double least = infinite;
    for (const int k : coarse_) least = std::min(least, value(k));
    std::vector<int> out;
    if (!(least < infinite)) return out;
    for (const int k : coarse_) {
      const double own = value(k);
      if (own > basin * least) continue;
      bool low = true;
      around(k, fine, [&](int n) { low = low && !(value(n) < own); });
      if (low) out.push_back(k);
    }
    std::stable_sort(out.begin(), out.end(), [&](int a, int b) { return value(a) < value(b); });
    // Level ground has no end of basins.
    constexpr std::size_t most = 6;
    if (out.size() > most) out.resize(most);
    return out;
  }

  // From a spot to lower ones: `better(spot)` says whether it is lower than the best so far.
  template <class Better>
  void descend(int from, Better better) const {
    int at = from;
    for (int by = fine / 2; by >= 1; by /= 2) {
      for (int round = 0; round < 16; ++round) {
        int best = at;
        around(at, by, [&](int n) {
          if (better(n)) best = n;
        });
        if (best == at) break;
        at = best;
      }
    }
  }

 private:
  [[nodiscard]] bool is_pole(int j) const {
    const Angle dip =
        dips_ == 0
            ? range_.dip_from
            : Angle(range_.dip_from + (range_.dip_to - range_.dip_from) * (double(j) / dips_));
    return std::abs(std::cos(radians(dip))) < 1e-9;
  }
  [[nodiscard]] int spot(int i, int j) const {
    if (is_pole(j)) i = 0;  // straight up or down: one direction
    if (round_ && i == azimuths_) i = 0;
    return j * (azimuths_ + 1) + i;
  }

  DirectionRange range_;
  int azimuths_ = 0;
  int dips_ = 0;
  bool round_ = false;
  std::vector<int> coarse_;
};

// Numbers of each mode at the spots of a field, found when first asked for.
class Table {
 public:
  Table(const Field& field, std::size_t columns)
      : row_(std::size_t(field.size()), -1), columns_(columns) {}
  // Calls `fill(row)` for a row that is not known yet.
  template <class Fill>
  double* row(int spot, Fill fill) {
    int& r = row_[std::size_t(spot)];
    if (r < 0) {
      r = int(numbers_.size() / columns_);
      numbers_.resize(numbers_.size() + columns_, infinite);
      fill(numbers_.data() + std::size_t(r) * columns_);
    }
    return numbers_.data() + std::size_t(r) * columns_;
  }

 private:
  std::vector<int> row_;
  std::size_t columns_;
  std::vector<double> numbers_;
};

bool contains(const DirectionRange& a, const DirectionRange& b) {
  return a.azimuth_from <= b.azimuth_from && b.azimuth_to <= a.azimuth_to &&
         a.dip_from <= b.dip_from && b.dip_to <= a.dip_to;
}

// Pulls of one gear at which things go: in every direction of its own cases.
class Limits {
 public:
  Limits(Engine& engine, std::size_t gear, LoadPath path, const std::vector<DirectionRange>& ranges,
         Force pull, Angle step, bool details)
      : engine_(engine), settings_(engine.beside(gear)), path_(path) {
    for (const DirectionRange& r : ranges) fields_.emplace_back(r, step);
    const auto& modes = engine.modes();
    shares_ = details ? std::vector<double>{1.0, 0.1, 0.5, 4.0} : std::vector<double>{1.0};
    for (const Field& f : fields_) {
      auto& at = factors_.emplace_back();
      for (const double share : shares_) {
        Table table(f, modes.size());
        for (const int k : f.coarse()) {
          double* row = table.row(k, [](double*) {});
          (void)engine.act(settings_, path, share * pull, f.direction(k), [&](const Actions& a) {
            for (std::size_t i = 0; i < modes.size(); ++i) {
              if (!modes[i].mode->needs_load || modes[i].mode->fatigue) continue;
              row[i] = std::min(row[i], engine.factor(i, a, Category::everyday));
            }
          });
        }
        at.push_back(std::move(table));
      }
    }
    pull_ = pull;
  }

  struct Limit {
    std::optional<Force> pull;
    const Standby* mode = nullptr;
    std::optional<Direction<Boat>> direction;
  };

  // Largest pull that every direction allows, for all modes or one. A single mode is looked at only
  // where it is hardest.
  Limit largest_pull(const Standby* only, bool full) {
    constexpr double most = 1e6;  // N; above it nothing on a small boat matters
    Limit out;
    const Field& first = fields_.front();
    // The weight of the gear must be carried before any pull is.
    if (ratio(0, first.direction(first.coarse().front()), only, full, &out.mode) < 1) {
      out.pull = Force{};
      return out;
    }
    double best = most;
    const auto lower = [&](const Field& f, int spot) {
      const Direction<Boat> d = f.direction(spot);
      if (ratio(best, d, only, full) >= 1) return false;
      best = root(d, best, only, full);
      out.direction = d;
      return true;
    };
    const auto& modes = engine_.modes();
    for (std::size_t n = 0; n < fields_.size(); ++n) {
      const Field& f = fields_[n];
      const auto value = [&](std::size_t share, int spot) {
        const double* row = factors_[n][share].row(spot, [](double*) {});
        if (only != nullptr) return row[only - modes.data()];
        double worst = infinite;
        for (std::size_t i = 0; i < modes.size(); ++i) {
          worst = std::min(worst, row[i] / (full ? modes[i].full : 1.0));
        }
        return worst;
      };
      std::vector<int> starts;
      const auto add = [&](const std::vector<int>& more) {
        for (const int k : more) {
          if (std::find(starts.begin(), starts.end(), k) == starts.end()) starts.push_back(k);
        }
      };
      for (std::size_t share = 0; share < shares_.size(); ++share) {
        add(f.basins([&](int k) { return value(share, k); }));
      }
      for (const Direction<Boat>& d : engine_.jumps(settings_, path_)) {
        for (const int k : f.close_to(d)) {
          if (lower(f, k)) starts.push_back(k);
        }
      }
      for (const int k : starts) (void)lower(f, k);
      if (only == nullptr && best < most) {
        // Which directions are hard changes with the pull: a rod bends. So all at the pull found.
        const double at = best;
        Table table(f, 1);
        for (const int k : f.coarse()) {
          *table.row(k, [](double*) {}) = ratio(at, f.direction(k), only, full);
        }
        for (const int k : f.coarse()) {
          if (*table.row(k, [](double*) {}) < 1) (void)lower(f, k);
        }
        add(f.basins([&](int k) { return *table.row(k, [](double*) {}); }));
      }
      for (const int k : starts) {
        f.descend(k, [&](int spot) { return lower(f, spot); });
      }
    }
    if (best >= most) return {};
    if (best <= 0) best = 0;
    out.pull = best * si::newton;
    if (out.direction) (void)ratio(best, *out.direction, only, full, &out.mode);
    return out;
  }

 private:
  double ratio(double pull, const Direction<Boat>& d, const Standby* only, bool full,
               const Standby** which = nullptr) {
    return engine_.worst_ratio(settings_, path_, pull * si::newton, d, only, full, which);
  }

  // Pull below `high`, which is too much, at which the ratio is one; from below, to 1e-12.
  double root(const Direction<Boat>& d, double high, const Standby* only, bool full) {
    const auto use = [&](double p) { return 1 / ratio(p, d, only, full); };
    double use_high = use(high);
    double low = 0;
    double use_low = 0;
    // The use is about in proportion to the pull: from above by leaps, then by chords.
    for (;;) {
      const double guess =
          use_high < infinite ? std::clamp(0.7 / use_high, 1e-3, 0.5) * high : 0.5 * high;
      const double u = use(guess);
      if (u <= 1) {
        low = guess;
        use_low = u;
        break;
      }
      high = guess;
      use_high = u;
      if (high <= 1e-6) return 0;
    }
    int same = 0;
    double err_low = use_low - 1;
    double err_high = use_high - 1;
    for (int i = 0; i < 100 && high - low > 1e-12 * high; ++i) {
      double at = 0.5 * (low + high);
      if (err_high < infinite && i % 8 != 7) {
        at = low - err_low * (high - low) / (err_high - err_low);
        const double margin = std::min(2.5e-13 * high, 0.25 * (high - low));
        at = std::clamp(at, low + margin, high - margin);
      }
      const double e = use(at) - 1;
      if (e <= 0) {
        low = at;
        err_low = e;
        if (same < 0) err_high *= 0.5;
        same = -1;
      } else {
        high = at;
        err_high = e;
        if (same > 0) err_low *= 0.5;
        same = 1;
      }
    }
    return low;
  }

  Engine& engine_;
  std::vector<Setting> settings_;
  LoadPath path_;
  Force pull_{};
  std::vector<double> shares_;
  std::vector<Field> fields_;
  std::vector<std::vector<Table>> factors_;  ///< of each field and share
};

struct Worst {
  double ratio = infinite;
  Use use;
  double needed = 0;
  const LoadCase* load_case = nullptr;
  std::string direction;
};

// "down", "up and outboard", "down, inboard and aft"
std::string describe(const Shake& s) {
  std::vector<std::string_view> words;
  const auto add = [&](double v, std::string_view plus, std::string_view minus) {
    if (std::abs(v) > 1e-9) words.push_back(v > 0 ? plus : minus);
  };
  add(s.up, "up", "down");
  add(s.starboard, "outboard", "inboard");
  add(s.forward, "forward", "aft");
  std::string out;
  for (std::size_t i = 0; i < words.size(); ++i) {
    if (i > 0) out += i + 1 == words.size() ? " and " : ", ";
    out += words[i];
  }
  return out.empty() ? "at rest" : out;
}

// Inputs that enter every load check: sizes, places and angles, that is all that belong neither to
// one check nor to one load case.
bool enters_every_check(const std::string& path, const std::vector<LoadCase>& listed) {
  if (!path.starts_with("mount.") && !path.starts_with("gear.")) return false;
  for (const std::string_view own : {"gear.drag", "gear.spool_growth", "gear.running_pull",
                                     "gear.line_test", "gear.mass", "gear.pull"}) {
    if (path == own) return false;
  }
  if (path.starts_with("gear.planer") || only_beside(path)) return false;
  for (const FailureMode& m : catalogue()) {
    for (const std::string_view own : m.depends_on) {
      if (path == own) return false;
    }
  }
  return std::none_of(listed.begin(), listed.end(), [&](const LoadCase& c) {
    return std::find(c.depends_on.begin(), c.depends_on.end(), path) != c.depends_on.end();
  });
}

// The wall as its host is called: "wall", "timber" ...
std::string host_word(const Setup& s) {
  const Host& h = s.plate().host;
  return h.is_metal() ? "wall" : std::string(word_for(h.kind));
}

std::string wall_words(const Setup& s) {
  const GunwalePlate& m = s.plate();
  if (m.fastening.hold == HoldBy::tapped_bar) {
    return show(m.fastening.backing->thickness, s.units) + " bar behind the wall";
  }
  return show(m.host.thickness, s.units) + " wall";
}

// "the 1/4-20 threads pull out of the 0.090 in wall"
std::string in_words(const Setup& s, const CheckResult& c) {
  if (c.mode == "thread-pull-out" || c.mode == "pull-out-with-bearing") {
    return "the " + s.plate().fastening.thread.name + " threads pull out of the " + wall_words(s) +
           (c.mode == "thread-pull-out" ? "" : " (side load counted)");
  }
  return "the " + c.gives_way;
}

// " (port rod)" where there are several.
std::string whose(const Setup& s, const Gear& g) {
  return s.gear.size() > 1 ? " (" + g.name + ")" : "";
}

void write_ladder(const Setup& s, Assessment& out) {
  for (const CheckResult& c : out.checks) {
    if (c.standing == Standing::applies && c.goes_at) {
      out.ladder.push_back({in_words(s, c), c.goes_at, std::nullopt, false});
    }
  }
  for (const Gear& g : s.gear) {
    if (!g.rod_holder) continue;
    const RodHolder& r = *g.rod_holder;
    out.ladder.push_back({"drag slips" + whose(s, g), r.drag.value,
                          Force(1.5 * r.spool_growth * r.drag.value), true});
    out.ladder.push_back({"line parts" + whose(s, g), r.line_test, Force(1.3 * r.line_test), true});
    out.ladder.push_back({"holder body" + whose(s, g), std::nullopt, std::nullopt, true});
  }
  std::stable_sort(out.ladder.begin(), out.ladder.end(),
                   [](const LadderStep& a, const LadderStep& b) {
                     const double x = a.low ? a.low->value() : infinite;
                     const double y = b.low ? b.low->value() : infinite;
                     return x < y;
                   });
  // The worst order of all rods, each against what its own pull takes.
  enum Order { none, line_first, drag_first, wrong };
  Order order = none;
  for (std::size_t i = 0; i < out.gear_limits.size(); ++i) {
    if (!s.gear[i].rod_holder || !out.gear_limits[i].not_before) continue;
    const RodHolder& r = *s.gear[i].rod_holder;
    const Force drag_high = 1.5 * r.spool_growth * r.drag.value;
    const Force line_high = 1.3 * r.line_test;
    const Force mount = *out.gear_limits[i].not_before;
    const Order own = line_high < mount                                          ? line_first
                      : r.drag.known == Knowledge::measured && drag_high < mount ? drag_first
                                                                                 : wrong;
    order = std::max(order, own);
  }
  if (order == line_first) {
    out.ladder_verdict = "the line parts before the mount: the wanted order";
  } else if (order == drag_first) {
    out.ladder_verdict = "the drag slips first; a locked reel may take the mount before the line";
  } else if (order == wrong) {
    out.ladder_verdict = "wrong order: the mount may go before drag or line";
  }
}

// What of a host that is no metal wall has no published rule here; "" for a metal wall.
std::string bending_of_host(const Setup& s) {
  switch (s.plate().host.kind) {
    case HostKind::metal_wall:
      return "";
    case HostKind::timber:
      return "bending and twist of the timber between what holds it";
    default:
      return "bending of the " + host_word(s) + " round the base";
  }
}

void write_cautions(const Setup& s, const std::string& weakest_rim, Assessment& out) {
  const GunwalePlate& m = s.plate();
  const ReaderUnits u = s.units;
  auto& c = out.cautions;
  if (out.handhold && out.handhold->value() < (300.0_lbf).value()) {
    c.push_back("not a handhold, seat or step: a hand at the rim" + weakest_rim +
                " may tear it off at " + about(*out.handhold, u, Rounding::down));
  } else {
    c.emplace_back("not a handhold, seat or step");
  }
  c.emplace_back("never tie off, tow, moor, anchor or lift from this mount");
  c.emplace_back("snagged: throttle off, let it slip or cut the line; never power against it");
  c.emplace_back("before drilling look behind: fuel, wires, cables, foam, outer hull");
  if (m.fastening.hold == HoldBy::tapped || m.fastening.hold == HoldBy::tapped_bar) {
    const PullOut p = thin_wall_pull_out(
        m.fastening.thread, geometry::thread_depth(m.fastening, m.host),
        geometry::threaded_metal(m.fastening, m.host), m.fastening.material.shear_ultimate);
    if (p.threads < 2) {
      c.push_back("only " + show_number(std::floor(p.threads * 10) / 10) +
                  " threads engaged: below two, no margin for wear" +
                  (p.threads < 1.5 ? "; advised against" : ""));
    }
    if (p.extrapolated) {
      c.emplace_back("thread size or depth outside the tests: the pull-out figure is extrapolated");
    }
  }
  for (const std::string& text : pair_cautions(s)) c.push_back(text);
  if (s.condition.within_150_mm == "nothing" || s.condition.within_150_mm.empty()) {
    c.emplace_back(s.condition.within_150_mm.empty()
                       ? "nobody said what ties the gunwale within 6 in (150 mm): it may roll"
                       : "nothing ties the gunwale within 6 in (150 mm): it may roll");
  }
  const Host& h = m.host;
  if (in_wood(m.fastening.hold)) {
    c.emplace_back("drill lead holes for every screw; a screw that turned free holds nothing");
  }
  if (h.kind == HostKind::timber || h.kind == HostKind::plywood) {
    c.emplace_back("wood shrinks and gives: tighten again after a week, a month and each spring");
    c.emplace_back("seal end grain and the walls of every hole");
    const bool aluminium = (m.base.metal && m.base.metal->aluminium) ||
                           (m.fastening.backing && m.fastening.backing->metal.aluminium);
    if (h.wood.treated && aluminium) {
      c.emplace_back("treated wood eats aluminium: a plastic barrier between, no direct contact");
    }
  }
  if (h.kind == HostKind::cored_panel) {
    c.emplace_back("a core stays dry only behind solid, sealed holes: have a yard look at it");
  }
  if (const std::string cracks = may_crack(s, out.checks, false); !cracks.empty()) {
    c.push_back("an estimate: " + cracks + "; empty the holder for a run, look every season");
  }
  for (const CheckResult& r : out.checks) {
    if (r.lowered) c.push_back("the factor needed for \"" + r.gives_way + "\" was lowered");
  }
}

void write_not_checked(const Setup& s, const std::vector<LoadCase>& cases, Assessment& out) {
  auto& n = out.not_checked;
  n.emplace_back("the holder's own body");
  n.emplace_back("rolling of the gunwale as a whole");
  n.emplace_back("working loose, wear, corrosion");
  add_fatigue_not_checked(s, cases, n);
  const bool rides = std::any_of(cases.begin(), cases.end(), [](const LoadCase& c) {
    return c.path == LoadPath::ride && !c.left_out;
  });
  if (!rides) {
    n.emplace_back("bouncing of the gear's own weight when running or on the road");
  } else {
    for (const LoadCase& c : cases) {
      if (c.kind == "on-the-trailer" && c.left_out) n.emplace_back("the trailer");
    }
  }
  n.emplace_back("stability of the boat");
  for (const CheckResult& r : out.checks) {
    if (r.standing == Standing::not_checked) n.push_back(r.gives_way + ": " + r.why);
  }
  if (!s.plate().base.metal) n.emplace_back("strength of the base itself");
  const std::string text = bending_of_host(s);
  if (!text.empty()) n.push_back(text);
}

void write_sources(const Setup& s, Assessment& out) {
  auto& all = out.sources;
  for (const CheckResult& r : out.checks) {
    if (r.standing == Standing::applies) add_source(all, r.source);
  }
  const Host& h = s.plate().host;
  if (h.is_metal()) add_source(all, h.metal.source);
  if (h.wood.wood) add_source(all, h.wood.wood->source);
  for (const auto* g : {&h.panel.punch_shear, &h.panel.bearing, &h.panel.core_crush}) {
    if (*g) add_source(all, {(*g)->source + " (as its owner has it)", "", Seen::copy});
  }
  if (s.plate().base.metal) add_source(all, s.plate().base.metal->source);
  if (s.plate().fastening.backing) add_source(all, s.plate().fastening.backing->metal.source);
  add_source(all, s.plate().fastening.material.source);
  add_source(all, s.plate().fastening.thread.source);
  for (const auto& [group, value] : s.required_factors) add_source(all, value.source);
  if (std::any_of(s.gear.begin(), s.gear.end(),
                  [](const Gear& g) { return g.rod_holder.has_value(); })) {
    add_source(all, {"elastica with a dead load (Bisshopp & Drucker 1945), energy bound on the "
                     "lever of a bent rod",
                     "", Seen::computed});
    add_source(all, {"ASCE 7-10, 4.5.1, hand-rail point load", "", Seen::page});
  }
}

void write_to_do(const Setup& s, Assessment& out) {
  const ReaderUnits u = s.units;
  std::vector<std::string> advice;
  for (const CheckResult& r : out.checks) {
    if (r.standing != Standing::applies || r.holds || limits_life(s, r.mode)) continue;
    add_condition(advice, r.advice);
  }
  if (advice.size() > 2) advice.resize(2);
  out.to_do = advice;
  for (std::size_t i = 0; i < out.gear_limits.size(); ++i) {
    const auto& setting = out.gear_limits[i].setting;
    if (!setting) continue;
    const RodHolder& r = *s.gear[i].rod_holder;
    if (*setting < r.drag.value) {
      const std::string of = s.gear.size() > 1 ? " of " + s.gear[i].name : "";
      out.to_do.push_back("as it stands: set the drag" + of + " to " +
                          about(*setting, u, Rounding::down) +
                          " or less, measured with a scale at the line");
    }
    if (!advice.empty() && !r.butt_stiffness) {
      add_condition(out.to_do,
                    "measure how the rod's butt bends: without it the rod counts as a rigid lever");
    }
  }
}

void write_sentence(const Setup& s, const std::vector<LoadCase>& cases, Assessment& out) {
  const ReaderUnits u = s.units;
  const bool many = s.gear.size() > 1;
  const CheckResult* first = nullptr;  // first to go, by pull
  const CheckResult* worst = nullptr;  // worst against its factor
  for (const CheckResult& c : out.checks) {
    if (c.standing != Standing::applies) continue;
    if (worst == nullptr) worst = &c;
    if (c.goes_at && (first == nullptr || *c.goes_at < *first->goes_at)) first = &c;
  }
  std::string text;
  if (out.verdict == Verdict::no_verdict) {
    for (const std::string& r : out.reasons) text += (text.empty() ? "" : "; ") + r;
    out.sentence = text;
    return;
  }
  const bool by_distance = worst != nullptr && worst->case_title.empty() && !worst->holds;
  if (by_distance) {
    text = "the " + worst->gives_way + ": " + show(worst->strength, u) + " where " +
           show(worst->demand, u) + " is the least";
  } else if (first != nullptr) {
    // Of several, the one whose pull takes the mount first.
    std::size_t weakest = 0;
    for (std::size_t i = 1; i < out.gear_limits.size(); ++i) {
      const auto& own = out.gear_limits[i].not_before;
      const auto& least = out.gear_limits[weakest].not_before;
      if (own && (!least || *own < *least)) weakest = i;
    }
    const Gear& g = s.gear[weakest];
    text = "first to go: " + in_words(s, *first) + ", not before about " +
           about(*first->goes_at, u, Rounding::down) +
           (g.rod_holder ? " on the line" : " of pull") + (many ? " of " + g.name : "");
  }
  for (const Gear& g : s.gear) {
    if (g.rod_holder) {
      const RodHolder& r = *g.rod_holder;
      const Force high = std::min<Force>(1.5 * r.spool_growth * r.drag.value, 1.3 * r.line_test);
      text += (many ? "; the drag of " + g.name : std::string("; your drag")) + " is set to " +
              about(r.drag.value, u) + " and may reach " + about(high, u, Rounding::up);
    } else {
      text += (many ? "; " + g.name : std::string("; the load")) + " is " +
              about(g.plain_load->pull, u);
    }
  }
  if (worst != nullptr && !worst->holds && !by_distance) {
    // What goes at no pull is not named yet.
    text += limits_life(s, worst->mode) ? "; the " + worst->gives_way + ": factor " : "; factor ";
    text += show_factor(worst->factor) + " where " + show_number(worst->needed) + " is needed";
    // A pull is plain from what stands before; an acceleration is not.
    const bool by_ride = std::any_of(cases.begin(), cases.end(), [&](const LoadCase& c) {
      return c.path == LoadPath::ride && c.title == worst->case_title;
    });
    if (many || by_ride) text += " (" + worst->case_title + ")";
  }
  out.sentence = text.starts_with("; ") ? text.substr(2) : text;
}

void write_walls(const Setup& s, const AssessOptions& options, Assessment& out) {
  const auto row = [&](const Setup& t, const Assessment& a, const char* position) {
    WallRow r;
    r.thickness = t.plate().host.thickness;
    r.position = position;
    r.verdict = word_for(a.verdict);
    for (const CheckResult& c : a.checks) {
      if (c.standing == Standing::refused) {
        r.worst_ratio = 0;
        r.gives_way = c.gives_way + ": " + c.why;
        break;
      }
      if (c.standing == Standing::applies) {
        r.worst_ratio = c.factor / c.needed;
        r.gives_way = c.gives_way;
        break;
      }
    }
    r.hold_limit = a.hold_limit;
    return r;
  };
  const Length t = s.plate().host.thickness;
  const Length* thinner = nullptr;
  const Length* thicker = nullptr;
  for (const Length& w : s.common_walls) {
    if (w < (1 - 1e-6) * t) thinner = &w;
    if (w > (1 + 1e-6) * t && thicker == nullptr) thicker = &w;
  }
  const auto add = [&](const Length* w, const char* position) {
    if (w == nullptr) return;
    Setup other = s;
    other.plate().host.thickness = *w;
    AssessOptions plain = options;
    plain.neighbours = false;
    try {
      validate(other);
      out.walls.push_back(row(other, assess_plate(other, plain), position));
    } catch (const DomainError&) {
      // The neighbour does not fit the geometry: no row.
    }
  };
  const bool metal = s.plate().host.is_metal();  // others come in no common thickness
  if (metal) add(thinner, "thinner");
  out.walls.push_back(row(s, out, "this wall"));
  if (metal) add(thicker, "thicker");
}

// Ranges of a gear's own pull: those of the list whatever its owner did to it, and the owner's.
// More directions never raise a limit.
struct OwnPull {
  std::vector<DirectionRange> ranges;
  Force pull{};
};

OwnPull own_pull(const std::vector<LoadCase>& cases, const std::vector<LoadCase>& listed,
                 std::size_t gear) {
  OwnPull out;
  const auto add = [&](const LoadCase& c) {
    if (c.gear != int(gear) || (c.path != LoadPath::line && c.path != LoadPath::point)) return;
    out.pull = std::max(out.pull, c.pull);
    for (const DirectionRange& r : c.ranges) {
      if (std::any_of(out.ranges.begin(), out.ranges.end(),
                      [&](const DirectionRange& o) { return contains(o, r); })) {
        continue;
      }
      std::erase_if(out.ranges, [&](const DirectionRange& o) { return contains(r, o); });
      out.ranges.push_back(r);
    }
  };
  for (const LoadCase& c : listed) add(c);
  for (const LoadCase& c : cases) {
    if (!c.left_out) add(c);
  }
  return out;
}

void least(std::optional<Force>& a, const std::optional<Force>& b) {
  if (b && (!a || *b < *a)) a = b;
}

// Every deciding case in every direction.
class Sweep {
 public:
  Sweep(const Setup& s, Engine& engine, Assessment& out)
      : s_(s), engine_(engine), out_(out), deciding_(engine.modes().size()) {
    // Distances need no case.
    const auto& modes = engine.modes();
    for (std::size_t i = 0; i < modes.size(); ++i) {
      if (modes[i].mode->needs_load) continue;
      Actions a;
      a.count = int(s.plate().fastening.holes.size());
      const Use use = modes[i].mode->use(s, a, Category::everyday);
      const double needed = engine.needed(modes[i], Category::everyday);
      deciding_[i] = {use.factor() / needed, use, needed, nullptr, ""};
    }
  }

  [[nodiscard]] const std::vector<Worst>& deciding() const { return deciding_; }
  [[nodiscard]] const std::string& mechanism() const { return mechanism_; }

  CaseResult run(const LoadCase& c, Angle step) {
    result_ = {};
    result_.load_case = c;
    case_ = &c;
    case_worst_ = infinite;
    needed_.clear();
    for (const Standby& w : engine_.modes()) needed_.push_back(engine_.needed(w, c.category));
    const std::vector<Setting> settings = engine_.settings(c);
    if (c.path == LoadPath::ride) {
      for (std::size_t i = 0; i < settings.size(); ++i) {
        look({settings[i]}, Force{}, Direction<Boat>(Eigen::Vector3d(0, 0, -1)), nullptr,
             [&] { return describe(c.shakes[i]); });
      }
    } else {
      for (const DirectionRange& range : c.ranges) over(Field(range, step), settings);
    }
    result_.holds = result_.motion.empty() && case_worst_ >= 1;
    return result_;
  }

 private:
  void over(const Field& field, const std::vector<Setting>& settings) {
    const std::size_t n = engine_.modes().size();
    Table table(field, n);
    const auto at = [&](int spot) {
      return table.row(spot, [&](double* row) {
        const Direction<Boat> d = field.direction(spot);
        look(settings, case_->pull, d, row, [&] { return describe(d); });
      });
    };
    // The weight of the gear alone is looked at first.
    const Direction<Boat> first = field.direction(field.coarse().front());
    look(settings, Force{}, first, nullptr, [&] { return describe(first); });
    for (const int k : field.coarse()) {
      if (!result_.motion.empty()) return;
      (void)at(k);
    }
    if (!case_->decides) return;
    std::vector<int> close;
    for (const Direction<Boat>& d : engine_.jumps(settings, case_->path)) {
      for (const int k : field.close_to(d)) close.push_back(k);
    }
    for (std::size_t m = 0; m < n; ++m) {
      std::vector<int> starts = field.basins([&](int spot) { return at(spot)[m]; });
      const auto lowest_close = std::min_element(close.begin(), close.end(),
                                                 [&](int a, int b) { return at(a)[m] < at(b)[m]; });
      if (lowest_close != close.end()) starts.push_back(*lowest_close);
      for (const int k : starts) {
        double lowest = at(k)[m];
        field.descend(k, [&](int spot) {
          const double v = at(spot)[m];
          const bool lower = v < lowest;
          lowest = std::min(lowest, v);
          return lower;
        });
      }
    }
  }

  template <class Words>
  void look(const std::vector<Setting>& settings, Force pull, const Direction<Boat>& d, double* row,
            Words words) {
    const auto& modes = engine_.modes();
    const bool everyday = case_->decides && case_->category == Category::everyday;
    const std::string motion = engine_.act(settings, case_->path, pull, d, [&](const Actions& a) {
      for (int k = 0; everyday && k < a.count; ++k) {
        const Force t = a.tension[std::size_t(k)];
        if (!out_.everyday_tension || t > *out_.everyday_tension) out_.everyday_tension = t;
      }
      for (std::size_t i = 0; i < modes.size(); ++i) {
        if (!modes[i].mode->needs_load) continue;
        const Use use = modes[i].mode->use(s_, a, case_->category);
        const double factor = use.factor();
        const double ratio = factor / needed_[i];
        if (row != nullptr) row[i] = std::min(row[i], ratio);
        if (case_->decides && ratio < deciding_[i].ratio) {
          deciding_[i] = {ratio, use, needed_[i], case_, words()};
        }
        if (modes[i].mode->fatigue || !(ratio < case_worst_)) continue;
        case_worst_ = ratio;
        result_.worst_mode = modes[i].mode->id;
        result_.worst_gives_way = modes[i].mode->gives_way;
        result_.factor = factor;
        result_.needed = needed_[i];
        result_.direction = words();
        if (!case_->decides || !(ratio < worst_of_all_)) continue;
        worst_of_all_ = ratio;
        out_.fasteners.clear();
        for (int k = 0; k < a.count; ++k) {
          out_.fasteners.push_back({s_.plate().fastening.holes[std::size_t(k)],
                                    a.tension[std::size_t(k)], a.shear[std::size_t(k)].size()});
        }
      }
    });
    if (motion.empty() || !result_.motion.empty()) return;
    result_.motion = motion;
    if (case_->decides) mechanism_ = motion + " (" + case_->title + ", " + words() + ")";
  }

  const Setup& s_;
  Engine& engine_;
  Assessment& out_;
  std::vector<Worst> deciding_;
  double worst_of_all_ = infinite;
  std::string mechanism_;
  // Of the case at hand.
  const LoadCase* case_ = nullptr;
  std::vector<double> needed_;
  double case_worst_ = infinite;
  CaseResult result_;
};

bool is_calculated(const LoadCase& c) {
  return !c.left_out && (c.path == LoadPath::line || c.path == LoadPath::rim ||
                         c.path == LoadPath::point || c.path == LoadPath::ride);
}

}  // namespace

Assessment assess_plate(const Setup& s, const AssessOptions& options) {
  Engine engine(s);
  Assessment out;
  const std::vector<LoadCase> cases = load_cases(s);
  const std::vector<LoadCase> listed = s.case_edits.empty() ? cases : listed_cases(s);
  const auto& modes = engine.modes();
  // What is found at twice the step is followed to an eighth of it; the sphere of a hand is smooth.
  // The root of a lip carries along the row of those that pull: its strength jumps where one more
  // begins to, so that its peaks are narrow.
  const bool jumps = s.plate().host.form == WallForm::open_lip;
  const Angle coarse = (jumps ? 1.0 : 2.0) * options.step;
  const Angle coarse_hand = 3.0 * options.step;
  Sweep sweep(s, engine, out);
  for (const LoadCase& c : cases) {
    if (!c.decides && !options.neighbours) continue;  // a neighbour's verdict needs no more
    if (is_calculated(c)) {
      out.cases.push_back(sweep.run(c, c.path == LoadPath::rim ? coarse_hand : coarse));
    } else {
      out.cases.emplace_back();
      out.cases.back().load_case = c;
    }
  }
  const std::vector<Worst>& deciding = sweep.deciding();
  const std::string& mechanism = sweep.mechanism();

  // Pulls at which things go, of each gear by itself.
  const bool refused_mode =
      std::any_of(engine.all().begin(), engine.all().end(),
                  [](const Standby& w) { return w.applicable.standing == Standing::refused; });
  std::vector<Limits> limits;
  for (std::size_t g = 0; g < s.gear.size(); ++g) {
    const Gear& gear = s.gear[g];
    GearLimit l;
    l.gear = gear.name;
    const OwnPull own = own_pull(cases, listed, g);
    if (mechanism.empty() && !own.ranges.empty()) {
      limits.emplace_back(engine, g, gear.rod_holder ? LoadPath::line : LoadPath::point, own.ranges,
                          own.pull, coarse, options.neighbours);
      const auto words = [](const Standby* m) {
        return m != nullptr ? std::string(m->mode->gives_way) : std::string();
      };
      if (!refused_mode) {
        const Limits::Limit hold = limits.back().largest_pull(nullptr, true);
        l.hold_limit = hold.pull;
        l.set_by = words(hold.mode);
        if (hold.direction) l.direction = describe(*hold.direction);
        if (options.neighbours) {
          const Limits::Limit goes = limits.back().largest_pull(nullptr, false);
          l.not_before = goes.pull;
          l.first = words(goes.mode);
        }
      }
    }
    if (gear.rod_holder && l.hold_limit) {
      l.setting = *l.hold_limit / (1.5 * gear.rod_holder->spool_growth);
      if (l.not_before) l.test_pull = std::min<Force>(1.25 * *l.setting, 0.6 * *l.not_before);
    }
    out.gear_limits.push_back(l);
    least(out.hold_limit, l.hold_limit);
    least(out.not_before, l.not_before);
    least(out.setting, l.setting);
    least(out.test_pull, l.test_pull);
  }
  std::string weakest_rim;
  for (CaseResult& r : out.cases) {
    const LoadCase& c = r.load_case;
    if (c.path != LoadPath::rim || !is_calculated(c) || !options.neighbours || refused_mode) {
      continue;
    }
    const auto gear = std::size_t(std::max(c.gear, 0));
    r.goes_at = Limits(engine, gear, c.path, c.ranges, c.pull, coarse_hand, false)
                    .largest_pull(nullptr, false)
                    .pull;
    if (r.goes_at && (!out.handhold || *r.goes_at < *out.handhold)) {
      out.handhold = r.goes_at;
      if (s.gear.size() > 1) weakest_rim = " of " + s.gear[gear].name;
    }
  }

  // One result per mode.
  for (const Standby& w : engine.all()) {
    CheckResult r;
    r.mode = w.mode->id;
    r.gives_way = w.mode->gives_way;
    r.standing = w.applicable.standing;
    r.why = w.applicable.why;
    r.source = {std::string(w.mode->source), "", w.mode->seen};
    r.valid = w.mode->valid;
    r.accuracy = w.mode->accuracy;
    r.outside_checks = w.mode->outside_checks;
    r.advice = w.mode->advice;
    r.lowered = w.lowered;
    if (r.standing == Standing::applies) {
      const auto index =
          std::size_t(std::find_if(modes.begin(), modes.end(),
                                   [&](const Standby& m) { return m.mode == w.mode; }) -
                      modes.begin());
      const Worst& worst = deciding[index];
      r.demand = worst.use.demand;
      r.strength = worst.use.strength;
      r.factor = worst.use.factor();
      r.needed = worst.load_case != nullptr ? worst.needed : w.needed;
      r.holds = worst.ratio >= 1;
      r.fastener = worst.use.fastener;
      std::vector<std::string> inputs;
      for (const std::string_view p : w.mode->depends_on) {
        if (!p.empty()) inputs.emplace_back(p);
      }
      if (worst.load_case != nullptr && w.mode->needs_load) {
        r.case_title = worst.load_case->title;
        r.direction = worst.direction;
        for (const std::string& p : worst.load_case->depends_on) inputs.push_back(p);
        for (const Input& i : s.inputs) {
          if (enters_every_check(i.path, listed)) inputs.push_back(i.path);
        }
      }
      for (const std::string& p : inputs) {
        if (is_assumed(s, p) && !hardly_counts(p, r)) add_condition(r.assumed, p);
      }
      if (w.mode->needs_load && !w.mode->fatigue && mechanism.empty() && options.neighbours) {
        for (Limits& l : limits) {
          if (!w.mode->spoils) least(r.goes_at, l.largest_pull(&modes[index], false).pull);
          least(r.limit_at, l.largest_pull(&modes[index], true).pull);
        }
      }
    }
    out.checks.push_back(r);
  }
  parts::sort_checks(out.checks);

  // Verdict.
  out.reasons = refusals(s);
  for (const CheckResult& r : out.checks) {
    if (r.standing == Standing::refused &&
        std::find(out.reasons.begin(), out.reasons.end(), r.why) == out.reasons.end()) {
      out.reasons.push_back(r.why);
    }
  }
  if (!mechanism.empty()) out.reasons.push_back(mechanism);
  if (std::none_of(cases.begin(), cases.end(),
                   [](const LoadCase& c) { return c.decides && is_calculated(c); })) {
    out.reasons.emplace_back("no load case is left that decides");
  }
  const CheckResult* governing = nullptr;
  bool all_hold = true;
  for (const CheckResult& r : out.checks) {
    if (r.standing != Standing::applies) continue;
    if (limits_life(s, r.mode)) continue;
    if (governing == nullptr && !r.case_title.empty()) governing = &r;  // a load, no distance
    all_hold = all_hold && r.holds;
  }
  if (out.reasons.empty() && all_hold) {
    for (const CheckResult& r : out.checks) {
      if (r.standing != Standing::applies || r.factor / r.needed >= 1.5) continue;
      if (limits_life(s, r.mode)) continue;
      if (std::find(r.assumed.begin(), r.assumed.end(), "mount.host.thickness") ==
          r.assumed.end()) {
        continue;
      }
      out.reasons.emplace_back("the " + host_word(s) + " thickness is not measured and \"" +
                               r.gives_way + "\" lies within 1.5 x of the limit: measure the " +
                               host_word(s));
      break;
    }
  }
  if (!out.reasons.empty()) {
    out.verdict = Verdict::no_verdict;
  } else if (!all_hold) {
    out.verdict = Verdict::does_not_hold;
  } else {
    if (const std::string cracks = may_crack(s, out.checks); !cracks.empty()) {
      out.holds_if.push_back("no crack grows in time, an estimate: " + cracks);
    }
    // Whatever is assumed and enters a check is named: an alloy guessed wrong halves a strength.
    for (const CheckResult& r : out.checks) {
      if (r.standing != Standing::applies || limits_life(s, r.mode)) continue;
      for (const std::string& p : r.assumed) {
        if (p.starts_with("condition.")) continue;  // asked for below
        // Gears share the names of their inputs.
        for (const Input& i : s.inputs) {
          if (i.path == p && i.known == Knowledge::assumed) {
            add_condition(out.holds_if, i.label + " is " + i.value);
          }
        }
      }
    }
    for (const std::string& text : owners_conditions(s, cases)) add_condition(out.holds_if, text);
    const Condition& c = s.condition;
    const auto ask = [&](Answer a, const char* text) {
      if (a == Answer::not_known) out.holds_if.emplace_back(text);
    };
    if (!s.plate().base.metal) {
      out.holds_if.emplace_back("the base itself is strong enough: it is not checked");
    }
    if (!s.plate().host.is_metal()) {
      out.holds_if.emplace_back(bending_of_host(s) + " does no harm: it is not checked");
      ask(c.soft_wood_or_core, "nothing under the base is soft: an awl tells");
    }
    ask(c.cracks, "there is no crack near the base");
    const bool metal = s.plate().host.is_metal();
    if (metal) ask(c.loose_rivets, "no rivet in reach is loose");
    ask(c.bent_or_corroded, "no hardware is bent or corroded");
    if (metal) ask(c.weld_near_base, "no weld lies within 1 in (25 mm) of the base");
    out.verdict = out.holds_if.empty() ? Verdict::holds : Verdict::holds_if;
  }
  if (options.neighbours) {
    write_to_do(s, out);
    write_ladder(s, out);
    write_walls(s, options, out);
    write_cautions(s, weakest_rim, out);
    write_not_checked(s, cases, out);
    write_sources(s, out);
  }
  write_sentence(s, cases, out);
  return out;
}

}  // namespace thole
