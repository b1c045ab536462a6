#include <thole/thread.hpp>

#include <cmath>
#include <numbers>

#include <thole/error.hpp>

namespace thole {
namespace {

constexpr double pi = std::numbers::pi;

Area circle_of(Length d) { return pi / 4.0 * d * d; }

bool is_metric(const Thread& t) { return t.name.starts_with("M"); }

// Strip area per unit length: pi n K (P/2 + (E - K)/sqrt 3), the two diameters taken at the end of
// their limits that leaves the least metal.
Length strip(Length pitch, Length crest, Length flank_span) {
  return pi / pitch * crest * (0.5 * pitch + flank_span / std::numbers::sqrt3);
}

}  // namespace

Area tensile_stress_area(const Thread& t) {
  if (is_spaced(t)) return circle_of(t.root);
  return circle_of(t.diameter - (is_metric(t) ? 0.9382 : 0.9743) * t.pitch);
}

Area root_area(const Thread& t) {
  if (is_spaced(t)) return circle_of(t.root);
  return circle_of(t.diameter - (is_metric(t) ? 1.22687 : 1.191) * t.pitch);
}

Length internal_strip_area_per_length(const Thread& t) {
  return strip(t.pitch, t.external_major_min, t.external_major_min - t.internal_pitch_max);
}

Length insert_strip_area_per_length(const Thread& t) {
  const Length outside = t.diameter + 1.2990 * t.pitch;
  return outside / t.diameter * internal_strip_area_per_length(t);
}

Length external_strip_area_per_length(const Thread& t) {
  return strip(t.pitch, t.internal_minor_max, t.external_pitch_min - t.internal_minor_max);
}

double threads_engaged(const Thread& t, Length depth) { return depth / t.pitch; }

UnifiedLimits unified_2a_2b_limits(Length diameter, Length pitch) {
  using namespace literals;
  // Numeric kernel in inches: the standard's constants are.
  const double D = diameter / 1.0_in;
  const double P = pitch / 1.0_in;
  if (!(D >= 0.06 && D <= 1.0))
    throw DomainError("a Unified thread here has 0.06 to 1 in diameter");
  if (!(P > 0 && P < D)) throw DomainError("the pitch must lie between 0 and the diameter");
  const double T = 0.0015 * std::cbrt(D) + 0.0015 * std::sqrt(D) + 0.015 * std::cbrt(P * P);
  const double allowance = 0.3 * T;
  const double major_tolerance = 0.060 * std::cbrt(P * P);
  const double basic_pitch = D - 0.649519 * P;
  const double basic_minor = D - 1.082532 * P;
  double minor_tolerance = 0.25 * P - 0.4 * P * P;
  if (D < 0.25) {
    const double small = 0.05 * std::cbrt(P * P) + 0.03 * P / D - 0.002;
    minor_tolerance = std::min(std::max(small, minor_tolerance), 0.394 * P);
  }
  const auto inches = [](double v) { return v * 1.0_in; };
  return {.external_major_min = inches(D - allowance - major_tolerance),
          .external_pitch_min = inches(basic_pitch - allowance - T),
          .internal_minor_max = inches(std::round((basic_minor + minor_tolerance) * 1000) / 1000),
          .internal_pitch_max = inches(basic_pitch + 1.3 * T)};
}

}  // namespace thole
