#pragma once

/// Places words on a drawing so that none covers another. Units of the drawing. Private to the
/// reports.

#include <string>
#include <vector>

#include "report/svg.hpp"

namespace thole::scene {

struct Box {
  double x = 0;
  double y = 0;
  double width = 0;
  double height = 0;
};
[[nodiscard]] bool overlap(const Box& a, const Box& b);

inline constexpr double text_size = 12;
inline constexpr double line_height = 14;

/// Width of a text at `text_size` in the widest face that a page may fall back to.
[[nodiscard]] double width_of(const std::string& text, bool bold = false);

class Placer {
 public:
  static constexpr double cell = 3;  ///< of the grid that ink is kept in
  /// The part of the drawing that words may stand in.
  explicit Placer(const Box& room);

  /// Ink is better not covered; words never are.
  void ink(svg::Point a, svg::Point b, double weight = 1);
  void words(const Box& box) { taken_.push_back(box); }

  struct Place {
    Box box;
    svg::Point leader;  ///< on the box, toward the anchor
    svg::Point anchor;
    double covered = 0;  ///< ink under it
    bool found = false;
  };
  /// Best place near one of the anchors for a box of that size; taken from then on where found.
  /// `dearest`: what it may cost at most, in units of a leader's length.
  [[nodiscard]] Place place(const std::vector<svg::Point>& anchors, double width, double height,
                            double nearest, double dearest);
  [[nodiscard]] const std::vector<Box>& taken() const { return taken_; }

 private:
  [[nodiscard]] double cost(const Box& box, svg::Point anchor, svg::Point leader,
                            double least) const;
  void sum_up();
  [[nodiscard]] double ink_under(const Box& box) const;
  [[nodiscard]] double ink_along(svg::Point a, svg::Point b) const;

  Box room_;
  int columns_, rows_;
  std::vector<float> ink_;
  std::vector<double> sums_;  ///< of the ink; empty while it changes
  std::vector<Box> taken_;
  std::vector<std::pair<svg::Point, svg::Point>> leaders_;
};

}  // namespace thole::scene
