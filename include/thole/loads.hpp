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
  line,   ///< a pull on the fishing line, through the rod
  rim,    ///< a hand on the rim of the holder
  point,  ///< a plain load at its point
  tip,    ///< the wire of a downrigger at the tip of its boom
  ride,   ///< accelerations of the running boat on gear and board
  board,  ///< a person on the board itself
};

struct LoadCase {
  std::string id;
  std::string title;
  std::string why;  ///< how the pull comes about, with its source
  Category category = Category::everyday;
  bool decides = true;  ///< counts for the verdict
  LoadPath path = LoadPath::line;
  Force pull{};
  DirectionRange range;
  std::vector<std::string> depends_on{};  ///< paths of inputs

  // On a cross-board:
  int gear = -1;                         ///< whose pull it is; -1: of all gears or none
  std::vector<DirectionRange> ranges{};  ///< all parts of the range; `range` is about them
  bool all_gears = false;                ///< every gear pulls the same way at once
  double peak = 0;                       ///< ride: vertical acceleration on top of gravity, in g
};

/// The cases of one gear on a gunwale plate.
///
/// Rod holder: rod running (1.5 x the running pull, never above what the drag lets by), strike
/// (1.5 x drag x spool growth, never above the breaking line), line locked (1.3 x line test; an
/// accident, but it decides when the drag was not measured), lean on the holder (200 lbf any
/// direction; shown, not deciding). Plain load: itself.
/// Source:   drag, sticking and spool growth: common practice; 200 lbf: ASCE 7-10 4.5.1 hand-rail
///           point load (page seen); line strength factor 1.3: judgement.
[[nodiscard]] std::vector<LoadCase> load_cases(const Gear& gear);

/// The cases of a cross-board: trolling, waves, turns, brake jerks, hauling, the ball hung up with
/// the brake slipping and seized, both hung up, running with the gear stowed and with a ball left
/// on the tip, leaning, sitting, a boarding grab; rod holders and plain loads as on a plate.
/// Source:   towed wire by integration (towed_line.hpp); factors 2.0 in waves, 1.5 in turns, 6 on a
///           brake jerk, 1.5 x slip, 1.2 x breaking strength: judgement; 200 and 300 lbf: ASCE 7-10
///           4.5.1 and 4.5.4 (page seen); 400 lbf: voluntary boat practice (copy).
[[nodiscard]] std::vector<LoadCase> board_load_cases(const Setup& setup);

/// Everyday pull of the towed line of a downrigger: greatest tension and the angles from straight
/// down over speeds and drag coefficients.
[[nodiscard]] PullRange trolling_pull(const Downrigger& gear, bool salt_water);

/// The load on the base of a pull along `direction` (the way the line leads away from the boat),
/// together with the weight of the gear.
[[nodiscard]] BaseLoad base_load(const Host& host, const Gear& gear, LoadPath path, Force pull,
                                 const Direction<Boat>& direction);

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
