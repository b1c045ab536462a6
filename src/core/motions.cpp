#include <thole/motions.hpp>

#include <algorithm>
#include <cmath>
#include <string>
#include <string_view>

#include <thole/error.hpp>

namespace thole {

namespace {

constexpr double knot = 1852.0 / 3600;
constexpr double foot = 0.3048;

double above_zero(double value, std::string_view what) {
  if (!(value > 0) || !std::isfinite(value)) {
    throw DomainError(std::string(what) + " must be a finite number above zero");
  }
  return value;
}

double not_negative(double value, std::string_view what) {
  if (!(value >= 0) || !std::isfinite(value)) {
    throw DomainError(std::string(what) + " must be finite and not below zero");
  }
  return value;
}

double knots(Speed speed) { return above_zero(speed.value(), "the speed of the boat") / knot; }

bool inside(double value, double low, double high) { return value >= low && value <= high; }

void need_hull(const PlaningHull& hull) {
  above_zero(hull.waterline_length.value(), "the length of the waterline");
  above_zero(hull.chine_beam.value(), "the beam at the chine");
  above_zero(hull.loaded_mass.value(), "the mass of the loaded boat");
  if (!(in_degrees(hull.deadrise) >= 0 && in_degrees(hull.deadrise) < 90)) {
    throw DomainError("the deadrise must be 0 degrees or more and less than 90");
  }
}

double by_size(const PlaningHull& hull, double v) {
  const double l = hull.waterline_length.value();
  const double b = hull.chine_beam.value();
  const double beta = std::clamp(in_degrees(hull.deadrise), 10.0, 30.0);
  return 0.32 * (l / (10 * b) + 0.084) * (50 - beta) * v * v * b * b / hull.loaded_mass.value();
}

double by_speed(const PlaningHull& hull, double v) {
  return 0.5 * v / std::pow(hull.loaded_mass.value(), 0.17);
}

}  // namespace

PlaningHull planing_hull(const BoatData& boat) {
  return {.waterline_length = boat.waterline_length,
          .chine_beam = boat.chine_beam,
          .deadrise = boat.deadrise,
          .loaded_mass = boat.loaded_mass};
}

double planing_acceleration_1(const PlaningHull& hull, Speed speed) {
  need_hull(hull);
  return by_size(hull, knots(speed));
}

double planing_acceleration_2(const PlaningHull& hull, Speed speed) {
  need_hull(hull);
  return by_speed(hull, knots(speed));
}

double planing_acceleration(const PlaningHull& hull, Speed top) {
  need_hull(hull);
  const double slowest = 2.36 * std::sqrt(hull.waterline_length.value());
  const double v = std::min(std::max(knots(top), slowest), 50.0);
  const double n1 = by_size(hull, v);
  if (n1 <= 3) return n1;
  return std::min(std::max(3.0, std::min(n1, by_speed(hull, v))), 7.0);
}

bool planes(Length waterline_length, Speed speed) {
  const double l = above_zero(waterline_length.value(), "the length of the waterline");
  const double v = not_negative(speed.value(), "the speed of the boat") / knot;
  return v >= 5 * std::sqrt(l);
}

ImpactAcceleration impact_acceleration(const ImpactHull& hull, Speed speed, Length wave) {
  const double l = above_zero(hull.length.value(), "the length of the hull") / foot;
  const double b = above_zero(hull.beam.value(), "the beam of the hull") / foot;
  const double tau = above_zero(in_degrees(hull.trim), "the trim");
  const double load = above_zero(hull.beam_loading, "the beam loading");
  const double beta = not_negative(in_degrees(hull.deadrise), "the deadrise");
  if (!(beta < 50)) throw DomainError("the deadrise must be less than 50 degrees");
  const double h = not_negative(wave.value(), "the wave height") / foot;
  const double slender = l / b;
  const double swift = knots(speed) / std::sqrt(l);
  const double centre =
      0.0104 * (h / b + 0.084) * (tau / 4) * (5.0 / 3 - beta / 30) * swift * swift * slender / load;
  // Long tons over (L/100)^3, sea water of 64 lb/ft^3.
  const double heavy = load * 64 / 2240 * 1e6 / (slender * slender * slender);
  return {.at_centre = centre,
          .at_bow = centre * std::max(1.0, 1 + 3.8 * (slender - 2.25) / swift),
          .outside_range =
              !(inside(slender, 3, 5) && inside(tau, 3, 7) && inside(beta, 10, 30) &&
                inside(h / b, 0.2, 0.7) && inside(swift, 2, 6) && inside(heavy, 100, 250))};
}

double average_of_highest(double average, double n) {
  not_negative(average, "the average acceleration");
  if (!(n >= 1) || !std::isfinite(n)) {
    throw DomainError("the share of highest peaks must be one in 1 or more");
  }
  return average * (1 + std::log(n));
}

double place_factor(Length from_stern, Length length) {
  const double l = above_zero(length.value(), "the length of the boat");
  if (!std::isfinite(from_stern.value())) {
    throw DomainError("the place of the mount from the stern must be finite");
  }
  const double forward = std::clamp(from_stern.value() / l, 0.0, 1.0);
  return 1 + std::max(0.0, forward - 0.5);  // half the length, half as much again
}

RoadAcceleration road_acceleration() { return {}; }

}  // namespace thole
