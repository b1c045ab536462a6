#include <thole/assumptions.hpp>

#include <algorithm>

#include "core/assumption_rows.hpp"

namespace thole {

namespace {

bool always(const Setup&) { return true; }

template <class Is>
bool any_gear(const Setup& s, Is is) {
  return std::any_of(s.gear.begin(), s.gear.end(), is);
}
bool wire(const Setup& s) {
  return any_gear(s, [](const Gear& g) { return g.downrigger.has_value(); });
}
bool no_label(const Setup& s) {
  return any_gear(s, [](const Gear& g) { return g.downrigger && !g.downrigger->wire_break; });
}
bool slip_given(const Setup& s) {
  return any_gear(s, [](const Gear& g) { return g.downrigger && g.downrigger->brake_slip; });
}
bool stall_not_known(const Setup& s) {
  return any_gear(s, [](const Gear& g) {
    return g.downrigger && g.downrigger->powered && !(g.downrigger->winch_stall.value() > 0);
  });
}
bool three_wires(const Setup& s) {
  return std::count_if(s.gear.begin(), s.gear.end(),
                       [](const Gear& g) { return g.downrigger.has_value(); }) > 2;
}
bool rod(const Setup& s) {
  return any_gear(s, [](const Gear& g) { return g.rod_holder.has_value(); });
}
bool limp_rod(const Setup& s) {
  return any_gear(s, [](const Gear& g) { return g.rod_holder && !g.rod_holder->butt_stiffness; });
}
bool point(const Setup& s) {
  return any_gear(s, [](const Gear& g) { return g.plain_load.has_value(); });
}
bool waves_not_given(const Setup& s) {
  return wire(s) && (!s.boat || !(s.boat->wave_height.value() > 0));
}
bool peak_by_default(const Setup& s) {
  return !s.use.running_peak && !(s.boat && s.boat->top_speed);
}
bool on_the_road(const Setup& s) { return !s.use.gear_off_on_road; }
bool people(const Setup& s) { return s.on_board(); }
bool hands(const Setup& s) { return !s.on_board() && (wire(s) || rod(s)); }
bool described(const Setup& s) { return s.boat.has_value(); }
bool not_described(const Setup& s) { return !s.boat; }
bool no_lean_test(const Setup& s) { return s.boat && !s.boat->lean_test; }
bool gear_on_board(const Setup& s) { return described(s) && !s.gear.empty(); }

// THE list for loads, the boat and what answers are drawn from. Boards and plates: files beside.
constexpr AssumptionRow rows[] = {
    {wire, "loads-wire-drag", "loads",
     "a towed wire drags with coefficients of 1.0 to 2.5, at all speeds given", Errs::cautious,
     "the greatest pull and every angle of the range count; wires that hum were measured up to 2.5",
     "why of a case"},
    {waves_not_given, "loads-waves", "loads", "waves double the pull of a towed wire", Errs::either,
     "a bound of computed tip accelerations, judgement; with boat: and wave_height more is counted "
     "where it comes",
     "why of a case"},
    {wire, "loads-turn", "loads", "a turn pulls half as hard again as trolling straight",
     Errs::either, "judgement; no measurement in hand", "why of a case"},
    {wire, "loads-jerk", "loads",
     "a brake bites on a ball that falls at 2 m/s, on a boom of 2.4 kN/m", Errs::either,
     "computed 3.6 to 5.8 x the ball; a boom four times as stiff doubles what is above its weight",
     "why of a case"},
    {slip_given, "loads-slip", "loads", "a brake lets by at no more than 1.5 x its slip",
     Errs::either,
     "a wet, hot or rusty brake may hold more: the case of a seized brake shows what then happens",
     "case: hung up, brake seized"},
    {stall_not_known, "loads-winch", "loads", "a winch of which no stall is given hauls 60 lbf",
     Errs::unsafe, "strong electric winches haul more (common practice, no source): measure it",
     "why of a case"},
    {no_label, "loads-wire-strength", "loads", "a wire without a label breaks as usual ones do",
     Errs::either, "a presumed figure x 1.2; a stronger wire pulls harder before it parts",
     "why of a case"},
    {wire, "loads-cones", "loads",
     "a hung-up wire pulls within cones: 75 deg from straight down astern, 60 abeam, 45 ahead, 30 "
     "under the hull",
     Errs::either,
     "what lies outside is not looked at: a boat that swings round its ball may reach it",
     "directions of a case"},
    {three_wires, "loads-two-of-three", "loads",
     "balls hang up one at a time or all at once, never two of three", Errs::either,
     "all at once is harder for most checks, one alone for those that others hold against",
     "only here"},
    {rod, "loads-line-label", "loads", "a line parts at no more than 1.3 x its label", Errs::unsafe,
     "some lines are said to hold more: a locked reel then pulls harder", "why of a case"},
    {rod, "loads-drag", "loads",
     "a drag sticks at no more than 1.5 x its setting, with a full spool", Errs::either,
     "judgement; a dry or dirty drag sticks more", "why of a case"},
    {limp_rod, "loads-rod-lever", "loads",
     "a rod of unknown stiffness levers with its whole length", Errs::cautious,
     "every rod bends and shortens its lever", "why of a case"},
    {point, "loads-as-given", "loads", "a plain load is as its owner gives it", Errs::either,
     "nothing else bounds it", "why of a case"},
    {always, "loads-steady", "loads",
     "running, road and waves act on the weights as steady accelerations", Errs::either,
     "a springy mount in tune with the motion swings more; shares sideways and fore and aft are "
     "judgement",
     "why of a case"},
    {peak_by_default, "loads-peak", "loads", "running peaks at 5 g where nothing is given",
     Errs::cautious, "ISO 12215-5 at 30 kn in a light boat", "why of a case"},
    {on_the_road, "loads-road", "loads",
     "the trailer shakes 1.0 g fore and aft, 0.6 sideways, 2.0 down, 0.5 up, one at a time",
     Errs::either, "judgement above published figures for heavier vehicles; potholes may be worse",
     "why of a case"},
    {always, "loads-wind", "loads", "wind on the gear counts for nothing", Errs::unsafe,
     "about 12 N on 0.04 m2 in 20 m/s, 26 N at 30 m/s on the road (0.6 v2 A x 1.2)", "only here"},
    {people, "loads-people", "loads", "people push 200 lbf any way and sit or step with 300 lbf",
     Errs::either, "ASCE 7-10 point loads; a jump or a fall onto the board is more",
     "why of a case"},
    {hands, "loads-hands", "loads", "a hand on gear or holder decides nothing", Errs::unsafe,
     "the pull at which it gives way is shown: not a handhold", "caution"},
    {not_described, "boat-unknown", "boat", "the boat carries the pull without heeling too far",
     Errs::unsafe, "not compared: boat: is not in the file", "caution"},
    {no_lean_test, "boat-low-end", "boat", "its stiffness is 0.7 of the estimate from its size",
     Errs::cautious, "the estimate is good for about 30 %", "caution"},
    {described, "boat-wall-sides", "boat",
     "its sides go straight up until the gunwale meets the water", Errs::either,
     "flare helps, sides that lean in take away", "only here"},
    {described, "boat-dry", "boat", "no water lies in it", Errs::unsafe,
     "loose water makes it heel more; so do a following sea and ice", "only here"},
    {described, "boat-crew", "boat",
     "the crew stands in the middle, but for one person of 85 kg at that side", Errs::either,
     "two at that side heel it more", "caution"},
    {gear_on_board, "boat-upright", "boat", "it floats upright before the pull comes", Errs::unsafe,
     "gear of 10 kg a metre off the middle heels it like an eighth of that person", "only here"},
    {described, "boat-waves", "boat", "waves take half their height off its freeboard",
     Errs::either, "it rolls besides, which is not added to the heel", "only here"},
    {always, "answers-directions", "answers",
     "grids of directions with a search round their worst find the worst", Errs::unsafe,
     "tests with half the step saw 0.5 % at most", "only here"},
    {always, "answers-going", "answers",
     "the pull at which a single item goes is read from its own hardest directions", Errs::unsafe,
     "for the first to go all directions are searched: only later items may go a little sooner",
     "only here"},
    {always, "answers-fatigue", "answers",
     "cracks in time: curves from memory, hours, cycles and their shares by judgement",
     Errs::either, "an estimate that never makes a mount hold", "caution"},
    {always, "answers-new", "answers", "all parts are new: no wear, rot, corrosion or loose bolts",
     Errs::unsafe, "look every season; what was seen is asked for under condition", "not checked"},
    {always, "answers-setting", "answers",
     "a setting lies 1.5 x below the hold limit, for what sticks", Errs::cautious,
     "and is rounded down; a line adds the growth of its spool", "limits"},
    {always, "answers-one-input", "answers",
     "thole inputs takes one input at a time to its bad end", Errs::unsafe,
     "two that are bad at once may do more than both alone", "only here"},
    {always, "answers-size", "answers", "thole size rules a design out by one load that it fails",
     Errs::cautious, "what is shown was assessed in full", "only here"},
};

Assumption made_of(const AssumptionRow& r) {
  return {r.id, r.about, r.text, r.errs, r.why, r.said};
}

template <typename Keep>
std::vector<Assumption> gathered(Keep keep) {
  std::vector<Assumption> out;
  for (const auto& part :
       {assumptions_of_loads(), assumptions_of_boards(), assumptions_of_plates()}) {
    for (const AssumptionRow& r : part) {
      if (keep(r)) out.push_back(made_of(r));
    }
  }
  return out;
}

}  // namespace

std::span<const AssumptionRow> assumptions_of_loads() { return rows; }

std::string_view word_for(Errs e) {
  switch (e) {
    case Errs::cautious:
      return "cautious";
    case Errs::either:
      return "either way";
    case Errs::unsafe:
      return "not cautious";
  }
  return "";
}

std::vector<Assumption> assumptions_of(const Setup& setup) {
  return gathered([&](const AssumptionRow& r) { return r.applies(setup); });
}

std::vector<Assumption> all_assumptions() {
  return gathered([](const AssumptionRow&) { return true; });
}

std::vector<std::string> other_way(const std::vector<Assumption>& assumptions) {
  std::vector<std::string> out;
  for (const Assumption& a : assumptions) {
    if (a.errs == Errs::cautious) continue;
    out.push_back(a.text + " (" + std::string(word_for(a.errs)) + "): " + a.why);
  }
  return out;
}

}  // namespace thole
