#include <cmath>

#include <thole/metal_strength.hpp>

#include "checks/checks.hpp"
#include "core/geometry.hpp"

namespace thole::checks {

Applicability base_metal_applies(const Setup& s) {
  if (!s.plate().base.metal) return {Standing::not_checked, "the base is not of a known metal"};
  return {};
}

Applicability base_bending_applies(const Setup& s) {
  if (s.plate().bracket) return {Standing::not_concerned, "a bracket bends elsewhere"};
  if (!s.plate().base.metal) return {Standing::not_checked, "the base is not of a known metal"};
  if (!s.plate().base.body) {
    return {Standing::not_checked, "the foot of the body on the base is not given"};
  }
  return {};
}

Use base_bending(const Setup& s, const Actions& a, Category) {
  // Cantilever from the foot of the body to whatever pulls or presses beyond it, on cuts square to
  // each side of the base and to the way to each fastener. The plate works as wide as the outline
  // at the cut, not wider than the foot and 45 degrees of spread.
  const BasePlate& b = s.plate().base;
  const MomentPerWidth mp = plate_moment(b.thickness, *b.metal);
  const Length half = 0.5 * *b.body;
  Use worst{measured(Moment{}), measured(Moment(mp * *b.body)), -1};
  const auto cut = [&](Length nx, Length ny) {
    const double size = std::hypot(nx.value(), ny.value());
    if (!(size > 1e-9)) return;
    const double x = nx.value() / size;
    const double y = ny.value() / size;
    Length reach{};
    for (const PlanPoint& p : b.outline) reach = std::max(reach, Length(x * p.x + y * p.y - half));
    if (!(reach.value() > 0)) return;
    const Length width =
        std::min(geometry::chord(b.outline, x, y, half), Length(*b.body + 2.0 * reach));
    if (!(width.value() > 0)) return;
    const Moment demand = abs(a.contact->moment_beyond(a.result, x, y, half));
    const Use use{measured(demand), measured(Moment(mp * width)), -1};
    if (use.factor() < worst.factor()) worst = use;
  };
  for (std::size_t i = 0; i < b.outline.size(); ++i) {
    const PlanPoint& p = b.outline[i];
    const PlanPoint& q = b.outline[(i + 1) % b.outline.size()];
    cut(q.y - p.y, p.x - q.x);
  }
  for (const PlanPoint& p : s.plate().fastening.holes) cut(p.x, p.y);
  return worst;
}

Use base_bearing(const Setup& s, const Actions& a, Category) {
  const Fastening& f = s.plate().fastening;
  const BasePlate& b = s.plate().base;
  return worst_fastener(a, [&](int i) {
    const Length edge = geometry::to_outline_edge(b.outline, f.holes[std::size_t(i)]);
    return Use{measured(a.shear[std::size_t(i)].size()),
               measured(bearing(f.thread.diameter, b.thickness, edge, *b.metal)), i};
  });
}

Applicability backing_applies(const Setup& s) {
  if (!s.plate().fastening.backing) return {Standing::not_concerned, "nothing behind the wall"};
  return {};
}

Use backing_bending(const Setup& s, const Actions& a, Category) {
  // Each fastener lifts the plate against the wall, which is taken to answer only at the plate's
  // nearest edge across the boat, or at three times its thickness beyond the washer: no more of the
  // plate is counted as stiff where the wall is checked. It works 45 degrees wide, not wider than
  // the spacing. A sheet or panel has no way of its own: there the worse of across and along the
  // boat.
  const Fastening& f = s.plate().fastening;
  const Backing& b = *f.backing;
  const MomentPerWidth mp = plate_moment(b.thickness, b.metal);
  const Length ring = f.hold == HoldBy::through_bolt
                          ? (f.washer ? f.washer->outside : f.thread.head_across_flats)
                          : f.thread.diameter;
  const auto bent = [&](int i, bool across) {
    const PlanPoint& p = f.holes[std::size_t(i)];
    const Length edge =
        across ? Length(0.5 * b.athwart - abs(p.y)) : Length(0.5 * b.fore_aft - abs(p.x));
    const Length arm = std::min(edge, Length(0.5 * ring + 3.0 * b.thickness));
    Length width = std::min(ring + 2.0 * arm, across ? b.fore_aft : b.athwart);
    for (int j = 0; j < a.count; ++j) {
      if (j == i) continue;
      const PlanPoint& q = f.holes[std::size_t(j)];
      const Length x = abs(q.x - p.x);
      const Length y = abs(q.y - p.y);
      if ((across ? y : x) < f.thread.diameter) width = std::min(width, across ? x : y);
    }
    return Use{measured(Moment(a.tension[std::size_t(i)] * arm)), measured(Moment(mp * width)), i};
  };
  const bool either = s.plate().host.form == WallForm::sheet;
  return worst_fastener(a, [&](int i) {
    const Use across = bent(i, true);
    if (!either) return across;
    const Use along = bent(i, false);
    return along.factor() < across.factor() ? along : across;
  });
}

}  // namespace thole::checks
