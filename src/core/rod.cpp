#include <thole/rod.hpp>

#include <algorithm>
#include <cmath>
#include <numbers>

#include <thole/error.hpp>

namespace thole {

Length rod_lever_bound(Length length, std::optional<BendingStiffness> butt, Angle beta,
                       Force pull) {
  if (!(length.value() > 0)) throw DomainError("the rod length must be above zero");
  if (!(pull.value() >= 0)) throw DomainError("the line pull must not be negative");
  if (butt && !(butt->value() > 0)) throw DomainError("the butt stiffness must be above zero");
  const double b = std::clamp(radians(beta), 0.0, std::numbers::pi);
  Length lever = length * (b < std::numbers::pi / 2 ? std::sin(b) : 1.0);
  if (butt && pull.value() > 0) {
    const Area energy = 2.0 * *butt * (1 - std::cos(b)) / pull;
    lever = std::min(lever, std::sqrt(energy.value()) * si::metre);
  }
  return lever;
}

double uniform_rod_lever(double alpha, Angle beta) {
  // Shooting on the tip angle psi1: integrate from the tip (psi' = 0) to the butt with RK4 and find
  // the psi1 whose butt angle is beta. psi grows from tip to butt for a dead load.
  const double target = radians(beta);
  if (!(target > 0)) return 0;
  constexpr int n = 2000;
  const auto shoot = [&](double tip, double* lever) {
    double psi = tip;
    double slope = 0;  // d psi / d t, t from the tip
    double sum = 0;
    const double h = 1.0 / n;
    for (int i = 0; i < n; ++i) {
      const double a1 = alpha * std::sin(psi);
      const double p2 = psi + h / 2 * slope;
      const double s2 = slope + h / 2 * a1;
      const double a2 = alpha * std::sin(p2);
      const double p3 = psi + h / 2 * s2;
      const double s3 = slope + h / 2 * a2;
      const double a3 = alpha * std::sin(p3);
      const double p4 = psi + h * s3;
      const double s4 = slope + h * a3;
      const double a4 = alpha * std::sin(p4);
      sum += h / 6 * (std::sin(psi) + 2 * std::sin(p2) + 2 * std::sin(p3) + std::sin(p4));
      psi += h / 6 * (slope + 2 * s2 + 2 * s3 + s4);
      slope += h / 6 * (a1 + 2 * a2 + 2 * a3 + a4);
    }
    if (lever != nullptr) *lever = sum;
    return psi;
  };
  double low = 0;
  double high = target;
  for (int i = 0; i < 200; ++i) {
    const double mid = 0.5 * (low + high);
    (shoot(mid, nullptr) < target ? low : high) = mid;
  }
  double lever = 0;
  shoot(0.5 * (low + high), &lever);
  return lever;
}

BendingStiffness butt_stiffness_from_test(Force pull, Length length, Length droop) {
  if (!(pull.value() > 0) || !(length.value() > 0) || !(droop.value() > 0)) {
    throw DomainError("pull, length and droop of the rod test must be above zero");
  }
  return pull * length * length * length / (3.0 * droop);
}

Force planer_pull(Area area, Speed speed, Density water, double coefficient) {
  for (const double value : {area.value(), speed.value(), water.value(), coefficient}) {
    if (!(value > 0) || !std::isfinite(value)) {
      throw DomainError(
          "area, speed, water density and coefficient of a planer must be finite numbers above "
          "zero");
    }
  }
  return 0.5 * coefficient * (water * speed * speed * area);
}

SocketLoad socket_load(Force pull, Angle beta, Length lever, Length depth) {
  if (!(depth.value() > 0) || !std::isfinite(depth.value())) {
    throw DomainError("the depth of the butt in its tube must be a finite number above zero");
  }
  if (!(pull.value() >= 0) || !std::isfinite(pull.value())) {
    throw DomainError("the line pull must be finite and not below zero");
  }
  if (!(lever.value() >= 0) || !std::isfinite(lever.value())) {
    throw DomainError("the lever of the rod must be finite and not below zero");
  }
  const double b = radians(beta);
  if (!(b >= 0 && b <= std::numbers::pi * (1 + 1e-12))) {
    throw DomainError("the angle between tube and line must lie between 0 and 180 degrees");
  }
  SocketLoad load;
  load.along = std::cos(b) * pull;
  load.across = std::max(0.0, std::sin(b)) * pull;
  load.bending = pull * lever;
  load.at_foot = load.bending / depth;
  load.at_rim = load.at_foot + load.across;
  return load;
}

}  // namespace thole
