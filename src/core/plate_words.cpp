#include "core/plate_words.hpp"

#include <algorithm>
#include <cmath>
#include <iterator>
#include <utility>

#include <thole/error.hpp>
#include <thole/gunwale_bar.hpp>
#include <thole/metal_pairs.hpp>
#include <thole/metal_strength.hpp>

#include "core/assessment_parts.hpp"
#include "core/geometry.hpp"
#include "core/metal_hold.hpp"
#include "core/plate_engine.hpp"

namespace thole::plate {

using namespace literals;
using namespace parts;

// The wall as its host is called: "wall", "timber" ...
std::string host_word(const Setup& s) {
  const Host& h = s.plate().host;
  return h.is_metal() ? "wall" : std::string(word_for(h.kind));
}

std::string wall_words(const Setup& s) {
  const GunwalePlate& m = s.plate();
  if (geometry::in_bar(m.fastening)) {
    return show(m.fastening.backing->thickness, s.units) + " bar behind the wall";
  }
  return show(m.host.thickness, s.units) + " wall";
}

// "the 1/4-20 threads pull out of the 0.090 in wall"
std::string in_words(const Setup& s, const CheckResult& c) {
  const bool aside = c.mode == "pull-out-with-bearing";
  if (!c.part.empty()) return "the " + c.gives_way;  // that names the kind
  if (c.mode.ends_with("pull-out") || aside) {
    const Fastening& f = s.plate().fastening;
    const std::string what = f.insert              ? "thread inserts"
                             : f.blind             ? "blind inserts"
                             : is_spaced(f.thread) ? f.thread.name + " screws"
                                                   : f.thread.name + " threads";
    return "the " + what + " pull out of the " + wall_words(s) +
           (aside ? " (side load counted)" : "");
  }
  return "the " + c.gives_way;
}

namespace {

bool has_downrigger(const Setup& s) {
  return std::any_of(s.gear.begin(), s.gear.end(),
                     [](const Gear& g) { return g.downrigger.has_value(); });
}

}  // namespace

bool clamped_edge(const GunwalePlate& m) {
  const bool lip = m.host.is_metal() && m.host.form == WallForm::open_lip;
  return m.fastening.hold == HoldBy::clamp && !lip;
}

void write_ladder(const Setup& s, const std::vector<std::optional<Force>>& all_hung_up,
                  Assessment& out) {
  for (const CheckResult& c : out.checks) {
    if (c.standing != Standing::applies || !c.goes_at) continue;
    LadderStep& step = out.ladder.emplace_back();
    step.what = in_words(s, c);
    step.low = c.goes_at;
    step.mode = c.mode;
    step.part = c.part;
  }
  finish_ladder(s, out, "gunwale", all_hung_up);
}

namespace {

bool assessed(const std::vector<CheckResult>& checks, std::string_view mode) {
  return std::any_of(checks.begin(), checks.end(), [&](const CheckResult& c) {
    return c.mode == mode && c.standing == Standing::applies;
  });
}

}  // namespace

std::string bending_of_host(const Setup& s, const std::vector<CheckResult>& checks) {
  const bool bent = assessed(checks, "panel-bending");
  if (s.plate().host.is_metal()) return "";
  if (bent) {
    return s.plate().host.kind == HostKind::cored_panel ? "shear of the core round the base" : "";
  }
  if (s.plate().host.kind == HostKind::timber) {
    return "bending and twist of the timber between what holds it";
  }
  return "bending of the " + host_word(s) + " round the base";
}

// What the way that they hold asks for.
void say_hold(const Fastening& f, const Host& h, std::vector<std::string>& c) {
  if (is_tapped(f) && geometry::thread_depth(f, h).value() > 0) {
    const PullOut p = pull_out_of(f, h);
    if (p.threads < 2) {
      c.push_back("only " + show_number(std::floor(p.threads * 10) / 10) +
                  " threads engaged: below two, no margin for wear" +
                  (p.threads < 1.5 ? "; advised against" : ""));
    }
    if (p.extrapolated) {
      c.emplace_back("thread size or depth outside the tests: the pull-out figure is extrapolated");
    }
  }
  if (f.hold == HoldBy::self_tapping) {
    c.emplace_back(
        "self-tapping screws: drill as their maker asks; taken out and in they wear the thread");
  }
  if (f.insert) {
    const Length metal = geometry::in_bar(f) ? f.backing->thickness : h.thickness;
    if (metal >= f.insert->length && metal < f.insert->length + f.thread.pitch) {
      c.emplace_back("the insert just fits: makers ask for one pitch more of metal");
    }
  }
  if (f.blind) {
    c.emplace_back(
        "a blind insert that turns or rocks is lost: through bolts in its place; its strength is "
        "the figure given, for a wall and a hole as in that test");
  }
  if (f.rivet) {
    c.emplace_back(
        "rivets cannot be tightened: look every season for black rings round their heads");
  }
}

// A plate over an edge or a gap, and what it may hang on.
void say_bracket(const GunwalePlate& m, std::vector<std::string>& c) {
  if (!m.bracket) return;
  if (m.bracket->fitting) {
    const std::string& name = m.bracket->fitting->name;
    c.push_back("the " + name + " carries the mount: do not moor, tow or anchor by it with the " +
                "bracket on, and look at its fasteners before you moor by it again");
    c.push_back("tightening the U-bolts pulls at the fasteners of the " + name +
                " all the time: snug, no more");
  }
  if (geometry::is_clasped(m)) {
    c.emplace_back(
        "U-bolts and clamps creep: a line of paint across nut and plate, look at it each hour; no "
        "rubber below");
  }
  if (m.bracket->stop) {
    c.emplace_back("the stop against sliding must be as strong as the pull: it is not checked");
  }
}

void write_cautions(const Setup& s, const std::string& hand, Assessment& out) {
  const GunwalePlate& m = s.plate();
  const ReaderUnits u = s.units;
  auto& c = out.cautions;
  if (out.handhold && out.handhold->value() < (300.0_lbf).value()) {
    c.push_back("not a handhold, seat or step: " + hand + " may tear it off at " +
                about(*out.handhold, u, Rounding::down));
  } else {
    c.emplace_back("not a handhold, seat or step");
  }
  c.emplace_back("never tie off, tow, moor, anchor or lift from this mount");
  const bool wire = has_downrigger(s);
  c.emplace_back(
      wire ? "snagged: throttle off, cutter at hand, release before you turn; never power "
             "against it"
           : "snagged: throttle off, let it slip or cut the line; never power against it");
  if (std::string seized = if_seized(out, u); !seized.empty()) c.push_back(std::move(seized));
  if (!geometry::is_clasped(m)) {
    c.emplace_back("before drilling look behind: fuel, wires, cables, foam, outer hull");
  }
  say_bracket(m, c);
  say_hold(m.fastening, m.host, c);
  if (m.second) say_hold(*m.second, m.host, c);
  for (const std::string& text : pair_cautions(s)) c.push_back(text);
  if (s.condition.within_150_mm == "nothing" || s.condition.within_150_mm.empty()) {
    c.emplace_back(s.condition.within_150_mm.empty()
                       ? "nobody said what ties the gunwale within 6 in (150 mm): it may roll"
                       : "nothing ties the gunwale within 6 in (150 mm): it may roll");
  }
  for (const CheckResult& r : out.checks) {
    if (r.mode != "gunwale-roll" || r.standing != Standing::applies || r.case_title.empty() ||
        !(r.demand.si < r.strength.si)) {
      continue;
    }
    const double turn = in_degrees(bar_turn(m.host, Moment::from_value(r.demand.si)));
    c.push_back("the gunwale turns by about " + show_number(std::ceil(10 * turn) / 10) +
                " deg between its ties (" + r.case_title +
                "), more where the ties give: an estimate");
  }
  const Host& h = m.host;
  if (in_wood(m.fastening.hold) || (m.second && in_wood(m.second->hold))) {
    c.emplace_back("drill lead holes for every screw; a screw that turned free holds nothing");
  }
  if (h.kind == HostKind::timber || h.kind == HostKind::plywood) {
    c.emplace_back("wood shrinks and gives: tighten again after a week, a month and each spring");
    c.emplace_back("seal end grain and the walls of every hole");
    const bool aluminium = (m.base.metal && m.base.metal->aluminium) ||
                           (m.fastening.backing && m.fastening.backing->metal.aluminium);
    if (h.wood.treated && aluminium) {
      c.emplace_back("treated wood eats aluminium: a plastic barrier between, no direct contact");
    }
  }
  if (h.panel.punch_shear || h.panel.bearing || h.panel.core_crush || h.panel.flexural) {
    c.emplace_back(
        "strengths of the panel are as given: they must be of soaked samples, no dry ones");
  }
  if (h.kind == HostKind::cored_panel) {
    c.emplace_back("a core stays dry only behind solid, sealed holes: have a yard look at it");
  }
  if (const std::string cracks = may_crack(s, out.checks, false); !cracks.empty()) {
    c.push_back("an estimate: " + cracks +
                (wire ? "; take the gear off for a run, look every season"
                      : "; empty the holder for a run, look every season"));
  }
  for (const CheckResult& r : out.checks) {
    if (r.lowered) c.push_back("the factor needed for \"" + r.gives_way + "\" was lowered");
  }
}

void write_not_checked(const Setup& s, const std::vector<LoadCase>& cases, Assessment& out) {
  auto& n = out.not_checked;
  n.emplace_back(has_downrigger(s) ? "the gear's own body, boom and clamp"
                                   : "the holder's own body");
  if (s.plate().bracket) {
    n.emplace_back("bends, welds and heels of the bracket: it counts as a flat plate");
    n.emplace_back("how the gear is bolted to the bracket");
    if (clamped_edge(s.plate())) n.emplace_back("the edge of the wall in the jaws of the clamps");
    if (s.plate().bracket->fitting) {
      n.push_back("the " + s.plate().bracket->fitting->name + " itself: its body and its foot");
    }
  }
  const bool rolls = assessed(out.checks, "gunwale-roll");
  const bool bar_missing = std::any_of(out.checks.begin(), out.checks.end(), [](const auto& c) {
    return c.mode == "gunwale-roll" && c.standing == Standing::not_checked;  // says so below
  });
  if (rolls) {
    n.emplace_back("bending of the gunwale as a whole, what ties it and their rivets");
  } else if (!bar_missing) {
    n.emplace_back("rolling of the gunwale as a whole");
  }
  n.emplace_back("working loose, wear, corrosion");
  add_fatigue_not_checked(s, cases, n);
  const bool rides = std::any_of(cases.begin(), cases.end(), [](const LoadCase& c) {
    return c.path == LoadPath::ride && !c.left_out;
  });
  if (!rides) {
    n.emplace_back("bouncing of the gear's own weight when running or on the road");
  } else {
    for (const LoadCase& c : cases) {
      if (c.kind == "on-the-trailer" && c.left_out) n.emplace_back("the trailer");
    }
  }
  n.emplace_back("stability of the boat");
  for (const CheckResult& r : out.checks) {
    if (r.standing == Standing::not_checked) add_condition(n, r.gives_way + ": " + r.why);
  }
  if (!s.plate().base.metal) n.emplace_back("strength of the base itself");
  if (s.plate().host.kind == HostKind::timber) n.push_back(bending_of_host(s, out.checks));
}

void write_sources(const Setup& s, Assessment& out) {
  auto& all = out.sources;
  for (const CheckResult& r : out.checks) {
    if (r.standing == Standing::applies) add_source(all, r.source);
  }
  const Host& h = s.plate().host;
  if (h.is_metal()) add_source(all, h.metal.source);
  if (h.wood.wood) add_source(all, h.wood.wood->source);
  for (const auto* g :
       {&h.panel.punch_shear, &h.panel.bearing, &h.panel.core_crush, &h.panel.flexural}) {
    if (*g) add_source(all, {(*g)->source + " (as its owner has it)", "", Seen::copy});
  }
  for (const Fastening* f :
       {&s.plate().fastening, s.plate().second ? &*s.plate().second : nullptr}) {
    if (f == nullptr) continue;
    const std::optional<GivenForce>* const forces[] = {
        f->insert ? &f->insert->pull_out : nullptr, f->blind ? &f->blind->pull_out : nullptr,
        f->blind ? &f->blind->thread_holds : nullptr, f->rivet ? &f->rivet->tension : nullptr,
        f->rivet ? &f->rivet->shear : nullptr};
    for (const auto* g : forces) {
      if (g != nullptr && *g) {
        add_source(all, {(*g)->source + " (as its owner has it)", "", Seen::copy});
      }
    }
    if (f->blind && f->blind->like.thread_proof) add_source(all, f->blind->like.source);
    if (f->backing) add_source(all, f->backing->metal.source);
    add_source(all, f->material.source);
    add_source(all, f->thread.source);
  }
  if (s.plate().bracket) {
    const Bracket& b = *s.plate().bracket;
    if (b.clamp && b.clamp->holds) {
      add_source(all, {b.clamp->holds->source + " (as its owner has it)", "", Seen::copy});
    }
    for (const Stiffener& a : b.stiffeners) add_source(all, a.metal.source);
    if (b.fitting) add_source(all, b.fitting->fastening.material.source);
  }
  if (s.plate().base.metal) add_source(all, s.plate().base.metal->source);
  for (const auto& [group, value] : s.required_factors) add_source(all, value.source);
  if (std::any_of(s.gear.begin(), s.gear.end(),
                  [](const Gear& g) { return g.rod_holder.has_value(); })) {
    add_source(all, {"elastica with a dead load (Bisshopp & Drucker 1945), energy bound on the "
                     "lever of a bent rod",
                     "", Seen::computed});
  }
  if (std::any_of(s.gear.begin(), s.gear.end(), [](const Gear& g) { return !g.plain_load; })) {
    add_source(all, {"ASCE 7-10, 4.5.1, hand-rail point load", "", Seen::page});
  }
  if (has_downrigger(s)) {
    add_source(all,
               {"towed wire: steady equations of Pode 1951 and Landweber 1947", "", Seen::memory});
  }
}

void write_to_do(const Setup& s, Assessment& out) {
  const ReaderUnits u = s.units;
  std::vector<std::string> advice;
  for (const CheckResult& r : out.checks) {
    if (r.standing != Standing::applies || r.holds || limits_life(s, r.mode)) continue;
    add_condition(advice, r.advice);
  }
  if (advice.size() > 2) advice.resize(2);
  out.to_do = advice;
  for (std::size_t i = 0; i < out.gear_limits.size(); ++i) {
    const auto& setting = out.gear_limits[i].setting;
    if (!setting) continue;
    if (s.gear[i].downrigger) {
      advise_brake(*s.gear[i].downrigger, out.gear_limits[i], u, out.to_do);
      continue;
    }
    const RodHolder& r = *s.gear[i].rod_holder;
    if (*setting < r.drag.value) {
      const std::string of = s.gear.size() > 1 ? " of " + s.gear[i].name : "";
      out.to_do.push_back("as it stands: set the drag" + of + " to " +
                          about(*setting, u, Rounding::down) +
                          " or less, measured with a scale at the line");
    }
    if (!advice.empty() && !r.butt_stiffness) {
      add_condition(out.to_do,
                    "measure how the rod's butt bends: without it the rod counts as a rigid lever");
    }
  }
}

namespace {

// "your brake slips at 60 lbf and may reach 90 lbf"
std::string of_the_wire(const Setup& s, const std::vector<LoadCase>& cases, const Gear& g) {
  const Downrigger& d = *g.downrigger;
  const bool many = s.gear.size() > 1;
  // What a hung-up ball pulls with until something lets go, by the case that stands for it.
  const char* kind = d.weak_link    ? "hung-up-weak-link"
                     : d.brake_slip ? "hung-up-slipping"
                                    : "hung-up-seized";
  const auto c = std::find_if(cases.begin(), cases.end(), [&](const LoadCase& o) {
    return o.kind == kind && &s.gear[std::size_t(std::max(o.gear, 0))] == &g;
  });
  const std::string high = c != cases.end() ? about(c->pull, s.units, Rounding::up) : "";
  const std::string of = many ? " of " + g.name : "";
  if (d.weak_link) {
    return (many ? "the weak link" + of : std::string("your weak link")) + " parts at " +
           about(*d.weak_link, s.units) + " and may hold to " + high;
  }
  if (d.brake_slip) {
    return (many ? "the brake" + of : std::string("your brake")) + " slips at " +
           about(d.brake_slip->value, s.units) +
           (1.5 * d.brake_slip->value < 2.0 * (d.ball * standard_gravity)
                ? " and counts up to " + high + ", twice the ball"
                : " and may hold to " + high);
  }
  return (many ? "the wire" + of : std::string("your wire")) + " may pull with " + high +
         " before it parts";
}

}  // namespace

void write_slip(const Setup& s, Assessment& out) {
  const auto of = [&](std::string_view mode) -> const CheckResult* {
    for (const CheckResult& c : out.checks) {
      if (c.mode == mode) return &c;
    }
    return nullptr;
  };
  const CheckResult* stop = of("bracket-stop");
  const CheckResult* slip = of("bracket-slip");
  if (stop == nullptr || slip == nullptr || !slip->goes_at) return;
  for (std::string& reason : out.reasons) {
    if (reason != stop->why) continue;
    reason += "; by the low end of friction it slips or turns round at about " +
              about(*slip->goes_at, s.units, Rounding::down);
  }
}

void write_sentence(const Setup& s, const std::vector<LoadCase>& cases, Assessment& out) {
  const ReaderUnits u = s.units;
  const bool many = s.gear.size() > 1;
  const CheckResult* first = nullptr;  // first to go, by pull
  const CheckResult* worst = nullptr;  // worst against its factor
  for (const CheckResult& c : out.checks) {
    if (c.standing != Standing::applies) continue;
    if (worst == nullptr) worst = &c;
    if (c.goes_at && (first == nullptr || *c.goes_at < *first->goes_at)) first = &c;
  }
  std::string text;
  if (out.verdict == Verdict::no_verdict) {
    for (const std::string& r : out.reasons) text += (text.empty() ? "" : "; ") + r;
    out.sentence = text;
    return;
  }
  const bool by_distance = worst != nullptr && worst->case_title.empty() && !worst->holds;
  if (by_distance) {
    text = "the " + worst->gives_way + ": " + show(worst->strength, u) + " where " +
           show(worst->demand, u) + " is the least";
  } else if (first != nullptr) {
    // Of several, the one whose pull takes the mount first.
    std::size_t weakest = 0;
    for (std::size_t i = 1; i < out.gear_limits.size(); ++i) {
      const auto& own = out.gear_limits[i].not_before;
      const auto& least = out.gear_limits[weakest].not_before;
      if (own && (!least || *own < *least)) weakest = i;
    }
    const Gear& g = s.gear[weakest];
    text = "first to go: " + in_words(s, *first) + ", not before about " +
           about(*first->goes_at, u, Rounding::down) +
           (g.rod_holder   ? " on the line"
            : g.downrigger ? " on the wire"
                           : " of pull") +
           (many ? " of " + g.name : "");
  }
  for (const Gear& g : s.gear) {
    if (g.rod_holder) {
      const RodHolder& r = *g.rod_holder;
      const Force high = std::min<Force>(1.5 * r.spool_growth * r.drag.value, 1.3 * r.line_test);
      text += (many ? "; the drag of " + g.name : std::string("; your drag")) + " is set to " +
              about(r.drag.value, u) + " and may reach " + about(high, u, Rounding::up);
    } else if (g.downrigger) {
      text += "; " + of_the_wire(s, cases, g);
    } else {
      text += (many ? "; " + g.name : std::string("; the load")) + " is " +
              about(g.plain_load->pull, u);
    }
  }
  if (worst != nullptr && !worst->holds && !by_distance) {
    // What goes at no pull is not named yet.
    text += limits_life(s, worst->mode) ? "; the " + worst->gives_way + ": factor " : "; factor ";
    text += show_factor(worst->factor) + " where " + show_number(worst->needed) + " is needed";
    // One pull is plain from what stands before; one of many, or an acceleration, is not.
    const bool by_ride = std::any_of(cases.begin(), cases.end(), [&](const LoadCase& c) {
      return c.path == LoadPath::ride && c.title == worst->case_title;
    });
    if (many || by_ride || has_downrigger(s)) text += " (" + worst->case_title + ")";
  }
  out.sentence = text.starts_with("; ") ? text.substr(2) : text;
}

void write_walls(const Setup& s, const AssessOptions& options, Assessment& out) {
  const auto row = [&](const Setup& t, const Assessment& a, const char* position) {
    WallRow r;
    r.thickness = t.plate().host.thickness;
    r.position = position;
    r.verdict = word_for(a.verdict);
    for (const CheckResult& c : a.checks) {
      if (c.standing == Standing::refused) {
        r.worst_ratio = 0;
        r.gives_way = c.gives_way + ": " + c.why;
        break;
      }
      if (c.standing == Standing::applies) {
        r.worst_ratio = c.factor / c.needed;
        r.gives_way = c.gives_way;
        break;
      }
    }
    r.hold_limit = a.hold_limit;
    return r;
  };
  const Length t = s.plate().host.thickness;
  const Length* thinner = nullptr;
  const Length* thicker = nullptr;
  for (const Length& w : s.common_walls) {
    if (w < (1 - 1e-6) * t) thinner = &w;
    if (w > (1 + 1e-6) * t && thicker == nullptr) thicker = &w;
  }
  const auto add = [&](const Length* w, const char* position) {
    if (w == nullptr) return;
    Setup other = s;
    other.plate().host.thickness = *w;
    AssessOptions plain = options;
    plain.neighbours = false;
    plain.by_direction = false;
    try {
      validate(other);
      out.walls.push_back(row(other, assess_plate(other, plain), position));
    } catch (const DomainError&) {
      // The neighbour does not fit the geometry: no row.
    }
  };
  // Others come in no common thickness; a figure given for this wall says nothing of another.
  const auto as_tested = [](const Fastening& f) { return f.blind || f.rivet; };
  const auto& second = s.plate().second;
  const bool metal = s.plate().host.is_metal() && !as_tested(s.plate().fastening) &&
                     !(second && as_tested(*second));
  if (metal) add(thinner, "thinner");
  out.walls.push_back(row(s, out, "this wall"));
  if (metal) add(thicker, "thicker");
}

}  // namespace thole::plate
