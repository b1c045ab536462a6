// Fatigue: the arithmetic of cycles, and what the checks of both mounts do with it.

#include <thole/fatigue.hpp>

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <fstream>
#include <iterator>
#include <limits>
#include <numbers>
#include <string>
#include <vector>

#include <thole/error.hpp>
#include <thole/reading.hpp>
#include <thole/thole.hpp>
#include <thole/thread.hpp>

#include "support/plates.hpp"

using namespace thole;
using namespace thole::literals;
using namespace thole::test;

namespace {

constexpr std::array all_details{FatigueDetail::plain_metal,    FatigueDetail::bolted_flat,
                                 FatigueDetail::attachment,     FatigueDetail::bolted,
                                 FatigueDetail::bolted_bending, FatigueDetail::weld_throat,
                                 FatigueDetail::thread_tension};

const char* const everyday_load = R"(gear:
  - kind: plain_load
    at: {forward: 0 in, outboard: 0 in, up: 3 in}
    pull: 5 lbf
    azimuth: 0 deg
    dip: 0 deg
    category: everyday
)";

Setup plate(double pull_in_lbf) {
  const std::string text = jon_boat;
  const std::size_t from = text.find("gear:");
  const std::size_t to = text.find("condition:");
  Setup s = read(text.substr(0, from) + everyday_load + text.substr(to));
  s.gear.front().plain_load->pull = pull_in_lbf * 1.0_lbf;
  return s;
}

Setup example(const char* name) {
  std::ifstream in(std::string(THOLE_ROOT "/examples/") + name);
  REQUIRE(in);
  const std::string text{std::istreambuf_iterator<char>(in), {}};
  return read_setup(text, name, built_in_materials());
}

std::vector<std::string_view> fatigue_modes(const Setup& s) {
  std::vector<std::string_view> out;
  for (const FailureMode& m : catalogue_for(s)) {
    if (m.fatigue) out.push_back(m.id);
  }
  return out;
}

}  // namespace

TEST_SUITE("unit") {
  TEST_CASE("fatigue: range and cycles are each other's inverse") {
    for (const FatigueDetail d : all_details) {
      for (const double n : {1.0, 1e3, 1e5, 5e6, 1e8}) {
        CHECK(fatigue_cycles(d, fatigue_range(d, n)) == doctest::Approx(n));
      }
      CHECK(std::isinf(fatigue_cycles(d, Stress{})));
      CHECK_THROWS_AS(fatigue_range(d, 0.5), DomainError);
      CHECK_THROWS_AS(equivalent_range(d, {}), DomainError);
    }
  }

  TEST_CASE("fatigue: more cycles never allow a larger range and there is no cut-off") {
    for (const FatigueDetail d : all_details) {
      for (double n = 1; n < 1e10; n *= 3) CHECK(fatigue_range(d, 3 * n) < fatigue_range(d, n));
      CHECK(fatigue_range(d, 1e8) < fatigue_curve(d).limit);
    }
  }

  TEST_CASE("fatigue: a bent hole is never better than metal without one") {
    for (double n = 1e4; n < 1e9; n *= 2) {
      const Stress hole = fatigue_range(FatigueDetail::bolted_bending, n);
      for (const FatigueDetail d : all_details) {
        if (d == FatigueDetail::thread_tension) continue;
        CHECK(hole <= fatigue_range(d, n));
      }
    }
  }

  TEST_CASE("fatigue: the equivalent range does the harm of all by Miner") {
    for (const FatigueDetail d : all_details) {
      const std::vector<RangeCount> ranges{{20.0_MPa, 3e6}, {60.0_MPa, 4e4}, {120.0_MPa, 900}};
      double cycles = 0;
      for (const RangeCount& r : ranges) cycles += r.cycles;
      const Stress one = equivalent_range(d, ranges);
      const std::vector<RangeCount> single{{one, cycles}};
      CHECK(miner_sum(d, single) == doctest::Approx(miner_sum(d, ranges)));
      CHECK(one > 20.0_MPa);
      CHECK(one < 120.0_MPa);
      const std::vector<RangeCount> level{{50.0_MPa, 10}, {50.0_MPa, 90}};
      CHECK(equivalent_range(d, level).value() == doctest::Approx(50e6));
    }
  }

  TEST_CASE("fatigue: an everyday load comes with every wave for twenty seasons") {
    Setup s = plate(5);
    const FatigueLife life = fatigue_life_of(s);
    const auto hole = std::size_t(FatigueDetail::bolted_bending);
    CHECK(life.of(FatigueWay::straight).cycles == doctest::Approx(1500.0 * 100 * 20));
    CHECK(life.of(FatigueWay::straight).share[hole] == 1);
    CHECK(life.of(FatigueWay::straight).allowed[hole].value() ==
          doctest::Approx(fatigue_range(FatigueDetail::bolted_bending, 3e6).value()));
    s.salt_water = true;
    CHECK(fatigue_life_of(s).of(FatigueWay::straight).allowed[hole].value() ==
          doctest::Approx(fatigue_range(FatigueDetail::bolted_bending, 6e6).value()));
  }

  TEST_CASE("fatigue: strikes add their harm and the ways of loading share the life") {
    Setup s = read(jon_boat);
    s.use.gear_off_on_road = true;
    const FatigueLife life = fatigue_life_of(s);
    CHECK(life.of(FatigueWay::straight).cycles == doctest::Approx(3e6));
    CHECK(life.of(FatigueWay::turning).cycles == doctest::Approx(3e5));
    CHECK(life.of(FatigueWay::riding).cycles == doctest::Approx(20.0 * 10 * 3600));
    for (const FatigueDetail d : all_details) {
      const auto i = std::size_t(d);
      const double m = fatigue_curve(d).slope;
      // 1.5 x 5 lbf at the crest about 5 lbf; waves of all heights do the harm of half their range
      // (slope 3: 0.42, slope 6.85: 0.54 of the highest).
      const double share = life.of(FatigueWay::straight).share[i];
      CHECK(share >= 1.0 / 3 - 1e-12);
      CHECK(share < 0.37);
      // A strike of 1.5 x 1.3 x 7 lbf, 50 a season.
      const double events = 1000 * std::pow(13.65 / (share * 7.5), m);
      const auto allowed = [&](FatigueWay way, double parts, double cycles, double part_of) {
        CHECK(life.of(way).allowed[i].value() ==
              doctest::Approx(fatigue_range(d, parts * cycles).value() / part_of));
      };
      allowed(FatigueWay::straight, 2, 3e6 + events, share);
      allowed(FatigueWay::turning, 4, 3e5 + events, share);
      // Half of 5 g at the hardest bumps: a mean bump of 5/5.6 g from free fall.
      const double riding = (1 + 5 / 5.6 * std::pow(std::tgamma(1 + m), 1 / m)) / 3.5;
      allowed(FatigueWay::riding, 4, 7.2e5, riding);
    }
    // The parts of the life that they may use up make one.
    CHECK(1.0 / 2 + 1.0 / 4 + 1.0 / 4 == 1);
  }

  TEST_CASE("fatigue: a line turns from 46 deg on and a steep wire never does") {
    const auto way = [](double azimuth, double dip) {
      return fatigue_way_of(line_direction(degrees(azimuth), degrees(dip)));
    };
    CHECK(way(0, 0) == FatigueWay::straight);
    CHECK(way(45, 30) == FatigueWay::straight);
    CHECK(way(-45, 30) == FatigueWay::straight);
    CHECK(way(47, 30) == FatigueWay::turning);
    CHECK(way(-90, 74) == FatigueWay::turning);
    CHECK(way(170, 10) == FatigueWay::turning);
    CHECK(way(90, 76) == FatigueWay::straight);
    CHECK(way(180, 90) == FatigueWay::straight);
  }

  TEST_CASE("fatigue: screws under an everyday pull against the stress range by hand") {
    const Setup s = plate(5);
    const Assessment a = quick(s);
    const CheckResult& c = check_of(a, "fastener-fatigue");
    // The tension behind the static check of the same screws and case.
    const CheckResult& tension = check_of(a, "screw-tension");
    const double range =
        tension.demand.si / tensile_stress_area(s.plate().fastening.thread).value();
    CHECK(c.demand.si == doctest::Approx(range).epsilon(0.01));
    CHECK(c.strength.si == doctest::Approx(50e6 * std::cbrt(2e6 / 3e6)).epsilon(1e-6));
    CHECK(c.needed == doctest::Approx(1.15));
    CHECK_FALSE(c.goes_at.has_value());
    CHECK_FALSE(c.limit_at.has_value());
  }

  TEST_CASE("fatigue: tapped threads carry a third of the static allowable when waves are many") {
    Setup s = plate(5);
    const CheckResult once = check_of(quick(s), "thread-pull-out");
    const CheckResult often = check_of(quick(s), "thread-fatigue");
    CHECK(often.factor == doctest::Approx(once.factor / 3).epsilon(0.01));
    CHECK(often.needed == doctest::Approx(3));
    s.use.hours_per_season = 3;  // 9e4 waves
    CHECK(check_of(quick(s), "thread-fatigue").factor ==
          doctest::Approx(once.factor).epsilon(0.01));
  }

  TEST_CASE("fatigue: a doubled everyday pull halves the factors of a plate") {
    const Setup s = plate(4);
    const Assessment one = quick(s);
    const Assessment two = quick(plate(8));
    for (const std::string_view mode : fatigue_modes(s)) {
      CAPTURE(mode);
      const CheckResult& c = check_of(one, mode);
      if (c.standing != Standing::applies) continue;
      CHECK(check_of(two, mode).factor == doctest::Approx(0.5 * c.factor).epsilon(1e-3));
    }
  }

  TEST_CASE("fatigue: more hours never raise a factor and a thicker wall never lowers one") {
    Setup s = read(jon_boat);
    Assessment before = quick(s);
    for (const double hours : {200.0, 800.0, 2000.0}) {
      s.use.hours_per_season = hours;
      const Assessment now = quick(s);
      for (const std::string_view mode : fatigue_modes(s)) {
        CAPTURE(mode);
        if (check_of(now, mode).standing != Standing::applies) continue;
        CHECK(check_of(now, mode).factor <= check_of(before, mode).factor * (1 + 1e-9));
      }
      before = now;
    }
    for (const double thickness : {0.100, 0.125, 0.190}) {
      s.plate().host.thickness = thickness * 1.0_in;
      const Assessment now = quick(s);
      for (const char* mode : {"wall-fatigue", "thread-fatigue"}) {
        CAPTURE(mode);
        CHECK(check_of(now, mode).factor >= check_of(before, mode).factor * (1 - 1e-9));
      }
      before = now;
    }
  }

  TEST_CASE("fatigue: only loads of every day count and no pull is limited by it") {
    Setup s = plate(5);
    s.gear.front().plain_load->category = Category::occasional;
    const Assessment rare = quick(s);
    for (const std::string_view mode : fatigue_modes(s)) {
      CAPTURE(mode);
      CHECK(check_of(rare, mode).standing != Standing::applies);
    }
    // Holds as rare, does not last as an everyday load: same limit.
    s.gear.front().plain_load->pull = 40.0_lbf;
    const Assessment once = assess(s);
    s.gear.front().plain_load->category = Category::everyday;
    const Assessment often = assess(s);
    CHECK(check_of(often, "wall-fatigue").factor < 1.15);
    // An estimate from constants that nobody has seen: a condition, no refusal.
    CHECK(often.verdict == Verdict::holds_if);
    CHECK(std::any_of(often.holds_if.begin(), often.holds_if.end(), [](const std::string& h) {
      return h.find("no crack grows in time") != std::string::npos;
    }));
    REQUIRE(once.hold_limit.has_value());
    REQUIRE(often.hold_limit.has_value());
    CHECK(often.hold_limit->value() == doctest::Approx(once.hold_limit->value()));
    REQUIRE(often.not_before.has_value());
    CHECK(often.not_before->value() == doctest::Approx(once.not_before->value()));
    for (const LadderStep& step : often.ladder) {
      CHECK(step.what.find("in time") == std::string::npos);
    }
  }

  TEST_CASE("fatigue: hold limits of a board stay when the hours grow") {
    Setup s = example("lake-cartopper.yaml");
    const Assessment few = assess(s);
    s.use.hours_per_season = 2000;
    const Assessment many = assess(s);
    REQUIRE(few.gear_limits.size() == many.gear_limits.size());
    for (std::size_t i = 0; i < few.gear_limits.size(); ++i) {
      CHECK(few.gear_limits[i].hold_limit->value() ==
            doctest::Approx(many.gear_limits[i].hold_limit->value()));
      CHECK(few.gear_limits[i].not_before->value() ==
            doctest::Approx(many.gear_limits[i].not_before->value()));
    }
    for (const std::string_view mode : fatigue_modes(s)) {
      CAPTURE(mode);
      const CheckResult& c = check_of(few, mode);
      if (c.standing != Standing::applies) continue;
      CHECK(check_of(many, mode).factor <= c.factor * (1 + 1e-9));
      CHECK_FALSE(c.goes_at.has_value());
    }
  }

  TEST_CASE("fatigue: the bolts of a board against the stress range by hand") {
    const Setup s = example("lake-cartopper.yaml");
    const FatigueLife life = fatigue_life_of(s);
    // Running and trolling share the life.
    CHECK(life.of(FatigueWay::riding).cycles > 0);
    const auto bolt = std::size_t(FatigueDetail::thread_tension);
    const FatigueLife::Way& straight = life.of(FatigueWay::straight);
    CHECK(straight.share[bolt] == doctest::Approx(0.5));  // 2 x the towed pull at the crest
    CHECK(straight.share[bolt] * straight.allowed[bolt] <
          fatigue_range(FatigueDetail::thread_tension, 2 * straight.cycles));
    const Assessment a = quick(s);
    const CheckResult& c = check_of(a, "hold-down-fatigue");
    CHECK(c.standing == Standing::applies);
    CHECK(c.case_title.size() > 0);
    CHECK(std::isfinite(c.factor));
    // Never above what the worst case of all pulls.
    const CheckResult& still = check_of(a, "hold-down-tension");
    const double area = tensile_stress_area(s.board().hold_downs.front().thread).value();
    CHECK(c.demand.si <= still.demand.si / area * 1.01);
  }

  TEST_CASE("fatigue: the road uses up the life by hand and taking the gear off gives it back") {
    Setup s = read(jon_boat);
    s.use.hours_per_season = 100;
    s.use.road_hours_per_season = 20;
    const FatigueLife on = fatigue_life_of(s);
    CHECK(on.road_hours == doctest::Approx(20));
    Setup off = s;
    off.use.gear_off_on_road = true;
    const FatigueLife without = fatigue_life_of(off);
    CHECK(without.road_hours == doctest::Approx(0));
    // Everyday running: 2.5 g on top of gravity, 0.4 g along and 1 g across the boat. By an
    // exponential law of mean peak/5.6 ranges do the harm of mean Gamma(1 + m)^(1/m); on the road 2
    // x 1 g up and down, half of it along, against what the running boat has that way.
    const auto bolt = std::size_t(FatigueDetail::thread_tension);
    const double m = 3;
    const double gamma = std::cbrt(6.0);
    const double running = (1 + 2 * 2.5 / 5.6 * gamma) / 3.5;
    const double road = 2 / 5.6 * gamma * std::max(1 / 3.5, 0.5 / 0.4);
    const double bumps = 20 * 20 * 3600.0;
    const double same = 20 * 100 * 0.1 * 3600 + bumps * std::pow(road / running, m);
    const double ratio = std::pow(same / (20 * 100 * 0.1 * 3600), 1 / m);
    const double on_road = on.of(FatigueWay::riding).allowed[bolt].value();
    const double off_road = without.of(FatigueWay::riding).allowed[bolt].value();
    CHECK(off_road / on_road == doctest::Approx(ratio));
    CHECK(on.of(FatigueWay::straight).allowed[bolt].value() ==
          doctest::Approx(without.of(FatigueWay::straight).allowed[bolt].value()));
    s.use.road_hours_per_season = 0;
    CHECK(fatigue_life_of(s).of(FatigueWay::riding).allowed[bolt].value() ==
          doctest::Approx(off_road));
    CHECK(says(assess(read(jon_boat)).notes, "the road counts for the life of the metal, 20 h"));
    CHECK_FALSE(says(assess(off).notes, "the road counts"));
  }

  TEST_CASE("fatigue: what is left unchecked is named") {
    CHECK(says(assess(read(jon_boat)).not_checked, "fatigue of the gear itself"));
    // The road is measured by the running boat: without that case there is nothing to compare with.
    CHECK_FALSE(says(assess(read(jon_boat)).not_checked, "fatigue from the road"));
    Setup stays = read(jon_boat);
    CaseEdit& e = stays.case_edits.emplace_back();
    e.what = CaseEdit::What::leave_out;
    e.name = "running";
    e.why = "no engine";
    CHECK(says(assess(stays).not_checked, "fatigue from the road"));
    stays.use.gear_off_on_road = true;
    CHECK_FALSE(says(assess(stays).not_checked, "fatigue from the road"));
    CHECK(says(assess(example("fjord-skiff.yaml")).not_checked, "fatigue of wood"));
  }
}
