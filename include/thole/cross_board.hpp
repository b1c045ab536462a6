#pragma once

/// The parts of a cross-board: a plank, tube or channel from side to side on ledges that only push,
/// held down by bolts that only pull, kept from twisting by legs that only push.
///
/// A place on the board is given as a person measures it: outboard of the inner edge of the ledge
/// on that side (inboard is negative), forward of the middle line of the board.

#include <optional>
#include <string>
#include <vector>

#include <thole/base_contact.hpp>
#include <thole/known.hpp>
#include <thole/material.hpp>
#include <thole/towed_line.hpp>
#include <thole/vector.hpp>
#include <thole/wood_strength.hpp>

namespace thole {

enum class Locking { none, nut, thread_locker };

/// What lies between a part and what it is fastened to.
enum class Bedding { none, sealant, plastic, rubber, wood };
[[nodiscard]] std::string_view word_for(Bedding bedding);

/// How a fastening is put together: matters for its tightening, never counts as strength.
struct Assembly {
  std::optional<bool> lubricated;  ///< nothing: not said
  std::optional<Locking> locking;  ///< nothing: not said, taken as none
  std::optional<Bedding> bedding;  ///< nothing: not said, which may be anything
  friend bool operator==(const Assembly&, const Assembly&) = default;
};

/// A plate or bar on the far side of what the fasteners go through.
struct Backing {
  Metal metal;
  Length thickness{};
  Length fore_aft{};
  Length athwart{};
  friend bool operator==(const Backing&, const Backing&) = default;
};

enum class Side { port, starboard };
[[nodiscard]] std::string_view word_for(Side side);

struct BoardPlace {
  Side side = Side::port;
  Length outboard{};
  Length forward{};
  friend bool operator==(const BoardPlace&, const BoardPlace&) = default;
};

enum class BoardForm {
  plank,
  plank_with_strip,  ///< plank laid flat, a strip on edge glued and bolted below it
  rectangular_tube,
  round_tube,
  channel_down,  ///< web on top, flanges down
  channel_up,    ///< web below, flanges up
};

struct BoardPiece {
  BoardForm form = BoardForm::plank;
  Length length{};
  Length width{};      ///< fore and aft, as laid; round tube: outside diameter
  Length thickness{};  ///< up and down, as laid; round tube: outside diameter
  Length wall{};       ///< tube, channel
  Length strip_thickness{};
  Length strip_depth{};
  Length strip_forward{};      ///< middle of the strip from the middle line of the plank
  std::optional<Wood> wood;    ///< one of the two
  std::optional<Metal> metal;  ///< one of the two
  std::optional<WoodStrength> wood_strength;  ///< nominal strengths of this piece as laid
  bool wet = true;
  bool treated = false;  ///< with waterborne preservative
};

enum class LedgeKind {
  angle,        ///< angle on the hull side: the board rests on its level leg
  gunwale_top,  ///< the board rests on the gunwale itself
  saddle,       ///< a solid block or bracket
};

/// What the ledge's own bolts enter.
enum class HullKind { metal_wall, laminate, timber };

/// One row of bolts through the upright leg of the angle, level, fore and aft.
struct LedgeFastening {
  HullKind hull = HullKind::metal_wall;
  std::optional<Metal> hull_metal;  ///< of a metal wall
  Length hull_thickness{};
  Thread thread;
  FastenerMaterial material;
  int count = 0;
  Length spacing{};                ///< from bolt to bolt
  Length below_seat{};             ///< row of bolts below the seat
  Length foot_below{};             ///< lower end of the upright leg below the seat
  std::optional<Washer> washer;    ///< behind the hull
  std::optional<Backing> backing;  ///< plate behind the hull
  Assembly assembly;
  friend bool operator==(const LedgeFastening&, const LedgeFastening&) = default;
};

struct Ledge {
  LedgeKind kind = LedgeKind::angle;
  Length along{};      ///< seat along the board
  Length fore_aft{};   ///< seat along the boat; what the board covers of it counts
  Length gap{};        ///< board above the seat before anything presses it down
  Angle flare{};       ///< how far the seat rises toward its inner edge (angle on a flared side)
  bool packed = true;  ///< a wedge takes the flare up: full bearing
  // angle only:
  std::optional<Metal> metal;
  Length leg_thickness{};
  bool root_outboard = true;                ///< the upright leg is on the outboard side
  std::optional<LedgeFastening> fastening;  ///< nothing: not described, not checked
  friend bool operator==(const Ledge&, const Ledge&) = default;
};

enum class HoldDownKind {
  eye_bolt,  ///< through board and seat, its shoulder or washer on the board
  bolt,
  u_bolt,  ///< two legs, straddles the board; one item each leg pair
  pin,     ///< keeps the board from sliding, does not pull
};

struct HoldDown {
  std::string name;  ///< "port forward eye bolt"
  HoldDownKind kind = HoldDownKind::eye_bolt;
  BoardPlace place;
  Thread thread;
  FastenerMaterial material;
  std::optional<EyeRating> eye;  ///< of an eye bolt
  Length washer{};    ///< outside diameter of the washer, shoulder or saddle on the board
  Length hole{};      ///< in the board
  Length slack{};     ///< lift of the board before it pulls
  Length standoff{};  ///< free shank between board and seat (packing), bends it
  Assembly assembly;
  friend bool operator==(const HoldDown&, const HoldDown&) = default;
};

enum class LegFoot { ledge, hull, thwart, floor };
[[nodiscard]] std::string_view word_for(LegFoot foot);

struct Leg {
  std::string name;
  BoardPlace place;     ///< of its top
  bool beside = false;  ///< fastened to the edge of the board: then `place.forward` is the edge
  Length length{};
  Length foot_forward{};   ///< foot forward of its top
  Length foot_outboard{};  ///< foot outboard of its top
  Length gap{};            ///< at the top or the foot
  Length fore_aft{};       ///< size of its section
  Length athwart{};
  std::optional<Length> wall;  ///< a metal tube
  std::optional<Wood> wood;
  std::optional<Metal> metal;
  std::optional<WoodStrength> wood_strength;
  LegFoot stands_on = LegFoot::hull;
  Angle foot_slope{};              ///< of what it stands on
  std::optional<double> friction;  ///< measured; else a wet value is assumed
  bool foot_held = false;          ///< a block or screw keeps the foot from sliding
  friend bool operator==(const Leg&, const Leg&) = default;
};

/// Bolts of a gear through the board.
struct GearFoot {
  Outline outline;  ///< frame `Base`: x forward, y outboard
  std::vector<PlanPoint> holes;
  Thread thread;
  FastenerMaterial material;
  Length washer{};               ///< outside diameter under the board; 0 with a plate
  Length hole{};                 ///< in washer and board
  std::optional<Backing> plate;  ///< under the board
  friend bool operator==(const GearFoot&, const GearFoot&) = default;
};

/// What a holder or the body of a gear takes, as its maker or a test has it: one of the two.
struct GearRating {
  std::optional<Moment> moment;  ///< at its base
  std::optional<Force> pull;     ///< at the rim or the boom tip, any way
  std::string source;
  friend bool operator==(const GearRating&, const GearRating&) = default;
};

struct Downrigger {
  Mass mass{};
  Length mass_height{};            ///< its middle above board or wall
  Length mass_reach{};             ///< its middle from the middle of the base, toward the tip
  Length boom_length{};            ///< base middle to tip, level
  Length tip_height{};             ///< tip above board or wall, boom level
  std::vector<Angle> boom_angles;  ///< from astern toward outboard
  std::vector<Angle> boom_raised{Angle{}};  ///< positions of the boom above level
  std::vector<Angle> stowed_angles;         ///< where it points when running; empty: anywhere
  Mass ball{};
  Density ball_density{};
  double ball_drag = 0.5;  ///< on its frontal area
  bool finned = false;     ///< a fin makes it track sideways
  WireKind wire = WireKind::strand_1x7;
  Length wire_diameter{};
  std::optional<Force> wire_break;  ///< as on the label; nothing: the cautious default
  Length depth{};
  Speed slowest{};  ///< through the water at the surface
  Speed fastest{};
  std::optional<Speed> slowest_at_ball;  ///< with current shear; both or none
  std::optional<Speed> fastest_at_ball;
  std::optional<Known<Force>> brake_slip;
  std::optional<Force> weak_link;  ///< breaking load of a link at the clip
  std::optional<GearRating> body_rating;
  bool powered = true;  ///< the winch has a motor, or it is not known
  Force winch_stall{};  ///< 0: as by default when powered, no case when cranked by hand

  struct Position {
    Angle azimuth;
    Angle raised;
  };
  /// Every position of the boom: each angle with each height.
  [[nodiscard]] std::size_t positions() const { return boom_angles.size() * boom_raised.size(); }
  [[nodiscard]] Position position(std::size_t i) const {
    return {boom_angles[i % boom_angles.size()], boom_raised[i / boom_angles.size()]};
  }
  friend bool operator==(const Downrigger&, const Downrigger&) = default;
};

struct CrossBoard {
  BoardPiece board;
  Length clear_width{};       ///< between the inner edges of the ledges
  Length port_overhang{};     ///< port end of the board beyond the inner edge of the port ledge
  Length starboard_higher{};  ///< starboard seat above the port seat
  Angle bow_up{};             ///< fore-and-aft slope of the seats
  Ledge port;
  Ledge starboard;
  std::vector<HoldDown> hold_downs;
  std::vector<Leg> legs;

  [[nodiscard]] const Ledge& ledge(Side s) const { return s == Side::port ? port : starboard; }
  /// Distance of a place from the port end of the board.
  [[nodiscard]] Length station(const BoardPlace& p) const;
};

}  // namespace thole
