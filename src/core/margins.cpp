// The same setup a little worse off: more load, or a part one size thinner.

#include <algorithm>
#include <array>
#include <cmath>

#include <thole/display.hpp>
#include <thole/error.hpp>

#include "core/assessment_parts.hpp"

namespace thole::parts {

namespace {

constexpr double more = 1.2;

// Plates, bars and angles thicker than walls are (common practice, no source).
constexpr std::array<double, 3> thicker_inch{0.3125 * 0.0254, 0.375 * 0.0254, 0.5 * 0.0254};
constexpr std::array<double, 3> thicker_metric{0.008, 0.010, 0.012};

// The next thinner size; nothing below the thinnest.
std::optional<Length> next_thinner(const Setup& s, Length t) {
  std::vector<Length> sizes = s.common_walls;
  for (const double v : s.units == ReaderUnits::inch ? thicker_inch : thicker_metric) {
    sizes.push_back(v * si::metre);
  }
  std::optional<Length> out;
  for (const Length& v : sizes) {
    // Nearer than 3 %: the same size by another name, 3/16 in and 0.190 in.
    if (v < 0.97 * t && (!out || v > *out)) out = v;
  }
  return out;
}

class List {
 public:
  explicit List(const Setup& s) : s_(s) {}

  std::vector<Worsening> run() {
    Worsening load{show_number(100 * (more - 1)) + " % more pull", true, s_};
    load.setup.pull_scale *= more;
    out_.push_back(std::move(load));
    if (s_.on_board()) {
      board();
    } else {
      plate();
    }
    return std::move(out_);
  }

 private:
  void add(const std::string& part, Length now, Length thinner, Setup changed) {
    out_.push_back({part + " " + show(thinner, s_.units) + " in place of " + show(now, s_.units),
                    false, std::move(changed)});
  }

  // Parts of one thickness come off one shelf: all of them thinner at once.
  template <class Thickness>
  void thinner(const std::string& part, Length now, Thickness thickness) {
    const std::optional<Length> size = next_thinner(s_, now);
    if (!size) return;
    Setup changed = s_;
    thickness(changed, *size);
    add(part, now, *size, std::move(changed));
  }

  void plate() {
    const BasePlate& base = s_.plate().base;
    if (!base.metal || !(base.thickness.value() > 0)) return;
    thinner(s_.plate().bracket ? "bracket plate" : "base", base.thickness,
            [](Setup& c, Length t) { c.plate().base.thickness = t; });
  }

  void board() {
    const CrossBoard& m = s_.board();
    const BoardPiece& b = m.board;
    for (const Side side : {Side::port, Side::starboard}) ledge(side);
    if (b.wall.value() > 0) {
      thinner("wall of the board", b.wall, [](Setup& c, Length t) { c.board().board.wall = t; });
    } else if (b.wood) {
      using namespace literals;
      const Length off = s_.units == ReaderUnits::inch ? Length(0.125_in) : Length(3.0_mm);
      if (b.thickness <= 2.0 * off) return;
      Setup changed = s_;
      changed.board().board.thickness -= off;
      add("plank", b.thickness, changed.board().board.thickness, std::move(changed));
    }
  }

  void ledge(Side side) {
    const Ledge& l = s_.board().ledge(side);
    const Ledge& other = s_.board().ledge(side == Side::port ? Side::starboard : Side::port);
    const auto is_angle = [](const Ledge& o) { return o.kind == LedgeKind::angle && o.metal; };
    const auto hull_of = [](const Ledge& o) -> std::optional<Length> {
      const bool metal = o.fastening && o.fastening->hull == HullKind::metal_wall;
      return metal ? std::optional(o.fastening->hull_thickness) : std::nullopt;
    };
    const auto named = [&](bool alike, const char* both, const char* one) {
      return alike ? std::string(both) : std::string(word_for(side)) + " " + one;
    };
    const auto of = [side](Setup& c) -> Ledge& {
      return side == Side::port ? c.board().port : c.board().starboard;
    };
    const auto of_other = [side](Setup& c) -> Ledge& {
      return side == Side::port ? c.board().starboard : c.board().port;
    };
    const bool second = side == Side::starboard;
    if (is_angle(l)) {
      const bool alike = is_angle(other) && other.leg_thickness == l.leg_thickness;
      if (!(alike && second)) {
        thinner(named(alike, "ledge angles", "ledge angle"), l.leg_thickness,
                [&](Setup& c, Length t) {
                  of(c).leg_thickness = t;
                  if (alike) of_other(c).leg_thickness = t;
                });
      }
    }
    if (const std::optional<Length> hull = hull_of(l)) {
      const bool alike = hull_of(other) == hull;
      if (!(alike && second)) {
        thinner(named(alike, "hull at the ledges", "hull at its ledge"), *hull,
                [&](Setup& c, Length t) {
                  of(c).fastening->hull_thickness = t;
                  if (alike) of_other(c).fastening->hull_thickness = t;
                });
      }
    }
  }

  const Setup& s_;
  std::vector<Worsening> out_;
};

}  // namespace

std::vector<Worsening> worsenings(const Setup& s) { return List(s).run(); }

MarginRow margin_row(const Worsening& w, const Assessment& a) {
  MarginRow out;
  out.what = w.what;
  out.more_load = w.more_load;
  out.verdict = a.verdict;
  out.hold_limit = a.hold_limit;
  for (const CheckResult& c : a.checks) {
    if (c.standing == Standing::refused) {
      out.gives_way = c.gives_way + ": " + c.why;
      return out;
    }
    if (c.standing != Standing::applies || limits_life(w.setup, c.mode)) continue;
    out.worst_ratio = c.factor / c.needed;
    out.gives_way = c.gives_way;
    break;
  }
  if (a.verdict == Verdict::no_verdict && !a.reasons.empty()) out.gives_way = a.reasons.front();
  return out;
}

MarginRow margin_row(const Worsening& w, const std::string& why_not) {
  MarginRow out;
  out.what = w.what;
  out.more_load = w.more_load;
  out.gives_way = why_not;
  return out;
}

}  // namespace thole::parts
