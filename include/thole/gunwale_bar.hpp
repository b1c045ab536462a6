#pragma once

/// The gunwale itself as a bar that turns between what ties it to the hull: an estimate.

#include <thole/loads.hpp>
#include <thole/setup.hpp>

namespace thole {

struct BarTorsion {
  SecondMoment torsion;  ///< J
  Moment yields_at;      ///< torque
  bool buckles = false;  ///< its widest wall buckles in shear before it yields
};

/// Torsion of the gunwale's section, flat x depth of one thickness.
///
///     closed  tau = T / (2 A t), J = 4 A^2 t / p  (A, p: inside and along the centre line)
///     open    J = (flat + depth - t) t^3 / 3, tau = T t / J  (the lip and the leg it hangs on)
///
/// up to 0.6 Fty, of a closed section not above the stress at which its widest wall buckles,
/// 5.34 pi^2 E / (12 (1 - nu^2)) (t/b)^2.
/// Source:   Bredt; thin open sections (Roark, from memory); buckling of a long plate in shear at
///           hinged edges (Timoshenko & Gere, from memory); 0.6: Aluminum Design Manual A.3.
/// Valid:    one thickness all round, corners closed all along; holes are not taken off. Throws
///           DomainError for a sheet, a host without `bar`, a box whose walls meet.
/// Accuracy: exact for such a section; what it is made of seldom is.
[[nodiscard]] BarTorsion bar_torsion(const Host& host);

/// Torque of a base load on the bar, about its shear centre: the middle of a closed section, the
/// root of a lip.
/// Source: statics. Valid: as above. Accuracy: exact.
[[nodiscard]] Moment bar_torque(const GunwalePlate& mount, const BaseLoad& load);

/// Angle that the bar turns under a torque halfway between its ties, T L / (4 G J).
/// Source:   Saint-Venant, G = E / 2.66.
/// Valid:    ties that do not turn; nearer to one of them it turns less.
/// Accuracy: ties give, so it turns further than this.
[[nodiscard]] Angle bar_turn(const Host& host, Moment torque);

}  // namespace thole
