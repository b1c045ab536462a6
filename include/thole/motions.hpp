#pragma once

/// Accelerations of a small boat when planing and on the trailer, in g.

#include <thole/boat.hpp>
#include <thole/quantities.hpp>

namespace thole {

/// A planing hull, as the formulas want it.
struct PlaningHull {
  Length waterline_length{};
  Length chine_beam{};
  Angle deadrise{};  ///< counts within 10 to 30 deg
  Mass loaded_mass{};
};
[[nodiscard]] PlaningHull planing_hull(const BoatData& boat);

/// Vertical acceleration at the centre of gravity, on top of gravity, in g.
///
///     n1 = 0.32 [L/(10 B) + 0.084] (50 - beta) V^2 B^2 / m    n2 = 0.5 V / m^0.17
///
/// with metres, kilograms, degrees and V in knots, at least 2.36 sqrt(L), at most 50. n1 up to 3;
/// above it the greater of 3 and the lesser of n1 and n2; never above 7.
/// Source:   ISO 12215-5:2008 7.3 as copied in public code; above 3 g the copies
///           differ, this reading is the cautious one (judgement).
/// Valid:    planing monohulls of light craft. Accuracy: a design peak, not an extreme.
/// Throws DomainError unless all are above zero (deadrise: not below, under 90 deg).
[[nodiscard]] double planing_acceleration(const PlaningHull& hull, Speed top);
/// n1 and n2 alone, at the speed as given: for tests.
[[nodiscard]] double planing_acceleration_1(const PlaningHull& hull, Speed speed);
[[nodiscard]] double planing_acceleration_2(const PlaningHull& hull, Speed speed);

/// Does the boat plane: V / sqrt(L_WL) of 5 or more, knots and metres.
/// Source: ISO 12215-5:2008 (public copies).
[[nodiscard]] bool planes(Length waterline_length, Speed speed);

struct ImpactHull {
  Length length{};
  Length beam{};
  Angle deadrise{};
  Angle trim{};
  double beam_loading = 0;  ///< C_Delta = displacement / (w b^3)
};
struct ImpactAcceleration {
  double at_centre = 0;  ///< average, in g
  double at_bow = 0;
  bool outside_range = false;  ///< of the tests behind the formula
};
/// Average impact acceleration of a planing hull in waves of significant height `wave`.
///
///     n_cg = 0.0104 (H/b + 0.084)(tau/4)(5/3 - beta/30)(V/sqrt L)^2 (L/b)/C_Delta
///     n_bow = n_cg [1 + 3.8 (L/b - 2.25)/(V/sqrt L)]        feet, knots, degrees
///
/// For stubbier hulls the bow counts like the centre, never less.
/// Source:   Savitsky & Brown 1976, with its worked example (printed by an open library, seen).
/// Valid:    L/b 3 to 5, tau 3 to 7 deg, beta 10 to 30 deg, H/b 0.2 to 0.7, V/sqrt L 2 to 6,
///           displacement / (L/100)^3 100 to 250 long tons per cubic foot.
/// Accuracy: an average of irregular peaks: see `average_of_highest`.
/// Throws DomainError unless all are above zero (wave and deadrise: not below) and the deadrise is
/// under 50 deg.
[[nodiscard]] ImpactAcceleration impact_acceleration(const ImpactHull& hull, Speed speed,
                                                     Length wave);

/// Average of the highest 1/n of exponential peaks with this average: x (1 + ln n).
/// Source: Fridsma, Savitsky (from memory). Throws DomainError unless n >= 1.
[[nodiscard]] double average_of_highest(double average, double n);

/// Growth toward the bow: 1 up to the middle of the boat, linear to 1.5 at the bow (judgement).
/// `from_stern` over `length`; counts within 0 and 1. Throws DomainError unless length > 0.
[[nodiscard]] double place_factor(Length from_stern, Length length);

/// On the trailer, each by itself (judgement, on the high side of EN 12195-1 and 49 CFR 393.102).
struct RoadAcceleration {
  double fore_aft = 1.0;
  double sideways = 0.6;
  double down = 2.0;  ///< gravity included
  double up = 0.5;    ///< net
};
[[nodiscard]] RoadAcceleration road_acceleration();

}  // namespace thole
