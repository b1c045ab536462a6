#include "report/limits_block.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <limits>
#include <optional>
#include <sstream>

#include <thole/display.hpp>
#include <thole/report.hpp>

#include "report/beside.hpp"
#include "report/text.hpp"

namespace thole::limits {

using namespace literals;
using text::alike;

namespace {

constexpr double worth_telling = 1.5;
constexpr std::size_t room = text::columns - 12;  // of a line behind its lead

// The lower of mount and boat.
std::optional<Force> setting_of(const RangeLimit& r) {
  if (r.boat_setting && r.setting && *r.boat_setting < *r.setting) return r.boat_setting;
  return r.setting;
}

std::string held(const std::optional<Force>& f, ReaderUnits u) {
  if (!f) return "-";
  return *f < 0.5_lbf ? "nothing" : about(*f, u, Rounding::down);
}

// Without what all rows begin with: "boom 45 deg from astern" is "45 deg", "line astern" "astern".
std::string short_place(const RangeLimit& r) {
  std::string out = r.where.substr(std::min(r.where.size(), r.where.find(' ') + 1));
  const std::string of = " from astern";
  if (const std::size_t at = out.find(of); at != std::string::npos) out.erase(at, of.size());
  if (out.rfind("on the ", 0) == 0) out.erase(0, 7);
  return out;
}

// Least and greatest of the rows; nothing where they hardly differ.
struct Spread {
  const RangeLimit* least = nullptr;
  const RangeLimit* most = nullptr;
};

std::optional<Spread> spread_of(const GearLimit& l) {
  Spread out;
  for (const RangeLimit& r : l.by_direction) {
    if (!r.hold_limit) continue;
    if (out.least == nullptr || *r.hold_limit < *out.least->hold_limit) out.least = &r;
    if (out.most == nullptr || *r.hold_limit > *out.most->hold_limit) out.most = &r;
  }
  if (out.least == nullptr || *out.most->hold_limit < 0.5_lbf) return std::nullopt;
  if (!(*out.most->hold_limit > worth_telling * *out.least->hold_limit)) return std::nullopt;
  return out;
}

bool same_rows(const GearLimit& a, const GearLimit& b) {
  return std::equal(a.by_direction.begin(), a.by_direction.end(), b.by_direction.begin(),
                    b.by_direction.end(), [](const RangeLimit& x, const RangeLimit& y) {
                      return x.where == y.where && alike(x.hold_limit, y.hold_limit);
                    });
}

// What is left of the factor needed as drawn, of the item that a row of the margins would name.
double as_drawn(const Assessment& a) {
  for (const CheckResult& c : a.checks) {
    if (c.standing == Standing::applies && !text::ends_with(c.mode, "-fatigue")) {
      return c.factor / c.needed;
    }
  }
  return 0;
}

// Thinner it bends more and others carry more: how much more is a guess.
bool looks_better(const MarginRow& r, const Assessment& a) {
  if (r.more_load || r.verdict == Verdict::no_verdict || a.verdict == Verdict::no_verdict) {
    return false;
  }
  const bool now_holds = a.verdict == Verdict::does_not_hold && r.verdict != Verdict::does_not_hold;
  return now_holds || r.worst_ratio > 1.005 * as_drawn(a);
}

constexpr const char* no_gain = " (no gain to count on)";

std::string outcome(const MarginRow& r, const Assessment& a) {
  if (r.verdict == Verdict::no_verdict) {
    return "no verdict" + (r.gives_way.empty() ? "" : ": " + r.gives_way);
  }
  const bool holds = r.verdict != Verdict::does_not_hold;
  std::string out = show_factor(r.worst_ratio) + " of the factor needed";
  // What fails as it stands fails so as well.
  if (holds || a.verdict != Verdict::does_not_hold) out += holds ? ", holds" : ", does not hold";
  if (looks_better(r, a)) out += no_gain;
  return out;
}

std::string_view in_a_word(Verdict v) { return v == Verdict::holds_if ? "holds" : word_for(v); }

// Worse first: nothing known, then what fails, then by what is left.
bool worse(const MarginRow& a, const MarginRow& b) {
  const auto rank = [](const MarginRow& r) {
    return r.verdict == Verdict::no_verdict ? 0 : r.verdict == Verdict::does_not_hold ? 1 : 2;
  };
  if (rank(a) != rank(b)) return rank(a) < rank(b);
  return a.worst_ratio < b.worst_ratio;
}

}  // namespace

std::string on_screen(const Setup& s, const Assessment& a) {
  const GearLimit* first = nullptr;
  std::vector<std::string> names;
  std::size_t others = 0;
  for (const GearLimit& l : a.gear_limits) {
    if (!spread_of(l)) continue;
    if (first == nullptr) first = &l;
    if (same_rows(*first, l)) {
      names.push_back(l.gear);
    } else {
      ++others;
    }
  }
  if (first == nullptr) return "";
  const ReaderUnits u = s.units;
  const bool booms = first->by_direction.front().boom.has_value();
  const std::string more = others > 0 ? "; more with --details" : "";
  const std::string whose = text::plain(beside::whose(s, names), 40);
  std::string all = whose + (booms ? "hold limit with the boom at " : "hold limit ");
  bool begun = false;
  for (const RangeLimit& r : first->by_direction) {
    all += (begun ? "; " : "") + short_place(r) + " " + held(r.hold_limit, u);
    begun = true;
  }
  if (text::width(all + more) <= room) return all + more;
  const Spread ends = *spread_of(*first);
  const std::string two = whose + "hold limit " + short_place(*ends.least) + " " +
                          held(ends.least->hold_limit, u) + "; " + short_place(*ends.most) + " " +
                          held(ends.most->hold_limit, u);
  for (const std::string& end : {more, std::string()}) {
    if (text::width(two + end) <= room) return two + end;
  }
  return "hold limit from " + held(ends.least->hold_limit, u) + " to " +
         held(ends.most->hold_limit, u) + " by direction: see --details";
}

std::vector<std::string> in_full(const Setup& s, const GearLimit& limit) {
  std::vector<std::string> out;
  if (limit.by_direction.empty()) return out;
  const ReaderUnits u = s.units;
  const auto line = [&](const std::string& where, const std::string& hold,
                        const std::string& setting, const std::string& boat,
                        const std::string& first) {
    out.push_back("  " + text::padded(where, 32) + text::aligned(hold, 10) +
                  text::aligned(setting, 9) + text::aligned(boat, 9) + text::aligned(first, 13));
  };
  line("", "", "setting", "", "first to go");
  line("", "hold limit", "mount", "boat", "not before");
  // What sets it is told once for all rows that share it.
  std::vector<std::string> reasons;
  const auto note = [&](const std::string& why) {
    auto at = std::find(reasons.begin(), reasons.end(), why);
    if (at == reasons.end()) at = reasons.insert(at, why);
    return fmt::format(" ({})", at - reasons.begin() + 1);
  };
  const auto figure = [&](const std::optional<Force>& f) {
    return f ? about(*f, u, Rounding::down) : std::string("-");
  };
  for (const RangeLimit& r : limit.by_direction) {
    std::string why = r.set_by.empty() ? std::string("nothing found") : "set by: " + r.set_by;
    if (!r.tips.empty() && r.tips != r.set_by) why += ", " + r.tips;
    if (!r.first.empty() && r.first != r.set_by) why += "; first to go: " + r.first;
    line(r.where, figure(r.hold_limit), figure(r.setting), figure(r.boat_setting),
         figure(r.not_before));
    out.back() += note(why);
  }
  for (std::size_t i = 0; i < reasons.size(); ++i) {
    std::istringstream lines(text::wrapped(fmt::format("    ({}) ", i + 1), reasons[i]));
    for (std::string one; std::getline(lines, one);) out.push_back(one);
  }
  if (limit.holder) {
    out.push_back("    settings keep within what the gear's own holder or body takes");
  }
  return out;
}

std::string margins(const Setup& s, const Assessment& a, bool brief, bool wall) {
  std::string out;
  const auto add = [&](const std::string& t) { out += (out.empty() ? "" : "; ") + t; };
  if (!brief) {
    for (const MarginRow& r : a.margins) add(r.what + ": " + outcome(r, a));
    return out;
  }
  const MarginRow* thinner = nullptr;
  for (const MarginRow& r : a.margins) {
    if (r.more_load) {
      add(r.what + ": " + std::string(in_a_word(r.verdict)));
    } else if (thinner == nullptr || worse(r, *thinner)) {
      thinner = &r;
    }
  }
  for (const WallRow& w : a.walls) {
    if (wall && w.position == "thinner") add(show(w.thickness, s.units) + " wall: " + w.verdict);
  }
  if (thinner != nullptr) {
    const std::size_t at = thinner->what.find(" in place of ");
    const bool better = thinner->verdict != a.verdict && looks_better(*thinner, a);
    add(thinner->what.substr(0, at) + ": " + std::string(in_a_word(thinner->verdict)) +
        (better ? no_gain : ""));
  }
  return out;
}

std::string walls(const Setup& s, const Assessment& a) {
  std::string text;
  for (const WallRow& w : a.walls) {
    text += (text.empty() ? "" : "; ") + show(w.thickness, s.units) + " " +
            (w.position == "this wall" ? "(this) " : "") + w.verdict +
            (w.hold_limit ? ", limit " + about(*w.hold_limit, s.units, Rounding::down) : "");
  }
  return text;
}

std::string missing(const MissingRow& m, ReaderUnits u) {
  std::string text = "without " + m.what;
  if (m.of > 1) {
    text += m.tried < m.of ? fmt::format(", missed most of {} tried of {}: ", m.tried, m.of)
                           : fmt::format(", missed most of {}: ", m.of);
  } else {
    text += ": ";
  }
  if (m.verdict == Verdict::no_verdict) {
    return text + (m.reasons.empty() ? std::string("no verdict") : m.reasons.front());
  }
  return text + (m.verdict == Verdict::does_not_hold ? "does not hold" : "the rest holds") + "; " +
         m.gives_way + ", " + show_factor(m.worst_ratio) + " of the factor needed" +
         (m.hold_limit ? ", limit " + about(*m.hold_limit, u, Rounding::down) : "");
}

void write(Json& j, const GearLimit& limit) {
  j.key("by_direction").open('[');
  for (const RangeLimit& r : limit.by_direction) {
    j.open('{');
    j.key("where").text(r.where);
    j.key("boom_rad").maybe(r.boom);
    if (r.range) {
      j.key("range").open('{');
      j.key("azimuth").open('[');
      j.number(in_degrees(r.range->azimuth_from));
      j.number(in_degrees(r.range->azimuth_to));
      j.close(']');
      j.key("dip").open('[');
      j.number(in_degrees(r.range->dip_from));
      j.number(in_degrees(r.range->dip_to));
      j.close(']');
      j.close('}');
    }
    j.key("hold_limit_N").maybe(r.hold_limit);
    j.key("set_by").text(r.set_by);
    j.key("tips").text(r.tips);
    j.key("not_before_about_N").maybe(r.not_before);
    j.key("first_to_go").text(r.first);
    j.key("setting_N").maybe(setting_of(r));
    j.key("mount_setting_N").maybe(r.setting);
    j.key("boat_setting_N").maybe(r.boat_setting);
    j.close('}');
  }
  j.close(']');
}

void write_margins(Json& j, const Assessment& a) {
  j.key("margins").open('[');
  for (const MarginRow& r : a.margins) {
    j.open('{');
    j.key("what").text(r.what);
    j.key("more_load").yes_no(r.more_load);
    j.key("verdict").text(std::string(word_for(r.verdict)));
    j.key("factor_over_needed");
    // Without a verdict there may be no factor.
    if (r.worst_ratio > 0) {
      j.number(r.worst_ratio);
    } else {
      j.null();
    }
    j.key("gives_way").text(r.gives_way);
    j.key("hold_limit_N").maybe(r.hold_limit);
    j.close('}');
  }
  j.close(']');
}

}  // namespace thole::limits
