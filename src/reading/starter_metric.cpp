#include "reading/starter_metric.hpp"

#include <algorithm>
#include <cctype>
#include <cmath>

#include <thole/display.hpp>
#include <thole/unit_text.hpp>

namespace thole::reading {
namespace {

bool digit(char c) { return c >= '0' && c <= '9'; }

std::string rounded(double value, double step, const char* unit) {
  return show_number(step * double(std::lround(value / step))) + " " + unit;
}

std::string metric(const std::string& value) {
  const Measure m = parse_measure(value);
  switch (m.dimension) {
    case Dimension::length:
      if (value.ends_with("mi")) return rounded(m.si / 1000, 1, "km");
      if (value.find("ft") != std::string::npos) return rounded(m.si, m.si < 10 ? 0.1 : 1, "m");
      return rounded(m.si * 1000, m.si < 0.005 ? 0.1 : m.si < 0.5 ? 1 : 5, "mm");
    case Dimension::mass:
      return rounded(m.si, m.si < 20 ? 0.5 : 5, "kg");
    case Dimension::force:
      return rounded(m.si, m.si < 50 ? 1 : 10, "N");
    case Dimension::moment:
      return rounded(m.si, 1, "N m");
    case Dimension::speed:
      return rounded(m.si * 3.6, m.si < 3 ? 0.1 : 1, "km/h");
    default:
      return value;
  }
}

// What stands behind on the line keeps its column, where there are spaces to do so.
void exchange(std::string& text, std::size_t at, std::size_t length, const std::string& by) {
  text.replace(at, length, by);
  const std::size_t gap = text.find("  ", at + by.size());
  if (gap >= text.find('\n', at)) return;
  const std::size_t spaces = text.find_first_not_of(' ', gap) - gap;
  if (by.size() < length) {
    text.insert(gap, length - by.size(), ' ');
  } else {
    text.erase(gap, std::min(by.size() - length, spaces - 2));
  }
}

// Behind a number that begins at `i`, its fraction included: 7, 0.063, 1/2, 7 1/4.
std::size_t behind_number(const std::string& text, std::size_t i) {
  const std::size_t end = text.find_first_not_of("0123456789./", i);
  const std::size_t slash = text.find_first_not_of("0123456789", end + 1);
  const bool fraction = text[end] == ' ' && digit(text[end + 1]) && text[slash] == '/';
  return fraction ? text.find_first_not_of("0123456789", slash + 1) : end;
}

// Behind one of the units of inches and pounds, and what may follow it; `i` where there is none.
std::size_t behind_unit(const std::string& text, std::size_t i) {
  if (text[i] != ' ') return i;
  const std::size_t end = text.find_first_not_of("abcdefghijklmnopqrstuvwxyz", i + 1);
  const std::string unit = text.substr(i + 1, end - i - 1);
  if (unit == "ft") {
    const std::size_t inches = digit(text[end + 1]) ? behind_number(text, end + 1) : end;
    return text.compare(inches, 3, " in") == 0 ? inches + 3 : end;
  }
  if (unit == "lbf") return text.compare(end, 3, " ft") == 0 ? end + 3 : end;
  return unit == "in" || unit == "lb" || unit == "mph" || unit == "mi" ? end : i;
}

}  // namespace

std::string in_metric(std::string text) {
  const std::size_t begin = text.find("\nthole: ");  // above it both are shown
  static constexpr const char* names[][2] = {
      {"units: inch", "units: metric"},
      {"size: 2x8", "size: 48x198"},
      {"2 x 2 x 3/16 in", "50 x 50 x 5 mm"},
      {"or M6; a thread that begins with # needs quotes: '#10-24'",
       "by name: thole materials threads"},
      {"'#10-24'", "M5"},
      {"1/4-20", "M6"},
      {"5/16-18", "M8"},
      {"1/4 fender 1", "M6 penny 18"},
      {"1/4 plain", "M6 plain"},
      {"eye: forged shoulder", "eye: forged collar"},
      {"Spruce-Pine-Fir No.1/No.2", "C24"},
  };
  for (const auto& [inch, shop] : names) {
    const std::string from = inch;
    for (std::size_t at = begin; (at = text.find(from, at)) != std::string::npos;) {
      exchange(text, at, from.size(), shop);
    }
  }
  for (std::size_t i = begin + 1; i < text.size(); ++i) {
    const char before = text[i - 1];
    if (!digit(text[i]) || digit(before) || std::isalpha(static_cast<unsigned char>(before)))
      continue;
    const std::size_t number = behind_number(text, i);
    const std::size_t end = behind_unit(text, number);
    if (end > number) {
      exchange(text, i, end - i, metric(text.substr(i, end - i)));
    } else {
      i = number - 1;
    }
  }
  return text;
}

}  // namespace thole::reading
