// What formulas refuse, one wrong value at a time: a check of several values must not let one by.

#include <doctest/doctest.h>

#include <limits>
#include <vector>

#include <thole/error.hpp>
#include <thole/fastener_group.hpp>
#include <thole/section.hpp>
#include <thole/stability.hpp>

using namespace thole;
using namespace thole::literals;

namespace {

constexpr double not_a_number = std::numeric_limits<double>::quiet_NaN();
const std::vector<PlanPoint> two = {{-1.0_in, Length{}}, {1.0_in, Length{}}};
const std::vector<PlanPoint> twice_one = {{1.0_in, 1.0_in}, {1.0_in, 1.0_in}};

LinearStiffness stiff(double newton_per_metre) {
  return LinearStiffness::from_value(newton_per_metre);
}

}  // namespace

TEST_SUITE("unit") {
  TEST_CASE("refused: patterns of fasteners that can share no load") {
    const Moment none{};
    CHECK_THROWS_AS((void)share_in_plane({}, 1.0_N, 1.0_N, none), DomainError);
    CHECK_THROWS_AS((void)share_in_plane({}, {}, 1.0_N, 1.0_N, none), DomainError);
    CHECK_THROWS_AS((void)share_in_plane(two, {stiff(1)}, 1.0_N, 1.0_N, none), DomainError);
    CHECK_THROWS_AS((void)share_in_plane(two, {stiff(1), stiff(-1)}, 1.0_N, 1.0_N, none),
                    DomainError);
    CHECK_THROWS_AS((void)share_in_plane(two, {stiff(1), stiff(not_a_number)}, 1.0_N, 1.0_N, none),
                    DomainError);
    CHECK_THROWS_AS((void)share_in_plane(two, {stiff(0), stiff(0)}, 1.0_N, 1.0_N, none),
                    DomainError);
  }

  // By hand: all in one point, so half the force each; any twist about it cannot be taken.
  TEST_CASE("refused: fasteners in one point take a force and no twist") {
    const Moment about_origin = 1.0_in * 10.0_N - 1.0_in * 4.0_N;  // x Fy - y Fx
    const auto f = share_in_plane(twice_one, 4.0_N, 10.0_N, about_origin);
    CHECK(f[0].x / 1.0_N == doctest::Approx(2));
    CHECK(f[1].y / 1.0_N == doctest::Approx(5));
    CHECK_THROWS_AS((void)share_in_plane(twice_one, 4.0_N, 10.0_N, 2.0 * about_origin),
                    DomainError);
    CHECK_THROWS_AS((void)instantaneous_centre(twice_one, 4.0_N, 10.0_N, 2.0 * about_origin),
                    DomainError);
    CHECK_THROWS_AS((void)instantaneous_centre(twice_one, Force{}, Force{}, Moment{}), DomainError);
    CHECK_THROWS_AS((void)instantaneous_centre(two, Force{}, Force{}, Moment{}), DomainError);
  }

  TEST_CASE("refused: boats and tests of boats that say nothing of heel") {
    const Mass m = 500.0_kg;
    for (const double bad : {0.0, -1.0, not_a_number}) {
      CAPTURE(bad);
      const Mass no_mass = bad * si::kilogram;
      const Length no_length = bad * si::metre;
      const Angle no_angle = bad * si::radian;
      CHECK_THROWS_AS((void)gm_from_lean_test({no_mass, 1.0_m, 5.0_deg}, m), DomainError);
      CHECK_THROWS_AS((void)gm_from_lean_test({m, no_length, 5.0_deg}, m), DomainError);
      CHECK_THROWS_AS((void)gm_from_lean_test({m, 1.0_m, no_angle}, m), DomainError);
      CHECK_THROWS_AS((void)gm_from_lean_test({m, 1.0_m, 5.0_deg}, no_mass), DomainError);
      CHECK_THROWS_AS((void)edge_angle(no_length, 1.0_m), DomainError);
      CHECK_THROWS_AS((void)edge_angle(1.0_m, no_length), DomainError);
      CHECK_THROWS_AS((void)lifting_threshold(no_mass, 1.0_m, 1.0_m, 1.0_m), DomainError);
      CHECK_THROWS_AS((void)lifting_threshold(m, no_length, 1.0_m, 1.0_m), DomainError);
      CHECK_THROWS_AS((void)lifting_threshold(m, 1.0_m, no_length, 1.0_m), DomainError);
      CHECK_THROWS_AS((void)lifting_threshold(m, 1.0_m, 1.0_m, no_length), DomainError);
      CHECK_THROWS_AS((void)persons_moment(no_mass, 1.0_m), DomainError);
      CHECK_THROWS_AS((void)persons_moment(m, no_length), DomainError);
      CHECK_THROWS_AS((void)heel_under(Moment{}, no_mass, 1.0_m, 1.0_m, 30.0_deg), DomainError);
      CHECK_THROWS_AS((void)heel_under(Moment{}, m, no_length, 1.0_m, 30.0_deg), DomainError);
      CHECK_THROWS_AS((void)heel_under(Moment{}, m, 1.0_m, 1.0_m, no_angle), DomainError);
      CHECK_THROWS_AS((void)immersion_allowed(no_length, 4.0_m, 1.0_m, true), DomainError);
      CHECK_THROWS_AS((void)immersion_allowed(0.4_m, no_length, 1.0_m, true), DomainError);
    }
    CHECK_THROWS_AS((void)gm_from_lean_test({m, 1.0_m, 45.0_deg}, m), DomainError);
    CHECK_THROWS_AS((void)heel_under(Moment{}, m, 1.0_m, 1.0_m, 90.0_deg), DomainError);
    CHECK_THROWS_AS((void)heel_under(Moment::from_value(-1), m, 1.0_m, 1.0_m, 30.0_deg),
                    DomainError);
    CHECK_THROWS_AS((void)immersion_allowed(0.4_m, 4.0_m, -1.0_m, true), DomainError);
    CHECK_THROWS_AS((void)righting_lever(1.0_m, 1.0_m, 90.0_deg), DomainError);
    CHECK_THROWS_AS((void)righting_lever(1.0_m, -1.0_m, 5.0_deg), DomainError);
  }

  TEST_CASE("refused: each size of a section that is none") {
    for (const double bad : {0.0, -1.0, not_a_number}) {
      CAPTURE(bad);
      const Length none = bad * si::metre;
      CHECK_THROWS_AS((void)rectangle(20.0_mm, none), DomainError);
      CHECK_THROWS_AS((void)rectangular_tube(none, 20.0_mm, 2.0_mm), DomainError);
      CHECK_THROWS_AS((void)rectangular_tube(40.0_mm, none, 2.0_mm), DomainError);
      CHECK_THROWS_AS((void)rectangular_tube(40.0_mm, 20.0_mm, none), DomainError);
      CHECK_THROWS_AS((void)round_tube(none, 2.0_mm), DomainError);
      CHECK_THROWS_AS((void)round_tube(20.0_mm, none), DomainError);
      CHECK_THROWS_AS((void)channel(none, 20.0_mm, 2.0_mm, Flanges::up), DomainError);
      CHECK_THROWS_AS((void)channel(40.0_mm, none, 2.0_mm, Flanges::up), DomainError);
      CHECK_THROWS_AS((void)channel(40.0_mm, 20.0_mm, none, Flanges::up), DomainError);
      CHECK_THROWS_AS((void)plank_with_strip(none, 20.0_mm, 20.0_mm, 20.0_mm, Length{}),
                      DomainError);
      CHECK_THROWS_AS((void)plank_with_strip(100.0_mm, none, 20.0_mm, 20.0_mm, Length{}),
                      DomainError);
      CHECK_THROWS_AS((void)plank_with_strip(100.0_mm, 20.0_mm, none, 20.0_mm, Length{}),
                      DomainError);
      CHECK_THROWS_AS((void)plank_with_strip(100.0_mm, 20.0_mm, 20.0_mm, none, Length{}),
                      DomainError);
    }
    // A channel whose flanges are no longer than its walls are thick.
    CHECK_THROWS_AS((void)channel(40.0_mm, 2.0_mm, 2.0_mm, Flanges::up), DomainError);
    CHECK_THROWS_AS((void)channel(4.0_mm, 20.0_mm, 2.0_mm, Flanges::up), DomainError);
  }
}
