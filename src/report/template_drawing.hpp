#pragma once

/// One hole pattern drawn at 1:1: millimetres of the paper. Private to the reports.

#include <functional>
#include <string>
#include <vector>

#include <thole/sheet.hpp>

#include "report/svg.hpp"

namespace thole::template_drawing {

/// How a pattern lies on the paper. Only turned, never mirrored.
enum class Turn { x_up, x_right, x_left };

struct Layout {
  Turn turn = Turn::x_up;
  bool labels_outside = true;  ///< round the pattern; else within it, to spare paper
};

/// A part of a drawing.
struct Clip {
  double x = 0, y = 0, width = 0, height = 0;
};

/// Everything of one pattern, laid out once; any part of it can be drawn.
class Pattern {
 public:
  Pattern(const HoleSet& set, ReaderUnits units, Layout layout);

  [[nodiscard]] double width() const { return width_; }
  [[nodiscard]] double height() const { return height_; }
  /// Millimetres from the upper left corner of the whole drawing.
  [[nodiscard]] svg::Point at(const PlanPoint& p) const;
  /// What lies in `clip`, its corner at `to`.
  void draw(svg::Drawing& drawing, const Clip& clip, svg::Point to = {}) const;

 private:
  struct Piece {
    double low_x, low_y, high_x, high_y;
    std::function<void(svg::Drawing&, double, double)> draw;  ///< shifted
    bool whole = false;  ///< a hole: drawn where its middle is, not where it is cut
  };
  void line(svg::Point a, svg::Point b, const char* of);
  void chain(const std::vector<svg::Point>& points, bool closed, const char* of);
  void words(svg::Point at, const std::string& text, double size, svg::Anchor anchor,
             double turned = 0);
  void arrow(svg::Point tail, svg::Point head);

  void lay_out();
  void side(svg::Point a, svg::Point b);
  void outlines();
  void holes();
  void ordinates();
  void edges();
  void edge(const EdgeNote& note);
  void side_labels();
  void compass();

  const HoleSet& set_;
  ReaderUnits units_;
  Turn turn_;
  bool outside_;
  double around_ = 0;
  double width_ = 0, height_ = 0;
  double left_ = 0, top_ = 0, right_ = 0, bottom_ = 0;  // of what is shown, on the paper
  double off_x_ = 0, off_y_ = 0;
  struct Label {
    double at;
    double from;  // where its line starts
    std::string text;
  };
  std::vector<Label> to_right_, to_top_;
  std::vector<Piece> pieces_;
};

/// The layout that needs the fewest pieces of paper; equal: labels outside, forward up the page, or
/// what is up.
[[nodiscard]] Layout best_layout(const HoleSet& set, ReaderUnits units, double width,
                                 double height);

/// Bars to measure: 100 mm and 4 in, `at` their upper left corner.
void bars(svg::Drawing& drawing, svg::Point at);
inline constexpr double bars_height = 11;
/// The 50 mm bar, upright.
void upright_bar(svg::Drawing& drawing, svg::Point at);

/// "tap drill: No. 7, 0.201 in (5.1 mm)".
[[nodiscard]] std::string drill_words(const Drill& drill, ReaderUnits units);
/// The drill that makes the hole, by name.
[[nodiscard]] std::string drill_for(const HoleSet& set, int number);

/// Classes of templates and plate drawings.
[[nodiscard]] std::string style();

/// Whether the verdict lets a template be used, in words across it; "" when it holds.
[[nodiscard]] std::string band(const Assessment& assessment);
/// Why there is no template at all; "" when there is one.
[[nodiscard]] std::string refusal(const Assessment& assessment);

}  // namespace thole::template_drawing
