#include <algorithm>
#include <map>

#include <thole/display.hpp>
#include <thole/report.hpp>
#include <thole/sizing.hpp>

#include "report/json_writer.hpp"
#include "report/text.hpp"
#include "report/wording.hpp"

namespace thole {

namespace {

using text::aligned;
using text::joined;
using text::padded;
using text::printable;
using text::wrapped;

constexpr std::size_t most_rows = 8;

std::string in_words(const SizeCheck& k) {
  return k.gives_way + (k.where.empty() ? "" : " (" + k.where + ")");
}

std::string figures(const SizeCheck& k) {
  return "factor " + show_factor(k.factor) + " where " + show_number(k.needed) + " is needed" +
         (k.case_title.empty() ? "" : " (" + k.case_title + ")");
}

// Checks that cannot be made are counted by what is missing, not listed one by one.
std::string conditions(const SizeDesign& d) {
  const std::string mark = "\": not checked, ";
  std::vector<std::string> list;
  std::map<std::string, std::size_t> missing;
  for (const std::string& t : d.conditions) {
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
  constexpr std::size_t most = 4;
  if (list.size() > most) {
    const std::size_t more = list.size() - most;
    list.resize(most);
    list.push_back(std::to_string(more) + " more, see thole check");
  }
  return joined(list, "; ");
}

std::string grouped(std::size_t n) {
  std::string out = std::to_string(n);
  for (std::size_t i = out.size(); i > 3;) {
    i -= 3;
    out.insert(i, 1, ' ');
  }
  return out;
}

class SizeTable {
 public:
  SizeTable(const Setup& s, const SizeAnswer& a, bool details) : s_(s), a_(a), details_(details) {}

  std::string write() {
    out_ = wording::first_line(s_.title) + "\n";
    if (a_.stopped) {
      out_ += wrapped("", "STOPPED: not every design was looked at; this is the best so far.");
    }
    if (a_.lightest) {
      const bool one = a_.smallest->choice == a_.lightest->choice;
      answer(a_.stopped ? "Best so far that holds  "
             : one      ? "Smallest and lightest that holds  "
                        : "Smallest that holds  ",
             *a_.smallest);
      stops(one ? a_.below_lightest : a_.below_smallest, one);
      if (!one) {
        out_ += "\n";
        answer("Lightest that holds  ", *a_.lightest);
        stops(a_.below_lightest, true);
      }
      out_ += wrapped("", "Write it into the setup, then thole check tells all of it.");
    } else {
      nothing();
    }
    curve();
    space();
    out_ += "\n" + wrapped("", wording::deferral);
    return printable(out_);
  }

 private:
  [[nodiscard]] const std::string& option(const SizeDesign& d, std::size_t q) const {
    return a_.space[q].options[d.choice[q]];
  }
  [[nodiscard]] bool is_free(std::size_t q) const { return a_.space[q].options.size() > 1; }
  // One option only, and not that of the setup.
  [[nodiscard]] bool is_set(std::size_t q) const {
    const SizeQuantity& k = a_.space[q];
    return k.options.size() == 1 && !k.as_drawn.empty() && k.options.front() != k.as_drawn &&
           !k.options.front().starts_with("as drawn");
  }

  // What was chosen; what is fixed goes without saying.
  [[nodiscard]] std::string name(const SizeDesign& d) const {
    std::vector<std::string> list;
    for (std::size_t q = 0; q < a_.space.size(); ++q) {
      if (!is_free(q) && !is_set(q)) continue;
      const std::string& word = a_.space[q].word;
      const std::string& o = option(d, q);
      if (word == "laid" && !list.empty()) {
        list.back() += " " + o;
      } else if (word == "bolts") {
        list.push_back(o + (s_.on_board() ? " hold-downs" : ""));
      } else if (word == "washer" && s_.on_board()) {
        list.push_back("washers " + o);
      } else if (word == "ledge") {
        list.push_back("angles " + o);
      } else if (word == "spacing") {
        list.push_back("hold-downs " + o + " off the middle");
      } else if (word == "plate" || word == "behind" || word == "base") {
        list.push_back(a_.space[q].label + " " + o);
      } else if (word == "pattern") {
        list.push_back("holes " + o);
      } else {
        list.push_back(o);
      }
    }
    return list.empty() ? "as drawn" : joined(list);
  }

  [[nodiscard]] std::string limit(const SizeDesign& d) const {
    return d.hold_limit ? about(*d.hold_limit, s_.units, Rounding::down) : "-";
  }

  void answer(const std::string& lead, const SizeDesign& d) {
    out_ += wrapped(lead, name(d));
    const std::string verdict = "  " + wording::headline(d.verdict) + " ";
    out_ += d.verdict == Verdict::holds_if ? wrapped(verdict, conditions(d) + ".") : verdict + "\n";
    std::string text = show(d.mass, s_.units);
    if (d.hold_limit) text += "; hold limit " + limit(d) + ", any direction, full factors";
    if (d.worst) {
      text += "; nearest to giving way: the " + in_words(*d.worst) + ", " + figures(*d.worst);
    }
    out_ += wrapped("  ", text + ".");
    for (std::size_t q = 0; q < a_.space.size(); ++q) {
      if (a_.space[q].word == "legs" && option(d, q).starts_with("a leg below")) places(d);
    }
  }

  void places(const SizeDesign& d) {
    for (const Leg& l : d.legs) {
      const auto from = [&](Length v, const char* plus, const char* minus) {
        return show(abs(v), s_.units) + (v.value() < 0 ? minus : plus);
      };
      out_ += wrapped("  ", l.name + ": " + show(l.length, s_.units) + " long, its middle " +
                                from(l.place.outboard, " outboard", " inboard") +
                                " of the inner edge of the ledge and " +
                                from(l.place.forward, " forward", " aft") +
                                " of the middle line, " + show(l.fore_aft, s_.units) +
                                " along the boat, upright, its foot held.");
    }
  }

  // What stops a design.
  static std::string stopped(const SizeDesign& d) {
    if (!d.fits()) return "does not fit: " + d.why_not;
    if (d.holds()) return "holds as well";
    if (d.verdict == Verdict::no_verdict) {
      return "no verdict: " + (d.reasons.empty() ? std::string("not known") : d.reasons.front());
    }
    return d.failed.empty() ? "fails"
                            : "the " + in_words(d.failed.front()) + ", factor " +
                                  show_factor(d.failed.front().factor) + " of " +
                                  show_number(d.failed.front().needed);
  }

  void stops(const std::vector<SizeStep>& steps, bool by_weight) {
    if (steps.empty()) return;
    std::size_t column = 0;
    for (const SizeStep& s : steps) column = std::max(column, a_.space[s.quantity].word.size());
    out_ += by_weight ? "What stops the next lighter\n" : "What stops the next smaller\n";
    for (const SizeStep& s : steps) {
      const std::string lead = "  " + padded(a_.space[s.quantity].word, column + 2);
      out_ += s.down ? wrapped(lead, option(*s.down, s.quantity) + ": " + stopped(*s.down) + ".")
                     : wrapped(lead, by_weight ? "nothing lighter." : "nothing smaller.");
    }
  }

  void nothing() {
    if (!a_.nearest) {
      out_ += wording::headline(Verdict::no_verdict) + std::string("\n");
      if (a_.stopped) {
        out_ += wrapped("  ", "Nothing that holds was met so far.");
      } else {
        const std::string why = mostly();
        out_ += wrapped("  ", "Nothing of the space fits" + (why.empty() ? "." : ": " + why + "."));
      }
      return;
    }
    const SizeDesign& d = *a_.nearest;
    out_ += wording::headline(d.verdict) + std::string("\n");
    if (!d.fits() || d.verdict == Verdict::no_verdict) {
      out_ +=
          wrapped("  ", "No size can be named. The heaviest, " + name(d) + ": " + stopped(d) + ".");
      if (!d.remedy.empty()) out_ += wrapped("What helps  ", d.remedy + ".");
      return;
    }
    out_ += wrapped("  ", std::string(a_.stopped ? "Nothing that holds was met so far"
                                                 : "Nothing of the space holds") +
                              (a_.curve.empty() ? ". The heaviest: "
                                                : ". The one that holds most, " + limit(d) + ": ") +
                              name(d) + ".");
    constexpr std::size_t most = 3;
    for (std::size_t i = 0; i < d.failed.size(); ++i) {
      const SizeCheck& k = d.failed[i];
      const std::string lead(i == 0 ? "What stops it  " : "               ");
      if (i == most) {
        out_ += wrapped(lead, "and " + std::to_string(d.failed.size() - most) + " more");
        break;
      }
      out_ += wrapped(lead,
                      "the " + in_words(k) + ", " + figures(k) + "; what helps: " + k.advice + ".");
    }
  }

  // Why most of those that do not fit do not.
  [[nodiscard]] std::string mostly() const {
    const std::string mark = "does not fit: ";
    for (const SizeCount& c : a_.counts) {
      if (c.what.starts_with(mark)) return c.what.substr(mark.size());
    }
    return "";
  }

  // Of a long curve its ends and rows evenly between.
  [[nodiscard]] std::vector<std::size_t> rows() const {
    std::vector<std::size_t> out;
    const std::size_t n = a_.curve.size();
    const std::size_t most = details_ ? n : std::min(n, most_rows);
    for (std::size_t k = 0; k < most; ++k) {
      out.push_back(most < 2 ? 0 : (k * (n - 1) + (most - 1) / 2) / (most - 1));
    }
    return out;
  }

  void curve() {
    if (a_.curve.size() < 2) {
      if (a_.curve.size() == 1 && a_.curve_holds && !a_.stopped) {
        out_ += "\n" + wrapped("", "No more weight of this space buys a greater hold limit.");
      }
      return;
    }
    const std::vector<std::size_t> shown = rows();
    out_ += "\n";
    out_ += a_.curve_holds ? "What more weight buys" : "What weight buys (none of it holds)";
    if (shown.size() < a_.curve.size()) {
      out_ +=
          ", " + std::to_string(shown.size()) + " of " + std::to_string(a_.curve.size()) + " steps";
    }
    out_ += "\n     weight  hold limit  what is chosen, then what changes\n";
    const SizeDesign* before = nullptr;
    for (const std::size_t i : shown) {
      const SizeDesign& d = a_.curve[i];
      std::string what;
      for (std::size_t q = 0; before != nullptr && q < a_.space.size(); ++q) {
        if (d.choice[q] == before->choice[q]) continue;
        what += (what.empty() ? "" : ", ") + option(d, q);
      }
      if (before == nullptr) what = name(d);
      out_ +=
          wrapped("  " + aligned(show(d.mass, s_.units), 9) + aligned(limit(d), 12) + "  ", what);
      before = &d;
    }
  }

  void space() {
    std::string free;
    for (std::size_t i = 0; i < a_.space.size(); ++i) {
      const SizeQuantity& q = a_.space[i];
      if (!is_free(i) && !is_set(i)) continue;
      free += (free.empty() ? "" : ", ") + q.word + " " +
              (is_set(i) ? q.options.front() : std::to_string(q.options.size()));
    }
    out_ += "\n" + wrapped("Space   ", (free.empty() ? "nothing is free" : free) + ": " +
                                           grouped(a_.designs) + " designs" +
                                           (a_.market.empty() ? "" : "; stock: " + a_.market) +
                                           ". Fixed as drawn: " + fixed() + ".");
    const std::string why = mostly();
    std::string counts = grouped(a_.do_not_fit) + " do not fit" +
                         (why.empty() ? "" : " (mostly: " + why + ")") + ", " +
                         grouped(a_.ruled_out) + " ruled out by one load or distance, " +
                         grouped(a_.outweighed) + " no lighter and no stronger than another, " +
                         grouped(a_.assessed) + " assessed in full";
    if (!a_.counts.empty()) {
      counts += ". Most by: ";
      std::string most;
      for (std::size_t i = 0, named = 0; i < a_.counts.size() && named < 3; ++i) {
        if (a_.counts[i].what.starts_with("does not fit")) continue;
        most += (most.empty() ? "" : ", ") + a_.counts[i].what + " (" +
                grouped(a_.counts[i].designs) + ")";
        ++named;
      }
      counts = most.empty() ? counts.substr(0, counts.size() - 10) : counts + most;
    }
    out_ += wrapped("Looked  ", counts + ".");
    std::string weighed = a_.mass_of;
    if (!a_.not_weighed.empty()) weighed += "; not weighed: " + joined(a_.not_weighed);
    out_ += wrapped("Weighed ",
                    weighed +
                        "; plain shapes, densities of the tables (aluminium 2700, steel 7900 kg/m3 "
                        "where they have none).");
    if (details_) out_ += wrapped("Size    ", "by " + a_.section_of + ".");
    for (const std::string& r : a_.remarks) out_ += wrapped("Note    ", r + ".");
    if (!details_) return;
    for (const SizeQuantity& q : a_.space) {
      out_ +=
          wrapped("  " + padded(q.word, 9),
                  q.label + ": " + joined(q.options) +
                      (q.as_drawn.empty() || q.options.size() < 2 ? "" : "; drawn: " + q.as_drawn));
    }
    out_ += "Ruled out or failed\n";
    for (const SizeCount& c : a_.counts) {
      out_ += wrapped("  " + aligned(grouped(c.designs), 9) + "  ", c.what);
    }
  }

  // With what it is, where that is not in the list already.
  [[nodiscard]] std::string fixed() const {
    std::vector<std::string> list;
    for (std::size_t i = 0; i < a_.space.size(); ++i) {
      const SizeQuantity& q = a_.space[i];
      if (is_free(i) || is_set(i) || q.as_drawn.empty()) continue;
      const bool drawn = q.options.front().starts_with("as drawn");
      const std::string& is = drawn ? q.as_drawn : q.options.front();
      list.push_back((q.label == "alloy" ? q.label : q.word) +
                     (is == "as drawn" ? "" : " (" + is + ")"));
    }
    list.insert(list.end(), a_.fixed.begin(), a_.fixed.end());
    return joined(list);
  }

  const Setup& s_;
  const SizeAnswer& a_;
  const bool details_;
  std::string out_;
};

// ---- JSON
// ----------------------------------------------------------------------------------------

void write_check(Json& j, const SizeCheck& k) {
  j.open('{');
  j.key("mode").text(k.mode);
  j.key("gives_way").text(k.gives_way);
  j.key("where").text(k.where);
  j.key("case").text(k.case_title);
  j.key("factor").number(k.factor);
  j.key("needed").number(k.needed);
  j.key("advice").text(k.advice);
  j.close('}');
}

void write_design(Json& j, const SizeAnswer& a, const SizeDesign& d) {
  j.open('{');
  j.key("choice").open('{');
  for (std::size_t q = 0; q < a.space.size(); ++q) {
    j.key(a.space[q].word.c_str()).text(a.space[q].options[d.choice[q]]);
  }
  j.close('}');
  j.key("mass_kg").number(d.mass.value());
  j.key("section_m2").number(d.section.value());
  j.key("why_not").text(d.why_not);
  j.key("verdict").text(std::string(word_for(d.verdict)));
  j.key("holds_if").texts(d.conditions);
  j.key("reasons").texts(d.reasons);
  j.key("hold_limit_n").maybe(d.hold_limit);
  j.key("worst");
  if (d.worst) {
    write_check(j, *d.worst);
  } else {
    j.null();
  }
  j.key("failed").open('[');
  for (const SizeCheck& k : d.failed) write_check(j, k);
  j.close(']');
  j.key("legs").open('[');
  for (const Leg& l : d.legs) {
    j.open('{');
    j.key("name").text(l.name);
    j.key("side").text(std::string(word_for(l.place.side)));
    j.key("outboard_m").number(l.place.outboard.value());
    j.key("forward_m").number(l.place.forward.value());
    j.key("length_m").number(l.length.value());
    j.key("fore_aft_m").number(l.fore_aft.value());
    j.key("athwart_m").number(l.athwart.value());
    j.close('}');
  }
  j.close(']');
  j.close('}');
}

void write_maybe(Json& j, const SizeAnswer& a, const std::optional<SizeDesign>& d) {
  if (d) {
    write_design(j, a, *d);
  } else {
    j.null();
  }
}

void write_steps(Json& j, const SizeAnswer& a, const std::vector<SizeStep>& steps) {
  j.open('[');
  for (const SizeStep& s : steps) {
    j.open('{');
    j.key("quantity").text(a.space[s.quantity].word);
    j.key("down");
    write_maybe(j, a, s.down);
    j.close('}');
  }
  j.close(']');
}

}  // namespace

std::string size_table(const Setup& setup, const SizeAnswer& answer, bool details) {
  return SizeTable(setup, answer, details).write();
}

std::string size_json(const Setup& s, const SizeAnswer& a) {
  Json j;
  j.open('{');
  j.key("format").integer(report_format);
  j.key("program").text("thole " + version());
  write_build(j);
  j.key("title").text(s.title);
  j.key("file").text(s.file);
  j.key("stopped").yes_no(a.stopped);
  j.key("space").open('[');
  for (const SizeQuantity& q : a.space) {
    j.open('{');
    j.key("word").text(q.word);
    j.key("what").text(q.label);
    j.key("options").texts(q.options);
    j.key("as_drawn").text(q.as_drawn);
    j.close('}');
  }
  j.close(']');
  j.key("fixed").texts(a.fixed);
  j.key("remarks").texts(a.remarks);
  j.key("market").text(a.market);
  j.key("section_of").text(a.section_of);
  j.key("mass_of").text(a.mass_of);
  j.key("not_weighed").texts(a.not_weighed);
  j.key("designs").integer(long(a.designs));
  j.key("do_not_fit").integer(long(a.do_not_fit));
  j.key("ruled_out").integer(long(a.ruled_out));
  j.key("outweighed").integer(long(a.outweighed));
  j.key("assessed").integer(long(a.assessed));
  j.key("counts").open('[');
  for (const SizeCount& c : a.counts) {
    j.open('{');
    j.key("what").text(c.what);
    j.key("designs").integer(long(c.designs));
    j.close('}');
  }
  j.close(']');
  j.key("smallest");
  write_maybe(j, a, a.smallest);
  j.key("lightest");
  write_maybe(j, a, a.lightest);
  j.key("below_smallest");
  write_steps(j, a, a.below_smallest);
  j.key("below_lightest");
  write_steps(j, a, a.below_lightest);
  j.key("curve_holds").yes_no(a.curve_holds);
  j.key("curve").open('[');
  for (const SizeDesign& d : a.curve) write_design(j, a, d);
  j.close(']');
  j.key("nearest");
  write_maybe(j, a, a.nearest);
  j.key("deferral").text(wording::deferral);
  j.close('}');
  return j.take();
}

}  // namespace thole
