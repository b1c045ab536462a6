#pragma once

/// A fishing rod in a holder: how a line pull becomes a force and a moment.

#include <optional>

#include <thole/quantities.hpp>
#include <thole/vector.hpp>

namespace thole {

/// Upper bound of the lever of a bent rod, moment at the butt / line pull.
///
///     lever <= L sin(min(beta, 90 deg)) and lever <= sqrt(2 EI (1 - cos beta) / P)
///
/// with beta between the rod's butt axis and the line. A rod that leans away from the line
/// (beta > 90 deg) first gets a longer lever as it bends, so that bound is L there.
/// Source:   elastica with a dead load (Bisshopp & Drucker 1945); the energy bound is derived and
///           holds for a rod that gets no stiffer toward its tip; checked against tapered rods.
/// Valid:    EI measured on the butt third of the rod; without it the second bound is left out.
/// Accuracy: an upper bound: true levers of 27 tapered rods lie at 38 to 93 % of it.
/// Throws DomainError unless length > 0, pull >= 0, stiffness > 0.
[[nodiscard]] Length rod_lever_bound(Length length, std::optional<BendingStiffness> butt_stiffness,
                                     Angle beta, Force pull);

/// True lever / L of a uniform rod, alpha = P L^2 / EI, by integrating the elastica. For tests of
/// the bound. Source: psi'' = alpha sin psi, psi(0) = beta, psi'(1) = 0. Accuracy: 1e-6.
[[nodiscard]] double uniform_rod_lever(double alpha, Angle beta);

/// EI of the butt third from a small test: pull P at distance l from a clamp droops it by delta.
/// Source: cantilever, EI = P l^3 / (3 delta). Valid: small droop (delta < l/10).
[[nodiscard]] BendingStiffness butt_stiffness_from_test(Force pull, Length length, Length droop);

/// Pull of a diving planer or disc, 1/2 rho U^2 C_R S, C_R 1.0 to 1.4; the high end when left out.
/// Source:   form of depressor tension (Fisheries Science 68, 2002, abstract seen); C_R judgement.
/// Accuracy: 40 %: a scale on the line is better. Throws DomainError unless all are above zero.
[[nodiscard]] Force planer_pull(Area area, Speed speed, Density water, double coefficient = 1.4);

/// What a rod's butt does to the tube that it stands in.
struct SocketLoad {
  Force along;     ///< P cos(beta), out of the tube; below zero: into it
  Force across;    ///< P sin(beta)
  Moment bending;  ///< pull x lever, at the rim of the tube
  Force at_foot;   ///< M/h
  Force at_rim;    ///< M/h + V
};
/// Source:   statics of a couple over the depth h of the butt in its tube.
/// Valid:    beta between the tube's axis, upward, and the line; the butt touches at rim and foot
///           only, without friction. Accuracy: exact for its inputs.
/// Throws DomainError unless depth > 0, pull >= 0, lever >= 0 and beta is 0 to 180 deg.
[[nodiscard]] SocketLoad socket_load(Force pull, Angle beta, Length lever, Length depth);

}  // namespace thole
