#include <thole/towed_line.hpp>

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>
#include <string>

#include <thole/error.hpp>

namespace thole {

namespace {

using std::numbers::pi;

const double g = standard_gravity.value();

void need_above_zero(double value, std::string_view what) {
  if (!(value > 0) || !std::isfinite(value)) {
    throw DomainError(std::string(what) + " must be a finite number above zero");
  }
}

void need_not_negative(double value, std::string_view what) {
  if (!(value >= 0) || !std::isfinite(value)) {
    throw DomainError(std::string(what) + " must be finite and not below zero");
  }
}

/// Water over ball density, below 1.
double density_ratio(Density ball, Density water) {
  need_above_zero(ball.value(), "the density of the ball");
  need_above_zero(water.value(), "the density of the water");
  if (!(water.value() < ball.value())) {
    throw DomainError("the ball must be denser than the water: this one floats");
  }
  return water.value() / ball.value();
}

// ---- Water: EOS-80 and Landolt-Boernstein V/3a, t in deg C, salinity s in practical units
// --------

double density_at(double t, double s) {
  const double fresh =
      999.842594 +
      t * (6.793952e-2 +
           t * (-9.09529e-3 + t * (1.001685e-4 + t * (-1.120083e-6 + t * 6.536332e-9))));
  const double a =
      8.24493e-1 + t * (-4.0899e-3 + t * (7.6438e-5 + t * (-8.2467e-7 + t * 5.3875e-9)));
  const double b = -5.72466e-3 + t * (1.0227e-4 - t * 1.6546e-6);
  return fresh + a * s + b * s * std::sqrt(s) + 4.8314e-4 * s * s;
}

Water water_at(double t, double s) {
  if (!(t >= 0 && t <= 35)) {
    throw DomainError("the water temperature must lie between 0 and 35 degrees Celsius");
  }
  const double rho = density_at(t, s);
  const double log_ratio = (1.1709 * (20 - t) - 1.827e-3 * (t - 20) * (t - 20)) / (t + 89.93);
  const double chlorinity = rho * s / 1806.55;  // by volume
  const double salt =
      1 + (5.185e-5 * t + 1.0675e-4) * std::sqrt(chlorinity) + (3.3e-5 * t + 2.591e-3) * chlorinity;
  const double dynamic = 1.002e-3 * std::pow(10.0, log_ratio) * salt;
  return {rho * si::kilogrammes_per_cubic_metre, KinematicViscosity::from_value(dynamic / rho)};
}

// ---- The steady wire
// -----------------------------------------------------------------------------

// Depth z above the ball is the independent variable, so the surface needs no search, and
// q = asinh(tan theta) stands for the angle: sin = tanh q, cos = 1/cosh q. Then
//
//     dq/dz = (R - w sinh q cosh q) / T      R = 1/2 rho Cn d U^2
//     dT/dz = w + F sinh q tanh q            F = 1/2 rho Cf pi d U^2 (constant law: w + F cosh q)
//     ds/dz = cosh q,  dx/dz = sinh q
//
// which is linear in q for a weightless wire and has no singular point on the way to 89 degrees.
struct Wire {
  double down;        ///< weight of the ball in water
  double aft;         ///< drag of the ball
  double weight;      ///< w
  double normal;      ///< R / U^2
  double tangential;  ///< F / U^2
  bool constant_tangential;
  double depth;
  double ball_speed;
  double surface_speed;
};

struct State {
  double q = 0;
  double tension = 0;
  double out = 0;
  double back = 0;
};

State along(const State& a, double h, const State& slope) {
  return {a.q + h * slope.q, a.tension + h * slope.tension, a.out + h * slope.out,
          a.back + h * slope.back};
}

State slope_at(const Wire& wire, double z, const State& at) {
  const double u = wire.ball_speed + (wire.surface_speed - wire.ball_speed) * (z / wire.depth);
  const double e = std::exp(at.q);
  const double sinh_q = 0.5 * (e - 1 / e);
  const double cosh_q = 0.5 * (e + 1 / e);
  const double rub = wire.constant_tangential ? cosh_q : sinh_q * sinh_q / cosh_q;
  return {(wire.normal * u * u - wire.weight * sinh_q * cosh_q) / at.tension,
          wire.weight + wire.tangential * u * u * rub, cosh_q, sinh_q};
}

enum class Outcome { reached, too_flat, slack };

const double flattest = std::asinh(std::tan(radians(degrees(89))));

struct Run {
  State end;
  Outcome outcome = Outcome::reached;
};

Run integrate(const Wire& wire, int steps) {
  State y{std::asinh(wire.aft / wire.down), std::hypot(wire.down, wire.aft), 0, 0};
  if (y.q > flattest) return {y, Outcome::too_flat};
  const double h = wire.depth / steps;
  for (int i = 0; i < steps; ++i) {
    const double z = i * h;
    const State k1 = slope_at(wire, z, y);
    const State k2 = slope_at(wire, z + h / 2, along(y, h / 2, k1));
    const State k3 = slope_at(wire, z + h / 2, along(y, h / 2, k2));
    const State k4 = slope_at(wire, z + h, along(y, h, k3));
    const State next = along(along(along(along(y, h / 6, k1), h / 3, k2), h / 3, k3), h / 6, k4);
    if (!(next.tension > 0) || !std::isfinite(next.q)) return {y, Outcome::slack};
    if (!(next.q <= flattest)) return {y, Outcome::too_flat};
    y = next;
  }
  return {y, Outcome::reached};
}

bool agree(const State& fine, const State& coarse) {
  // RK4: the finer of two runs errs by about 1/15 of their difference.
  constexpr double tolerance = 15 * 2e-8;
  return std::abs(fine.q - coarse.q) <= tolerance &&
         std::abs(fine.tension - coarse.tension) <= tolerance * fine.tension &&
         std::abs(fine.out - coarse.out) <= tolerance * fine.out &&
         std::abs(fine.back - coarse.back) <= tolerance * fine.out;
}

/// Halves the step until two runs agree. A coarse step may overshoot 89 degrees, so that outcome
/// counts from 1024 steps on.
Run solve(const Wire& wire) {
  Run coarse = integrate(wire, 32);
  for (int steps = 64; steps <= 16384; steps *= 2) {
    const Run fine = integrate(wire, steps);
    if (fine.outcome != Outcome::reached && steps >= 1024) return fine;
    if (fine.outcome == Outcome::reached && coarse.outcome == Outcome::reached &&
        agree(fine.end, coarse.end)) {
      return fine;
    }
    coarse = fine;
  }
  throw DomainError("the shape of the wire cannot be computed for these values");
}

Wire wire_of(const TowedLine& line) {
  need_above_zero(line.ball.value(), "the mass of the ball");
  need_not_negative(line.ball_drag, "the drag coefficient of the ball");
  need_above_zero(line.wire_diameter.value(), "the diameter of the wire");
  need_above_zero(line.depth.value(), "the depth of the ball");
  need_not_negative(line.surface_speed.value(), "the speed at the surface");
  if (line.ball_speed) need_not_negative(line.ball_speed->value(), "the speed at the ball");
  need_not_negative(line.normal_drag, "the drag coefficient across the wire");
  need_not_negative(line.tangential_drag, "the drag coefficient along the wire");
  if (!std::isfinite(line.wire_weight.value())) {
    throw DomainError("the weight of the wire in water must be finite");
  }
  const double down = weight_in_water(line.ball, line.ball_density, line.water).value();
  const double d = ball_diameter(line.ball, line.ball_density).value();
  const double u = line.ball_speed.value_or(line.surface_speed).value();
  const double pressure = 0.5 * line.water.value();  // over U^2
  return {.down = down,
          .aft = pressure * u * u * line.ball_drag * (pi / 4 * d * d),
          .weight = line.wire_weight.value(),
          .normal = pressure * line.normal_drag * line.wire_diameter.value(),
          .tangential = pressure * line.tangential_drag * pi * line.wire_diameter.value(),
          .constant_tangential = line.tangential_law == TangentialDrag::constant,
          .depth = line.depth.value(),
          .ball_speed = u,
          .surface_speed = line.surface_speed.value()};
}

LinePull pull_of(const State& end) {
  return {.tension = end.tension * si::newton,
          .from_vertical = std::atan(std::sinh(end.q)) * si::radian,
          .wire_out = end.out * si::metre,
          .layback = end.back * si::metre};
}

void need_not_slack(const Run& run) {
  if (run.outcome == Outcome::slack) {
    throw DomainError(
        "the floating wire carries the ball: it cannot be towed at this depth with so light a "
        "ball");
  }
}

}  // namespace

Water fresh_water(WaterTemperature temperature) { return water_at(temperature.celsius, 0); }
Water sea_water(WaterTemperature temperature) { return water_at(temperature.celsius, 35); }

double sphere_drag(double re, SphereDrag law) {
  need_above_zero(re, "the Reynolds number of the ball");
  const double schiller_naumann = 24 / re * (1 + 0.15 * std::pow(re, 0.687));
  switch (law) {
    case SphereDrag::morrison: {
      if (re > 1e6) throw DomainError("Morrison's drag law ends at a Reynolds number of 1e6");
      const double a = re / 5;
      const double b = re / 2.63e5;
      const double c = re / 1e6;
      // b^-7.94 / (1 + b^-8) without overflow at small b
      const double crisis = std::pow(b, 0.06) / (1 + std::pow(b, 8.0));
      return 24 / re + 2.6 * a / (1 + std::pow(a, 1.52)) + 0.411 * crisis + 0.25 * c / (1 + c);
    }
    case SphereDrag::clift_gauvin:
      if (re > 2e5)
        throw DomainError("Clift and Gauvin's drag law ends at a Reynolds number of 2e5");
      return schiller_naumann + 0.42 / (1 + 4.25e4 * std::pow(re, -1.16));
    case SphereDrag::schiller_naumann:
      if (re >= 1000) {
        throw DomainError("Schiller and Naumann's drag law ends at a Reynolds number of 1000");
      }
      return schiller_naumann;
  }
  throw InternalError("drag law without a formula");
}

double cylinder_drag(double re) {
  if (!(re > 1e-4 && re < 2e5)) {
    throw DomainError("the drag law of a cylinder holds for Reynolds numbers from 1e-4 to 2e5");
  }
  return 1.18 + 6.8 / std::pow(re, 0.89) + 1.96 / std::sqrt(re) -
         4e-4 * re / (1 + 3.64e-7 * re * re);
}

double strum_factor(double amplitude_over_diameter) {
  need_not_negative(amplitude_over_diameter, "the amplitude of the shaking wire over its diameter");
  return 1 + 2.1 * amplitude_over_diameter;
}

Density ball_density(BallMaterial material) {
  switch (material) {
    case BallMaterial::lead:
      return 11340.0 * si::kilogrammes_per_cubic_metre;
    case BallMaterial::antimonial_lead:
      return 10900.0 * si::kilogrammes_per_cubic_metre;
    case BallMaterial::steel:
      return 7850.0 * si::kilogrammes_per_cubic_metre;
    case BallMaterial::cast_iron:
      return 7200.0 * si::kilogrammes_per_cubic_metre;
  }
  throw InternalError("ball material without a density");
}

Length ball_diameter(Mass ball, Density density) {
  need_above_zero(ball.value(), "the mass of the ball");
  need_above_zero(density.value(), "the density of the ball");
  return std::cbrt(6 / pi * ball.value() / density.value()) * si::metre;
}

Force weight_in_water(Mass ball, Density ball_density, Density water) {
  need_above_zero(ball.value(), "the mass of the ball");
  return (1 - density_ratio(ball_density, water)) * (ball * standard_gravity);
}

double bare_ball_drag(Mass ball, Density ball_density, const Water& water, Speed speed,
                      SphereDrag law) {
  need_above_zero(speed.value(), "the speed at the ball");
  need_above_zero(water.viscosity.value(), "the viscosity of the water");
  const double d = ball_diameter(ball, ball_density).value();
  return sphere_drag(speed.value() * d / water.viscosity.value(), law);
}

LineLoad wire_weight_in_water(WireKind kind, Length diameter, Density water) {
  need_above_zero(diameter.value(), "the diameter of the wire");
  need_above_zero(water.value(), "the density of the water");
  double fill = 1;
  double rho = 7900;
  switch (kind) {
    case WireKind::strand_1x7:
      fill = 7.0 / 9;
      break;
    case WireKind::rope_7x7:
      fill = 0.55;
      break;
    case WireKind::braid:
      rho = 970;
      break;
  }
  const double area = fill * pi / 4 * diameter.value() * diameter.value();
  return area * (rho - water.value()) * g * si::newton / si::metre;
}

LinePull line_pull(const TowedLine& line) {
  const Run run = solve(wire_of(line));
  need_not_slack(run);
  if (run.outcome == Outcome::too_flat) {
    throw DomainError(
        "the wire lies flatter than 89 degrees from vertical before it reaches the surface: take "
        "less speed, less depth, a thinner wire or a heavier ball");
  }
  return pull_of(run.end);
}

Angle critical_angle(LineLoad weight, LineLoad cross_drag) {
  need_not_negative(weight.value(), "the weight of the wire in water");
  need_above_zero(cross_drag.value(), "the drag of the wire");
  // cos phi = sqrt(1 + h^2) - h, sin phi = sqrt(2 h cos phi), without loss at small or great h.
  const double h = weight.value() / (2 * cross_drag.value());
  const double cosine = 1 / (std::hypot(1.0, h) + h);
  return std::atan2(std::sqrt(2 * h * cosine), cosine) * si::radian;
}

PullRange pull_range(const TowedLine& line, SpeedRange surface, std::optional<SpeedRange> at_ball) {
  const auto check = [](const SpeedRange& range) {
    need_not_negative(range.least.value(), "the least speed");
    need_not_negative(range.greatest.value(), "the greatest speed");
    if (range.least.value() > range.greatest.value()) {
      throw DomainError("the least speed must not be above the greatest speed");
    }
  };
  check(surface);
  if (at_ball) check(*at_ball);

  constexpr double inf = std::numeric_limits<double>::infinity();
  PullRange range{inf * si::radian,
                  0.0 * si::radian,
                  inf * si::newton,
                  0.0 * si::newton,
                  0.0 * si::metre,
                  0.0 * si::metre,
                  false};
  TowedLine one = line;
  const auto add = [&] {
    const Run run = solve(wire_of(one));
    need_not_slack(run);
    LinePull pull = pull_of(run.end);
    if (run.outcome == Outcome::too_flat) {
      range.too_flat = true;
      pull.from_vertical = degrees(89);
    }
    range.least_angle = std::min(range.least_angle, pull.from_vertical);
    range.greatest_angle = std::max(range.greatest_angle, pull.from_vertical);
    range.least_tension = std::min(range.least_tension, pull.tension);
    range.greatest_tension = std::max(range.greatest_tension, pull.tension);
    range.greatest_wire_out = std::max(range.greatest_wire_out, pull.wire_out);
    range.greatest_layback = std::max(range.greatest_layback, pull.layback);
  };
  for (const double cn : {1.0, 1.5, 2.5}) {
    one.normal_drag = cn;
    for (const Speed& top : {surface.least, surface.greatest}) {
      one.surface_speed = top;
      one.ball_speed = std::nullopt;
      if (!at_ball) {
        add();
        continue;
      }
      for (const Speed& deep : {at_ball->least, at_ball->greatest}) {
        one.ball_speed = deep;
        add();
      }
    }
  }
  return range;
}

Force presumed_breaking_strength(WireKind kind) {
  using namespace literals;
  return kind == WireKind::braid ? 300.0_lbf : 270.0_lbf;
}

SnagPull snag_pull(Mass ball, WireKind kind, std::optional<Force> breaking_strength,
                   std::optional<Force> slip) {
  need_above_zero(ball.value(), "the mass of the ball");
  if (breaking_strength) {
    need_above_zero(breaking_strength->value(), "the breaking strength of the wire");
  }
  if (slip) need_above_zero(slip->value(), "the measured slip of the brake");
  SnagPull snag{1.2 * breaking_strength.value_or(presumed_breaking_strength(kind)),
                breaking_strength ? SnagLimit::break_given : SnagLimit::break_presumed};
  if (slip && 1.5 * *slip < snag.pull) snag = {1.5 * *slip, SnagLimit::slip_measured};
  const Force floor = 2.0 * (ball * standard_gravity);
  if (snag.pull < floor) snag = {floor, SnagLimit::twice_ball_weight};
  return snag;
}

double strain_at_break(WireKind kind, bool high) {
  switch (kind) {
    case WireKind::strand_1x7:
      return high ? 0.02 : 0.012;
    case WireKind::rope_7x7:
      return high ? 0.025 : 0.02;
    case WireKind::braid:
      return high ? 0.05 : 0.04;
  }
  throw InternalError("wire kind without a strain at break");
}

SnagRide snag_ride(LinearStiffness wire, Force breaking_strength, Speed speed,
                   const SnagSupport& support) {
  need_above_zero(wire.value(), "the stiffness of the wire");
  need_above_zero(breaking_strength.value(), "the breaking strength of the wire");
  need_above_zero(speed.value(), "the speed of the boat");
  need_above_zero(support.boat.value(), "the mass of the boat");
  need_not_negative(support.boom.value(), "the stiffness of the boom");
  need_not_negative(support.off_middle.value(), "the distance of the tip from the middle line");
  need_not_negative(support.gm.value(), "the height of the metacentre");
  need_not_negative(support.waterplane.value(), "the waterplane area");
  constexpr double added_mass = 1.1;       // of surge, on the boat's mass
  constexpr double heaviest_water = 1025;  // stiffest in heave
  const double mass = support.boat.value();
  const double arm = support.off_middle.value();
  double give = 1 / wire.value();
  if (support.boom.value() > 0) give += 1 / support.boom.value();
  if (support.gm.value() > 0) give += arm * arm / (mass * g * support.gm.value());
  if (support.waterplane.value() > 0) give += 1 / (heaviest_water * g * support.waterplane.value());
  const double moving = added_mass * mass;
  const double v = speed.value();
  const double strength = breaking_strength.value();
  SnagRide ride;
  ride.wire = wire;
  ride.series = 1 / give * si::newton / si::metre;
  ride.to_break = 0.5 * strength * strength * give * si::joule;
  ride.of_boat = 0.5 * moving * v * v * si::joule;
  ride.peak_unbroken = v * std::sqrt(moving / give) * si::newton;
  ride.wire_breaks = ride.of_boat > ride.to_break;
  return ride;
}

SnagRide snag_ride(WireKind kind, Force breaking_strength, Length wire_out, Speed speed,
                   const SnagSupport& support) {
  need_above_zero(breaking_strength.value(), "the breaking strength of the wire");
  need_above_zero(wire_out.value(), "the length of the wire");
  return snag_ride(breaking_strength / (strain_at_break(kind) * wire_out), breaking_strength, speed,
                   support);
}

double wave_coefficient(Density ball_density, Density water) {
  const double r = density_ratio(ball_density, water);
  return (1 + r / 2) / (1 - r);
}

WavePull wave_pull(Mass ball, Density ball_density, Density water, Acceleration a) {
  need_not_negative(a.value(), "the acceleration of the tip");
  const Force weight = weight_in_water(ball, ball_density, water);
  const double c = wave_coefficient(ball_density, water);
  const double swing = c * (a / standard_gravity);
  return {.greatest = weight * (1 + swing),
          .least = weight * std::max(0.0, 1 - swing),
          .slack_from = standard_gravity / c,
          .slack = swing > 1};
}

Force snatch_pull(Mass ball, Density ball_density, Density water, Speed v, LinearStiffness k) {
  need_not_negative(v.value(), "the speed of the snatch");
  need_above_zero(k.value(), "the stiffness of boom and wire");
  const Force weight = weight_in_water(ball, ball_density, water);
  const double mass = ball.value() * (1 + density_ratio(ball_density, water) / 2);
  return weight + v.value() * std::sqrt(k.value() * mass) * si::newton;
}

}  // namespace thole
