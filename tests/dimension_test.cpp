#include <thole/quantities.hpp>
#include <thole/vector.hpp>

#include <doctest/doctest.h>

#include <concepts>
#include <type_traits>

using namespace thole;
using namespace thole::literals;

namespace {

// `force = length` is no test of this kind: Boost.Units refuses it with a hard error, see
// nocompile/force_from_length.cpp.
template <class A, class B>
concept Adds = requires(A a, B b) {
  a + b;
};
template <class A, class B>
concept Compares = requires(A a, B b) {
  a < b;
};
template <class A, class B>
concept Crosses = requires(A a, B b) {
  cross(a, b);
};
template <class A, class B>
concept Dots = requires(A a, B b) {
  dot(a, b);
};
template <class R, class V>
concept Turns = requires(R r, V v) {
  r* v;
};

double newtons(Force f) { return f.value(); }
template <class T>
concept ForceArgument = requires(T t) {
  newtons(t);
};

static_assert(Adds<Force, Force>);
static_assert(!Adds<Force, Stress>);
static_assert(!Adds<Force, double>);
static_assert(Compares<Force, Force>);
static_assert(!Compares<Force, Length>);
static_assert(!Compares<Force, double>);

static_assert(ForceArgument<Force>);
static_assert(!ForceArgument<double>);
static_assert(!ForceArgument<int>);
static_assert(!std::is_convertible_v<double, Force>);
static_assert(!std::is_convertible_v<Force, double>);
static_assert(!std::is_convertible_v<double, Length>);

static_assert(std::same_as<decltype(Force{} * Length{}), Moment>);
static_assert(std::same_as<decltype(Stress{} * Area{}), Force>);
static_assert(std::same_as<decltype(Moment{} / Force{}), Length>);
static_assert(std::same_as<decltype(Stress{} / Length{}), BedStiffness>);
static_assert(std::same_as<decltype(Force{} * Area{}), BendingStiffness>);

static_assert(Adds<ForceVector<Boat>, ForceVector<Boat>>);
static_assert(!Adds<ForceVector<Boat>, ForceVector<Base>>);
static_assert(!Adds<ForceVector<Boat>, MomentVector<Boat>>);
static_assert(Crosses<Position<Base>, ForceVector<Base>>);
static_assert(!Crosses<Position<Boat>, ForceVector<Base>>);
static_assert(Dots<Position<Base>, ForceVector<Base>>);
static_assert(!Dots<Position<Base>, ForceVector<Boat>>);
static_assert(Turns<Rotation<Boat, Base>, ForceVector<Boat>>);
static_assert(Turns<Rotation<Boat, Base>, Direction<Boat>>);
static_assert(!Turns<Rotation<Boat, Base>, ForceVector<Base>>);
static_assert(!Turns<Rotation<Boat, Base>, Direction<Base>>);
static_assert(
    std::same_as<decltype(cross(Position<Base>{}, ForceVector<Base>{})), MomentVector<Base>>);
static_assert(std::same_as<decltype(std::declval<Rotation<Boat, Base>>() * ForceVector<Boat>{}),
                           ForceVector<Base>>);
static_assert(
    std::same_as<decltype(std::declval<Rotation<Boat, Base>>().inverse()), Rotation<Base, Boat>>);

}  // namespace

TEST_SUITE("unit") {
  TEST_CASE("dimension: a lever times a force is a moment in the same frame") {
    const Position<Base> lever(2.0_m, 0.0_m, 0.0_m);
    const ForceVector<Base> force(0.0_N, 3.0_N, 0.0_N);
    const MomentVector<Base> moment = cross(lever, force);
    CHECK(moment.x() == 0.0 * (1.0_N * 1.0_m));
    CHECK(moment.y() == 0.0 * (1.0_N * 1.0_m));
    CHECK(moment.z() == 6.0 * (1.0_N * 1.0_m));
    CHECK(dot(lever, force) == 0.0 * (1.0_N * 1.0_m));
  }

  TEST_CASE("dimension: a rotation turns into its frame and back") {
    Eigen::Matrix3d quarter;  // x of Base is y of Boat
    quarter << 0, 1, 0, -1, 0, 0, 0, 0, 1;
    const Rotation<Boat, Base> turn(quarter);
    const ForceVector<Boat> force(1.0_N, 2.0_N, 3.0_N);
    const ForceVector<Base> there = turn * force;
    CHECK(there.x() == 2.0_N);
    CHECK(there.y() == -1.0_N);
    CHECK(there.z() == 3.0_N);
    const ForceVector<Boat> back = turn.inverse() * there;
    CHECK(back.si_values() == force.si_values());
  }

  TEST_CASE("dimension: literals") {
    CHECK(newtons(1.0_lbf) == 4.4482216152605);
    CHECK(7.25_in == 184.15_mm);
    CHECK((1.0_ksi).value() == doctest::Approx(6894757.293168361).epsilon(1e-15));
    CHECK(in_degrees(90.0_deg) == doctest::Approx(90).epsilon(1e-15));
    CHECK(1.0_in2 == 1.0_in * 1.0_in);
  }
}
