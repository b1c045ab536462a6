#include <fmt/format.h>

#include <cstdlib>

#include <thole/cautions.hpp>
#include <thole/error.hpp>
#include <thole/report.hpp>

#include "core/ties.hpp"
#include "report/beside.hpp"
#include "report/change_words.hpp"
#include "report/ladder_block.hpp"
#include "report/sheet_parts.hpp"
#include "report/text.hpp"
#include "report/wording.hpp"

namespace thole::sheet_parts {

namespace {

using html::element;
using html::mark;
using html::mark_of;

constexpr std::size_t conditions_shown = 4;
constexpr std::size_t changes_shown = 3;

std::string conditions(const Sheet& s) {
  if (s.result().verdict != Verdict::holds_if) return "";
  const std::string prefix = "not checked: ";
  std::vector<std::string> all;
  std::string unchecked;
  for (const std::string& c : s.result().holds_if) {
    if (c.starts_with(prefix)) {
      unchecked += (unchecked.empty() ? "" : "; ") + s.words(c.substr(prefix.size()));
    } else {
      all.push_back(c);
    }
  }
  if (!unchecked.empty()) {
    unchecked = element("p", "<b>Not checked, and it must hold:</b> " + unchecked + ".", "if");
  }
  if (all.empty()) return unchecked;
  std::string out;
  for (std::size_t i = 0; i < all.size() && i < conditions_shown; ++i) {
    out += (i == 0 ? "" : "; ") + s.words(all[i]);
  }
  if (all.size() > conditions_shown) {
    out += "; and " + std::to_string(all.size() - conditions_shown) +
           " more, see <a href=\"#inputs\">what it hangs on</a>";
  }
  return unchecked + element("p", "<b>Only if these are so:</b> " + out + ".", "if");
}

// What must not be missed on the first page: a test pull that went wrong, what is in the way.
std::string stops(const Sheet& s) {
  std::string out;
  if (!s.setup().test_pulls.empty()) {
    for (const TestPullAnswer& t : judge_test_pulls(s.setup(), s.result())) {
      if (t.agreement != Agreement::softer && t.agreement != Agreement::came_short) continue;
      out += element(
          "p", mark(html::Mark::cross) + " <b>Test pull:</b> " + s.words(text::sentence(t.words)));
    }
  }
  const FitAnswer fit = look_at_fit(s.setup());
  if (fit.any_hit()) {
    out += element("p", mark(html::Mark::cross) + " <b>Fit:</b> " +
                            s.words(fit_line(s.setup(), fit, true)) + ".");
  }
  return out;
}

std::string look_again(const Sheet& s) {
  std::string out;
  for (const std::string& t : s.result().look_again) {
    out += element("p", "<b>Look again:</b> " + s.words(text::sentence(t)));
  }
  return out;
}

// What the large line of a limit box says of a kind of gear.
const char* not_above(int kind) {
  return kind == 0 ? "Brake not above" : kind == 1 ? "Drag not above" : "Pull not above";
}

const char* measured_how(int kind) {
  return kind == 0 ? "measured with a scale at the clip" : "measured with a scale at the line";
}

std::string row(const std::string& what, const std::string& value) {
  return element("dt", what) + element("dd", value);
}

std::string boat_row(const beside::GearGroup& g, const Sheet& s) {
  const std::string mark_it = " <small>no stability check</small>";
  if (!s.result().boat.described) return row("boat allows", "not known: boat not described");
  if (!g.heel) return row("boat allows", "not compared" + mark_it);
  const std::string value =
      g.heel->setting ? about(*g.heel->setting, s.units(), Rounding::down) : std::string("none");
  std::string level = beside::first_level(*g.heel, s.units());
  if (g.heel->strong) {
    level += "; with a person at that side strong heel from " +
             about(*g.heel->strong, s.units(), Rounding::down);
  }
  return row("boat allows", value + mark_it + " <small>" + s.words(level) + "</small>");
}

// What the file has set, against what may be set.
std::string in_the_file(const beside::GearGroup& g, const Sheet& s) {
  std::optional<Force> set;
  if (g.gear->downrigger && g.gear->downrigger->brake_slip) {
    set = g.gear->downrigger->brake_slip->value;
  }
  if (g.gear->rod_holder) set = g.gear->rod_holder->drag.value;
  if (!set) return "";
  const bool high =
      s.result().verdict != Verdict::no_verdict && (!g.setting.pull || *set > *g.setting.pull);
  return row("in the file", about(*set, s.units(), Rounding::up) +
                                (high ? " " + mark(html::Mark::cross) + " too high" : ""));
}

std::string limit_box(const Sheet& s, const beside::GearGroup& g) {
  const ReaderUnits u = s.units();
  const int kind = beside::kind_of(*g.gear);
  std::string whose = s.names.in(beside::whose(s.setup(), g.names));
  if (text::ends_with(whose, ": ")) whose.resize(whose.size() - 2);
  std::string out;
  if (!whose.empty()) out += element("h3", html::text(whose, 160));
  if (s.result().verdict == Verdict::no_verdict) {
    out += element("p", "No setting", "large") +
           element("p",
                   "while there is no verdict." +
                       element("span", " Once that is put right:", "on-screen"),
                   "how");
  } else if (!beside::of_use(g.setting)) {
    out += element("p", "No useful setting", "large") +
           element("p", html::text(beside::none_of_use(g.setting, u)), "how");
  } else if (s.result().verdict == Verdict::does_not_hold) {
    out +=
        element("p", "Change it first", "large") +
        element("p",
                std::string(not_above(kind)) + " <b>" + about(*g.setting.pull, u, Rounding::down) +
                    "</b> by its pulls alone: that may not make it hold",
                "how");
  } else {
    out += element("p",
                   std::string(not_above(kind)) + " <b>" +
                       about(*g.setting.pull, u, Rounding::down) + "</b>",
                   "large") +
           element("p",
                   std::string(measured_how(kind)) +
                       (s.result().boat.described
                            ? g.setting.by_boat ? "; the boat sets it" : "; the mount sets it"
                            : ""),
                   "how");
  }
  std::string rows = in_the_file(g, s) +
                     row("mount allows", change_words::limit(g.limit.setting, u)) + boat_row(g, s) +
                     row("hold limit", change_words::limit(g.limit.hold_limit, u) +
                                           " <small>at full factors</small>");
  if (g.limit.all_hung_up &&
      parts::below(g.limit.all_hung_up->value(), g.limit.hold_limit->value())) {
    rows += row("all hung up", change_words::limit(g.limit.all_hung_up, u) + " each");
  }
  if (g.limit.not_before) {
    rows += row("first to go",
                "not before about " + about(*g.limit.not_before, u, Rounding::down) +
                    (g.limit.first.empty() ? std::string() : ": " + s.words(g.limit.first, 200)));
  }
  const bool refused = s.result().verdict == Verdict::no_verdict;
  return element("div", out + element("dl", rows, refused ? "on-screen" : ""), "limit");
}

// On paper two lines of it, up to a comma.
std::string what_to_do(const std::string& words) {
  constexpr std::size_t most = 90;
  const std::string whole = html::text(words, 300);
  if (words.size() <= most) return element("p", whole, "what");
  const std::size_t comma = words.find_last_of(",;", most);
  const std::size_t end = comma != std::string::npos && comma > most / 2 ? comma : most;
  return element("p", whole, "what on-screen") +
         element("p", html::text(words.substr(0, end)) + " ...", "what on-paper");
}

std::string change(const Sheet& s, const ChangeAnswer& answer, const Change& c) {
  const ReaderUnits u = s.units();
  const Worth& before = answer.as_drawn;
  const Worth& after = *c.after;
  std::string out = what_to_do(s.names.in(text::sentence(c.words)));
  std::string result = mark(mark_of(after.verdict)) + " " +
                       element("b", html::text(std::string(word_for(after.verdict))));
  if (!after.reasons.empty() && after.verdict == Verdict::no_verdict) {
    result += ", still: " + s.words(change_words::listed(after.reasons, 2), 300);
  }
  if (before.hold_limit || after.hold_limit) {
    result += "; hold limit " +
              html::text(change_words::from_to(change_words::limit(before.hold_limit, u),
                                               change_words::limit(after.hold_limit, u)));
  }
  if (before.setting || after.setting) {
    result += element("span",
                      "; mount allows " +
                          html::text(change_words::from_to(change_words::limit(before.setting, u),
                                                           change_words::limit(after.setting, u))),
                      "on-screen");
  }
  if (after.ratio > 0 && !(before.hold_limit || after.hold_limit)) {
    result += "; factor " + html::text(change_words::from_to(change_words::share(before),
                                                             change_words::share(after)));
  }
  out += element("p", result) +
         element("p", "Trouble: " + html::text(change_words::trouble(c, u)), "trouble");
  return element("li", out);
}

// Where nobody asked for changes: what the assessment itself advises.
std::string advice(const Sheet& s) {
  std::vector<std::string> items;
  for (const std::string& t : beside::to_do(s.setup(), s.result())) {
    items.push_back(s.words(text::sentence(t)));
  }
  return list(items);
}

std::string framed(const pictures::Picture& p, const std::string& attributes) {
  if (p.element.empty()) return "";
  const std::string caption = p.caption.empty() ? html::text(p.title, 120) : p.caption;
  return "<figure" + attributes + ">" + p.element + element("figcaption", caption) + "</figure>";
}

}  // namespace

std::string Sheet::words(const std::string& any, std::size_t most) const {
  return html::text(names.in(any), most);
}

std::string section(const std::string& id, const std::string& heading, const std::string& body,
                    const std::string& of) {
  if (body.empty()) return "";
  std::string out = "<section id=\"" + id + "\"";
  if (!of.empty()) out += " class=\"" + of + "\"";
  return out + ">" + element("h2", heading) + body + "</section>\n";
}

std::string list(const std::vector<std::string>& items, const std::string& of) {
  if (items.empty()) return "";
  std::string out;
  for (const std::string& item : items) out += element("li", item);
  return element("ul", out, of);
}

double height_for_width(const pictures::Picture& p) {
  if (p.element.empty()) return 0;
  const std::string key = "viewBox=\"0 0 ";
  const std::size_t at = p.element.find(key);
  if (at == std::string::npos) throw InternalError("a picture without its frame");
  char* end = nullptr;
  const double width = std::strtod(p.element.c_str() + at + key.size(), &end);
  const double height = std::strtod(end, nullptr);
  return width > 0 ? height / width : 0;
}

std::string figure(const pictures::Picture& p, const std::string& of) {
  return framed(p, of.empty() ? "" : " class=\"" + of + "\"");
}

std::string flexible_figure(const pictures::Picture& p, const std::string& of) {
  return framed(p, " class=\"flexible" + (of.empty() ? "" : " " + of) +
                       fmt::format("\" style=\"--high:{:.3f}\"", height_for_width(p)));
}

std::string more_on_screen(std::size_t left, const std::string& what) {
  return fmt::format("and {} more{}: on the screen, or tick \"print all\"", left,
                     what.empty() ? "" : " " + what);
}

std::string verdict_words(Verdict v) {
  const std::string line = wording::headline(v);
  const std::size_t at = line.find("] ");
  if (at == std::string::npos) throw InternalError("a headline without its mark");
  return line.substr(at + 2);
}

std::string verdict(const Sheet& s) {
  const Assessment& a = s.result();
  std::string out;
  if (!s.setup().title.empty()) out += element("p", html::users(s.setup().title, 90), "title");
  out += element("h1", mark(mark_of(a.verdict)) + " " + html::text(verdict_words(a.verdict)));
  std::string sentence = a.sentence;
  if (sentence.empty()) sentence = text::joined(a.reasons, "; ");
  if (!sentence.empty()) {
    out += element("p", s.words(text::sentence(sentence), 900), "sentence");
  }
  return element("header", out + conditions(s) + stops(s) + look_again(s));
}

std::string limits(const Sheet& s) {
  const std::vector<beside::GearGroup> groups = beside::gear_groups(s.setup(), s.result());
  std::string body;
  for (const beside::GearGroup& g : groups) body += limit_box(s, g);
  if (body.empty()) {
    body = element("div",
                   element("p", "No setting", "large") +
                       element("p", "no hold limit was found: change the mount", "how"),
                   "limit");
  }
  return section("limits", "What you may set", body, "limits");
}

std::string changes(const Sheet& s) {
  if (!s.content.changes) return section("changes", "What to do", advice(s), "changes");
  const ChangeAnswer& answer = *s.content.changes;
  std::string items;
  for (std::size_t k = 0; k < answer.ranking.size() && k < changes_shown; ++k) {
    items += change(s, answer, answer.changes[answer.ranking[k]]);
  }
  std::string body = element("p", html::text(change_words::opening(answer)));
  if (!items.empty()) body += element("ol", items);
  return section("changes", "What to change", body, "changes");
}

std::string first_to_go(const Sheet& s) {
  const Assessment& a = s.result();
  const std::string order = ladder::order(s.setup(), a, 2, false);
  std::string body;
  if (!order.empty()) body += element("p", s.words(order));
  std::string then = a.ladder_verdict;
  const std::string after = ladder::after_first(s.setup(), a);
  if (!after.empty()) then += (then.empty() ? "" : "; ") + after;
  if (!then.empty()) body += element("p", s.words(text::sentence(then)));
  return section("order", "What goes first, and what then", body, "order");
}

std::string cautions(const Sheet& s) {
  std::vector<std::string> items;
  for (const std::string& c : beside::cautions(s.result())) items.push_back(s.words(c));
  for (const std::string& c : standing_cautions(s.setup())) items.push_back(s.words(c));
  return section("cautions", "Cautions", list(items), "cautions");
}

std::string deferral(bool again) {
  std::string out = element("p", element("b", wording::deferral));
  if (!again) {
    out += element("p",
                   "Always where it is cored, cracked or soft, near fuel or wiring, to be welded, "
                   "with paying guests or offshore. Bring this page, photographs, thicknesses; "
                   "ask insurer and warranty.");
  }
  return element("aside", out, "deferral");
}

}  // namespace thole::sheet_parts
