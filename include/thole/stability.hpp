#pragma once

/// What a pull does to the boat: heel, published yardsticks, warnings. Never a stability check.

#include <optional>

#include <thole/boat.hpp>
#include <thole/quantities.hpp>

namespace thole {

/// In rising order.
enum class HeelLevel { none, notice, strong, swamping };

/// Estimate from the main sizes: draught T = m/(rho L B C_b), C_b 0.6; KB = 0.62 T; BM = C_I L B^3
/// / (12 V), C_I 0.6; GM = KB + BM - KG.
struct StabilityEstimate {
  Length draught;
  Length kb;
  Length bm;
  Length kg;
  Length gm;  ///< may be below zero
};
/// KG is `centre_height`, or 0.7 m where it is not known: people seated.
/// Source:   textbook hydrostatics of a hard-chine boat (from memory); KG is judgement.
/// Valid:    upright, at rest. Accuracy: 30 %.
/// Throws DomainError unless sizes, mass and water are above zero (centre height: not below).
[[nodiscard]] StabilityEstimate estimate_stability(const BoatData& boat, Density water);

/// GM = m y / (Delta tan phi).
/// Source:   lean test, statics. Valid: small heels, 3 to 8 deg. Throws DomainError unless all are
///           above zero and the heel is below 45 deg.
[[nodiscard]] Length gm_from_lean_test(const LeanTest& test, Mass loaded);

/// Righting lever of a wall-sided boat, sin phi (GM + BM/2 tan^2 phi).
/// Source: textbook (from memory). Valid: up to the edge angle, chine in the water.
/// Throws DomainError unless 0 <= phi < 90 deg and BM >= 0.
[[nodiscard]] Length righting_lever(Length gm, Length bm, Angle heel);

/// tan phi = 2 F / B: the gunwale meets the water.
/// Source: geometry. Throws DomainError unless both are above zero.
[[nodiscard]] Angle edge_angle(Length freeboard, Length beam);

/// Heel at which the righting moment m g GZ equals the heeling moment; nothing when it is greater
/// than the righting moment at the edge angle. The heeling moment counts as it is on the upright
/// boat; that it shrinks with cos phi is not counted, which is cautious.
/// Source: textbook (from memory). Valid, Accuracy: as GM and BM.
/// Throws DomainError unless moment >= 0, mass > 0, GM > 0, BM >= 0 and 0 < edge < 90 deg.
[[nodiscard]] std::optional<Angle> heel_under(Moment moment, Mass displaced, Length gm, Length bm,
                                              Angle edge);

/// 0.67 W GM F/B: hook moment from which lifting rules apply (a third of the side freeboard lost).
/// Source: 46 CFR 173.005 (seen). Throws DomainError unless all are above zero.
[[nodiscard]] Moment lifting_threshold(Mass displaced, Length gm, Length freeboard, Length beam);

/// Largest heel in the offset-load test, 11.5 + (24 - L)^3/520 degrees, L in metres.
/// Source: ISO 12217-1:2013 6.2.3 (public copy). Valid: 6 to 24 m.
/// Throws DomainError outside that range.
[[nodiscard]] Angle offset_load_heel_limit(Length hull_length);

/// Immersion allowed by persons to one side, with a cockpit of length `cockpit` on a deck of length
/// `deck`: f (2 L - 1.5 L')/(4 L) exposed, f (2 L - L')/(4 L) protected.
/// Source: 46 CFR 178.330 (form seen; which water: from memory).
/// Throws DomainError unless freeboard and deck are above zero and 0 <= cockpit <= deck.
[[nodiscard]] Length immersion_allowed(Length freeboard, Length deck, Length cockpit, bool exposed);
/// W B_p / 6: moment of persons moving to one side (46 CFR 178.330, form seen). Throws DomainError
/// unless both are above zero.
[[nodiscard]] Moment persons_moment(Mass persons, Length breadth_for_persons);
/// (lb + 32) / 141 persons (33 CFR 183, seen). Throws DomainError unless capacity > 0.
[[nodiscard]] double persons_number(Mass capacity);
/// Least side load to the brim of a boat with this capacity plate: 0.6 x (33 CFR 183.41, seen).
/// Valid: below 550 lb. Throws DomainError unless capacity > 0.
[[nodiscard]] Mass side_load_to_brim(Mass persons_capacity);

/// One person for comparisons (ISO 12217-1 offset-load test).
inline const Mass one_person = 85.0 * si::kilogrammes;

/// What the boat can take, put together from what is known of it.
struct HeelModel {
  Length gm;  ///< as used: of the lean test, or the low end of the estimate
  Length bm;  ///< 0.7 of the estimate
  Length draught;
  Angle edge;
  Moment threshold;  ///< `lifting_threshold`
  Mass loaded;
  Length freeboard;
  Length beam;
  Length wave_height;
  LinearStiffness sinking;  ///< load down at the mount that lowers the gunwale there by a length
  bool measured = false;    ///< by a lean test
};
/// The estimate counts at its low end, with KG 0.1 m higher (0.8 m when not known): a crew that
/// fights a hung-up ball stands. A lean test counts as it is, but never above the estimated BM: in
/// an open boat the centre of gravity lies above that of buoyancy. GM not above zero counts as 1
/// mm, so that every pull is too much. A wave height of 0 is one that is not given.
///
///     sinking: 1/k = 1/(rho g A) + x^2/(rho g I), A = 0.75 L B, I = 0.5 B L^3/12 of the waterline
///
/// with x from the middle of the boat to the mount.
/// Source:   as its parts; sinking is textbook with coefficients by judgement.
/// Accuracy: 30 %, on the cautious side; a lean test 10 % (judgement).
/// Throws DomainError as its parts, and unless the mount is within the boat and wave height >= 0.
[[nodiscard]] HeelModel heel_model(const BoatData& boat, Density water);

/// Freeboard left at the mount at a heel, under a load down there: F - load/sinking - B/2 tan phi.
/// Source: geometry. Throws DomainError unless 0 <= heel < 90 deg and load >= 0.
[[nodiscard]] Length freeboard_left(const HeelModel& model, Angle heel, Force down);

/// Nothing in place of an angle: the gunwale is in the water.
struct Heel {
  std::optional<Angle> alone;
  std::optional<Angle> with_person;  ///< one of 85 kg at the gunwale of that side
  HeelLevel level = HeelLevel::none;
};
/// Heel under a moment and a load down at the mount.
///
/// The load down rights nothing: rho g I of the waterline, hence m g BM, stays as it is, and what
/// the boat gains by sinking acts at the waterline. It takes freeboard, and the edge angle is that
/// of what is left. The person, half the beam off the middle, is one of those on board who only
/// changes place.
///
/// Levels: notice when the moment alone reaches the lifting threshold; with the person, strong from
/// half the edge angle, from 14 deg, or from a freeboard at the mount below 0.10 m + H/2; swamping
/// when the gunwale meets the water. A greater moment or load never has a lower level.
/// Source:   46 CFR 173.005 (seen) for the threshold; the rest is judgement.
/// Valid, Accuracy: as `righting_lever` and `heel_model`.
/// Throws DomainError unless moment >= 0 and down >= 0.
[[nodiscard]] Heel heel_of(const HeelModel& model, Moment moment, Force down);

}  // namespace thole
