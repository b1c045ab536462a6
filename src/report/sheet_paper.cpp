#include "report/sheet_paper.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdlib>
#include <string_view>

namespace thole::sheet_paper {

namespace {

// Of 10 pt type and of 8.5 pt in tables, as printed from the style of the sheet.
constexpr double letters_per_mm = 0.60;
constexpr double line = 4.25;
constexpr double small_letters_per_mm = 0.60;  // narrow cells break early
constexpr double small_line = 3.9;
constexpr double heading = 7.7;

struct Ends {
  std::string_view tag;
  double line;     // mm
  double letters;  // per mm of width
  double gap;      // mm
};
constexpr std::array<Ends, 10> blocks{{{"p", line, letters_per_mm, 0.6},
                                       {"li", line, letters_per_mm, 0.3},
                                       {"dd", line, letters_per_mm * 0.72, 0},
                                       {"h1", 9, 0.3, 1},
                                       {"h2", heading, letters_per_mm, 0},
                                       {"h3", line, letters_per_mm, 0.6},
                                       {"tr", small_line, small_letters_per_mm, 0.5},
                                       {"caption", small_line, letters_per_mm, 0.5},
                                       {"figcaption", small_line, 0.70, 1},
                                       {"section", 0, letters_per_mm, 2}}};

// Sets that are printed as one running text.
bool runs_on(const std::string& tag) { return tag.find("class=\"run\"") != std::string::npos; }
bool is_extra(const std::string& tag) { return tag.find("extra\"") != std::string::npos; }

}  // namespace

double room_on(Paper paper) { return 2 * (paper == Paper::a4 ? 275.0 : 257.0); }

double height_of(const std::string& html, int of_columns) {
  double height = 0;
  double letters = 0;
  bool running = false;
  std::string skipped;  // tag of what is not printed
  int depth = 0;
  for (std::size_t i = 0; i < html.size();) {
    if (html[i] != '<') {
      // An entity is one letter.
      if (html[i] == '&') i = std::min(html.find(';', i), html.size() - 1);
      ++i;
      if (skipped.empty()) ++letters;
      continue;
    }
    const std::size_t end = std::min(html.find('>', i), html.size());
    const std::string tag = html.substr(i + 1, end - i - 1);
    i = end + 1;
    if (runs_on(tag)) running = true;
    const std::string opened = tag.substr(0, tag.find(' '));
    if (!skipped.empty()) {
      if (opened == skipped) ++depth;
      if (opened == "/" + skipped && --depth == 0) skipped.clear();
      continue;
    }
    if (is_extra(tag)) {
      skipped = opened;
      depth = 1;
    }
    if (tag.empty() || tag[0] != '/') continue;
    const std::string_view name = std::string_view(tag).substr(1);
    const bool of_run = running && name == "li";
    if (running && name == "ul") {
      height += line * std::ceil(letters / (column * of_columns * letters_per_mm));
      letters = 0;
      running = false;
    }
    for (const Ends& b : blocks) {
      if (b.tag != name || of_run) continue;
      const double width = column * of_columns * b.letters;
      height += b.gap + b.line * std::ceil(letters / width);
      letters = 0;
    }
  }
  return height;
}

double height_of(const pictures::Picture& p) {
  const std::string key = "viewBox=\"0 0 ";
  const std::size_t at = p.element.find(key);
  if (at == std::string::npos) return 0;
  char* end = nullptr;
  const double width = std::strtod(p.element.c_str() + at + key.size(), &end);
  const double height = std::strtod(end, nullptr);
  if (!(width > 0)) return 0;
  return picture_width * height / width + height_of("<figcaption>" + p.caption + "</figcaption>");
}

}  // namespace thole::sheet_paper
