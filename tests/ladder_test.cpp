// The weak-link ladder: the order by bounds at the border, ratings of holders by hand, and what the
// rest does when something is gone, by statics and against setups written without it.

#include <doctest/doctest.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <fstream>
#include <sstream>
#include <string>
#include <vector>

#include <thole/assessment.hpp>
#include <thole/check.hpp>
#include <thole/error.hpp>

#include "support/boards.hpp"
#include "support/plates.hpp"

using namespace thole;
using namespace thole::literals;
using test::read;
using test::with;

namespace {

AssessOptions with_losses() {
  AssessOptions o;
  o.after_loss = true;
  return o;
}

// A pull straight up in the middle of a stiff base on four bolts.
const char* const lifted = R"(thole: 1
units: metric
mount:
  kind: gunwale_plate
  host: {form: sheet, alloy: 6061-T6 extrusion, thickness: 6 mm, to_support: 300 mm}
  base: {fore_aft: 110 mm, athwart: 110 mm, material: 6061-T6 extrusion, thickness: 20 mm}
  fastening:
    hold: through_bolt
    thread: M5
    material: stainless, unmarked
    holes: {fore_aft: 100 mm, athwart: 100 mm}
    behind: {material: 6061-T6 extrusion, thickness: 20 mm, fore_aft: 140 mm, athwart: 140 mm}
gear:
  - kind: plain_load
    at: {forward: 0 mm, outboard: 0 mm, up: 10 mm}
    pull: 100 N
    azimuth: 0 deg
    dip: -90 deg
)";

// An upright tube and a rigid rod on the jon-boat's base.
std::string upright() {
  std::string text = with(test::rod_text, "    lean: 60 deg\n", "    lean: 0 deg\n");
  return with(text, "    butt_stiffness: {is: 25 N m^2, known: measured}\n", "");
}

RodHolder& rod(Setup& s) { return *s.gear.front().rod_holder; }

const LadderStep* step_of(const Assessment& a, const std::string& what) {
  for (const LadderStep& s : a.ladder) {
    if (s.what == what) return &s;
  }
  return nullptr;
}

bool has(const std::string& text, const std::string& part) {
  return text.find(part) != std::string::npos;
}

}  // namespace

TEST_SUITE("unit") {
  TEST_CASE("ladder: every failure mode says what is gone with it") {
    // The count changes only with a row that somebody thought about.
    std::array<int, 5> plates{};
    for (const FailureMode& m : catalogue()) ++plates[std::size_t(Loss(m.loss))];
    std::array<int, 5> boards{};
    for (const FailureMode& m : board_catalogue()) ++boards[std::size_t(Loss(m.loss))];
    CHECK(plates == std::array<int, 5>{28, 4, 16, 0, 16});
    CHECK(boards == std::array<int, 5>{9, 14, 1, 5, 15});
  }

  TEST_CASE("ladder: four bolts that share a lift equally and three that do not") {
    const Setup s = read(lifted);
    const Assessment a = assess(s, with_losses());
    REQUIRE(a.losses.size() >= 2);
    const LossRow& first = a.losses[0];
    CHECK(has(first.what, "one of four that are loaded alike"));
    CHECK(first.then == Then::follows);
    // With one corner gone the two beside it carry half each and the one across nothing.
    CHECK(double(a.losses[1].at / first.at) == doctest::Approx(0.5).epsilon(1e-4));
    // Two bolts in one row, then one: nothing holds a pull beside them.
    CHECK(a.losses.back().then == Then::drops);
    CHECK(has(first.words, "the rest follows at once"));
    CHECK(a.losses.size() <= 3);
  }

  TEST_CASE("ladder: a base on two fasteners comes off when one is lost") {
    Setup s = read(lifted);
    s.plate().fastening.holes = {{-50.0_mm, 0.0_mm}, {50.0_mm, 0.0_mm}};
    const Assessment a = assess(s, with_losses());
    REQUIRE(a.losses.size() == 1);
    CHECK(a.losses[0].then == Then::drops);
    CHECK(has(a.losses[0].words, "turns about the one fastener left"));
    REQUIRE(a.not_before);
    CHECK(a.losses[0].at <= *a.not_before);
    CHECK(a.losses[0].at.value() == doctest::Approx(a.not_before->value()).epsilon(0.01));
  }

  TEST_CASE("ladder: what is left of a base is that base written so") {
    const Setup s = read(test::jon_boat);
    const Assessment a = assess(s, with_losses());
    REQUIRE(a.losses.size() >= 2);
    const std::string& what = a.losses[0].what;
    const std::size_t at = what.find("(no. ");
    REQUIRE(at != std::string::npos);
    Setup rest = s;
    auto& holes = rest.plate().fastening.holes;
    holes.erase(holes.begin() + (std::stoi(what.substr(at + 5)) - 1));
    const Assessment b = assess(rest);
    REQUIRE(b.not_before);
    CHECK(a.losses[1].at.value() == doctest::Approx(b.not_before->value()).epsilon(0.015));
    CHECK(a.losses[0].then == (*b.not_before < a.losses[0].at ? Then::follows : Then::holds));
  }

  TEST_CASE("ladder: a board that loses a hold-down is the board written without it") {
    Setup s = test::fjord_board();
    s.gear.pop_back();
    for (HoldDown& h : s.board().hold_downs) {
      h.material.ultimate = 0.02 * h.material.ultimate;
      h.material.yield = 0.02 * h.material.yield;
    }
    const Assessment a = assess(s, with_losses());
    REQUIRE(!a.losses.empty());
    REQUIRE(has(a.losses[0].what, "hold-down breaks"));
    REQUIRE(a.gear_limits[0].not_before);
    CHECK(a.losses[0].at.value() ==
          doctest::Approx(a.gear_limits[0].not_before->value()).epsilon(0.015));
    auto& all = s.board().hold_downs;
    const auto lost = std::find_if(all.begin(), all.end(), [&](const HoldDown& h) {
      return has(a.losses[0].what, "(" + h.name);
    });
    REQUIRE(lost != all.end());
    all.erase(lost);
    const Assessment b = assess(s);
    REQUIRE(!a.losses[0].next.empty());
    if (b.verdict == Verdict::no_verdict && b.gear_limits.empty()) {
      CHECK(a.losses[0].then == Then::drops);
    } else {
      REQUIRE(b.gear_limits[0].not_before);
      const double next = b.gear_limits[0].not_before->value();
      if (a.losses.size() > 1) CHECK(a.losses[1].at.value() == doctest::Approx(next).epsilon(0.02));
      if (next < 0.98 * a.losses[0].at.value()) CHECK(a.losses[0].then != Then::holds);
    }
  }

  TEST_CASE("ladder: without losses asked for there are none") {
    CHECK(assess(read(lifted)).losses.empty());
  }

  TEST_CASE("ladder: the line is the wanted link up to its upper bound and no further") {
    Setup s = read(test::jon_boat);
    const Force mount = *assess(s).gear_limits.front().not_before;
    rod(s).line_test = 0.99 / 1.3 * mount;
    const Assessment below = assess(s);
    CHECK(has(below.ladder_verdict, "the line parts before the mount: the wanted order"));
    // The holder's own strength is not known: not certain.
    CHECK(below.orders.front().order == Order::not_certain);
    CHECK(has(below.ladder_verdict, "own strength is not known"));
    REQUIRE(step_of(below, "holder body"));
    CHECK_FALSE(step_of(below, "holder body")->known);
    rod(s).line_test = 1.01 / 1.3 * mount;
    const Assessment above = assess(s);
    CHECK(has(above.ladder_verdict, "a locked reel may take the mount before the line"));
    // A drag that nobody measured counts for nothing, and who goes before whom is named.
    rod(s).drag.known = Knowledge::assumed;
    const Assessment guessed = assess(s);
    CHECK(guessed.orders.front().order == Order::wrong);
    CHECK(has(guessed.ladder_verdict, "wrong order: the mount may go before drag or line"));
    CHECK(has(guessed.ladder_verdict, "the line may hold to"));
    CHECK(std::any_of(guessed.ladder.begin(), guessed.ladder.end(),
                      [](const LadderStep& l) { return !l.link && l.wrong; }));
  }

  TEST_CASE("ladder: a weak link at the end of the line bounds the locked reel") {
    Setup s = read(test::jon_boat);
    const Force mount = *assess(s).gear_limits.front().not_before;
    rod(s).line_test = 10.0 * mount;
    rod(s).weak_link = 0.99 / 1.2 * mount;
    const Assessment a = assess(s);
    CHECK(has(a.ladder_verdict, "the weak link parts before the mount: the wanted order"));
    const CaseResult& locked = test::case_of(a, "line-locked");
    CHECK(locked.load_case.pull.value() == doctest::Approx(1.2 * rod(s).weak_link->value()));
    CHECK(locked.load_case.title == "line locked, weak link parts");
    rod(s).weak_link = 1.01 / 1.2 * mount;
    CHECK_FALSE(has(assess(s).ladder_verdict, "wanted order"));
    // A link that is stronger than the line changes nothing.
    rod(s).line_test = 20.0_lbf;
    rod(s).weak_link = 40.0_lbf;
    CHECK(test::case_of(assess(s), "line-locked").load_case.pull.value() ==
          doctest::Approx((26.0_lbf).value()));
  }

  TEST_CASE("ladder: a rating as a moment is pull times arm") {
    Setup s = read(upright());
    rod(s).holder_rating = GearRating{40.0 * si::newton * si::metre, {}, "a test"};
    const Assessment a = assess(s);
    // Lines come in 5 deg below level at the flattest, the rod counts with its whole length.
    const double arm =
        rod(s).rod_length.value() + rod(s).height.value() * std::cos(radians(5.0_deg));
    const LadderStep* body = step_of(a, "holder body");
    REQUIRE(body);
    REQUIRE(body->low);
    CHECK(body->known);
    CHECK(body->low->value() == doctest::Approx(40 / arm).epsilon(1e-3));
    CHECK(a.gear_limits.front().holder->value() == doctest::Approx(40 / arm).epsilon(1e-3));

    // A boom: the distance of its tip from the middle of the base, in some direction of the wire.
    Setup board = test::fjord_board();
    board.gear.pop_back();
    board.gear.front().downrigger->body_rating =
        GearRating{90.0 * si::newton * si::metre, {}, "a test"};
    const Assessment b = assess(board);
    const LadderStep* gear = step_of(b, "gear body");
    REQUIRE(gear);
    REQUIRE(gear->low);
    CHECK(gear->low->value() == doctest::Approx(90 / std::hypot(0.6, 0.2)).epsilon(2e-3));
    // It is below 1.5 x the slip of 300 N: it may go before the brake.
    CHECK(gear->wrong);
    CHECK(b.orders.front().order == Order::wrong);
    CHECK(has(b.ladder_verdict, "the body of the gear may go from"));
    // The weaker of it and of the mount bounds the setting.
    const GearLimit& limit = b.gear_limits.front();
    CHECK(1.5 * limit.setting->value() ==
          doctest::Approx(std::min(*limit.hold_limit, *gear->low).value()).epsilon(1e-6));
    board.gear.front().downrigger->body_rating->moment = 10.0 * si::newton * si::metre;
    const GearLimit weaker = assess(board).gear_limits.front();
    CHECK(1.5 * weaker.setting->value() ==
          doctest::Approx(10 / std::hypot(0.6, 0.2)).epsilon(2e-3));
  }

  TEST_CASE("ladder: a rated holder is judged at the border of what the drag lets by") {
    Setup s = read(test::jon_boat);
    const Force mount = *assess(s).gear_limits.front().not_before;
    rod(s).line_test = 0.9 / 1.3 * mount;
    const Force drag = 1.5 * rod(s).spool_growth * rod(s).drag.value;
    const Force highest = std::min<Force>(drag, 0.9 * mount);
    rod(s).holder_rating = GearRating{{}, 1.01 * highest, "a test"};
    CHECK(assess(s).orders.front().order == Order::wanted);
    rod(s).holder_rating->pull = 0.99 * highest;
    const Assessment a = assess(s);
    CHECK(a.orders.front().order == Order::wrong);
    CHECK(has(a.ladder_verdict, "wrong order: the holder may go from"));
    // A mount that does not hold is not said to, whatever its holder does.
    CHECK(a.verdict == Verdict::does_not_hold);
    CHECK(a.holds_if.empty());
  }

  TEST_CASE("ladder: a mount that holds does so only if a holder that may go first outlasts") {
    std::ifstream file(std::string(THOLE_ROOT) + "/examples/reservoir-jon-boat-best-fix.yaml");
    std::stringstream text;
    text << file.rdbuf();
    Setup s = read(text.str());
    const Assessment without = assess(s);
    REQUIRE(without.verdict == Verdict::holds_if);
    REQUIRE(s.gear.front().rod_holder);
    rod(s).holder_rating = GearRating{{}, 1.0_N, "a test"};
    const Assessment with = assess(s);
    CHECK(with.verdict == Verdict::holds_if);
    REQUIRE(with.holds_if.size() == without.holds_if.size() + 1);
    CHECK(has(with.holds_if.front(), "the holder outlasts its rating"));
  }

  TEST_CASE("ladder: a boat that tears first is called out") {
    std::ifstream file(std::string(THOLE_ROOT) + "/examples/bay-boat-best-fix.yaml");
    std::stringstream text;
    text << file.rdbuf();
    const Assessment a = assess(read(text.str()), with_losses());
    REQUIRE(!a.gear_limits.empty());
    REQUIRE(a.gear_limits.front().first_mode == "laminate-bearing");
    CHECK(has(a.ladder_verdict, "the gunwale itself would tear first"));
    // What lets go before the boat tears makes no wanted order of that.
    CHECK(a.orders.front().order == Order::not_certain);
    CHECK_FALSE(has(a.ladder_verdict, "wanted order"));
    REQUIRE(a.losses.size() == 1);
    CHECK(a.losses.front().then == Then::tears);
  }

  TEST_CASE("ladder: ratings and links of a gear are read with their sources") {
    const std::string mass = "    mass: {is: 4 lb, known: measured}\n";
    const Setup s = read(with(test::jon_boat, mass,
                              mass + "    weak_link: 12 lbf\n    holder_rating: {pull: 60 lbf, "
                                     "source: \"maker's sheet\"}\n"));
    const RodHolder& r = *s.gear.front().rod_holder;
    CHECK(r.weak_link->value() == doctest::Approx((12.0_lbf).value()));
    REQUIRE(r.holder_rating);
    CHECK(r.holder_rating->pull->value() == doctest::Approx((60.0_lbf).value()));
    CHECK(r.holder_rating->source == "maker's sheet");
    Setup t = s;
    t.gear.front().rod_holder->holder_rating->moment = 1.0 * si::newton * si::metre;
    CHECK_THROWS_AS(validate(t), DomainError);
    t = s;
    t.gear.front().rod_holder->holder_rating->source.clear();
    CHECK_THROWS_AS(validate(t), DomainError);
    t = s;
    t.gear.front().rod_holder->weak_link = t.gear.front().rod_holder->running_pull;
    CHECK_THROWS_AS(validate(t), DomainError);
  }

  TEST_CASE("ladder: all balls hung up at once count for the order") {
    std::ifstream file(std::string(THOLE_ROOT) + "/examples/lake-cartopper.yaml");
    std::stringstream text;
    text << file.rdbuf();
    Setup s = read(text.str());
    for (Gear& g : s.gear) g.downrigger->wire_break = 400.0_lbf;
    const auto slip = [&](Force v) {
      for (Gear& g : s.gear) g.downrigger->brake_slip->value = v;
      return assess(s);
    };
    const auto both = [](const Assessment& a) {
      return std::find_if(a.cases.begin(), a.cases.end(),
                          [](const CaseResult& o) { return o.load_case.kind == "both-hung-up"; })
          ->factor;
    };
    // Each alone is harmless at that pull, both break the hold-downs before the brakes let go.
    const Assessment wrong = slip(165.0_lbf);
    REQUIRE(1.5 * 165.0_lbf < *wrong.gear_limits.front().not_before);
    REQUIRE(both(wrong) < 1);
    CHECK(wrong.orders.front().order == Order::wrong);
    CHECK(has(wrong.ladder_verdict, "with all balls hung up it goes from"));
    CHECK_FALSE(has(wrong.ladder_verdict, "wanted order"));
    const Assessment benign = slip(145.0_lbf);
    REQUIRE(both(benign) > 1);
    CHECK(benign.orders.front().order != Order::wrong);
    CHECK(has(benign.ladder_verdict, "wanted order"));
  }

  TEST_CASE("ladder: what goes too early is told of a mount that is refused as well") {
    std::ifstream file(std::string(THOLE_ROOT) + "/examples/highland-dinghy.yaml");
    std::stringstream text;
    text << file.rdbuf();
    const Assessment a = assess(read(text.str()));
    REQUIRE(a.verdict == Verdict::no_verdict);
    REQUIRE(a.orders.size() == 1);
    CHECK(a.orders.front().order == Order::wrong);
    CHECK(has(a.ladder_verdict, "wrong order: the mount may go before brake"));
    CHECK(a.ladder.front().wrong);
  }

  TEST_CASE("ladder: nothing is counted on after what bends") {
    std::ifstream file(std::string(THOLE_ROOT) + "/examples/highland-dinghy-best-fix.yaml");
    std::stringstream text;
    text << file.rdbuf();
    const Assessment a = assess(read(text.str()), with_losses());
    REQUIRE(a.losses.size() == 1);
    CHECK(a.losses.front().mode == "bracket-bends");
    CHECK(a.losses.front().then == Then::bends);
    CHECK_FALSE(a.losses.front().holds_to);
    CHECK(has(a.losses.front().words, "nothing is counted on after it"));
    // A seat that crushes keeps the shape of the plank: the next is told.
    Setup s = test::fjord_board();
    s.gear.pop_back();
    const Assessment b = assess(s, with_losses());
    REQUIRE(!b.losses.empty());
    CHECK(b.losses.front().mode == "gear-bolt-bearing");
    CHECK(b.losses.front().holds_to);
    // Whatever goes on after a bend is no more than crushed.
    for (const Assessment* o : {&a, &b}) {
      for (const LossRow& r : o->losses) {
        if (r.then != Then::bends || !r.holds_to) continue;
        CAPTURE(r.mode);
        CHECK((has(r.mode, "crushing") || has(r.mode, "bearing")));
      }
    }
  }

  TEST_CASE("ladder: no check is said to hold longer than the ladder has it") {
    const Setup s = test::fjord_board();
    for (const Assessment& a : {assess(s), assess(read(test::jon_boat))}) {
      for (const LadderStep& step : a.ladder) {
        if (step.link || !step.low) continue;
        for (const CheckResult& c : a.checks) {
          if (c.mode != step.mode || !c.goes_at) continue;
          const bool on_board = a.supports.size() > 0;
          if ((on_board ? c.where : c.part) != step.part) continue;
          CAPTURE(step.what);
          CHECK(c.goes_at->value() == doctest::Approx(step.low->value()).epsilon(1e-9));
        }
      }
    }
  }
}
