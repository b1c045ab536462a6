#pragma once

/// A setup: boat, mount, gear and use, typed and complete. The reader makes it from a file; a
/// program may fill it in as well, then `validate` must be called.

#include <map>
#include <optional>
#include <string>
#include <variant>
#include <vector>

#include <thole/base_contact.hpp>
#include <thole/boat.hpp>
#include <thole/cross_board.hpp>
#include <thole/display.hpp>
#include <thole/fit.hpp>
#include <thole/known.hpp>
#include <thole/material.hpp>
#include <thole/vector.hpp>
#include <thole/wood_strength.hpp>

namespace thole {

/// What the fastenings enter.
enum class HostKind {
  metal_wall,
  timber,       ///< solid wood
  plywood,      ///< a panel: strengths mostly as the owner gives them
  laminate,     ///< solid fibre-reinforced plastic
  cored_panel,  ///< two skins on a core
};
[[nodiscard]] std::string_view word_for(HostKind kind);

enum class WallForm {
  closed_section,  ///< a flat between two bends: box gunwale, closed extrusion
  open_lip,        ///< a flange with one free long edge
  sheet,           ///< a wide sheet, stiffened some way off
};

enum class HoldBy {
  tapped,         ///< threads cut in the wall itself
  tapped_bar,     ///< threads in a bar or doubler behind the wall
  through_bolt,   ///< nut behind, with washer and perhaps a backing plate
  lag_screw,      ///< in timber
  wood_screw,     ///< in timber
  thread_insert,  ///< screw in a coil or solid insert in tapped metal: the wall, or the bar behind
  blind_insert,   ///< screw in a threaded rivet, set from one side of a metal wall
  self_tapping,   ///< screw with a spaced thread that makes its own in a metal wall
  rivet,          ///< through metal parts
  u_bolt,         ///< over a fitting of the boat, a cleat or rail; of a bracket only
  clamp,          ///< jaws round an edge; of a bracket only
};
/// "through bolts", "tapped screws" ...
[[nodiscard]] std::string_view plural_of(HoldBy hold);
[[nodiscard]] inline bool in_wood(HoldBy h) {
  return h == HoldBy::lag_screw || h == HoldBy::wood_screw;
}

enum class Category { everyday, occasional, accident };
[[nodiscard]] std::string_view word_for(Category c);

/// A strength that is in no table: as its owner has it, from a test or a maker's sheet.
struct GivenStrength {
  Stress value{};
  std::string source;
};

struct GivenForce {
  Force value{};
  std::string source;
};

struct GivenMoment {
  Moment value{};
  std::string source;
};

/// Timber or plywood under the base.
struct WoodHost {
  std::optional<Wood> wood;              ///< timber
  std::optional<WoodStrength> strength;  ///< timber: nominal strengths of the piece
  double specific_gravity = 0;           ///< for the bearing of bolts and the hold of screws
  Stress bearing{};                      ///< across the grain, nominal: the dent limit
  double connection = 0;                 ///< KF CM: times a reference value of a fastening
  bool grain_fore_aft = true;
  Length width{};  ///< timber: of the piece, across the grain
  bool wet = true;
  bool treated = false;  ///< with waterborne preservative
};

/// Solid laminate, skins of a cored panel, plywood: strengths only as their owner has them.
struct PanelHost {
  std::optional<GivenStrength> punch_shear;  ///< through the thickness
  std::optional<GivenStrength> bearing;      ///< of a bolt on its hole
  std::optional<GivenStrength> core_crush;
  std::optional<GivenStrength> flexural;  ///< of the laminate or, cored, in-plane of the skins
  Length skin{};                          ///< the thinner skin of a cored panel
  Length between_skins{};                 ///< of a cored panel, from middle to middle of the skins
  std::string core;                       ///< in words: "balsa"
  bool solid_at_bolts = false;  ///< the core is replaced by a solid plug or sleeve at each bolt
};

/// The gunwale as a bar that turns between what ties it to the hull: ribs, knees, thwarts, gussets.
struct GunwaleBar {
  Length between_ties{};  ///< from the tie ahead of the base to the one behind it
  Length depth{};         ///< of its section, square to the flat
};

/// The wall that the fastenings enter. Lengths are across the boat unless named otherwise. Of hosts
/// that are no metal wall, `form`, `metal`, `flat` and `to_support` are unused, and `thickness` is
/// that of the whole piece.
struct Host {
  HostKind kind = HostKind::metal_wall;
  WallForm form = WallForm::closed_section;
  Metal metal;
  Length thickness{};
  Length flat{};                 ///< width of the flat, its two edges included (not for a sheet)
  bool lip_root_inboard = true;  ///< open lip: the side that it hangs on
  Length to_support{};  ///< sheet, panel: base centre to the nearest stiffener, bend or support
  std::optional<GunwaleBar> bar;
  std::optional<Length> to_end;  ///< base centre to the nearest free end of the wall, fore and aft
  Angle slope{};                 ///< how far the face falls toward outboard
  bool screw_channel = false;    ///< fasteners go into an open screw channel of an extrusion
  /// Not a metal wall: base centre to the nearest edge, of timber that across the grain (`to_end`:
  /// along it). Which edge is not asked: both are taken there.
  Length to_edge{};
  WoodHost wood;    ///< timber, plywood
  PanelHost panel;  ///< plywood, laminate, cored panel

  [[nodiscard]] bool is_metal() const { return kind == HostKind::metal_wall; }
};

/// The base plate. Points are in frame `Base`, already turned.
struct BasePlate {
  Outline outline;
  std::optional<Metal> metal;  ///< nothing: a plastic or unknown base, not checked
  Length thickness{};
  std::optional<Length> body;  ///< smaller width of the foot of the body on the base
  Length from_inboard_edge{};  ///< base centre from the inboard edge of the flat
  /// Rectangle with rows square to its sides, turned by this angle: levers are taken along the
  /// sides. Any other shape: nothing, and levers are taken from the middle, which is cautious.
  std::optional<Angle> sides_turned;
};

/// A coil of wire or a solid, keyed piece with a thread outside and inside, in tapped metal.
struct ThreadInsert {
  bool solid = false;  ///< else a coil
  Length length{};     ///< as set, all of it in metal
  /// Solid: what its maker says that it pulls out of this metal with; no published rule covers it.
  std::optional<GivenForce> pull_out;
};

/// A threaded rivet. What it holds in a sheet is in no standard at hand.
struct BlindInsert {
  enum class Metal { aluminium, steel, stainless };
  Metal metal = Metal::aluminium;
  Length flange{};                         ///< diameter, on the side it is set from
  Length bulb{};                           ///< diameter behind the wall, as set
  Length hole{};                           ///< in the wall
  std::optional<GivenForce> pull_out;      ///< out of such a wall: a test or the maker
  std::optional<GivenForce> thread_holds;  ///< proof load of its thread
  std::optional<GivenMoment> turns_at;     ///< torque at which it spins in such a wall
  BlindInsertRow like;                     ///< of other makers, from the tables
};

/// A solid or blind rivet; `Fastening::material` is its metal.
struct RivetKind {
  bool blind = false;
  std::optional<GivenForce> tension;  ///< in no table
  std::optional<GivenForce> shear;    ///< blind: in no table
};

struct Fastening {
  HoldBy hold = HoldBy::tapped;
  Thread thread;
  FastenerMaterial material;
  std::vector<PlanPoint> holes;
  bool rows_along_sides = false;   ///< rows square to the sides of the base
  Length packing{};                ///< pad between base and host that the fasteners bend over
  Length head{};                   ///< diameter of head or washer on the base
  bool countersunk_wall = false;   ///< a chamfer takes half a thread away
  std::optional<Washer> washer;    ///< under the nut
  std::optional<Backing> backing;  ///< plate or tapped bar behind the wall
  Assembly assembly;
  // Lag and wood screws: their nominal size stands in `thread` too.
  std::optional<WoodFastener> screw;
  Length length{};    ///< under the head
  Length threaded{};  ///< of it, with the tip
  std::optional<ThreadInsert> insert;
  std::optional<BlindInsert> blind;
  std::optional<RivetKind> rivet;
  /// Strength of the group in its plane by the instantaneous centre, not elastic: an option for
  /// steel bolts between steel parts only.
  bool instantaneous_centre = false;
};

/// A fitting of the boat, a cleat, that U-bolts go over. It stands on its own fasteners.
struct Fitting {
  std::string name = "cleat";
  PlanPoint at;         ///< middle of its foot, frame `Base` of the bracket
  BasePlate foot;       ///< about its middle
  Fastening fastening;  ///< its own, into the host; holes about its middle
  Length height{};      ///< of what the U-bolts go over, above the host
};

/// A clamp: one item per hole of the fastening, which is where its screw presses.
struct Clamp {
  bool under_edge = true;  ///< a jaw reaches under the wall; else it grips two faces by friction
  std::optional<GivenForce> holds;  ///< one clamp, pulled open
  Moment tightened{};               ///< torque on each screw
};

/// An angle of metal along the lower side of the plate, or the like, that bends with it.
struct Stiffener {
  Metal metal;
  Length leg{};
  Length thickness{};
  PlanPoint from, to;  ///< its line in plan
};

/// What makes a base a bracket: it goes over an edge or a gap, and its gear stands beyond. Its
/// "base centre", the origin of frame `Base`, is the middle of its fasteners.
struct Bracket {
  std::vector<Outline> bears_on;   ///< parts of the plate that find the host, frame `Base`
  std::vector<bool> firm;          ///< each of them: over a rib, a knee or the turned edge itself
  std::optional<Fitting> fitting;  ///< of hold u_bolt
  std::optional<Clamp> clamp;      ///< of hold clamp
  std::vector<Stiffener> stiffeners;
  bool stop = false;               ///< a lip, pin or bolt keeps it from sliding and turning
  std::optional<double> friction;  ///< measured, wet
  PlanPoint gear_at;               ///< middle of the gear's foot
  Length gear_width{};             ///< smaller width of the gear's foot on the plate
};

struct GunwalePlate {
  Host host;
  BasePlate base;
  Fastening fastening;
  /// Other fasteners of the same base, of another kind: their stiffness against the first is not
  /// known.
  std::optional<Fastening> second;
  std::optional<Bracket> bracket;
};

/// Directions in frame `Boat`: azimuth 0 astern, 90 deg outboard, 180 deg ahead; dip below level.
struct DirectionRange {
  Angle azimuth_from{};
  Angle azimuth_to{};
  Angle dip_from{};
  Angle dip_to{};
  friend bool operator==(const DirectionRange&, const DirectionRange&) = default;
};
[[nodiscard]] Direction<Boat> line_direction(Angle azimuth, Angle dip);

struct RodHolder {
  Length height{};   ///< rim of the tube above the wall
  Length forward{};  ///< rim from the base centre
  Length outboard{};
  Angle lean{};    ///< tube from upright
  Angle toward{};  ///< azimuth toward which it leans
  Length rod_length{};
  std::optional<BendingStiffness> butt_stiffness;
  Force line_test{};
  Known<Force> drag;
  double spool_growth = 1.5;  ///< full over least spool radius: the pull grows by it
  Force running_pull{};
  Mass mass{};                     ///< rod, reel and holder
  Length tube_depth{};             ///< of the butt in the tube; 0: not known
  std::optional<Force> weak_link;  ///< breaking load of a lighter leader or link at the line's end
  std::optional<GearRating> holder_rating;
  friend bool operator==(const RodHolder&, const RodHolder&) = default;
};

struct PlainLoad {
  Position<Base> at;
  Force pull{};
  DirectionRange range;
  Category category = Category::occasional;
  Mass mass{};
  friend bool operator==(const PlainLoad&, const PlainLoad&) = default;
};

struct Gear {
  std::string name;
  std::optional<RodHolder> rod_holder;  ///< one of the three
  std::optional<PlainLoad> plain_load;
  std::optional<Downrigger> downrigger;
  BoardPlace place;              ///< on a cross-board
  std::optional<GearFoot> foot;  ///< on a cross-board; nothing: not checked
  friend bool operator==(const Gear&, const Gear&) = default;
};

/// How the boat and the mount are used.
struct BoatUse {
  bool not_a_seat = false;  ///< nobody sits or steps on the board
  /// Vertical acceleration on top of gravity when running, in g; nothing: from the boat's data, or
  /// the cautious default.
  std::optional<double> running_peak;
  bool gear_off_on_road = false;  ///< the gear travels off its mount
  double hours_per_season = 100;
  double road_hours_per_season = 20;        ///< on the trailer with the gear on (judgement)
  std::optional<double> water_temperature;  ///< deg C
};

/// What the owner does to the list of load cases.
struct CaseEdit {
  enum class What { change, leave_out, add };
  What what = What::change;
  std::string name;  ///< id of a case, or its kind for every gear; of a new case: any words
  std::string why;
  std::optional<Force> pull;
  std::optional<double> peak;  ///< of a running case, in g on top of gravity
  std::optional<Category> category;
  std::optional<bool> decides;
  std::optional<DirectionRange> range;
  std::string gear;  ///< add: on whose tip, line or point; "": on the board or rim itself
};

enum class Answer { no, yes, not_known };

/// What somebody saw who looked.
struct Condition {
  Answer cracks = Answer::not_known;
  Answer loose_rivets = Answer::not_known;
  Answer bent_or_corroded = Answer::not_known;
  Answer soft_wood_or_core = Answer::not_known;
  Answer weld_near_base = Answer::not_known;
  std::string within_150_mm;  ///< rib, knee, thwart, gusset, nothing, "" = not answered
};

/// A pull by hand with a scale, and how far it moved: as somebody measured it.
struct TestPull {
  std::string gear;
  std::string toward;  ///< word of the file: "astern", "outboard", "down" ...
  std::optional<Angle> boom;
  Force pull{};
  Length moved{};                ///< where the card says
  std::optional<Length> stayed;  ///< what was left of it after letting go
};

struct Setup {
  std::string title;
  std::string file;
  ReaderUnits units = ReaderUnits::inch;
  bool salt_water = false;
  std::variant<GunwalePlate, CrossBoard> mount;
  BoatUse use;
  std::optional<BoatData> boat;
  std::vector<Gear> gear;
  std::vector<CaseEdit> case_edits;
  std::vector<TestPull> test_pulls;
  Condition condition;
  std::optional<FitPlan> fit;  ///< motor, hands, rods and what else may be in the way
  std::map<std::string, double> factor_overrides;  ///< group -> factor
  std::vector<Input> inputs;
  std::map<std::string, TableValue> required_factors;  ///< from the tables
  std::vector<Length> common_walls;
  /// Times every pull on a line, wire, tip or point; set by `assess` from its options, never read.
  double pull_scale = 1;

  [[nodiscard]] bool on_board() const { return std::holds_alternative<CrossBoard>(mount); }
  /// The mount of its kind; throw std::bad_variant_access for the other kind.
  [[nodiscard]] GunwalePlate& plate() { return std::get<GunwalePlate>(mount); }
  [[nodiscard]] const GunwalePlate& plate() const { return std::get<GunwalePlate>(mount); }
  [[nodiscard]] CrossBoard& board() { return std::get<CrossBoard>(mount); }
  [[nodiscard]] const CrossBoard& board() const { return std::get<CrossBoard>(mount); }
};

/// Throws DomainError with the first rule that the setup breaks: sizes above zero, fasteners under
/// the base and on the wall, a pattern that can take a twist, one kind of gear each ...
void validate(const Setup& setup);

}  // namespace thole
