#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <utility>

#include <thole/check.hpp>
#include <thole/error.hpp>
#include <thole/report.hpp>

#include "report/wording.hpp"

namespace thole {

std::string version() { return THOLE_VERSION; }

namespace wording {

std::string headline(Verdict v) {
  switch (v) {
    case Verdict::holds:
      return "[ok] HOLDS in the checks listed";
    case Verdict::holds_if:
      return "[?] HOLDS IF";
    case Verdict::does_not_hold:
      return "[x] DOES NOT HOLD";
    case Verdict::no_verdict:
      return "[?] NO VERDICT";
  }
  throw InternalError("a verdict without a headline");
}

std::string of_several(const std::string& link) {
  constexpr std::array<std::pair<const char*, const char*>, 5> plurals{
      {{"brake slips", "brakes slip"},
       {"wire parts", "wires part"},
       {"weak link parts", "weak links part"},
       {"drag slips", "drags slip"},
       {"line parts", "lines part"}}};
  for (const auto& [one, several] : plurals) {
    if (link == one) return several;
  }
  return link;
}

}  // namespace wording

namespace {

constexpr std::size_t columns = 79;
constexpr std::ptrdiff_t screen = 48;  // lines
constexpr std::size_t longest_name = 30;

// Text from the user goes to a terminal: control characters must not.
std::string plain(const std::string& text, std::size_t most) {
  std::string out;
  for (const char c : text) {
    const auto u = static_cast<unsigned char>(c);
    // C1 controls (U+0080 to U+009F) are obeyed by some terminals as well.
    const bool c1 = u >= 0x80 && u <= 0x9f && !out.empty() && out.back() == '\xc2';
    if (c1) {
      out.pop_back();
      continue;
    }
    if (u >= 0x20 && u != 0x7f) out += c;
    if (out.size() >= most) {
      while (!out.empty() && (static_cast<unsigned char>(out.back()) & 0xc0) == 0x80) {
        out.pop_back();
      }
      if (!out.empty() && (static_cast<unsigned char>(out.back()) & 0x80) != 0) out.pop_back();
      return out + "...";
    }
  }
  return out;
}

// Wraps at `columns`; the first line begins with `lead`, the others as far in.
std::string wrapped(const std::string& lead, const std::string& text) {
  std::string out = lead;
  std::size_t at = lead.size();
  const std::string indent(lead.size(), ' ');
  std::size_t i = 0;
  bool first = true;
  while (i < text.size()) {
    const std::size_t end = std::min(text.find(' ', i), text.size());
    const std::string word = text.substr(i, end - i);
    i = end + 1;
    if (word.empty()) continue;
    if (!first && at + 1 + word.size() > columns) {
      out += "\n" + indent;
      at = indent.size();
      first = true;
    }
    if (!first) {
      out += ' ';
      ++at;
    }
    out += word;
    at += word.size();
    first = false;
  }
  return out + "\n";
}

bool ends_with(const std::string& text, const std::string& end) {
  return text.size() >= end.size() && text.compare(text.size() - end.size(), end.size(), end) == 0;
}

// Mirrored gears differ by the grid of directions only.
bool alike(const std::optional<Force>& a, const std::optional<Force>& b, double within = 0.02) {
  if (!a || !b) return !a && !b;
  return std::abs(a->value() - b->value()) <=
         within * std::max(std::abs(a->value()), std::abs(b->value()));
}

std::optional<Force> lesser(const std::optional<Force>& a, const std::optional<Force>& b) {
  if (!a || !b) return a ? a : b;
  return *b < *a ? b : a;
}

class Terminal {
 public:
  Terminal(const Setup& s, const Assessment& a, const ReportStyle& style)
      : s_(s), a_(a), style_(style), u_(s.units) {
    if (!s.on_board()) return;
    for (const Gear& g : s.gear) shorten(g.name);
    for (const HoldDown& h : s.board().hold_downs) shorten(h.name);
    for (const Leg& l : s.board().legs) shorten(l.name);
    for (const CaseResult& c : a.cases) {
      mechanism_ = mechanism_ || (c.load_case.decides && !c.motion.empty());
    }
  }

  std::string write() {
    std::string out = written();
    // A board with much to say gives up, step by step, what --details has as well.
    while (s_.on_board() && !style_.details && tight_ < tightest &&
           std::count(out.begin(), out.end(), '\n') > screen) {
      ++tight_;
      out = written();
    }
    return out;
  }

 private:
  // Steps of `tight_`, each with those before it.
  enum Tight : int {
    no_reasons = 1,
    no_repeats,
    short_ladder,
    no_gaps,
    few_conditions,
    two_checks,
    lesser_limits,
    one_check,
    no_movement,
    cautions_run_on,
    tightest = cautions_run_on
  };

  std::string written() {
    std::size_t rows = a_.checks.size();
    if (!style_.details) rows = tight_ >= one_check ? 1U : tight_ >= two_checks ? 2U : 3U;

    out_ =
        fmt::format("thole {}{}{}\n", version(), s_.title.empty() ? "" : "  ", plain(s_.title, 60));
    headline();
    if (s_.on_board()) {
      board_limits();
      if (tight_ < no_movement) {
        if (groups().empty() && !a_.movements.empty()) out_ += "\n";
        movement();
        holding();
      }
      board_checks(rows);
    } else {
      limits();
      checks(rows);
    }
    ladder(style_.details ? a_.ladder.size() : 4);
    walls();
    to_do();
    cautions();
    out_ += wrap("", wording::deferral);
    if (style_.details) details();
    return out_;
  }

  [[nodiscard]] std::string gap() const { return tight_ >= no_gaps ? "" : "\n"; }

  // Names are the user's own words, and other texts repeat them.
  void shorten(const std::string& name) {
    std::string shown = plain(name, longest_name);
    if (!name.empty() && shown != name) names_.emplace_back(name, std::move(shown));
  }

  [[nodiscard]] std::string clean(std::string text) const {
    for (const auto& [name, shown] : names_) {
      for (std::size_t at = text.find(name); at != std::string::npos;
           at = text.find(name, at + shown.size())) {
        text.replace(at, name.size(), shown);
      }
    }
    return plain(text, std::string::npos);
  }

  [[nodiscard]] std::string wrap(const std::string& lead, const std::string& text) const {
    return wrapped(lead, clean(text));
  }

  static std::string sentence(std::string text) {
    if (!text.empty() && text[0] >= 'a' && text[0] <= 'z') {
      text[0] = static_cast<char>(text[0] - 'a' + 'A');
    }
    return text + ".";
  }

  std::string paint(const char* code, const std::string& text) const {
    if (!style_.colour) return text;
    return std::string("\x1b[") + code + "m" + text + "\x1b[0m";
  }

  void headline() {
    const char* code = a_.verdict == Verdict::holds           ? "1;32"
                       : a_.verdict == Verdict::does_not_hold ? "1;31"
                                                              : "1;33";
    out_ += "\n" + paint(code, wording::headline(a_.verdict)) + "\n";
    if (mechanism_ && !a_.reasons.empty()) {
      mechanism();
    } else if (!a_.sentence.empty()) {
      out_ += wrap("  ", sentence(a_.sentence));
    }
    if (a_.verdict == Verdict::holds_if && s_.on_board()) {
      conditions();
    } else if (a_.verdict == Verdict::holds_if) {
      std::string list;
      for (const std::string& h : a_.holds_if) list += (list.empty() ? "" : "; ") + h;
      out_ += wrap("  if ", list + " (assumed).");
    }
  }

  // How the board moves, and what would stop it, each on a line of its own.
  void mechanism() {
    const std::string stop = "; what would stop it: ";
    for (const std::string& reason : a_.reasons) {
      const std::size_t at = reason.find(stop);
      out_ += wrap("  ", sentence(reason.substr(0, at)));
      if (at == std::string::npos) continue;
      out_ += wrap("  What would stop it: ", reason.substr(at + stop.size()) + ".");
    }
    out_ += wrap("  ",
                 "It moves before anything breaks: there is no hold limit, no setting and no "
                 "factor.");
  }

  // A board is described by many inputs: on one screen not all of them.
  void conditions() {
    const std::size_t most = tight_ >= few_conditions ? 150 : 300;
    std::string list, unseen;
    std::size_t left = 0;
    for (const std::string& h : a_.holds_if) {
      const bool not_checked = h.rfind("not checked: ", 0) == 0;
      std::string& to = not_checked ? unseen : list;
      const std::string item = not_checked ? h.substr(13) : h;
      if (!style_.details && to.size() + h.size() > most) {
        ++left;
        continue;
      }
      to += (to.empty() ? "" : "; ") + item;
    }
    const std::string more = left > 0 ? fmt::format("; and {} more, see --details", left) : "";
    if (!list.empty()) out_ += wrap("  if these are so: ", list + more + ".");
    if (!unseen.empty())
      out_ += wrap("  not checked, and it must hold: ", unseen + (list.empty() ? more : "") + ".");
  }

  struct Group {
    GearLimit limit;
    const Gear* gear = nullptr;
    std::vector<std::string> names;
  };

  [[nodiscard]] const Gear* gear_called(const std::string& name) const {
    for (const Gear& g : s_.gear) {
      if (g.name == name) return &g;
    }
    return nullptr;
  }

  static int kind_of(const Gear& g) { return g.downrigger ? 0 : g.rod_holder ? 1 : 2; }

  static std::string word_for_kind(const Gear& g) {
    return g.downrigger ? "downrigger" : g.rod_holder ? "rod holder" : "load";
  }

  // Gears whose limits agree, with the lesser of each.
  [[nodiscard]] std::vector<Group> groups() const {
    const double within = tight_ >= lesser_limits ? 0.15 : 0.02;
    std::vector<Group> out;
    for (const GearLimit& l : a_.gear_limits) {
      const Gear* gear = gear_called(l.gear);
      if (gear == nullptr || !l.hold_limit) continue;
      bool known = false;
      for (Group& g : out) {
        GearLimit& own = g.limit;
        if (kind_of(*g.gear) != kind_of(*gear) || !alike(own.hold_limit, l.hold_limit, within) ||
            !alike(own.not_before, l.not_before, within) ||
            !alike(own.setting, l.setting, within) || !alike(own.test_pull, l.test_pull, within)) {
          continue;
        }
        if (*l.hold_limit < *own.hold_limit) own.set_by = l.set_by;
        own.hold_limit = lesser(own.hold_limit, l.hold_limit);
        own.not_before = lesser(own.not_before, l.not_before);
        own.setting = lesser(own.setting, l.setting);
        own.test_pull = lesser(own.test_pull, l.test_pull);
        g.names.push_back(l.gear);
        known = true;
        break;
      }
      if (!known) out.push_back({l, gear, {l.gear}});
    }
    return out;
  }

  [[nodiscard]] std::string whose(const Group& g) const {
    if (s_.gear.size() < 2) return "";
    const auto of_kind = std::count_if(s_.gear.begin(), s_.gear.end(), [&](const Gear& other) {
      return kind_of(other) == kind_of(*g.gear);
    });
    if (g.names.size() > 1 && std::size_t(of_kind) == g.names.size()) {
      return "each " + word_for_kind(*g.gear) + ": ";
    }
    std::string out;
    for (const std::string& n : g.names) out += (out.empty() ? "" : ", ") + n;
    return out + ": ";
  }

  void board_limits() {
    using namespace literals;
    const std::vector<Group> all = groups();
    if (all.empty()) return;
    out_ += "\n";
    std::string lead = "Hold limit  ";
    std::array<bool, 3> explained{};
    std::string set_by;
    for (const Group& g : all) {
      const int kind = kind_of(*g.gear);
      std::string text = whose(g);
      if (*g.limit.hold_limit < 0.5_lbf) {
        text += "next to nothing";
      } else {
        text += about(*g.limit.hold_limit, u_, Rounding::down) + (kind == 0   ? " at the boom tip"
                                                                  : kind == 1 ? " on the line"
                                                                              : " of pull");
      }
      if (!explained[std::size_t(kind)]) {
        text += kind == 0 ? ", at full factors for a pull of minutes, any boom angle and direction "
                            "of its range"
                          : ", at full factors for everyday use, any direction of its range";
        explained[std::size_t(kind)] = true;
      }
      if (!g.limit.set_by.empty() && g.limit.set_by != set_by) {
        set_by = g.limit.set_by;
        text += "; set by: " + set_by;
      }
      if (g.limit.not_before) {
        text += "; first to go not before about " + about(*g.limit.not_before, u_, Rounding::down);
      }
      out_ += wrap(lead, text);
      lead = "            ";
    }
    lead = "Setting     ";
    explained = {};
    for (const Group& g : all) {
      if (!g.limit.setting) continue;
      const int kind = kind_of(*g.gear);
      const bool again = explained[std::size_t(kind)];
      explained[std::size_t(kind)] = true;
      std::string text = whose(g);
      if (*g.limit.setting < 0.5_lbf) {
        text += "none that is of use: change the mount";
      } else {
        const bool rod = kind == 1;
        if (!again) text += rod ? "drag not above " : "brake to slip at not above ";
        text += about(*g.limit.setting, u_, Rounding::down);
        if (!again) text += std::string(", measured with a scale") + (rod ? "" : " at the clip");
        if (g.limit.test_pull) {
          text += "; test pull " + about(*g.limit.test_pull, u_, Rounding::down);
          if (!again) text += rod ? " on the line" : " at the tip";
        }
      }
      out_ += wrap(lead, text);
      lead = "            ";
    }
  }

  // Whole millimetres or eighths of an inch, upward.
  [[nodiscard]] std::string rough(Length v) const {
    const double step = u_ == ReaderUnits::inch ? 0.0254 / 8 : 0.001;
    return show(Length::from_value(step * std::ceil(v.value() / step - 1e-9)), u_);
  }

  void movement() {
    const MovementRow* most = nullptr;
    bool same = true;
    for (const MovementRow& m : a_.movements) {
      if (most != nullptr) same = same && rough(m.tip) == rough(most->tip) && m.feel == most->feel;
      if (most == nullptr || m.tip > most->tip) most = &m;
    }
    if (most == nullptr) return;
    out_ += wrap("Movement    ", "boom tip moves up to " + rough(most->tip) + " at " +
                                     about(most->pull, u_) + " (" + most->feel + ")" +
                                     (same ? "" : ", " + most->gear));
  }

  // What holds the board down or up in the worst deciding case, and where it lifts: a line each.
  void holding() {
    const auto line = [&](const char* lead, const auto& belongs) {
      std::vector<std::pair<std::string, Force>> rows;
      for (const SupportRow& r : a_.supports) {
        if (r.force.value() >= 1 && belongs(r.name)) rows.emplace_back(clean(r.name), r.force);
      }
      std::stable_sort(rows.begin(), rows.end(),
                       [](const auto& a, const auto& b) { return a.second > b.second; });
      std::string text;
      for (const auto& [name, force] : rows) {
        const std::string one =
            (text.empty() ? "" : ", ") + name + " " + about(force, u_, Rounding::up);
        if (text.size() + one.size() > columns - 12) break;
        text += one;
      }
      return text.empty() ? text : lead + text;
    };
    const CrossBoard& b = s_.board();
    std::string down = line("Holds down  ", [&](const std::string& name) {
      return std::any_of(b.hold_downs.begin(), b.hold_downs.end(), [&](const HoldDown& h) {
        return h.kind != HoldDownKind::pin && h.name == name;
      });
    });
    const std::string up = line("Held up by  ", [&](const std::string& name) {
      return std::any_of(b.legs.begin(), b.legs.end(),
                         [&](const Leg& l) { return l.name == name; });
    });
    if (!down.empty()) out_ += down + "\n";
    if (!up.empty()) out_ += up + "\n";
  }

  [[nodiscard]] bool dents(const CheckResult& c) const {
    const auto list = catalogue_for(s_);
    return std::any_of(list.begin(), list.end(),
                       [&](const FailureMode& m) { return m.spoils && m.id == c.mode; });
  }

  // Without forces only the checks of distances have a number.
  [[nodiscard]] bool has_number(const CheckResult& c) const {
    return c.standing == Standing::applies && (!mechanism_ || wording::of_distances(c));
  }

  void board_checks(std::size_t most) {
    constexpr std::size_t room = 52;
    std::size_t all = 0;
    for (const CheckResult& c : a_.checks) {
      if (has_number(c)) ++all;
    }
    if (all == 0 || (mechanism_ && !style_.details)) return;
    out_ += fmt::format(
        "\n{:<54} {:>9} {:>7} {:>6}\n",
        all > most ? fmt::format("Gives way, worst first ({} more with --details)", all - most)
                   : "Gives way (worst first)",
        "goes at", "factor", "needed");
    std::size_t shown = 0;
    for (const CheckResult& c : a_.checks) {
      if (!has_number(c) || shown == most) continue;
      ++shown;
      std::string where = clean(c.where);
      if (c.gives_way.size() + 2 + where.size() > room) where = short_place(c.where);
      const bool fits = where.empty() || c.gives_way.size() + 2 + where.size() <= room;
      const std::string goes = c.goes_at  ? about(*c.goes_at, u_, Rounding::down)
                               : dents(c) ? "dents"
                                          : "-";
      out_ += fmt::format("  {:<52} {:>9} {:>7}{}{:>6}\n",
                          c.gives_way + (fits && !where.empty() ? ", " + where : std::string()),
                          goes, show_factor(c.factor), c.holds ? ' ' : '!', show_number(c.needed));
      if (!fits && tight_ < two_checks) out_ += "    " + where + "\n";
      if (style_.details) {
        out_ += wrap("      ", reckoning(c));
      }
    }
  }

  // "port forward" for the "port forward eye bolt", where the row names the part already.
  [[nodiscard]] std::string short_place(const std::string& where) const {
    for (const HoldDown& h : s_.board().hold_downs) {
      if (h.name != where) continue;
      for (const char* kind : {" eye bolt", " U-bolt", " bolt", " pin"}) {
        if (ends_with(where, kind)) {
          return clean(where.substr(0, where.size() - std::string(kind).size()));
        }
      }
    }
    return clean(where);
  }

  // How a row of the checks was found.
  [[nodiscard]] std::string reckoning(const CheckResult& c) const {
    return "strength " + show(c.strength, u_) + ", demand " + show(c.demand, u_) +
           (c.case_title.empty() ? "" : "; " + c.case_title + ", " + c.direction) + "; " +
           to_text(c.source) + "; valid: " + c.valid + "; accuracy: " + c.accuracy +
           (c.outside_checks < 2 ? "; formula seen, not proved outside" : "");
  }

  // Equal links of several gears become one.
  [[nodiscard]] std::vector<LadderStep> rungs() const {
    struct Link {
      std::size_t at;  // in `out`
      std::string what;
      std::vector<std::string> whose;
    };
    std::vector<LadderStep> out;
    std::vector<Link> links;
    std::vector<std::string> every;
    for (const LadderStep& step : a_.ladder) {
      if (!step.link || !s_.on_board()) {
        out.push_back(step);
        // On one screen without its place, which the sentence or the checks have.
        for (const CheckResult& c : a_.checks) {
          if (s_.on_board() && !style_.details && !c.where.empty() &&
              step.what == c.gives_way + " (" + c.where + ")") {
            out.back().what = c.gives_way;
          }
        }
        continue;
      }
      std::string what = step.what;
      std::string owner;
      for (const Gear& g : s_.gear) {
        const std::string end = " (" + g.name + ")";
        if (!ends_with(what, end)) continue;
        what.resize(what.size() - end.size());
        owner = g.name;
        break;
      }
      every.push_back(what);
      const auto same = std::find_if(links.begin(), links.end(), [&](const Link& l) {
        return l.what == what && alike(out[l.at].low, step.low) && alike(out[l.at].high, step.high);
      });
      if (same != links.end()) {
        same->whose.push_back(owner);
        continue;
      }
      links.push_back({out.size(), what, {owner}});
      out.push_back(step);
    }
    for (const Link& l : links) {
      if (l.whose.size() < 2) continue;
      const auto all = std::size_t(std::count(every.begin(), every.end(), l.what));
      std::string& text = out[l.at].what;
      text = wording::of_several(l.what);
      if (all == l.whose.size()) continue;
      std::string list;
      for (const std::string& w : l.whose) {
        if (!w.empty()) list += (list.empty() ? "" : ", ") + w;
      }
      if (!list.empty()) text += " (" + list + ")";
    }
    return out;
  }

  void limits() {
    const bool rod = s_.gear.front().rod_holder.has_value();
    if (!a_.hold_limit) return;
    out_ += "\n";
    out_ += wrap("Hold limit  ",
                 about(*a_.hold_limit, u_, Rounding::down) + (rod ? " on the line" : " of pull") +
                     " at full factors for everyday use, any direction of its range" + set_by() +
                     (a_.not_before ? "; first to go not before about " +
                                          about(*a_.not_before, u_, Rounding::down)
                                    : ""));
    using namespace literals;
    if (a_.setting && *a_.setting < 0.5_lbf) {
      out_ += wrap("Setting     ", "none that is of use: change the mount");
    } else if (a_.setting) {
      std::string text =
          "drag not above " + about(*a_.setting, u_, Rounding::down) + ", measured with a scale";
      if (a_.test_pull) {
        text += "; test pull " + about(*a_.test_pull, u_, Rounding::down) + " on the line";
      }
      out_ += wrap("Setting     ", text);
    }
  }

  // Which check sets the hold limit.
  [[nodiscard]] std::string set_by() const {
    const CheckResult* least = nullptr;
    for (const CheckResult& c : a_.checks) {
      if (c.limit_at && (least == nullptr || *c.limit_at < *least->limit_at)) least = &c;
    }
    return least == nullptr ? std::string() : "; set by: " + least->gives_way;
  }

  void checks(std::size_t most) {
    out_ += fmt::format("\n{:<49} {:>9} {:>7} {:>6}\n", "Gives way (worst first)", "goes at",
                        "factor", "needed");
    std::size_t shown = 0;
    for (const CheckResult& c : a_.checks) {
      if (c.standing != Standing::applies || shown == most) continue;
      ++shown;
      out_ += fmt::format("  {:<47} {:>9} {:>7}{}{:>6}\n",
                          c.gives_way + (c.fastener >= 0 ? fmt::format(" (no. {})", c.fastener + 1)
                                                         : std::string()),
                          c.goes_at ? about(*c.goes_at, u_, Rounding::down) : "-",
                          show_factor(c.factor), c.holds ? ' ' : '!', show_number(c.needed));
      if (style_.details) {
        out_ += wrap("      ", reckoning(c));
      }
    }
    if (shown < most || style_.details) return;
    std::size_t all = 0;
    for (const CheckResult& c : a_.checks) {
      if (c.standing == Standing::applies) ++all;
    }
    if (all > shown) out_ += fmt::format("  and {} more, see --details\n", all - shown);
  }

  void ladder(std::size_t most) {
    if (a_.ladder.empty()) return;
    std::string text;
    std::size_t shown = 0;
    const LadderStep* last = nullptr;
    const std::vector<LadderStep> steps = rungs();
    const std::size_t items = tight_ >= short_ladder ? 1 : 2;
    for (const LadderStep& step : steps) {
      // On one screen: the links and the first items of the mount.
      if (!step.link && shown >= most) continue;
      if (!step.link) ++shown;
      if (last != nullptr) text += " > ";
      last = &step;
      text += step.what + " " +
              (step.low ? (step.high ? about(*step.low, u_, Rounding::down) + " to " +
                                           about(*step.high, u_, Rounding::up)
                                     : "from " + about(*step.low, u_, Rounding::down))
                        : std::string("?"));
      if (!style_.details && shown >= items && !step.link) shown = most;
    }
    out_ += gap() + wrap("Ladder      ", text);
    if (!a_.ladder_verdict.empty()) out_ += wrap("            ", a_.ladder_verdict);
  }

  void walls() {
    if (a_.walls.size() < 2) return;
    std::string text;
    for (const WallRow& w : a_.walls) {
      text += (text.empty() ? "" : "; ") + show(w.thickness, u_) + " " +
              (w.position == "this wall" ? "(this) " : "") + w.verdict +
              (w.hold_limit ? ", limit " + about(*w.hold_limit, u_, Rounding::down) : "");
    }
    out_ += wrap("Walls       ", text);
  }

  void to_do() {
    if (a_.to_do.empty()) return;
    out_ += gap() + "What to do\n";
    int n = 0;
    for (const std::string& t : a_.to_do) {
      // What the line of the setting says.
      if (tight_ >= no_repeats && a_.to_do.size() > 1 && t.rfind("as it stands: ", 0) == 0)
        continue;
      out_ += wrap(fmt::format("  {}. ", ++n), t);
    }
  }

  void cautions() {
    out_ += "\nCautions\n";
    std::string text;
    for (const std::string& c : a_.cautions) {
      if (tight_ >= cautions_run_on) {
        text += (text.empty() ? "! " : " ! ") + c;
      } else {
        out_ += wrap("  ! ", c);
      }
    }
    if (!text.empty()) out_ += wrap("  ", text);
    text.clear();
    for (std::size_t i = 0; i < a_.not_checked.size();) {
      // Neighbours with the same reason give it once.
      const std::string why = s_.on_board() ? reason_of(a_.not_checked[i]) : std::string();
      std::size_t end = i + 1;
      while (!why.empty() && end < a_.not_checked.size() && reason_of(a_.not_checked[end]) == why) {
        ++end;
      }
      if (end - i > 2 && !style_.details) {
        text += fmt::format("{}{} checks{}", text.empty() ? "" : "; ", end - i, why);
        i = end;
        continue;
      }
      for (; i < end; ++i) {
        std::string one = a_.not_checked[i];
        if (i + 1 < end || tight_ >= no_reasons) one.resize(one.size() - why.size());
        text += (text.empty() ? "" : "; ") + one;
      }
    }
    out_ += wrap("Not checked ", text);
  }

  static std::string reason_of(const std::string& not_checked) {
    const std::size_t at = not_checked.find(": ");
    return at == std::string::npos ? std::string() : not_checked.substr(at);
  }

  void board_details() {
    if (!a_.gear_limits.empty()) out_ += "\nLimits of each gear\n";
    for (const GearLimit& l : a_.gear_limits) {
      std::string text = l.gear + ": ";
      const auto add = [&](const char* what, const std::optional<Force>& f) {
        if (f) text += std::string(what) + show(*f, u_);
      };
      if (!l.hold_limit) text += "no hold limit found";
      add("hold limit ", l.hold_limit);
      if (!l.set_by.empty()) text += ", set by: " + l.set_by;
      if (!l.tips.empty() && l.tips != l.set_by) text += ", " + l.tips;
      if (!l.direction.empty()) text += ", " + l.direction;
      add("; first to go not before ", l.not_before);
      if (!l.first.empty()) text += ": " + l.first;
      add("; setting ", l.setting);
      add("; test pull ", l.test_pull);
      out_ += wrap("  ", text);
    }
    if (!a_.movements.empty()) out_ += "\nMovement\n";
    for (const MovementRow& m : a_.movements) {
      out_ += wrap("  ", m.gear + " at " + show(m.pull, u_) + ": boom tip " + rough(m.tip) +
                             ", base " + rough(m.base) +
                             fmt::format(", turns {:.1f} deg; ", in_degrees(m.turn)) + m.feel);
    }
    if (!a_.supports.empty()) out_ += "\nForces on the supports, worst deciding case\n";
    for (const auto& [name, force, open] : supports()) {
      out_ += fmt::format("  {:<52} {:>9}  {}\n", clean(name), show(force, u_),
                          open ? "open" : "closed");
    }
  }

  // The points of one edge of a seat count together.
  [[nodiscard]] std::vector<SupportRow> supports() const {
    std::vector<SupportRow> out;
    for (const SupportRow& r : a_.supports) {
      SupportRow* same = nullptr;
      for (SupportRow& o : out) {
        if (o.name == r.name) same = &o;
      }
      if (same == nullptr) {
        out.push_back(r);
      } else {
        same->force += r.force;
        same->open = same->open && r.open;
      }
    }
    for (SupportRow& r : out) {
      if (std::abs(r.force.value()) < 0.05) r.force = Force{};
    }
    return out;
  }

  void details() {
    if (s_.on_board()) board_details();
    out_ += "\nCases\n";
    for (const CaseResult& c : a_.cases) {
      const std::string load =
          c.load_case.path == LoadPath::ride
              ? "up to " + show_number(c.load_case.peak) + " g on top of gravity"
              : show(c.load_case.pull, u_);
      std::string text = c.load_case.title + " (" + std::string(word_for(c.load_case.category)) +
                         (c.load_case.decides ? ", decides" : ", shown") + "): " + load + "; " +
                         c.load_case.why;
      if (!c.motion.empty()) {
        text += "; " + c.motion + (c.direction.empty() ? "" : ", " + c.direction);
      } else if (s_.on_board() && (mechanism_ || c.worst_mode.empty())) {
        text += "; no figures";
      } else {
        text += "; worst: " + c.worst_gives_way + ", factor " + show_factor(c.factor) + " of " +
                show_number(c.needed) + ", " + c.direction;
      }
      out_ += wrap("  ", text);
    }
    if (!a_.fasteners.empty() || !s_.on_board()) {
      out_ += "\nForces on the fasteners, worst deciding case\n";
    }
    int n = 0;
    for (const FastenerRow& f : a_.fasteners) {
      out_ +=
          fmt::format("  no. {:<3}{:>10} {:<7} {:>10} {:<8}  pull {:>8}  shear {:>8}\n", ++n,
                      show(Length(abs(f.at.x)), u_), f.at.x.value() < 0 ? "aft" : "forward",
                      show(Length(abs(f.at.y)), u_), f.at.y.value() < 0 ? "inboard" : "outboard",
                      show(f.tension, u_), show(f.shear, u_));
    }
    out_ += "\nInputs\n";
    for (const Input& i : s_.inputs) {
      if (s_.on_board()) {
        out_ +=
            wrap("  ", plain(i.label, 60) + ": " + plain(i.value, 60) + " (" +
                           std::string(word_for(i.known)) + (i.defaulted ? ", not in file)" : ")"));
        continue;
      }
      out_ += fmt::format("  {:<36} {:<21} {}{}\n", plain(i.label, 33), plain(i.value, 18),
                          word_for(i.known), i.defaulted ? ", not in file" : "");
    }
    out_ += "\nNot concerned or not checked\n";
    for (const CheckResult& c : a_.checks) {
      if (c.standing != Standing::applies) out_ += wrap("  ", c.gives_way + ": " + c.why);
    }
    if (!a_.notes.empty()) out_ += "\nNotes\n";
    for (const std::string& note : a_.notes) out_ += wrap("  - ", note);
    out_ += "\nSources\n";
    for (const Citation& c : a_.sources) out_ += wrap("  - ", to_text(c));
    out_ += "\n" + wrap("", s_.on_board() ? wording::board_scope : wording::scope) +
            wrap("", wording::deferral);
  }

  const Setup& s_;
  const Assessment& a_;
  ReportStyle style_;
  ReaderUnits u_;
  int tight_ = 0;
  bool mechanism_ = false;                                  // of a board, in a case that decides
  std::vector<std::pair<std::string, std::string>> names_;  // as given, as shown
  std::string out_;
};

}  // namespace

std::string terminal_report(const Setup& setup, const Assessment& assessment,
                            const ReportStyle& style) {
  return Terminal(setup, assessment, style).write();
}

}  // namespace thole
