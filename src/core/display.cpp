#include <thole/display.hpp>

#include <fmt/format.h>

#include <cmath>

#include <thole/error.hpp>

namespace thole {
namespace {

constexpr double inch = 0.0254;
constexpr double pound_force = 4.4482216152605;
constexpr double psi = 4.4482216152605 / 0.00064516;

std::string trimmed(std::string s) {
  if (s.find('.') == std::string::npos) return s;
  while (s.back() == '0') s.pop_back();
  if (s.back() == '.') s.pop_back();
  return s == "-0" ? "0" : s;
}

// `figures` significant figures, rounded as told, never in exponent form.
std::string significant(double v, int figures, Rounding r) {
  if (!std::isfinite(v)) return "?";
  if (v == 0) return "0";
  const double size = std::abs(v);
  const int places = figures - 1 - int(std::floor(std::log10(size) + 1e-12));
  const double scale = std::pow(10.0, places);
  double scaled = size * scale;
  constexpr double hair = 1e-9;
  if (r == Rounding::down) scaled = std::floor(scaled + hair);
  if (r == Rounding::up) scaled = std::ceil(scaled - hair);
  if (r == Rounding::nearest) scaled = std::round(scaled);
  return trimmed(fmt::format("{}{:.{}f}", v < 0 ? "-" : "", scaled / scale, std::max(0, places)));
}

std::string inches(double v) {
  const double sixteenths = v * 16;
  const double whole = std::round(sixteenths);
  if (std::abs(sixteenths - whole) < 0.0005 * 16 && whole > 0) {
    long n = long(whole) % 16;
    long d = 16;
    const long units = long(whole) / 16;
    while (n > 0 && n % 2 == 0) {
      n /= 2;
      d /= 2;
    }
    if (n == 0) return fmt::format("{} in", units);
    if (units == 0) return fmt::format("{}/{} in", n, d);
    return fmt::format("{} {}/{} in", units, n, d);
  }
  return fmt::format("{:.3f} in", v);
}

}  // namespace

ReaderUnits reader_units(std::string_view word) {
  if (word == "inch") return ReaderUnits::inch;
  if (word == "metric") return ReaderUnits::metric;
  std::string message = "units: \"" + std::string(word) + "\" is neither inch nor metric";
  const std::string near = nearest_spelling(word, {"inch", "metric"});
  if (!near.empty()) message += "; did you mean \"" + near + "\"?";
  throw UnknownName(message);
}

std::string show(Length v, ReaderUnits u) {
  if (v.value() == 0) return u == ReaderUnits::inch ? "0 in" : "0 mm";
  if (!std::isfinite(v.value())) return u == ReaderUnits::inch ? "? in" : "? mm";
  if (u == ReaderUnits::inch) {
    const double in = v.value() / inch;
    return in < 0 ? "-" + inches(-in) : inches(in);
  }
  const double mm = v.value() * 1000;
  return trimmed(fmt::format("{:.{}f}", mm, std::abs(mm) < 10 ? 2 : 1)) + " mm";
}

std::string about(Force v, ReaderUnits u, Rounding r) {
  if (u == ReaderUnits::inch) return significant(v.value() / pound_force, 2, r) + " lbf";
  return significant(v.value(), 2, r) + " N";
}

std::string show(Force v, ReaderUnits u) {
  if (u == ReaderUnits::inch) {
    return significant(v.value() / pound_force, 3, Rounding::nearest) + " lbf";
  }
  return significant(v.value(), 3, Rounding::nearest) + " N";
}

std::string show(Moment v, ReaderUnits u) {
  if (u == ReaderUnits::inch) {
    return significant(v.value() / (pound_force * inch), 3, Rounding::nearest) + " lbf in";
  }
  return significant(v.value(), 3, Rounding::nearest) + " N m";
}

std::string show(Stress v, ReaderUnits u) {
  if (u == ReaderUnits::inch) {
    return significant(v.value() / (psi * 1000), 3, Rounding::nearest) + " ksi";
  }
  return significant(v.value() / 1e6, 3, Rounding::nearest) + " MPa";
}

std::string show(Mass v, ReaderUnits u) {
  if (u == ReaderUnits::inch) {
    return significant(v.value() / 0.45359237, 3, Rounding::nearest) + " lb";
  }
  return significant(v.value(), 3, Rounding::nearest) + " kg";
}

std::string show(Angle v) { return fmt::format("{} deg", std::lround(in_degrees(v))); }

std::string show(const Measure& m, ReaderUnits u) {
  switch (m.dimension) {
    case Dimension::number:
      return show_number(m.si);
    case Dimension::length:
      return show(Length::from_value(m.si), u);
    case Dimension::force:
      return show(Force::from_value(m.si), u);
    case Dimension::moment:
      return show(Moment::from_value(m.si), u);
    case Dimension::stress:
      return show(Stress::from_value(m.si), u);
    case Dimension::mass:
      return show(Mass::from_value(m.si), u);
    case Dimension::angle:
      return show(Angle::from_value(m.si));
    case Dimension::area:
      return u == ReaderUnits::inch
                 ? significant(m.si / (inch * inch), 3, Rounding::nearest) + " in2"
                 : significant(m.si * 1e6, 3, Rounding::nearest) + " mm2";
    case Dimension::density:
      return significant(m.si, 3, Rounding::nearest) + " kg/m3";
    case Dimension::speed:
      return significant(m.si, 3, Rounding::nearest) + " m/s";
    case Dimension::bending_stiffness:
      return significant(m.si, 3, Rounding::nearest) + " N m2";
  }
  throw InternalError("a dimension that cannot be shown");
}

std::string show_factor(double f) {
  if (std::isnan(f)) return "?";
  if (!(f < 100)) return "> 100";
  const double shown = std::floor(f * 100 + 1e-9) / 100;
  return f < 10 ? fmt::format("{:.2f}", shown) : fmt::format("{:.0f}", std::floor(f + 1e-9));
}

std::string show_number(double v) {
  return std::isfinite(v) ? trimmed(fmt::format("{:.3f}", v)) : "?";
}

std::string exact_number(double v) {
  if (!std::isfinite(v)) return "null";
  return fmt::format("{}", v);
}

}  // namespace thole
