#include <algorithm>
#include <cmath>
#include <numbers>
#include <optional>
#include <vector>

#include <thole/metal_strength.hpp>

#include "checks/checks.hpp"
#include "core/geometry.hpp"

namespace thole::checks {

namespace {

bool makes_holes(const Fastening& f) {
  return f.hold != HoldBy::u_bolt && f.hold != HoldBy::clamp && !in_wood(f.hold);
}

// What is missing of the wall at each fastener.
Length hole_in_wall(const Fastening& f) {
  switch (f.hold) {
    case HoldBy::tapped:
    case HoldBy::self_tapping:
      return f.thread.diameter;
    case HoldBy::blind_insert:
    case HoldBy::thread_insert:
      return geometry::widest_hole(f);
    default:
      return std::max(f.thread.clearance, f.thread.diameter);
  }
}

// A free edge, the way to it, and the two sides of that way: free edges too, or nothing.
struct WayOut {
  double x, y;                      // toward the edge
  double edge;                      // along (x, y)
  std::optional<double> low, high;  // along (-y, x)
};

std::vector<WayOut> ways_out(const GunwalePlate& m) {
  const geometry::Flat f = geometry::flat_of(m);
  const auto side = [](bool free, double at) {
    return free ? std::optional<double>(at) : std::nullopt;
  };
  const double in = f.inboard.value();
  const double out = f.outboard.value();
  const double aft = f.aft.value();
  const double fore = f.forward.value();
  std::vector<WayOut> ways;
  if (f.outboard_free)
    ways.push_back({0, 1, out, side(f.ends_free, -fore), side(f.ends_free, -aft)});
  if (f.inboard_free) ways.push_back({0, -1, -in, side(f.ends_free, aft), side(f.ends_free, fore)});
  if (f.ends_free) {
    ways.push_back({1, 0, fore, side(f.inboard_free, in), side(f.outboard_free, out)});
    ways.push_back({-1, 0, -aft, side(f.outboard_free, -out), side(f.inboard_free, -in)});
  }
  return ways;
}

// A hole as seen along a way out.
struct Hole {
  double deep;  // to the edge
  double side;
  double push;  // toward the edge
};

void add_once(std::vector<double>& all, double v) {
  for (const double have : all) {
    if (std::abs(have - v) < 1e-7) return;
  }
  all.push_back(v);
}

// The manual's form steps down where a metal that tears less easily, or shears less easily, comes
// under its other expression. The lower of both sides of the step, so that a stronger metal is
// never weaker: rupture of the one way with the yielding of either, or the rupture of the other.
Force steady_block_shear(const BlockAreas& a, const Metal& metal) {
  const Force tears = metal.ultimate * a.net_tension;
  const Force shears = metal.shear_ultimate * a.net_shear;
  const Force yields = std::min<Force>(metal.yield / std::numbers::sqrt3 * a.gross_shear,
                                       metal.yield * a.gross_tension);
  return std::min<Force>(block_shear(a, metal), std::max(tears, shears) + yields);
}

}  // namespace

Applicability block_shear_applies(const Setup& s) {
  const Fastening& f = s.plate().fastening;
  if (!makes_holes(f)) return {Standing::not_concerned, "no holes in the wall"};
  if (f.holes.size() < 2) return {Standing::not_concerned, "a single fastener"};
  return tear_out_applies(s);
}

Use block_shear_use(const Setup& s, const Actions& a, Category) {
  // The block between any two lines of holes, or a line and a free edge beside it, from any row of
  // holes out to the edge that the load pushes to. What pushes the other way is not taken off.
  const Fastening& f = s.plate().fastening;
  const Host& h = s.plate().host;
  const double t = h.thickness.value();
  const double hole = hole_in_wall(f).value();
  const double near = 0.5 * f.thread.diameter.value();
  const auto area = [&](double length) { return std::max(length, 0.0) * t * si::square_metre; };
  Use worst{measured(Force{}), measured(Force(h.metal.ultimate * area(hole))), -1};
  for (const WayOut& w : ways_out(s.plate())) {
    std::vector<Hole> holes;
    std::vector<double> rows, lines;
    for (std::size_t i = 0; i < std::size_t(a.count); ++i) {
      const double x = f.holes[i].x.value();
      const double y = f.holes[i].y.value();
      const Hole p{w.edge - (w.x * x + w.y * y), w.x * y - w.y * x,
                   (w.x * a.shear[i].x + w.y * a.shear[i].y).value()};
      holes.push_back(p);
      add_once(rows, p.deep);
      add_once(lines, p.side);
    }
    std::vector<double> sides = lines;
    if (w.low) sides.push_back(*w.low);
    if (w.high) sides.push_back(*w.high);
    const auto is_edge = [&](double side) {
      return (w.low && side == *w.low) || (w.high && side == *w.high);
    };
    for (const double deep : rows) {
      for (const double low : sides) {
        for (const double high : sides) {
          if (high < low || (high == low && is_edge(low))) continue;
          const int planes = int(!is_edge(low)) + int(!is_edge(high));
          double push = 0;
          double on_row = 0;  // holes that the pulled side runs through
          double lost = 0;    // of the lines along the push
          bool corner_low = false, corner_high = false;
          for (const Hole& p : holes) {
            if (p.deep > deep + near || p.side < low - near || p.side > high + near) continue;
            push += std::max(p.push, 0.0);
            const bool at_low = std::abs(p.side - low) <= near;
            const bool at_high = std::abs(p.side - high) <= near;
            const bool last = p.deep >= deep - near;
            if (at_low) lost += hole;
            if (at_high) lost += hole;
            corner_low = corner_low || (at_low && last);
            corner_high = corner_high || (at_high && last);
            if (!at_low && !at_high && last) ++on_row;
          }
          if (!(push > 0)) continue;
          // Half of a hole in a corner of the block is lost to each of the two sides there.
          lost -= 0.5 * hole * (int(corner_low) + int(corner_high));
          const double shear_net = planes * deep - lost;
          const double pulled_net = (high - low) - (on_row + 0.5 * planes) * hole;
          const Area sheared = area(planes * deep);
          const Area pulled = area(high - low);
          const Force strength =
              steady_block_shear({.gross_shear = sheared,
                                  .net_shear = std::min(sheared, area(shear_net)),
                                  .gross_tension = pulled,
                                  .net_tension = std::min(pulled, area(pulled_net))},
                                 h.metal);
          const Use u{measured(Force(push * si::newton)), measured(strength), -1};
          if (u.factor() < worst.factor()) worst = u;
        }
      }
    }
  }
  return worst;
}

Applicability net_section_applies(const Setup& s) {
  if (!makes_holes(s.plate().fastening)) return {Standing::not_concerned, "no holes in the wall"};
  return lip_applies(s);
}

Use net_section_use(const Setup& s, const Actions& a, Category) {
  // A cut across the lip through each row of holes carries all that pushes away from it, as if the
  // lip hung on nothing but the metal behind the cut.
  const Fastening& f = s.plate().fastening;
  const Host& h = s.plate().host;
  const Length hole = hole_in_wall(f);
  const Length near = 0.5 * f.thread.diameter;
  Use worst{measured(Force{}), measured(Force(h.metal.yield * Area(h.thickness * h.flat))), -1};
  for (int i = 0; i < a.count; ++i) {
    const Length at = f.holes[std::size_t(i)].x;
    Force fore{}, aft{};
    int crossed = 0;
    for (std::size_t j = 0; j < std::size_t(a.count); ++j) {
      const Length x = f.holes[j].x;
      const Force push = a.shear[j].x;
      if (x >= at - near) fore += std::max(push, Force{});
      if (x <= at + near) aft -= std::min(push, Force{});
      if (abs(x - at) <= near) ++crossed;
    }
    const NetSection n = net_section(h.flat, h.thickness, crossed, hole, h.metal);
    const Force strength = std::min(n.yields, n.ruptures);
    const Use u{measured(std::max(fore, aft)), measured(strength), i};
    if (u.factor() < worst.factor()) worst = u;
  }
  return worst;
}

}  // namespace thole::checks
