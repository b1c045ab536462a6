#include <thole/fastener_group.hpp>

#include <cmath>

#include <thole/error.hpp>

namespace thole {

Force PlaneForce::size() const { return std::hypot(x.value(), y.value()) * si::newton; }

std::vector<PlaneForce> share_in_plane(const std::vector<PlanPoint>& fasteners, Force fx, Force fy,
                                       Moment mz) {
  if (fasteners.empty()) throw DomainError("a pattern needs at least one fastener");
  const double n = double(fasteners.size());
  PlanPoint centre;
  for (const PlanPoint& p : fasteners) {
    centre.x += p.x / n;
    centre.y += p.y / n;
  }
  Area polar{};
  for (const PlanPoint& p : fasteners) {
    const Length dx = p.x - centre.x;
    const Length dy = p.y - centre.y;
    polar += dx * dx + dy * dy;
  }
  const Moment twist = mz - (centre.x * fy - centre.y * fx);
  const bool one_point = polar.value() <= 1e-18;
  if (one_point && std::abs(twist.value()) > 1e-9 * (std::abs(mz.value()) + 1e-12)) {
    throw DomainError("fasteners in one point cannot take a twist");
  }
  std::vector<PlaneForce> out;
  for (const PlanPoint& p : fasteners) {
    PlaneForce f{fx / n, fy / n};
    if (!one_point) {
      f.x += -twist * (p.y - centre.y) / polar;
      f.y += twist * (p.x - centre.x) / polar;
    }
    out.push_back(f);
  }
  return out;
}

}  // namespace thole
