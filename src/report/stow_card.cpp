#include <algorithm>
#include <cmath>
#include <string>
#include <string_view>
#include <vector>

#include <thole/check.hpp>
#include <thole/display.hpp>
#include <thole/fit.hpp>
#include <thole/loads.hpp>

#include "report/cards.hpp"
#include "report/html.hpp"
#include "report/text.hpp"

namespace thole::cards {
namespace {

// `what` is HTML.
std::string tick(const std::string& what) {
  return "<li><label><input type=\"checkbox\"> " + what + "</label></li>";
}

std::string ticks(const std::string& head, const std::string& items) {
  return "<p><b>" + head + "</b></p><ul class=\"ticks\">" + items + "</ul>";
}

bool any_rigger(const Setup& s) {
  return std::any_of(s.gear.begin(), s.gear.end(),
                     [](const Gear& g) { return g.downrigger.has_value(); });
}

bool any_rod(const Setup& s) {
  return std::any_of(s.gear.begin(), s.gear.end(),
                     [](const Gear& g) { return g.rod_holder.has_value(); });
}

std::string azimuth_in_words(Angle a) {
  return std::abs(a.value()) < 1e-6 ? "straight astern" : show(a) + " from astern";
}

std::string boom_of(const Gear& g) {
  const std::vector<Angle>& at = g.downrigger->stowed_angles;
  if (at.empty()) {
    return html::users(g.name, 40) +
           ": where its boom is stowed is not said, every way round was counted; swing it in over "
           "the boat and pin it";
  }
  std::vector<std::string> words;
  for (const Angle& a : at) words.push_back(azimuth_in_words(a));
  return html::users(g.name, 40) + ": boom " + text::joined(words, " or ") +
         ", pinned there: the figures hold for that place alone";
}

std::string before_a_run(const Setup& s) {
  std::string items;
  if (any_rigger(s)) {
    items += tick("Balls up and <b>aboard</b>, in a box: never run with a ball on its wire or tip");
    for (const Gear& g : s.gear) {
      if (g.downrigger) items += tick(boom_of(g));
    }
    items += tick("Clips and loose wire made fast, brakes on");
  }
  if (any_rod(s)) items += tick("<b>Rods out</b> of the holders, laid down and strapped");
  items += tick("Hooks and leads covered, knives and cutters in their place");
  items += tick("Look along the mount: no line of paint has parted, nothing rattles");
  return ticks("Before each run", items);
}

bool is_ride(const CaseResult& c) { return c.load_case.path == LoadPath::ride; }
bool is_road(const CaseResult& c) { return c.load_case.kind == "on-the-trailer"; }

// A row is no better than the design: what was refused or guessed is not in its factor.
std::string holds(Verdict v) {
  switch (v) {
    case Verdict::no_verdict:
      return "what can be calculated holds, the design has no verdict";
    case Verdict::holds_if:
      return "holds if the guesses hold";
    case Verdict::does_not_hold:
    case Verdict::holds:
      break;
  }
  return "holds";
}

std::string ride(const CaseResult& c, Verdict v) {
  std::string name = text::sentence(c.load_case.title);
  name.pop_back();
  const auto line = [&](html::Mark m, const std::string& words) {
    return "<li>" + html::mark(m) + " <b>" + html::text(name, 200) + "</b>: " + words + "</li>";
  };
  if (c.load_case.left_out) return line(html::Mark::question, "left out by the owner, not counted");
  if (!c.motion.empty()) {
    return line(html::Mark::cross, "no figures, it comes loose: " + html::text(c.motion));
  }
  if (c.worst_gives_way.empty()) return line(html::Mark::question, "not calculated");
  const std::string weakest = html::text(c.worst_gives_way) + " <small>(factor " +
                              show_factor(c.factor) + ", " + show_number(c.needed) +
                              " needed)</small>";
  if (!c.holds) return line(html::Mark::cross, "<b>does not hold</b>: " + weakest);
  const html::Mark m = v == Verdict::does_not_hold ? html::Mark::tick : html::mark_of(v);
  return line(m, holds(v) + "; weakest there: " + weakest);
}

std::string rides(const SheetContent& c) {
  std::string items;
  for (const CaseResult& r : c.assessment.cases) {
    const bool counts = !is_road(r) || !c.setup.use.gear_off_on_road;
    if (is_ride(r) && counts) items += ride(r, c.assessment.verdict);
  }
  return items.empty() ? "" : "<p><b>Shaken, by the figures</b></p><ul>" + items + "</ul>";
}

std::vector<std::string> cracks_in_time(const SheetContent& c) {
  std::vector<std::string> out;
  const auto modes = catalogue_for(c.setup);
  for (const CheckResult& r : c.assessment.checks) {
    const bool fatigue = std::any_of(modes.begin(), modes.end(), [&](const FailureMode& m) {
      return m.fatigue && m.id == r.mode;
    });
    if (fatigue && r.standing == Standing::applies && !r.holds) out.push_back(r.gives_way);
  }
  out.erase(std::unique(out.begin(), out.end()), out.end());
  return out;
}

// The trailer where it was calculated.
const CaseResult* the_road(const SheetContent& c) {
  for (const CaseResult& r : c.assessment.cases) {
    const bool known = !r.motion.empty() || !r.worst_gives_way.empty();
    if (is_road(r) && !r.load_case.left_out && known) return &r;
  }
  return nullptr;
}

std::string gear_on_the_road(const SheetContent& c) {
  const BoatUse& use = c.setup.use;
  if (use.gear_off_on_road) {
    return tick("<b>Gear off</b> its mount and in the car: the figures hold for that alone");
  }
  const CaseResult* road = the_road(c);
  const std::vector<std::string> cracks = cracks_in_time(c);
  std::string words = "<b>Take the gear off.</b> ";
  const std::string hours =
      "The file leaves it on for " + show_number(use.road_hours_per_season) + " h a season; ";
  if (road != nullptr && !road->holds) {
    words += "With the gear on the road alone is too much for the mount.";
  } else if (!cracks.empty()) {
    words += hours + "what may go: " + html::text(text::joined(cracks, "; ")) + ".";
  } else if (road == nullptr) {
    words += hours + "the trailer was not calculated.";
  } else {
    words += hours + "on the trailer by the figures: " + holds(c.assessment.verdict) +
             ". Off is still better for metal and screws.";
  }
  return tick(words);
}

std::string width_of(const FitRow& r, ReaderUnits u) {
  const Length over = r.distance.value() < 0 ? Length(-r.distance) : r.distance;
  const std::string by = html::both(over, u);
  std::string words = html::text(r.one, 200) + ", " + html::text(r.other, 200) + ": ";
  switch (r.clear) {
    case Clear::hits:
      words += "<b>too wide by " + by + "</b>";
      break;
    case Clear::close:
      words += "close: " + by + " to spare";
      break;
    case Clear::clear:
      words += by + " to spare";
      break;
  }
  if (!r.note.empty()) words += " (" + html::text(r.note) + ")";
  if (r.clear != Clear::clear && !r.advice.empty()) words += "; " + html::text(r.advice);
  return words;
}

std::string widths(const Setup& s) {
  std::string items;
  const FitAnswer fit = look_at_fit(s);
  for (const FitRow& r : fit.rows) {
    if (r.rule == FitRule::width) items += tick(width_of(r, s.units));
  }
  if (!items.empty()) return items;
  return tick(
      "Measure the width over everything that sticks out; the law of many places allows 2.5 "
      "to 2.6 m (8 ft to 8 ft 6 in) (common practice, no source)");
}

std::string for_the_road(const SheetContent& c) {
  std::string items = gear_on_the_road(c);
  items += widths(c.setup);
  if (any_rigger(c.setup)) items += tick("Booms in and pinned, balls in the car, not in the boat");
  items += tick(
      "Straps, winch post and guides clear of the mount; nothing hangs on it or is "
      "strapped to it");
  items += tick("Trailer lamps and plate to be seen from behind, past the mount");
  items += tick("Cover over or round it: no sharp corner under cloth");
  items += tick("Afloat again: stern or all-round light not hidden by booms and rods");
  return ticks("For the road", items);
}

std::string weight(const Setup& s) {
  Mass total{};
  bool all = true;
  std::vector<std::string> parts;
  for (const Gear& g : s.gear) {
    const Mass m = g.rod_holder   ? g.rod_holder->mass
                   : g.downrigger ? Mass(g.downrigger->mass + g.downrigger->ball)
                   : g.plain_load ? g.plain_load->mass
                                  : Mass{};
    all = all && m.value() > 0;
    if (!(m.value() > 0)) continue;
    total += m;
    parts.push_back(html::users(g.name, 40) + " " + show(m, s.units) +
                    (g.downrigger ? " with its ball" : ""));
  }
  const std::string rest =
      all ? "the mount itself" : "the mount itself and what has no mass in the file";
  const std::string known = parts.empty() ? "No mass is in the file. Weigh " + rest
                                          : text::joined(parts) + ": <b>" + show(total, s.units) +
                                                "</b> in all. Weigh " + rest + " and add it";
  return "<p><b>Weight</b></p><p>" + known +
         ". All of it counts against the capacity label, with people, motor and fuel; it sits high "
         "and to a side: look at the trim.</p>";
}

}  // namespace

Card stow_and_tow(const SheetContent& c) {
  return {"stow-and-tow", "Stow-and-tow card",
          before_a_run(c.setup) + rides(c) + for_the_road(c) + weight(c.setup) +
              "<p>Width, lamps, lines, weights and gear are a matter of law, and it differs from "
              "place to place: look up yours.</p>"};
}

}  // namespace thole::cards
