#include <doctest/doctest.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdint>
#include <numbers>
#include <random>
#include <string>
#include <vector>

#include <Eigen/Dense>

#include <thole/base_contact.hpp>
#include <thole/error.hpp>
#include <thole/fastener_group.hpp>
#include <thole/metal_strength.hpp>

#include "support/published.hpp"

using namespace thole;
using namespace thole::literals;
using Eigen::Vector3d;

namespace {

/// Numbers that are the same on every platform: the top 53 bits of the engine.
class Random {
 public:
  explicit Random(std::uint64_t seed) : engine_(seed) {}
  double between(double low, double high) {
    return low + (high - low) * (double(engine_() >> 11U) * 0x1p-53);
  }
  int below(int n) { return int(between(0, n)); }

 private:
  std::mt19937_64 engine_;
};

struct Point {
  double x, y;
};

/// One base with its load, SI numbers: bed about 0.1 m, forces of some kN.
struct Setup {
  std::vector<Point> bed;
  std::vector<Point> bolts;
  double kf = 0, kb = 0;
  double up = 0, mx = 0, my = 0;
};

/// Corners on an ellipse in counter-clockwise order are convex, whatever their angles.
Setup random_setup(Random& random) {
  Setup s;
  const int corners = 3 + random.below(6);
  const double a = random.between(0.03, 0.12);
  const double b = random.between(0.03, 0.12);
  const double turn = random.between(0, 2 * std::numbers::pi);
  const double x0 = random.between(-0.02, 0.02);
  const double y0 = random.between(-0.02, 0.02);
  for (int i = 0; i < corners; ++i) {
    const double at = 2 * std::numbers::pi * (i + random.between(0.0, 0.8)) / corners + turn;
    s.bed.push_back({x0 + a * std::cos(at), y0 + b * std::sin(at)});
  }
  const int bolts = random.below(7);
  for (int i = 0; i < bolts; ++i) {
    s.bolts.push_back({random.between(-0.1, 0.1), random.between(-0.1, 0.1)});
  }
  s.kf = std::pow(10.0, random.between(9, 12));
  s.kb = std::pow(10.0, random.between(6, 8));
  s.up = random.between(-3000, 3000);
  s.mx = random.between(-200, 200);
  s.my = random.between(-200, 200);
  return s;
}

std::vector<PlanPoint> plan(const std::vector<Point>& points) {
  std::vector<PlanPoint> out;
  for (const Point& p : points) out.push_back({p.x * si::metre, p.y * si::metre});
  return out;
}

Moment moment(double v) { return v * si::newton * si::metre; }

ContactResult solve(const Setup& s, double factor = 1) {
  const BaseContact base(plan(s.bed), BedStiffness::from_value(s.kf), plan(s.bolts),
                         LinearStiffness::from_value(s.kb));
  return base.solve(factor * s.up * si::newton, moment(factor * s.mx), moment(factor * s.my));
}

double lift_at(const ContactResult& r, Point p) {
  return r.lift.value() + r.tilt_x.value() * p.y - r.tilt_y.value() * p.x;
}

double largest_tension(const ContactResult& r) {
  double largest = 0;
  for (std::size_t i = 0; i < std::size_t(r.count); ++i) {
    largest = std::max(largest, r.tension[i].value());
  }
  return largest;
}

/// Resultant of the bed pressure, by triangles and the edge-midpoint rule (exact for quadratics):
/// another way than the polygon integrals of the library. Force, force x, force y.
Vector3d bed_resultant(const Setup& s, const ContactResult& r) {
  std::vector<Point> pressed;
  for (std::size_t i = 0; i < s.bed.size(); ++i) {
    const Point a = s.bed[i];
    const Point b = s.bed[(i + 1) % s.bed.size()];
    const double ua = lift_at(r, a);
    const double ub = lift_at(r, b);
    if (ua < 0) pressed.push_back(a);
    if (ua * ub < 0) {
      const double t = ua / (ua - ub);
      pressed.push_back({a.x + t * (b.x - a.x), a.y + t * (b.y - a.y)});
    }
  }
  Vector3d sum = Vector3d::Zero();
  for (std::size_t i = 2; i < pressed.size(); ++i) {
    const std::array<Point, 3> t = {pressed[0], pressed[i - 1], pressed[i]};
    const double area =
        0.5 * ((t[1].x - t[0].x) * (t[2].y - t[0].y) - (t[2].x - t[0].x) * (t[1].y - t[0].y));
    for (std::size_t k = 0; k < 3; ++k) {
      const Point m = {0.5 * (t[k].x + t[(k + 1) % 3].x), 0.5 * (t[k].y + t[(k + 1) % 3].y)};
      const double push = -s.kf * lift_at(r, m) * area / 3;
      sum += push * Vector3d(1, m.x, m.y);
    }
  }
  return sum;
}

/// Lawson and Hanson's non-negative least squares: the part of `load` that pushes of the bed
/// corners and pulls of the fasteners cannot balance.
double unbalanced(const Setup& s) {
  constexpr double a = 0.1;  // m, makes moments forces
  std::vector<Vector3d> rows;
  for (const Point& p : s.bed) rows.push_back(-Vector3d(1, p.y / a, -p.x / a));
  for (const Point& p : s.bolts) rows.emplace_back(1, p.y / a, -p.x / a);
  const Vector3d load = Vector3d(s.up, s.mx / a, s.my / a).normalized();
  std::vector<double> x(rows.size(), 0.0);
  std::vector<std::size_t> active;
  for (int round = 0; round < 1000; ++round) {
    Vector3d rest = load;
    for (std::size_t i = 0; i < rows.size(); ++i) rest -= x[i] * rows[i];
    std::size_t best = rows.size();
    double gain = 1e-10;
    for (std::size_t i = 0; i < rows.size(); ++i) {
      if (std::find(active.begin(), active.end(), i) != active.end()) continue;
      const double g = rows[i].dot(rest);
      if (g > gain) {
        gain = g;
        best = i;
      }
    }
    if (best == rows.size() || rest.norm() < 1e-13) return rest.norm();
    active.push_back(best);
    for (;;) {
      Eigen::MatrixXd m(3, Eigen::Index(active.size()));
      for (std::size_t j = 0; j < active.size(); ++j) m.col(Eigen::Index(j)) = rows[active[j]];
      const Eigen::VectorXd z = m.completeOrthogonalDecomposition().solve(load);
      if (z.minCoeff() > 0) {
        for (std::size_t j = 0; j < active.size(); ++j) x[active[j]] = z[Eigen::Index(j)];
        break;
      }
      double step = 1;
      for (std::size_t j = 0; j < active.size(); ++j) {
        const double to = z[Eigen::Index(j)];
        if (to <= 0) step = std::min(step, x[active[j]] / (x[active[j]] - to));
      }
      std::vector<std::size_t> kept;
      for (std::size_t j = 0; j < active.size(); ++j) {
        double& v = x[active[j]];
        v += step * (z[Eigen::Index(j)] - v);
        if (v > 1e-14) {
          kept.push_back(active[j]);
        } else {
          v = 0;
        }
      }
      active = kept;
      if (active.empty()) break;
    }
  }
  return 1;
}

/// Random setups whose load can be balanced, by the independent check.
template <class Check>
int for_each_balanced(std::uint64_t seed, int tries, Check check) {
  Random random(seed);
  int seen = 0;
  for (int i = 0; i < tries; ++i) {
    const Setup s = random_setup(random);
    if (unbalanced(s) > 1e-9) continue;
    const ContactResult r = solve(s);
    CAPTURE(i);
    if (r.balance != Balance::stable) continue;  // counted in its own case
    check(s, r, random);
    ++seen;
  }
  return seen;
}

Setup turned(const Setup& s, double angle) {
  const double c = std::cos(angle);
  const double n = std::sin(angle);
  const auto turn = [&](Point p) { return Point{c * p.x - n * p.y, n * p.x + c * p.y}; };
  Setup out = s;
  for (Point& p : out.bed) p = turn(p);
  for (Point& p : out.bolts) p = turn(p);
  const Point m = turn({s.mx, s.my});
  out.mx = m.x;
  out.my = m.y;
  return out;
}

/// Mirror image about the x axis: u = w + tx y - ty x keeps its value, so tx and Mx change sign.
Setup mirrored(const Setup& s) {
  Setup out = s;
  for (Point& p : out.bed) p.y = -p.y;
  for (Point& p : out.bolts) p.y = -p.y;
  std::reverse(out.bed.begin(), out.bed.end());
  out.mx = -s.mx;
  return out;
}

double largest_force(const ContactResult& r) {
  return std::max({largest_tension(r), r.bed_force.value(), 1e-3});
}

/// How much greater the forces are than the load, at least one: near tipping the rounding of the
/// load grows alike.
double amplification(const Setup& s, const ContactResult& r) {
  return std::max(1.0, largest_force(r) / (std::abs(s.up) + std::hypot(s.mx, s.my) / 0.1));
}

void check_same_tensions(const ContactResult& a, const ContactResult& b, double factor,
                         double tolerance) {
  const double allowed = tolerance * factor * largest_force(a);
  for (std::size_t i = 0; i < std::size_t(a.count); ++i) {
    CHECK(std::abs(factor * a.tension[i].value() - b.tension[i].value()) <= allowed);
  }
  CHECK(std::abs(factor * a.bed_force.value() - b.bed_force.value()) <= allowed);
}

/// A bed of several patches and fasteners with a stiffness each.
struct Patchwork {
  std::vector<std::vector<Point>> beds;
  std::vector<Point> bolts;
  std::vector<double> kb;
  double kf = 0;
  double up = 0, mx = 0, my = 0;
};

/// Up to six patches, each in its own cell of a grid that is turned as a whole.
Patchwork random_patchwork(Random& random) {
  Patchwork s;
  const double cell = random.between(0.03, 0.08);
  const double turn = random.between(0, 2 * std::numbers::pi);
  const int first = random.below(6);
  const int count = 1 + random.below(6);
  for (int i = 0; i < count; ++i) {
    const int at = (first + i) % 6;
    const double x0 = (at % 3 - 1) * cell;
    const double y0 = (at / 3 - 0.5) * cell;
    const double a = random.between(0.1, 0.49) * cell;
    const double b = random.between(0.1, 0.49) * cell;
    const int corners = 3 + random.below(4);
    std::vector<Point> bed;
    for (int c = 0; c < corners; ++c) {
      const double angle = 2 * std::numbers::pi * (c + random.between(0.0, 0.8)) / corners;
      const double x = x0 + a * std::cos(angle);
      const double y = y0 + b * std::sin(angle);
      bed.push_back(
          {std::cos(turn) * x - std::sin(turn) * y, std::sin(turn) * x + std::cos(turn) * y});
    }
    s.beds.push_back(bed);
  }
  const int bolts = random.below(7);
  for (int i = 0; i < bolts; ++i) {
    s.bolts.push_back({random.between(-0.1, 0.1), random.between(-0.1, 0.1)});
    s.kb.push_back(std::pow(10.0, random.between(6, 8)));
  }
  s.kf = std::pow(10.0, random.between(9, 12));
  s.up = random.between(-3000, 3000);
  s.mx = random.between(-200, 200);
  s.my = random.between(-200, 200);
  return s;
}

BaseContact base_of(const Patchwork& s) {
  std::vector<Outline> beds;
  for (const std::vector<Point>& b : s.beds) beds.push_back(plan(b));
  std::vector<LinearStiffness> k;
  for (const double v : s.kb) k.push_back(LinearStiffness::from_value(v));
  return {beds, BedStiffness::from_value(s.kf), plan(s.bolts), k};
}

ContactResult solve(const Patchwork& s) {
  return base_of(s).solve(s.up * si::newton, moment(s.mx), moment(s.my));
}

/// One patch, or all corners at once where only rows of the balance are wanted.
Setup patch_of(const Patchwork& s, std::size_t i) {
  Setup out;
  out.bed = s.beds[i];
  out.kf = s.kf;
  return out;
}

Setup corners_of(const Patchwork& s) {
  Setup out;
  for (const std::vector<Point>& b : s.beds) out.bed.insert(out.bed.end(), b.begin(), b.end());
  out.bolts = s.bolts;
  out.up = s.up;
  out.mx = s.mx;
  out.my = s.my;
  return out;
}

template <class Check>
int for_each_patchwork(std::uint64_t seed, int tries, Check check) {
  Random random(seed);
  int seen = 0;
  for (int i = 0; i < tries; ++i) {
    const Patchwork s = random_patchwork(random);
    if (unbalanced(corners_of(s)) > 1e-9) continue;
    const ContactResult r = solve(s);
    CAPTURE(i);
    if (r.balance != Balance::stable) continue;  // counted in its own case
    // Held by a hair, turned by more than it could: rounding decides whether that is still a
    // balance.
    if (std::hypot(r.tilt_x.value(), r.tilt_y.value()) > 100) continue;
    check(s, r, random);
    ++seen;
  }
  return seen;
}

/// As `amplification` of a plain base.
double amplification(const Patchwork& s, const ContactResult& r) {
  return amplification(corners_of(s), r);
}

double area_of_points(const std::vector<Point>& p) { return area_of(plan(p)).value(); }

/// The part of a polygon on the side of the line n.r = d where n.r < d (or beyond it).
std::vector<Point> side_of(const std::vector<Point>& p, double nx, double ny, double d,
                           bool beyond) {
  std::vector<Point> out;
  const double sign = beyond ? -1 : 1;
  for (std::size_t i = 0; i < p.size(); ++i) {
    const Point a = p[i];
    const Point b = p[(i + 1) % p.size()];
    const double ua = sign * (nx * a.x + ny * a.y - d);
    const double ub = sign * (nx * b.x + ny * b.y - d);
    if (ua <= 0) out.push_back(a);
    if (ua * ub < 0) {
      const double t = ua / (ua - ub);
      out.push_back({a.x + t * (b.x - a.x), a.y + t * (b.y - a.y)});
    }
  }
  return out;
}

/// Potential at a position (w, tx, ty); the squares of the pressed lifts by the edge-midpoint rule.
double energy(const Patchwork& s, const std::array<double, 3>& q) {
  const auto lift = [&](Point p) { return q[0] + q[1] * p.y - q[2] * p.x; };
  double e = -(s.up * q[0] + s.mx * q[1] + s.my * q[2]);
  for (std::size_t i = 0; i < s.bolts.size(); ++i) {
    const double u = std::max(0.0, lift(s.bolts[i]));
    e += 0.5 * s.kb[i] * u * u;
  }
  for (const std::vector<Point>& bed : s.beds) {
    // u = n.r - d with n = (-ty, tx), d = -w
    const std::vector<Point> pressed = side_of(bed, -q[2], q[1], -q[0], false);
    for (std::size_t i = 2; i < pressed.size(); ++i) {
      const std::array<Point, 3> t = {pressed[0], pressed[i - 1], pressed[i]};
      const double area = std::abs(area_of_points({t[0], t[1], t[2]}));
      for (std::size_t k = 0; k < 3; ++k) {
        const double u =
            lift({0.5 * (t[k].x + t[(k + 1) % 3].x), 0.5 * (t[k].y + t[(k + 1) % 3].y)});
        e += 0.5 * s.kf * u * u * area / 3;
      }
    }
  }
  return e;
}

/// The same base on single springs, many in each patch: a position by an active set that is refined
/// by halving steps, without any of the library's integrals.
std::array<double, 3> on_springs(const Patchwork& s, int fine) {
  struct Spring {
    Vector3d row;
    double k, sign;  // sign: +1 pulls when lifted, -1 pushes when pressed
  };
  constexpr double a = 0.1;
  std::vector<Spring> springs;
  const auto add = [&](Point p, double k, double sign) {
    springs.push_back({Vector3d(1, p.y / a, -p.x / a), k, sign});
  };
  for (std::size_t i = 0; i < s.bolts.size(); ++i) add(s.bolts[i], s.kb[i], 1);
  for (const std::vector<Point>& bed : s.beds) {
    for (std::size_t i = 2; i < bed.size(); ++i) {
      const Point o = bed[0];
      const Point u{(bed[i - 1].x - o.x) / fine, (bed[i - 1].y - o.y) / fine};
      const Point v{(bed[i].x - o.x) / fine, (bed[i].y - o.y) / fine};
      const double k = s.kf * 0.5 * (u.x * v.y - u.y * v.x);
      for (int m = 0; m < fine; ++m) {
        for (int n = 0; m + n < fine; ++n) {
          const auto at = [&](double f, double g) {
            return Point{o.x + f * u.x + g * v.x, o.y + f * u.y + g * v.y};
          };
          add(at(m + 1.0 / 3, n + 1.0 / 3), k, -1);
          if (m + n < fine - 1) add(at(m + 2.0 / 3, n + 2.0 / 3), k, -1);
        }
      }
    }
  }
  const Vector3d load(s.up, s.mx / a, s.my / a);
  const auto gradient = [&](const Vector3d& q, Eigen::Matrix3d* h) {
    Vector3d g = -load;
    if (h != nullptr) h->setZero();
    for (const Spring& p : springs) {
      const double u = p.row.dot(q);
      if (p.sign * u <= 0) continue;
      g += p.k * u * p.row;
      if (h != nullptr) *h += p.k * p.row * p.row.transpose();
    }
    return g;
  };
  Vector3d q = Vector3d::Zero();
  Eigen::Matrix3d h = Eigen::Matrix3d::Zero();
  for (const Spring& p : springs) h += p.k * p.row * p.row.transpose();
  const double stiff = h.trace();
  q = h.ldlt().solve(load);
  for (int round = 0; round < 300; ++round) {
    const Vector3d g = gradient(q, &h);
    if (g.norm() <= 1e-12 * load.norm()) break;
    const Vector3d step = -(h + 1e-13 * stiff * Eigen::Matrix3d::Identity()).ldlt().solve(g);
    double low = 0;
    double t = 1;
    double high = 0;
    for (int i = 0; i < 60; ++i) {  // where the slope along the step is near zero
      const double slope = gradient(q + t * step, nullptr).dot(step);
      if (std::abs(slope) <= 0.05 * std::abs(g.dot(step))) break;
      (slope < 0 ? low : high) = t;
      t = high > 0 ? 0.5 * (low + high) : 4 * t;
    }
    q += t * step;
  }
  return {q[0], q[1] / a, q[2] / a};
}

Metal metal_of_ksi(const char* name, double ultimate, double yield) {
  Metal m;
  m.name = name;
  m.ultimate = ultimate * 1.0_ksi;
  m.yield = yield * 1.0_ksi;
  m.shear_ultimate = 0.6 * m.ultimate;
  m.modulus = 10100.0_ksi;
  return m;
}

/// Every alloy of the tables, and the strengths beside welds.
std::vector<Metal> alloys() {
  return {metal_of_ksi("6061-T6 extrusion", 38, 35), metal_of_ksi("6061-T6 sheet", 42, 35),
          metal_of_ksi("6063-T5", 22, 16),           metal_of_ksi("6063-T6", 30, 25),
          metal_of_ksi("5052-H32", 31, 23),          metal_of_ksi("5052-H34", 34, 26),
          metal_of_ksi("5086-H116", 40, 28),         metal_of_ksi("5086-H34", 44, 34),
          metal_of_ksi("5083-H116", 44, 31),         metal_of_ksi("3003-H14", 20, 17),
          metal_of_ksi("6061-T6 welded", 24, 15),    metal_of_ksi("6061-T6 welded, 4043", 24, 11),
          metal_of_ksi("6063 welded", 17, 8),        metal_of_ksi("5083 welded", 40, 18),
          metal_of_ksi("5086 welded", 35, 14),       metal_of_ksi("5052 welded", 25, 9.5),
          metal_of_ksi("3003 welded", 14, 5)};
}

std::vector<Thread> threads() {
  struct Size {
    const char* name;
    double diameter, pitch;  // in
  };
  constexpr double mm = 1 / 25.4;
  const Size sizes[] = {
      {"#6-32", 0.138, 1.0 / 32},  {"#8-32", 0.164, 1.0 / 32},    {"#10-24", 0.190, 1.0 / 24},
      {"#10-32", 0.190, 1.0 / 32}, {"#12-24", 0.216, 1.0 / 24},   {"1/4-20", 0.250, 1.0 / 20},
      {"1/4-28", 0.250, 1.0 / 28}, {"5/16-18", 0.3125, 1.0 / 18}, {"5/16-24", 0.3125, 1.0 / 24},
      {"3/8-16", 0.375, 1.0 / 16}, {"3/8-24", 0.375, 1.0 / 24},   {"7/16-14", 0.4375, 1.0 / 14},
      {"1/2-13", 0.5, 1.0 / 13},   {"M4", 4 * mm, 0.7 * mm},      {"M5", 5 * mm, 0.8 * mm},
      {"M6", 6 * mm, 1.0 * mm},    {"M8", 8 * mm, 1.25 * mm},     {"M10", 10 * mm, 1.5 * mm},
      {"M12", 12 * mm, 1.75 * mm},
  };
  std::vector<Thread> out;
  for (const Size& size : sizes) {
    Thread t;
    t.name = size.name;
    t.diameter = size.diameter * 1.0_in;
    t.pitch = size.pitch * 1.0_in;
    const UnifiedLimits l = unified_2a_2b_limits(t.diameter, t.pitch);
    t.external_major_min = l.external_major_min;
    t.external_pitch_min = l.external_pitch_min;
    t.internal_minor_max = l.internal_minor_max;
    t.internal_pitch_max = l.internal_pitch_max;
    out.push_back(t);
  }
  return out;
}

}  // namespace

TEST_SUITE("property") {
  // The solver also refuses a base that is held "by a hair only", where a rigid plate would balance
  // after tipping by thousands of radians. That is the safe side; the reverse must never happen.
  TEST_CASE("base: what balances is what an independent feasibility check says") {
    Random random(1);
    int balanced = 0;
    int tipped = 0;
    int hair = 0;
    for (int i = 0; i < 5000; ++i) {
      const Setup s = random_setup(random);
      const double rest = unbalanced(s);
      if (rest > 1e-9 && rest < 1e-6) continue;  // too near to call
      CAPTURE(i);
      const ContactResult r = solve(s);
      CHECK(r.motion.empty() == (r.balance == Balance::stable));
      if (rest > 1e-9) {
        ++tipped;
        CHECK(r.balance == Balance::mechanism);
      } else if (r.balance == Balance::stable) {
        ++balanced;
      } else {
        ++hair;
        CHECK(r.motion.find("by a hair") != std::string::npos);
      }
    }
    CHECK(balanced > 1000);
    CHECK(tipped > 1000);
    CHECK(hair <= 10);
  }

  TEST_CASE("base: forces and moments are in balance") {
    const int seen =
        for_each_balanced(2, 4000, [](const Setup& s, const ContactResult& r, Random&) {
          const Vector3d bed = bed_resultant(s, r);
          double up = -bed.x();
          double mx = -bed.z();
          double my = bed.y();
          double size = std::abs(s.up) + std::abs(bed.x());
          for (std::size_t i = 0; i < s.bolts.size(); ++i) {
            const double t = r.tension[i].value();
            up += t;
            mx += t * s.bolts[i].y;
            my -= t * s.bolts[i].x;
            size += t;
          }
          size = std::max(size, (std::abs(s.mx) + std::abs(s.my)) / 0.1);
          CHECK(std::abs(bed.x() - r.bed_force.value()) <= 1e-9 * size);
          CHECK(std::abs(up - s.up) <= 1e-9 * size);
          CHECK(std::abs(mx - s.mx) <= 1e-9 * size * 0.1);
          CHECK(std::abs(my - s.my) <= 1e-9 * size * 0.1);
        });
    CHECK(seen > 1000);
  }

  TEST_CASE("base: fasteners only pull and the bed only pushes where it is pressed") {
    for_each_balanced(3, 4000, [](const Setup& s, const ContactResult& r, Random&) {
      for (std::size_t i = 0; i < s.bolts.size(); ++i) {
        const double t = r.tension[i].value();
        const double stretch = s.kb * lift_at(r, s.bolts[i]);
        CHECK(t >= 0);
        CHECK(std::abs(t - std::max(0.0, stretch)) <= 1e-9 * std::max(1.0, std::abs(stretch)));
      }
      double deepest = 0;
      for (const Point& p : s.bed) deepest = std::min(deepest, lift_at(r, p));
      const double pressure = r.highest_pressure.value();
      CHECK(pressure >= 0);
      CHECK(std::abs(pressure + s.kf * deepest) <= 1e-9 * std::max(1.0, pressure));
      CHECK(r.contact_fraction >= 0);
      CHECK(r.contact_fraction <= 1 + 1e-12);
      CHECK((r.contact_fraction > 0) == (deepest < 0));
    });
  }

  // A power of two changes no digit of the load, so the answer must be the same to the last digits;
  // any other factor rounds the load, and a base near tipping amplifies that.
  TEST_CASE("base: tensions scale exactly with the load") {
    for_each_balanced(4, 2000, [](const Setup& s, const ContactResult& r, Random& random) {
      const double twos = std::ldexp(1.0, random.below(21) - 10);
      const ContactResult exact = solve(s, twos);
      REQUIRE(exact.balance == Balance::stable);
      check_same_tensions(r, exact, twos, 1e-12);
      const double factor = std::pow(10.0, random.between(-3, 3));
      const ContactResult more = solve(s, factor);
      REQUIRE(more.balance == Balance::stable);
      check_same_tensions(r, more, factor, 1e-9 * amplification(s, r));
    });
  }

  TEST_CASE("base: turning the base together with its load changes no tension") {
    for_each_balanced(5, 2000, [](const Setup& s, const ContactResult& r, Random& random) {
      const ContactResult t = solve(turned(s, random.between(0, 2 * std::numbers::pi)));
      REQUIRE(t.balance == Balance::stable);
      check_same_tensions(r, t, 1, 2e-9 * amplification(s, r));  // 1.02e-9 seen
    });
  }

  TEST_CASE("base: the mirror image has the same tensions") {
    for_each_balanced(6, 2000, [](const Setup& s, const ContactResult& r, Random&) {
      const ContactResult m = solve(mirrored(s));
      REQUIRE(m.balance == Balance::stable);
      check_same_tensions(r, m, 1, 1e-9 * amplification(s, r));
      CHECK(std::abs(m.tilt_x.value() + r.tilt_x.value()) <=
            1e-8 * (std::abs(r.tilt_x.value()) + std::abs(r.tilt_y.value()) + 1e-12));
    });
  }

  TEST_CASE("base: the moment beyond a far line is the moment of the load") {
    for_each_balanced(7, 1000, [](const Setup& s, const ContactResult& r, Random& random) {
      const BaseContact base(plan(s.bed), BedStiffness::from_value(s.kf), plan(s.bolts),
                             LinearStiffness::from_value(s.kb));
      const double angle = random.between(0, 2 * std::numbers::pi);
      const double nx = std::cos(angle);
      const double ny = std::sin(angle);
      const double far = -0.5;
      const double expected = -nx * s.my + ny * s.mx - far * s.up;
      const double found = base.moment_beyond(r, nx, ny, far * si::metre).value();
      const double size = std::max(largest_tension(r), r.bed_force.value()) + std::abs(s.up);
      CHECK(std::abs(found - expected) <= 1e-9 * size);
      CHECK(base.moment_beyond(r, nx, ny, 0.5 * si::metre) == Moment{});
    });
  }

  TEST_CASE("base: an outline cut by a wall edge stays convex and inside") {
    Random random(8);
    for (int i = 0; i < 1000; ++i) {
      const Setup s = random_setup(random);
      const double low = random.between(-0.1, 0.0);
      const double high = random.between(0.01, 0.1);
      const PlanPoint a{low * si::metre, low * si::metre};
      const PlanPoint b{high * si::metre, high * si::metre};
      const Outline whole = plan(s.bed);
      const Outline part = clip_to(whole, a, b);
      if (part.empty()) continue;
      CHECK(area_of(part).value() <= area_of(whole).value() * (1 + 1e-12));
      for (const PlanPoint& p : part) {
        CHECK(p.x.value() >= low - 1e-12);
        CHECK(p.x.value() <= high + 1e-12);
        CHECK(p.y.value() >= low - 1e-12);
        CHECK(p.y.value() <= high + 1e-12);
      }
    }
  }

  TEST_CASE("base: what balances on patches is what an independent feasibility check says") {
    Random random(21);
    int balanced = 0;
    int tipped = 0;
    int hair = 0;
    for (int i = 0; i < 4000; ++i) {
      const Patchwork s = random_patchwork(random);
      const double rest = unbalanced(corners_of(s));
      if (rest > 1e-9 && rest < 1e-6) continue;  // too near to call
      CAPTURE(i);
      const ContactResult r = solve(s);
      CHECK(r.motion.empty() == (r.balance == Balance::stable));
      if (rest > 1e-9) {
        ++tipped;
        CHECK(r.balance == Balance::mechanism);
      } else if (r.balance == Balance::stable) {
        ++balanced;
      } else {
        ++hair;
        CHECK(r.motion.find("by a hair") != std::string::npos);
      }
    }
    CHECK(balanced > 1000);
    CHECK(tipped > 500);
    CHECK(hair <= 10);
  }

  TEST_CASE("base: on patches all forces balance and none pulls at the bed") {
    const int seen = for_each_patchwork(
        22, 3000, [](const Patchwork& s, const ContactResult& r, Random& random) {
          Vector3d bed = Vector3d::Zero();
          double deepest = 0;
          double pressed = 0;
          double all = 0;
          Point corner{};
          for (std::size_t i = 0; i < s.beds.size(); ++i) {
            const Vector3d push = bed_resultant(patch_of(s, i), r);
            CHECK(push.x() >= 0);
            bed += push;
            for (const Point& p : s.beds[i]) {
              if (lift_at(r, p) < deepest) {
                deepest = lift_at(r, p);
                corner = p;
              }
            }
            all += area_of_points(s.beds[i]);
            const std::vector<Point> part =
                side_of(s.beds[i], -r.tilt_y.value(), r.tilt_x.value(), -r.lift.value(), false);
            if (part.size() >= 3) pressed += area_of_points(part);
          }
          double up = -bed.x();
          double mx = -bed.z();
          double my = bed.y();
          double size = std::abs(s.up) + bed.x();
          for (std::size_t i = 0; i < s.bolts.size(); ++i) {
            const double t = r.tension[i].value();
            CHECK(t >= 0);
            CHECK(std::abs(t - std::max(0.0, s.kb[i] * lift_at(r, s.bolts[i]))) <=
                  1e-9 * std::max(1.0, t));
            up += t;
            mx += t * s.bolts[i].y;
            my -= t * s.bolts[i].x;
            size += t;
          }
          size = std::max(size, (std::abs(s.mx) + std::abs(s.my)) / 0.1);
          CHECK(std::abs(bed.x() - r.bed_force.value()) <= 1e-9 * size);
          CHECK(std::abs(up - s.up) <= 1e-9 * size);
          CHECK(std::abs(mx - s.mx) <= 1e-9 * size * 0.1);
          CHECK(std::abs(my - s.my) <= 1e-9 * size * 0.1);
          CHECK(std::abs(r.highest_pressure.value() + s.kf * deepest) <=
                1e-9 * std::max(1.0, -s.kf * deepest));
          if (deepest < 0) {
            CHECK(std::abs(lift_at(r, {r.pressed_corner.x.value(), r.pressed_corner.y.value()}) -
                           deepest) <= 1e-12 * -deepest);
            CHECK(std::hypot(r.pressed_corner.x.value() - corner.x,
                             r.pressed_corner.y.value() - corner.y) < 1e-12);
          }
          CHECK(std::abs(r.contact_fraction - pressed / all) <= 1e-9);
          // The moment about a far line is that of the load, about a line behind all of it none.
          const double angle = random.between(0, 2 * std::numbers::pi);
          const double nx = std::cos(angle);
          const double ny = std::sin(angle);
          const BaseContact base = base_of(s);
          const double expected = -nx * s.my + ny * s.mx + 0.5 * s.up;
          CHECK(std::abs(base.moment_beyond(r, nx, ny, -0.5 * si::metre).value() - expected) <=
                1e-9 * size);
          CHECK(base.moment_beyond(r, nx, ny, 0.5 * si::metre) == Moment{});
        });
    CHECK(seen > 1000);
  }

  TEST_CASE("base: a patch cut in two by a line answers as the whole") {
    const int seen = for_each_patchwork(
        23, 2000, [](const Patchwork& s, const ContactResult& r, Random& random) {
          if (s.beds.size() > 5) return;
          Patchwork halves = s;
          const auto at = std::size_t(random.below(int(s.beds.size())));
          const std::vector<Point> whole = s.beds[at];
          // A line through the middle of the patch, so that it does cut.
          Point middle{};
          for (const Point& p : whole) {
            middle.x += p.x / double(whole.size());
            middle.y += p.y / double(whole.size());
          }
          const double angle = random.between(0, 2 * std::numbers::pi);
          const double nx = std::cos(angle);
          const double ny = std::sin(angle);
          const double d = nx * middle.x + ny * middle.y;
          halves.beds[at] = side_of(whole, nx, ny, d, false);
          halves.beds.push_back(side_of(whole, nx, ny, d, true));
          const ContactResult h = solve(halves);
          REQUIRE(h.balance == Balance::stable);
          check_same_tensions(r, h, 1, 1e-9 * amplification(s, r));
          CHECK(std::abs(r.contact_fraction - h.contact_fraction) <= 1e-7);
          CHECK(std::abs(r.highest_pressure.value() - h.highest_pressure.value()) <=
                1e-9 * amplification(s, r) * std::max(1.0, r.highest_pressure.value()));
        });
    CHECK(seen > 500);
  }

  TEST_CASE("base: a fastener answers as two of half its stiffness in its place") {
    const int seen = for_each_patchwork(
        24, 2000, [](const Patchwork& s, const ContactResult& r, Random& random) {
          if (s.bolts.empty()) return;
          const auto at = std::size_t(random.below(int(s.bolts.size())));
          Patchwork two = s;
          two.kb[at] *= 0.5;
          two.bolts.push_back(two.bolts[at]);
          two.kb.push_back(two.kb[at]);
          const ContactResult t = solve(two);
          REQUIRE(t.balance == Balance::stable);
          const double allowed = 1e-9 * amplification(s, r) * largest_force(r);
          CHECK(t.tension[at] == t.tension[s.bolts.size()]);
          CHECK(std::abs(t.tension[at].value() * 2 - r.tension[at].value()) <= allowed);
          for (std::size_t i = 0; i < s.bolts.size(); ++i) {
            if (i != at) CHECK(std::abs(t.tension[i].value() - r.tension[i].value()) <= allowed);
          }
        });
    CHECK(seen > 500);
  }

  TEST_CASE("base: turned or mirrored patches with their load have the same tensions") {
    for_each_patchwork(25, 2000, [](const Patchwork& s, const ContactResult& r, Random& random) {
      const double angle = random.between(0, 2 * std::numbers::pi);
      const double c = std::cos(angle);
      const double n = std::sin(angle);
      const auto turn = [&](Point p) { return Point{c * p.x - n * p.y, n * p.x + c * p.y}; };
      Patchwork t = s;
      Patchwork m = s;
      for (std::vector<Point>& b : t.beds) std::transform(b.begin(), b.end(), b.begin(), turn);
      for (Point& p : t.bolts) p = turn(p);
      const Point load = turn({s.mx, s.my});
      t.mx = load.x;
      t.my = load.y;
      for (std::vector<Point>& b : m.beds) {
        for (Point& p : b) p.y = -p.y;
        std::reverse(b.begin(), b.end());
      }
      for (Point& p : m.bolts) p.y = -p.y;
      m.mx = -s.mx;
      for (const Patchwork* other : {&t, &m}) {
        const ContactResult o = solve(*other);
        REQUIRE(o.balance == Balance::stable);
        check_same_tensions(r, o, 1, 1e-9 * amplification(s, r));
      }
    });
  }

  TEST_CASE("base: no neighbour of the position found on patches has less energy") {
    for_each_patchwork(26, 1000, [](const Patchwork& s, const ContactResult& r, Random& random) {
      const std::array<double, 3> q{r.lift.value(), r.tilt_x.value(), r.tilt_y.value()};
      const double least = energy(s, q);
      // The work of the load is twice the energy stored.
      CHECK(least <= 0);
      CHECK(std::abs(2 * least + s.up * q[0] + s.mx * q[1] + s.my * q[2]) <= -1e-8 * least);
      const double size = std::abs(q[0]) + 0.1 * (std::abs(q[1]) + std::abs(q[2]));
      for (int i = 0; i < 30; ++i) {
        const double far = size * std::pow(10.0, random.between(-5, 1));
        const std::array<double, 3> near{q[0] + far * random.between(-1, 1),
                                         q[1] + 10 * far * random.between(-1, 1),
                                         q[2] + 10 * far * random.between(-1, 1)};
        CHECK(energy(s, near) >= least * (1 + 1e-10));
      }
    });
  }

  // Another model of the same thing: thousands of springs instead of integrals, solved in the test.
  TEST_CASE("base: patches against a fine grid of springs") {
    int seen = 0;
    for_each_patchwork(27, 200, [&](const Patchwork& s, const ContactResult& r, Random&) {
      // A base about to tip amplifies the coarseness of the grid.
      if (amplification(s, r) > 3 || seen >= 60) return;
      ++seen;
      const std::array<double, 3> q = on_springs(s, 60);
      for (std::size_t i = 0; i < s.bolts.size(); ++i) {
        const double u = q[0] + q[1] * s.bolts[i].y - q[2] * s.bolts[i].x;
        const double off =
            std::abs(s.kb[i] * std::max(0.0, u) - r.tension[i].value()) / largest_force(r);
        CHECK(off <= 0.0005);
      }
    });
    CHECK(seen == 60);
  }

  TEST_CASE("base: two halves of a bed come to the whole as the gap between them closes") {
    Random random(28);
    for (int i = 0; i < 100; ++i) {
      Patchwork whole;
      whole.beds = {{{-0.05, -0.04}, {0.05, -0.04}, {0.05, 0.04}, {-0.05, 0.04}}};
      for (const double x : {-0.04, 0.04}) {
        for (const double y : {-0.03, 0.03}) {
          whole.bolts.push_back({x, y});
          whole.kb.push_back(std::pow(10.0, random.between(6, 8)));
        }
      }
      whole.kf = 2e10;
      whole.up = random.between(-1000, 1000);
      whole.mx = random.between(-60, 60);
      whole.my = random.between(-60, 60);
      const ContactResult w = solve(whole);
      REQUIRE(w.balance == Balance::stable);
      double before = 0;
      for (const double gap : {1e-3, 1e-4, 1e-5, 1e-6}) {
        Patchwork rails = whole;
        const double g = 0.5 * gap;
        rails.beds = {{{-0.05, -0.04}, {-g, -0.04}, {-g, 0.04}, {-0.05, 0.04}},
                      {{g, -0.04}, {0.05, -0.04}, {0.05, 0.04}, {g, 0.04}}};
        const ContactResult r = solve(rails);
        REQUIRE(r.balance == Balance::stable);
        double off = std::abs(r.bed_force.value() - w.bed_force.value());
        for (std::size_t b = 0; b < 4; ++b) {
          off = std::max(off, std::abs(r.tension[b].value() - w.tension[b].value()));
        }
        off /= largest_force(w);
        CHECK(off <= 100 * gap);  // 10 % at a gap of 1 mm in 100
        if (before > 1e-7) CHECK(off < before);
        before = off;
      }
    }
  }

  TEST_CASE("base: on patches a start from the position before changes nothing") {
    Random random(29);
    for (int i = 0; i < 200; ++i) {
      const Patchwork s = random_patchwork(random);
      const BaseContact base = base_of(s);
      ContactStart start;
      ContactResult warm;
      for (int k = 0; k < 30; ++k) {
        const double a = 0.1 * k;
        const Moment mx = moment(s.mx * std::cos(a));
        const Moment my = moment(s.my * std::sin(a));
        base.solve(s.up * si::newton, mx, my, start, warm);
        const ContactResult cold = base.solve(s.up * si::newton, mx, my);
        REQUIRE(warm.balance == cold.balance);
        if (cold.balance != Balance::stable) continue;
        check_same_tensions(cold, warm, 1, 1e-9 * amplification(s, cold));
      }
    }
  }

  // Elementary statics: a load at e between two narrow rails, s to either side, puts
  // P (1 + e/s) / 2 on the nearer; beyond a rail the base tips.
  TEST_CASE("base: two rails share a load as a beam does") {
    const double s = 0.06;
    const double narrow = 1e-5;
    Patchwork rails;
    rails.kf = 1e15;
    for (const double x : {-s, s}) {
      rails.beds.push_back(
          {{x - narrow, -0.05}, {x + narrow, -0.05}, {x + narrow, 0.05}, {x - narrow, 0.05}});
    }
    rails.up = -1000;
    for (const double e : {-0.05, 0.0, 0.02, 0.059}) {
      rails.my = 1000 * e;  // down at x = e
      const ContactResult r = solve(rails);
      REQUIRE(r.balance == Balance::stable);
      const double fore = -base_of(rails).moment_beyond(r, 1, 0, Length{}).value() / s;
      CHECK(fore == doctest::Approx(500 * (1 + e / s)).epsilon(1e-3));
      CHECK(r.bed_force.value() == doctest::Approx(1000).epsilon(1e-9));
    }
    rails.my = 1000 * 0.07;
    const ContactResult tips = solve(rails);
    CHECK(tips.balance == Balance::mechanism);
    CHECK(tips.motion ==
          "the base tips about its forward edge: no fastener holds the other side "
          "down");
    rails.my = -1000 * 0.07;
    CHECK(solve(rails).motion.find("aft edge") != std::string::npos);
  }

  TEST_CASE("base: beds that overlap and stiffnesses that are missing are refused") {
    Patchwork s;
    s.kf = 1e10;
    s.beds = {{{0, 0}, {0.05, 0}, {0.05, 0.05}, {0, 0.05}},
              {{0.04, 0.04}, {0.09, 0.04}, {0.09, 0.09}, {0.04, 0.09}}};
    CHECK_THROWS_AS(base_of(s), DomainError);
    s.beds[1] = {{0.01, 0.01}, {0.02, 0.01}, {0.02, 0.02}};  // inside
    CHECK_THROWS_AS(base_of(s), DomainError);
    s.beds[1] = {{0.05, 0}, {0.09, 0}, {0.09, 0.05}, {0.05, 0.05}};  // touches
    CHECK_NOTHROW(base_of(s));
    s.bolts = {{0, 0}};
    CHECK_THROWS_AS(base_of(s), DomainError);
    s.kb = {0};
    CHECK_THROWS_AS(base_of(s), DomainError);
    s.kb = {1e6};
    CHECK_NOTHROW(base_of(s));
    s.beds.clear();
    for (int i = 0; i < 7; ++i) {
      const double x = 0.1 * i;
      s.beds.push_back({{x, 0}, {x + 0.05, 0}, {x + 0.05, 0.05}});
    }
    CHECK_THROWS_AS(base_of(s), DomainError);
    s.beds.pop_back();
    CHECK_NOTHROW(base_of(s));
  }

  // No patch at all, or only empty ones: fasteners alone.
  TEST_CASE("base: without patches the fasteners carry by statics") {
    Patchwork s;
    s.kf = 1e10;
    s.bolts = {{-0.05, 0}, {0.05, 0}, {0, 0.08}};
    s.kb = {1e6, 3e6, 7e6};
    s.up = 900;
    s.mx = 900 * 0.08 / 3;  // at the centroid: a third each, whatever the stiffness
    for (const bool empty : {false, true}) {
      if (empty) s.beds = {{}, {}};
      const ContactResult r = solve(s);
      REQUIRE(r.balance == Balance::stable);
      for (std::size_t i = 0; i < 3; ++i) {
        CHECK(r.tension[i].value() == doctest::Approx(300).epsilon(1e-9));
      }
      CHECK(r.bed_force == Force{});
    }
  }

  TEST_CASE("group: shares by stiffness sum to the load and to its moment") {
    Random random(30);
    for (int i = 0; i < 2000; ++i) {
      std::vector<Point> p;
      std::vector<LinearStiffness> k;
      const int n = 2 + random.below(8);
      for (int j = 0; j < n; ++j) {
        p.push_back({random.between(-0.1, 0.1), random.between(-0.1, 0.1)});
        k.push_back(LinearStiffness::from_value(std::pow(10.0, random.between(6, 8))));
      }
      const Force fx = random.between(-3000, 3000) * si::newton;
      const Force fy = random.between(-3000, 3000) * si::newton;
      const Moment mz = moment(random.between(-200, 200));
      const auto share = share_in_plane(plan(p), k, fx, fy, mz);
      double sx = 0;
      double sy = 0;
      double sz = 0;
      double size = 1;
      for (std::size_t j = 0; j < p.size(); ++j) {
        const double x = share[j].x.value();
        const double y = share[j].y.value();
        sx += x;
        sy += y;
        sz += p[j].x * y - p[j].y * x;
        size += std::abs(x) + std::abs(y);
      }
      CHECK(std::abs(sx - fx.value()) <= 1e-12 * size);
      CHECK(std::abs(sy - fy.value()) <= 1e-12 * size);
      CHECK(std::abs(sz - mz.value()) <= 1e-12 * size);
      // Forces over stiffness are the motion of one rigid piece: no two points come nearer.
      for (std::size_t a = 0; a < p.size(); ++a) {
        for (std::size_t b = a + 1; b < p.size(); ++b) {
          const double ux = share[a].x.value() / k[a].value() - share[b].x.value() / k[b].value();
          const double uy = share[a].y.value() / k[a].value() - share[b].y.value() / k[b].value();
          const double along = ux * (p[a].x - p[b].x) + uy * (p[a].y - p[b].y);
          CHECK(std::abs(along) <= 1e-9 * size / 1e6 * 0.1);
        }
      }
      // Any common stiffness is the plain call.
      const auto equal = share_in_plane(plan(p), fx, fy, mz);
      const auto common =
          share_in_plane(plan(p), std::vector<LinearStiffness>(p.size(), k[0]), fx, fy, mz);
      for (std::size_t j = 0; j < p.size(); ++j) {
        CHECK(std::abs((equal[j].x - common[j].x).value()) <= 1e-12 * size);
        CHECK(std::abs((equal[j].y - common[j].y).value()) <= 1e-12 * size);
      }
      // Stiffness without end attracts all of the part in line with it; more of it never less work:
      // the load's own motion never grows when one fastener is made stiffer.
      const auto work = [&](const std::vector<LinearStiffness>& with) {
        double sum = 0;
        const auto f = share_in_plane(plan(p), with, fx, fy, mz);
        for (std::size_t j = 0; j < p.size(); ++j) {
          sum += f[j].size().value() * f[j].size().value() / with[j].value();
        }
        return sum;
      };
      std::vector<LinearStiffness> stiffer = k;
      stiffer[0] = 2.0 * stiffer[0];
      CHECK(work(stiffer) <= work(k) * (1 + 1e-12));
    }
  }

  TEST_CASE("group: a stiffer fastener takes more of a force through the middle") {
    const std::vector<Point> p = {{-0.1, 0}, {0.1, 0}};
    double before = 0;
    for (const double k : {0.0, 0.5e6, 1e6, 2e6, 1e9}) {
      // In line with both, so that there is no twist: k / sum k.
      const auto f = share_in_plane(
          plan(p), {LinearStiffness::from_value(k), LinearStiffness::from_value(1e6)},
          1000.0 * si::newton, Force{}, Moment{});
      CHECK(f[0].x.value() == doctest::Approx(1000 * k / (k + 1e6)).epsilon(1e-12));
      CHECK(f[0].x.value() >= before);
      before = f[0].x.value();
    }
    const LinearStiffness none{};
    CHECK_THROWS_AS(share_in_plane(plan(p), {none, none}, Force{}, Force{}, Moment{}), DomainError);
    CHECK_THROWS_AS(share_in_plane(plan(p), {none}, Force{}, Force{}, Moment{}), DomainError);
    // All stiffness in one point cannot take a twist.
    CHECK_THROWS_AS(share_in_plane(plan(p), {none, LinearStiffness::from_value(1e6)}, Force{},
                                   Force{}, moment(10)),
                    DomainError);
  }

  TEST_CASE("group: ultimate strength lies between the elastic one and that of all bolts") {
    Random random(31);
    for (int i = 0; i < 1000; ++i) {
      std::vector<Point> p;
      const int n = 2 + random.below(10);
      for (int j = 0; j < n; ++j) {
        p.push_back({random.between(-0.2, 0.2), random.between(-0.2, 0.2)});
      }
      const Force fx = random.between(-1000, 1000) * si::newton;
      const Force fy = random.between(-1000, 1000) * si::newton;
      const Moment mz = moment(random.between(-300, 300));
      CAPTURE(i);
      const UltimateGroup u = instantaneous_centre(plan(p), fx, fy, mz);
      const double all = std::pow(1 - std::exp(-3.4), 0.55);
      REQUIRE(u.share.size() == p.size());
      CHECK(*std::max_element(u.share.begin(), u.share.end()) ==
            doctest::Approx(all).epsilon(1e-9));
      CHECK(u.coefficient < all * n);
      CHECK(u.coefficient == doctest::Approx(u.per_load * std::hypot(fx.value(), fy.value())));
      double elastic = 0;
      for (const PlaneForce& f : share_in_plane(plan(p), fx, fy, mz)) {
        elastic = std::max(elastic, f.size().value());
      }
      CHECK(u.per_load >= all / elastic * (1 - 1e-9));

      // Turned and mirrored with its load, and the load doubled, it is the same group.
      const double angle = random.between(0, 2 * std::numbers::pi);
      const double c = std::cos(angle);
      const double s = std::sin(angle);
      std::vector<Point> turned_bolts = p;
      std::vector<Point> mirrored_bolts = p;
      for (Point& q : turned_bolts) q = {c * q.x - s * q.y, s * q.x + c * q.y};
      for (Point& q : mirrored_bolts) q.y = -q.y;
      const UltimateGroup t =
          instantaneous_centre(plan(turned_bolts), c * fx - s * fy, s * fx + c * fy, mz);
      const UltimateGroup m =
          instantaneous_centre(plan(mirrored_bolts), 2.0 * fx, -2.0 * fy, -2.0 * mz);
      CHECK(t.per_load == doctest::Approx(u.per_load).epsilon(1e-8));
      CHECK(2 * m.per_load == doctest::Approx(u.per_load).epsilon(1e-8));
    }
  }

  TEST_CASE("group: an ultimate load farther out is never greater") {
    const std::vector<Point> p = {
        {-0.05, -0.04}, {0.05, -0.04}, {0.05, 0.04}, {-0.05, 0.04}, {0, 0}};
    double before = 1e9;
    for (int mm = 0; mm <= 600; mm += 5) {
      const double c =
          instantaneous_centre(plan(p), Force{}, -1.0 * si::newton, moment(-0.001 * mm))
              .coefficient;
      CHECK(c < before);
      before = c;
    }
    // Far out the force no longer counts: C e is the twist that the group carries.
    const double twist = instantaneous_centre(plan(p), Force{}, Force{}, moment(1)).per_load;
    const double far =
        instantaneous_centre(plan(p), Force{}, -1.0 * si::newton, moment(-1000)).coefficient;
    CHECK(far * 1000 == doctest::Approx(twist).epsilon(1e-4));
    // By hand: four bolts at sqrt(0.05^2 + 0.04^2) turn about the fifth.
    CHECK(twist == doctest::Approx(4 * std::hypot(0.05, 0.04) * std::pow(1 - std::exp(-3.4), 0.55))
                       .epsilon(1e-9));
    CHECK_THROWS_AS(instantaneous_centre({}, Force{}, Force{}, moment(1)), DomainError);
    CHECK_THROWS_AS(instantaneous_centre(plan(p), Force{}, Force{}, Moment{}), DomainError);
    CHECK_THROWS_AS(
        instantaneous_centre(plan({{0.1, 0.1}, {0.1, 0.1}}), Force{}, Force{}, moment(1)),
        DomainError);
  }

  TEST_CASE("group: shares sum to the load and to its moment") {
    Random random(9);
    for (int i = 0; i < 2000; ++i) {
      std::vector<Point> p;
      const int n = 2 + random.below(8);
      for (int k = 0; k < n; ++k) {
        p.push_back({random.between(-0.1, 0.1), random.between(-0.1, 0.1)});
      }
      const double fx = random.between(-3000, 3000);
      const double fy = random.between(-3000, 3000);
      const double mz = random.between(-200, 200);
      const auto share = share_in_plane(plan(p), fx * si::newton, fy * si::newton, moment(mz));
      double sx = 0;
      double sy = 0;
      double sz = 0;
      double size = 1;
      for (std::size_t k = 0; k < p.size(); ++k) {
        const double x = share[k].x.value();
        const double y = share[k].y.value();
        sx += x;
        sy += y;
        sz += p[k].x * y - p[k].y * x;
        size += std::abs(x) + std::abs(y);
      }
      CHECK(std::abs(sx - fx) <= 1e-12 * size);
      CHECK(std::abs(sy - fy) <= 1e-12 * size);
      CHECK(std::abs(sz - mz) <= 1e-12 * size);
    }
  }

  TEST_CASE("metal: a longer engagement never lowers the pull-out") {
    int drops = 0;
    std::string first;
    for (const Metal& metal : alloys()) {
      for (const Thread& thread : threads()) {
        Force before{};
        for (int i = 20; i <= 500; ++i) {
          const Force now =
              thin_wall_pull_out(thread, double(i) * 0.001_in, metal, 45.0_ksi).strength;
          if (now.value() < before.value() * (1 - 1e-12)) {
            if (++drops == 1) {
              first = thread.name + " in " + metal.name + " at " + std::to_string(i) + " mil";
            }
          }
          before = now;
        }
      }
    }
    CAPTURE(first);
    CHECK(drops == 0);
  }

  TEST_CASE("metal: a stronger metal or a thicker screw never lowers the pull-out") {
    Random random(10);
    const std::vector<Metal> metals = alloys();
    for (const Thread& thread : threads()) {
      for (int i = 0; i < 100; ++i) {
        Metal weak = metals[std::size_t(random.below(int(metals.size())))];
        Metal strong = weak;
        const double up = random.between(1, 1.5);
        strong.ultimate = up * weak.ultimate;
        strong.yield = up * weak.yield;
        strong.shear_ultimate = up * weak.shear_ultimate;
        const Length t = random.between(0.04, 0.4) * 1.0_in;
        const Force a = thin_wall_pull_out(thread, t, weak, 45.0_ksi).strength;
        const Force b = thin_wall_pull_out(thread, t, strong, 45.0_ksi).strength;
        CHECK(b.value() >= a.value() * (1 - 1e-12));
      }
    }
  }

  TEST_CASE("metal: a bigger washer or a thicker sheet never lowers the pull-over") {
    for (const Metal& metal : alloys()) {
      for (int mil = 40; mil <= 250; mil += 5) {
        const Length t = double(mil) * 0.001_in;
        Force before{};
        for (int w = 300; w <= 1000; w += 5) {
          const Length dw = double(w) * 0.001_in;
          const Force now = pull_over(t, dw, 0.28125_in, metal).strength;
          REQUIRE(now.value() >= before.value() * (1 - 1e-12));
          const Force thicker = pull_over(t + 0.005_in, dw, 0.28125_in, metal).strength;
          REQUIRE(thicker.value() >= now.value() * (1 - 1e-12));
          before = now;
        }
      }
    }
  }
}
