#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <utility>

#include <thole/assumptions.hpp>
#include <thole/cautions.hpp>
#include <thole/check.hpp>
#include <thole/error.hpp>
#include <thole/fit.hpp>
#include <thole/report.hpp>

#include "core/stable_order.hpp"
#include "core/ties.hpp"
#include "report/beside.hpp"
#include "report/ladder_block.hpp"
#include "report/limits_block.hpp"
#include "report/short_names.hpp"
#include "report/text.hpp"
#include "report/tightening_block.hpp"
#include "report/wording.hpp"

namespace thole {

namespace wording {

std::string first_line(const std::string& title) {
  const std::string made = made_by();
  const std::string whole = text::plain(title);
  if (whole.empty()) return made + "\n";
  const std::size_t room = text::columns - made.size() - 2;
  if (text::width(whole) <= room) return made + "  " + whole + "\n";
  constexpr std::size_t dots = 3;  // that plain() puts where it cuts
  return made + "\n" +
         (text::width(whole) <= text::columns ? whole : text::plain(whole, text::columns - dots)) +
         "\n";
}

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
  constexpr std::array<std::pair<const char*, const char*>, 7> plurals{
      {{"brake slips", "brakes slip"},
       {"wire parts", "wires part"},
       {"weak link parts", "weak links part"},
       {"drag slips", "drags slip"},
       {"line parts", "lines part"},
       {"holder body", "holder bodies"},
       {"gear body", "gear bodies"}}};
  for (const auto& [one, several] : plurals) {
    if (link == one) return several;
  }
  return link;
}

std::vector<std::string> directions_of(const LoadCase& c) {
  if (c.path == LoadPath::warning) return {};
  return describe_ranges(c);
}

double peak_of(const LoadCase& c) {
  double most = 1;
  for (const Shake& k : c.shakes) most = std::max(most, std::abs(k.up));
  return most - 1;
}

}  // namespace wording

namespace {

constexpr std::ptrdiff_t screen = 48;  // lines
constexpr std::size_t longest_name = 30;
constexpr std::size_t longest_text = 160;  // of the user's, on the screen

using text::alike;
using text::columns;
using text::ends_with;
using text::lesser;
using text::plain;
using text::sentence;
using text::wrapped;

class Terminal {
 public:
  Terminal(const Setup& s, const Assessment& a, const ReportStyle& style)
      : s_(s),
        a_(a),
        style_(style),
        u_(s.units),
        fit_(look_at_fit(s)),
        names_(s, longest_name),
        failed_(beside::failed_pulls(s, a)) {
    if (!s.on_board()) return;
    for (const CaseResult& c : a.cases) {
      mechanism_ = mechanism_ || (c.load_case.decides && !c.motion.empty());
    }
  }

  std::string write() {
    std::string out = written();
    // A report with much to say gives up, step by step, what --details has as well.
    while (!style_.details && tight_ < tightest &&
           std::count(out.begin(), out.end(), '\n') > screen) {
      ++tight_;
      out = written();
    }
    // And blank lines from the last on.
    while (!style_.details && std::count(out.begin(), out.end(), '\n') > screen &&
           out.rfind("\n\n") != std::string::npos) {
      out.erase(out.rfind("\n\n"), 1);
    }
    return out;
  }

 private:
  // Steps of `tight_`, each with those before it.
  enum Tight : int {
    short_tightening = 1,
    no_reasons,
    no_repeats,
    short_ladder,
    no_gaps,
    short_wire,
    few_conditions,
    short_margins,
    two_checks,
    lesser_limits,
    one_check,
    no_movement,
    short_boat,
    no_explaining,
    few_not_checked,
    no_tightening,
    no_wire,
    no_lost,
    first_to_do,
    bare_limits,
    boat_in_a_word,
    one_look,
    one_setting,
    cautions_run_on,
    bare_ladder,
    no_walls,
    no_sectors,
    fewest_conditions,
    tightest = fewest_conditions
  };

  std::string written() {
    std::size_t rows = a_.checks.size();
    if (!style_.details) rows = tight_ >= one_check ? 1U : tight_ >= two_checks ? 2U : 3U;

    out_ = wording::first_line(s_.title);
    headline();
    test_pulls();
    look_again();
    if (s_.on_board()) {
      gear_limits();
      by_direction();
      boat();
      wire();
      if (tight_ < no_movement) {
        if (groups().empty() && a_.towing.empty() && !a_.boat.described && !a_.movements.empty()) {
          out_ += "\n";
        }
        movement();
        holding();
      }
      board_checks(rows);
    } else {
      if (gear_by_gear()) {
        gear_limits();
      } else {
        limits();
      }
      by_direction();
      boat();
      wire();
      checks(rows);
    }
    ladder();
    walls();
    margins();
    one_missing();
    tightening();
    fit();
    changes();
    to_do();
    cautions();
    out_ += wrap("", wording::deferral);
    if (style_.details) details();
    return out_;
  }

  [[nodiscard]] std::string gap() const { return tight_ >= no_gaps ? "" : "\n"; }

  [[nodiscard]] std::string clean(std::string text) const { return names_.in(std::move(text)); }

  [[nodiscard]] std::string wrap(const std::string& lead, const std::string& text) const {
    return wrapped(lead, clean(text));
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
    const std::size_t most = tight_ >= fewest_conditions ? 80
                             : tight_ >= few_conditions  ? 150
                                                         : 300;
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

  using Group = beside::GearGroup;

  // In the end the lowest of each kind of gear stands for all of it.
  [[nodiscard]] std::vector<Group> groups() const {
    const double within = tight_ >= one_setting ? 1.0 : tight_ >= lesser_limits ? 0.15 : 0.02;
    return beside::gear_groups(s_, a_, within, tight_ >= one_setting);
  }

  // Hold limits and settings of each gear; where the boat is described, its limit beside the
  // mount's.
  void gear_limits() {
    using namespace literals;
    const std::vector<Group> all = groups();
    if (all.empty()) return;
    out_ += "\n";
    std::string lead = "Hold limit  ";
    std::array<bool, 3> explained{};
    std::string set_by;
    for (const Group& g : all) {
      const int kind = beside::kind_of(*g.gear);
      std::string text = whose(g);
      if (*g.limit.hold_limit < 0.5_lbf) {
        text += "next to nothing" + beside_boat(g.heel);
      } else {
        text += about(*g.limit.hold_limit, u_, Rounding::down) + beside_boat(g.heel) +
                (kind == 0   ? " at the boom tip"
                 : kind == 1 ? " on the line"
                             : " of pull");
      }
      if (!explained[std::size_t(kind)] && tight_ < no_explaining) {
        text += g.heel ? "; the mount at full factors" : ", at full factors";
        text += kind == 0 ? " for a pull of minutes, any boom angle and direction of its range"
                          : " for everyday use, any direction of its range";
        explained[std::size_t(kind)] = true;
      }
      if (!g.limit.set_by.empty() && g.limit.set_by != set_by && tight_ < bare_limits) {
        set_by = g.limit.set_by;
        text += "; set by: " + set_by;
      }
      // The setting keeps within it as well.
      if (g.limit.all_hung_up &&
          parts::below(g.limit.all_hung_up->value(), g.limit.hold_limit->value())) {
        text += "; " + about(*g.limit.all_hung_up, u_, Rounding::down) + " each, all hung up";
      }
      if (g.limit.not_before && tight_ < bare_limits) {
        text += "; first to go not before about " + about(*g.limit.not_before, u_, Rounding::down);
      }
      out_ += wrap(lead, text);
      lead = "            ";
    }
    lead = "Setting     ";
    explained = {};
    for (const Group& g : all) {
      if (!g.setting.pull) continue;
      const int kind = beside::kind_of(*g.gear);
      const bool again = explained[std::size_t(kind)];
      explained[std::size_t(kind)] = true;
      out_ += wrap(lead, whose(g) + setting(g.setting, kind, g.heel, again));
      lead = "            ";
    }
  }

  [[nodiscard]] std::string whose(const Group& g) const {
    std::string text = clean(beside::whose(s_, g.names));
    if (tight_ >= one_setting && text.size() > longest_name + 2) {
      text = fmt::format("{} {}s: ", g.names.size(), beside::word_for_kind(*g.gear));
    }
    return text;
  }

  [[nodiscard]] std::string beside_boat(const std::optional<HeelPull>& heel) const {
    if (!heel) return "";
    return " (mount) | " + beside::first_level(*heel, u_) + " (boat)";
  }

  // What may be set, and whether mount or boat says so.
  [[nodiscard]] std::string setting(const beside::Setting& setting, int kind,
                                    const std::optional<HeelPull>& heel, bool again) const {
    using namespace literals;
    if (a_.verdict == Verdict::no_verdict) return "none while there is no verdict";
    if (!beside::of_use(setting)) {
      const std::string needs =
          setting.pull && setting.least_useful > 0.5_lbf
              ? ": a brake that slips at " + about(*setting.pull, u_, Rounding::down) +
                    " cannot hold the ball in waves (" + about(setting.least_useful, u_) + ")"
              : std::string();
      if (!needs.empty() && tight_ < one_setting) {
        return "none that is of use" + needs +
               (setting.by_boat ? "; the boat heels too far first" : "; change the mount");
      }
      return setting.by_boat ? "none that is of use: the boat heels too far first"
                             : "none that is of use: change the mount";
    }
    const bool fails = a_.verdict == Verdict::does_not_hold;
    std::string text;
    if (fails && !again) text += "change it first; by its pulls alone ";
    if (!again) text += kind == 1 ? "drag not above " : "brake to slip at not above ";
    text += about(*setting.pull, u_, Rounding::down);
    if (heel && heel->setting) {
      text += setting.by_boat ? " (set by the boat, not the mount)"
                              : " (set by the mount, not the boat)";
    }
    if (!again) text += std::string(", measured with a scale") + (kind == 1 ? "" : " at the clip");
    if (setting.test_pull && !fails) {
      text += "; test pull " + about(*setting.test_pull, u_, Rounding::down);
      if (!again) text += kind == 1 ? " on the line" : " at the tip";
    }
    return text;
  }

  // A mount that failed its test pull is not used, whatever the sum says.
  void test_pulls() {
    for (const std::string& p : failed_) out_ += wrap("  ! ", p);
  }

  // Figures that look like another quantity: everything else hangs on them.
  void look_again() {
    const std::size_t most = tight_ >= one_look ? 1 : 2;
    std::string lead = "Look again  ";
    std::size_t shown = 0;
    for (const std::string& t : a_.look_again) {
      if (!style_.details && shown == most) break;
      ++shown;
      out_ +=
          wrap(lead, sentence(style_.details ? t
                                             : plain(t, tight_ >= one_look ? longest_text / 2
                                                                           : longest_text + 90)));
      lead = "            ";
    }
    if (shown < a_.look_again.size()) {
      out_ += wrap(lead, fmt::format("And {} more, see --details.", a_.look_again.size() - shown));
    }
  }

  // The boat's side of the pulls: never a stability check.
  void boat() {
    std::string text = beside::boat(s_, a_.boat, tight_ >= short_boat);
    if (text.empty()) return;
    if (tight_ >= boat_in_a_word) text = "no stability check: see --details";
    if (!has_limits()) out_ += "\n";
    out_ += wrap("Boat        ", text);
  }

  void wire() {
    // That a ball cannot reach its depth is said on any screen.
    const bool flat = std::any_of(a_.towing.begin(), a_.towing.end(),
                                  [](const TowingRow& r) { return r.too_flat; });
    if (a_.towing.empty() || (tight_ >= no_wire && !flat)) return;
    if (!has_limits() && !a_.boat.described) out_ += "\n";
    std::string lead = "Wire        ";
    for (const std::string& t : beside::wires(s_, a_.towing, tight_ >= short_wire)) {
      out_ += wrap(lead, t);
      lead = "            ";
    }
  }

  // A brake has more to say than one rod or load.
  [[nodiscard]] bool gear_by_gear() const {
    return s_.on_board() || a_.gear_limits.size() > 1 || s_.gear.front().downrigger.has_value();
  }

  // Whether the block with the limits has begun.
  [[nodiscard]] bool has_limits() const {
    return gear_by_gear() ? !groups().empty() : a_.hold_limit.has_value();
  }

  // What the owner did to the list of load cases: a verdict on other loads than listed.
  void changes() {
    constexpr std::size_t most = 2;
    std::vector<std::string> texts;
    for (std::string t : a_.case_changes) {
      if (t.rfind("changed: ", 0) == 0) t.erase(0, 9);
      if (!style_.details)
        t = plain(for_every_gear(std::move(t)),
                  tight_ >= one_look ? longest_text / 2 : longest_text);
      if (std::find(texts.begin(), texts.end(), t) == texts.end()) texts.push_back(t);
    }
    if (texts.size() > most && !style_.details) {
      texts = {
          fmt::format("{} load cases are changed, left out or added by the owner, see --details",
                      texts.size())};
    }
    std::string lead = "Changed     ";
    for (const std::string& t : texts) {
      out_ += wrap(lead, t);
      lead = "            ";
    }
  }

  // A change of a kind of case says the same for each gear.
  [[nodiscard]] std::string for_every_gear(std::string text) const {
    if (s_.gear.size() < 2) return text;
    for (const Gear& g : s_.gear) {
      const std::string name = ", " + g.name;
      const std::size_t at = text.find(name);
      if (g.name.empty() || at == std::string::npos) continue;
      std::string all = text;
      const auto other = [&](const Gear& o) {
        if (&o == &g || beside::kind_of(o) != beside::kind_of(g)) return false;
        all = text;
        all.replace(at, name.size(), ", " + o.name);
        return std::any_of(a_.case_changes.begin(), a_.case_changes.end(),
                           [&](const std::string& t) { return ends_with(t, all); });
      };
      if (std::any_of(s_.gear.begin(), s_.gear.end(), other)) text.erase(at, name.size());
      break;
    }
    return text;
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
      sort_stably(rows, [](const auto& a, const auto& b) { return a.second > b.second; });
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

  // Of a plate with one rod or load.
  void limits() {
    if (!a_.hold_limit) return;
    const Gear& gear = s_.gear.front();
    const int kind = beside::kind_of(gear);
    std::optional<HeelPull> heel;
    if (const HeelPull* own = beside::heel_pull(a_, gear.name)) heel = *own;
    out_ += "\n";
    std::string text = about(*a_.hold_limit, u_, Rounding::down) + beside_boat(heel) +
                       (kind == 1 ? " on the line" : " of pull");
    if (tight_ < no_explaining) {
      text += std::string(heel ? "; the mount" : "") +
              " at full factors for everyday use, any direction of its range";
    }
    text += set_by();
    if (a_.not_before) {
      text += "; first to go not before about " + about(*a_.not_before, u_, Rounding::down);
    }
    out_ += wrap("Hold limit  ", text);
    const beside::Setting setting = beside::setting_of(a_);
    if (setting.pull) out_ += wrap("Setting     ", this->setting(setting, kind, heel, false));
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
      // A part with a long name has a line of its own.
      constexpr std::size_t room = 47;
      const std::string number =
          c.fastener >= 0 ? fmt::format(" (no. {})", c.fastener + 1) : std::string();
      std::string name = c.gives_way + number;
      const std::string part = " (" + clean(c.part) + ")";
      const bool fits = c.part.empty() || text::width(clean(name)) <= room;
      if (!fits && ends_with(clean(c.gives_way), part)) {
        name = clean(c.gives_way);
        name = name.substr(0, name.size() - part.size()) + number;
      }
      out_ += fmt::format("  {:<47} {:>9} {:>7}{}{:>6}\n", clean(name),
                          c.goes_at ? about(*c.goes_at, u_, Rounding::down) : "-",
                          show_factor(c.factor), c.holds ? ' ' : '!', show_number(c.needed));
      if (!fits) out_ += wrap("    of the ", clean(c.part));
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

  void ladder() {
    if (a_.ladder.empty()) return;
    const std::size_t items = tight_ >= short_ladder ? 1 : 2;
    const std::string order = ladder::order(s_, a_, items, style_.details);
    out_ += gap() + wrap("Ladder      ", order);
    std::string verdict = a_.ladder_verdict;
    // On a full screen the mark behind the gear's body says it.
    if (tight_ >= short_ladder && ends_with(order, "?")) {
      for (const char* whose : {"gear's", "holder's"}) {
        const std::string clause = std::string("; the ") + whose + " own strength is not known";
        const std::size_t at = verdict.find(clause);
        if (at != std::string::npos) verdict.erase(at, clause.size());
      }
    }
    std::string then = ladder::after_first(s_, a_);
    if (tight_ >= bare_ladder) then = then.substr(0, then.find("; "));
    if (tight_ >= short_ladder && !verdict.empty() && !then.empty()) {
      verdict += "; " + then;
    } else if (!then.empty()) {
      if (!verdict.empty()) out_ += wrap("            ", verdict);
      verdict = then;
    }
    if (!verdict.empty()) out_ += wrap("            ", verdict);
  }

  void walls() {
    if (a_.walls.size() < 2 || tight_ >= no_walls) return;
    out_ += wrap("Walls       ", limits::walls(s_, a_));
  }

  // A little more load, a part one size thinner: never left out of a verdict.
  void margins() {
    if (a_.margins.empty() || a_.verdict == Verdict::no_verdict) return;
    const bool brief = tight_ >= short_margins && !style_.details;
    out_ += wrap("Margins     ", limits::margins(s_, a_, brief, brief && tight_ >= no_walls));
  }

  // Hold limits by boom or sector, where they differ much.
  void by_direction() {
    if (tight_ >= no_sectors && !style_.details) return;
    const std::string text = limits::on_screen(s_, a_);
    if (!text.empty()) out_ += wrap("Directions  ", text);
  }

  // The fastener or hold-down that is missed most.
  void one_missing() {
    if (!a_.one_missing || (tight_ >= no_lost && !style_.details)) return;
    out_ += wrap("One lost    ", limits::missing(*a_.one_missing, u_));
  }

  // Base threads that a chart would strip are never left out.
  void tightening() {
    if (tight_ >= no_tightening && !style_.details &&
        std::none_of(a_.tightening.begin(), a_.tightening.end(),
                     [](const TighteningRow& r) { return r.engagement.has_value(); })) {
      return;
    }
    const std::string text =
        tightening::on_screen(s_, a_, tight_ >= short_tightening && !style_.details);
    if (!text.empty()) out_ += wrap("Tighten     ", text);
  }

  // What is in the way; no part of the verdict.
  void fit() {
    if (!fit_.described) return;
    out_ += wrap("Fit         ", clean(fit_line(s_, fit_, tight_ >= few_not_checked)));
  }

  void to_do() {
    const std::vector<std::string> list = beside::to_do(s_, a_);
    if (list.empty()) return;
    out_ += gap() + "What to do\n";
    int n = 0;
    for (const std::string& t : list) {
      // What the line of the setting says.
      if (tight_ >= no_repeats && list.size() > 1 && t.rfind("as it stands: ", 0) == 0) continue;
      if (tight_ >= first_to_do && n == 1) break;
      const bool more = tight_ >= first_to_do && list.size() > 1;
      out_ += wrap(fmt::format("  {}. ", ++n), t + (more ? "; more with --details" : ""));
    }
  }

  void cautions() {
    out_ += "\nCautions\n";
    std::string text;
    for (const std::string& c : beside::cautions(a_, a_.boat.described)) {
      if (tight_ >= cautions_run_on) {
        text += (text.empty() ? "! " : " ! ") + c;
      } else {
        out_ += wrap("  ! ", c);
      }
    }
    if (!text.empty()) out_ += wrap("  ", text);
    not_checked();
  }

  void not_checked() {
    constexpr std::size_t few = 110;
    std::string text;
    std::size_t left = 0;
    const auto add = [&](const std::string& one) {
      if (tight_ >= few_not_checked && !text.empty() && text.size() + one.size() > few) {
        ++left;
      } else {
        text += (text.empty() ? "" : "; ") + one;
      }
    };
    for (std::size_t i = 0; i < a_.not_checked.size();) {
      // Neighbours with the same reason give it once.
      const std::string why = s_.on_board() ? reason_of(a_.not_checked[i]) : std::string();
      std::size_t end = i + 1;
      while (!why.empty() && end < a_.not_checked.size() && reason_of(a_.not_checked[end]) == why) {
        ++end;
      }
      if (end - i > 2 && !style_.details) {
        add(fmt::format("{} checks{}", end - i, why));
        i = end;
        continue;
      }
      for (; i < end; ++i) {
        std::string one = a_.not_checked[i];
        if (i + 1 < end || tight_ >= no_reasons) one.resize(one.size() - why.size());
        add(one);
      }
    }
    if (!fit_.described) add("fit: not described");
    if (left > 0) text += fmt::format("; and {} more, see --details", left);
    const std::size_t hopeful = other_way(assumptions_of(s_)).size();
    if (hopeful > 0) {
      text +=
          fmt::format("{}{} assumptions may err the other way", text.empty() ? "" : "; ", hopeful);
    }
    out_ += wrap("Not checked ", text);
  }

  static std::string reason_of(const std::string& not_checked) {
    const std::size_t at = not_checked.find(": ");
    return at == std::string::npos ? std::string() : not_checked.substr(at);
  }

  void section(const char* heading, const std::vector<std::string>& texts) {
    if (texts.empty()) return;
    out_ += std::string("\n") + heading + "\n";
    for (const std::string& t : texts) out_ += wrap("  ", t);
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
      add("; when all balls hang up at once ", l.all_hung_up);
      add("; first to go not before ", l.not_before);
      if (!l.first.empty()) text += ": " + l.first;
      const beside::Setting setting = beside::setting_of(a_, l);
      add("; setting ", setting.pull);
      if (setting.by_boat) text += ", set by the boat; the mount allows " + show(*l.setting, u_);
      add("; test pull ", setting.test_pull);
      out_ += wrap("  ", text);
      directions_of(l);
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

  void directions_of(const GearLimit& l) {
    for (const std::string& line : limits::in_full(s_, l)) out_ += clean(line) + "\n";
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
    if (gear_by_gear()) {
      board_details();
    } else if (!a_.gear_limits.empty() && !a_.gear_limits.front().by_direction.empty()) {
      out_ += "\nLimits by direction\n";
      directions_of(a_.gear_limits.front());
    }
    section("Towed lines", beside::wires_in_full(s_, a_.towing));
    std::vector<std::string> sockets;
    for (const SocketRow& r : a_.sockets) sockets.push_back(beside::socket(r, u_));
    section("What the rods do to their tubes", sockets);
    section("One loss after another", ladder::in_full(s_, a_));
    section("Tightening", tightening::in_full(s_, a_));
    section("The boat's side: a comparison, no stability check", beside::boat_in_full(s_, a_.boat));
    out_ += "\nCases\n";
    for (const CaseResult& c : a_.cases) {
      const LoadCase& load_case = c.load_case;
      std::string text = load_case.title + " (" + std::string(word_for(load_case.category));
      if (load_case.left_out) {
        out_ +=
            wrap("  ",
                 text + "): left out by the owner, not calculated: " + plain(load_case.owners_why));
        continue;
      }
      if (load_case.path == LoadPath::warning) {
        out_ += wrap("  ", text + "): a warning, not calculated: " + load_case.why);
        continue;
      }
      text += std::string(load_case.decides ? ", decides" : ", shown") +
              (load_case.origin == CaseOrigin::added     ? ", added by the owner"
               : load_case.origin == CaseOrigin::changed ? ", changed by the owner"
                                                         : "") +
              "): " +
              (load_case.path == LoadPath::ride
                   ? "up to " + show_number(wording::peak_of(load_case)) + " g on top of gravity"
                   : show(load_case.pull, u_)) +
              "; " + load_case.why;
      if (!c.motion.empty()) {
        text += "; " + c.motion + (c.direction.empty() ? "" : ", " + c.direction);
      } else if (mechanism_ || c.worst_mode.empty()) {
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
      out_ += fmt::format("  {:<36} {:<19} {}{}\n", plain(i.label, 33), plain(i.value, 16),
                          word_for(i.known), i.defaulted ? ", not in file" : "");
    }
    out_ += "\nNot concerned or not checked\n";
    for (const CheckResult& c : a_.checks) {
      if (c.standing != Standing::applies) out_ += wrap("  ", c.gives_way + ": " + c.why);
    }
    section("Cautions for every mount of this kind", standing_cautions(s_));
    assumptions();
    if (!a_.notes.empty()) out_ += "\nNotes\n";
    for (const std::string& note : a_.notes) out_ += wrap("  - ", note);
    out_ += "\nSources\n";
    for (const Citation& c : a_.sources) out_ += wrap("  - ", to_text(c));
    for (const Citation& c : a_.boat.sources) {
      const auto same = [&](const Citation& o) { return to_text(o) == to_text(c); };
      if (std::none_of(a_.sources.begin(), a_.sources.end(), same)) {
        out_ += wrap("  - ", to_text(c));
      }
    }
    out_ += "\n" + wrap("", s_.on_board() ? wording::board_scope : wording::scope) +
            wrap("", wording::deferral);
  }

  void assumptions() {
    const std::vector<Assumption> all = assumptions_of(s_);
    const std::vector<std::string> hopeful = other_way(all);
    section("Assumptions that may err the other way", hopeful);
    out_ += wrap("  ", fmt::format("{} more err to the cautious side: thole assumptions SETUP",
                                   all.size() - hopeful.size()));
  }

  const Setup& s_;
  const Assessment& a_;
  ReportStyle style_;
  ReaderUnits u_;
  FitAnswer fit_;
  ShortNames names_;
  std::vector<std::string> failed_;  // test pulls
  int tight_ = 0;
  bool mechanism_ = false;  // of a board, in a case that decides
  std::string out_;
};

}  // namespace

std::string terminal_report(const Setup& setup, const Assessment& assessment,
                            const ReportStyle& style) {
  return Terminal(setup, assessment, style).write();
}

}  // namespace thole
