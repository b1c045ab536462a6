#include <doctest/doctest.h>

#include <set>

#include <thole/error.hpp>
#include <thole/reading.hpp>
#include <thole/thread.hpp>

using namespace thole;
using namespace thole::literals;

TEST_SUITE("unit") {
  TEST_CASE("materials: every kind of table has entries and every value a source") {
    std::set<std::string> kinds;
    for (const Entry& e : built_in_materials().entries()) {
      kinds.insert(e.kind);
      CAPTURE(e.kind);
      CAPTURE(e.name);
      CHECK_FALSE(e.values.empty());
      CHECK_FALSE(e.by_user);
      for (const auto& value : e.values) {
        const TableValue& v = value.second;
        CAPTURE(value.first);
        CHECK_FALSE(v.source.title.empty());
        CHECK(v.measure.si > 0);
      }
    }
    for (const KindRule& rule : table_kinds()) CHECK(kinds.contains(std::string(rule.kind)));
  }

  TEST_CASE("materials: every metal and fastener gives a typed view with cautious shear") {
    for (const Entry& e : built_in_materials().entries()) {
      CAPTURE(e.name);
      if (e.kind == "metal") {
        const Metal m = metal_of(e, false);
        CHECK(m.yield <= m.ultimate);
        CHECK(m.shear_ultimate <= 0.6 * m.ultimate);
        if (e.values.contains("weld_ultimate")) {
          const Metal w = metal_of(e, true);
          CHECK(w.ultimate <= m.ultimate);
          CHECK(w.yield <= m.yield);
        }
      }
      if (e.kind == "fastener_material") {
        const FastenerMaterial f = built_in_materials().fastener_material(e.name);
        CHECK(f.shear_ultimate < f.ultimate);
        CHECK(f.yield <= f.ultimate);
      }
    }
  }

  TEST_CASE("materials: unmarked stainless is the lowest stainless of its table") {
    const Stress unmarked = built_in_materials().fastener_material("stainless, unmarked").ultimate;
    for (const char* name : {"F593 group 1 AF", "F593 group 2 CW1", "A2-50", "A4-70"}) {
      CHECK(unmarked <= built_in_materials().fastener_material(name).ultimate);
    }
  }

  TEST_CASE("materials: thread limits lie in order and walls grow") {
    for (const Entry& e : built_in_materials().entries()) {
      if (e.kind != "thread") continue;
      CAPTURE(e.name);
      const Thread t = built_in_materials().thread(e.name);
      CHECK(t.internal_minor_max < t.external_pitch_min);
      CHECK(t.external_pitch_min < t.internal_pitch_max);
      CHECK(t.internal_pitch_max < t.external_major_min);
      CHECK(t.external_major_min < t.diameter);
      CHECK(t.tap_drill < t.diameter);
      CHECK(t.clearance > t.diameter);
    }
    for (const char* market : {"inch", "metric"}) {
      const auto walls = built_in_materials().walls(market);
      REQUIRE(walls.size() > 5);
      for (std::size_t i = 1; i < walls.size(); ++i) CHECK(walls[i - 1] < walls[i]);
    }
  }

  TEST_CASE("materials: an unknown name offers the nearest one") {
    CHECK_THROWS_WITH_AS((void)built_in_materials().metal("6063-T5 extrusoin"),
                         "no metal is called \"6063-T5 extrusoin\"; did you mean \"6063-T5 "
                         "extrusion\"?",
                         UnknownName);
  }

  TEST_CASE("materials: all entries as near as the nearest are offered") {
    const MaterialLibrary& library = built_in_materials();
    CHECK(library.near_names("metal", "6063-T5 extrusoin") ==
          "; did you mean \"6063-T5 extrusion\"?");
    CHECK(library.near_names("lumber_size", "2x9").find("\"2x8\"") != std::string::npos);
    CHECK(library.near_names("lumber_size", "2x9").find("\"2x6\"") != std::string::npos);
    // No grade typed: the weakest of them is offered as well as the strongest.
    const std::string grades = library.near_names("wood_grade", "Douglas fir");
    CHECK(grades.find("\"Douglas Fir-Larch Select Structural\"") != std::string::npos);
    CHECK(grades.find("\"Douglas Fir-Larch No.2\"") != std::string::npos);
    CHECK(library.near_names("metal", "wood").empty());
    std::vector<std::string> spelt{"abcd", "abce"};
    CHECK(nearest_spellings("abcf", spelt) == spelt);
    CHECK(nearest_spellings("abce", spelt) == std::vector<std::string>{"abce"});
    CHECK(nearest_spellings("wxyz", spelt).empty());
  }

  TEST_CASE("materials: a user's table is added and a wrong one leaves the library unchanged") {
    MaterialLibrary library = built_in_materials();
    const std::size_t before = library.entries().size();
    const std::string good =
        "description: mine\nkind: metal\nsources: {M: mill certificate}\nentries:\n"
        "  - name: my alloy\n    basis: minimum\n    source: M\n    seen: page\n"
        "    values: {ultimate: 36 ksi, yield: 30 ksi, modulus: 10000 ksi}\n";
    add_table(library, good, "mine.yaml");
    CHECK(library.entries().size() == before + 1);
    CHECK(library.find("metal", "my alloy")->by_user);
    const std::string typical =
        "description: mine\nkind: metal\nsources: {M: mill certificate}\nentries:\n"
        "  - name: soft alloy\n    basis: typical\n    source: M\n    seen: page\n"
        "    values: {ultimate: 36 ksi, yield: 30 ksi, modulus: 10000 ksi}\n";
    CHECK_THROWS_AS(add_table(library, typical, "mine.yaml"), InputError);
    CHECK(library.entries().size() == before + 1);
  }
}
