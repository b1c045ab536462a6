#include <thole/waves.hpp>

#include <algorithm>
#include <cmath>
#include <numbers>
#include <string>
#include <string_view>

#include <thole/error.hpp>

namespace thole {

namespace {

using std::numbers::pi;

const double g = standard_gravity.value();

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

/// g F / U^2
double fetch_over_wind(Speed wind, Length fetch) {
  const double u = above_zero(wind.value(), "the wind speed");
  return g * above_zero(fetch.value(), "the open water upwind") / (u * u);
}

}  // namespace

Sea fetch_limited_sea(Speed wind, Length fetch) {
  const double x = fetch_over_wind(wind, fetch);
  const double u = wind.value();
  return {.height = std::min(0.0016 * std::sqrt(x), 0.243) * u * u / g * si::metre,
          .peak_period = std::min(0.286 * std::cbrt(x), 8.13) * u / g * si::second};
}

Sea smb_sea(Speed wind, Length fetch) {
  const double x = fetch_over_wind(wind, fetch);
  const double u = wind.value();
  return {.height = 0.283 * u * u / g * std::tanh(0.0125 * std::pow(x, 0.42)) * si::metre,
          .peak_period = 1.2 * 2 * pi * u / g * std::tanh(0.077 * std::pow(x, 0.25)) * si::second};
}

Time zero_crossing_period(Time peak_period, double gamma) {
  above_zero(peak_period.value(), "the period of the waves");
  if (!(gamma >= 1 && gamma <= 7)) {
    throw DomainError("the peak enhancement of a sea must lie between 1 and 7");
  }
  const double ratio = 0.6673 + gamma * (0.05037 + gamma * (-0.006230 + gamma * 0.0003341));
  return ratio * peak_period;
}

double encounters_per_hour(Time wave_period, Speed boat, Angle off_the_bow) {
  const double omega = 2 * pi / above_zero(wave_period.value(), "the period of the waves");
  const double u = not_negative(boat.value(), "the speed of the boat");
  if (!std::isfinite(off_the_bow.value())) {
    throw DomainError("the angle of the waves off the bow must be finite");
  }
  const double met = omega + omega * omega * u / g * std::cos(radians(off_the_bow));
  return std::abs(met) * 3600 / (2 * pi);
}

Time roll_period(Length beam, Length gm) {
  const double b = above_zero(beam.value(), "the beam of the boat");
  return 0.8 * b / std::sqrt(above_zero(gm.value(), "the height of the metacentre")) * si::second;
}

TipAcceleration tip_acceleration(Length wave_height, Time wave_period, Angle roll,
                                 Time period_of_roll, Length off_middle) {
  const double h = not_negative(wave_height.value(), "the wave height");
  const double omega = 2 * pi / above_zero(wave_period.value(), "the period of the waves");
  const double phi = not_negative(radians(roll), "the roll angle");
  const double rolls = 2 * pi / above_zero(period_of_roll.value(), "the period of roll");
  const double b = not_negative(off_middle.value(), "the distance of the tip from the middle line");
  const double heaves = omega * omega * h / 2;
  const double swings = rolls * rolls * phi * b;
  const auto of = [](double a) { return a * si::metre_per_second_squared; };
  return {.heave = of(heaves),
          .roll = of(swings),
          .together = of(std::hypot(heaves, swings)),
          .in_phase = of(heaves + swings)};
}

}  // namespace thole
