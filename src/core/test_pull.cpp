#include <thole/test_pull.hpp>

#include <algorithm>

#include <thole/display.hpp>

#include "core/assessment_parts.hpp"
#include "core/test_puller.hpp"

namespace thole {

using namespace literals;

namespace {

// About what one person pulls with one hand on a scale (common practice, no source).
const Force by_hand = 350.0_N;

std::string why_none(const Assessment& a, const Gear& g, const GearLimit* l) {
  if (!g.downrigger && !g.rod_holder) {
    return "a load without brake or drag has no setting that a test pull could follow from";
  }
  if (l == nullptr || !l->hold_limit || !(l->hold_limit->value() > 0)) {
    return "the mount does not hold at any pull: change it first";
  }
  if (!l->not_before) return "nobody knows at which pull the first item goes";
  if (l->least_useful.value() > 0) {
    return "no setting is left that holds the ball in waves: change the mount first";
  }
  if (test_pull_of(a, *l)) {
    return "its line is too light for a pull that a scale shows";
  }
  return "the setting that is left is too low to be of use: change the mount first";
}

// A brake that lets by less needs no more than that.
std::vector<std::string> enough(const Setup& s, const TestPuller& puller) {
  std::vector<std::string> out;
  for (std::size_t i = 0; i < s.gear.size(); ++i) {
    const auto& d = s.gear[i].downrigger;
    const std::optional<Force> pull = puller.pull_of(i);
    if (!d || !d->brake_slip || !pull || *pull < 1.5 * d->brake_slip->value) continue;
    parts::add_condition(
        out, "for a brake set to slip at " + about(d->brake_slip->value, s.units) + " a pull of " +
                 about(1.25 * d->brake_slip->value, s.units, Rounding::down) +
                 " is enough; the whole pull is for the highest setting, and the gear's own body "
                 "must take it too");
  }
  return out;
}

std::vector<std::string> before(const Setup& s, const TestPuller& puller, Force greatest) {
  const bool downriggers = std::any_of(s.gear.begin(), s.gear.end(),
                                       [](const Gear& g) { return g.downrigger.has_value(); });
  std::vector<std::string> out{
      "boat on its trailer, strapped down, trailer hitched, wheels chocked; nobody in the boat",
      "nobody in the line of the pull, behind whoever pulls" +
          std::string(downriggers ? ", or under the boom" : "") + "; eye protection on",
      downriggers ? "ball off, wire slack: pull on the boom, never on the wire; faces clear of the "
                    "boom, it springs back when cord or mount lets go"
                  : "no more gear on the mount than the file has",
      "tighten as on the tightening card; draw a line across each nut or head and what it sits on",
      "a scale that reads to at least " + about(1.2 * greatest, s.units, Rounding::up) +
          " on a loop of cord or webbing; no cord round the hand; feet on firm ground, never on a "
          "ladder, so that you do not fall if it lets go",
  };
  if (std::any_of(s.gear.begin(), s.gear.end(),
                  [](const Gear& g) { return g.rod_holder.has_value(); })) {
    out.emplace_back(
        "line and knots new: the pull on a line is never above half of its label, since a line "
        "that parts flies back");
  }
  for (std::string& e : enough(s, puller)) out.push_back(std::move(e));
  out.push_back(puller.how_to_watch());
  if (greatest > by_hand) {
    out.push_back(
        "more than about " + about(by_hand, s.units) +
        " is more than one hand pulls (common practice, no source): a second person on "
        "the same cord, or a small hand winch made fast to something that cannot move, "
        "never to a vehicle, the scale in its line; a light boat on its trailer may slide "
        "or tip: ease off when it moves; or pull less, and the movement is less in "
        "proportion where nothing has play");
  }
  return out;
}

std::vector<std::string> during() {
  return {"read the tape at rest",
          "a third of the pull, two thirds, all of it: slowly, 10 seconds each, no jerk",
          "write down what the scale and the tape read at the last one",
          "let go slowly, read the tape again: what stayed"};
}

std::vector<std::string> after(const Setup& s, const TestPuller& puller) {
  std::vector<std::string> out{
      "back at zero: no more stayed than " +
          std::string(s.units == ReaderUnits::inch ? "1/64 in" : "0.5 mm") +
          " or a tenth of the movement, whichever is more",
      "the lines across nuts and heads still meet",
      "no hairline in paint or metal at corners, bends and welds; no new dent under washers, base "
      "or board",
  };
  std::vector<std::string> first;
  for (const Gear& g : s.gear) {
    const GearLimit* l = puller.limit_of(g.name);
    if (l != nullptr && !l->first.empty()) parts::add_condition(first, l->first);
  }
  for (const std::string& f : first) {
    out.push_back("look there first, since that goes first by the sum: " + f);
  }
  out.emplace_back("put the figures into the file; set brake or drag back to its setting");
  return out;
}

const char* of_the_verdict(Verdict v) {
  if (v == Verdict::does_not_hold) {
    return "The verdict is \"does not hold\": a pull that the mount stands does not change that. "
           "It is for the lower setting alone.";
  }
  if (v == Verdict::holds_if) {
    return "The verdict is \"holds if\": a pull that the mount stands does not answer what it asks "
           "for.";
  }
  return "";
}

}  // namespace

TestPullCard test_pull_card(const Setup& setup, const Assessment& assessment) {
  TestPullCard out;
  if (setup.gear.empty()) {
    out.none_because = "there is no gear on the mount";
    return out;
  }
  if (assessment.verdict == Verdict::no_verdict) {
    out.none_because = "there is no verdict, and a pull that the mount stood would prove nothing";
    for (const std::string& r : assessment.reasons) out.none.push_back(r);
    return out;
  }
  TestPuller puller(setup, assessment);
  Force greatest{};
  std::vector<std::string> reasons;
  for (std::size_t g = 0; g < setup.gear.size(); ++g) {
    const Gear& gear = setup.gear[g];
    const auto pull = puller.pull_of(g);
    std::vector<TestPullStep> steps;
    if (pull) steps = puller.steps(g, *pull);
    if (steps.empty()) {
      const std::string why = pull ? "its load cases have no way to pull that leaves a margin"
                                   : why_none(assessment, gear, puller.limit_of(gear.name));
      parts::add_condition(reasons, why);
      out.none.push_back(gear.name + ": " + why);
    }
    for (TestPullStep& s : steps) {
      greatest = std::max(greatest, s.pull);
      out.steps.push_back(std::move(s));
    }
  }
  if (out.steps.empty()) {
    // One reason for all needs no names.
    out.none_because = reasons.size() == 1 ? reasons.front() : "no gear has a setting of use";
    if (reasons.size() == 1) out.none.clear();
    return out;
  }
  out.of_the_verdict = of_the_verdict(assessment.verdict);
  out.before = before(setup, puller, greatest);
  out.during = during();
  out.after = after(setup, puller);
  const bool wall = out.steps.front().wall_gives;
  out.stop = {
      "a creak or a crack, paint that crazes, a screw that turns",
      "a washer that lifts, a gap that opens", "movement that goes on while the scale stands still",
      wall ? "more than " + std::string(setup.units == ReaderUnits::inch ? "1/8 in" : "3 mm") +
                 " of movement at the edge of the base (judgement)"
           : "more movement than the upper figure of that pull",
      "it does not come back when you let go"};
  return out;
}

}  // namespace thole
