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

/// The same where every fastener has its own stiffness against slip, the same in all directions.
///
///     R_i = k_i (F / sum k + M_c x r_i / sum k r^2), about the centroid weighted with k
///
/// A fastener without stiffness (an oversize hole) takes nothing.
/// Source:   a rigid base on springs, elementary statics; equal stiffness is the form above.
/// Valid:    as above, stiffnesses known. They seldom are: take both ends of their range.
/// Accuracy: closed form.
/// Throws DomainError besides: not as many stiffnesses as fasteners, one below zero, none above it.
[[nodiscard]] std::vector<PlaneForce> share_in_plane(const std::vector<PlanPoint>& fasteners,
                                                     const std::vector<LinearStiffness>& stiffness,
                                                     Force fx, Force fy, Moment mz);

/// A group of ductile bolts at its ultimate load.
struct UltimateGroup {
  double coefficient = 0;  ///< C: resultant force / strength of one bolt; 0 under a pure twist
  double per_load = 0;     ///< strength of one bolt x this = the number of loads carried, 1/N
  /// Force on each bolt / strength of one bolt: at most 0.9815, most of them higher than in
  /// proportion to the elastic share.
  std::vector<double> share;
};

/// Ultimate strength of a bolt group in shear by its instantaneous centre: the base turns about the
/// one point for which the bolts balance the load, the bolt farthest from it slips by 0.34 in, and
///
///     R = Rult (1 - exp(-10 slip / 1 in))^0.55
///
/// The group carries `per_load` x Rult times the load (fx, fy, mz) given, mz about the origin.
/// Source:   Crawford & Kulak 1971 (law seen in lecture notes); coefficients of the AISC Manual,
///           tables 7-6 and 7-7 (from memory), reproduced within 0.8 %.
/// Valid:    only ductile steel bolts between steel parts that bear on them: the law was measured
/// on
///           3/4 in A325 bolts. Never screws in aluminium, wood or laminate, never stiff mixed
///           patterns. It gives more than the elastic method: with it brittle parts fail early.
/// Accuracy: the least of a convex potential, to 1e-9; the law itself is one fit to one bolt.
/// Throws DomainError for an empty pattern, a load that is zero or not finite, a twist on bolts in
/// one point; InternalError if the least is not reached.
[[nodiscard]] UltimateGroup instantaneous_centre(const std::vector<PlanPoint>& bolts, Force fx,
                                                 Force fy, Moment mz);

}  // namespace thole
