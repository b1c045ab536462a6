#include <thole/rod.hpp>

#include <doctest/doctest.h>

#include <numbers>

#include "support/published.hpp"

using namespace thole;
using namespace thole::literals;
using thole::test::Published;
using thole::test::PublishedNumber;

TEST_SUITE("published") {
  // Cantilever elastica under a dead end load: pull-in of the tip over L, so lever / L = 1 -
  // pull-in. Mattiasson 1981, table (values from memory).
  TEST_CASE("rod: uniform elastica at right angles against Mattiasson 1981") {
    struct Row {
      double alpha;
      const char* pull_in;
    };
    const Row rows[] = {
        {1, "0.05643"}, {2, "0.16064"}, {3, "0.25442"}, {5, "0.38763"}, {10, "0.55500"},
    };
    for (const Row& row : rows) {
      CAPTURE(row.alpha);
      CHECK(1 - uniform_rod_lever(row.alpha, degrees(90)) == PublishedNumber(row.pull_in));
    }
  }

  // Elastica psi'' = alpha sin psi, psi(0) = beta, psi'(1) = 0 (Bisshopp and Drucker 1945 for 90
  // degrees): independent solution, lever / L for alpha -> 0, 0.5, 1, 2, 4, 8, 16.
  TEST_CASE("rod: lever of a uniform rod at six angles and seven pulls") {
    struct Row {
      double degrees;
      const char* lever[7];
    };
    const Row rows[] = {
        {45, {"0.707", "0.630", "0.568", "0.475", "0.368", "0.269", "0.191"}},
        {60, {"0.866", "0.793", "0.724", "0.615", "0.479", "0.351", "0.250"}},
        {90, {"1.000", "0.984", "0.944", "0.839", "0.671", "0.495", "0.346"}},
        {120, {"0.866", "0.931", "0.970", "0.955", "0.807", "0.605", "0.422"}},
        {135, {"0.707", "0.795", "0.878", "0.949", "0.847", "0.643", "0.450"}},
        {150, {"0.500", "0.583", "0.689", "0.876", "0.865", "0.671", "0.469"}},
    };
    const double alphas[] = {0, 0.5, 1, 2, 4, 8, 16};
    for (const Row& row : rows) {
      for (std::size_t i = 0; i < 7; ++i) {
        CAPTURE(row.degrees);
        CAPTURE(alphas[i]);
        const double lever = uniform_rod_lever(alphas[i], degrees(row.degrees));
        const bool contradicted = alphas[i] > 10 && row.degrees > 80;  // next case
        if (!contradicted) CHECK(lever == PublishedNumber(row.lever[i]));
        // alpha = P L^2 / EI with L = 1 m and EI = 1 N m^2.
        const Length bound = rod_lever_bound(1.0_m, parse<BendingStiffness>("1 N m2"),
                                             degrees(row.degrees), alphas[i] * 1.0_N);
        CHECK(bound / 1.0_m >= lever - 1e-9);
        CHECK(bound / 1.0_m >= parse_number(row.lever[i]) - 0.0005);
      }
    }
  }

  // At alpha = 16 and 90 degrees or more that solution (0.346, 0.422, 0.450, 0.469) lies 2 to 3 %
  // low: it contradicts the elliptic integrals of the same equation, sqrt(alpha) = K(k) - F(t, k)
  // with k = cos(psi1/2), sin t = cos(beta/2) / k, lever^2 = 2 (cos psi1 - cos beta) / alpha, which
  // are evaluated here (computed outside this code).
  TEST_CASE("rod: lever of a uniform rod under the greatest pull against elliptic integrals") {
    CHECK(uniform_rod_lever(16, degrees(45)) == PublishedNumber("0.191203"));
    CHECK(uniform_rod_lever(16, degrees(60)) == PublishedNumber("0.249807"));
    CHECK(uniform_rod_lever(16, degrees(90)) == PublishedNumber("0.353227"));
    CHECK(uniform_rod_lever(16, degrees(120)) == PublishedNumber("0.432495"));
    CHECK(uniform_rod_lever(16, degrees(135)) == PublishedNumber("0.461289"));
    CHECK(uniform_rod_lever(16, degrees(150)) == PublishedNumber("0.482141"));
  }

  // Independent computation: rod of 2.6 m, butt stiffness 40 N m^2, line at right angles; and the
  // same rod without a measured stiffness.
  TEST_CASE("rod: moment of a 2.6 m rod under 8 and 40 and 65 lbf") {
    struct Row {
      Force pull;
      const char* bent;
      const char* rigid;
    };
    const Row rows[] = {
        {8.0_lbf, "53 N m", "93 N m"},
        {40.0_lbf, "119 N m", "463 N m"},
        {65.0_lbf, "152 N m", "752 N m"},
    };
    const Length length = 2.6_m;
    for (const Row& row : rows) {
      CAPTURE(row.pull);
      const auto ei = parse<BendingStiffness>("40 N m2");
      CHECK(row.pull * rod_lever_bound(length, ei, degrees(90), row.pull) ==
            Published<Moment>(row.bent));
      CHECK(row.pull * rod_lever_bound(length, std::nullopt, degrees(90), row.pull) ==
            Published<Moment>(row.rigid));
    }
    CHECK(40.0_lbf *
              rod_lever_bound(length, parse<BendingStiffness>("40 N m2"), degrees(90), 40.0_lbf) ==
          Published<Moment>("88 lbf ft"));
  }

  // A rod that leans away from the line gets a longer lever as it bends: L sin(beta) is unsafe
  // there (same independent solution, 150 degrees, alpha = 4: 0.865 against 0.500).
  TEST_CASE("rod: a rod leaning away from the line has a lever beyond L sin beta") {
    CHECK(uniform_rod_lever(4, degrees(150)) == PublishedNumber("0.865"));
    CHECK(rod_lever_bound(1.0_m, std::nullopt, degrees(150), 4.0_N) == 1.0_m);
  }

  // Cantilever, small droop: EI = P l^3 / (3 delta). The elastica itself (Mattiasson 1981) at
  // alpha = 1 droops 0.30172 L, where the small-droop formula finds 1.1 EI: outside its stated
  // range, and on the safe side (a stiffer rod has a longer lever).
  TEST_CASE("rod: stiffness from a droop test") {
    const BendingStiffness ei = butt_stiffness_from_test(1.0_N, 1.0_m, 0.30172_m);
    CHECK(ei / parse<BendingStiffness>("1 N m2") == PublishedNumber("1.1"));
  }
}
