#pragma once

/// Plane geometry of drawings, in units of the drawing. Private to the reports.

#include <string>
#include <vector>

#include "report/scene_labels.hpp"
#include "report/svg.hpp"

namespace thole::scene {

/// Convex hull.
[[nodiscard]] std::vector<svg::Point> silhouette(std::vector<svg::Point> points);
/// What of a polygon, or of a line, lies in a box.
[[nodiscard]] std::vector<svg::Point> clipped(std::vector<svg::Point> polygon, const Box& to);
[[nodiscard]] std::vector<svg::Point> clipped(svg::Point a, svg::Point b, const Box& to);
[[nodiscard]] bool within(svg::Point p, const Box& box);

struct ScaleBar {
  double metres = 0;
  std::string words;
};
/// The longest round length of at most so many metres.
[[nodiscard]] ScaleBar metric_bar(double most);
[[nodiscard]] ScaleBar inch_bar(double most);

}  // namespace thole::scene
