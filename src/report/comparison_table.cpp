#include <thole/comparison.hpp>

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <utility>

#include <thole/display.hpp>
#include <thole/error.hpp>
#include <thole/report.hpp>

#include "report/beside.hpp"
#include "report/json_writer.hpp"
#include "report/text.hpp"
#include "report/wording.hpp"

namespace thole {

Verdict Candidate::verdict() const {
  return assessment ? assessment->verdict : Verdict::no_verdict;
}

bool Candidate::holds() const {
  return verdict() == Verdict::holds || verdict() == Verdict::holds_if;
}

bool Candidate::differs_in(Difference::Kind kind) const {
  return std::any_of(differences.begin(), differences.end(),
                     [&](const Difference& d) { return d.kind == kind; });
}

bool Candidate::only_parts() const {
  return std::all_of(differences.begin(), differences.end(),
                     [](const Difference& d) { return d.kind == Difference::Kind::part; });
}

const CheckResult* Candidate::worst() const {
  if (!assessment || assessment->verdict == Verdict::no_verdict) return nullptr;
  for (const CheckResult& r : assessment->checks) {
    if (r.standing == Standing::applies) return &r;
  }
  return nullptr;
}

bool Comparison::any_holds() const {
  return std::any_of(candidates.begin(), candidates.end(),
                     [](const Candidate& c) { return c.holds(); });
}

bool Comparison::best_holds() const {
  return best && candidates[*best].verdict() == Verdict::holds;
}

namespace {

using text::aligned;
using text::padded;
using text::plain;
using text::wrapped;

constexpr std::size_t name_columns = 20;
/// Limits so near each other are told apart by nothing that a model can know.
constexpr double alike_within = 0.02;

const Setup& drawn(const Comparison& c) {
  if (c.candidates.empty() || !c.candidates.front().setup) {
    throw InternalError("a comparison without the setup as drawn");
  }
  return *c.candidates.front().setup;
}

// Without a verdict there are no figures.
std::optional<Force> hold_limit(const Candidate& c) {
  return c.verdict() == Verdict::no_verdict ? std::nullopt : c.assessment->hold_limit;
}

std::optional<Force> setting(const Candidate& c) {
  return hold_limit(c) ? beside::setting_of(*c.assessment).pull : std::nullopt;
}

// The check that ends the hold limit.
std::string set_by(const Candidate& c) {
  if (!hold_limit(c)) return "";
  const GearLimit* least = nullptr;
  for (const GearLimit& l : c.assessment->gear_limits) {
    if (l.hold_limit && (least == nullptr || *l.hold_limit < *least->hold_limit)) least = &l;
  }
  return least == nullptr ? std::string() : least->set_by;
}

std::string name_of(const Candidate& c) {
  return c.origin == Candidate::Origin::variant ? "\"" + plain(c.name) + "\"" : plain(c.name);
}

std::string capital(std::string s) {
  if (!s.empty() && s[0] >= 'a' && s[0] <= 'z') s[0] = static_cast<char>(s[0] - 'a' + 'A');
  return s;
}

std::string limit_words(const Candidate& c, ReaderUnits u) {
  const auto limit = hold_limit(c);
  return limit ? about(*limit, u, Rounding::down) : std::string("nothing");
}

std::string count(std::size_t n, const char* one, const char* several) {
  return std::to_string(n) + " " + (n == 1 ? one : several);
}

std::string figures(const CheckResult& r) {
  return "factor " + show_factor(r.factor) + " where " + show_number(r.needed) + " is needed";
}

std::string fasteners_word(const Setup& s, std::size_t n) {
  return s.on_board() ? count(n, "hold-down", "hold-downs") : count(n, "fastener", "fasteners");
}

// Others of the same verdict with a limit so near that the choice is free.
std::size_t equals_of_best(const Comparison& c) {
  const Candidate& best = c.candidates[*c.best];
  std::size_t n = 0;
  for (std::size_t i = 0; i < c.candidates.size(); ++i) {
    const Candidate& o = c.candidates[i];
    if (i != *c.best && o.assessment && o.verdict() == best.verdict() && hold_limit(o) &&
        text::alike(hold_limit(o), hold_limit(best), alike_within)) {
      ++n;
    }
  }
  return n;
}

// The first of the ranking among those that differ in parts alone, as drawn among them.
const Candidate* best_in_parts(const Comparison& c) {
  const Candidate* first = nullptr;
  const auto take = [&](std::size_t i) {
    const Candidate& k = c.candidates[i];
    if (first == nullptr && k.only_parts() && k.verdict() != Verdict::no_verdict) first = &k;
  };
  if (c.best) take(*c.best);
  for (const std::size_t i : c.ranking) {
    if (i != 0 && !(c.best && *c.best == 0)) take(i);
  }
  const Candidate& own = c.candidates.front();
  const auto order = [](const Candidate& k) {
    return std::pair(int(k.verdict()), -hold_limit(k).value_or(Force{}).value());
  };
  if (own.verdict() != Verdict::no_verdict && (first == nullptr || !(order(*first) < order(own)))) {
    first = &own;
  }
  return first;
}

// Paths of one kind, the first few of them.
std::string paths_of(const Candidate& k, Difference::Kind kind) {
  constexpr std::size_t shown_at_most = 3;
  std::vector<std::string> paths;
  for (const Difference& d : k.differences) {
    if (d.kind == kind) paths.push_back(plain(d.path));
  }
  const std::size_t more = paths.size() > shown_at_most ? paths.size() - shown_at_most : 0;
  paths.resize(paths.size() - more);
  return text::joined(paths, ", ") + (more > 0 ? " and " + std::to_string(more) + " more" : "");
}

// What of a variant is no part that is built, in words; "" where all of it is.
std::string no_part(const Candidate& k) {
  std::string out;
  const auto say = [&](Difference::Kind kind, const char* words) {
    if (!k.differs_in(kind)) return;
    out += (out.empty() ? "" : "; ") + std::string(words) + " " + paths_of(k, kind);
  };
  say(Difference::Kind::claim, "claims something else of what is there:");
  say(Difference::Kind::load, "is asked for something else:");
  say(Difference::Kind::material, "names another material, true of a piece that is bought so:");
  return out;
}

}  // namespace

std::string comparison_sentence(const Comparison& c) {
  const Setup& s = drawn(c);
  const ReaderUnits u = s.units;
  const Candidate& own = c.candidates.front();
  if (!c.best) return "No candidate has a verdict; the reasons stand below.";
  const Candidate& best = c.candidates[*c.best];
  const bool is_drawn = *c.best == 0;
  std::string out;
  if (!best.holds()) {
    out = "Nothing holds. " + capital(name_of(best)) + " comes nearest: hold limit " +
          limit_words(best, u);
    if (!is_drawn) {
      out += own.verdict() == Verdict::no_verdict ? "; as drawn there is no verdict"
                                                  : " against " + limit_words(own, u) + " as drawn";
    }
    if (const CheckResult* w = best.worst()) {
      out += "; what stops it: " + w->gives_way + ", " + figures(*w);
    }
  } else if (is_drawn) {
    out = "As drawn is best: it holds up to " + limit_words(own, u);
    if (!set_by(own).empty()) out += ", where " + set_by(own) + " ends it";
  } else {
    const bool built = best.only_parts() || best.differs_in(Difference::Kind::part);
    out = capital(name_of(best)) + (built ? " is best" : " comes first, but by words alone") +
          ": it holds up to " + limit_words(best, u);
    if (best.fasteners != own.fasteners) {
      out += " with " + fasteners_word(s, best.fasteners) + " instead of " +
             std::to_string(own.fasteners);
    }
    if (own.verdict() == Verdict::no_verdict) {
      out += "; as drawn there is no verdict";
    } else {
      out += "; as drawn ";
      out += own.holds() ? "holds up to " : "does not hold, hold limit ";
      out += limit_words(own, u);
      if (own.verdict() == best.verdict() && hold_limit(own) && hold_limit(best) &&
          text::alike(hold_limit(own), hold_limit(best), alike_within)) {
        out += ", as good within 2 %";
      }
      const std::string before = set_by(own);
      const std::string now = set_by(best);
      if (!before.empty() && before == now) {
        out += ", ended in both by: " + now;
      } else if (!before.empty()) {
        out += ", ended by: " + before;
        if (!now.empty()) out += "; now by: " + now;
      }
    }
  }
  if (best.verdict() == Verdict::holds_if) out += "; it hangs on values that are assumed";
  if (!best.only_parts()) {
    out += "; beware: it " + no_part(best);
    if (!best.differs_in(Difference::Kind::part)) out += "; no part of it is built otherwise";
    const Candidate* built = best_in_parts(c);
    if (built == &own) {
      out += "; of what differs in parts alone nothing is better than as drawn";
    } else if (built != nullptr) {
      out += "; of what differs in parts alone " + name_of(*built) + " is best, hold limit " +
             limit_words(*built, u);
    }
  }
  if (const std::size_t n = equals_of_best(c); n > 0) {
    out += "; " + std::to_string(n) + (n == 1 ? " more comes" : " more come") + " within 2 % of it";
  }
  return out + ".";
}

namespace {

class Table {
 public:
  Table(const Comparison& c, bool as_given)
      : c_(c), s_(drawn(c)), u_(s_.units), as_given_(as_given) {
    for (std::size_t i = 0; i < c.candidates.size(); ++i) {
      const std::size_t at = as_given ? i : c.ranking.at(i);
      const Candidate& k = c.candidates[at];
      if (k.assessment) order_.push_back(&k);
    }
  }

  std::string write() {
    out_ = wording::first_line(s_.title) + "\n";
    out_ += wrapped("", comparison_sentence(c_));
    out_ += "\n" + wrapped("Compared  ", counted());
    table();
    legend();
    beyond_parts();
    conditions();
    refusals();
    unfit();
    out_ += "\n" + wrapped("",
                           "Limits are of this table's checks, at full factors; a row is no "
                           "report. Put the values of the one you want into the setup, then "
                           "thole check tells all of it.");
    out_ += wrapped("", wording::deferral);
    return text::printable(out_);
  }

 private:
  [[nodiscard]] std::string counted() const {
    std::size_t variants = 0;
    std::size_t patterns = 0;
    std::size_t unfit = 0;
    for (const Candidate& k : c_.candidates) {
      if (k.origin == Candidate::Origin::variant) ++variants;
      if (k.origin == Candidate::Origin::pattern) {
        ++patterns;
        if (!k.fits()) ++unfit;
      }
    }
    std::string text = "the setup as drawn";
    if (variants > 0) text += ", " + count(variants, "variant", "variants");
    if (patterns > 0) {
      text += ", " + count(patterns, "pattern", "patterns");
      if (unfit > 0) {
        text +=
            " of which " + std::to_string(unfit) + (unfit == 1 ? " does not fit" : " do not fit");
      }
    }
    if (c_.repeats > 0) {
      text += "; of " + std::to_string(c_.combinations) + " combinations " +
              std::to_string(c_.repeats) + (c_.repeats == 1 ? " is" : " are") +
              " the same pattern as another";
    }
    return text + (as_given_ ? "; in the order of the file."
                             : "; as drawn first, then by verdict, hold limit, fewer holes.");
  }

  static const char* mark(Verdict v) {
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

  [[nodiscard]] std::string bare(Length v) const {
    const std::string t = show(v, u_);
    return t.substr(0, t.rfind(' '));
  }

  [[nodiscard]] std::string short_name(const Candidate& k) const {
    if (!k.pattern) return plain(k.name);
    const HolePattern& p = *k.pattern;
    std::string text = p.on_circle > 0
                           ? fmt::format("{} on {} {}", p.on_circle, bare(p.circle), p.thread)
                           : fmt::format("{}x{} {} x {} {}", p.holes_fore_aft, p.holes_athwart,
                                         p.holes_fore_aft > 1 ? bare(p.fore_aft) : "-",
                                         p.holes_athwart > 1 ? bare(p.athwart) : "-", p.thread);
    if (p.thread.empty()) text.pop_back();
    return p.turned ? text + " turned" : text;
  }

  // Lines of at most `name_columns`.
  static std::vector<std::string> folded(const std::string& name) {
    std::vector<std::string> lines;
    std::string rest = text::wrapped(std::string(text::columns - name_columns, ' '), name);
    while (!rest.empty()) {
      const std::size_t end = rest.find('\n');
      std::string line = rest.substr(0, end);
      rest.erase(0, end == std::string::npos ? rest.size() : end + 1);
      lines.push_back(line.substr(std::min(line.size(), text::columns - name_columns)));
    }
    return lines;
  }

  // A letter for what gives way, the same for the same.
  std::string letter(const std::string& what) {
    const auto known = std::find(ways_.begin(), ways_.end(), what);
    const auto i = std::size_t(known - ways_.begin());
    if (known == ways_.end()) ways_.push_back(what);
    std::string out;
    if (i >= 26) out += static_cast<char>('A' + i / 26 - 1);
    return out + static_cast<char>('A' + i % 26);
  }

  static std::string way(const CheckResult& r) {
    return r.gives_way + (r.where.empty() ? "" : " (" + plain(r.where) + ")");
  }

  [[nodiscard]] std::string cell(const std::optional<Force>& f) const {
    return f ? about(*f, u_, Rounding::down) : "-";
  }

  void row(const Candidate& k) {
    const std::vector<std::string> lines = folded(short_name(k));
    const CheckResult* w = k.worst();
    out_ += padded(mark(k.verdict()) + std::string(k.only_parts() ? "" : "*"), 6) +
            padded(lines.empty() ? "" : lines.front(), name_columns);
    out_ += aligned(std::to_string(k.fasteners), 4) + aligned(k.fits() ? "yes" : "NO", 4);
    out_ += aligned(cell(hold_limit(k)), 10) + aligned(cell(setting(k)), 10) +
            aligned(cell(k.not_before), 9);
    std::string factor = "-";
    std::string what = " -";
    if (w != nullptr) {
      factor = show_factor(w->factor) + "/" + show_number(w->needed);
      what = " " + letter(way(*w));
      if (w->fastener >= 0 && !s_.on_board()) what += " " + std::to_string(w->fastener + 1);
    }
    out_ += aligned(factor, 11) + what + "\n";
    for (std::size_t i = 1; i < lines.size(); ++i) out_ += "      " + lines[i] + "\n";
  }

  void table() {
    const bool rods = std::any_of(s_.gear.begin(), s_.gear.end(),
                                  [](const Gear& g) { return g.rod_holder.has_value(); });
    out_ += "\n      " + padded("", name_columns) + aligned(s_.on_board() ? "bolt" : "", 4) +
            aligned("", 4) + aligned("hold", 10) + aligned(rods ? "drag" : "brake", 10) +
            aligned("first to", 9) + aligned("factor/", 11) + "\n";
    out_ += "      " + padded("", name_columns - 1) +
            aligned(s_.on_board() ? "downs" : "holes", 5) + aligned("fit", 4) +
            aligned("limit", 10) + aligned("set to", 10) + aligned("go at", 9) +
            aligned("needed", 11) + " way\n";
    for (const Candidate* k : order_) row(*k);
  }

  void legend() {
    out_ += "\n[ok] holds in these checks   [if] holds if   [x] does not hold   [?] no verdict\n";
    out_ += "fit  yes: every distance to edges and neighbours that is asked for is kept\n";
    if (std::any_of(order_.begin(), order_.end(),
                    [](const Candidate* k) { return !k->only_parts(); })) {
      out_ += "*    differs in more than parts that are built: see below before you compare it\n";
    }
    const bool patterns = std::any_of(order_.begin(), order_.end(),
                                      [](const Candidate* k) { return k->pattern.has_value(); });
    if (patterns) {
      out_ += wrapped("Patterns    ",
                      std::string("holes fore-aft x athwart, spacing of the outer ones the same "
                                  "way, or how many on a circle (") +
                          (u_ == ReaderUnits::inch ? "in" : "mm") +
                          "), thread; turned: base and holes by 90 deg, sizes as before it.");
    }
    for (std::size_t i = 0; i < ways_.size(); ++i) {
      const std::string lead = i == 0 ? "Gives way   " : "            ";
      out_ += wrapped(lead + letter(ways_[i]) + "  ", ways_[i]);
    }
    if (!ways_.empty() && !s_.on_board()) {
      out_ += wrapped("            ", "the figure behind it is the number of the fastener");
    }
    const bool unsearched = std::any_of(order_.begin(), order_.end(), [](const Candidate* k) {
      return k->pattern && k->worst() != nullptr && !k->not_before;
    });
    if (unsearched) {
      out_ += wrapped("First to go ", "looked for in the foremost patterns only");
    }
  }

  // Texts that several candidates share, with their names; "all" where it is all of them.
  void grouped(const char* title, const std::vector<std::pair<const Candidate*, std::string>>& rows,
               std::size_t of_all) {
    if (rows.empty()) return;
    std::vector<std::pair<std::string, std::vector<const Candidate*>>> groups;
    for (const auto& row : rows) {
      const auto known = std::find_if(groups.begin(), groups.end(),
                                      [&](const auto& g) { return g.first == row.second; });
      if (known == groups.end()) {
        groups.push_back({row.second, {row.first}});
      } else {
        known->second.push_back(row.first);
      }
    }
    out_ += std::string("\n") + title + "\n";
    for (const auto& [why, names] : groups) {
      std::string list;
      if (names.size() == of_all && of_all > 1) {
        list = "all " + std::to_string(of_all);
      } else {
        for (const Candidate* k : names) list += (list.empty() ? "" : "; ") + short_name(*k);
      }
      out_ += wrapped("  ", list + ": " + plain(why));
    }
  }

  // A row may be better for what it says, not for what is built.
  void beyond_parts() {
    std::vector<std::pair<const Candidate*, std::string>> rows;
    for (const Candidate* k : order_) {
      if (!k->only_parts()) rows.emplace_back(k, no_part(*k));
    }
    grouped("Not by parts alone", rows, 0);
  }

  void conditions() {
    std::vector<std::pair<const Candidate*, std::string>> rows;
    for (const Candidate* k : order_) {
      if (k->verdict() == Verdict::holds_if) {
        rows.emplace_back(k, text::joined(k->assessment->holds_if, "; "));
      }
    }
    grouped("Holds if (assumed)", rows, rows.size());
  }

  void refusals() {
    std::vector<std::pair<const Candidate*, std::string>> rows;
    for (const Candidate* k : order_) {
      if (k->verdict() == Verdict::no_verdict) {
        rows.emplace_back(k, text::joined(k->assessment->reasons, "; "));
      }
    }
    grouped("No verdict", rows, rows.size());
  }

  void unfit() {
    std::vector<std::pair<const Candidate*, std::string>> rows;
    for (const bool assessed : {true, false}) {
      rows.clear();
      for (const Candidate& k : c_.candidates) {
        if (!k.fits() && k.assessment.has_value() == assessed) rows.emplace_back(&k, k.why_not);
      }
      grouped(assessed ? "Distances that are not kept" : "Do not fit", rows, 0);
    }
  }

  const Comparison& c_;
  const Setup& s_;
  ReaderUnits u_;
  bool as_given_;
  std::vector<const Candidate*> order_;
  std::vector<std::string> ways_;
  std::string out_;
};

const char* word_for(Candidate::Origin o) {
  switch (o) {
    case Candidate::Origin::as_drawn:
      return "as drawn";
    case Candidate::Origin::variant:
      return "variant";
    case Candidate::Origin::pattern:
      return "pattern";
  }
  throw InternalError("a candidate without an origin");
}

const char* word_for(Difference::Kind k) {
  switch (k) {
    case Difference::Kind::part:
      return "part";
    case Difference::Kind::material:
      return "material";
    case Difference::Kind::claim:
      return "claim";
    case Difference::Kind::load:
      return "load";
  }
  throw InternalError("a difference without a word");
}

void write_candidate(Json& j, const Candidate& k) {
  j.open('{');
  j.key("name").text(k.name);
  j.key("origin").text(word_for(k.origin));
  if (k.pattern) {
    const HolePattern& p = *k.pattern;
    j.key("pattern").open('{');
    j.key("holes_fore_aft").integer(p.holes_fore_aft);
    j.key("holes_athwart").integer(p.holes_athwart);
    j.key("on_circle").integer(p.on_circle);
    j.key("circle_m").number(p.circle.value());
    j.key("fore_aft_m").number(p.fore_aft.value());
    j.key("athwart_m").number(p.athwart.value());
    j.key("thread").text(p.thread);
    j.key("turned").yes_no(p.turned);
    j.close('}');
  }
  j.key("differences").open('[');
  for (const Difference& d : k.differences) {
    j.open('{');
    j.key("kind").text(word_for(d.kind));
    j.key("path").text(d.path);
    j.close('}');
  }
  j.close(']');
  j.key("fasteners").integer(long(k.fasteners));
  j.key("fits").yes_no(k.fits());
  j.key("why_not").text(k.why_not);
  j.key("verdict");
  if (k.assessment) {
    j.text(std::string(word_for(k.verdict())));
  } else {
    j.null();
  }
  j.key("holds_if").texts(k.assessment ? k.assessment->holds_if : std::vector<std::string>{});
  j.key("reasons").texts(k.assessment ? k.assessment->reasons : std::vector<std::string>{});
  j.key("hold_limit_N").maybe(hold_limit(k));
  j.key("hold_limit_set_by").text(set_by(k));
  j.key("setting_N").maybe(setting(k));
  j.key("first_to_go").text(k.first);
  j.key("not_before_about_N").maybe(k.not_before);
  j.key("worst");
  if (const CheckResult* w = k.worst()) {
    j.open('{');
    j.key("mode").text(w->mode);
    j.key("gives_way").text(w->gives_way);
    j.key("factor");
    if (std::isfinite(w->factor)) {
      j.number(w->factor);
    } else {
      j.null();
    }
    j.key("needed").number(w->needed);
    j.key("fastener");
    if (w->fastener >= 0) {
      j.integer(w->fastener + 1);
    } else {
      j.null();
    }
    j.key("where").text(w->where);
    j.key("case").text(w->case_title);
    j.key("direction").text(w->direction);
    j.close('}');
  } else {
    j.null();
  }
  j.close('}');
}

}  // namespace

std::string comparison_table(const Comparison& comparison, bool as_given) {
  return Table(comparison, as_given).write();
}

std::string comparison_json(const Comparison& c, bool as_given) {
  const Setup& s = drawn(c);
  Json j;
  j.open('{');
  j.key("thole").text(version());
  write_build(j);
  j.key("comparison_format").integer(1);
  j.key("title").text(s.title);
  j.key("file").text(s.file);
  j.key("sentence").text(comparison_sentence(c));
  j.key("best");
  if (c.best) {
    j.text(c.candidates[*c.best].name);
  } else {
    j.null();
  }
  j.key("any_holds").yes_no(c.any_holds());
  j.key("best_holds").yes_no(c.best_holds());
  j.key("combinations").integer(long(c.combinations));
  j.key("repeats").integer(long(c.repeats));
  j.key("candidates").open('[');
  for (std::size_t i = 0; i < c.candidates.size(); ++i) {
    write_candidate(j, c.candidates[as_given ? i : c.ranking.at(i)]);
  }
  j.close(']');
  j.key("deferral").text(wording::deferral);
  j.close('}');
  return j.take();
}

}  // namespace thole
