// What takes seconds: the sheet with its changes, changes, sizes, variants. They tell how far they
// are where somebody watches.

#include <algorithm>

#include <thole/comparison.hpp>
#include <thole/display.hpp>
#include <thole/error.hpp>
#include <thole/report.hpp>
#include <thole/sheet.hpp>
#include <thole/sizing.hpp>

#include "page/answer_parts.hpp"
#include "report/change_words.hpp"
#include "report/sheet_parts.hpp"
#include "report/text.hpp"

namespace thole::page {
namespace {

ChangeAnswer changes_of(const Question& q) {
  ChangeOptions options;
  options.threads = 1;
  options.watch = q.watch;
  return suggest_changes(q.text, q.file, q.library, options);
}

void write_verdict(Json& j, Verdict v) {
  j.key("verdict").text(sheet_parts::verdict_words(v));
  j.key("sign").text(sign_of(html::mark_of(v)));
}

void write_change(Json& j, const Setup& s, const ChangeAnswer& a, const Change& c, long number) {
  const Worth& before = a.as_drawn;
  const Worth& after = *c.after;
  const auto limit = [&](const Worth& w) { return change_words::limit(w.hold_limit, s.units); };
  j.open('{');
  j.key("number").integer(number);
  j.key("title").text(text::sentence(c.words));
  write_verdict(j, after.verdict);
  j.key("before").text(limit(before));
  j.key("after").text(limit(after));
  j.key("pull").text("Hold limit " + change_words::from_to(limit(before), limit(after)));
  j.key("factor").text(
      change_words::from_to(change_words::share(before), change_words::share(after)));
  j.key("trouble").text(text::sentence(change_words::trouble(c, s.units)));
  std::vector<std::string> look;
  for (const std::string& n : c.notes) look.push_back(text::sentence(n));
  for (const std::string& n : after.conditions) look.push_back("Only if: " + n);
  for (const std::string& n : after.reasons) look.push_back("Still: " + n);
  j.key("look").texts(look);
  write_edits(j, c.edits);
  j.close('}');
}

struct Sheet {
  Setup setup;
  Assessment assessment;
};

Sheet sheet_of(const Question& q) {
  Sheet out{q.setup(), {}};
  out.assessment = assess(out.setup, sheet_options());
  return out;
}

Paper paper_of(const Question& q, ReaderUnits units) {
  const std::string asked =
      q.request.text_or("paper", units == ReaderUnits::inch ? "letter" : "a4");
  if (asked != "a4" && asked != "letter") throw Error("paper: a4 or letter is expected");
  return asked == "a4" ? Paper::a4 : Paper::letter;
}

// A day as in 2026-11-27.
std::string date_of(const Question& q) {
  const std::string d = q.request.text_or("date", "");
  const auto digits = [&](std::size_t from, std::size_t count) {
    return d.find_first_not_of("0123456789", from) == std::min(d.size(), from + count) ||
           (from + count == d.size() &&
            d.find_first_not_of("0123456789", from) == std::string::npos);
  };
  const bool day =
      d.size() == 10 && d[4] == '-' && d[7] == '-' && digits(0, 4) && digits(5, 2) && digits(8, 2);
  if (!d.empty() && !day) throw Error("date: a day as in 2026-11-27 is expected");
  return d;
}

SheetContent content_of(const Question& q, const Sheet& s) {
  return {s.setup,
          s.assessment,
          q.library,
          {},
          {},
          q.file,
          file_hash(std::string(q.text)),
          date_of(q),
          paper_of(q, s.setup.units)};
}

std::string html_answer(const std::string& html, const std::string& name) {
  Json j(Json::Layout::dense);
  j.open('{');
  j.key("ok").yes_no(true);
  j.key("name").text(name);
  j.key("mime").text("text/html");
  j.key("html").text(html);
  j.close('}');
  return j.take();
}

}  // namespace

std::string sheet_answer(const Question& q) {
  const Sheet s = sheet_of(q);
  SheetContent content = content_of(q, s);
  if (q.request.yes("changes")) content.changes = changes_of(q);
  const bool booms = std::any_of(s.setup.gear.begin(), s.setup.gear.end(),
                                 [](const Gear& g) { return g.downrigger.has_value(); });
  if (booms) content.booms = boom_sweep(s.setup);
  return html_answer(sheet_html(content), "sheet.html");
}

std::string template_answer(const Question& q) {
  const Sheet s = sheet_of(q);
  const std::string html = template_html(content_of(q, s));
  if (html.empty()) throw Error("this mount has no holes to print");
  return html_answer(html, "holes.html");
}

std::string file_answer(const Question& q, std::string_view kind) {
  const Sheet s = sheet_of(q);
  const SheetContent content = content_of(q, s);
  std::string text;
  std::string name;
  std::string mime;
  if (kind == "csv") {
    text = forces_csv(s.setup, s.assessment);
    name = "forces.csv";
    mime = "text/csv";
  } else if (kind == "dxf") {
    text = plates_dxf(content);
    name = "plates.dxf";
    mime = "image/vnd.dxf";
  } else {
    text = plates_svg(content);
    name = "plates.svg";
    mime = "image/svg+xml";
  }
  if (text.empty()) throw Error("this mount has no plate to draw");
  Json j(Json::Layout::dense);
  j.open('{');
  j.key("ok").yes_no(true);
  j.key("name").text(name);
  j.key("mime").text(mime);
  j.key("text").text(text);
  j.close('}');
  return j.take();
}

std::string changes_answer(const Question& q) {
  const Setup s = q.setup();
  const ChangeAnswer a = changes_of(q);
  Json j(Json::Layout::dense);
  j.open('{');
  j.key("ok").yes_no(true);
  j.key("words").text(change_words::opening(a));
  j.key("stopped").yes_no(a.stopped);
  j.key("list").open('[');
  long number = 0;
  for (const std::size_t i : a.ranking) write_change(j, s, a, a.changes[i], ++number);
  j.close(']');
  j.close('}');
  return j.take();
}

namespace {

void write_size_design(Json& j, const Setup& s, const SizeAnswer& a, const SizeDesign& d,
                       const std::string& which) {
  std::string options;
  for (std::size_t i = 0; i < a.space.size() && i < d.choice.size(); ++i) {
    if (a.space[i].options.size() < 2) continue;
    options +=
        (options.empty() ? "" : "; ") + a.space[i].label + " " + a.space[i].options[d.choice[i]];
  }
  j.open('{');
  j.key("title").text(which + (options.empty() ? "" : ": " + options));
  write_verdict(j, d.verdict);
  j.key("weight").text(show(d.mass, s.units));
  j.key("hold_limit").text(change_words::limit(d.hold_limit, s.units));
  j.key("figures").text(show(d.mass, s.units) + ", hold limit " +
                        change_words::limit(d.hold_limit, s.units));
  j.close('}');
}

}  // namespace

std::string size_answer(const Question& q) {
  const Setup s = q.setup();
  SizeQuestion question;
  question.free = q.request.texts("free");
  question.threads = 1;
  question.watch = q.watch;
  const SizeAnswer a = size_mount(s, question, q.library);
  Json j(Json::Layout::dense);
  j.open('{');
  j.key("ok").yes_no(true);
  j.key("stopped").yes_no(a.stopped);
  j.key("words").text(a.smallest ? "What holds with the least:" : "Nothing that was tried holds.");
  j.key("table").text(size_table(s, a));
  j.key("designs").open('[');
  if (a.smallest) write_size_design(j, s, a, *a.smallest, "Smallest");
  if (a.lightest) write_size_design(j, s, a, *a.lightest, "Lightest");
  if (!a.smallest && a.nearest) write_size_design(j, s, a, *a.nearest, "Comes nearest");
  j.close(']');
  j.close('}');
  return j.take();
}

std::string compare_answer(const Question& q) {
  CompareOptions options;
  options.threads = 1;
  const Comparison c = compare(q.text, q.file, q.library, options);
  const ReaderUnits units = c.candidates.front().setup->units;
  Json j(Json::Layout::dense);
  j.open('{');
  j.key("ok").yes_no(true);
  j.key("words").text(comparison_sentence(c));
  j.key("table").text(comparison_table(c));
  j.key("rows").open('[');
  for (const std::size_t i : c.ranking) {
    const Candidate& one = c.candidates[i];
    if (!one.setup || !one.assessment) continue;
    const Worth w = worth_of(*one.setup, *one.assessment);
    j.open('{');
    j.key("title").text(one.name);
    write_verdict(j, one.verdict());
    j.key("hold_limit").text(change_words::limit(w.hold_limit, units));
    j.key("figures").text("Hold limit " + change_words::limit(w.hold_limit, units) +
                          (one.fits() ? "" : "; does not fit: " + one.why_not));
    j.close('}');
  }
  j.close(']');
  j.close('}');
  return j.take();
}

}  // namespace thole::page
