#include "cli/commands.hpp"

#include <algorithm>
#include <map>

#include <thole/display.hpp>
#include <thole/reading.hpp>
#include <thole/sizing.hpp>
#include <thole/thole.hpp>
#include <thole/unit_text.hpp>

#include "cli/support.hpp"
#include "report/text.hpp"
#include "report/wording.hpp"

namespace thole::cli {

namespace {

// ---- Sizes
// ---------------------------------------------------------------------------------------

using text::aligned;
using text::padded;
using text::printable;
using text::wrapped;
constexpr auto width_of = text::width;

class SizeReport {
 public:
  SizeReport(const Setup& s, const SizeAnswer& a) : s_(s), a_(a) {
    for (const SizeCandidate& c : a.candidates) {
      const auto missing = [](const auto& list, const auto& v) {
        return std::find(list.begin(), list.end(), v) == list.end();
      };
      if (missing(plans_, c.plan)) plans_.push_back(c.plan);
      if (missing(woods_, c.wood)) woods_.push_back(c.wood);
      size_column_ = std::max(size_column_, width_of(c.size) + 1);
    }
    std::sort(plans_.begin(), plans_.end());
  }

  std::string write() {
    out_ = "thole " + version() + (s_.title.empty() ? "" : "  " + s_.title) + "\n\n";
    if (a_.smallest) {
      answer(a_.candidates[*a_.smallest]);
    } else {
      nothing();
    }
    tried();
    for (const LegPlan plan : plans_) table(plan);
    unfit();
    out_ += "\n" + wrapped("", wording::deferral);
    return printable(out_);
  }

 private:
  [[nodiscard]] std::string legs_of(const SizeCandidate& c) const {
    std::string text(word_for(c.plan));
    if (c.plan == LegPlan::below_gear) text += " (" + a_.leg_size + ")";
    return text;
  }
  static std::string piece(const SizeCandidate& c) {
    return c.size + (c.on_edge ? " on edge" : " flat");
  }
  [[nodiscard]] std::string name(const SizeCandidate& c) const {
    return piece(c) + ", " + c.wood + ", " + legs_of(c);
  }
  static std::string words(const SizeCheck& k) {
    return k.gives_way + (k.where.empty() ? "" : " (" + k.where + ")");
  }
  static std::string figures(const SizeCheck& k) {
    return "factor " + show_factor(k.factor) + " where " + show_number(k.needed) + " is needed" +
           (k.case_title.empty() ? "" : " (" + k.case_title + ")");
  }
  static std::string joined(const std::vector<std::string>& list) {
    std::string text;
    for (const std::string& t : list) text += (text.empty() ? "" : "; ") + t;
    return text;
  }
  // Checks that cannot be made are counted by what is missing, not listed one by one.
  static std::string conditions(const SizeCandidate& c) {
    const std::string mark = "\": not checked, ";
    std::vector<std::string> list;
    std::map<std::string, std::size_t> missing;
    for (const std::string& t : c.conditions) {
      const std::size_t at = t.find(mark);
      if (at == std::string::npos) {
        list.push_back(t);
      } else {
        ++missing[t.substr(at + mark.size())];
      }
    }
    for (const auto& [why, n] : missing) {
      list.push_back(std::to_string(n) + (n == 1 ? " check passes" : " checks pass") +
                     " that cannot be made: " + why);
    }
    return joined(list);
  }
  [[nodiscard]] std::string limit(const SizeCandidate& c) const {
    return c.hold_limit ? about(*c.hold_limit, s_.units, Rounding::down) : "-";
  }

  // What stops a candidate, and what helps.
  static std::string stopped(const SizeCandidate& c) {
    if (!c.fits()) return " does not fit: " + c.why_not;
    if (c.verdict == Verdict::no_verdict) {
      return " has no verdict: " + joined(c.reasons);
    }
    std::string text =
        " is stopped: the " + words(c.failed.front()) + ", " + figures(c.failed.front());
    if (c.failed.size() > 1) {
      text += ", and " + std::to_string(c.failed.size() - 1) + " more";
    }
    return text + "; what helps: " + c.failed.front().advice;
  }

  void answer(const SizeCandidate& c) {
    out_ += wrapped("Smallest that holds  ", name(c));
    const std::string lead = "  " + wording::headline(c.verdict) + " ";
    out_ +=
        c.verdict == Verdict::holds_if ? wrapped(lead, conditions(c) + " (assumed).") : lead + "\n";
    if (c.worst) {
      out_ += wrapped(
          "  ", "Nearest to giving way: the " + words(*c.worst) + ", " + figures(*c.worst) + ".");
    }
    if (c.hold_limit) {
      out_ +=
          wrapped("  ", "Hold limit " + limit(c) +
                            " of pull at full factors for a pull of minutes, any direction of its "
                            "range.");
    }
    if (c.plan == LegPlan::below_gear) places(c);
    out_ += "\n";
    if (a_.next_smaller) {
      const SizeCandidate& n = a_.candidates[*a_.next_smaller];
      out_ += wrapped("Next smaller   ", piece(n) + stopped(n) + ".");
      if (a_.one_size_down && a_.one_size_down != a_.next_smaller) {
        const SizeCandidate& d = a_.candidates[*a_.one_size_down];
        out_ += wrapped("One size down  ", piece(d) + stopped(d) + ".");
      }
    } else {
      out_ += wrapped("Next smaller   ", "none: it is the smallest of the stock.");
    }
    for (const LegPlan plan : plans_) {
      if (plan == c.plan) continue;
      const auto other = a_.smallest_with(plan);
      out_ += wrapped("With " + std::string(word_for(plan)) + "  ",
                      other ? piece(a_.candidates[*other]) + ", " + a_.candidates[*other].wood
                            : "nothing of the stock holds");
    }
    std::string put = "size: " + c.size + (c.on_edge ? ", laid: on_edge" : "");
    const std::optional<Wood>& drawn = s_.board().board.wood;
    if (!drawn || drawn->name != c.wood) put += ", wood: " + c.wood;
    if (c.plan == LegPlan::below_gear) put += ", the legs above";
    if (c.plan == LegPlan::none && !s_.board().legs.empty()) put += ", no legs";
    out_ += wrapped("", "Put it into the setup (" + put + "), then thole check tells all of it.");
  }

  void places(const SizeCandidate& c) {
    for (const Leg& l : c.legs) {
      const auto from = [&](Length v, const char* plus, const char* minus) {
        return show(abs(v), s_.units) + (v.value() < 0 ? minus : plus);
      };
      out_ += wrapped("  ", l.name + ": " + show(l.length, s_.units) + " long, its middle " +
                                from(l.place.outboard, " outboard", " inboard") +
                                " of the inner edge of the ledge and " +
                                from(l.place.forward, " forward", " aft") +
                                " of the middle line, " + show(l.fore_aft, s_.units) +
                                " along the boat, upright, its foot held by a block or a screw.");
    }
  }

  void nothing() {
    const bool judged = std::any_of(
        a_.candidates.begin(), a_.candidates.end(),
        [](const SizeCandidate& c) { return c.fits() && c.verdict != Verdict::no_verdict; });
    out_ += wording::headline(judged ? Verdict::does_not_hold : Verdict::no_verdict) +
            std::string("\n");
    if (!a_.largest) {
      out_ += wrapped("  ", "Nothing of the stock fits; the reasons are at the end.");
      return;
    }
    out_ += wrapped("  ", judged ? "Nothing of the stock holds." : "No size can be named.");
    constexpr std::size_t most = 3;
    for (std::size_t i = 0; i < a_.stops_every.size(); ++i) {
      const SizeCheck& k = a_.stops_every[i];
      const std::string lead(i == 0 ? "What stops every size  " : "                       ");
      if (i == most) {
        out_ += wrapped(lead, "and " + std::to_string(a_.stops_every.size() - most) + " more");
        break;
      }
      out_ += wrapped(lead, "the " + words(k) + ": factor " + show_factor(k.factor) +
                                " at best where " + show_number(k.needed) +
                                " is needed; what helps: " + k.advice + ".");
    }
    const SizeCandidate& largest = a_.candidates[*a_.largest];
    if (a_.stops_every.empty()) {
      out_ += wrapped("The largest  ", name(largest) + stopped(largest) + ".");
      if (!largest.remedy.empty()) out_ += wrapped("What helps   ", largest.remedy + ".");
    } else {
      out_ += wrapped("  ",
                      "No plank of this stock cures that: change it in the setup, then ask again.");
      if (a_.but_for) {
        out_ += wrapped("But for that  ", name(a_.candidates[*a_.but_for]) +
                                              " is the smallest that passes all other checks.");
      } else {
        out_ += wrapped("Even then     ", "the largest, " + name(largest) +
                                              ", is stopped by more: " + others(largest) + ".");
      }
    }
  }

  // What stops a candidate beside that which stops every one.
  [[nodiscard]] std::string others(const SizeCandidate& c) const {
    if (c.verdict == Verdict::no_verdict) return joined(c.reasons);
    for (const SizeCheck& f : c.failed) {
      const bool common = std::any_of(a_.stops_every.begin(), a_.stops_every.end(),
                                      [&](const SizeCheck& k) { return k.mode == f.mode; });
      if (!common) return "the " + words(f) + ", " + figures(f) + "; what helps: " + f.advice;
    }
    return "nothing";
  }

  void tried() {
    const std::size_t n = a_.candidates.size();
    const auto fit = std::count_if(a_.candidates.begin(), a_.candidates.end(),
                                   [](const SizeCandidate& c) { return c.fits(); });
    out_ += "\n" + wrapped("Tried  ", std::to_string(n) + (n == 1 ? " candidate" : " candidates") +
                                          ", of which " + std::to_string(fit) +
                                          " fit; stock: " + a_.market +
                                          ". Ledges, hold-downs and gear stay where the setup has "
                                          "them.");
    for (const std::string& r : a_.remarks) out_ += wrapped("       ", r + ".");
  }

  void table(LegPlan plan) {
    for (const std::string& wood : woods_) {
      bool any = false;
      for (const SizeCandidate& c : a_.candidates) {
        if (c.plan != plan || c.wood != wood || !c.fits()) continue;
        if (!any) {
          std::string heading = legs_of(c);
          if (heading[0] >= 'a' && heading[0] <= 'z') {
            heading[0] = static_cast<char>(heading[0] - 'a' + 'A');
          }
          out_ += "\n" + wrapped("", heading + ", " + wood);
          out_ += "    " + padded("size", size_column_) + "laid    limit factor need  " +
                  "nearest to giving way\n";
          any = true;
        }
        row(c);
      }
    }
  }

  void row(const SizeCandidate& c) {
    const bool none = c.verdict == Verdict::no_verdict;
    const bool figures = !none && c.worst.has_value();
    std::string lead = c.verdict == Verdict::holds      ? "ok  "
                       : c.verdict == Verdict::holds_if ? "if  "
                       : none                           ? "?   "
                                                        : "x   ";
    lead += padded(c.size, size_column_) + (c.on_edge ? "edge " : "flat ") + aligned(limit(c), 8);
    lead +=
        aligned(figures ? show_factor(c.worst->factor) + (c.failed.empty() ? " " : "!") : "- ", 7);
    lead += aligned(figures ? show_number(c.worst->needed) : "-", 5) + "  ";
    out_ += wrapped(lead, none      ? joined(c.reasons)
                          : c.worst ? c.worst->gives_way
                                    : "no check applies");
  }

  // Those that do not fit, by reason.
  void unfit() {
    std::vector<std::string> reasons;
    std::map<std::string, std::vector<std::string>> names;
    for (const SizeCandidate& c : a_.candidates) {
      if (c.fits()) continue;
      // Where legs make no difference they are not named.
      bool always = true;
      for (const SizeCandidate& o : a_.candidates) {
        const bool same = o.size == c.size && o.on_edge == c.on_edge && o.wood == c.wood;
        always = always && (!same || o.why_not == c.why_not);
      }
      std::string text = piece(c);
      if (woods_.size() > 1) text += " of " + c.wood;
      if (!always) text += " with " + std::string(word_for(c.plan));
      if (names.count(c.why_not) == 0) reasons.push_back(c.why_not);
      std::vector<std::string>& list = names[c.why_not];
      if (std::find(list.begin(), list.end(), text) == list.end()) list.push_back(text);
    }
    if (reasons.empty()) return;
    out_ += "\nDo not fit\n";
    for (const std::string& r : reasons) {
      std::string list;
      for (const std::string& n : names[r]) list += (list.empty() ? "" : ", ") + n;
      out_ += wrapped("  ", list + ": " + r);
    }
  }

  const Setup& s_;
  const SizeAnswer& a_;
  std::vector<LegPlan> plans_;
  std::vector<std::string> woods_;
  std::size_t size_column_ = 5;
  std::string out_;
};

SizeQuestion question_from(const SizeArguments& a) {
  SizeQuestion q;
  q.woods = a.woods;
  q.market = a.market;
  const auto choice = [](const char* option, const std::string& word,
                         const std::vector<std::string>& words) {
    if (word.empty()) return words.size();
    const auto it = std::find(words.begin(), words.end(), word);
    if (it != words.end()) return static_cast<std::size_t>(it - words.begin());
    std::string list;
    for (const std::string& w : words) list += (list.empty() ? "" : ", ") + w;
    const std::string near = nearest_spelling(word, words);
    throw Error(std::string(option) + ": \"" + word + "\" is none of " + list +
                (near.empty() ? "" : "; did you mean \"" + near + "\"?"));
  };
  const std::size_t laid = choice("--laid", a.laid, {"flat", "on_edge"});
  q.flat = laid != 1;
  q.on_edge = laid != 0;
  const std::size_t legs = choice("--legs", a.legs, {"none", "drawn", "below_gear"});
  const std::vector<LegPlan> plans{LegPlan::none, LegPlan::as_drawn, LegPlan::below_gear};
  if (legs < plans.size()) q.legs = {plans[legs]};
  if (!a.leg_length.empty()) {
    try {
      q.leg_length = parse<Length>(a.leg_length);
    } catch (const UnitError& e) {
      throw Error(std::string("--leg-length: ") + e.what());
    }
  }
  return q;
}

}  // namespace

int size(const SizeArguments& arguments) {
  return guarded([&] {
    const MaterialLibrary library = library_with(arguments.tables);
    const SizeQuestion question = question_from(arguments);
    const Setup setup = read_setup(read_file(arguments.setup), arguments.setup, library);
    const SizeAnswer answer = size_board(setup, question, library);
    say(SizeReport(setup, answer).write());
    return answer.smallest ? 0 : 1;
  });
}

}  // namespace thole::cli
