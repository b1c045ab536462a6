// The list of load cases: what the notes of the trade and the published figures ask of it, and the
// owner's edits.

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <set>
#include <string>

#include <thole/error.hpp>
#include <thole/loads.hpp>
#include <thole/motions.hpp>

#include "core/assessment_parts.hpp"
#include "core/load_list.hpp"
#include "support/boards.hpp"

using namespace thole;
using namespace thole::literals;
using test::fjord_board;

namespace {

const LoadCase& case_of(const std::vector<LoadCase>& cases, const std::string& id) {
  const auto at =
      std::find_if(cases.begin(), cases.end(), [&](const LoadCase& c) { return c.id == id; });
  REQUIRE_MESSAGE(at != cases.end(), id);
  return *at;
}

CaseEdit edit(CaseEdit::What what, const std::string& name) {
  CaseEdit e;
  e.what = what;
  e.name = name;
  e.why = "a test";
  return e;
}

double newtons(Force f) { return f.value(); }

}  // namespace

TEST_SUITE("unit") {
  TEST_CASE("loads: the list of a board with two downriggers has every case of the trade") {
    const std::vector<LoadCase> cases = load_cases(fjord_board());
    std::set<std::string> ids;
    for (const LoadCase& c : cases) {
      CAPTURE(c.id);
      CHECK(ids.insert(c.id).second);
      CHECK_FALSE(c.title.empty());
      CHECK_FALSE(c.why.empty());
      CHECK_FALSE(c.ranges.empty());
      CHECK((c.path == LoadPath::ride || c.path == LoadPath::warning) == !(c.pull.value() > 0));
      CHECK((c.path == LoadPath::ride) == !c.shakes.empty());
      CHECK_FALSE(describe_ranges(c).empty());
    }
    for (const char* kind :
         {"trolling", "trolling-in-waves", "trolling-in-a-turn", "brake-jerk", "surface-snatch",
          "hung-up-slipping", "hung-up-seized", "lean-on-gear"}) {
      for (const char* gear : {"-1", "-2"})
        CHECK_MESSAGE(ids.count(std::string(kind) + gear), kind);
    }
    for (const char* id : {"running", "running-peak", "running-ball-on-tip", "on-the-trailer",
                           "lean-on-board", "sit-on-board", "boarding-grab", "dock-knock"}) {
      CHECK_MESSAGE(ids.count(id) == 1, id);
    }
    CHECK(case_of(cases, "winch-stalls-1").why.find("by the crank") != std::string::npos);
  }

  // Factors of the trade (judgement and common practice, no source), from the ball of 4.5 kg.
  TEST_CASE("loads: pulls of a downrigger follow the factors of the trade") {
    const Setup s = fjord_board();
    const std::vector<LoadCase> cases = load_cases(s);
    const Downrigger& d = *s.gear[0].downrigger;
    const PullRange towed = trolling_pull(d, s);
    const double W = 4.5 * 9.80665;
    CHECK(case_of(cases, "trolling-1").pull == towed.greatest_tension);
    CHECK(newtons(case_of(cases, "trolling-in-waves-1").pull) ==
          doctest::Approx(2.0 * newtons(towed.greatest_tension)));
    CHECK(newtons(case_of(cases, "trolling-in-a-turn-1").pull) ==
          doctest::Approx(1.5 * newtons(towed.greatest_tension)));
    CHECK(newtons(case_of(cases, "brake-jerk-1").pull) >= 6 * W);
    CHECK(newtons(case_of(cases, "hung-up-slipping-1").pull) == doctest::Approx(1.5 * 300));
    CHECK(newtons(case_of(cases, "hung-up-seized-1").pull) == doctest::Approx(1.2 * 1112));
    const LoadCase& both = case_of(cases, "both-hung-up-1");
    REQUIRE(both.pulls.size() == 2);
    CHECK(newtons(both.pulls[0]) == doctest::Approx(450));
    CHECK(newtons(both.pulls[1]) == doctest::Approx(450));
    CHECK(both.decides);  // one board carries both
    CHECK_FALSE(case_of(cases, "hung-up-seized-1").decides);
  }

  TEST_CASE("loads: a light ball on a short wire jerks harder than six times its weight") {
    Setup s = fjord_board();
    for (Gear& g : s.gear) g.downrigger->ball = 1.8_kg;
    const double W = 1.8 * 9.80665;
    const double jerk = newtons(case_of(load_cases(s), "brake-jerk-1").pull);
    CHECK(jerk > 6 * W);
    // v sqrt(k (m + half the water it displaces)) by hand: 2 m/s, 2400 N/m.
    const double m = 1.8 * (1 + 0.5 * 1025.97 / 11340);
    CHECK(jerk ==
          doctest::Approx(W * (1 - 1025.97 / 11340) + 2 * std::sqrt(2400 * m)).epsilon(1e-3));
  }

  TEST_CASE("loads: without a measured slip the wire decides and no pull exceeds it") {
    Setup s = fjord_board();
    s.gear[0].downrigger->brake_slip->known = Knowledge::assumed;
    const std::vector<LoadCase> cases = load_cases(s);
    CHECK(case_of(cases, "hung-up-seized-1").decides);
    CHECK(newtons(case_of(cases, "both-hung-up-1").pulls[0]) == doctest::Approx(1.2 * 1112));
    for (const LoadCase& c : cases) {
      if (c.path != LoadPath::tip) continue;
      CAPTURE(c.id);
      CHECK(newtons(c.pull) <= 1.2 * 1112 * (1 + 1e-9));
    }
  }

  TEST_CASE("loads: a powered winch whose stall nobody knows hauls with 60 lbf") {
    Setup s = fjord_board();
    s.gear[0].downrigger->powered = true;
    CHECK(newtons(case_of(load_cases(s), "winch-stalls-1").pull) == newtons(60.0_lbf));
    s.gear[0].downrigger->winch_stall = 400.0_N;
    CHECK(newtons(case_of(load_cases(s), "winch-stalls-1").pull) == 400);
  }

  TEST_CASE("loads: a fin lets the ball track sideways") {
    Setup s = fjord_board();
    const auto width = [&] {
      const DirectionRange r = case_of(load_cases(s), "trolling-1").range;
      return in_degrees(r.azimuth_to) - in_degrees(r.azimuth_from);
    };
    CHECK(width() == doctest::Approx(30));
    s.gear[0].downrigger->finned = true;
    CHECK(width() == doctest::Approx(60));
  }

  TEST_CASE("loads: water that runs faster at the ball lays the wire flatter") {
    Setup s = fjord_board();
    const Angle plain = trolling_pull(*s.gear[0].downrigger, s).greatest_angle;
    s.gear[0].downrigger->slowest_at_ball = s.gear[0].downrigger->slowest;
    s.gear[0].downrigger->fastest_at_ball = 1.5 * s.gear[0].downrigger->fastest;
    CHECK(trolling_pull(*s.gear[0].downrigger, s).greatest_angle > plain);
  }

  // Cases of one event never stand together: hung up by slip, link or wire, both, line locked,
  // grab, dock. Each has one gear's own pull, the others at most tow.
  TEST_CASE("loads: nothing that cannot occur together is combined") {
    for (const LoadCase& c : load_cases(fjord_board())) {
      CAPTURE(c.id);
      const bool rough = c.kind.starts_with("hung-up") || c.kind == "line-locked" ||
                         c.kind == "boarding-grab" || c.kind == "brake-jerk" ||
                         c.kind == "surface-snatch" || c.kind == "fish-strike";
      if (rough) CHECK(c.others == Others::towing);
      if (c.others == Others::together) CHECK(c.pulls.size() == 2);
    }
  }

  TEST_CASE("loads: running is by the boat's data when they are given") {
    Setup s = fjord_board();
    s.use.running_peak.reset();
    CHECK(running_peak(s).peak == 5);
    s.boat.emplace();
    BoatData& b = *s.boat;
    b.length = 4.9_m;
    b.beam = 1.84_m;
    b.freeboard = 0.5_m;
    b.loaded_mass = 800.0_kg;
    b.waterline_length = 4.3_m;
    b.waterline_beam = 1.7_m;
    b.chine_beam = 1.5_m;
    b.deadrise = 14.0_deg;
    b.wave_height = 0.3_m;
    b.top_speed = Speed::from_value(25 * 1852.0 / 3600);
    // ISO 12215-5:2008 7.3.2 by hand, as in the table of typical boats: 4.0 g at 25 kn.
    CHECK(running_peak(s).peak == doctest::Approx(4.01222).epsilon(1e-4));
    const LoadCase c = case_of(load_cases(s), "running-peak");
    CHECK(load_list::peak_of(c) == doctest::Approx(4.01222).epsilon(1e-4));
    // Farther forward it is rougher.
    b.mount_from_stern = 4.9_m;
    CHECK(running_peak(s).peak == doctest::Approx(1.5 * 4.01222).epsilon(1e-4));
    s.use.running_peak = 2;
    CHECK(running_peak(s).peak == 2);
  }

  TEST_CASE("loads: on the trailer each acceleration stands by itself") {
    const LoadCase c = case_of(load_cases(fjord_board()), "on-the-trailer");
    CHECK(c.shakes.size() == 6);
    for (const Shake& k : c.shakes) {
      const int off = int(k.forward != 0) + int(k.starboard != 0) + int(k.up != -1);
      CHECK(off == 1);
    }
    Setup s = fjord_board();
    s.use.gear_off_on_road = true;
    CHECK(case_of(load_cases(s), "on-the-trailer").left_out);
  }

  TEST_CASE("loads: not a seat lowers the load of a person and says so") {
    Setup s = fjord_board();
    s.use.not_a_seat = false;
    CHECK(newtons(case_of(load_cases(s), "sit-on-board").pull) == newtons(300.0_lbf));
    s.use.not_a_seat = true;
    const LoadCase c = case_of(load_cases(s), "sit-on-board");
    CHECK(newtons(c.pull) == newtons(200.0_lbf));
    CHECK(c.why.find("declared no seat") != std::string::npos);
    CHECK(c.decides);
  }

  TEST_CASE("loads: waves that the tip feels more than twofold raise the towed pull") {
    Setup s = fjord_board();
    s.boat.emplace();
    BoatData& b = *s.boat;
    b.length = 4.3_m;
    b.beam = 1.5_m;
    b.freeboard = 0.4_m;
    b.loaded_mass = 400.0_kg;
    b.waterline_length = 3.8_m;
    b.waterline_beam = 1.4_m;
    b.chine_beam = 1.2_m;
    b.deadrise = 10.0_deg;
    b.wave_height = 0.2_m;
    const Force towed = trolling_pull(*s.gear[0].downrigger, s).greatest_tension;
    double before = 0;
    for (const double h : {0.2, 0.5, 0.8, 1.2, 1.6}) {
      b.wave_height = h * si::metre;
      const double factor = (case_of(load_cases(s), "trolling-in-waves-1").pull / towed).value();
      CAPTURE(h);
      CHECK(factor >= 2.0 - 1e-12);
      CHECK(factor >= before);
      before = factor;
    }
    CHECK(before > 2.0);
  }

  // ---- The owner's edits
  // ---------------------------------------------------------------------------

  TEST_CASE("loads: a case that is left out stays in the list and becomes a condition") {
    Setup s = fjord_board();
    s.case_edits = {edit(CaseEdit::What::leave_out, "trolling-in-waves")};
    const std::vector<LoadCase> cases = load_cases(s);
    CHECK(case_of(cases, "trolling-in-waves-1").left_out);
    CHECK(case_of(cases, "trolling-in-waves-2").left_out);
    CHECK(cases.size() == load_cases(fjord_board()).size());
    CHECK(parts::owners_conditions(s, cases).size() == 2);
    CHECK(parts::case_changes(s, cases).size() == 2);
    s.case_edits = {edit(CaseEdit::What::leave_out, "trolling-in-waves-2")};
    CHECK_FALSE(case_of(load_cases(s), "trolling-in-waves-1").left_out);
    // What only was shown takes nothing from the verdict.
    s.case_edits = {edit(CaseEdit::What::leave_out, "boarding-grab")};
    CHECK(parts::owners_conditions(s, load_cases(s)).empty());
  }

  TEST_CASE("loads: a milder case is a condition and a harder one is none") {
    Setup s = fjord_board();
    s.case_edits = {edit(CaseEdit::What::change, "hung-up-slipping-1")};
    CaseEdit& e = s.case_edits.front();
    e.pull = 400.0_N;
    CHECK(newtons(case_of(load_cases(s), "hung-up-slipping-1").pull) == 400);
    CHECK(case_of(load_cases(s), "hung-up-slipping-1").before.find("450 N") != std::string::npos);
    CHECK(parts::owners_conditions(s, load_cases(s)).size() == 1);
    e.pull = 500.0_N;
    CHECK(parts::owners_conditions(s, load_cases(s)).empty());
    e.decides = false;
    CHECK(parts::owners_conditions(s, load_cases(s)).size() == 1);
    e.decides.reset();
    e.range = DirectionRange{0.0_deg, 10.0_deg, 30.0_deg, 90.0_deg};
    CHECK(parts::owners_conditions(s, load_cases(s)).size() == 1);
    e.range.reset();
    e.category = Category::accident;
    CHECK(parts::owners_conditions(s, load_cases(s)).size() == 1);
  }

  TEST_CASE("loads: gears that pull together keep their proportion when one is changed") {
    Setup s = fjord_board();
    s.gear[1].downrigger->ball = 9.0_kg;
    const LoadCase was = case_of(load_cases(s), "trolling-1");
    s.case_edits = {edit(CaseEdit::What::change, "trolling-1")};
    s.case_edits.front().pull = 3.0 * was.pull;
    const LoadCase now = case_of(load_cases(s), "trolling-1");
    for (int i = 0; i < 2; ++i) {
      CHECK(newtons(now.pulls[std::size_t(i)]) ==
            doctest::Approx(3 * newtons(was.pulls[std::size_t(i)])));
    }
  }

  TEST_CASE("loads: an added case stands at the tip or on the board") {
    Setup s = fjord_board();
    CaseEdit e = edit(CaseEdit::What::add, "Towing a float, behind");
    e.gear = s.gear[1].name;
    e.pull = 180.0_N;
    e.category = Category::occasional;
    s.case_edits = {e};
    const LoadCase c = case_of(load_cases(s), "towing-a-float-behind");
    CHECK(c.path == LoadPath::tip);
    CHECK(c.gear == 1);
    CHECK(c.decides);
    CHECK(c.ranges.size() == 4);
    CHECK(c.origin == CaseOrigin::added);
    s.case_edits.front().gear.clear();
    CHECK(case_of(load_cases(s), "towing-a-float-behind").path == LoadPath::board);
  }

  TEST_CASE("loads: edits that mean nothing are refused with the nearest name") {
    Setup s = fjord_board();
    const auto text = [&](const CaseEdit& e) -> std::string {
      s.case_edits = {e};
      try {
        (void)load_cases(s);
      } catch (const UnknownName& u) {
        return u.what();
      } catch (const DomainError& d) {
        return d.what();
      }
      return "";
    };
    const auto contains = [](const std::string& all, const std::string& part) {
      return all.find(part) != std::string::npos && all.starts_with("case_edits[0]: ");
    };
    CHECK(contains(text(edit(CaseEdit::What::leave_out, "troling")), "\"trolling\""));
    CaseEdit e = edit(CaseEdit::What::change, "running");
    CHECK(contains(text(e), "nothing of running is changed"));
    e.pull = 10.0_N;
    CHECK(contains(text(e), "write peak"));
    e = edit(CaseEdit::What::change, "on-the-trailer");
    e.peak = 2;
    CHECK(contains(text(e), "leave it out or keep it"));
    e = edit(CaseEdit::What::change, "sit-on-board");
    e.peak = 2;
    CHECK(contains(text(e), "write pull"));
    e = edit(CaseEdit::What::change, "dock-knock");
    e.pull = 10.0_N;
    CHECK(contains(text(e), "is a warning"));
    e = edit(CaseEdit::What::add, "Running");
    e.peak = 3;
    CHECK(contains(text(e), "there already"));
    e = edit(CaseEdit::What::add, "tow");
    CHECK(contains(text(e), "needs pull"));
    e.pull = 10.0_N;
    e.gear = "port downriger";
    CHECK(contains(text(e), "did you mean \"port downrigger\""));
  }

  TEST_CASE("loads: a slip that could not hold the ball in waves tames nothing") {
    Setup s = fjord_board();
    s.gear[0].downrigger->brake_slip = Known<Force>{60.0_N, Knowledge::measured};
    const std::vector<LoadCase> cases = load_cases(s);
    CHECK(case_of(cases, "hung-up-seized-1").decides);
    CHECK_FALSE(case_of(cases, "hung-up-seized-2").decides);
    CHECK(parts::look_again(s).size() == parts::look_again(fjord_board()).size() + 1);
  }

  TEST_CASE("loads: a peak below the usual one is a condition") {
    Setup s = fjord_board();
    s.use.running_peak = 2;
    CHECK(parts::owners_conditions(s, load_cases(s)).size() == 1);
    s.use.running_peak = 5;
    CHECK(parts::owners_conditions(s, load_cases(s)).empty());
    s.use.running_peak.reset();
    CHECK(parts::owners_conditions(s, load_cases(s)).empty());
  }

  TEST_CASE("loads: a board whose deciding cases are all left out gets no verdict") {
    Setup s = fjord_board();
    for (const LoadCase& c : load_cases(s)) {
      if (c.decides) s.case_edits.push_back(edit(CaseEdit::What::leave_out, c.id));
    }
    AssessOptions o;
    o.neighbours = false;
    CHECK(assess(s, o).verdict == Verdict::no_verdict);
  }

  TEST_CASE(
      "loads: what the owner leaves out or narrows changes no limit of the boat and no setting") {
    Setup s = fjord_board();
    s.boat.emplace();
    BoatData& b = *s.boat;
    b.length = 4.9_m;
    b.beam = 2.0_m;
    b.freeboard = 0.5_m;
    b.loaded_mass = 700.0_kg;
    b.waterline_length = 4.3_m;
    b.waterline_beam = 1.8_m;
    b.chine_beam = 1.6_m;
    b.deadrise = 12.0_deg;
    b.wave_height = 0.3_m;
    AssessOptions o;
    o.neighbours = false;
    const Assessment a = assess(s, o);
    for (const auto what : {CaseEdit::What::leave_out, CaseEdit::What::change}) {
      Setup t = s;
      for (const char* kind : {"hung-up-slipping", "hung-up-seized", "both-hung-up", "brake-jerk",
                               "surface-snatch", "winch-stalls", "trolling-in-a-turn"}) {
        t.case_edits.push_back(edit(what, kind));
        if (what == CaseEdit::What::change) {
          t.case_edits.back().range = DirectionRange{0.0_deg, 0.0_deg, 85.0_deg, 90.0_deg};
        }
      }
      const Assessment c = assess(t, o);
      REQUIRE(c.boat.pulls.size() == 2);
      for (std::size_t i = 0; i < 2; ++i) {
        CHECK(c.boat.pulls[i].notice == a.boat.pulls[i].notice);
        CHECK(newtons(*c.gear_limits[i].setting) ==
              doctest::Approx(newtons(*a.gear_limits[i].setting)).epsilon(0.01));
      }
    }
  }

  TEST_CASE("loads: a load of every day stands meanwhile on a board") {
    Setup s = fjord_board();
    Gear g;
    g.name = "tub";
    g.place = {Side::port, test::mm(-300), Length{}};
    g.plain_load.emplace();
    g.plain_load->at = Position<Base>(Length{}, Length{}, test::mm(200));
    g.plain_load->range = {0.0_deg, 0.0_deg, 90.0_deg, 90.0_deg};
    g.plain_load->category = Category::everyday;
    g.plain_load->pull = 1.0_N;
    s.gear.push_back(g);
    AssessOptions o;
    o.neighbours = false;
    const auto worst = [&] {
      for (const CaseResult& c : assess(s, o).cases) {
        if (c.load_case.id == "hung-up-slipping-1") return c.factor / c.needed;
      }
      return 0.0;
    };
    const double light = worst();
    s.gear.back().plain_load->pull = 5000.0_N;
    CHECK(worst() < 0.97 * light);
  }

  TEST_CASE("loads: an added case never raises a hold limit and a left out one never lowers it") {
    const Setup s = fjord_board();
    AssessOptions o;
    o.neighbours = false;
    const Assessment a = assess(s, o);
    Setup t = s;
    CaseEdit e = edit(CaseEdit::What::add, "a heavy tow");
    e.gear = s.gear[0].name;
    e.pull = 300.0_N;
    t.case_edits = {e};
    const Assessment b = assess(t, o);
    Setup u = s;
    u.case_edits = {edit(CaseEdit::What::leave_out, "hung-up-seized"),
                    edit(CaseEdit::What::leave_out, "hung-up-slipping")};
    const Assessment c = assess(u, o);
    // A narrower range says nothing of the pull that the mount holds in any direction.
    Setup v = s;
    for (const char* kind :
         {"hung-up-seized", "hung-up-slipping", "brake-jerk", "surface-snatch"}) {
      v.case_edits.push_back(edit(CaseEdit::What::change, kind));
      v.case_edits.back().range = DirectionRange{0.0_deg, 0.0_deg, 80.0_deg, 90.0_deg};
    }
    const Assessment d = assess(v, o);
    for (std::size_t i = 0; i < 2; ++i) {
      const double hold = a.gear_limits[i].hold_limit->value();
      CHECK(b.gear_limits[i].hold_limit->value() <= hold * 1.01);
      CHECK(c.gear_limits[i].hold_limit->value() == doctest::Approx(hold).epsilon(0.01));
      CHECK(d.gear_limits[i].hold_limit->value() == doctest::Approx(hold).epsilon(0.01));
    }
    CHECK(c.verdict != Verdict::holds);
  }
}
