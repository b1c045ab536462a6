#pragma once

/// A heavy ball towed on a thin wire: pull and direction of the wire at the boom tip.

#include <optional>
#include <string_view>

#include <boost/units/systems/si/kinematic_viscosity.hpp>

#include <thole/quantities.hpp>

namespace thole {

// ---- Water
// ---------------------------------------------------------------------------------------

using KinematicViscosity = units::quantity<si::kinematic_viscosity>;
using Energy = units::quantity<si::energy>;

struct WaterTemperature {
  double celsius = 0;
};

struct Water {
  Density density;
  KinematicViscosity viscosity;
};

/// Density and kinematic viscosity of fresh water.
/// Source:   density of EOS-80 (UNESCO Technical Papers in Marine Science 44, 1983) and viscosity,
///           both as in Landolt-Boernstein New Series V/3a 1986 (formulas seen).
/// Valid:    0 to 35 deg C at the surface.
/// Accuracy: 5 g/m^3 against open tables at 4 to 25 deg C; viscosity 0.1 %.
/// Throws DomainError outside that range.
[[nodiscard]] Water fresh_water(WaterTemperature temperature = {10});

/// The same for sea water of practical salinity 35.
/// Source, Valid: as `fresh_water`. Accuracy: density 0.005 %; viscosity 0.7 %.
[[nodiscard]] Water sea_water(WaterTemperature temperature = {15});

// ---- Drag coefficients
// ---------------------------------------------------------------------------

enum class SphereDrag {
  morrison,          ///< up to Re = 1e6, with the drag crisis near 2e5 to 3e5
  clift_gauvin,      ///< up to Re = 2e5
  schiller_naumann,  ///< below Re = 1000: for tests
};

/// Drag coefficient of a smooth sphere on its frontal area.
///
///     Morrison          24/Re + 2.6 (Re/5)/(1 + (Re/5)^1.52)
///                       + 0.411 (Re/2.63e5)^-7.94/(1 + (Re/2.63e5)^-8) + 0.25 (Re/1e6)/(1 +
///                       Re/1e6)
///     Schiller-Naumann  24/Re (1 + 0.15 Re^0.687)
///     Clift-Gauvin      Schiller-Naumann + 0.42/(1 + 4.25e4 Re^-1.16)
///
/// Source:   Morrison 2013 (page seen); Clift & Gauvin 1970 (seen as quoted); Schiller & Naumann
///           1933 (formula from memory).
/// Valid:    0 < Re up to the limit of each law. Accuracy: about 5 % before the drag crisis.
/// Throws DomainError outside the range of the law.
[[nodiscard]] double sphere_drag(double reynolds, SphereDrag law = SphereDrag::morrison);

/// Drag coefficient of a smooth cylinder across the flow, on its frontal area.
///
///     1.18 + 6.8/Re^0.89 + 1.96/Re^0.5 - 4e-4 Re/(1 + 3.64e-7 Re^2)
///
/// Source:   Sucker & Brauer 1975 (formula from memory, three values seen as quoted).
/// Valid:    1e-4 < Re < 2e5. Accuracy: about 5 % for a smooth cylinder that does not shake.
/// Throws DomainError outside that range.
[[nodiscard]] double cylinder_drag(double reynolds);

/// By how much the drag of a wire grows when it shakes in its own vortices, 1 + 2.1 A/D with the
/// amplitude A.
/// Source:   Blevins 1990, as quoted in the theory manual of a riser code.
/// Valid:    A/D up to about 1.5. Accuracy: 15 % (judgement).
/// Throws DomainError unless A/D >= 0.
[[nodiscard]] double strum_factor(double amplitude_over_diameter);

// ---- Ball and wire
// -------------------------------------------------------------------------------

enum class BallMaterial {
  lead,
  antimonial_lead,
  steel,
  cast_iron,
};

/// Density of the ball's material: 11 340, 10 900, 7 850 and 7 200 kg/m^3.
/// Source:   tables of metal densities (seen). Cast iron: taken from a range of 6 800 to 7 800.
/// Accuracy: 1 %; cast iron 8 %.
[[nodiscard]] Density ball_density(BallMaterial material);

/// Diameter of a solid ball. Source: geometry. Throws DomainError unless both are above zero.
[[nodiscard]] Length ball_diameter(Mass ball, Density density);

/// Weight less buoyancy, m g (1 - rho_water / rho_ball). Source: Archimedes.
/// Throws DomainError unless the ball sinks.
[[nodiscard]] Force weight_in_water(Mass ball, Density ball_density, Density water);

/// Drag coefficient of a bare ball at a speed. Fin, release clip and weed come on top: the default
/// of `TowedLine` is higher for that reason.
/// Source, Valid, Accuracy: as `sphere_drag`.
[[nodiscard]] double bare_ball_drag(Mass ball, Density ball_density, const Water& water,
                                    Speed speed, SphereDrag law = SphereDrag::morrison);

enum class WireKind {
  strand_1x7,  ///< stainless steel, seven wires: 7/9 of the circle is metal
  rope_7x7,    ///< stainless steel, 49 wires: about 0.5 to 0.55 of the circle is metal
  braid,       ///< polyethylene fibre: floats slightly
};

/// Weight of a wire in water per length, fill x pi/4 d^2 (rho - rho_water) g; below zero for braid.
/// Source:   fill 7/9 is geometry, 0.55 for 7x7 is from memory (the higher end, for weight); steel
///           wire 7 900 kg/m^3 and braid 970 kg/m^3 from tables (seen), braid taken as solid.
/// Valid:    voids full of water. Accuracy: 3 % for 1x7, 10 % for 7x7.
/// Throws DomainError unless diameter > 0 and water > 0.
[[nodiscard]] LineLoad wire_weight_in_water(WireKind kind, Length diameter, Density water);

// ---- Pull of the towed line
// ----------------------------------------------------------------------

enum class TangentialDrag {
  of_speed_along_wire,  ///< 1/2 rho Cf pi d (U sin theta)^2
  constant,             ///< 1/2 rho Cf pi d U^2 at any angle (Pode 1951): for tests
};

struct TowedLine {
  Mass ball{};                                                       ///< in air
  Density ball_density = 11340.0 * si::kilogrammes_per_cubic_metre;  ///< lead
  double ball_drag = 0.5;  ///< with fin, clip and paint (judgement); weed 1.0; see bare_ball_drag
  Length wire_diameter{};
  LineLoad wire_weight{};             ///< in water; below zero if it floats
  Length depth{};                     ///< of the ball below the surface: not the wire out
  Speed surface_speed{};              ///< through the water at the surface
  std::optional<Speed> ball_speed{};  ///< through the water at the ball; none: as at the surface
  double normal_drag = 1.5;           ///< Cn on d; 1.0 quiet, 2.5 strumming or weed
  double tangential_drag = 0.02;      ///< Cf on pi d; 0.01 to 0.03
  Density water = 999.70 * si::kilogrammes_per_cubic_metre;  ///< fresh, 10 deg C
  TangentialDrag tangential_law = TangentialDrag::of_speed_along_wire;
};

struct LinePull {
  Force tension;        ///< of the wire at the surface
  Angle from_vertical;  ///< of the wire at the surface, aft
  Length wire_out;      ///< from the ball to the surface
  Length layback;       ///< how far the ball hangs behind the tip
};

/// Pull of a wire with a ball towed straight ahead, at the surface.
///
/// Steady wire in a plane, s from the ball upward, theta from vertical, w its weight in water:
///
///     dT/ds = w cos theta + Ft              Ft = 1/2 rho Cf pi d (U sin theta)^2
///     T dtheta/ds = Fn - w sin theta        Fn = 1/2 rho Cn d (U cos theta)^2
///
/// T sin theta = drag of the ball and T cos theta = its weight in water at s = 0; U is linear in
/// depth from the ball to the surface.
/// Source:   Pode 1951 and Landweber 1947 (equations from memory); the cross-flow principle for
///           swept wires and Cn 1.5 for armoured tow wire (abstracts seen); Cf from memory.
/// Valid:    steady straight course, current along the course, stretch and wire in air left out.
/// Accuracy: integration error below 1e-6. Such a model agreed within 5 % with a flume test of
///           trolling lines. Tension hardly depends on Cn, the angle does: see `pull_range`.
/// Throws DomainError if the ball does not sink, a value is not finite or not above zero (speeds,
/// drag coefficients of the wire and ball: below zero), or the wire passes 89 degrees from vertical
/// before it reaches the surface, or floats the ball up.
[[nodiscard]] LinePull line_pull(const TowedLine& line);

/// Angle from the horizontal of a straight wire towed without a ball, w cos phi = R sin^2 phi with
/// the drag R per length of a wire across the flow. The steepest line that a great depth can have.
/// Source: equilibrium. Valid: no tangential drag. Accuracy: exact.
/// Throws DomainError unless weight >= 0 and drag > 0.
[[nodiscard]] Angle critical_angle(LineLoad weight, LineLoad cross_drag);

struct SpeedRange {
  Speed least;
  Speed greatest;
};

struct PullRange {
  Angle least_angle;  ///< from vertical
  Angle greatest_angle;
  Force least_tension;
  Force greatest_tension;
  Length greatest_wire_out;
  Length greatest_layback;
  bool too_flat = false;  ///< a case cannot reach the depth within 89 degrees
};

/// Range of the pull over Cn = 1.0, 1.5 and 2.5 and both ends of the speeds; without `at_ball` the
/// speed is the same at all depths. Speeds and the Cn of `line` are not used. A case that passes
/// 89 degrees counts as the shallower line at which that happens, and is flagged.
/// Source, Valid, Accuracy: as `line_pull`; Cn 1.0 quiet to 2.5 strumming or weed.
/// Throws DomainError as `line_pull`, save for the angle, and unless 0 <= least <= greatest.
[[nodiscard]] PullRange pull_range(const TowedLine& line, SpeedRange surface,
                                   std::optional<SpeedRange> at_ball = std::nullopt);

// ---- Ball hung up on the bottom
// ------------------------------------------------------------------

enum class SnagLimit {
  break_given,        ///< 1.2 x the breaking strength stated by the owner
  break_presumed,     ///< 1.2 x the default of the wire kind
  slip_measured,      ///< 1.5 x the brake slip measured by the owner
  twice_ball_weight,  ///< the floor
};

struct SnagPull {
  Force pull;
  SnagLimit limit = SnagLimit::break_presumed;
};

/// Breaking strength when none is stated: 270 lbf for wire, 300 lbf for braid.
/// Source:   270 lbf is the minimum of 3/64 in 7x7 stainless cable in FAA AC 43.13-1B Table 7-3
///           (seen); 300 lbf is the high end of 150 to 300 lbf (from memory).
[[nodiscard]] Force presumed_breaking_strength(WireKind kind);

/// Greatest pull of a hung-up ball: min(1.2 T_break, 1.5 T_slip), never below twice the ball's
/// weight in air.
/// Source:   published strengths are minimums (column heading seen); both factors are judgement.
/// Valid:    `slip` only if measured: a brake set by feel does not count.
/// Accuracy: judgement, on the high side.
/// Throws DomainError unless all values are above zero.
[[nodiscard]] SnagPull snag_pull(Mass ball, WireKind kind,
                                 std::optional<Force> breaking_strength = std::nullopt,
                                 std::optional<Force> slip = std::nullopt);

/// Wire and boat when a ball hangs up under way. For the report: stretch saves nothing.
struct SnagRide {
  LinearStiffness wire;      ///< EA / L with EA = T_break / strain at break
  LinearStiffness series;    ///< wire, boom, roll and heave together
  Energy to_break;           ///< taken up by the series until the wire breaks
  Energy of_boat;            ///< 1/2 (1.1 m) v^2
  Force peak_unbroken;       ///< v sqrt(k (1.1 m)): what an unbreakable wire would see
  bool wire_breaks = false;  ///< the boat carries more energy than it takes
};

/// What stands between the wire and the moving boat.
struct SnagSupport {
  LinearStiffness boom{};  ///< at the tip, 0: rigid
  Length off_middle{};     ///< tip from the middle line
  Mass boat{};
  Length gm{};        ///< 0: no roll counted
  Area waterplane{};  ///< 0: no heave counted
};

/// Strain at break: 1x7 strand 1.2 to 2 %, 7x7 2 to 2.5 %, braid 4 to 5 %. The low end makes the
/// stiffest wire: the highest peak and the least energy to break it.
/// Source:   from memory and judgement. Throws InternalError for an unknown kind.
[[nodiscard]] double strain_at_break(WireKind kind, bool high = false);

/// The ride with the stiffness of the wire by the low end of `strain_at_break`.
/// Source:   snatch v sqrt(K (M + A)) is the form of an offshore lifting practice (from memory);
///           added mass 10 % and the stiffness rule are judgement.
/// Valid:    stretch in series, no damping, no thrust.
/// Accuracy: judgement, on the high side for the peak.
/// Throws DomainError unless length, speed, strength and boat are above zero and the rest is not
/// below it.
[[nodiscard]] SnagRide snag_ride(WireKind kind, Force breaking_strength, Length wire_out,
                                 Speed speed, const SnagSupport& support);

/// The same for a wire of known stiffness EA / L. Source, Valid, Throws: as above.
[[nodiscard]] SnagRide snag_ride(LinearStiffness wire, Force breaking_strength, Speed speed,
                                 const SnagSupport& support);

// ---- Waves on the towed ball
// ---------------------------------------------------------------------

/// c = (1 + r/2)/(1 - r), r = rho_water / rho_ball: (mass + added mass) g / weight in water.
/// Source: added mass of a sphere is half the water it displaces (potential flow). Accuracy: exact.
/// Throws DomainError unless the ball sinks.
[[nodiscard]] double wave_coefficient(Density ball_density, Density water);

struct WavePull {
  Force greatest;           ///< W (1 + c a/g)
  Force least;              ///< W (1 - c a/g), zero when slack
  Acceleration slack_from;  ///< g/c: the wire goes slack above it and a snatch follows
  bool slack = false;
};

/// Pull of a ball on a short wire whose upper end heaves with acceleration amplitude a.
/// Source: Newton, derived. Valid: drag left out, wire stiff against the motion.
/// Throws DomainError unless the ball sinks and a >= 0.
[[nodiscard]] WavePull wave_pull(Mass ball, Density ball_density, Density water, Acceleration a);

/// Snatch after a slack wire or a clamped brake: W + v sqrt(k m), m with added mass.
/// Source: energy of a mass on a spring, derived. Valid: short wire, stiffness k of boom and wire.
/// Accuracy: upper end, no damping.
/// Throws DomainError unless the ball sinks, v >= 0 and k > 0.
[[nodiscard]] Force snatch_pull(Mass ball, Density ball_density, Density water, Speed v,
                                LinearStiffness k);

}  // namespace thole
