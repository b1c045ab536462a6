// The search for sizes: what it names as holding holds when the setup is written so, and nothing is
// dropped in silence. Against brute force: size_space_test.cpp.

#include <thole/sizing.hpp>

#include <doctest/doctest.h>

#include <algorithm>
#include <cstddef>
#include <sstream>
#include <string>
#include <vector>

#include <thole/error.hpp>
#include <thole/reading.hpp>

#include "reading/sizing_space.hpp"
#include "support/light_plank.hpp"

using namespace thole;
using namespace thole::literals;
using thole::test::plank;

namespace {

const char* const plate = R"(thole: 1
units: inch
water: fresh
mount:
  kind: gunwale_plate
  host: {form: closed_section, alloy: 6063-T5 extrusion, thickness: 0.090 in, flat: 2 in}
  base: {fore_aft: 3 in, athwart: 1 7/8 in, material: 5052-H32 sheet, thickness: 3/16 in}
  fastening: {hold: tapped, thread: 1/4-20, material: "stainless, unmarked",
              holes: {fore_aft: 2 1/4 in, athwart: 1 1/8 in}}
gear:
  - kind: plain_load
    at: {forward: 0 in, outboard: 0 in, up: 3 in}
    pull: 20 lbf
    azimuth: [0 deg, 180 deg]
    dip: [0 deg, 60 deg]
)";

std::string with(std::string text, const std::string& from, const std::string& to) {
  std::size_t at = text.find(from);
  REQUIRE(at != std::string::npos);
  for (; at != std::string::npos; at = text.find(from, at + to.size())) {
    text.replace(at, from.size(), to);
  }
  return text;
}

Setup setup_of(const std::string& text) {
  return read_setup(text, "test.yaml", built_in_materials());
}

// Coarse: both sides of each comparison alike.
const Angle coarse = degrees(12);

SizeQuestion planks_only() {
  SizeQuestion q;
  q.step = coarse;
  q.free = {"stock", "laid"};
  return q;
}

SizeQuestion with_legs() {
  SizeQuestion q;
  q.step = coarse;
  q.free = {"stock", "laid", "legs"};
  q.leg_length = 12.0_in;
  return q;
}

SizeAnswer ask(const std::string& text, const SizeQuestion& q) {
  return size_mount(setup_of(text), q, built_in_materials());
}

std::size_t quantity(const SizeAnswer& a, const std::string& word) {
  for (std::size_t i = 0; i < a.space.size(); ++i) {
    if (a.space[i].word == word) return i;
  }
  FAIL("no quantity " << word);
  return 0;
}

std::string chosen(const SizeAnswer& a, const SizeDesign& d, const std::string& word) {
  const std::size_t q = quantity(a, word);
  return a.space[q].options[d.choice[q]];
}

// 12 digits, so that the reader takes them.
std::string millimetres(Length v) {
  std::ostringstream out;
  out.precision(12);
  out << v.value() * 1000 << " mm";
  return out.str();
}

// The setup text with the board of a design written into it, and what `assess` says of it.
Assessment written_out(const std::string& text, const SizeAnswer& a, const SizeDesign& d) {
  std::string board = "size: " + chosen(a, d, "stock");
  if (chosen(a, d, "laid") == "on edge") board += "\n    laid: on_edge";
  std::string t = with(text, "size: 2x8", board);
  std::string wood = chosen(a, d, "wood");
  if (wood.starts_with("Southern Pine")) wood += " " + chosen(a, d, "stock");
  t = with(t, "is: Douglas Fir-Larch No.2", "is: " + wood);
  std::string legs;
  for (const Leg& l : d.legs) {
    legs += "    - {side: " + std::string(word_for(l.place.side)) +
            ", outboard: " + millimetres(l.place.outboard) +
            ", forward: " + millimetres(l.place.forward) + ", length: " + millimetres(l.length) +
            ", fore_aft: " + millimetres(l.fore_aft) + ", athwart: " + millimetres(l.athwart) +
            ", wood: " + l.wood->name + ", stands_on: hull, foot_slope: 0 deg, foot_held: yes}\n";
  }
  if (!legs.empty()) t = with(t, "gear:\n", "  legs:\n" + legs + "gear:\n");
  return assess(setup_of(t), {.step = coarse, .neighbours = false});
}

bool passes(const Assessment& a) {
  return a.verdict == Verdict::holds || a.verdict == Verdict::holds_if;
}

void check_same(const SizeDesign& d, const Assessment& w) {
  CHECK(d.verdict == w.verdict);
  REQUIRE(d.worst.has_value());
  CHECK(d.worst->mode == w.checks.front().mode);
  CHECK(d.worst->factor == doctest::Approx(w.checks.front().factor).epsilon(1e-9));
  REQUIRE(d.hold_limit.has_value());
  REQUIRE(w.hold_limit.has_value());
  CHECK(d.hold_limit->value() == doctest::Approx(w.hold_limit->value()).epsilon(1e-9));
}

}  // namespace

TEST_SUITE("unit") {
  TEST_CASE("sizing: the plank named as smallest holds when it is written into the setup") {
    const SizeAnswer a = ask(plank, with_legs());
    REQUIRE(a.smallest.has_value());
    REQUIRE(a.lightest.has_value());
    for (const SizeDesign* d : {&*a.smallest, &*a.lightest}) {
      const Assessment w = written_out(plank, a, *d);
      CHECK(passes(w));
      check_same(*d, w);
    }
    SizeQuestion on_leg = with_legs();
    on_leg.legs = {LegPlan::below_gear};
    const SizeAnswer b = ask(plank, on_leg);
    REQUIRE(b.smallest.has_value());
    CHECK(b.smallest->legs.size() == 1);
    const Assessment w = written_out(plank, b, *b.smallest);
    CHECK(passes(w));
    check_same(*b.smallest, w);
  }

  TEST_CASE("sizing: the next smaller plank does not hold when it is written into the setup") {
    const SizeAnswer a = ask(plank, planks_only());
    REQUIRE_FALSE(a.below_lightest.empty());
    const SizeStep& stock = a.below_lightest.front();
    CHECK(a.space[stock.quantity].word == "stock");
    REQUIRE(stock.down.has_value());
    CHECK(stock.down->mass < a.lightest->mass);
    CHECK_FALSE(stock.down->holds());
    REQUIRE(stock.down->fits());
    CHECK_FALSE(stock.down->failed.empty());
    CHECK_FALSE(passes(written_out(plank, a, *stock.down)));
  }

  TEST_CASE("sizing: a stronger wood of the same rules never needs a larger plank") {
    double before = 1e9;
    for (const char* wood : {"C16", "C18", "C24"}) {
      SizeQuestion q = planks_only();
      q.woods = {wood};
      q.on_edge = false;
      const SizeAnswer a = ask(plank, q);
      CAPTURE(wood);
      const double section = a.smallest ? a.smallest->section.value() : 1e8;
      CHECK(section <= before);
      before = section;
    }
    CHECK(before < 1);
  }

  TEST_CASE("sizing: each design is counted once") {
    SizeQuestion q = with_legs();
    q.woods = {"C16", "C24"};
    const SizeAnswer a = ask(plank, q);
    CHECK(a.designs == a.do_not_fit + a.ruled_out + a.outweighed + a.assessed);
    CHECK(a.assessed > 0);
    CHECK(a.designs > 4 * a.assessed);
    std::size_t counted = 0;
    for (const SizeCount& c : a.counts) counted += c.designs;
    CHECK(counted <= a.do_not_fit + a.ruled_out + a.assessed);
  }

  TEST_CASE("sizing: every size of the market is there flat and on edge") {
    const SizeAnswer a = ask(plank, planks_only());
    CHECK(a.market == "North America");
    const std::vector<std::string>& stock = a.space[quantity(a, "stock")].options;
    std::size_t sizes = 0;
    for (const Entry& e : built_in_materials().entries()) {
      if (e.kind != "lumber_size" || e.about.at("market") != a.market) continue;
      ++sizes;
      CHECK(std::count(stock.begin(), stock.end(), e.name) == 1);
    }
    CHECK(sizes == stock.size());
    CHECK(sizes > 5);
    CHECK(a.designs == 2 * sizes);
  }

  TEST_CASE("sizing: a board too narrow for its hold-downs does not fit and is told so") {
    SizeQuestion q = planks_only();
    q.flat = false;
    q.market = "North America";
    const SizeAnswer a = ask(plank, q);
    CHECK_FALSE(a.smallest.has_value());
    CHECK(a.do_not_fit > 5);
    CHECK(std::any_of(a.counts.begin(), a.counts.end(), [](const SizeCount& c) {
      return c.what.starts_with("does not fit: the port forward bolt");
    }));
    CHECK(size_table(setup_of(plank), a).find("(mostly: ") != std::string::npos);
  }

  TEST_CASE("sizing: somebody at the edge of a wide plank rules out no narrow one") {
    // The load that breaks weaker planks is somebody who leans on their edge.
    const std::string text = R"(thole: 1
units: metric
water: fresh
use: {not_a_seat: yes}
mount:
  kind: cross_board
  board: {form: plank, size: 48x223, length: 1900 mm, wood: {is: C18, known: tagged}}
  clear_width: {is: 1400 mm, known: measured}
  ledges:
    both: {kind: saddle, along: 160 mm, fore_aft: 300 mm}
  hold_downs:
    - {side: both, kind: bolt, outboard: 60 mm, forward: 20 mm, thread: M8, material: A4-70,
       washer_diameter: 50 mm}
    - {side: both, kind: bolt, outboard: 60 mm, forward: -20 mm, thread: M8, material: A4-70,
       washer_diameter: 60 mm}
gear:
  - kind: plain_load
    name: rod
    on_board: {side: starboard, outboard: -100 mm}
    at: {forward: 0 mm, outboard: 0 mm, up: 100 mm}
    pull: {is: 120 N, known: measured}
    azimuth: [0 deg, 180 deg]
    dip: [0 deg, 60 deg]
condition: {cracks: no, loose_rivets: no, bent_or_corroded: no, soft_wood_or_core: no,
            weld_near_base: no, within_6_in: knee}
)";
    SizeQuestion q;
    q.step = degrees(15);
    q.free = {"stock", "laid", "bolts"};
    q.woods = {"C24", "C16", "not known"};
    const SizeAnswer a = ask(text, q);
    const std::string narrow = with(with(with(text, "size: 48x223", "size: 48x148"), "M8", "M12"),
                                    "C18", "unknown softwood");
    REQUIRE(passes(assess(setup_of(narrow), {.step = q.step, .neighbours = false})));
    REQUIRE(a.lightest.has_value());
    CHECK(chosen(a, *a.lightest, "stock") == "48x148");
    CHECK(chosen(a, *a.lightest, "bolts") == "M12");
  }

  TEST_CASE("sizing: every design is counted once though nothing holds") {
    const auto sum = [](const SizeAnswer& a) {
      return a.do_not_fit + a.ruled_out + a.outweighed + a.assessed;
    };
    SizeQuestion q = planks_only();
    const SizeAnswer strong = ask(with(plank, "is: 30 lbf", "is: 400 lbf"), q);
    CHECK_FALSE(strong.lightest.has_value());
    CHECK(strong.assessed > 2);
    CHECK(sum(strong) == strong.designs);
    std::size_t counted = 0;
    for (const SizeCount& c : strong.counts) counted += c.designs;
    CHECK(counted == strong.designs);
    // What moves as a whole has no hold limit: one assessment tells that for all.
    const SizeAnswer loose = ask(with(plank, "kind: bolt", "kind: u_bolt"), q);
    CHECK(loose.curve.empty());
    CHECK(loose.assessed < 5);
    CHECK(sum(loose) == loose.designs);
  }

  TEST_CASE("sizing: a fault that no plank cures is named with what helps") {
    // Bolts with next to no washer under a strong pull.
    const std::string text =
        with(with(plank, "washer_diameter: 2 1/2 in", "washer_diameter: 0.75 in"), "is: 30 lbf",
             "is: 120 lbf");
    const SizeAnswer a = ask(text, planks_only());
    CHECK_FALSE(a.smallest.has_value());
    CHECK_FALSE(a.lightest.has_value());
    CHECK_FALSE(a.curve_holds);
    REQUIRE(a.nearest.has_value());
    REQUIRE_FALSE(a.nearest->failed.empty());
    for (const SizeCheck& k : a.nearest->failed) {
      CHECK(k.factor < k.needed);
      CHECK_FALSE(k.advice.empty());
    }
    CHECK(std::any_of(a.nearest->failed.begin(), a.nearest->failed.end(),
                      [](const SizeCheck& k) { return k.mode == "washer-dent"; }));
    // With the washers free it is cured.
    SizeQuestion q = planks_only();
    q.free = {"stock", "laid", "washer"};
    const SizeAnswer cured = ask(with(text, "is: 120 lbf", "is: 30 lbf"), q);
    REQUIRE(cured.smallest.has_value());
    CHECK_FALSE(chosen(cured, *cured.smallest, "washer").starts_with("as drawn"));
  }

  TEST_CASE("sizing: a leg below a gear stands flush with the aft edge and inboard of the ledge") {
    SizeQuestion q;
    q.free = {"stock", "legs"};
    q.legs = {LegPlan::below_gear};
    q.leg_length = 12.0_in;
    const Setup s = setup_of(plank);
    const auto space = reading::space_of(s, q, built_in_materials());
    int seen = 0;
    for (std::size_t i = 0; i < space->designs(); ++i) {
      const Setup d = space->setup_of(space->choice(i));
      if (d.board().board.thickness > d.board().board.width) continue;
      REQUIRE(d.board().legs.size() == 1);
      const Leg& l = d.board().legs.front();
      CHECK((l.place.forward - 0.5 * l.fore_aft).value() ==
            doctest::Approx(-0.5 * d.board().board.width.value()));
      CHECK(l.place.outboard <= -0.5 * l.athwart);
      CHECK(l.foot_held);
      CHECK(l.length == 12.0_in);
      ++seen;
    }
    CHECK(seen > 5);
  }

  TEST_CASE("sizing: a Southern Pine grade is taken at the values of each width") {
    SizeQuestion q = planks_only();
    q.woods = {"Southern Pine No.2 2x8"};
    q.on_edge = false;
    const Setup s = setup_of(plank);
    const auto space = reading::space_of(s, q, built_in_materials());
    int seen = 0;
    for (std::size_t i = 0; i < space->designs(); ++i) {
      const std::string& size = space->quantities().front().options[space->choice(i).front()];
      const Setup d = space->setup_of(space->choice(i));
      // A row holds up to its width: 1x4 and 5/4x6 are as wide as 2x4 and 2x6.
      const std::string width = size.substr(size.find('x'), size.find(' ') - size.find('x'));
      CHECK(d.board().board.wood->name == "Southern Pine No.2 2" + width);
      ++seen;
    }
    CHECK(seen == 11);
  }

  TEST_CASE("sizing: slits for preservative stay in every size") {
    const std::string text = with(plank, "length: 72 in", "length: 72 in\n    incised: yes");
    SizeQuestion q = planks_only();
    q.on_edge = false;
    const Setup s = setup_of(text);
    const auto space = reading::space_of(s, q, built_in_materials());
    for (std::size_t i = 0; i < space->designs(); ++i) {
      const Setup d = space->setup_of(space->choice(i));
      if (d.board().board.width != s.board().board.width ||
          d.board().board.thickness != s.board().board.thickness) {
        continue;
      }
      CHECK(d.board().board.wood_strength->tension.value() ==
            doctest::Approx(s.board().board.wood_strength->tension.value()).epsilon(1e-12));
    }
  }

  TEST_CASE("sizing: what the owner guessed stays a condition and what is bought is none") {
    const std::string text =
        with(plank, "is: Douglas Fir-Larch No.2, known: tagged", "is: C24, known: assumed");
    const SizeAnswer a = ask(text, planks_only());
    REQUIRE(a.smallest.has_value());
    const auto names = [](const SizeAnswer& answer, const char* what) {
      const auto& list = answer.smallest->conditions;
      return std::any_of(list.begin(), list.end(),
                         [&](const std::string& c) { return c.find(what) != std::string::npos; });
    };
    CHECK(names(a, "C24"));
    SizeQuestion q = planks_only();
    q.woods = {"C24"};
    const SizeAnswer bought = ask(text, q);
    REQUIRE(bought.smallest.has_value());
    CHECK_FALSE(names(bought, "C24"));
  }

  TEST_CASE("sizing: legs are tried only where their length is known") {
    SizeQuestion q = planks_only();
    q.free = {"stock", "legs"};
    const SizeAnswer a = ask(plank, q);
    CHECK(a.space[quantity(a, "legs")].options == std::vector<std::string>{"no legs"});
    REQUIRE(a.remarks.size() == 1);
    CHECK(a.remarks.front().find("length is not known") != std::string::npos);
    q.legs = {LegPlan::below_gear};
    CHECK_THROWS_AS(ask(plank, q), DomainError);
    q.legs = {LegPlan::as_drawn};
    CHECK_THROWS_AS(ask(plank, q), DomainError);
  }

  TEST_CASE("sizing: words woods and markets are refused with the nearest spelling") {
    SizeQuestion q = planks_only();
    q.woods = {"Hem-Fir No2"};
    CHECK_THROWS_WITH_AS(ask(plank, q),
                         "no wood grade is called \"Hem-Fir No2\"; did you mean \"Hem-Fir No.2\"?",
                         UnknownName);
    q.woods.clear();
    q.market = "the moon";
    CHECK_THROWS_AS(ask(plank, q), UnknownName);
    q.market = "nordic";
    CHECK(ask(plank, q).market == "Nordic and EU");
    q.free = {"stok"};
    CHECK_THROWS_WITH_AS(ask(plank, q), doctest::Contains("did you mean \"stock\"?"), UnknownName);
    q.free = {"pattern"};
    CHECK_THROWS_WITH_AS(ask(plank, q), doctest::Contains("is no quantity of a cross_board"),
                         DomainError);
    q.free = {"ledge"};
    CHECK_THROWS_WITH_AS(ask(plank, q), "ledge: not all of the ledges are angles", DomainError);
    SizeQuestion wood;
    wood.woods = {"C24"};
    CHECK_THROWS_AS(ask(plate, wood), DomainError);
  }

  TEST_CASE("sizing: more designs than allowed are refused with their number") {
    SizeQuestion q = planks_only();
    q.most_designs = 5;
    CHECK_THROWS_WITH_AS(ask(plank, q), doctest::Contains("designs are more than 5"), DomainError);
  }

  TEST_CASE("sizing: a crack leaves no size with a verdict") {
    const SizeAnswer a = ask(with(plank, "cracks: no,", "cracks: yes,"), planks_only());
    CHECK_FALSE(a.smallest.has_value());
    REQUIRE(a.nearest.has_value());
    CHECK(a.nearest->verdict == Verdict::no_verdict);
    CHECK_FALSE(a.nearest->reasons.empty());
    CHECK(a.ruled_out + a.do_not_fit == a.designs);
  }

  TEST_CASE("sizing: a search that is stopped says so") {
    SizeQuestion q = with_legs();
    int calls = 0;
    q.watch = [&](const Progress& p) {
      CHECK(p.done <= p.all);
      return ++calls < 2;
    };
    const SizeAnswer a = ask(plank, q);
    CHECK(a.stopped);
    CHECK(calls == 2);
    CHECK(size_table(setup_of(plank), a).find("STOPPED") != std::string::npos);
  }

  TEST_CASE("sizing: the report fits its columns and its JSON names every quantity") {
    const Setup s = setup_of(plank);
    SizeQuestion q = with_legs();
    q.free.emplace_back("washer");
    const SizeAnswer a = size_mount(s, q, built_in_materials());
    for (const bool details : {false, true}) {
      std::istringstream lines(size_table(s, a, details));
      std::string line;
      while (std::getline(lines, line)) {
        CAPTURE(line);
        CHECK(line.size() <= 79);
      }
    }
    const std::string json = size_json(s, a);
    for (const SizeQuantity& k : a.space) {
      CHECK(json.find("\"word\": \"" + k.word + "\"") != std::string::npos);
    }
    CHECK(json.find("not an inspection") != std::string::npos);
  }
}
