// The table of load cases, and where the booms may point.

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <set>

#include <thole/report.hpp>

#include "core/stable_order.hpp"
#include "report/beside.hpp"
#include "report/json_writer.hpp"
#include "report/text.hpp"
#include "report/wording.hpp"

namespace thole {
namespace {

using text::joined;
using text::plain;
using text::wrapped;

constexpr std::size_t longest_name = 40;

// Cases that differ in their gear only.
struct Alike {
  LoadCase first;
  std::vector<std::string> ids;
  std::vector<std::string> gears;
};

std::string gear_of(const Setup& s, const LoadCase& c) {
  return c.gear >= 0 && std::size_t(c.gear) < s.gear.size() ? s.gear[std::size_t(c.gear)].name
                                                            : std::string();
}

// The title without the name of its gear.
std::string bare_title(const Setup& s, const LoadCase& c) {
  const std::string end = ", " + gear_of(s, c);
  std::string title = c.title;
  if (end.size() > 2 && text::ends_with(title, end)) title.resize(title.size() - end.size());
  return title;
}

std::vector<Alike> grouped(const Setup& s, const std::vector<LoadCase>& cases) {
  std::vector<Alike> out;
  for (const LoadCase& c : cases) {
    const auto same = std::find_if(out.begin(), out.end(), [&](const Alike& a) {
      const LoadCase& o = a.first;
      return c.gear >= 0 && o.gear >= 0 && c.gear != o.gear && o.kind == c.kind &&
             o.category == c.category && o.decides == c.decides && o.path == c.path &&
             text::alike(o.pull, c.pull, 1e-6) && o.why == c.why && o.origin == c.origin &&
             o.left_out == c.left_out && o.owners_why == c.owners_why && o.before == c.before &&
             wording::directions_of(o) == wording::directions_of(c) &&
             o.cycles_per_hour == c.cycles_per_hour && o.times_per_season == c.times_per_season &&
             bare_title(s, o) == bare_title(s, c);
    });
    if (same != out.end()) {
      same->ids.push_back(c.id);
      same->gears.push_back(gear_of(s, c));
    } else {
      out.push_back({c, {c.id}, {gear_of(s, c)}});
    }
  }
  return out;
}

// "1500", "150 thousand": counts are rough.
std::string count(double n) {
  if (!(n >= 0) || !std::isfinite(n)) return "?";
  const auto two_figures = [](double v) {
    if (v < 1) return show_number(v);
    const double step = std::pow(10.0, std::max(0.0, std::floor(std::log10(v)) - 1));
    return fmt::format("{:.0f}", std::round(v / step) * step);
  };
  if (n >= 1e6) return show_number(std::round(n / 1e5) / 10) + " million";
  if (n >= 1e4) return two_figures(n / 1e3) + " thousand";
  return two_figures(n);
}

class LoadTable {
 public:
  LoadTable(const Setup& s, const std::vector<LoadCase>& cases, const Assessment& side,
            const ReportStyle& style)
      : s_(s), cases_(cases), side_(side), style_(style), u_(s.units) {}

  std::string write() {
    out_ = wording::first_line(s_.title) + "\nLoads\n";
    lines();
    std::string lead = "  Look again  ";
    for (const std::string& t : side_.look_again) {
      out_ += wrap(lead, text::sentence(t));
      lead = std::string(lead.size(), ' ');
    }
    how_to_argue();
    for (const Category c : {Category::everyday, Category::occasional, Category::accident}) {
      table(c);
    }
    left_out();
    if (style_.details) details();
    never_at_once();
    measuring();
    if (!side_.boat.cautions.empty()) out_ += "\nThe boat\n";
    const std::string boat = beside::boat(s_, side_.boat, false);
    if (!boat.empty()) out_ += wrap("  ", boat);
    for (const std::string& c : beside::cautions(side_, side_.boat.described)) {
      out_ += wrap("  ! ", c);
    }
    out_ += "\n" + wrap("", wording::deferral);
    return text::printable(out_);
  }

 private:
  static std::string wrap(const std::string& lead, const std::string& t) {
    return wrapped(lead, plain(t));
  }

  [[nodiscard]] bool has(int kind) const {
    return std::any_of(s_.gear.begin(), s_.gear.end(),
                       [&](const Gear& g) { return beside::kind_of(g) == kind; });
  }

  // What pulls each line, and what lets go.
  void lines() {
    for (const std::string& t : beside::wires_in_full(s_, side_.towing)) out_ += wrap("  ", t);
    std::set<std::string> said;
    for (const Gear& g : s_.gear) {
      std::vector<std::string> parts;
      if (g.downrigger) {
        const Downrigger& d = *g.downrigger;
        parts.push_back("ball " + show(d.ball, u_));
        parts.push_back(d.brake_slip ? "brake slips at " + show(d.brake_slip->value, u_) + " (" +
                                           std::string(word_for(d.brake_slip->known)) + ")"
                                     : "brake slip not measured");
        if (d.weak_link) parts.push_back("weak link " + show(*d.weak_link, u_));
        parts.push_back(d.wire_break ? "wire breaks at " + show(*d.wire_break, u_)
                                     : "breaking strength of the wire not given");
      } else if (g.rod_holder) {
        const RodHolder& r = *g.rod_holder;
        parts.push_back("line running " + show(r.running_pull, u_));
        parts.push_back("drag " + show(r.drag.value, u_) + " (" +
                        std::string(word_for(r.drag.known)) + ")");
        parts.push_back("line breaks at " + show(r.line_test, u_));
      }
      if (parts.empty()) continue;
      const std::string all = joined(parts);
      if (!said.insert(all).second) continue;
      std::vector<std::string> names;
      for (const Gear& o : s_.gear) {
        if (beside::kind_of(o) == beside::kind_of(g) && same_lines(o, g)) names.push_back(o.name);
      }
      out_ += wrap("  ", beside::whose(s_, names) + all);
    }
  }

  static bool same(const std::optional<Force>& a, const std::optional<Force>& b) {
    return text::alike(a, b, 1e-9);
  }
  static bool same_lines(const Gear& a, const Gear& b) {
    if (a.downrigger && b.downrigger) {
      const auto slip = [](const Downrigger& d) {
        return d.brake_slip ? std::optional<Force>(d.brake_slip->value) : std::nullopt;
      };
      return a.downrigger->ball == b.downrigger->ball &&
             same(slip(*a.downrigger), slip(*b.downrigger)) &&
             same(a.downrigger->weak_link, b.downrigger->weak_link) &&
             same(a.downrigger->wire_break, b.downrigger->wire_break);
    }
    return a.rod_holder && b.rod_holder && a.rod_holder->drag.value == b.rod_holder->drag.value &&
           a.rod_holder->line_test == b.rod_holder->line_test &&
           a.rod_holder->running_pull == b.rod_holder->running_pull;
  }

  void how_to_argue() {
    // A case that owners can measure, where there is one.
    const LoadCase* shown = nullptr;
    for (const LoadCase& c : cases_) {
      if (c.left_out || !(c.pull.value() > 0) || c.origin != CaseOrigin::listed) continue;
      if (shown == nullptr || (c.kind == "trolling-in-waves" && shown->kind != c.kind)) shown = &c;
    }
    out_ += "\n" + wrap("",
                        "You know your boat better: each of these can be changed, left out or "
                        "added to, with a reason, and every report then says so. In the "
                        "setup:");
    out_ += fmt::format(
        "  cases:\n"
        "    - change: {}\n"
        "      pull: {}\n"
        "      why: read off a luggage scale\n",
        shown == nullptr ? "NAME" : plain(shown->kind, longest_name),
        shown == nullptr ? "30 lbf" : about(shown->pull, u_));
    out_ += wrap("",
                 "or leave_out: NAME, or add: WORDS; see thole new. A name without its number "
                 "stands for every gear. \"Decides\" counts for the verdict, \"shown\" does not.");
  }

  static const char* about_category(Category c) {
    switch (c) {
      case Category::everyday:
        return "Everyday: adds up to weeks over the years";
      case Category::occasional:
        return "Occasional: seconds to minutes at a time";
      case Category::accident:
        return "Accident: once, if ever";
    }
    return "";
  }

  void table(Category category) {
    bool any = false;
    for (const Alike& a : grouped(s_, cases_)) {
      if (a.first.category != category || a.first.left_out) continue;
      if (!any) out_ += std::string("\n") + about_category(category) + "\n";
      any = true;
      row(a);
    }
  }

  [[nodiscard]] std::string names(const Alike& a) const { return plain(joined(a.ids), 56); }

  void row(const Alike& a) {
    const LoadCase& c = a.first;
    const bool warning = c.path == LoadPath::warning;
    const std::string load = warning ? ""
                             : c.path == LoadPath::ride
                                 ? "+" + two_decimals(wording::peak_of(c)) + " g"
                                 : show(c.pull, u_);
    const std::string standing = warning ? "warning" : c.decides ? "decides" : "shown";
    std::string head = "  " + text::padded(names(a), 56) + " " + standing;
    if (!load.empty()) head = text::padded(head, 67) + text::aligned(load, 12);
    out_ += head + "\n";
    mark(c);
    std::string title = bare_title(s_, c);
    if (a.gears.size() > 1 || title != c.title) {
      const std::string of = beside::whose(s_, a.gears);
      if (of.size() > 2) title += ", " + of.substr(0, of.size() - 2);
    }
    const std::string plain_terms = c.path == LoadPath::ride ? heavier(c)
                                    : warning                ? ""
                                                             : text::in_plain_terms(c.pull);
    out_ += wrap("      ", title + (plain_terms.empty() ? "" : ": " + plain_terms));
    directions(c);
    const std::string when = how_often(c);
    const std::string others = meanwhile(c);
    if (!when.empty() || !others.empty()) {
      out_ += wrap("      ", when + (when.empty() || others.empty() ? "" : "; ") + others);
    }
    out_ += wrap("      why: ", own_why(c));
  }

  // The same long range is told once.
  void directions(const LoadCase& c) {
    const std::string from = joined(wording::directions_of(c), "; or ");
    if (from.empty()) return;
    const auto [seen, is_new] = told_.emplace(from, c.id);
    const bool again = !is_new && from.size() > 2 * text::columns;
    out_ += wrap(c.path == LoadPath::ride ? "      accelerations: " : "      direction: ",
                 again ? "as for " + seen->second : from);
  }

  static std::string two_decimals(double v) { return show_number(std::round(100 * v) / 100); }

  void mark(const LoadCase& c) {
    if (c.origin == CaseOrigin::added) out_ += "      * added by the owner\n";
    if (c.origin == CaseOrigin::changed) {
      out_ += wrap("      * ", "changed by the owner, it was " + c.before);
    }
  }

  // The mark has said whose reason it is.
  static std::string own_why(const LoadCase& c) {
    for (const char* mark : {"changed by the owner: ", "added by the owner: "}) {
      if (c.why.rfind(mark, 0) == 0) return c.why.substr(std::string(mark).size());
    }
    return c.why;
  }

  void left_out() {
    bool any = false;
    for (const Alike& a : grouped(s_, cases_)) {
      if (!a.first.left_out) continue;
      if (!any) out_ += "\nLeft out by the owner: not calculated\n";
      any = true;
      const LoadCase& c = a.first;
      out_ += "  " + names(a) + "\n";
      out_ += wrap("      ", c.title + ", " + std::string(word_for(c.category)) +
                                 (c.pull.value() > 0 ? ", " + show(c.pull, u_) : ""));
      out_ += wrap("      * ",
                   "left out" + (c.owners_why.empty() ? std::string() : "; why: " + c.owners_why));
      out_ += wrap("      why it is listed: ", c.why);
    }
  }

  // What an acceleration means for a hand that holds the gear.
  [[nodiscard]] std::string heavier(const LoadCase& c) const {
    const double n = wording::peak_of(c);
    if (!(n > 0)) return "";
    const char* unit = u_ == ReaderUnits::inch ? "lb" : "kg";
    std::string t =
        fmt::format("10 {} of gear weigh {:.0f} {} for a moment", unit, 10 * (1 + n), unit);
    return t;
  }

  [[nodiscard]] std::string how_often(const LoadCase& c) const {
    if (c.cycles_per_hour > 0) {
      return count(c.cycles_per_hour) + " times an hour, " +
             count(c.cycles_per_hour * s_.use.hours_per_season) + " in a season of " +
             show_number(s_.use.hours_per_season) + " h";
    }
    if (c.times_per_season > 0) return count(c.times_per_season) + " times a season";
    return "";
  }

  // What else acts at the same time.
  [[nodiscard]] std::string meanwhile(const LoadCase& c) const {
    std::string t;
    if (c.path == LoadPath::ride) {
      t = c.ball_on_tip ? "gear and ball on the tip, no line out" : "all gear stowed, no line out";
    } else if (c.path == LoadPath::warning) {
      return "";
    } else if (c.others == Others::together) {
      std::vector<std::string> pulls;
      bool equal = true;
      for (std::size_t i = 0; i < c.pulls.size() && i < s_.gear.size(); ++i) {
        if (!(c.pulls[i].value() > 0)) continue;
        pulls.push_back(s_.gear[i].name + " " + show(c.pulls[i], u_));
        equal = equal && text::alike(c.pulls[i], c.pull);
      }
      if (pulls.size() > 1) {
        t = equal ? "all pull as much the same way at once"
                  : "all pull the same way at once: " + joined(pulls);
      }
    } else if (s_.gear.size() > (c.gear >= 0 ? 1U : 0U)) {
      t = c.gear >= 0 ? "the other gear fishes on" : "the gear fishes on";
    }
    if (c.heave > 0) {
      t += (t.empty() ? "" : "; ") + std::string("weights heave by ") + show_number(c.heave) +
           " g meanwhile";
    }
    return t;
  }

  void details() {
    std::vector<std::string> sockets;
    for (const SocketRow& r : side_.sockets) sockets.push_back(beside::socket(r, u_));
    section("What the rods do to their tubes", sockets);
    section("The boat's side: a comparison, no stability check",
            beside::boat_in_full(s_, side_.boat));
    section("Notes", side_.notes);
  }

  void section(const char* heading, const std::vector<std::string>& texts) {
    if (!texts.empty()) out_ += std::string("\n") + heading + "\n";
    for (const std::string& t : texts) out_ += wrap("  ", t);
  }

  void never_at_once() {
    std::string list;
    if (has(0)) {
      list =
          "a ball hung up with the brake slipping, with a weak link, or with the brake seized; "
          "all hung up; ";
    }
    if (has(1)) list += "a line locked; ";
    list += "a boarding grab";
    if (has(0)) list += "; a knock on the dock";
    list += ": each comes alone.";
    out_ += "\nNever at the same time\n" + wrap("  ", list);
  }

  // Where a number comes from that decides much.
  void measuring() {
    if (!has(0) && !has(1)) return;
    out_ += "\nMeasure with a luggage scale\n";
    if (has(0)) {
      out_ += wrap("  brake slip  ",
                   "at the dock, brake set as when fishing: hook the scale to the clip at the boom "
                   "tip, pull slowly down and aft, read it when the spool creeps. Three times, "
                   "wet and dry; the largest counts. Hands off the wire.");
    }
    if (has(1)) {
      out_ += wrap("  drag        ",
                   "rod in its holder, spool full: pull the line from the tip with the scale, read "
                   "it when the reel gives. Three times; the largest counts.");
      out_ += wrap("  planer      ",
                   "at trolling speed, engine ready to slow down: tie the line to the scale, the "
                   "scale to a cleat, not to a hand. Read the largest of a minute, in a turn too.");
    }
    out_ += wrap("  ", "Write it down as {is: ..., known: measured}.");
  }

  const Setup& s_;
  const std::vector<LoadCase>& cases_;
  const Assessment& side_;
  ReportStyle style_;
  ReaderUnits u_;
  std::map<std::string, std::string> told_;  // directions, and the case that has them
  std::string out_;
};

// ---- Where the booms may point
// --------------------------------------------------------------

// Within -180 and 180, 180 for ahead.
int degrees_of(Angle a) {
  int d = int(std::lround(in_degrees(a))) % 360;
  if (d > 180) d -= 360;
  if (d <= -180) d += 360;
  return d;
}

std::string toward(int d) {
  switch (d) {
    case 0:
      return "astern";
    case 90:
      return "outboard";
    case 180:
      return "ahead";
    case -90:
      return "inboard";
    default:
      return "";
  }
}

class BoomTable {
 public:
  BoomTable(const Setup& s, const std::vector<BoomRow>& rows) : s_(s), rows_(rows) {}

  std::string write() {
    out_ = wording::first_line(s_.title) + "\n";
    out_ += "Where the booms may point\n";
    out_ += wrapped("  ",
                    "Each direction by itself, all deciding pulls of that gear and a ball left on "
                    "its tip. Needs "
                    "1.00 or more: the factor found over the factor needed. Heeling is that "
                    "of the hold limit about the middle of the boat, no stability check.");
    std::vector<Booms> all;
    for (const BoomRow& r : rows_) {
      auto own = std::find_if(all.begin(), all.end(),
                              [&](const Booms& b) { return b.gears.front() == r.gear; });
      if (own == all.end()) own = all.insert(own, {{r.gear}, {}});
      own->rows.push_back(r);
    }
    for (std::size_t i = 0; i < all.size(); ++i) {
      for (std::size_t k = i + 1; k < all.size();) {
        if (same(all[i].rows, all[k].rows)) {
          all[i].gears.push_back(all[k].gears.front());
          all.erase(all.begin() + std::ptrdiff_t(k));
        } else {
          ++k;
        }
      }
    }
    for (const Booms& b : all) gear(b);
    out_ += "\n" + wrapped("", wording::deferral);
    return text::printable(out_);
  }

 private:
  static bool holds(const BoomRow& r) { return r.worst_ratio >= 1; }

  struct Booms {
    std::vector<std::string> gears;
    std::vector<BoomRow> rows;
  };

  // Mirrored gears differ by the grid of directions only.
  static bool same(const std::vector<BoomRow>& a, const std::vector<BoomRow>& b) {
    return std::equal(
        a.begin(), a.end(), b.begin(), b.end(), [](const BoomRow& x, const BoomRow& y) {
          return degrees_of(x.azimuth) == degrees_of(y.azimuth) && x.allowed == y.allowed &&
                 holds(x) == holds(y) &&
                 std::abs(x.worst_ratio - y.worst_ratio) <=
                     0.02 * std::max(x.worst_ratio, y.worst_ratio) &&
                 text::alike(x.hold_limit, y.hold_limit) && x.gives_way == y.gives_way;
        });
  }

  void gear(const Booms& booms) {
    std::vector<BoomRow> rows = booms.rows;
    sort_stably(rows, [](const BoomRow& a, const BoomRow& b) {
      return degrees_of(a.azimuth) < degrees_of(b.azimuth);
    });
    std::vector<std::string> names;
    for (const std::string& g : booms.gears) names.push_back(plain(g, longest_name));
    const std::string heading = joined(names, " and ");
    out_ += "\n" + (heading.empty() ? std::string("downrigger") : heading) + "\n\n";
    strip(rows);
    out_ += "\n  deg           of needed    hold limit     heels by  what gives way\n";
    // Few things give way in many directions: each is told once, below.
    std::vector<std::string> cases;
    for (const BoomRow& r : rows) row(r, cases);
    out_ += "\n";
    for (std::size_t i = 0; i < cases.size(); ++i) {
      out_ += wrapped(fmt::format("  ({}) ", i + 1), cases[i]);
    }
    answer(rows);
  }

  // The title without the name of its gear.
  static std::string bare(const BoomRow& r) {
    const std::string end = ", " + r.gear;
    std::string title = r.case_title;
    if (text::ends_with(title, end)) title.resize(title.size() - end.size());
    return plain(title, 120);
  }

  void row(const BoomRow& r, std::vector<std::string>& cases) {
    const int d = degrees_of(r.azimuth);
    const bool tips = !(r.worst_ratio > 0);
    std::string line = fmt::format("{} {:>4} {:<9}", r.allowed ? '>' : ' ', d, toward(d));
    line += holds(r) ? "[ok]" : "[x] ";
    line += text::aligned(tips ? "tips" : show_factor(r.worst_ratio), 6);
    line += text::aligned(r.hold_limit ? about(*r.hold_limit, s_.units, Rounding::down) : "-", 14);
    line += text::aligned(r.heeling ? show(*r.heeling, s_.units) : "-", 13) + "  ";
    std::string what = plain(r.gives_way, 120);
    if (!r.case_title.empty()) what += (what.empty() ? "" : "; ") + bare(r);
    if (!what.empty()) {
      auto at = std::find(cases.begin(), cases.end(), what);
      if (at == cases.end()) at = cases.insert(at, what);
      line += fmt::format("({})", at - cases.begin() + 1);
    }
    out_ += line + "\n";
  }

  // All round, from ahead over inboard, astern and outboard to ahead again.
  void strip(const std::vector<BoomRow>& rows) {
    std::string names;
    std::string marks;
    std::string allowed;
    // Five degrees a column.
    const auto at = [&](std::size_t i) {
      return std::size_t{4} + std::size_t(degrees_of(rows[i].azimuth) + 180) / 5;
    };
    const auto put = [](std::string& line, std::size_t column, const std::string& t) {
      if (line.size() < column) line.resize(column, ' ');
      if (line.size() == column) line += t;
    };
    bool any = false;
    for (std::size_t i = 0; i < rows.size(); ++i) {
      const std::string word = toward(degrees_of(rows[i].azimuth));
      if (!word.empty()) {
        const std::size_t back = word.size() / 2;
        put(names, std::min(at(i) - std::min(at(i), back), text::columns - word.size()), word);
      }
      put(marks, at(i), !(rows[i].worst_ratio > 0) ? "T" : holds(rows[i]) ? "o" : "x");
      any = any || rows[i].allowed;
      if (rows[i].allowed) put(allowed, at(i), "^");
    }
    out_ += names + "\n" + marks + "\n";
    if (any) out_ += allowed + "\n";
    out_ += std::string("    o holds   x does not hold   T the ") +
            (s_.on_board() ? "board tips" : "base tips") +
            (any ? "   ^ and > angles of the setup" : "") + "\n";
  }

  // One sentence on the angles of the setup, and where it would be best.
  void answer(const std::vector<BoomRow>& rows) {
    const BoomRow* best = nullptr;
    const BoomRow* worst = nullptr;
    for (const BoomRow& r : rows) {
      // Over the boat no ball is fished: only what the setup allows is compared.
      if (r.allowed && (best == nullptr || r.worst_ratio > best->worst_ratio)) best = &r;
      if (r.allowed && (worst == nullptr || r.worst_ratio < worst->worst_ratio)) worst = &r;
    }
    if (best == nullptr) return;
    const auto place = [](const BoomRow& r) {
      const int d = degrees_of(r.azimuth);
      const std::string word = toward(d);
      return fmt::format("{} deg", d) + (word.empty() ? "" : " (" + word + ")");
    };
    std::string t;
    if (worst != nullptr) {
      t = "Of the angles of the setup " + place(*worst) + " is the hardest on the mount: it " +
          (holds(*worst) ? "holds. " : "does not hold. ");
    }
    if (best != worst) {
      t += "Easiest of them is " + place(*best) +
           (holds(*best) ? "." : ", and that does not hold either.");
    }
    out_ += "\n" + wrapped("  ", t);
  }

  const Setup& s_;
  const std::vector<BoomRow>& rows_;
  std::string out_;
};

}  // namespace

std::string load_table(const Setup& setup, const std::vector<LoadCase>& cases,
                       const Assessment& side, const ReportStyle& style) {
  return LoadTable(setup, cases, side, style).write();
}

std::string load_table_json(const Setup& s, const std::vector<LoadCase>& cases,
                            const Assessment& side) {
  Json j;
  j.open('{');
  j.key("format").integer(report_format);
  j.key("thole").text(version());
  write_build(j);
  j.key("title").text(s.title);
  j.key("hours_per_season").number(s.use.hours_per_season);
  j.key("cases").open('[');
  for (const LoadCase& c : cases) {
    j.open('{');
    write_load_case(j, s, c);
    j.close('}');
  }
  j.close(']');
  write_towing(j, side.towing);
  write_sockets(j, side.sockets);
  write_boat(j, side.boat);
  j.key("look_again").texts(side.look_again);
  j.key("case_changes").texts(side.case_changes);
  j.key("notes").texts(side.notes);
  j.key("deferral").text(wording::deferral);
  j.close('}');
  return j.take();
}

std::string boom_table(const Setup& setup, const std::vector<BoomRow>& rows,
                       const ReportStyle& /*style*/) {
  return BoomTable(setup, rows).write();
}

std::string boom_table_json(const Setup& s, const std::vector<BoomRow>& rows) {
  Json j;
  j.open('{');
  j.key("format").integer(report_format);
  j.key("thole").text(version());
  write_build(j);
  j.key("title").text(s.title);
  j.key("rows").open('[');
  for (const BoomRow& r : rows) {
    j.open('{');
    j.key("gear").text(r.gear);
    j.key("azimuth_rad").number(r.azimuth.value());
    j.key("allowed").yes_no(r.allowed);
    j.key("holds").yes_no(r.worst_ratio >= 1);
    j.key("factor_over_needed").number(r.worst_ratio);
    j.key("gives_way").text(r.gives_way);
    j.key("case").text(r.case_title);
    j.key("hold_limit_N").maybe(r.hold_limit);
    j.key("heeling_moment_Nm").maybe(r.heeling);
    j.close('}');
  }
  j.close(']');
  j.key("deferral").text(wording::deferral);
  j.close('}');
  return j.take();
}

}  // namespace thole
