// ASCII DXF as of release 12 (AC1009): LINE, CIRCLE and TEXT on four layers. That release has no
// header variable for units; they are written beside the pieces.

#include <fmt/format.h>

#include <algorithm>
#include <string>
#include <string_view>
#include <vector>

#include <thole/build_info.hpp>

#include "report/html.hpp"
#include "report/plates_made.hpp"
#include "report/template_drawing.hpp"
#include "report/text.hpp"

namespace thole {
namespace {

constexpr double between = 40;  // mm from piece to piece
constexpr double letters = 3;

constexpr std::size_t longest = 240;
constexpr std::size_t line_length = 60;

// Plain ASCII on one line: nothing else may reach a reader of such files, and none of its codes
// for signs, as of %%c.
std::string clean(const std::string& any, std::size_t most = 80) {
  std::string out;
  for (const char c : any) {
    if (out.size() >= most) break;
    const auto byte = static_cast<unsigned char>(c);
    if ((byte & 0xc0U) == 0x80U) continue;  // rest of a character
    const bool code = c == '^' || (c == '%' && !out.empty() && out.back() == '%');
    out += byte >= 0x20 && byte < 0x7f && !code ? c : '?';
  }
  return out;
}

class Writer {
 public:
  void group(int code, std::string_view value) { out_ += fmt::format("{:3d}\n{}\n", code, value); }
  void number(int code, double v) { group(code, fmt::format("{:.6f}", v + 0.0)); }
  void line(std::string_view layer, double x1, double y1, double x2, double y2) {
    group(0, "LINE");
    group(8, layer);
    point(x1, y1, 0);
    point(x2, y2, 1);
  }
  void circle(std::string_view layer, double x, double y, double radius) {
    group(0, "CIRCLE");
    group(8, layer);
    point(x, y, 0);
    number(40, radius);
  }
  void text(double x, double y, const std::string& words) {
    group(0, "TEXT");
    group(8, "TEXT");
    point(x, y, 0);
    number(40, letters);
    group(1, clean(words));
  }
  void cross(std::string_view layer, double x, double y) {
    line(layer, x - 3, y, x + 3, y);
    line(layer, x, y - 3, x, y + 3);
  }
  std::string take() { return std::move(out_); }

 private:
  void point(double x, double y, int which) {
    number(10 + which, x);
    number(20 + which, y);
    number(30 + which, 0);
  }
  std::string out_;
};

void head(Writer& w) {
  w.group(0, "SECTION");
  w.group(2, "HEADER");
  w.group(9, "$ACADVER");
  w.group(1, "AC1009");
  w.group(0, "ENDSEC");
  w.group(0, "SECTION");
  w.group(2, "TABLES");
  w.group(0, "TABLE");
  w.group(2, "LTYPE");
  w.group(70, "1");
  w.group(0, "LTYPE");
  w.group(2, "CONTINUOUS");
  w.group(70, "0");
  w.group(3, "Solid line");
  w.group(72, "65");
  w.group(73, "0");
  w.number(40, 0);
  w.group(0, "ENDTAB");
  w.group(0, "TABLE");
  w.group(2, "LAYER");
  w.group(70, "4");
  for (const char* layer : {"OUTLINE", "HOLES", "BENDS", "TEXT"}) {
    w.group(0, "LAYER");
    w.group(2, layer);
    w.group(70, "0");
    w.group(62, "7");
    w.group(6, "CONTINUOUS");
  }
  w.group(0, "ENDTAB");
  w.group(0, "ENDSEC");
}

void piece(Writer& w, const HoleSet& s, double at_x, ReaderUnits u) {
  const plates_made::Box b = plates_made::box_of(s);
  // As seen from its face: x to the right, or to the left where y would else point down.
  const auto x = [&](const PlanPoint& p) {
    return at_x + 1000 * (s.y_left ? p.x - b.low.x : b.high.x - p.x).value();
  };
  const auto y = [&](const PlanPoint& p) { return 1000 * (p.y - b.low.y).value(); };
  for (std::size_t i = 0; i < s.part.size(); ++i) {
    const PlanPoint& p = s.part[i];
    const PlanPoint& q = s.part[(i + 1) % s.part.size()];
    w.line("OUTLINE", x(p), y(p), x(q), y(q));
  }
  for (std::size_t i = 0; i < s.others.size() && i < s.others_are.size(); ++i) {
    if (s.others[i].size() != 2 || !text::ends_with(s.others_are[i], "bend")) continue;
    w.line("BENDS", x(s.others[i][0]), y(s.others[i][0]), x(s.others[i][1]), y(s.others[i][1]));
  }
  for (const Hole& h : s.holes) {
    if (!h.marked_only && h.diameter.value() > 0) {
      w.circle("HOLES", x(h.at), y(h.at), 500 * h.diameter.value());
    } else {
      w.cross(h.marked_only ? "TEXT" : "HOLES", x(h.at), y(h.at));
    }
    w.text(x(h.at) + 500 * h.diameter.value() + 1, y(h.at) + 1,
           std::to_string(h.number) + (h.marked_only ? " mark only" : ""));
  }
  double row = -8;
  const auto write = [&](const std::string& words) {
    for (const std::string& line : plates_made::broken({clean(words, longest)}, line_length)) {
      w.text(at_x, row, line);
      row -= 1.6 * letters;
    }
  };
  write(s.name + ": make " + std::to_string(s.made->count));
  write(s.made->material + ", " + html::both_decimal(s.made->thickness, u) + " thick");
  write("seen " + s.face + "; forward is to the " + (s.y_left ? "right" : "left") + ", " + s.y_is +
        " is up");
  for (const Drill& d : s.drills) write(template_drawing::drill_words(d, u));
  write(s.made->advice);
  if (s.assumed) write("a place or size in the file is a guess: measure first");
}

}  // namespace

std::string plates_dxf(const SheetContent& c) {
  const std::vector<HoleSet> sets = plates_made::of(c);
  if (sets.empty()) return "";
  Writer w;
  w.group(999, made_by() + ", plates to make, millimetres");
  head(w);
  w.group(0, "SECTION");
  w.group(2, "ENTITIES");
  double at = 0;
  double tallest = 0;
  for (const HoleSet& s : sets) {
    const plates_made::Box b = plates_made::box_of(s);
    piece(w, s, at, c.setup.units);
    // Words below a piece are wider than a small one.
    at += std::max(1000 * (b.high.x - b.low.x).value(), 160.0) + between;
    tallest = std::max(tallest, 1000 * (b.high.y - b.low.y).value());
  }
  const std::string band = template_drawing::band(c.assessment);
  w.text(0, tallest + 18, c.setup.title);
  w.text(0, tallest + 13, c.file + ", " + c.date + ", " + made_by() + ", millimetres");
  w.text(0, tallest + 8, band.empty() ? "a calculation is not an inspection" : band);
  w.group(0, "ENDSEC");
  w.group(0, "EOF");
  return w.take();
}

}  // namespace thole
