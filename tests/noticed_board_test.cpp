// What no other test noticed when tests/mutate changed it: cross-boards, each part by hand.

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <numbers>
#include <string>
#include <vector>

#include <thole/thole.hpp>
#include <thole/towed_line.hpp>
#include <thole/waves.hpp>

#include "checks/board_checks.hpp"
#include "checks/board_model.hpp"
#include "core/board_engine.hpp"
#include "support/boards.hpp"

using namespace thole;
using namespace thole::test;

namespace {

constexpr double pi = std::numbers::pi;

// A board of 6061-T6, sizes in mm.
Setup metal_board_of(BoardForm form, double width, double depth, double wall) {
  Setup s = fjord_board();
  BoardPiece& b = s.board().board;
  b.form = form;
  b.width = mm(width);
  b.thickness = mm(depth);
  b.wall = mm(wall);
  b.wood.reset();
  b.wood_strength.reset();
  b.metal = built_in_materials().metal("6061-T6 extrusion");
  return s;
}

bool judged(const Setup& s) { return checks::metal_board(s).standing == Standing::applies; }

}  // namespace

TEST_SUITE("unit") {
  TEST_CASE("noticed: every form of a metal board has the area of its drawing") {
    const auto area = [](BoardForm form, double width, double depth, double wall) {
      const Setup s = metal_board_of(form, width, depth, wall);
      return board::Model(s, {}).shape.area * 1e6;
    };
    CHECK(area(BoardForm::rectangular_tube, 100, 50, 4) == doctest::Approx(100 * 50 - 92 * 42));
    CHECK(area(BoardForm::round_tube, 60, 60, 4) == doctest::Approx(pi / 4 * (3600 - 2704)));
    // 100 across, flanges 50 over the web.
    CHECK(area(BoardForm::channel_down, 100, 50, 4) == doctest::Approx(100 * 4 + 2 * 46 * 4));
    CHECK(area(BoardForm::channel_up, 100, 50, 4) == doctest::Approx(100 * 4 + 2 * 46 * 4));
  }

  TEST_CASE("noticed: walls beyond the compact limits of a metal board have no verdict") {
    // Aluminum Design Manual, 6061-T6, from memory: plates held at both edges b/t 21, at one 6.7,
    // round tubes D/t 50.
    CHECK(judged(metal_board_of(BoardForm::rectangular_tube, 22.9 * 4, 50, 4)));
    CHECK_FALSE(judged(metal_board_of(BoardForm::rectangular_tube, 23.1 * 4, 50, 4)));
    CHECK_FALSE(judged(metal_board_of(BoardForm::rectangular_tube, 50, 23.1 * 4, 4)));
    CHECK(judged(metal_board_of(BoardForm::round_tube, 49.9 * 2, 49.9 * 2, 2)));
    CHECK_FALSE(judged(metal_board_of(BoardForm::round_tube, 50.1 * 2, 50.1 * 2, 2)));
    for (const BoardForm form : {BoardForm::channel_down, BoardForm::channel_up}) {
      CHECK(judged(metal_board_of(form, 80, 7.6 * 4, 4)));
      CHECK_FALSE(judged(metal_board_of(form, 80, 7.8 * 4, 4)));
      CHECK(judged(metal_board_of(form, 22.9 * 4, 30, 4)));
      CHECK_FALSE(judged(metal_board_of(form, 23.1 * 4, 30, 4)));
    }
  }

  TEST_CASE("noticed: a metal leg is squashed and buckles by Rankine and Euler") {
    Setup s = fjord_board();
    Leg l = leg(Side::port, mm(40), mm(0), mm(600));
    l.wood.reset();
    l.wood_strength.reset();
    l.metal = built_in_materials().metal("6061-T6 extrusion");
    l.fore_aft = mm(40);
    l.athwart = mm(30);
    const double yield = l.metal->yield.value();
    const double modulus = l.metal->modulus.value();
    for (const bool tube : {false, true}) {
      for (const bool held : {false, true}) {
        CAPTURE(tube);
        CAPTURE(held);
        l.wall = tube ? std::optional<Length>(mm(3)) : std::nullopt;
        l.foot_held = held;
        s.board().legs = {l};
        const board::Model m(s, {});
        REQUIRE(m.legs.size() == 1);
        const double area = tube ? 40 * 30 - 34 * 24 : 40 * 30;                // mm^2
        const double second = (40 * 27e3 - (tube ? 34 * 13824.0 : 0.0)) / 12;  // mm^4
        const double squash = area * 1e-6 * yield;
        CHECK(m.legs[0].crushing == doctest::Approx(squash));
        // Pinned at both ends where the foot is held, else free to sway (2.1 for 2 in practice).
        const double length = (held ? 1.0 : 2.1) * 0.6;
        const double euler = pi * pi * modulus * second * 1e-12 / (length * length);
        CHECK(m.legs[0].buckling == doctest::Approx(squash * euler / (squash + euler)));
      }
    }
  }

  TEST_CASE("noticed: a hold-down with a free shank is bent to and fro besides its pull") {
    Setup s = fjord_board();
    for (HoldDown& h : s.board().hold_downs) h.standoff = mm(20);
    const board::Model m(s, {});
    BoardActions a;
    a.model = &m;
    for (FatigueLife::Way& w : a.life.ways) w.allowed.fill(Stress::from_value(1e8));
    std::vector<double> support(m.structure.supports.size(), 0.0);
    const board::HoldDownData& d = m.hold_downs[0];
    REQUIRE(d.row >= 0);
    REQUIRE(d.shank_y >= 0);
    support[std::size_t(d.row)] = 1000;
    support[std::size_t(d.shank_y)] = 200;
    a.support = support.data();
    // M8: ISO 898-1 stress area 36.6 mm^2; root 8 - 1.22687 x 1.25 = 6.466 mm.
    const double root = 6.466e-3;
    const double bent = 200 * 0.020 / (pi * root * root * root / 32);
    const Use use = checks::hold_down_fatigue(a, Category::everyday);
    CHECK(use.fastener == 0);
    CHECK(use.demand.si == doctest::Approx(1000 / 36.6e-6 + 2 * bent).epsilon(1e-3));
    CHECK(use.strength.si == doctest::Approx(1e8));
  }

  TEST_CASE("noticed: the factor in waves and the acceleration in its words belong together") {
    // F x the towed pull is 1 + c A, both printed rounded up to hundredths.
    Setup s = fjord_board();
    BoatData b;
    b.length = Length::from_value(4.5);
    b.beam = Length::from_value(1.9);
    b.freeboard = Length::from_value(0.6);
    b.loaded_mass = 450.0 * si::kilogram;
    b.wave_height = Length::from_value(1.0);
    s.boat = b;
    int seen = 0;
    for (const LoadCase& c : load_cases(s)) {
      if (c.kind != "trolling-in-waves") continue;
      const std::string words = "the tip accelerates by ";
      const std::size_t at = c.why.find(words);
      REQUIRE(at != std::string::npos);
      const double factor = std::stod(c.why);
      const double acceleration = std::stod(c.why.substr(at + words.size()));
      const double of_ball =
          wave_coefficient(s.gear[0].downrigger->ball_density, sea_water().density);
      CHECK(factor > 2);
      CHECK(std::abs(factor - (1 + of_ball * acceleration)) < 0.01 * (1 + of_ball));
      ++seen;
    }
    CHECK(seen == 2);
  }

  TEST_CASE("noticed: a leg beyond two metres and a washer that its hole swallows are refused") {
    Setup s = fjord_board();
    s.board().legs.push_back(leg(Side::port, mm(-200), mm(0), mm(1990)));
    CHECK(is_valid(s));
    s.board().legs[0].length = mm(2010);
    CHECK_FALSE(is_valid(s));
    s = fjord_board();
    HoldDown& h = s.board().hold_downs[0];
    h.hole = mm(20);
    h.washer = mm(21);
    CHECK(is_valid(s));
    h.washer = mm(19);
    CHECK_FALSE(is_valid(s));
  }

  TEST_CASE("noticed: in a wave a board is looked at as much lighter as it is heavier") {
    const Setup s = fjord_board();
    const board::Engine engine(s);
    int waves = 0;
    for (const LoadCase& c : engine.cases()) {
      if (!(c.heave > 0) || c.path == LoadPath::ride) continue;
      ++waves;
      const board::Trial t = engine.trials(c, degrees(45)).front();
      const auto all = engine.otherwise(c, t);
      CHECK(std::any_of(all.begin(), all.end(), [&](const board::Trial& o) {
        return std::abs(0.5 * (o.acceleration.z() + t.acceleration.z()) + 1) < 1e-12 &&
               o.acceleration.z() != t.acceleration.z();
      }));
    }
    CHECK(waves > 0);
  }

  TEST_CASE("noticed: the sweep of booms follows its hardest directions and not its grid alone") {
    BoardDice dice(11);
    for (int i = 0; i < 3; ++i) {
      const Setup s = random_board(dice);
      const auto rows = boom_sweep(s, degrees(45), {.neighbours = false});
      const auto fine = boom_sweep(s, degrees(45), {.step = degrees(4), .neighbours = false});
      REQUIRE(!rows.empty());
      REQUIRE(fine.size() == rows.size());
      for (std::size_t k = 0; k < rows.size(); ++k) {
        CAPTURE(i);
        CAPTURE(k);
        CHECK(rows[k].worst_ratio == doctest::Approx(fine[k].worst_ratio).epsilon(0.003));
      }
    }
  }

  TEST_CASE("noticed: a section that bends askew has no frame and one that nearly does not has") {
    const board::Structure st = board::structure_of(fjord_board());
    std::vector<Support> all;
    for (const board::BoardSupport& x : st.supports) all.push_back(x.support);
    const auto frame_of = [&](double share) {
      BeamProperties beam = st.beam;
      beam.section.bending_product = SecondMoment::from_value(
          share * std::sqrt(beam.section.bending_flat.value() * beam.section.bending_edge.value()));
      return BoardFrame(beam, all, st.points, st.stations);
    };
    CHECK_NOTHROW((void)frame_of(0.9e-9));
    CHECK_NOTHROW((void)frame_of(-0.9e-9));
    CHECK_THROWS_AS((void)frame_of(1.1e-9), DomainError);
    CHECK_THROWS_AS((void)frame_of(-1.1e-9), DomainError);
  }

  TEST_CASE(
      "noticed: the bolts of a ledge lie between its level leg and its foot by half of them") {
    // M8 in a leg of 6 mm whose foot is 60 mm below the seat.
    const auto with = [](double below) {
      Setup s = fjord_board();
      s.board().port.fastening->below_seat = mm(below);
      s.board().starboard.fastening->below_seat = mm(below);
      return s;
    };
    CHECK_THROWS_AS(validate(with(9.9)), DomainError);
    CHECK_NOTHROW(validate(with(10.1)));
    CHECK_NOTHROW(validate(with(55.9)));
    CHECK_THROWS_AS(validate(with(56.1)), DomainError);
  }

  TEST_CASE("noticed: a leg longer than 2.2 of the other is no angle and a light ball is refused") {
    const auto leg = [](double times) {
      Setup s = fjord_board();
      for (Ledge* l : {&s.board().port, &s.board().starboard}) {
        l->fastening->foot_below = times * l->along;
      }
      return s;
    };
    CHECK_NOTHROW(validate(leg(2.19)));
    CHECK_THROWS_AS(validate(leg(2.21)), DomainError);
    const auto ball = [](double density) {
      Setup s = fjord_board();
      for (Gear& g : s.gear) {
        if (g.downrigger) g.downrigger->ball_density = Density::from_value(density);
      }
      return s;
    };
    CHECK_NOTHROW(validate(ball(1110)));
    CHECK_THROWS_AS(validate(ball(1090)), DomainError);
  }
}
