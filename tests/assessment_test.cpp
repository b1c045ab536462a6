// The reservoir jon-boat and what a verdict may and may not say.

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <string>
#include <string_view>
#include <vector>

#include <thole/error.hpp>
#include <thole/metal_strength.hpp>
#include <thole/reading.hpp>
#include <thole/thole.hpp>

#include "support/plates.hpp"

using namespace thole;
using namespace thole::literals;
using namespace thole::test;

namespace {

std::string bar(const std::string& size) {
  return "hold: tapped_bar\n    behind: {material: 6061-T6 extrusion, thickness: 1/4 in, fore_aft: "
         "4 in, athwart: " +
         size + "}";
}

double in_lbf(Force f) { return f / (1.0_lbf); }

}  // namespace

TEST_SUITE("unit") {
  TEST_CASE("assessment: the jon-boat does not hold and its threads go first") {
    const Assessment a = assess(read(jon_boat));
    CHECK(a.verdict == Verdict::does_not_hold);
    REQUIRE_FALSE(a.checks.empty());
    CHECK((a.checks[0].mode == "thread-pull-out" || a.checks[0].mode == "pull-out-with-bearing"));
    CHECK(a.sentence.find("threads pull out of the 0.090 in wall") != std::string::npos);
    REQUIRE(a.checks[0].goes_at.has_value());
    // It goes about where the line locked up by a stuck drag pulls: 1.5 x 1.3 x 7 = 13.65 lbf.
    CHECK(in_lbf(*a.checks[0].goes_at) > 12);
    CHECK(in_lbf(*a.checks[0].goes_at) < 16);
    CHECK(a.checks[0].factor == doctest::Approx(in_lbf(*a.checks[0].goes_at) / 13.65).epsilon(0.1));
    CHECK(says(a.to_do, "bar"));
    CHECK(says(a.to_do, "set the drag"));
    REQUIRE(a.setting.has_value());
    CHECK(in_lbf(*a.setting) < 7);
    REQUIRE(a.walls.size() == 3);
    CHECK(a.walls[0].worst_ratio < a.walls[1].worst_ratio);
    CHECK(a.walls[1].worst_ratio < a.walls[2].worst_ratio);
  }

  TEST_CASE("assessment: the pull-out by hand is 432 lbf and thole has less") {
    const Setup s = read(jon_boat);
    const PullOut p = thin_wall_pull_out(s.plate().fastening.thread, 0.090_in, s.plate().host.metal,
                                         s.plate().fastening.material.shear_ultimate);
    // By hand: 1.2 x 0.25 in x 0.090 in x 16 000 psi.
    CHECK(in_lbf(p.manual) == doctest::Approx(432).epsilon(1e-9));
    // Less, because 1.8 threads are below two and no test average shall lie below the figure (0.9).
    CHECK(p.threads == doctest::Approx(1.8));
    CHECK(p.range == PullOutRange::one_to_two);
    CHECK(p.strength < p.manual);
    CHECK(in_lbf(p.strength) == doctest::Approx(369).epsilon(0.01));
  }

  TEST_CASE("assessment: the pull per screw is more than by hand because the bed is no edge") {
    // By hand: 7 lbf x 84 in = 588 lbf in over a pivot edge 1.5 in from two screws: 196 lbf each.
    const Setup s = read(jon_boat);
    const double hand = 588.0 / (2 * 1.5);
    CHECK(hand == doctest::Approx(196));
    const Moment m = 588.0 * 1.0_lbf * 1.0_in;
    const LinearStiffness screw = LinearStiffness::from_value(8e6);
    const Area area = area_of(s.plate().base.outline);
    double last = 0;
    for (const double softness : {1e-6, 0.05, 0.25, 1.0}) {
      const BaseContact contact(s.plate().base.outline,
                                BedStiffness(4.0 * screw / (softness * area)),
                                s.plate().fastening.holes, screw);
      const ContactResult r = contact.solve(Force{}, m, Moment{});
      REQUIRE(r.balance == Balance::stable);
      double most = 0;
      for (int i = 0; i < r.count; ++i) most = std::max(most, in_lbf(r.tension[std::size_t(i)]));
      CAPTURE(softness);
      CAPTURE(most);
      // The softer the bed, the wider the zone it presses over and the shorter the arm.
      CHECK(most > last);
      if (softness > 0.01) CHECK(most > hand);
      last = most;
    }
    CHECK(last < 1.6 * hand);
    // A hard bed is the pivot edge: the far screws at 1.5 in and the near ones at 0.375 in share
    // the moment by their arms. 588 x 1.5 / (2 x (1.5^2 + 0.375^2)) = 184 lbf.
    const BaseContact hard(s.plate().base.outline, BedStiffness(4.0 * screw / (1e-7 * area)),
                           s.plate().fastening.holes, screw);
    const ContactResult r = hard.solve(Force{}, m, Moment{});
    double most = 0;
    for (int i = 0; i < r.count; ++i) most = std::max(most, in_lbf(r.tension[std::size_t(i)]));
    CHECK(most == doctest::Approx(588 * 1.5 / (2 * (1.5 * 1.5 + 0.375 * 0.375))).epsilon(0.01));
  }

  TEST_CASE("assessment: the hand-drawn bar of 1-1/4 in is refused and a wider one holds more") {
    // Holes 1-1/8 in apart leave 1/16 in to the edge of a 1-1/4 in bar: half a hole lies outside.
    CHECK_THROWS_WITH_AS((void)read(with(jon_boat, "hold: tapped", bar("1 1/4 in"))),
                         doctest::Contains("breaks out of the edge of the bar"), InputError);
    const Assessment a = quick(read(jon_boat));
    const Assessment b = quick(read(with(jon_boat, "hold: tapped", bar("1 3/4 in"))));
    CHECK(check_of(b, "thread-pull-out").factor > 2 * check_of(a, "thread-pull-out").factor);
    REQUIRE(b.hold_limit.has_value());
    CHECK(*b.hold_limit > *a.hold_limit);
  }

  TEST_CASE("assessment: a light pull holds when everything is known") {
    const Assessment a = quick(read(light()));
    CHECK(a.verdict == Verdict::holds);
    CHECK(a.holds_if.empty());
    CHECK(a.reasons.empty());
  }

  TEST_CASE("assessment: what somebody saw refuses whatever the numbers") {
    for (const char* key : {"cracks", "loose_rivets", "bent_or_corroded", "soft_wood_or_core"}) {
      CAPTURE(key);
      const std::string k = key;
      for (const std::string& text : {light(), std::string(jon_boat)}) {
        const Assessment a = quick(read(with(text, k + ": no", k + ": yes")));
        CHECK(a.verdict == Verdict::no_verdict);
        CHECK_FALSE(a.reasons.empty());
      }
    }
  }

  TEST_CASE("assessment: an unanswered question leaves holds if at best") {
    for (const char* key : {"cracks", "loose_rivets", "bent_or_corroded", "weld_near_base"}) {
      CAPTURE(key);
      const std::string k = key;
      for (const char* to : {": not known\n", "left out"}) {
        const std::string line = "  " + k + ": no\n";
        const std::string instead = std::string(to) == "left out" ? "" : "  " + k + to;
        const Assessment a = quick(read(with(light(), line, instead)));
        CHECK(a.verdict == Verdict::holds_if);
        CHECK_FALSE(a.holds_if.empty());
      }
    }
  }

  TEST_CASE("assessment: an assumed wall near its limit gives no verdict") {
    const std::string assumed =
        with(light(), "0.090 in, known: measured", "0.090 in, known: assumed");
    const Assessment far = quick(read(assumed));
    CHECK(far.verdict == Verdict::holds_if);
    CHECK(says(far.holds_if, "0.090 in"));
    Setup s = read(assumed);
    s.use.hours_per_season = 1e-4;  // no life to speak of
    REQUIRE(far.hold_limit.has_value());
    s.gear.front().plain_load->pull = *far.hold_limit / 1.4;
    const Assessment near = quick(s);
    CHECK(near.verdict == Verdict::no_verdict);
    CHECK(says(near.reasons, "measure the wall"));
    s.gear.front().plain_load->pull = *far.hold_limit / 1.6;
    CHECK(quick(s).verdict == Verdict::holds_if);
    s.gear.front().plain_load->pull = 1.01 * *far.hold_limit;
    CHECK(quick(s).verdict == Verdict::does_not_hold);
  }

  TEST_CASE("assessment: an assumed wall counts also where another check is the worst") {
    // Overridden factors bring a check to the front that does not depend on the wall; the pull-out
    // from the assumed wall lies within 1.5 of its limit all the same.
    const std::string assumed =
        with(light(), "0.090 in, known: measured", "0.090 in, known: assumed");
    Setup s = read(assumed);
    const Assessment far = quick(s);
    REQUIRE(far.hold_limit.has_value());
    s.gear.front().plain_load->pull = *far.hold_limit / 1.3;
    s.use.hours_per_season = 1e-4;  // no life to speak of
    s.factor_overrides["distance"] = 0.95;
    const Assessment a = quick(s);
    REQUIRE(check_of(a, "edge-distance").holds);
    // A distance that is kept stands behind every load, however near its rule it is.
    CHECK(a.checks.front().mode != "edge-distance");
    CHECK(a.verdict == Verdict::no_verdict);
  }

  TEST_CASE("assessment: less than one thread is refused") {
    const Assessment a = quick(read(with(light(), "0.090 in", "0.045 in")));
    CHECK(a.verdict == Verdict::no_verdict);
    CHECK(says(a.reasons, "less than one full thread"));
    CHECK_FALSE(a.hold_limit.has_value());
  }

  TEST_CASE("assessment: a wall below the scope of the rule is refused") {
    const Assessment a = quick(read(with(light(), "0.090 in", "0.055 in")));
    CHECK(a.verdict == Verdict::no_verdict);
    CHECK(says(a.reasons, "no published source"));
  }

  TEST_CASE("assessment: a screw channel is refused") {
    const Assessment a =
        quick(read(with(light(), "flat: 2 in", "flat: 2 in\n    holes: screw_channel")));
    CHECK(a.verdict == Verdict::no_verdict);
    CHECK(says(a.reasons, "screw channel"));
    CHECK_FALSE(a.hold_limit.has_value());
  }

  TEST_CASE("assessment: the locked line decides unless the drag is measured") {
    const Assessment measured = assess(read(jon_boat));
    CHECK_FALSE(case_of(measured, "line-locked").load_case.decides);
    for (const char* known : {"assumed", "tagged"}) {
      const Assessment a =
          assess(read(with(jon_boat, "drag: {is: 7 lbf, known: measured}",
                           "drag: {is: 7 lbf, known: " + std::string(known) + "}")));
      CHECK(case_of(a, "line-locked").load_case.decides);
      CHECK(check_of(a, "thread-pull-out").factor < check_of(measured, "thread-pull-out").factor);
      CHECK(check_of(a, "thread-pull-out").case_title == "line locked, parts");
    }
  }

  TEST_CASE("assessment: leaning on the holder is shown and never decides") {
    const Assessment a = assess(read(jon_boat));
    const CaseResult& lean = case_of(a, "lean-on-holder");
    CHECK_FALSE(lean.load_case.decides);
    CHECK_FALSE(lean.holds);
    for (const CheckResult& c : a.checks) CHECK(c.case_title != lean.load_case.title);
    // Strong enough for the line but not for a hand: the verdict is that of the line.
    std::string text = with(jon_boat, "hold: tapped", bar("1 3/4 in"));
    text = with(text, "athwart: 1 1/8 in", "athwart: 1 in");
    text = with(text, "drag: {is: 7 lbf", "drag: {is: 0.5 lbf");
    text = with(text, "running_pull: {is: 5 lbf", "running_pull: {is: 0.3 lbf");
    text = with(text, "mass: {is: 4 lb", "mass: {is: 1 lb") +
           "use: {road_hours_per_season: {is: 0, known: measured}, running_peak: {is: 5, known: "
           "measured}, hours_per_season: "
           "{is: 1, known: measured}}\n";
    const Assessment b = assess(read(text));
    CHECK_FALSE(case_of(b, "lean-on-holder").holds);
    CHECK(case_of(b, "fish-strike").holds);
    CHECK(b.verdict == Verdict::holds);
  }

  TEST_CASE("assessment: an accident takes a quarter off yielding and nothing else") {
    Setup s = read(light());
    s.gear.front().plain_load->pull = 50.0_lbf;
    s.gear.front().plain_load->category = Category::occasional;
    const Assessment occasional = quick(s);
    s.gear.front().plain_load->category = Category::accident;
    const Assessment accident = quick(s);
    for (const FailureMode& m : catalogue()) {
      if (!is_of_host(m, s)) continue;
      const CheckResult& a = check_of(occasional, m.id);
      const CheckResult& b = check_of(accident, m.id);
      if (a.standing != Standing::applies) continue;
      CAPTURE(m.id);
      if (m.metal_yields) {
        CHECK(b.needed == doctest::Approx(std::max(1.25, 0.75 * a.needed)).epsilon(1e-12));
      } else {
        CHECK(b.needed == a.needed);
      }
      CHECK(a.factor == b.factor);
    }
    // 0.75 x 1.65 = 1.2375 would lie below the least of 1.25.
    CHECK(check_of(accident, "wall-yield").needed == 1.25);
    s.factor_overrides["metal yield"] = 3;
    CHECK(check_of(quick(s), "wall-yield").needed == doctest::Approx(2.25).epsilon(1e-12));
    // The hold limit stays at full factors.
    REQUIRE(accident.hold_limit.has_value());
    CHECK(accident.hold_limit->value() == doctest::Approx(occasional.hold_limit->value()));
  }

  TEST_CASE("assessment: a lowered factor is marked and a raised one is not") {
    const Assessment low = assess(read(std::string(jon_boat) + "factors: {screw: 2}\n"));
    CHECK(check_of(low, "thread-pull-out").lowered);
    CHECK(check_of(low, "thread-pull-out").needed == 2);
    CHECK_FALSE(check_of(low, "wall-yield").lowered);
    CHECK(says(low.cautions, "was lowered"));
    const Assessment high = assess(read(std::string(jon_boat) + "factors: {screw: 4}\n"));
    CHECK_FALSE(check_of(high, "thread-pull-out").lowered);
    CHECK(check_of(high, "thread-pull-out").needed == 4);
    CHECK_FALSE(says(high.cautions, "was lowered"));
    const Assessment as_is = assess(read(jon_boat));
    CHECK(check_of(as_is, "thread-pull-out").needed == 3);
    CHECK(*high.hold_limit < *as_is.hold_limit);
    // The hold limit is always at full factors.
    CHECK(low.hold_limit->value() == doctest::Approx(as_is.hold_limit->value()).epsilon(1e-9));
  }

  TEST_CASE("assessment: fewer than two threads are cautioned") {
    CHECK(says(assess(read(jon_boat)).cautions, "only 1.8 threads engaged"));
    const std::string thick = with(jon_boat, "0.090 in", "0.125 in");
    CHECK_FALSE(says(assess(read(thick)).cautions, "threads engaged"));
    const std::string thin = with(jon_boat, "0.090 in", "0.070 in");
    CHECK(says(assess(read(thin)).cautions, "advised against"));
  }

  TEST_CASE("assessment: a through bolt takes washers and a backing plate") {
    std::string text = with(jon_boat, "hold: tapped", "hold: through_bolt");
    const Assessment bare = quick(read(text));
    CHECK(check_of(bare, "thread-pull-out").standing == Standing::not_concerned);
    CHECK(check_of(bare, "pull-over-behind").standing == Standing::applies);
    CHECK(check_of(bare, "bolt-tension").standing == Standing::applies);
    CHECK(check_of(bare, "screw-tension").standing == Standing::not_concerned);
    CHECK(check_of(bare, "backing-bending").standing == Standing::not_concerned);
    text = with(text, "hold: through_bolt",
                "hold: through_bolt\n    washer: 1/4 fender 1\n    behind: {material: 6061-T6 "
                "extrusion, thickness: 1/4 in, fore_aft: 3 3/4 in, athwart: 1 3/4 in}");
    const Assessment plate = quick(read(text));
    CHECK(check_of(plate, "backing-bending").standing == Standing::applies);
    CHECK(check_of(plate, "pull-over-behind").factor > check_of(bare, "pull-over-behind").factor);
    CHECK(check_of(plate, "wall-yield").factor > check_of(bare, "wall-yield").factor);
    REQUIRE(plate.hold_limit.has_value());
    CHECK(*plate.hold_limit > *bare.hold_limit);
    // A plate wider than the clear inside of the section does not go in.
    CHECK_THROWS_WITH_AS((void)read(with(text, "athwart: 1 3/4 in", "athwart: 1 15/16 in")),
                         doctest::Contains("does not go into a section"), InputError);
  }
  // Each of these once passed on the unsafe side: the press of the base, the whole group of
  // fasteners, a lip pulled along the boat and the weight of the gear were not looked at.
  TEST_CASE("assessment: a base pressed on a wide thin flat fails by the wall") {
    Setup s = read(light());
    s.plate().host.flat = 12.0_in;
    s.plate().host.thickness = 0.06_in;
    s.plate().base.from_inboard_edge = 6.0_in;
    PlainLoad& load = *s.gear.front().plain_load;
    load.pull = 1000.0_lbf;
    load.range = {Angle{}, Angle{}, 90.0_deg, 90.0_deg};
    const Assessment a = quick(s);
    CHECK(a.verdict == Verdict::does_not_hold);
    CHECK(check_of(a, "wall-press").holds == false);
    REQUIRE(a.hold_limit.has_value());
    // Fan of the whole base: 4 pi Mp / (1 - r/R) / 1.65 with r below 1.77 in, R = 6 in.
    CHECK(*a.hold_limit < 4 * std::numbers::pi * 0.25 * s.plate().host.metal.yield *
                              s.plate().host.thickness * s.plate().host.thickness / 0.7 / 1.65 *
                              1.3);
  }

  TEST_CASE("assessment: fasteners that pull together are checked as a group") {
    Setup s = read(light());
    s.plate().host.form = WallForm::sheet;
    s.plate().host.to_support = 8.0_in;
    s.plate().host.thickness = 0.063_in;
    PlainLoad& load = *s.gear.front().plain_load;
    load.range = {Angle{}, Angle{}, degrees(-90), degrees(-90)};
    load.pull = 400.0_lbf;
    const Assessment a = quick(s);
    const CheckResult& wall = check_of(a, "wall-yield");
    CHECK(wall.fastener == -1);
    CHECK(wall.demand.si == doctest::Approx(load.pull.value()).epsilon(0.2));
  }

  TEST_CASE("assessment: weight that the mount does not carry leaves no hold limit") {
    Setup s = read(light());
    PlainLoad& load = *s.gear.front().plain_load;
    load.mass = 500.0_kg;
    load.at = Position<Base>(Length{}, 10.0_in, 6.0_in);
    load.pull = 0.01_lbf;
    const Assessment a = quick(s);
    CHECK(a.verdict != Verdict::holds);
    REQUIRE(a.hold_limit.has_value());
    CHECK(a.hold_limit->value() == 0);
  }

  // One gear or several, and accelerations.
  TEST_CASE(
      "assessment: a heavy holder on a thin gunwale is judged by running and not by its line") {
    Setup s = read(light());
    PlainLoad& load = *s.gear.front().plain_load;
    load.pull = 0.5_lbf;
    load.mass = 12.0_kg;
    load.at = Position<Base>(Length{}, 8.0_in, 8.0_in);
    const Assessment a = assess(s);
    CHECK(case_of(a, "plain-load").holds);
    CHECK_FALSE(case_of(a, "running-peak").holds);
    CHECK(case_of(a, "running-peak").factor < case_of(a, "running").factor);
    CHECK(a.verdict == Verdict::does_not_hold);
    CHECK(a.checks.front().case_title == case_of(a, "running-peak").load_case.title);
    CHECK(a.sentence.find("running") != std::string::npos);
    CHECK_FALSE(says(a.not_checked, "bouncing"));
    CHECK_FALSE(says(a.not_checked, "trailer"));
    CHECK(says(a.not_checked, "fatigue"));
    // Without a mass nothing is calculated, and the report says so.
    load.mass = {};
    CHECK(says(assess(s).not_checked, "bouncing"));
  }

  TEST_CASE("assessment: a mass under an acceleration is a plain load of the same force") {
    // F = m a at the point of the load, in the direction of the acceleration: exact.
    Setup s = read(light());
    s.plate().host.slope = degrees(20);
    PlainLoad& load = *s.gear.front().plain_load;
    load.mass = 6.0_kg;
    load.pull = 0.01_lbf;
    load.at = Position<Base>(1.0_in, 2.0_in, 5.0_in);
    s.use.running_peak = 4;
    const Assessment a = quick(s);
    for (const char* id : {"running", "running-peak", "on-the-trailer"}) {
      CAPTURE(id);
      const CaseResult& ride = case_of(a, id);
      REQUIRE_FALSE(ride.load_case.shakes.empty());
      double worst = 1e300;
      for (const Shake& shake : ride.load_case.shakes) {
        const double g = std::hypot(shake.forward, shake.starboard, shake.up);
        Setup t = s;
        PlainLoad& pull = *t.gear.front().plain_load;
        pull.mass = {};
        pull.pull = g * 6.0_kg * standard_gravity;
        pull.category = ride.load_case.category;
        pull.range.azimuth_from = pull.range.azimuth_to =
            std::atan2(shake.starboard, -shake.forward) * si::radian;
        pull.range.dip_from = pull.range.dip_to = std::asin(-shake.up / g) * si::radian;
        const CaseResult c = case_of(quick(t), "plain-load");
        worst = std::min(worst, c.factor / c.needed);
      }
      CHECK(ride.factor / ride.needed == doctest::Approx(worst).epsilon(1e-9));
    }
    // Down at rest: the weight itself.
    const Gear& g = s.gear.front();
    const BaseLoad rest = weight_load(s.plate().host, g, {});
    const BaseLoad pull = pull_load(s.plate().host, g, LoadPath::point, 6.0_kg * standard_gravity,
                                    line_direction(Angle{}, 90.0_deg));
    CHECK((rest.force - pull.force).norm().value() < 1e-12);
    CHECK((rest.moment - pull.moment).norm().value() < 1e-12);
  }

  TEST_CASE("assessment: two rods side by side are one rod with twice the pull and mass") {
    // A rod that does not bend: its lever does not depend on the pull, so the loads add up.
    Setup one = read(jon_boat);
    RodHolder& r = *one.gear.front().rod_holder;
    r.butt_stiffness.reset();
    r.drag.value = 100.0_lbf;
    r.line_test = 200.0_lbf;
    Setup two = one;
    two.gear.push_back(two.gear.front());
    two.gear.back().name = "second rod";
    r.running_pull *= 2;
    r.mass *= 2;
    const Assessment a = quick(one);
    const Assessment b = quick(two);
    const double single = case_of(a, "rod-running").factor;
    CHECK(case_of(b, "rod-running-1").factor == doctest::Approx(single).epsilon(1e-6));
    CHECK(case_of(b, "rod-running-2").factor == doctest::Approx(single).epsilon(1e-6));
    CHECK(case_of(b, "running").factor ==
          doctest::Approx(case_of(a, "running").factor).epsilon(1e-9));
    REQUIRE(b.gear_limits.size() == 2);
    CHECK(b.gear_limits[0].hold_limit->value() ==
          doctest::Approx(b.gear_limits[1].hold_limit->value()).epsilon(1e-3));
    CHECK(b.hold_limit->value() <= b.gear_limits[0].hold_limit->value());
  }

  TEST_CASE("assessment: another rod loads the base or is idle and the worse counts") {
    Setup one = read(jon_boat);
    Setup two = one;
    two.gear.push_back(two.gear.front());
    two.gear.back().name = "port rod";
    RodHolder& other = *two.gear.back().rod_holder;
    other.mass = {};
    const Assessment a = assess(one);
    // The other one pulls the same way and adds, or leans the other way and relieves.
    for (const double toward : {90.0, -90.0}) {
      CAPTURE(toward);
      other.toward = degrees(toward);
      const Assessment b = assess(two);
      CHECK(case_of(b, "fish-strike-1").factor <= case_of(a, "fish-strike").factor * (1 + 1e-6));
      if (toward > 0) {
        CHECK(case_of(b, "fish-strike-1").factor < 0.99 * case_of(a, "fish-strike").factor);
      }
      REQUIRE(b.hold_limit.has_value());
      CHECK(b.hold_limit->value() <= a.hold_limit->value() * (1 + 1e-6));
      CHECK(b.not_before->value() <= a.not_before->value() * (1 + 1e-6));
      REQUIRE(b.gear_limits.size() == 2);
      CHECK(b.gear_limits[1].gear == "port rod");
      CHECK(b.gear_limits[1].setting.has_value());
      CHECK(b.sentence.find("port rod") != std::string::npos);
      CHECK(b.sentence.find("starboard rod") != std::string::npos);
      const auto named = [&](const char* text) {
        return std::any_of(b.ladder.begin(), b.ladder.end(),
                           [&](const LadderStep& step) { return step.what == text; });
      };
      CHECK(named("drag slips (port rod)"));
      CHECK(named("line parts (starboard rod)"));
    }
  }

  TEST_CASE("assessment: a plain load of every day acts beside a rod and another one does not") {
    Setup s = read(jon_boat);
    const double alone = case_of(quick(s), "fish-strike").factor;
    Gear load = read(light()).gear.front();
    load.name = "a fender";
    load.plain_load->at = Position<Base>(Length{}, 10.0_in, Length{});
    load.plain_load->range = {90.0_deg, 90.0_deg, 90.0_deg, 90.0_deg};
    load.plain_load->pull = 10.0_lbf;
    s.gear.push_back(load);
    s.gear.back().plain_load->category = Category::occasional;
    CHECK(case_of(quick(s), "fish-strike-1").factor == doctest::Approx(alone).epsilon(1e-9));
    s.gear.back().plain_load->category = Category::everyday;
    CHECK(case_of(quick(s), "fish-strike-1").factor <= alone * (1 + 1e-9));
    // Two that pull the same way at the same place: the sum decides.
    Setup t = read(light());
    t.gear.front().plain_load->category = Category::everyday;
    const double single = case_of(quick(t), "plain-load").factor;
    t.gear.push_back(t.gear.front());
    t.gear.back().name = "the other";
    CHECK(case_of(quick(t), "plain-load-1").factor == doctest::Approx(0.5 * single).epsilon(1e-9));
  }

  TEST_CASE("assessment: a case that is left out changes nothing of the others") {
    const Setup s = read(jon_boat);
    const Assessment a = assess(s);
    for (const LoadCase& c : load_cases(s)) {
      Setup t = s;
      CaseEdit edit;
      edit.what = CaseEdit::What::leave_out;
      edit.name = c.id;
      edit.why = "a test";
      t.case_edits.push_back(edit);
      const Assessment b = assess(t);
      CAPTURE(c.id);
      REQUIRE(b.cases.size() == a.cases.size());
      for (std::size_t i = 0; i < a.cases.size(); ++i) {
        if (a.cases[i].load_case.id == c.id) {
          CHECK(b.cases[i].load_case.left_out);
          CHECK(b.cases[i].worst_mode.empty());
          CHECK_FALSE(b.cases[i].goes_at.has_value());
        } else {
          CHECK(relative(a.cases[i].factor, b.cases[i].factor) < 1e-9);
        }
      }
      CHECK(relative(a.hold_limit->value(), b.hold_limit->value()) < 1e-9);
      CHECK(relative(a.not_before->value(), b.not_before->value()) < 1e-9);
    }
  }

  TEST_CASE("assessment: no case that decides leaves no verdict") {
    Setup s = read(light());
    CaseEdit edit;
    edit.what = CaseEdit::What::leave_out;
    edit.name = "plain-load";
    edit.why = "a test";
    s.case_edits.push_back(edit);
    CHECK(quick(s).verdict == Verdict::no_verdict);
    // What is left out makes a condition of whatever holds.
    s.gear.front().plain_load->mass = 0.1_kg;
    const Assessment a = quick(s);
    CHECK(a.verdict == Verdict::holds_if);
    CHECK(says(a.holds_if, "never happens"));
  }

  TEST_CASE("assessment: gear that travels off its mount is not judged on the trailer") {
    Setup s = read(light());
    s.gear.front().plain_load->mass = 12.0_kg;
    const Assessment a = assess(s);
    CHECK_FALSE(case_of(a, "on-the-trailer").worst_mode.empty());
    s.use.gear_off_on_road = true;
    const Assessment b = assess(s);
    CHECK(case_of(b, "on-the-trailer").worst_mode.empty());
    CHECK(says(b.not_checked, "the trailer"));
    CHECK(case_of(a, "running-peak").factor == case_of(b, "running-peak").factor);
  }

  TEST_CASE("assessment: an assumed acceleration is a condition where it decides") {
    Setup s = read(light());
    s.gear.front().plain_load->mass = 1.0_kg;
    s.gear.front().plain_load->pull = 0.01_lbf;
    Input peak;
    peak.path = "use.running_peak";
    peak.label = "peak acceleration";
    peak.value = "5 g";
    peak.known = Knowledge::assumed;
    std::erase_if(s.inputs, [](const Input& i) { return i.path == "use.running_peak"; });
    s.inputs.push_back(peak);
    const Assessment a = quick(s);
    CHECK(a.verdict == Verdict::holds_if);
    CHECK(says(a.holds_if, "peak acceleration is 5 g"));
    // A pull that decides every check hangs on no acceleration.
    s.gear.front().plain_load->mass = 0.001_kg;
    s.gear.front().plain_load->pull = 5.0_lbf;
    CHECK_FALSE(says(quick(s).holds_if, "peak acceleration"));
  }

  TEST_CASE("assessment: at most four gears sit on a gunwale plate and no downrigger") {
    Setup s = read(light());
    while (s.gear.size() < 4) s.gear.push_back(s.gear.front());
    CHECK_NOTHROW(validate(s));
    s.gear.push_back(s.gear.front());
    CHECK_THROWS_WITH_AS(validate(s), doctest::Contains("one to four gears"), DomainError);
    s.gear.clear();
    CHECK_THROWS_AS(validate(s), DomainError);
  }
}
