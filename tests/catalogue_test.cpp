// The list of failure modes: complete, and honest about what is proved outside.

#include <doctest/doctest.h>

#include <algorithm>
#include <map>
#include <set>
#include <string>

#include <thole/check.hpp>
#include <thole/reading.hpp>

#include "support/proves.hpp"

using namespace thole;

namespace {

// The formula behind a mode, where several modes share one.
std::string formula_of(std::string_view id) {
  static const std::map<std::string_view, std::string> shared = {
      {"pull-over-behind", "pull-over"}, {"screw-tension", "bolt-tension"},
      {"screw-shear", "bolt-shear"},     {"wall-bearing-screw", "bearing"},
      {"wall-bearing-bolt", "bearing"},  {"base-bearing", "bearing"}};
  const auto at = shared.find(id);
  return at == shared.end() ? std::string(id) : at->second;
}

int proofs_of(std::string_view id) {
  const std::string formula = formula_of(id);
  // A proof from memory is none: nobody can look it up.
  return int(std::count_if(test::proofs().begin(), test::proofs().end(), [&](const auto& p) {
    return p.mode == formula && p.source.find("from memory") == std::string::npos;
  }));
}

std::set<std::string> all_input_paths() {
  const std::string head = R"(thole: 1
mount:
  kind: gunwale_plate
  host: {form: closed_section, alloy: 6061-T6 extrusion, thickness: 0.125 in, flat: 3 in}
  base: {fore_aft: 3 in, athwart: 2 in, material: 5052-H32 sheet, thickness: 3/16 in, body: 1 in}
  fastening:
    hold: through_bolt
    thread: 1/4-20
    material: stainless, unmarked
    holes: {fore_aft: 2 in, athwart: 1 in}
    behind: {material: 6061-T6 extrusion, thickness: 1/4 in, fore_aft: 4 in, athwart: 2 in}
gear:
)";
  const std::string rod = R"(  - {kind: rod_holder, height: 4 in, lean: 60 deg, toward: outboard,
     rod_length: 7 ft, line_test: 20 lbf, drag: 7 lbf}
)";
  const std::string load = R"(  - {kind: plain_load, at: {forward: 0 in, outboard: 0 in, up: 4 in},
     pull: 9 lbf, azimuth: 0 deg, dip: 0 deg}
)";
  std::set<std::string> out;
  for (const std::string& gear : {rod, load}) {
    for (const Input& i : read_setup(head + gear, "t.yaml", built_in_materials()).inputs) {
      out.insert(i.path);
    }
  }
  return out;
}

}  // namespace

TEST_SUITE("unit") {
  TEST_CASE("catalogue: every mode is filled in and its id is kebab-case and unique") {
    std::set<std::string_view> seen;
    for (const FailureMode& m : catalogue()) {
      CAPTURE(m.id);
      CHECK(seen.insert(m.id).second);
      REQUIRE_FALSE(m.id.empty());
      CHECK(std::all_of(m.id.begin(), m.id.end(),
                        [](char c) { return (c >= 'a' && c <= 'z') || c == '-'; }));
      CHECK(m.id.front() != '-');
      CHECK(m.id.back() != '-');
      CHECK(m.id.find("--") == std::string_view::npos);
      CHECK_FALSE(m.gives_way.empty());
      CHECK_FALSE(m.group.empty());
      CHECK_FALSE(m.source.empty());
      CHECK_FALSE(m.valid.empty());
      CHECK_FALSE(m.accuracy.empty());
      CHECK_FALSE(m.advice.empty());
      CHECK(bool(m.applies));
      CHECK(bool(m.use));
      CHECK(m.outside_checks >= 0);
    }
    CHECK(seen.size() > 15);
  }

  TEST_CASE("catalogue: every group has a factor needed of 1 or more") {
    for (const FailureMode& m : catalogue()) {
      CAPTURE(m.id);
      CHECK(built_in_materials().required_factor(m.group).measure.si >= 1);
      if (m.metal_yields) CHECK(m.group == "metal yield");
    }
  }

  TEST_CASE("catalogue: what a mode depends on is an input of some setup") {
    const std::set<std::string> paths = all_input_paths();
    for (const FailureMode& m : catalogue()) {
      CAPTURE(m.id);
      for (const std::string_view p : m.depends_on) {
        if (!p.empty()) CHECK_MESSAGE(paths.count(std::string(p)) == 1, p);
      }
    }
  }

  TEST_CASE("catalogue: what a case depends on is an input of some setup") {
    const std::set<std::string> paths = all_input_paths();
    Gear rod;
    rod.rod_holder.emplace();
    Gear load;
    load.plain_load.emplace();
    for (const Gear& g : {rod, load}) {
      for (const LoadCase& c : load_cases(g)) {
        for (const std::string& p : c.depends_on) CHECK_MESSAGE(paths.count(p) == 1, p);
      }
    }
  }

  // A mode may claim less than is proved (two figures of one and the same example), never more.
  TEST_CASE("catalogue: no mode claims more outside checks than are registered in the tests") {
    std::string table = "mode | source | outside checks | valid\n";
    for (const FailureMode& m : catalogue()) {
      CAPTURE(m.id);
      const int proved = proofs_of(m.id);
      CHECK(std::min(2, m.outside_checks) <= std::min(2, proved));
      if (std::min(2, m.outside_checks) < std::min(2, proved)) {
        MESSAGE(m.id << " claims " << m.outside_checks << " of " << proved << " outside checks");
      }
      table += std::string(m.id) + " | " + std::string(m.source) + " | " + std::to_string(proved) +
               (proved < 2 ? " (formula seen, not proved outside)" : "") + " | " +
               std::string(m.valid) + "\n";
    }
    MESSAGE(table);
  }

  TEST_CASE("catalogue: every proof belongs to a mode") {
    for (const test::Proof& p : test::proofs()) {
      const auto modes = catalogue();
      CAPTURE(p.mode);
      CHECK(std::any_of(modes.begin(), modes.end(),
                        [&](const FailureMode& m) { return formula_of(m.id) == p.mode; }));
    }
  }
}
