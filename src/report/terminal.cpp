#include <fmt/format.h>

#include <algorithm>
#include <cmath>

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

}  // namespace wording

namespace {

constexpr std::size_t columns = 79;

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
std::string wrap(const std::string& lead, const std::string& text) {
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

class Terminal {
 public:
  Terminal(const Setup& s, const Assessment& a, const ReportStyle& style)
      : s_(s), a_(a), style_(style), u_(s.units) {}

  std::string write() {
    out_ +=
        fmt::format("thole {}{}{}\n", version(), s_.title.empty() ? "" : "  ", plain(s_.title, 60));
    headline();
    limits();
    checks(style_.details ? a_.checks.size() : 3);
    ladder(style_.details ? a_.ladder.size() : 4);
    walls();
    to_do();
    cautions();
    out_ += wrap("", wording::deferral);
    if (style_.details) details();
    return out_;
  }

 private:
  std::string paint(const char* code, const std::string& text) const {
    if (!style_.colour) return text;
    return std::string("\x1b[") + code + "m" + text + "\x1b[0m";
  }

  void headline() {
    const char* code = a_.verdict == Verdict::holds           ? "1;32"
                       : a_.verdict == Verdict::does_not_hold ? "1;31"
                                                              : "1;33";
    out_ += "\n" + paint(code, wording::headline(a_.verdict)) + "\n";
    if (!a_.sentence.empty()) {
      std::string text = a_.sentence;
      if (text[0] >= 'a' && text[0] <= 'z') text[0] = static_cast<char>(text[0] - 'a' + 'A');
      out_ += wrap("  ", text + ".");
    }
    if (a_.verdict == Verdict::holds_if) {
      std::string list;
      for (const std::string& h : a_.holds_if) list += (list.empty() ? "" : "; ") + h;
      out_ += wrap("  if ", list + " (assumed).");
    }
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
        out_ +=
            wrap("      ",
                 "strength " + show(c.strength, u_) + ", demand " + show(c.demand, u_) +
                     (c.case_title.empty() ? "" : "; " + c.case_title + ", " + c.direction) + "; " +
                     to_text(c.source) + "; valid: " + c.valid + "; accuracy: " + c.accuracy +
                     (c.outside_checks < 2 ? "; formula seen, not proved outside" : ""));
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
    for (const LadderStep& step : a_.ladder) {
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
      if (!style_.details && shown >= 2 && !step.link) shown = most;
    }
    out_ += "\n" + wrap("Ladder      ", text);
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
    out_ += "\nWhat to do\n";
    int n = 0;
    for (const std::string& t : a_.to_do) out_ += wrap(fmt::format("  {}. ", ++n), t);
  }

  void cautions() {
    out_ += "\nCautions\n";
    for (const std::string& c : a_.cautions) out_ += wrap("  ! ", c);
    std::string text;
    for (const std::string& n : a_.not_checked) text += (text.empty() ? "" : "; ") + n;
    out_ += wrap("Not checked ", text);
  }

  void details() {
    out_ += "\nCases\n";
    for (const CaseResult& c : a_.cases) {
      std::string text = c.load_case.title + " (" + std::string(word_for(c.load_case.category)) +
                         (c.load_case.decides ? ", decides" : ", shown") +
                         "): " + show(c.load_case.pull, u_) + "; " + c.load_case.why;
      if (!c.motion.empty()) {
        text += "; " + c.motion;
      } else {
        text += "; worst: " + c.worst_gives_way + ", factor " + show_factor(c.factor) + " of " +
                show_number(c.needed) + ", " + c.direction;
      }
      out_ += wrap("  ", text);
    }
    out_ += "\nForces on the fasteners, worst deciding case\n";
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
      out_ += fmt::format("  {:<36} {:<21} {}{}\n", plain(i.label, 33), plain(i.value, 18),
                          word_for(i.known), i.defaulted ? ", not in file" : "");
    }
    out_ += "\nNot concerned or not checked\n";
    for (const CheckResult& c : a_.checks) {
      if (c.standing != Standing::applies) out_ += wrap("  ", c.gives_way + ": " + c.why);
    }
    out_ += "\nSources\n";
    for (const Citation& c : a_.sources) out_ += wrap("  - ", to_text(c));
    out_ += "\n" + wrap("", wording::scope) + wrap("", wording::deferral);
  }

  const Setup& s_;
  const Assessment& a_;
  ReportStyle style_;
  ReaderUnits u_;
  std::string out_;
};

}  // namespace

std::string terminal_report(const Setup& setup, const Assessment& assessment,
                            const ReportStyle& style) {
  return Terminal(setup, assessment, style).write();
}

}  // namespace thole
