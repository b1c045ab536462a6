#pragma once

/// A scene as a drawing. Private to the reports.

#include <string>
#include <vector>

#include "report/scene.hpp"
#include "report/scene_labels.hpp"

namespace thole::scene {

/// Units wide: 1 unit is about a pixel on a phone of 360.
inline constexpr double drawing_width = 340;

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

[[nodiscard]] Rendered render(const Scene& scene, View view, const std::string& id,
                              const std::string& title, const std::string& description);

}  // namespace thole::scene
