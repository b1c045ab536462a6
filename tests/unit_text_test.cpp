#include <thole/display.hpp>
#include <thole/error.hpp>
#include <thole/unit_text.hpp>

#include <doctest/doctest.h>

#include <cmath>
#include <limits>
#include <numbers>
#include <string>

using namespace thole;
using namespace thole::literals;

namespace {

std::string refusal(std::string_view text) {
  try {
    (void)parse_measure(text);
  } catch (const UnitError& e) {
    return e.what();
  }
  return "read";
}

std::string refusal(std::string_view text, Dimension want) {
  try {
    (void)parse_measure(text, want);
  } catch (const UnitError& e) {
    return e.what();
  }
  return "read";
}

}  // namespace

TEST_SUITE("unit") {
  TEST_CASE("unit text: every unit of the table is read back") {
    REQUIRE(unit_table().size() > 50);
    for (const UnitRow& row : unit_table()) {
      CAPTURE(row.name);
      const std::string name(row.name);
      const Measure one = parse_measure("1 " + name);
      CHECK(one.dimension == row.dimension);
      CHECK(one.si == row.factor);
      CHECK(parse_measure("1" + name) == one);
      CHECK(parse_measure("  1   " + name + " ") == one);
      CHECK(parse_measure("1 " + name, row.dimension) == one);
      CHECK(parse_measure("1.0 " + name).si == doctest::Approx(row.factor).epsilon(1e-15));
      CHECK(parse_measure("-2.5 " + name).si == doctest::Approx(-2.5 * row.factor).epsilon(1e-15));
      CHECK(parse_measure("1/4 " + name).si == doctest::Approx(row.factor / 4).epsilon(1e-15));
      CHECK_FALSE(name_of(row.dimension).empty());
      CHECK(parse_measure(std::string(example_of(row.dimension))
                              .substr(0, example_of(row.dimension).find(" or ")))
                .dimension == row.dimension);
    }
  }

  TEST_CASE("unit text: one rounding, so equal lengths are equal to the last bit") {
    const Length same = parse<Length>("7.25 in");
    for (const char* text : {"7 1/4 in", "7-1/4 in", "29/4 in", "184.15 mm", "18.415 cm",
                             "0.18415 m", "7.25\"", "7 1/4\"", "725e-2 in", "0.725e1 inches"}) {
      CAPTURE(text);
      CHECK(parse<Length>(text) == same);
    }
    for (const char* text : {"3 ft", "3'", "36 in", "36\"", "3 ft 0 in", "3' 0\"", "3 feet"}) {
      CAPTURE(text);
      CHECK(parse<Length>(text) == parse<Length>("914.4 mm"));
    }
    CHECK(parse<Length>("5 ft 10 in") == parse<Length>("70 in"));
    CHECK(parse<Length>("5 ft 10 in") == parse<Length>("1778 mm"));
    CHECK(parse<Length>("5' 10 1/2\"") == parse<Length>("70.5 in"));
    CHECK(parse<Length>("5'10-1/2\"") == parse<Length>("70.5 in"));
    CHECK(parse<Length>("-5 ft 10 in") == parse<Length>("-70 in"));
    CHECK(parse<Length>("1.5 ft 6 in") == parse<Length>("2 ft"));
    CHECK(parse<Length>("0.1 in") == parse<Length>("2.54 mm"));
    CHECK(parse<Length>("1 mi") == parse<Length>("5280 ft"));
    CHECK(parse<Length>("1 mi") == parse<Length>("1.609344 km"));
    CHECK(parse<Length>("1 nmi") == parse<Length>("1852 m"));  // BIPM SI Brochure, exact
  }

  TEST_CASE("unit text: signs, angles, factors of force and stress") {
    CHECK(parse<Force>("-150 lbf").value() == doctest::Approx(-667.233242289075).epsilon(1e-15));
    CHECK(parse<Force>("+3 N") == 3.0_N);
    CHECK(parse<Force>("1 kgf") == parse<Force>("9.80665 N"));
    CHECK(parse<Force>("1 kip") == parse<Force>("1000 lbf"));
    CHECK(parse<Force>("16 ozf") == parse<Force>("1 lbf"));
    CHECK(parse<Angle>("45deg").value() == std::numbers::pi / 4);
    CHECK(parse<Angle>("180 degrees").value() == std::numbers::pi);
    CHECK(parse<Angle>("-90 deg").value() == -std::numbers::pi / 2);
    CHECK(parse<Stress>("1 ksi").value() == doctest::Approx(6894757.293168361).epsilon(1e-15));
    CHECK(parse<Stress>("1 MPa") == parse<Stress>("1 N/mm2"));
    CHECK(parse<Mass>("1 lb").value() == 0.45359237);
    CHECK(parse<Moment>("1 lbf ft").value() ==
          doctest::Approx(12 * parse<Moment>("1 in-lbf").value()).epsilon(1e-15));
    CHECK(parse<Speed>("1 mph").value() == 0.44704);
    CHECK(parse<Speed>("36 km/h").value() == 10);
  }

  TEST_CASE("unit text: bare numbers") {
    CHECK(parse_number("0.33") == 0.33);
    CHECK(parse_number("3/4") == 0.75);
    CHECK(parse_number("2e3") == 2000);
    CHECK(parse_number(".5") == 0.5);
    CHECK(parse_number("5.") == 5);
    CHECK(parse_number("-1 1/2") == -1.5);
    CHECK(parse_number("123456789012345") == 123456789012345.0);
    CHECK(parse_measure("0.33", Dimension::number) == Measure{0.33, Dimension::number});
    for (const char* text :
         {"0.33 in", "nan",  ".nan", "NaN", "inf", "-inf",  ".inf", "infinity", "0x10",
          "1e999",   "1e16", "",     " ",   "1,5", "1_000", "1 2",  "--1",      "1/0",
          "1/",      "/2",   ".",    "-",   "e5",  "1e",    "5 1",  "1.5/2",    "1/2/3"}) {
      CAPTURE(text);
      CHECK_THROWS_AS(parse_number(text), UnitError);
    }
  }

  TEST_CASE("unit text: what is refused and the words for it") {
    struct Row {
      const char* text;
      const char* message;
    };
    const Row rows[] = {
        {"", "\"\": a value with its unit is expected"},
        {"   ", "\"\": a value with its unit is expected"},
        {"in", "\"in\": a number is expected"},
        {". in", "\". in\": a number is expected"},
        {"- in", "\"- in\": a number is expected"},
        {"/2 in", "\"/2 in\": a number is expected"},
        {"nan in", "\"nan in\": a number is expected"},
        {"inf N", "\"inf N\": a number is expected"},
        {"-inf N", "\"-inf N\": a number is expected"},
        {".inf", "\".inf\": a number is expected"},
        {"7.25", "\"7.25\": a unit is required here"},
        {"1/ in", "\"1/ in\": a number is expected after \"/\""},
        {"1/0 in", "\"1/0 in\": the fraction has a zero below the line"},
        {"7 1/0 in", "\"7 1/0 in\": the fraction has a zero below the line"},
        {"7 5/4 in", "\"7 5/4 in\": the fraction must be below one"},
        {"7,25 in", "\"7,25 in\": write the decimal sign as a point and no thousands sign"},
        {"1_000 mm", "\"1_000 mm\": write the decimal sign as a point and no thousands sign"},
        {"1234567890123456 mm", "\"1234567890123456 mm\": more than 15 digits"},
        {"1.234567890123456 mm", "\"1.234567890123456 mm\": more than 15 digits"},
        {"1e999 N", "\"1e999 N\": the power of ten is beyond 15"},
        {"1e-16 N", "\"1e-16 N\": the power of ten is beyond 15"},
        {"5 ft 12 in", "\"5 ft 12 in\": the inches after the feet must be below 12"},
        {"5 ft 10 mm", "\"5 ft 10 mm\": inches are expected after the feet, as in 5 ft 10 in"},
        {"5 ft 10", "\"5 ft 10\": inches are expected after the feet, as in 5 ft 10 in"},
        {"5 xyzzy", "\"5 xyzzy\": \"xyzzy\" is no unit known here"},
        {"5 im", "\"5 im\": \"im\" is no unit known here; did you mean \"mm\"?"},
        {"5 kis", "\"5 kis\": \"kis\" is no unit known here; did you mean \"kip\"?"},
    };
    for (const Row& row : rows) {
      CAPTURE(row.text);
      CHECK(refusal(row.text) == row.message);
    }
    for (const char* text : {"0x10 mm", "1e N", "5 ft in 3", "3 in 2 ft", "2 N 3 N", "1\t in",
                             "1..2 in", "7 1/4", "1/2/3 in", "12 IN", "4 Lbf", "1 MM"}) {
      CAPTURE(text);
      CHECK(refusal(text) != "read");
    }
  }

  TEST_CASE("unit text: a wrong dimension names both and offers the likely unit") {
    CHECK(refusal("2 lbf", Dimension::length) ==
          "\"2 lbf\" is a force; expected a length, for example 7 1/4 in or 184 mm");
    CHECK(refusal("20 lb", Dimension::force) ==
          "\"20 lb\" is a mass; expected a force: write \"20 lbf\"");
    CHECK(refusal("20 lbs", Dimension::force) ==
          "\"20 lbs\" is a mass; expected a force: write \"20 lbf\"");
    CHECK(refusal("3.2 kg", Dimension::force) ==
          "\"3.2 kg\" is a mass; expected a force: write \"3.2 kgf\"");
    CHECK(refusal("4 lbf", Dimension::mass) ==
          "\"4 lbf\" is a force; expected a mass, for example 12 lb or 5.4 kg (lbf and kgf are "
          "forces, lb and kg are masses)");
    CHECK(refusal("7", Dimension::length) ==
          "\"7\": a unit is required here; expected a length, for example 7 1/4 in or 184 mm");
    CHECK(refusal("7 in", Dimension::number) ==
          "\"7 in\": a bare number is expected here, without a unit");
    CHECK_THROWS_AS(parse<Stress>("35 lbf"), UnitError);
    CHECK_THROWS_AS(parse<Moment>("35 lbf"), UnitError);
  }

  TEST_CASE("unit text: nearest spelling") {
    const std::vector<std::string> words{"flat", "thickness", "to_support", "6063-T5 extrusion"};
    CHECK(nearest_spelling("flatt", words) == "flat");
    CHECK(nearest_spelling("Thicknes", words) == "thickness");
    CHECK(nearest_spelling("6063-T5", words) == "6063-T5 extrusion");
    CHECK(nearest_spelling("colour", words).empty());
    CHECK(nearest_spelling("", words).empty());
    CHECK(nearest_spelling("flat", {}).empty());
    CHECK(nearest_spelling(std::string(10000, 'f'), words).empty());
  }

  TEST_CASE("display: lengths") {
    const auto in = ReaderUnits::inch;
    const auto metric = ReaderUnits::metric;
    CHECK(show(parse<Length>("7 1/4 in"), in) == "7 1/4 in");
    CHECK(show(parse<Length>("1/16 in"), in) == "1/16 in");
    CHECK(show(parse<Length>("15/16 in"), in) == "15/16 in");
    CHECK(show(parse<Length>("2 in"), in) == "2 in");
    CHECK(show(parse<Length>("0.090 in"), in) == "0.090 in");
    CHECK(show(parse<Length>("0.2504 in"), in) == "1/4 in");
    CHECK(show(parse<Length>("0.2506 in"), in) == "0.251 in");
    CHECK(show(parse<Length>("-7 1/4 in"), in) == "-7 1/4 in");
    CHECK(show(parse<Length>("-0.090 in"), in) == "-0.090 in");
    CHECK(show(Length{}, in) == "0 in");
    CHECK(show(parse<Length>("184.15 mm"), metric) == "184.2 mm");
    CHECK(show(parse<Length>("1.83 mm"), metric) == "1.83 mm");
    CHECK(show(parse<Length>("-25 mm"), metric) == "-25 mm");
    CHECK(show(Length{}, metric) == "0 mm");
  }

  TEST_CASE("display: forces and the rest") {
    const auto in = ReaderUnits::inch;
    const auto metric = ReaderUnits::metric;
    CHECK(about(95.4_lbf, in) == "95 lbf");
    CHECK(about(95.4_lbf, in, Rounding::up) == "96 lbf");
    CHECK(about(95.6_lbf, in, Rounding::down) == "95 lbf");
    CHECK(about(96.0_lbf, in, Rounding::up) == "96 lbf");
    CHECK(about(96.0_lbf, in, Rounding::down) == "96 lbf");
    CHECK(about(428.0_N, metric) == "430 N");
    CHECK(about(428.0_N, metric, Rounding::down) == "420 N");
    CHECK(about(0.0_N, metric) == "0 N");
    CHECK(about(0.0123_N, metric) == "0.012 N");
    CHECK(about(99.6_N, metric) == "100 N");
    CHECK(show(-123.4_N, metric) == "-123 N");
    CHECK(show(7.0_lbf, in) == "7 lbf");
    CHECK(show(1234.0_lbf, in) == "1230 lbf");
    CHECK(show(parse<Stress>("22 ksi"), in) == "22 ksi");
    CHECK(show(parse<Stress>("22 ksi"), metric) == "152 MPa");
    CHECK(show(parse<Moment>("600 in-lbf"), in) == "600 lbf in");
    CHECK(show(parse<Moment>("600 in-lbf"), metric) == "67.8 N m");
    CHECK(show(parse<Mass>("4 lb"), in) == "4 lb");
    CHECK(show(parse<Mass>("4 lb"), metric) == "1.81 kg");
    CHECK(show(degrees(-45)) == "-45 deg");
    CHECK(show(parse_measure("25 N m^2"), in) == "25 N m2");
    CHECK(show(parse_measure("2 in^2"), in) == "2 in2");
    CHECK(show(Measure{0.33, Dimension::number}, metric) == "0.33");
    CHECK(show(Force::from_value(std::numeric_limits<double>::quiet_NaN()), metric) == "? N");
  }

  TEST_CASE("display: factors round down") {
    CHECK(show_factor(2.996) == "2.99");
    CHECK(show_factor(3) == "3.00");
    CHECK(show_factor(0.999) == "0.99");
    CHECK(show_factor(0) == "0.00");
    CHECK(show_factor(9.999) == "9.99");
    CHECK(show_factor(10) == "10");
    CHECK(show_factor(99.99) == "99");
    CHECK(show_factor(100) == "> 100");
    CHECK(show_factor(std::numeric_limits<double>::infinity()) == "> 100");
    CHECK(show_factor(-0.001) == "-0.01");
    CHECK(show_number(1.5) == "1.5");
    CHECK(show_number(100) == "100");
    CHECK(show_number(-0.0001) == "0");
    CHECK(show_number(0.3333) == "0.333");
    CHECK(exact_number(0.1) == "0.1");
    CHECK(std::stod(exact_number(1.0 / 3.0)) == 1.0 / 3.0);
    CHECK(exact_number(std::numeric_limits<double>::quiet_NaN()) == "null");
  }
}
