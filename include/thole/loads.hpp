#pragma once

/// From gear to load cases, and from a pull in a direction to the load on the base.

#include <string>
#include <vector>

#include <thole/setup.hpp>
#include <thole/vector.hpp>

namespace thole {

/// Force and moment on the base about its centre at the wall surface.
struct BaseLoad {
  ForceVector<Base> force;
  MomentVector<Base> moment;
};

enum class LoadPath {
  line,     ///< a pull on the fishing line, through the rod
  rim,      ///< a hand on the rim of the holder
  post,     ///< a hand on a downrigger, at the height of its tip
  point,    ///< a plain load at its point
  tip,      ///< the wire of a downrigger at the tip of its boom
  ride,     ///< accelerations of boat and trailer on gear and mount
  board,    ///< a person on the board itself
  warning,  ///< named, not calculated
};

/// What the other gears do meanwhile.
enum class Others {
  towing,    ///< trolling straight, lines out
  together,  ///< each its own pull, the same way over the ground
};

/// An acceleration of the whole, gravity included, in g: forward, starboard, up. At rest (0, 0,
/// -1).
struct Shake {
  double forward = 0;
  double starboard = 0;
  double up = -1;
};

/// How a case comes to the list.
enum class CaseOrigin { listed, changed, added };

struct LoadCase {
  std::string id;    ///< kebab-case, with "-2" for the second gear: stable, for `cases:`
  std::string kind;  ///< the id without the gear's number
  std::string title;
  std::string why;  ///< how the pull comes about, with its source
  Category category = Category::everyday;
  bool decides = true;  ///< counts for the verdict
  LoadPath path = LoadPath::line;
  Force pull{};
  DirectionRange range;                   ///< about all of `ranges`
  std::vector<std::string> depends_on{};  ///< paths of inputs

  int gear = -1;                         ///< whose pull it is; -1: of all gears or none
  std::vector<DirectionRange> ranges{};  ///< all parts of the range, never empty
  Others others = Others::towing;
  std::vector<Force> pulls{};   ///< together: of every gear, 0 for those that only tow
  std::vector<Shake> shakes{};  ///< ride: every acceleration to try
  bool ball_on_tip = false;     ///< ride: else the gear is stowed with its ball
  double heave = 0;             ///< acceleration up and down on the weights meanwhile, in g
  double cycles_per_hour = 0;   ///< for fatigue
  double times_per_season = 0;  ///< for fatigue: events that do not come by the hour
  CaseOrigin origin = CaseOrigin::listed;
  bool left_out = false;  ///< by the owner: named in the report, not calculated
  std::string owners_why;
  std::string before;  ///< changed: what the list has, "12 lbf, everyday"
};

/// THE list of load cases of a setup, with what its owner changed, left out and added. A case that
/// is left out stays in the list, marked.
///
/// Downrigger: trolling straight, in waves and in a turn; brake jerk, surface snatch, winch
/// stalling; ball hung up with the brake slipping, a weak link, the brake seized; all hung up; a
/// hand on it. Rod holder: rods running together, a strike, the line locked, a hand on the rim.
/// Plain load: itself. Running with the gear stowed and with a ball left on the tip, the trailer,
/// leaning, sitting, a boarding grab, a boom that knocks a dock (a warning).
/// Source:   towed wire by integration (towed_line.hpp); running: motions.hpp; factors 2.0 in
/// waves,
///           1.5 in turns, 6 on a brake jerk, 1.5 x slip, 1.2 x breaking strength, 1.5 x drag x
///           spool growth, 1.3 x line test: judgement and common practice; 200 and 300 lbf: ASCE
///           7-10 4.5.1 and 4.5.4 (page seen); 400 lbf: voluntary boat practice (copy).
/// Throws UnknownName for an edit of a case or gear that does not exist, DomainError for an edit
/// that a case cannot have.
[[nodiscard]] std::vector<LoadCase> load_cases(const Setup& setup);

/// The cases as listed, before the owner's edits. Throws DomainError as `towed_line` does.
[[nodiscard]] std::vector<LoadCase> listed_cases(const Setup& setup);

/// Vertical acceleration on top of gravity when running, in g, and where it comes from.
struct RunningPeak {
  double peak = 5;
  std::string from;
};
[[nodiscard]] RunningPeak running_peak(const Setup& setup);

/// "0 to 60 deg from straight down, 15 deg either side of astern": one text for each part.
[[nodiscard]] std::vector<std::string> describe_ranges(const LoadCase& load_case);

/// Everyday pull of the towed line of a downrigger: greatest tension and the angles from straight
/// down over speeds and drag coefficients.
[[nodiscard]] PullRange trolling_pull(const Downrigger& gear, const Setup& setup);

/// The line at one speed and drag coefficient: what the report says of depth and wire out.
[[nodiscard]] TowedLine towed_line_of(const Downrigger& gear, const Setup& setup, Speed surface);

/// Tip of a downrigger's boom from the middle of its foot. The boom turns in the plane that its
/// foot stands on: angles from level and heights count from there.
[[nodiscard]] Position<Base> boom_tip(const Downrigger& gear, std::size_t position);
/// Where somebody holds on to a downrigger: over the middle of its foot, as high as its tip, or its
/// drum where that is higher.
[[nodiscard]] Position<Base> post_of(const Downrigger& gear);
/// Where the boom may point when it is stowed; any way in steps of 30 deg where nobody said.
[[nodiscard]] const std::vector<Angle>& stowed_angles(const Downrigger& gear);

/// Where the ball of a downrigger hangs.
enum class Ball {
  in_the_water,  ///< on its wire: a pull, no weight of the gear
  stowed,        ///< with the winch
  on_tip,
};

/// The load on the base of a pull along `direction` (the way the line leads away from the boat),
/// without the weight of the gear. `boom`: position of a downrigger's boom. The gear stands over
/// the middle of the base; on a plate that is a bracket, where that says.
[[nodiscard]] BaseLoad pull_load(const Host& host, const Gear& gear, LoadPath path, Force pull,
                                 const Direction<Boat>& direction, std::size_t boom = 0);
[[nodiscard]] BaseLoad pull_load(const GunwalePlate& plate, const Gear& gear, LoadPath path,
                                 Force pull, const Direction<Boat>& direction,
                                 std::size_t boom = 0);
/// The load on the base of the gear's own mass under an acceleration; `Shake::starboard` counts as
/// outboard. `boom`: position of a downrigger's boom; when stowed, index of its `stowed_angles`.
[[nodiscard]] BaseLoad weight_load(const Host& host, const Gear& gear, const Shake& shake,
                                   Ball ball = Ball::in_the_water, std::size_t boom = 0);
[[nodiscard]] BaseLoad weight_load(const GunwalePlate& plate, const Gear& gear, const Shake& shake,
                                   Ball ball = Ball::in_the_water, std::size_t boom = 0);
/// Both together, at rest.
[[nodiscard]] BaseLoad base_load(const Host& host, const Gear& gear, LoadPath path, Force pull,
                                 const Direction<Boat>& direction, std::size_t boom = 0);

/// Axes of the base written in those of the boat.
[[nodiscard]] Rotation<Boat, Base> to_base(const Host& host);

/// Directions of a range on a grid no coarser than `step`, its corners included.
[[nodiscard]] std::vector<Direction<Boat>> directions(const DirectionRange& range, Angle step);

/// Directions of the range within one `step` of `centre`, on a grid four times finer.
[[nodiscard]] std::vector<Direction<Boat>> directions_near(const Direction<Boat>& centre,
                                                           const DirectionRange& range, Angle step);

/// "line 30 deg below level, 40 deg outboard of astern".
[[nodiscard]] std::string describe(const Direction<Boat>& direction);

}  // namespace thole
