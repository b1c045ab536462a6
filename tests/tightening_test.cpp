// Rows of the tightening block: which layer sets the ceiling, what has no figure, what keeps it.

#include <thole/tightening.hpp>

#include <doctest/doctest.h>

#include <string>

#include <thole/report.hpp>

#include "report/tightening_block.hpp"
#include "support/boards.hpp"
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

TighteningRow only(const Setup& s) {
  const auto rows = tightening_rows(s);
  REQUIRE(rows.size() == 1);
  return rows.front();
}

TighteningRow row_of(const Setup& s, Fastened what) {
  for (const TighteningRow& r : tightening_rows(s)) {
    if (r.what == what) return r;
  }
  FAIL("no such row");
  return {};
}

const std::string holes_line = "    holes: {fore_aft: 2 1/4 in, athwart: 1 1/8 in}\n";

std::string through_bolted(const std::string& more = "") {
  return with(with(jon_boat, "hold: tapped", "hold: through_bolt"), holes_line,
              holes_line +
                  "    behind: {material: 6061-T6 extrusion, thickness: 1/4 in, fore_aft: 4 "
                  "in, athwart: 1 3/4 in}\n" +
                  more);
}

}  // namespace

TEST_SUITE("unit") {
  TEST_CASE("tightening: threads in the thin wall set the ceiling of the jon-boat") {
    const TighteningRow r = only(read(jon_boat));
    CHECK(r.joint == "1/4-20 tapped in 0.090 in wall");
    CHECK(r.count == 4);
    CHECK(r.to == TightenTo::torque);
    CHECK(r.layer == "threads in the wall");
    CHECK(tightening::torque(*r.ceiling, ReaderUnits::inch, Rounding::down) == "6.9 lbf in");
    CHECK_FALSE(r.holds_preload);
    CHECK_FALSE(r.kept_tight);
    REQUIRE(r.engagement);
    CHECK(r.engagement->tolerance == 0);  // measured
    CHECK(r.engagement->threads == doctest::Approx(1.8));
    CHECK(r.lock == "add removable thread locker");
    CHECK(says(r.cautions, "may seize"));
    CHECK(r.look_again.front() == "after the first trip");
  }

  TEST_CASE("tightening: a wall that nobody measured may be a tenth thinner") {
    const std::string guessed =
        with(jon_boat, "{is: 0.090 in, known: measured}", "{is: 0.090 in, known: tagged}");
    const TighteningRow r = only(read(guessed));
    REQUIRE(r.engagement);
    CHECK(r.engagement->least_threads == doctest::Approx(1.62));
    CHECK(*r.ceiling < *only(read(jon_boat)).ceiling);
    // A countersink takes half a thread more.
    const TighteningRow sunk =
        only(read(with(guessed, holes_line, holes_line + "    countersunk_wall: yes\n")));
    REQUIRE(sunk.engagement);
    CHECK(sunk.engagement->least_threads == doctest::Approx(1.12));
    CHECK(sunk.engagement->advice == "below one and a half threads: advised against");
    // What is left is below the 0.060 in at which the rule begins.
    CHECK(sunk.to == TightenTo::snug);
    CHECK_FALSE(sunk.ceiling);
  }

  TEST_CASE("tightening: advice grows with the threads that are lost") {
    const Thread t = built_in_materials().thread("1/4-20");
    CHECK(engagement(t, 0.101_in, 0, true).advice.empty());
    CHECK(engagement(t, 0.099_in, 0, true).advice == "below two threads: no margin for wear");
    CHECK(engagement(t, 0.074_in, 0, true).advice ==
          "below one and a half threads: advised against");
    CHECK(engagement(t, 0.049_in, 0, true).advice == "less than one thread: no joint");
    CHECK(engagement(t, 0.101_in, 0, false).advice == "below two threads: no margin for wear");
    CHECK_THROWS_AS(engagement(t, Length{}, 0, true), DomainError);
  }

  TEST_CASE("tightening: what was said about oil moves both ends") {
    for (const bool stainless : {true, false}) {
      const NutFactor unknown = nut_factor(stainless, std::nullopt);
      for (const bool oiled : {true, false}) {
        CHECK(unknown.low <= nut_factor(stainless, oiled).low);
        CHECK(unknown.high >= nut_factor(stainless, oiled).high);
      }
    }
    const TighteningRow unknown = only(read(through_bolted()));
    const TighteningRow dry = only(read(through_bolted("    lubricated: no\n")));
    const TighteningRow oiled = only(read(through_bolted("    lubricated: yes\n")));
    CHECK(*unknown.ceiling == *oiled.ceiling);
    CHECK(*dry.ceiling > *oiled.ceiling);
    CHECK(says(dry.cautions, "not above 0.59"));
    CHECK_FALSE(unknown.lubricated);
    CHECK(dry.lubricated == false);
    CHECK(oiled.lubricated == true);
  }

  TEST_CASE("tightening: a metal stack is kept closed by a torque in its window or not at all") {
    TighteningRow r = only(read(through_bolted()));
    CHECK(r.layer == "bolt");
    CHECK(r.holds_preload);
    CHECK_FALSE(r.floor);
    set_floor(r, 10.0_lbf, "everyday cases");
    REQUIRE(r.floor);
    CHECK(r.kept_tight);
    // 1.2 x 10 lbf x 0.48 x 1/4 in
    CHECK(*r.floor / Moment(1.0_lbf * 1.0_in) == doctest::Approx(1.44));
    set_floor(r, 300.0_lbf, "everyday cases");
    CHECK(*r.floor > *r.ceiling);
    CHECK_FALSE(r.kept_tight);
    // Nobody said that they are oiled: 0.28 in place of 0.48 would do for less.
    REQUIRE(r.floor_oiled);
    CHECK(*r.floor_oiled / *r.floor == doctest::Approx(0.28 / 0.48));
    // Threads in a thin wall never count as preloaded.
    TighteningRow thin = only(read(jon_boat));
    set_floor(thin, 1.0_lbf, "everyday cases");
    CHECK_FALSE(thin.floor);
    CHECK_FALSE(thin.kept_tight);
  }

  TEST_CASE("tightening: the floor follows the everyday cases of the assessment") {
    const Assessment a = test::quick(read(through_bolted()), 15);
    REQUIRE(a.everyday_tension);
    REQUIRE(a.tightening.size() == 1);
    const TighteningRow& r = a.tightening.front();
    CHECK(*r.separating == *a.everyday_tension);
    CHECK(*r.floor == torque_for(1.2 * *a.everyday_tension, r.thread.diameter, 0.48));
    // No everyday case pulls harder than the worst of all.
    CHECK(*a.everyday_tension > 0.0_N);
    CHECK(a.everyday_tension->value() <= test::check_of(a, "bolt-tension").demand.si);
  }

  TEST_CASE("tightening: no figure in hand is snug and never a number") {
    const TighteningRow plastic = only(read(
        with(with(through_bolted(), "    material: 5052-H32 sheet\n", "    material: not known\n"),
             "    thickness: 3/16 in\n", "")));
    CHECK(plastic.to == TightenTo::snug);
    CHECK_FALSE(plastic.ceiling);
    CHECK(plastic.layer == "plastic or unknown base");
    CHECK_FALSE(plastic.limits.empty());
    const TighteningRow channel = only(
        read(with(jon_boat, "    flat: 2 in\n", "    flat: 2 in\n    holes: screw_channel\n")));
    CHECK(channel.to == TightenTo::snug);
    CHECK(channel.why == "no published strength of a screw channel");
  }

  TEST_CASE("tightening: locking is named and never counted") {
    const TighteningRow nut = only(read(through_bolted("    locking: nut\n")));
    const TighteningRow none = only(read(through_bolted("    locking: none\n")));
    CHECK(nut.lock == "locking nut");
    CHECK(nut.locking == Locking::nut);
    CHECK(none.lock.starts_with("fit locking nuts"));
    CHECK(*nut.ceiling == *none.ceiling);
    CHECK(
        only(read(with(jon_boat, holes_line, holes_line + "    locking: thread_locker\n"))).lock ==
        "thread locker");
    CHECK_THROWS_AS(read(with(jon_boat, holes_line, holes_line + "    locking: split washer\n")),
                    InputError);
  }

  TEST_CASE("tightening: of a cross-board ledges and hold-downs and gear have a row each") {
    const Setup s = fjord_board();
    const auto rows = tightening_rows(s);
    REQUIRE(rows.size() == 3);
    const TighteningRow ledge = row_of(s, Fastened::ledge);
    CHECK(ledge.count == 6);
    CHECK(ledge.names == std::vector<std::string>{"port ledge", "starboard ledge"});
    CHECK(ledge.to == TightenTo::snug);
    CHECK(ledge.layer == "laminate");
    const TighteningRow down = row_of(s, Fastened::hold_down);
    CHECK(down.count == 4);
    CHECK(down.layer == "wood under the washer");
    CHECK_FALSE(down.holds_preload);
    CHECK(says(down.look_again, "dried for the first time"));
    // Half the bearing of wet C24 x the ring of a 24 mm washer round the hole, K = 0.11: by hand.
    const HoldDown& h = s.board().hold_downs.front();
    const double ring = 3.14159265358979 / 4 * (24e-3 * 24e-3 - h.hole.value() * h.hole.value());
    const double f = s.board().board.wood_strength->bearing.value() * ring;
    CHECK(down.ceiling->value() == doctest::Approx(0.5 * 0.11 * 8e-3 * f));
    const TighteningRow gear = row_of(s, Fastened::gear);
    CHECK(gear.count == 8);
    CHECK(says(gear.cautions, "the maker's torque"));
    // None of them is kept by tightening alone.
    for (const TighteningRow& r : test::quick(s, 30).tightening) CHECK_FALSE(r.kept_tight);
  }

  TEST_CASE("tightening: wood that is described as dry counts as wet once") {
    Setup s = fjord_board();
    const Moment wet = *row_of(s, Fastened::hold_down).ceiling;
    s.board().board.wet = false;  // the strengths stay as they were
    CHECK(*row_of(s, Fastened::hold_down).ceiling / wet == doctest::Approx(0.67));
  }

  TEST_CASE("tightening: a narrow seat takes less than the washer") {
    Setup s = fjord_board();
    for (HoldDown& h : s.board().hold_downs) {
      h.kind = HoldDownKind::bolt;
      h.eye.reset();
      h.washer = mm(32);
    }
    CHECK(row_of(s, Fastened::hold_down).layer == "wood under the washer");
    s.board().port.along = s.board().starboard.along = mm(9);
    s.board().port.fore_aft = s.board().starboard.fore_aft = mm(40);
    CHECK(row_of(s, Fastened::hold_down).layer == "wood on the seat");
  }

  TEST_CASE("tightening: eyes without a shoulder and gaps and hollow boards stay snug") {
    Setup s = fjord_board();
    for (HoldDown& h : s.board().hold_downs) h.eye->rated = false;
    CHECK(row_of(s, Fastened::hold_down).layer == "eye bolt");
    s = fjord_board();
    s.board().port.gap = s.board().starboard.gap = mm(2);
    CHECK(row_of(s, Fastened::hold_down).why.find("pack the gap") != std::string::npos);
    s = fjord_board();
    for (HoldDown& h : s.board().hold_downs) h.slack = mm(1);
    CHECK(row_of(s, Fastened::hold_down).to == TightenTo::loose);
    s = fjord_board();
    BoardPiece& b = s.board().board;
    b.wood.reset();
    b.wood_strength.reset();
    b.metal = built_in_materials().metal("6061-T6 extrusion");
    b.wall = mm(3);
    b.form = BoardForm::rectangular_tube;
    CHECK(row_of(s, Fastened::hold_down).layer == "walls of the tube");
    CHECK(row_of(s, Fastened::gear).layer == "walls of the tube");
    // Bolts through the one web of a channel are metal on metal.
    b.form = BoardForm::channel_down;
    CHECK(row_of(s, Fastened::gear).to == TightenTo::torque);
    CHECK(row_of(s, Fastened::hold_down).to == TightenTo::snug);
    b.form = BoardForm::channel_up;
    CHECK(row_of(s, Fastened::gear).to == TightenTo::snug);
    CHECK(row_of(s, Fastened::hold_down).to == TightenTo::torque);
  }

  TEST_CASE("tightening: pins are not tightened and unlike hold-downs have a row each") {
    Setup s = fjord_board();
    auto& downs = s.board().hold_downs;
    downs[0].kind = HoldDownKind::pin;
    downs[0].washer = Length{};
    downs[1].washer = mm(30);
    int rows = 0;
    int count = 0;
    for (const TighteningRow& r : tightening_rows(s)) {
      if (r.what != Fastened::hold_down) continue;
      ++rows;
      count += r.count;
    }
    CHECK(rows == 2);
    CHECK(count == 3);
  }

  TEST_CASE("tightening: the ceiling is the least of its layers and monotone") {
    test::PlateDice dice(5);
    for (int i = 0; i < 60; ++i) {
      const Setup s = test::random_load(dice);
      const TighteningRow r = only(s);
      if (!r.ceiling) {
        CHECK_FALSE(r.why.empty());
        continue;
      }
      for (const TighteningLimit& l : r.limits) CHECK(*r.ceiling <= l.torque);
      Setup weaker = s;
      weaker.plate().fastening.material.yield *= 0.5;
      weaker.plate().host.metal.yield *= 0.5;
      const TighteningRow w = only(weaker);
      if (w.ceiling) CHECK(*w.ceiling <= *r.ceiling);
      Setup thicker = s;
      thicker.plate().host.thickness = 1.1 * s.plate().host.thickness;
      const TighteningRow t = only(thicker);
      if (t.ceiling) CHECK(*t.ceiling >= (1 - 1e-12) * *r.ceiling);
    }
  }

  TEST_CASE("tightening: torques round to the cautious side") {
    const auto show = [](double in_lbf, Rounding r) {
      return tightening::torque(in_lbf * 1.0_lbf * 1.0_in, ReaderUnits::inch, r);
    };
    CHECK(show(6.99, Rounding::down) == "6.9 lbf in");
    CHECK(show(6.91, Rounding::up) == "7.0 lbf in");
    CHECK(show(0.68, Rounding::down) == "0.68 lbf in");
    CHECK(show(119.9, Rounding::down) == "110 lbf in");
    CHECK(show(9.99, Rounding::up) == "10 lbf in");
    CHECK(show(252, Rounding::down) == "21 lbf ft");
    CHECK(tightening::torque(Moment::from_value(1.79), ReaderUnits::metric, Rounding::down) ==
          "1.7 N m");
    CHECK(tightening::torque(Moment::from_value(13.0), ReaderUnits::metric, Rounding::down) ==
          "13 N m");
    CHECK_THROWS_AS(torque_for(1.0_N, mm(6), 0), DomainError);
    CHECK_THROWS_AS(preload_of(Moment::from_value(1), Length{}, 0.2), DomainError);
    const Thread t = built_in_materials().thread("M8");
    CHECK(preload_of(torque_for(1000.0_N, t.diameter, 0.2), t.diameter, 0.2).value() ==
          doctest::Approx(1000));
  }

  TEST_CASE("tightening: what lies under the base takes its tightness away and is never counted") {
    const std::string metal = through_bolted();
    const auto on = [&](const char* bedding) {
      return with(metal, "    thread: 1/4-20",
                  std::string("    bedding: ") + bedding + "\n    thread: 1/4-20");
    };
    const TighteningRow unsaid = only(read(metal));
    const TighteningRow none = only(read(on("none")));
    CHECK(unsaid.holds_preload);
    CHECK(says(unsaid.cautions, "bedding is not said"));
    CHECK(none.holds_preload);
    CHECK_FALSE(says(none.cautions, "sealant"));
    CHECK_FALSE(says(none.look_again, "month"));
    const TighteningRow sealant = only(read(on("sealant")));
    CHECK_FALSE(sealant.holds_preload);
    REQUIRE(sealant.ceiling);
    CHECK(sealant.ceiling->value() == doctest::Approx(none.ceiling->value()));
    CHECK(says(sealant.look_again, "cured"));
    for (const char* pad : {"plastic", "rubber", "wood"}) {
      CAPTURE(pad);
      const TighteningRow r = only(read(on(pad)));
      CHECK_FALSE(r.holds_preload);
      CHECK(r.to == TightenTo::snug);
      CHECK_FALSE(r.ceiling);
      CHECK(says(r.look_again, "month"));
    }
    CHECK_THROWS_AS(read(on("glue")), InputError);
    // No window of torque where the joint cannot be kept closed.
    CHECK_FALSE(assess(read(on("rubber")), {.neighbours = false}).tightening.front().floor);
  }

  TEST_CASE("tightening: reports say how tight and the old caution is gone") {
    const Setup s = read(jon_boat);
    const Assessment a = test::quick(s, 15);
    CHECK_FALSE(says(a.cautions, "torque charts"));
    const std::string screen = terminal_report(s, a);
    CHECK(screen.find("Tighten     1/4-20 tapped in 0.090 in wall: at most 6.9 lbf in") !=
          std::string::npos);
    ReportStyle full;
    full.details = true;
    const std::string details = terminal_report(s, a, full);
    CHECK(details.find("Tightening") != std::string::npos);
    CHECK(details.find("again keep it") != std::string::npos);
    const std::string json = json_report(s, a);
    CHECK(json.find("\"tightening\": [") != std::string::npos);
    CHECK(json.find("\"layer\": \"threads in the wall\"") != std::string::npos);
  }
}
