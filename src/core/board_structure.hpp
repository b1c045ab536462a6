#pragma once

/// From a cross-board setup to beam, supports and load points. Private to the core.

#include <vector>

#include <thole/board_frame.hpp>
#include <thole/setup.hpp>

namespace thole::board {

enum class Role {
  seat,       ///< a point of the bearing of a ledge
  hold_down,  ///< pull of a bolt
  shank,      ///< a bolt or pin sideways
  leg,
};

struct BoardSupport {
  Support support;
  Role role = Role::seat;
  Side side = Side::port;
  int part = -1;       ///< index of the hold-down or leg; -1: of the bolts of a side together
  bool along = false;  ///< shank: along the board
  Area share{};        ///< seat: area it stands for
  Length from_root{};  ///< seat on an angle: distance from the root of the leg
  Length from_end{};   ///< seat on an angle: distance from the nearer end of the angle
};

/// Which end of a range of guesses.
struct Choice {
  double stiffness = 1;      ///< times seats, legs and bolts
  bool held_at_port = true;  ///< along itself the board is held at one end
  double extra_slack = 0;    ///< m, of all hold-downs
  bool tight = false;        ///< gaps and slack closed: a loose board must not count as better
};

struct Structure {
  BeamProperties beam;
  std::vector<BoardSupport> supports;
  std::vector<LoadPoint> points;  ///< gears in order, then people: middle, port end, starboard
                                  ///< end, a quarter from either
  std::vector<Length> stations;   ///< holes and other places to look at
};

inline constexpr int people_points = 5;

/// Axes of the board written in fore-and-aft, outboard, up of a gear on that side: rows are the
/// board's axes, so that F_board = axes x F_boat. Slopes of the seats are in it.
[[nodiscard]] Eigen::Matrix3d axes_from(const CrossBoard& mount, Side side);

/// A U-bolt straddles the board: along it nothing but friction holds.
[[nodiscard]] bool holds_along(const HoldDown& h);
/// Distance of a hold-down from the root of the angle it pulls on.
[[nodiscard]] Length from_root(const Ledge& ledge, const BoardPlace& place);
/// A washer whose thickness is not known counts up to 4 D (EN 1995-1-1 8.5.2(3), from memory).
[[nodiscard]] Length stiff_washer(Length outside, Length diameter);

[[nodiscard]] Section section_of(const BoardPiece& piece);
/// Weight per length, from the tables' density or G.
[[nodiscard]] LineLoad weight_of(const BoardPiece& piece, const Section& section);

/// Source:   wood across the grain E/20 over its thickness under the patch (Wood Handbook ratios,
///           from memory), angle leg as a cantilever, bolt E A / L with the wood under its washer;
///           bolts sideways by the load/slip modulus of NDS 11.3.6 (270 000 D^1.5 lbf/in).
/// Valid:    stiffnesses are guesses within a factor of three: assess both ends.
/// `section`: that of the board when it is known already.
[[nodiscard]] Structure structure_of(const Setup& setup, const Choice& choice = {},
                                     const Section* section = nullptr);

}  // namespace thole::board
