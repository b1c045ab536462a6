#pragma once

/// In-plane force and twist shared among the fasteners of a base.

#include <vector>

#include <thole/quantities.hpp>
#include <thole/vector.hpp>

namespace thole {

struct PlaneForce {
  Force x{};
  Force y{};
  [[nodiscard]] Force size() const;
};

/// Force on each fastener from a force (fx, fy) and a twist mz about the origin.
///
///     R_i = F/n + M_c x r_i / sum r^2, about the centroid of the pattern
///
/// Source:   elastic vector method (Salmon & Johnson, Steel Structures; Shigley, ch. 8).
/// Valid:    like fasteners, slip-free holes, a base stiff in its plane. Friction is not counted.
/// Accuracy: closed form; reproduces the published examples to their printed digits.
/// Throws DomainError for an empty pattern, and for a twist on a pattern that cannot take one (all
/// fasteners in one point).
[[nodiscard]] std::vector<PlaneForce> share_in_plane(const std::vector<PlanPoint>& fasteners,
                                                     Force fx, Force fy, Moment mz);

}  // namespace thole
