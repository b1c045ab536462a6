// The boat's side of a pull, and figures that look like another quantity.

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <string>
#include <string_view>
#include <vector>

#include <thole/loads.hpp>
#include <thole/stability.hpp>

#include "core/assessment_parts.hpp"
#include "support/boards.hpp"
#include "support/published.hpp"

using namespace thole;
using namespace thole::literals;
using test::Against;
using test::fjord_board;
using test::mirrored;
using test::mm;
using test::Published;

namespace {

BoatData skiff() {
  BoatData b;
  b.length = 4.6_m;
  b.beam = 1.9_m;
  b.freeboard = 0.50_m;
  b.loaded_mass = 700.0_kg;
  return b;
}

Setup with_boat() {
  Setup s = fjord_board();
  s.boat = skiff();
  return s;
}

Setup plate(bool described) {
  Setup s;
  s.units = ReaderUnits::metric;
  s.mount = GunwalePlate{};
  Gear g;
  g.name = "rod";
  RodHolder r;
  r.height = 0.1_m;
  r.lean = 30.0_deg;
  r.toward = 90.0_deg;
  r.rod_length = 2.0_m;
  r.line_test = 90.0_N;
  r.drag = {30.0_N, Knowledge::measured};
  r.running_pull = 20.0_N;
  g.rod_holder = r;
  s.gear.push_back(g);
  if (described) s.boat = skiff();
  return s;
}

DirectionRange straight_down() { return {Angle{}, Angle{}, 90.0_deg, 90.0_deg}; }
DirectionRange abeam(Angle dip) { return {90.0_deg, 90.0_deg, dip, dip}; }

LoadCase pull_on(int gear, Force pull, DirectionRange range, LoadPath path = LoadPath::tip) {
  LoadCase c;
  c.id = c.kind = "a-pull";
  c.title = "a pull";
  c.category = Category::occasional;
  c.path = path;
  c.pull = pull;
  c.range = range;
  c.ranges = {range};
  c.gear = gear;
  return c;
}

double moment(const Setup& s, const LoadCase& c) {
  const BoatSide side = parts::boat_side(s, {c});
  REQUIRE(side.rows.size() == 1);
  return side.rows.front().moment.value();
}

bool says(const std::vector<std::string>& texts, std::string_view words) {
  return std::any_of(texts.begin(), texts.end(),
                     [&](const std::string& t) { return t.find(words) != std::string::npos; });
}

bool near(double a, double b, double by = 1e-9) { return std::abs(a - b) <= by * std::abs(b); }

}  // namespace

TEST_SUITE("unit") {
  TEST_CASE("boat side: a pull straight down at a tip has the lever of base and boom") {
    // Base 0.9 m + 0.12 m off the middle, boom 0.6 m abeam: 1.62 m.
    CHECK(near(moment(fjord_board(), pull_on(0, 100.0_N, straight_down())), 162));
    // Astern only: the base alone.
    Setup s = fjord_board();
    for (Gear& g : s.gear) g.downrigger->boom_angles = {Angle{}};
    CHECK(near(moment(s, pull_on(0, 100.0_N, straight_down())), 102));
    // Raised 60 deg and abeam: half the boom, and 0.2 m + 0.6 sin 60 deg above the board, which is
    // 0.5 m above the water and 0.1 m for half the draught; the line 30 deg below level.
    for (Gear& g : s.gear) {
      g.downrigger->boom_angles = {90.0_deg};
      g.downrigger->boom_raised = {60.0_deg};
    }
    const double up = 0.5 + 0.1 + 0.2 + 0.6 * std::sin(radians(60.0_deg));
    CHECK(near(moment(s, pull_on(0, 100.0_N, abeam(30.0_deg))),
               100 * (0.5 * 1.32 + std::cos(radians(30.0_deg)) * up)));
  }

  TEST_CASE("boat side: a described boat gives the height above the water") {
    const Setup s = with_boat();
    const HeelModel m = heel_model(*s.boat, fresh_water().density);
    const double up = 0.5 + 0.5 * m.draught.value() + 0.2;
    // Level and abeam. Sea water floats the boat 3 % higher.
    CHECK(near(moment(s, pull_on(0, 100.0_N, abeam(Angle{}))), 100 * up, 0.005));
  }

  TEST_CASE("boat side: port and starboard are alike") {
    Setup s = with_boat();
    s.gear.pop_back();
    s.board().port_overhang = mm(230);
    s.gear[0].rod_holder.reset();
    const BoatSide port = parts::boat_side(s, load_cases(s));
    const Setup other = mirrored(s);
    const BoatSide starboard = parts::boat_side(other, load_cases(other));
    REQUIRE(port.rows.size() == starboard.rows.size());
    REQUIRE(port.rows.size() > 5);
    for (std::size_t i = 0; i < port.rows.size(); ++i) {
      CHECK(near(port.rows[i].moment.value(), starboard.rows[i].moment.value()));
      CHECK(port.rows[i].level == starboard.rows[i].level);
      if (i > 0) CHECK(port.rows[i].moment <= port.rows[i - 1].moment);
    }
    REQUIRE(port.pulls.size() == 1);
    CHECK(near(port.pulls[0].notice.value(), starboard.pulls[0].notice.value(), 1e-6));
  }

  TEST_CASE("boat side: a greater pull heels no less") {
    const Setup s = with_boat();
    double last = 0;
    HeelLevel level = HeelLevel::none;
    double heel = 0;
    for (int p = 10; p <= 1500; p += 10) {
      LoadCase c = pull_on(0, double(p) * si::newton, {-90.0_deg, 90.0_deg, 15.0_deg, 90.0_deg});
      const BoatSide side = parts::boat_side(s, {c});
      const HeelRow& r = side.rows.at(0);
      CHECK(r.moment.value() > last);
      CHECK(*r.level >= level);
      if (r.heel) CHECK(r.heel->value() >= heel);
      last = r.moment.value();
      level = *r.level;
      heel = r.heel ? r.heel->value() : 10;
    }
    CHECK(level == HeelLevel::swamping);
  }

  TEST_CASE("boat side: the levels come at the pulls that are listed for them") {
    Setup s = with_boat();
    s.boat->lean_test = LeanTest{80.0_kg, 0.6_m, 4.0_deg};
    // The widest of its own cases: the pulls count every direction of the list.
    std::vector<LoadCase> cases;
    for (const LoadCase& c : load_cases(s)) {
      if (c.id == "hung-up-seized-1") cases.push_back(c);
    }
    REQUIRE(cases.size() == 1);
    const BoatSide side = parts::boat_side(s, cases);
    REQUIRE(side.pulls.size() == 2);
    const HeelPull& p = side.pulls[0];
    CHECK(p.gear == "port downrigger");
    REQUIRE(p.strong);
    REQUIRE(p.swamping);
    CHECK(*p.strong < *p.swamping);
    CHECK(near(p.setting->value() * 1.5, p.notice.value()));
    const auto level = [&](Force pull) {
      LoadCase c = cases[0];
      c.pull = pull;
      return *parts::boat_side(s, {c}).rows.at(0).level;
    };
    const auto row = [&](Force pull) {
      LoadCase c = cases[0];
      c.pull = pull;
      return parts::boat_side(s, {c}).rows.at(0).moment;
    };
    CHECK(row(1.001 * p.notice) > side.threshold);
    CHECK(row(0.999 * p.notice) < side.threshold);
    CHECK(level(1.001 * *p.strong) >= HeelLevel::strong);
    CHECK(level(0.999 * *p.strong) < HeelLevel::strong);
    CHECK(level(1.001 * *p.swamping) == HeelLevel::swamping);
    CHECK(level(0.999 * *p.swamping) < HeelLevel::swamping);
  }

  TEST_CASE("boat side: a lean test takes the place of the low estimate") {
    Setup s = with_boat();
    const BoatSide estimate = parts::boat_side(s, load_cases(s));
    CHECK(estimate.gm_from == "estimate, low end");
    CHECK(says(estimate.cautions, "lean test tells"));
    // 80 kg x 0.6 m / (700 kg tan 4 deg) = 0.981 m: stiffer than the low end of the estimate.
    s.boat->lean_test = LeanTest{80.0_kg, 0.6_m, 4.0_deg};
    const BoatSide measured = parts::boat_side(s, load_cases(s));
    CHECK(measured.gm_from == "lean test");
    // The crew sat then and stands with a ball hung up: 0.1 m less.
    CHECK(near(measured.gm.value(), 48 / (700 * std::tan(radians(4.0_deg))) - 0.1));
    CHECK(measured.gm > estimate.gm);
    CHECK(measured.threshold > estimate.threshold);
    REQUIRE(measured.pulls.size() == 2);
    CHECK(measured.pulls[0].notice > estimate.pulls[0].notice);
    // A lean of half a degree would make a raft of it: not believed beyond BM.
    s.boat->lean_test->heel = 0.5_deg;
    CHECK(parts::boat_side(s, {}).gm <=
          estimate_stability(*s.boat, sea_water().density).bm + 1e-12 * si::metre);
  }

  TEST_CASE("boat side: a boat that cannot stand up makes every pull too much") {
    Setup s = with_boat();
    s.boat->centre_height = 3.0_m;
    const BoatSide side = parts::boat_side(s, {pull_on(0, 50.0_N, straight_down())});
    CHECK(side.gm == 0.001_m);
    CHECK(*side.rows.at(0).level == HeelLevel::swamping);
    CHECK(side.pulls.at(0).notice < 5.0_N);
  }

  TEST_CASE("boat side: without the boat there is a person to compare with and no level") {
    const Setup s = fjord_board();
    const BoatSide side = parts::boat_side(s, load_cases(s));
    CHECK_FALSE(side.described);
    CHECK(side.pulls.empty());
    REQUIRE_FALSE(side.rows.empty());
    for (const HeelRow& r : side.rows) {
      CHECK_FALSE(r.level);
      CHECK_FALSE(r.heel);
      CHECK(near(r.person_off_middle.value() * 85 * 9.80665, r.moment.value()));
    }
    REQUIRE(side.cautions.size() == 1);
    CHECK(says(side.cautions, "not compared, because boat: is not in the file"));
    CHECK(says(side.cautions, "like a person of 85 kg sitting"));
    CHECK(says(side.cautions, "no stability check"));
  }

  TEST_CASE("boat side: a plate has rows once the boat is described") {
    const std::vector<LoadCase> cases = {pull_on(0, 60.0_N, straight_down(), LoadPath::line)};
    const BoatSide without = parts::boat_side(plate(false), cases);
    CHECK(without.rows.empty());
    REQUIRE(without.cautions.size() == 1);
    CHECK(says(without.cautions, "not compared, because boat: is not in the file"));
    CHECK_FALSE(says(without.cautions, "sitting"));
    CHECK(says(without.cautions, "no stability check"));
    // Half the beam, and a rod of 2 m that leans 30 deg outboard: sin 30 deg x 2 m more. The line
    // down along a rod that leans away from it may bend it out to its whole length.
    const BoatSide side = parts::boat_side(plate(true), cases);
    REQUIRE(side.rows.size() == 1);
    CHECK(near(side.rows[0].moment.value(), 60 * (0.95 + 2.0)));
    // Level and abeam the straight rod counts: its height and that of the rim.
    const HeelModel m = heel_model(skiff(), fresh_water().density);
    const double up = 0.5 + 0.5 * m.draught.value() + 0.1 + 2.0 * std::cos(radians(30.0_deg));
    CHECK(near(moment(plate(true), pull_on(0, 60.0_N, abeam(Angle{}), LoadPath::line)), 60 * up));
    REQUIRE(side.pulls.size() == 1);
    CHECK(near(side.pulls[0].setting->value() * 1.5 * 1.5, side.pulls[0].notice.value()));
  }

  TEST_CASE("boat side: a rod of measured stiffness heels less and never below its rim alone") {
    Setup stiff = plate(true);
    Setup soft = plate(true);
    soft.gear[0].rod_holder->butt_stiffness = parse<BendingStiffness>("25 N m2");
    for (const double p : {5.0, 50.0, 500.0}) {
      const LoadCase c =
          pull_on(0, p * si::newton, {-90.0_deg, 90.0_deg, 5.0_deg, 90.0_deg}, LoadPath::line);
      CHECK(moment(soft, c) <= moment(stiff, c));
      CHECK(moment(soft, c) >= p * 0.95);
    }
  }

  TEST_CASE("boat side: gears on one side add up and relief is not counted") {
    Setup s = fjord_board();
    LoadCase c = pull_on(0, 100.0_N, straight_down());
    c.others = Others::together;
    c.pulls = {100.0_N, 100.0_N};
    // On opposite sides: as one alone.
    CHECK(near(moment(s, c), 162));
    s.gear[1].place.side = Side::port;
    CHECK(near(moment(s, c), 2 * 162));
    CHECK(says(parts::boat_side(s, {c}).cautions, "no stability check"));
    // The other only tows: its ball hangs at its tip.
    LoadCase one = pull_on(0, 100.0_N, straight_down());
    CHECK(near(moment(s, one), 162 + 4.5 * 9.80665 * 1.62));
    // The same way over the ground: a line that leads to starboard heels to starboard.
    s = fjord_board();
    c.range = {-90.0_deg, -90.0_deg, Angle{}, Angle{}};
    c.ranges = {c.range};
    CHECK(near(moment(s, c), 2 * 100 * 0.8));
  }

  TEST_CASE("boat side: people push at the end of the board and left-out cases are not shown") {
    const Setup s = fjord_board();
    const LoadCase sit = pull_on(-1, 890.0_N, straight_down(), LoadPath::board);
    CHECK(near(moment(s, sit), 890 * 1.1));
    // Whoever lifts stands on the same boat: level and down only.
    const LoadCase lean =
        pull_on(-1, 890.0_N, {-180.0_deg, 180.0_deg, -90.0_deg, Angle{}}, LoadPath::board);
    CHECK(moment(s, lean) == doctest::Approx(890 * 0.6));
    LoadCase out = sit;
    out.left_out = true;
    LoadCase ride = sit;
    ride.path = LoadPath::ride;
    LoadCase warning = sit;
    warning.path = LoadPath::warning;
    CHECK(parts::boat_side(s, {out, ride, warning}).rows.empty());
  }

  TEST_CASE("boat side: cautions are few and name the case and the heel") {
    const Setup s = with_boat();
    const BoatSide side = parts::boat_side(s, load_cases(s));
    CHECK(side.cautions.size() <= 3);
    CHECK(says(side.cautions, "hung up"));
    CHECK(says(side.cautions, "no stability check"));
    const bool threshold = std::any_of(side.sources.begin(), side.sources.end(), [](const auto& c) {
      return c.title.find("46 CFR 173.005") != std::string::npos && c.seen == Seen::page;
    });
    CHECK(threshold);
  }

  TEST_CASE("heel: levels rise with moment and load and a load takes freeboard") {
    const HeelModel m = heel_model(skiff(), fresh_water().density);
    for (const double down : {0.0, 300.0, 900.0, 5000.0}) {
      HeelLevel last = HeelLevel::none;
      for (int i = 0; i < 200; ++i) {
        const Moment moment = Moment::from_value(20.0 * i);
        const Heel h = heel_of(m, moment, down * si::newton);
        CHECK(h.level >= last);
        CHECK(h.level >= heel_of(m, moment, 0.5 * down * si::newton).level);
        if (h.with_person) CHECK(*h.with_person >= *h.alone);
        if (moment >= m.threshold) CHECK(h.level >= HeelLevel::notice);
        last = h.level;
      }
    }
    CHECK_FALSE(heel_of(m, Moment{}, 50.0 * m.freeboard * m.sinking).alone);
  }

  TEST_CASE("heel: an untold wave height counts as 0.3 m") {
    BoatData b = skiff();
    CHECK(heel_model(b, fresh_water().density).wave_height == 0.3_m);
    b.wave_height = 0.5_m;
    CHECK(heel_model(b, fresh_water().density).wave_height == 0.5_m);
  }

  TEST_CASE("look again: plain figures raise nothing") {
    CHECK(parts::look_again(fjord_board()).empty());
    CHECK(parts::look_again(with_boat()).empty());
    CHECK(parts::look_again(plate(true)).empty());
  }

  TEST_CASE("look again: a brake slip that is the weight of the ball is told once for both gears") {
    Setup s = fjord_board();
    for (Gear& g : s.gear) g.downrigger->brake_slip->value = 45.0_N;
    const auto all = parts::look_again(s);
    REQUIRE(all.size() == 1);
    CHECK(
        all[0] ==
        "brake_slip 45 N is about the weight of the ball (4.5 kg), not the pull at which the brake "
        "lets go: read it with a luggage scale on the wire, wet, three times, and take the "
        "highest");
    s.gear[1].downrigger->brake_slip->value = 300.0_N;
    CHECK(parts::look_again(s).at(0).starts_with("brake_slip of port downrigger 45 N"));
  }

  TEST_CASE("look again: knots for mph and other speeds") {
    Setup s = fjord_board();
    for (Gear& g : s.gear) g.downrigger->fastest = Speed::from_value(2.2);
    CHECK(says(parts::look_again(s), "knots and mph differ by 15 %, the drag of the wire by 32 %"));
    CHECK(says(parts::look_again(s), "speed 2.20 m/s (4.9 mph, 4.3 kn) is fast"));
    s = fjord_board();
    for (Gear& g : s.gear) g.downrigger->slowest = Speed::from_value(0.2);
    CHECK(says(parts::look_again(s), "is slow for trolling"));
    s = fjord_board();
    for (Gear& g : s.gear) {
      g.downrigger->slowest_at_ball = Speed::from_value(0.1);
      g.downrigger->fastest_at_ball = Speed::from_value(0.3);
    }
    CHECK(says(parts::look_again(s), "speed_at_ball 0.30 m/s"));
  }

  TEST_CASE("look again: gear that is too much") {
    Setup s = fjord_board();
    for (Gear& g : s.gear) {
      g.downrigger->ball = 12.0_kg;
      g.downrigger->boom_length = 2.6_m;
      g.downrigger->wire_break = 110.0_N;
      g.downrigger->winch_stall = 100.0_N;
      g.downrigger->weak_link = 60.0_N;
    }
    const auto all = parts::look_again(s);
    for (const char* const what : {"ball 12 kg", "boom_length 2600 mm", "wire_break 110 N",
                                   "winch_stall 100 N", "weak_link 60 N is below the weight",
                                   "brake_slip 300 N is not below the breaking load"}) {
      CAPTURE(what);
      CHECK(says(all, what));
    }
    s = fjord_board();
    for (Gear& g : s.gear) {
      g.downrigger->depth = 100.0_m;
      g.downrigger->ball = 1.0_kg;
    }
    CHECK(says(parts::look_again(s), "depth 100000 mm"));
  }

  TEST_CASE("look again: drag and running pull") {
    Setup s = plate(false);
    RodHolder& r = *s.gear[0].rod_holder;
    r.drag.value = 100.0_N;
    CHECK(says(parts::look_again(s), "drag 100 N is above the line test (90 N)"));
    r.drag.value = 60.0_N;
    CHECK(says(parts::look_again(s), "drag 60 N is 67 % of the line test"));
    r.drag.value = 10.0_N;
    CHECK(says(parts::look_again(s), "running_pull 20 N is above the drag (10 N)"));
    r.drag.value = 30.0_N;
    r.mass = 2.04_kg;
    CHECK(says(parts::look_again(s), "running_pull 20 N is the weight of rod, reel and holder"));
    Gear p;
    p.plain_load = PlainLoad{};
    p.plain_load->pull = 98.0_N;
    p.plain_load->mass = 10.0_kg;
    s.gear = {p};
    CHECK(says(parts::look_again(s), "pull 98 N is the weight of the gear itself (10 kg)"));
  }

  TEST_CASE("look again: the boat") {
    const auto with = [](auto change) {
      Setup s = with_boat();
      change(*s.boat);
      return parts::look_again(s);
    };
    CHECK(says(with([](BoatData& b) { b.top_speed = Speed::from_value(30.0); }), "top_speed"));
    CHECK(says(with([](BoatData& b) { b.top_speed = Speed::from_value(1.5); }),
               "not the trolling speed"));
    CHECK(says(with([](BoatData& b) { b.loaded_mass = 240.0_kg; }), "was the bare hull meant"));
    CHECK(says(with([](BoatData& b) { b.loaded_mass = 2000.0_kg; }), "pounds or kilograms"));
    CHECK(says(with([](BoatData& b) { b.freeboard = 1.0_m; }), "not from the keel"));
    CHECK(says(with([](BoatData& b) { b.beam = 2.4_m; }), "over the gunwales"));
    CHECK(says(with([](BoatData& b) { b.beam = 0.9_m; }), "over the gunwales"));
    CHECK(says(with([](BoatData& b) { b.wave_height = 0.6_m; }), "trough to crest"));
    CHECK(says(with([](BoatData& b) { b.waterline_beam = 2.0_m; }), "wider than the gunwales"));
    const auto leans = [&](double heel, double moved) {
      return with([&](BoatData& b) {
        b.lean_test = LeanTest{moved * si::kilogram, 0.6_m, degrees(heel)};
      });
    };
    CHECK(says(leans(1.5, 30), "lost in the reading"));
    CHECK(says(leans(2.5, 40), "is weak"));
    CHECK(says(leans(12, 200), "far over"));
    CHECK(leans(5, 80).empty());
    CHECK(says(leans(5, 20), "much more tender"));
    CHECK(says(leans(3.5, 200), "much stiffer"));
  }
}

TEST_SUITE("published") {
  // Hand computation of a rigger for a 14 ft boat: a tip 58 in off the
  // middle, 150 lbf is 725 lbf ft (983 N m), like a man of 180 lb 4 ft off the middle; 60 lbf is
  // 290 lbf ft; 25 lbf is 121 lbf ft, the man 8 in off.
  TEST_CASE("boat side: three pulls at a tip 58 in off the middle against a hand computation") {
    const Against against("moments of a pull beside the boat, by hand", Seen::computed);
    Setup s = fjord_board();
    s.board().clear_width = 58.0_in;
    for (Gear& g : s.gear) {
      g.place.outboard = Length{};
      g.downrigger->boom_length = 29.0_in;
      g.downrigger->boom_angles = {90.0_deg};
    }
    struct Row {
      Force pull;
      const char* moment;
      double man_off;  ///< in
      double half;     ///< in the last digit that is given
    };
    for (const Row& r : {Row{150.0_lbf, "725 lbf ft", 48, 6}, Row{60.0_lbf, "290 lbf ft", 0, 0},
                         Row{25.0_lbf, "121 lbf ft", 8, 0.5}}) {
      const BoatSide side = parts::boat_side(s, {pull_on(0, r.pull, straight_down())});
      REQUIRE(side.rows.size() == 1);
      CHECK(side.rows[0].moment == Published<Moment>(r.moment));
      if (r.man_off == 0) continue;  // only in words: "most of the way to the rail"
      const Length of_man = side.rows[0].person_off_middle * (one_person / (180.0 * 0.45359237_kg));
      CHECK(std::abs(of_man / 1.0_in - r.man_off) <= r.half);
    }
    const LoadCase most = pull_on(0, 150.0_lbf, straight_down());
    CHECK(parts::boat_side(s, {most}).rows.at(0).moment == Published<Moment>("983 N m"));
  }
}
