#pragma once

/// Texts beside the marks of a chart: how wide, broken into lines, moved apart. Private to the
/// reports.

#include <cstddef>
#include <string>
#include <vector>

#include <thole/sheet.hpp>

#include "report/scene_labels.hpp"
#include "report/svg.hpp"

namespace thole::charts {

/// All charts are drawn this wide: on a phone of 360 px a unit is a little less than a pixel.
inline constexpr double drawing_width = 340;
using scene::line_height;
using scene::text_size;
using scene::width_of;

/// Cleaned of what must not be in a line, and cut to a width with "..." where it is longer.
[[nodiscard]] std::string fitted(const std::string& text, double width, bool bold = false);
/// Broken between words, at most `most` lines of a width; long words are cut.
[[nodiscard]] std::vector<std::string> lines_of(const std::string& text, double width,
                                                std::size_t most, bool bold = false);

/// A block of lines that wants to stand at a height of the page.
struct Block {
  double wanted = 0;  ///< its middle
  double height = 0;
};
/// Middles of the blocks, in their order, none over another, all between `top` and `bottom` where
/// there is room: as near to where they want to be as that allows, in the sense of least squares.
/// Source: isotonic regression by pooling of adjacent violators (textbook).
[[nodiscard]] std::vector<double> moved_apart(const std::vector<Block>& blocks, double gap,
                                              double top, double bottom);
/// Height that all of them need.
[[nodiscard]] double height_of(const std::vector<Block>& blocks, double gap);

/// Slanting lines over a rectangle: says "not known" or "not allowed" without colour.
void hatch(svg::Drawing& d, svg::Point corner, double width, double height, double apart,
           std::string_view of);

/// "1", "2", "5", "10" ...: the least of them that is not below `v`.
[[nodiscard]] double round_up(double v);
/// In the reader's unit of force: newtons or pounds.
[[nodiscard]] double in_reader_units(Force f, ReaderUnits u);
inline constexpr double newtons_in_a_pound = 4.4482216152605;

/// The user's name of a gear in a title or text, short.
[[nodiscard]] std::string short_name(const std::string& name, std::size_t most = 40);

}  // namespace thole::charts
