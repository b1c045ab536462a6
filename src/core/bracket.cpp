#include "core/bracket.hpp"

#include <algorithm>
#include <array>
#include <cmath>

#include <thole/thread.hpp>
#include <thole/tightening.hpp>

#include "core/geometry.hpp"
#include "core/ties.hpp"

namespace thole::bracket {

template <class Level, class Visit>
void Reactions::cut(const Polygon& p, Level level, Visit corner) {
  if (p.empty()) return;
  const double first = level(p.front());
  double la = first;
  for (std::size_t i = 0; i < p.size(); ++i) {
    const Corner& a = p[i];
    const Corner& b = p[i + 1 < p.size() ? i + 1 : 0];
    const double lb = i + 1 < p.size() ? level(b) : first;
    if (la > 0) corner(a);
    if ((la > 0) != (lb > 0)) {
      const double t = la / (la - lb);
      corner(Corner{a.x + t * (b.x - a.x), a.y + t * (b.y - a.y),
                    a.pressure + t * (b.pressure - a.pressure)});
    }
    la = lb;
  }
}

// Of a linear pressure, by triangles from the first corner.
class Reactions::Integral {
 public:
  void add(const Corner& c) {
    if (corners_ == 0) first_ = c;
    if (corners_ >= 2) triangle(first_, last_, c);
    last_ = c;
    ++corners_;
  }
  [[nodiscard]] Push sum() const {
    return {Force::from_value(force_), Moment::from_value(about_x_), Moment::from_value(about_y_)};
  }

 private:
  void triangle(const Corner& a, const Corner& b, const Corner& c) {
    const double area = 0.5 * ((b.x - a.x) * (c.y - a.y) - (c.x - a.x) * (b.y - a.y));
    const double all = a.pressure + b.pressure + c.pressure;
    force_ += area / 3 * all;
    about_y_ += area / 12 *
                (all * (a.x + b.x + c.x) + a.pressure * a.x + b.pressure * b.x + c.pressure * c.x);
    about_x_ += area / 12 *
                (all * (a.y + b.y + c.y) + a.pressure * a.y + b.pressure * b.y + c.pressure * c.y);
  }

  Corner first_, last_;
  int corners_ = 0;
  double force_ = 0, about_x_ = 0, about_y_ = 0;
};

Reactions::Reactions(const GunwalePlate& m, const ContactResult& r)
    : holes_(m.fastening.holes), result_(r) {
  const double w = r.lift.value();
  const double tx = r.tilt_x.value();
  const double ty = r.tilt_y.value();
  Force all{};
  for (const Outline& o : geometry::bed_of(m)) {
    Polygon whole;
    whole.reserve(o.size());
    for (const PlanPoint& p : o) {
      const double x = p.x.value();
      const double y = p.y.value();
      whole.push_back({x, y, -(w + tx * y - ty * x)});
    }
    Polygon& pressed = pressed_.emplace_back();
    pressed.reserve(whole.size() + 2);
    Integral sum;
    cut(
        whole, [](const Corner& c) { return c.pressure; },
        [&](const Corner& c) {
          pressed.push_back(c);
          sum.add(c);
        });
    parts_.push_back(sum.sum());
    all += parts_.back().force;
  }
  // How stiff the bed is does not matter: its resultant is known.
  const double scale = all.value() > 0 ? double(r.bed_force / all) : 0.0;
  for (Polygon& p : pressed_) {
    for (Corner& c : p) c.pressure *= scale;
  }
  for (Push& p : parts_) p = {scale * p.force, scale * p.about_x, scale * p.about_y};
}

Push Reactions::beyond(double nx, double ny, Length distance) const {
  const double d = distance.value();
  Push out;
  for (const Polygon& whole : pressed_) {
    Integral sum;
    cut(
        whole, [&](const Corner& c) { return nx * c.x + ny * c.y - d; },
        [&](const Corner& c) { sum.add(c); });
    const Push p = sum.sum();
    out.force += p.force;
    out.about_x += p.about_x;
    out.about_y += p.about_y;
  }
  for (std::size_t i = 0; i < holes_.size(); ++i) {
    const PlanPoint& p = holes_[i];
    if (!(nx * p.x + ny * p.y > distance)) continue;
    out.force -= result_.tension[i];
    out.about_x -= result_.tension[i] * p.y;
    out.about_y -= result_.tension[i] * p.x;
  }
  return out;
}

namespace {

// Short stiff elements beside long soft ones: the beam makes much of the last digit of what it is
// given, and that of a sine or a power hangs on the machine. What it is given has fewer digits.
double on_a_grid(double way) { return std::ldexp(std::round(std::ldexp(way, 30)), -30); }

// A plate cut out along one way, as a beam. SI numbers.
class Strip {
 public:
  // `nx`, `ny`: on a grid, see `on_a_grid`.
  Strip(const GunwalePlate& m, const std::vector<PlanPoint>& fasteners, double nx, double ny) {
    const auto along = [&](const PlanPoint& p) { return nx * p.x.value() + ny * p.y.value(); };
    std::vector<double> stops;
    double area = 0;
    double low = 1e300;
    double high = -1e300;
    for (const PlanPoint& p : m.base.outline) {
      low = std::min(low, along(p));
      high = std::max(high, along(p));
    }
    const std::vector<Outline> bed = geometry::bed_of(m);
    for (const Outline& o : bed) {
      area += area_of(o).value();
      for (const PlanPoint& p : o) stops.push_back(std::clamp(along(p), low, high));
    }
    for (const PlanPoint& p : fasteners) stops.push_back(along(p));
    const double gear = along(m.bracket->gear_at);
    const double foot = 0.5 * m.bracket->gear_width.value();
    for (const double s : {gear - foot, gear, gear + foot}) {
      stops.push_back(std::clamp(s, low, high));
    }
    constexpr int steps = 96;
    for (int i = 0; i <= steps; ++i) stops.push_back(low + (high - low) * i / steps);
    std::sort(stops.begin(), stops.end());
    const double hair = 1e-3 * (high - low);
    for (const double s : stops) {
      if (at_.empty() || s > at_.back() + hair) at_.push_back(s);
    }
    const auto nearest = [&](double s) {
      std::size_t best = 0;
      for (std::size_t i = 0; i < at_.size(); ++i) {
        if (std::abs(at_[i] - s) < std::abs(at_[best] - s)) best = i;
      }
      return best;
    };
    bed_.assign(at_.size(), 0);
    bolts_.assign(at_.size(), 0);
    load_ = nearest(gear);
    for (const PlanPoint& p : fasteners) bolts_[nearest(along(p))] += 1;
    const double t = m.base.thickness.value();
    const double section = m.base.metal->modulus.value() * t * t * t;
    for (std::size_t i = 0; i + 1 < at_.size(); ++i) {
      const double h = at_[i + 1] - at_[i];
      const Length middle = Length::from_value(at_[i] + 0.5 * h);
      double found = 0;
      for (const Outline& o : bed) found += geometry::chord(o, nx, ny, middle).value();
      bed_[i] += 0.5 * h * found / area;
      bed_[i + 1] += 0.5 * h * found / area;
      const bool below_gear = std::abs(middle.value() - gear) < foot;
      const double width = geometry::chord(m.base.outline, nx, ny, middle).value();
      bends_.push_back(section * width / 12 * (below_gear ? stiff_under_gear : 1));
    }
  }

  [[nodiscard]] double length() const { return at_.back() - at_.front(); }
  [[nodiscard]] double most_in_line() const {
    return *std::max_element(bolts_.begin(), bolts_.end());
  }

  struct Load {
    double force = 0, moment = 0;  // at the gear, upward
  };
  struct Springs {
    double fastener = 0, bed = 0;  // each, and all of it: force over distance
  };

  static constexpr double not_balanced = -1;
  // Hardest pull on one fastener. `u`: where the search starts, and ends.
  [[nodiscard]] double bent(const Load& load, const Springs& k, std::vector<double>& u) const {
    const std::size_t n = at_.size();
    std::vector<Row> a;
    std::vector<double> x;
    search(u, [&](const auto& stiffness) {
      x.assign(2 * n, 0.0);
      x[2 * load_] = load.force;
      x[2 * load_ + 1] = load.moment;
      a.assign(2 * n, Row{});
      for (std::size_t i = 0; i + 1 < n; ++i) add_element(a, i);
      for (std::size_t i = 0; i < n; ++i) {
        a[2 * i][0] += stiffness(i, k) + 1e-9 * k.fastener;
        a[2 * i + 1][0] += 1e-13 * k.fastener;
      }
      solve(a, x);
      return [&](std::size_t i) { return x[2 * i]; };
    });
    return hardest(load, k, u);
  }

  // The same of a plate that does not bend.
  [[nodiscard]] double rigid(const Load& load, const Springs& k, std::vector<double>& u) const {
    search(u, [&](const auto& stiffness) {
      double lifts = 1e-9 * k.fastener;
      double both = 0;
      double turns = 1e-9 * k.fastener * length() * length();
      for (std::size_t i = 0; i < at_.size(); ++i) {
        const double s = at_[i] - at_[load_];
        const double here = stiffness(i, k);
        lifts += here;
        both += here * s;
        turns += here * s * s;
      }
      const double size = lifts * turns - both * both;
      const double lift = (turns * load.force - both * load.moment) / size;
      const double turn = (lifts * load.moment - both * load.force) / size;
      return [this, lift, turn](std::size_t i) { return lift + turn * (at_[i] - at_[load_]); };
    });
    return hardest(load, k, u);
  }

 private:
  static constexpr double stiff_under_gear = 1e3;
  using Row = std::array<double, 4>;  // upper band of a symmetric matrix

  // Which fasteners pull and where the bed pushes: `place(stiffness)` gives the rise of each stop
  // where they are those of the last round.
  template <class Place>
  void search(std::vector<double>& u, Place place) const {
    const bool fresh = u.size() != at_.size();
    u.resize(at_.size(), 0.0);
    for (int round = 0; round < 80; ++round) {
      const bool all = round == 0 && fresh;
      const auto rise = place([&](std::size_t i, const Springs& k) {
        return (all || u[i] > 0 ? bolts_[i] * k.fastener : 0.0) +
               (all || u[i] < 0 ? bed_[i] * k.bed : 0.0);
      });
      bool same = !all;
      for (std::size_t i = 0; i < u.size(); ++i) {
        const double now = round < 20 ? rise(i) : 0.5 * (rise(i) + u[i]);
        same = same && (now > 0) == (u[i] > 0);
        u[i] = now;
      }
      if (same) return;
    }
  }

  [[nodiscard]] double hardest(const Load& load, const Springs& k,
                               const std::vector<double>& u) const {
    double most = 0;
    double lifts = 0;
    double turns = 0;
    for (std::size_t i = 0; i < u.size(); ++i) {
      const double force = (u[i] > 0 ? bolts_[i] * k.fastener : bed_[i] * k.bed) * u[i];
      lifts += force;
      turns += force * (at_[i] - at_[load_]);
      if (u[i] > 0 && bolts_[i] > 0) most = std::max(most, k.fastener * u[i]);
    }
    const double off = std::abs(lifts - load.force) + std::abs(turns - load.moment) / length();
    const bool balanced = off < 0.02 * (std::abs(load.force) + std::abs(load.moment) / length());
    return balanced ? most : not_balanced;
  }

  void add_element(std::vector<Row>& a, std::size_t i) const {
    const double h = at_[i + 1] - at_[i];
    const double k = bends_[i] / (h * h * h);
    const std::array<std::array<double, 4>, 4> e{{{12, 6 * h, -12, 6 * h},
                                                  {6 * h, 4 * h * h, -6 * h, 2 * h * h},
                                                  {-12, -6 * h, 12, -6 * h},
                                                  {6 * h, 2 * h * h, -6 * h, 4 * h * h}}};
    for (std::size_t r = 0; r < 4; ++r) {
      for (std::size_t c = r; c < 4; ++c) a[2 * i + r][c - r] += k * e[r][c];
    }
  }

  static void solve(std::vector<Row>& a, std::vector<double>& x) {
    const std::size_t n = x.size();
    for (std::size_t i = 0; i < n; ++i) {
      for (std::size_t r = 1; r < 4 && i + r < n; ++r) {
        const double m = a[i][r] / a[i][0];
        for (std::size_t c = r; c < 4; ++c) a[i + r][c - r] -= m * a[i][c];
        x[i + r] -= m * x[i];
      }
    }
    for (std::size_t i = n; i-- > 0;) {
      for (std::size_t c = 1; c < 4 && i + c < n; ++c) x[i] -= a[i][c] * x[i + c];
      x[i] /= a[i][0];
    }
  }

  std::vector<double> at_;
  std::vector<double> bed_;    // share of all of it at each stop
  std::vector<double> bolts_;  // how many
  std::vector<double> bends_;  // E I between stops
  std::size_t load_ = 0;
};

}  // namespace

Curl::Curl(const GunwalePlate& m, const std::vector<PlanPoint>& fasteners, double nx, double ny,
           LinearStiffness each, std::span<const double> softness)
    : nx_(nx),
      ny_(ny),
      gear_x_(m.bracket->gear_at.x.value()),
      gear_y_(m.bracket->gear_at.y.value()) {
  const Strip strip(m, fasteners, on_a_grid(nx), on_a_grid(ny));
  const double one = parts::steady(each.value());
  length_ = strip.length();
  line_ = strip.most_in_line();
  for (const double soft : softness) {
    const Strip::Springs k{one, double(fasteners.size()) * one / parts::steady(soft)};
    std::vector<double> bent;
    std::vector<double> rigid;
    for (std::size_t i = 0; i < ways; ++i) {
      const double at = 4.0 * double(i) / double(ways);
      const Strip::Load load{std::abs(at - 2) - 1,
                             length_ * (at < 2 ? 1 - std::abs(at - 1) : std::abs(at - 3) - 1)};
      Pull& p = of_way_[i];
      double pull = strip.bent(load, k, bent);
      if (pull == Strip::not_balanced) {  // the last load was a bad start
        bent.clear();
        pull = strip.bent(load, k, bent);
      }
      p.bent = std::max(p.bent, pull);
      p.rigid = std::max(p.rigid, strip.rigid(load, k, rigid));
    }
  }
}

Force Curl::adds(const BaseLoad& load, Force hardest) const {
  const double force = load.force.z().value();
  const double moment = nx_ * (-load.moment.y().value() - gear_x_ * force) +
                        ny_ * (load.moment.x().value() - gear_y_ * force);
  const double turn = moment / length_;
  const double size = std::abs(force) + std::abs(turn);
  if (!(size > 0)) return Force{};
  const double f = force / size;
  const double at = double(ways) / 4 * (turn >= 0 ? 1 - f : 3 + f);
  const std::size_t i = std::min(std::size_t(at), ways - 1);
  const double t = at - double(i);
  const Pull& a = of_way_[i];
  const Pull& b = of_way_[(i + 1) % ways];
  const double bent = a.bent + t * (b.bent - a.bent);
  const double rigid = a.rigid + t * (b.rigid - a.rigid);
  if (!(bent > rigid)) return Force{};
  const double uneven =
      rigid > 0 ? std::clamp(hardest.value() / (size * rigid), 1.0, line_) : line_;
  // A beam of many more stops adds up to 5 % more.
  constexpr double coarse = 1.05;
  return Force::from_value(coarse * uneven * size * (bent - rigid));
}

std::vector<Curl> curls_of(const GunwalePlate& m, const std::vector<PlanPoint>& fasteners,
                           LinearStiffness each, std::span<const double> softness) {
  std::vector<Curl> out;
  if (!m.base.metal) return out;
  const double turned = radians(m.base.sides_turned.value_or(Angle{}));
  const double c = std::cos(turned);
  const double n = std::sin(turned);
  out.emplace_back(m, fasteners, c, n, each, softness);
  out.emplace_back(m, fasteners, -n, c, each, softness);
  return out;
}

void add_curl(const std::vector<Curl>& curls, const BaseLoad& load, double least,
              const ContactResult& result, Force* tension) {
  Force hardest{};
  for (int i = 0; i < result.count; ++i) {
    hardest = std::max(hardest, result.tension[std::size_t(i)]);
  }
  Force more{};
  for (const Curl& c : curls) more = std::max(more, c.adds(load, hardest));
  // Where hardly any pulls without bending, with it any may.
  const bool any = hardest < 0.02 * more;
  const double growth = any || !(more.value() > 0) ? least : std::max(least, 1 + more / hardest);
  for (int i = 0; i < result.count; ++i) {
    tension[i] = growth * result.tension[std::size_t(i)] + (any ? more : Force{});
  }
}

Slip slip_of(const GunwalePlate& m) {
  constexpr double low = 0.1;
  constexpr double most_measured = 0.2;
  constexpr double left = 0.5;
  constexpr double by_hand = 0.2;
  const Fastening& f = m.fastening;
  Slip out;
  out.friction = std::min(m.bracket->friction.value_or(low), most_measured);
  if (m.bracket->clamp) {
    const Force drawn =
        preload_of(m.bracket->clamp->tightened, f.thread.diameter, nut_factor(true, false).high);
    out.each = left * drawn;
  } else {
    const Force yields = 2.0 * f.material.yield * tensile_stress_area(f.thread);
    out.each = left * by_hand * yields;
  }
  return out;
}

}  // namespace thole::bracket
