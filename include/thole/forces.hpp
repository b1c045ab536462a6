#pragma once

/// Forces under one load of a case, as figures: on every fastener, at every support and along a
/// board, with how far things move. For drawings, tables and a fabricator's own sums.

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

#include <thole/quantities.hpp>
#include <thole/vector.hpp>

namespace thole {

/// The load that a row is of.
struct Loading {
  std::size_t load_case = 0;  ///< index in `Assessment::cases`
  std::string gear;           ///< whose pull; "": nobody's (people, a ride)
  Force pull{};
  std::optional<Direction<Boat>> way;  ///< of the pull, axes of the side of `gear`
  std::optional<Angle> boom;           ///< azimuth of its boom, from astern toward outboard
  std::optional<Angle> raised;         ///< of its boom above level
  std::optional<Position<Board>> person_at;
  std::string words;  ///< "boom 45 deg, astern, 60 deg down"
};

/// One load that acts, as a force and what it turns about `at`. Axes of the board, from its port
/// end; of a plate those of its base, from the middle of it.
template <class Frame>
struct AppliedLoad {
  std::string name;  ///< "weight of the board", "weight of NAME", "pull on NAME", "person"
  Position<Frame> at;
  ForceVector<Frame> force;
  MomentVector<Frame> moment;
};

/// One fastener of a base, a fitting, a gear's foot or a ledge.
struct FastenerForce {
  std::string part;  ///< "" base, "cleat" a fitting, "port downrigger" a gear's foot, "port ledge"
  int number = 0;    ///< from 1, as on drawings and in the words of checks
  PlanPoint at;      ///< frame `Base` of its part; of a ledge: x along the row, y below the seat
  Force tension{};   ///< growth by a bending base included
  Force forward{};   ///< shear on the fastener by what it holds, along the axes of `at`
  Force outboard{};
  Force stiff{};         ///< of a plate: the tension under a base that does not bend
  bool at_most = false;  ///< of a ledge: no bolt of the row takes more, which it is is not known
};

/// One support of a board: what it does to the board, about the middle of what it presses.
struct SupportForce {
  std::string name;
  Position<Board> at;
  ForceVector<Board> on_board;
  bool open = false;  ///< it does not touch
};

/// Push of the wall on a base that does not bend, at the middle of what it presses.
struct BedForce {
  PlanPoint at;
  Force up{};
};

/// One cut of a board, forces on the part toward the port end, and where the board is there.
struct CutForce {
  Length from_port{};
  Force along{};     ///< pull
  Force fore_aft{};  ///< shear
  Force up_down{};   ///< shear
  Moment twist{};    ///< about the length
  Moment flat{};     ///< bends it up and down
  Moment edge{};     ///< bends it fore and aft
  Bimoment warping{};
  Length lift{};   ///< movement up, from the board without load
  Length shift{};  ///< movement forward
  Angle turn{};    ///< about the length, its forward edge up above zero
};

/// Movement of one gear from rest under gravity, rigid from its foot on.
struct GearMotion {
  std::string gear;
  Vector<Length, Boat> foot;  ///< axes of its side
  Vector<Length, Boat> tip;   ///< of the boom, the rim or the point that is pulled
  Angle turn{};
};

struct CaseForces {
  Loading loading;
  std::vector<AppliedLoad<Board>> on_board;  ///< all that acts: with `supports` in balance
  std::vector<AppliedLoad<Base>> on_base;    ///< the same of a plate, with `bed` and bolts
  std::optional<BedForce> bed;               ///< of a plate that presses
  std::vector<FastenerForce> fasteners;
  std::vector<SupportForce> supports;
  std::vector<CutForce> cuts;  ///< from the port end to the starboard one
  std::vector<GearMotion> motions;
};

}  // namespace thole
