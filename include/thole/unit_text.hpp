#pragma once

/// Values with units as people write them: the only place that knows what "psi" is.
///
/// Grammar: a number, then a unit. Numbers: `7.25`, `1/4`, `7 1/4`, `7-1/4`, `-3`, `2e3`; feet and
/// inches may be joined: `5 ft 10 in`, `5' 10 1/2"`. No hexadecimal, no infinity, no decimal comma,
/// at most 15 significant digits, no default unit. A value is converted with a single rounding, so
/// `7.25 in` and `184.15 mm` give the same number.

#include <string>
#include <string_view>
#include <vector>

#include <thole/quantities.hpp>

namespace thole {

enum class Dimension {
  number,
  length,
  area,
  force,
  moment,
  stress,
  mass,
  density,
  speed,
  angle,
  bending_stiffness,
};

/// "a length", "a force" ...: for messages.
[[nodiscard]] std::string_view name_of(Dimension d);
/// Examples of what is expected: `7 1/4 in` or `184 mm`.
[[nodiscard]] std::string_view example_of(Dimension d);

/// A number in SI units together with its dimension.
struct Measure {
  double si = 0;
  Dimension dimension = Dimension::number;
  friend bool operator==(const Measure&, const Measure&) = default;
};

/// Reads any value with a unit. Throws UnitError.
[[nodiscard]] Measure parse_measure(std::string_view text);

/// Reads a value that must have the dimension `want`. Throws UnitError: what was written, what it
/// is, what was wanted, and the likely unit (`lb` where a force is wanted offers `lbf`).
[[nodiscard]] Measure parse_measure(std::string_view text, Dimension want);

/// Reads a bare number (`0.33`, `3/4`). Throws UnitError on units, NaN, infinity.
[[nodiscard]] double parse_number(std::string_view text);

template <class Q>
struct DimensionOf;
template <>
struct DimensionOf<Length> {
  static constexpr Dimension value = Dimension::length;
};
template <>
struct DimensionOf<Area> {
  static constexpr Dimension value = Dimension::area;
};
template <>
struct DimensionOf<Force> {
  static constexpr Dimension value = Dimension::force;
};
template <>
struct DimensionOf<Moment> {
  static constexpr Dimension value = Dimension::moment;
};
template <>
struct DimensionOf<Stress> {
  static constexpr Dimension value = Dimension::stress;
};
template <>
struct DimensionOf<Mass> {
  static constexpr Dimension value = Dimension::mass;
};
template <>
struct DimensionOf<Density> {
  static constexpr Dimension value = Dimension::density;
};
template <>
struct DimensionOf<Speed> {
  static constexpr Dimension value = Dimension::speed;
};
template <>
struct DimensionOf<Angle> {
  static constexpr Dimension value = Dimension::angle;
};
template <>
struct DimensionOf<BendingStiffness> {
  static constexpr Dimension value = Dimension::bending_stiffness;
};

/// `parse<Stress>("35 ksi")`. Throws UnitError.
template <class Q>
[[nodiscard]] Q parse(std::string_view text) {
  return Q::from_value(parse_measure(text, DimensionOf<Q>::value).si);
}

/// One row of the table of units, for tests and documentation.
struct UnitRow {
  std::string_view name;
  Dimension dimension;
  double factor;  ///< SI value of one unit
};
[[nodiscard]] const std::vector<UnitRow>& unit_table();

/// The candidates that are nearest in spelling to `word`, all equally near; none when none is near.
[[nodiscard]] std::vector<std::string> nearest_spellings(
    std::string_view word, const std::vector<std::string>& candidates);
/// The first of them, or "".
[[nodiscard]] std::string nearest_spelling(std::string_view word,
                                           const std::vector<std::string>& candidates);

}  // namespace thole
