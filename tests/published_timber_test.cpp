// Modes of a base on timber against published tables, each through the mode of the catalogue
// itself: one screw or one row, factors for wet wood and conversion set to one.

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <string>

#include <thole/check.hpp>
#include <thole/reading.hpp>

#include "support/hosts.hpp"
#include "support/published.hpp"

using namespace thole;
using namespace thole::literals;
using namespace thole::test;

namespace {

const Source& table_12k =
    proves({"wood-lateral"}, "NDS 2018, Table 12K, lag screws with a steel plate", Seen::page);
const Source& table_12j =
    proves({"wood-lateral"}, "NDS 2018, Table 12J, 1/4 in lag screw, 1/2 in wood", Seen::copy);
const Source& table_12l =
    proves({"wood-lateral"}, "NDS 2018, Table 12L, wood screw No. 10, 1/2 in wood", Seen::copy);
const Source& table_12_2a =
    proves({"wood-withdrawal"}, "NDS 2018, Table 12.2A, lag screws, an inch of thread", Seen::page);
const Source& handbook_screw =
    proves({"wood-withdrawal"}, "engineering handbook, wood screw No. 10 in G 0.45", Seen::page);
const Source& example_e7 =
    proves({"wood-tear-out"}, "NDS example E.7, erratum of 2019, a row of three bolts", Seen::page);
const Source& splitting_en =
    proves({"wood-splits"}, "EN 1995-1-1 8.1.4 (copies seen), by hand", Seen::computed);
const Source& crushing_en = proves({"wood-washer-crushing"},
                                   "EN 1995-1-1 8.5.2(2) (pages of a timber textbook seen), by "
                                   "hand",
                                   Seen::computed);

// One fastener in wood of a gravity, so far from edges and ends that nothing is reduced.
Setup one_screw(HoldBy hold, const std::string& size, double gravity) {
  Setup s = read(timber_text);
  GunwalePlate& m = s.plate();
  m.host.wood.specific_gravity = gravity;
  m.host.wood.connection = 1;
  m.host.thickness = 12.0_in;
  m.host.wood.width = 40.0_in;
  m.host.to_edge = 20.0_in;
  m.host.to_end = 100.0_in;
  Fastening& f = m.fastening;
  f.hold = hold;
  f.screw = hold == HoldBy::lag_screw ? lag_screw(size) : wood_screw(std::stoi(size));
  f.thread.diameter = f.screw->diameter;
  f.material.yield = f.material.ultimate = 200.0_ksi;  // the bending strength of the table governs
  f.holes = {{Length{}, Length{}}};
  return s;
}

// Length so that the bearing length in the wood is what the tables stand for.
void reach(Setup& s, double diameters) {
  Fastening& f = s.plate().fastening;
  f.length = s.plate().base.thickness + diameters * f.screw->diameter + 0.5 * f.screw->tip;
  f.threaded = thread_length(*f.screw, f.length);
}

void steel_plate(Setup& s, Length thickness) {
  BasePlate& b = s.plate().base;
  b.thickness = thickness;
  b.metal->aluminium = false;
  b.metal->ultimate = 45.0_ksi;  // Fe = 61,850 psi
}

}  // namespace

TEST_SUITE("published") {
  // The table prints steps of 10 lbf.
  TEST_CASE("timber: lag screws under a steel plate carry what NDS Table 12K prints") {
    const Against against(table_12k);
    struct Row {
      const char* size;
      Length plate;
      double gravity;
      bool across;
      double printed;
    };
    const Row rows[] = {{"1/4", 0.075_in, 0.50, false, 150},
                        {"5/16", 0.105_in, 0.55, false, 210},
                        {"3/8", 0.120_in, 0.50, false, 210},
                        {"5/16", 0.120_in, 0.46, true, 140}};
    for (const Row& row : rows) {
      Setup s = one_screw(HoldBy::lag_screw, row.size, row.gravity);
      steel_plate(s, row.plate);
      reach(s, 8);
      const double z = strength(s, "wood-lateral", pushed(row.across), 1.0_lbf);
      CAPTURE(row.size);
      CAPTURE(row.printed);
      // The table rounds the dowel bearing of 5/16 in to 50 psi and the result to 10 lbf.
      CHECK(std::abs(compared(z, row.printed, "lbf") - 1) * row.printed <= 5.01);
    }
  }

  TEST_CASE("timber: a base of unknown stuff counts as the side member of NDS Tables 12J and 12L") {
    Setup lag = one_screw(HoldBy::lag_screw, "1/4", 0.50);
    lag.plate().base.metal.reset();
    lag.plate().base.thickness = 0.5_in;
    reach(lag, 8);
    const auto carries = [](const Setup& s, bool across) {
      return strength(s, "wood-lateral", pushed(across), 1.0_lbf);
    };
    {
      const Against against(table_12j);
      CHECK(std::abs(compared(carries(lag, true), 80, "lbf") - 1) * 80 <= 5.01);
    }
    // Along the grain the base still counts across it: below the 120 lbf printed.
    CHECK(carries(lag, false) < 125);
    Setup screw = one_screw(HoldBy::wood_screw, "10", 0.50);
    screw.plate().base.metal.reset();
    screw.plate().base.thickness = 0.5_in;
    reach(screw, 10);
    const Against against(table_12l);
    for (const bool across : {true, false}) {
      CHECK(std::abs(compared(carries(screw, across), 90, "lbf") - 1) * 90 <= 0.5);
    }
  }

  // The handbook cuts the decimals off.
  TEST_CASE("timber: screws pull out at what the NDS prints for an inch of thread") {
    struct Row {
      HoldBy hold;
      const char* size;
      double gravity, printed, within;
    };
    const Row rows[] = {{HoldBy::lag_screw, "1/4", 0.50, 225, 0.5},
                        {HoldBy::lag_screw, "1/2", 0.55, 437, 0.5},
                        {HoldBy::lag_screw, "3/4", 0.67, 796, 0.5},
                        {HoldBy::wood_screw, "10", 0.45, 109, 1}};
    for (const Row& row : rows) {
      Setup s = one_screw(row.hold, row.size, row.gravity);
      Fastening& f = s.plate().fastening;
      f.length = 6.0_in;
      f.threaded = f.screw->tip + 1.0_in;  // all of it in the wood, the tip does not hold
      CAPTURE(row.size);
      const Against against(row.hold == HoldBy::lag_screw ? table_12_2a : handbook_screw);
      const double found = strength(s, "wood-withdrawal", pulled(), 1.0_lbf);
      CHECK(std::abs(compared(found, row.printed, "lbf") - 1) * row.printed <= row.within);
    }
  }

  TEST_CASE("timber: a row of three bolts tears out at 1350 lbf as in NDS example E.7") {
    Setup s = read(timber_text);
    GunwalePlate& m = s.plate();
    m.host.thickness = 1.5_in;
    m.host.wood.strength->shear = 150.0_psi;
    m.fastening.holes = {{-2.0_in, Length{}}, {Length{}, Length{}}, {2.0_in, Length{}}};
    const Against against(example_e7);
    const double found = strength(s, "wood-tear-out", pushed(false), 1.0_lbf);
    CHECK(compared(found, 1350, "lbf") == doctest::Approx(1).epsilon(1e-9));
  }

  // 14 b sqrt(he/(1 - he/h)) in N and mm.
  TEST_CASE("timber: a dry gunwale of C24 splits as EN 1995-1-1 8.1.4 says") {
    Setup s = read(with(timber_text, "White Oak No.1", "C24"));
    GunwalePlate& m = s.plate();
    m.host.thickness = 40.0_mm;
    m.host.wood.width = 100.0_mm;
    m.host.wood.wet = false;
    m.host.to_edge = 50.0_mm;
    m.host.wood.strength->shear = 100.0_ksi;  // the NDS form out of the way
    m.fastening.holes = {{-20.0_mm, Length{}}, {20.0_mm, Length{}}};
    const double by_hand = 14 * 40 * std::sqrt(50 / (1 - 0.5));
    const Against against(splitting_en);
    const double found = strength(s, "wood-splits", pushed(true), 1.0 * si::newton);
    CHECK(compared(found, by_hand, "N") == doctest::Approx(1).epsilon(1e-9));
  }

  // 3 fc90 pi/4 (dw^2 - d^2); C18 has 2.2 MPa (copies seen).
  TEST_CASE("timber: a washer crushes dry C18 at three times its strength across the grain") {
    Setup s = read(with(with(timber_text, "White Oak No.1", "C18"), "to_end: 4 ft",
                        "to_end: 4 ft\n    service: dry"));
    Fastening& f = s.plate().fastening;
    f.washer = Washer{"25.4 mm", 25.4_mm, 11.1_mm, 2.0_mm};
    f.thread.clearance = 11.1_mm;
    f.thread.diameter = 9.525_mm;
    const double by_hand = 3 * 2.2 * 0.25 * std::numbers::pi * (25.4 * 25.4 - 11.1 * 11.1);
    const Against against(crushing_en);
    const double found = strength(s, "wood-washer-crushing", pulled(), 1.0 * si::newton);
    CHECK(compared(found, by_hand, "N") == doctest::Approx(1).epsilon(1e-6));
    CHECK(by_hand / 4.448 == doctest::Approx(608).epsilon(0.005));
  }

  // The same strength under a plate: below each bolt as far as it is stiff, its thickness twice on
  // every side (judgement), no farther than to the edge that is nearer, nor than its part.
  TEST_CASE("timber: a plate below spreads the pull to its nearer edge and no farther than stiff") {
    Setup s = read(with(with(timber_text, "White Oak No.1", "C18"), "to_end: 4 ft",
                        "to_end: 4 ft\n    service: dry"));
    Fastening& f = s.plate().fastening;
    s.plate().host.wood.width = 100.0_mm;
    s.plate().host.to_edge = 50.0_mm;
    f.washer = Washer{"25.4 mm", 25.4_mm, 11.1_mm, 2.0_mm};
    f.thread.clearance = 11.1_mm;
    f.thread.diameter = 9.525_mm;
    const double hole = 0.25 * std::numbers::pi * 11.1 * 11.1;
    const auto found = [&](Length thickness, std::vector<PlanPoint> holes) {
      f.holes = std::move(holes);
      f.backing = Backing{};
      f.backing->thickness = thickness;
      f.backing->fore_aft = 120.0_mm;
      f.backing->athwart = 60.0_mm;
      return strength(s, "wood-washer-crushing", pulled(), 1.0 * si::newton);
    };
    const Against against(crushing_en);
    const auto same = [&](double area, double n) {
      CHECK(compared(n, 3 * 2.2 * (area - hole), "N") == doctest::Approx(1).epsilon(1e-6));
    };
    // 30 mm from each end, 20 mm from the nearer edge: 60 by 40 mm.
    same(60 * 40, found(10.0_mm, {{-30.0_mm, -10.0_mm}, {30.0_mm, -10.0_mm}}));
    same(60 * 40, found(10.0_mm, {{-30.0_mm, 10.0_mm}, {30.0_mm, 10.0_mm}}));
    // Nearer to one end: twice 20 mm, by 40 mm.
    same(40 * 40, found(10.0_mm, {{-40.0_mm, -10.0_mm}, {30.0_mm, -10.0_mm}}));
    same(40 * 40, found(10.0_mm, {{-30.0_mm, -10.0_mm}, {40.0_mm, -10.0_mm}}));
    // A thin one: 25.4 mm and twice 4 mm.
    same(33.4 * 33.4, found(2.0_mm, {{-30.0_mm, -10.0_mm}, {30.0_mm, -10.0_mm}}));
    // Three in a row, each a third of the plate.
    same(40 * 60,
         found(10.0_mm, {{-40.0_mm, Length{}}, {Length{}, Length{}}, {40.0_mm, Length{}}}));
  }
}
