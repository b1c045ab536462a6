#pragma once

/// Gunwale plates for tests: the reservoir jon-boat, a plain load on a sheet, and random ones.

#include <algorithm>
#include <cmath>
#include <limits>
#include <random>
#include <stdexcept>
#include <string>
#include <string_view>
#include <vector>

#include <thole/error.hpp>
#include <thole/reading.hpp>
#include <thole/thole.hpp>

namespace thole::test {

using namespace literals;

inline const char* const jon_boat = R"(thole: 1
title: Rod holder on a reservoir jon-boat
units: inch
water: fresh
mount:
  kind: gunwale_plate
  host:
    form: closed_section
    alloy: {is: 6063-T5 extrusion, known: tagged}
    thickness: {is: 0.090 in, known: measured}
    flat: 2 in
  base:
    fore_aft: 3 in
    athwart: 1 7/8 in
    material: 5052-H32 sheet
    thickness: 3/16 in
    body: 7/8 in
  fastening:
    hold: tapped
    thread: 1/4-20
    material: {is: "stainless, unmarked", known: tagged}
    holes: {fore_aft: 2 1/4 in, athwart: 1 1/8 in}
gear:
  - kind: rod_holder
    name: starboard rod
    height: 4 in
    lean: 60 deg
    toward: outboard
    rod_length: 7 ft
    butt_stiffness: {is: 25 N m^2, known: measured}
    line_test: 20 lbf
    drag: {is: 7 lbf, known: measured}
    spool_growth: {is: 1.3, known: measured}
    running_pull: {is: 5 lbf, known: measured}
    mass: {is: 4 lb, known: measured}
condition:
  cracks: no
  loose_rivets: no
  bent_or_corroded: no
  soft_wood_or_core: no
  weld_near_base: no
  within_6_in: rib
)";

// A light pull on the same base: every check has room.
inline const char* const light_gear = R"(gear:
  - kind: plain_load
    at: {forward: 0 in, outboard: 0 in, up: 1 in}
    pull: 5 lbf
    azimuth: 0 deg
    dip: 0 deg
)";

inline const char* const rod_text = R"(thole: 1
units: inch
mount:
  kind: gunwale_plate
  host:
    form: closed_section
    alloy: {is: 6063-T5 extrusion, known: assumed}
    thickness: {is: 0.090 in, known: measured}
    flat: 2 in
  base:
    fore_aft: 3 in
    athwart: 1 7/8 in
    material: 5052-H32 sheet
    thickness: 3/16 in
    body: 7/8 in
  fastening:
    hold: tapped
    thread: 1/4-20
    material: stainless, unmarked
    holes: {fore_aft: 2 1/4 in, athwart: 1 1/8 in}
gear:
  - kind: rod_holder
    height: 4 in
    lean: 60 deg
    toward: outboard
    rod_length: 7 ft
    butt_stiffness: {is: 25 N m^2, known: measured}
    line_test: 20 lbf
    drag: {is: 7 lbf, known: measured}
    spool_growth: {is: 1.3, known: measured}
    running_pull: {is: 5 lbf, known: measured}
    mass: {is: 4 lb, known: measured}
)";

inline const char* const load_text = R"(thole: 1
units: inch
mount:
  kind: gunwale_plate
  host: {form: sheet, alloy: 6061-T6 extrusion, thickness: 0.125 in, to_support: 6 in}
  base: {fore_aft: 3 in, athwart: 3 in, material: 5052-H32 sheet, thickness: 3/16 in, body: 1 in}
  fastening:
    hold: tapped
    thread: 1/4-20
    material: stainless, unmarked
    holes: {fore_aft: 2 in, athwart: 2 in}
gear:
  - kind: plain_load
    at: {forward: 1 in, outboard: 2 in, up: 6 in}
    pull: 40 lbf
    azimuth: 30 deg
    dip: 20 deg
)";

inline Setup read(const std::string& text) {
  return read_setup(text, "test.yaml", built_in_materials());
}

inline std::string with(std::string text, const std::string& from, const std::string& to) {
  const std::size_t at = text.find(from);
  if (at == std::string::npos) throw std::runtime_error("no \"" + from + "\" to replace");
  return text.replace(at, from.size(), to);
}

inline std::string light() {
  const std::string text = jon_boat;
  const std::size_t from = text.find("gear:");
  const std::size_t to = text.find("condition:");
  return text.substr(0, from) + light_gear + text.substr(to);
}

// The distributions of the standard library differ from one library to the next.
class PlateDice {
 public:
  explicit PlateDice(unsigned seed) : bits_(seed) {}
  double between(double a, double b) { return a + (b - a) * double(bits_()) / 4294967296.0; }
  int below(int n) { return int(between(0, n)); }
  Length inches(double a, double b) { return between(a, b) * 1.0_in; }

 private:
  std::mt19937 bits_;
};

inline Outline rectangle(Length x, Length y) { return {{-x, -y}, {x, -y}, {x, y}, {-x, y}}; }

inline Metal alloy(PlateDice& dice) {
  const char* const names[] = {"6063-T5 extrusion", "6061-T6 extrusion", "5052-H32 sheet"};
  return built_in_materials().metal(names[dice.below(3)]);
}

inline bool is_valid_plate(const Setup& s) {
  try {
    validate(s);
    return true;
  } catch (const DomainError&) {
    return false;
  }
}

inline void random_mount(PlateDice& dice, Setup& s) {
  Host& h = s.plate().host;
  BasePlate& b = s.plate().base;
  Fastening& f = s.plate().fastening;
  h.form = std::vector{WallForm::closed_section, WallForm::open_lip,
                       WallForm::sheet}[std::size_t(dice.below(3))];
  h.metal = alloy(dice);
  h.thickness = dice.inches(0.07, 0.3);
  h.flat = dice.inches(2, 4);
  h.lip_root_inboard = dice.below(2) == 0;
  h.to_support = dice.inches(3, 8);
  h.to_end.reset();
  if (dice.below(3) == 0) h.to_end = dice.inches(1, 6);
  h.slope = degrees(dice.between(-10, 90));
  const Length x = dice.inches(0.8, 2);
  const Length y = dice.inches(0.8, 2);
  b.outline = rectangle(x, y);
  b.metal.reset();
  if (dice.below(4) != 0) b.metal = alloy(dice);
  b.thickness = dice.inches(0.1, 0.4);
  b.body.reset();
  if (dice.below(3) != 0) b.body = dice.inches(0.3, 1.2);
  b.from_inboard_edge = dice.between(0.4, 0.6) * h.flat;
  f.holes.clear();
  const Length hx = dice.between(0.4, 0.75) * x;
  const Length hy = dice.between(0.4, 0.75) * y;
  f.holes = rectangle(hx, hy);
  if (dice.below(4) == 0) f.holes.push_back({Length{}, Length{}});
  f.thread = built_in_materials().thread(dice.below(2) == 0 ? "1/4-20" : "M6");
  f.head = dice.inches(0.4, 0.6);
  f.hold = HoldBy::tapped;
  f.washer.reset();
  f.backing.reset();
  const int kind = dice.below(4);
  if (kind >= 2) {
    f.hold = HoldBy::through_bolt;
    f.washer = Washer{"test washer", dice.inches(0.45, 0.6), f.thread.clearance, 1.0_mm};
  }
  if (kind == 1 || kind == 3) {
    if (kind == 1) f.hold = HoldBy::tapped_bar;
    f.backing = Backing{alloy(dice), dice.inches(0.125, 0.4), 2.0 * x,
                        std::min<Length>(2.0 * y, h.flat - 2.0 * h.thickness)};
  }
}

inline Setup random_load(PlateDice& dice) {
  static const Setup start = read(load_text);
  for (;;) {
    Setup s = start;
    random_mount(dice, s);
    PlainLoad& p = *s.gear.front().plain_load;
    p.at = Position<Base>(dice.inches(-3, 3), dice.inches(-3, 3), dice.inches(0, 10));
    p.pull = dice.between(10, 200) * 1.0_lbf;
    p.range.azimuth_from = p.range.azimuth_to = degrees(dice.between(-180, 180));
    p.range.dip_from = p.range.dip_to = degrees(dice.between(-60, 90));
    if (is_valid_plate(s)) return s;
  }
}

inline Setup random_rod(PlateDice& dice) {
  static const Setup start = read(rod_text);
  for (;;) {
    Setup s = start;
    random_mount(dice, s);
    RodHolder& r = *s.gear.front().rod_holder;
    r.height = dice.inches(2, 12);
    r.forward = dice.inches(-3, 3);
    r.outboard = dice.inches(-3, 3);
    r.lean = degrees(dice.between(0, 80));
    r.toward = degrees(dice.between(-180, 180));
    if (dice.below(2) == 0) r.butt_stiffness.reset();
    if (is_valid_plate(s)) return s;
  }
}

inline Assessment quick(const Setup& s, double step = 5) {
  AssessOptions o;
  o.step = degrees(step);
  o.neighbours = false;
  return assess(s, o);
}

inline const CheckResult& check_of(const Assessment& a, std::string_view mode) {
  for (const CheckResult& c : a.checks) {
    if (c.mode == mode) return c;
  }
  throw std::runtime_error("no check " + std::string(mode));
}

inline const CaseResult& case_of(const Assessment& a, std::string_view id) {
  for (const CaseResult& c : a.cases) {
    if (c.load_case.id == id) return c;
  }
  throw std::runtime_error("no case " + std::string(id));
}

inline bool says(const std::vector<std::string>& texts, std::string_view part) {
  return std::any_of(texts.begin(), texts.end(),
                     [&](const std::string& t) { return t.find(part) != std::string::npos; });
}

inline bool concerned(const CheckResult& c) { return c.standing == Standing::applies; }

inline double relative(double a, double b) {
  if (a == b) return 0;  // also both infinite
  return std::abs(a - b) / std::max(std::abs(a), std::abs(b));
}

// Of what lets go at once: fatigue limits no pull.
inline double worst_ratio(const Assessment& a, bool with_distances) {
  double worst = std::numeric_limits<double>::infinity();
  for (const CheckResult& c : a.checks) {
    if (c.mode.ends_with("-fatigue")) continue;
    if (!concerned(c) || (!with_distances && c.case_title.empty())) continue;
    worst = std::min(worst, c.factor / c.needed);
  }
  return worst;
}

inline bool refused(const Assessment& a) { return !a.reasons.empty(); }

}  // namespace thole::test
