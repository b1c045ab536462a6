// The search for the smallest plank: what it names as holding holds when the setup is written so,
// and nothing is dropped in silence.

#include <thole/sizing.hpp>

#include <doctest/doctest.h>

#include <algorithm>
#include <cstddef>
#include <sstream>
#include <string>
#include <vector>

#include <thole/error.hpp>
#include <thole/reading.hpp>

using namespace thole;
using namespace thole::literals;

namespace {

// A light pull on a plank on two blocks.
const char* const plank = R"(thole: 1
units: inch
water: fresh
use: {not_a_seat: yes}
mount:
  kind: cross_board
  board:
    form: plank
    size: 2x8
    length: 72 in
    wood: {is: Douglas Fir-Larch No.2, known: tagged}
  clear_width: {is: 56 in, known: measured}
  ledges:
    both: {kind: saddle, along: 7 in, fore_aft: 14 in}
  hold_downs:
    - side: both
      kind: bolt
      outboard: 3 in
      forward: 1 1/4 in
      thread: 1/2-13
      material: {is: "stainless, unmarked", known: tagged}
      washer_diameter: 2 1/2 in
    - side: both
      kind: bolt
      outboard: 3 in
      forward: -1 1/4 in
      thread: 1/2-13
      material: {is: "stainless, unmarked", known: tagged}
      washer_diameter: 2 1/2 in
gear:
  - kind: plain_load
    name: rod
    on_board: {side: port, outboard: -6 in}
    at: {forward: 0 in, outboard: 0 in, up: 3 in}
    pull: {is: 30 lbf, known: measured}
    azimuth: [0 deg, 180 deg]
    dip: [0 deg, 60 deg]
condition: {cracks: no, loose_rivets: no, bent_or_corroded: no, soft_wood_or_core: no,
            weld_near_base: no, within_6_in: knee}
)";

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

SizeQuestion without_legs() {
  SizeQuestion q;
  q.legs = {LegPlan::none};
  return q;
}

SizeAnswer ask(const std::string& text, const SizeQuestion& q) {
  return size_board(setup_of(text), q, built_in_materials());
}

// 12 digits, so that the reader takes them.
std::string millimetres(Length v) {
  std::ostringstream out;
  out.precision(12);
  out << v.value() * 1000 << " mm";
  return out.str();
}

// The setup text with the board of a candidate written into it, and what `assess` says of it.
Assessment written_out(const std::string& text, const SizeCandidate& c) {
  std::string board = "size: " + c.size;
  if (c.on_edge) board += "\n    laid: on_edge";
  std::string t = with(text, "size: 2x8", board);
  t = with(t, "is: Douglas Fir-Larch No.2", "is: " + c.wood);
  std::string legs;
  for (const Leg& l : c.legs) {
    legs += "    - {side: " + std::string(word_for(l.place.side)) +
            ", outboard: " + millimetres(l.place.outboard) +
            ", forward: " + millimetres(l.place.forward) + ", length: " + millimetres(l.length) +
            ", fore_aft: " + millimetres(l.fore_aft) + ", athwart: " + millimetres(l.athwart) +
            ", wood: " + l.wood->name + ", stands_on: hull, foot_slope: 0 deg, foot_held: yes}\n";
  }
  if (!legs.empty()) t = with(t, "gear:\n", "  legs:\n" + legs + "gear:\n");
  return assess(setup_of(t), {.neighbours = false});
}

bool passes(const Assessment& a) {
  return a.verdict == Verdict::holds || a.verdict == Verdict::holds_if;
}

}  // namespace

TEST_SUITE("unit") {
  TEST_CASE("sizing: the plank named as smallest holds when it is written into the setup") {
    SizeQuestion q;
    q.leg_length = 12.0_in;
    const SizeAnswer a = ask(plank, q);
    REQUIRE(a.smallest.has_value());
    CHECK(passes(written_out(plank, a.candidates[*a.smallest])));
    const auto on_leg = a.smallest_with(LegPlan::below_gear);
    REQUIRE(on_leg.has_value());
    CHECK(a.candidates[*on_leg].legs.size() == 1);
    CHECK(passes(written_out(plank, a.candidates[*on_leg])));
  }

  TEST_CASE("sizing: the next smaller plank does not hold when it is written into the setup") {
    const SizeAnswer a = ask(plank, without_legs());
    REQUIRE(a.next_smaller.has_value());
    REQUIRE(a.one_size_down.has_value());
    for (const std::size_t i : {*a.next_smaller, *a.one_size_down}) {
      const SizeCandidate& c = a.candidates[i];
      REQUIRE(c.fits());
      CHECK(c.section() < a.candidates[*a.smallest].section());
      CHECK_FALSE(c.failed.empty());
      CHECK_FALSE(passes(written_out(plank, c)));
    }
  }

  TEST_CASE("sizing: each candidate is judged as the setup written so") {
    SizeQuestion q;
    q.leg_length = 12.0_in;
    q.woods = {"Hem-Fir No.1"};
    const SizeAnswer a = ask(plank, q);
    int seen = 0;
    for (const SizeCandidate& c : a.candidates) {
      if (!c.fits()) {
        CHECK_THROWS_AS(written_out(plank, c), InputError);
        continue;
      }
      CAPTURE(c.size);
      const Assessment w = written_out(plank, c);
      CHECK(c.verdict == w.verdict);
      REQUIRE(c.worst.has_value());
      CHECK(c.worst->mode == w.checks.front().mode);
      CHECK(c.worst->factor == doctest::Approx(w.checks.front().factor).epsilon(1e-9));
      REQUIRE(c.hold_limit.has_value());
      REQUIRE(w.hold_limit.has_value());
      CHECK(c.hold_limit->value() == doctest::Approx(w.hold_limit->value()).epsilon(1e-9));
      ++seen;
    }
    CHECK(seen > 10);
  }

  TEST_CASE("sizing: nothing before the smallest holds and sections never fall along the list") {
    SizeQuestion q;
    q.woods = {"C16", "C24"};
    q.on_edge = false;
    q.leg_length = 12.0_in;
    const SizeAnswer a = ask(plank, q);
    REQUIRE(a.smallest.has_value());
    for (std::size_t i = 0; i < *a.smallest; ++i) CHECK_FALSE(a.candidates[i].holds());
    for (std::size_t i = 1; i < a.candidates.size(); ++i) {
      CHECK(a.candidates[i].section().value() > a.candidates[i - 1].section().value() - 1e-8);
    }
  }

  TEST_CASE("sizing: a stronger wood of the same rules never needs a larger plank") {
    double before = 1e9;
    for (const char* wood : {"C16", "C18", "C24"}) {
      SizeQuestion q = without_legs();
      q.woods = {wood};
      q.on_edge = false;
      const SizeAnswer a = ask(plank, q);
      CAPTURE(wood);
      const double section = a.smallest ? a.candidates[*a.smallest].section().value() : 1e8;
      CHECK(section <= before);
      before = section;
    }
    CHECK(before < 1);
  }

  TEST_CASE("sizing: a board too narrow for its hold-downs is listed with the reason") {
    const SizeAnswer a = ask(plank, without_legs());
    const auto narrow =
        std::find_if(a.candidates.begin(), a.candidates.end(),
                     [](const SizeCandidate& c) { return c.size == "2x4" && c.on_edge; });
    REQUIRE(narrow != a.candidates.end());
    CHECK_FALSE(narrow->fits());
    CHECK_FALSE(narrow->holds());
    CHECK(narrow->why_not.find("edge of the board") != std::string::npos);
  }

  TEST_CASE("sizing: every size of the market is listed flat and on edge") {
    const SizeAnswer a = ask(plank, without_legs());
    CHECK(a.market == "North America");
    std::size_t sizes = 0;
    for (const Entry& e : built_in_materials().entries()) {
      if (e.kind != "lumber_size" || e.about.at("market") != a.market) continue;
      ++sizes;
      for (const bool on_edge : {false, true}) {
        const bool square = e.values.at("width").measure.si == e.values.at("thickness").measure.si;
        const auto n = std::count_if(
            a.candidates.begin(), a.candidates.end(),
            [&](const SizeCandidate& c) { return c.size == e.name && c.on_edge == on_edge; });
        CHECK(n == (square && on_edge ? 0 : 1));
      }
    }
    CHECK(sizes > 5);
  }

  TEST_CASE("sizing: a fault that no plank cures is named with what helps") {
    // Bolts with next to no washer under a strong pull.
    const std::string text =
        with(with(plank, "washer_diameter: 2 1/2 in", "washer_diameter: 0.75 in"), "is: 30 lbf",
             "is: 120 lbf");
    const SizeAnswer a = ask(text, without_legs());
    CHECK_FALSE(a.smallest.has_value());
    CHECK_FALSE(a.next_smaller.has_value());
    REQUIRE(a.largest.has_value());
    REQUIRE_FALSE(a.stops_every.empty());
    for (const SizeCheck& k : a.stops_every) {
      CHECK(k.factor < k.needed);
      CHECK_FALSE(k.advice.empty());
      for (const SizeCandidate& c : a.candidates) {
        if (!c.fits() || c.verdict == Verdict::no_verdict) continue;
        const auto f = std::find_if(c.failed.begin(), c.failed.end(),
                                    [&](const SizeCheck& o) { return o.mode == k.mode; });
        REQUIRE(f != c.failed.end());
        CHECK(f->factor / f->needed <= k.factor / k.needed);
      }
    }
    CHECK(std::any_of(a.stops_every.begin(), a.stops_every.end(),
                      [](const SizeCheck& k) { return k.mode == "washer-dent"; }));
  }

  TEST_CASE("sizing: a leg below a gear stands flush with the aft edge and inboard of the ledge") {
    SizeQuestion q;
    q.legs = {LegPlan::below_gear};
    q.leg_length = 12.0_in;
    const SizeAnswer a = ask(plank, q);
    CHECK(a.leg_size == "2x4");
    for (const SizeCandidate& c : a.candidates) {
      if (!c.fits()) continue;
      REQUIRE(c.legs.size() == 1);
      const Leg& l = c.legs.front();
      CHECK((l.place.forward - 0.5 * l.fore_aft).value() ==
            doctest::Approx(-0.5 * c.width.value()));
      CHECK(l.place.outboard <= -0.5 * l.athwart);
      CHECK(l.foot_held);
      CHECK(l.length == 12.0_in);
    }
  }

  TEST_CASE("sizing: a Southern Pine grade is taken at the values of each width") {
    SizeQuestion q = without_legs();
    q.woods = {"Southern Pine No.2 2x8"};
    q.on_edge = false;
    const SizeAnswer a = ask(plank, q);
    for (const char* size : {"2x4", "2x6", "2x8", "2x10", "2x12"}) {
      const auto c = std::find_if(a.candidates.begin(), a.candidates.end(),
                                  [&](const SizeCandidate& k) { return k.size == size; });
      REQUIRE(c != a.candidates.end());
      CHECK(c->wood == std::string("Southern Pine No.2 ") + size);
    }
  }

  TEST_CASE("sizing: slits for preservative stay in every size") {
    const std::string text = with(plank, "length: 72 in", "length: 72 in\n    incised: yes");
    const SizeAnswer a = ask(text, without_legs());
    const SizeAnswer plain = ask(plank, without_legs());
    REQUIRE(a.candidates.size() == plain.candidates.size());
    for (const SizeCandidate& c : a.candidates) {
      if (c.size != "2x8" || c.on_edge) continue;
      const Assessment w = assess(setup_of(text), {.neighbours = false});
      CHECK(c.worst->factor == doctest::Approx(w.checks.front().factor).epsilon(1e-9));
    }
  }

  TEST_CASE("sizing: legs are tried only where their length is known") {
    const SizeAnswer a = ask(plank, {});
    for (const SizeCandidate& c : a.candidates) CHECK(c.plan == LegPlan::none);
    REQUIRE(a.remarks.size() == 1);
    CHECK(a.remarks.front().find("length is not known") != std::string::npos);
    SizeQuestion q;
    q.legs = {LegPlan::below_gear};
    CHECK_THROWS_AS(ask(plank, q), DomainError);
    q.legs = {LegPlan::as_drawn};
    CHECK_THROWS_AS(ask(plank, q), DomainError);
  }

  TEST_CASE("sizing: a gunwale plate is refused") {
    CHECK_THROWS_WITH_AS(ask(plate, {}),
                         "size works on a cross_board; this setup is a gunwale_plate", DomainError);
  }

  TEST_CASE("sizing: an unknown wood or market is refused with the nearest spelling") {
    SizeQuestion q;
    q.woods = {"Hem-Fir No2"};
    CHECK_THROWS_WITH_AS(ask(plank, q),
                         "no wood grade is called \"Hem-Fir No2\"; did you mean \"Hem-Fir No.2\"?",
                         UnknownName);
    q.woods.clear();
    q.market = "the moon";
    CHECK_THROWS_AS(ask(plank, q), UnknownName);
    q.market = "nordic";
    CHECK(ask(plank, q).market == "Nordic and EU");
  }

  TEST_CASE("sizing: a crack leaves no size with a verdict") {
    const SizeAnswer a = ask(with(plank, "cracks: no,", "cracks: yes,"), without_legs());
    CHECK_FALSE(a.smallest.has_value());
    CHECK(a.stops_every.empty());
    for (const SizeCandidate& c : a.candidates) {
      if (!c.fits()) continue;
      CHECK(c.verdict == Verdict::no_verdict);
      CHECK_FALSE(c.reasons.empty());
    }
  }
}
