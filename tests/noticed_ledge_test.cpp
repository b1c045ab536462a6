// What no other test noticed when tests/mutate changed it: ledges, their bolts and hold-downs.

#include <doctest/doctest.h>

#include <cmath>
#include <cstddef>
#include <string>
#include <vector>

#include <thole/metal_pairs.hpp>
#include <thole/metal_strength.hpp>
#include <thole/section.hpp>
#include <thole/thole.hpp>

#include "checks/board_checks.hpp"
#include "checks/board_model.hpp"
#include "support/boards.hpp"
#include "support/plates.hpp"

using namespace thole;
using namespace thole::test;

namespace {

// Nothing acts but what a test puts in.
struct Acting {
  explicit Acting(const board::Model& m) : support(m.structure.supports.size(), 0.0) {
    actions.model = &m;
    actions.support = support.data();
  }
  void push(int row, double force) { support.at(std::size_t(row)) = force; }

  std::vector<double> support;
  BoardActions actions;
};

// The ledge of the first hold-down with two bolts 50 mm either side of its middle.
std::size_t two_bolts(board::Model& m) {
  for (std::size_t side = 0; side < 2; ++side) {
    board::LedgeData& l = m.ledges.at(side);
    l.seats.clear();
    if (l.hold_downs.empty() || l.hold_downs[0] != 0) {
      l.holes.clear();
      continue;
    }
    l.holes = {{mm(-50), mm(0)}, {mm(50), mm(0)}};
    l.hold_downs = {0};
    l.growth = 1;
    l.below = 0;
    l.tension_out = l.tension_in = 0;
  }
  return m.ledges[0].holes.empty() ? 1 : 0;
}

}  // namespace

TEST_SUITE("unit") {
  TEST_CASE("noticed: a pull beyond a row of two bolts loads the outer one with more than itself") {
    // Statics about the inner bolt: (50 + 110) / 100 of the pull, the inner one is pressed.
    const Setup s = fjord_board();
    board::Model m(s, {});
    const std::size_t side = two_bolts(m);
    board::HoldDownData& h = m.hold_downs[0];
    h.from_root = 0;
    const auto outer = [&](double forward) {
      h.forward = forward;
      Acting a(m);
      a.push(h.row, 1000);
      checks::complete_ledges(a.actions);
      CHECK(a.actions.ledge_tension[side] == 0);
      return a.actions.ledge_shear[side];
    };
    CHECK(outer(0.110) == doctest::Approx(1600));
    CHECK(outer(-0.110) == doctest::Approx(1600));
    CHECK(outer(0.050) == doctest::Approx(1000));
    CHECK(outer(0.020) == doctest::Approx(700));
    CHECK(outer(0) == doctest::Approx(500));
  }

  TEST_CASE("noticed: the outer bolt of an angle holds its share of what turns the leg") {
    // 20 of tension in each bolt per moment when both share alike, as is given; 30 mm from the
    // root: 1000 N x 0.03 m x 20 x 1.6 of the even share.
    const Setup s = fjord_board();
    board::Model m(s, {});
    const std::size_t side = two_bolts(m);
    m.ledges.at(side).tension_in = 20;
    board::HoldDownData& h = m.hold_downs[0];
    h.from_root = 0.030;
    h.forward = 0.110;
    Acting a(m);
    a.push(h.row, 1000);
    checks::complete_ledges(a.actions);
    CHECK(a.actions.ledge_tension[side] == doctest::Approx(1000 * 0.030 * 20 * 2 * 1.6));
  }

  TEST_CASE("noticed: a push along the ledge turns its row of bolts below the seat") {
    // 200 N 40 mm above the row: 8 N m over 100 mm between the bolts; half of the push on each.
    const Setup s = fjord_board();
    board::Model m(s, {});
    const std::size_t side = two_bolts(m);
    m.ledges.at(side).below = 0.040;
    board::HoldDownData& h = m.hold_downs[0];
    h.from_root = 0;
    h.forward = 0;
    REQUIRE(h.shank_y >= 0);
    Acting a(m);
    a.push(h.row, 1000);
    a.push(h.shank_y, 200);
    checks::complete_ledges(a.actions);
    CHECK(a.actions.ledge_shear[side] == doctest::Approx(std::hypot(500.0 + 80, 100.0)));
  }

  TEST_CASE("noticed: the washer of the first support of a board is checked as any other") {
    const Setup s = fjord_board();
    board::Model m(s, {});
    for (std::size_t i = 0; i < m.hold_downs.size(); ++i) {
      for (board::HoldDownData& h : m.hold_downs) h.row = 1;
      board::HoldDownData& h = m.hold_downs[i];
      h.row = 0;
      h.crush = 5000;
      h.dent = 4000;
      Acting a(m);
      a.push(0, 1000);
      for (const auto check : {checks::washer_crushing, checks::washer_dent}) {
        const Use u = check(a.actions, Category::occasional);
        CHECK(u.fastener == int(i));
        CHECK(u.demand.si == doctest::Approx(1000));
        CHECK(u.strength.si == doctest::Approx(check == checks::washer_dent ? 4000 : 5000));
      }
    }
  }

  TEST_CASE("noticed: a load on an angle counts its distances from both ends of it") {
    // Angle 250 mm long with a leg of 60 mm: the hold-downs at 75 mm of the middle are 50 mm from
    // the one end and 200 mm from the other.
    const Setup s = fjord_board();
    const board::Model m(s, {});
    REQUIRE(m.hold_downs.size() == 4);
    for (const board::HoldDownData& h : m.hold_downs) {
      REQUIRE(h.from_root > 0);
      CHECK(h.leg_lift ==
            doctest::Approx(ledge_leg_root_moment(h.from_root / 0.060, 50.0 / 60, 200.0 / 60)));
    }
    int off_middle = 0;
    for (const board::LedgeData& l : m.ledges) {
      REQUIRE_FALSE(l.seats.empty());
      for (const board::SeatPoint& p : l.seats) {
        if (p.from_root < 1e-6) {  // at the root nothing bends the leg
          CHECK(p.leg_down == 0);
          continue;
        }
        const double near = 0.125 - std::abs(p.y);
        CHECK(p.leg_down == doctest::Approx(ledge_leg_root_moment(p.from_root / 0.060, near / 0.060,
                                                                  (0.250 - near) / 0.060)));
        if (std::abs(p.y) > 0.01) ++off_middle;
      }
      // A quarter of the square of the thickness times yield: 6 mm, 250 MPa, per width.
      CHECK(l.leg_moment == doctest::Approx(0.25 * 0.006 * 0.006 * 250e6));
    }
    CHECK(off_middle > 0);
  }

  TEST_CASE("noticed: holes through a tube take out of both walls what lies about the middle") {
    // 200 x 60 x 4 mm with two holes side by side: outside less inside less the holes.
    Setup s = fjord_board();
    BoardPiece& b = s.board().board;
    b.form = BoardForm::rectangular_tube;
    b.width = mm(200);
    b.thickness = mm(60);
    b.wall = mm(4);
    b.wood.reset();
    b.wood_strength.reset();
    b.metal = built_in_materials().metal("6061-T6 extrusion");
    const board::Model m(s, {});
    const HoldDown& h = s.board().hold_downs[0];
    const double d = h.hole.value() * 1000;
    const double at = s.board().station(h.place).value();
    const double flat = (200.0 * 60 * 60 * 60 - 192.0 * 52 * 52 * 52) / 12;
    const double edge = (60.0 * 200 * 200 * 200 - 52.0 * 192 * 192 * 192) / 12;
    const double area = 200 * 60 - 192 * 52;
    const double flat_left = flat - 2 * (2 * d) * (4 * 28.0 * 28 + 4.0 * 4 * 4 / 12);
    const double edge_left = edge - 2 * 4 * 2 * (d * 75 * 75 + d * d * d / 12);
    int seen = 0;
    for (const board::Cut& cut : m.cuts) {
      if (!cut.hole || std::abs(cut.x - at) > 1e-6) continue;
      ++seen;
      CHECK(cut.net_flat == doctest::Approx(flat / flat_left).epsilon(1e-3));
      CHECK(cut.net_edge == doctest::Approx(edge / edge_left).epsilon(1e-3));
      CHECK(cut.net_area == doctest::Approx(area / (area - 2 * 4 * 2 * d)).epsilon(1e-3));
    }
    CHECK(seen > 0);
  }

  TEST_CASE("noticed: copper in treated wood is told where aluminium may touch it") {
    Setup s = fjord_board();
    s.board().board.treated = true;
    for (Ledge* l : {&s.board().port, &s.board().starboard}) {
      l->metal = built_in_materials().metal("316 stainless");
    }
    for (Gear& g : s.gear) g.foot->plate.reset();
    const std::string words = "copper in treated wood eats aluminium";
    CHECK_FALSE(says(pair_cautions(s), words));
    // A gunwale of unknown make on the one side or the other.
    for (Ledge* l : {&s.board().port, &s.board().starboard}) {
      Setup other = s;
      Ledge& there = l == &s.board().port ? other.board().port : other.board().starboard;
      there.kind = LedgeKind::gunwale_top;
      there.metal.reset();
      CHECK(says(pair_cautions(other), words));
    }
  }

  TEST_CASE("noticed: a hold-down off its seat bends as a cantilever and pulls as well") {
    Setup s = fjord_board();
    for (HoldDown& h : s.board().hold_downs) h.standoff = mm(20);
    const board::Model m(s, {});
    const board::HoldDownData& h = m.hold_downs[0];
    REQUIRE(h.row >= 0);
    REQUIRE(h.shank_y >= 0);
    Acting a(m);
    a.push(h.row, 0.3 * h.tension);
    a.push(h.shank_y, 200);
    // M8: root 6.466 mm, its full plastic moment d^3 / 6 x yield.
    const double plastic =
        6.466e-3 * 6.466e-3 * 6.466e-3 / 6 * s.board().hold_downs[0].material.yield.value();
    const Use use = checks::hold_down_bending(a.actions, Category::everyday);
    CHECK(use.fastener == 0);
    CHECK(use.demand.si == doctest::Approx(200 * 0.020 / plastic + 0.3 * 0.3).epsilon(1e-3));
    CHECK(use.strength.si == 1.0);
  }

  TEST_CASE("noticed: pulls side by side bend the root of the leg to and fro by what they share") {
    const Setup s = fjord_board();
    board::Model m(s, {});
    REQUIRE(m.ledges[0].hold_downs.size() == 2);
    m.ledges[1].leg_moment = 0;
    for (const int i : m.ledges[0].hold_downs) {
      board::HoldDownData& h = m.hold_downs[std::size_t(i)];
      h.leg_lift = 3;
      h.from_root = 0.050;
    }
    const int first = m.ledges[0].hold_downs[0], second = m.ledges[0].hold_downs[1];
    m.hold_downs[std::size_t(first)].forward = 0;
    m.hold_downs[std::size_t(second)].forward = 0.005;
    Acting a(m);
    for (FatigueLife::Way& w : a.actions.life.ways) w.allowed.fill(Stress::from_value(1e8));
    a.push(m.hold_downs[std::size_t(first)].row, 1000);
    a.push(m.hold_downs[std::size_t(second)].row, 500);
    // The second acts on the first over 50 mm / 3: 1 - 5 x 3 / 50 = 0.7 of it.
    const double t = s.board().ledge(Side::port).leg_thickness.value();
    const Use use = checks::ledge_leg_fatigue(a.actions, Category::everyday);
    CHECK(use.demand.si == doctest::Approx(6 * 3 * (1000 + 0.7 * 500) / (t * t)));
  }

  TEST_CASE(
      "noticed: pulls near the root of a leg count as at 0.05 of it and beyond that as they are") {
    const auto at = [](double c) { return ledge_leg_line_moment(c, 1.15, 2.5, 2.5); };
    CHECK(at(0.0485) == doctest::Approx(at(0.05)).epsilon(1e-9));
    CHECK(at(0.051) / at(0.05) == doctest::Approx(1.019).epsilon(1e-3));
    CHECK(at(0.0525) / at(0.05) == doctest::Approx(1.0476).epsilon(1e-3));
  }
}
