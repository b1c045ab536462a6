// A downrigger on a gunwale plate: its loads by hand, and what an assessment may say of it.

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <optional>
#include <string>
#include <vector>

#include <thole/error.hpp>
#include <thole/reading.hpp>
#include <thole/thole.hpp>

#include "core/plate_engine.hpp"
#include "support/boards.hpp"
#include "support/plates.hpp"

using namespace thole;
using namespace thole::literals;
using namespace thole::test;

namespace {

const char* const swivel_text = R"(thole: 1
units: inch
mount:
  kind: gunwale_plate
  host:
    form: closed_section
    alloy: {is: 6063-T5 extrusion, known: measured}
    thickness: {is: 0.125 in, known: measured}
    flat: 3 in
  base:
    fore_aft: 4 in
    athwart: 2 7/8 in
    material: 5052-H32 sheet
    thickness: 1/4 in
    body: 2 in
  fastening:
    hold: tapped_bar
    thread: 5/16-18
    material: stainless, unmarked
    holes: {fore_aft: 3 in, athwart: 1 3/4 in}
    behind: {material: 6061-T6 extrusion, thickness: 3/8 in, fore_aft: 4 in, athwart: 2 1/2 in}
gear:
  - kind: downrigger
    mass: 9 lb
    mass_height: 4 in
    mass_reach: 6 in
    boom_length: 24 in
    tip_height: 6 in
    boom_angles: [0 deg, 45 deg, 90 deg]
    stowed_angles: 180 deg
    ball: 6 lb
    wire: strand_7x7
    wire_diameter: 0.8 mm
    wire_break: 150 lbf
    depth: 60 ft
    speed: [1 mph, 2 mph]
    brake_slip: {is: 20 lbf, known: measured}
condition:
  cracks: no
  loose_rivets: no
  bent_or_corroded: no
  soft_wood_or_core: no
  weld_near_base: no
  within_6_in: rib
)";

Setup swivel() { return read(swivel_text); }

Downrigger& rigger(Setup& s) { return *s.gear.front().downrigger; }

// The same base on other hosts: a wide sheet with tapped holes, and a plank.
Setup on_a_sheet() {
  Setup s = read(load_text);
  s.plate().host.thickness = 0.19_in;
  s.gear = swivel().gear;
  return s;
}

// Force in lbf, moment in lbf in.
void same(const BaseLoad& l, const Eigen::Vector3d& force, const Eigen::Vector3d& moment) {
  const double lbf = (1.0_lbf).value();
  const double lbf_in = lbf * (1.0_in).value();
  CHECK((l.force.si_values() / lbf - force).norm() < 1e-9 * (1 + force.norm()));
  CHECK((l.moment.si_values() / lbf_in - moment).norm() < 1e-9 * (1 + moment.norm()));
}

BaseLoad pull(const Setup& s, const Direction<Boat>& d, std::size_t boom,
              LoadPath path = LoadPath::tip) {
  return pull_load(s.plate(), s.gear.front(), path, 10.0_lbf, d, boom);
}

const Direction<Boat> astern = line_direction(0.0_deg, 0.0_deg);
const Direction<Boat> down = line_direction(0.0_deg, 90.0_deg);
const Direction<Boat> abeam = line_direction(90.0_deg, 0.0_deg);

// Any base on any wall, with a boom of two or three positions.
Setup random_swivel(PlateDice& dice) {
  static const Setup start = swivel();
  for (;;) {
    Setup s = start;
    random_mount(dice, s);
    Downrigger& d = rigger(s);
    d.boom_length = dice.inches(12, 40);
    d.tip_height = dice.inches(2, 14);
    d.mass_reach = dice.inches(0, 10);
    d.boom_angles = {degrees(dice.between(-30, 60)), degrees(dice.between(60, 180))};
    if (dice.below(2) == 0) d.boom_raised = {0.0_deg, degrees(dice.between(20, 70))};
    if (is_valid_plate(s)) return s;
  }
}

// All parts of the ranges of a gear's own pull.
std::vector<DirectionRange> own_ranges(const Setup& s) {
  std::vector<DirectionRange> out;
  for (const LoadCase& c : load_cases(s)) {
    if (c.gear == 0 && c.path == LoadPath::tip) {
      out.insert(out.end(), c.ranges.begin(), c.ranges.end());
    }
  }
  return out;
}

// The worst share that a pull leaves, by brute force: 1 is just enough.
double worst_on_a_grid(const Setup& s, std::size_t gear, Force pull, Angle step) {
  plate::Engine engine(s);
  const std::vector<plate::Setting> settings = engine.beside(gear);
  double worst = plate::infinite;
  for (const DirectionRange& r : own_ranges(s)) {
    for (const Direction<Boat>& d : directions(r, step)) {
      worst = std::min(worst, engine.worst_ratio(settings, LoadPath::tip, pull, d, nullptr, true));
    }
  }
  return worst;
}

}  // namespace

TEST_SUITE("unit") {
  // By hand: statics, moment = place x force; place and force in axes forward, outboard, up.
  TEST_CASE("plate downrigger: a pull at the tip of its boom by hand") {
    Setup s = swivel();
    // Abeam: the tip is 24 in outboard and 6 in up.
    same(pull(s, down, 2), {0, 0, -10}, {-240, 0, 0});
    same(pull(s, astern, 2), {-10, 0, 0}, {0, -60, 240});
    same(pull(s, abeam, 2), {0, 10, 0}, {-60, 0, 0});
    // Astern: 24 in aft.
    same(pull(s, down, 0), {0, 0, -10}, {0, -240, 0});
    same(pull(s, abeam, 0), {0, 10, 0}, {-60, 0, -240});
    // A hand on it, at the height of its tip over the base.
    same(pull(s, astern, 2, LoadPath::post), {-10, 0, 0}, {0, -60, 0});
    rigger(s).tip_height = 1.0_in;  // now its drum is higher
    same(pull(s, astern, 2, LoadPath::post), {-10, 0, 0}, {0, -40, 0});
    rigger(s).tip_height = 6.0_in;
    // Raised by 60 deg, 45 deg out: 12 in level, of these 8.4853 aft and out; 6 + 20.7846 in up.
    rigger(s).boom_raised = {60.0_deg};
    const double side = 12 * std::sqrt(0.5);
    const double up = 6 + 12 * std::sqrt(3.0);
    same(pull(s, down, 1), {0, 0, -10}, {-10 * side, -10 * side, 0});
    same(pull(s, abeam, 1), {0, 10, 0}, {-10 * up, 0, -10 * side});
  }

  TEST_CASE("plate downrigger: a sloping wall carries the boom with it") {
    Setup s = swivel();
    s.plate().host.slope = 20.0_deg;
    const double c = std::cos(20 * std::numbers::pi / 180);
    const double n = std::sin(20 * std::numbers::pi / 180);
    // The face falls toward outboard: what hangs down pulls outboard along it.
    same(pull(s, down, 2), {0, 10 * n, -10 * c}, {-240 * c - 60 * n, 0, 0});
    same(pull(s, astern, 2), {-10, 0, 0}, {0, -60, 240});
  }

  TEST_CASE("plate downrigger: its weight by hand") {
    const Setup s = swivel();
    const Gear& g = s.gear.front();
    const GunwalePlate& m = s.plate();
    // 9 lb, 6 in along the boom, 4 in up.
    same(weight_load(m, g, {}, Ball::in_the_water, 0), {0, 0, -9}, {0, -54, 0});
    same(weight_load(m, g, {}, Ball::in_the_water, 2), {0, 0, -9}, {-54, 0, 0});
    // Stowed it points ahead, with its ball of 6 lb; 3 g down and 1 g outboard.
    same(weight_load(m, g, {0, 1, -3}, Ball::stowed, 0), {0, 15, -45}, {-60, 270, 90});
    // The ball left on the tip, boom abeam: 24 in out and 6 in up.
    same(weight_load(m, g, {}, Ball::on_tip, 2), {0, 0, -15}, {-54 - 144, 0, 0});
    same(weight_load(m, g, {0, 0, 0}, Ball::on_tip, 2), {0, 0, 0}, {0, 0, 0});
  }

  TEST_CASE("plate downrigger: on a bracket every gear stands beyond the middle of the base") {
    Setup s = swivel();
    s.plate().bracket.emplace();
    s.plate().bracket->gear_at = {2.0_in, 5.0_in};
    same(pull(s, down, 2), {0, 0, -10}, {-290, 20, 0});
    same(weight_load(s.plate(), s.gear.front(), {}, Ball::in_the_water, 0), {0, 0, -9},
         {-45, -54 + 18, 0});
    for (Setup other : {read(load_text), read(rod_text)}) {
      const Gear& g = other.gear.front();
      const LoadPath path = g.rod_holder ? LoadPath::line : LoadPath::point;
      const BaseLoad plain = pull_load(other.plate(), g, path, 10.0_lbf, astern);
      other.plate().bracket.emplace();
      other.plate().bracket->gear_at = {2.0_in, 5.0_in};
      const BaseLoad moved = pull_load(other.plate(), g, path, 10.0_lbf, astern);
      // 10 lbf astern, 5 in farther out: 50 lbf in that turn the base outboard side aft.
      same({moved.force - plain.force, moved.moment - plain.moment}, {0, 0, 0}, {0, 0, 50});
    }
  }

  TEST_CASE("plate downrigger: its load cases are those of a board") {
    Setup board = fjord_board();
    std::erase_if(board.gear, [](const Gear& g) { return g.place.side != Side::port; });
    Setup plate = swivel();
    plate.salt_water = board.salt_water;
    plate.gear = board.gear;
    plate.gear.front().foot.reset();
    plate.use = board.use;
    board.boat = plate.boat = std::nullopt;
    std::vector<LoadCase> of_board = load_cases(board);
    std::vector<LoadCase> of_plate = load_cases(plate);
    const auto own = [](const LoadCase& c) {
      return c.path != LoadPath::board && c.kind != "boarding-grab";
    };
    std::erase_if(of_board, [&](const LoadCase& c) { return !own(c); });
    std::erase_if(of_plate, [&](const LoadCase& c) { return !own(c); });
    REQUIRE(of_board.size() == of_plate.size());
    CHECK(of_board.size() > 12);
    for (std::size_t i = 0; i < of_board.size(); ++i) {
      CAPTURE(of_board[i].id);
      CHECK(of_board[i].id == of_plate[i].id);
      CHECK(of_board[i].pull == of_plate[i].pull);
      CHECK(of_board[i].ranges == of_plate[i].ranges);
      CHECK(of_board[i].decides == of_plate[i].decides);
      CHECK(of_board[i].why == of_plate[i].why);
      CHECK(of_board[i].ball_on_tip == of_plate[i].ball_on_tip);
      CHECK(of_board[i].heave == of_plate[i].heave);
    }
  }

  TEST_CASE("plate downrigger: every calculated case has a figure") {
    const Assessment a = assess(swivel());
    CHECK(a.verdict != Verdict::no_verdict);
    for (const CaseResult& c : a.cases) {
      CAPTURE(c.load_case.id);
      if (c.load_case.path == LoadPath::warning) continue;
      CHECK_FALSE(c.worst_mode.empty());
      CHECK(c.factor > 0);
    }
    CHECK(case_of(a, "hung-up-slipping").direction.find("boom ") == 0);
    CHECK(case_of(a, "lean-on-gear").goes_at.has_value());
    REQUIRE(a.handhold.has_value());
    REQUIRE(a.towing.size() == 1);
    REQUIRE(a.gear_limits.size() == 1);
    const GearLimit& l = a.gear_limits.front();
    REQUIRE(l.hold_limit.has_value());
    REQUIRE(l.setting.has_value());
    REQUIRE(l.not_before.has_value());
    CHECK(1.5 * l.setting->value() == doctest::Approx(l.hold_limit->value()).epsilon(1e-12));
    CHECK(*l.hold_limit < *l.not_before);
    CHECK(l.least_useful >= case_of(a, "trolling-in-waves").load_case.pull);
    CHECK(l.direction.find("boom ") == 0);
    for (const char* link : {"wire parts", "brake slips"}) {
      CHECK(std::any_of(a.ladder.begin(), a.ladder.end(),
                        [&](const LadderStep& step) { return step.link && step.what == link; }));
    }
  }

  TEST_CASE("plate downrigger: the order of brake and mount is that of their bounds") {
    Setup s = swivel();
    const Assessment first = assess(s);
    const Force mount = *first.gear_limits.front().not_before;
    // 1.5 x the slip below and above what the mount takes.
    rigger(s).brake_slip->value = 0.99 / 1.5 * mount;
    rigger(s).wire_break = 10.0 * mount;
    CHECK(assess(s).ladder_verdict.find(
              "brake or weak link lets go before the mount: the wanted order") == 0);
    rigger(s).brake_slip->value = 1.01 / 1.5 * mount;
    CHECK(assess(s).ladder_verdict.find(
              "wrong order: the mount may go before brake, link or wire") == 0);
    // Not measured it counts for nothing: the wire must.
    rigger(s).brake_slip->value = 0.5 / 1.5 * mount;
    rigger(s).brake_slip->known = Knowledge::assumed;
    CHECK(assess(s).ladder_verdict.find("wrong order") == 0);
    rigger(s).wire_break = 0.99 / 1.2 * mount;
    CHECK(assess(s).ladder_verdict.find("the wire parts before the mount: the wanted order") == 0);
  }

  TEST_CASE("plate downrigger: a brake that could not carry its ball gives no wanted order") {
    Setup s = swivel();
    rigger(s).ball = 2.0 * rigger(s).ball;
    rigger(s).brake_slip->value = 8.0_lbf;  // measured, and below the pull in waves
    rigger(s).wire_break = 400.0_lbf;
    const Assessment a = assess(s);
    CHECK(case_of(a, "hung-up-seized").load_case.decides);
    CHECK(a.ladder_verdict.find("wrong order: the mount may go before brake, link or wire") == 0);
  }

  TEST_CASE("plate downrigger: what a plate cannot have is refused") {
    const auto refused = [](auto change) {
      Setup s = swivel();
      change(s);
      CHECK_THROWS_AS(validate(s), DomainError);
    };
    validate(swivel());
    refused([](Setup& s) { rigger(s).boom_length = Length{}; });
    refused([](Setup& s) { rigger(s).boom_length = 4.0_m; });
    refused([](Setup& s) { rigger(s).boom_angles.clear(); });
    refused([](Setup& s) { rigger(s).boom_raised = {100.0_deg}; });
    refused([](Setup& s) { rigger(s).boom_raised.clear(); });
    refused([](Setup& s) { rigger(s).mass = Mass{}; });
    refused([](Setup& s) { rigger(s).mass_reach = 5.0_m; });
    refused([](Setup& s) { rigger(s).ball = 80.0_kg; });
    refused([](Setup& s) { rigger(s).depth = Length{}; });
    refused([](Setup& s) { rigger(s).weak_link = 1.0_N; });
    refused([](Setup& s) { rigger(s).brake_slip->value = -1.0_N; });
    refused([](Setup& s) { s.gear.front().foot.emplace(); });
    refused([](Setup& s) { s.gear.front().plain_load.emplace(); });
    CHECK_THROWS_AS(read(with(swivel_text, "    ball: 6 lb\n", "")), InputError);
    CHECK_THROWS_AS(read(with(swivel_text, "    ball: 6 lb\n",
                              "    ball: 6 lb\n    on_board: {side: port, outboard: 2 in}\n")),
                    InputError);
  }

  TEST_CASE("plate downrigger: the sweep of the boom agrees with the assessment") {
    const Setup s = swivel();
    const Assessment a = quick(s);
    const std::vector<BoomRow> rows = boom_sweep(s, 45.0_deg);
    CHECK(rows.size() == 8);
    std::optional<Force> least;
    double worst = plate::infinite;
    for (const BoomRow& r : rows) {
      REQUIRE(r.hold_limit.has_value());
      CHECK(r.worst_ratio > 0);
      if (!r.allowed) continue;
      if (!least || *r.hold_limit < *least) least = r.hold_limit;
      worst = std::min(worst, r.worst_ratio);
    }
    REQUIRE(least.has_value());
    CHECK(least->value() ==
          doctest::Approx(a.gear_limits.front().hold_limit->value()).epsilon(0.01));
    double in_the_cases = plate::infinite;
    for (const CaseResult& c : a.cases) {
      const LoadCase& k = c.load_case;
      if (!k.decides || !(k.path == LoadPath::tip || k.ball_on_tip)) continue;
      in_the_cases = std::min(in_the_cases, c.factor / c.needed);
    }
    CHECK(worst == doctest::Approx(in_the_cases).epsilon(0.01));
  }
}

TEST_SUITE("property") {
  TEST_CASE("plate downrigger: with one boom position it is a plain load at its tip") {
    for (const double azimuth : {0.0, 60.0, 90.0, 200.0}) {
      CAPTURE(azimuth);
      Setup s = swivel();
      Downrigger& d = rigger(s);
      d.boom_angles = {degrees(azimuth)};
      d.boom_raised = {20.0_deg};
      d.mass = 1e-6 * si::kilogramme;
      Setup plain = s;
      const std::vector<LoadCase> cases = load_cases(s);
      const Assessment a = quick(s);
      for (const char* id : {"winch-stalls", "brake-jerk", "hung-up-slipping"}) {
        const CaseResult& own = case_of(a, id);
        // One plain load for each part of its ranges.
        double worst = plate::infinite;
        for (const DirectionRange& r : own.load_case.ranges) {
          PlainLoad p;
          p.at = boom_tip(d, 0);
          p.pull = own.load_case.pull;
          p.category = own.load_case.category;
          p.range = r;
          plain.gear.front().downrigger.reset();
          plain.gear.front().plain_load = p;
          const CaseResult c = case_of(quick(plain), "plain-load");
          worst = std::min(worst, c.factor / c.needed);
        }
        // A case that another one surpasses is not followed to finer directions.
        CHECK(own.factor / own.needed == doctest::Approx(worst).epsilon(2e-3));
        CHECK(own.factor / own.needed >= worst * (1 - 1e-5));
      }
    }
  }

  TEST_CASE("plate downrigger: more positions of the boom never raise a limit") {
    for (const Setup& base : {swivel(), on_a_sheet()}) {
      std::vector<Angle> angles;
      double before = plate::infinite;
      for (const double a : {90.0, 45.0, 0.0, 135.0}) {
        angles.push_back(degrees(a));
        Setup s = base;
        rigger(s).boom_angles = angles;
        const double limit = quick(s).hold_limit->value();
        CHECK(limit <= before * (1 + 1e-6));
        before = limit;
      }
      Setup s = base;
      rigger(s).boom_angles = angles;
      rigger(s).boom_raised = {0.0_deg, 45.0_deg};
      CHECK(quick(s).hold_limit->value() <= before * (1 + 1e-6));
    }
  }

  TEST_CASE("plate downrigger: fore and aft mirrored nothing changes") {
    // The base is the same either way, and so are the directions of these cases.
    Setup s = swivel();
    rigger(s).boom_angles = {30.0_deg, 80.0_deg};
    Setup t = s;
    rigger(t).boom_angles = {150.0_deg, 100.0_deg};
    const Assessment a = quick(s);
    const Assessment b = quick(t);
    for (const char* id : {"winch-stalls", "brake-jerk", "surface-snatch"}) {
      CAPTURE(id);
      CHECK(case_of(a, id).factor == doctest::Approx(case_of(b, id).factor).epsilon(1e-3));
    }
    CHECK(case_of(a, "running-ball-on-tip").factor ==
          doctest::Approx(case_of(b, "running-ball-on-tip").factor).epsilon(1e-9));
  }

  TEST_CASE("plate downrigger: below the hold limit all holds and above it something fails") {
    std::vector<Setup> all{swivel(), on_a_sheet()};
    for (Setup& s : all) rigger(s).boom_raised = {0.0_deg, 40.0_deg};
    PlateDice dice(21);
    for (int n = 0; n < 6; ++n) all.push_back(random_swivel(dice));
    int looked_at = 0;
    for (std::size_t i = 0; i < all.size(); ++i) {
      CAPTURE(i);
      const Assessment a = quick(all[i]);
      if (!a.hold_limit || *a.hold_limit < 0.1_lbf) continue;  // refused, or its weight is too much
      ++looked_at;
      CHECK(worst_on_a_grid(all[i], 0, 0.99 * *a.hold_limit, 4.0_deg) >= 1);
      CHECK(worst_on_a_grid(all[i], 0, 1.01 * *a.hold_limit, 2.0_deg) < 1);
    }
    CHECK(looked_at > 4);
  }

  TEST_CASE("plate downrigger: half the step of directions changes nothing by 1 %") {
    std::vector<Setup> all{swivel(), on_a_sheet()};
    for (Setup& s : all) rigger(s).boom_angles = {0.0_deg, 50.0_deg, 90.0_deg};
    PlateDice dice(22);
    for (int n = 0; n < 7; ++n) all.push_back(random_swivel(dice));
    for (std::size_t i = 0; i < all.size(); ++i) {
      CAPTURE(i);
      const Assessment a = quick(all[i], 5);
      if (refused(a)) continue;
      const Assessment b = quick(all[i], 2.5);
      REQUIRE(a.hold_limit.has_value() == b.hold_limit.has_value());
      if (a.hold_limit) CHECK(relative(a.hold_limit->value(), b.hold_limit->value()) <= 0.01);
      for (const CheckResult& c : a.checks) {
        if (!concerned(c)) continue;
        CAPTURE(c.mode);
        const CheckResult& same = check_of(b, c.mode);
        CHECK(relative(c.factor / c.needed, same.factor / same.needed) <= 0.01);
      }
    }
  }

  TEST_CASE("plate downrigger: two on one base point each its own way") {
    Setup two = swivel();
    two.gear.push_back(two.gear.front());
    two.gear.front().name = "fore";
    two.gear.back().name = "aft";
    const auto ratios = [&](std::vector<Angle> fore, std::vector<Angle> aft, bool stowed) {
      Setup s = two;
      Downrigger& f = *s.gear.front().downrigger;
      Downrigger& a = *s.gear.back().downrigger;
      (stowed ? f.stowed_angles : f.boom_angles) = std::move(fore);
      (stowed ? a.stowed_angles : a.boom_angles) = std::move(aft);
      const CaseResult c = case_of(quick(s), stowed ? "running-peak" : "running-ball-on-tip");
      return c.factor / c.needed;
    };
    for (const bool stowed : {false, true}) {
      CAPTURE(stowed);
      double worst = plate::infinite;
      for (const Angle& fore : {0.0_deg, 90.0_deg, 150.0_deg}) {
        for (const Angle& aft : {90.0_deg, 0.0_deg}) {
          worst = std::min(worst, ratios({fore}, {aft}, stowed));
        }
      }
      const double all = ratios({0.0_deg, 90.0_deg, 150.0_deg}, {90.0_deg, 0.0_deg}, stowed);
      CHECK(all == doctest::Approx(worst).epsilon(1e-9));
    }
  }

  TEST_CASE("plate downrigger: stowed any way is no better than any one way") {
    for (const Setup& base : {swivel(), on_a_sheet()}) {
      Setup s = base;
      rigger(s).stowed_angles.clear();
      const auto ratio = [](const Setup& t) {
        const CaseResult c = case_of(quick(t), "running-peak");
        return c.factor / c.needed;
      };
      const double any = ratio(s);
      for (int i = 0; i < 24; ++i) {
        rigger(s).stowed_angles = {degrees(15 * i + 5)};
        CHECK(any <= 1.01 * ratio(s));
      }
    }
  }

  TEST_CASE("plate downrigger: alike ones have the limits of unlike ones that are nearly so") {
    Setup s = swivel();
    s.gear.push_back(s.gear.front());
    s.gear.front().name = "fore";
    s.gear.back().name = "aft";
    const Assessment same = quick(s);
    s.gear.back().downrigger->tip_height = 6.0_in * (1 + 1e-9);
    const Assessment other = quick(s);
    REQUIRE(same.cases.size() == other.cases.size());
    for (std::size_t i = 0; i < same.cases.size(); ++i) {
      CAPTURE(same.cases[i].load_case.id);
      CHECK(same.cases[i].load_case.id == other.cases[i].load_case.id);
      CHECK(same.cases[i].factor == doctest::Approx(other.cases[i].factor).epsilon(1e-4));
      CHECK(same.cases[i].holds == other.cases[i].holds);
    }
    REQUIRE(same.gear_limits.size() == 2);
    CHECK(same.gear_limits.back().gear == "aft");
    for (std::size_t i = 0; i < 2; ++i) {
      const GearLimit& a = same.gear_limits[i];
      const GearLimit& b = other.gear_limits[i];
      CHECK(a.hold_limit->value() == doctest::Approx(b.hold_limit->value()).epsilon(1e-4));
      CHECK(a.all_hung_up->value() == doctest::Approx(b.all_hung_up->value()).epsilon(1e-4));
      CHECK(a.setting->value() == doctest::Approx(b.setting->value()).epsilon(1e-4));
    }
  }

  TEST_CASE("plate downrigger: two on one base hung up at once share what it holds") {
    Setup one = swivel();
    rigger(one).mass = 1e-6 * si::kilogramme;
    rigger(one).boom_angles = {90.0_deg};
    Setup two = one;
    two.gear.push_back(two.gear.front());
    two.gear.front().name = "fore";
    two.gear.back().name = "aft";
    const Assessment single = quick(one);
    const Assessment both = quick(two);
    REQUIRE(both.gear_limits.size() == 2);
    // The same pull twice on the same place.
    const double alone = single.hold_limit->value();
    for (const GearLimit& l : both.gear_limits) {
      REQUIRE(l.all_hung_up.has_value());
      CHECK(l.all_hung_up->value() >= 0.5 * alone * (1 - 1e-3));
      CHECK(l.all_hung_up->value() <= 0.75 * alone);
      CHECK(*l.hold_limit <= *single.hold_limit * (1 + 1e-6));
      CHECK(1.5 * l.setting->value() <= l.all_hung_up->value() * (1 + 1e-9));
    }
    CHECK(case_of(both, "both-hung-up-1").factor ==
          doctest::Approx(case_of(both, "both-hung-up-2").factor).epsilon(1e-6));
  }
}
