#include <thole/plate_bending.hpp>

#include <algorithm>
#include <cmath>
#include <numbers>

#include <thole/error.hpp>

namespace thole {
namespace {

constexpr double pi = std::numbers::pi;

void check(const Sheet& s) {
  if (!(s.thickness.value() > 0) || !(s.modulus.value() > 0)) {
    throw DomainError("a sheet needs a thickness and a modulus above zero");
  }
  if (!(s.poisson >= 0 && s.poisson < 0.5)) {
    throw DomainError("Poisson's ratio lies between 0 and 0.5");
  }
}

// Plate rigidity, N m.
double rigidity(const Sheet& s) {
  return s.modulus.value() * std::pow(s.thickness.value(), 3) / (12 * (1 - s.poisson * s.poisson));
}

// Stress at the surface from a moment per width in N.
Stress surface(const Sheet& s, double moment) {
  return 6 * std::abs(moment) / (s.thickness * s.thickness) * si::newton;
}

// The terms of Levy's series fall with exp(-m pi a / 2b): a long sheet needs one, a square eight.
constexpr int terms = 25;

struct Sides {
  double across, along;  // the shorter first
};

Sides sides_of(Length a, Length b) {
  if (!(a.value() > 0) || !(b.value() > 0)) {
    throw DomainError("the sides of a sheet must be above zero");
  }
  return {std::min(a, b).value(), std::max(a, b).value()};
}

// A boss of radius x (edge = 1) in a ring plate: w of the couple without its factor,
// c1 x + c2 x^3 + c3/x + x ln x.
struct Turn {
  double curvature;  // w'' at the boss
  double slope;      // w / x at the boss
};

Turn turn_of(double x, double nu, SheetEdge edge) {
  const double xx = x * x;
  // The boss turns as one piece, w = x w'; w = 0 at the edge, and no slope or no moment there.
  const double c3 = edge == SheetEdge::held
                        ? xx / (2 * (1 + xx))
                        : xx * ((3 + nu) - (1 + nu) * xx) / (6 + 2 * nu + (2 - 2 * nu) * xx * xx);
  const double c2 = c3 / (xx * xx) - 1 / (2 * xx);
  const double c1 = -c2 - c3;
  return {6 * c2 * x + 2 * c3 / (x * xx) + 1 / x, c1 + c2 * xx + c3 / xx + std::log(x)};
}

void check(Length boss, Length edge) {
  if (!(boss.value() > 0 && boss < edge)) {
    throw DomainError("the boss must be smaller than the circle that supports the sheet");
  }
}

}  // namespace

SheetBending pressed_sheet(const Sheet& s, Length side_a, Length side_b, Stress pressure) {
  check(s);
  const auto [b, a] = sides_of(side_a, side_b);
  const double nu = s.poisson;
  // A strip across the shorter side, less what the two far edges take off it.
  double deflection = 5.0 / 384;
  double across = 1.0 / 8;
  double along = nu / 8;
  for (int i = 0; i < terms; ++i) {
    const double m = 2 * i + 1;
    const double alpha = m * pi * a / (2 * b);
    const double sign = i % 2 == 0 ? 1 : -1;
    // 1/cosh, so that a long sheet does not overflow
    const double by_cosh = 2 * std::exp(-alpha) / (1 + std::exp(-2 * alpha));
    const double A = 0.5 * (alpha * std::tanh(alpha) + 2) * by_cosh;
    const double B = 0.5 * by_cosh;
    const double c = sign * 4 / (std::pow(pi, 5) * std::pow(m, 5));
    const double c_mm = sign * 4 / (std::pow(pi, 3) * std::pow(m, 3));
    deflection -= c * A;
    across += c_mm * (-A - nu * (2 * B - A));
    along += c_mm * (-nu * A - (2 * B - A));
  }
  const double q = pressure.value();
  return {surface(s, q * b * b * std::max(across, along)),
          q * std::pow(b, 4) / rigidity(s) * deflection * si::metre};
}

SheetBending middle_load(const Sheet& s, Length side_a, Length side_b, Force load, Length radius) {
  check(s);
  const auto [b, a] = sides_of(side_a, side_b);
  const double t = s.thickness.value();
  const double r = radius.value();
  if (!(r >= 0 && 2 * r < b)) throw DomainError("the loaded circle must lie within the sheet");
  const double nu = s.poisson;
  double deflection = 7 * 1.2020569031595942 / 8;  // sum of 1/m^3 over odd m
  double across = 1;
  double along = nu;
  for (int i = 0; i < terms; ++i) {
    const double m = 2 * i + 1;
    const double alpha = m * pi * a / (2 * b);
    const double e = std::exp(-2 * alpha);
    const double B = 2 * e / (1 + e);  // exp(-alpha) / cosh
    const double A = -(B * (1 + alpha) + B * alpha * (1 - e) / (1 + e));
    deflection += (std::tanh(alpha) - alpha * 4 * e / ((1 + e) * (1 + e)) - 1) / (m * m * m);
    across += 2 / m * (A - nu * (A + 2 * B));
    along += 2 / m * (nu * A - (A + 2 * B));
  }
  const double equal = r < 0.5 * t ? std::sqrt(1.6 * r * r + t * t) - 0.675 * t : r;
  const double p = load.value();
  const double round = (1 + nu) * std::log(2 * b / (pi * equal));
  return {surface(s, p / (4 * pi) * (round + std::max(across, along))),
          p * b * b / (2 * std::pow(pi, 3) * rigidity(s)) * deflection * si::metre};
}

BossTurn turned_boss(const Sheet& s, Length boss, Length edge, Moment couple, SheetEdge at_edge) {
  check(s);
  check(boss, edge);
  const Turn w = turn_of(boss / edge, s.poisson, at_edge);
  const double m = couple.value() / (4 * pi);
  return {surface(s, m / edge.value() * w.curvature),
          std::abs(m / rigidity(s) * w.slope) * si::radian};
}

SheetBending pulled_boss(const Sheet& s, Length boss, Length edge, Force pull, SheetEdge at_edge) {
  check(s);
  check(boss, edge);
  const double nu = s.poisson;
  const double x = boss / edge;
  const double xx = x * x;
  const double ln = std::log(x);
  // Slope c1 x + c2/x - x ln x, in P/(4 pi D) times the edge radius: none at the boss, none or no
  // moment at the edge.
  const double c1 = at_edge == SheetEdge::held
                        ? xx * ln / (xx - 1)
                        : (1 + (1 - nu) * xx * ln) / (1 + nu + (1 - nu) * xx);
  const double c2 = xx * (ln - c1);
  const double at_boss = c1 - c2 / xx - ln - 1;
  const double at_rim = at_edge == SheetEdge::held ? c1 - c2 - 1 : 0;
  const double sink = c1 * (1 - xx) / 2 - c2 * ln + (1 - xx) / 4 + xx * ln / 2;
  const double p = pull.value() / (4 * pi);
  return {surface(s, p * std::max(std::abs(at_boss), std::abs(at_rim))),
          std::abs(p) * std::pow(edge.value(), 2) / rigidity(s) * sink * si::metre};
}

Length equal_area_radius(Length x, Length y) {
  if (!(x.value() > 0) || !(y.value() > 0)) {
    throw DomainError("the sides of a pad must be above zero");
  }
  return std::sqrt(x.value() * y.value() / pi) * si::metre;
}

}  // namespace thole
