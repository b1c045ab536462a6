// The test pull on the trailer: how far a plank moves against closed forms, what the card may ask
// for, what is said of a measured one, and what a hostile file makes of the card.

#include <thole/test_pull.hpp>

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <fstream>
#include <iterator>
#include <string>
#include <vector>

#include <thole/reading.hpp>
#include <thole/report.hpp>
#include <thole/sheet.hpp>

#include "core/board_engine.hpp"
#include "core/test_puller.hpp"
#include "report/beside.hpp"
#include "report/cards.hpp"
#include "support/boards.hpp"
#include "support/plates.hpp"

using namespace thole;
using namespace thole::literals;
using test::mm;

namespace {

constexpr double newtons(Force f) { return f.value(); }
double in_mm(Length v) { return v.value() * 1000; }

std::string text_of(const std::string& name) {
  std::ifstream in(THOLE_ROOT "/examples/" + name + ".yaml");
  REQUIRE(in);
  return {std::istreambuf_iterator<char>(in), {}};
}

Setup read(const std::string& text) { return read_setup(text, "file.yaml", built_in_materials()); }

struct Judged {
  Setup setup;
  Assessment assessment;
  explicit Judged(Setup s) : setup(std::move(s)), assessment(assess(setup)) {}
  explicit Judged(const std::string& text) : Judged(read(text)) {}

  [[nodiscard]] TestPullCard card() const { return test_pull_card(setup, assessment); }
  [[nodiscard]] TestPullAnswer of(const TestPull& t) const {
    Setup s = setup;
    s.test_pulls = {t};
    return judge_test_pulls(s, assessment).front();
  }
  [[nodiscard]] std::string html() const {
    const SheetContent c{setup, assessment, built_in_materials(), {}, {}, "f.yaml", "", ""};
    return cards::test_pull(c).html;
  }
};

TestPull pulled(const TestPullStep& s, Length moved, std::optional<Length> stayed = Length{}) {
  return {s.gear, s.toward, s.boom, s.pull, moved, stayed};
}

// C24 with the modulus of the table as it stands: 11 GPa (EN 338).
void set_dry(BoardPiece& b) {
  b.wet = false;
  b.wood = built_in_materials().wood("C24");
  b.wood_strength = nominal_wood(
      *b.wood, {.thickness = b.thickness, .width = b.width, .wet = false}, built_in_materials());
}

// A long plank on two narrow blocks, close to a line each, and one load on it.
constexpr double clear = 1800;    // mm between the blocks
constexpr double block = 10;      // mm along the plank
constexpr double width = 200;     // mm
constexpr double thickness = 40;  // mm
constexpr double overhang = 500;  // mm beyond the inner edge of a block
Setup plank(double outboard) {
  Setup s = test::fjord_board();
  CrossBoard& m = s.board();
  m.clear_width = mm(clear);
  m.port_overhang = mm(overhang);
  m.board.length = mm(clear + 2 * overhang);
  m.board.width = mm(width);
  m.board.thickness = mm(thickness);
  set_dry(m.board);
  Ledge l;
  l.kind = LedgeKind::saddle;
  l.along = mm(block);
  l.fore_aft = mm(250);
  m.port = m.starboard = l;
  m.hold_downs.clear();
  m.legs.clear();
  for (const Side side : {Side::port, Side::starboard}) {
    for (const double forward : {60.0, -60.0}) {
      m.hold_downs.push_back(
          test::hold_down(side, mm(0.5 * block), mm(forward), HoldDownKind::bolt));
    }
  }
  Gear g;
  g.name = "load";
  g.place = {Side::port, mm(outboard), Length{}};
  PlainLoad p;
  p.pull = 50.0_N;
  p.range = {degrees(0), degrees(0), degrees(0), degrees(90)};
  p.category = Category::everyday;
  g.plain_load = p;
  s.gear = {g};
  return s;
}

// E I in N mm^2
const double stiffness = 11000.0 * width * std::pow(thickness, 3) / 12;

TestPullAnswer moved_down(const Setup& s, Force pull) {
  Setup with = s;
  with.test_pulls = {{"load", "down", {}, pull, Length{}, Length{}}};
  return judge_test_pulls(with, Assessment{}).front();
}

const char* const files[] = {
    "bay-boat",           "bay-boat-first-fix",           "bay-boat-best-fix",
    "fjord-skiff",        "fjord-skiff-first-fix",        "fjord-skiff-best-fix",
    "highland-dinghy",    "highland-dinghy-first-fix",    "highland-dinghy-best-fix",
    "lake-cartopper",     "lake-cartopper-first-fix",     "lake-cartopper-best-fix",
    "lough-boat",         "lough-boat-first-fix",         "lough-boat-best-fix",
    "reservoir-jon-boat", "reservoir-jon-boat-first-fix", "reservoir-jon-boat-best-fix"};

}  // namespace

// ---- Movement
// -------------------------------------------------------------------------------------

TEST_SUITE_BEGIN("unit");

// Source: P a^2 b^2 / (3 E I L), simple beam with a concentrated load at any point (AISC manual,
// table of beam formulas, from memory; any text on strength of materials). The closed form has
// supports without give; the ends of the model lie on either side of it, and not far.
TEST_CASE("test pull: a load between two blocks moves a plank by the formula of the simple beam") {
  for (const double inboard : {450.0, 900.0}) {
    CAPTURE(inboard);
    const Setup s = plank(-inboard);
    const double P = 100;
    // Bending lets the plank bear on the inner edges of the blocks.
    const double b = clear - inboard;
    const double closed = P * inboard * inboard * b * b / (3 * stiffness * clear);
    const TestPullAnswer a = moved_down(s, 100.0_N);
    MESSAGE("closed form " << closed << " mm, model " << in_mm(a.least) << " to " << in_mm(a.most));
    CHECK(in_mm(a.least) <= closed);
    CHECK(in_mm(a.most) >= closed);
    CHECK(in_mm(a.least) >= 0.97 * closed);  // bolts beside the edge hold its slope a little
    CHECK(in_mm(a.most) <= 1.10 * closed);
  }
}

// Source: P a^2 (L + a) / (3 E I) at the load, beam overhanging one support with a concentrated
// load at the end of the overhang (the same table, from memory).
TEST_CASE(
    "test pull: a load on the overhang moves a plank by the formula of the overhanging beam") {
  const double outboard = 400;
  const Setup s = plank(outboard);
  const double a = outboard - block;        // beyond the outer edge of the block
  const double span = clear + 1.5 * block;  // from there to the bolts of the other end
  const double P = 60;
  const double closed = P * a * a * (span + a) / (3 * stiffness);
  const TestPullAnswer r = moved_down(s, 60.0_N);
  MESSAGE("closed form " << closed << " mm, model " << in_mm(r.least) << " to " << in_mm(r.most));
  CHECK(in_mm(r.least) <= closed);
  CHECK(in_mm(r.least) >= 0.97 * closed);
  CHECK(in_mm(r.most) >= closed);
  CHECK(in_mm(r.most) <= 1.10 * closed);
}

TEST_CASE("test pull: without gaps twice the pull moves a plank twice as far") {
  const Setup s = plank(-600);
  const TestPullAnswer one = moved_down(s, 40.0_N);
  const TestPullAnswer two = moved_down(s, 80.0_N);
  CHECK(two.least.value() == doctest::Approx(2 * one.least.value()).epsilon(0.01));
  CHECK(one.most.value() > 0);
}

TEST_CASE("test pull: a thicker plank never moves more") {
  Length least = 1.0_m;
  Length most = 1.0_m;
  for (const double t : {25.0, 30.0, 36.0, 45.0, 60.0}) {
    CAPTURE(t);
    Setup s = plank(-700);
    s.board().board.thickness = mm(t);
    set_dry(s.board().board);
    const TestPullAnswer a = moved_down(s, 80.0_N);
    CHECK(a.least < least);
    CHECK(a.most < most);
    least = a.least;
    most = a.most;
  }
}

// ---- What the card asks for
// -----------------------------------------------------------------------

TEST_CASE("test pull: no step asks for more than 1.25 x the setting or 0.6 of what goes first") {
  int steps = 0;
  for (const char* file : files) {
    CAPTURE(file);
    const Judged j(text_of(file));
    const TestPullCard card = j.card();
    CHECK(card.none_because.empty() != card.steps.empty());
    if (j.assessment.verdict == Verdict::no_verdict) CHECK(card.steps.empty());
    if (j.assessment.verdict != Verdict::holds && !card.steps.empty()) {
      CHECK_FALSE(card.of_the_verdict.empty());
    }
    for (const TestPullStep& s : card.steps) {
      CAPTURE(s.gear);
      CAPTURE(s.toward);
      const auto l = std::find_if(j.assessment.gear_limits.begin(), j.assessment.gear_limits.end(),
                                  [&](const GearLimit& g) { return g.gear == s.gear; });
      REQUIRE(l != j.assessment.gear_limits.end());
      const beside::Setting setting = beside::setting_of(j.assessment, *l);
      REQUIRE(setting.pull);
      CHECK(newtons(s.pull) > 0);
      CHECK(newtons(s.pull) <= 1.25 * newtons(*setting.pull) * (1 + 1e-9));
      CHECK(newtons(s.pull) <= 0.6 * newtons(*l->not_before) * (1 + 1e-9));
      CHECK(*setting.pull >= setting.least_useful);
      CHECK(s.least <= s.most);
      CHECK_FALSE(s.hook_at.empty());
      CHECK_FALSE(s.watch_at.empty());
      CHECK_FALSE(s.look_for.empty());
      CHECK(std::find(test_pull_ways.begin(), test_pull_ways.end(), s.toward) !=
            test_pull_ways.end());
      ++steps;
    }
    if (card.steps.empty()) continue;
    CHECK_FALSE(card.before.empty());
    CHECK_FALSE(card.after.empty());
    CHECK_FALSE(card.stop.empty());
  }
  CHECK(steps >= 20);
}

// The walk along a pull of the hold limits, which the card does not use.
TEST_CASE("test pull: on the skiff nothing goes below the pull of any step over 0.6") {
  const Judged j(text_of("fjord-skiff-best-fix"));
  board::Engine engine(j.setup);
  const TestPullCard card = j.card();
  REQUIRE(card.steps.size() == 6);
  for (const TestPullStep& s : card.steps) {
    CAPTURE(s.toward);
    board::Trial t;
    t.gear = s.gear == j.setup.gear[0].name ? 0 : 1;
    t.alone = true;
    t.way = s.way;
    const Downrigger& d = *j.setup.gear[std::size_t(t.gear)].downrigger;
    for (std::size_t k = 0; k < d.positions(); ++k) {
      if (d.position(k).azimuth == *s.boom) t.boom = int(k);
    }
    LoadCase c;
    c.path = LoadPath::tip;
    c.gear = t.gear;
    for (int variant = 0; variant < board::Engine::variants(); ++variant) {
      for (const Side near : {Side::port, Side::starboard}) {
        t.near = near;
        const double goes =
            engine.largest_pull(variant, c, t, 20 * newtons(s.pull), false, nullptr).pull;
        CHECK(goes >= newtons(s.pull) / 0.6 * (1 - 1e-5));
      }
    }
  }
}

TEST_CASE("test pull: port and starboard of a boat alike on both sides read alike") {
  const Judged j(text_of("fjord-skiff-best-fix"));
  const std::vector<TestPullStep> steps = j.card().steps;
  REQUIRE(steps.size() == 6);
  for (std::size_t i = 0; i < 3; ++i) {
    CHECK(steps[i].toward == steps[i + 3].toward);
    CHECK(*steps[i].boom == *steps[i + 3].boom);
    CHECK(steps[i].watch_at == steps[i + 3].watch_at);
    CHECK(steps[i].least.value() == doctest::Approx(steps[i + 3].least.value()).epsilon(1e-6));
    CHECK(steps[i].most.value() == doctest::Approx(steps[i + 3].most.value()).epsilon(1e-6));
  }
}

TEST_CASE("test pull: a refused mount and one without a setting have none and say why") {
  const TestPullCard rotten = Judged(text_of("lough-boat")).card();
  CHECK(rotten.none_because.find("no verdict") != std::string::npos);
  REQUIRE_FALSE(rotten.none.empty());
  CHECK(rotten.none.front().find("soft wood") != std::string::npos);
  const TestPullCard weak = Judged(text_of("fjord-skiff")).card();
  CHECK(weak.none_because.find("no setting") != std::string::npos);
  const Judged load(
      read(std::string(test::jon_boat).substr(0, std::string(test::jon_boat).find("gear:")) +
           test::light_gear +
           "condition: {cracks: no, loose_rivets: no, bent_or_corroded: no, "
           "soft_wood_or_core: no, weld_near_base: no, within_6_in: rib}\n"));
  REQUIRE(load.assessment.verdict != Verdict::no_verdict);
  CHECK(load.card().none_because.find("no setting") != std::string::npos);
  // A load that pulls one way only is pulled that way.
  const TestPuller puller(load.setup, load.assessment);
  REQUIRE(puller.way(0, "astern").has_value());
  CHECK(puller.way(0, "astern")->x() == doctest::Approx(-1));
  CHECK_FALSE(puller.way(0, "ahead").has_value());
}

TEST_CASE("test pull: cards of random boards keep to the test pull of the gear") {
  test::BoardDice dice(7);
  int steps = 0;
  for (int i = 0; i < test::boards(15); ++i) {
    CAPTURE(i);
    const Judged j(test::random_board(dice));
    const TestPullCard card = j.card();
    CHECK(card.none_because.empty() != card.steps.empty());
    for (const TestPullStep& s : card.steps) {
      const auto l = std::find_if(j.assessment.gear_limits.begin(), j.assessment.gear_limits.end(),
                                  [&](const GearLimit& g) { return g.gear == s.gear; });
      REQUIRE(l != j.assessment.gear_limits.end());
      CHECK(newtons(s.pull) <= newtons(*l->test_pull));
      CHECK(s.least.value() >= 0);
      CHECK(s.least <= s.most);
      const TestPullAnswer a = j.of(pulled(s, s.most));
      CHECK(a.least.value() == doctest::Approx(s.least.value()).epsilon(1e-9));
      CHECK(a.most.value() == doctest::Approx(s.most.value()).epsilon(1e-9));
      CHECK((a.agreement == Agreement::agrees || s.rough));
      ++steps;
    }
  }
  CHECK(steps > 0);
}

TEST_CASE("test pull: a line is never pulled above half of its label") {
  const Judged j(text_of("lough-boat-best-fix"));
  bool any = false;
  for (const TestPullStep& s : j.card().steps) {
    const Gear* g = beside::gear_called(j.setup, s.gear);
    if (!g->rod_holder) continue;
    any = true;
    CHECK(newtons(s.pull) <= 0.5 * newtons(g->rod_holder->line_test) * (1 + 1e-9));
  }
  CHECK(any);
}

// ---- What is said of a measured one
// ---------------------------------------------------------------

TEST_CASE("test pull: measured movements are judged by the two ends of the model") {
  const Judged j(text_of("fjord-skiff-best-fix"));
  const TestPullStep s = j.card().steps[2];
  REQUIRE(in_mm(s.most) > 3);
  const Length middle = 0.5 * (s.least + s.most);
  CHECK(j.of(pulled(s, middle)).agreement == Agreement::agrees);
  CHECK(j.of(pulled(s, s.most + 0.9_mm)).agreement == Agreement::agrees);  // a tape reads to 1 mm
  const TestPullAnswer soft = j.of(pulled(s, 2.5 * s.most));
  CHECK(soft.agreement == Agreement::softer);
  CHECK(soft.words.find("2.5 x") != std::string::npos);
  CHECK(soft.words.find("Do not use it") != std::string::npos);
  CHECK(j.of(pulled(s, middle, 1.0_mm)).agreement == Agreement::came_short);
  CHECK(j.of(pulled(s, 3.0 * s.most, s.most)).agreement == Agreement::came_short);
  const TestPullAnswer unknown = j.of(pulled(s, middle, std::nullopt));
  CHECK(unknown.agreement == Agreement::agrees);
  CHECK(unknown.words.find("pull once more") != std::string::npos);
}

TEST_CASE("test pull: a plank that moves less than the stiffest is stiffer and no proof") {
  Setup s = plank(-900);
  const TestPullAnswer r = moved_down(s, 400.0_N);
  REQUIRE(in_mm(r.least) > 3);
  const Judged j(s);
  REQUIRE(j.assessment.verdict != Verdict::no_verdict);
  const TestPullAnswer a = j.of({"load", "down", {}, 400.0_N, 0.5 * r.least, Length{}});
  CHECK(a.agreement == Agreement::stiffer);
  CHECK(a.words.find("no proof") != std::string::npos);
}

TEST_CASE("test pull: a thinner plank than the file says is found softer") {
  Setup thin = plank(-900);
  thin.board().board.thickness = mm(0.6 * thickness);
  set_dry(thin.board().board);
  const Length moves = moved_down(thin, 80.0_N).least;
  const Judged j(plank(-900));
  const TestPullAnswer a = j.of({"load", "down", {}, 80.0_N, moves, Length{}});
  CHECK(a.agreement == Agreement::softer);
}

TEST_CASE("test pull: a pull far above the card says nothing and one far below says so") {
  const Judged j(text_of("fjord-skiff-best-fix"));
  const TestPullStep s = j.card().steps[2];
  TestPull hard = pulled(s, 1.5 * s.most);
  hard.pull = 2.0 * s.pull;
  const TestPullAnswer too_hard = j.of(hard);
  CHECK(too_hard.agreement == Agreement::cannot_say);
  CHECK(too_hard.words.find("do not pull so hard again") != std::string::npos);
  hard.moved = 10.0 * s.most;
  CHECK(j.of(hard).agreement == Agreement::softer);
  TestPull light = pulled(s, 0.25 * (s.least + s.most));
  light.pull = 0.5 * s.pull;
  CHECK(j.of(light).words.find("says nothing of a harder one") != std::string::npos);
}

TEST_CASE("test pull: a pull so light that nothing can be seen says nothing") {
  const Judged j(text_of("fjord-skiff-best-fix"));
  TestPull light = pulled(j.card().steps[2], Length{});
  light.pull = 5.0_N;
  const TestPullAnswer a = j.of(light);
  REQUIRE(in_mm(a.most) < 1);
  CHECK(a.agreement == Agreement::cannot_say);
  light.moved = 5.0_mm;
  CHECK(j.of(light).agreement == Agreement::softer);
}

TEST_CASE("test pull: a plate has no figure to agree with but shows harm") {
  const Judged j(text_of("reservoir-jon-boat-best-fix"));
  const TestPullStep s = j.card().steps.front();
  CHECK(s.wall_gives);
  CHECK(s.rough);
  CHECK(j.of(pulled(s, 1.0_mm)).agreement == Agreement::cannot_say);
  CHECK(j.of(pulled(s, 10.0_mm)).agreement == Agreement::softer);
  CHECK(j.of(pulled(s, 2.0_mm, 1.0_mm)).agreement == Agreement::came_short);
}

TEST_CASE("test pull: a refused mount is never said to agree") {
  const Judged j(text_of("lough-boat"));
  for (const double moved : {0.0, 1.0, 3.0}) {
    const TestPullAnswer a = j.of({"downrigger", "down", {}, 100.0_N, mm(moved), Length{}});
    CHECK(a.agreement != Agreement::agrees);
    CHECK(a.agreement != Agreement::stiffer);
  }
}

TEST_CASE("test pull: what was measured changes no verdict and no figure") {
  for (const char* file : {"fjord-skiff-best-fix", "reservoir-jon-boat-best-fix"}) {
    const std::string text = text_of(file);
    const Setup bare = read(text);
    const Setup with = read(text + "\ntest_pulls:\n  - gear: '" + bare.gear.front().name +
                            "'\n    toward: astern\n    pull: 50 N\n    moved: 400 mm\n"
                            "    stayed: 300 mm\n");
    REQUIRE(with.test_pulls.size() == 1);
    CHECK(with.inputs.size() == bare.inputs.size());
    // Told by itself.
    const std::string told = json_report(with, assess(with));
    std::string json = told;
    const std::size_t at = json.find("\"failed_test_pulls\": [");
    REQUIRE(at != std::string::npos);
    json.replace(at, json.find(']', at) + 1 - at, "\"failed_test_pulls\": []");
    CHECK(json != told);
    CHECK(json == json_report(bare, assess(bare)));
  }
}

// ---- The card as a page
// ---------------------------------------------------------------------------

TEST_CASE("test pull: the lines of the card go back into the file") {
  for (const char* file : {"fjord-skiff-best-fix", "lough-boat-best-fix", "bay-boat-best-fix",
                           "reservoir-jon-boat-best-fix"}) {
    CAPTURE(file);
    const std::string text = text_of(file);
    const Judged j(text);
    const std::string html = j.html();
    const std::size_t from = html.find("test_pulls:");
    REQUIRE(from != std::string::npos);
    std::string lines = html.substr(from, html.find("</pre>", from) - from);
    for (const auto& [what, by] : {std::pair<std::string, std::string>{"&#39;", "'"},
                                   {"pull: ___", "pull: 100"},
                                   {"___", "2"}}) {
      for (std::size_t at = 0; (at = lines.find(what, at)) != std::string::npos;) {
        lines.replace(at, what.size(), by);
      }
    }
    Judged with(text + "\n" + lines);
    CHECK(with.setup.test_pulls.size() == j.card().steps.size());
    for (const TestPullStep& s : j.card().steps) {
      CHECK(std::any_of(with.setup.test_pulls.begin(), with.setup.test_pulls.end(),
                        [&](const TestPull& t) {
                          return t.gear == s.gear && t.toward == s.toward &&
                                 t.boom.has_value() == s.boom.has_value();
                        }));
    }
    const std::string said = with.html();
    CHECK(said.find("What was measured") != std::string::npos);
    CHECK(said.find("did not come back") != std::string::npos);
  }
}

TEST_CASE("test pull: hostile names stay text on the card") {
  const std::string long_name(10000, 'x');
  for (const std::string& name :
       {std::string("<script>alert('1')</script>"), std::string("\" onload=\"x"),
        std::string("it's \xE2\x80\xAE"
                    "evil"),
        long_name}) {
    Setup s = read(text_of("fjord-skiff-best-fix"));
    s.gear[0].name = name;
    s.test_pulls = {{name, "astern", {}, 100.0_N, 2.0_mm, {}}};
    const std::string html = Judged(s).html();
    CHECK(html.find("<script") == std::string::npos);
    CHECK(html.find("\" onload") == std::string::npos);
    CHECK(html.find("\xE2\x80\xAE") == std::string::npos);
    CHECK(html.size() < 30000);
  }
}

TEST_SUITE_END();
