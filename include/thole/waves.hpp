#pragma once

/// Wind waves on open water, how often they come to a moving boat, and how they move a boom tip.

#include <boost/units/systems/si/time.hpp>

#include <thole/quantities.hpp>

namespace thole {

using Time = units::quantity<si::time>;

struct Sea {
  Length height;  ///< significant
  Time peak_period;
};

/// Sea that a steady wind raises over a fetch.
///
///     H = (U^2/g) 0.0016 sqrt(g F/U^2)      not above 0.243 U^2/g
///     T = (U/g) 0.286 (g F/U^2)^(1/3)       not above 8.13 U/g
///
/// Source:   JONSWAP form with 0.0016 and 0.286 (worked example seen). U at 10 m, not the adjusted
///           wind of the Shore Protection Manual.
/// Valid:    deep water. Accuracy: 20 %. Throws DomainError unless both are above zero.
[[nodiscard]] Sea fetch_limited_sea(Speed wind, Length fetch);

/// The same by the older SMB curves.
///
///     H = 0.283 (U^2/g) tanh[0.0125 (g F/U^2)^0.42]
///     T = 1.2 (2 pi U/g) tanh[0.077 (g F/U^2)^0.25]
///
/// Source:   H as quoted on a page (seen), T from memory. Accuracy: 20 %. Throws DomainError as
/// above.
[[nodiscard]] Sea smb_sea(Speed wind, Length fetch);

/// Mean zero-crossing period, T_p (0.6673 + 0.05037 g - 0.006230 g^2 + 0.0003341 g^3), g the peak
/// enhancement 1 to 7.
/// Source:   DNV-RP-C205 (from memory). Throws DomainError outside that range.
[[nodiscard]] Time zero_crossing_period(Time peak_period, double peak_enhancement = 3.3);

/// Waves that a boat meets in an hour: |omega + omega^2 U/g cos(mu)|, mu = 0 head sea; the ones it
/// overtakes count as well.
/// Source:   deep-water dispersion.
/// Throws DomainError unless the period is above zero and the speed not below it.
[[nodiscard]] double encounters_per_hour(Time wave_period, Speed boat, Angle off_the_bow);

/// Period of roll, 0.8 B / sqrt(GM) in metres and seconds (roll radius 0.4 B).
/// Source:   textbook, from memory. Accuracy: 20 %. Throws DomainError unless both are above zero.
[[nodiscard]] Time roll_period(Length beam, Length gm);

struct TipAcceleration {
  Acceleration heave;     ///< omega^2 H/2: the boat follows the wave
  Acceleration roll;      ///< (2 pi/T_roll)^2 phi b
  Acceleration together;  ///< root of the sum of squares
  Acceleration in_phase;  ///< sum
};

/// Source:   derived. Valid: harmonic heave and roll. Throws DomainError unless periods are above
///           zero and the rest is not below it.
[[nodiscard]] TipAcceleration tip_acceleration(Length wave_height, Time wave_period, Angle roll,
                                               Time period_of_roll, Length off_middle);

}  // namespace thole
