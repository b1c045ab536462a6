#include <thole/tightening.hpp>

#include <doctest/doctest.h>

#include <string>

#include <thole/reading.hpp>

#include "support/published.hpp"

using namespace thole;
using namespace thole::literals;
using thole::test::Against;
using thole::test::compared;
using thole::test::Published;

namespace {

const MaterialLibrary& library() { return built_in_materials(); }

Moment in_lbf(double v) { return v * 1.0_lbf * 1.0_in; }

// The nut factor that a printed torque means, for a preload of a share of yield.
double meant_by(Moment torque, const Thread& t, Stress yield, double share) {
  return torque / (t.diameter * share * yield * tensile_stress_area(t));
}

Moment ceiling(const char* thread, Stress yield, std::optional<bool> lubricated) {
  const Thread t = library().thread(thread);
  FastenerMaterial m = library().fastener_material("stainless, unmarked");
  m.yield = yield;
  return torque_for(bolt_preload_limit(t, m), t.diameter, nut_factor(true, lubricated).low);
}

}  // namespace

TEST_SUITE("published") {
  TEST_CASE("tightening: NASA torques of 300-series screws lie within the ends of K") {
    // NASA TM-106943 (1995), Tables VIII and IX, in lbf, low and high of each column; page seen.
    // Preload 0.65 of yield (its Eq. 3), yield of 300-series screws 30 ksi (assumed there as the
    // table gives 73 ksi ultimate only). It names
    // sizes only here: coarse threads mean the higher K, fine ones are tried too.
    struct Row {
      const char* thread;
      double dry[2];
      double lubricated[2];
    };
    constexpr Row rows[] = {{"#10-24", {29, 31}, {17, 18}},    {"#10-32", {29, 31}, {17, 18}},
                            {"1/4-20", {61, 64}, {36, 38}},    {"1/4-28", {61, 64}, {36, 38}},
                            {"5/16-18", {113, 119}, {67, 71}}, {"3/8-16", {195, 205}, {117, 123}},
                            {"1/2-13", {433, 456}, {260, 274}}};
    for (const Row& r : rows) {
      const Thread t = library().thread(r.thread);
      for (int i = 0; i < 2; ++i) {
        INFO(r.thread);
        const double dry = meant_by(in_lbf(r.dry[i]), t, 30.0_ksi, 0.65);
        const double oiled = meant_by(in_lbf(r.lubricated[i]), t, 30.0_ksi, 0.65);
        CHECK(dry >= nut_factor(true, false).low);
        CHECK(dry <= nut_factor(true, false).high);
        CHECK(oiled >= nut_factor(true, true).low);
        CHECK(oiled <= nut_factor(true, true).high);
        CHECK(dry <= nut_factor(true, std::nullopt).high);
        CHECK(oiled >= nut_factor(true, std::nullopt).low);
        // Its ratio of lubricated to dry, 0.59 (page seen).
        CHECK(r.lubricated[i] / r.dry[i] == doctest::Approx(0.59).epsilon(0.025));
      }
      CHECK(ceiling(r.thread, 30.0_ksi, false) < in_lbf(r.dry[0]));
      CHECK(ceiling(r.thread, 30.0_ksi, true) < in_lbf(r.lubricated[0]));
      CHECK(ceiling(r.thread, 30.0_ksi, std::nullopt) < in_lbf(r.lubricated[0]));
    }
    const NutFactor oiled = nut_factor(true, true);
    const NutFactor dry = nut_factor(true, false);
    CHECK(oiled.low / dry.low == doctest::Approx(0.59));
    CHECK(oiled.high / dry.high == doctest::Approx(0.59).epsilon(0.01));
  }

  TEST_CASE("tightening: a dry nut of plain steel is 0.20 within a quarter") {
    // NASA TM-106943: about 0.20 dry, 0.11 to 0.15 lubricated, 25 % by hand torque wrench; page
    // seen.
    CHECK(nut_factor(false, false).low == doctest::Approx(0.20 * 0.75));
    CHECK(nut_factor(false, false).high == doctest::Approx(0.20 * 1.25));
    CHECK(nut_factor(false, true).low <= 0.11);
    CHECK(nut_factor(false, true).high >= 0.15 * 1.25);
  }

  TEST_CASE("tightening: published torques of A2-70 and A4-70 mean a K inside the range") {
    const Against against(
        "an equipment maker's table of A2-70 and A4-70, lubricated, 80 % of yield", Seen::page);
    // N m, yield 450 MPa. The ceiling in thole must stay below.
    struct Row {
      const char* thread;
      double torque;
    };
    constexpr Row rows[] = {{"M4", 1.5}, {"M5", 3.1}, {"M6", 5.3}, {"M8", 13}, {"M10", 27}};
    for (const Row& r : rows) {
      INFO(r.thread);
      const Thread t = library().thread(r.thread);
      const Moment printed = Moment::from_value(r.torque);
      const double k = meant_by(printed, t, 450.0_MPa, 0.80);
      CHECK(k > nut_factor(true, true).low);
      CHECK(k < 0.15);  // upper end of lubricated threads in NASA TM-106943
      // 0.65 of yield at the slippery end stays below 0.80 of it.
      const Moment own = ceiling(r.thread, 450.0_MPa, true);
      CHECK(compared(own.value(), r.torque, "N m") < 1);
      CHECK(own > 0.65 * printed);
    }
  }

  TEST_CASE("tightening: no ceiling exceeds the widely reprinted 18-8 torques") {
    const Against against("widely reprinted torques of 18-8 screws", Seen::copy);
    // #8-32 20, #10-24 23, 1/4-20 75, 5/16-18 132 in lbf, 3/8-16 20 lbf ft; copies seen. Also the
    // lubricated column of an equipment maker, 80 % of yield: 18, 21, 68, 120, 210; page seen.
    struct Row {
      const char* thread;
      double reprinted;
      double lubricated;
    };
    constexpr Row rows[] = {{"#8-32", 20, 18},
                            {"#10-24", 23, 21},
                            {"1/4-20", 75, 68},
                            {"5/16-18", 132, 120},
                            {"3/8-16", 240, 210}};
    for (const Row& r : rows) {
      INFO(r.thread);
      for (const double ksi : {20.0, 30.0, 65.0}) {
        CHECK(ceiling(r.thread, ksi * 1.0_ksi, std::nullopt) < in_lbf(r.lubricated));
        CHECK(ceiling(r.thread, ksi * 1.0_ksi, true) < in_lbf(r.lubricated));
      }
      CHECK(compared(ceiling(r.thread, 30.0_ksi, false) / in_lbf(1), r.reprinted, "lbf in") < 1);
    }
  }

  TEST_CASE("tightening: the preload stays below three quarters of the proof load") {
    // SAE J429 grade 5, 1/4-20: proof 85 ksi x 0.0318 in^2 = 2700 lbf (stress seen, load from
    // memory). ISO 898-1 8.8, M10: 33.7 kN; M6: 11.6 kN (copies seen). 75 % of proof is the usual
    // target (from memory).
    struct Row {
      const char* thread;
      const char* material;
      Published<Force> proof;
    };
    const Row rows[] = {{"1/4-20", "SAE J429 grade 5", Published<Force>("2700 lbf", 2)},
                        {"M10", "ISO 898-1 8.8", Published<Force>("33700 N", 3)},
                        {"M6", "ISO 898-1 8.8", Published<Force>("11600 N", 3)}};
    for (const Row& r : rows) {
      INFO(r.thread);
      const Force own =
          bolt_preload_limit(library().thread(r.thread), library().fastener_material(r.material));
      CHECK(own < 0.75 * r.proof.value());
      CHECK(own > 0.60 * r.proof.value());
    }
  }

  TEST_CASE("tightening: a chart for bolts strips threads tapped in thin sheet") {
    const Against against("T = K D F and the Aluminum Design Manual's form, by hand",
                          Seen::computed);
    // 75 in lbf on a 1/4-20 means 1500 lbf at K = 0.2, and 23 in lbf on a #10-24 605 lbf: more than
    // the nominal pull-out from 0.080 in 5052-H32, 552 and 420 lbf by the Aluminum Design Manual
    // (hand arithmetic from Fty 23 ksi; form seen in worked example 30 of 2020).
    const Thread quarter = library().thread("1/4-20");
    const Thread ten = library().thread("#10-24");
    const Metal sheet = library().metal("5052-H32 sheet");
    const Force chart = preload_of(in_lbf(75), quarter.diameter, 0.2);
    CHECK(chart == Published<Force>("1500 lbf"));
    CHECK(preload_of(in_lbf(23), ten.diameter, 0.2) == Published<Force>("605 lbf"));
    const Stress shear = library().fastener_material("stainless, unmarked").shear_ultimate;
    const PullOut q = thin_wall_pull_out(quarter, 0.080_in, sheet, shear);
    CHECK(q.manual == Published<Force>("552 lbf"));
    CHECK(thin_wall_pull_out(ten, 0.080_in, sheet, shear).manual == Published<Force>("420 lbf"));
    CHECK(chart > 2.5 * q.manual);
    // The thread in 1/8 in sheet, 862 lbf, does not stand it either.
    const PullOut thick = thin_wall_pull_out(quarter, 0.125_in, sheet, shear);
    CHECK(thick.manual == Published<Force>("862 lbf"));
    CHECK(chart > thick.manual);
    // Half the manual's figure at K = 0.15: 10, 13 and 16 in lbf in 0.080, 0.100 and 0.125 in, 4.5
    // to 7.0 for #8-32 and 6.0 to 9.3 for #10-24 (hand arithmetic; the rule itself is judgement).
    struct Cap {
      const char* thread;
      const char* wall;
      const char* torque;  // in lbf
    };
    constexpr Cap caps[] = {
        {"1/4-20", "0.080 in", "10"},  {"1/4-20", "0.100 in", "13"},  {"1/4-20", "0.125 in", "16"},
        {"#10-24", "0.080 in", "6.0"}, {"#10-24", "0.100 in", "7.5"}, {"#10-24", "0.125 in", "9.3"},
        {"#8-32", "0.080 in", "4.5"},  {"#8-32", "0.100 in", "5.6"},  {"#8-32", "0.125 in", "7.0"}};
    for (const Cap& c : caps) {
      const std::string where = std::string(c.thread) + " in " + c.wall;
      INFO(where);
      const Thread t = library().thread(c.thread);
      const PullOut p = thin_wall_pull_out(t, parse<Length>(c.wall), sheet, shear);
      PullOut by_manual = p;
      by_manual.strength = p.manual;
      const auto cap = [&](const PullOut& x) {
        return torque_for(tapped_preload_limit(x.strength), t.diameter, tapped_nut_factor) /
               in_lbf(1);
      };
      CHECK(cap(by_manual) == test::PublishedNumber(c.torque));
      CHECK(cap(p) < cap(by_manual));
      // Also where the threads are slipperier than that, they are not pulled out.
      CHECK(preload_of(in_lbf(cap(p)), t.diameter, 0.11) < 0.7 * p.strength);
    }
  }

  TEST_CASE("tightening: the usual cut for paste is less than what lubrication changes") {
    // Galling: cut the torque 15 to 25 % with anti-seize (trade practice, seen). NASA's columns
    // differ by 41 %: the lower is taken.
    const double cut = 1 - nut_factor(true, true).low / nut_factor(true, false).low;
    CHECK(cut > 0.25);
  }

  TEST_CASE("tightening: a gunwale wall is far from the engagement that rated eye bolts need") {
    // Engagement in aluminium 2 D for rated eye bolts (ASME B18.15, copies seen); "at least three
    // full threads" is common practice, no source. A wall of 0.090 in meets neither.
    const Thread t = library().thread("1/4-20");
    const Engagement e = engagement(t, 0.090_in, 0, true);
    CHECK(e.threads == doctest::Approx(1.8));
    CHECK(e.drawing < 2.0 * t.diameter);
    CHECK(e.advice == "below two threads: no margin for wear");
  }
}
