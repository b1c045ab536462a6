#pragma once

/// A scene as a drawing. Private to the reports.

#include <string>
#include <vector>

#include "report/pictures.hpp"
#include "report/scene.hpp"
#include "report/scene_labels.hpp"

namespace thole::scene {

/// Units wide: 1 unit is about a pixel on a phone of 360.
inline constexpr double drawing_width = 340;
/// A third of a page of paper wide, 62 mm.
inline constexpr double paper_width = 240;
inline constexpr double paper_height = 200;  ///< at most

/// One scale of a drawing.
struct PanelScale {
  View view = View::plan;
  double units_per_metre = 0;
  svg::Point origin;  ///< where (0, 0, 0) lies
  [[nodiscard]] svg::Point at(const Spot& p) const;
};

struct Rendered {
  std::string element;  ///< "" where there is nothing to draw
  double height = 0;
  std::vector<PanelScale> panels;
  std::vector<Box> texts;  ///< where words stand
  bool guessed = false;    ///< sizes that nobody gave are drawn dashed
};

/// What is written beside the drawing itself.
struct Names {
  std::string id;
  std::string title;
  std::string description;
};

[[nodiscard]] Rendered render(const Scene& scene, View view, const Names& names,
                              pictures::Form form = pictures::Form::screen);
/// How high the three views on paper are, all alike; 0 where there is nothing to draw.
[[nodiscard]] double height_on_paper(const Scene& scene);

}  // namespace thole::scene
