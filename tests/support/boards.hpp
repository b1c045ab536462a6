#pragma once

/// Cross-boards for tests, written in C++: the fjord skiff, its mirror image, and random ones.

#include <algorithm>
#include <cmath>
#include <random>
#include <string>
#include <utility>
#include <vector>

#include <thole/check.hpp>
#include <thole/error.hpp>
#include <thole/reading.hpp>
#include <thole/setup.hpp>
#include <thole/wood_strength.hpp>

namespace thole::test {

/// The distributions of the standard library differ from one library to the next.
class BoardDice {
 public:
  explicit BoardDice(unsigned seed) : bits_(seed) {}
  double between(double a, double b) { return a + (b - a) * double(bits_()) / 4294967296.0; }
  int below(int n) { return int(between(0, n)); }
  bool one_in(int n) { return below(n) == 0; }
  Length mm(double a, double b) { return 0.001 * between(a, b) * si::metre; }

 private:
  std::mt19937 bits_;
};

/// Fewer random boards where nothing is optimised.
inline int boards(int count) {
#ifdef NDEBUG
  return count;
#else
  return std::max(2, count / 5);
#endif
}

inline Length mm(double v) { return 0.001 * v * si::metre; }

inline void set_wood(BoardPiece& b, const std::string& grade) {
  const MaterialLibrary& library = built_in_materials();
  b.wood = library.wood(grade);
  b.wood_strength = nominal_wood(
      *b.wood,
      {.thickness = std::min(b.width, b.thickness), .width = std::max(b.width, b.thickness)},
      library);
}

inline HoldDown hold_down(Side side, Length outboard, Length forward,
                          HoldDownKind kind = HoldDownKind::eye_bolt) {
  const MaterialLibrary& library = built_in_materials();
  HoldDown h;
  h.kind = kind;
  h.place = {side, outboard, forward};
  h.thread = library.thread("M8");
  h.material = library.fastener_material("A4-70");
  if (kind == HoldDownKind::eye_bolt) h.eye = library.eye_bolt("forged collar", h.thread);
  h.washer = kind == HoldDownKind::pin ? Length{} : mm(24);
  h.hole = h.thread.clearance;
  h.name = std::string(word_for(side)) +
           (forward.value() > 0   ? " forward "
            : forward.value() < 0 ? " aft "
                                  : " middle ") +
           "bolt";
  return h;
}

inline Leg leg(Side side, Length outboard, Length forward, Length length) {
  Leg l;
  l.name = std::string(word_for(side)) + (forward.value() < 0 ? " aft leg" : " forward leg");
  l.place = {side, outboard, forward};
  l.length = length;
  l.fore_aft = mm(40);
  l.athwart = mm(60);
  l.wood = built_in_materials().wood("C24");
  l.wood_strength =
      nominal_wood(*l.wood, {.thickness = mm(40), .width = mm(60)}, built_in_materials());
  l.foot_held = true;
  return l;
}

inline Gear downrigger(Side side, Length outboard, Length forward = {}) {
  const MaterialLibrary& library = built_in_materials();
  Gear g;
  g.name = std::string(word_for(side)) + " downrigger";
  g.place = {side, outboard, forward};
  Downrigger d;
  d.mass = 6.0 * si::kilogram;
  d.mass_height = mm(150);
  d.mass_reach = mm(200);
  d.powered = false;
  d.boom_length = mm(600);
  d.tip_height = mm(200);
  d.boom_angles = {degrees(0), degrees(45), degrees(90)};
  d.ball = 4.5 * si::kilogram;
  d.ball_density = ball_density(BallMaterial::lead);
  d.wire = WireKind::braid;
  d.wire_diameter = mm(0.8);
  d.wire_break = 1112.0 * si::newton;
  d.depth = 30.0 * si::metre;
  d.slowest = Speed::from_value(1.5 * 1852.0 / 3600);
  d.fastest = Speed::from_value(2.5 * 1852.0 / 3600);
  d.brake_slip = Known<Force>{300.0 * si::newton, Knowledge::measured};
  g.downrigger = d;
  GearFoot f;
  f.outline = {{mm(-95), mm(-75)}, {mm(95), mm(-75)}, {mm(95), mm(75)}, {mm(-95), mm(75)}};
  f.holes = {{mm(-75), mm(-55)}, {mm(75), mm(-55)}, {mm(75), mm(55)}, {mm(-75), mm(55)}};
  f.thread = library.thread("M8");
  f.material = library.fastener_material("A4-70");
  f.hole = f.thread.clearance;
  f.plate = Backing{library.metal("5052-H32 sheet"), mm(10), mm(190), mm(150)};
  g.foot = f;
  return g;
}

/// The fjord skiff of the examples: measures and materials, without the list of inputs.
inline Setup fjord_board() {
  const MaterialLibrary& library = built_in_materials();
  Setup s;
  s.title = "Plank with two downriggers";
  s.units = ReaderUnits::metric;
  s.salt_water = true;
  CrossBoard m;
  m.board.length = mm(2200);
  m.board.width = mm(198);
  m.board.thickness = mm(48);
  set_wood(m.board, "C24");
  m.clear_width = mm(1800);
  m.port_overhang = mm(200);
  Ledge l;
  l.kind = LedgeKind::angle;
  l.along = mm(60);
  l.fore_aft = mm(250);
  Metal angle = library.metal("6061-T6 extrusion");
  angle.name = "6082-T6 angle";
  angle.ultimate = Stress::from_value(290e6);
  angle.yield = Stress::from_value(250e6);
  l.metal = angle;
  l.leg_thickness = mm(6);
  LedgeFastening f;
  f.hull = HullKind::laminate;
  f.hull_thickness = mm(6);
  f.thread = library.thread("M8");
  f.material = library.fastener_material("A4-70");
  f.count = 3;
  f.spacing = mm(90);
  f.below_seat = mm(35);
  f.foot_below = mm(60);
  f.backing = Backing{library.metal("5052-H32 sheet"), mm(5), mm(250), mm(50)};
  l.fastening = f;
  m.port = m.starboard = l;
  for (const Side side : {Side::port, Side::starboard}) {
    for (const double forward : {75.0, -75.0}) {
      m.hold_downs.push_back(hold_down(side, mm(30), mm(forward)));
    }
  }
  s.mount = m;
  s.use.not_a_seat = true;
  for (const Side side : {Side::port, Side::starboard}) s.gear.push_back(downrigger(side, mm(120)));
  s.condition.cracks = s.condition.loose_rivets = s.condition.bent_or_corroded =
      s.condition.soft_wood_or_core = s.condition.weld_near_base = Answer::no;
  s.condition.within_150_mm = "knee";
  for (const FailureMode& mode : board_catalogue()) {
    s.required_factors[std::string(mode.group)] = library.required_factor(mode.group);
  }
  const std::string least = "metal yield in an accident";
  s.required_factors[least] = library.required_factor(least);
  s.common_walls = library.walls("metric");
  return s;
}

inline Side other(Side side) { return side == Side::port ? Side::starboard : Side::port; }

/// The same boat seen in a mirror. Places of parts, feet of legs and gears count outboard, so they
/// only change their side.
inline Setup mirrored(Setup s) {
  CrossBoard& m = s.board();
  m.port_overhang = m.board.length - m.clear_width - m.port_overhang;
  m.starboard_higher = -m.starboard_higher;
  std::swap(m.port, m.starboard);
  for (HoldDown& h : m.hold_downs) h.place.side = other(h.place.side);
  for (Leg& l : m.legs) l.place.side = other(l.place.side);
  for (Gear& g : s.gear) g.place.side = other(g.place.side);
  return s;
}

inline bool is_valid(const Setup& s) {
  try {
    validate(s);
    return true;
  } catch (const DomainError&) {
    return false;
  }
}

/// Unequal sides, gaps, flare that nothing takes up, legs, one gear or two: whatever is valid.
inline Setup random_board(BoardDice& dice) {
  for (;;) {
    Setup s = fjord_board();
    CrossBoard& m = s.board();
    m.board.width = dice.mm(140, 260);
    m.board.thickness = dice.mm(34, 60);
    const char* const grades[] = {"C24", "C16", "C18"};
    set_wood(m.board, grades[dice.below(3)]);
    m.clear_width = dice.mm(1000, 1900);
    m.port_overhang = dice.mm(150, 300);
    m.board.length = m.clear_width + m.port_overhang + dice.mm(150, 300);
    if (dice.one_in(2)) m.starboard_higher = dice.mm(-40, 40);
    if (dice.one_in(2)) m.bow_up = degrees(dice.between(-5, 5));
    s.use.not_a_seat = dice.one_in(2);
    s.use.running_peak = dice.between(1, 5);
    m.hold_downs.clear();
    for (const Side side : {Side::port, Side::starboard}) {
      Ledge& l = side == Side::port ? m.port : m.starboard;
      l.along = dice.mm(40, 90);
      l.fore_aft = dice.mm(180, 300);
      l.leg_thickness = dice.mm(5, 10);
      l.root_outboard = !dice.one_in(4);
      l.fastening.reset();
      if (dice.one_in(3)) {
        l.kind = dice.one_in(2) ? LedgeKind::saddle : LedgeKind::gunwale_top;
        l.metal.reset();
      }
      if (dice.one_in(3)) l.gap = dice.mm(0, 3);
      if (l.kind == LedgeKind::angle && dice.one_in(3)) {
        l.flare = degrees(dice.between(-5, 5));
        l.packed = false;
      }
      const double half = 0.5 * std::min(m.board.width, l.fore_aft) / mm(1);
      m.hold_downs.push_back(
          hold_down(side, dice.between(0.35, 0.65) * l.along, mm(dice.between(0.4, 0.7) * half)));
      m.hold_downs.push_back(
          hold_down(side, dice.between(0.35, 0.65) * l.along, mm(-dice.between(0.4, 0.7) * half)));
    }
    for (HoldDown& h : m.hold_downs) {
      if (dice.one_in(3)) {
        h.kind = HoldDownKind::bolt;
        h.eye.reset();
      }
      if (dice.one_in(4)) h.slack = dice.mm(0, 2);
      if (dice.one_in(4)) h.standoff = dice.mm(0, 15);
      h.washer = dice.mm(18, 40);
    }
    const int legs = dice.one_in(2) ? 0 : 1 + dice.below(4);
    for (int i = 0; i < legs; ++i) {
      const Side side = dice.one_in(2) ? Side::port : Side::starboard;
      Leg l =
          leg(side, dice.mm(-300, 100), dice.between(-0.5, 0.5) * m.board.width, dice.mm(250, 700));
      l.name = "leg " + std::to_string(i + 1);
      if (dice.one_in(2)) l.foot_outboard = dice.mm(-60, 60);
      if (dice.one_in(2)) l.foot_forward = dice.mm(-60, 60);
      if (dice.one_in(2)) l.gap = dice.mm(0, 2);
      m.legs.push_back(l);
    }
    s.gear.clear();
    const int which = dice.below(4);
    for (const Side side : {Side::port, Side::starboard}) {
      if (which == (side == Side::port ? 0 : 1)) continue;
      Gear g = downrigger(side, dice.mm(-100, 140), dice.mm(-10, 10));
      Downrigger& d = *g.downrigger;
      d.boom_length = dice.mm(300, 900);
      d.tip_height = dice.mm(50, 400);
      d.ball = dice.between(2, 6) * si::kilogram;
      d.boom_angles = {degrees(dice.between(-30, 20)), degrees(dice.between(60, 120))};
      d.mass_reach = dice.mm(0, 300);
      if (dice.one_in(3)) d.boom_raised = {Angle{}, degrees(dice.between(20, 70))};
      if (dice.one_in(3)) d.stowed_angles = {degrees(dice.between(-90, 180))};
      d.finned = dice.one_in(4);
      d.powered = dice.one_in(2);
      d.brake_slip->value = dice.between(80, 300) * si::newton;
      d.brake_slip->known = dice.one_in(3) ? Knowledge::assumed : Knowledge::measured;
      if (dice.one_in(3)) d.weak_link = dice.between(100, 400) * si::newton;
      if (dice.one_in(4)) g.foot->plate.reset();
      g.foot->washer = g.foot->plate ? Length{} : mm(30);
      s.gear.push_back(g);
    }
    if (is_valid(s)) return s;
  }
}

}  // namespace thole::test
