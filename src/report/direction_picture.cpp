#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numbers>

#include "core/stable_order.hpp"
#include "core/ties.hpp"
#include "report/beside.hpp"
#include "report/chart_labels.hpp"
#include "report/html.hpp"
#include "report/pictures.hpp"
#include "report/text.hpp"

namespace thole::pictures {
namespace {

using charts::text_size;
using svg::Anchor;
using svg::Drawing;
using svg::Point;

constexpr double rim = 96;
constexpr double over_rim = 44;  // for the bow
constexpr double over_marks = 62;
constexpr double line_height = 18;
constexpr double worth_showing = 5;  // times the pull it must take: what is more ends at the rim
constexpr int most_rings = 4;
constexpr double rings_along = -135;  // deg, where their figures stand: ahead, inboard

enum class State { holds, fails, unknown };

// One part of the horizon, degrees from astern toward outboard.
struct Part {
  double from = 0;
  double to = 0;
  std::optional<Force> limit;
  State state = State::unknown;
  bool allowed = false;  // the file has the boom there, or the line
  std::string words;     // "boom 45 deg", "astern"
  std::string why;
};

struct Directions {
  const Gear* gear = nullptr;
  std::vector<Part> parts;
  std::vector<Part> upright;       // straight down or up: no part of the horizon
  std::optional<Force> low, high;  // the pull it must take
  std::string need;                // "brake slips"
  bool booms = false;
};

double whole_degrees(Angle a) { return std::round(in_degrees(a)); }

// The place of the boom in words, as people stand in a boat.
std::string toward(double deg) {
  const auto at = [deg](double d) { return std::abs(deg - d) < 1; };
  if (at(0)) return "astern";
  if (at(90)) return "outboard";
  if (at(-90)) return "inboard";
  if (at(180) || at(-180)) return "ahead";
  return "";
}

std::string boom_words(double deg) {
  const std::string word = toward(deg);
  return fmt::format("boom {:g} deg{}", deg, word.empty() ? "" : " (" + word + ")");
}

// From midway to the neighbour on either side, all round.
void add_booms(const SheetContent& c, Directions& out) {
  std::vector<const BoomRow*> rows;
  for (const BoomRow& r : c.booms) {
    if (r.gear == out.gear->name) rows.push_back(&r);
  }
  sort_stably(rows, [](const BoomRow* a, const BoomRow* b) {
    return a->azimuth.value() < b->azimuth.value();
  });
  const std::size_t n = rows.size();
  for (std::size_t i = 0; i < n; ++i) {
    const BoomRow& r = *rows[i];
    const double at = in_degrees(r.azimuth);
    double before = at - in_degrees(rows[(i + n - 1) % n]->azimuth);
    double after = in_degrees(rows[(i + 1) % n]->azimuth) - at;
    if (before <= 0) before += 360;
    if (after <= 0) after += 360;
    Part p;
    p.from = at - std::min(before / 2, 15.0);
    p.to = at + std::min(after / 2, 15.0);
    p.limit = r.hold_limit;
    p.allowed = r.allowed;
    p.words = boom_words(whole_degrees(r.azimuth));
    p.why = r.gives_way;
    if (std::isfinite(r.worst_ratio)) p.state = r.worst_ratio >= 1 ? State::holds : State::fails;
    out.parts.push_back(p);
  }
}

// The setting in the file against what may be set there; of a plain load, its pull.
State state_of(const Gear& g, const RangeLimit& r) {
  if (g.plain_load) {
    if (!r.hold_limit) return State::unknown;
    return *r.hold_limit < g.plain_load->pull ? State::fails : State::holds;
  }
  const std::optional<Force> setting = text::lesser(r.setting, r.boat_setting);
  if (!r.setting || !setting) return State::unknown;
  if (g.rod_holder) return *setting < g.rod_holder->drag.value ? State::fails : State::holds;
  if (!g.downrigger->brake_slip) return State::unknown;
  return *setting < g.downrigger->brake_slip->value ? State::fails : State::holds;
}

void add_ranges(const SheetContent& c, Directions& out) {
  for (const GearLimit& l : c.assessment.gear_limits) {
    if (l.gear != out.gear->name) continue;
    for (const RangeLimit& r : l.by_direction) {
      Part p;
      p.limit = r.hold_limit;
      p.allowed = true;
      p.words = r.where;
      p.why = r.set_by;
      p.state = state_of(*out.gear, r);
      if (r.boom) {
        p.from = in_degrees(*r.boom) - 7.5;
        p.to = in_degrees(*r.boom) + 7.5;
        p.words = boom_words(whole_degrees(*r.boom));
      } else if (r.range && !text::ends_with(r.where, "straight down") &&
                 !text::ends_with(r.where, "straight up")) {
        p.from = in_degrees(r.range->azimuth_from);
        p.to = in_degrees(r.range->azimuth_to);
        if (p.to - p.from < 3) {
          p.from -= 1.5;
          p.to += 1.5;
        }
      } else {
        out.upright.push_back(p);
        continue;
      }
      out.parts.push_back(p);
    }
  }
}

// What lets go first by the file: drag or brake; else line or wire.
void add_need(const SheetContent& c, Directions& out) {
  if (out.gear->plain_load) {
    out.low = out.high = out.gear->plain_load->pull;
    out.need = "your load";
    return;
  }
  for (const LadderStep& step : c.assessment.ladder) {
    if (!step.link || step.gear != out.gear->name || !step.low || !step.high) continue;
    const bool set = step.what.rfind("brake", 0) == 0 || step.what.rfind("drag", 0) == 0;
    if (out.low && !set) continue;
    out.low = step.low;
    out.high = step.high;
    out.need = step.what.substr(0, step.what.find(" ("));
  }
}

// Where there is no verdict nothing is said to hold.
void refuse(const Assessment& a, Directions& out) {
  if (a.verdict != Verdict::no_verdict) return;
  for (std::vector<Part>* parts : {&out.parts, &out.upright}) {
    for (Part& p : *parts) {
      if (p.state == State::holds) p.state = State::unknown;
    }
  }
}

std::string held(const Part& p, ReaderUnits u) {
  if (p.limit) return about(*p.limit, u, Rounding::down);
  return p.state == State::unknown ? "not known" : "no limit found";
}

// `if_so`: of a setup that as a whole does not hold as it is described.
const char* word_of(State s, bool if_so) {
  if (s == State::holds) return if_so ? "holds if what is assumed is so" : "holds";
  return s == State::fails ? "does not hold" : "not known to hold";
}

html::Mark mark_of(State s, bool if_so) {
  return s == State::holds   ? if_so ? html::Mark::triangle : html::Mark::tick
         : s == State::fails ? html::Mark::cross
                             : html::Mark::question;
}

class Polar {
 public:
  Polar(const SheetContent& c, const Directions& of, std::string id)
      : s_(c.setup),
        a_(c.assessment),
        refused_(c.assessment.verdict == Verdict::no_verdict),
        if_so_(c.assessment.verdict != Verdict::holds),
        of_(of),
        id_(std::move(id)),
        outboard_(outboard_side()) {
    double most = 0;
    for (const Part& p : of.parts) {
      if (p.limit) most = std::max(most, value(*p.limit));
    }
    if (of.high) {
      most = std::max(value(*of.high), std::min(most, worth_showing * value(*of.high)));
    }
    ring_ = charts::round_up(most / most_rings);
    outermost_ = ring_ * std::max(1.0, std::ceil(most / ring_ - 1e-9));
    for (const GearLimit& l : c.assessment.gear_limits) {
      if (l.gear == of.gear->name) limit_ = &l;
    }
    if (limit_ != nullptr) setting_ = beside::setting_of(c.assessment, *limit_);
    const bool ahead = std::any_of(of.parts.begin(), of.parts.end(), [](const Part& p) {
      return p.allowed && std::abs((p.from + p.to) / 2) > 105;
    });
    middle_ = {charts::drawing_width / 2, rim + (ahead ? over_marks : over_rim)};
    legend_top_ = middle_.y + rim + 30;
    for (const Part& p : of.parts) {
      if (p.allowed) legend_top_ = std::max(legend_top_, label_of(p).bottom + 20);
    }
  }

  Picture picture() const {
    const std::vector<std::string> legend = legend_lines();
    const std::string title = "Hold limit by direction: " + charts::short_name(of_.gear->name);
    Drawing d(id_, charts::drawing_width, legend_top_ + line_height * double(legend.size()), title,
              description());
    for (const Part& p : of_.parts) part(d, p);
    rings(d);
    need(d);
    set(d);
    winds(d);
    for (const Part& p : of_.parts) marked(d, p);
    write_legend(d, legend);
    return {id_, title, d.element(), caption()};
  }

 private:
  [[nodiscard]] double value(Force f) const { return charts::in_reader_units(f, s_.units); }

  // Right on the page is starboard; a plate without a side is drawn as on starboard.
  [[nodiscard]] double outboard_side() const {
    const bool port =
        s_.on_board() ? of_.gear->place.side == Side::port : s_.fit && !s_.fit->starboard;
    return port ? -1 : 1;
  }

  [[nodiscard]] Point at(double deg, double radius) const {
    const double a = deg * std::numbers::pi / 180;
    return {middle_.x + outboard_ * radius * std::sin(a), middle_.y + radius * std::cos(a)};
  }

  [[nodiscard]] double radius(double reader_value) const {
    return rim * std::clamp(reader_value / outermost_, 0.0, 1.0);
  }
  [[nodiscard]] double radius(const Part& p) const {
    if (p.limit) return radius(value(*p.limit));
    return p.state == State::holds ? rim : 0;
  }

  [[nodiscard]] std::vector<Point> arc(double from, double to, double r) const {
    std::vector<Point> out;
    const int n = std::max(1, int(std::ceil((to - from) / 5)));
    for (int i = 0; i <= n; ++i) out.push_back(at(from + (to - from) * i / n, r));
    return out;
  }

  void part(Drawing& d, const Part& p) const {
    const double r = radius(p);
    if (p.state == State::unknown && !p.limit) {
      question(d, p);
      return;
    }
    std::vector<Point> points = arc(p.from, p.to, r);
    points.push_back(middle_);
    d.polygon(points, p.state == State::holds   ? "polar-holds"
                      : p.state == State::fails ? "polar-fails"
                                                : "polar-unknown");
    if (p.state != State::fails) return;
    for (double at_radius = 5; at_radius < r; at_radius += 5) {
      d.polyline(arc(p.from, p.to, at_radius), "polar-hatch");
    }
  }

  // Nobody knows how far it reaches.
  void question(Drawing& d, const Part& p) const {
    std::vector<Point> points = arc(p.from, p.to, rim);
    points.push_back(middle_);
    d.polygon(points, "polar-unknown");
    const Point where = at((p.from + p.to) / 2, rim * 0.7);
    d.raw(html::mark_shape(html::Mark::question, where.x, where.y, 12));
  }

  void rings(Drawing& d) const {
    for (double v = ring_; v <= outermost_ * (1 + 1e-9); v += ring_) {
      d.circle(middle_, radius(v), v < outermost_ * (1 - 1e-9) ? "grid" : "polar-rim");
      const Point p = at(rings_along, radius(v));
      const char* unit = s_.units == ReaderUnits::inch ? " lbf" : " N";
      const bool last = v > outermost_ * (1 - 1e-9);
      d.text({p.x + (last ? outboard_ * -3 : 0), p.y + (last ? -3 : 4)},
             show_number(v) + (last ? unit : ""), text_size,
             !last           ? Anchor::middle
             : outboard_ > 0 ? Anchor::end
                             : Anchor::start,
             "chart-figure");
    }
  }

  void need(Drawing& d) const {
    if (!of_.high) return;
    d.circle(middle_, radius(value(*of_.high)), "polar-need");
    if (*of_.low < *of_.high) d.circle(middle_, radius(value(*of_.low)), "polar-need-low");
  }

  // No setting is shown while there is no verdict.
  [[nodiscard]] bool has_setting() const {
    return !refused_ && setting_.pull && beside::of_use(setting_);
  }

  void set(Drawing& d) const {
    if (has_setting()) d.circle(middle_, radius(value(*setting_.pull)), "polar-set");
  }

  void winds(Drawing& d) const {
    d.text({middle_.x, 13}, "bow", text_size, Anchor::middle, "strong");
    d.arrow({middle_.x, 40}, {middle_.x, 18}, 7, "dim");
    const double edge = 4;
    const Anchor left = Anchor::start;
    d.text({edge, 30}, outboard_ > 0 ? "inboard" : "outboard", text_size, left, "note");
    d.text({charts::drawing_width - edge, 30}, outboard_ > 0 ? "outboard" : "inboard", text_size,
           Anchor::end, "note");
    d.text({edge, middle_.y + rim + 10}, "astern: down", text_size, left, "note");
    d.circle(middle_, 3, "gear");
  }

  // Where the file lets the boom point, or the line pull.
  void marked(Drawing& d, const Part& p) const {
    if (!p.allowed) return;
    const double deg = (p.from + p.to) / 2;
    if (of_.booms) d.line(middle_, at(deg, rim + 6), "polar-boom");
    const Point mark = at(deg, rim + 14);
    d.raw(html::mark_shape(mark_of(p.state, if_so_), mark.x, mark.y, 11));
    const Label l = label_of(p);
    Point text = l.first;
    for (const std::string& line : l.lines) {
      d.text(text, line, text_size, l.anchor, "strong");
      text.y += charts::line_height;
    }
  }

  struct Label {
    std::vector<std::string> lines;
    Anchor anchor;
    Point first;
    double bottom;  // of the last line
  };
  [[nodiscard]] Label label_of(const Part& p) const {
    const double deg = (p.from + p.to) / 2;
    const double side = outboard_ * std::sin(deg * std::numbers::pi / 180);
    const Anchor anchor = side > 0.5 ? Anchor::start : side < -0.5 ? Anchor::end : Anchor::middle;
    Point text = at(deg, rim + 22);
    text.y += 4 + 6 * std::cos(deg * std::numbers::pi / 180);
    const double room = anchor == Anchor::start ? charts::drawing_width - 2 - text.x
                        : anchor == Anchor::end ? text.x - 2
                                                : 90;
    const std::vector<std::string> lines = charts::lines_of(held(p, s_.units), room, 3, true);
    return {lines, anchor, text, text.y + charts::line_height * double(lines.size()) - 10};
  }

  [[nodiscard]] std::string need_words() const {
    if (!of_.high) return "";
    const ReaderUnits u = s_.units;
    if (!(*of_.low < *of_.high)) return of_.need + ": " + about(*of_.high, u, Rounding::up);
    const std::string low = about(*of_.low, u, Rounding::down);
    return of_.need + ": " + low.substr(0, low.find(' ')) + " to " +
           about(*of_.high, u, Rounding::up);
  }

  [[nodiscard]] bool any(State s) const {
    return std::any_of(of_.parts.begin(), of_.parts.end(),
                       [s](const Part& p) { return p.state == s; });
  }
  [[nodiscard]] bool past_the_rim() const {
    return std::any_of(of_.parts.begin(), of_.parts.end(), [this](const Part& p) {
      return p.limit ? value(*p.limit) > outermost_ : p.state == State::holds;
    });
  }

  [[nodiscard]] std::string setting_words() const {
    if (refused_) return "";
    if (setting_.pull && !beside::of_use(setting_)) return "nothing to set that is of use";
    if (!setting_.pull) return "";
    return "largest setting to use: " + about(*setting_.pull, s_.units, Rounding::down) +
           (setting_.by_boat ? " (boat)" : "");
  }

  // The first letter tells the swatch: h, x, ?, n(eed), s(etting), r(im), b(oom), - none.
  [[nodiscard]] std::vector<std::string> legend_lines() const {
    std::vector<std::string> out;
    if (any(State::holds)) out.push_back(std::string("hplain: ") + word_of(State::holds, if_so_));
    if (any(State::fails)) out.emplace_back("xhatched: does not hold");
    if (any(State::unknown)) out.emplace_back("?dashed: not known to hold");
    if (of_.high) out.push_back("n" + need_words());
    if (const std::string words = setting_words(); !words.empty()) {
      out.push_back((has_setting() ? "s" : "-") + words);
    }
    if (of_.booms) out.emplace_back("bwhere the file lets the boom point");
    if (past_the_rim()) out.emplace_back("rto the rim: that much or more");
    return out;
  }

  void write_legend(Drawing& d, const std::vector<std::string>& lines) const {
    double y = legend_top_;
    for (const std::string& line : lines) {
      const Point box{10, y - 10};
      const char kind = line.front();
      if (kind == 'h') d.rectangle(box, 26, 12, "polar-holds");
      if (kind == 'x' || kind == '?') {
        d.rectangle(box, 26, 12, kind == 'x' ? "polar-fails" : "polar-unknown");
      }
      if (kind == 'x') charts::hatch(d, box, 26, 12, 5, "polar-hatch");
      if (kind == 'n') d.line({10, y - 4}, {36, y - 4}, "polar-need");
      if (kind == 's') d.line({10, y - 4}, {36, y - 4}, "polar-set");
      if (kind == 'b') d.line({10, y - 4}, {36, y - 4}, "polar-boom");
      if (kind == 'r') d.line({10, y - 4}, {36, y - 4}, "polar-rim");
      d.text({44, y}, charts::fitted(line.substr(1), charts::drawing_width - 48), text_size,
             Anchor::start, "text");
      y += line_height;
    }
  }

  [[nodiscard]] std::string in_words(const Part& p) const {
    return p.words + ": " + held(p, s_.units) + ", " + word_of(p.state, if_so_);
  }

  [[nodiscard]] std::string description() const {
    std::string out;
    for (const bool allowed : {true, false}) {
      for (const Part& p : of_.parts) {
        if (p.allowed == allowed) out += (out.empty() ? "" : "; ") + in_words(p);
      }
    }
    if (of_.high) out += "; " + need_words();
    if (const std::string words = setting_words(); !words.empty()) out += "; " + words;
    return out + ".";
  }

  // What is lower than the mount's limit for this gear alone.
  [[nodiscard]] std::string others_words() const {
    if (limit_ == nullptr) return "";
    std::string out;
    const auto& hold = limit_->hold_limit;
    if (hold && limit_->all_hung_up && parts::below(limit_->all_hung_up->value(), hold->value())) {
      out += " All hung up at once: " + about(*limit_->all_hung_up, s_.units, Rounding::down) +
             " each.";
    }
    const HeelPull* p = beside::heel_pull(a_, of_.gear->name);
    if (p != nullptr && (!hold || beside::boat_limit(*p) < *hold)) {
      out += " The boat comes first: " + beside::first_level(*p, s_.units) + ".";
    }
    return out;
  }

  [[nodiscard]] std::string caption() const {
    std::string how =
        of_.booms
            ? "How far out: the hold limit of the mount at the boom tip with the boom there, at "
              "full "
              "factors, this gear alone. Whether it holds counts every deciding pull of this gear, "
              "not people, rides, distances and the boat's heel."
        : of_.gear->plain_load
            ? "How far out: the hold limit of the mount for a pull that way, at full factors."
            : "How far out: the hold limit of the mount for a pull that way, at full factors. "
              "Hatched: the file "
              "sets more than may be set there.";
    if (!s_.on_board() && !s_.fit) {
      how += " Drawn as on the starboard side.";
    }
    how += others_words();
    if (refused_) how += " There is no verdict, so nothing is said to hold.";
    std::string list;
    for (const std::vector<Part>* parts : {&of_.parts, &of_.upright}) {
      for (const Part& p : *parts) {
        if (!p.allowed) continue;
        list += html::element(
            "li", html::mark(mark_of(p.state, if_so_)) + " " + html::text(in_words(p), 120) +
                      (p.why.empty() ? "" : "; what gives way: " + html::text(p.why, 120)));
      }
    }
    return html::element("p", how, "note") + (list.empty() ? "" : html::element("ul", list));
  }

  const Setup& s_;
  const Assessment& a_;
  bool refused_;
  bool if_so_;
  const Directions& of_;
  std::string id_;
  double outboard_;
  const GearLimit* limit_ = nullptr;
  beside::Setting setting_;
  Point middle_;
  double legend_top_ = 0;
  double ring_ = 1;
  double outermost_ = 1;  // at the rim, in the reader's unit
};

}  // namespace

std::vector<Picture> directions(const SheetContent& content) {
  std::vector<Picture> out;
  for (const Gear& g : content.setup.gear) {
    Directions of;
    of.gear = &g;
    if (g.downrigger) add_booms(content, of);
    of.booms = g.downrigger.has_value();
    if (of.parts.empty()) add_ranges(content, of);
    if (of.parts.empty()) continue;
    refuse(content.assessment, of);
    add_need(content, of);
    out.push_back(Polar(content, of, "directions-" + std::to_string(out.size() + 1)).picture());
  }
  return out;
}

}  // namespace thole::pictures
