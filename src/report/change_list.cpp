#include <thole/changes.hpp>

#include <algorithm>
#include <cmath>

#include <thole/display.hpp>
#include <thole/report.hpp>

#include "report/change_words.hpp"
#include "report/json_writer.hpp"
#include "report/text.hpp"
#include "report/wording.hpp"

namespace thole {

std::string_view word_for(Cost cost) {
  switch (cost) {
    case Cost::nothing:
      return "nothing";
    case Cost::coins:
      return "coins";
    case Cost::store:
      return "one trip to the store";
    case Cost::yard_job:
      return "yard job";
  }
  return "";
}

namespace change_words {

std::string limit(const std::optional<Force>& v, ReaderUnits u) {
  if (!v) return "none";
  return v->value() > 0 ? about(*v, u, Rounding::down) : "next to nothing";
}

std::string share(const Worth& w) {
  if (!(w.ratio > 0) || w.gives_way.empty()) return "no figures";
  return show_factor(w.factor) + " where " + show_number(w.needed) + " is needed (" +
         text::plain(w.gives_way) + ")";
}

std::string listed(const std::vector<std::string>& list, std::size_t most) {
  std::string text;
  for (std::size_t i = 0; i < list.size() && i < most; ++i) {
    text += (i == 0 ? "" : "; ") + text::plain(list[i]);
  }
  if (list.size() > most) text += "; and " + std::to_string(list.size() - most) + " more";
  return text;
}

std::string from_to(const std::string& a, const std::string& b) {
  return a == b ? a + " as before" : a + " -> " + b;
}

std::string trouble(const Change& c, ReaderUnits u) {
  const Trouble& t = c.trouble;
  std::string text(word_for(t.cost));
  if (t.cost == Cost::nothing) text = c.of_use ? "a setting, costs nothing" : "costs nothing";
  text += t.holes == 0   ? ", no new hole in the boat"
          : t.holes == 1 ? ", 1 new hole in the boat"
                         : ", " + std::to_string(t.holes) + " new holes in the boat";
  if (!t.mass_known) {
    text += ", weight not known";
  } else if (std::abs(t.added.value()) > 0.01) {
    const Mass m = t.added.value() < 0 ? Mass(-t.added) : t.added;
    text += ", " + show(m, u) + (t.added.value() < 0 ? " lighter" : " more weight");
  }
  return text;
}

std::string opening(const ChangeAnswer& a) {
  if (a.ranking.empty()) {
    return a.as_drawn.holds() ? "Nothing that was tried raises its limit by much."
                              : "Nothing that was tried helps: think of another mount, or of "
                                "another place for it.";
  }
  if (a.as_drawn.verdict == Verdict::holds_if) {
    return "It holds only if what it hangs on is so. What brings more for little:";
  }
  if (a.as_drawn.holds()) return "It holds as drawn. What brings more for little:";
  const Change& best = a.changes[a.ranking.front()];
  if (!best.after || !best.after->holds()) {
    return "None of them is enough, alone or in pairs. What helps most for its trouble:";
  }
  return best.of.empty() ? "Best for their trouble:"
                         : "No single change is enough. The best, pairs first:";
}

}  // namespace change_words

namespace {

using change_words::from_to;
using change_words::listed;
using change_words::share;
using change_words::trouble;
using text::aligned;
using text::padded;
using text::plain;
using text::sentence;
using text::wrapped;

const char* id_of(Cost cost) {
  switch (cost) {
    case Cost::nothing:
      return "nothing";
    case Cost::coins:
      return "coins";
    case Cost::store:
      return "store";
    case Cost::yard_job:
      return "yard_job";
  }
  return "";
}

class List {
 public:
  List(const Setup& s, const ChangeAnswer& a) : s_(s), a_(a) {}

  std::string write(std::size_t most, bool all) {
    out_ = wording::first_line(s_.title) + "\n";
    as_drawn();
    ranked(all ? a_.ranking.size() : most);
    if (all) {
      others();
    } else {
      summary(most);
    }
    out_ += "\n" + wrapped("", wording::deferral);
    return text::printable(out_);
  }

 private:
  [[nodiscard]] std::string limit(const std::optional<Force>& v) const {
    return change_words::limit(v, s_.units);
  }

  static std::string percent(double v) {
    return v >= 1 ? std::string("all") : show_number(std::floor(100 * v)) + " %";
  }

  void as_drawn() {
    const Worth& w = a_.as_drawn;
    const std::string head = wording::headline(w.verdict) + " as drawn";
    if (w.verdict == Verdict::no_verdict) {
      out_ += wrapped("", head + ": " + listed(w.reasons, 3) + ".");
    } else {
      out_ +=
          wrapped("", head + ": factor " + share(w) + "; hold limit " + limit(w.hold_limit) + ".");
    }
    if (w.holds() && w.boat_ratio && *w.boat_ratio < 1) {
      out_ += wrapped("  ",
                      "The mount holds; the boat heels too far at the setting in use: see Boat in "
                      "thole check.");
    }
    measure_first();
    if (a_.stopped) out_ += wrapped("  ", "Stopped: only a part was tried.");
    out_ += "\n";
  }

  // What only somebody at the boat can settle is no change, and never makes it hold by itself.
  void measure_first() {
    std::vector<std::string> list;
    for (const Input& i : s_.inputs) {
      if (i.known != Knowledge::assumed) continue;
      const bool of_boat = i.path.starts_with("mount.host") || i.path.ends_with(".brake_slip") ||
                           i.path.ends_with(".drag") || i.path.ends_with(".hull_thickness");
      if (of_boat && std::find(list.begin(), list.end(), i.label) == list.end()) {
        list.push_back(i.label);
      }
    }
    if (list.empty()) return;
    out_ += wrapped("  ", "Measure first, it costs nothing and may change the answer: " +
                              text::joined(list) + ".");
  }

  void ranked(std::size_t most) {
    out_ += wrapped("", change_words::opening(a_));
    for (std::size_t k = 0; k < a_.ranking.size() && k < most; ++k) {
      one(k + 1, a_.changes[a_.ranking[k]]);
    }
  }

  // "factor 0.33 to 1.2 of 1 needed" would hide what gives way: both with their words.
  void one(std::size_t number, const Change& c) {
    const std::string lead = aligned(std::to_string(number), 3) + ". ";
    const std::string in(lead.size(), ' ');
    out_ += "\n" + wrapped(lead, sentence(plain(c.words)));
    const Worth& before = a_.as_drawn;
    const Worth& after = *c.after;
    std::string mark = wording::headline(after.verdict);
    if (after.verdict == Verdict::no_verdict) {
      out_ += wrapped(in, mark + ", still: " + listed(after.reasons, 3) + ".");
      const std::vector<std::string> ended = gone(after.reasons);
      if (!ended.empty()) out_ += wrapped(in + "ends: ", listed(ended, 2) + ".");
    } else {
      out_ += wrapped(in + mark, "");
      if (!after.conditions.empty())
        out_ += wrapped(in + "if: ", listed(after.conditions, 2) + ".");
    }
    if (after.ratio > 0) out_ += wrapped(in + "factor   ", from_to(share(before), share(after)));
    if (before.hold_limit || after.hold_limit) {
      std::string text = "hold limit " + from_to(limit(before.hold_limit), limit(after.hold_limit));
      if (before.setting || after.setting) {
        text += "; setting " + from_to(limit(before.setting), limit(after.setting));
      }
      out_ += wrapped(in + "pull     ", text);
    }
    if (before.boat_ratio && after.boat_ratio && *before.boat_ratio < 1) {
      out_ +=
          wrapped(in + "heel     ", "the boat allows " + percent(*before.boat_ratio) +
                                        " of the setting in use -> " + percent(*after.boat_ratio));
    }
    out_ += wrapped(in + "trouble  ", trouble(c, s_.units));
    for (const Edit& e : c.edits) {
      out_ += wrapped(in + "write    ",
                      plain(e.path) + (e.value.empty() ? "  (left out)" : ": " + plain(e.value)));
    }
    for (const std::string& n : c.notes) out_ += wrapped(in + "look     ", plain(n));
  }

  [[nodiscard]] std::vector<std::string> gone(const std::vector<std::string>& after) const {
    std::vector<std::string> out;
    for (const std::string& r : a_.as_drawn.reasons) {
      if (std::find(after.begin(), after.end(), r) == after.end()) out.push_back(r);
    }
    return out;
  }

  void summary(std::size_t most) {
    const auto fit = static_cast<std::size_t>(std::count_if(
        a_.changes.begin(), a_.changes.end(), [](const Change& c) { return c.fits(); }));
    std::string text = std::to_string(a_.changes.size()) + " tried";
    if (a_.pairs_tried) text += " with pairs";
    text += ", " + std::to_string(fit) + " fit";
    if (a_.ranking.size() > most) text += ", " + std::to_string(a_.ranking.size()) + " help";
    out_ += "\n" + wrapped("", text +
                                   "; all of them with --all. To write number N as a setup: "
                                   "--write N -o FILE.");
    const bool best_holds = !a_.ranking.empty() && a_.changes[a_.ranking.front()].after->holds();
    if (!a_.as_drawn.holds() && !a_.ranking.empty() && !best_holds) {
      out_ += wrapped("", a_.as_drawn.verdict == Verdict::no_verdict
                              ? "Write the best into the file, answer what is still asked, then "
                                "ask again."
                              : "It takes more: write the best into the file, then ask again.");
    }
  }

  void others() {
    std::vector<char> shown(a_.changes.size(), 0);
    for (const std::size_t i : a_.ranking) shown[i] = 1;
    heading_ = false;
    for (std::size_t i = 0; i < a_.changes.size(); ++i) {
      const Change& c = a_.changes[i];
      if (shown[i] || !c.fits() || !c.after) continue;
      line("Tried, little or no help", plain(c.words) + ": " + result(*c.after));
    }
    heading_ = false;
    for (const Change& c : a_.changes) {
      if (!c.fits()) line("Do not fit", plain(c.words) + ": " + plain(c.why_not, 200));
    }
  }

  [[nodiscard]] std::string result(const Worth& w) const {
    if (w.verdict == Verdict::no_verdict) return "no verdict, " + listed(w.reasons, 1);
    return std::string(word_for(w.verdict)) + ", factor " + share(w) + ", limit " +
           limit(w.hold_limit);
  }

  void line(const char* heading, const std::string& text) {
    if (!heading_) out_.append("\n").append(heading).append("\n");
    heading_ = true;
    out_ += wrapped("  - ", text);
  }

  const Setup& s_;
  const ChangeAnswer& a_;
  std::string out_;
  bool heading_ = false;
};

void write_worth(Json& j, const Worth& w) {
  j.open('{');
  j.key("verdict").text(std::string(word_for(w.verdict)));
  j.key("holds").yes_no(w.holds());
  j.key("factor_over_needed").number(w.ratio);
  j.key("gives_way").text(w.gives_way);
  j.key("factor").number(w.factor);
  j.key("factor_needed").number(w.needed);
  j.key("hold_limit_N").maybe(w.hold_limit);
  j.key("setting_N").maybe(w.setting);
  j.key("boat_setting_over_used");
  if (w.boat_ratio) {
    j.number(*w.boat_ratio);
  } else {
    j.null();
  }
  j.key("conditions").texts(w.conditions);
  j.key("reasons").texts(w.reasons);
  j.close('}');
}

void write_change(Json& j, const Change& c) {
  j.open('{');
  j.key("id").text(c.id);
  j.key("words").text(c.words);
  j.key("of_use").yes_no(c.of_use);
  j.key("fits").yes_no(c.fits());
  j.key("why_not").text(c.why_not);
  j.key("edits").open('[');
  for (const Edit& e : c.edits) {
    j.open('{');
    j.key("path").text(e.path);
    j.key("value");
    if (e.value.empty()) {
      j.null();
    } else {
      j.text(e.value);
    }
    j.close('}');
  }
  j.close(']');
  j.key("notes").texts(c.notes);
  j.key("trouble").open('{');
  j.key("cost").text(id_of(c.trouble.cost));
  j.key("trips").integer(c.trouble.trips);
  j.key("new_holes_in_the_boat").integer(c.trouble.holes);
  j.key("added_mass_kg");
  if (c.trouble.mass_known) {
    j.number(c.trouble.added.value());
  } else {
    j.null();
  }
  j.key("given_up").number(c.trouble.given_up);
  j.key("points").number(c.trouble.points());
  j.close('}');
  j.key("of").open('[');
  for (const std::size_t i : c.of) j.integer(long(i));
  j.close(']');
  j.key("after");
  if (c.after) {
    write_worth(j, *c.after);
  } else {
    j.null();
  }
  j.close('}');
}

}  // namespace

std::string change_list(const Setup& setup, const ChangeAnswer& answer, std::size_t most,
                        bool all) {
  return List(setup, answer).write(most, all);
}

std::string change_list_json(const Setup& setup, const ChangeAnswer& answer) {
  Json j;
  j.open('{');
  j.key("thole").text(version());
  write_build(j);
  j.key("title").text(setup.title);
  j.key("as_drawn");
  write_worth(j, answer.as_drawn);
  j.key("pairs_tried").yes_no(answer.pairs_tried);
  j.key("stopped").yes_no(answer.stopped);
  j.key("ranking").open('[');
  for (const std::size_t i : answer.ranking) j.integer(long(i));
  j.close(']');
  j.key("changes").open('[');
  for (const Change& c : answer.changes) write_change(j, c);
  j.close(']');
  j.key("deferral").text(wording::deferral);
  j.close('}');
  return j.take();
}

}  // namespace thole
