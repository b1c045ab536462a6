#include "core/board_rules.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

#include <thole/display.hpp>
#include <thole/error.hpp>

#include "core/geometry.hpp"

namespace thole {
namespace {

using namespace literals;

constexpr std::size_t most_gears = 4;
constexpr std::size_t most_hold_downs = 16;
constexpr std::size_t most_legs = 8;
constexpr std::size_t most_boom_angles = 24;
constexpr std::size_t most_heights = 6;
constexpr std::size_t most_positions = 48;  // each is searched by itself
constexpr std::size_t most_sets = 100;      // the same: some 0.2 s for each gear and set

// What lies a hair beyond an edge after rounding lies on it.
const Length hair = 0.001_mm;

Length apart(const BoardPlace& a, const BoardPlace& b) {
  const double d = std::hypot((a.outboard - b.outboard).value(), (a.forward - b.forward).value());
  return d * si::metre;
}

class Breaks {
 public:
  /// `words`: with figures in the texts of the rules; writing them takes nearly all of the time.
  explicit Breaks(ReaderUnits u, bool words = true) : u_(u), words_(words) {}

 protected:
  struct At {
    BoardPart part = BoardPart::mount;
    std::size_t index = 0;
  };

  bool rule(const At& at, bool good, const std::string& key, const std::string& text) {
    if (!good) broken_.push_back({at.part, at.index, key, text});
    return good;
  }
  template <class Q>
  bool above_zero(const At& at, Q v, const std::string& key, const std::string& what) {
    return rule(at, v.value() > 0 && std::isfinite(v.value()), key, what + " must be above zero");
  }
  bool within(const At& at, Length v, Length least, Length most, const std::string& key,
              const std::string& what) {
    return rule(at, v >= least && v <= most, key,
                what + " is " + text(v) + ", expected " + text(least) + " to " + text(most));
  }
  [[nodiscard]] std::string text(Length v) const { return words_ ? show(v, u_) : ""; }
  [[nodiscard]] std::string text(Force v) const { return words_ ? show(v, u_) : ""; }
  [[nodiscard]] std::string text(Angle v) const { return words_ ? show(v) : ""; }

  const ReaderUnits u_;
  const bool words_;
  std::vector<BrokenRule> broken_;
};

/// On one plate every boom position of one downrigger is searched with every one of the others.
class SetsOfPositions : Breaks {
 public:
  explicit SetsOfPositions(ReaderUnits u) : Breaks(u, true) {}

  std::vector<BrokenRule> all(const Setup& s) {
    std::size_t working = 1;
    std::size_t stowed = 1;
    for (std::size_t i = 0; i < s.gear.size(); ++i) {
      const auto& d = s.gear[i].downrigger;
      if (!d) continue;
      const At at{BoardPart::gear, i};
      working = times(at, working, d->positions(), "boom_angles", "boom positions");
      // Those that may be stowed any way point alike.
      stowed = times(at, stowed, std::max<std::size_t>(d->stowed_angles.size(), 1), "stowed_angles",
                     "stowed angles");
    }
    return std::move(broken_);
  }

 private:
  std::size_t times(const At& at, std::size_t before, std::size_t own, const char* key,
                    const std::string& of) {
    if (before > most_sets) return before;  // told already
    const std::size_t sets = before * own;
    rule(at, sets <= most_sets, key,
         "with those of the gear before it that is " + std::to_string(sets) + " sets of " + of +
             " on one plate, each with each: at most " + std::to_string(most_sets));
    return sets;
  }
};

class DownriggerRules : Breaks {
 public:
  explicit DownriggerRules(ReaderUnits u, bool words = true) : Breaks(u, words) {}

  std::vector<BrokenRule> all(const Downrigger& d, std::size_t index, const std::string& the) {
    const At at{BoardPart::gear, index};
    above_zero(at, d.mass, "mass", "the mass of " + the);
    rule(at, d.mass <= 100.0_kg, "mass", the + " has more than 100 kg (220 lb)");
    within(at, d.mass_height, Length{}, 2.0_m, "mass_height", "the middle of the mass of " + the);
    if (above_zero(at, d.boom_length, "boom_length", "the boom of " + the)) {
      rule(at, d.boom_length <= 3.0_m, "boom_length",
           the + " has a boom of " + text(d.boom_length) + ": at most 3 m (9 ft 10 in)");
    }
    within(at, d.tip_height, -2.0_m, 3.0_m, "tip_height", "the boom tip of " + the);
    rule(at, !d.boom_angles.empty() && d.boom_angles.size() <= most_boom_angles, "boom_angles",
         the + " needs 1 to 24 boom angles");
    rule(at, !d.boom_raised.empty() && d.boom_raised.size() <= most_heights, "boom_raised",
         the + " needs 1 to 6 heights of the boom");
    rule(at, d.positions() <= most_positions, "boom_raised",
         the + " has " + std::to_string(d.positions()) +
             " positions of its boom, angles times heights: at most 48");
    for (const Angle& a : d.boom_raised) {
      rule(at, in_degrees(a) >= -30.001 && in_degrees(a) <= 90.001, "boom_raised",
           "a boom raised by " + text(a) + ": -30 to 90 deg");
    }
    rule(at, d.stowed_angles.size() <= most_boom_angles, "stowed_angles",
         the + " has more than 24 stowed angles");
    rule(at, d.mass_reach >= -0.5_m && d.mass_reach <= d.boom_length + hair, "mass_reach",
         "the middle of the mass of " + the + " is " + text(d.mass_reach) +
             " toward the tip, expected " + text(-0.5_m) + " to the boom length of " +
             text(d.boom_length));
    above_zero(at, d.ball, "ball", "the ball of " + the);
    rule(at, d.ball <= 50.0_kg, "ball", the + " has a ball above 50 kg (110 lb)");
    rule(at, d.ball_density.value() > 1100, "ball_metal", the + " has a ball that hardly sinks");
    within(at, d.wire_diameter, 0.1_mm, 5.0_mm, "wire_diameter", "the wire of " + the);
    above_zero(at, d.depth, "depth", "the depth of " + the);
    rule(at, d.slowest.value() > 0 && d.fastest >= d.slowest, "speed",
         "the speed of " + the + " must be above zero, slowest first");
    rule(at, d.fastest.value() <= 10, "speed", "nobody fishes " + the + " above 10 m/s (22 mph)");
    if (rule(at, d.slowest_at_ball.has_value() == d.fastest_at_ball.has_value(), "speed_at_ball",
             "the speed at the ball of " + the + " needs both its ends") &&
        d.slowest_at_ball) {
      rule(at, d.slowest_at_ball->value() >= 0 && *d.fastest_at_ball >= *d.slowest_at_ball,
           "speed_at_ball",
           "the speed at the ball of " + the + " must not be below zero, slowest first");
      rule(at, d.fastest_at_ball->value() <= 10, "speed_at_ball",
           "no water runs past the ball of " + the + " above 10 m/s (22 mph)");
    }
    rule(at, d.ball_drag >= 0.2 && d.ball_drag <= 2, "ball_drag",
         "the drag coefficient of the ball of " + the + " lies between 0.2 and 2");
    const auto force = [&](const std::optional<Force>& f, const char* key, const char* what) {
      if (f) above_zero(at, *f, key, std::string(what) + " of " + the);
    };
    force(d.wire_break, "wire_break", "the breaking load of the wire");
    force(d.weak_link, "weak_link", "the weak link");
    const Force least = 3.0 * d.ball * standard_gravity;
    rule(at, !d.weak_link || *d.weak_link >= least, "weak_link",
         "a weak link below three times the weight of the ball, " + text(least) +
             ", parts while trolling");
    rule(at, !d.wire_break || *d.wire_break >= least, "wire_break",
         "a wire below three times the weight of the ball, " + text(least) +
             ", parts while trolling");
    const Force weight = d.ball * standard_gravity;
    rule(at, d.winch_stall.value() == 0 || d.winch_stall >= weight, "winch_stall",
         "a winch that stalls at " + text(d.winch_stall) + " does not lift its ball of " +
             text(weight));
    if (d.brake_slip) above_zero(at, d.brake_slip->value, "brake_slip", "the brake slip of " + the);
    return std::move(broken_);
  }
};

class Rules : Breaks {
 public:
  explicit Rules(const Setup& s, bool words = true)
      : Breaks(s.units, words), s_(s), b_(s.board()) {}

  std::vector<BrokenRule> all() {
    board();
    if (!broken_.empty()) return std::move(broken_);  // the rest would follow from it
    ledge(BoardPart::port_ledge, Side::port);
    ledge(BoardPart::starboard_ledge, Side::starboard);
    hold_downs();
    legs();
    gears();
    return std::move(broken_);
  }

 private:
  [[nodiscard]] Length overhang(Side side) const {
    return side == Side::port ? b_.port_overhang
                              : b_.board.length - b_.clear_width - b_.port_overhang;
  }
  // How far a place lies inside the nearer end of the board.
  [[nodiscard]] Length to_end(const BoardPlace& p) const {
    const Length x = b_.station(p);
    return std::min(x, b_.board.length - x);
  }

  void board() {
    const BoardPiece& p = b_.board;
    const At at{BoardPart::board};
    const bool round = p.form == BoardForm::round_tube;
    const bool tube = round || p.form == BoardForm::rectangular_tube;
    const bool channel = p.form == BoardForm::channel_down || p.form == BoardForm::channel_up;
    const bool strip = p.form == BoardForm::plank_with_strip;
    const char* width = round ? "diameter" : "width";
    bool sized = above_zero(at, p.length, "length", "the length of the board");
    sized = above_zero(at, p.width, width, "the width of the board") && sized;
    sized = above_zero(at, p.thickness, "thickness", "the thickness of the board") && sized;
    if (!sized) return;
    rule(at, p.length <= 4.0_m, "length",
         "a board of " + text(p.length) + " is no board of a small boat: at most 4 m (13 ft)");
    rule(at, p.width <= 24.0_in, width,
         "a board " + text(p.width) + " wide is no board of a small boat: at most 24 in (610 mm)");
    rule(at, p.thickness <= 6.0_in, "thickness",
         "a board " + text(p.thickness) +
             " thick is no board of a small boat: at most 6 in (150 mm)");
    rule(at, p.length > p.width, "length", "the board is wider than it is long");
    rule(at, p.wood.has_value() != p.metal.has_value(), "", "a board is of wood or of metal");
    rule(at, p.wood.has_value() == !(tube || channel), "",
         "planks are of wood, tubes and channels of metal");
    if (p.wood) {
      rule(at, p.wood_strength.has_value(), "wood", "the board needs the strengths of its wood");
    }
    if (p.metal) {
      above_zero(at, p.metal->yield, "alloy", "the yield strength of the board");
      above_zero(at, p.metal->ultimate, "alloy", "the ultimate strength of the board");
      above_zero(at, p.metal->modulus, "alloy", "the modulus of the board");
    }
    if ((tube || channel) && above_zero(at, p.wall, "wall", "the wall thickness of the board")) {
      const Length room = tube ? std::min(p.width, p.thickness) : p.width;
      rule(at, 2.0 * p.wall < room, "wall",
           "two walls of " + text(p.wall) + " fill a section " + text(room) + " across");
      rule(at, !channel || p.wall < p.thickness, "wall",
           "a web of " + text(p.wall) + " fills a channel " + text(p.thickness) + " high");
    }
    if (strip) {
      if (above_zero(at, p.strip_thickness, "strip.thickness", "the thickness of the strip")) {
        rule(at, abs(p.strip_forward) + 0.5 * p.strip_thickness <= 0.5 * p.width + hair,
             "strip.forward", "the strip lies beyond the edge of the plank");
      }
      if (above_zero(at, p.strip_depth, "strip.depth", "the depth of the strip")) {
        rule(at, p.strip_depth <= 4.0 * p.strip_thickness, "strip.depth",
             "a strip deeper than four times its thickness folds over");
        rule(at, std::abs(p.strip_forward.value()) < 1e-6, "strip.forward",
             "a strip off the middle line of the plank is not computed yet");
        rule(at, p.strip_depth <= 12.0_in, "strip.depth",
             "a strip " + text(p.strip_depth) + " deep: at most 12 in (305 mm)");
      }
    }

    const At mount{BoardPart::mount};
    if (!above_zero(mount, b_.clear_width, "clear_width", "the width between the ledges")) return;
    if (!rule(mount, b_.clear_width < p.length, "clear_width",
              "the board, " + text(p.length) + " long, does not reach over a clear width of " +
                  text(b_.clear_width))) {
      return;
    }
    for (const Side side : {Side::port, Side::starboard}) {
      rule(mount, overhang(side).value() > 0, "port_overhang",
           "the " + std::string(word_for(side)) + " end of the board falls " +
               text(-overhang(side)) + " short of its ledge");
    }
    within(mount, b_.starboard_higher, -0.25 * b_.clear_width, 0.25 * b_.clear_width,
           "starboard_higher", "the height of the starboard seat above the port one");
    rule(mount, std::abs(in_degrees(b_.bow_up)) <= 30, "bow_up",
         "seats that slope " + text(b_.bow_up) + " along the boat: at most 30 deg");
  }

  void ledge(BoardPart part, Side side) {
    const At at{part};
    const Ledge& l = b_.ledge(side);
    const std::string the = "the " + std::string(word_for(side)) + " ";
    if (above_zero(at, l.along, "along", the + "seat along the board")) {
      rule(at, l.along <= overhang(side) + hair, "along",
           the + "seat reaches " + text(l.along) + " outboard, past the end of the board at " +
               text(overhang(side)) +
               (l.kind == LedgeKind::angle ? ": the board must lie on all of it"
                                           : ": along is what the board covers of it"));
    }
    if (above_zero(at, l.fore_aft, "fore_aft", the + "seat along the boat")) {
      rule(at, l.fore_aft <= 2.0_m, "fore_aft", the + "seat is longer than 2 m (6 ft 7 in)");
    }
    within(at, l.gap, Length{}, 5.0_mm, "gap", "the gap over " + the + "seat");
    rule(at, in_degrees(l.flare) >= 0 && in_degrees(l.flare) <= 45, "flare",
         the + "seat rises by " + text(l.flare) + ": at most 45 deg");
    if (l.kind != LedgeKind::angle) return;
    rule(at, l.metal.has_value(), "alloy", the + "angle needs its metal");
    if (above_zero(at, l.leg_thickness, "leg_thickness", "the thickness of " + the + "angle")) {
      rule(at, 2.0 * l.leg_thickness < l.along, "leg_thickness",
           the + "angle, " + text(l.leg_thickness) + " thick, has no leg of " + text(l.along));
    }
    if (l.fastening) fastening(at, l, *l.fastening, the);
  }

  void fastening(const At& at, const Ledge& l, const LedgeFastening& f, const std::string& the) {
    const std::string bolts = "the bolts of " + the + "ledge";
    const Length d = f.thread.diameter;
    above_zero(at, f.hull_thickness, "fastening.hull_thickness", "the thickness of the hull");
    rule(at, (f.hull == HullKind::metal_wall) == f.hull_metal.has_value(), "fastening.hull_alloy",
         "a metal hull needs its metal, and no other has one");
    if (!above_zero(at, d, "fastening.thread", "the thread of " + bolts)) return;
    rule(at, f.count >= 2 && f.count <= 24, "fastening.count",
         "2 to 24 bolts hold a ledge: on one it swings");
    if (f.count > 1 && above_zero(at, f.spacing, "fastening.spacing", "the spacing of " + bolts)) {
      rule(at, f.spacing > f.thread.clearance, "fastening.spacing", bolts + " run into each other");
      const Length row = double(f.count - 1) * f.spacing;
      rule(at, row + d < l.fore_aft, "fastening.spacing",
           bolts + " make a row of " + text(row) + ", but the ledge is " + text(l.fore_aft) +
               " long");
      if (f.backing) {
        rule(at, row + d < f.backing->fore_aft, "fastening.behind.fore_aft",
             bolts + " make a row of " + text(row) + ", but the plate behind the hull is " +
                 text(f.backing->fore_aft) + " long");
      }
    }
    if (f.backing) {
      above_zero(at, f.backing->thickness, "fastening.behind.thickness",
                 "the thickness behind the hull");
      rule(at, d < f.backing->athwart && d < f.backing->fore_aft, "fastening.behind.athwart",
           bolts + " are wider than the plate behind the hull");
    }
    rule(at, f.below_seat > l.leg_thickness + 0.5 * d, "fastening.below_seat",
         bolts + ", " + text(f.below_seat) + " below the seat, run into the level leg");
    rule(at, f.below_seat + 0.5 * d < f.foot_below, "fastening.below_seat",
         bolts + ", " + text(f.below_seat) +
             " below the seat, reach beyond the foot of the leg at " + text(f.foot_below));
    rule(at, f.foot_below <= 2.2 * l.along, "fastening.foot_below",
         "a leg that reaches " + text(f.foot_below) + " below the seat is no angle of " +
             text(l.along));
  }

  void hold_downs() {
    if (!rule({}, b_.hold_downs.size() <= most_hold_downs, "hold_downs",
              "at most 16 hold-downs on one board")) {
      return;
    }
    for (std::size_t i = 0; i < b_.hold_downs.size(); ++i) {
      const HoldDown& h = b_.hold_downs[i];
      const At at{BoardPart::hold_down, i};
      const std::string the = "the " + h.name;
      const bool straddles = h.kind == HoldDownKind::u_bolt;
      if (!above_zero(at, h.thread.diameter, "thread", "the thread of " + the)) continue;
      within(at, h.slack, Length{}, 5.0_mm, "slack", "the slack of " + the);
      within(at, h.standoff, Length{}, 150.0_mm, "standoff", "the standoff of " + the);
      if (h.kind == HoldDownKind::eye_bolt)
        rule(at, h.eye.has_value(), "eye", the + " needs its eye");
      if (h.kind != HoldDownKind::pin) {
        rule(at, h.washer > std::max(h.hole, h.thread.diameter), "washer_diameter",
             the + " has a washer of " + text(h.washer) + ", no wider than the hole of " +
                 text(std::max(h.hole, h.thread.diameter)));
      }
      if (straddles) {
        const Ledge& under = b_.ledge(h.place.side);
        rule(at, to_end(h.place).value() >= 0, "outboard",
             the + " lies beyond the end of the board");
        rule(at, h.place.outboard.value() > 0 && h.place.outboard < under.along, "outboard",
             the + ", " + text(h.place.outboard) +
                 " outboard, does not lie over its seat, which is " + text(under.along) +
                 " wide from its inner edge");
        continue;
      }
      if (!rule(
              at, h.hole < b_.board.width, "hole",
              "a hole of " + text(h.hole) + " is wider than the board, " + text(b_.board.width))) {
        continue;
      }
      rule(at, h.hole >= h.thread.diameter, "hole", "the hole of " + the + " is too narrow for it");
      rule(at, abs(h.place.forward) + 0.5 * h.hole < 0.5 * b_.board.width, "forward",
           the + ", " + text(h.place.forward) +
               " forward, lies at or beyond the edge of the board at " +
               text(0.5 * b_.board.width));
      if (!rule(at, to_end(h.place) > 0.5 * h.hole, "outboard",
                the + ", " + text(h.place.outboard) +
                    " outboard, lies at or beyond the end of the board at " +
                    text(overhang(h.place.side)))) {
        continue;
      }
      const Ledge& l = b_.ledge(h.place.side);
      rule(at, h.place.outboard > 0.5 * h.thread.diameter && h.place.outboard < l.along, "outboard",
           the + ", " + text(h.place.outboard) +
               " outboard, does not lie over its ledge, which is " + text(l.along) +
               " wide from its inner edge");
      rule(at, abs(h.place.forward) < 0.5 * l.fore_aft, "forward",
           the + ", " + text(h.place.forward) +
               " forward, does not lie over its ledge, which ends at " + text(0.5 * l.fore_aft));
    }
    for (std::size_t i = 0; i < b_.hold_downs.size(); ++i) {
      for (std::size_t j = 0; j < i; ++j) {
        const HoldDown& a = b_.hold_downs[i];
        const HoldDown& o = b_.hold_downs[j];
        if (a.place.side != o.place.side) continue;
        const Length room = std::max(
            0.5 * (std::max(a.hole, a.thread.diameter) + std::max(o.hole, o.thread.diameter)),
            hair);
        rule({BoardPart::hold_down, i}, apart(a.place, o.place) >= room, "outboard",
             "the " + a.name + " and the " + o.name + " run into each other");
      }
    }
  }

  void legs() {
    if (!rule({}, b_.legs.size() <= most_legs, "legs", "at most 8 legs under one board")) return;
    for (std::size_t i = 0; i < b_.legs.size(); ++i) {
      const Leg& l = b_.legs[i];
      const At at{BoardPart::leg, i};
      const std::string the = "the " + l.name;
      const Length edge = 0.5 * b_.board.width;
      above_zero(at, l.fore_aft, "fore_aft", the + " along the boat");
      above_zero(at, l.athwart, "athwart", the + " across the boat");
      for (const auto& [v, key] :
           {std::pair(l.fore_aft, "fore_aft"), std::pair(l.athwart, "athwart")}) {
        rule(at, v <= 12.0_in, key, the + " is " + text(v) + " thick: at most 12 in (305 mm)");
      }
      if (above_zero(at, l.length, "length", "the length of " + the)) {
        rule(at, l.length <= 2.0_m, "length",
             the + " is " + text(l.length) + " long: at most 2 m (6 ft 7 in)");
        const Length aside =
            std::hypot(l.foot_forward.value(), l.foot_outboard.value()) * si::metre;
        rule(at, aside < 0.94 * l.length, "length",
             the + " has its foot " + text(aside) + " aside of its top: a leg of " +
                 text(l.length) + " would lie almost level");
      }
      rule(at, l.wood.has_value() != l.metal.has_value(), "", the + " is of wood or of metal");
      if (l.wood) {
        rule(at, l.wood_strength.has_value(), "wood", the + " needs the strengths of its wood");
      }
      if (l.wall) {
        rule(at, l.wall->value() > 0 && 2.0 * *l.wall < std::min(l.fore_aft, l.athwart), "wall",
             "two walls of " + text(*l.wall) + " fill " + the);
      }
      within(at, l.gap, Length{}, 5.0_mm, "gap", "the gap at " + the);
      rule(at, in_degrees(l.foot_slope) >= 0 && in_degrees(l.foot_slope) <= 60, "foot_slope",
           "a slope of " + text(l.foot_slope) + " under " + the + ": at most 60 deg");
      if (l.friction) {
        rule(at, *l.friction >= 0 && *l.friction <= 1.5, "friction",
             "friction lies between 0 and 1.5");
      }
      rule(at, to_end(l.place).value() >= 0, "outboard",
           the + " stands in the air: its top, " + text(l.place.outboard) +
               " outboard, lies beyond the end of the board at " + text(overhang(l.place.side)));
      rule(at, l.place.outboard >= -0.5 * b_.clear_width - hair, "outboard",
           the + ", " + text(-l.place.outboard) +
               " inboard of its ledge, is past the middle of the "
               "board: measure it from the other side");
      if (l.beside) {
        rule(at, abs(abs(l.place.forward) - edge) <= 2.0_mm, "forward",
             the + " stands beside the board: forward is its edge, " + text(edge) + " or " +
                 text(-edge));
      } else {
        rule(at, abs(l.place.forward) <= edge + hair, "forward",
             the + " stands in the air: its top, " + text(l.place.forward) +
                 " forward, lies beyond the edge of the board at " + text(edge));
      }
    }
  }

  void gears() {
    if (!rule({}, !s_.gear.empty() && s_.gear.size() <= most_gears, "",
              "1 to 4 gears sit on one board")) {
      return;
    }
    for (std::size_t i = 0; i < s_.gear.size(); ++i) {
      const Gear& g = s_.gear[i];
      const At at{BoardPart::gear, i};
      const std::string the = "the " + g.name;
      try {
        validate_gear(g);
      } catch (const DomainError& e) {
        rule(at, false, "kind", e.what());
      }
      if (g.downrigger) {
        for (BrokenRule& r : DownriggerRules(u_, words_).all(*g.downrigger, i, the)) {
          broken_.push_back(std::move(r));
        }
      }
      const Length edge = 0.5 * b_.board.width;
      const bool on =
          rule(at, abs(g.place.forward) < edge, "on_board.forward",
               the + ", " + text(g.place.forward) +
                   " forward, has its middle beyond the edge of the board at " + text(edge)) &&
          rule(at, to_end(g.place).value() > 0, "on_board.outboard",
               the + ", " + text(g.place.outboard) +
                   " outboard, has its middle beyond the end of the board at " +
                   text(overhang(g.place.side))) &&
          rule(at, g.place.outboard >= -0.5 * b_.clear_width - hair, "on_board.outboard",
               the + ", " + text(-g.place.outboard) +
                   " inboard of its ledge, is past the middle of the board: measure it "
                   "from the other side");
      if (on && g.foot) foot(at, g, *g.foot, the);
      for (std::size_t j = 0; j < i; ++j) {
        const Length d = abs(b_.station(g.place) - b_.station(s_.gear[j].place));
        const Length w = abs(g.place.forward - s_.gear[j].place.forward);
        rule(at, std::max(d, w) > 1.0_mm, "on_board",
             the + " and the " + s_.gear[j].name + " sit in the same place");
      }
    }
  }

  void foot(const At& at, const Gear& g, const GearFoot& f, const std::string& the) {
    if (!rule(at, is_convex(f.outline), "foot.outline",
              "the outline of the base must be convex, corners in order")) {
      return;
    }
    if (!rule(at, !f.holes.empty() && f.holes.size() <= std::size_t(max_fasteners), "foot.holes",
              "1 to 24 bolts hold a gear")) {
      return;
    }
    if (!above_zero(at, f.thread.diameter, "foot.thread", "the thread of " + the)) return;
    rule(at, f.hole >= f.thread.diameter, "foot.hole", "the holes of " + the + " are too narrow");
    if (f.plate) {
      above_zero(at, f.plate->thickness, "foot.plate.thickness", "the thickness under the board");
    } else {
      rule(at, f.washer > f.hole, "foot.washer_diameter",
           the + " has washers of " + text(f.washer) + ", no wider than the holes of " +
               text(f.hole));
    }
    for (std::size_t i = 0; i < f.holes.size(); ++i) {
      const PlanPoint& p = f.holes[i];
      const std::string hole = "the hole of " + the + " at " + text(p.x) + " forward, " +
                               text(p.y) + " outboard of its middle";
      BoardPlace place = g.place;
      place.forward += p.x;
      place.outboard += p.y;
      const bool good =
          rule(at, geometry::to_outline_edge(f.outline, p).value() > 0, "foot.holes",
               hole + " lies outside the base") &&
          rule(at,
               abs(place.forward) + 0.5 * f.hole < 0.5 * b_.board.width &&
                   to_end(place) > 0.5 * f.hole,
               "foot.holes", hole + " breaks out of the edge of the board") &&
          rule(at, !f.plate || geometry::to_backing_edge(*f.plate, p) > 0.5 * f.thread.diameter,
               "foot.plate.athwart", hole + " breaks out of the edge of the plate under the board");
      if (!good) return;
      for (std::size_t j = 0; j < i; ++j) {
        const double d = std::hypot((p.x - f.holes[j].x).value(), (p.y - f.holes[j].y).value());
        if (!rule(at, d > f.hole.value(), "foot.holes",
                  "two holes of " + the + " run into each other")) {
          return;
        }
      }
      for (const HoldDown& h : b_.hold_downs) {
        if (h.kind == HoldDownKind::u_bolt || h.place.side != place.side) continue;
        if (!rule(at, apart(h.place, place) > 0.5 * (f.hole + h.hole), "foot.holes",
                  hole + " runs into that of the " + h.name)) {
          return;
        }
      }
    }
  }

  const Setup& s_;
  const CrossBoard& b_;
};

}  // namespace

std::vector<BrokenRule> broken_board_rules(const Setup& s) { return Rules(s).all(); }

std::vector<BrokenRule> broken_gear_rules(const Setup& s) {
  std::vector<BrokenRule> out;
  for (std::size_t i = 0; i < s.gear.size(); ++i) {
    if (!s.gear[i].downrigger) continue;
    const auto own =
        DownriggerRules(s.units).all(*s.gear[i].downrigger, i, "the " + s.gear[i].name);
    out.insert(out.end(), own.begin(), own.end());
  }
  const auto together = SetsOfPositions(s.units).all(s);
  out.insert(out.end(), together.begin(), together.end());
  return out;
}

std::optional<BrokenRule> first_broken_board_rule(const Setup& s) {
  std::vector<BrokenRule> broken = Rules(s, false).all();
  if (broken.empty()) return std::nullopt;
  return std::move(broken.front());
}

void validate_board(const Setup& s) {
  if (!first_broken_board_rule(s)) return;
  const std::vector<BrokenRule> broken = broken_board_rules(s);
  if (!broken.empty()) throw DomainError(broken.front().text);
}

}  // namespace thole
