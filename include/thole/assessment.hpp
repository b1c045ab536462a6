#pragma once

/// From a setup to a verdict: one plain value from which every report is drawn.

#include <optional>
#include <string>
#include <vector>

#include <thole/check.hpp>
#include <thole/forces.hpp>
#include <thole/stability.hpp>
#include <thole/tightening.hpp>

namespace thole {

enum class Verdict { holds, holds_if, does_not_hold, no_verdict };
[[nodiscard]] std::string_view word_for(Verdict v);

/// One failure mode under the case and direction that is worst for it.
struct CheckResult {
  std::string mode;
  std::string part;  ///< of a mount with several: "cleat", "other fasteners"; else empty
  std::string gives_way;
  Standing standing = Standing::applies;
  std::string why;  ///< when not checked or refused
  Measure demand;
  Measure strength;
  double factor = 0;
  double needed = 0;
  bool lowered = false;  ///< the user lowered the factor needed
  bool holds = false;
  int fastener = -1;
  std::string where;  ///< on a board: "port forward eye bolt", "310 mm from the port end"
  std::string case_title;
  std::string direction;
  Citation source;
  std::string valid;
  std::string accuracy;
  int outside_checks = 0;
  std::string advice;
  std::vector<std::string> assumed;  ///< inputs of this check that are assumed
  std::optional<Force> goes_at;      ///< pull at which strength is used up
  std::optional<Force> limit_at;     ///< pull at which the factor needed is used up
};

struct CaseResult {
  LoadCase load_case;
  std::string worst_mode;
  std::string worst_gives_way;
  double factor = 0;
  double needed = 0;
  bool holds = true;
  std::string direction;
  std::optional<Force> goes_at;
  std::string motion;  ///< a mechanism: no number
};

struct LadderStep {
  std::string what;
  std::optional<Force> low;   ///< not before about
  std::optional<Force> high;  ///< upper bound of a link that is meant to give way
  bool link = false;          ///< drag, line, holder: not part of the mount
  std::string mode{};         ///< of an item of the mount: id in the catalogue
  std::string part{};         ///< as in CheckResult
  bool known = true;          ///< false: a link that nobody has given a strength
  std::string gear{};         ///< whose link
  bool wrong = false;         ///< may go before what should let go first
};

/// Who goes before whom, by bounds: what is meant to give way before the holder, that before the
/// mount, and never the boat itself.
enum class Order {
  wanted,
  not_certain,  ///< a strength is not known, or only some of the links come first
  wrong,
};
[[nodiscard]] std::string_view word_for(Order o);

struct OrderRow {
  std::string gear;
  Order order = Order::not_certain;
  std::string words;  ///< "the line parts before the mount: the wanted order"
};

/// What the rest does when one item is gone, at the pull at which it went.
enum class Then {
  holds,     ///< the rest takes that pull
  follows,   ///< the next goes at once, and so on
  drops,     ///< it turns over, slides off or comes away
  tears,     ///< the boat itself is torn: wall, panel, timber
  gear_off,  ///< the gear leaves the mount
  bends,     ///< bent or dented, it stays: nothing is taken away
  unknown,   ///< it cannot be calculated
};
[[nodiscard]] std::string_view word_for(Then t);

/// One loss after another under one pull on one gear, each with the item removed and the rest
/// solved anew.
struct LossRow {
  std::string gear;
  std::string what;  ///< what goes, "threads pull out of the wall (fastener no. 2)"
  Force at{};        ///< pull at which it goes, the rest before it gone
  Then then = Then::unknown;
  std::string next;               ///< of the rest: what goes next
  std::optional<Force> holds_to;  ///< the rest: not before about
  std::string words;              ///< "the other three hold to about 90 lbf"
  std::string mode{};             ///< of what goes: id in the catalogue; "": it moves
};

struct WallRow {
  Length thickness{};
  std::string position;  ///< thinner, this, thicker
  std::string verdict;
  double worst_ratio = 0;  ///< factor / factor needed
  std::string gives_way;
  std::optional<Force> hold_limit;
};

struct FastenerRow {
  PlanPoint at;
  Force tension{};
  Force shear{};
};

/// One support of a board under the worst deciding case.
struct SupportRow {
  std::string name;
  Force force{};
  bool open = false;
};

/// How far the boom tip and the base of a gear move under its deciding pull.
struct MovementRow {
  std::string gear;
  Force pull{};
  Length tip{};
  Length base{};
  Angle turn{};
  std::string feel;    ///< in words
  bool rough = false;  ///< too large for the small rotations of the model
};

/// Limits of one gear in a part of its directions: one boom angle, or one part of the horizon.
struct RangeLimit {
  std::string where;                    ///< "boom 45 deg from astern", "line astern to the quarter"
  std::optional<Angle> boom;            ///< azimuth of the boom of a downrigger
  std::optional<DirectionRange> range;  ///< of the pull, of any other gear
  std::optional<Force> hold_limit;
  std::optional<Force> not_before;
  std::optional<Force> setting;       ///< by the mount
  std::optional<Force> boat_setting;  ///< by the boat's heel with the pull there
  std::string set_by;
  std::string first;
  std::string tips;
};

/// Limits of one gear.
struct GearLimit {
  std::string gear;
  std::optional<Force> hold_limit;
  std::optional<Force> not_before;
  std::optional<Force> setting;
  std::optional<Force> test_pull;
  std::string set_by;      ///< the mode that ends the hold limit
  std::string first;       ///< the mode that goes first
  std::string first_mode;  ///< its id, "" when it moves
  std::string direction;   ///< of the hold limit
  std::string tips;        ///< the motion, when tipping ends it
  /// Its pull when all balls hang up at once, at full factors; the setting keeps within it as well.
  std::optional<Force> all_hung_up;
  /// What its own holder or body takes by the rating given; the setting keeps within it as well.
  std::optional<Force> holder;
  /// A brake must hold the ball in waves: a setting below this is none that is of use.
  Force least_useful{};
  std::vector<RangeLimit> by_direction;  ///< with AssessOptions::by_direction
};

/// The towed line of one gear: what the counter reads, and how the wire pulls.
struct TowingRow {
  std::string gear;
  Length depth{};
  Length wire_out{};  ///< at the fastest, drag coefficient 1.5
  Length layback{};   ///< the same: how far the ball hangs behind the tip
  Length greatest_wire_out{};
  Force least_pull{};
  Force greatest_pull{};
  Angle least_angle{};  ///< from straight down
  Angle greatest_angle{};
  Speed slowest{};
  Speed fastest{};
  bool too_flat = false;  ///< some speed cannot reach the depth
};

/// What the butt of a rod does to its tube: every figure the greatest by itself over the deciding
/// cases of its line and their directions.
struct SocketRow {
  std::string gear;
  std::string case_title;  ///< of the greatest bending
  Force pull{};            ///< the same
  Force along{};           ///< pulls the rod out of the tube; below zero: pushes it in
  Force across{};          ///< of the line
  Moment bending{};
  Force at_rim{};  ///< couple over the depth of the butt in the tube, with the line's own part
  Force at_foot{};
  Moment twist{};  ///< about the normal of the base through its middle
};

/// The boat's side of a case. No stability check.
[[nodiscard]] std::string_view word_for(HeelLevel level);

struct HeelRow {
  std::string load_case;  ///< id
  std::string title;
  std::string gear;
  Force pull{};
  Moment moment{};  ///< greatest over its directions and boom positions, about the middle
  std::string direction;
  Length person_off_middle{};  ///< a person of 85 kg there heels the boat as much
  std::optional<Angle> heel;   ///< with one person of 85 kg at that side; nothing: beyond the curve
  std::optional<Angle> heel_alone;  ///< without that person
  std::optional<HeelLevel> level;   ///< nothing: the boat is not described
};

struct HeelPull {
  std::string gear;
  Force notice{};  ///< pull at which the first published threshold is reached, nobody at that side
  std::optional<Force> strong;  ///< with one person at that side: may come before `notice`, or at 0
  std::optional<Force> swamping;  ///< the same
  std::optional<Force> setting;  ///< (least of notice and swamping) / 1.5, / spool growth for a rod
};

struct BoatSide {
  bool described = false;     ///< by `boat:`
  Length gm{};                ///< height of the metacentre above the centre of gravity, as used
  std::string gm_from;        ///< "lean test", "estimate, low end"
  Angle edge_angle{};         ///< heel at which the gunwale meets the water
  Moment threshold{};         ///< 46 CFR 173.005
  std::vector<HeelRow> rows;  ///< worst first
  std::vector<HeelPull> pulls;
  std::vector<std::string> cautions;
  std::vector<Citation> sources;
};

/// The mount without one fastener (of a board: hold-down), assessed anew: the one that is missed
/// most of those tried.
struct MissingRow {
  std::string what;  ///< "fastener no. 2", "port forward eye bolt"
  int tried = 0;     ///< how many were taken away in turn
  int of = 0;        ///< how many there are
  Verdict verdict = Verdict::no_verdict;
  std::vector<std::string> reasons;  ///< of a refusal: how it moves
  double worst_ratio = 0;            ///< factor / factor needed
  std::string gives_way;
  std::optional<Force> hold_limit;
};

/// The same setup a little worse off: more load, or a part one size thinner.
struct MarginRow {
  std::string what;  ///< "20 % more load", "ledge 5 mm in place of 6 mm"
  bool more_load = false;
  Verdict verdict = Verdict::no_verdict;
  double worst_ratio = 0;  ///< factor / factor needed
  std::string gives_way;
  std::optional<Force> hold_limit;
};

struct Assessment {
  Verdict verdict = Verdict::no_verdict;
  std::string sentence;
  std::vector<std::string> reasons;   ///< of a refusal
  std::vector<std::string> holds_if;  ///< assumed inputs that the governing check hangs on
  std::vector<CheckResult> checks;    ///< worst first
  std::vector<CaseResult> cases;
  std::vector<FastenerRow> fasteners;  ///< under the worst deciding case and direction
  std::optional<Force> hold_limit;
  std::optional<Force> not_before;
  std::optional<Force> setting;  ///< largest drag to set
  std::optional<Force> test_pull;
  std::optional<Force> handhold;  ///< a hand on the holder: gives way at
  std::vector<LadderStep> ladder;
  std::string ladder_verdict;    ///< is the order benign
  std::vector<OrderRow> orders;  ///< the same of each gear
  std::vector<LossRow> losses;   ///< with AssessOptions::after_loss
  std::vector<WallRow> walls;
  std::vector<MarginRow> margins;    ///< with AssessOptions::margins
  std::vector<SupportRow> supports;  ///< of a board
  std::vector<MovementRow> movements;
  std::vector<GearLimit> gear_limits;
  std::vector<std::string> notes;  ///< mechanisms' remedies, ranges assessed
  std::vector<TowingRow> towing;
  std::vector<SocketRow> sockets;
  std::vector<TighteningRow> tightening;
  std::optional<Force> everyday_tension;  ///< of a plate: greatest on one fastener, everyday cases
  BoatSide boat;
  std::optional<MissingRow> one_missing;
  std::vector<CaseForces>
      forces;  ///< with AssessOptions::forces: of each calculated case, its worst
  std::optional<std::size_t> worst_forces;  ///< index in `forces`: of the worst check under load
  std::vector<std::string> look_again;      ///< figures that look like another quantity
  std::vector<std::string> case_changes;    ///< what the owner did to the list of cases
  std::vector<std::string> to_do;
  std::vector<std::string> cautions;
  std::vector<std::string> not_checked;
  std::vector<Citation> sources;
};

struct AssessOptions {
  Angle step = degrees(5);    ///< grid of directions
  bool neighbours = true;     ///< also the next thinner and thicker wall
  bool one_missing = false;   ///< also without the fastener or hold-down that is missed most
  bool by_direction = false;  ///< limits of each gear in each part of its directions as well
  bool after_loss = false;    ///< what the rest does when the first to go is gone
  bool margins = false;       ///< 20 % more load, next thinner parts
  bool forces = false;        ///< on every fastener and support, under the worst of each case
  /// Times every pull on a line, wire, tip or point of the cases; weights and people as they are.
  double pull_scale = 1;
};

/// Where the boom of one gear may point: its own deciding cases at one azimuth.
struct BoomRow {
  std::string gear;
  Angle azimuth{};         ///< from astern toward outboard
  bool allowed = false;    ///< among the boom angles of the setup
  double worst_ratio = 0;  ///< factor / factor needed; 0: tips
  std::string gives_way;
  std::string case_title;
  std::optional<Force> hold_limit;
  std::optional<Moment> heeling;  ///< at that limit
};

/// Polar sweep of the worst factor by boom azimuth, every `step` all round, for each downrigger.
/// Source, Valid, Accuracy: as `assess`. Throws DomainError as `assess`, and for a setup without a
/// downrigger.
[[nodiscard]] std::vector<BoomRow> boom_sweep(const Setup& setup, Angle step = degrees(15),
                                              const AssessOptions& options = {});

/// What the report says beside the checks, without any check: towed lines, sockets, the boat's
/// side, figures to look at again, changes to the cases. The rest of the assessment is empty.
[[nodiscard]] Assessment beside_the_checks(const Setup& setup, const std::vector<LoadCase>& cases);

/// Source: each check names its own. Valid: a setup that `validate` takes. Accuracy: per check; the
/// direction grid moves no governing factor by 1 %. Throws DomainError for an unusable setup.
[[nodiscard]] Assessment assess(const Setup& setup, const AssessOptions& options = {});

}  // namespace thole
