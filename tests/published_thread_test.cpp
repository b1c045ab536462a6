#include <thole/thread.hpp>

#include <doctest/doctest.h>

#include <string>

#include <thole/error.hpp>
#include <thole/metal_strength.hpp>

#include "support/published.hpp"

using namespace thole;
using namespace thole::literals;
using thole::test::Against;
using thole::test::compared;
using thole::test::proves;
using thole::test::Published;
using thole::test::rounds_to;
using thole::test::Source;

namespace {

const Source& bolt_table =
    proves({"bolt-tension", "bolt-shear"},
           "Aluminum Design Manual 2020, bolt table, 1/4-20 of 7075-T73", Seen::page);
const Source& screws_30 =
    proves({"bolt-tension", "bolt-shear"},
           "Aluminum Design Manual 2020, example 30, J.5.4.3 and J.5.5.3", Seen::page);
// Compiled there from ANSI B1.1.
const char* const shigley_8_2 = "Shigley, Mechanical Engineering Design, 9th ed., table 8-2";
const Source& handbook_strip =
    proves({"thread-strip-hole", "thread-strip-screw"},
           "FED-STD-H28/2 and Machinery's Handbook, strip areas of 1/4-20", Seen::memory);
const Source& insert_chart = proves({"thread-insert-pull-out"},
                                    "a maker's chart of the length of wire inserts, 390 to "
                                    "1370 MPa",
                                    Seen::page);
const Source& pencoyd_shear = proves(
    {"rivet-shear"}, "Pencoyd manual (1898), 3/4 in rivet in single shear at 11 ksi", Seen::copy);

struct Limits {
  const char* external_major_min;
  const char* external_pitch_min;
  const char* internal_minor_max;
  const char* internal_pitch_max;
};

struct UnifiedRow {
  const char* name;
  const char* diameter;
  double per_inch;
  Limits limits;
  const char* external_strip;  // in^2 per in
  const char* internal_strip;  // in^2 per in
  const char* tensile;
  const char* root;
  const char* to_break_bolt;
};

// ASME B1.1 classes 2A and 2B. The 2B columns of the UNC sizes: limits table seen; the others from
// memory. The areas are an independent computation from these limits (formulas of FED-STD-H28/2,
// seen in the errata of AAMA TIR-A9-14; 1/4-20 also Machinery's Handbook, from memory).
constexpr UnifiedRow unified_rows[] = {
    {"#6-32",
     "0.1380 in",
     32.0,
     {"0.1312 in", "0.1141 in", "0.114 in", "0.1214 in"},
     "0.1797 in",
     "0.2807 in",
     "0.00909 in^2",
     "0.00798 in^2",
     "0.101 in"},
    {"#8-32",
     "0.1640 in",
     32.0,
     {"0.1571 in", "0.1399 in", "0.139 in", "0.1475 in"},
     "0.2256 in",
     "0.3343 in",
     "0.01401 in^2",
     "0.01262 in^2",
     "0.124 in"},
    {"#10-24",
     "0.1900 in",
     24.0,
     {"0.1818 in", "0.1586 in", "0.156 in", "0.1672 in"},
     "0.2627 in",
     "0.4011 in",
     "0.01753 in^2",
     "0.01548 in^2",
     "0.133 in"},
    {"#10-32",
     "0.1900 in",
     32.0,
     {"0.1831 in", "0.1658 in", "0.164 in", "0.1736 in"},
     "0.2747 in",
     "0.3886 in",
     "0.01999 in^2",
     "0.01833 in^2",
     "0.146 in"},
    {"#12-24",
     "0.2160 in",
     24.0,
     {"0.2078 in", "0.1845 in", "0.181 in", "0.1933 in"},
     "0.3119 in",
     "0.4576 in",
     "0.02416 in^2",
     "0.02174 in^2",
     "0.155 in"},
    {"1/4-20",
     "0.2500 in",
     20.0,
     {"0.2408 in", "0.2127 in", "0.207 in", "0.2224 in"},
     "0.3680 in",
     "0.5390 in",
     "0.03182 in^2",
     "0.02849 in^2",
     "0.173 in"},
    {"1/4-28",
     "0.2500 in",
     28.0,
     {"0.2425 in", "0.2225 in", "0.220 in", "0.2311 in"},
     "0.3735 in",
     "0.5213 in",
     "0.03637 in^2",
     "0.03380 in^2",
     "0.195 in"},
    {"5/16-18",
     "0.3125 in",
     18.0,
     {"0.3026 in", "0.2712 in", "0.265 in", "0.2817 in"},
     "0.4699 in",
     "0.6818 in",
     "0.05243 in^2",
     "0.04766 in^2",
     "0.223 in"},
    {"5/16-24",
     "0.3125 in",
     24.0,
     {"0.3042 in", "0.2806 in", "0.277 in", "0.2902 in"},
     "0.4785 in",
     "0.6632 in",
     "0.05807 in^2",
     "0.05427 in^2",
     "0.243 in"},
    {"3/8-16",
     "0.3750 in",
     16.0,
     {"0.3643 in", "0.3287 in", "0.321 in", "0.3401 in"},
     "0.5760 in",
     "0.8281 in",
     "0.07749 in^2",
     "0.07095 in^2",
     "0.269 in"},
    {"3/8-24",
     "0.3750 in",
     24.0,
     {"0.3667 in", "0.3430 in", "0.340 in", "0.3528 in"},
     "0.5785 in",
     "0.7979 in",
     "0.08783 in^2",
     "0.08315 in^2",
     "0.304 in"},
    {"7/16-14",
     "0.4375 in",
     14.0,
     {"0.4258 in", "0.3850 in", "0.376 in", "0.3972 in"},
     "0.6765 in",
     "0.9781 in",
     "0.10631 in^2",
     "0.09755 in^2",
     "0.314 in"},
    {"1/2-13",
     "0.5000 in",
     13.0,
     {"0.4876 in", "0.4435 in", "0.434 in", "0.4565 in"},
     "0.7789 in",
     "1.1235 in",
     "0.14190 in^2",
     "0.13099 in^2",
     "0.364 in"},
};

Thread thread_of(const UnifiedRow& row) {
  Thread t;
  t.name = row.name;
  t.diameter = parse<Length>(row.diameter);
  t.pitch = 1.0_in / row.per_inch;
  t.external_major_min = parse<Length>(row.limits.external_major_min);
  t.external_pitch_min = parse<Length>(row.limits.external_pitch_min);
  t.internal_minor_max = parse<Length>(row.limits.internal_minor_max);
  t.internal_pitch_max = parse<Length>(row.limits.internal_pitch_max);
  return t;
}

Thread unified(const std::string& name) {
  for (const UnifiedRow& row : unified_rows) {
    if (row.name == name) return thread_of(row);
  }
  throw UnknownName(name);
}

struct MetricRow {
  const char* name;
  double diameter, pitch;                             // mm
  double es, major, pitch_outer, pitch_inner, minor;  // deviation and tolerances, micrometres
  Limits limits;                                      // as printed
  const char* tensile;
  const char* external_strip;  // mm^2 per mm
  const char* internal_strip;
};

// ISO 965-1, 6g and 6H, coarse (6g M4 to M6 seen; the rest from memory, 6g M4 to M10 and 6H M10 and
// M12 seen in reprints of ASME B1.13M); ISO 898-1 A_s,nom (seen). The strip areas are an
// independent computation.
constexpr MetricRow metric_rows[] = {
    {"M4",
     4,
     0.70,
     22,
     140,
     90,
     118,
     180,
     {"3.838 mm", "3.433 mm", "3.422 mm", "3.663 mm"},
     "8.78 mm^2",
     "5.474 mm",
     "7.766 mm"},
    {"M5",
     5,
     0.80,
     24,
     150,
     95,
     125,
     200,
     {"4.826 mm", "4.361 mm", "4.334 mm", "4.605 mm"},
     "14.2 mm^2",
     "7.077 mm",
     "9.995 mm"},
    {"M6",
     6,
     1.00,
     26,
     180,
     112,
     150,
     236,
     {"5.794 mm", "5.212 mm", "5.153 mm", "5.500 mm"},
     "20.1 mm^2",
     "8.647 mm",
     "12.19 mm"},
    {"M8",
     8,
     1.25,
     28,
     212,
     118,
     160,
     265,
     {"7.760 mm", "7.042 mm", "6.912 mm", "7.348 mm"},
     "36.6 mm^2",
     "12.16 mm",
     "16.83 mm"},
    {"M10",
     10,
     1.50,
     32,
     236,
     132,
     180,
     300,
     {"9.732 mm", "8.862 mm", "8.676 mm", "9.206 mm"},
     "58.0 mm^2",
     "15.58 mm",
     "21.48 mm"},
    {"M12",
     12,
     1.75,
     34,
     265,
     150,
     200,
     335,
     {"11.701 mm", "10.679 mm", "10.441 mm", "11.063 mm"},
     "84.3 mm^2",
     "18.98 mm",
     "26.11 mm"},
};

Thread thread_of(const MetricRow& row) {
  const double d2 = row.diameter - 0.649519 * row.pitch;
  const double d1 = row.diameter - 1.082532 * row.pitch;
  const auto mm = [](double v) { return v * 1.0_mm; };
  Thread t;
  t.name = row.name;
  t.diameter = mm(row.diameter);
  t.pitch = mm(row.pitch);
  t.external_major_min = mm(row.diameter - (row.es + row.major) / 1000);
  t.external_pitch_min = mm(d2 - (row.es + row.pitch_outer) / 1000);
  t.internal_minor_max = mm(d1 + row.minor / 1000);
  t.internal_pitch_max = mm(d2 + row.pitch_inner / 1000);
  return t;
}

Thread metric(const std::string& name) {
  for (const MetricRow& row : metric_rows) {
    if (row.name == name) return thread_of(row);
  }
  throw UnknownName(name);
}

}  // namespace

TEST_SUITE("published") {
  TEST_CASE("thread: tensile stress areas of ASME B1.1") {
    const char* const title = "ASME B1.1 and Machinery's Handbook 31st ed., table 4a";
    const Against coarse(title, Seen::page, "tensile stress areas of coarse threads");
    struct Row {
      const char* name;
      const char* area;
    };
    const auto check = [](const Row& row) {
      CAPTURE(std::string(row.name));
      CHECK(tensile_stress_area(unified(row.name)) == Published<Area>(row.area));
    };
    for (const Row& row :
         {Row{"#6-32", "0.00909 in^2"}, Row{"#8-32", "0.0140 in^2"}, Row{"#10-24", "0.0175 in^2"},
          Row{"#12-24", "0.0242 in^2"}, Row{"1/4-20", "0.0318 in^2"}, Row{"5/16-18", "0.0524 in^2"},
          Row{"3/8-16", "0.0775 in^2"}, Row{"7/16-14", "0.106 in^2"},
          Row{"1/2-13", "0.142 in^2"}}) {
      check(row);
    }
    const Against fine(shigley_8_2, Seen::page, "tensile stress areas of fine threads");
    for (const Row& row : {Row{"#10-32", "0.0200 in^2"}, Row{"1/4-28", "0.0364 in^2"},
                           Row{"3/8-24", "0.0878 in^2"}}) {
      check(row);
    }
  }

  // The UNF table prints 0.0580 in^2 for 5/16-24; its own formula gives 0.05807. The
  // difference is a rounding in the table, 0.12 % on the unsafe side of the printed figure.
  TEST_CASE("thread: 5/16-24 tensile stress area differs from the table by its rounding only") {
    const Against against(shigley_8_2, Seen::page, "tensile stress areas of fine threads");
    const Area area = tensile_stress_area(unified("5/16-24"));
    CHECK(rounds_to(area / 1.0_in2, "0.05807"));
    CHECK(rounds_to(compared(area / 1.0_in2, 0.0580, "in^2"), "1.001"));
  }

  // To more digits than the tables.
  TEST_CASE("thread: tensile and root areas of 13 Unified threads") {
    const Against against(
        "definitions of ASME B1.1 and the Aluminum Design Manual 2020, worked out apart",
        Seen::computed);
    for (const UnifiedRow& row : unified_rows) {
      CAPTURE(std::string(row.name));
      CHECK(tensile_stress_area(thread_of(row)) == Published<Area>(row.tensile));
      CHECK(root_area(thread_of(row)) == Published<Area>(row.root));
    }
  }

  // At the minimum material limits. in^2 per in = in.
  TEST_CASE("thread: strip areas of 13 Unified threads after FED-STD-H28") {
    const Against against("formulas of FED-STD-H28/2 and the ASME B1.1 appendix, worked out apart",
                          Seen::computed);
    for (const UnifiedRow& row : unified_rows) {
      CAPTURE(std::string(row.name));
      const Thread t = thread_of(row);
      CHECK(external_strip_area_per_length(t) == Published<Length>(row.external_strip));
      CHECK(internal_strip_area_per_length(t) == Published<Length>(row.internal_strip));
    }
  }

  TEST_CASE("thread: 1/4-20 strip areas per inch after Machinery's Handbook") {
    const Against against(handbook_strip);
    CHECK(internal_strip_area_per_length(unified("1/4-20")) == Published<Length>("0.539 in"));
    CHECK(external_strip_area_per_length(unified("1/4-20")) == Published<Length>("0.368 in"));
  }

  TEST_CASE("thread: engagement that breaks the bolt first in equal metals") {
    const Against against("Machinery's Handbook 24th ed., 2 At / ASs, worked out apart",
                          Seen::computed);
    for (const UnifiedRow& row : unified_rows) {
      CAPTURE(std::string(row.name));
      const Thread t = thread_of(row);
      CHECK(2.0 * tensile_stress_area(t) / external_strip_area_per_length(t) ==
            Published<Length>(row.to_break_bolt));
    }
  }

  // Shear ultimates 19 and 27 ksi of 5052-H32 and 6061-T6 sheet.
  TEST_CASE("thread: engagement that breaks a 73 ksi screw before aluminium strips") {
    const Against against("full-thread areas, worked out apart", Seen::computed);
    struct Row {
      const char* name;
      const char* in_5052_h32;
      const char* in_6061_t6;
    };
    const Row rows[] = {
        {"#8-32", "0.161 in", "0.113 in"},  {"#10-24", "0.168 in", "0.118 in"},
        {"1/4-20", "0.227 in", "0.160 in"}, {"5/16-18", "0.295 in", "0.208 in"},
        {"3/8-16", "0.360 in", "0.253 in"},
    };
    for (const Row& row : rows) {
      CAPTURE(std::string(row.name));
      const Thread t = unified(row.name);
      const Force breaks = tensile_stress_area(t) * 73.0_ksi;
      const Length area = internal_strip_area_per_length(t);
      CHECK(breaks / thread_strip(area, 1.0_in, 19.0_ksi) * 1.0_in ==
            Published<Length>(row.in_5052_h32));
      CHECK(breaks / thread_strip(area, 1.0_in, 27.0_ksi) * 1.0_in ==
            Published<Length>(row.in_6061_t6));
    }
  }

  // The formulas state 0.0001 in on pitch and major diameters and 0.0005 in on the minor diameter,
  // which the standard rounds to 0.001 in: those steps are accepted here.
  TEST_CASE("thread: 2A and 2B limits by formula against ASME B1.1") {
    const Against against("ASME B1.1, limits of classes 2A and 2B (2B of coarse threads seen)",
                          Seen::memory);
    for (const UnifiedRow& row : unified_rows) {
      CAPTURE(std::string(row.name));
      const auto found = unified_2a_2b_limits(parse<Length>(row.diameter), 1.0_in / row.per_inch);
      const auto near = [](const char* text) {
        return Published<Length>::in_steps(text, "0.0002 in");
      };
      CHECK(found.external_major_min == near(row.limits.external_major_min));
      CHECK(found.external_pitch_min == near(row.limits.external_pitch_min));
      CHECK(found.internal_pitch_max == near(row.limits.internal_pitch_max));
      if (std::string(row.name) == "#10-24") continue;  // next case
      CHECK(found.internal_minor_max ==
            Published<Length>::in_steps(row.limits.internal_minor_max, "0.001 in"));
    }
  }

  // The printed limit is 0.156 in. The formula gives 0.15548 in, which rounds to 0.155: the
  // standard's own rounding is not reproduced for this size. The smaller diameter makes the
  // external strip area 2 % greater than with the printed limit.
  TEST_CASE("thread: 2B minor diameter of 10-24 by formula lies one thousandth under ASME B1.1") {
    const auto found = unified_2a_2b_limits(0.190_in, 1.0_in / 24.0);
    CHECK(rounds_to(found.internal_minor_max / 1.0_in, "0.155"));
    const Against against("UNC class 2B limits table", Seen::page);
    CHECK(compared(found.internal_minor_max / 1.0_in, 0.156, "in") >= 1 - 0.00101 / 0.156);
  }

  TEST_CASE("thread: 2B pitch diameter of 1/2-13 by formula against ASME B1.1") {
    const Against against("UNC class 2B limits table", Seen::page);
    CHECK(unified_2a_2b_limits(0.5_in, 1.0_in / 13.0).internal_pitch_max ==
          Published<Length>("0.4565 in"));
  }

  // The threads of these tests against the printed limits 6g and 6H.
  TEST_CASE("thread: metric threads are built to the limits of ISO 965-1") {
    for (const MetricRow& row : metric_rows) {
      CAPTURE(std::string(row.name));
      const Thread t = thread_of(row);
      // 6g of M4 to M6 seen, to M10 in reprints of ASME B1.13M; 6H of M10 and M12 in the same.
      const Against outside("ISO 965-1, limits 6g", row.diameter <= 6    ? Seen::page
                                                    : row.diameter <= 10 ? Seen::copy
                                                                         : Seen::memory);
      CHECK(t.external_major_min == Published<Length>(row.limits.external_major_min));
      CHECK(t.external_pitch_min == Published<Length>(row.limits.external_pitch_min));
      const Against inside("ISO 965-1, limits 6H", row.diameter >= 10 ? Seen::copy : Seen::memory);
      CHECK(t.internal_minor_max == Published<Length>(row.limits.internal_minor_max));
      CHECK(t.internal_pitch_max == Published<Length>(row.limits.internal_pitch_max));
    }
  }

  TEST_CASE("thread: stress areas of metric threads after ISO 898-1") {
    const Against against("ISO 898-1, column A_s,nom", Seen::page);
    for (const MetricRow& row : metric_rows) {
      CAPTURE(std::string(row.name));
      CHECK(tensile_stress_area(thread_of(row)) == Published<Area>(row.tensile));
    }
  }

  // mm^2 per mm = mm.
  TEST_CASE("thread: strip areas of metric threads") {
    const Against against("formulas of FED-STD-H28/2 at the ISO 965-1 limits, worked out apart",
                          Seen::computed);
    for (const MetricRow& row : metric_rows) {
      CAPTURE(std::string(row.name));
      const Thread t = thread_of(row);
      if (t.name != "M10") {  // next case
        CHECK(external_strip_area_per_length(t) == Published<Length>(row.external_strip));
      }
      CHECK(internal_strip_area_per_length(t) == Published<Length>(row.internal_strip));
    }
  }

  // The reference of M10 (15.58 mm) starts from the rounded minor diameter 8.676 mm; the unrounded
  // 8.6762 mm gives 15.575 mm.
  TEST_CASE("thread: external strip area of M10 follows the rounding of the minor diameter") {
    const Against against("formulas of FED-STD-H28/2 at the ISO 965-1 limits, worked out apart",
                          Seen::computed);
    Thread t = metric("M10");
    CHECK(external_strip_area_per_length(t) == Published<Length>("15.575 mm"));
    t.internal_minor_max = 8.676_mm;
    CHECK(external_strip_area_per_length(t) == Published<Length>("15.58 mm"));
  }

  TEST_CASE("thread: metric root areas are the ISO area A3") {
    const Against against(
        "ISO 724 and ISO 898-1, A3 with d3 = d - 1.22687 P (from memory), worked out apart",
        Seen::computed);
    struct Row {
      const char* name;
      const char* a3;
    };
    const Row rows[] = {
        {"M4", "7.75 mm^2"}, {"M5", "12.7 mm^2"},  {"M6", "17.9 mm^2"},
        {"M8", "32.8 mm^2"}, {"M10", "52.3 mm^2"}, {"M12", "76.2 mm^2"},
    };
    for (const Row& row : rows) {
      CAPTURE(std::string(row.name));
      CHECK(root_area(metric(row.name)) == Published<Area>(row.a3));
    }
  }

  // The table prints three figures.
  TEST_CASE("thread: root area reproduces the bolt loads of the Aluminum Design Manual") {
    const Area root = root_area(unified("1/4-20"));
    {
      const Against against(bolt_table, "root area x 68 and 41 ksi");
      CHECK(root * 68.0_ksi == Published<Force>("1940 lbf", 3));
      CHECK(root * 41.0_ksi == Published<Force>("1170 lbf", 3));
    }
    const Against against(screws_30, "screw of 68 and 41 ksi in tension and shear, over 1.25 x 3");
    CHECK(root * 68.0_ksi / 3.75 == Published<Force>("0.52 kip"));
    CHECK(root * 41.0_ksi / 3.75 == Published<Force>("0.31 kip"));
  }

  // The stresses of both were seen, the loads, printed to three figures, were not.
  TEST_CASE("thread: bolt loads from the stress area") {
    const Area area = tensile_stress_area(unified("1/4-20"));
    const Against against("SAE J429 grade 5 and ASTM F593 CW1, load of 1/4-20", Seen::memory);
    CHECK(area * 85.0_ksi == Published<Force>("2700 lbf", 3));
    CHECK(area * 100.0_ksi == Published<Force>("3180 lbf", 3));
  }

  // ISO 898-1 multiplies its rounded areas, then rounds in its own way: the printed loads differ
  // from stress x area by up to 0.6 %, in both directions. The ratio is checked.
  TEST_CASE("thread: ISO 898-1 loads differ from stress times area by their rounding only") {
    struct Row {
      const char* name;
      Stress stress;
      const char* load;
      const char* ratio;
    };
    const Row rows[] = {
        {"M6", 580.0_MPa, "11600 N", "1.006"},     // class 8.8, proof
        {"M10", 580.0_MPa, "33700 N", "0.998"},    // class 8.8, proof
        {"M8", 800.0_MPa, "29200 N", "1.003"},     // class 8.8, ultimate
        {"M12", 1040.0_MPa, "87700 N", "0.9993"},  // class 10.9, ultimate
    };
    for (const Row& row : rows) {
      CAPTURE(std::string(row.name));
      const Against against("ISO 898-1, proof and ultimate loads", Seen::page,
                            "stress x unrounded stress area");
      const Force load = tensile_stress_area(metric(row.name)) * row.stress;
      CHECK(rounds_to(compared(load / 1.0_N, parse<Force>(row.load) / 1.0_N, "N"), row.ratio));
    }
  }

  // The areas are printed too: only area x stress is compared.
  TEST_CASE("thread: strip loads of NASA TM-106943") {
    {
      const Against against("NASA TM-106943, table IV", Seen::page, "printed area x 50 ksi");
      CHECK(thread_strip(0.1726_in, 1.0_in, 50.0_ksi) == Published<Force>("8630 lbf"));
    }
    const Against against("NASA TM-106943, table V", Seen::page, "printed areas x 27 ksi");
    CHECK(thread_strip(0.0945_in, 1.0_in, 27.0_ksi) == Published<Force>("2552 lbf"));
    CHECK(thread_strip(0.0669_in, 1.0_in, 27.0_ksi) == Published<Force>("1806 lbf"));
    CHECK(thread_strip(0.1726_in, 1.0_in, 27.0_ksi) == Published<Force>("4660 lbf"));
  }

  // Tapped hole of a coil: major diameter D + 1.2990 P (ASME B18.29.1, from memory), 26 and 28 %
  // above the screw's own.
  TEST_CASE("thread: the hole of a coil insert has more to shear than the screw's own") {
    for (const auto& [name, ratio] : {std::pair{"1/4-20", "1.26"}, std::pair{"#10-24", "1.28"}}) {
      const Thread t = unified(name);
      CHECK(rounds_to(insert_strip_area_per_length(t) / internal_strip_area_per_length(t), ratio));
    }
  }

  // The length, in diameters, at which a screw of the
  // tensile strength on top breaks before metal of the shear strength at the left lets go (MPa).
  // What the chart calls too short must be too short here as well; where its length is enough, the
  // rule lies at 0.9 of the screw or above.
  TEST_CASE("thread: coil inserts pull out where a maker's chart asks for a longer one") {
    constexpr double screws[] = {390, 490, 590, 790, 980, 1180, 1370};
    struct Row {
      double shear;
      double lengths[7];  // 0: none long enough
    };
    constexpr Row rows[] = {
        {70, {2, 2.5, 3, 0, 0, 0, 0}},      {100, {1.5, 1.5, 2, 2.5, 3, 0, 0}},
        {150, {1, 1.5, 1.5, 2, 2.5, 3, 3}}, {200, {1, 1, 1, 1.5, 2, 2, 2.5}},
        {250, {1, 1, 1, 1.5, 1.5, 2, 2}},   {300, {1, 1, 1, 1, 1.5, 1.5, 2}},
        {350, {1, 1, 1, 1, 1, 1.5, 1.5}},
    };
    int too_short = 0;
    for (const char* name : {"M5", "M6", "M8", "M10", "#10-24", "#10-32", "1/4-20", "3/8-24"}) {
      CAPTURE(std::string(name));
      const Thread t = name[0] == 'M' ? metric(name) : unified(name);
      for (const Row& row : rows) {
        Metal metal;
        metal.shear_ultimate = row.shear * 1.0_MPa;
        const auto holds = [&](double diameters) {
          return coil_insert_pull_out(t, diameters * t.diameter, 2.0_in, metal, 500.0_MPa);
        };
        for (std::size_t i = 0; i < 7; ++i) {
          CAPTURE(row.shear);
          CAPTURE(screws[i]);
          const Force screw = screws[i] * 1.0_MPa * tensile_stress_area(t);
          const double shorter = row.lengths[i] > 0 ? row.lengths[i] - 0.5 : 3;
          if (shorter >= 1) {
            CHECK(holds(shorter) < screw);
            ++too_short;
          }
          if (row.lengths[i] == 0) continue;
          CHECK(holds(row.lengths[i]) >= 0.9 * screw);
          if (row.lengths[i] == 1) continue;  // there is none shorter
          // The length that thole asks for.
          double from = 0.5;
          double to = 6;
          for (int k = 0; k < 50; ++k) {
            const double middle = 0.5 * (from + to);
            (holds(middle) < screw ? from : to) = middle;
          }
          const Against against(insert_chart, "length asked for, which comes in steps of 0.5 D");
          compared(to, row.lengths[i], "D");
        }
      }
    }
    CHECK(too_short == 8 * 33);
  }

  // As quoted in a public archive of engineers.
  TEST_CASE("thread: rivets of the Pencoyd manual") {
    Thread rivet;
    rivet.diameter = 0.75_in;
    {
      const Against against(pencoyd_shear);
      CHECK(root_area(rivet) == Published<Area>("0.4418 in^2"));
      CHECK(root_area(rivet) * 11.0_ksi == Published<Force>("4860 lbf", 3));
    }
    const Against against("Pencoyd manual (1898), bearing on the diameter", Seen::copy,
                          "diameter x thickness x 22 ksi");
    Metal plate;
    plate.ultimate = 11.0_ksi;  // 2 D t Ftu
    CHECK(bearing(0.75_in, 0.5_in, 9.0_in, plate) == Published<Force>("8250 lbf"));
    CHECK(bearing(0.75_in, 0.75_in, 9.0_in, plate) == Published<Force>("12380 lbf", 4));
  }

  // Shortcut formulas in circulation are unsafe against the minimum material areas: 3/4 pi D and
  // 7/8 pi D (NASA TM-106943 Eq. 76 and table III, which disagree with each other: 6648 against
  // 7756 lbf), 5/8 pi K (Eq. 63). Independent computation for 1/4-20.
  TEST_CASE("thread: shortcut strip areas overstate the minimum material areas") {
    const Thread t = unified("1/4-20");
    const Length inside = internal_strip_area_per_length(t);
    const double pi = std::numbers::pi;
    CHECK(rounds_to(0.75 * pi * t.diameter / inside, "1.09"));
    CHECK(rounds_to(0.875 * pi * t.diameter / inside, "1.28"));
    const Length outside = external_strip_area_per_length(t);
    CHECK(rounds_to(0.625 * pi * t.internal_minor_max / outside, "1.10"));
  }
}
