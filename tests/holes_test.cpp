// Hole patterns: places as the setup has them, drills by name from published charts, distances by
// hand, and no pattern the wrong way round.

#include <thole/assessment.hpp>
#include <thole/holes.hpp>

#include <doctest/doctest.h>

#include <cmath>
#include <fstream>
#include <sstream>
#include <string>

#include "support/boards.hpp"
#include "support/hosts.hpp"
#include "support/plates.hpp"

using namespace thole;
using namespace thole::literals;
using thole::test::fjord_board;
using thole::test::jon_boat;
using thole::test::mm;
using thole::test::read;
using thole::test::says;
using thole::test::with;

namespace {

std::vector<HoleSet> sets_of(const Setup& s) { return hole_sets(s, built_in_materials()); }

HoleSet set_of(const Setup& s, const std::string& name) {
  for (const HoleSet& set : sets_of(s)) {
    if (set.name == name) return set;
  }
  FAIL("no set " << name);
  return {};
}

Drill drill_of(const HoleSet& set, const std::string& use) {
  for (const Drill& d : set.drills) {
    if (d.use.starts_with(use)) return d;
  }
  FAIL("no drill for " << use);
  return {};
}

Setup example(const std::string& name) {
  std::ifstream file(THOLE_ROOT "/examples/" + name + ".yaml");
  std::stringstream text;
  text << file.rdbuf();
  return read(text.str());
}

double inches(Length v) { return v.value() / 0.0254; }

const char* const holes_line = "    holes: {fore_aft: 2 1/4 in, athwart: 1 1/8 in}\n";

std::string threaded(const std::string& thread) {
  return with(jon_boat, "thread: 1/4-20", "thread: " + thread);
}

void same_place(const PlanPoint& a, double x, double y) {
  CHECK(std::abs(a.x.value() - x) < 1e-9);
  CHECK(std::abs(a.y.value() - y) < 1e-9);
}

}  // namespace

TEST_SUITE("unit") {
  TEST_CASE("holes: tap drills are those of published charts") {
    // Machinist's tap drill charts, 75 % thread: two agree for each but M6 and 1/4-20 (memory).
    struct Row {
      const char* thread;
      const char* name;
      double inch;
    };
    for (const Row& r : {Row{"1/4-20", "No. 7", 0.201}, Row{"'#10-24'", "No. 25", 0.1495},
                         Row{"5/16-18", "letter F", 0.257}, Row{"M6", "5.0 mm", 5.0 / 25.4},
                         Row{"M5", "4.2 mm", 4.2 / 25.4}}) {
      const Drill d = drill_of(set_of(read(threaded(r.thread)), "gunwale wall"), "tap drill");
      CHECK(d.name == r.name);
      CHECK(inches(d.diameter) == doctest::Approx(r.inch).epsilon(1e-6));
    }
  }

  TEST_CASE("holes: clearance drills go by fraction number or letter") {
    // ASME B18.2.8 normal and close fit; the drills of these sizes are on every chart: 0.281 is
    // 9/32, 0.266 is letter H or 17/64, 0.221 is No. 2, 0.206 is No. 5.
    const HoleSet quarter = set_of(read(jon_boat), "base plate");
    CHECK(drill_of(quarter, "clearance").name == "9/32 in");
    CHECK(drill_of(quarter, "in its place").name == "17/64 in");
    const HoleSet ten = set_of(read(threaded("'#10-24'")), "base plate");
    CHECK(drill_of(ten, "clearance").name == "No. 2");
    CHECK(drill_of(ten, "in its place").name == "No. 5");
    const HoleSet six = set_of(read(threaded("M6")), "base plate");
    CHECK(drill_of(six, "clearance").name == "6.6 mm");
    CHECK(drill_of(six, "in its place").name == "6.4 mm");
  }

  TEST_CASE("holes: drills stand in the order of use and a tap is no drill") {
    const HoleSet wall = set_of(read(jon_boat), "gunwale wall");
    REQUIRE(wall.drills.size() == 3);
    CHECK(wall.drills[0].use == "pilot");
    CHECK(wall.drills[1].use == "tap drill");
    CHECK(wall.drills[2].use == "tap");
    CHECK(wall.drills[0].diameter < wall.drills[1].diameter);
    // The hole is as wide as its drill, not as its screw.
    for (const Hole& h : wall.holes) CHECK(inches(h.diameter) == doctest::Approx(0.201));
  }

  TEST_CASE("holes: the number and letter drills are in order and as a chart has them") {
    const MaterialLibrary& library = built_in_materials();
    double before = 1;
    for (int n = 1; n <= 52; ++n) {
      const Entry* e = library.find("drill", "No. " + std::to_string(n));
      REQUIRE(e != nullptr);
      const double d = e->values.at("diameter").measure.si;
      CHECK(d < before);
      before = d;
    }
    before = 0;
    for (char c = 'A'; c <= 'Z'; ++c) {
      const Entry* e = library.find("drill", std::string("letter ") + c);
      REQUIRE(e != nullptr);
      const double d = e->values.at("diameter").measure.si;
      CHECK(d > before);
      before = d;
    }
    // Machinery's Handbook, drill sizes (memory): No. 30 is 0.1285 in, letter E a quarter inch.
    CHECK(library.find("drill", "No. 30")->values.at("diameter").measure.si ==
          doctest::Approx(0.1285 * 0.0254));
    CHECK(library.find("drill", "letter E")->values.at("diameter").measure.si ==
          doctest::Approx(0.25 * 0.0254));
  }

  TEST_CASE("holes: a plate has its holes where the setup has them in every piece") {
    const Setup s = read(with(with(jon_boat, "hold: tapped", "hold: tapped_bar"), holes_line,
                              std::string(holes_line) +
                                  "    behind: {material: 6061-T6 extrusion, thickness: 1/4 in, "
                                  "fore_aft: 4 in, athwart: 1 3/4 in}\n"));
    const auto sets = sets_of(s);
    REQUIRE(sets.size() == 3);
    for (const HoleSet& set : sets) {
      REQUIRE(set.holes.size() == 4);
      for (std::size_t i = 0; i < 4; ++i) {
        const PlanPoint& p = s.plate().fastening.holes[i];
        CHECK(set.holes[i].number == int(i) + 1);
        same_place(set.holes[i].at, p.x.value(), p.y.value());
      }
    }
    CHECK(drill_of(sets[0], "clearance").name == "9/32 in");
    CHECK(drill_of(sets[1], "tap drill").name == "No. 7");
    CHECK(sets[1].name == "bar behind the wall");
  }

  TEST_CASE("holes: distances of a plate are those worked by hand") {
    // Flat 2 in, base in its middle, holes 9/16 in to either side: 7/16 in to each bend, which is
    // no free edge. Rows 1 1/8 in apart; 2.5 x 1/4 in asked for. Base 1 7/8 in wide: 3/8 in to its
    // edge, 1.5 x 1/4 in asked for.
    const HoleSet wall = set_of(read(jon_boat), "gunwale wall");
    int bends = 0;
    for (const EdgeNote& e : wall.edges) {
      if (e.words.find("bend") != std::string::npos && inches(e.distance) < 1) {
        CHECK(inches(e.distance) == doctest::Approx(7.0 / 16));
        CHECK_FALSE(e.least.has_value());
        ++bends;
      }
      if (e.words.starts_with("to the middle")) {
        CHECK(inches(e.distance) == doctest::Approx(1.125));
        CHECK(inches(*e.least) == doctest::Approx(0.625));
        CHECK_FALSE(e.is_short());
      }
    }
    CHECK(bends == 4);
    for (const EdgeNote& e : set_of(read(jon_boat), "base plate").edges) {
      if (e.words != "to the edge of the plate") continue;
      CHECK(inches(e.distance) == doctest::Approx(0.375));
      CHECK(inches(*e.least) == doctest::Approx(0.375));
      CHECK_FALSE(e.is_short());
    }
  }

  TEST_CASE("holes: a hole too near a free edge is told short") {
    // Open lip of 2 in hung inboard, base in the middle, holes 0.8 in out: 0.2 in to the free edge,
    // 0.375 in asked for.
    std::string text = with(jon_boat, "form: closed_section", "form: open_lip\n    root: inboard");
    text = with(text, "athwart: 1 1/8 in}", "athwart: 1.6 in}");
    const HoleSet wall = set_of(read(text), "gunwale wall");
    int found = 0;
    for (const EdgeNote& e : wall.edges) {
      if (e.words != "to the outboard free edge" || inches(e.distance) > 1) continue;
      CHECK(inches(e.distance) == doctest::Approx(0.2));
      CHECK(inches(*e.least) == doctest::Approx(0.375));
      CHECK(e.is_short());
      ++found;
    }
    CHECK(found == 2);
  }

  TEST_CASE("holes: a board has its holes where the setup has them") {
    const Setup s = example("fjord-skiff");
    const CrossBoard& b = s.board();
    int seen = 0;
    for (const HoleSet& set : sets_of(s)) {
      const bool port = set.name.find("port") != std::string::npos;
      for (const Hole& h : set.holes) {
        if (set.name.ends_with("hold-downs") || set.name.ends_with("level leg")) {
          const HoldDown& d = b.hold_downs[std::size_t(h.number) - 1];
          same_place(h.at, d.place.forward.value(), d.place.outboard.value());
          CHECK(h.name == d.name);
          CHECK((d.place.side == Side::port) == port);
        } else if (set.name.ends_with("upright leg and hull")) {
          // Three bolts, 90 mm apart, 35 mm below the seat.
          same_place(h.at, 0.090 * (h.number - 2), -0.035);
        } else if (set.name.starts_with("board, foot")) {
          const PlanPoint& p = s.gear[port ? 0 : 1].foot->holes[std::size_t(h.number) - 1];
          same_place(h.at, p.x.value(), 0.120 + p.y.value());
        } else if (set.name.starts_with("plate under")) {
          const PlanPoint& p = s.gear[0].foot->holes[std::size_t(h.number) - 1];
          same_place(h.at, p.x.value(), p.y.value());
        } else {
          CHECK(set.name.starts_with("plate behind the hull"));
          same_place(h.at, 0.090 * (h.number - 2), 0);
        }
        ++seen;
      }
    }
    CHECK(seen == 2 * (2 + 2 + 3 + 4) + 4 + 3);
  }

  TEST_CASE("holes: hold-downs ask for 4 D to the edge and 7 D to the end of a wooden board") {
    // NDS Tables 12.5.1A and C. M8 at 75 mm on a plank of 198 mm: 24 mm, 32 asked for; its end lies
    // 200 - 30 = 170 mm away, 56 asked for.
    const HoleSet set = set_of(example("fjord-skiff"), "board, port end, hold-downs");
    for (const EdgeNote& e : set.edges) {
      if (e.words == "to the edge of the board") {
        CHECK(e.distance.value() == doctest::Approx(0.024));
        CHECK(e.least->value() == doctest::Approx(0.032));
        CHECK(e.is_short());
      }
      if (e.words == "to the end of the board") {
        CHECK(e.distance.value() == doctest::Approx(0.170));
        CHECK(e.least->value() == doctest::Approx(0.056));
        CHECK_FALSE(e.is_short());
      }
    }
    CHECK(set.window.has_value());
    CHECK(set.window->high.y - set.window->low.y < mm(250));
  }

  TEST_CASE("holes: bolts of a foot near the end of a board are told though no check asks") {
    // 120 + 55 mm outboard of the ledge's edge, the board ends at 200 mm: 25 mm, below 7 x 8 mm.
    const HoleSet set = set_of(example("fjord-skiff"), "board, foot of the port downrigger");
    CHECK(says(set.notes, "the wood may split"));
    for (const EdgeNote& e : set.edges) CHECK_FALSE(e.least.has_value());
    // The verdict tells it as well, and no longer where the bolts lie far enough in.
    const auto told = [](const Setup& s) {
      return says(assess(s).not_checked, "splitting of the board at a gear's bolts");
    };
    Setup s = example("fjord-skiff");
    CHECK(told(s));
    for (Gear& g : s.gear) g.place.outboard = mm(50);  // 95 mm to the end, 62 mm to the edge
    for (Gear& g : s.gear) {
      for (PlanPoint& p : g.foot->holes) p.x = 0.5 * p.x;
    }
    CHECK_FALSE(told(s));
  }

  TEST_CASE("holes: the two sides of a boat are mirror images of each other") {
    const auto sets = sets_of(example("fjord-skiff"));
    int pairs = 0;
    for (const HoleSet& port : sets) {
      const std::size_t at = port.name.find("port");
      if (at == std::string::npos || port.name.find("plate") != std::string::npos) continue;
      std::string other = port.name;
      other.replace(at, 4, "starboard");
      for (const HoleSet& s : sets) {
        if (s.name != other) continue;
        ++pairs;
        CHECK(port.y_left);
        CHECK_FALSE(s.y_left);
        REQUIRE(s.holes.size() == port.holes.size());
        for (std::size_t i = 0; i < s.holes.size(); ++i)
          same_place(s.holes[i].at, port.holes[i].at.x.value(), port.holes[i].at.y.value());
      }
    }
    CHECK(pairs == 4);
  }

  TEST_CASE("holes: a plate is drawn for the side of the file and says so") {
    const Setup none = read(jon_boat);
    CHECK(says({set_of(none, "gunwale wall").other_side}, "does not say which side"));
    CHECK(set_of(none, "gunwale wall").y_left);
    const Setup starboard = example("reservoir-jon-boat");
    CHECK_FALSE(set_of(starboard, "gunwale wall").y_left);
    CHECK(says({set_of(starboard, "gunwale wall").other_side}, "starboard"));
  }

  TEST_CASE("holes: like plates of both sides are one piece made twice") {
    for (const HoleSet& set : sets_of(example("fjord-skiff"))) {
      if (set.name.starts_with("plate")) CHECK(set.made->count == 2);
      if (set.name.ends_with("hold-downs")) CHECK_FALSE(set.made.has_value());
    }
  }

  TEST_CASE("holes: what lies behind is asked wherever the boat itself is drilled") {
    for (const char* const name : {"fjord-skiff", "reservoir-jon-boat", "bay-boat-best-fix"}) {
      int into_boat = 0;
      for (const HoleSet& set : sets_of(example(name))) {
        const bool boat = set.name.starts_with("gunwale") ||
                          set.name.find("and hull") != std::string::npos ||
                          set.name.find("gunwale top") != std::string::npos;
        CHECK(set.behind.empty() == !boat);
        if (!boat) continue;
        ++into_boat;
        for (const char* const what :
             {"fuel tank", "wires", "cables", "flotation", "outer hull", "trap water"}) {
          CHECK(says(set.behind, what));
        }
        CHECK(says(set.notes, "stop collar"));
      }
      CHECK(into_boat > 0);
    }
  }

  TEST_CASE("holes: U-bolts over a cleat are marked and nothing is drilled into the boat") {
    const auto sets = sets_of(example("highland-dinghy"));
    REQUIRE(sets.size() == 1);
    CHECK(sets[0].name == "bracket plate");
    for (const Hole& h : sets[0].holes) CHECK(h.marked_only);
    CHECK(says(sets[0].notes, "there already"));
  }

  TEST_CASE("holes: screws in wood have lead holes within the shares of the code") {
    // NDS 12.1.4.2 (memory): lag of 5/16 in: shank hole 5/16, thread hole 40 to 70 % of it for
    // light wood, 60 to 75 % for wood of 0.5 to 0.6.
    const Setup s = read(thole::test::with_screws("lag_screw", "5/16", "2 1/2 in"));
    const double g = s.plate().host.wood.specific_gravity;
    const HoleSet set = set_of(s, "gunwale, timber");
    const double lead = inches(drill_of(set, "lead hole").diameter) / 0.3125;
    const double low = g > 0.6 ? 0.65 : g > 0.5 ? 0.60 : 0.40;
    const double high = g > 0.6 ? 0.85 : g > 0.5 ? 0.75 : 0.70;
    CHECK(lead >= low);
    CHECK(lead <= high);
    CHECK(drill_of(set, "hole for the shank").name == "5/16 in");
    // 2 1/2 in less a base of 1/4 in: the drill must not come out below.
    CHECK(says(set.notes, "no deeper than the screw goes, 2 1/4 in (57.2 mm)"));
  }

  TEST_CASE("holes: fine threads without a table row get the tap drill of the charts") {
    // Tap drill charts, 75 % thread (memory): letter I, 0.272 in, and letter Q, 0.332 in. The next
    // fractions up, 9/32 and 11/32 in, would leave 58 % of a thread: 0.0312 of 0.0541 in.
    for (const auto& [thread, name] :
         {std::pair("5/16-24", "letter I"), std::pair("3/8-24", "letter Q")}) {
      const HoleSet wall = set_of(read(threaded(thread)), "gunwale wall");
      CHECK(drill_of(wall, "tap drill").name == name);
      for (const Hole& h : wall.holes) CHECK(h.diameter == drill_of(wall, "tap drill").diameter);
    }
  }

  TEST_CASE("holes: other fasteners go on with the numbers and keep their own drill") {
    // Numbers as the checks have them: those of the second kind follow the first.
    const Setup s =
        read(thole::test::with(thole::test::jon_boat, holes_line,
                               "    holes: {points: [[-1 1/8 in, -0.5 in], [1 1/8 in, -0.5 in]]}\n"
                               "  also_fastened:\n    hold: through_bolt\n    thread: M10\n"
                               "    material: A4-70\n"
                               "    holes: {points: [[-1 in, 0.4 in], [1 in, 0.4 in]]}\n"));
    const HoleSet other = set_of(s, "gunwale wall, other fasteners");
    REQUIRE(other.holes.size() == 2);
    CHECK(other.holes[0].number == 3);
    CHECK(other.holes[1].number == 4);
    const HoleSet base = set_of(s, "base plate");
    REQUIRE(base.holes.size() == 4);
    for (const Drill& d : base.drills) {
      CHECK(d.only == (d.name.ends_with("mm") ? std::vector{3, 4} : std::vector{1, 2}));
    }
    // 1.5 D of the screw that goes through: 3/8 in, and 15 mm.
    for (const EdgeNote& e : base.edges) {
      if (e.words != "to the edge of the plate") continue;
      CHECK(e.least->value() == doctest::Approx(e.number > 2 ? 0.015 : 0.375 * 0.0254));
    }
  }

  TEST_CASE("holes: a rivet's drill lies between the rivet and 4 percent more") {
    const auto rivet = [](const std::string& diameter) {
      std::string text = with(jon_boat, "hold: tapped\n    thread: 1/4-20",
                              "hold: rivet\n    rivet: {kind: solid, diameter: " + diameter +
                                  ", tension: {is: 300 lbf, source: a test}}");
      return drill_of(set_of(read(text), "gunwale wall"), "hole for the rivet");
    };
    // Rivet charts (common practice): No. 30 for 1/8 in, No. 20 for 5/32 in.
    CHECK(rivet("1/8 in").name == "No. 30");
    CHECK(rivet("5/32 in").name == "No. 20");
    const Drill d = rivet("3/16 in");
    CHECK(inches(d.diameter) > 0.1875);
    CHECK(inches(d.diameter) <= 0.1875 * 1.04);
  }

  TEST_CASE("holes: a guessed place is told") {
    CHECK_FALSE(set_of(read(jon_boat), "gunwale wall").assumed);
    CHECK(set_of(read(with(jon_boat, "flat: 2 in", "flat: {is: 2 in, known: assumed}")),
                 "gunwale wall")
              .assumed);
  }

  TEST_CASE("holes: random boards keep every hole inside its piece") {
    thole::test::BoardDice dice(20261127);
    for (int n = 0; n < thole::test::boards(40); ++n) {
      const Setup s = thole::test::random_board(dice);
      if (!thole::test::is_valid(s)) continue;
      for (const HoleSet& set : sets_of(s)) {
        for (const Hole& h : set.holes) {
          CHECK(h.at.x >= set.part[0].x);
          CHECK(h.at.x <= set.part[2].x);
          CHECK(h.at.y >= set.part[0].y);
          CHECK(h.at.y <= set.part[2].y);
          if (!set.window) continue;
          CHECK(h.at.y >= set.window->low.y);
          CHECK(h.at.y <= set.window->high.y);
        }
      }
    }
  }
}
