// Boards that are the same from both sides: half of their loads stand for the whole. Against the
// whole search, which a change too small to count brings back.

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <functional>
#include <optional>
#include <string>
#include <vector>

#include <thole/loads.hpp>
#include <thole/thole.hpp>

#include "core/board_engine.hpp"
#include "core/board_mirror.hpp"
#include "support/boards.hpp"

using namespace thole;
using namespace thole::literals;
using board::Engine;
using board::Mirror;
using board::Trial;
using test::BoardDice;
using test::fjord_board;
using test::mm;
using test::random_board;

namespace {

template <class Part>
void same_on_both_sides(std::vector<Part>& parts) {
  std::vector<Part> out;
  for (const Part& p : parts) {
    if (p.place.side != Side::port) continue;
    for (const Side side : {Side::port, Side::starboard}) {
      out.push_back(p);
      out.back().place.side = side;
      out.back().name = std::string(word_for(side)) + " " + p.name;
    }
  }
  parts = out;
}

// The port side of a random board on both, with gear.
Setup random_alike(BoardDice& dice) {
  for (;;) {
    Setup s = random_board(dice);
    CrossBoard& m = s.board();
    m.starboard = m.port;
    m.starboard_higher = {};
    m.board.length = m.clear_width + 2.0 * m.port_overhang;
    same_on_both_sides(m.hold_downs);
    same_on_both_sides(m.legs);
    same_on_both_sides(s.gear);
    if (!s.gear.empty() && test::is_valid(s)) return s;
  }
}

// Stronger by less than anything shows, on one side only.
Setup not_quite_alike(Setup s) {
  s.board().hold_downs.back().material.ultimate *= 1 + 1e-14;
  return s;
}

std::optional<Mirror> mirror_of(const Setup& s) { return Mirror::of(s, load_cases(s)); }

double apart(double a, double b) {
  return a == b ? 0 : std::abs(a - b) / std::max(std::abs(a), std::abs(b));
}
double apart(const std::optional<Force>& a, const std::optional<Force>& b) {
  if (a.has_value() != b.has_value()) return 1;
  return a ? apart(a->value(), b->value()) : 0;
}

}  // namespace

TEST_SUITE("unit") {
  TEST_CASE("mirror: a board is the same from both sides only where nothing differs") {
    Setup s = fjord_board();
    s.board().legs = {test::leg(Side::port, mm(-100), mm(0), mm(400)),
                      test::leg(Side::starboard, mm(-100), mm(0), mm(400))};
    REQUIRE(test::is_valid(s));
    REQUIRE(mirror_of(s));
    const std::vector<std::function<void(Setup&)>> changes{
        [](Setup& t) { t.board().port_overhang += mm(1); },
        [](Setup& t) { t.board().board.length += mm(1); },
        [](Setup& t) { t.board().starboard_higher = mm(1); },
        [](Setup& t) { t.board().starboard.gap = mm(1); },
        [](Setup& t) { t.board().starboard.metal->yield *= 1.01; },
        [](Setup& t) { t.board().port.fastening->count = 2; },
        [](Setup& t) { t.board().port.fastening->backing.reset(); },
        [](Setup& t) { t.board().hold_downs.pop_back(); },
        [](Setup& t) { t.board().hold_downs.back().washer += mm(1); },
        [](Setup& t) { t.board().hold_downs.back().place.outboard += mm(1); },
        [](Setup& t) { t.board().hold_downs.front().slack = mm(1); },
        [](Setup& t) { t.board().hold_downs.front().eye.reset(); },
        [](Setup& t) { t.board().hold_downs.front().assembly.lubricated = true; },
        [](Setup& t) { t.board().legs.pop_back(); },
        [](Setup& t) { t.board().legs.back().length += mm(1); },
        [](Setup& t) { t.board().legs.back().friction = 0.3; },
        [](Setup& t) { t.board().legs.back().wood_strength->compression *= 0.99; },
        [](Setup& t) { t.gear.pop_back(); },
        [](Setup& t) { t.gear.back().place.forward += mm(1); },
        [](Setup& t) { t.gear.back().downrigger->ball *= 1.01; },
        [](Setup& t) { t.gear.back().downrigger->boom_angles.pop_back(); },
        [](Setup& t) { t.gear.back().downrigger->brake_slip->value *= 0.99; },
        [](Setup& t) { t.gear.front().foot->holes.front().y += mm(1); },
        [](Setup& t) { t.gear.front().foot->plate->thickness *= 0.9; },
        [](Setup& t) {
          CaseEdit e;
          e.name = "hung-up-slipping";
          e.pull = 100.0 * si::newton;
          e.why = "a test";
          t.case_edits.push_back(e);
        },
    };
    for (std::size_t i = 0; i < changes.size(); ++i) {
      CAPTURE(i);
      Setup t = s;
      changes[i](t);
      CHECK_FALSE(mirror_of(t));
      CHECK(mirror_of(s));
    }
    CHECK_FALSE(mirror_of(not_quite_alike(s)));
  }

  TEST_CASE("mirror: words change port for starboard and nothing else") {
    CHECK(Mirror::image("the port end lifts to starboard") == "the starboard end lifts to port");
    CHECK(Mirror::image("port") == "starboard");
    CHECK(Mirror::image("starboard, port") == "port, starboard");
    CHECK(Mirror::image("support, ports, airport") == "support, ports, airport");
    CHECK(Mirror::image("").empty());
  }

  TEST_CASE("mirror: a load and its image use a board as hard and undo each other") {
    BoardDice dice(31);
    for (int n = 0; n < test::boards(8); ++n) {
      const Setup s = random_alike(dice);
      Engine e(s);
      const std::optional<Mirror> mirror = Mirror::of(s, e.cases());
      REQUIRE(mirror);
      std::size_t looked_at = 0;
      for (std::size_t i = 0; i < e.cases().size(); ++i) {
        const LoadCase& c = e.cases()[i];
        const std::size_t k = mirror->load_case(i);
        CHECK(mirror->load_case(k) == i);
        if (c.gear >= 0 && k == i) continue;  // all at once, one case for both
        const LoadCase& o = e.cases()[k];
        for (const Trial& t : e.trials(c, 60.0_deg)) {
          std::vector<Trial> all = e.otherwise(c, t);
          all.push_back(t);
          for (const Trial& u : all) {
            const Trial image = mirror->image(u);
            Trial again = mirror->image(image);
            CHECK((again.way.si_values() - u.way.si_values()).norm() < 1e-12);
            again.way = u.way;
            CHECK(again == u);
            if (dice.below(4) != 0) continue;
            for (int variant = 0; variant < Engine::variants(); ++variant) {
              const double pull = c.pull.value();
              const double a =
                  e.worst_ratio(variant, u, e.load(c, u, pull), c.category, true, nullptr);
              const double b =
                  e.worst_ratio(variant, image, e.load(o, image, pull), o.category, true, nullptr);
              CAPTURE(c.id);
              CAPTURE(e.describe(c, u));
              CAPTURE(a);
              CAPTURE(b);
              CHECK(apart(a, b) < 1e-7);
              ++looked_at;
            }
          }
        }
      }
      CHECK(looked_at > 100);
    }
  }

  TEST_CASE("mirror: of two images in the list of a case one is passed over") {
    const Setup s = fjord_board();
    Engine e(s);
    const std::optional<Mirror> mirror = Mirror::of(s, e.cases());
    REQUIRE(mirror);
    for (const LoadCase& c : e.cases()) {
      if (c.gear >= 0) continue;
      const std::vector<Trial> all = e.trials(c, 15.0_deg);
      const auto passed = std::count_if(all.begin(), all.end(),
                                        [&](const Trial& t) { return Mirror::repeats(c, t); });
      CHECK(2 * passed == std::ptrdiff_t(all.size()));
      for (const Trial& t : all) {
        if (t.person >= 0) {  // y counts forward
          const std::string edge = t.y < 0 ? "aft edge" : "forward edge";
          CHECK(e.describe(c, t).find(edge) != std::string::npos);
        }
        CHECK(Mirror::repeats(c, t) != Mirror::repeats(c, mirror->image(t)));
      }
    }
  }
}

TEST_SUITE("property") {
  TEST_CASE("mirror: half of the loads find what the whole finds on random boards") {
    BoardDice dice(32);
    double most = 0;
    const int count = test::boards(24);
    for (int n = 0; n < count; ++n) {
      const Setup s = random_alike(dice);
      const Setup whole = not_quite_alike(s);
      REQUIRE(mirror_of(s));
      REQUIRE_FALSE(mirror_of(whole));
      AssessOptions o;
      o.by_direction = true;
      o.margins = n % 4 == 0;
      const Assessment a = assess(s, o);
      const Assessment b = assess(whole, o);
      CAPTURE(n);
      const auto near = [&](double d, const std::string& what) {
        most = std::max(most, d);
        CAPTURE(what);
        // As of a board and its mirror image: the search ends within that on either side.
        CHECK(d <= 0.02);
      };
      CHECK(a.verdict == b.verdict);
      CHECK(a.reasons == b.reasons);
      REQUIRE(a.checks.size() == b.checks.size());
      for (const CheckResult& c : a.checks) {
        const auto other = std::find_if(b.checks.begin(), b.checks.end(),
                                        [&](const CheckResult& d) { return d.mode == c.mode; });
        REQUIRE(other != b.checks.end());
        near(apart(c.factor, other->factor), c.mode);
        near(apart(c.goes_at, other->goes_at), c.mode + " goes at");
      }
      REQUIRE(a.cases.size() == b.cases.size());
      for (std::size_t i = 0; i < a.cases.size(); ++i) {
        const CaseResult& x = a.cases[i];
        const CaseResult& y = b.cases[i];
        CHECK(x.load_case.id == y.load_case.id);
        CHECK(x.motion.empty() == y.motion.empty());
        if (x.motion.empty()) near(apart(x.factor, y.factor), x.load_case.id);
      }
      REQUIRE(a.gear_limits.size() == b.gear_limits.size());
      for (std::size_t i = 0; i < a.gear_limits.size(); ++i) {
        const GearLimit& x = a.gear_limits[i];
        const GearLimit& y = b.gear_limits[i];
        CHECK(x.gear == y.gear);
        near(apart(x.hold_limit, y.hold_limit), x.gear + " hold limit");
        near(apart(x.not_before, y.not_before), x.gear + " not before");
        near(apart(x.setting, y.setting), x.gear + " setting");
        near(apart(x.all_hung_up, y.all_hung_up), x.gear + " all hung up");
        REQUIRE(x.by_direction.size() == y.by_direction.size());
        for (std::size_t k = 0; k < x.by_direction.size(); ++k) {
          near(apart(x.by_direction[k].hold_limit, y.by_direction[k].hold_limit),
               x.gear + " " + x.by_direction[k].where);
          near(apart(x.by_direction[k].not_before, y.by_direction[k].not_before),
               x.gear + " first " + x.by_direction[k].where);
        }
      }
      REQUIRE(a.movements.size() == b.movements.size());
      for (std::size_t i = 0; i < a.movements.size(); ++i) {
        near(apart(a.movements[i].tip.value(), b.movements[i].tip.value()), "movement");
      }
      REQUIRE(a.margins.size() == b.margins.size());
      for (std::size_t i = 0; i < a.margins.size(); ++i) {
        CHECK(a.margins[i].verdict == b.margins[i].verdict);
        near(apart(a.margins[i].hold_limit, b.margins[i].hold_limit), a.margins[i].what);
      }
    }
    MESSAGE("largest difference of " << count << " boards: " << most);
  }
}
