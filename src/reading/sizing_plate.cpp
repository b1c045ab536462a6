// The space of a gunwale plate or a bracket.

#include <algorithm>
#include <cmath>
#include <numbers>
#include <optional>
#include <utility>

#include <thole/display.hpp>
#include <thole/error.hpp>

#include "core/geometry.hpp"
#include "reading/sizing_space.hpp"

namespace thole::reading {

using namespace literals;

namespace {

enum class WasherKind { as_drawn, none, plain, wide };

// How the fasteners hold, and what is behind.
struct HoldChoice {
  bool drawn = true;
  HoldBy hold = HoldBy::tapped;
  WasherKind washer = WasherKind::none;
  std::optional<Backing> behind;
};

struct PatternChoice {
  bool drawn = true;
  double fore_aft = 1;  ///< over the spacing as drawn
  double athwart = 1;
};

bool alike(Length a, Length b) { return abs(a - b) < 0.05_mm; }

// A wide washer as drawn is a wide one in another size.
bool is_wide(const Washer& w) {
  return w.name.find("fender") != std::string::npos || w.name.find("penny") != std::string::npos;
}

class PlateSpace final : public SizeSpace {
 public:
  PlateSpace(const Setup& s, const SizeQuestion& q, const MaterialLibrary& library)
      : SizeSpace(s, q, library), drawn_(s.plate()) {
    const char* kind = drawn_.bracket ? "bracket" : "gunwale_plate";
    if (!q.woods.empty()) {
      throw DomainError(std::string("a wood to try belongs to a cross_board; this setup is a ") +
                        kind);
    }
    if (!q.legs.empty() || q.leg_length) {
      throw DomainError(std::string("legs belong to a cross_board; this setup is a ") + kind);
    }
    measure_base();
    choose_base();
    choose_hold();
    choose_bolts();
    choose_washer();
    choose_pattern();
    const bool clasped = geometry::is_clasped(drawn_);
    words_.section_of =
        clasped ? "nothing is drilled for the fasteners" : "what the fasteners drill away";
    words_.mass_of = clasped ? "the plate with its angles, the U-bolts or clamps as plain bolts"
                             : "base, fasteners, washers, what is behind the wall";
    if (!drawn_.base.metal) words_.not_weighed.emplace_back("the base, which is no metal");
    if (clasped) words_.not_weighed.emplace_back("what the U-bolts or clamps go round");
    if (drawn_.second) words_.remarks.emplace_back("the other fasteners stay as they are");
    words_.fixed.emplace_back("base in plan, its place, gear");
    words_.fixed.emplace_back("what the fasteners are made of");
  }

  void build(const Choice& c, Setup& out) const override {
    out.mount = drawn_;
    GunwalePlate& m = out.plate();
    Fastening& f = m.fastening;
    if (const auto& t = bases_[c[base_]]) m.base.thickness = *t;
    const Thread old = f.thread;
    const auto& thread = threads_[c[bolts_]];
    const bool other = thread && thread->name != f.thread.name;
    if (other) f.thread = *thread;
    set_hold(holds_[c[hold_]], old, other, f);
    set_head(heads_[c[washer_]], old, f);
    const PatternChoice& p = patterns_[c[pattern_]];
    if (!p.drawn) {
      for (PlanPoint& hole : f.holes) {
        PlanPoint own = in_own_axes(hole);
        own = {middle_.x + p.fore_aft * (own.x - middle_.x),
               middle_.y + p.athwart * (own.y - middle_.y)};
        hole = {cos_ * own.x - sin_ * own.y, sin_ * own.x + cos_ * own.y};
      }
    }
  }

  [[nodiscard]] Area section(const Setup& d) const override {
    const Fastening& f = d.plate().fastening;
    if (geometry::is_clasped(d.plate())) return Area{};
    const Length hole = geometry::widest_hole(f);
    return double(f.holes.size()) * 0.25 * std::numbers::pi * hole * hole;
  }

  [[nodiscard]] Mass mass(const Setup& d) const override {
    const GunwalePlate& m = d.plate();
    const Fastening& f = m.fastening;
    double kg = 0;
    if (m.base.metal) {
      kg += std::abs((thole::area_of(m.base.outline) * m.base.thickness).value()) *
            density(*m.base.metal);
    }
    Length grip = m.base.thickness + f.packing + m.host.thickness;
    if (f.backing) {
      grip += f.backing->thickness;
      kg += (f.backing->thickness * f.backing->fore_aft * f.backing->athwart).value() *
            density(f.backing->metal);
    }
    const double metal = density(f.material);
    double each =
        bolt(f.thread, f.material, grip, f.hold == HoldBy::through_bolt || geometry::is_clasped(m));
    if (f.washer) each += washer(f.washer->outside, f.washer->hole, metal);
    if (f.head > 1.01 * f.thread.head_across_flats) {
      each += washer(f.head, f.thread.clearance, metal);
    }
    kg += double(f.holes.size()) * each;
    if (m.bracket) {
      for (const Stiffener& a : m.bracket->stiffeners) {
        const double length = std::hypot((a.to.x - a.from.x).value(), (a.to.y - a.from.y).value());
        kg += length * ((2.0 * a.leg - a.thickness) * a.thickness).value() * density(a.metal);
      }
    }
    return kg * si::kilogram;
  }

 protected:
  void set_inputs(const Choice& c, Setup& out) const override {
    const auto words = [&](std::size_t quantity) {
      return quantities_[quantity].options[c[quantity]];
    };
    if (bases_[c[base_]]) {
      forget(out, {"mount.base.thickness"});
      note(out, "mount.base.thickness", "base thickness", words(base_));
    }
    if (!holds_[c[hold_]].drawn) {
      forget(out, {"mount.fastening.hold", "mount.fastening.washer", "mount.fastening.behind.",
                   "mount.fastening.countersunk_wall", "mount.fastening.in_plane"});
      note(out, "mount.fastening.hold", "how the fasteners hold", words(hold_));
    }
    if (threads_[c[bolts_]]) {
      forget(out, {"mount.fastening.thread"});
      note(out, "mount.fastening.thread", "thread", words(bolts_));
    }
    if (heads_[c[washer_]] != WasherKind::as_drawn) {
      forget(out, {"mount.fastening.head"});
      note(out, "mount.fastening.head", "head or washer on the base", words(washer_));
    }
    if (!patterns_[c[pattern_]].drawn) {
      forget(out, {"mount.fastening.holes."});
      note(out, "mount.fastening.holes", "holes", words(pattern_));
    }
  }

 private:
  [[nodiscard]] PlanPoint in_own_axes(const PlanPoint& p) const {
    return {cos_ * p.x + sin_ * p.y, -sin_ * p.x + cos_ * p.y};
  }

  void measure_base() {
    const double turned = drawn_.base.sides_turned ? radians(*drawn_.base.sides_turned) : 0.0;
    cos_ = std::cos(turned);
    sin_ = std::sin(turned);
    PlanPoint low{1000.0 * si::metre, 1000.0 * si::metre};
    PlanPoint high{-1000.0 * si::metre, -1000.0 * si::metre};
    for (const PlanPoint& corner : drawn_.base.outline) {
      const PlanPoint p = in_own_axes(corner);
      low = {std::min(low.x, p.x), std::min(low.y, p.y)};
      high = {std::max(high.x, p.x), std::max(high.y, p.y)};
      along_ = std::max<Length>(along_, 2.0 * abs(corner.x));
      across_ = std::max<Length>(across_, 2.0 * abs(corner.y));
    }
    size_ = {high.x - low.x, high.y - low.y};
  }

  void choose_base() {
    SizeQuantity q{"base", "thickness of the base", {}, ""};
    bases_ = {std::nullopt};
    q.as_drawn =
        drawn_.base.thickness.value() > 0 ? show(drawn_.base.thickness, s_.units) : "not known";
    if (!drawn_.base.metal) {
      cannot("base", "it is no metal, or not known");
    } else if (is_free("base")) {
      bases_.clear();
      std::vector<Length> list = bar_thicknesses();
      const bool there = std::any_of(list.begin(), list.end(), [&](const Length& t) {
        return alike(t, drawn_.base.thickness);
      });
      if (!there) list.push_back(drawn_.base.thickness);
      std::sort(list.begin(), list.end());
      for (const Length& t : list) bases_.emplace_back(t);
    }
    for (const auto& t : bases_) q.options.push_back(t ? show(*t, s_.units) : q.as_drawn);
    base_ = add(q);
  }

  // ---- How it holds

  // Sizes of a bar or plate behind the wall: in plan as drawn where there is one; else as wide as
  // goes in or as the base, of a bracket as the holes need it.
  [[nodiscard]] std::vector<Backing> pieces_behind() const {
    std::vector<Length> widths;
    const Host& h = drawn_.host;
    const std::optional<Backing>& own = drawn_.fastening.backing;
    const Metal metal = own ? own->metal : library_.metal("6061-T6 extrusion");
    const Length beyond = inch() ? Length(1.0_in) : Length(25.0_mm);
    Length along = along_ + beyond;
    Length across = across_;
    if (drawn_.bracket) {
      along = across = Length{};
      for (const PlanPoint& p : drawn_.fastening.holes) {
        along = std::max<Length>(along, 2.0 * abs(p.x) + 2.0 * beyond);
        across = std::max<Length>(across, 2.0 * abs(p.y) + 2.0 * beyond);
      }
    }
    const std::vector<Length> sold = bar_widths();
    if (own) {
      along = own->fore_aft;
      widths.push_back(own->athwart);
    } else if (h.is_metal() && h.form == WallForm::closed_section) {
      const Length room = h.flat - 2.0 * h.thickness;
      // A wider bar cut down to what goes in, and the widest that is sold so.
      const double step = inch() ? (0.125 * 1.0_in).value() : 0.001;
      widths.push_back(Length::from_value(step * std::floor(room.value() / step + 1e-6)));
      Length store{};
      for (const Length& w : sold) {
        if (w <= room) store = w;
      }
      if (store.value() > 0 && !alike(store, widths.front())) {
        widths.insert(widths.begin(), store);
      }
    } else {
      for (const Length& w : sold) {
        if (w >= across - 0.05_mm && widths.size() < 2) widths.push_back(w);
      }
      // Wider than any bar: cut from sheet.
      if (widths.empty()) widths.push_back(across);
    }
    std::vector<Backing> out;
    for (const Length& t : bar_thicknesses()) {
      for (const Length& w : widths) out.push_back({metal, t, along, w});
    }
    return out;
  }

  void choose_hold() {
    const Fastening& f = drawn_.fastening;
    SizeQuantity q{"hold", "how it holds", {}, drawn_words()};
    holds_ = {HoldChoice{}};
    q.options = {q.as_drawn};
    const bool simple =
        f.hold == HoldBy::tapped || f.hold == HoldBy::tapped_bar || f.hold == HoldBy::through_bolt;
    const bool kinds = is_free("hold");
    const std::string why = std::string(plural_of(f.hold)) + " stay what they are";
    if (!simple) {
      cannot("hold", why);
      cannot("plate", why);
    } else if (!kinds && is_free("plate") && f.hold == HoldBy::tapped) {
      cannot("plate", "threads in the wall have nothing behind it; hold tries bars and plates");
    } else if (kinds || is_free("plate")) {
      const auto put = [&](HoldBy hold, WasherKind washer, const std::optional<Backing>& behind,
                           const std::string& words) {
        holds_.push_back({false, hold, washer, behind});
        q.options.push_back(words);
      };
      const bool metal = drawn_.host.is_metal();
      const auto wanted = [&](HoldBy h) {
        return kinds ? h == HoldBy::through_bolt || metal : h == f.hold;
      };
      if (wanted(HoldBy::tapped) && f.hold != HoldBy::tapped) {
        put(HoldBy::tapped, WasherKind::none, std::nullopt, "tapped");
      }
      const std::vector<Backing> pieces = pieces_behind();
      const auto size = [&](const Backing& b) {
        return show(b.thickness, s_.units) + " x " + show(b.athwart, s_.units);
      };
      if (wanted(HoldBy::tapped_bar)) {
        for (const Backing& b : pieces) {
          put(HoldBy::tapped_bar, WasherKind::none, b, "tapped bar " + size(b));
        }
      }
      if (wanted(HoldBy::through_bolt)) {
        put(HoldBy::through_bolt, WasherKind::plain, std::nullopt, "bolts, plain washers");
        put(HoldBy::through_bolt, WasherKind::wide, std::nullopt,
            inch() ? "bolts, fender washers" : "bolts, penny washers");
        for (const Backing& b : pieces) {
          put(HoldBy::through_bolt, WasherKind::none, b, "bolts, plate " + size(b));
        }
        if (f.hold != HoldBy::through_bolt) {
          words_.remarks.emplace_back("through bolts need a way in to their nuts: look first");
        }
      }
      words_.remarks.push_back("bars and plates behind are of " + pieces.front().metal.name + ", " +
                               show(pieces.front().fore_aft, s_.units) + " long");
    }
    hold_ = add(q);
  }

  [[nodiscard]] std::string drawn_words() const {
    const Fastening& f = drawn_.fastening;
    std::string out(plural_of(f.hold));
    if (f.backing) out += ", " + show(f.backing->thickness, s_.units) + " behind";
    if (f.washer) out += ", washer " + f.washer->name;
    return out + ", as drawn";
  }

  [[nodiscard]] Washer of_tables(const Thread& t, bool wide) const {
    const auto found = table_washer(t, wide);
    if (!found) {
      throw DomainError(std::string("no ") + (wide ? "wide" : "plain") + " washer of " + t.name +
                        " is in the tables");
    }
    return *found;
  }

  void set_hold(const HoldChoice& h, const Thread& old, bool other, Fastening& f) const {
    if (h.drawn) {
      if (other && f.washer && old.name != f.thread.name) {
        f.washer = of_tables(f.thread, is_wide(*f.washer));
      }
      return;
    }
    if (h.hold != f.hold) {
      f.countersunk_wall = false;
      f.instantaneous_centre = false;
    }
    f.hold = h.hold;
    f.backing = h.behind;
    f.washer.reset();
    if (h.washer != WasherKind::none) f.washer = of_tables(f.thread, h.washer == WasherKind::wide);
  }

  void choose_bolts() {
    const Fastening& f = drawn_.fastening;
    SizeQuantity q{"bolts", "thread", {}, f.thread.name};
    threads_ = {std::nullopt};
    const bool threaded = f.hold == HoldBy::tapped || f.hold == HoldBy::tapped_bar ||
                          f.hold == HoldBy::through_bolt || f.hold == HoldBy::u_bolt;
    if (!threaded) {
      cannot("bolts", std::string(plural_of(f.hold)) + " stay what they are");
    } else if (is_free("bolts")) {
      threads_.clear();
      for (const Thread& t : threads(4.0_mm, 10.5_mm, f.thread)) threads_.emplace_back(t);
    }
    for (const auto& t : threads_) q.options.push_back(t ? t->name : q.as_drawn);
    bolts_ = add(q);
  }

  void choose_washer() {
    const Fastening& f = drawn_.fastening;
    SizeQuantity q{"washer", "under the heads", {}, ""};
    const bool hexagon = alike(f.head, f.thread.head_across_flats);
    q.as_drawn = hexagon ? "bare heads" : show(f.head, s_.units) + ", as drawn";
    heads_ = {WasherKind::as_drawn};
    q.options = {q.as_drawn};
    if (f.hold == HoldBy::rivet || f.blind || geometry::is_clasped(drawn_) || in_wood(f.hold)) {
      cannot("washer", std::string(plural_of(f.hold)) + " stay what they are");
    } else if (is_free("washer")) {
      heads_.push_back(WasherKind::plain);
      q.options.emplace_back("plain washers");
      heads_.push_back(WasherKind::wide);
      q.options.emplace_back(inch() ? "fender washers" : "penny washers");
    }
    washer_ = add(q);
  }

  void set_head(WasherKind kind, const Thread& old, Fastening& f) const {
    if (kind == WasherKind::as_drawn) {
      const bool bare = alike(f.head, old.head_across_flats) || f.head <= f.thread.diameter;
      if (bare) f.head = f.thread.head_across_flats;
      return;
    }
    f.head = of_tables(f.thread, kind == WasherKind::wide).outside;
  }

  // ---- Holes

  void choose_pattern() {
    const auto& holes = drawn_.fastening.holes;
    SizeQuantity q{"pattern", "spacing of the holes, fore-and-aft x athwart", {}, "as drawn"};
    patterns_ = {PatternChoice{}};
    std::vector<double> xs, ys;
    const auto line = [](std::vector<double>& list, double v) {
      const bool there =
          std::any_of(list.begin(), list.end(), [&](double o) { return std::abs(o - v) < 1e-5; });
      if (!there) list.push_back(v);
    };
    for (const PlanPoint& p : holes) {
      const PlanPoint own = in_own_axes(p);
      line(xs, own.x.value());
      line(ys, own.y.value());
    }
    std::sort(xs.begin(), xs.end());
    std::sort(ys.begin(), ys.end());
    const Length wide_x = Length::from_value(xs.back() - xs.front());
    const Length wide_y = Length::from_value(ys.back() - ys.front());
    middle_ = {Length::from_value(0.5 * (xs.back() + xs.front())),
               Length::from_value(0.5 * (ys.back() + ys.front()))};
    const bool grid = xs.size() * ys.size() == holes.size() && holes.size() > 1;
    if (grid) q.as_drawn = show(wide_x, s_.units) + " x " + show(wide_y, s_.units);
    q.options = {q.as_drawn};
    if (!grid || !drawn_.base.sides_turned || geometry::is_clasped(drawn_)) {
      cannot("pattern", "the holes are no full rectangle along the sides of the base");
    } else if (!drawn_.base.metal) {
      cannot("pattern", "the base has its holes already");
    } else if (is_free("pattern")) {
      const auto steps = [&](Length drawn, Length base, std::size_t lines) {
        std::vector<Length> out;
        if (lines < 2) return std::vector<Length>{Length{}};
        Length step = inch() ? Length(0.25_in) : Length(5.0_mm);
        while ((base / step) > 14) step *= 2;
        const Length least = double(lines - 1) * (inch() ? Length(0.5_in) : Length(15.0_mm));
        for (Length v = step * std::ceil(double(least / step) - 1e-9); v < base - 8.0_mm;
             v += step) {
          out.push_back(v);
        }
        const bool there =
            std::any_of(out.begin(), out.end(), [&](const Length& v) { return alike(v, drawn); });
        if (!there) out.push_back(drawn);
        std::sort(out.begin(), out.end());
        return out;
      };
      patterns_.clear();
      q.options.clear();
      for (const Length& x : steps(wide_x, size_.x, xs.size())) {
        for (const Length& y : steps(wide_y, size_.y, ys.size())) {
          patterns_.push_back({false, wide_x.value() > 0 ? double(x / wide_x) : 1.0,
                               wide_y.value() > 0 ? double(y / wide_y) : 1.0});
          q.options.push_back(show(x, s_.units) + " x " + show(y, s_.units));
        }
      }
    }
    pattern_ = add(q);
  }

  const GunwalePlate drawn_;
  double cos_ = 1;
  double sin_ = 0;
  PlanPoint size_;    ///< of the base along its own sides
  Length along_{};    ///< of the base along the boat
  Length across_{};   ///< and across it
  PlanPoint middle_;  ///< of the holes, own axes
  std::vector<std::optional<Length>> bases_;
  std::vector<HoldChoice> holds_;
  std::vector<std::optional<Thread>> threads_;
  std::vector<WasherKind> heads_;
  std::vector<PatternChoice> patterns_;
  std::size_t base_ = 0, hold_ = 0, bolts_ = 0, washer_ = 0, pattern_ = 0;
};

}  // namespace

std::unique_ptr<SizeSpace> plate_space(const Setup& s, const SizeQuestion& q,
                                       const MaterialLibrary& library) {
  return std::make_unique<PlateSpace>(s, q, library);
}

}  // namespace thole::reading
