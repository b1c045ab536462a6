// What random setups found in the search for the worst load: each setup of tests/data/found/ by its
// name, with what came out of it before. Two ways to one number, so no reference value.

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <fstream>
#include <iterator>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include <thole/assessment.hpp>
#include <thole/loads.hpp>
#include <thole/reading.hpp>
#include <thole/report.hpp>

#include "support/boards.hpp"

using namespace thole;

namespace {

Setup read_file(const std::string& path) {
  std::ifstream in(THOLE_ROOT "/" + path);
  const std::string text{std::istreambuf_iterator<char>(in), {}};
  REQUIRE_FALSE(text.empty());
  return read_setup(text, path, built_in_materials());
}

Setup found(const std::string& name) { return read_file("tests/data/found/" + name + ".yaml"); }

Assessment quick(const Setup& s) {
  AssessOptions o;
  o.neighbours = false;
  return assess(s, o);
}

const CheckResult& check_of(const Assessment& a, std::string_view mode) {
  const auto at = std::find_if(a.checks.begin(), a.checks.end(),
                               [&](const CheckResult& c) { return c.mode == mode; });
  REQUIRE(at != a.checks.end());
  return *at;
}

}  // namespace

TEST_SUITE("found") {
  // 92 deg "outboard" went to starboard only: the ledge at port was told half as strong again.
  TEST_CASE("found: a push of its owner on a board itself goes to either side") {
    const Setup s = found("board-pushed-to-one-side");
    const Assessment a = quick(s);
    const Assessment b = quick(test::mirrored(s));
    for (const char* mode : {"ledge-bolt-fatigue", "ledge-leg-fatigue", "hold-down-fatigue"}) {
      CAPTURE(mode);
      CHECK(check_of(a, mode).factor == doctest::Approx(check_of(b, mode).factor).epsilon(1e-6));
    }
    const std::vector<LoadCase> cases = load_cases(s);
    const LoadCase& own = cases.back();
    REQUIRE(own.ranges.size() == 2);
    CHECK(own.ranges[0].azimuth_from == -own.ranges[1].azimuth_to);
    CHECK(own.ranges[0].azimuth_to == -own.ranges[1].azimuth_from);
  }

  TEST_CASE("found: a push of its owner that is alike to both sides is taken once") {
    Setup s = found("board-pushed-to-one-side");
    s.case_edits.front().range = DirectionRange{degrees(-60), degrees(60), Angle{}, degrees(20)};
    CHECK(load_cases(s).back().ranges.size() == 1);
    s.case_edits.front().gear = s.gear.front().name;  // a gear has a side: as written
    s.case_edits.front().range = DirectionRange{degrees(10), degrees(60), Angle{}, degrees(20)};
    CHECK(load_cases(s).back().ranges.size() == 1);
  }

  // 2.793 N and 2.777 N: the bend of a bracket under a rod has a valley one degree wide.
  TEST_CASE("found: a hold limit needs none of what is worked out beside it") {
    const Setup s = found("rod-limit-in-a-narrow-valley");
    const std::optional<Force> without = quick(s).hold_limit;
    const std::optional<Force> with = assess(s, {}).hold_limit;
    REQUIRE(without);
    REQUIRE(with);
    CHECK(without->value() == doctest::Approx(with->value()).epsilon(1e-3));
  }

  // 22.6 N and 21.3 N, 17 N and 5 N: at a small pull what stays as it is counts for more.
  TEST_CASE("found: a limit over all directions is the least of its parts") {
    AssessOptions o;
    o.neighbours = false;
    for (const char* path :
         {"examples/lough-boat.yaml", "tests/data/found/board-limit-only-in-a-part.yaml"}) {
      const Setup s = read_file(path);
      o.by_direction = false;
      const Assessment whole = assess(s, o);
      o.by_direction = true;
      const Assessment parts = assess(s, o);
      REQUIRE(whole.gear_limits.size() == parts.gear_limits.size());
      for (std::size_t i = 0; i < whole.gear_limits.size(); ++i) {
        const GearLimit& w = whole.gear_limits[i];
        const GearLimit& p = parts.gear_limits[i];
        CAPTURE(w.gear);
        REQUIRE(w.hold_limit);
        REQUIRE(p.hold_limit);
        CHECK(w.by_direction.empty());
        CHECK(w.hold_limit->value() == doctest::Approx(p.hold_limit->value()).epsilon(1e-9));
        CHECK(w.not_before->value() == doctest::Approx(p.not_before->value()).epsilon(1e-9));
        CHECK(w.direction == p.direction);
      }
      // The direction told is that of the part which is least: not astern.
      const bool lough = std::string_view(path).find("lough") != std::string_view::npos;
      CHECK(parts.gear_limits[1].direction.find(lough ? "inboard" : "76 deg outboard of astern") !=
            std::string::npos);
    }
  }

  // "It stays in place, dented" of a washer at 347 N, where the hull is torn at 261 N.
  TEST_CASE("found: losses begin with what the limits tell as the first") {
    const Setup s = found("board-hull-torn-first");
    AssessOptions o;
    o.after_loss = true;
    const Assessment a = assess(s, o);
    REQUIRE(a.gear_limits.size() == 2);
    for (const GearLimit& l : a.gear_limits) {
      CAPTURE(l.gear);
      CHECK(l.first_mode == "ledge-bolt-pull-through");
      const auto first = std::find_if(a.losses.begin(), a.losses.end(),
                                      [&](const LossRow& r) { return r.gear == l.gear; });
      REQUIRE(first != a.losses.end());
      CHECK(first->mode == l.first_mode);
      CHECK(first->then == Then::tears);
      CHECK(first->at == *l.not_before);
    }
  }

  // A factor of 225 or 271 by the order of the gear: that of the loads before the one that tips it.
  TEST_CASE("found: a board that moves as a whole has no figures but its distances") {
    const Setup s = found("board-moves-as-a-whole");
    Setup turned = s;
    std::reverse(turned.gear.begin(), turned.gear.end());
    for (const Setup& one : {s, turned}) {
      const Assessment a = quick(one);
      REQUIRE(a.verdict == Verdict::no_verdict);
      REQUIRE(std::any_of(a.cases.begin(), a.cases.end(), [](const CaseResult& c) {
        return c.load_case.decides && !c.motion.empty();
      }));
      int without = 0;
      for (const CheckResult& c : a.checks) {
        CAPTURE(c.mode);
        CHECK(c.case_title.empty());
        if (c.standing == Standing::applies) {
          CHECK(std::isfinite(c.factor));  // a distance
          continue;
        }
        CHECK_FALSE(c.holds);
        CHECK_FALSE((c.standing != Standing::not_concerned && c.why.empty()));
        if (c.why.find("moves as a whole") != std::string::npos) ++without;
      }
      CHECK(without >= 5);
      CHECK(json_report(one, a).find("moves as a whole") != std::string::npos);
    }
  }
}
