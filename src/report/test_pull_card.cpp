#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include <thole/loads.hpp>
#include <thole/test_pull.hpp>

#include "report/cards.hpp"
#include "report/html.hpp"
#include "report/text.hpp"

namespace thole::cards {

namespace {

using html::element;

std::string in_order(const std::string& names, const TestPullStep& s) {
  std::string out = names + ": pull " + html::text(describe(s.way));
  if (s.boom) out += ", boom " + html::text(show(*s.boom)) + " from astern";
  if (s.raised) out += ", raised " + html::text(show(*s.raised));
  return out;
}

// Lists of sentences of the core; names of gear may stand in them.
std::string list_of(const std::vector<std::string>& items, std::string_view tag = "ul") {
  std::string out;
  for (const std::string& i : items) out += element("li", html::users(text::sentence(i), 400));
  return element(tag, out);
}

std::string titled(const char* title, const std::vector<std::string>& items,
                   std::string_view tag = "ul") {
  if (items.empty()) return "";
  return element("h3", title) + list_of(items, tag);
}

// Whole sixteenths or millimetres: a tape shows no more.
Length on_tape(Length v, ReaderUnits u, bool up) {
  const double unit = u == ReaderUnits::inch ? 0.0254 / 16 : 0.001;
  const double n = v.value() / unit;
  return Length::from_value(unit * (up ? std::ceil(n - 1e-9) : std::floor(n + 1e-9)));
}

std::string range_of(Length least, Length most, ReaderUnits u) {
  const Length low = on_tape(least, u, false);
  const Length high = on_tape(most, u, true);
  const Length one = on_tape(Length::from_value(1e-6), u, true);
  if (high <= one) return "less than " + show(one, u) + ", hardly to be seen";
  if (!(low.value() > 0)) return "up to " + show(high, u);
  return show(low, u) + " to " + show(high, u);
}

std::string expected(const TestPullStep& s, ReaderUnits u) {
  if (s.wall_gives) {
    return "not known, because the wall gives too (the base alone: " +
           range_of(s.least, s.most, u) + "); it must come back, and be the same next season";
  }
  if (s.rough) {
    return "up to about " + show(on_tape(s.most, u, true), u) + ", too much for a good figure";
  }
  return range_of(s.least, s.most, u);
}

std::string pull_of(const TestPullStep& s, ReaderUnits u) {
  const auto part = [&](double share) { return about(share * s.pull, u, Rounding::down); };
  return element("b", html::both(s.pull, u, Rounding::down)) + ", by way of " + part(1.0 / 3) +
         " and " + part(2.0 / 3);
}

// ---- Steps that gears on both sides share
// ---------------------------------------------------------

struct Group {
  TestPullStep step;
  std::vector<std::string> gears;
};

bool alike(const TestPullStep& a, const TestPullStep& b, ReaderUnits u) {
  const auto same = [](const std::optional<Angle>& x, const std::optional<Angle>& y) {
    return x.has_value() == y.has_value() && (!x || show(*x) == show(*y));
  };
  return a.toward == b.toward && describe(a.way) == describe(b.way) && same(a.boom, b.boom) &&
         same(a.raised, b.raised) && pull_of(a, u) == pull_of(b, u) && a.hook_at == b.hook_at &&
         a.watch_at == b.watch_at && expected(a, u) == expected(b, u);
}

std::vector<Group> groups_of(const std::vector<TestPullStep>& steps, ReaderUnits u) {
  std::vector<Group> out;
  for (const TestPullStep& s : steps) {
    const auto same =
        std::find_if(out.begin(), out.end(), [&](const Group& g) { return alike(g.step, s, u); });
    if (same != out.end()) {
      same->gears.push_back(s.gear);
    } else {
      out.push_back({s, {s.gear}});
    }
  }
  return out;
}

std::string term(const char* name, const std::string& what) {
  return element("dt", name) + element("dd", what);
}

std::string boxes(const Group& g, ReaderUnits u) {
  const std::string length = u == ReaderUnits::inch ? "in" : "mm";
  const std::string force = u == ReaderUnits::inch ? "lbf" : "N";
  std::string rows = "<thead><tr><th>to fill in</th><th>scale, " + force + "</th><th>moved, " +
                     length + "</th><th>stayed, " + length + "</th></tr></thead><tbody>";
  for (const std::string& gear : g.gears) {
    rows += "<tr><th scope=\"row\">" + html::users(gear, 40) + "</th>";
    for (int i = 0; i < 3; ++i) rows += "<td><span class=\"pull-box\"></span></td>";
    rows += "</tr>";
  }
  return element("table", rows + "</tbody>", "pull-boxes");
}

std::string step(const Group& g, std::size_t number, ReaderUnits u) {
  std::string names;
  for (const std::string& n : g.gears) {
    names += (names.empty() ? "" : " and then ") + html::users(n, 40);
  }
  std::string out = element("h3", std::to_string(number) + ". " + in_order(names, g.step));
  out +=
      element("dl", term("Pull", pull_of(g.step, u)) + term("Hook to", html::text(g.step.hook_at)) +
                        term("Tape at", html::text(g.step.watch_at)) +
                        term("It moves", html::text(expected(g.step, u))) +
                        term("Look for", html::text(text::joined(g.step.look_for))));
  return element("section", out + boxes(g, u), "pull-step");
}

// ---- Back into the file
// ---------------------------------------------------------------------------

std::string in_yaml(const std::string& name) {
  if (text::plain(name) != name || name.size() > 60) return "'its name as in the file'";
  std::string out = "'";
  for (const char c : name) out += c == '\'' ? std::string("''") : std::string(1, c);
  return out + "'";
}

std::string lines_for(const std::vector<TestPullStep>& steps, ReaderUnits u) {
  const std::string length = u == ReaderUnits::inch ? "in" : "mm";
  const std::string force = u == ReaderUnits::inch ? "lbf" : "N";
  std::string out = "test_pulls:\n";
  for (const TestPullStep& s : steps) {
    out += "  - gear: " + in_yaml(s.gear) + "\n    toward: " + s.toward + "\n";
    if (s.boom) out += "    boom: " + show(*s.boom) + "\n";
    out += "    pull: ___ " + force + "\n    moved: ___ " + length + "\n    stayed: ___ " + length +
           "\n";
  }
  std::string escaped;
  for (std::size_t at = 0; at < out.size();) {
    const std::size_t end = out.find('\n', at);
    escaped += html::text(out.substr(at, end - at)) + "\n";
    at = end + 1;
  }
  return escaped;
}

std::string back_into_file(const TestPullCard& card, ReaderUnits u) {
  if (card.steps.empty()) return "";
  return element("h3", "Back into the setup file") +
         element("p",
                 "Write what you measured in place of the blanks; the sheet made anew says whether "
                 "boat and model agree. It changes no verdict.") +
         element("pre", lines_for(card.steps, u), "pull-lines");
}

// ---- What was measured
// ----------------------------------------------------------------------------

html::Mark mark_of(Agreement a) {
  switch (a) {
    case Agreement::agrees:
      return html::Mark::tick;
    case Agreement::stiffer:
      return html::Mark::triangle;
    case Agreement::softer:
    case Agreement::came_short:
      return html::Mark::cross;
    case Agreement::cannot_say:
      break;
  }
  return html::Mark::question;
}

std::string answer(const TestPullAnswer& a, ReaderUnits u) {
  const TestPull& t = a.measured;
  std::string what = html::users(t.gear, 40) + ", " + html::text(t.toward);
  if (t.boom) what += ", boom " + html::text(show(*t.boom));
  what += ", " + html::text(show(t.pull, u)) + ": moved " + html::text(show(t.moved, u));
  if (t.stayed) what += ", stayed " + html::text(show(*t.stayed, u));
  if (a.most.value() > 0) what += "; by the sum " + html::text(range_of(a.least, a.most, u));
  return element("p", html::mark(mark_of(a.agreement)) + " " +
                          element("b", html::text(std::string(word_for(a.agreement)))) + " " +
                          what + ". " + html::text(a.words));
}

std::string measured(const std::vector<TestPullAnswer>& all, ReaderUnits u) {
  if (all.empty()) return "";
  std::string out = element("h3", "What was measured");
  for (const TestPullAnswer& a : all) out += answer(a, u);
  return out;
}

std::string body(const TestPullCard& card, ReaderUnits u) {
  if (!card.none_because.empty()) {
    return element("p", element("b", "No test pull: ") + html::text(card.none_because) + ".") +
           list_of(card.none);
  }
  std::string out;
  if (!card.of_the_verdict.empty()) out += element("p", html::text(card.of_the_verdict));
  if (!card.none.empty()) out += element("p", "No test pull for:") + list_of(card.none);
  out += titled("Let go at once and do not use the mount when there is", card.stop);
  out += titled("Before you pull", card.before);
  out += titled("Each pull", card.during, "ol");
  std::size_t number = 1;
  for (const Group& g : groups_of(card.steps, u)) out += step(g, number++, u);
  return out + titled("Afterwards", card.after);
}

}  // namespace

Card test_pull(const SheetContent& content) {
  const ReaderUnits u = content.setup.units;
  const TestPullCard card = test_pull_card(content.setup, content.assessment);
  return {"test-pull", "Test pull on the trailer",
          measured(judge_test_pulls(content.setup, content.assessment), u) + body(card, u) +
              back_into_file(card, u)};
}

}  // namespace thole::cards
