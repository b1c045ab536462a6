// What a pull does to the boat, against published rules and figures computed outside this code.

#include <thole/stability.hpp>

#include <doctest/doctest.h>

#include <cmath>
#include <optional>

#include <thole/error.hpp>

#include "support/published.hpp"

using namespace thole;
using namespace thole::literals;
using thole::test::Against;
using thole::test::compared;
using thole::test::Published;
using thole::test::PublishedNumber;
using thole::test::rounds_to;

namespace {

Mass pounds(double value) { return value * 0.45359237 * si::kilogram; }
Mass kilograms(double value) { return value * si::kilogram; }
Length metres(double value) { return value * si::metre; }
Moment newton_metres(double value) { return Moment::from_value(value); }

const Density fresh = 1000.0 * si::kilogrammes_per_cubic_metre;

/// Five examples as printed in an independent computation: "GM, moment of 46 CFR 173.005 in N m,
/// the same as lbf at a tip 1.0 m outside the gunwale, edge angle, heel under 180 and 300 lbf
/// there, under 180 lbf with 85 kg at the side, under 2 x 180 lbf on one side".
///
/// The beam is not printed. Derived here: from the moment, B = 0.67 W GM F / M. BM is not printed
/// either. Derived: BM = GM + KG - KB with KG 0.7 m and KB = 0.62 T, T = m/(rho 0.6 L B) with a
/// waterline of 0.88 of the length and 0.90 of the beam.
struct Example {
  double feet;
  double mass;
  double freeboard;
  const char* gm;
  const char* moment;
  const char* at_tip;
  const char* edge;
  double heel_180, heel_300, heel_person, heel_both;

  [[nodiscard]] Length beam() const {
    return 0.67 * (kilograms(mass) * standard_gravity) * parse<Length>(std::string(gm) + " m") *
           metres(freeboard) / parse<Moment>(std::string(moment) + " N m");
  }
  [[nodiscard]] BoatData boat() const {
    BoatData b;
    b.length = hull();
    b.beam = beam();
    b.freeboard = metres(freeboard);
    b.loaded_mass = kilograms(mass);
    return b;
  }
  [[nodiscard]] Length hull() const { return feet * 0.3048 * si::metre; }
  [[nodiscard]] Length printed_gm() const { return parse<Length>(std::string(gm) + " m"); }
  [[nodiscard]] Length bm() const {
    return printed_gm() + 0.7_m - estimate_stability(boat(), fresh).kb;
  }
  [[nodiscard]] Moment pull_at_tip(double lbf) const {
    return lbf * 1.0_lbf * (0.5 * beam() + 1.0_m);
  }
  /// The table lets the moment shrink with cos phi and shows angles beyond the edge angle.
  /// `heel_under` holds the moment, so M cos(printed) goes in: what comes out must be the printed.
  [[nodiscard]] double heel(Moment m, double printed) const {
    const std::optional<Angle> found = heel_under(std::cos(radians(degrees(printed))) * m,
                                                  kilograms(mass), printed_gm(), bm(), 60.0_deg);
    return found ? in_degrees(*found) : 90;
  }
};

const Example examples[] = {
    {14, 550, 0.42, "0.53", "489", "60", "27", 23, 32, 29, 35},
    {16, 800, 0.50, "0.67", "957", "111", "28", 15, 23, 20, 26},
    {18, 1150, 0.60, "0.78", "1645", "178", "29", 10, 16, 14, 19},
    {20, 1600, 0.65, "0.75", "2190", "227", "29", 8, 13, 12, 15},
    {22, 2100, 0.70, "0.68", "2612", "261", "29", 7, 12, 10, 14},
};

}  // namespace

TEST_SUITE("published") {
  // The copy gives the value at 6 m.
  TEST_CASE("stability: offset-load heel limit of ISO 12217-1 at 6 m is 22.7 degrees") {
    const Against against("ISO 12217-1:2013 6.2.3", Seen::copy);
    CHECK(in_degrees(offset_load_heel_limit(6.0_m)) == PublishedNumber("22.7"));
    CHECK(in_degrees(offset_load_heel_limit(24.0_m)) == PublishedNumber("11.5"));
    CHECK_THROWS_AS((void)offset_load_heel_limit(5.9_m), DomainError);
    CHECK_THROWS_AS((void)offset_load_heel_limit(24.1_m), DomainError);
  }

  // At 550 lb the printed value is 4.12, where the formula gives 4.1277: cut off, not rounded, so
  // half a digit more is taken on that side.
  TEST_CASE("stability: persons of 550 lb by 33 CFR 183 are 4.12") {
    const Against against("33 CFR 183, (lb + 32) / 141", Seen::page);
    const double persons = persons_number(pounds(550));
    CHECK(std::floor(persons * 100) / 100 == PublishedNumber("4.12"));
    // By hand: (391 + 32)/141 = 3 exactly.
    CHECK(persons_number(pounds(391)) == doctest::Approx(3));
  }

  // 33 CFR 183.41 (seen): persons capacity is no more than the side load to the brim over 0.6.
  TEST_CASE("stability: side load to the brim by 33 CFR 183") {
    CHECK(side_load_to_brim(pounds(500)) / pounds(300) == doctest::Approx(1));
  }

  // 46 CFR 178.330 (form seen): with a cockpit over the whole deck f/8 exposed, f/4 protected, and
  // f/2 without a cockpit. Persons to one side: W B_p / 6.
  TEST_CASE("stability: immersion and persons to one side by 46 CFR 178.330") {
    const Length f = 0.4_m;
    const Length deck = 5.0_m;
    CHECK(immersion_allowed(f, deck, deck, true) / f == doctest::Approx(1.0 / 8));
    CHECK(immersion_allowed(f, deck, deck, false) / f == doctest::Approx(1.0 / 4));
    CHECK(immersion_allowed(f, deck, Length{}, true) / f == doctest::Approx(1.0 / 2));
    CHECK(immersion_allowed(f, deck, Length{}, false) / f == doctest::Approx(1.0 / 2));
    CHECK(persons_moment(kilograms(300), 1.8_m) / newton_metres(300 * 9.80665 * 0.3) ==
          doctest::Approx(1));
    CHECK_THROWS_AS((void)immersion_allowed(f, deck, 5.1_m, true), DomainError);
  }

  // A hook moment of 0.67 W GM F/B heels a boat so far that a third of its side freeboard is lost:
  // tan phi = 0.67 F/B, printed as 10.26396 degrees (derived). Its F/B is not printed: 0.50
  // over 1.85, the 16 ft boat of the examples below (derived here from the angle).
  TEST_CASE("stability: threshold of 46 CFR 173.005 loses a third of the freeboard") {
    const Against against("46 CFR 173.005, heel of its threshold, derived by hand", Seen::computed);
    const Length f = 0.50_m;
    const Length b = 1.85_m;
    const Length gm = 0.67_m;
    const Mass m = kilograms(800);
    const Moment threshold = lifting_threshold(m, gm, f, b);
    const Angle printed = degrees(10.26396);
    const double tangent = threshold / (m * standard_gravity * gm);
    CHECK(in_degrees(std::atan(tangent) * si::radian) == PublishedNumber("10.26396"));
    // W GM sin phi = M cos phi: the same heel by the solver, without the wall-sided term.
    const auto heel = heel_under(std::cos(radians(printed)) * threshold, m, gm, Length{}, 45.0_deg);
    REQUIRE(heel);
    CHECK(in_degrees(*heel) == PublishedNumber("10.26396"));
    CHECK(0.5 * std::tan(radians(printed)) * (b / f) == doctest::Approx(0.335));
  }

  // The same examples. The beam derived from the moment hangs on GM, which has two digits: some GM
  // that rounds to the printed one must give the printed edge angle, and the beam so found must
  // give the printed pull at the tip within 1 %.
  TEST_CASE("stability: moment and tip and edge angle of five open boats go together") {
    const Against against("five open boats, computed apart", Seen::computed);
    for (const Example& e : examples) {
      CAPTURE(e.feet);
      const Length f = metres(e.freeboard);
      const double off = 0.005 / e.printed_gm().value();
      const double low = in_degrees(edge_angle(f, (1 + off) * e.beam()));
      const double high = in_degrees(edge_angle(f, (1 - off) * e.beam()));
      CHECK(low <= parse_number(e.edge) + 0.5);
      CHECK(high >= parse_number(e.edge) - 0.5);
      const double tip = parse<Moment>(std::string(e.moment) + " N m") / e.pull_at_tip(1);
      CHECK(compared(tip, parse_number(e.at_tip), "lbf") == doctest::Approx(1).epsilon(0.01));
    }
    // The beam of the 16 ft boat follows from the angle above: 1.85 m. Printed 957 N m lies between
    // what the two ends of GM 0.67 m give, and its edge angle is as printed.
    const Moment least = lifting_threshold(kilograms(800), 0.665_m, 0.50_m, 1.85_m);
    const Moment most = lifting_threshold(kilograms(800), 0.675_m, 0.50_m, 1.85_m);
    CHECK(least <= newton_metres(957));
    CHECK(most >= newton_metres(957));
    CHECK(in_degrees(edge_angle(0.50_m, 1.85_m)) == PublishedNumber("28"));
  }

  TEST_CASE("stability: five open boats heel as printed under 180 and 300 and 2 x 180 lbf") {
    const Against against("five open boats, computed apart", Seen::computed);
    for (const Example& e : examples) {
      CAPTURE(e.feet);
      const auto off = [&](double lbf, double printed) {
        return std::abs(compared(e.heel(e.pull_at_tip(lbf), printed), printed, "deg") - 1) *
               printed;
      };
      CHECK(off(180, e.heel_180) <= 1);
      CHECK(off(300, e.heel_300) <= 1);
      CHECK(off(360, e.heel_both) <= 1);
      // As the program counts it, with the moment held: never below what is printed.
      const auto held =
          heel_under(e.pull_at_tip(180), kilograms(e.mass), e.printed_gm(), e.bm(), 60.0_deg);
      REQUIRE(held);
      CHECK(in_degrees(*held) > e.heel_180);
    }
  }

  // Where the person of that column sits is not printed, nor whether her mass comes on top. With 85
  // kg at half the beam, on board already, the heel lies up to 1.4 deg above what is printed: this
  // column is not reproduced, the cautious side of it is checked.
  TEST_CASE("stability: five open boats heel no less than printed with a person at the side") {
    for (const Example& e : examples) {
      CAPTURE(e.feet);
      const Moment person = one_person * standard_gravity * (0.5 * e.beam());
      const double found = e.heel(e.pull_at_tip(180) + person, e.heel_person);
      CHECK(found >= e.heel_person);
      CHECK(found <= e.heel_person + 1.5);
    }
  }

  // Their GM: the waterline that it was computed with is not printed. With the defaults the plain
  // estimate lies 4 % below it at 14 ft and 60 % above it at 22 ft; the low end, which the program
  // uses, is nowhere above the printed GM by more than its rounding and 2 %.
  TEST_CASE("stability: the low end of the estimate does not exceed the printed GM") {
    for (const Example& e : examples) {
      CAPTURE(e.feet);
      const HeelModel m = heel_model(e.boat(), fresh);
      CHECK_FALSE(m.measured);
      CHECK(m.gm <= 1.02 * (e.printed_gm() + 0.005_m));
      CHECK(m.gm >= 0.5 * e.printed_gm());
    }
    const Example& smallest = examples[0];
    CHECK(std::abs(estimate_stability(smallest.boat(), fresh).gm / smallest.printed_gm() - 1) <
          0.05);
  }

  // The same source: 180 lbf at a corner of the transom of the 16 ft boat lowers the stern by 0.09
  // m.
  TEST_CASE("stability: 180 lbf at the transom of a 16 ft boat lowers it by 0.09 m or more") {
    const HeelModel m = heel_model(examples[1].boat(), fresh);
    const Length lower =
        freeboard_left(m, Angle{}, Force{}) - freeboard_left(m, Angle{}, 180.0_lbf);
    CHECK(lower >= 0.09_m);
    CHECK(lower <= 0.12_m);
  }

  // By hand: 80 kg moved 0.6 m in a boat of 550 kg that leans 6 deg: 48/(550 x 0.105104) = 0.830 m.
  TEST_CASE("stability: GM from a lean test by hand") {
    const Against against("GM from a lean test, by hand", Seen::computed);
    CHECK(gm_from_lean_test({kilograms(80), 0.6_m, 6.0_deg}, kilograms(550)) ==
          Published<Length>("0.830 m"));
  }

  // By hand: draught 0.55/(4 x 1.5 x 0.6) = 0.15278 m, KB 0.09472 m, BM = 0.6 x 4 x 1.5^3/(12 x
  // 0.55) = 1.22727 m, GM = 0.09472 + 1.22727 - 0.7 = 0.62199 m.
  TEST_CASE("stability: GM from main sizes by hand") {
    const Against against("GM from main sizes, by hand", Seen::computed);
    BoatData b;
    b.length = 4.5_m;
    b.beam = 1.7_m;
    b.waterline_length = 4.0_m;
    b.waterline_beam = 1.5_m;
    b.freeboard = 0.42_m;
    b.loaded_mass = kilograms(550);
    const StabilityEstimate e = estimate_stability(b, fresh);
    CHECK(e.draught == Published<Length>("0.15278 m"));
    CHECK(e.kb == Published<Length>("0.09472 m"));
    CHECK(e.bm == Published<Length>("1.22727 m"));
    CHECK(e.gm == Published<Length>("0.62199 m"));
    // Low end with people standing: 0.7 x 0.521995.
    CHECK(heel_model(b, fresh).gm == Published<Length>("0.36540 m"));
  }
}
