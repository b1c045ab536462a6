#include <thole/metal_strength.hpp>

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <iomanip>
#include <sstream>
#include <string>

#include <thole/error.hpp>

#include "support/published.hpp"

using namespace thole;
using namespace thole::literals;
using thole::test::Against;
using thole::test::compared;
using thole::test::proves;
using thole::test::Published;
using thole::test::PublishedNumber;
using thole::test::rounds_to;
using thole::test::Source;

namespace {

const Source& pull_out_tests_6061 = proves(
    {"thread-pull-out", "self-tapping-pull-out"},
    "a fastener maker's table of laboratory pull-out of self-drilling screws in 6061-T6 (2021)",
    Seen::page);
const Source& pull_out_tests_6063 =
    proves({"thread-pull-out", "self-tapping-pull-out"},
           "a table of AISI S905 laboratory tests of self-drilling screws in 6063-T5", Seen::page);
const Source& full_thread_tests =
    proves({"thread-strip-hole"},
           "the same AISI S905 tests: 1/4-20 screws in 1/4 and 3/8 in of 6063-T5", Seen::page);
const Source& pull_out_30 =
    proves({"thread-pull-out"}, "Aluminum Design Manual 2020, example 30, J.5.4.1", Seen::page);
const Source& pull_over_30 =
    proves({"pull-over"}, "Aluminum Design Manual 2020, example 30, J.5.4.2", Seen::page);
const Source& bearing_30 =
    proves({"bearing"}, "Aluminum Design Manual 2020, example 30, J.5.5.1", Seen::page);
const Source& tilting_30 =
    proves({"screw-tilting"}, "Aluminum Design Manual 2020, example 30, J.5.5.2", Seen::page);
const Source& pull_over_table =
    proves({"pull-over"},
           "a fastener maker's pull-over table to the Aluminum Design Manual 2015, in steps of "
           "5 lbf",
           Seen::page);
const Source& point_load = proves({"wall-yield"},
                                  "Timoshenko and Woinowsky-Krieger, plastic limits of a plate "
                                  "under a point load, 4 pi Mp and 2 pi Mp",
                                  Seen::memory);
const Source& plate_thickness = proves(
    {"base-bending"}, "AISC Design Guide 1, 2nd ed., example B.5.1, LRFD and ASD", Seen::page);
const Source& table_of_bearing = proves({"bearing"},
                                        "Aluminum Design Manual 2005, Part VII, table 2-2, bearing "
                                        "of 1100-H14 on bolts",
                                        Seen::copy);
const Source& table_of_tension = proves({"net-section"},
                                        "Aluminum Design Manual 2005, Part VII, table 2-2, tension "
                                        "of 1100-H14",
                                        Seen::copy);
const Source& tension_text = proves(
    {"net-section"}, "a textbook of aluminium structures, 5.1.1, 6061-T6 in tension", Seen::copy);
const Source& channel_block = proves(
    {"block-shear"},
    "The Civil Engineering Handbook, design of steel structures, channel C8x11.5 in tension, "
    "Equation 4.12b",
    Seen::copy);

Metal metal_of_ksi(const char* name, double ultimate, double yield, double shear) {
  Metal m;
  m.name = name;
  m.ultimate = ultimate * 1.0_ksi;
  m.yield = yield * 1.0_ksi;
  m.shear_ultimate = shear * 1.0_ksi;
  m.modulus = 10100.0_ksi;
  return m;
}

// Specification minima: ASTM B209 (sheet), B221 (extrusion), Aluminum Design Manual.
const Metal h14_3003 = metal_of_ksi("3003-H14", 20, 17, 12);
const Metal h32_5052 = metal_of_ksi("5052-H32", 31, 23, 19);
const Metal h116_5086 = metal_of_ksi("5086-H116", 40, 28, 24);
const Metal t6_6061 = metal_of_ksi("6061-T6 sheet", 42, 35, 27);
const Metal t5_6063 = metal_of_ksi("6063-T5", 22, 16, 13);
const Metal t6_6063 = metal_of_ksi("6063-T6", 30, 25, 19);

// Shear of a stainless screw, far above what the tests here ask for.
const Stress screw_shear = 60.0_ksi;

// Limits of ASME B1.1 2A/2B as printed.
Thread printed(const char* name, Length diameter, double per_inch, Length major, Length pitch,
               Length minor, Length internal_pitch) {
  Thread t;
  t.name = name;
  t.diameter = diameter;
  t.pitch = 1.0_in / per_inch;
  t.external_major_min = major;
  t.external_pitch_min = pitch;
  t.internal_minor_max = minor;
  t.internal_pitch_max = internal_pitch;
  return t;
}

const Thread no8_32 = printed("#8-32", 0.164_in, 32, 0.1571_in, 0.1399_in, 0.139_in, 0.1475_in);
const Thread no10_24 = printed("#10-24", 0.190_in, 24, 0.1818_in, 0.1586_in, 0.156_in, 0.1672_in);
const Thread no10_32 = printed("#10-32", 0.190_in, 32, 0.1831_in, 0.1658_in, 0.164_in, 0.1736_in);
const Thread quarter_20 =
    printed("1/4-20", 0.250_in, 20, 0.2408_in, 0.2127_in, 0.207_in, 0.2224_in);

}  // namespace

TEST_SUITE("published") {
  // Ftu 42 and Fty 35 ksi of 6061-T6, Ftu 22 and Fty 16 ksi of 6063-T5.
  // Columns: test over the manual's form, test over the rule before its 0.9 (an independent
  // computation). 1/4-20 screws have a machine thread, all others a spaced one.
  TEST_CASE("metal: pull-out lies below all 21 published tests") {
    struct Row {
      const char* screw;
      const Metal& metal;
      Length diameter;
      double per_inch;
      Length thickness;
      bool tapped;
      const char* test;
      const char* over_manual;
      const char* over_rule;
      const char* why_below = "";  // above 1/8 in a test below the rule must be explained
    };
    const Row rows[] = {
        {"#12-14", t6_6061, 0.216_in, 14, 0.0625_in, false, "305 lbf", "0.64", "1.20"},
        {"1/4-14", t6_6061, 0.250_in, 14, 0.0625_in, false, "340 lbf", "0.62", "1.15"},
        {"#10-16", t6_6061, 0.190_in, 16, 0.0625_in, false, "300 lbf", "0.71", "0.93"},
        {"#12-14", t6_6061, 0.216_in, 14, 0.09375_in, false, "750 lbf", "0.88", "1.16"},
        {"1/4-14", t6_6061, 0.250_in, 14, 0.09375_in, false, "835 lbf", "0.85", "1.12"},
        {"#10-16", t6_6061, 0.190_in, 16, 0.09375_in, false, "745 lbf", "1.00", "1.21"},
        {"#12-14", t6_6061, 0.216_in, 14, 0.125_in, false, "1340 lbf", "1.18", "1.29"},
        {"1/4-14", t6_6061, 0.250_in, 14, 0.125_in, false, "1450 lbf", "1.10", "1.21"},
        {"1/4-20", t6_6061, 0.250_in, 20, 0.09375_in, true, "1055 lbf", "1.07", "1.12"},
        {"#10-16", t6_6061, 0.190_in, 16, 0.125_in, false, "1280 lbf", "1.28", "1.28"},
        {"1/4-20", t6_6061, 0.250_in, 20, 0.125_in, true, "1615 lbf", "1.23", "1.23"},
        {"#12-14", t6_6061, 0.216_in, 14, 0.1875_in, false, "2065 lbf", "0.93", "0.93"},
        {"1/4-14", t6_6061, 0.250_in, 14, 0.1875_in, false, "2805 lbf", "1.10", "1.10"},
        {"1/4-20", t6_6061, 0.250_in, 20, 0.1875_in, true, "2880 lbf", "1.25", "1.25"},
        {"#12-14", t5_6063, 0.216_in, 14, 0.125_in, false, "630 lbf", "1.22", "1.30"},
        {"1/4-14", t5_6063, 0.250_in, 14, 0.125_in, false, "720 lbf", "1.20", "1.28"},
        {"1/4-20", t5_6063, 0.250_in, 20, 0.125_in, true, "690 lbf", "1.15", "1.15"},
        {"#12-14", t5_6063, 0.216_in, 14, 0.25_in, false, "2745 lbf", "1.52", "1.52"},
        {"1/4-14", t5_6063, 0.250_in, 14, 0.25_in, false, "2905 lbf", "1.39", "1.39"},
        {"1/4-20", t5_6063, 0.250_in, 20, 0.25_in, true, "2100 lbf", "1.22", "1.22"},
        {"1/4-20", t5_6063, 0.250_in, 20, 0.375_in, true, "4365 lbf", "1.69", "1.69"},
    };
    std::string table = "screw | metal | wall, in | threads | test, lbf | 0.9 x rule | ratio\n";
    for (const Row& row : rows) {
      CAPTURE(std::string(row.screw));
      CAPTURE(row.metal.name);
      CAPTURE(row.thickness);
      const Force test = parse<Force>(row.test);
      Thread spaced;
      spaced.diameter = row.diameter;
      spaced.pitch = 1.0_in / row.per_inch;
      spaced.root = 0.7 * row.diameter;  // it plays no part
      const PullOut rule =
          row.tapped ? thin_wall_pull_out(quarter_20, row.thickness, row.metal, screw_shear)
                     : spaced_pull_out(spaced, row.thickness, row.metal);
      CHECK(rounds_to(test / rule.manual, row.over_manual));
      CHECK(rounds_to(test / (rule.strength / 0.9), row.over_rule));
      const Against against(
          &row.metal == &t6_6061 ? pull_out_tests_6061 : pull_out_tests_6063,
          "strength in thole against the mean of tests, which must not lie below it");
      const double ratio = 1 / compared(rule.strength / 1.0_lbf, test / 1.0_lbf, "lbf");
      if (row.thickness <= 0.125_in) {
        CHECK(ratio >= 1);
      } else {
        CHECK((ratio >= 1 || *row.why_below != '\0'));
      }
      std::ostringstream line;
      line << row.screw << " | " << row.metal.name << " | " << row.thickness / 1.0_in << " | "
           << std::setprecision(3) << rule.threads << " | " << std::setprecision(4)
           << test / 1.0_lbf << " | " << rule.strength / 1.0_lbf << " | " << std::setprecision(3)
           << ratio << " " << row.why_below << "\n";
      table += line.str();
    }
    MESSAGE("published pull-out tests over the rule\n" << table);
  }

  // The same tests, 1/4-20, over the full-thread area 0.539 in^2/in with 27 and 13 ksi.
  TEST_CASE("metal: full-thread strip is not reached by published tests below a quarter inch") {
    struct Row {
      Length thickness;
      Stress shear;
      const char* test;
      const char* over_area;
    };
    const Row rows[] = {
        {0.09375_in, 27.0_ksi, "1055 lbf", "0.77"}, {0.125_in, 27.0_ksi, "1615 lbf", "0.89"},
        {0.1875_in, 27.0_ksi, "2880 lbf", "1.06"},  {0.125_in, 13.0_ksi, "690 lbf", "0.79"},
        {0.25_in, 13.0_ksi, "2100 lbf", "1.20"},    {0.375_in, 13.0_ksi, "4365 lbf", "1.66"},
    };
    for (const Row& row : rows) {
      CAPTURE(row.thickness);
      const Force strip =
          thread_strip(internal_strip_area_per_length(quarter_20), row.thickness, row.shear);
      CHECK(rounds_to(parse<Force>(row.test) / strip, row.over_area));
      if (row.thickness < 0.25_in) continue;  // where the mode does not go by the area alone
      const Against against(full_thread_tests, "whole thread x shear strength against tests");
      CHECK(compared(strip / 1.0_lbf, parse<Force>(row.test) / 1.0_lbf, "lbf") < 1);
    }
  }

  TEST_CASE("metal: spaced-thread form of the Aluminum Design Manual") {
    const Against against("Aluminum Design Manual, pull-out of spaced threads, worked out apart",
                          Seen::computed);
    const auto spaced = [](Length d, double n, Length t) {
      return manual_pull_out_spaced(d, 1.0_in / n, t, t6_6061);
    };
    CHECK(spaced(0.190_in, 16, 0.0625_in) == Published<Force>("419.781 lbf"));
    CHECK(spaced(0.190_in, 16, 0.125_in) == Published<Force>("997.5 lbf"));
    CHECK(spaced(0.250_in, 14, 0.1875_in) == Published<Force>("2559.38 lbf"));
    CHECK(spaced(0.216_in, 14, 0.0625_in) == Published<Force>("477.225 lbf"));
    CHECK(spaced(0.216_in, 14, 0.1875_in) == Published<Force>("2211.3 lbf"));
    CHECK(thin_wall_pull_out(quarter_20, 0.09375_in, t6_6061, screw_shear).manual ==
          Published<Force>("984.375 lbf"));
    CHECK(thin_wall_pull_out(quarter_20, 0.125_in, t6_6061, screw_shear).manual ==
          Published<Force>("1312.5 lbf"));
    CHECK(manual_pull_out_tapped(0.25_in, 0.5390_in, 0.1875_in, t6_6061) ==
          Published<Force>("2297.51 lbf"));
  }

  // Form for tapped threads | full-thread area with
  // the table shear (12, 19, 24, 27 ksi), for #8-32, #10-24, #10-32, 1/4-20, from strip areas of
  // four digits.
  TEST_CASE("metal: tapped pull-out of four alloys and six walls") {
    const Against against("Aluminum Design Manual J.5.4.1 and FED-STD-H28 areas, worked out apart",
                          Seen::computed);
    struct Cell {
      const char* manual;
      const char* area;
    };
    struct Row {
      const Metal& metal;
      const char* thickness;
      Cell cells[4];
    };
    const Row rows[] = {
        {h14_3003,
         "0.063 in",
         {{"177 lbf", "253 lbf"},
          {"206 lbf", "303 lbf"},
          {"206 lbf", "294 lbf"},
          {"270 lbf", "407 lbf"}}},
        {h14_3003,
         "0.080 in",
         {{"268 lbf", "321 lbf"},
          {"310 lbf", "385 lbf"},
          {"310 lbf", "373 lbf"},
          {"408 lbf", "517 lbf"}}},
        {h14_3003,
         "0.100 in",
         {{"335 lbf", "401 lbf"},
          {"388 lbf", "481 lbf"},
          {"388 lbf", "466 lbf"},
          {"510 lbf", "647 lbf"}}},
        {h14_3003,
         "0.125 in",
         {{"418 lbf", "501 lbf"},
          {"484 lbf", "602 lbf"},
          {"484 lbf", "583 lbf"},
          {"638 lbf", "808 lbf"}}},
        {h14_3003,
         "0.190 in",
         {{"705 lbf", "762 lbf"},
          {"837 lbf", "915 lbf"},
          {"819 lbf", "886 lbf"},
          {"1119 lbf", "1229 lbf"}}},
        {h14_3003,
         "0.250 in",
         {{"969 lbf", "1003 lbf"},
          {"1163 lbf", "1203 lbf"},
          {"1127 lbf", "1166 lbf"},
          {"1563 lbf", "1617 lbf"}}},
        {h32_5052,
         "0.063 in",
         {{"240 lbf", "400 lbf"},
          {"278 lbf", "480 lbf"},
          {"278 lbf", "465 lbf"},
          {"366 lbf", "645 lbf"}}},
        {h32_5052,
         "0.080 in",
         {{"362 lbf", "508 lbf"},
          {"420 lbf", "610 lbf"},
          {"420 lbf", "591 lbf"},
          {"552 lbf", "819 lbf"}}},
        {h32_5052,
         "0.100 in",
         {{"453 lbf", "635 lbf"},
          {"524 lbf", "762 lbf"},
          {"524 lbf", "738 lbf"},
          {"690 lbf", "1024 lbf"}}},
        {h32_5052,
         "0.125 in",
         {{"566 lbf", "794 lbf"},
          {"656 lbf", "953 lbf"},
          {"656 lbf", "923 lbf"},
          {"862 lbf", "1280 lbf"}}},
        {h32_5052,
         "0.190 in",
         {{"1053 lbf", "1207 lbf"},
          {"1252 lbf", "1448 lbf"},
          {"1223 lbf", "1403 lbf"},
          {"1674 lbf", "1946 lbf"}}},
        {h32_5052,
         "0.250 in",
         {{"1503 lbf", "1588 lbf"},
          {"1803 lbf", "1905 lbf"},
          {"1747 lbf", "1846 lbf"},
          {"2423 lbf", "2560 lbf"}}},
        {h116_5086,
         "0.063 in",
         {{"292 lbf", "505 lbf"},
          {"339 lbf", "606 lbf"},
          {"339 lbf", "588 lbf"},
          {"445 lbf", "815 lbf"}}},
        {h116_5086,
         "0.080 in",
         {{"441 lbf", "642 lbf"},
          {"511 lbf", "770 lbf"},
          {"511 lbf", "746 lbf"},
          {"672 lbf", "1035 lbf"}}},
        {h116_5086,
         "0.100 in",
         {{"551 lbf", "802 lbf"},
          {"638 lbf", "963 lbf"},
          {"638 lbf", "933 lbf"},
          {"840 lbf", "1294 lbf"}}},
        {h116_5086,
         "0.125 in",
         {{"689 lbf", "1003 lbf"},
          {"798 lbf", "1203 lbf"},
          {"798 lbf", "1166 lbf"},
          {"1050 lbf", "1617 lbf"}}},
        {h116_5086,
         "0.190 in",
         {{"1339 lbf", "1524 lbf"},
          {"1593 lbf", "1829 lbf"},
          {"1555 lbf", "1772 lbf"},
          {"2130 lbf", "2458 lbf"}}},
        {h116_5086,
         "0.250 in",
         {{"1939 lbf", "2006 lbf"},
          {"2326 lbf", "2407 lbf"},
          {"2254 lbf", "2332 lbf"},
          {"3126 lbf", "3234 lbf"}}},
        {t6_6061,
         "0.063 in",
         {{"365 lbf", "569 lbf"},
          {"423 lbf", "682 lbf"},
          {"423 lbf", "661 lbf"},
          {"557 lbf", "917 lbf"}}},
        {t6_6061,
         "0.080 in",
         {{"551 lbf", "722 lbf"},
          {"638 lbf", "866 lbf"},
          {"638 lbf", "839 lbf"},
          {"840 lbf", "1164 lbf"}}},
        {t6_6061,
         "0.100 in",
         {{"689 lbf", "903 lbf"},
          {"798 lbf", "1083 lbf"},
          {"798 lbf", "1049 lbf"},
          {"1050 lbf", "1455 lbf"}}},
        {t6_6061,
         "0.125 in",
         {{"861 lbf", "1128 lbf"},
          {"997 lbf", "1354 lbf"},
          {"997 lbf", "1312 lbf"},
          {"1312 lbf", "1819 lbf"}}},
        {t6_6061,
         "0.190 in",
         {{"1472 lbf", "1715 lbf"},
          {"1749 lbf", "2058 lbf"},
          {"1709 lbf", "1994 lbf"},
          {"2337 lbf", "2765 lbf"}}},
        {t6_6061,
         "0.250 in",
         {{"2036 lbf", "2257 lbf"},
          {"2443 lbf", "2707 lbf"},
          {"2367 lbf", "2623 lbf"},
          {"3283 lbf", "3638 lbf"}}},
    };
    const Thread* const threads[] = {&no8_32, &no10_24, &no10_32, &quarter_20};
    const Length areas[] = {0.3343_in, 0.4011_in, 0.3886_in, 0.5390_in};
    for (const Row& row : rows) {
      for (std::size_t i = 0; i < 4; ++i) {
        const Thread& thread = *threads[i];
        CAPTURE(row.metal.name);
        CAPTURE(std::string(row.thickness));
        CAPTURE(thread.name);
        const Length t = parse<Length>(row.thickness);
        const Length area = areas[i];
        CHECK(std::abs(internal_strip_area_per_length(thread) / area - 1) < 2e-4);
        CHECK(manual_pull_out_tapped(thread.diameter, area, t, row.metal) ==
              Published<Force>(row.cells[i].manual));
        CHECK(thread_strip(area, t, row.metal.shear_ultimate) ==
              Published<Force>(row.cells[i].area));
      }
    }
  }

  // At 0.063, 0.080, 0.100, 0.125 in.
  TEST_CASE("metal: thin wall pull-out rule before its reduction") {
    const Against against("the rule of thin walls, worked out apart", Seen::computed);
    struct Row {
      const Metal& metal;
      const Thread& thread;
      const char* force[4];
    };
    const Row rows[] = {
        {h32_5052, no8_32, {"240 lbf", "362 lbf", "453 lbf", "566 lbf"}},
        {h32_5052, no10_24, {"260 lbf", "410 lbf", "524 lbf", "656 lbf"}},
        {h32_5052, quarter_20, {"330 lbf", "492 lbf", "690 lbf", "862 lbf"}},
        {h116_5086, no8_32, {"292 lbf", "441 lbf", "551 lbf", "689 lbf"}},
        {h116_5086, no10_24, {"325 lbf", "501 lbf", "638 lbf", "798 lbf"}},
        {h116_5086, quarter_20, {"419 lbf", "611 lbf", "840 lbf", "1050 lbf"}},
        {t6_6061, no8_32, {"365 lbf", "551 lbf", "689 lbf", "861 lbf"}},
        {t6_6061, no10_24, {"376 lbf", "621 lbf", "798 lbf", "997 lbf"}},
        {t6_6061, quarter_20, {"463 lbf", "722 lbf", "1050 lbf", "1312 lbf"}},
    };
    const Length walls[] = {0.063_in, 0.080_in, 0.100_in, 0.125_in};
    for (const Row& row : rows) {
      for (std::size_t i = 0; i < 4; ++i) {
        CAPTURE(row.metal.name);
        CAPTURE(row.thread.name);
        CAPTURE(walls[i]);
        const PullOut out = thin_wall_pull_out(row.thread, walls[i], row.metal, screw_shear);
        CHECK(out.strength / 0.9 == Published<Force>(row.force[i]));
      }
    }
  }

  // Factor 3.0; sheet of 3003-H16 (24/21 ksi) and 5052-H32. The longer figures: worked out apart.
  TEST_CASE("metal: example 30 of the Aluminum Design Manual 2020") {
    const Metal h16_3003 = metal_of_ksi("3003-H16", 24, 21, 14);
    {
      const Against against(pull_out_30, "pull-out of 1/4-20 from 0.06 in of 5052-H32, over 3.0");
      const PullOut rule = thin_wall_pull_out(quarter_20, 0.06_in, h32_5052, screw_shear);
      CHECK(rule.manual / 3.0 == Published<Force>("0.12 kip"));
      CHECK(rule.strength < rule.manual);  // the rule of thin walls and its 0.9 take off more
    }
    const PullOver over = pull_over(0.06_in, 0.625_in, 0.28125_in, h16_3003);
    {
      const Against against(pull_over_30, "5/8 in washer on 0.06 in of 3003-H16, over 3.0");
      CHECK(over.strength / 3.0 == Published<Force>("0.16 kip"));
      CHECK(rounds_to(over.older_form / 3.0 / 1000.0_lbf, "0.165"));
      CHECK(rounds_to(over.newer_form / 3.0 / 1000.0_lbf, "0.305"));
    }
    {
      const Against against(bearing_30, "1/4 in screw in 0.06 in of 3003-H16 and 5052-H32, over 3");
      CHECK(bearing(0.25_in, 0.06_in, 0.5_in, h16_3003) / 3.0 == Published<Force>("0.24 kip"));
      CHECK(bearing(0.25_in, 0.06_in, 0.5_in, h32_5052) / 3.0 == Published<Force>("0.31 kip"));
    }
    const Against against(tilting_30, "1/4 in screw in 0.06 in of 5052-H32, over 3.0");
    CHECK(tilting(0.25_in, 0.06_in, h32_5052) / 3.0 == Published<Force>("0.32 kip"));
    CHECK(rounds_to(tilting(0.25_in, 0.06_in, h32_5052) / 3.0 / 1000.0_lbf, "0.319"));
  }

  TEST_CASE("metal: pull-over takes the lower of the two editions") {
    const Against against("Aluminum Design Manual, 2005/2010 and 2015 editions, worked out apart",
                          Seen::computed);
    const PullOver washer = pull_over(0.080_in, 0.625_in, 0.28125_in, h32_5052);
    CHECK(washer.older_form == Published<Force>("852 lbf"));
    CHECK(washer.older_form / 3.0 == Published<Force>("284 lbf"));
    CHECK(washer.newer_form == Published<Force>("1400 lbf"));
    CHECK(washer.newer_form / 3.0 == Published<Force>("467 lbf"));
    CHECK(washer.strength == washer.older_form);
    const PullOver head = pull_over(0.080_in, 0.4375_in, 0.28125_in, h32_5052);
    CHECK(head.older_form == Published<Force>("388 lbf"));
    CHECK(head.newer_form == Published<Force>("1055 lbf"));
    CHECK(head.strength == head.older_form);
  }

  // Head diameters are not printed: 0.400, 0.415, 0.500 in fit all 27 values.
  TEST_CASE("metal: newer pull-over form against a published load table") {
    const Against against(pull_over_table);
    const auto table = [](const char* text) { return Published<Force>::in_steps(text, "5 lbf"); };
    const auto newer = [](Length t, Length dw, const Metal& metal) {
      return pull_over(t, dw, 0.2_in, metal).newer_form;
    };
    CHECK(newer(0.03125_in, 0.400_in, t5_6063) == table("225 lbf"));
    CHECK(newer(0.0625_in, 0.400_in, t6_6061) == table("1105 lbf"));
    CHECK(newer(0.125_in, 0.500_in, t6_6063) == table("2225 lbf"));
    CHECK(newer(0.125_in, 0.415_in, t6_6061) == table("2745 lbf"));
  }

  // Figures with r/R = 0.25 and for 5052-H32: worked out apart.
  TEST_CASE("metal: yield of a wall round a fastener") {
    const Against against(point_load);
    const MomentPerWidth thin = plate_moment(0.080_in, h32_5052);
    const MomentPerWidth thick = plate_moment(0.125_in, h32_5052);
    const Length none{};
    CHECK(fan_pull(thin, none, 1.0_in, true) == Published<Force>("462 lbf"));
    CHECK(fan_pull(thin, 0.25_in, 1.0_in, true) == Published<Force>("617 lbf"));
    CHECK(fan_pull(thin, none, 1.0_in, false) == Published<Force>("231 lbf"));
    CHECK(fan_pull(thin, 0.25_in, 1.0_in, false) == Published<Force>("308 lbf"));
    CHECK(fan_pull(thick, none, 1.0_in, true) == Published<Force>("1129 lbf"));
    CHECK(fan_pull(thick, 0.25_in, 1.0_in, true) == Published<Force>("1505 lbf"));
    CHECK(fan_pull(thick, none, 1.0_in, false) == Published<Force>("564.5 lbf"));  // given as 564
    CHECK(fan_pull(thick, 0.25_in, 1.0_in, false) == Published<Force>("753 lbf"));
  }

  // Footprint turning on flat 5052-H32 and 5086-H116 sheet, two hinge lines 3 in wide.
  TEST_CASE("metal: two hinge lines across a wall") {
    const Against against("two hinge lines, 2 Mp B, worked out apart", Seen::computed);
    const auto moment = [](Length t, const Metal& metal) {
      return 2.0 * plate_moment(t, metal) * 3.0_in;
    };
    CHECK(moment(0.080_in, h32_5052) == Published<Moment>("221 lbf in"));
    CHECK(moment(0.100_in, h32_5052) == Published<Moment>("345 lbf in"));
    CHECK(moment(0.125_in, h32_5052) == Published<Moment>("539 lbf in"));
    CHECK(moment(0.080_in, h116_5086) == Published<Moment>("269 lbf in"));
    CHECK(moment(0.100_in, h116_5086) == Published<Moment>("420 lbf in"));
    CHECK(moment(0.125_in, h116_5086) == Published<Moment>("656 lbf in"));
  }

  // m = 11.1 kip in/in with phi 0.9 and 7.68 kip in/in with Omega 1.67, Fy 36 ksi. Thickness from
  // Mp, which grows with its square.
  TEST_CASE("metal: plate thickness of AISC Design Guide 1 example B.5.1") {
    const Against against(plate_thickness);
    const Metal a36 = metal_of_ksi("A36", 58, 36, 34.8);
    const MomentPerWidth unit = plate_moment(1.0_in, a36);
    const auto thickness = [&](const char* moment, double factor) {
      return std::sqrt(parse<Force>(moment) * factor / unit) * 1.0_in;
    };
    CHECK(thickness("11.1 kip", 1 / 0.9) == Published<Length>("1.17 in"));
    CHECK(thickness("7.68 kip", 1.67) == Published<Length>("1.19 in"));
  }

  // Thornton, AISC Engineering Journal 2Q 1985 (equations seen): Q = T (b/a) da / (1 + da), da =
  // delta alpha; the figure for T = 10 kN, b' = 40 mm, a' = 35 mm, delta = 0.8, alpha = 0.6 is an
  // independent computation. The leg is made as thick as that alpha wants: M = T b' / (1 + da).
  TEST_CASE("metal: prying force after Thornton 1985") {
    const Against against(
        "Thornton, AISC Engineering Journal 2Q 1985 (equations), worked out apart", Seen::computed);
    const Force t = 10000.0_N;
    const Moment bending = t * 40.0_mm / 1.48;
    PryingLeg leg{Length{}, 41.0_mm, 34.0_mm, 2.0_mm, 10.0_mm, 50.0_mm};
    leg.thickness = std::sqrt(bending / (plate_moment(1.0_m, t6_6061) * 50.0_mm)) * 1.0_m;
    CHECK(prying_under(leg, t6_6061, t, 1) == Published<Force>("3.7066 kN"));
    // A leg that T alone does not yield is not pried.
    leg.thickness *= 1.22;  // sqrt(1.48) = 1.2166
    CHECK(prying_under(leg, t6_6061, t, 1) == Force{});
  }

  // Angle leg of 6061-T6 with a = b = 0.625, p = 1.5, 1/4 in bolt, hole 0.281 in, B = 1590 lbf and
  // Omega 1.65: AISC Manual part 9 form (from memory), independent computation. At 1/8 and 3/16 in
  // the leg is fully plastic (alpha = 1), at 1/4 in alpha follows from B.
  TEST_CASE("metal: prying of a 6061-T6 angle leg") {
    const Against against("AISC Manual part 9 form of prying (from memory), worked out apart",
                          Seen::computed);
    const auto leg = [](Length t) {
      return PryingLeg{t, 0.625_in, 0.625_in, 0.25_in, 0.281_in, 1.5_in};
    };
    const auto pried = [&](Length t) { return prying_of(leg(t), t6_6061, 1590.0_lbf, 1.65); };
    const Prying thin = pried(0.125_in);
    CHECK(thin.pull == Published<Force>("451 lbf"));
    CHECK(thin.pull + thin.prying == Published<Force>("585 lbf"));
    CHECK(thin.alpha == 1);
    const Prying middle = pried(0.1875_in);
    CHECK(middle.pull == Published<Force>("1014 lbf"));
    CHECK(middle.pull + middle.prying == Published<Force>("1317 lbf"));
    const Prying thick = pried(0.25_in);
    CHECK(thick.pull == Published<Force>("1352 lbf"));
    CHECK(thick.prying == Published<Force>("238 lbf"));
    CHECK(thick.alpha == thick.alpha_wanted);
    const Prying rigid = pried(0.375_in);
    CHECK(rigid.pull == 1590.0_lbf);
    CHECK(rigid.prying == Force{});
    CHECK(rigid.rigid_thickness < 0.375_in);
    // The bound on prying covers the worst of them.
    CHECK(prying_bound(0.625_in, 0.625_in, 0.25_in) >= 1 + thin.prying / thin.pull);
  }

  // Thornton, AISC Engineering Journal 2Q 1985 (equations seen): Mc - T b' + q a' = 0, q a' = delta
  // alpha Mc, with Mc the bending of the leg, at most its strength p t^2 Fty / (4 Omega).
  TEST_CASE("metal: prying keeps the balance of Thornton 1985") {
    for (const Length& a : {0.3_in, 0.6_in, 1.2_in}) {
      for (const double omega : {1.0, 1.65, 2.0}) {
        Force before{};
        for (int mil = 60; mil <= 600; mil += 5) {
          const Length t = double(mil) * 0.001_in;
          CAPTURE(mil);
          const PryingLeg leg{t, 0.7_in, a, 0.25_in, 0.281_in, 1.2_in};
          const Prying p = prying_of(leg, t6_6061, 2000.0_lbf, omega);
          const Length lever_b = 0.7_in - 0.125_in;
          const Length lever_a = std::min(a, 1.25 * 0.7_in) + 0.125_in;
          const double delta = 1 - 0.281 / 1.2;
          const Moment mc = p.pull * lever_b - p.prying * lever_a;
          const Moment most = plate_moment(t, t6_6061) * 1.2_in / omega;
          CHECK((mc / most) <= 1 + 1e-12);
          if (p.alpha > 0) CHECK((mc / most) == doctest::Approx(1).epsilon(1e-12));
          CHECK((p.prying * lever_a - delta * p.alpha * mc) / most ==
                doctest::Approx(0).epsilon(1e-12));
          // Bolt and leg together: neither beyond its strength, one of them at it.
          CHECK((p.pull + p.prying) / 2000.0_lbf <= 1 + 1e-12);
          if (p.alpha < 1) CHECK((p.pull + p.prying) / 2000.0_lbf == doctest::Approx(1));
          CHECK((t >= p.rigid_thickness) == (p.pull == 2000.0_lbf));
          // A thicker leg never carries less, and the same pull calls up the same prying.
          CHECK(p.pull.value() >= before.value() * (1 - 1e-12));
          before = p.pull;
          CHECK((prying_under(leg, t6_6061, p.pull, omega) - p.prying) / 2000.0_lbf ==
                doctest::Approx(0).epsilon(1e-9));
          CHECK(prying_under(leg, t6_6061, 0.5 * p.pull, omega) <= 0.5 * p.prying + 1e-9 * 1.0_lbf);
        }
      }
    }
    const PryingLeg no_room{0.125_in, 0.1_in, 0.6_in, 0.25_in, 0.281_in, 1.2_in};
    CHECK_THROWS_AS(prying_of(no_room, t6_6061, 2000.0_lbf, 1), DomainError);
  }

  // Older editions: tc = sqrt(8 B b' / (p Fy)) (from memory) is omega = 2.
  TEST_CASE("metal: older form of the thickness without prying") {
    const PryingLeg leg{0.25_in, 0.7_in, 0.7_in, 0.25_in, 0.281_in, 1.2_in};
    const Prying p = prying_of(leg, t6_6061, 2000.0_lbf, 2);
    const double by_eight = std::sqrt(8 * 2.0 * 0.575 / (1.2 * 35));
    CHECK((p.rigid_thickness / 1.0_in) == doctest::Approx(by_eight).epsilon(1e-12));
  }

  // Hand statics on 6061-T6, 1/8 in: two 9/32 in holes in a row along the pull, 1 in apart, 0.5 in
  // from the end and 0.5 in from the side. Expressions of the Aluminum Design Manual (from memory).
  TEST_CASE("metal: block shear by hand") {
    const Against against("Aluminum Design Manual, block shear (from memory), by hand",
                          Seen::computed);
    const Length t = 0.125_in;
    const Length hole = 0.28125_in;
    const BlockAreas corner{1.5_in * t, (1.5_in - 1.5 * hole) * t, 0.5_in * t,
                            (0.5_in - 0.5 * hole) * t};
    // Fsu Anv = 27 x 1.0781 x 0.125 = 3.639 > Ftu Ant = 42 x 0.35938 x 0.125 = 1.887 kip:
    // 3.639 + 35 x 0.5 x 0.125 = 5.826 kip, but all of it ruptures at 3.639 + 1.887.
    CHECK(block_shear(corner, t6_6061) == Published<Force>("5.525 kip"));
    // The same with the pull across: 0.5 in of shear, 1.5 in of tension.
    const BlockAreas across{corner.gross_tension, corner.net_tension, corner.gross_shear,
                            corner.net_shear};
    // Ftu Ant = 42 x 1.0781 x 0.125 = 5.660 > Fsu Anv = 1.213 kip: 35 / sqrt 3 x 0.0625 + 5.660
    CHECK(block_shear(across, t6_6061) == Published<Force>("6.873 kip"));
    // 5052-H32 yields early: Fsu Anv + Fty Agt = 19 x 0.13477 + 23 x 0.0625 = 3.998 kip, above
    // rupture 2.5605 + 31 x 0.044922 = 3.953; Fsy Agv + Ftu Ant = 0.8299 + 4.178 = 5.008 kip.
    CHECK(block_shear(corner, h32_5052) == Published<Force>("3.953 kip"));
    CHECK(block_shear(across, h32_5052) == Published<Force>("5.008 kip"));
    CHECK_THROWS_AS(block_shear({corner.net_shear, corner.gross_shear, {}, {}}, t6_6061),
                    DomainError);
  }

  // 16 and 14 ksi of 1100-H14 (from memory), 11 ksi beside a weld; over 1.95 and 1.65. The table
  // prints steps of 0.5 ksi up to 15 ksi and of 1 ksi above.
  TEST_CASE("metal: bearing and net section against a table of allowable stresses") {
    const auto half = [](const char* text) { return Published<Stress>::in_steps(text, "0.5 ksi"); };
    const Metal h14_1100 = metal_of_ksi("1100-H14", 16, 14, 9.6);
    const Metal welded = metal_of_ksi("1100-O", 11, 3.5, 6.6);
    const Area plate = 2.0_in * 0.125_in;
    const auto pin = [](const Metal& m) {
      return bearing(0.25_in, 0.125_in, 1.0_in, m) / (0.25_in * 0.125_in) / 1.95;
    };
    {
      const Against against(table_of_bearing, "allowable stress, beside a weld too");
      CHECK(pin(h14_1100) == Published<Stress>("16 ksi"));
      CHECK(pin(welded) == half("11.5 ksi"));
    }
    {
      const Against against(table_of_tension, "allowable stress on the gross and the net section");
      const NetSection n = net_section(2.0_in, 0.125_in, 0, 0.28125_in, h14_1100);
      CHECK(n.yields / plate / 1.65 == half("8.5 ksi"));
      CHECK(n.ruptures / plate / 1.95 == half("8 ksi"));
    }
    // 35 and 38 ksi; with two holes the net area counts.
    const Against against(tension_text, "stress on the gross and on the net section");
    const Metal t6 = metal_of_ksi("6061-T6 extrusion", 38, 35, 24);
    const NetSection n = net_section(2.0_in, 0.125_in, 2, 0.28125_in, t6);
    CHECK(n.yields / plate / 1.65 == Published<Stress>("21.2 ksi"));
    CHECK(n.ruptures / ((2.0_in - 2.0 * 0.28125_in) * 0.125_in) / 1.95 ==
          Published<Stress>("19.5 ksi"));
  }

  // A36, 58 and 36 ksi, t 0.220 in: Agv 3.96, Anv 2.72, Agt 0.66, Ant 0.41 in2; Fu Ant 23.8 kip is
  // below 0.6 Fu Anv 94.7 kip, hence phi (0.6 Fu Anv + Fy Agt) = 88.8 kip with phi 0.75.
  TEST_CASE("metal: block shear of a channel of a handbook") {
    const Against against(channel_block, "C8x11.5, three bolts in two rows, times phi 0.75");
    const Metal a36 = metal_of_ksi("A36", 58, 36, 0.6 * 58);
    const BlockAreas block{3.96_in2, 2.72_in2, 0.66_in2, 0.41_in2};
    CHECK(0.75 * block_shear(block, a36) == Published<Force>("88.8 kip"));
  }

  TEST_CASE("metal: block shear lies between yield and rupture of both planes") {
    for (const Metal& m : {t6_6061, h32_5052, h116_5086, h14_3003, t5_6063}) {
      for (int i = 1; i <= 40; ++i) {
        for (int j = 1; j <= 40; ++j) {
          const Area v = double(i) * 0.01_in2;
          const Area s = double(j) * 0.01_in2;
          const BlockAreas a{v, 0.7 * v, s, 0.8 * s};
          const Force r = block_shear(a, m);
          const Force shear_ruptures = m.shear_ultimate * a.net_shear;
          const Force tension_ruptures = m.ultimate * a.net_tension;
          CHECK(r <= shear_ruptures + tension_ruptures);
          CHECK(r.value() >= (1 - 1e-12) * (std::min(m.yield / std::sqrt(3.0) * v, shear_ruptures) +
                                            std::min(m.yield * s, tension_ruptures))
                                               .value());
          // Twice the thickness is twice the strength; between the changes of form it is
          // continuous.
          CHECK(block_shear({2.0 * v, 1.4 * v, 2.0 * s, 1.6 * s}, m) / r ==
                doctest::Approx(2).epsilon(1e-12));
          const bool tears = tension_ruptures >= shear_ruptures;
          const Area more = v * (1 + 1e-6);
          const BlockAreas near{more, 0.7 * more, s, 0.8 * s};
          if (tears == (tension_ruptures >= m.shear_ultimate * near.net_shear)) {
            CHECK(block_shear(near, m) / r == doctest::Approx(1).epsilon(1e-5));
            CHECK(block_shear(near, m) >= r);
          }
        }
      }
    }
  }

  // A plate 2 in wide and 1/8 in thick of 6061-T6 with two 9/32 in holes across it, by hand.
  TEST_CASE("metal: net section by hand") {
    const Against against("Aluminum Design Manual, net section (from memory), by hand",
                          Seen::computed);
    const NetSection n = net_section(2.0_in, 0.125_in, 2, 0.28125_in, t6_6061);
    CHECK(n.yields == Published<Force>("8.75 kip"));
    CHECK(n.ruptures == Published<Force>("7.547 kip"));  // 42 x 1.4375 x 0.125
    CHECK(net_section(0.5_in, 0.125_in, 2, 0.28125_in, t6_6061).ruptures == Force{});
    CHECK_THROWS_AS(net_section(2.0_in, 0.125_in, -1, 0.28125_in, t6_6061), DomainError);
  }

  // Independent Fourier solution for nu = 0.33, aluminium (finite elements: 0.5152 and 0.3637 at
  // c/a = 1 and 0.5); half-plane limit 1/pi.
  TEST_CASE("metal: root moment of a long lip under a point load") {
    const Against against("Fourier solution of a cantilever plate, nu 0.33, worked out apart",
                          Seen::computed);
    CHECK(lip_root_moment(1) == PublishedNumber("0.5147"));
    CHECK(lip_root_moment(0.75) == PublishedNumber("0.4311"));
    CHECK(lip_root_moment(0.5) == PublishedNumber("0.3708"));
    CHECK(lip_root_moment(0.25) == PublishedNumber("0.3325"));
    CHECK(lip_root_moment(0) == PublishedNumber("0.31831"));
  }

  // At c/a = 0.05 the same solution gives 0.31892; the straight line between the stored points lies
  // 0.7 % above it, on the safe side.
  TEST_CASE("metal: root moment of a lip near the root lies above the exact curve") {
    const Against against("Fourier solution of a cantilever plate, nu 0.33, worked out apart",
                          Seen::computed);
    const double ratio = compared(lip_root_moment(0.05), 0.31892);
    CHECK(ratio >= 1);
    CHECK(rounds_to(ratio, "1.007"));
  }

  // 0.509 at the free edge for nu = 0.3. The stored curve is for nu = 0.33 and lies up to 1.2 %
  // above, on the safe side.
  TEST_CASE("metal: root moment of a lip lies just above the published one for nu 0.3") {
    {
      const Against against("Jaramillo 1950 / Timoshenko and Woinowsky-Krieger", Seen::memory);
      CHECK(rounds_to(compared(lip_root_moment(1), 0.509), "1.011"));
    }
    const Against against("Fourier solution of a cantilever plate, nu 0.3, worked out apart",
                          Seen::computed);
    CHECK(rounds_to(compared(lip_root_moment(1), 0.5087), "1.012"));
    CHECK(rounds_to(compared(lip_root_moment(0.75), 0.4281), "1.007"));
    CHECK(rounds_to(compared(lip_root_moment(0.5), 0.3695), "1.004"));
    CHECK(rounds_to(compared(lip_root_moment(0.25), 0.3322), "1.001"));
  }

  // Independent finite elements (solid elements, E = 69 GPa, 28.6 mm square stem, 76.2 mm plate,
  // bolts 57.15 mm apart, bed 20 N/mm^3): tension of the most loaded bolt, rigid 524.29 N about one
  // axis and 688.91 N at 30 degrees.
  TEST_CASE("metal: growth of bolt tension by bending of the base against finite elements") {
    struct Row {
      Length thickness;
      const char* straight;
      const char* skew;
    };
    const Row rows[] = {
        {25.4_mm, "518.7 N", "677.6 N"},  {12.7_mm, "520.2 N", "681.4 N"},
        {6.35_mm, "528.1 N", "692.0 N"},  {4.76_mm, "536.4 N", "698.8 N"},
        {3.175_mm, "587.7 N", "740.1 N"},
    };
    for (const Row& row : rows) {
      CAPTURE(row.thickness);
      const BaseFlex flex = flexible_base_factor(row.thickness, 69000.0_MPa, 28.575_mm - 14.3_mm,
                                                 38.1_mm - 28.575_mm, 9.5_mm, 20.0_MPa / 1.0_mm);
      // Two parts in a thousand: the fit was made to these runs.
      const Against against("finite elements of solid elements, computed apart", Seen::computed);
      CHECK(compared(flex.factor * 524.29, parse<Force>(row.straight) / 1.0_N, "N") >= 0.998);
      CHECK(compared(flex.factor * 688.91, parse<Force>(row.skew) / 1.0_N, "N") >= 0.998);
    }
  }
}
