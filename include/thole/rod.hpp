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

}  // namespace thole
