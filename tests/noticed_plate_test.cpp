// What no other test noticed when tests/mutate changed it: brackets, rods beside a pull, the grid
// of directions, owners' edits and what is said of a brake.

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <fstream>
#include <iterator>
#include <numbers>
#include <optional>
#include <string>
#include <vector>

#include <thole/loads.hpp>
#include <thole/metal_strength.hpp>
#include <thole/rod.hpp>
#include <thole/test_pull.hpp>
#include <thole/thole.hpp>

#include "core/assessment_parts.hpp"
#include "core/load_list.hpp"
#include "core/plate_engine.hpp"
#include "core/plate_search.hpp"
#include "support/boards.hpp"
#include "support/hosts.hpp"

using namespace thole;
using namespace thole::literals;
using namespace thole::test;

namespace {

const char* const narrow_bolts = R"(thole: 1
units: metric
mount:
  kind: bracket
  host: {form: sheet, alloy: 5052-H32 sheet, thickness: {is: 1.6 mm, known: measured},
         to_support: 300 mm}
  base:
    fore_aft: 150 mm
    athwart: 350 mm
    material: {name: 6060-T5 flat bar, ultimate: 160 MPa, yield: 120 MPa, source: a certificate}
    thickness: 3 mm
  bears_on: [{fore_aft: [-75 mm, 75 mm], athwart: [-175 mm, 35 mm]}]
  gear_foot: {outboard: 105 mm, width: 140 mm}
  fastening:
    hold: through_bolt
    head: 24 mm
    thread: M8
    material: A2-50
    holes: {points: [[-13 mm, 5 mm], [13 mm, 5 mm]]}
gear:
  - kind: plain_load
    at: {forward: 0 mm, outboard: 440 mm, up: 0 mm}
    pull: 200 N
    azimuth: 0 deg
    dip: 90 deg
)";

// Nothing presses: the base is off its bed, and two bolts pull.
Actions two_pull(double each) {
  Actions a;
  a.count = 2;
  a.result.count = 2;
  a.result.lift = 1.0_mm;
  for (std::size_t i = 0; i < 2; ++i) {
    a.tension[i] = Force::from_value(each);
    a.result.tension[i] = a.tension[i];
  }
  return a;
}

LoadCase listed(const Setup& s, const std::string& id) {
  for (const LoadCase& c : listed_cases(s)) {
    if (c.id == id) return c;
  }
  FAIL("no case " << id);
  return {};
}

}  // namespace

TEST_SUITE("unit") {
  TEST_CASE("noticed: bolts side by side bend the width that both of them reach") {
    // By hand: bolts 26 mm apart, heads 24 mm across, 30 mm from the edge of the gear's foot. 45
    // degrees reach 26 + 24 + 60 mm together, where each alone reaches 84 mm and the foot 140 mm.
    const Setup s = read(narrow_bolts);
    const Use u = mode_of("bracket-bends").use(s, two_pull(500), Category::occasional);
    const double mp = 0.25 * 0.003 * 0.003 * 120e6;
    CHECK(u.demand.si / u.strength.si == doctest::Approx(2 * 500 * 0.030 / (mp * 0.110)));
  }

  TEST_CASE("noticed: a bracket that nothing bends tells the strength over its foot") {
    const Setup s = read(narrow_bolts);
    Actions a;
    a.count = 2;
    a.result.count = 2;
    a.result.lift = 1.0_mm;
    const Use u = mode_of("bracket-bends").use(s, a, Category::occasional);
    CHECK(u.demand.si == 0);
    CHECK(u.strength.si == doctest::Approx(0.25 * 0.003 * 0.003 * 120e6 * 0.140));
  }

  TEST_CASE("noticed: the load jumps where a line runs back along its rod") {
    // The tube leans `lean` from upright toward `toward`: from tip to butt is the other way.
    Setup s = read(jon_boat);
    for (const double lean : {20.0, 35.0, 60.0}) {
      for (const double toward : {0.0, 90.0, 200.0}) {
        CAPTURE(lean);
        CAPTURE(toward);
        s.gear[0].rod_holder->lean = degrees(lean);
        s.gear[0].rod_holder->toward = degrees(toward);
        const plate::Engine e(s);
        const auto jumps = e.jumps(e.beside(0), LoadPath::line);
        REQUIRE(jumps.size() == 1);
        const double l = lean * std::numbers::pi / 180;
        const double t = toward * std::numbers::pi / 180;
        // Azimuth from astern, outboard positive.
        CHECK(jumps[0].x() == doctest::Approx(std::sin(l) * std::cos(t)));
        CHECK(jumps[0].y() == doctest::Approx(-std::sin(l) * std::sin(t)));
        CHECK(jumps[0].z() == doctest::Approx(-std::cos(l)));
      }
    }
  }

  TEST_CASE("noticed: a rod beside pulls with what runs and no more than lets go") {
    // 1.5 x running pull, 1.5 x drag x spool growth, 1.3 x line test, 1.2 x weak link (common
    // practice and judgement): the least of them, 15 degrees down astern.
    const auto beside = [](auto change) {
      Setup s = read(jon_boat);
      s.gear.push_back(s.gear[0]);
      s.gear[1].name = "second rod";
      change(*s.gear[1].rod_holder);
      const plate::Engine e(s);
      const auto all = e.beside(0);
      REQUIRE(all.size() == 2);
      const auto more = all[1].steady.force.si_values() - all[0].steady.force.si_values();
      const Eigen::Vector3d pull = more;
      const double down = 15 * std::numbers::pi / 180;
      CHECK(-pull.x() / pull.norm() == doctest::Approx(std::cos(down)));
      CHECK(-pull.z() / pull.norm() == doctest::Approx(std::sin(down)));
      return pull.norm() / Force(1.0_lbf).value();
    };
    CHECK(beside([](RodHolder&) {}) == doctest::Approx(1.5 * 5));
    CHECK(beside([](RodHolder& r) { r.drag.value = 3.0_lbf; }) == doctest::Approx(1.5 * 1.3 * 3));
    CHECK(beside([](RodHolder& r) { r.line_test = 5.0_lbf; }) == doctest::Approx(1.3 * 5));
    CHECK(beside([](RodHolder& r) { r.weak_link = 5.5_lbf; }) == doctest::Approx(1.2 * 5.5));
  }

  TEST_CASE("noticed: every direction of a grid is nearest to itself") {
    const DirectionRange range{-90.0_deg, 90.0_deg, 5.0_deg, 80.0_deg};
    const plate::Field field(range, 10.0_deg);
    for (int spot = 0; spot < field.size(); ++spot) {
      CHECK(field.nearest(field.direction(spot)) == spot);
    }
    // Beyond the borders by less than forgiven: on them.
    const Direction<Boat> beyond = line_direction(90.5_deg, 80.5_deg);
    CHECK(field.nearest(beyond) == field.size() - 1);
  }

  TEST_CASE("noticed: a mount less a fastener is looked at for a twentieth of its hours") {
    // Missed at the next look, a season at most of the twenty that it shall last. A light rod on a
    // thick wall: cracks alone decide, and only after many hours.
    Setup s = read(jon_boat);
    RodHolder& r = *s.gear[0].rod_holder;
    r.running_pull = 0.1 * r.running_pull;
    r.drag.value = 0.1 * r.drag.value;
    r.line_test = 0.1 * r.line_test;
    r.mass = 0.1 * r.mass;
    s.plate().base.thickness = s.plate().host.thickness = 0.25_in;
    s.use.running_peak = 5;
    s.use.not_a_seat = true;
    s.inputs.clear();  // nothing is assumed
    s.use.road_hours_per_season = 0;
    s.use.hours_per_season = 2000;
    AssessOptions o;
    o.neighbours = false;
    AssessOptions missing = o;
    missing.one_missing = true;
    const Assessment a = assess(s, missing);
    REQUIRE(a.one_missing);
    CHECK(a.one_missing->verdict == Verdict::holds);
    s.plate().fastening.holes.pop_back();
    const auto verdict = [&](double hours) {
      Setup other = s;
      other.use.hours_per_season = hours;
      return assess(other, o).verdict;
    };
    CHECK(verdict(2000.0 / 20) == Verdict::holds);
    CHECK(verdict(2000.0 * 20) == Verdict::holds_if);
  }

  TEST_CASE("noticed: taking the gear off on the road is worth no more than it then is") {
    // A light pull on a thick wall: shaking with the gear on decides.
    Setup s = read(jon_boat);
    RodHolder& r = *s.gear[0].rod_holder;
    r.running_pull = 0.05 * r.running_pull;
    r.drag.value = 0.05 * r.drag.value;
    r.line_test = 0.05 * r.line_test;
    s.plate().base.thickness = s.plate().host.thickness = 0.25_in;
    s.use.hours_per_season = 5;
    s.use.running_peak = 5;
    s.inputs.clear();
    AssessOptions o;
    o.neighbours = false;
    const auto wall = [&] {
      for (const CheckResult& c : assess(s, o).checks) {
        if (c.mode == "wall-fatigue") return c.factor;
      }
      return 0.0;
    };
    double told = 0;
    for (const std::string& text : assess(s, o).holds_if) {
      const std::size_t end = text.find(" with the gear off on the road");
      if (end == std::string::npos) continue;
      REQUIRE(text.find("wall cracks") != std::string::npos);
      told = std::stod(text.substr(text.rfind(", ", end) + 2));
    }
    const double on = wall();
    s.use.gear_off_on_road = true;
    // Told is the least of all details.
    CHECK(told > 1.5 * on);
    CHECK(told <= wall());
  }

  TEST_CASE("noticed: a load of every day beside a pull heels the boat and no other does") {
    // Straight down, the main one 0.9 + 0.12 + 0.6 m off the middle, the other 0.9 + 0.12 + 0.1 m.
    Setup s = fjord_board();
    BoatData b;
    b.length = 4.6_m;
    b.beam = 1.9_m;
    b.freeboard = 0.5_m;
    b.loaded_mass = 700.0_kg;
    s.boat = b;
    const DirectionRange down{Angle{}, Angle{}, 90.0_deg, 90.0_deg};
    Gear p;
    p.name = "a weight";
    p.place = s.gear[0].place;
    p.plain_load = PlainLoad{};
    p.plain_load->pull = 50.0_N;
    p.plain_load->range = down;
    p.plain_load->at = {Length{}, 0.1_m, Length{}};
    s.gear.push_back(p);
    LoadCase c;
    c.id = c.kind = c.title = "a pull";
    c.path = LoadPath::tip;
    c.pull = 100.0_N;
    c.range = down;
    c.ranges = {down};
    c.gear = 0;
    const auto moment = [&](Category category) {
      s.gear.back().plain_load->category = category;
      const BoatSide side = parts::boat_side(s, {c});
      REQUIRE(side.rows.size() == 1);
      return side.rows.front().moment.value();
    };
    CHECK(moment(Category::everyday) == doctest::Approx(162 + 50 * 1.12));
    CHECK(moment(Category::occasional) == doctest::Approx(162));
  }

  TEST_CASE("noticed: an owner's peak no lower than the listed one is no condition") {
    Setup s = fjord_board();
    const double peak = load_list::peak_of(listed(s, "running-peak"));
    const auto conditional = [&](double own) {
      CaseEdit e;
      e.name = "running-peak";
      e.why = "measured";
      e.peak = own;
      s.case_edits = {e};
      return says(parts::owners_conditions(s, load_cases(s)), "is no worse than its owner says");
    };
    CHECK_FALSE(conditional(peak));
    CHECK_FALSE(conditional(1.1 * peak));
    CHECK(conditional(0.9 * peak));
  }

  TEST_CASE("noticed: none of a gear's own directions lies in another of them") {
    for (const Setup& s : {fjord_board(), read(jon_boat)}) {
      const auto ranges = parts::own_ranges(s, 0);
      REQUIRE_FALSE(ranges.empty());
      for (std::size_t i = 0; i < ranges.size(); ++i) {
        for (std::size_t k = 0; k < ranges.size(); ++k) {
          if (i == k) continue;
          const DirectionRange& a = ranges[i];
          const DirectionRange& b = ranges[k];
          CHECK_FALSE((a.azimuth_from <= b.azimuth_from && b.azimuth_to <= a.azimuth_to &&
                       a.dip_from <= b.dip_from && b.dip_to <= a.dip_to));
        }
      }
    }
  }

  TEST_CASE("noticed: a brake is told the pull that is enough when it slips well below the pull") {
    // Half as much again as the slip is more than such a brake ever lets by.
    std::ifstream in(THOLE_ROOT "/examples/fjord-skiff-best-fix.yaml");
    REQUIRE(in);
    const std::string text{std::istreambuf_iterator<char>(in), {}};
    int told = 0, untold = 0;
    for (const double slip : {110.0, 300.0}) {
      CAPTURE(slip);
      Setup s = read(text);
      for (Gear& g : s.gear) {
        g.downrigger->brake_slip = Known<Force>{slip * si::newton, Knowledge::measured};
      }
      const Assessment a = assess(s);
      bool expected = false;
      for (const GearLimit& l : a.gear_limits) {
        const std::optional<Force> pull = test_pull_of(a, l);
        expected = expected || (pull && pull->value() >= 1.5 * slip);
      }
      CHECK(says(test_pull_card(s, a).before, "for a brake set to slip at") == expected);
      (expected ? told : untold)++;
    }
    CHECK(told > 0);
    CHECK(untold > 0);
  }

  TEST_CASE("noticed: a line that runs back along the rod pulls by the lever of its own angle") {
    Gear g;
    g.rod_holder = RodHolder{};
    g.rod_holder->rod_length = 2.1_m;
    const Force pull = 10.0_lbf;
    for (const double angle : {2.0, 8.0, 15.0, 40.0, 170.0}) {  // from the upright tube
      CAPTURE(angle);
      const double beta = angle * std::numbers::pi / 180;
      const Direction<Boat> line(Eigen::Vector3d(-std::sin(beta), 0, std::cos(beta)));
      const BaseLoad load = pull_load(Host{}, g, LoadPath::line, pull, line);
      const Length lever = rod_lever_bound(2.1_m, std::nullopt, beta * si::radian, pull);
      CHECK(load.moment.si_values().norm() ==
            doctest::Approx((pull * lever).value()).epsilon(1e-9));
    }
  }
}
