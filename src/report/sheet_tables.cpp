#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include <thole/assumptions.hpp>
#include <thole/check.hpp>
#include <thole/fit.hpp>
#include <thole/report.hpp>

#include "report/ladder_block.hpp"
#include "report/limits_block.hpp"
#include "report/sheet_parts.hpp"
#include "report/text.hpp"
#include "report/wording.hpp"

namespace thole::sheet_parts {

namespace {

using html::element;
using html::Mark;
using html::mark;
using html::mark_of;

// Rows on paper, whatever else there is; the rest is on the screen, or printed where asked for.
struct Room {
  std::size_t checks = 0;
  std::size_t cases = 0;
  std::size_t sources = 0;
  std::size_t letters = 0;  // of the assumptions
  bool worked = true;
};

Room room_on(const Sheet& s) {
  const bool a4 = s.content.paper == Paper::a4;
  if (a4 && !s.setup().on_board()) return {4, 3, 2, 250, true};
  return {3, 2, 2, 100, a4 || !s.setup().on_board()};
}

std::string more_row(std::size_t left, std::size_t columns) {
  if (left == 0) return "";
  return "<tr class=\"paper\"><td colspan=\"" + std::to_string(columns) + "\">" +
         more_on_screen(left) + "</td></tr>";
}

std::string table(const std::string& of, const std::string& caption,
                  const std::vector<std::string>& heads, const std::string& rows) {
  std::string head;
  for (const std::string& h : heads) {
    head += std::string("<th scope=\"col\"") +
            (h == "worst case" || h == "counts" ? " class=\"case\"" : "") + ">" + h + "</th>";
  }
  return "<table class=\"" + of + "\"><caption>" + caption + "</caption><thead><tr>" + head +
         "</tr></thead><tbody>" + rows + "</tbody></table>";
}

std::string table_row(bool on_paper, const std::string& cells) {
  return (on_paper ? "<tr>" : "<tr class=\"extra\">") + cells + "</tr>";
}

std::string number(const std::string& figure) { return element("td", html::text(figure), "n"); }

bool is_mechanism(const Sheet& s) {
  if (!s.setup().on_board()) return false;
  const auto& cases = s.result().cases;
  return std::any_of(cases.begin(), cases.end(),
                     [](const CaseResult& c) { return c.load_case.decides && !c.motion.empty(); });
}

// Without forces only the checks of distances have a number.
bool has_number(const CheckResult& c, bool mechanism) {
  return c.standing == Standing::applies && (!mechanism || wording::of_distances(c));
}

const CheckResult* governing(const Sheet& s) {
  const bool mechanism = is_mechanism(s);
  for (const CheckResult& c : s.result().checks) {
    if (has_number(c, mechanism)) return &c;
  }
  return nullptr;
}

// In the order of the checks, worst first, so that paper has the sources of the rows it has.
std::vector<std::string> numbered_sources(const Sheet& s) {
  std::vector<std::string> out;
  const auto add = [&](const Citation& c) {
    const std::string t = to_text(c);
    if (!t.empty() && std::find(out.begin(), out.end(), t) == out.end()) out.push_back(t);
  };
  for (const CheckResult& c : s.result().checks) {
    if (c.standing == Standing::applies) add(c.source);
  }
  for (const Citation& c : s.result().sources) add(c);
  for (const Citation& c : s.result().boat.sources) add(c);
  return out;
}

std::string reference(const std::vector<std::string>& all, const Citation& c) {
  const auto at = std::find(all.begin(), all.end(), to_text(c));
  if (at == all.end()) return "";
  const std::string n = std::to_string(at - all.begin() + 1);
  return "<a href=\"#source-" + n + "\">[" + n + "]</a>";
}

std::string place_of(const CheckResult& c) {
  std::string out = c.gives_way;
  if (!c.where.empty()) out += ", " + c.where;
  if (c.fastener >= 0 && c.where.empty()) out += fmt::format(" (no. {})", c.fastener + 1);
  return out;
}

const char* word_of(const CheckResult& c) {
  switch (c.standing) {
    case Standing::not_checked:
      return "not checked";
    case Standing::refused:
      return "no answer";
    case Standing::not_concerned:
    case Standing::applies:
      break;
  }
  if (!c.holds) return "too weak";
  return c.assumed.empty() ? "holds" : "holds if";
}

std::string check_row(const Sheet& s, const CheckResult& c, bool figures, bool dents, bool on_paper,
                      const std::vector<std::string>& all) {
  const Mark m = figures || c.standing != Standing::applies ? mark_of(c) : Mark::question;
  const std::string word = c.standing == Standing::applies && !figures ? "no figures" : word_of(c);
  std::string cells = element("td", mark(m) + " " + word, "sign-cell") + "<th scope=\"row\">" +
                      s.words(place_of(c), 240) +
                      (c.outside_checks < 2 && figures ? " <small>*</small>" : "") + "</th>";
  if (!figures) {
    return table_row(on_paper, cells + "<td colspan=\"4\">" + s.words(c.why, 240) + "</td>" +
                                   element("td", reference(all, c.source)));
  }
  cells += number(c.goes_at ? about(*c.goes_at, s.units(), Rounding::down) : dents ? "dents" : "-");
  cells += number(show_factor(c.factor)) + number(show_number(c.needed));
  cells += element("td", c.case_title.empty() ? "distance" : s.words(c.case_title, 120), "case");
  return table_row(on_paper, cells + element("td", reference(all, c.source)));
}

// A verdict hangs on what its governing check takes for granted.
bool hangs_on(const Sheet& s, const Input& i) {
  if (i.known != Knowledge::assumed) return false;
  for (const CheckResult& c : s.result().checks) {
    if (c.standing != Standing::applies) continue;
    if (std::find(c.assumed.begin(), c.assumed.end(), i.path) != c.assumed.end()) return true;
    break;
  }
  const auto& all = s.result().holds_if;
  return std::any_of(all.begin(), all.end(),
                     [&](const std::string& t) { return t.rfind(i.label + " is ", 0) == 0; });
}

std::string inputs_of(const Sheet& s, Knowledge known, const std::string& heading,
                      std::size_t& letters) {
  std::vector<const Input*> all;
  for (const Input& i : s.setup().inputs) {
    if (i.known == known) all.push_back(&i);
  }
  if (all.empty()) return "";
  std::stable_partition(all.begin(), all.end(), [&](const Input* i) { return hangs_on(s, *i); });
  std::string items;
  std::size_t left = 0;
  for (const Input* i : all) {
    const bool hangs = hangs_on(s, *i);
    const std::size_t size = i->label.size() + std::min<std::size_t>(i->value.size(), 60) + 4;
    const bool fits = hangs || size <= letters;
    letters -= std::min(letters, size);
    if (!fits) {
      letters = 0;
      ++left;
    }
    std::string item = s.words(i->label, 60) + " " + element("b", html::users(i->value, 60));
    if (hangs) item = mark(Mark::triangle) + " " + item;
    items += "<li" + std::string(fits ? "" : " class=\"extra\"") + ">" + item + "</li>";
  }
  const std::string many = heading + " (" + std::to_string(all.size()) + ")";
  if (left == all.size()) {
    return "<div class=\"extra\">" + element("h3", many) + element("ul", items, "run") + "</div>" +
           element("p", many + ": on the screen", "paper fine");
  }
  if (left > 0) items += "<li class=\"paper\">" + more_on_screen(left) + "</li>";
  return element("h3", many) + element("ul", items, "run");
}

}  // namespace

std::string checks(const Sheet& s) {
  const std::vector<std::string> all = numbered_sources(s);
  const bool mechanism = is_mechanism(s);
  const auto catalogue = catalogue_for(s.setup());
  const std::size_t most = room_on(s).checks;
  std::string rows;
  std::size_t count = 0;
  bool star = false;
  for (const CheckResult& c : s.result().checks) {
    if (c.standing == Standing::not_concerned) continue;
    const bool figures = has_number(c, mechanism);
    const bool dents = std::any_of(catalogue.begin(), catalogue.end(), [&](const FailureMode& m) {
      return m.spoils && m.id == c.mode;
    });
    rows += check_row(s, c, figures, dents, count < most, all);
    star = star || (c.outside_checks < 2 && figures);
    ++count;
  }
  if (rows.empty()) return "";
  rows += more_row(count > most ? count - most : 0, 7);
  std::string body = table(
      "checks", "Every way it can give, worst first",
      {"Result", "What gives way", "goes at", "factor", "needed", "worst case", "source"}, rows);
  if (star) body += "<p class=\"fine\">* formula seen, not proved outside this program.</p>";
  return section("checks", "Checks", body, "tabled");
}

std::string worked(const Sheet& s) {
  const CheckResult* c = governing(s);
  if (c == nullptr || !std::isfinite(c->factor)) return "";
  const ReaderUnits u = s.units();
  std::string text = s.words(place_of(*c), 240) + ": strength " + html::text(show(c->strength, u)) +
                     " / demand " + html::text(show(c->demand, u)) + " = factor " +
                     html::text(show_factor(c->factor)) + ", needed " + show_number(c->needed) +
                     ". ";
  if (!c->case_title.empty()) {
    text += "Demand: " + s.words(c->case_title, 120) +
            (c->direction.empty() ? "" : ", " + s.words(c->direction, 200)) + ". ";
  }
  text += "Formula: " + s.words(to_text(c->source), 240) + " " +
          reference(numbered_sources(s), c->source) +
          element("span",
                  "; valid: " + s.words(c->valid, 240) + "; accuracy: " + s.words(c->accuracy, 240),
                  "extra") +
          ".";
  return section("worked", "The figure that decides", element("p", text),
                 room_on(s).worked ? "fine" : "fine extra");
}

std::string loads(const Sheet& s) {
  std::vector<const CaseResult*> cases;
  for (const CaseResult& c : s.result().cases) {
    if (!wording::not_calculated(c.load_case)) cases.push_back(&c);
  }
  if (cases.empty()) return "";
  std::stable_partition(cases.begin(), cases.end(),
                        [](const CaseResult* c) { return c->load_case.decides; });
  const std::size_t most = room_on(s).cases;
  std::string rows;
  std::size_t count = 0;
  for (const CaseResult* c : cases) {
    const LoadCase& l = c->load_case;
    const std::string pull = l.path == LoadPath::ride ? show_number(wording::peak_of(l)) + " g"
                                                      : about(l.pull, s.units(), Rounding::up);
    const std::string outcome = !c->motion.empty() ? std::string("it moves")
                                : c->worst_mode.empty()
                                    ? std::string("-")
                                    : show_factor(c->factor) + " of " + show_number(c->needed);
    rows +=
        table_row(count < most, "<th scope=\"row\">" + s.words(l.title, 160) + "</th>" +
                                    element("td", html::text(std::string(word_for(l.category)))) +
                                    element("td", l.decides ? "decides" : "shown", "case") +
                                    number(pull) + number(outcome));
    ++count;
  }
  rows += more_row(count > most ? count - most : 0, 5);
  return section("loads", "Loads",
                 table("loads", "Cases with their greatest pull",
                       {"Case", "how often", "counts", "pull", "factor"}, rows),
                 "tabled");
}

std::string margins(const Sheet& s) {
  const Assessment& a = s.result();
  std::vector<std::string> items;
  const auto add = [&](const char* what, const std::string& t) {
    if (!t.empty()) items.push_back(element("b", what) + " " + s.words(text::sentence(t)));
  };
  if (!a.margins.empty() && a.verdict != Verdict::no_verdict) {
    add("A little worse:", limits::margins(s.setup(), a, false, false));
  }
  if (a.walls.size() > 1) add("Walls:", limits::walls(s.setup(), a));
  if (a.one_missing) add("One lost:", limits::missing(*a.one_missing, s.units()));
  std::string body = list(items);
  const std::vector<std::string> losses = ladder::in_full(s.setup(), a);
  if (!losses.empty()) {
    std::string then;
    for (const std::string& t : losses) then += element("li", s.words(text::sentence(t)));
    body += "<div class=\"extra\"><h3>One after another</h3><ul>" + then + "</ul></div>";
  }
  return section("margins", "If things are worse", body, "margins");
}

std::string assumptions(const Sheet& s) {
  std::size_t letters = room_on(s).letters;
  std::string body = inputs_of(s, Knowledge::assumed, "A: assumed, a guess", letters);
  const bool hangs = std::any_of(s.setup().inputs.begin(), s.setup().inputs.end(),
                                 [&](const Input& i) { return hangs_on(s, i); });
  if (hangs) {
    body = "<p>" + mark(Mark::triangle) + " the verdict hangs on it: measure it first.</p>" + body;
  }
  body += inputs_of(s, Knowledge::tagged, "T: as given, tag or maker", letters);
  body += inputs_of(s, Knowledge::measured, "M: measured", letters);
  std::vector<std::string> changed;
  for (const std::string& t : s.result().case_changes) changed.push_back(s.words(t, 240));
  if (!changed.empty()) body += element("h3", "Loads changed by the owner") + list(changed, "run");
  return section("inputs", "What it was worked out from", body, "inputs");
}

namespace {

std::string may_err(const std::vector<std::string>& hopeful) {
  if (hopeful.empty()) return "";
  std::vector<std::string> items;
  for (const std::string& t : hopeful) items.push_back(html::text(text::sentence(t)));
  return "<div class=\"extra\"><h3>Assumptions that may err the other way</h3>" + list(items) +
         "</div>";
}

}  // namespace

std::string not_checked(const Sheet& s) {
  std::vector<std::string> items;
  for (const std::string& t : s.result().not_checked) items.push_back(s.words(t, 240));
  const FitAnswer fit = look_at_fit(s.setup());
  if (!fit.described) items.emplace_back("fit: not described");
  const std::vector<std::string> hopeful = other_way(assumptions_of(s.setup()));
  if (!hopeful.empty()) {
    items.push_back(std::to_string(hopeful.size()) + " assumptions may err the other way");
  }
  std::string body = list(items, "run") + may_err(hopeful);
  if (fit.described) {
    body += element("p", "<b>Fit:</b> " + s.words(fit_line(s.setup(), fit, false)) + ". ");
  }
  body += element("p", html::text(s.setup().on_board() ? wording::board_scope : wording::scope) +
                           " Not for inflatable, folding or paddled boats, nor hired or coded "
                           "ones; not for a motor, seat, ladder, tow or anchor.");
  return section("not-checked", "Not checked", body, "not-checked box");
}

std::string sources(const Sheet& s) {
  const std::vector<std::string> all = numbered_sources(s);
  if (all.empty()) return "";
  const std::size_t most = room_on(s).sources;
  std::string items;
  for (std::size_t i = 0; i < all.size(); ++i) {
    const std::string n = std::to_string(i + 1);
    items += "<li id=\"source-" + n + "\"" + (i < most ? "" : " class=\"extra\"") + ">" +
             s.words(all[i], 300) + "</li>";
  }
  std::string body = element("ol", items);
  if (all.size() > most) {
    body += "<p class=\"paper\">" + more_on_screen(all.size() - most) + "</p>";
  }
  return section("sources", "Sources", body, "sources fine");
}

std::string colophon(const Sheet& s) {
  const SheetContent& c = s.content;
  std::string line = html::text(made_by());
  if (!c.date.empty()) line += ", " + html::text(c.date, 40);
  if (!c.file.empty()) line += ", file " + html::users(c.file, 80);
  if (!c.hash.empty()) line += ", SHA-1 " + html::text(c.hash, 60);
  return element("p", line, "made") +
         element("p",
                 "Looked at by ____________________ on ____________ &nbsp; agrees / does not agree "
                 "&nbsp; because ______________________________ <small>For a surveyor or yard to "
                 "write on. thole certifies nothing, and no signature here does.</small>",
                 "sign-line");
}

}  // namespace thole::sheet_parts
