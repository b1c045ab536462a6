// Limits by direction, more load and thinner parts: against grids without search and whole
// assessments.

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <string>
#include <vector>

#include <thole/error.hpp>
#include <thole/reading.hpp>
#include <thole/thole.hpp>

#include "core/assessment_parts.hpp"
#include "core/board_engine.hpp"
#include "core/plate_engine.hpp"
#include "report/limits_block.hpp"
#include "support/boards.hpp"
#include "support/plates.hpp"

using namespace thole;
using namespace thole::literals;
using namespace thole::test;

namespace {

// A block on a sheet that may pull any way, level to steeply down.
Setup block() {
  Setup s = read(load_text);
  s.gear.front().plain_load->range = {-180.0_deg, 180.0_deg, 0.0_deg, 60.0_deg};
  s.plate().host.thickness = 0.25_in;
  return s;
}

std::vector<DirectionRange> one(const DirectionRange& r) { return {r}; }

Assessment by_direction(const Setup& s) {
  AssessOptions o;
  o.neighbours = false;
  o.by_direction = true;
  return assess(s, o);
}

double worst_ratio(const Assessment& a) {
  for (const CheckResult& c : a.checks) {
    if (c.standing == Standing::applies && !c.case_title.empty()) return c.factor / c.needed;
  }
  return 0;
}

double least_of(const GearLimit& l) {
  double least = 1e300;
  for (const RangeLimit& r : l.by_direction) {
    if (r.hold_limit) least = std::min(least, r.hold_limit->value());
  }
  return least;
}

// Of every direction on a grid of 2 deg: the least share of a plate's factors that a pull leaves.
double grid_ratio(plate::Engine& e, const Setup& s, std::size_t gear, const RangeLimit& row,
                  const std::vector<DirectionRange>& ranges, Force pull) {
  const Gear& g = s.gear[gear];
  const LoadPath path = g.downrigger   ? LoadPath::tip
                        : g.rod_holder ? LoadPath::line
                                       : LoadPath::point;
  std::vector<plate::Setting> settings = e.beside(gear);
  if (row.boom) {
    const auto& angles = g.downrigger->boom_angles;
    std::erase_if(settings, [&](const plate::Setting& o) {
      return angles[o.booms[gear] % angles.size()] != *row.boom;
    });
  }
  double least = 1e300;
  for (const DirectionRange& r : row.range ? std::vector<DirectionRange>{*row.range} : ranges) {
    for (const Direction<Boat>& d : directions(r, 2.0_deg)) {
      least = std::min(least, e.worst_ratio(settings, path, pull, d, nullptr, true));
    }
  }
  return least;
}

void check_plate(const Setup& s) {
  const Assessment a = by_direction(s);
  REQUIRE(a.reasons.empty());
  AssessOptions plain;
  plain.neighbours = false;
  const Assessment whole = assess(s, plain);
  plate::Engine e(s);
  for (std::size_t g = 0; g < s.gear.size(); ++g) {
    const GearLimit& l = a.gear_limits[g];
    REQUIRE(l.hold_limit);
    REQUIRE(!l.by_direction.empty());
    CHECK(least_of(l) == doctest::Approx(whole.gear_limits[g].hold_limit->value()).epsilon(0.002));
    CHECK(least_of(l) == doctest::Approx(l.hold_limit->value()).epsilon(1e-9));
    std::vector<DirectionRange> ranges;
    for (const LoadCase& c : load_cases(s)) {
      if (c.gear == int(g) && c.path == LoadPath::tip) {
        ranges.insert(ranges.end(), c.ranges.begin(), c.ranges.end());
      }
    }
    for (const RangeLimit& r : l.by_direction) {
      CAPTURE(r.where);
      REQUIRE(r.hold_limit);
      CHECK(grid_ratio(e, s, g, r, ranges, 0.99 * *r.hold_limit) >= 1);
      CHECK(grid_ratio(e, s, g, r, ranges, 1.02 * *r.hold_limit) < 1);
    }
  }
}

// The same on a board: at every end of the ranges, the other gears towing and idle, either end
// holding it along itself.
double grid_ratio(board::Engine& e, const Setup& s, const LoadCase& c, const RangeLimit& row,
                  double pull) {
  LoadCase part = c;
  if (row.range) part.ranges = {*row.range};
  const Gear& g = s.gear[std::size_t(c.gear)];
  const Category category = c.path == LoadPath::tip ? Category::occasional : Category::everyday;
  double least = 1e300;
  for (board::Trial t : e.trials(part, 2.0_deg)) {
    if (row.boom) {
      const auto& angles = g.downrigger->boom_angles;
      if (angles[std::size_t(t.boom) % angles.size()] != *row.boom) continue;
    }
    for (const Side near : {Side::port, Side::starboard}) {
      for (const bool alone : {false, true}) {
        t.near = near;
        t.alone = alone;
        for (int v = 0; v < board::Engine::variants(); ++v) {
          least = std::min(least, e.worst_ratio(v, t, e.load(part, t, pull), category, true,
                                                nullptr, nullptr, true));
        }
      }
    }
  }
  return least;
}

}  // namespace

TEST_SUITE("limits") {
  TEST_CASE("limits: sectors cover their ranges and nothing else") {
    const std::vector<DirectionRange> strike{{-90.0_deg, 90.0_deg, 5.0_deg, 90.0_deg}};
    const auto of_strike = parts::sectors_of(strike);
    std::vector<std::string> names;
    double span = 0;
    for (const parts::Sector& o : of_strike) {
      names.push_back(o.where);
      for (const DirectionRange& r : o.ranges) {
        span += in_degrees(r.azimuth_to) - in_degrees(r.azimuth_from);
        CHECK(r.dip_from == strike.front().dip_from);
        CHECK(r.dip_to == strike.front().dip_to);
      }
    }
    CHECK(span == doctest::Approx(180));
    CHECK(names == std::vector<std::string>{"astern", "on the outboard quarter", "abeam outboard",
                                            "abeam inboard", "on the inboard quarter"});
    // A range by way of ahead, one azimuth on a border, and straight down.
    const auto ahead = parts::sectors_of(one({90.0_deg, 270.0_deg, 0.0_deg, 10.0_deg}));
    span = 0;
    for (const parts::Sector& o : ahead) {
      for (const DirectionRange& r : o.ranges) {
        span += in_degrees(r.azimuth_to) - in_degrees(r.azimuth_from);
      }
    }
    CHECK(ahead.size() == 4);
    CHECK(span == doctest::Approx(180));
    CHECK(parts::sectors_of(one({22.5_deg, 22.5_deg, 0.0_deg, 10.0_deg})).size() == 1);
    CHECK(parts::sectors_of(one({180.0_deg, 180.0_deg, 0.0_deg, 10.0_deg})).size() == 1);
    const auto down = parts::sectors_of(one({0.0_deg, 0.0_deg, 90.0_deg, 90.0_deg}));
    REQUIRE(down.size() == 1);
    CHECK(down.front().where == "straight down");
  }

  TEST_CASE("limits: no sector of a rod takes more than a grid without search finds") {
    check_plate(read(rod_text));
  }

  TEST_CASE("limits: no sector of a plain load takes more than a grid without search finds") {
    check_plate(block());
  }

  TEST_CASE("limits: no boom of a board takes more than a grid without search finds") {
    Setup s = fjord_board();
    s.gear.resize(1);
    s.gear.front().downrigger->boom_angles = {degrees(0), degrees(90)};
    const Assessment a = by_direction(s);
    REQUIRE(a.reasons.empty());
    AssessOptions plain;
    plain.neighbours = false;
    const Assessment whole = assess(s, plain);
    const GearLimit& l = a.gear_limits.front();
    REQUIRE(l.by_direction.size() == 2);
    CHECK(least_of(l) ==
          doctest::Approx(whole.gear_limits.front().hold_limit->value()).epsilon(0.002));
    board::Engine e(s);
    const auto c = std::find_if(e.cases().begin(), e.cases().end(),
                                [](const LoadCase& o) { return o.kind == "hung-up-seized"; });
    REQUIRE(c != e.cases().end());
    for (const RangeLimit& r : l.by_direction) {
      CAPTURE(r.where);
      CHECK(grid_ratio(e, s, *c, r, 0.99 * r.hold_limit->value()) >= 1);
      CHECK(grid_ratio(e, s, *c, r, 1.02 * r.hold_limit->value()) < 1);
    }
  }

  TEST_CASE("limits: settings of a boom keep within its hold limit and all balls at once") {
    Setup s = fjord_board();
    const Assessment a = by_direction(s);
    for (const GearLimit& l : a.gear_limits) {
      REQUIRE(l.setting);
      double least = 1e300;
      for (const RangeLimit& r : l.by_direction) {
        REQUIRE(r.setting);
        CHECK(1.5 * *r.setting <= *r.hold_limit * 1.000001);
        if (l.all_hung_up) CHECK(1.5 * *r.setting <= *l.all_hung_up * 1.000001);
        CHECK_FALSE(r.boat_setting);  // no boat is described
        least = std::min(least, r.setting->value());
      }
      CHECK(least == doctest::Approx(l.setting->value()));
    }
  }

  TEST_CASE("limits: settings of a boom keep within the rating of its gear") {
    Setup s = fjord_board();
    s.gear.pop_back();
    Downrigger& d = *s.gear.front().downrigger;
    d.boom_angles = {degrees(0), degrees(90)};
    d.body_rating = GearRating{20.0 * si::newton * si::metre, {}, "a test"};
    const Assessment a = by_direction(s);
    const GearLimit& l = a.gear_limits.front();
    REQUIRE(l.holder);
    REQUIRE(l.by_direction.size() == 2);
    for (const RangeLimit& r : l.by_direction) {
      CAPTURE(r.where);
      REQUIRE(r.setting);
      CHECK(1.5 * *r.setting <= *r.hold_limit * 1.000001);
      // A tip 600 mm out and 200 mm up, the wire square to that in some direction of its range.
      CHECK(1.5 * r.setting->value() <= 20 / std::hypot(0.6, 0.2) * 1.01);
    }
    // A rating as a pull is the same in all directions.
    d.body_rating = GearRating{{}, 30.0 * si::newton, "a test"};
    const Assessment b = by_direction(s);
    for (const RangeLimit& r : b.gear_limits.front().by_direction) {
      CHECK(r.setting->value() == doctest::Approx(20));
    }
  }

  TEST_CASE("limits: the least setting by the boat of all booms is that of the whole gear") {
    Setup s = fjord_board();
    BoatData b;
    b.length = 5.0_m;
    b.beam = 1.9_m;
    b.freeboard = 0.5_m;
    b.loaded_mass = 450.0 * si::kilogram;
    b.waterline_length = 4.4_m;
    b.waterline_beam = 1.7_m;
    b.chine_beam = 1.5_m;
    b.deadrise = degrees(10);
    b.wave_height = 0.3_m;
    s.boat = b;
    const Assessment a = by_direction(s);
    REQUIRE(!a.boat.pulls.empty());
    for (const HeelPull& p : a.boat.pulls) {
      const auto l = std::find_if(a.gear_limits.begin(), a.gear_limits.end(),
                                  [&](const GearLimit& o) { return o.gear == p.gear; });
      REQUIRE(l != a.gear_limits.end());
      double least = 1e300;
      for (const RangeLimit& r : l->by_direction) {
        REQUIRE(r.boat_setting);
        least = std::min(least, r.boat_setting->value());
      }
      CHECK(least == doctest::Approx(p.setting->value()));
      // The boom abeam heels more than the boom astern.
      CHECK(*l->by_direction.back().boat_setting < *l->by_direction.front().boat_setting);
    }
  }

  TEST_CASE("margins: factors of a plain load without weight fall in proportion to its pull") {
    const Setup s = block();
    AssessOptions o;
    o.neighbours = false;
    const Assessment a = assess(s, o);
    for (const double k : {0.5, 1.2, 3.0}) {
      o.pull_scale = k;
      const Assessment b = assess(s, o);
      REQUIRE(a.checks.size() == b.checks.size());
      int compared = 0;
      for (const CheckResult& c : a.checks) {
        if (c.standing != Standing::applies || c.case_title.empty()) continue;
        if (parts::limits_life(s, c.mode)) continue;
        const auto other = std::find_if(b.checks.begin(), b.checks.end(), [&](const auto& x) {
          return x.mode == c.mode && x.part == c.part;
        });
        REQUIRE(other != b.checks.end());
        CAPTURE(c.mode);
        CHECK(k * other->factor == doctest::Approx(c.factor).epsilon(1e-6));
        ++compared;
      }
      CHECK(compared > 3);
      CHECK(b.hold_limit->value() == doctest::Approx(a.hold_limit->value()).epsilon(1e-6));
    }
    o.pull_scale = 0;
    CHECK_THROWS_AS((void)assess(s, o), DomainError);
  }

  TEST_CASE("margins: 20 % more load leaves a fifth less of the factor of a plain load") {
    const Setup s = block();
    AssessOptions o;
    o.neighbours = false;
    o.margins = true;
    const Assessment a = assess(s, o);
    REQUIRE(a.margins.size() == 2);
    CHECK(a.margins.front().more_load);
    CHECK(a.margins.front().what == "20 % more pull");
    CHECK(1.2 * a.margins.front().worst_ratio == doctest::Approx(worst_ratio(a)).epsilon(1e-6));
    CHECK(a.margins.back().what == "base 1/8 in in place of 3/16 in");
    Setup thin = s;
    thin.plate().base.thickness = 0.125_in;
    CHECK(a.margins.back().worst_ratio == doctest::Approx(worst_ratio(assess(thin))).epsilon(1e-6));
  }

  TEST_CASE("margins: rows of a board agree with whole assessments") {
    Setup s = fjord_board();
    s.gear.resize(1);
    s.gear.front().downrigger->boom_angles = {degrees(45)};
    s.common_walls = built_in_materials().walls("metric");
    AssessOptions o;
    o.neighbours = false;
    o.margins = true;
    const Assessment a = assess(s, o);
    REQUIRE(a.margins.size() == 3);
    o.margins = false;
    std::vector<std::string> names;
    const auto same = [&](const MarginRow& r, const Assessment& b) {
      CAPTURE(r.what);
      names.push_back(r.what);
      CHECK(r.verdict == b.verdict);
      CHECK(r.worst_ratio == doctest::Approx(worst_ratio(b)).epsilon(0.005));
      REQUIRE(r.hold_limit.has_value() == b.hold_limit.has_value());
      if (r.hold_limit) {
        CHECK(r.hold_limit->value() == doctest::Approx(b.hold_limit->value()).epsilon(0.005));
      }
    };
    AssessOptions more = o;
    more.pull_scale = 1.2;
    same(a.margins[0], assess(s, more));
    Setup thin = s;
    thin.board().port.leg_thickness = thin.board().starboard.leg_thickness = 5.0_mm;
    same(a.margins[1], assess(thin, o));
    thin = s;
    thin.board().board.thickness -= 3.0_mm;
    same(a.margins[2], assess(thin, o));
    CHECK(names == std::vector<std::string>{"20 % more pull", "ledge angles 5 mm in place of 6 mm",
                                            "plank 45 mm in place of 48 mm"});
  }

  TEST_CASE("margins: more load and the thinner part stay on a screen that is full") {
    const Setup s = block();
    AssessOptions o;
    o.margins = true;
    Assessment a = assess(s, o);
    for (int i = 0; i < 40; ++i) a.cautions.push_back("caution no. " + std::to_string(i));
    const std::string page = terminal_report(s, a, {.colour = false, .details = false});
    CHECK(page.find("20 % more pull") != std::string::npos);
    CHECK(page.find("base 1/8 in") != std::string::npos);
    CAPTURE(page);
    // The wall by its own line or in that of the margins.
    CHECK(page.find(show(a.walls.front().thickness, s.units)) != std::string::npos);
  }

  TEST_CASE("margins: a thinner part that seems to hold better is no gain to count on") {
    const Setup s = block();
    AssessOptions o;
    o.margins = true;
    Assessment a = assess(s, o);
    const auto page = [&] { return limits::margins(s, a, false, false); };
    CHECK(page().find("no gain to count on") == std::string::npos);
    a.margins.back().worst_ratio = 1.1 * worst_ratio(a);
    CHECK(page().find("no gain to count on") != std::string::npos);
    // Without a verdict the reason is told.
    a.margins.back().verdict = Verdict::no_verdict;
    a.margins.back().gives_way = "walls that may buckle";
    CHECK(page().find("walls that may buckle") != std::string::npos);
  }

  TEST_CASE("conditions: what the check nearest to its limit assumes is named first") {
    Setup s = fjord_board();
    const auto assumed = [&](const char* path, const char* label, const char* value) {
      Input i;
      i.path = path;
      i.label = label;
      i.value = value;
      i.known = Knowledge::assumed;
      s.inputs.push_back(i);
    };
    assumed("gear.mass", "mass", "6 kg");
    assumed("mount.board.length", "length", "2.2 m");
    assumed("mount.ledges.alloy", "alloy of the ledges", "6082-T6");
    AssessOptions o;
    o.neighbours = false;
    const Assessment a = assess(s, o);
    for (const CheckResult& c : a.checks) {
      if (c.standing != Standing::applies || c.assumed.size() < 2) continue;
      const auto at = std::find(c.assumed.begin(), c.assumed.end(), "mount.ledges.alloy");
      if (at == c.assumed.end()) continue;
      CAPTURE(c.mode);
      CHECK(at == c.assumed.begin());
    }
  }
}
