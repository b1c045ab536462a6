#pragma once

/// Does it fit: motor, hands, cover, cleats, hatch, oars and rods as boxes and arcs seen from
/// above, and what comes near what. Geometry only; no physics.
///
/// One plan of the boat: x forward of the transom's inner face, y to starboard of the middle line,
/// heights above the gunwale at the mount (below: negative).

#include <optional>
#include <string>
#include <vector>

#include <thole/quantities.hpp>
#include <thole/source.hpp>

namespace thole {

struct FitPoint {
  Length x{};  ///< forward of the transom
  Length y{};  ///< to starboard of the middle line
};

/// A shape in plan between two heights.
struct FitShape {
  enum class Form {
    outline,  ///< polygon, corners in order
    sector,   ///< of a circle, or a ring, from one azimuth to another: what swings
    path,     ///< a line of some width: a rod, a line, an oar
  };
  Form form = Form::outline;
  std::vector<FitPoint> points;       ///< outline: 3 and more; path: 2 and more; sector: its middle
  Length inner{};                     ///< sector
  Length outer{};                     ///< sector
  Angle from{}, to{};                 ///< sector: from astern, clockwise seen from above (to port)
  Length width{};                     ///< path
  std::optional<Length> bottom, top;  ///< nothing: at every height
};

/// A thing on the boat or the mount, with the clearance it wants.
struct FitThing {
  std::string name;  ///< "motor, tilted up, hard over to port"
  std::string
      kind;  ///< "motor", "hand", "cover", "cleat", "hatch", "oar", "rod", "net", "mount" ...
  std::vector<FitShape> shapes;
  Length clearance{};     ///< to aim for
  Length close{};         ///< less than this is "close" at best; below zero overlap it hits
  bool of_mount = false;  ///< what is built: board, gear, rods, booms; all else is the boat's
  bool clearance_given = false;
  Citation source;     ///< of the clearance
  std::string advice;  ///< what helps
};

enum class Clear { clear, close, hits };
[[nodiscard]] std::string_view word_for(Clear c);

struct FitRow {
  std::string one;    ///< of the mount
  std::string other;  ///< of the boat, or of the mount as well (rods)
  Clear clear = Clear::clear;
  Length distance{};  ///< least; below zero: so deep they overlap
  Length wanted{};
  FitPoint at;       ///< where they come nearest
  std::string note;  ///< "passes 40 mm above it"
  std::string advice;
  Citation source;
};

struct FitAnswer {
  std::vector<FitThing> things;            ///< for drawings
  std::vector<FitRow> rows;                ///< worst first
  std::vector<std::string> not_looked_at;  ///< what the setup does not describe
  [[nodiscard]] bool any_hit() const;
};

/// Least distance of two shapes in plan and where; below zero: the depth of their overlap. Exact
/// for straight edges; arcs to 0.1 mm. Throws DomainError for a shape without an extent.
struct Gap {
  Length distance{};
  FitPoint at;
};
[[nodiscard]] Gap gap_between(const FitShape& a, const FitShape& b);

/// Source:   clearances of the trade ("common practice, no source"), each to be changed by its
/// owner. Valid:    things that swing are looked at in every position at once. Accuracy: of a tape.
[[nodiscard]] FitAnswer look_at_fit(const std::vector<FitThing>& things);

}  // namespace thole
