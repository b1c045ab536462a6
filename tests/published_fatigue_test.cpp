// Fatigue curves against published figures.

#include <thole/fatigue.hpp>

#include <doctest/doctest.h>

#include <array>
#include <cmath>
#include <string>
#include <vector>

#include "support/validation.hpp"

using namespace thole;
using namespace thole::literals;
using thole::test::Against;
using thole::test::compared;

namespace {

double in_ksi(Stress s) { return s / 1.0_ksi; }
double in_mpa(Stress s) { return s.value() / 1e6; }

}  // namespace

TEST_SUITE("published") {
  // Constants and limits are from memory: they only agree among themselves and prove no mode.
  TEST_CASE("fatigue: the curves reach their own limits at five million cycles (from memory)") {
    const Against against("Aluminum Design Manual, Appendix 3, limits of a constant range",
                          Seen::memory);
    struct Row {
      FatigueDetail detail;
      const char* letter;
      double limit;  // ksi
      double accuracy;
    };
    // The last digit of 1.8 is worth 3 %.
    for (const Row& r : {Row{FatigueDetail::plain_metal, "A", 10.2, 0.01},
                         Row{FatigueDetail::bolted_flat, "B", 5.4, 0.01},
                         Row{FatigueDetail::attachment, "C", 4.0, 0.01},
                         Row{FatigueDetail::bolted, "D", 2.5, 0.01},
                         Row{FatigueDetail::bolted_bending, "E", 1.8, 0.02},
                         Row{FatigueDetail::weld_throat, "F", 1.9, 0.02}}) {
      CAPTURE(r.letter);
      CHECK(fatigue_curve(r.detail).category == r.letter);
      CHECK(in_ksi(fatigue_curve(r.detail).limit) == doctest::Approx(r.limit));
      CHECK(compared(in_ksi(fatigue_range(r.detail, 5e6)), r.limit, "ksi") ==
            doctest::Approx(1).epsilon(r.accuracy));
    }
  }

  TEST_CASE("fatigue: categories B and C at half a million cycles as in the worked example") {
    const Against against("Aluminum Design Manual 2020, Part VII, worked example 17", Seen::page);
    CHECK(compared(in_ksi(fatigue_range(FatigueDetail::bolted_flat, 5e5)), 8.6, "ksi") ==
          doctest::Approx(1).epsilon(0.006));
    CHECK(compared(in_ksi(fatigue_range(FatigueDetail::attachment, 5e5)), 7.6, "ksi") ==
          doctest::Approx(1).epsilon(0.007));
  }

  // 9.5, 10 and 7.1 ksi for 0.2, 0.1 and 0.7 of the cycles are worth 8.2 ksi.
  TEST_CASE("fatigue: ranges of three sizes are worth the published equivalent range") {
    const Against against("Aluminum Design Manual 2020, Appendix 3.3, worked example", Seen::page);
    const std::vector<RangeCount> ranges{
        {9.5_ksi, 0.2 * 5e5}, {10.0_ksi, 0.1 * 5e5}, {7.1_ksi, 0.7 * 5e5}};
    CHECK(compared(in_ksi(equivalent_range(FatigueDetail::bolted_flat, ranges)), 8.2, "ksi") ==
          doctest::Approx(1).epsilon(0.006));
  }

  TEST_CASE("fatigue: bolts in tension are category 50") {
    const Against against(
        "notes on EN 1993-1-9 Table 8.1 detail 14, category 50 and slope 3, worked out apart",
        Seen::copy);
    const auto over = [](double cycles, double mpa) {
      return compared(in_mpa(fatigue_range(FatigueDetail::thread_tension, cycles)), mpa, "MPa");
    };
    CHECK(over(2e6, 50) == doctest::Approx(1));
    CHECK(over(5e6, 36.8) == doctest::Approx(1).epsilon(0.002));
    // The limit of a constant range by 7.1(2): 0.737 of the category.
    CHECK(in_mpa(fatigue_curve(FatigueDetail::thread_tension).limit) ==
          doctest::Approx(0.737 * 50).epsilon(0.002));
    CHECK(over(1e5, 136) == doctest::Approx(1).epsilon(0.003));
  }

  // It has the curve in two systems: 2.1e6/sqrt(N) + 14 000 psi and 14 479/sqrt(N) + 96.5 MPa. 16.1
  // ksi at a million cycles.
  TEST_CASE("fatigue: the mean curve of smooth metal agrees in both systems of units") {
    const Against against("page of a reactor design basis, mean curve of 6061-T6", Seen::page);
    for (const double n : {1e4, 1e5, 1e6, 1e7}) {
      CAPTURE(n);
      CHECK(compared(in_mpa(smooth_6061_mean_amplitude(n)), 14479 / std::sqrt(n) + 96.5, "MPa") ==
            doctest::Approx(1).epsilon(0.0005));
    }
    CHECK(compared(in_ksi(smooth_6061_mean_amplitude(1e6)), 16.1, "ksi") ==
          doctest::Approx(1).epsilon(0.001));
    // A bolted detail allows less than a tenth of the range of the metal itself.
    CHECK(fatigue_range(FatigueDetail::bolted_bending, 1e6) <
          0.1 * (2.0 * smooth_6061_mean_amplitude(1e6)));
  }
}
