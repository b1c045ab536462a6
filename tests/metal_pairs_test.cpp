// Metals in contact: the rules, and what a setup is told.

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <string>
#include <vector>

#include <thole/metal_pairs.hpp>
#include <thole/reading.hpp>

#include "support/hosts.hpp"
#include "support/plates.hpp"

using namespace thole;
using namespace thole::test;

namespace {

using enum GalvanicKind;

double volts_apart(GalvanicKind a, GalvanicKind b) {
  return std::abs((galvanic_entry(a).index - galvanic_entry(b).index).value());
}

std::string bolted(const std::string& material, const std::string& backing, bool salt) {
  std::string text = with(jon_boat, "    hold: tapped\n",
                          "    hold: through_bolt\n    behind: {material: " + backing +
                              ", thickness: 1/4 in, fore_aft: 4 in, athwart: 1 3/4 in}\n");
  text = with(text, "{is: \"stainless, unmarked\", known: tagged}", material);
  return salt ? with(text, "water: fresh", "water: salt") : text;
}

}  // namespace

TEST_SUITE("unit") {
  // MIL-DTL-14072: 18 % chromium 0.50, brasses 0.40, 2xxx aluminium 0.75 V (pages seen); other
  // wrought aluminium 0.90, steel 0.85 V (copies).
  TEST_CASE("pairs: differences of the anodic index") {
    CHECK(volts_apart(aluminium, stainless) == doctest::Approx(0.40));
    CHECK(volts_apart(aluminium, brass_or_bronze) == doctest::Approx(0.50));
    CHECK(volts_apart(aluminium_2xxx, stainless) == doctest::Approx(0.25));
    CHECK(volts_apart(aluminium, steel) == doctest::Approx(0.05));
    CHECK(permitted_difference(true).value() == doctest::Approx(0.15));
    CHECK(permitted_difference(false).value() == doctest::Approx(0.25));
  }

  TEST_CASE("pairs: the index and the sea-water series agree about aluminium and stainless") {
    const auto sea = [](GalvanicKind k) { return galvanic_entry(k).sea_water->value(); };
    CHECK(sea(aluminium) < sea(stainless));
    CHECK(sea(zinc) < sea(aluminium));
    // About 0.75 V between passive stainless and aluminium in sea water.
    CHECK(sea(stainless) - sea(aluminium) == doctest::Approx(0.75).epsilon(0.02));
  }

  TEST_CASE("pairs: the area decides about stainless and aluminium") {
    for (const bool salt : {false, true}) {
      CAPTURE(salt);
      CHECK(pair_rule(stainless, true, aluminium, salt) == PairRule::small_cathode);
      CHECK(pair_rule(stainless, false, aluminium, salt) == PairRule::large_cathode);
      CHECK(pair_rule(aluminium, true, stainless, salt) == PairRule::small_anode);
      CHECK(pair_rule(aluminium, false, aluminium, salt) == PairRule::fine);
      CHECK(pair_rule(brass_or_bronze, true, aluminium, salt) == PairRule::never_bare);
      CHECK(pair_rule(aluminium, true, copper, salt) == PairRule::never_bare);
      CHECK(pair_rule(zinc, true, aluminium, salt) == PairRule::coat_first);
      CHECK(pair_rule(steel, true, aluminium, salt) == PairRule::fine);
    }
    // 0.25 V: fresh water lets it by.
    CHECK(pair_rule(stainless, true, aluminium_2xxx, false) == PairRule::fine);
    CHECK(pair_rule(stainless, true, aluminium_2xxx, true) == PairRule::small_cathode);
  }

  TEST_CASE("pairs: salt water is never milder than fresh") {
    for (const GalvanicEntry& a : galvanic_series()) {
      for (const GalvanicEntry& b : galvanic_series()) {
        for (const bool fastener : {false, true}) {
          if (pair_rule(a.kind, fastener, b.kind, false) == PairRule::fine) continue;
          CHECK(pair_rule(a.kind, fastener, b.kind, true) != PairRule::fine);
        }
      }
    }
  }

  TEST_CASE("pairs: every stored metal and fastener has a place in the series") {
    const MaterialLibrary& library = built_in_materials();
    for (const std::string& name : library.names("metal")) {
      CAPTURE(name);
      const auto k = galvanic_kind(library.metal(name));
      REQUIRE(k.has_value());
      CHECK((*k == aluminium) == library.metal(name).aluminium);
    }
    for (const std::string& name : library.names("fastener_material")) {
      CAPTURE(name);
      CHECK(galvanic_kind(library.fastener_material(name)).has_value());
    }
    CHECK(galvanic_kind(library.fastener_material("stainless, unmarked")) == stainless);
    CHECK(galvanic_kind(library.fastener_material("2024-T4 aluminium bolt")) == aluminium_2xxx);
    CHECK(galvanic_kind(library.fastener_material("silicon bronze C651")) == brass_or_bronze);
    CHECK(galvanic_kind(library.fastener_material("SAE J429 grade 5")) == steel);
    CHECK(galvanic_kind(library.metal("A36 galvanised plate")) == zinc);
  }

  TEST_CASE("pairs: stainless screws in an aluminium wall are accepted as small fasteners") {
    const std::vector<std::string> fresh = pair_cautions(read(jon_boat));
    REQUIRE(fresh.size() == 1);
    CHECK(says(fresh, "stainless in aluminium (0.40 V apart): small fasteners only"));
    CHECK(says(fresh, "paste on the threads"));
    const std::vector<std::string> salt =
        pair_cautions(read(with(jon_boat, "water: fresh", "water: salt")));
    CHECK(says(salt, "in salt water (0.40 V apart)"));
    CHECK(says(salt, "sleeves"));
  }

  TEST_CASE("pairs: a stainless plate behind an aluminium wall is told apart from the bolts") {
    const std::vector<std::string> c =
        pair_cautions(read(bolted("\"A4-70\"", "316 stainless", true)));
    CHECK(says(c, "small fasteners only"));
    CHECK(says(c, "the piece behind the wall of stainless on aluminium"));
    CHECK(says(c, "a large noble plate eats it"));
    CHECK_FALSE(says(pair_cautions(read(bolted("\"A4-70\"", "6061-T6 extrusion", true))),
                     "large noble plate"));
  }

  TEST_CASE("pairs: bronze and plain steel are warned about and zinc is to be watched") {
    CHECK(says(pair_cautions(read(bolted("silicon bronze C651", "6061-T6 extrusion", false))),
               "never in bare contact"));
    const auto steel_bolts =
        pair_cautions(read(bolted("SAE J429 grade 5", "6061-T6 extrusion", false)));
    CHECK(says(steel_bolts, "the fasteners of plain or plated steel rust:"));
    CHECK(says(pair_cautions(read(bolted("\"A4-70\"", "A36 galvanised plate", true))),
               "the zinc goes first"));
  }

  TEST_CASE("pairs: steel in wood touches no metal and is warned of all the same") {
    const std::string plain = with(with(timber_text, "F593 group 2 CW1", "SAE J429 grade 5"),
                                   "    material: 6061-T6 extrusion", "    material: not known");
    const Setup s = read(plain);
    CHECK(metal_pairs(s).empty());
    CHECK(says(pair_cautions(s), "the fasteners of plain or plated steel rust"));
    CHECK_FALSE(says(pair_cautions(read(timber_text)), "rust"));
    const Setup treated = read(with(plain, "to_edge: 2 in", "to_edge: 2 in\n    treated: yes"));
    CHECK(says(pair_cautions(treated), "treated wood eats plain steel"));
  }
}
