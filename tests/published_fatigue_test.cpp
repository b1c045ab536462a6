// Fatigue curves against published figures.

#include <thole/fatigue.hpp>

#include <doctest/doctest.h>

#include <array>
#include <cmath>
#include <string>
#include <vector>

using namespace thole;
using namespace thole::literals;

namespace {

double in_ksi(Stress s) { return s / 1.0_ksi; }
double in_mpa(Stress s) { return s.value() / 1e6; }

}  // namespace

TEST_SUITE("published") {
  // Aluminum Design Manual, Appendix 3, limits of a constant range at 5e6 cycles. Constants and
  // limits from memory: they only agree among themselves and prove no mode.
  TEST_CASE("fatigue: the curves reach their own limits at five million cycles (from memory)") {
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
      CHECK(in_ksi(fatigue_range(r.detail, 5e6)) == doctest::Approx(r.limit).epsilon(r.accuracy));
    }
  }

  // Aluminum Design Manual 2020, Part VII, worked example 17 (page seen).
  TEST_CASE("fatigue: categories B and C at half a million cycles as in the worked example") {
    CHECK(in_ksi(fatigue_range(FatigueDetail::bolted_flat, 5e5)) ==
          doctest::Approx(8.6).epsilon(0.006));
    CHECK(in_ksi(fatigue_range(FatigueDetail::attachment, 5e5)) ==
          doctest::Approx(7.6).epsilon(0.007));
  }

  // Aluminum Design Manual 2020, Appendix 3.3, worked example (page seen): 9.5, 10 and 7.1 ksi for
  // 0.2, 0.1 and 0.7 of the cycles are worth 8.2 ksi.
  TEST_CASE("fatigue: ranges of three sizes are worth the published equivalent range") {
    const std::vector<RangeCount> ranges{
        {9.5_ksi, 0.2 * 5e5}, {10.0_ksi, 0.1 * 5e5}, {7.1_ksi, 0.7 * 5e5}};
    CHECK(in_ksi(equivalent_range(FatigueDetail::bolted_flat, ranges)) ==
          doctest::Approx(8.2).epsilon(0.006));
  }

  // EN 1993-1-9 Table 8.1 detail 14, as in notes on its text: category 50, slope 3; 36.8 MPa at 5e6
  // and 136 MPa at 1e5 cycles.
  TEST_CASE("fatigue: bolts in tension are category 50") {
    CHECK(in_mpa(fatigue_range(FatigueDetail::thread_tension, 2e6)) == doctest::Approx(50));
    CHECK(in_mpa(fatigue_range(FatigueDetail::thread_tension, 5e6)) ==
          doctest::Approx(36.8).epsilon(0.002));
    CHECK(in_mpa(fatigue_range(FatigueDetail::thread_tension, 1e5)) ==
          doctest::Approx(136).epsilon(0.003));
  }

  // A published page of a reactor design basis has the mean curve of 6061-T6 in two systems:
  // 2.1e6/sqrt(N) + 14 000 psi and 14 479/sqrt(N) + 96.5 MPa. 16.1 ksi at a million cycles.
  TEST_CASE("fatigue: the mean curve of smooth metal agrees in both systems of units") {
    for (const double n : {1e4, 1e5, 1e6, 1e7}) {
      CAPTURE(n);
      CHECK(in_mpa(smooth_6061_mean_amplitude(n)) ==
            doctest::Approx(14479 / std::sqrt(n) + 96.5).epsilon(0.0005));
    }
    CHECK(in_ksi(smooth_6061_mean_amplitude(1e6)) == doctest::Approx(16.1).epsilon(0.001));
    // A bolted detail allows less than a tenth of the range of the metal itself.
    CHECK(fatigue_range(FatigueDetail::bolted_bending, 1e6) <
          0.1 * (2.0 * smooth_6061_mean_amplitude(1e6)));
  }
}
