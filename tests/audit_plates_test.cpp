// Which way the models of plates err: what an audit mended, each against something outside thole.

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <fstream>
#include <iterator>
#include <numbers>
#include <set>
#include <string>

#include <thole/assumptions.hpp>
#include <thole/reading.hpp>
#include <thole/thole.hpp>
#include <thole/wood_strength.hpp>

#include "support/hosts.hpp"

using namespace thole;
using namespace thole::test;

namespace {

// Limit loads in Mp of a flat between two held lines, a stiff round boss of r in its middle, by
// finite elements of our own outside thole (Python with HiGHS): constant moments in triangles,
// normal moments continuous, forces balanced at every corner, von Mises nowhere passed. So each is
// below the true load of such a plate, whatever the mesh; 110 to 380 triangles in a quarter or
// half.
struct Limit {
  double near, far;  // r / R of either side
  double load;
};
constexpr Limit by_elements[] = {{0.1, 0.1, 11.01},     {0.25, 0.25, 14.11},     {0.5, 0.5, 20.54},
                                 {0.7, 0.7, 29.86},     {0.286, 0.07997, 13.13}, {0.3, 0.15, 13.48},
                                 {0.5, 1.0 / 6, 15.86}, {0.7, 0.175, 18.49}};

// 2 pi q: moments in a round sheet held at its edge, nowhere past Tresca's yield, from
// r dM/dr = M_t - M - p: M_t = Mp while M > 0, M_t = M + Mp beyond (after Hopkins & Prager 1953,
// from memory).
double round_by_tresca(double x) {
  double low = 1;
  double high = 100;
  for (int i = 0; i < 100; ++i) {
    const double q = 0.5 * (low + high);
    ((q - 1) * std::log((q - 1) / (q * x)) < 1 ? low : high) = q;
  }
  return 2 * std::numbers::pi * low;
}

std::string example(const std::string& name) {
  std::ifstream in(std::string(THOLE_ROOT) + "/examples/" + name);
  REQUIRE(in.good());
  return {std::istreambuf_iterator<char>(in), {}};
}

const Input& input_at(const Setup& s, std::string_view path) {
  const auto it = std::find_if(s.inputs.begin(), s.inputs.end(),
                               [&](const Input& i) { return i.path == path; });
  REQUIRE(it != s.inputs.end());
  return *it;
}

std::string bolted(const std::string& thread, const std::string& material) {
  return with(with(jon_boat, "thread: 1/4-20", "thread: " + thread),
              "material: {is: \"stainless, unmarked\", known: tagged}",
              "material: {is: " + material + ", known: tagged}");
}

std::string walled(const std::string& alloy, const std::string& thickness) {
  return with(with(jon_boat, "alloy: {is: 6063-T5 extrusion, known: tagged}",
                   "alloy: {is: " + alloy + ", known: tagged}"),
              "thickness: {is: 0.090 in, known: measured}",
              "thickness: {is: " + thickness + ", known: measured}");
}

std::set<std::string> ids_of(const Setup& s) {
  std::set<std::string> out;
  for (const Assumption& a : assumptions_of(s)) out.insert(a.id);
  return out;
}

}  // namespace

TEST_SUITE("unit") {
  TEST_CASE("audit of plates: a held wall counts for no more than finite elements give it") {
    const MomentPerWidth mp = plate_moment(2.0_mm, built_in_materials().metal("5052-H32 sheet"));
    for (const Limit& l : by_elements) {
      CAPTURE(l.near);
      CAPTURE(l.far);
      const double counted = double(
          held_pull(mp, Length(l.near * 50.0_mm), 50.0_mm, Length(50.0_mm * (l.near / l.far))) /
          (1.0 * mp));
      CHECK(counted <= 1.01 * l.load);
      CHECK(counted > (l.near < 0.6 ? 0.9 : 0.75) * l.load);
    }
  }

  TEST_CASE("audit of plates: small bosses in a held wall count for no more than Tresca gives") {
    const MomentPerWidth mp = plate_moment(2.0_mm, built_in_materials().metal("5052-H32 sheet"));
    for (const double x : {0.005, 0.01, 0.02, 0.03, 0.05, 0.1, 0.2}) {
      CAPTURE(x);
      const double counted =
          double(held_pull(mp, Length(x * 50.0_mm), 50.0_mm, 50.0_mm) / (1.0 * mp));
      // By von Mises a point stands 2/sqrt 3 of it.
      CHECK(counted < 1.05 * round_by_tresca(x));
      CHECK(counted > 0.75 * round_by_tresca(x));
    }
  }

  TEST_CASE("audit of plates: a wider boss never weakens a held wall and 0.6 of it is the most") {
    const MomentPerWidth mp = plate_moment(2.0_mm, built_in_materials().metal("5052-H32 sheet"));
    double before = 0;
    for (int i = 0; i < 100; ++i) {
      const double now = held_pull(mp, Length(0.01 * i * 50.0_mm), 50.0_mm, 50.0_mm).value();
      CHECK(now >= before);
      before = now;
    }
    CHECK(before == doctest::Approx(9.425 / 0.4 * mp.value()));
    CHECK_THROWS_AS((void)held_pull(mp, 50.0_mm, 60.0_mm, 50.0_mm), DomainError);
  }

  TEST_CASE("audit of plates: one screw in a closed gunwale dishes it before the limit load") {
    // A flat of 2 in, a screw of 1/4 in alone in its middle: r/R = 1/8; elements 11.0 at 0.1 and
    // 14.1 at 0.25.
    const Setup s = read(with(jon_boat, "holes: {fore_aft: 2 1/4 in, athwart: 1 1/8 in}",
                              "holes: {points: [[1 1/8 in, 0 in], [-1 1/8 in, 0 in]]}"));
    Actions a;
    a.count = 2;
    a.tension[0] = 1.0_lbf;
    const Use u = mode_of("wall-yield").use(s, a, Category::occasional);
    const MomentPerWidth mp = plate_moment(s.plate().host.thickness, s.plate().host.metal);
    const double loads = u.strength.si / mp.value();
    CHECK(loads < 12.0);
    CHECK(loads > 10.0);
  }

  TEST_CASE("audit of plates: of a sheet only the nearest support is known") {
    const std::string text = load_text;
    const Setup s = read(with(text, "holes: {fore_aft: 2 in, athwart: 2 in}",
                              "holes: {points: [[1 in, 0 in], [-1 in, 0 in]]}"));
    Actions a;
    a.count = 2;
    a.tension[0] = 1.0_lbf;
    const Use u = mode_of("wall-yield").use(s, a, Category::occasional);
    const MomentPerWidth mp = plate_moment(s.plate().host.thickness, s.plate().host.metal);
    // A screw of 1/8 in radius, 7 in to the support on its far side, three times as far beyond.
    CHECK(u.strength.si / mp.value() < 1.05 * round_by_tresca(0.125 / 14));
  }

  TEST_CASE("audit of plates: fasteners by themselves tie no wall between them") {
    const MomentPerWidth mp = plate_moment(2.0_mm, built_in_materials().metal("5052-H32 sheet"));
    const auto row = [&](Length tied) {
      return row_pull(mp, {5.0_mm, tied, 60.0_mm, 10.0_mm, 40.0_mm}, true);
    };
    // Straight hinges along supports and row: 2 Mp L (1/a + 1/c).
    const double ends = held_pull(mp, 5.0_mm, 10.0_mm, 40.0_mm).value();
    CHECK(row(Length{}).value() == doctest::Approx(ends + 2 * mp.value() * (6.0 + 1.5)));
    CHECK(row(5.0_mm) > row(Length{}));
  }

  TEST_CASE("audit of plates: a thicker plate behind a hull never ends the look at pull-through") {
    // A hull of 6 mm: a plate from 9 mm on once ended the look.
    const std::string text = with(example("fjord-skiff.yaml"), "hull: laminate ",
                                  "hull: metal_wall\n        hull_alloy: 5052-H32 sheet ");
    const auto holds = [&](const std::string& plate) {
      const Assessment a = assess(read(with(text, "thickness: 5 mm, fore_aft: 250 mm",
                                            "thickness: " + plate + ", fore_aft: 250 mm")));
      const CheckResult& c = check_of(a, "ledge-bolt-pull-through");
      REQUIRE(c.standing == Standing::applies);
      return c.strength.si;
    };
    const double below = holds("8.9 mm");
    const double above = holds("9.1 mm");
    CHECK(above >= below);
    CHECK(above < 1.05 * below);
    CHECK(holds("20 mm") >= above);
    // As if its washer were 5/8 in wide: Ftu t (5/8 in - hole), the manual of 2020.
    CHECK(holds("20 mm") <= 1.001 * 31 * 6.894757e6 * 0.006 * (0.015875 - 0.009));
  }

  TEST_CASE("audit of plates: a grade counts for its own sizes only") {
    // ASTM F593 begins at 1/4 in; its condition CW1 ends at 5/8 in (aluminium-bolt tables alike).
    const Setup small = read(bolted("'#10-24'", "F593 group 1 CW1"));
    const Input& in = input_at(small, "mount.fastening.material");
    CHECK(in.known == Knowledge::assumed);
    CHECK(in.value.find("begins at 1/4 in") != std::string::npos);
    CHECK(small.plate().fastening.material.ultimate <= 65.0_ksi);
    CHECK(small.plate().fastening.material.yield <= 20.0_ksi);

    const Setup right = read(bolted("1/4-20", "F593 group 1 CW1"));
    CHECK(input_at(right, "mount.fastening.material").known == Knowledge::tagged);
    CHECK(right.plate().fastening.material.ultimate == 100.0_ksi);

    const Setup large = read(bolted("1/4-20", "'18-8 stainless, below 1/4 in'"));
    CHECK(large.plate().fastening.material.ultimate <= 65.0_ksi);
    CHECK(input_at(large, "mount.fastening.material").value.find("ends at 0.216 in") !=
          std::string::npos);
  }

  TEST_CASE("audit of plates: a metal counts for its own thicknesses only") {
    // EN 1999-1-1 Table 3.2b: 6063-T5 175 and 130 MPa up to 3 mm, 160 and 110 MPa above.
    const Setup thick = read(walled("EN 6063-T5 extrusion to 3 mm", "4 mm"));
    CHECK(thick.plate().host.metal.ultimate <= 160.0_MPa);
    CHECK(thick.plate().host.metal.yield <= 110.0_MPa);
    CHECK(input_at(thick, "mount.host.alloy").known == Knowledge::assumed);
    CHECK(input_at(thick, "mount.host.alloy").value.find("ends at 3 mm") != std::string::npos);

    const Setup right = read(walled("EN 6063-T5 extrusion to 3 mm", "3 mm"));
    CHECK(right.plate().host.metal.ultimate.value() == doctest::Approx(175e6));
    CHECK(input_at(right, "mount.host.alloy").known == Knowledge::tagged);

    const Setup thin = read(walled("5083-H116 sheet", "1.2 mm"));
    CHECK(thin.plate().host.metal.yield < 31.0_ksi);
    CHECK(input_at(thin, "mount.host.alloy").value.find("begins at 0.063 in") != std::string::npos);
  }

  TEST_CASE(
      "audit of plates: a pad below the base keeps its thickness of a screw from the timber") {
    const auto holds = [](const char* pad) {
      const std::string text = with_screws(
          "lag_screw", "5/16", (std::string("1 3/4 in\n    threaded: 1 3/4 in") + pad).c_str());
      return strength(read(text), "wood-withdrawal", pulled(), 1.0_lbf);
    };
    // NDS: thread in the wood without its tip; the base is 1/4 in thick.
    const Length tip = lag_screw("5/16").tip;
    const double left = double((1.25_in - tip) / (1.5_in - tip));
    CHECK(holds("\n    packing: 1/4 in") == doctest::Approx(left * holds("")));
  }

  TEST_CASE("audit of plates: shear of a core is asked for where its skins are checked") {
    const std::string text = on_host(std::string(core_keys) +
                                     "    flexural: {is: 120 MPa, source: coupons}\n"
                                     "    to_support: 3 in\n");
    const Assessment a = assess(read(with(text, "pull: 20 lbf", "pull: 1 lbf")));
    REQUIRE(check_of(a, "panel-bending").standing == Standing::applies);
    CHECK(a.verdict == Verdict::holds_if);
    CHECK(says(a.holds_if, "shear of the core round the base does no harm: it is not checked"));
  }

  TEST_CASE("audit of plates: each setup names what it takes for granted and no other") {
    const std::set<std::string> jon = ids_of(read(jon_boat));
    for (const char* id : {"plate-no-friction", "plate-no-chamfer", "plate-no-end",
                           "plate-bends-hold", "plate-wall-rotation", "plate-no-pad"}) {
      CAPTURE(id);
      CHECK(jon.count(id) == 1);
    }
    for (const char* id : {"plate-u-bolt-tight", "plate-core-shear", "plate-lip-resting",
                           "plate-sheet-support", "plate-timber-between", "plate-bracket-flat"}) {
      CAPTURE(id);
      CHECK(jon.count(id) == 0);
    }
    const std::set<std::string> bracket = ids_of(read(example("highland-dinghy.yaml")));
    for (const char* id : {"plate-u-bolt-tight", "plate-fitting", "plate-bracket-flat",
                           "plate-bracket-gear", "plate-bracket-cuts"}) {
      CAPTURE(id);
      CHECK(bracket.count(id) == 1);
    }
    CHECK(ids_of(read(with(jon_boat, "flat: 2 in", "flat: 2 in\n    to_end: 2 ft")))
              .count("plate-no-end") == 0);
    for (const std::string& id : ids_of(read(example("fjord-skiff.yaml")))) {
      CHECK(id.rfind("plate-", 0) != 0);
    }
  }

  TEST_CASE("audit of plates: what may err toward holding says how far or where it is told") {
    for (const Assumption& a : all_assumptions()) {
      if (a.about != "plate") continue;
      CAPTURE(a.id);
      CHECK(a.id.rfind("plate-", 0) == 0);
      CHECK(a.why.size() > 10);
      CHECK_FALSE(a.said.empty());
    }
  }
}
