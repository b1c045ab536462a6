#pragma once

/// Does it fit: motor, hands, cover, cleats, hatch, oars and rods as boxes and arcs seen from
/// above, and what comes near what. Geometry only; no physics.
///
/// One plan of the boat: x forward of the transom's inner face, y to starboard of the middle line,
/// heights above the gunwale at the mount (below: negative).

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include <thole/quantities.hpp>
#include <thole/source.hpp>

namespace thole {

struct Setup;

struct FitPoint {
  Length x{};  ///< forward of the transom
  Length y{};  ///< to starboard of the middle line
};

/// A shape in plan between two heights.
struct FitShape {
  enum class Form {
    outline,  ///< polygon, corners in order
    sector,   ///< of a circle, or a ring, from one azimuth to another: what swings
    path,     ///< a line of some width, its ends square: a rod, a line, an oar
  };
  Form form = Form::outline;
  std::vector<FitPoint> points;       ///< outline: 3 and more; path: 2 and more; sector: its middle
  Length inner{};                     ///< sector
  Length outer{};                     ///< sector
  Angle from{}, to{};                 ///< sector: from astern, clockwise seen from above (to port)
  Length width{};                     ///< path
  std::optional<Length> bottom, top;  ///< nothing: as far down, or up, as there is
};

/// What a clearance is about.
enum class FitRule {
  keep_clear,  ///< of everything of the mount
  reach,       ///< by hand from a seat or a place to stand: a most
  spacing,     ///< from rod holder to rod holder
  stretch,     ///< of rail that is left free
  propeller,   ///< from it to the line, in a turn
  width,       ///< on the road, at the dock
};

/// A kind of thing that may be in the way, or of rule between parts of the mount.
struct FitKind {
  std::string_view key;   ///< as in the file
  std::string_view name;  ///< in words, where the owner gives none
  FitRule rule = FitRule::keep_clear;
  double clearance = 0;     ///< mm to aim for; of a reach: the most
  double close = 0;         ///< mm; less touches when boat, motor or hand move; 0: no such limit
  bool of_boat = true;      ///< described by the owner; else made from the mount
  bool comes_away = false;  ///< boom or rod are moved before it is used: no more than "close"
  std::string_view advice;
  std::string_view help;  ///< what to give, for editors
  Seen seen = Seen::practice;
};
/// THE list of kinds with their clearances. Source: common practice, no source.
[[nodiscard]] const std::vector<FitKind>& fit_kinds();
/// Throws UnknownName.
[[nodiscard]] const FitKind& fit_kind(std::string_view key);

/// A thing on the boat or the mount, with the clearance it wants.
struct FitThing {
  std::string name;  ///< "motor, tilted up"
  std::string kind;  ///< key of its kind: "motor", "hand", "cleat" ... and of the mount's parts
  std::vector<FitShape> shapes;
  Length clearance{};     ///< to aim for
  Length close{};         ///< less is told: it touches when something moves
  bool of_mount = false;  ///< what is built: board, gear, rods, booms; all else is the boat's
  bool clearance_given = false;
  Citation source;     ///< of the clearance
  std::string advice;  ///< what helps
  std::string gear;    ///< of the mount: whose it is; "" the mount itself
};
/// With the clearance, source and advice of its kind. Throws UnknownName.
[[nodiscard]] FitThing fit_thing(std::string_view kind, std::string name,
                                 std::vector<FitShape> shapes);

enum class Clear { clear, close, hits };
[[nodiscard]] std::string_view word_for(Clear c);

struct FitRow {
  FitRule rule = FitRule::keep_clear;
  std::string one;    ///< of the mount
  std::string other;  ///< of the boat, or of the mount as well (rods)
  Clear clear = Clear::clear;
  Length distance{};          ///< least; below zero: so deep they overlap
  Length wanted{};            ///< of a reach: the most
  bool wanted_given = false;  ///< by the owner
  FitPoint at;                ///< where they come nearest
  std::string note;           ///< "passes above it"
  std::string advice;
  Citation source;
};
/// "hits", "too far", "too short" ... as the rule of the row has it.
[[nodiscard]] std::string_view word_for(const FitRow& row);

struct FitAnswer {
  bool described = false;                  ///< the setup has a block `fit`
  std::vector<FitThing> things;            ///< for drawings
  std::vector<FitRow> rows;                ///< worst first
  std::vector<std::string> not_looked_at;  ///< what the setup does not describe
  [[nodiscard]] bool any_hit() const;
};

/// Least distance of two shapes in plan and where; below zero: the depth of their overlap, the
/// least move that parts them. Heights are not looked at. Throws DomainError for a shape without an
/// extent or an outline that crosses itself.
/// Accuracy: exact for straight edges; arcs to 0.1 mm. The depth is that of the hulls of outlines
/// and of quarter turns of rings: told too great where one shape wraps round the other.
struct Gap {
  Length distance{};
  FitPoint at;
};
[[nodiscard]] Gap gap_between(const FitShape& a, const FitShape& b);

/// Box that turns about a point: everything it covers on the way.
/// Valid: `back` < `front`, both along the box from the point, ahead positive; the half turn at
/// most. Accuracy: exact where the point lies in the box, else never too small.
struct FitSwing {
  FitPoint about;
  Length back{}, front{}, half_width{};
  Angle from{}, to{};  ///< where `front` points, as in a sector
};
[[nodiscard]] std::vector<FitShape> swept(const FitSwing& swing, std::optional<Length> bottom,
                                          std::optional<Length> top);

/// An outboard motor as its owner measured it.
struct FitMotor {
  FitPoint pivot;                     ///< its steering axis
  Length cowl_forward{};              ///< down: from the axis to the front of the cowl
  Length cowl_aft{};                  ///< down: from the axis to its back
  Length width{};                     ///< of the cowl
  Length tilted_forward{};            ///< tilted up: from the axis to the foremost part
  std::optional<Length> bottom, top;  ///< of the cowl, down
  std::optional<Length> tilted_bottom, tilted_top;
  Angle lock{};            ///< to each side
  Length propeller{};      ///< diameter; 0: not given
  Length propeller_aft{};  ///< of the axis
  Length tiller{};         ///< from the axis to the end of its handle; 0: none
  std::optional<Length> tiller_bottom, tiller_top;
};
/// Cowl down and tilted up at all locks, and the sweep of the tiller. Tilted up it is turned about
/// the upright axis too, which takes it farther to the side than the inclined one does.
[[nodiscard]] std::vector<FitThing> motor_things(const FitMotor& motor);

/// The winch of a downrigger, for hands. It turns with its boom.
struct FitWinch {
  std::string gear;
  Length behind{};       ///< crank axis behind the middle of the base, away from the tip
  Length across{};       ///< crank from the line of the boom, to the right seen toward the tip
  Length crank{};        ///< radius of the crank
  Length axis_height{};  ///< above board or wall
};

/// What a setup says under `fit`.
struct FitPlan {
  FitPoint mount_at;       ///< middle of the base or, of a board, of its middle line
  bool starboard = false;  ///< side of a plate or bracket
  /// Top of the board above the gunwale; nothing: not known, its parts count at every height.
  std::optional<Length> board_top;
  std::optional<FitMotor> motor;
  std::vector<FitThing> things;  ///< of the boat, without the motor
  std::vector<FitWinch> winches;
  std::vector<std::pair<std::string, Length>> clearances;  ///< by kind, as the owner has them
  std::vector<std::string> none;                           ///< kinds that the boat does not have
  std::optional<Length> road_width;                        ///< the law's; nothing: usual
};

/// What comes near what: parts of the mount against the boat's, worst first.
/// Source:   clearances of the trade ("common practice, no source"), each to be changed by its
/// owner. Valid:    things that swing are looked at in every position at once. Accuracy: of a tape.
[[nodiscard]] FitAnswer look_at_fit(const std::vector<FitThing>& things);
/// The same of a setup, the mount's parts made from it, with reach, spacing, free rail and width.
/// Without a block `fit`: not described.
[[nodiscard]] FitAnswer look_at_fit(const Setup& setup);

}  // namespace thole
