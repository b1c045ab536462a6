#include <cmath>
#include <limits>

#include <thole/metal_strength.hpp>

#include "checks/checks.hpp"
#include "core/geometry.hpp"

namespace thole::checks {

using namespace literals;

namespace {

// Waves and towing pull again and again: half the pull-over strength (EN 1993-1-3 Table 8.2, the
// row for repeated wind load).
double repeated(Category c) { return c == Category::everyday ? 0.5 : 1.0; }

// What presses on the wall from behind or holds it: radius of the stiff round piece. A plate counts
// only as far as it is stiff, three times its thickness beyond the washer or screw.
Length boss_radius(const Setup& s, const PlanPoint& p) {
  const Fastening& f = s.mount.fastening;
  Length r = 0.5 * f.thread.diameter;
  if (f.hold == HoldBy::through_bolt) {
    r = 0.5 * (f.washer ? f.washer->outside : f.thread.head_across_flats);
  }
  if (f.backing) {
    const Length overhang = geometry::to_backing_edge(*f.backing, p) - r;
    r += std::clamp(overhang, Length{}, 3.0 * f.backing->thickness);
  }
  return r;
}

bool wall_edges_held(const Host& h) { return h.form != WallForm::open_lip; }

}  // namespace

Applicability always(const Setup&) { return {}; }

Applicability pull_over_base_applies(const Setup& s) {
  if (!s.mount.base.metal) {
    return {Standing::not_checked, "the base is not of a known metal"};
  }
  return {};
}

Use pull_over_base(const Setup& s, const Actions& a, Category c) {
  const Fastening& f = s.mount.fastening;
  const Force strength =
      repeated(c) *
      pull_over(s.mount.base.thickness, f.head, f.thread.clearance, *s.mount.base.metal).strength;
  return worst_fastener(a, [&](int i) {
    return Use{measured(a.tension[std::size_t(i)]), measured(strength), i};
  });
}

Applicability pull_over_behind_applies(const Setup& s) {
  if (is_screw(s.mount.fastening)) return {Standing::not_concerned, "nothing clamps from behind"};
  return {};
}

Use pull_over_behind(const Setup& s, const Actions& a, Category c) {
  const Fastening& f = s.mount.fastening;
  const Length dw = f.washer ? f.washer->outside : f.thread.head_across_flats;
  const Length sheet = f.backing ? f.backing->thickness : s.mount.host.thickness;
  const Metal& metal = f.backing ? f.backing->metal : s.mount.host.metal;
  const Force strength = repeated(c) * pull_over(sheet, dw, f.thread.clearance, metal).strength;
  return worst_fastener(a, [&](int i) {
    return Use{measured(a.tension[std::size_t(i)]), measured(strength), i};
  });
}

Use wall_bearing(const Setup& s, const Actions& a, Category) {
  const Fastening& f = s.mount.fastening;
  const Host& h = s.mount.host;
  return worst_fastener(a, [&](int i) {
    const Length edge = geometry::to_free_wall_edge(s.mount, f.holes[std::size_t(i)]);
    return Use{measured(a.shear[std::size_t(i)].size()),
               measured(bearing(f.thread.diameter, h.thickness, edge, h.metal)), i};
  });
}

Applicability tear_out_applies(const Setup& s) {
  for (const PlanPoint& p : s.mount.fastening.holes) {
    if (geometry::to_free_wall_edge(s.mount, p) < geometry::far_away) return {};
  }
  return {Standing::not_concerned, "no free edge of the wall near the base"};
}

Use wall_tear_out(const Setup& s, const Actions& a, Category) {
  // Cautious: the whole shear is taken to act toward the nearest free edge.
  const Fastening& f = s.mount.fastening;
  const Host& h = s.mount.host;
  return worst_fastener(a, [&](int i) {
    const Length edge = geometry::to_free_wall_edge(s.mount, f.holes[std::size_t(i)]);
    return Use{measured(a.shear[std::size_t(i)].size()),
               measured(tear_out(f.thread.diameter, h.thickness, edge, h.metal)), i};
  });
}

Use wall_yield(const Setup& s, const Actions& a, Category) {
  const Fastening& f = s.mount.fastening;
  const Host& h = s.mount.host;
  const MomentPerWidth mp = plate_moment(h.thickness, h.metal);
  const bool held = wall_edges_held(h);
  const auto fan = [&](const PlanPoint& p) {
    const Length boss = std::min(boss_radius(s, p), Length(0.9 * geometry::to_support(s.mount, p)));
    return fan_pull(mp, boss, geometry::to_far_support(s.mount, p), held);
  };
  Use worst = worst_fastener(a, [&](int i) {
    return Use{measured(a.tension[std::size_t(i)]), measured(fan(f.holes[std::size_t(i)])), i};
  });
  if (h.form == WallForm::sheet) return worst;
  // Fasteners in a line along the flat yield the wall together. A plate or bar behind the wall ties
  // a line of them into one, so that no single one can dish the wall by itself.
  if (f.backing) worst = {measured(Force{}), measured(mp * 1.0), -1};
  const geometry::Flat flat = geometry::flat_of(s.mount);
  for (int i = 0; i < a.count; ++i) {
    const PlanPoint& p = f.holes[std::size_t(i)];
    Force sum{};
    Length first = p.x;
    Length last = p.x;
    int pulling = 0;
    for (int j = 0; j < a.count; ++j) {
      const PlanPoint& q = f.holes[std::size_t(j)];
      if (abs(q.y - p.y) > 0.5 * f.thread.diameter) continue;
      if (!f.backing && !(a.tension[std::size_t(j)].value() > 0)) continue;
      sum += a.tension[std::size_t(j)];
      first = std::min(first, q.x);
      last = std::max(last, q.x);
      ++pulling;
    }
    if (pulling < 2 && !f.backing) continue;
    Length near = p.y - flat.inboard;
    Length other = flat.outboard - p.y;
    if (h.form == WallForm::open_lip) other = near = geometry::to_support(s.mount, p);
    const Length boss = std::min(boss_radius(s, p), Length(0.9 * std::min(near, other)));
    const Force strength = row_pull(mp, boss, last - first, near, other, held);
    const Use row{measured(sum), measured(strength), i};
    if (row.factor() < worst.factor()) worst = row;
  }
  return worst;
}

Applicability lip_applies(const Setup& s) {
  if (s.mount.host.form != WallForm::open_lip) {
    return {Standing::not_concerned, "the wall is no open lip"};
  }
  return {};
}

Use lip_bending(const Setup& s, const Actions& a, Category) {
  // The whole load's moment about the root, on the length of base along the lip and as much beyond
  // it as a load at the very end of a lip would find (0.76 of its distance from the root).
  const geometry::Flat flat = geometry::flat_of(s.mount);
  const Host& h = s.mount.host;
  const Length root = h.lip_root_inboard ? flat.inboard : flat.outboard;
  const Moment about_root = abs(a.load.moment.x() - root * a.load.force.z());
  Length low = geometry::far_away;
  Length high = -1.0 * geometry::far_away;
  for (const PlanPoint& p : s.mount.base.outline) {
    low = std::min(low, p.x);
    high = std::max(high, p.x);
  }
  const Length width = high - low + 0.76 * abs(root);
  const Moment strength = plate_moment(h.thickness, h.metal) * width;
  return {measured(about_root), measured(strength), -1};
}

Applicability sheet_applies(const Setup& s) {
  if (s.mount.host.form != WallForm::sheet) {
    return {Standing::not_concerned, "the wall is no wide sheet"};
  }
  return {};
}

Use sheet_rotation(const Setup& s, const Actions& a, Category) {
  // Two hinge lines across the footprint, M = 2 Mp B, whichever way the moment turns: B is the
  // smallest width of the footprint (base, or the plate behind where that is larger).
  const Host& h = s.mount.host;
  Length width = geometry::smallest_width(s.mount.base.outline);
  if (const auto& b = s.mount.fastening.backing) {
    width = std::max(width, std::min(b->fore_aft, b->athwart));
  }
  const Moment demand =
      std::hypot(a.load.moment.x().value(), a.load.moment.y().value()) * si::newton * si::metre;
  const Moment strength = 2.0 * plate_moment(h.thickness, h.metal) * width;
  return {measured(demand), measured(strength), -1};
}

Use edge_distance(const Setup& s, const Actions& a, Category) {
  const Fastening& f = s.mount.fastening;
  const Length least = 1.5 * f.thread.diameter;
  return worst_fastener(a, [&](int i) {
    const PlanPoint& p = f.holes[std::size_t(i)];
    Length edge = geometry::to_free_wall_edge(s.mount, p);
    if (s.mount.base.metal) {
      edge = std::min(edge, geometry::to_outline_edge(s.mount.base.outline, p));
    }
    if (f.backing) edge = std::min(edge, geometry::to_backing_edge(*f.backing, p));
    return Use{measured(least), measured(std::max(edge, Length{})), i};
  });
}

Use hole_spacing(const Setup& s, const Actions& a, Category) {
  const Fastening& f = s.mount.fastening;
  const Length least = 2.5 * f.thread.diameter;
  return worst_fastener(a, [&](int i) {
    double nearest = geometry::far_away.value();
    for (int j = 0; j < a.count; ++j) {
      if (j == i) continue;
      nearest = std::min(
          nearest, std::hypot((f.holes[std::size_t(i)].x - f.holes[std::size_t(j)].x).value(),
                              (f.holes[std::size_t(i)].y - f.holes[std::size_t(j)].y).value()));
    }
    return Use{measured(least), measured(Length(nearest * si::metre)), i};
  });
}

}  // namespace thole::checks
