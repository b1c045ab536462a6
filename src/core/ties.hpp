#pragma once

/// Mirrored loads and items give the same figure but for its last digits, which hang on the machine
/// and its library of functions. Which of them is named, and which search goes on from, must not:
/// the first of a tie stays.

#include <cmath>

namespace thole::parts {

/// Within it two figures are one: a billionth.
inline constexpr double tie = 1e-9;

/// Truly below, truly above; of figures that are not negative.
[[nodiscard]] inline bool below(double a, double b) { return a < b * (1 - tie); }
[[nodiscard]] inline bool above(double a, double b) { return a > b * (1 + tie); }

/// A figure to sort or search by: rounded to eight digits, so that ties are equal.
[[nodiscard]] inline double steady(double v) {
  if (!std::isfinite(v)) return v;
  int exponent = 0;
  const double part = std::frexp(v, &exponent);
  return std::ldexp(std::round(std::ldexp(part, 26)), exponent - 26);
}

}  // namespace thole::parts
