#include <thole/sweep.hpp>

#include <algorithm>
#include <cmath>
#include <utility>

#include <thole/display.hpp>
#include <thole/error.hpp>
#include <thole/report.hpp>

#include "report/json_writer.hpp"
#include "report/text.hpp"
#include "report/wording.hpp"

namespace thole {
namespace {

using text::aligned;
using text::padded;
using text::plain;
using text::wrapped;

const char* mark(Verdict v) {
  switch (v) {
    case Verdict::holds:
      return "[ok]";
    case Verdict::holds_if:
      return "[if]";
    case Verdict::does_not_hold:
      return "[x]";
    case Verdict::no_verdict:
      return "[?]";
  }
  throw InternalError("a verdict without a mark");
}

constexpr const char* marks =
    "[ok] holds  [if] holds if  [x] does not hold  [?] no verdict  > as drawn";

bool has_figures(const SweepPoint& p) { return p.worth && p.worth->verdict != Verdict::no_verdict; }

std::string ratio_words(const Worth& w) {
  return w.verdict == Verdict::no_verdict ? "-" : show_factor(w.ratio);
}

std::string limit_words(const std::optional<Force>& f, ReaderUnits u) {
  return f ? about(*f, u, Rounding::down) : "-";
}

std::string heading(const Setup& s) { return wording::first_line(s.title) + "\n"; }

// Cut to a column; a long word is told whole elsewhere.
std::string cut(const std::string& t, std::size_t to) {
  return text::width(t) <= to ? t : plain(t, to > 3 ? to - 3 : to);
}

// ---- A sweep
// -------------------------------------------------------------------------------------

struct Row {
  const SweepPoint* point = nullptr;
  bool drawn = false;
};

// The setup as drawn at its place among the values, or first.
std::vector<Row> rows_of(const SweepAnswer& a) {
  std::vector<Row> out;
  for (std::size_t i = 0; i < a.points.size(); ++i) {
    out.push_back({&a.points[i], a.drawn_at == i});
  }
  if (a.drawn_at) return out;
  std::size_t place = 0;
  if (a.as_drawn.plots) {
    const bool down = out.size() > 1 && out.front().point->plots && out.back().point->plots &&
                      *out.back().point->plots < *out.front().point->plots;
    while (place < out.size() && out[place].point->plots &&
           (down ? *out[place].point->plots > *a.as_drawn.plots
                 : *out[place].point->plots < *a.as_drawn.plots)) {
      ++place;
    }
  }
  out.insert(out.begin() + std::ptrdiff_t(place), Row{&a.as_drawn, true});
  return out;
}

// Mount or boat, whichever allows less.
std::optional<Force> setting_of(const SweepPoint& p, bool& by_boat) {
  by_boat = false;
  if (!has_figures(p)) return std::nullopt;
  std::optional<Force> out = p.worth->setting;
  if (p.boat_setting && out && *p.boat_setting < *out) {
    out = p.boat_setting;
    by_boat = true;
  }
  return out;
}

class SweepTable {
 public:
  SweepTable(const Setup& s, const SweepAnswer& a) : s_(s), a_(a), u_(s.units), rows_(rows_of(a)) {}

  std::string write() {
    out_ = heading(s_);
    std::string of = plain(a_.label) + ": " + plain(text::joined(a_.paths));
    if (a_.points.size() > 1) of += ", " + std::to_string(a_.points.size()) + " values";
    out_ += wrapped("Sweep of  ", of + "; as drawn " + plain(a_.as_drawn.value));
    if (a_.points.empty() || a_.points.front().written != a_.points.front().value) {
      out_ += wrapped("          ", plain(a_.what) + "; written into the file with the other sign");
    }
    table();
    bars();
    reasons();
    notes();
    return text::printable(out_);
  }

 private:
  void table() {
    const bool gap = std::any_of(rows_.begin(), rows_.end(),
                                 [](const Row& r) { return r.point->cable_gap.has_value(); });
    std::size_t wide = 6;
    for (const Row& r : rows_) wide = std::max(wide, text::width(plain(r.point->value)));
    wide = std::min<std::size_t>(wide, gap ? 14 : 20);
    std::string head =
        "  " + padded("value", wide) + "        worst      hold            first goes";
    std::string second = "  " + padded("", wide) + "       /needed     limit   setting  not before";
    if (gap) {
      head += "  cable";
      second += "    gap";
    }
    out_ += "\n" + head + "\n" + second + "  what\n";
    bool boat = false;
    for (const Row& r : rows_) {
      const SweepPoint& p = *r.point;
      std::string line = r.drawn ? "> " : "  ";
      line += padded(cut(plain(p.value), wide), wide) + " ";
      line += padded(p.worth ? mark(p.worth->verdict) : "[-]", 5);
      bool by_boat = false;
      const auto setting = setting_of(p, by_boat);
      boat = boat || by_boat;
      line += aligned(p.worth ? ratio_words(*p.worth) : "-", 8);
      line += aligned(has_figures(p) ? limit_words(p.worth->hold_limit, u_) : "-", 10);
      line += aligned(limit_words(setting, u_) + (by_boat ? "*" : ""), 10);
      line += aligned(has_figures(p) ? limit_words(p.not_before, u_) : "-", 11);
      if (gap) line += aligned(p.cable_gap ? bare(*p.cable_gap) : "-", 8);
      line += "  " + what(p, text::columns - text::width(line) - 2);
      out_ += trimmed(line) + "\n";
    }
    out_ += wrapped("", marks);
    if (boat)
      out_ += wrapped("", "* the boat's heel allows no more (a comparison, no stability check)");
    legend();
    if (gap) {
      out_ += wrapped("Cable gap  ", a_.cable + ".");
    } else if (!a_.cable.empty()) {
      out_ += wrapped("Cable to hull  ", a_.cable + ".");
    }
  }

  // What goes first by a letter, told below.
  std::string what(const SweepPoint& p, std::size_t) {
    if (!p.why_not.empty()) return "see below";
    if (!has_figures(p)) return "";
    const std::string& w = p.first.empty() ? p.worth->gives_way : p.first;
    if (w.empty()) return "";
    const auto at = std::find(whats_.begin(), whats_.end(), w);
    const auto n = std::size_t(at - whats_.begin());
    if (at == whats_.end()) whats_.push_back(w);
    return n < 26 ? std::string(1, static_cast<char>('a' + n)) : std::to_string(n + 1);
  }

  void legend() {
    for (std::size_t i = 0; i < whats_.size(); ++i) {
      const std::string letter =
          i < 26 ? std::string(1, static_cast<char>('a' + i)) : std::to_string(i + 1);
      out_ += wrapped("  " + letter + "  ", plain(whats_[i]));
    }
  }

  // The curve, lying on its side.
  void bars() {
    if (rows_.size() < 3 || rows_.size() > 40) return;
    double most = 0;
    double least = 1e300;
    for (const Row& r : rows_) {
      if (has_figures(*r.point) && r.point->worth->hold_limit) {
        most = std::max(most, r.point->worth->hold_limit->value());
        least = std::min(least, r.point->worth->hold_limit->value());
      }
    }
    if (!(most > 1.02 * least)) return;  // flat, as of a brake: it says nothing
    std::size_t wide = 6;
    for (const Row& r : rows_) wide = std::max(wide, text::width(plain(r.point->value)));
    wide = std::min<std::size_t>(wide, 20);
    out_ += "\nHold limit\n";
    const std::size_t room = text::columns - wide - 14;
    for (const Row& r : rows_) {
      const SweepPoint& p = *r.point;
      std::string line = r.drawn ? "> " : "  ";
      line += padded(cut(plain(p.value), wide), wide) + " |";
      if (has_figures(p) && p.worth->hold_limit) {
        const double share = p.worth->hold_limit->value() / most;
        line += std::string(std::size_t(std::floor(share * double(room))), '#') + " " +
                limit_words(p.worth->hold_limit, u_);
      } else {
        line += " -";
      }
      out_ += line + "\n";
    }
  }

  void reasons() {
    std::vector<std::pair<std::string, std::string>> said;  // values, why
    for (const Row& r : rows_) {
      const SweepPoint& p = *r.point;
      std::string why = p.why_not;
      if (why.empty() && p.worth && p.worth->verdict == Verdict::no_verdict) {
        why = text::joined(p.worth->reasons, "; ");
      }
      if (why.empty()) continue;
      if (said.empty() || said.back().second != why) {
        said.emplace_back(plain(p.value), why);
      } else {
        said.back().first += ", " + plain(p.value);
      }
    }
    if (!said.empty()) out_ += "\nWithout figures\n";
    for (const auto& [values, why] : said) out_ += wrapped("  ", values + ": " + plain(why));
  }

  void notes() {
    out_ += "\n";
    if (a_.stopped) out_ += wrapped("", "Stopped on the way: some values were not looked at.");
    // What stands in brackets are figures of one row.
    const auto without_figures = [](const std::string& c) { return c.substr(0, c.find(" (")); };
    std::vector<std::string> conditions;
    for (const Row& r : rows_) {
      if (!r.point->worth) continue;
      for (const std::string& condition : r.point->worth->conditions) {
        const std::string c = without_figures(condition);
        if (std::find(conditions.begin(), conditions.end(), c) == conditions.end()) {
          conditions.push_back(c);
        }
      }
    }
    if (!conditions.empty())
      out_ += wrapped("[if]  ", "in some rows or all: " + plain(text::joined(conditions, "; ")));
    out_ += wrapped("",
                    "Worst: the least factor over the factor needed; limits at full factors, the "
                    "least of all gears. A row is no report: put the value you want into the file, "
                    "then thole check tells all of it.");
    out_ += wrapped("", wording::deferral);
  }

  [[nodiscard]] std::string bare(Length v) const {
    return u_ == ReaderUnits::inch ? show_number(std::round(v.value() / 0.0254 * 10) / 10) + " in"
                                   : show_number(std::round(v.value() * 1000)) + " mm";
  }

  static std::string trimmed(std::string t) {
    while (!t.empty() && t.back() == ' ') t.pop_back();
    return t;
  }

  const Setup& s_;
  const SweepAnswer& a_;
  ReaderUnits u_;
  std::vector<Row> rows_;
  std::vector<std::string> whats_;
  std::string out_;
};

void number_or_null(Json& j, const std::optional<double>& v) {
  if (v && std::isfinite(*v)) {
    j.number(*v);
  } else {
    j.null();
  }
}

std::optional<double> ratio_of(const SweepPoint& p) {
  return has_figures(p) ? std::optional(p.worth->ratio) : std::nullopt;
}

std::optional<Force> limit_of(const SweepPoint& p) {
  return has_figures(p) ? p.worth->hold_limit : std::nullopt;
}

std::string verdict_of(const SweepPoint& p) {
  return p.worth ? std::string(word_for(p.worth->verdict)) : std::string();
}

void write_point(Json& j, const SweepPoint& p) {
  j.open('{');
  j.key("value").text(p.value);
  j.key("written").text(p.written);
  j.key("x");
  number_or_null(j, p.plots);
  j.key("verdict").text(verdict_of(p));
  j.key("factor_over_needed");
  number_or_null(j, ratio_of(p));
  j.key("gives_way").text(p.worth ? p.worth->gives_way : std::string());
  j.key("hold_limit_N").maybe(limit_of(p));
  j.key("setting_N").maybe(has_figures(p) ? p.worth->setting : std::optional<Force>());
  j.key("boat_setting_N").maybe(p.boat_setting);
  j.key("not_before_about_N").maybe(has_figures(p) ? p.not_before : std::optional<Force>());
  j.key("first_to_go").text(p.first);
  j.key("cable_gap_m").maybe(p.cable_gap);
  j.key("why_not").text(p.why_not);
  j.key("holds_if").texts(p.worth ? p.worth->conditions : std::vector<std::string>{});
  j.key("reasons").texts(p.worth ? p.worth->reasons : std::vector<std::string>{});
  j.close('}');
}

template <class Of>
void column(Json& j, const char* name, const SweepAnswer& a, Of write) {
  j.key(name).open('[');
  for (const SweepPoint& p : a.points) write(p);
  j.close(']');
}

}  // namespace

std::string sweep_table(const Setup& setup, const SweepAnswer& answer) {
  return SweepTable(setup, answer).write();
}

std::string sweep_json(const Setup& s, const SweepAnswer& a) {
  Json j;
  j.open('{');
  j.key("thole").text(version());
  write_build(j);
  j.key("sweep_format").integer(1);
  j.key("title").text(s.title);
  j.key("file").text(s.file);
  j.key("of").text(a.of);
  j.key("label").text(a.label);
  j.key("paths").texts(a.paths);
  j.key("unit").text(a.unit);
  j.key("stopped").yes_no(a.stopped);
  j.key("cable").text(a.cable);
  j.key("as_drawn");
  write_point(j, a.as_drawn);
  j.key("drawn_at");
  if (a.drawn_at) {
    j.integer(long(*a.drawn_at));
  } else {
    j.null();
  }
  // One list for each curve, item for item.
  j.key("plot").open('{');
  column(j, "x", a, [&](const SweepPoint& p) { number_or_null(j, p.plots); });
  column(j, "factor_over_needed", a, [&](const SweepPoint& p) { number_or_null(j, ratio_of(p)); });
  column(j, "factor_over_needed_under_load", a, [&](const SweepPoint& p) {
    number_or_null(j, has_figures(p) ? p.loaded_ratio : std::nullopt);
  });
  column(j, "hold_limit_N", a, [&](const SweepPoint& p) { j.maybe(limit_of(p)); });
  column(j, "setting_N", a, [&](const SweepPoint& p) {
    j.maybe(has_figures(p) ? p.worth->setting : std::optional<Force>());
  });
  column(j, "boat_setting_N", a, [&](const SweepPoint& p) { j.maybe(p.boat_setting); });
  column(j, "not_before_about_N", a, [&](const SweepPoint& p) {
    j.maybe(has_figures(p) ? p.not_before : std::optional<Force>());
  });
  column(j, "cable_gap_m", a, [&](const SweepPoint& p) { j.maybe(p.cable_gap); });
  j.close('}');
  // The same for each gear, where they are told apart.
  j.key("gears").open('[');
  std::vector<std::string> names;
  for (const SweepPoint& p : a.points) {
    for (const GearLimit& l : p.gear_limits) {
      if (std::find(names.begin(), names.end(), l.gear) == names.end()) names.push_back(l.gear);
    }
  }
  for (const std::string& name : names) {
    const auto of = [&](const SweepPoint& p) -> const GearLimit* {
      for (const GearLimit& l : p.gear_limits) {
        if (l.gear == name) return &l;
      }
      return nullptr;
    };
    j.open('{');
    j.key("gear").text(name);
    column(j, "hold_limit_N", a, [&](const SweepPoint& p) {
      const GearLimit* l = of(p);
      j.maybe(l != nullptr && has_figures(p) ? l->hold_limit : std::optional<Force>());
    });
    column(j, "setting_N", a, [&](const SweepPoint& p) {
      const GearLimit* l = of(p);
      j.maybe(l != nullptr && has_figures(p) ? l->setting : std::optional<Force>());
    });
    column(j, "not_before_about_N", a, [&](const SweepPoint& p) {
      const GearLimit* l = of(p);
      j.maybe(l != nullptr && has_figures(p) ? l->not_before : std::optional<Force>());
    });
    j.close('}');
  }
  j.close(']');
  j.key("points").open('[');
  for (const SweepPoint& p : a.points) write_point(j, p);
  j.close(']');
  j.key("deferral").text(wording::deferral);
  j.close('}');
  return j.take();
}

// ---- Which inputs decide
// -------------------------------------------------------------------------

namespace {

constexpr std::size_t most_in_full = 12;
constexpr double nothing_lost = 0.0005;

std::string change_words(const InputEffect& e) {
  if (e.worth.verdict == Verdict::no_verdict) return "no verdict";
  if (std::abs(e.change) < nothing_lost) return "no change";
  const double percent = std::round(e.change * 100);
  if (percent == 0) return e.change < 0 ? "under 1 % less" : "under 1 % more";
  return show_number(std::abs(percent)) + " % " + (percent < 0 ? "less" : "more");
}

class InputTable {
 public:
  InputTable(const Setup& s, const InputAnswer& a) : s_(s), a_(a) {}

  std::string write() {
    out_ = heading(s_);
    drawn();
    if (a_.as_drawn.verdict == Verdict::no_verdict) {
      out_ += "\n" + wrapped("",
                             "Nothing is tried: without a verdict as drawn there is nothing to "
                             "compare. See to the reasons first, then ask again.");
      out_ += "\n" + wrapped("", wording::deferral);
      return text::printable(out_);
    }
    deciding();
    always();
    others();
    not_tried();
    last();
    return text::printable(out_);
  }

 private:
  void drawn() {
    const Worth& w = a_.as_drawn;
    out_ += wording::headline(w.verdict) + "  as drawn\n";
    if (w.verdict == Verdict::no_verdict) {
      for (const std::string& r : w.reasons) out_ += wrapped("  because ", plain(r));
      return;
    }
    out_ += wrapped("Worst  ", "factor " + show_factor(w.factor) + " where " +
                                   show_number(w.needed) + " is needed, " + show_factor(w.ratio) +
                                   " of it: " + plain(w.gives_way));
    if (a_.loaded.ratio > w.ratio) {
      out_ += wrapped("Under load  ", "that is a distance; of the checks under load " +
                                          show_factor(a_.loaded.ratio) + ": " +
                                          plain(a_.loaded.gives_way));
    }
    if (w.verdict == Verdict::holds_if && !w.conditions.empty()) {
      out_ += wrapped("If  ", plain(text::joined(w.conditions, "; ")));
    }
    out_ += wrapped("",
                    "Each input by itself at the bad end of what it may be; ratios are the "
                    "least factor over the factor needed. How far off an input may be is "
                    "judgement, said in each row.");
  }

  void row(const InputEffect& e) {
    std::string known = e.is_input ? " (" + std::string(word_for(e.known)) + ")" : "";
    out_ += wrapped(e.decides ? "! " : "  ",
                    plain(e.label) + "  " + plain(e.value) + known + "  ->  " + plain(e.tried));
    std::string then = show_factor(e.before) + " -> " +
                       (e.worth.verdict == Verdict::no_verdict ? "-" : show_factor(e.after)) +
                       ", " + change_words(e) + "  " + mark(e.worth.verdict);
    if (e.worth.verdict == Verdict::no_verdict) {
      then += " " + text::joined(e.worth.reasons, "; ");
    } else if (!e.gives_way.empty()) {
      then += " " + e.gives_way;
    }
    out_ += wrapped("      ", plain(then));
    out_ += wrapped("      ", "tried because: " + plain(e.why_tried));
  }

  void deciding() {
    std::size_t n = 0;
    for (const InputEffect& e : a_.effects) n += e.decides && e.is_input ? 1 : 0;
    out_ += "\n";
    if (n == 0) {
      out_ += wrapped("",
                      "No input decides: none by itself turns the verdict or takes more than a "
                      "tenth.");
      return;
    }
    out_ += "Decide: they turn the verdict or take more than a tenth\n";
    for (const InputEffect& e : a_.effects) {
      if (e.decides && e.is_input) row(e);
    }
  }

  void always() {
    out_ += "\nAlways shown\n";
    bool wall = false;
    for (const InputEffect& e : a_.effects) {
      if (e.is_input) {
        // An assumed wall is tried so as an input.
        const bool thinner = e.tried.find("common wall") != std::string::npos;
        wall = wall || thinner;
        if (thinner && !e.decides) row(e);
        continue;
      }
      wall = wall || e.label.starts_with("next thinner wall");
      row(e);
    }
    for (const InputNotTried& n : a_.not_tried) {
      if (!n.label.starts_with("next thinner wall")) continue;
      wall = true;
      out_ += wrapped("  ", plain(n.label) + ": " + plain(n.why));
    }
    if (!wall) out_ += "  next thinner wall: there is no metal wall here\n";
  }

  void others() {
    std::size_t told = 0;
    std::string none;
    std::size_t better = 0;
    std::string small;
    for (const InputEffect& e : a_.effects) {
      if (e.decides || !e.is_input || e.tried.find("common wall") != std::string::npos) continue;
      if (std::abs(e.change) < nothing_lost) {
        none += (none.empty() ? "" : ", ") + e.label;
      } else if (told < most_in_full && e.change < 0) {
        if (told++ == 0) out_ += "\nTake less than a tenth\n";
        out_ += wrapped("  ", plain(e.label) + "  " + plain(e.value) + " (" +
                                  std::string(word_for(e.known)) + ")  ->  " + plain(e.tried) +
                                  ": " + change_words(e));
      } else {
        small += (small.empty() ? "" : ", ") + e.label;
        ++better;
      }
    }
    if (better > 0) out_ += "\n" + wrapped("Take still less, or help  ", plain(small));
    if (!none.empty()) out_ += "\n" + wrapped("Take nothing  ", plain(none));
  }

  void not_tried() {
    if (a_.not_tried.empty()) return;
    out_ += "\nNot tried\n";
    std::vector<std::string> whys;
    for (const InputNotTried& n : a_.not_tried) {
      if (n.label.starts_with("next thinner wall")) continue;
      if (std::find(whys.begin(), whys.end(), n.why) == whys.end()) whys.push_back(n.why);
    }
    for (const std::string& why : whys) {
      std::string labels;
      for (const InputNotTried& n : a_.not_tried) {
        if (n.why == why && !n.label.starts_with("next thinner wall")) {
          labels += (labels.empty() ? "" : ", ") + n.label;
        }
      }
      out_ += wrapped("  ", plain(labels) + ": " + plain(why));
    }
  }

  void last() {
    out_ += "\n";
    if (a_.stopped) out_ += wrapped("", "Stopped on the way: some were not looked at.");
    const bool any = std::any_of(a_.effects.begin(), a_.effects.end(),
                                 [](const InputEffect& e) { return e.decides && e.is_input; });
    if (a_.measure_first.empty() && !any) {
      out_ += wrapped("Measure first  ",
                      std::string("none by itself decides.") +
                          (a_.as_drawn.verdict == Verdict::holds_if
                               ? " What it holds if stays assumed until somebody measures it: "
                                 "it may be off by more than was tried."
                               : ""));
    } else if (a_.measure_first.empty()) {
      out_ += wrapped("Measure first  ",
                      "no assumed input decides; what decides is measured or "
                      "tagged, so measure it again with care.");
    } else {
      out_ += wrapped("Measure first  ",
                      plain(text::joined(a_.measure_first)) + ": assumed, and it decides.");
    }
    out_ += wrapped("", "One input at a time: several that are off together may take more.");
    out_ += wrapped("", wording::deferral);
  }

  const Setup& s_;
  const InputAnswer& a_;
  std::string out_;
};

void write_worth(Json& j, const Worth& w) {
  const bool figures = w.verdict != Verdict::no_verdict;
  j.open('{');
  j.key("verdict").text(std::string(word_for(w.verdict)));
  j.key("factor_over_needed");
  number_or_null(j, figures ? std::optional(w.ratio) : std::nullopt);
  j.key("factor");
  number_or_null(j, figures ? std::optional(w.factor) : std::nullopt);
  j.key("needed");
  number_or_null(j, figures ? std::optional(w.needed) : std::nullopt);
  j.key("gives_way").text(w.gives_way);
  j.key("hold_limit_N").maybe(figures ? w.hold_limit : std::optional<Force>());
  j.key("setting_N").maybe(figures ? w.setting : std::optional<Force>());
  j.key("holds_if").texts(w.conditions);
  j.key("reasons").texts(w.reasons);
  j.close('}');
}

}  // namespace

std::string input_table(const Setup& setup, const InputAnswer& answer) {
  return InputTable(setup, answer).write();
}

std::string input_json(const Setup& s, const InputAnswer& a) {
  Json j;
  j.open('{');
  j.key("thole").text(version());
  write_build(j);
  j.key("inputs_format").integer(1);
  j.key("title").text(s.title);
  j.key("file").text(s.file);
  j.key("stopped").yes_no(a.stopped);
  j.key("as_drawn");
  write_worth(j, a.as_drawn);
  j.key("as_drawn_under_load");
  write_worth(j, a.loaded);
  j.key("effects").open('[');
  for (const InputEffect& e : a.effects) {
    j.open('{');
    j.key("label").text(e.label);
    j.key("paths").texts(e.paths);
    j.key("is_input").yes_no(e.is_input);
    j.key("value").text(e.value);
    j.key("known").text(e.is_input ? std::string(word_for(e.known)) : std::string());
    j.key("tried").text(e.tried);
    j.key("why_tried").text(e.why_tried);
    j.key("before").number(e.before);
    j.key("after").number(e.after);
    j.key("gives_way").text(e.gives_way);
    j.key("change").number(e.change);
    j.key("decides").yes_no(e.decides);
    j.key("then");
    write_worth(j, e.worth);
    j.close('}');
  }
  j.close(']');
  j.key("not_tried").open('[');
  for (const InputNotTried& n : a.not_tried) {
    j.open('{');
    j.key("label").text(n.label);
    j.key("paths").texts(n.paths);
    j.key("why").text(n.why);
    j.close('}');
  }
  j.close(']');
  j.key("measure_first").texts(a.measure_first);
  j.key("deferral").text(wording::deferral);
  j.close('}');
  return j.take();
}

}  // namespace thole
