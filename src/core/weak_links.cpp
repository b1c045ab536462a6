// What is meant to give way before a mount, and whether it does: by bounds, never by middle values.

#include <algorithm>
#include <array>
#include <cmath>
#include <iterator>

#include <thole/display.hpp>
#include <thole/error.hpp>
#include <thole/loads.hpp>
#include <thole/towed_line.hpp>

#include "core/assessment_parts.hpp"
#include "core/load_list.hpp"
#include "core/stable_order.hpp"

namespace thole {

std::string_view word_for(Order o) {
  switch (o) {
    case Order::wanted:
      return "wanted";
    case Order::not_certain:
      return "not certain";
    case Order::wrong:
      return "wrong";
  }
  throw InternalError("an order without a word");
}

}  // namespace thole

namespace thole::parts {

namespace {

// Upper bounds of what is meant to give way (judgement, see loads.hpp).
constexpr double wire_runs_high = 1.2;
constexpr double line_runs_high = 1.3;
constexpr double link_runs_high = 1.2;
constexpr double slip_sticks = 1.5;

// Grid of directions for a rating: a moment is smooth over them.
const Angle fine = degrees(2.5);

const std::optional<GearRating>& rating_of(const Gear& g) {
  static const std::optional<GearRating> none;
  return g.rod_holder   ? g.rod_holder->holder_rating
         : g.downrigger ? g.downrigger->body_rating
                        : none;
}

// Pull at which one direction and boom position uses up a moment: a rod bends as it is pulled.
Force pull_of_moment(const Host& host, const Gear& g, const Direction<Boat>& d, std::size_t boom,
                     Moment allowed) {
  const auto moment = [&](Force pull) {
    return pull_load(host, g, path_of_pull(g), pull, d, boom).moment.norm();
  };
  const Force unit = Force::from_value(1);
  if (!(moment(unit).value() > 1e-9))
    return Force::from_value(std::numeric_limits<double>::infinity());
  if (g.downrigger) return allowed / moment(unit) * unit;
  Force low{};
  Force high = unit;
  while (moment(high) < allowed && high.value() < 1e6) {
    low = high;
    high *= 2.0;
  }
  if (moment(high) < allowed) return high;
  for (int i = 0; i < 60; ++i) {
    const Force mid = 0.5 * (low + high);
    (moment(mid) < allowed ? low : high) = mid;
  }
  return low;
}

}  // namespace

LoadPath path_of_pull(const Gear& g) {
  return g.downrigger ? LoadPath::tip : g.rod_holder ? LoadPath::line : LoadPath::point;
}

std::vector<DirectionRange> own_ranges(const Setup& s, std::size_t gear) {
  std::vector<DirectionRange> out;
  const LoadPath path = path_of_pull(s.gear[gear]);
  const auto add = [&](const std::vector<LoadCase>& cases) {
    for (const LoadCase& c : cases) {
      if (c.gear != int(gear) || c.path != path || c.left_out) continue;
      join(out, c.ranges);
    }
  };
  add(listed_cases(s));
  if (!s.case_edits.empty()) add(load_cases(s));
  return out;
}

std::optional<Force> holder_takes(const Setup& s, std::size_t gear, const RangeLimit* part) {
  const Gear& g = s.gear[gear];
  const std::optional<GearRating>& rating = rating_of(g);
  if (!rating) return std::nullopt;
  if (rating->pull) return rating->pull;
  const Host host = s.on_board() ? Host{} : s.plate().host;
  std::vector<DirectionRange> ranges = own_ranges(s, gear);
  if (part != nullptr && part->range) {
    std::vector<DirectionRange> of_part;
    for (const Sector& sector : sectors_of(ranges)) {
      if (row_of(g, sector).where == part->where) of_part = sector.ranges;
    }
    if (!of_part.empty()) ranges = std::move(of_part);
  }
  Force least = Force::from_value(std::numeric_limits<double>::infinity());
  const std::size_t booms = g.downrigger ? g.downrigger->positions() : 1;
  for (std::size_t boom = 0; boom < booms; ++boom) {
    if (part != nullptr && part->boom && g.downrigger->position(boom).azimuth != *part->boom) {
      continue;
    }
    for (const DirectionRange& range : ranges) {
      for (const Direction<Boat>& d : directions(range, fine)) {
        least = std::min(least, pull_of_moment(host, g, d, boom, *rating->moment));
      }
    }
  }
  if (!std::isfinite(least.value())) return std::nullopt;
  return least;
}

std::optional<Links> links_of(const Setup& s, std::size_t gear, const std::string& whose) {
  const Gear& g = s.gear[gear];
  if (g.plain_load) return std::nullopt;
  Links out;
  const auto step = [&](const char* what, Force low, Force high) {
    LadderStep& l = out.steps.emplace_back();
    l.what = what + whose;
    l.low = low;
    l.high = high;
    l.link = true;
    l.gear = g.name;
  };
  const auto parts_at = [&](const char* what, Force high) {
    if (!out.what_parts.empty() && high >= out.parts) return;
    out.parts = high;
    out.what_parts = what;
  };
  const auto link = [&](const std::optional<Force>& weak) {
    if (!weak) return;
    const Force high = link_runs_high * *weak;
    step("weak link parts", *weak, high);
    parts_at("weak link", high);
    out.tamed = true;
  };
  if (g.downrigger) {
    const Downrigger& d = *g.downrigger;
    const Force wire = d.wire_break.value_or(presumed_breaking_strength(d.wire));
    step("wire parts", wire, wire_runs_high * wire);
    parts_at("wire", wire_runs_high * wire);
    link(d.weak_link);
    out.highest = out.parts;
    out.lets_go = out.what_parts;
    if (d.brake_slip) {
      const Force high = load_list::slip_bound(d);
      step("brake slips", d.brake_slip->value, high);
      if (load_list::slip_counts(s, d)) {
        if (high < out.highest) out.lets_go = "brake";
        out.highest = std::min(out.highest, high);
        out.tamed = true;
      }
    }
  } else {
    const RodHolder& r = *g.rod_holder;
    const Force slips = slip_sticks * r.spool_growth * r.drag.value;
    step("drag slips", r.drag.value, slips);
    step("line parts", r.line_test, line_runs_high * r.line_test);
    parts_at("line", line_runs_high * r.line_test);
    link(r.weak_link);
    out.highest = out.parts;
    out.lets_go = out.what_parts;
    if (r.drag.known == Knowledge::measured) {
      out.highest = std::min(out.highest, slips);
      if (slips < out.parts) out.lets_go = "drag";
      out.tamed = true;
    }
  }
  out.holder = holder_takes(s, gear);
  LadderStep& body = out.steps.emplace_back();
  body.what = (g.downrigger ? "gear body" : "holder body") + whose;
  body.low = out.holder;
  body.link = true;
  body.known = out.holder.has_value();
  body.gear = g.name;
  return out;
}

namespace {

constexpr const char* wanted = ": the wanted order";
constexpr const char* wrong = "wrong order: ";

// What becomes of the boat itself with a mode: "tear", "bend" or nothing.
std::string harm_to_boat(const Setup& s, std::string_view mode) {
  // Bent for good, not torn: the wall between the fasteners and its supports, and what ties it.
  constexpr std::array<std::string_view, 5> bent{"gunwale-roll", "wall-yield", "lip-bending",
                                                 "wall-press", "wall-rotation"};
  for (const FailureMode& m : catalogue_for(s)) {
    if (m.id != mode) continue;
    if (m.loss == Loss::boat) return "tear";
    return std::find(bent.begin(), bent.end(), mode) != bent.end() ? "bend" : "";
  }
  return "";
}

struct Judged {
  OrderRow row;
  int rank = 0;          ///< of several gears of one kind the worst is told
  bool holder = false;   ///< is not known
  std::string outlasts;  ///< what must be so where its own holder may go first
  std::string harm;      ///< what the first of the mount to go does to the boat: "tear", "bend"
};

std::string names_of_links(const Gear& g) {
  if (!g.rod_holder) return "brake, link or wire";
  return g.rod_holder->weak_link ? "drag, link or line" : "drag or line";
}

// "the threads strip from 14 lbf, the drag may hold to 21 lbf"
std::string before(const std::string& what, Force from, const Links& l, ReaderUnits u) {
  return what + " from " + about(from, u, Rounding::down) + ", the " + l.lets_go + " may hold to " +
         about(l.highest, u, Rounding::up);
}

// Of a mount without limits: the first item in the ladder may go too early.
std::optional<Judged> judge_refused(const Setup& s, const Gear& g, const Links& l,
                                    const std::vector<LadderStep>& ladder) {
  const LadderStep* first = nullptr;
  for (const LadderStep& step : ladder) {
    if (step.link || !step.low) continue;
    if (first == nullptr || *step.low < *first->low) first = &step;
  }
  if (first == nullptr || l.highest < *first->low) return std::nullopt;
  Judged out;
  out.rank = 3;
  out.row.gear = g.name;
  out.row.order = Order::wrong;
  const std::string the = first->what.rfind("the ", 0) == 0 ? "" : "the ";
  out.row.words = wrong + ("the mount may go before " + names_of_links(g)) + "; " +
                  before(the + first->what, *first->low, l, s.units);
  return out;
}

// `hung_up`: pull of this gear at which the first goes when all balls hang up at once.
Judged judge(const Setup& s, const Gear& g, const Links& l, const GearLimit& limit,
             const std::optional<Force>& hung_up, const std::string& boat) {
  const ReaderUnits u = s.units;
  const bool at_once = hung_up && *hung_up < *limit.not_before;
  const Force mount = at_once ? *hung_up : *limit.not_before;
  const bool rod = g.rod_holder.has_value();
  const std::string body = rod ? "holder" : "body of the gear";
  Judged out;
  out.row.gear = g.name;
  out.harm = harm_to_boat(s, limit.first_mode);
  std::string& words = out.row.words;
  if (!(l.highest < mount)) {
    out.row.order = Order::wrong;
    out.rank = 3;
    words = wrong + ("the mount may go before " + names_of_links(g));
    if (out.harm == "tear") words += "; the " + boat + " itself would tear first";
    if (at_once) {
      words += "; with all balls hung up " + before("it goes", mount, l, u) + " each";
      return out;
    }
    const bool the = !limit.first_mode.empty();
    words += "; " + before((the ? "the " : "") + limit.first, mount, l, u);
    return out;
  }
  if (l.holder && !(l.highest < *l.holder)) {
    out.row.order = Order::wrong;
    out.rank = 3;
    words = wrong + ("the " + before(body + " may go", *l.holder, l, u));
    out.outlasts = "the " + body + " outlasts its rating: it takes " +
                   about(*l.holder, u, Rounding::down) + ", the " + l.lets_go + " may hold to " +
                   about(l.highest, u, Rounding::up);
    return out;
  }
  // Never the boat: what lets go before it does not make that the wanted order.
  const bool benign = out.harm.empty();
  const std::string well = benign ? wanted : "";
  out.row.order = benign ? Order::wanted : Order::not_certain;
  if (rod && !(l.parts < mount)) {
    out.row.order = Order::not_certain;
    out.rank = 2;
    words = "the drag slips first; a locked reel may take the mount before the " + l.what_parts;
  } else if (rod) {
    out.rank = benign ? 1 : 2;
    words = "the " + l.what_parts + " parts before the mount" + well;
  } else {
    out.rank = l.tamed && benign ? 1 : 2;
    words = (l.tamed ? "brake or weak link lets go before the mount"
                     : "the wire parts before the mount") +
            well;
  }
  if (!l.holder) {
    out.holder = true;
    out.row.order = Order::not_certain;
  }
  return out;
}

}  // namespace

namespace {

// What goes first over all directions is found more exactly than the pull of each item: the ladder
// keeps to it. A board or base that moves is an item as well.
void name_the_first(Assessment& out) {
  for (GearLimit& l : out.gear_limits) {
    if (!l.not_before) continue;
    const auto check =
        std::find_if(out.checks.begin(), out.checks.end(), [&](const CheckResult& c) {
          return c.standing == Standing::applies && c.gives_way == l.first;
        });
    const bool known = check != out.checks.end();
    if (known) {
      l.first_mode = check->mode;
      if (check->goes_at && *l.not_before < *check->goes_at) check->goes_at = l.not_before;
    }
    const auto step = std::find_if(out.ladder.begin(), out.ladder.end(), [&](const LadderStep& o) {
      return known ? o.mode == l.first_mode &&
                         (o.part.empty() || check->part.empty() || o.part == check->part)
                   : o.what == l.first;
    });
    if (step != out.ladder.end()) {
      if (*l.not_before < *step->low) step->low = l.not_before;
      continue;
    }
    LadderStep& added = out.ladder.emplace_back();
    added.what = (known ? "the " : "") + l.first;
    added.low = l.not_before;
    added.mode = l.first_mode;
    if (known) added.part = check->part;
  }
}

}  // namespace

void finish_ladder(const Setup& s, Assessment& out, const std::string& boat,
                   const std::vector<std::optional<Force>>& all_hung_up) {
  std::array<std::string, 2> worst;  // of rods and of downriggers
  std::array<int, 2> rank{};
  bool unknown = false, any_wrong = false;
  std::string harm;
  std::string bounds;  // what bounds a setting in place of the mount
  name_the_first(out);
  for (std::size_t i = 0; i < s.gear.size(); ++i) {
    const Gear& g = s.gear[i];
    const std::string whose = s.gear.size() > 1 ? " (" + g.name + ")" : "";
    const std::optional<Links> links = links_of(s, i, whose);
    if (!links) continue;
    std::copy(links->steps.begin(), links->steps.end(), std::back_inserter(out.ladder));
    const auto limit = std::find_if(out.gear_limits.begin(), out.gear_limits.end(),
                                    [&](const GearLimit& l) { return l.gear == g.name; });
    if (limit == out.gear_limits.end() || !limit->not_before) {
      // Refused: no order is told to be right, but what is known to be wrong is.
      if (s.gear.size() > 1) continue;
      if (std::optional<Judged> j = judge_refused(s, g, *links, out.ladder)) {
        rank[g.rod_holder ? 0 : 1] = j->rank;
        worst[g.rod_holder ? 0 : 1] = j->row.words;
        any_wrong = true;
        for (LadderStep& step : out.ladder) {
          step.wrong = !step.link && step.low && *step.low <= links->highest;
        }
        out.orders.push_back(std::move(j->row));
      }
      continue;
    }
    const std::optional<Force> hung_up = i < all_hung_up.size() ? all_hung_up[i] : std::nullopt;
    Judged j = judge(s, g, *links, *limit, hung_up, boat);
    // The mount may hold and its gear be lost all the same.
    if (!j.outlasts.empty() &&
        (out.verdict == Verdict::holds || out.verdict == Verdict::holds_if)) {
      out.verdict = Verdict::holds_if;
      out.holds_if.insert(out.holds_if.begin(), whose.empty() ? j.outlasts : j.outlasts + whose);
    }
    const std::size_t kind = g.rod_holder ? 0 : 1;
    if (j.rank > rank[kind]) {
      rank[kind] = j.rank;
      worst[kind] = j.row.words;
      if (j.row.order == Order::wrong && !whose.empty()) {
        worst[kind].insert(std::string("wrong order").size(), " of " + g.name);
      }
    }
    if (j.row.order == Order::wrong) {
      any_wrong = true;
      for (LadderStep& step : out.ladder) {
        const bool of_mount = !step.link && step.low && *step.low <= links->highest;
        const bool own_body = step.link && !step.high && step.gear == g.name && step.low &&
                              *step.low <= links->highest;
        // Or all at once, before it goes under the pull on one.
        const bool first = !step.link && hung_up && *hung_up <= links->highest &&
                           step.mode == limit->first_mode && step.low;
        step.wrong = step.wrong || of_mount || own_body || first;
      }
    }
    unknown = unknown || j.holder;
    if (harm != "tear" && !j.harm.empty()) harm = j.harm;
    if (j.holder) {
      j.row.words += std::string("; the ") + (kind == 0 ? "holder's" : "gear's") +
                     " own strength is not known";
    }
    if (limit->holder && limit->hold_limit &&
        *limit->holder <
            std::min(*limit->hold_limit, limit->all_hung_up.value_or(*limit->hold_limit))) {
      bounds = kind == 0 ? "holder" : "body of the gear";
    }
    out.orders.push_back(std::move(j.row));
  }
  // What is not known, and what nothing lets by, comes last.
  sort_stably(out.ladder, [](const LadderStep& a, const LadderStep& b) {
    if (a.low.has_value() != b.low.has_value()) return a.low.has_value();
    return a.low && *a.low < *b.low;
  });
  std::string& text = out.ladder_verdict;
  if (any_wrong) {
    text = rank[0] == 3 ? worst[0] : worst[1];
  } else {
    // Both kinds in the wanted order: said once.
    const std::size_t at = worst[0].rfind(wanted);
    if (at != std::string::npos && worst[1].find(wanted) != std::string::npos) worst[0].resize(at);
    text = worst[0] + (worst[0].empty() || worst[1].empty() ? "" : "; ") + worst[1];
    if (text.empty()) return;
    if (!harm.empty()) text += "; beyond them the " + boat + " itself would " + harm + " first";
    if (unknown) {
      text += std::string("; the ") + (worst[0].empty() ? "gear's" : "holder's") +
              " own strength is not known";
    }
  }
  if (!bounds.empty()) text += "; the " + bounds + ", not the mount, bounds the setting";
}

}  // namespace thole::parts
