// What clears, is close and hits: `thole fit`, its JSON, and the line in `thole check`.

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include <thole/report.hpp>
#include <thole/setup.hpp>

#include "report/json_writer.hpp"
#include "report/text.hpp"
#include "report/wording.hpp"

namespace thole {
namespace {

using text::plain;
using text::wrapped;

constexpr std::size_t longest_name = 30;

// As a tape is read: whole millimetres, eighths of an inch.
std::string tape(Length v, ReaderUnits u) {
  if (u == ReaderUnits::metric) {
    const double mm = std::round(v.value() * 1000);
    return fmt::format("{:.0f} mm", mm == 0 ? 0.0 : mm);
  }
  const double eighths = std::round(v.value() / 0.0254 * 8);
  const Length rounded = std::abs(eighths) * 0.0254 / 8 * si::metre;
  return (eighths < 0 ? "-" : "") + (eighths == 0 ? std::string("0 in") : show(rounded, u));
}

// "370 mm forward of the transom, 800 mm to port".
std::string place(const FitPoint& p, ReaderUnits u) {
  const auto size = [&](Length v) { return tape(Length(abs(v)), u); };
  const std::string none = tape(Length{}, u);
  const std::string along =
      size(p.x) == none
          ? "at the transom"
          : size(p.x) + (p.x.value() < 0 ? " aft of" : " forward of") + " the transom";
  const std::string across = size(p.y) == none
                                 ? "on the middle line"
                                 : size(p.y) + (p.y.value() < 0 ? " to port" : " to starboard");
  return along + ", " + across;
}

std::string mark(Clear c) { return c == Clear::hits ? "x" : c == Clear::close ? "!" : "."; }

// An overlap: how deep; else the distance.
std::string distance_of(const FitRow& r, ReaderUnits u) {
  if (r.rule == FitRule::keep_clear && r.distance.value() < 0) {
    return tape(Length(-r.distance), u) + " deep";
  }
  return tape(r.distance, u);
}

std::string wanted_of(const FitRow& r, ReaderUnits u) {
  const bool most = r.rule == FitRule::reach;
  return (most ? "<= " : "") + tape(r.wanted, u) + (r.wanted_given ? "*" : "");
}

std::string two(const std::string& one, const std::string& other) {
  return plain(one, 60) + " - " + plain(other, 60);
}

struct Counts {
  std::ptrdiff_t hits = 0;
  std::ptrdiff_t close = 0;
  std::ptrdiff_t clear = 0;
};
Counts counts_of(const FitAnswer& a) {
  Counts n;
  for (const FitRow& r : a.rows) {
    (r.clear == Clear::hits ? n.hits : r.clear == Clear::close ? n.close : n.clear) += 1;
  }
  return n;
}

class FitTable {
 public:
  FitTable(const Setup& s, const FitAnswer& a) : s_(s), a_(a), u_(s.units) {}

  std::string write() {
    out_ = wording::first_line(s_.title);
    headline();
    table();
    advice();
    if (!a_.not_looked_at.empty()) {
      std::vector<std::string> list;
      for (const std::string& t : a_.not_looked_at) list.push_back(plain(t, longest_name + 30));
      out_ += "\n" + wrapped("Not described  ", text::joined(list, "; ") +
                                                    "; what the boat does not have goes under "
                                                    "fit.none");
    }
    out_ += "\n" + wrapped("", sources());
    out_ += wrapped("",
                    "Seen from above, with heights where they are given; everything that swings "
                    "in all its positions at once. No figure of this counts for the verdict of "
                    "thole check.");
    out_ += wrapped("", wording::deferral);
    return out_;
  }

 private:
  void headline() {
    const auto [hits, close, clear] = counts_of(a_);
    std::string t = hits > 0
                        ? fmt::format("[x] {} {}", hits, hits == 1 ? "does not fit" : "do not fit")
                        : std::string("[ok] NOTHING HITS of what is described");
    if (close > 0) t += fmt::format("; {} close", close);
    if (clear > 0) t += fmt::format("; {} clear", clear);
    out_ += t + "\n";
  }

  void table() {
    if (a_.rows.empty()) return;
    out_ += fmt::format("\n  {:<10}{:<39}{:>15}{:>13}\n", "", "what - against what", "distance",
                        "wanted");
    for (const FitRow& r : a_.rows) {
      const std::string pair = two(r.one, r.other);
      const bool fits = text::width(pair) <= 38;
      const std::string lead = fmt::format("{} {:<10}", mark(r.clear), word_for(r));
      const std::string figures = fmt::format("{:>15}{:>13}", distance_of(r, u_), wanted_of(r, u_));
      if (fits) {
        out_ += lead + text::padded(pair, 39) + figures + "\n";
      } else {
        out_ += lead + text::padded(plain(r.one, 34) + " -", 39) + figures + "\n" +
                wrapped("            ", plain(r.other, 60));
      }
      if (r.clear == Clear::clear && r.note.empty()) continue;
      std::string more = r.clear == Clear::clear ? "" : place(r.at, u_);
      if (!r.note.empty()) more += (more.empty() ? "" : "; ") + plain(r.note);
      out_ += wrapped("            ", more);
    }
  }

  // Each piece of advice once, with what it is about.
  void advice() {
    struct Piece {
      std::string text;
      std::vector<std::string> about;
    };
    std::vector<Piece> pieces;
    for (const FitRow& r : a_.rows) {
      if (r.clear == Clear::clear || r.advice.empty()) continue;
      auto it = std::find_if(pieces.begin(), pieces.end(),
                             [&](const Piece& p) { return p.text == r.advice; });
      if (it == pieces.end()) it = pieces.insert(pieces.end(), Piece{r.advice, {}});
      const std::string name = plain(r.other, longest_name);
      if (std::find(it->about.begin(), it->about.end(), name) == it->about.end()) {
        it->about.push_back(name);
      }
    }
    if (pieces.empty()) return;
    out_ += "\nWhat helps\n";
    for (const Piece& p : pieces) {
      out_ += wrapped("  - ", text::joined(p.about) + ": " + p.text);
    }
  }

  [[nodiscard]] std::string sources() const {
    std::string t =
        "Distances wanted: common practice of the trade, no source; some are a "
        "judgement of this project (fit.clearances changes them).";
    const bool given =
        std::any_of(a_.rows.begin(), a_.rows.end(), [](const FitRow& r) { return r.wanted_given; });
    return given ? t + " * as the owner wants it." : t;
  }

  const Setup& s_;
  const FitAnswer& a_;
  ReaderUnits u_;
  std::string out_;
};

void write_point(Json& j, const FitPoint& p) {
  j.open('[');
  j.number(p.x.value());
  j.number(p.y.value());
  j.close(']');
}

void write_shape(Json& j, const FitShape& s) {
  j.open('{');
  j.key("form").text(s.form == FitShape::Form::outline  ? "outline"
                     : s.form == FitShape::Form::sector ? "sector"
                                                        : "path");
  j.key("points_m").open('[');
  for (const FitPoint& p : s.points) write_point(j, p);
  j.close(']');
  if (s.form == FitShape::Form::sector) {
    j.key("inner_m").number(s.inner.value());
    j.key("outer_m").number(s.outer.value());
    j.key("from_rad").number(s.from.value());
    j.key("to_rad").number(s.to.value());
  }
  if (s.form == FitShape::Form::path) j.key("width_m").number(s.width.value());
  j.key("bottom_m").maybe(s.bottom);
  j.key("top_m").maybe(s.top);
  j.close('}');
}

}  // namespace

std::string fit_table(const Setup& setup, const FitAnswer& answer, const ReportStyle& /*style*/) {
  return FitTable(setup, answer).write();
}

std::string fit_table_json(const Setup& s, const FitAnswer& a) {
  Json j;
  j.open('{');
  j.key("format").integer(report_format);
  j.key("thole").text(version());
  write_build(j);
  j.key("title").text(s.title);
  j.key("plan").text(
      "x forward of the transom, y to starboard of the middle line, heights above the gunwale; "
      "angles from astern, clockwise seen from above");
  j.key("hits").yes_no(a.any_hit());
  j.key("rows").open('[');
  for (const FitRow& r : a.rows) {
    j.open('{');
    j.key("one").text(r.one);
    j.key("other").text(r.other);
    j.key("clear").text(std::string(word_for(r.clear)));
    j.key("word").text(std::string(word_for(r)));
    j.key("distance_m").number(r.distance.value());
    j.key("wanted_m").number(r.wanted.value());
    j.key("wanted_is_most").yes_no(r.rule == FitRule::reach);
    j.key("wanted_by_owner").yes_no(r.wanted_given);
    j.key("at_m");
    write_point(j, r.at);
    j.key("where").text(place(r.at, s.units));
    j.key("note").text(r.note);
    j.key("advice").text(r.advice);
    j.key("source").text(to_text(r.source));
    j.close('}');
  }
  j.close(']');
  j.key("things").open('[');
  for (const FitThing& t : a.things) {
    j.open('{');
    j.key("name").text(t.name);
    j.key("kind").text(t.kind);
    j.key("of_mount").yes_no(t.of_mount);
    j.key("gear").text(t.gear);
    j.key("clearance_m").number(t.clearance.value());
    j.key("shapes").open('[');
    for (const FitShape& shape : t.shapes) write_shape(j, shape);
    j.close(']');
    j.close('}');
  }
  j.close(']');
  j.key("not_described").texts(a.not_looked_at);
  j.key("deferral").text(wording::deferral);
  j.close('}');
  return j.take();
}

std::string fit_line(const Setup& s, const FitAnswer& a, bool in_brief) {
  if (!a.described) return "";
  if (a.rows.empty()) return "nothing to look at is described";
  const Counts n = counts_of(a);
  const FitRow& r = a.rows.front();
  std::vector<std::string> list;
  const auto add = [&](std::ptrdiff_t count, const std::string& words) {
    if (count > 0) list.push_back(fmt::format("{} {}", count, words));
  };
  if (r.clear == Clear::clear) {
    list.emplace_back("nothing hits");
  } else {
    const std::string one = plain(r.one, longest_name);
    const std::string other = plain(r.other, longest_name);
    const std::string size = tape(Length(abs(r.distance)), s.units);
    if (r.rule == FitRule::keep_clear && r.clear == Clear::hits) {
      list.push_back(one + " hits " + other + (in_brief ? "" : ", " + size + " deep"));
    } else if (r.rule == FitRule::keep_clear) {
      list.push_back("nothing hits; " + one + " close to " + other + (in_brief ? "" : ", " + size));
    } else {
      list.push_back((n.hits == 0 ? "nothing hits; " : "") + one + " - " + other + ": " +
                     std::string(word_for(r)));
    }
    add(n.hits - 1, n.hits == 2 ? "more does not fit" : "more do not fit");
  }
  const bool told = r.clear == Clear::close;
  add(n.close - (told ? 1 : 0), told ? "more close" : "close");
  if (!in_brief) add(n.clear, "clear");
  return text::joined(list, "; ") + (n.hits + n.close > 0 ? "; see thole fit" : "");
}

void write_fit_line(Json& j, const Setup& s) {
  const FitAnswer a = look_at_fit(s);
  const Counts n = counts_of(a);
  j.key("fit").open('{');
  j.key("described").yes_no(a.described);
  j.key("hits").integer(long(n.hits));
  j.key("close").integer(long(n.close));
  j.key("clear").integer(long(n.clear));
  j.key("worst").text(a.rows.empty() || a.rows.front().clear == Clear::clear
                          ? ""
                          : a.rows.front().one + " - " + a.rows.front().other);
  j.close('}');
}

}  // namespace thole
