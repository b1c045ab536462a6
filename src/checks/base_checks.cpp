#include <cmath>

#include <thole/metal_strength.hpp>

#include "checks/checks.hpp"
#include "core/geometry.hpp"

namespace thole::checks {

Applicability base_metal_applies(const Setup& s) {
  if (!s.mount.base.metal) return {Standing::not_checked, "the base is not of a known metal"};
  return {};
}

Applicability base_bending_applies(const Setup& s) {
  if (!s.mount.base.metal) return {Standing::not_checked, "the base is not of a known metal"};
  if (!s.mount.base.body) {
    return {Standing::not_checked, "the foot of the body on the base is not given"};
  }
  return {};
}

Use base_bending(const Setup& s, const Actions& a, Category) {
  // Cantilever from each side of the body's foot to whatever pulls or presses beyond it. The plate
  // works as wide as the foot and 45 degrees of spread to the farthest fastener line.
  const BasePlate& b = s.mount.base;
  const MomentPerWidth mp = plate_moment(b.thickness, *b.metal);
  const Length half = 0.5 * *b.body;
  Use worst{measured(Moment{}), measured(Moment(mp * *b.body)), -1};
  const double normals[4][2] = {{1, 0}, {-1, 0}, {0, 1}, {0, -1}};
  for (const auto& n : normals) {
    Length reach{};
    Length low = geometry::far_away;
    Length high = -1.0 * geometry::far_away;
    for (const PlanPoint& p : b.outline) {
      reach = std::max<Length>(reach, n[0] * p.x + n[1] * p.y - half);
      const Length across = n[0] != 0 ? p.y : p.x;
      low = std::min(low, across);
      high = std::max(high, across);
    }
    if (!(reach.value() > 0)) continue;
    const Length width = std::min<Length>(high - low, *b.body + 2.0 * reach);
    const Moment demand = abs(a.contact->moment_beyond(a.result, n[0], n[1], half));
    const Use use{measured(demand), measured(Moment(mp * width)), -1};
    if (use.factor() < worst.factor()) worst = use;
  }
  return worst;
}

Use base_bearing(const Setup& s, const Actions& a, Category) {
  const Fastening& f = s.mount.fastening;
  const BasePlate& b = s.mount.base;
  return worst_fastener(a, [&](int i) {
    const Length edge = geometry::to_outline_edge(b.outline, f.holes[std::size_t(i)]);
    return Use{measured(a.shear[std::size_t(i)].size()),
               measured(bearing(f.thread.diameter, b.thickness, edge, *b.metal)), i};
  });
}

Applicability backing_applies(const Setup& s) {
  if (!s.mount.fastening.backing) return {Standing::not_concerned, "nothing behind the wall"};
  return {};
}

Use backing_bending(const Setup& s, const Actions& a, Category) {
  // Each fastener lifts the plate against the wall, which is taken to answer only at the plate's
  // nearest edge across the boat; the plate works 45 degrees wide, not wider than the spacing.
  const Fastening& f = s.mount.fastening;
  const Backing& b = *f.backing;
  const MomentPerWidth mp = plate_moment(b.thickness, b.metal);
  const Length ring = f.hold == HoldBy::through_bolt
                          ? (f.washer ? f.washer->outside : f.thread.head_across_flats)
                          : f.thread.diameter;
  return worst_fastener(a, [&](int i) {
    const PlanPoint& p = f.holes[std::size_t(i)];
    const Length arm = 0.5 * b.athwart - abs(p.y);
    Length width = std::min(ring + 2.0 * arm, b.fore_aft);
    for (int j = 0; j < a.count; ++j) {
      if (j == i) continue;
      const PlanPoint& q = f.holes[std::size_t(j)];
      if (abs(q.y - p.y) < f.thread.diameter) width = std::min<Length>(width, abs(q.x - p.x));
    }
    return Use{measured(Moment(a.tension[std::size_t(i)] * arm)), measured(Moment(mp * width)), i};
  });
}

}  // namespace thole::checks
