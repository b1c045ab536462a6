#include <thole/unit_text.hpp>

#include <algorithm>
#include <array>
#include <boost/units/base_units/metric/knot.hpp>
#include <boost/units/base_units/metric/nautical_mile.hpp>
#include <boost/units/base_units/us/inch.hpp>
#include <boost/units/base_units/us/mile.hpp>
#include <boost/units/base_units/us/pound.hpp>
#include <boost/units/base_units/us/pound_force.hpp>
#include <cmath>
#include <cstdint>
#include <limits>

#include <thole/error.hpp>

namespace thole {
namespace {

// A unit is an exact fraction num/den of the SI unit wherever one exists, so that a value is
// rounded once. lbf = 0.45359237 kg x 9.80665 m/s^2 exactly.
struct Unit {
  std::string_view name;
  Dimension dimension;
  double num;
  double den;
};

constexpr double lbf_num = 44482216152605.0;  // lbf = lbf_num / 1e13 N
constexpr double pi = std::numbers::pi;

constexpr std::array unit_rows{
    Unit{"mm", Dimension::length, 1, 1e3},
    Unit{"cm", Dimension::length, 1, 1e2},
    Unit{"m", Dimension::length, 1, 1},
    Unit{"in", Dimension::length, 254, 1e4},
    Unit{"inch", Dimension::length, 254, 1e4},
    Unit{"inches", Dimension::length, 254, 1e4},
    Unit{"\"", Dimension::length, 254, 1e4},
    Unit{"ft", Dimension::length, 3048, 1e4},
    Unit{"foot", Dimension::length, 3048, 1e4},
    Unit{"feet", Dimension::length, 3048, 1e4},
    Unit{"'", Dimension::length, 3048, 1e4},
    Unit{"km", Dimension::length, 1e3, 1},
    Unit{"mi", Dimension::length, 1609344, 1e3},
    Unit{"nmi", Dimension::length, 1852, 1},
    Unit{"mm2", Dimension::area, 1, 1e6},
    Unit{"mm^2", Dimension::area, 1, 1e6},
    Unit{"in2", Dimension::area, 64516, 1e8},
    Unit{"in^2", Dimension::area, 64516, 1e8},
    Unit{"m2", Dimension::area, 1, 1},
    Unit{"m^2", Dimension::area, 1, 1},
    Unit{"N", Dimension::force, 1, 1},
    Unit{"kN", Dimension::force, 1e3, 1},
    Unit{"lbf", Dimension::force, lbf_num, 1e13},
    Unit{"kip", Dimension::force, lbf_num, 1e10},
    Unit{"kgf", Dimension::force, 980665, 1e5},
    Unit{"ozf", Dimension::force, lbf_num, 16e13},
    Unit{"N m", Dimension::moment, 1, 1},
    Unit{"N mm", Dimension::moment, 1, 1e3},
    Unit{"kN m", Dimension::moment, 1e3, 1},
    Unit{"lbf in", Dimension::moment, lbf_num * 0.0254, 1e13},
    Unit{"in-lbf", Dimension::moment, lbf_num * 0.0254, 1e13},
    Unit{"lbf ft", Dimension::moment, lbf_num * 0.3048, 1e13},
    Unit{"ft-lbf", Dimension::moment, lbf_num * 0.3048, 1e13},
    Unit{"Pa", Dimension::stress, 1, 1},
    Unit{"kPa", Dimension::stress, 1e3, 1},
    Unit{"MPa", Dimension::stress, 1e6, 1},
    Unit{"N/mm2", Dimension::stress, 1e6, 1},
    Unit{"N/mm^2", Dimension::stress, 1e6, 1},
    Unit{"GPa", Dimension::stress, 1e9, 1},
    Unit{"psi", Dimension::stress, lbf_num, 6451600000.0},
    Unit{"ksi", Dimension::stress, lbf_num, 6451600.0},
    Unit{"kg", Dimension::mass, 1, 1},
    Unit{"g", Dimension::mass, 1, 1e3},
    Unit{"lb", Dimension::mass, 45359237, 1e8},
    Unit{"lbs", Dimension::mass, 45359237, 1e8},
    Unit{"oz", Dimension::mass, 45359237, 16e8},
    Unit{"kg/m3", Dimension::density, 1, 1},
    Unit{"kg/m^3", Dimension::density, 1, 1},
    Unit{"g/cm3", Dimension::density, 1e3, 1},
    Unit{"g/cm^3", Dimension::density, 1e3, 1},
    Unit{"lb/in3", Dimension::density, 45359237, 1638.7064},
    Unit{"lb/in^3", Dimension::density, 45359237, 1638.7064},
    Unit{"lb/ft3", Dimension::density, 45359237, 2831684.6592},
    Unit{"m/s", Dimension::speed, 1, 1},
    Unit{"km/h", Dimension::speed, 10, 36},
    Unit{"mph", Dimension::speed, 44704, 1e5},
    Unit{"kn", Dimension::speed, 1852, 3600},
    Unit{"knots", Dimension::speed, 1852, 3600},
    Unit{"deg", Dimension::angle, pi, 180},
    Unit{"degrees", Dimension::angle, pi, 180},
    Unit{"rad", Dimension::angle, 1, 1},
    Unit{"N m2", Dimension::bending_stiffness, 1, 1},
    Unit{"N m^2", Dimension::bending_stiffness, 1, 1},
    Unit{"lbf in2", Dimension::bending_stiffness, lbf_num * 0.00064516, 1e13},
    Unit{"lbf in^2", Dimension::bending_stiffness, lbf_num * 0.00064516, 1e13},
};

constexpr const Unit* find_unit(std::string_view name) {
  for (const Unit& u : unit_rows) {
    if (u.name == name) return &u;
  }
  return nullptr;
}

// Our factors against Boost.Units' own definitions (its foot and degree are inexact and unused).
constexpr bool close(double a, double b) {
  const double d = a > b ? a - b : b - a;
  return d <= 1e-12 * b;
}
constexpr double factor(std::string_view name) {
  return find_unit(name)->num / find_unit(name)->den;
}
namespace bu = boost::units;
static_assert(close(factor("in"),
                    bu::conversion_factor(bu::us::inch_base_unit::unit_type(), si::length())));
static_assert(close(factor("lb"),
                    bu::conversion_factor(bu::us::pound_base_unit::unit_type(), si::mass())));
static_assert(close(factor("lbf"), bu::conversion_factor(bu::us::pound_force_base_unit::unit_type(),
                                                         si::force())));
static_assert(close(factor("kn"), bu::conversion_factor(bu::metric::knot_base_unit::unit_type(),
                                                        si::velocity())));
static_assert(close(factor("mph"),
                    bu::conversion_factor(bu::us::mile_base_unit::unit_type(), si::length()) /
                        3600));
static_assert(close(factor("mi"),
                    bu::conversion_factor(bu::us::mile_base_unit::unit_type(), si::length())));
static_assert(close(factor("nmi"),
                    bu::conversion_factor(bu::metric::nautical_mile_base_unit::unit_type(),
                                          si::length())));
static_assert(close(factor("psi"), factor("lbf") / (factor("in") * factor("in"))));
static_assert(close(factor("lb/in3"), factor("lb") / (factor("in") * factor("in") * factor("in"))));

bool is_digit(char c) { return c >= '0' && c <= '9'; }
bool is_space(char c) { return c == ' '; }

// mantissa x 10^exponent / divisor, all integers held exactly in doubles.
struct Number {
  double mantissa = 0;
  int exponent = 0;
  double divisor = 1;
  bool negative = false;
};

constexpr double exact_limit = 9007199254740992.0;  // 2^53

double power_of_ten(int n) {
  double p = 1;
  for (int i = 0; i < n; ++i) p *= 10;  // exact up to 10^22
  return p;
}

// One rounding where the integers fit into 53 bits, else two or three.
double scaled(const Number& n, double num, double den) {
  double top = n.mantissa;
  double bottom = n.divisor * den;
  if (n.exponent > 0) top *= power_of_ten(n.exponent);
  if (n.exponent < 0) bottom *= power_of_ten(-n.exponent);
  double value = 0;
  if (top * num <= exact_limit && bottom <= 1e22) {
    value = top * num / bottom;
  } else {
    value = top / (bottom / den) * (num / den);
  }
  return n.negative ? -value : value;
}

/// Longest value with its unit: `12345678.1234567 N/mm^2` is far below. Bytes.
constexpr std::size_t most_bytes = 100;
/// Digits behind the point, zeros too: up to here powers of ten are exact.
constexpr int most_decimals = 22;

/// For messages: on one line, and cut where it is long, never inside a character of UTF-8.
std::string quoted(std::string_view text) {
  std::size_t end = std::min(text.size(), most_bytes);
  const auto continues = [](char c) { return (static_cast<unsigned char>(c) & 0xC0U) == 0x80U; };
  while (end > 0 && end < text.size() && continues(text[end])) --end;
  std::string out = "\"";
  for (const char c : text.substr(0, end)) out += static_cast<unsigned char>(c) < 0x20U ? ' ' : c;
  return out + (end < text.size() ? "...\"" : "\"");
}

class Scanner {
 public:
  explicit Scanner(std::string_view text) : text_(text) {}

  [[nodiscard]] bool at_end() const { return at_ >= text_.size(); }
  void skip_spaces() {
    while (!at_end() && is_space(text_[at_])) ++at_;
  }
  [[nodiscard]] std::string_view rest() const { return text_.substr(std::min(at_, text_.size())); }
  [[nodiscard]] bool at_number() const {
    if (at_end()) return false;
    const char c = text_[at_];
    return is_digit(c) || c == '.' || c == '-' || c == '+';
  }

  Number number() {
    Number n;
    if (!at_end() && (text_[at_] == '-' || text_[at_] == '+')) {
      n.negative = text_[at_] == '-';
      ++at_;
    }
    const double whole = digits();
    if (peek('/')) {  // a/b
      n.mantissa = whole;
      n.divisor = denominator();
      return n;
    }
    // w a/b or w-a/b
    const std::size_t mark = at_;
    if (!at_end() && (is_space(text_[at_]) || text_[at_] == '-')) {
      ++at_;
      skip_spaces();
      if (!at_end() && is_digit(text_[at_])) {
        const double part = digits();
        if (peek('/')) {
          const double below = denominator();
          if (part >= below) fail("the fraction must be below one");
          n.mantissa = whole * below + part;
          n.divisor = below;
          return n;
        }
      }
      at_ = mark;
    }
    n.mantissa = whole;
    if (peek('.')) {
      ++at_;
      int count = 0;
      while (!at_end() && is_digit(text_[at_])) {
        n.mantissa = n.mantissa * 10 + (text_[at_] - '0');
        ++at_;
        ++count;
      }
      if (count > most_decimals) {
        fail("more than " + std::to_string(most_decimals) + " digits behind the point");
      }
      if (count == 0 && !had_digits_) fail("a number is expected");
      n.exponent = -count;
    } else if (!had_digits_) {
      fail("a number is expected");
    }
    if (n.mantissa >= 1e15) fail("more than 15 digits");
    read_exponent(n);
    if (!at_end() && (text_[at_] == ',' || text_[at_] == '_')) {
      fail("write the decimal sign as a point and no thousands sign");
    }
    return n;
  }

  [[noreturn]] void fail(const std::string& why) const {
    throw UnitError(quoted(text_) + ": " + why);
  }

 private:
  bool peek(char c) const { return !at_end() && text_[at_] == c; }

  double digits() {
    double v = 0;
    had_digits_ = false;
    while (!at_end() && is_digit(text_[at_])) {
      v = v * 10 + (text_[at_] - '0');
      if (v >= 1e15) fail("more than 15 digits");
      had_digits_ = true;
      ++at_;
    }
    return v;
  }

  double denominator() {
    if (!had_digits_) fail("a number is expected");
    ++at_;
    const double d = digits();
    if (!had_digits_) fail("a number is expected after \"/\"");
    if (d == 0) fail("the fraction has a zero below the line");
    return d;
  }

  void read_exponent(Number& n) {
    if (at_end() || (text_[at_] != 'e' && text_[at_] != 'E')) return;
    std::size_t k = at_ + 1;
    bool negative = false;
    if (k < text_.size() && (text_[k] == '-' || text_[k] == '+')) {
      negative = text_[k] == '-';
      ++k;
    }
    if (k >= text_.size() || !is_digit(text_[k])) return;
    int e = 0;
    while (k < text_.size() && is_digit(text_[k])) {
      e = e * 10 + (text_[k] - '0');
      if (e > 15) fail("the power of ten is beyond 15");
      ++k;
    }
    n.exponent += negative ? -e : e;
    at_ = k;
  }

  std::string_view text_;
  std::size_t at_ = 0;
  bool had_digits_ = false;
};

std::string_view trimmed(std::string_view s) {
  while (!s.empty() && is_space(s.front())) s.remove_prefix(1);
  while (!s.empty() && is_space(s.back())) s.remove_suffix(1);
  return s;
}

std::vector<std::string> unit_names() {
  std::vector<std::string> names;
  for (const Unit& u : unit_rows) names.emplace_back(u.name);
  return names;
}

// Splits `5 ft 10 in` behind the first unit; other compounds do not exist.
Measure read_measure(std::string_view full, bool unit_needed) {
  const std::string_view text = trimmed(full);
  Scanner scan(text);
  if (text.empty()) scan.fail("a value with its unit is expected");
  if (text.size() > most_bytes) {
    scan.fail("longer than " + std::to_string(most_bytes) + " bytes, a value is a few characters");
  }
  const Number first = scan.number();
  scan.skip_spaces();
  std::string_view unit_text = scan.rest();
  if (unit_text.empty()) {
    if (unit_needed) scan.fail("a unit is required here");
    return {scaled(first, 1, 1), Dimension::number};
  }
  if (!unit_needed) scan.fail("a bare number is expected here, without a unit");
  if (const Unit* u = find_unit(unit_text)) {
    return {scaled(first, u->num, u->den), u->dimension};
  }
  for (const std::string_view feet : {"ft", "'", "feet", "foot"}) {
    if (!unit_text.starts_with(feet)) continue;
    std::string_view inches = trimmed(unit_text.substr(feet.size()));
    if (inches.starts_with("-")) inches = trimmed(inches.substr(1));
    if (inches.empty() || !is_digit(inches.front())) continue;
    Scanner second(inches);
    Number part = second.number();
    second.skip_spaces();
    const Unit* u = find_unit(second.rest());
    if (u == nullptr || (u->name != "in" && u->name != "\"" && u->name != "inches")) {
      scan.fail("inches are expected after the feet, as in 5 ft 10 in");
    }
    const double below = scaled(part, 254, 1e4);
    if (below >= 0.3048) scan.fail("the inches after the feet must be below 12");
    // One fraction again: (feet x 12 + inches) inches, so 3 ft 0 in equals 36 in to the last bit.
    if (first.divisor == 1 && first.exponent == 0 && part.exponent <= 0) {
      const double scale = part.divisor * power_of_ten(-part.exponent);
      Number sum;
      sum.negative = first.negative;
      sum.mantissa = first.mantissa * 12 * scale + part.mantissa;
      sum.divisor = scale;
      return {scaled(sum, 254, 1e4), Dimension::length};
    }
    const double feet_si = scaled(first, 3048, 1e4);
    return {first.negative ? feet_si - below : feet_si + below, Dimension::length};
  }
  std::string message = quoted(unit_text) + " is no unit known here";
  const std::string near = nearest_spelling(unit_text, unit_names());
  if (!near.empty()) message += "; did you mean \"" + near + "\"?";
  scan.fail(message);
}

std::string expected(Dimension want) {
  return "expected " + std::string(name_of(want)) + ", for example " +
         std::string(example_of(want));
}

}  // namespace

std::string_view name_of(Dimension d) {
  switch (d) {
    case Dimension::number:
      return "a bare number";
    case Dimension::length:
      return "a length";
    case Dimension::area:
      return "an area";
    case Dimension::force:
      return "a force";
    case Dimension::moment:
      return "a moment";
    case Dimension::stress:
      return "a stress";
    case Dimension::mass:
      return "a mass";
    case Dimension::density:
      return "a density";
    case Dimension::speed:
      return "a speed";
    case Dimension::angle:
      return "an angle";
    case Dimension::bending_stiffness:
      return "a bending stiffness";
  }
  throw InternalError("dimension without a name");
}

std::string_view example_of(Dimension d) {
  switch (d) {
    case Dimension::number:
      return "0.33";
    case Dimension::length:
      return "7 1/4 in or 184 mm";
    case Dimension::area:
      return "2 in^2 or 1300 mm^2";
    case Dimension::force:
      return "25 lbf or 110 N";
    case Dimension::moment:
      return "600 in-lbf or 68 N m";
    case Dimension::stress:
      return "35 ksi or 240 MPa";
    case Dimension::mass:
      return "12 lb or 5.4 kg";
    case Dimension::density:
      return "2700 kg/m3";
    case Dimension::speed:
      return "2.5 mph or 2.2 kn";
    case Dimension::angle:
      return "15 deg";
    case Dimension::bending_stiffness:
      return "25 N m^2";
  }
  throw InternalError("dimension without an example");
}

Measure parse_measure(std::string_view text) { return read_measure(text, true); }

Measure parse_measure(std::string_view text, Dimension want) {
  if (want == Dimension::number) return read_measure(text, false);
  Measure m;
  try {
    m = read_measure(text, true);
  } catch (const UnitError& e) {
    throw UnitError(std::string(e.what()) + "; " + expected(want));
  }
  if (m.dimension == want) return m;
  std::string message =
      quoted(trimmed(text)) + " is " + std::string(name_of(m.dimension)) + "; " + expected(want);
  if (want == Dimension::force && m.dimension == Dimension::mass) {
    const std::string_view t = trimmed(text);
    std::string_view digits = t;
    while (!digits.empty() && !is_digit(digits.back()) && digits.back() != '.') {
      digits.remove_suffix(1);
    }
    const bool pounds = t.ends_with("lb") || t.ends_with("lbs");
    message = quoted(t) + " is a mass; expected a force: write \"" + std::string(digits) +
              (pounds              ? " lbf\""
               : t.ends_with("kg") ? " kgf\""
                                   : " N\"");
  }
  if (want == Dimension::mass && m.dimension == Dimension::force) {
    message += " (lbf and kgf are forces, lb and kg are masses)";
  }
  throw UnitError(message);
}

double parse_number(std::string_view text) { return read_measure(text, false).si; }

const std::vector<UnitRow>& unit_table() {
  static const std::vector<UnitRow> rows = [] {
    std::vector<UnitRow> r;
    for (const Unit& u : unit_rows) r.push_back({u.name, u.dimension, u.num / u.den});
    return r;
  }();
  return rows;
}

std::vector<std::string> nearest_spellings(std::string_view word,
                                           const std::vector<std::string>& candidates) {
  const auto lower = [](std::string_view s) {
    std::string r(s);
    for (char& c : r) {
      if (c >= 'A' && c <= 'Z') c = static_cast<char>(c - 'A' + 'a');
    }
    return r;
  };
  // Only short words are compared: a hostile 10 kB key must not cost a quadratic table.
  if (word.size() > 64) return {};
  const std::string a = lower(word);
  const std::size_t allowed = a.size() <= 2 ? 1 : (a.size() <= 5 ? 2 : 1 + a.size() / 3);
  std::vector<std::string> best;
  std::size_t best_distance = std::numeric_limits<std::size_t>::max();
  for (const std::string& candidate : candidates) {
    const std::string b = lower(candidate);
    if (b.size() > 64) continue;
    std::vector<std::size_t> row(b.size() + 1);
    for (std::size_t j = 0; j <= b.size(); ++j) row[j] = j;
    for (std::size_t i = 1; i <= a.size(); ++i) {
      std::size_t diagonal = row[0];
      row[0] = i;
      for (std::size_t j = 1; j <= b.size(); ++j) {
        const std::size_t up = row[j];
        row[j] = std::min({row[j] + 1, row[j - 1] + 1, diagonal + (a[i - 1] == b[j - 1] ? 0 : 1)});
        diagonal = up;
      }
    }
    std::size_t distance = row[b.size()];
    // A longer name that begins with what was typed is a near miss too.
    if (a.size() >= 3 && b.starts_with(a)) distance = std::min<std::size_t>(distance, 2);
    if (distance > std::min(best_distance, allowed)) continue;
    if (distance < best_distance) best.clear();
    best_distance = distance;
    best.push_back(candidate);
  }
  return best;
}

std::string nearest_spelling(std::string_view word, const std::vector<std::string>& candidates) {
  const std::vector<std::string> all = nearest_spellings(word, candidates);
  return all.empty() ? std::string() : all.front();
}

}  // namespace thole
