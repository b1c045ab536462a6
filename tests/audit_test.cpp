// What the audit of assumptions found on the unsafe side, and grids that nothing else bounds.

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <fstream>
#include <iterator>
#include <set>
#include <string>
#include <vector>

#include <thole/changes.hpp>
#include <thole/reading.hpp>
#include <thole/report.hpp>

#include "checks/board_checks.hpp"
#include "core/assessment_parts.hpp"
#include "core/board_engine.hpp"
#include "support/boards.hpp"

using namespace thole;
using namespace thole::literals;
using test::fjord_board;
using test::hold_down;
using test::mm;

namespace {

std::string example_text(const std::string& name) {
  std::ifstream in(std::string(THOLE_ROOT) + "/examples/" + name);
  REQUIRE_MESSAGE(in, name);
  return {std::istreambuf_iterator<char>(in), {}};
}

// Statics of four bolts by hand.
constexpr double half_fore = 0.075, half_athwart = 0.055;  // m, of the foot of `downrigger`

}  // namespace

TEST_SUITE_BEGIN("unit");

TEST_CASE("audit: along the board a bolt beside a U-bolt takes all of its end") {
  Setup s = fjord_board();
  CrossBoard& b = s.board();
  b.hold_downs[0].kind = HoldDownKind::bolt;
  b.hold_downs[1].kind = HoldDownKind::u_bolt;
  const board::Model m(s, {});
  REQUIRE(b.hold_downs[0].place.side == b.hold_downs[1].place.side);
  CHECK(m.hold_downs[0].share_x == doctest::Approx(1.0));
  CHECK(m.hold_downs[0].shank_x >= 0);
  CHECK(m.hold_downs[1].shank_x < 0);
  // Two bolts still share evenly.
  const board::Model two(fjord_board(), {});
  CHECK(two.hold_downs[0].share_x == doctest::Approx(0.5));
}

TEST_CASE("audit: shear and torsion of a plank are carried by what its holes leave") {
  const Setup s = fjord_board();
  const board::Model m(s, {});
  const double width = 0.198;
  const double hole = s.board().hold_downs[0].hole.value();
  bool any = false;
  for (const board::Cut& c : m.cuts) {
    if (std::abs(c.x - m.setup->board().station(s.board().hold_downs[0].place).value()) > 1e-6) {
      continue;
    }
    any = true;
    CHECK(c.net_area == doctest::Approx(width / (width - 2 * hole)).epsilon(1e-9));
  }
  CHECK(any);
}

TEST_CASE("audit: a strip below the plank is not there over the seats and beyond") {
  Setup s = fjord_board();
  BoardPiece& b = s.board().board;
  b.form = BoardForm::plank_with_strip;
  b.strip_thickness = mm(48);
  b.strip_depth = mm(98);
  const board::Model m(s, {});
  const double port = 0.2, starboard = 2.0;  // inner edges of the ledges from the port end
  int bare = 0;
  for (const board::Cut& c : m.cuts) {
    CAPTURE(c.x);
    CHECK(c.bare == !(c.x > port + 1e-6 && c.x < starboard - 1e-6));
    bare += c.bare ? 1 : 0;
  }
  CHECK(bare > 4);
  CHECK(m.bare.area == doctest::Approx(0.198 * 0.048));
  // 198 x 48: T / tau = k2 a b^2 with k2 = 0.282 at a/b = 4.1 (Timoshenko and Goodier, table of
  // sec. 109, from memory: 0.282 at 4).
  CHECK(m.bare.torsion_modulus == doctest::Approx(0.282 * 0.198 * 0.048 * 0.048).epsilon(0.01));
  CHECK(m.shape.torsion_modulus > 1.05 * m.bare.torsion_modulus);
  // Bending by hand: 6 M / (b t^2).
  double most = 0;
  for (const board::Corner& c : m.bare.corners) most = std::max(most, std::abs(c.flat));
  CHECK(most == doctest::Approx(6 / (0.198 * 0.048 * 0.048)));
}

TEST_CASE("audit: the bolts of a gear bear sideways in the board what its boom twists") {
  const Setup s = fjord_board();
  const board::Model m(s, {});
  BoardActions a;
  a.model = &m;
  a.loaded[0] = true;
  const double twist = 100;  // Nm
  a.gear[0] << 0, 0, 0, 0, 0, twist;
  checks::complete_feet(a);
  const Use use = checks::foot_bolt_bearing(a, Category::occasional);
  const double r = std::hypot(half_fore, half_athwart);
  CHECK(use.demand.si == doctest::Approx(twist / (4 * r)));
  CHECK(use.strength.si > 0);
  // EN 1995-1-1 8.2.3 for a thin plate, mode of the timber: 0.4 fh t d, fh at 90 deg to the grain
  // with the characteristic density of C24 (from memory). Ours is lower: wet, and on the root.
  const double fh = 0.082 * (1 - 0.01 * 8) * 350e6 / (1.35 + 0.015 * 8);
  CHECK(use.strength.si < 0.4 * fh * 0.048 * 0.008);
  CHECK(use.strength.si > 0.3 * 0.4 * fh * 0.048 * 0.008);
}

TEST_CASE("audit: a gear whose bolts lie near the end of the board shears them out first") {
  Setup s = fjord_board();
  const double end = 0.030;
  s.gear[0].place.outboard = mm(200 - 55 - 30);  // port end 200 mm outboard of the seat's edge
  const board::Model m(s, {});
  const double shear = s.board().board.wood_strength->shear.value();
  REQUIRE(m.gear[0].tear.size() == 4);
  const double least = *std::min_element(m.gear[0].tear.begin(), m.gear[0].tear.end());
  // NDS E.3: one bolt, two planes of half the shear strength each: Fv t times the end distance.
  CHECK(least == doctest::Approx(shear * 0.048 * end));
  BoardActions a;
  a.model = &m;
  a.loaded[0] = true;
  a.gear[0] << 0, 4000, 0, 0, 0, 0;
  checks::complete_feet(a);
  const Use use = checks::foot_splits(a, Category::occasional);
  CHECK(use.demand.si == doctest::Approx(1000));
  CHECK(use.strength.si == doctest::Approx(least));
}

TEST_CASE("audit: a push along the row of a ledge's bolts also turns the row") {
  Setup s = fjord_board();
  s.board().port.fastening->below_seat = mm(35);
  const board::Model m(s, {});
  BoardActions a;
  a.model = &m;
  std::vector<double> support(m.structure.supports.size(), 0.0);
  const double push = 300;  // N, fore and aft, on one hold-down
  support[std::size_t(m.hold_downs[0].shank_y)] = push;
  a.support = support.data();
  checks::complete_ledges(a);
  // Three bolts 90 mm apart: a third each, and the couple on the outer two.
  CHECK(a.ledge_shear[0] ==
        doctest::Approx(std::hypot(push * 0.035 * 0.09 / (2 * 0.09 * 0.09), push / 3)));
}

TEST_CASE("audit: people are looked at between the middle and the ends of a board as well") {
  const Setup s = fjord_board();
  board::Engine engine(s);
  for (const LoadCase& c : engine.cases()) {
    if (c.kind != "sit-on-board") continue;
    std::set<int> places;
    for (const board::Trial& t : engine.trials(c, 30.0_deg)) places.insert(t.person);
    CHECK(places.size() == 5);
    CHECK(engine.common().structure.points[std::size_t(engine.common().gears + 3)].station ==
          0.25 * s.board().board.length);
  }
}

TEST_CASE("audit: of three gears every choice of those that tow meanwhile is reached") {
  Setup s = fjord_board();
  s.gear.push_back(test::downrigger(Side::port, mm(-400)));
  s.gear.back().name = "third";
  board::Engine engine(s);
  const auto& cases = engine.cases();
  const auto c = std::find_if(cases.begin(), cases.end(), [](const LoadCase& k) {
    return k.kind == "hung-up-slipping" && k.gear == 0;
  });
  REQUIRE(c != cases.end());
  std::set<std::pair<bool, bool>> reached;
  std::vector<board::Trial> open{engine.trials(*c, 45.0_deg).front()};
  for (int round = 0; round < 3; ++round) {
    std::vector<board::Trial> next;
    for (const board::Trial& t : open) {
      reached.insert({t.tows(1), t.tows(2)});
      for (const board::Trial& o : engine.otherwise(*c, t)) {
        if (o.near == t.near && o.others == t.others) next.push_back(o);
      }
    }
    open = next;
  }
  CHECK(reached.size() == 4);
}

TEST_CASE("audit: a failed test pull is told by the check and in its JSON") {
  const std::string text = example_text("fjord-skiff-best-fix.yaml");
  const Setup good = read_setup(text, "a.yaml", built_in_materials());
  Setup bad = good;
  bad.test_pulls = {{bad.gear.front().name, "astern", {}, 200.0_N, mm(400), mm(50)}};
  const Assessment a = assess(good, {.neighbours = false});
  const std::string told = "test pull of the " + bad.gear.front().name;
  CHECK(terminal_report(bad, a).find("! test pull of the") != std::string::npos);
  CHECK(json_report(bad, a).find(told) != std::string::npos);
  CHECK(terminal_report(good, a).find("test pull of the") == std::string::npos);
  CHECK(json_report(good, a).find("\"failed_test_pulls\": []") != std::string::npos);
}

TEST_CASE("audit: no ranked change promises a limit that the check does not find") {
  const std::string text = example_text("reservoir-jon-boat.yaml");
  const ChangeAnswer answer = suggest_changes(text, "a.yaml", built_in_materials());
  REQUIRE_FALSE(answer.ranking.empty());
  const auto as_check = [](const Setup& s) {
    return worth_of(s, assess(s, {.neighbours = true, .by_direction = true})).hold_limit;
  };
  std::size_t looked = 0;
  for (const std::size_t i : answer.ranking) {
    const Change& c = answer.changes[i];
    if (!c.setup || !c.after || ++looked > 3) continue;
    CAPTURE(c.id);
    CHECK(c.after->hold_limit == as_check(*c.setup));
  }
  CHECK(looked > 0);
}

// The grid of 5 deg against one of 0.5 deg with the arms written down here: height above the
// water, and half the draught below it where the water holds the hull.
TEST_CASE("audit: a tenth of the direction grid finds no more heeling than 0.2 percent") {
  const Setup s = read_setup(example_text("fjord-skiff.yaml"), "a.yaml", built_in_materials());
  REQUIRE(s.boat);
  const HeelModel model = heel_model(*s.boat, sea_water().density);
  const auto cases = load_cases(s);
  const BoatSide side = parts::boat_side(s, cases);
  int compared = 0;
  for (const LoadCase& c : cases) {
    if (c.path != LoadPath::tip || c.others != Others::towing) continue;
    const auto row = std::find_if(side.rows.begin(), side.rows.end(),
                                  [&](const HeelRow& r) { return r.load_case == c.id; });
    REQUIRE(row != side.rows.end());
    const Gear& g = s.gear[std::size_t(c.gear)];
    double most = 0;
    for (const DirectionRange& r : c.ranges) {
      for (const Direction<Boat>& d : directions(r, 0.5_deg)) {
        for (std::size_t i = 0; i < g.downrigger->positions(); ++i) {
          const Position<Base> tip = boom_tip(*g.downrigger, i);
          const double y = (0.5 * s.board().clear_width + g.place.outboard + tip.y()).value();
          const double z = (model.freeboard + 0.5 * model.draught + tip.z()).value();
          most = std::max(most, std::abs(d.y() * z - d.z() * y) * c.pull.value());
        }
      }
    }
    CAPTURE(c.id);
    CHECK(row->moment.value() >= 0.998 * most);
    CHECK(row->moment.value() <= 1.001 * most);
    ++compared;
  }
  CHECK(compared > 4);
}

TEST_CASE("audit: half the direction grid of the sweep of booms changes no azimuth by 1 percent") {
  Setup s = fjord_board();
  s.gear.pop_back();
  const auto rows = boom_sweep(s, 30.0_deg, {.neighbours = false});
  const auto fine = boom_sweep(s, 30.0_deg, {.step = degrees(2.5), .neighbours = false});
  REQUIRE(fine.size() == rows.size());
  for (std::size_t i = 0; i < rows.size(); ++i) {
    CAPTURE(in_degrees(rows[i].azimuth));
    CHECK(rows[i].worst_ratio == doctest::Approx(fine[i].worst_ratio).epsilon(0.01));
    REQUIRE(rows[i].hold_limit.has_value() == fine[i].hold_limit.has_value());
    if (!rows[i].hold_limit) continue;
    CHECK(rows[i].hold_limit->value() ==
          doctest::Approx(fine[i].hold_limit->value()).epsilon(0.01));
  }
}

TEST_SUITE_END();
