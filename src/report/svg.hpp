#pragma once

/// A small writer of SVG drawings in millimetres or any other unit. Private to the reports.

#include <string>
#include <string_view>
#include <vector>

namespace thole::svg {

struct Point {
  double x = 0;
  double y = 0;  ///< down the page
};

/// Where a text stands on its point.
enum class Anchor { start, middle, end };

/// One picture. Looks come from classes of the page's style sheet (`sheet_style`), so that all
/// pictures are alike and print in grey. The title and description are read aloud.
class Drawing {
 public:
  /// `id`: unique on the page, letters, digits and hyphens. Width and height in units of the
  /// drawing; on the page it fills its frame unless `scale_1_to_1`, where a unit is a millimetre.
  Drawing(std::string id, double width, double height, std::string title, std::string description,
          bool scale_1_to_1 = false);

  void line(Point a, Point b, std::string_view of);
  void polyline(const std::vector<Point>& points, std::string_view of);
  void polygon(const std::vector<Point>& points, std::string_view of);
  void rectangle(Point corner, double width, double height, std::string_view of);
  void circle(Point middle, double radius, std::string_view of);
  /// SVG path data, numbers by `number`.
  void path(const std::string& data, std::string_view of);
  /// A text of any origin, cleaned and escaped here; `size` in units of the drawing.
  void text(Point at, const std::string& any, double size, Anchor anchor = Anchor::start,
            std::string_view of = "", double turned = 0);
  /// From tail to head; the head is `head` long.
  void arrow(Point tail, Point head_at, double head, std::string_view of);
  /// Ready elements.
  void raw(const std::string& elements) { body_ += elements; }
  void begin_group(std::string_view of, const std::string& transform = "");
  void end_group();

  [[nodiscard]] double width() const { return width_; }
  [[nodiscard]] double height() const { return height_; }
  /// The element, to be put into a page.
  [[nodiscard]] std::string element() const;
  /// A file of its own, with `style` in it.
  [[nodiscard]] std::string file(const std::string& style) const;

 private:
  std::string id_;
  double width_;
  double height_;
  std::string title_;
  std::string description_;
  bool true_size_;
  std::string body_;
};

/// At most three decimals, no exponent, "0" for what is not finite.
[[nodiscard]] std::string number(double v);

}  // namespace thole::svg
