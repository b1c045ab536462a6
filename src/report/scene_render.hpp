#pragma once

/// A scene as a drawing. Private to the reports.

#include <optional>
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

/// How a panel is laid out: found by trying.
struct Layout {
  double most = 190;      ///< height of what is drawn
  double lead = 0;        ///< left empty over it all
  double above = 40;      ///< room for words over it
  double below = 20;      ///< and under it
  std::size_t wrap = 24;  ///< letters in a line
  double tail = 0;        ///< left empty at the end
  /// Of another drawing, to be kept: scale, origin and lower end of what is drawn.
  std::optional<PanelScale> held{};
  double held_low = 0;
};

struct Rendered {
  std::string element;  ///< "" where there is nothing to draw
  double height = 0;
  std::vector<PanelScale> panels;
  std::vector<Layout> layouts;  ///< of the panels
  std::vector<Box> texts;       ///< where words stand
  bool guessed = false;         ///< sizes that nobody gave are drawn dashed
};

/// What is written beside the drawing itself.
struct Names {
  std::string id;
  std::string title;
  std::string description;
};

[[nodiscard]] Rendered render(const Scene& scene, View view, const Names& names,
                              pictures::Form form = pictures::Form::screen);
/// The same on a screen with the first layout that serves: for drawings that follow a hand.
[[nodiscard]] Rendered render_quickly(const Scene& scene, View view, const Names& names);
/// The same in the scale, at the place and of the height of a drawing before, whatever has moved:
/// what a hand drags stays under it. Afresh where the panels are others.
[[nodiscard]] Rendered render_held(const Scene& scene, View view, const Names& names,
                                   const Rendered& before);
/// How high the three views on paper are, all alike; 0 where there is nothing to draw.
[[nodiscard]] double height_on_paper(const Scene& scene);

}  // namespace thole::scene
