#pragma once

/// One panel of a drawing to scale: its layout, then what it draws. Units of the drawing. Private
/// to the reports.

#include <string>

#include "report/scene.hpp"
#include "report/scene_labels.hpp"
#include "report/scene_render.hpp"

namespace thole::scene {

inline constexpr double margin = 4;
inline constexpr double arrow_length = 46;  ///< of a pull square to the line of sight

/// A spot in metres of the picture, y down the page.
[[nodiscard]] svg::Point seen(View view, const Spot& spot);

/// What a panel shows.
struct Shown {
  View view = View::plan;
  Set panels = both_panels;
  std::string title;  ///< of one of two panels
  bool compass = true;
  bool pull = true;
  bool worst = true;
  bool worst_words = true;
  pictures::Form form = pictures::Form::screen;
  [[nodiscard]] bool paper() const { return form == pictures::Form::paper; }
};

/// What came of a layout.
struct Outcome {
  double bottom = 0;  ///< how far down it came
  double above = 0;   ///< what was used of the room
  double below = 0;
  double drawn = 0;  ///< height of what is drawn, without words
  double worth = 0;  ///< price of long leaders and of words without a place, as units of height
};

/// Draws below `top`.
[[nodiscard]] Outcome draw_panel(const Scene& scene, const Shown& shown, const Layout& layout,
                                 double top, svg::Drawing& to, Rendered& out);

}  // namespace thole::scene
