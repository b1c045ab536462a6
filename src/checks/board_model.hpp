#pragma once

/// A cross-board made ready for checks: geometry condensed, strengths computed once. Numeric
/// kernel: plain SI doubles, axes of frame `Board`. Private to the core.

#include <array>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include <thole/base_contact.hpp>
#include <thole/fatigue.hpp>
#include <thole/setup.hpp>

#include "core/board_kernel.hpp"
#include "core/board_structure.hpp"

namespace thole::board {

using board_kernel::cut_forces;
using one_way::Matrix;
using one_way::Vector;

inline constexpr int most_gears = 4;

/// A place along the board where forces are looked at, just before or behind a node.
struct Cut {
  double x = 0;
  double net_flat = 1;  ///< gross over net section modulus, for loads up and down
  double net_edge = 1;  ///< the same for loads fore and aft
  double net_area = 1;  ///< gross over net area
  bool hole = false;
  bool bare = false;  ///< over a seat or beyond: a strip below the plank has ended
};

/// Corner of the section, factors that turn forces into stress.
struct Corner {
  double flat = 0;  ///< (z - zc)/I_flat
  double edge = 0;  ///< -(y - yc)/I_edge
  double warp = 0;  ///< -omega_peak/Gamma
};

/// What turns the forces of a cut into stress.
struct Shape {
  std::vector<Corner> corners;
  double area = 0, torsion_modulus = 1, narrow_side = 1;
  double yc = 0, zc = 0, ys = 0, zs = 0;  ///< centroid, shear centre
};

struct HoldDownData {
  int row = -1;                   ///< of its pull among the supports; -1: a pin
  int shank_y = -1;               ///< rows sideways
  int shank_x = -1;               ///< of all bolts of its end together
  double share_x = 0;             ///< of that which is its own
  double tension = 0, shear = 0;  ///< strength of the shank(s)
  double bending = 0;             ///< plastic moment of the shanks at a standoff
  double standoff = 0;
  double forward = 0;              ///< of the middle line
  double from_root = 0;            ///< on the leg of an angle
  double rated = 0, rated_45 = 0;  ///< of an eye
  double dent = 0, crush = 0;      ///< under its washer
  double lateral = 0;              ///< of the wood, worst direction to the grain
  double leg_lift = 0;             ///< root moment per width of the angle leg over its pull
};

struct SeatPoint {
  int row = -1;
  double area = 0;
  double y = 0;
  double x = 0;
  double from_root = 0;
  double leg_down = 0;  ///< root moment per width over its push
  double reach = 0;     ///< distance along the leg at which that has died away
};

struct LedgeData {
  std::vector<SeatPoint> seats;
  std::vector<int> hold_downs;
  double split = 0;              ///< fore-and-aft push of its bolts that splits the plank; 0: none
  double leg_moment = 0;         ///< plastic moment per width; 0: no angle
  std::vector<PlanPoint> holes;  ///< of its own bolts; empty: not described
  /// Tension of each bolt per moment that turns the top of the upright leg away from the hull, or
  /// onto it.
  double tension_out = 0, tension_in = 0;
  double bolt_tension = 0, bolt_shear = 0;
  double pull_through = 0;   ///< of one bolt through the hull; 0: not known
  double hull_bearing = 0;   ///< of one bolt on the hull; 0: not known
  double growth = 1;         ///< of bolt tension by the bending of the upright leg
  double below = 0;          ///< bolt row below the seat
  double upright_width = 1;  ///< of the upright leg less its holes
};

struct LegData {
  int row = -1;
  double crushing = 0;  ///< end grain or metal
  double dent = 0;      ///< of the board on its top
  double buckling = 0;
  double push_down = 0;   ///< share of its thrust that presses the foot down
  double push_aside = 0;  ///< share that pushes it along what it stands on
  double friction = 0;    ///< 0: not known
  double half_foot = 0;
  int watch = -1;  ///< first of two watched rows: shift of the board at its top
};

struct GearData {
  Eigen::Matrix3d to_board;          ///< from (forward, outboard, up) of the gear
  std::vector<BaseContact> contact;  ///< soft and hard bed; empty: no foot described
  std::vector<PlanPoint> holes;
  double tension = 0, shear = 0;
  double dent = 0, crush = 0;  ///< under the washer of one bolt
  double press = 0;            ///< pressure that dents the board under the foot
  double lateral = 0;          ///< of one bolt sideways in the wood
  double split = 0;            ///< fore-and-aft push of all that splits the board; 0: none
  std::vector<double> tear;    ///< of each bolt: push along the board that shears it out
  double bed_area = 0;
  int watch = -1;  ///< first of six watched rows: motion of the base
};

[[nodiscard]] board_kernel::Tie tie_of(const LoadPoint& point);

class Model {
 public:
  Model(const Setup& setup, const Choice& choice, const Section* section = nullptr);

  const Setup* setup = nullptr;
  Structure structure;
  std::unique_ptr<board_kernel::Beam> beam;
  std::vector<Cut> cuts;
  Shape shape;  ///< of the section that the beam is made of
  Shape bare;   ///< of the plank alone, where a strip below it has ended

  // Condensed problem, columns: constant (own weight, gaps), 6 of each gear, 6 of each people
  // point.
  int gears = 0;
  Matrix response_s, response_f;
  Matrix watched_rigid;
  double motion_length = 1;
  int first_watch = 0;
  int sag_watch = 0;  ///< watched row: movement up of the middle of the board
  std::unique_ptr<one_way::Contacts> for_gear;  ///< columns of gears only
  Matrix Q_all, P_all;                          ///< all columns

  // Strengths of the board.
  bool wood = true;
  double bend_flat = 0, bend_edge = 0;  ///< bending strength for loads up and down, fore and aft
  double edge_stress = 0, shear = 0, bearing = 0, crushing = 0;
  double net_strength = 0;  ///< metal: rupture on the net section
  double shear_area_y = 0, shear_area_z = 0;
  bool flat = true;  ///< wide side level
  double width = 0, depth = 0;

  std::vector<HoldDownData> hold_downs;
  std::array<LedgeData, 2> ledges;  ///< port, starboard
  std::vector<LegData> legs;
  std::vector<GearData> gear;

  [[nodiscard]] int gear_columns() const { return 4 + 6 * gears; }
  [[nodiscard]] int all_columns() const { return gear_columns() + 6 * people_points; }
};

}  // namespace thole::board

namespace thole {

/// What acts in a cross-board under one load.
struct BoardActions {
  const board::Model* model = nullptr;
  const double* support = nullptr;  ///< forces of the supports, rows of the condensed problem
  const double* cut = nullptr;      ///< cut_forces numbers for each cut
  const double* watched = nullptr;  ///< motions
  /// Force and moment about the base middle on top of the board, frame Base of each gear.
  std::array<Eigen::Matrix<double, 6, 1>, board::most_gears> gear{};
  std::array<bool, board::most_gears> loaded{};
  FatigueLife life;  ///< of the setup
  FatigueWay way = FatigueWay::straight;
  // Shared by several checks: filled by `checks::complete_ledges` and
  // `complete_feet`.
  std::array<double, 2> ledge_tension{}, ledge_shear{};  ///< of the most loaded bolt
  std::array<double, 2> ledge_upright{};                 ///< moment per width of the upright leg
  std::array<std::array<ContactResult, 2>, board::most_gears> foot{};
};

}  // namespace thole
