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

/// To scale from above, from the side, from astern: boat's parts and mount, gear with booms or
/// rods, the pull of the worst case as an arrow with its value, the worst item ringed, the sector
/// of the boom or line.
[[nodiscard]] Picture plan(const SheetContent& content);
[[nodiscard]] Picture side(const SheetContent& content);
[[nodiscard]] Picture stern(const SheetContent& content);
/// How board or base move under the worst case, drawn larger and marked so.
[[nodiscard]] Picture movement(const SheetContent& content);

/// One scale of pull: setting, slips, links, hold limit and where each item goes, in order; what is
/// not known is hatched with a question mark. One for each kind of gear.
[[nodiscard]] std::vector<Picture> pull_rulers(const SheetContent& content);
/// Limit by boom azimuth or direction of the line, all round.
[[nodiscard]] std::vector<Picture> directions(const SheetContent& content);
/// Holes from above with numbers and the forces on each under the worst case.
[[nodiscard]] std::vector<Picture> hole_forces(const SheetContent& content);

}  // namespace thole::pictures
