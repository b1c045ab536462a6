#pragma once

/// The pictures of the sheet. Geometry and figures come from setup and assessment; nothing is
/// computed but where to draw it. Private to the reports.

#include <string>
#include <vector>

#include <thole/sheet.hpp>

namespace thole::pictures {

struct Picture {
  std::string id;
  std::string title;    ///< plain text
  std::string element;  ///< SVG; "" where there is nothing to draw
  std::string caption;  ///< HTML, escaped
};

/// Where a picture is looked at.
enum class Form {
  screen,  ///< 340 units wide, as high as it takes: one column of a phone
  paper,   ///< a place on the first printed page, low and wide; see each function
};

/// To scale from above, from the side, from astern: boat's parts and mount, gear with booms or
/// rods, the pull of the worst case as an arrow with its value, the worst item ringed, the sector
/// of the boom or line. On paper the three stand beside each other, a third of the page wide: 240
/// units wide and at most 200 high, one panel, the labels that matter.
[[nodiscard]] Picture plan(const SheetContent& content, Form form = Form::screen);
[[nodiscard]] Picture side(const SheetContent& content, Form form = Form::screen);
[[nodiscard]] Picture stern(const SheetContent& content, Form form = Form::screen);
/// How board or base move under the worst case, drawn larger and marked so.
[[nodiscard]] Picture movement(const SheetContent& content);

/// One scale of pull: setting, slips, links, hold limit and where each item goes, in order; what is
/// not known is hatched with a question mark. One for each kind of gear. On paper it lies across
/// the page: 720 units wide and at most 170 high.
[[nodiscard]] std::vector<Picture> pull_rulers(const SheetContent& content,
                                               Form form = Form::screen);
/// Limit by boom azimuth or direction of the line, all round.
[[nodiscard]] std::vector<Picture> directions(const SheetContent& content);
/// Holes from above with numbers and the forces on each under the worst case.
[[nodiscard]] std::vector<Picture> hole_forces(const SheetContent& content);

}  // namespace thole::pictures
