#pragma once

/// Figures as a source prints them. A comparison accepts half a unit in the last printed digit:
/// `58.0 mm^2` takes 57.95 to 58.05. Nobody chooses a tolerance. It leaves a row of the validation
/// table.

#include <doctest/doctest.h>

#include <cmath>
#include <sstream>
#include <string>
#include <string_view>

#include <thole/quantities.hpp>
#include <thole/unit_text.hpp>

#include "support/validation.hpp"

namespace thole::test {

/// Half a unit in the last digit of `1.665e-2`, `0.208`, `58.0` or `11600`. With `figures` above
/// zero only that many significant figures of the text count: `11600` with 3 takes 50.
inline double half_last_digit(std::string_view number, int figures = 0) {
  const auto e = number.find_first_of("eE");
  const std::string_view mantissa = number.substr(0, e);
  if (figures > 0) {
    const double size = std::abs(parse_number(number));
    return 0.5 * std::pow(10.0, std::floor(std::log10(size)) - figures + 1);
  }
  const int exponent =
      e == std::string_view::npos ? 0 : std::stoi(std::string(number.substr(e + 1)));
  const auto point = mantissa.find('.');
  const int decimals = point == std::string_view::npos ? 0 : int(mantissa.size() - point) - 1;
  return 0.5 * std::pow(10.0, exponent - decimals);
}

/// Rounding of a tie such as 862.5 printed as 862 must not hang on the last bit of a double.
inline bool within(double found, double printed, double half) {
  return std::abs(found - printed) <= half * (1 + 1e-6);
}

/// Of a number that no source prints, as a ratio to what one prints: leaves no row.
inline bool rounds_to(double found, std::string_view text) {
  return within(found, parse_number(text), half_last_digit(text));
}

/// A bare number: `PublishedNumber("0.208")`.
class PublishedNumber {
 public:
  explicit PublishedNumber(std::string_view text, int figures = 0)
      : text_(text), value_(parse_number(text)), half_(half_last_digit(text, figures)) {}

  [[nodiscard]] double value() const { return value_; }

  friend bool operator==(double found, const PublishedNumber& p) {
    const bool same = within(found, p.value_, p.half_);
    leave_row(p.text_, "", found, p.value_, same);
    return same;
  }
  friend std::ostream& operator<<(std::ostream& out, const PublishedNumber& p) {
    return out << p.text_ << " as printed (" << p.value_ << " ± " << p.half_ << ")";
  }

 private:
  std::string text_;
  double value_;
  double half_;
};

/// A figure with its unit: `Published<Area>("58.0 mm^2")`, `Published<Force>("11600 N", 3)`.
template <class Q>
class Published {
 public:
  explicit Published(std::string_view text, int figures = 0) : value_(parse<Q>(text)) {
    const auto space = text.find(' ');
    unit_text_ = text.substr(space);
    unit_ = parse<Q>("1" + unit_text_);
    text_ = text.substr(0, space);
    half_ = half_last_digit(text_, figures) * unit_;
  }

  /// A table that prints in steps, as load tables in steps of 5 lbf do: half a step is accepted.
  [[nodiscard]] static Published in_steps(std::string_view text, std::string_view step) {
    Published p(text);
    p.half_ = 0.5 * parse<Q>(step);
    return p;
  }

  [[nodiscard]] Q value() const { return value_; }

  friend bool operator==(const Q& found, const Published& p) {
    const bool same = within(found.value(), p.value_.value(), p.half_.value());
    leave_row(p.text_, p.unit_text_, found.value() / p.unit_.value(),
              p.value_.value() / p.unit_.value(), same);
    return same;
  }
  friend std::ostream& operator<<(std::ostream& out, const Published& p) {
    return out << p.text_ << p.unit_text_ << " as printed (" << p.value_.value() << " ± "
               << p.half_.value() << " SI)";
  }

 private:
  std::string text_;
  std::string unit_text_;  // begins with a space
  Q unit_;
  Q value_;
  Q half_;
};

}  // namespace thole::test

namespace doctest {

/// Quantities in messages: the SI number, since the figure beside it names the unit.
template <class Unit>
struct StringMaker<boost::units::quantity<Unit, double>> {
  static String convert(const boost::units::quantity<Unit, double>& q) {
    std::ostringstream out;
    out.precision(9);
    out << q.value() << " SI";
    return out.str().c_str();
  }
};

}  // namespace doctest
