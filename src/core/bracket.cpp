#include "core/bracket.hpp"

#include <algorithm>
#include <array>
#include <cmath>

#include <thole/thread.hpp>
#include <thole/tightening.hpp>

#include "core/geometry.hpp"

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

// A plate cut out along one way, as a beam. SI numbers.
class Strip {
 public:
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
    constexpr int steps = 48;
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
    const double section = m.base.metal->modulus.value() * std::pow(m.base.thickness.value(), 3);
    for (std::size_t i = 0; i + 1 < at_.size(); ++i) {
      const double h = at_[i + 1] - at_[i];
      const Length middle = Length::from_value(at_[i] + 0.5 * h);
      double found = 0;
      for (const Outline& o : bed) found += geometry::chord(o, nx, ny, middle).value();
      bed_[i] += 0.5 * h * found / area;
      bed_[i + 1] += 0.5 * h * found / area;
      const bool below_gear = std::abs(middle.value() - gear) < foot;
      const double width = geometry::chord(m.base.outline, nx, ny, middle).value();
      bends_.push_back(section * width / 12 * (below_gear ? rigid : 1));
    }
  }

  // Hardest pull on one fastener under a moment of 1 at the gear, down (-1) or up; 0 where nothing
  // balances it. `bed`: all of it, force over distance.
  [[nodiscard]] double pull(double sign, double each, double bed, bool bending) const {
    const std::size_t n = at_.size();
    std::vector<double> u(n, 0.0);
    std::vector<Row> a;
    for (int round = 0; round < 80; ++round) {
      std::vector<double> x(2 * n, 0.0);
      x[2 * load_ + 1] = sign;
      a.assign(2 * n, Row{});
      for (std::size_t i = 0; i + 1 < n; ++i) add_element(a, i, bending ? 1.0 : rigid);
      for (std::size_t i = 0; i < n; ++i) {
        if (round == 0 || u[i] > 0) a[2 * i][0] += bolts_[i] * each;
        if (round == 0 || u[i] < 0) a[2 * i][0] += bed_[i] * bed;
        a[2 * i][0] += 1e-9 * each;
        a[2 * i + 1][0] += 1e-13 * each;
      }
      solve(a, x);
      bool same = round > 0;
      for (std::size_t i = 0; i < n; ++i) {
        const double now = round < 20 ? x[2 * i] : 0.5 * (x[2 * i] + u[i]);
        same = same && (now > 0) == (u[i] > 0);
        u[i] = now;
      }
      if (same) break;
    }
    double most = 0;
    double carried = 0;
    for (std::size_t i = 0; i < n; ++i) {
      const double k = u[i] > 0 ? bolts_[i] * each : bed_[i] * bed;
      carried += k * u[i] * (at_[i] - at_[load_]);
      if (u[i] > 0 && bolts_[i] > 0) most = std::max(most, each * u[i]);
    }
    return std::abs(carried / sign - 1) < 0.02 ? most : 0;
  }

 private:
  static constexpr double rigid = 1e4;
  using Row = std::array<double, 4>;  // upper band of a symmetric matrix

  void add_element(std::vector<Row>& a, std::size_t i, double times) const {
    const double h = at_[i + 1] - at_[i];
    const double k = times * bends_[i] / (h * h * h);
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

std::vector<Curl> curls_of(const GunwalePlate& m, const std::vector<PlanPoint>& fasteners,
                           LinearStiffness each, std::span<const double> softness) {
  std::vector<Curl> out;
  if (!m.base.metal) return out;
  const double turned = radians(m.base.sides_turned.value_or(Angle{}));
  const double c = std::cos(turned);
  const double n = std::sin(turned);
  for (const auto& [nx, ny] : {std::pair{c, n}, std::pair{-n, c}}) {
    for (const double way : {1.0, -1.0}) {
      Curl curl{way * nx, way * ny};
      const bool one_side = std::all_of(fasteners.begin(), fasteners.end(), [&](const auto& p) {
        const Length to =
            curl.nx * (m.bracket->gear_at.x - p.x) + curl.ny * (m.bracket->gear_at.y - p.y);
        return to > 0.5 * m.bracket->gear_width;
      });
      if (!one_side) continue;
      const Strip strip(m, fasteners, curl.nx, curl.ny);
      for (const double sign : {-1.0, 1.0}) {
        double bent = 0;
        double whole = 0;
        for (const double soft : softness) {
          const double k = each.value();
          const double bed = double(fasteners.size()) * k / soft;
          bent = std::max(bent, strip.pull(sign, k, bed, true));
          whole = std::max(whole, strip.pull(sign, k, bed, false));
        }
        if (whole > 0) (sign < 0 ? curl.down : curl.up) = std::max(1.0, bent / whole);
      }
      out.push_back(curl);
    }
  }
  return out;
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
