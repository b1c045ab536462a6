// The mount of a setup as shapes in the plan of the boat, and the rules that are no plain
// clearance: reach, spacing, free rail, propeller, width.

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>

#include <thole/error.hpp>
#include <thole/setup.hpp>

#include "core/fit_parts.hpp"

namespace thole {
namespace {

using namespace literals;
using MaybeLength = std::optional<Length>;

constexpr double hair = 1e-9;

// What the setup does not ask (judgement).
const Length tube_width = 50.0_mm;
const Length rod_width = 10.0_mm;
const Length reel_radius = 90.0_mm;
const Length reel_beyond = 80.0_mm;  // the rim of the tube, along the rod
const Length butt_length = 300.0_mm;
const Length boom_width = 50.0_mm;
const Length knob = 60.0_mm;        // of a crank, outward
const Length light_shows = 30.0_m;  // farther than parts of the mount reach
const Length road_metric = 2.55_m;
const Length road_inch = 102.0_in;
const Length road_metric_least = 2.5_m;  // the law of some places
const Length road_inch_least = 96.0_in;

FitPoint operator+(const FitPoint& a, const FitPoint& b) { return {a.x + b.x, a.y + b.y}; }
FitPoint along(Length v, Angle way) {
  return {-v * std::cos(way.value()), -v * std::sin(way.value())};
}
double apart(const FitPoint& a, const FitPoint& b) {
  return std::hypot((a.x - b.x).value(), (a.y - b.y).value());
}
MaybeLength above(const MaybeLength& level, Length v) {
  if (!level) return std::nullopt;
  return *level + v;
}

class Mount {
 public:
  Mount(const Setup& s, const FitPlan& plan) : s_(s), plan_(plan) {
    top_ = s.on_board() ? plan.board_top : MaybeLength(Length{});
    if (s.on_board()) {
      board();
    } else {
      add("base", "base", {outline(s.plate().base.outline, plan_.mount_at, side(), Length{}, top_)},
          "");
      if (!things_.empty()) base_ = things_.back().shapes.front();
    }
    for (const Gear& g : s.gear) gear(g);
  }

  [[nodiscard]] const std::vector<FitThing>& things() const { return things_; }
  [[nodiscard]] const std::vector<std::string>& odd() const { return odd_; }
  // Outboard on the side of a gear: 1 starboard, -1 port.
  [[nodiscard]] double side(const Gear* g = nullptr) const {
    if (g != nullptr && s_.on_board()) return g->place.side == Side::starboard ? 1 : -1;
    return plan_.starboard ? 1 : -1;
  }
  [[nodiscard]] FitPoint place(const Gear& g) const {
    if (!s_.on_board()) {
      const auto& bracket = s_.plate().bracket;
      if (!bracket) return plan_.mount_at;
      return plan_.mount_at + FitPoint{bracket->gear_at.x, side() * bracket->gear_at.y};
    }
    return {plan_.mount_at.x + g.place.forward,
            side(&g) * (0.5 * s_.board().clear_width + g.place.outboard)};
  }
  // In the plan, of an azimuth from astern toward outboard.
  [[nodiscard]] Angle way(const Gear& g, Angle azimuth) const { return -side(&g) * azimuth; }
  [[nodiscard]] FitPoint rim(const Gear& g) const {
    const RodHolder& r = *g.rod_holder;
    return place(g) + FitPoint{r.forward, side(&g) * r.outboard};
  }
  [[nodiscard]] FitPoint tip(const Gear& g, Angle azimuth, Angle raised) const {
    const Length reach = g.downrigger->boom_length * std::cos(raised.value());
    return place(g) + along(reach, way(g, azimuth));
  }
  [[nodiscard]] const FitWinch* winch_of(const Gear& g) const {
    const FitWinch* any = nullptr;
    for (const FitWinch& w : plan_.winches) {
      if (w.gear == g.name) return &w;
      if (w.gear.empty()) any = &w;
    }
    return any;
  }
  // The knob circle's middle, for a hand.
  [[nodiscard]] FitPoint crank(const Gear& g, const FitWinch& w, Angle azimuth) const {
    const Angle ahead = way(g, azimuth);
    return place(g) + along(-w.behind, ahead) +
           along(w.across, ahead + Angle(0.5 * std::numbers::pi * si::radian));
  }

 private:
  void add(std::string_view kind, const std::string& name, std::vector<FitShape> shapes,
           const std::string& gear) {
    // What the checks can live with may be no shape.
    try {
      FitShape point;
      point.form = FitShape::Form::sector;
      point.points = {FitPoint{}};
      point.outer = 1.0_mm;
      for (const FitShape& s : shapes) (void)gap_between(s, point);
    } catch (const DomainError&) {
      odd_.push_back("shape of " + name);
      return;
    }
    FitThing t = fit_thing(kind, name, std::move(shapes));
    t.gear = gear;
    things_.push_back(std::move(t));
  }

  [[nodiscard]] static FitShape outline(const Outline& o, const FitPoint& at, double side,
                                        const MaybeLength& bottom, const MaybeLength& top) {
    FitShape s;
    for (const PlanPoint& p : o) s.points.push_back(at + FitPoint{p.x, side * p.y});
    s.bottom = bottom;
    s.top = top;
    return s;
  }
  [[nodiscard]] static FitShape box(const FitPoint& low, const FitPoint& high,
                                    const MaybeLength& bottom, const MaybeLength& top) {
    FitShape s;
    s.points = {low, {high.x, low.y}, high, {low.x, high.y}};
    s.bottom = bottom;
    s.top = top;
    return s;
  }
  [[nodiscard]] static FitShape disc(const FitPoint& at, Length radius, const MaybeLength& bottom,
                                     const MaybeLength& top) {
    return ring(at, Length{}, radius, Angle{}, 2 * std::numbers::pi * si::radian, bottom, top);
  }
  [[nodiscard]] static FitShape ring(const FitPoint& at, Length inner, Length outer, Angle from,
                                     Angle to, const MaybeLength& bottom, const MaybeLength& top) {
    FitShape s;
    s.form = FitShape::Form::sector;
    s.points = {at};
    s.inner = inner;
    s.outer = outer;
    s.from = from;
    s.to = to;
    s.bottom = bottom;
    s.top = top;
    return s;
  }
  // A bar from a point, `from` to `to` along it, that leans: short pieces with heights of their
  // own.
  [[nodiscard]] std::vector<FitShape> bar(const FitPoint& at, Angle toward, Angle lean, Length from,
                                          Length to, const MaybeLength& level, Length width) const {
    std::vector<FitShape> out;
    const Length flat = (to - from) * std::sin(lean.value());
    const bool upright = std::abs(flat.value()) < 0.001;
    const int n = upright ? 1 : std::max(1, int(std::ceil(std::abs((to - from).value()) / 0.1)));
    for (int i = 0; i < n; ++i) {
      const Length a = from + (double(i) / n) * (to - from);
      const Length b = from + (double(i + 1) / n) * (to - from);
      const MaybeLength one = above(level, a * std::cos(lean.value()));
      const MaybeLength other = above(level, b * std::cos(lean.value()));
      MaybeLength bottom, top;
      if (one && other) {
        bottom = std::min(*one, *other) - 0.5 * width;
        top = std::max(*one, *other) + 0.5 * width;
      }
      if (upright) {
        out.push_back(
            disc(at + along(a * std::sin(lean.value()), toward), 0.5 * width, bottom, top));
        continue;
      }
      FitShape s;
      s.form = FitShape::Form::path;
      s.points = {at + along(a * std::sin(lean.value()), toward),
                  at + along(b * std::sin(lean.value()), toward)};
      s.width = width;
      s.bottom = bottom;
      s.top = top;
      out.push_back(s);
    }
    return out;
  }

  void board() {
    const CrossBoard& b = s_.board();
    const Length x = plan_.mount_at.x;
    const Length port = -(0.5 * b.clear_width + b.port_overhang);
    const Length half = 0.5 * b.board.width;
    const Length depth = b.board.thickness + b.board.strip_depth;
    const MaybeLength under = above(top_, -b.board.thickness);
    add("board", "board",
        {box({x - half, port}, {x + half, port + b.board.length}, above(top_, -depth), top_)}, "");
    for (const Side side : {Side::port, Side::starboard}) {
      const Ledge& l = b.ledge(side);
      const double to = side == Side::starboard ? 1 : -1;
      const Length inner = 0.5 * b.clear_width;
      add("ledge", std::string(word_for(side)) + " ledge",
          {box({x - 0.5 * l.fore_aft, to * inner}, {x + 0.5 * l.fore_aft, to * (inner + l.along)},
               l.fastening ? above(under, -l.fastening->foot_below) : std::nullopt, under)},
          "");
    }
    for (const Leg& l : b.legs) {
      const double to = l.place.side == Side::starboard ? 1 : -1;
      const FitPoint at{x + l.place.forward, to * (0.5 * b.clear_width + l.place.outboard)};
      const FitPoint foot = at + FitPoint{l.foot_forward, to * l.foot_outboard};
      const Length dx = 0.5 * l.fore_aft;
      const Length dy = 0.5 * l.athwart;
      const FitPoint low{std::min(at.x, foot.x) - dx, std::min(at.y, foot.y) - dy};
      const FitPoint high{std::max(at.x, foot.x) + dx, std::max(at.y, foot.y) + dy};
      add("leg", l.name.empty() ? "leg" : l.name,
          {box(low, high, above(under, -l.length), l.beside ? top_ : under)}, "");
    }
  }

  void gear(const Gear& g) {
    if (g.downrigger) downrigger(g);
    if (g.rod_holder) rod(g);
  }

  void downrigger(const Gear& g) {
    const Downrigger& d = *g.downrigger;
    const FitPoint at = place(g);
    const MaybeLength high = above(top_, std::max(2.0 * d.mass_height, d.tip_height));
    if (g.foot) {
      add("winch", g.name + ", winch", {outline(g.foot->outline, at, side(&g), top_, high)},
          g.name);
    } else if (!s_.on_board()) {
      FitShape body = base_;
      body.bottom = top_;
      body.top = high;
      add("winch", g.name + ", winch", {body}, g.name);
    } else {
      add("winch", g.name + ", winch", {disc(at, 75.0_mm, top_, high)}, g.name);
    }
    booms(g, d.boom_angles, "boom");
    if (!d.stowed_angles.empty() && d.stowed_angles != d.boom_angles) {
      booms(g, d.stowed_angles, "boom, stowed");
    }
    std::vector<FitShape> lines;
    const auto [from, to] = sweep_of(g, d.boom_angles);
    const auto [least, most] = reach_of(d);
    lines.push_back(
        ring(at, least - 5.0_mm, most + 5.0_mm, from, to, std::nullopt, above(top_, highest(d))));
    add("line", g.name + ", line at the tip", lines, g.name);
    if (const FitWinch* w = winch_of(g)) {
      add("crank", g.name + ", crank", {crank_ring(g, *w)}, g.name);
    }
  }

  [[nodiscard]] std::pair<Angle, Angle> sweep_of(const Gear& g,
                                                 const std::vector<Angle>& angles) const {
    Angle from = way(g, angles.front());
    Angle to = from;
    for (const Angle& a : angles) {
      from = std::min(from, way(g, a));
      to = std::max(to, way(g, a));
    }
    return {from, std::min(to, from + Angle(2 * std::numbers::pi * si::radian))};
  }
  [[nodiscard]] static std::pair<Length, Length> reach_of(const Downrigger& d) {
    Length least = d.boom_length;
    Length most{};
    for (const Angle& a : d.boom_raised) {
      const Length reach = d.boom_length * std::cos(a.value());
      least = std::min(least, reach);
      most = std::max(most, reach);
    }
    return {std::max(least, 5.0_mm), std::max(most, 10.0_mm)};  // a boom straight up has a tip too
  }
  [[nodiscard]] static Length rise(const Downrigger& d, Angle raised) {
    return d.boom_length * std::sin(raised.value());
  }
  [[nodiscard]] static Length highest(const Downrigger& d) {
    Length v = d.tip_height;
    for (const Angle& a : d.boom_raised) v = std::max(v, Length(d.tip_height + rise(d, a)));
    return v;
  }

  // Swung over all its angles. Its heights are on a straight line from the middle of the winch to
  // the tip (judgement), in four rings.
  void booms(const Gear& g, const std::vector<Angle>& angles, const std::string& word) {
    const Downrigger& d = *g.downrigger;
    const auto [from, to] = sweep_of(g, angles);
    const Length reach = reach_of(d).second;
    std::vector<FitShape> shapes;
    constexpr int rings = 4;
    for (int i = 0; i < rings; ++i) {
      MaybeLength bottom, top;
      for (const Angle& raised : d.boom_raised) {
        for (const double share : {double(i) / rings, double(i + 1) / rings}) {
          const Length h = d.mass_height + share * (d.tip_height + rise(d, raised) - d.mass_height);
          bottom = bottom ? std::min(*bottom, h) : h;
          top = top ? std::max(*top, h) : h;
        }
      }
      bottom = top_ ? MaybeLength(*top_ + *bottom - 0.5 * boom_width) : std::nullopt;
      top = top_ ? MaybeLength(*top_ + *top + 0.5 * boom_width) : std::nullopt;
      const Length inner = (double(i) / rings) * reach;
      const Length outer = (double(i + 1) / rings) * reach;
      if (to > from) {
        shapes.push_back(ring(place(g), inner, outer, from, to, bottom, top));
      }
      for (const Angle& end : {from, to}) {  // its own width at the ends of the swing
        FitShape s;
        s.form = FitShape::Form::path;
        s.points = {place(g) + along(inner, end), place(g) + along(outer, end)};
        s.width = boom_width;
        s.bottom = bottom;
        s.top = top;
        shapes.push_back(s);
        if (!(to > from)) break;
      }
    }
    add("boom", g.name + ", " + word, shapes, g.name);
  }

  // All places of the hand on the crank, at all angles of the boom.
  [[nodiscard]] FitShape crank_ring(const Gear& g, const FitWinch& w) const {
    const auto [from, to] = sweep_of(g, g.downrigger->boom_angles);
    const double u0 = (-w.behind - w.crank).value();
    const double u1 = (-w.behind + w.crank).value();
    const double v = w.across.value();
    const double v0 = v < 0 ? v - knob.value() : v;
    const double v1 = v < 0 ? v : v + knob.value();
    double outer = 0;
    double low = std::numeric_limits<double>::infinity();
    double high = -low;
    const double middle = std::atan2(v, -w.behind.value());
    for (const double u : {u0, u1}) {
      for (const double y : {v0, v1}) {
        outer = std::max(outer, std::hypot(u, y));
        const double a = std::remainder(std::atan2(y, u) - middle, 2 * std::numbers::pi);
        low = std::min(low, a);
        high = std::max(high, a);
      }
    }
    const double du = std::max({0.0, u0, -u1});
    const double dv = std::max({0.0, v0, -v1});
    const double inner = std::hypot(du, dv);
    const MaybeLength axis = above(top_, w.axis_height);
    if (inner < 1e-6) {
      return disc(place(g), outer * si::metre, above(axis, -w.crank), above(axis, w.crank));
    }
    const Angle first = from + Angle((middle + low) * si::radian);
    const Angle last = to + Angle((middle + high) * si::radian);
    return ring(place(g), inner * si::metre, outer * si::metre, first,
                std::min(last, first + Angle(2 * std::numbers::pi * si::radian)),
                above(axis, -w.crank), above(axis, w.crank));
  }

  void rod(const Gear& g) {
    const RodHolder& r = *g.rod_holder;
    const FitPoint at = rim(g);
    const Angle toward = way(g, r.toward);
    const MaybeLength level = above(top_, r.height);
    const Length in_tube = r.tube_depth;
    add("holder", g.name + ", holder",
        bar(at, toward, r.lean, -in_tube, Length{}, level, tube_width), g.name);
    add("butt", g.name + ", butt",
        bar(at, toward, r.lean, -in_tube - butt_length, -in_tube, level, tube_width), g.name);
    add("reel", g.name + ", reel",
        {disc(at + along(reel_beyond * std::sin(r.lean.value()), toward), reel_radius,
              above(level, reel_beyond * std::cos(r.lean.value()) - reel_radius),
              above(level, reel_beyond * std::cos(r.lean.value()) + reel_radius))},
        g.name);
    const Length out = std::max(Length(r.rod_length - in_tube), 10.0_mm);
    add("rod", g.name + ", rod", bar(at, toward, r.lean, Length{}, out, level, rod_width), g.name);
    add("lifted", g.name + ", lifted out",
        bar(at, toward, r.lean, Length{}, out + in_tube, level, rod_width), g.name);
  }

  const Setup& s_;
  const FitPlan& plan_;
  MaybeLength top_;
  FitShape base_;
  std::vector<FitThing> things_;
  std::vector<std::string> odd_;
};

// Rules that are no plain clearance.
class Rules {
 public:
  Rules(const Setup& s, const FitPlan& plan, const Mount& mount,
        const std::vector<FitThing>& things, std::vector<FitRow>& rows)
      : s_(s), plan_(plan), mount_(mount), things_(things), rows_(rows) {
    reach();
    spacing();
    net();
    propeller();
    widths();
  }

 private:
  FitRow row(std::string_view kind, const std::string& one, const std::string& other) const {
    FitThing k = fit_thing(kind, "", {});
    FitRow r;
    r.rule = fit_kind(kind).rule;
    r.one = one;
    r.other = other;
    r.wanted = k.clearance;
    for (const auto& [key, v] : plan_.clearances) {
      if (key != kind) continue;
      r.wanted = v;
      r.wanted_given = true;
    }
    r.advice = k.advice;
    r.source = k.source;
    return r;
  }
  void own_clearance(FitRow& r, const FitThing& t) const {
    if (!t.clearance_given) return;
    r.wanted = t.clearance;
    r.wanted_given = true;
  }
  [[nodiscard]] std::vector<const FitThing*> of_kind(std::string_view kind) const {
    std::vector<const FitThing*> out;
    for (const FitThing& t : things_) {
      if (t.kind == kind && !t.shapes.empty() && !t.shapes.front().points.empty()) {
        out.push_back(&t);
      }
    }
    return out;
  }

  void reach() {
    const auto sitting = of_kind("sitting");
    const auto standing = of_kind("standing");
    for (const Gear& g : s_.gear) {
      if (!sitting.empty()) {
        FitRow best;
        for (const FitThing* t : sitting) {
          const FitPoint from = t->shapes.front().points.front();
          FitRow r = row("sitting", "", t->name);
          own_clearance(r, *t);
          const FitWinch* w = g.downrigger ? mount_.winch_of(g) : nullptr;
          if (g.downrigger && w != nullptr) {
            r.one = g.name + ", crank";
            for (const Angle& a : g.downrigger->boom_angles) {  // the farthest
              const FitPoint at = mount_.crank(g, *w, a);
              if (apart(from, at) < r.distance.value()) continue;
              r.distance = apart(from, at) * si::metre;
              r.at = at;
            }
          } else if (g.downrigger) {
            r.one = g.name + ", winch";
            r.at = mount_.place(g);
            r.distance = apart(from, r.at) * si::metre;
            r.note = "to the middle of its base";
          } else if (g.rod_holder) {
            r.one = g.name + ", reel";
            r.at = mount_.rim(g);
            r.distance = apart(from, r.at) * si::metre;
          } else {
            continue;
          }
          r.clear = r.distance <= r.wanted + Length(hair * si::metre) ? Clear::clear : Clear::hits;
          if (best.one.empty() || r.distance - r.wanted < best.distance - best.wanted) best = r;
        }
        if (!best.one.empty()) rows_.push_back(best);
      }
      if (!standing.empty() && g.downrigger) {
        FitRow best;
        for (const FitThing* t : standing) {
          const FitPoint from = t->shapes.front().points.front();
          std::vector<Angle> angles = g.downrigger->boom_angles;
          angles.insert(angles.end(), g.downrigger->stowed_angles.begin(),
                        g.downrigger->stowed_angles.end());
          for (const Angle& a : angles) {
            for (const Angle& raised : g.downrigger->boom_raised) {
              FitRow r = row("standing", g.name + ", line clip at the tip", t->name);
              own_clearance(r, *t);
              r.at = mount_.tip(g, a, raised);
              r.distance = apart(from, r.at) * si::metre;
              r.clear =
                  r.distance <= r.wanted + Length(hair * si::metre) ? Clear::clear : Clear::hits;
              r.note = "nearest with the boom at " +
                       std::to_string(int(std::lround(in_degrees(a)))) + " deg";
              if (r.clear == Clear::hits && g.downrigger->stowed_angles.empty()) {
                r.clear = Clear::close;
                r.note += "; whether it swings in is not said (stowed_angles)";
              }
              if (best.one.empty() || r.distance - r.wanted < best.distance - best.wanted) best = r;
            }
          }
        }
        rows_.push_back(best);
      }
    }
  }

  void spacing() {
    for (std::size_t i = 0; i < s_.gear.size(); ++i) {
      for (std::size_t k = i + 1; k < s_.gear.size(); ++k) {
        const Gear& a = s_.gear[i];
        const Gear& b = s_.gear[k];
        if (!a.rod_holder || !b.rod_holder) continue;
        FitRow r = row("spacing", a.name + ", holder", b.name + ", holder");
        const FitPoint p = mount_.rim(a);
        const FitPoint q = mount_.rim(b);
        r.distance = apart(p, q) * si::metre;
        r.at = {0.5 * (p.x + q.x), 0.5 * (p.y + q.y)};
        const Length least =
            r.wanted_given ? r.wanted : Length(fit_kind("spacing").close / 1000 * si::metre);
        r.clear = r.distance >= r.wanted - Length(hair * si::metre) ? Clear::clear
                  : r.distance >= least - Length(hair * si::metre)  ? Clear::close
                                                                    : Clear::hits;
        if (r.clear == Clear::hits) r.note = "450 mm (18 in) is the least";
        if (r.wanted_given && r.clear == Clear::hits) r.note.clear();
        rows_.push_back(r);
      }
    }
  }

  // All of the mount counts but lines, and what lies below the board.
  void net() {
    std::vector<FitRow> found;
    bool one_is_enough = false;
    for (const FitThing* t : of_kind("net")) {
      FitRow r = row("net", "the mount", t->name);
      own_clearance(r, *t);
      std::vector<const FitShape*> blocks;
      for (const FitThing& part : things_) {
        if (!part.of_mount || part.kind == "line" || part.kind == "lifted" || part.kind == "leg" ||
            part.kind == "ledge") {
          continue;
        }
        for (const FitShape& s : part.shapes) {
          if (gap_between(t->shapes.front(), s).distance.value() <= 0) blocks.push_back(&s);
        }
      }
      const FitShape& rail = t->shapes.front();
      double best = 0;
      for (std::size_t i = 0; i + 1 < rail.points.size(); ++i) {
        const FitPoint a = rail.points[i];
        const FitPoint b = rail.points[i + 1];
        for (const auto& [from, to] : free_of(a, b, rail, blocks)) {
          if (to - from <= best) continue;
          best = to - from;
          const double share = 0.5 * (from + to) / apart(a, b);
          r.at = {a.x + share * (b.x - a.x), a.y + share * (b.y - a.y)};
        }
      }
      r.distance = best * si::metre;
      one_is_enough = one_is_enough || r.distance >= r.wanted - Length(hair * si::metre);
      found.push_back(r);
    }
    for (FitRow& r : found) {
      r.clear = r.distance >= r.wanted - Length(hair * si::metre) ? Clear::clear
                : one_is_enough                                   ? Clear::close
                                                                  : Clear::hits;
      if (r.clear == Clear::close) r.note = "another rail has the room";
      rows_.push_back(r);
    }
  }

  // Free parts of a straight rail, as distances from its start: halved down to 0.5 mm round every
  // end, and each piece counts as blocked unless it is wholly free.
  [[nodiscard]] static std::vector<std::pair<double, double>> free_of(
      const FitPoint& a, const FitPoint& b, const FitShape& rail,
      const std::vector<const FitShape*>& blocks) {
    const double length = apart(a, b);
    std::vector<std::pair<double, double>> out;
    const auto at = [&](double v) -> FitPoint {
      return {a.x + v / length * (b.x - a.x), a.y + v / length * (b.y - a.y)};
    };
    const auto blocked = [&](double from, double to) {
      FitShape bit = rail;
      bit.points = {at(from), at(to)};
      for (const FitShape* s : blocks) {
        if ((s->bottom && rail.top && *s->bottom > *rail.top) ||
            (s->top && rail.bottom && *s->top < *rail.bottom)) {
          continue;
        }
        if (gap_between(bit, *s).distance.value() <= 0) return true;
      }
      return false;
    };
    const auto split = [&](auto&& self, double from, double to) -> void {
      if (!blocked(from, to)) {
        if (!out.empty() && out.back().second >= from - hair) {
          out.back().second = to;
        } else {
          out.emplace_back(from, to);
        }
        return;
      }
      if (to - from < 0.0005) return;
      const double middle = 0.5 * (from + to);
      self(self, from, middle);
      self(self, middle, to);
    };
    if (length > hair) split(split, 0, length);
    return out;
  }

  void propeller() {
    if (!plan_.motor || !(plan_.motor->propeller > Length{})) return;
    const FitMotor& m = *plan_.motor;
    const Length side =
        std::max(Length(0.5 * m.width),
                 Length(m.propeller_aft * std::sin(m.lock.value()) + 0.5 * m.propeller));
    const Length aft = m.pivot.x - m.propeller_aft;
    for (const Gear& g : s_.gear) {
      if (!g.downrigger) continue;
      FitRow worst;
      for (const Angle& a : g.downrigger->boom_angles) {
        for (const Angle& raised : g.downrigger->boom_raised) {
          FitRow r = row("propeller", g.name + ", line", "propeller, in a turn");
          r.at = mount_.tip(g, a, raised);
          const Length beside = Length(abs(Length(r.at.y - m.pivot.y))) - side;
          const Length behind = aft - r.at.x;
          r.distance = std::max(beside, behind);
          r.clear = r.distance >= r.wanted - Length(hair * si::metre) ? Clear::clear
                    : r.distance.value() > hair                       ? Clear::close
                                                                      : Clear::hits;
          r.note = std::string(beside >= behind ? "outboard of it" : "aft of it") +
                   " with the boom at " + std::to_string(int(std::lround(in_degrees(a)))) + " deg";
          if (worst.one.empty() || r.distance < worst.distance) worst = r;
        }
      }
      if (!worst.one.empty()) rows_.push_back(worst);
    }
  }

  struct Extent {
    double port = 0;  // to starboard, so mostly below zero
    double starboard = 0;
    FitPoint port_at, starboard_at;
    bool unsure = false;  // where a boom is stowed is not said
  };
  [[nodiscard]] Extent extent(bool with_gear) const {
    Extent e;
    bool first = true;
    for (const FitThing& t : things_) {
      if (!t.of_mount || t.kind == "line" || t.kind == "lifted" || t.kind == "rod" ||
          t.kind == "reel" || t.kind == "butt" || t.kind == "crank") {
        continue;
      }
      if (!t.gear.empty() && !with_gear) continue;
      if (t.kind == "boom") {
        const auto g = std::find_if(s_.gear.begin(), s_.gear.end(),
                                    [&](const Gear& o) { return o.name == t.gear; });
        if (g == s_.gear.end() || g->downrigger->stowed_angles.empty()) {
          e.unsure = true;
          continue;
        }
        const bool differs = g->downrigger->stowed_angles != g->downrigger->boom_angles;
        if (differs && !t.name.ends_with("stowed")) continue;
      }
      for (const FitShape& s : t.shapes) {
        // From far to each side: the distance to a line along the boat.
        for (const double to : {-1.0, 1.0}) {
          FitShape far;
          far.form = FitShape::Form::path;
          const Length y = to * 100.0 * si::metre;
          far.points = {{-100.0_m, y}, {100.0_m, y}};
          const Gap gap = gap_between(far, s);
          const double edge = to * (100.0 - gap.distance.value());
          const FitPoint at{gap.at.x, edge * si::metre};
          if (to < 0 && (first || edge < e.port)) {
            e.port = edge;
            e.port_at = at;
          }
          if (to > 0 && (first || edge > e.starboard)) {
            e.starboard = edge;
            e.starboard_at = at;
          }
        }
        first = false;
      }
    }
    return e;
  }

  void widths() {
    const double half_beam = s_.boat ? 0.5 * s_.boat->beam.value() : 0;
    const auto settle = [](FitRow& r, const Extent& e) {
      r.clear = r.distance.value() < -hair ? Clear::hits : e.unsure ? Clear::close : Clear::clear;
      if (!e.unsure) return;
      r.note += std::string(r.note.empty() ? "" : "; ") +
                "booms not counted: where they are stowed is not said (stowed_angles)";
    };
    {
      const Extent e = extent(!s_.use.gear_off_on_road);
      FitRow r = row("road", s_.use.gear_off_on_road ? "the mount, gear off" : "mount and gear",
                     "width on the road");
      const Length law = plan_.road_width                ? *plan_.road_width
                         : s_.units == ReaderUnits::inch ? road_inch
                                                         : road_metric;
      // Of a boat without a beam the other side is taken alike.
      const double wide = half_beam > 0
                              ? std::max(e.starboard, half_beam) - std::min(e.port, -half_beam)
                              : 2 * std::max(e.starboard, -e.port);
      r.distance = law - Length(wide * si::metre);
      r.at = -e.port > e.starboard ? e.port_at : e.starboard_at;
      r.note = plan_.road_width ? "" : "by the usual law: look up yours";
      settle(r, e);
      const bool inch = s_.units == ReaderUnits::inch;
      if (!plan_.road_width && r.clear == Clear::clear &&
          wide > (inch ? road_inch_least : road_metric_least).value() + hair) {
        r.clear = Clear::close;
        r.note += std::string("; some places allow no more than ") + (inch ? "8 ft" : "2.5 m");
      }
      rows_.push_back(r);
    }
    if (half_beam > 0) {
      const Extent e = extent(true);
      const bool port = -e.port > e.starboard;
      FitRow r = row("rail", "mount and gear, stowed", "rub rail");
      r.distance = Length((half_beam - (port ? -e.port : e.starboard)) * si::metre);
      r.at = port ? e.port_at : e.starboard_at;
      settle(r, e);
      rows_.push_back(r);
    }
  }

  const Setup& s_;
  const FitPlan& plan_;
  const Mount& mount_;
  const std::vector<FitThing>& things_;
  std::vector<FitRow>& rows_;
};

}  // namespace

FitAnswer look_at_fit(const Setup& s) {
  FitAnswer out;
  if (!s.fit) {
    out.not_looked_at.emplace_back("fit: not described");
    return out;
  }
  const FitPlan& plan = *s.fit;
  const Mount mount(s, plan);
  std::vector<FitThing> things;
  if (plan.motor) things = motor_things(*plan.motor);
  for (const FitThing& t : plan.things) {
    things.push_back(t);
    if (t.kind != "light") continue;
    for (FitShape& shape : things.back().shapes) {  // what it must show over
      const Length h = shape.top ? *shape.top : Length{};
      const bool known = shape.top.has_value();
      const FitPoint at = shape.points.front();
      shape = FitShape{};
      shape.points = {at, at + along(light_shows, -67.5_deg), at + along(light_shows, 67.5_deg)};
      if (known) shape.bottom = shape.top = h;
    }
  }
  const std::vector<FitThing>& parts = mount.things();
  things.insert(things.end(), parts.begin(), parts.end());
  for (FitThing& t : things) {
    if (t.clearance_given) continue;
    for (const auto& [key, v] : plan.clearances) {
      if (key != t.kind) continue;
      t.clearance = v;
      t.close = std::min(t.close, v);
      t.clearance_given = true;
    }
  }
  out = look_at_fit(things);
  Rules(s, plan, mount, out.things, out.rows);
  sort_rows(out.rows);
  for (const FitKind& k : fit_kinds()) {
    if (!k.of_boat || k.key == "other") continue;
    const bool there =
        std::any_of(things.begin(), things.end(), [&](auto& t) { return t.kind == k.key; }) ||
        std::find(plan.none.begin(), plan.none.end(), k.key) != plan.none.end();
    if (!there) {
      out.not_looked_at.emplace_back(k.name);
    }
  }
  const bool downrigger = std::any_of(s.gear.begin(), s.gear.end(),
                                      [](const Gear& g) { return g.downrigger.has_value(); });
  const bool cranks = std::any_of(s.gear.begin(), s.gear.end(), [&](const Gear& g) {
    return g.downrigger && mount.winch_of(g) == nullptr;
  });
  if (cranks) out.not_looked_at.emplace_back("cranks of the winches (fit.winches)");
  if (downrigger && plan.motor && !(plan.motor->propeller > Length{})) {
    out.not_looked_at.emplace_back("propeller (fit.motor.propeller)");
  }
  if (std::any_of(s.gear.begin(), s.gear.end(), [](auto& g) { return g.plain_load.has_value(); })) {
    out.not_looked_at.emplace_back("gear given as a plain load: it has no shape");
  }
  if (!s.boat) out.not_looked_at.emplace_back("rub rail (boat.beam)");
  out.not_looked_at.insert(out.not_looked_at.end(), mount.odd().begin(), mount.odd().end());
  if (s.on_board() && !plan.board_top) {
    out.not_looked_at.emplace_back("heights of board and gear (fit.board_top)");
  }
  return out;
}

}  // namespace thole
