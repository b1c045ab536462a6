// The list of failure modes: complete, and honest about what is proved outside.

#include <doctest/doctest.h>

#include <algorithm>
#include <fstream>
#include <iterator>
#include <map>
#include <set>
#include <string>
#include <vector>

#include <thole/check.hpp>
#include <thole/loads.hpp>
#include <thole/reading.hpp>
#include <thole/report.hpp>

#include "support/hosts.hpp"
#include "support/inserts.hpp"
#include "support/validation.hpp"

using namespace thole;

namespace {

int proofs_of(std::string_view id) {
  const std::string formula = test::formula_of(id);
  // A proof from memory is none: nobody can look it up.
  return int(std::count_if(test::sources().begin(), test::sources().end(), [&](const auto& s) {
    return s.seen != Seen::memory && std::count(s.modes.begin(), s.modes.end(), formula) > 0;
  }));
}

/// A gunwale plate with a rod holder, or with a plain load.
std::string plate_text(bool rod) {
  const std::string head = R"(thole: 1
mount:
  kind: gunwale_plate
  host: {form: closed_section, alloy: 6061-T6 extrusion, thickness: 0.125 in, flat: 3 in,
         bar: {between_ties: 30 in, depth: 2 in}}
  base: {fore_aft: 3 in, athwart: 2 in, material: 5052-H32 sheet, thickness: 3/16 in, body: 1 in}
  fastening:
    hold: through_bolt
    thread: 1/4-20
    material: stainless, unmarked
    holes: {fore_aft: 2 in, athwart: 1 in}
    packing: 1/8 in
    behind: {material: 6061-T6 extrusion, thickness: 1/4 in, fore_aft: 4 in, athwart: 2 in}
gear:
)";
  return head + (rod ? R"(  - {kind: rod_holder, height: 4 in, lean: 60 deg, toward: outboard,
     rod_length: 7 ft, line_test: 20 lbf, drag: 7 lbf}
)"
                     : R"(  - {kind: plain_load, at: {forward: 0 in, outboard: 0 in, up: 4 in},
     pull: 9 lbf, azimuth: 0 deg, dip: 0 deg}
)");
}

/// A bracket that clamps hold.
const char* const clamped = R"(thole: 1
mount:
  kind: bracket
  host: {form: sheet, alloy: 5052-H32 sheet, thickness: 0.063 in, to_support: 4 in}
  base: {fore_aft: 6 in, athwart: 14 in, material: 6061-T6 sheet, thickness: 1/4 in}
  bears_on: [{fore_aft: [-3 in, 3 in], athwart: [-7 in, 2 in]}]
  gear_foot: {outboard: 5 in, width: 2 in}
  fastening: {hold: clamp, thread: 5/16-18, holes: {fore_aft: 4 in}}
  clamp: {jaw: under_edge, tightened: 4 lbf ft, holds: {is: 400 lbf, source: its maker}}
  friction: 0.15
gear:
  - {kind: plain_load, at: {forward: 0 in, outboard: 0 in, up: 2 in}, pull: 5 lbf, azimuth: 0 deg, dip: 0 deg}
)";

std::set<std::string> all_input_paths() {
  std::set<std::string> out;
  for (const Input& i : test::read(clamped).inputs) out.insert(i.path);
  for (const std::string& text :
       {test::with_screws("lag_screw", "1/4", "2 in\n    threaded: 1 in"),
        test::on_host(test::plywood_keys),
        test::on_host(std::string(test::core_keys) +
                      "    to_support: 3 in\n    flexural: {is: 90 MPa, source: coupons}\n")}) {
    const Setup s = test::read(test::with(text, "to_edge:",
                                          text.find("kind: timber") == std::string::npos &&
                                                  text.find("kind: plywood") == std::string::npos
                                              ? "to_edge:"
                                              : "service: wet\n    to_edge:"));
    for (const Input& i : s.inputs) out.insert(i.path);
  }
  const std::string given = ", pull_out: {is: 900 lbf, source: its maker}";
  for (const std::string& text :
       {test::with(test::in_coil, "length: 3/8 in", "length: 3/8 in" + given),
        test::with(test::blind_insert, test::given_pull_out,
                   test::given_pull_out + ", thread_holds: {is: 5 kN, source: its maker}"),
        test::with(test::solid_rivet, "diameter: 3/16 in",
                   "diameter: 3/16 in, tension: {is: 90 lbf, source: a test}, shear: {is: 90 lbf, "
                   "source: a test}")}) {
    for (const Input& i : test::read(text).inputs) out.insert(i.path);
  }
  for (const bool rod : {true, false}) {
    for (const Input& i : read_setup(plate_text(rod), "t.yaml", built_in_materials()).inputs) {
      out.insert(i.path);
    }
  }
  return out;
}

std::string fjord_skiff() {
  std::ifstream in(THOLE_ROOT "/examples/fjord-skiff.yaml");
  REQUIRE(in);
  return {std::istreambuf_iterator<char>(in), {}};
}

std::string with(std::string text, const std::string& from, const std::string& to) {
  const std::size_t at = text.find(from);
  REQUIRE_MESSAGE(at != std::string::npos, from);
  return text.replace(at, from.size(), to);
}

/// Between two texts of the skiff, the second left in.
std::string between(const std::string& text, const std::string& from, const std::string& to,
                    const std::string& instead) {
  const std::size_t a = text.find(from);
  const std::size_t z = text.find(to, a);
  REQUIRE(a != std::string::npos);
  REQUIRE(z != std::string::npos);
  return text.substr(0, a) + instead + text.substr(z);
}

/// The fjord skiff and variants of it, so that every key of a cross-board is written once.
std::vector<Setup> board_setups() {
  const std::string skiff = fjord_skiff();
  const std::string leg = R"(  legs:
    - side: both
      outboard: -40 mm
      forward: -80 mm
      length: 300 mm
      foot_forward: -20 mm
      fore_aft: 48 mm
      athwart: 98 mm
)";
  const std::string gear = "\ngear:\n";
  const std::string wooden_leg =
      leg + "      wood: C24\n      stands_on: thwart\n      friction: 0.3\n";
  const std::string metal_leg =
      leg + "      alloy: 6061-T6 extrusion\n      wall: 3 mm\n      stands_on: thwart\n";
  const std::string tube = R"(board:
    form: rectangular_tube
    width: 198 mm
    thickness: 50 mm
    wall: 3 mm
    length: 2.20 m
    alloy: 6061-T6 extrusion
  )";
  const std::string boat = R"(boat:
  length: 4.5 m
  beam: 1.8 m
  freeboard: 0.45 m
  loaded_mass: 600 kg
  waterline_length: 4 m
  chine_beam: 1.4 m
  deadrise: 12 deg
  top_speed: 25 kn
  wave_height: 0.5 m
  mount_from_stern: 0.3 m

mount:
)";
  const std::string water = "    speed_at_ball: [1 kn, 3 kn]\n    ball_drag: 0.6\n    foot:\n";
  const std::string link = "    weak_link: 440 N\n    winch_stall: 400 N\n    foot:\n";
  const std::string others = R"(gear:
  - {kind: rod_holder, on_board: {side: port, outboard: 0 mm}, height: 4 in, lean: 60 deg,
     toward: outboard, rod_length: 7 ft, line_test: 20 lbf, drag: 7 lbf}
  - {kind: plain_load, on_board: {side: starboard, outboard: 0 mm},
     at: {forward: 0 in, outboard: 0 in, up: 4 in}, pull: 9 lbf, azimuth: 0 deg, dip: 0 deg}

)";
  const std::string metal_hull =
      "hull: metal_wall\n        hull_alloy: 5052-H32 sheet\n        hull_thickness: 4 mm\n";
  std::vector<std::string> texts{
      skiff,
      with(skiff, gear, "\n" + wooden_leg + gear),
      with(skiff, gear, "\n" + metal_leg + gear),
      between(skiff, "board:\n    form", "clear_width", tube),
      with(skiff, "    foot:\n", link),
      between(with(skiff, "    foot:\n", water), "boat:\n", "  kind: cross_board", boat),
      between(skiff, "gear:\n", "condition:", others),
      between(skiff, "hull: laminate", "        thread: M8", metal_hull),
  };
  std::vector<Setup> out;
  for (const std::string& t : texts) {
    out.push_back(read_setup(t, "skiff.yaml", built_in_materials()));
  }
  return out;
}

std::set<std::string> board_input_paths() {
  std::set<std::string> out;
  for (const Setup& s : board_setups()) {
    for (const Input& i : s.inputs) out.insert(i.path);
  }
  return out;
}

/// Both lists, that of a gunwale plate first.
std::vector<FailureMode> all_modes() {
  std::vector<FailureMode> out(catalogue().begin(), catalogue().end());
  out.insert(out.end(), board_catalogue().begin(), board_catalogue().end());
  return out;
}

}  // namespace

TEST_SUITE("unit") {
  TEST_CASE("catalogue: every mode is filled in and its id is kebab-case and unique") {
    std::set<std::string_view> seen;
    for (const FailureMode& m : all_modes()) {
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
      // One of the two ways to be evaluated, that of its mount.
      CHECK(bool(m.use) != bool(m.use_on_board));
      CHECK(m.outside_checks >= 0);
    }
    CHECK(seen.size() > 45);
    for (const FailureMode& m : catalogue()) CHECK(bool(m.use));
    for (const FailureMode& m : board_catalogue()) {
      CHECK(bool(m.use_on_board));
      CHECK(m.item != Item::fastener);
    }
  }

  TEST_CASE("catalogue: every group has a factor needed of 1 or more") {
    for (const FailureMode& m : all_modes()) {
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

  // The reader writes mount.ledges.both (or port, starboard); for a mode the side does not matter.
  TEST_CASE("catalogue: what a mode of a board depends on is an input of some board") {
    std::set<std::string> paths;
    for (std::string path : board_input_paths()) {
      for (const std::string side : {".both", ".port", ".starboard"}) {
        const std::size_t at = path.find(side + ".");
        if (at != std::string::npos) path.erase(at, side.size());
      }
      paths.insert(path);
    }
    for (const FailureMode& m : board_catalogue()) {
      CAPTURE(m.id);
      for (const std::string_view p : m.depends_on) {
        if (!p.empty()) CHECK_MESSAGE(paths.count(std::string(p)) == 1, p);
      }
    }
  }

  TEST_CASE("catalogue: what a case of a board depends on is an input of some board") {
    const std::set<std::string> paths = board_input_paths();
    std::set<std::string> ids;
    for (const Setup& s : board_setups()) {
      for (const LoadCase& c : load_cases(s)) {
        ids.insert(c.kind);
        CAPTURE(c.id);
        for (const std::string& p : c.depends_on) CHECK_MESSAGE(paths.count(p) == 1, p);
      }
    }
    for (const char* id : {"trolling", "hung-up-slipping", "hung-up-weak-link", "hung-up-seized",
                           "winch-stalls", "brake-jerk", "running", "sit-on-board"}) {
      CHECK_MESSAGE(ids.count(id) == 1, id);
    }
  }

  TEST_CASE(
      "catalogue: every mode of a board concerns some board or is not concerned for a reason") {
    for (const FailureMode& m : board_catalogue()) {
      bool concerns = false;
      for (const Setup& s : board_setups()) {
        const Applicability a = m.applies(s);
        CAPTURE(m.id);
        if (a.standing == Standing::applies) {
          concerns = true;
        } else {
          CHECK_FALSE(a.why.empty());
        }
      }
      if (!concerns) MESSAGE(m.id << " concerns none of the boards tried here");
    }
  }

  TEST_CASE("catalogue: what a case of a plate depends on is an input of some setup") {
    std::set<std::string> paths = all_input_paths();
    paths.merge(board_input_paths());
    Setup s = read_setup(plate_text(true), "t.yaml", built_in_materials());
    Gear load;
    load.name = "load";
    load.plain_load.emplace();
    s.gear.push_back(load);
    for (const LoadCase& c : load_cases(s)) {
      CAPTURE(c.id);
      for (const std::string& p : c.depends_on) CHECK_MESSAGE(paths.count(p) == 1, p);
    }
  }

  // A mode may claim less than is proved, never more. Several figures of one document and place are
  // one check. What the figures are: the validation table (validation_test.cpp).
  TEST_CASE("catalogue: no mode claims more outside checks than are registered in the tests") {
    for (const FailureMode& m : all_modes()) {
      CAPTURE(m.id);
      const int proved = proofs_of(m.id);
      CHECK(std::min(2, m.outside_checks) <= std::min(2, proved));
      if (std::min(2, m.outside_checks) < std::min(2, proved)) {
        MESSAGE(m.id << " claims " << m.outside_checks << " of " << proved << " outside checks");
      }
    }
  }

  // What the program lists of a mode is no more than the tests prove.
  TEST_CASE("catalogue: a mode without two outside checks is marked in the list of modes") {
    for (const FailureMode& m : all_modes()) {
      CAPTURE(m.id);
      const std::string entry = mode_table(built_in_materials(), {std::string(m.id) + ":"});
      const std::size_t at = entry.find("\n" + std::string(m.id) + ": ");
      REQUIRE(at != std::string::npos);
      const std::string own = entry.substr(at, entry.find("\n\n", at) - at);
      const bool marked = own.find("not proved outside") != std::string::npos;
      CHECK(marked == (m.outside_checks < 2));
      CHECK((marked || proofs_of(m.id) >= 2));
    }
    CHECK(mode_table(built_in_materials(), {"no such words"}).empty());
  }

  TEST_CASE("catalogue: every proof belongs to a mode") {
    const std::vector<FailureMode> modes = all_modes();
    for (const test::Source& s : test::sources()) {
      for (const std::string& proved : s.modes) {
        CAPTURE(proved);
        CHECK(std::any_of(modes.begin(), modes.end(),
                          [&](const FailureMode& m) { return test::formula_of(m.id) == proved; }));
      }
    }
  }
}
