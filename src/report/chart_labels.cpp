#include "report/chart_labels.hpp"

#include <algorithm>
#include <cmath>
#include <string_view>

#include "report/html.hpp"

namespace thole::charts {
namespace {

using std::string_view;

bool begins_character(char c) { return (static_cast<unsigned char>(c) & 0xc0U) != 0x80U; }

// Longest beginning that fits, never within a character.
std::size_t fitting(const std::string& text, double width, bool bold) {
  std::size_t end = text.size();
  while (end > 0 && width_of(text.substr(0, end), bold) > width) {
    --end;
    while (end > 0 && !begins_character(text[end])) --end;
  }
  return end;
}

std::string one_line(const std::string& text) { return html::clean(text, 400); }

}  // namespace

std::string fitted(const std::string& text, double width, bool bold) {
  const std::string clean = one_line(text);
  if (width_of(clean, bold) <= width) return clean;
  const double dots = width_of("...", bold);
  return clean.substr(0, fitting(clean, width - dots, bold)) + "...";
}

std::vector<std::string> lines_of(const std::string& text, double width, std::size_t most,
                                  bool bold) {
  std::vector<std::string> out;
  std::string rest = one_line(text);
  while (!rest.empty()) {
    if (width_of(rest, bold) <= width) {
      out.push_back(rest);
      return out;
    }
    if (out.size() + 1 == most) {
      out.push_back(fitted(rest, width, bold));
      return out;
    }
    const std::size_t end = std::max<std::size_t>(1, fitting(rest, width, bold));
    const std::size_t blank = rest.rfind(' ', end);
    const bool at_blank = blank != std::string::npos && blank > 0;
    out.push_back(rest.substr(0, at_blank ? blank : end));
    rest.erase(0, at_blank ? blank + 1 : end);
  }
  return out;
}

double height_of(const std::vector<Block>& blocks, double gap) {
  double out = 0;
  for (const Block& b : blocks) out += b.height + gap;
  return std::max(0.0, out - gap);
}

std::vector<double> moved_apart(const std::vector<Block>& blocks, double gap, double top,
                                double bottom) {
  // With all that stands above a block taken off its place, places must only not fall.
  struct Pool {
    double sum;
    std::size_t count;
    [[nodiscard]] double level() const { return sum / double(count); }
  };
  std::vector<Pool> pools;
  std::vector<double> above;
  double taken = 0;
  for (const Block& b : blocks) {
    above.push_back(taken + b.height / 2);
    taken += b.height + gap;
    pools.push_back({b.wanted - above.back(), 1});
    while (pools.size() > 1 && pools[pools.size() - 2].level() > pools.back().level()) {
      const Pool last = pools.back();
      pools.pop_back();
      pools.back().sum += last.sum;
      pools.back().count += last.count;
    }
  }
  const double highest = std::max(top, bottom - (taken - gap));
  std::vector<double> out;
  for (const Pool& p : pools) {
    const double level = std::min(std::max(p.level(), top), highest);
    for (std::size_t i = 0; i < p.count; ++i) out.push_back(level + above[out.size()]);
  }
  return out;
}

void hatch(svg::Drawing& d, svg::Point corner, double width, double height, double apart,
           string_view of) {
  for (double s = apart; s < width + height; s += apart) {
    const double x1 = std::min(s, width);
    const double x2 = std::max(0.0, s - height);
    d.line({corner.x + x1, corner.y + s - x1}, {corner.x + x2, corner.y + s - x2}, of);
  }
}

double round_up(double v) {
  if (!(v > 0) || !std::isfinite(v)) return 1;
  const double ten = std::pow(10.0, std::floor(std::log10(v)));
  for (const double m : {1.0, 2.0, 5.0}) {
    if (v <= m * ten * (1 + 1e-9)) return m * ten;
  }
  return 10 * ten;
}

double in_reader_units(Force f, ReaderUnits u) {
  return u == ReaderUnits::inch ? f.value() / newtons_in_a_pound : f.value();
}

std::string short_name(const std::string& name, std::size_t most) {
  return html::clean(name, most);
}

}  // namespace thole::charts
