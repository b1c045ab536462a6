// Fasteners of two kinds under one base: their stiffness against each other is not known.

#include <doctest/doctest.h>

#include <algorithm>
#include <string>

#include <thole/base_contact.hpp>
#include <thole/fastener_group.hpp>

#include "support/plates.hpp"

using namespace thole;
using namespace thole::literals;
using doctest::Approx;

namespace {

// Two screws in the wall on one diagonal, two through bolts on the other, a base that does not
// bend.
const char* const two_kinds = R"(thole: 1
units: inch
mount:
  kind: gunwale_plate
  host: {form: sheet, alloy: 6061-T6 extrusion, thickness: 0.125 in, to_support: 6 in}
  base: {fore_aft: 3 in, athwart: 3 in, material: 5052-H32 sheet, thickness: 1/2 in, body: 2 1/2 in}
  fastening:
    hold: tapped
    thread: 1/4-20
    material: stainless, unmarked
    holes: {points: [[1 in, 1 in], [-1 in, -1 in]]}
  also_fastened:
    hold: through_bolt
    thread: '#10-24'
    material: stainless, unmarked
    holes: {points: [[1 in, -1 in], [-1 in, 1 in]]}
gear:
  - kind: plain_load
    at: {forward: 0 in, outboard: 0 in, up: 0 in}
    pull: 50 lbf
    azimuth: 0 deg
    dip: -90 deg
)";

const CheckResult& part(const Assessment& a, std::string_view mode, std::string_view part) {
  for (const CheckResult& c : a.checks) {
    if (c.mode == mode && c.part.find(part) != std::string::npos) return c;
  }
  throw std::runtime_error("no check " + std::string(mode) + " of " + std::string(part));
}

}  // namespace

TEST_SUITE("unit") {
  // Statics: pulled straight up in the middle, two pairs share by stiffness. The softer may have a
  // quarter of the stiffness of the other: 1 / (2 + 2/4) of the pull on each of the stiffer pair.
  TEST_CASE("mixed: either kind may be the stiffer and takes two fifths of a straight pull") {
    const Assessment a = assess(test::read(two_kinds));
    for (const auto& of :
         {std::pair{"thread-pull-out", "tapped"}, std::pair{"bolt-tension", "through"},
          std::pair{"pull-over-behind", "through"}}) {
      const std::string mode = of.first;
      CAPTURE(mode);
      CHECK(part(a, mode, of.second).demand.si == Approx((20.0_lbf).value()).epsilon(1e-4));
    }
    CHECK(part(a, "thread-pull-out", "tapped").fastener < 2);
    CHECK(part(a, "bolt-tension", "through").fastener >= 2);
    // The wall has all of them.
    CHECK(test::check_of(a, "wall-yield").demand.si == Approx((50.0_lbf).value()).epsilon(1e-4));
    CHECK(test::check_of(a, "wall-yield").part.empty());
  }

  TEST_CASE("mixed: in the plane either kind may take two fifths too") {
    const Setup s = test::read(test::with(test::with(two_kinds, "dip: -90 deg", "dip: 0 deg"),
                                          "azimuth: 0", "azimuth: 90"));
    const Assessment a = assess(s);
    CHECK(part(a, "screw-shear", "tapped").demand.si == Approx((20.0_lbf).value()).epsilon(1e-4));
    CHECK(part(a, "bolt-shear", "through").demand.si == Approx((20.0_lbf).value()).epsilon(1e-4));
  }

  TEST_CASE("mixed: two kinds that are the same are never better than one kind") {
    test::PlateDice dice(77);
    for (int n = 0; n < 12; ++n) {
      CAPTURE(n);
      const Setup one = test::random_load(dice);
      if (one.plate().fastening.holes.size() < 4) continue;
      Setup two = one;
      Fastening& f = two.plate().fastening;
      two.plate().second = f;
      two.plate().second->holes.erase(two.plate().second->holes.begin(),
                                      two.plate().second->holes.begin() + 2);
      f.holes.resize(2);
      validate(two);
      const Assessment a = test::quick(one);
      const Assessment b = test::quick(two);
      if (a.hold_limit && b.hold_limit) {
        CHECK(b.hold_limit->value() <= a.hold_limit->value() * (1 + 1e-6));
      }
      CHECK(b.hold_limit.has_value() == a.hold_limit.has_value());
      for (const CheckResult& c : a.checks) {
        if (c.standing != Standing::applies || c.case_title.empty()) continue;
        CAPTURE(c.mode);
        double least = std::numeric_limits<double>::infinity();
        for (const CheckResult& d : b.checks) {
          if (d.mode == c.mode && d.standing == Standing::applies)
            least = std::min(least, d.factor);
        }
        CHECK(least <= c.factor * (1 + 1e-6));
      }
    }
  }

  TEST_CASE("mixed: holes of the two kinds must not run into each other") {
    Setup s = test::read(two_kinds);
    s.plate().second->holes.front() = s.plate().fastening.holes.front();
    CHECK_THROWS_WITH_AS(validate(s), "two holes run into each other", DomainError);
    s.plate().second->hold = HoldBy::u_bolt;
    CHECK_THROWS_AS(validate(s), DomainError);
  }

  TEST_CASE("mixed: a fastener of either kind may be the one that is lost") {
    AssessOptions o;
    o.one_missing = true;
    const Setup s = test::read(test::with(two_kinds, "forward: 0 in, outboard: 0 in, up: 0 in",
                                          "forward: -1 in, outboard: 1 in, up: 4 in"));
    const Assessment a = assess(s, o);
    REQUIRE(a.one_missing);
    CHECK_FALSE(a.one_missing->what.empty());
    CHECK(a.tightening.size() == 2);
  }

  TEST_CASE("mixed: the wall is held as by the kind with the smaller grip") {
    const std::string large = test::with(two_kinds, "'#10-24'", "1/2-13");
    const Setup small = test::read(test::with(two_kinds, "hold: through_bolt", "hold: tapped"));
    const double strength = test::check_of(assess(small), "wall-yield").strength.si;
    CHECK(
        test::check_of(assess(test::read(test::with(large, "thread: 1/4-20", "thread: '#10-24'"))),
                       "wall-yield")
            .strength.si <= strength * (1 + 1e-9));
  }

  TEST_CASE("mixed: holes stand as far apart as the wider kind asks") {
    // Inserts in holes of 9 mm, 3/4 in apart: 2.5 x 9 mm is more.
    const Setup s = test::read(test::with(
        test::with(two_kinds, "hold: through_bolt",
                   "hold: blind_insert\n    blind_insert: {metal: steel, flange: 14 mm, bulb: 13 "
                   "mm, hole: 9 mm, pull_out: {is: 900 lbf, source: a test}}"),
        "[[1 in, -1 in], [-1 in, 1 in]]", "[[0 in, 0.375 in], [0 in, -0.375 in]]"));
    const CheckResult c = test::check_of(assess(s), "hole-spacing");
    CHECK(c.demand.si == Approx(2.5 * 0.009));
    CHECK_FALSE(c.holds);
    // The figure is for this wall: nothing is said of others.
    CHECK(assess(s).walls.size() == 1);
  }

  TEST_CASE("mixed: the pad is that of the base whoever says so") {
    for (const char* of : {"thread: 1/4-20", "thread: '#10-24'"}) {
      const Assessment a =
          assess(test::read(test::with(two_kinds, of, std::string("packing: 1/2 in\n    ") + of)));
      CHECK(test::concerned(part(a, "bolt-bending", "tapped")));
      CHECK(test::concerned(part(a, "bolt-bending", "through")));
    }
  }

  TEST_CASE("mixed: when the only one of the first kind is lost the others remain") {
    AssessOptions o;
    o.one_missing = true;
    const Assessment a = assess(
        test::read(test::with(two_kinds, "[[1 in, 1 in], [-1 in, -1 in]]", "[[0.5 in, 0 in]]")), o);
    REQUIRE(a.one_missing);
    CHECK_FALSE(test::says(a.one_missing->reasons, "at least one hole"));
  }
}
