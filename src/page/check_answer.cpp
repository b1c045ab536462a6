// The verdict in words: all of them those of the reports.

#include <thole/cautions.hpp>
#include <thole/display.hpp>
#include <thole/fit.hpp>
#include <thole/report.hpp>
#include <thole/sheet.hpp>

#include "page/answer_parts.hpp"
#include "report/beside.hpp"
#include "report/change_words.hpp"
#include "report/ladder_block.hpp"
#include "report/limits_block.hpp"
#include "report/sheet_parts.hpp"
#include "report/short_names.hpp"
#include "report/text.hpp"
#include "report/wording.hpp"

namespace thole::page {
namespace {

constexpr std::size_t longest_name = 60;
constexpr std::size_t worst_shown = 3;
constexpr std::size_t items_of_mount = 2;  // in the order of what goes first

class Words {
 public:
  Words(Json& j, const Setup& s, const Assessment& a)
      : j_(j), s_(s), a_(a), names_(s, longest_name) {}

  void write() {
    j_.key("words").open('{');
    text("verdict", sheet_parts::verdict_words(a_.verdict));
    text("sign", sign_of(html::mark_of(a_.verdict)));
    text("headline", wording::headline(a_.verdict));
    const std::string why = text::joined(a_.reasons, "; ");
    text("sentence", text::sentence(a_.sentence.empty() ? why : a_.sentence));
    conditions();
    list("reasons", a_.sentence.empty() ? std::vector<std::string>() : a_.reasons);
    limits();
    ladder();
    worst();
    list("margins", lines({limits::margins(s_, a_, false, true)}));
    list("look_again", a_.look_again);
    list("test_pulls", beside::failed_pulls(s_, a_));
    list("fit", lines({fit_line(s_, look_at_fit(s_))}));
    list("wire", beside::wires(s_, a_.towing, false));
    text("boat", beside::boat(s_, a_.boat, false));
    list("not_checked", a_.not_checked);
    list("cautions", beside::cautions(a_));
    list("always", standing_cautions(s_));
    list("to_do", beside::to_do(s_, a_));
    text("advice", text::joined(beside::to_do(s_, a_), "; "));
    text("deferral", wording::deferral);
    text("made", made_by());
    j_.close('}');
  }

 private:
  void text(const char* key, const std::string& words) { j_.key(key).text(names_.in(words)); }
  void list(const char* key, const std::vector<std::string>& items) {
    j_.key(key).open('[');
    for (const std::string& i : items) j_.text(names_.in(text::sentence(i)));
    j_.close(']');
  }
  static std::vector<std::string> lines(std::vector<std::string> some) {
    std::erase(some, "");
    return some;
  }

  void conditions() {
    const std::string prefix = "not checked: ";
    std::vector<std::string> all;
    std::vector<std::string> unchecked;
    for (const std::string& c : a_.holds_if) {
      const bool not_checked = c.starts_with(prefix);
      (not_checked ? unchecked : all).push_back(not_checked ? c.substr(prefix.size()) : c);
    }
    list("holds_if", all);
    list("must_hold", unchecked);
  }

  // The gear that may be pulled least stands for all in the first line.
  void limits() {
    const std::vector<beside::GearGroup> groups = beside::gear_groups(s_, a_);
    const Worth worth = worth_of(s_, a_);
    text("hold_limit", change_words::limit(worth.hold_limit, s_.units));
    const beside::GearGroup* least = nullptr;
    for (const beside::GearGroup& g : groups) {
      if (least == nullptr || setting_below(g, *least)) least = &g;
    }
    text("setting_label", label_of(least));
    text("setting", least == nullptr ? "none" : setting_words(*least));
    text("setting_note", least == nullptr ? "" : note_of(*least));
    j_.key("limits").open('[');
    for (const beside::GearGroup& g : groups) {
      j_.open('{');
      text("of", text::joined(g.names));
      text("hold", change_words::limit(g.limit.hold_limit, s_.units));
      text("label", label_of(&g));
      text("setting", setting_words(g));
      text("note", note_of(g));
      text("set_by", g.limit.set_by);
      j_.close('}');
    }
    j_.close(']');
  }

  static bool setting_below(const beside::GearGroup& a, const beside::GearGroup& b) {
    return !a.setting.pull || (b.setting.pull && *a.setting.pull < *b.setting.pull);
  }
  [[nodiscard]] bool to_be_changed(const beside::GearGroup& g) const {
    return a_.verdict == Verdict::does_not_hold && beside::of_use(g.setting);
  }
  [[nodiscard]] std::string label_of(const beside::GearGroup* g) const {
    if (g == nullptr) return "Setting";
    return to_be_changed(*g) ? "" : not_above(*g);
  }
  static std::string not_above(const beside::GearGroup& g) {
    const int kind = beside::kind_of(*g.gear);
    return kind == 0 ? "Brake not above" : kind == 1 ? "Drag not above" : "Pull not above";
  }
  [[nodiscard]] std::string setting_words(const beside::GearGroup& g) const {
    if (a_.verdict == Verdict::no_verdict) return "none while there is no verdict";
    if (!beside::of_use(g.setting)) return "none that is of use";
    if (to_be_changed(g)) return "Change it first";
    return about(*g.setting.pull, s_.units, Rounding::down);
  }
  [[nodiscard]] std::string note_of(const beside::GearGroup& g) const {
    if (a_.verdict == Verdict::no_verdict) return "";
    if (!beside::of_use(g.setting)) {
      return text::sentence(beside::none_of_use(g.setting, s_.units));
    }
    if (to_be_changed(g)) {
      return not_above(g) + " " + about(*g.setting.pull, s_.units, Rounding::down) +
             " by its pulls alone: that may not make it hold.";
    }
    const std::string by = !a_.boat.described  ? ""
                           : g.setting.by_boat ? "; the boat sets it"
                                               : "; the mount sets it";
    return std::string("Measured with a scale at the ") +
           (beside::kind_of(*g.gear) == 1 ? "line" : "clip") + by + ".";
  }

  void ladder() {
    j_.key("ladder").open('{');
    j_.key("order").open('[');
    for (const std::string& step : ladder::steps(s_, a_, items_of_mount, false)) {
      j_.text(names_.in(step));
    }
    j_.close(']');
    list("words", lines({a_.ladder_verdict, ladder::after_first(s_, a_)}));
    j_.close('}');
  }

  void worst() {
    const bool moves = std::any_of(a_.cases.begin(), a_.cases.end(), [](const CaseResult& c) {
      return c.load_case.decides && !c.motion.empty();
    });
    j_.key("worst").open('[');
    std::size_t shown = 0;
    for (const CheckResult& c : a_.checks) {
      if (c.standing != Standing::applies || shown == worst_shown) continue;
      if (moves && !wording::of_distances(c)) continue;
      ++shown;
      j_.open('{');
      text("what", c.gives_way + (c.where.empty() ? "" : ", " + c.where));
      std::string figures =
          "factor " + show_factor(c.factor) + " where " + show_number(c.needed) + " is needed";
      if (c.goes_at) figures += ", goes at " + about(*c.goes_at, s_.units, Rounding::down);
      text("figures", figures);
      text("sign", sign_of(html::mark_of(c)));
      text("case", c.case_title);
      text("advice", c.advice);
      text("source", to_text(c.source));
      j_.close('}');
    }
    j_.close(']');
  }

  Json& j_;
  const Setup& s_;
  const Assessment& a_;
  ShortNames names_;
};

// As `thole check --json` assesses, and what the arrows of the drawing need. `first`: the verdict
// and its limits, which are the same, without what is told beside them. The parts of the directions
// may lower a limit: they belong to it.
AssessOptions options(bool first) {
  AssessOptions o;
  o.forces = true;
  o.by_direction = true;
  if (first) return o;
  o.one_missing = true;
  o.after_loss = true;
  o.margins = true;
  return o;
}

// `thole check` without --details leaves this out on a board, so its report does.
std::string screen(const Setup& s, Assessment a) {
  if (s.on_board()) a.one_missing.reset();
  return terminal_report(s, a);
}

}  // namespace

void write_words(Json& j, const Setup& setup, const Assessment& assessment) {
  Words(j, setup, assessment).write();
}

std::string check_answer(const Question& q) {
  const Setup s = q.setup();
  const bool first = q.request.yes("first");
  const Assessment a = assess(s, options(first));
  Json j(Json::Layout::dense);
  j.open('{');
  j.key("ok").yes_no(true);
  write_words(j, s, a);
  j.key("first").yes_no(first);
  if (!first) {
    j.key("terminal").text(screen(s, a));
    j.key("report").text(json_report(s, a));
  }
  const scene::Scene scene = scene::scene_of({s, a, q.library, {}, {}, q.file, "", "", Paper::a4});
  j.key("draw").open('{');
  const std::shared_ptr<const Drawn> loaded =
      on_pictures(read_text(q.text, q.file, q.library),
                  {picture_of(scene, scene::View::plan), picture_of(scene, scene::View::stern)});
  write_views(j, loaded->views);
  write_handles(j, *loaded);
  j.close('}');
  j.close('}');
  return j.take();
}

}  // namespace thole::page
