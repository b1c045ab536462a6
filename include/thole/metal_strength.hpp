#pragma once

/// Strengths of metal walls and plates at fasteners: formulas only, no safety factor inside.

#include <string_view>

#include <thole/material.hpp>
#include <thole/thread.hpp>

namespace thole {

/// Which expression governed, for the report.
enum class PullOutRange {
  below_one_thread,  ///< structural use is refused
  one_to_two,        ///< between the tests at one thread and the manual's formula
  short_engagement,  ///< range 1 of the manual: dished sheet, yield strength
  transition,        ///< range 2
  full_threads,      ///< range 3: thread strip area, also bounded by FED-STD-H28 areas
};

struct PullOut {
  Force strength;  ///< after the 0.9
  PullOutRange range = PullOutRange::short_engagement;
  double threads = 0;         ///< Le / P
  Force manual;               ///< Aluminum Design Manual form alone, without reductions
  bool extrapolated = false;  ///< diameter outside 0.164 to 0.25 in or Le above 0.375 in
  bool below_scope = false;   ///< Le below 0.060 in: the formula does not reach it
};

/// Pull-out of a machine screw from threads tapped in a round hole through a thin aluminium wall.
///
///     Le <= 0.125 in          Ks D Le Fty, Ks = 1.01 below 0.080 in, else 1.20
///     0.125 < Le < 0.25 in    1.2 D Fty (0.25 in - Le) + 1.16 ASn Ftu (Le - 0.125 in)
///     0.25 in <= Le           0.58 ASn Le Ftu, and not above the FED-STD-H28 areas of both threads
///
/// below two threads reduced toward 0.65 D t Ftu at one thread (0.45 D t Ftu under one); all of it
/// times 0.9, so that no published average of the tests in tests/ lies below it up to 1/8 in.
///
/// Source:   Aluminum Design Manual 2020, J.5.4.1 (range 1 and its limits seen in the 2020 worked
///           example 30; ranges 2 and 3 for tapped threads from memory); EN 1993-1-3 Table 8.2
///           for the 0.65 (seen) and 0.45 (from memory); 0.9 and the blend are judgement.
/// Valid:    0.060 <= Le <= 0.375 in, 0.164 <= D <= 0.25 in, a closed round hole. Not a screw
///           channel of an extrusion, where it is unconservative.
/// Accuracy: test averages lie at 1.03 to 1.9 of it; single tests scatter by 1.2 to 1.4.
/// `screw_shear`: shear strength of the screw metal, for the strip of its own thread.
/// Throws DomainError unless Le > 0.
[[nodiscard]] PullOut thin_wall_pull_out(const Thread& thread, Length engagement, const Metal& wall,
                                         Stress screw_shear);

/// The manual's expression alone for machine-screw threads (no blend, no 0.9).
/// Source, Valid: as above. Accuracy: overstates by up to 40 % at one thread.
[[nodiscard]] Force manual_pull_out_tapped(Length diameter, Length strip_area_per_length,
                                           Length engagement, const Metal& wall);

/// The manual's expression for spaced (tapping) threads, n = 1/pitch:
///     Le <= 2P: Ks D Le Fty;  2P..4P: 1.2 D Fty (4P - Le) + 3.26 D Ftu (Le - 2P);  1.63 D Le Ftu
/// Source:   AAMA TIR-A9-1991 / Aluminum Design Manual; 95 published values reproduced elsewhere.
/// Valid:    0.038 in <= Le <= 0.375 in.
/// Accuracy: overstates by up to 56 % below 1.5 threads (published tests).
[[nodiscard]] Force manual_pull_out_spaced(Length diameter, Length pitch, Length engagement,
                                           const Metal& wall);

/// Pull-out of a screw with a spaced thread from a thin aluminium wall: `manual_pull_out_spaced`,
/// below two threads reduced as in `thin_wall_pull_out`, all of it times 0.9.
/// Source:   as both; 0.9 and the blend are judgement.
/// Valid:    0.038 <= Le <= 0.375 in, 0.164 <= D <= 0.25 in, the hole that the screw's maker asks
///           for, drilled or made by its point.
/// Accuracy: the averages of 15 published tests of such screws lie at 1.03 to 1.7 of it; makers
///           differ by 1.2 to 1.4.
/// Throws DomainError unless Le > 0.
[[nodiscard]] PullOut spaced_pull_out(const Thread& thread, Length engagement, const Metal& wall);

/// Pull-out of a coil insert from tapped metal: the lower of 0.9 x `insert_strip_area_per_length`
/// and 2.95 At/D per length, times its length and the shear strength of the metal; below 1/4 in of
/// metal not above the screw tapped into it without an insert.
/// Source:   a maker's chart of the length of wire inserts that lets the screw break first, 390 to
///           1370 MPa in metal of 70 to 350 MPa shear strength (page seen): 1 D holds 2.95 and less
///           than 3.16 At times the shear strength; the lower end is taken. 0.9 as for tapped
///           threads, and the rule below 1/4 in: judgement.
/// Valid:    metal at least as thick as the insert is long.
/// Accuracy: the low end of the chart, whose own margin is not known.
[[nodiscard]] Force coil_insert_pull_out(const Thread& thread, Length length, Length metal_depth,
                                         const Metal& metal, Stress screw_shear);

/// Side load at which a screw in a thin sheet tilts and tears it: 4.2 sqrt(t^3 D) Ftu.
/// Source:   Aluminum Design Manual 2020, J.5.5.2 (example 30 reproduced; exponent from it).
/// Valid:    the sheet that holds the threads, no nut behind. Accuracy: code value, factor 3.0.
[[nodiscard]] Force tilting(Length diameter, Length sheet, const Metal& metal);

/// Shear of full-length threads, strip area x length x shear strength.
/// Source:   FED-STD-H28/2, NASA TM-106943. Valid: engagement of 1/4 in (6.35 mm) and more.
/// Accuracy: tests at 0.97 to 1.2 of it from 1/4 in; 0.77 at 3/32 in, hence the limit.
[[nodiscard]] Force thread_strip(Length strip_area_per_length, Length engagement, Stress shear);

struct PullOver {
  Force strength;    ///< the lower of the editions
  Force older_form;  ///< t Ftu (Dw - Dh), coefficient 1.0
  Force newer_form;  ///< (1.0 + 1.7 t/Dw) Dw t Fty; 1.85 Dw t Fty above t/Dw = 0.5
};

/// Pull-over of a sheet over a head, nut or washer of diameter `dw` (5/8 in at most counts).
/// Source:   Aluminum Design Manual 2005/2010 and worked example 30 of 2020 (first form), 2015
///           (second form); the lower governs until the 2020 clause is in hand.
/// Valid:    dw of 5/16 in and more, hole smaller than dw.
/// Accuracy: the second form reproduces 27 published values within 0.7 %.
/// Halve it under wave and towing cycles (EN 1993-1-3 Table 8.2, repeated wind load).
[[nodiscard]] PullOver pull_over(Length sheet, Length dw, Length hole, const Metal& metal);

/// Bearing of a bolt or screw on a wall: min(de t Ftu, 2 D t Ftu), de = centre to edge along the
/// load. Source: Aluminum Design Manual 2020, J.4.6 and example 30 (reproduced). Valid: de >= 1.5
/// D. Accuracy: code value.
[[nodiscard]] Force bearing(Length diameter, Length thickness, Length edge, const Metal& metal);

/// Shear tear-out to a free edge: Fsu 2 t (e - D/2).
/// Source: NASA TM-106943 Eq. 69-70 (page seen). Valid: e > D/2. Accuracy: lower bound in practice.
[[nodiscard]] Force tear_out(Length diameter, Length thickness, Length edge, const Metal& metal);

/// Strength of a part across a row of holes: both limits, each to be divided by its own factor.
struct NetSection {
  Force yields;    ///< Fty on the whole width
  Force ruptures;  ///< Ftu on the width less the holes
};
/// Source:   Aluminum Design Manual, chapter D (from memory), tension coefficient kt = 1 of the
///           alloys here; a brittle alloy has 1.25.
/// Valid:    pull along the part and through its middle, holes in one line across it, away from
///           welds. Accuracy: code value. Nothing is left where the holes are as wide as the part.
/// Throws DomainError for a negative number of holes.
[[nodiscard]] NetSection net_section(Length width, Length thickness, int holes, Length hole,
                                     const Metal& metal);

/// Areas on which a corner or a middle piece of a plate tears out with all its fasteners.
struct BlockAreas {
  Area gross_shear;  ///< along the pull
  Area net_shear;    ///< the same less the holes
  Area gross_tension;
  Area net_tension;
};
/// Block shear: Fsy Agv + Ftu Ant where Ftu Ant >= Fsu Anv, else Fsu Anv + Fty Agt, with Fsy =
/// Fty / sqrt 3; never above Fsu Anv + Ftu Ant.
/// Source:   Aluminum Design Manual 2020, J.7.3 (clause seen named, expressions from memory); the
///           upper limit is that of AISC 360 J4.3 (from memory), where the lower governs.
/// Valid:    pull in the plane of the plate, spread evenly over the fasteners.
/// Accuracy: code value. It steps where one form takes over from the other.
/// Throws DomainError for areas below zero or net above gross.
[[nodiscard]] Force block_shear(const BlockAreas& areas, const Metal& metal);

/// Plastic moment per width, Fty t^2 / 4.
/// Source: Aluminum Design Manual 2020 F.2 (lesser of Z Fty and 1.5 S Fty, equal for a plate).
[[nodiscard]] MomentPerWidth plate_moment(Length thickness, const Metal& metal);

/// Yield lines in a fan round a stiff boss of radius r inside a support circle of radius R:
/// 4 pi Mp / (1 - r/R) held at the edges, 2 pi Mp / (1 - r/R) resting there.
/// Source:   yield lines in a fan; Timoshenko & Woinowsky-Krieger point-load limits, from memory.
/// Valid:    0 <= r < R; dents round the boss are not seen.
/// Accuracy: resting edges: exact for a metal that yields by the greatest shear stress (Tresca), so
///           on the low side. Held edges: above what metal stands, by 12 to 20 % in a round sheet
///           and up to 45 % in a flat between two bends: there `held_pull`.
/// Throws DomainError unless 0 <= r < R.
[[nodiscard]] Force fan_pull(MomentPerWidth mp, Length boss, Length support, bool edges_held);

/// Pull that yields a wall held along two lines at distances a and c from the middle of a stiff
/// boss of radius r: half of k Mp / (1 - r/R) for each, k = 9.9, or 8 + 20 r/R where that is less,
/// and falling from r/R = 0.5 on by 4.75 (r/R - 0.5); r/R counts up to 0.6.
/// Source:   own finite elements for the limit load (constant moments, von Mises: below the true
///           load by kind) of a flat between two held lines: 11.0, 14.1, 20.5, 29.9 Mp at r/R =
///           0.1, 0.25, 0.5, 0.7 of both; 13.1, 13.5, 15.9, 18.5 Mp at r/a = 0.29, 0.3, 0.5, 0.7
///           and r/c = 0.08, 0.15, 0.17, 0.18. Small bosses: moments in balance that nowhere pass
///           Tresca's yield, in a round sheet held at its edge: 2 pi q Mp, (q - 1) ln((R/r)(q -
///           1)/q) = 1 (after Hopkins & Prager 1953, from memory; worked out anew), 8.3 to 9.6 at
///           0.01 to 0.05.
/// Valid:    0.001 R < r < R. Accuracy: 0.93 to 1.01 of these values up to r/R = 0.6, below the
///           true load.
/// Throws DomainError unless 0 <= r < a and r < c.
[[nodiscard]] Force held_pull(MomentPerWidth mp, Length boss, Length a, Length c);

/// Pull on a row of length `row` that yields the wall strip between two supports at distances a, c:
/// what it takes at both ends of the row together, and straight hinge lines along it, 2 Mp row
/// (1/(a-b) + 1/(c-b)) held, half of it resting. b: half the width of a stiff piece that ties the
/// whole row, 0 for fasteners by themselves. Resting ends are taken against the farther support.
/// Source:   ends: `held_pull`, resting `fan_pull`; between: a strip that bends one way.
/// Valid:    boss < a and c, b < a and c. Accuracy: low side; by von Mises a strip takes 15 % more.
struct PulledRow {
  Length boss;  ///< of one fastener
  Length tied;  ///< b
  Length row;
  Length a, c;
};
[[nodiscard]] Force row_pull(MomentPerWidth mp, const PulledRow& row, bool edges_held);

/// Root moment of a long cantilever lip per width, opposite a load P at c from the root of a lip of
/// width a: m = P x `lip_root_moment(c/a)`.
/// Source:   Jaramillo 1950 / Timoshenko & Woinowsky-Krieger (0.509 at c = a, from memory; 1/pi for
///           c -> 0); own Fourier solution between, nu = 0.33.
/// Valid:    0 < c/a <= 1, loads away from the lip's ends. Accuracy: 1 %, high side.
[[nodiscard]] double lip_root_moment(double load_position);

/// By how much the tension of the most loaded fastener grows because the base bends.
///
///     1 + 0.12 (b/l)^5.5, l = (4 D / kf)^(1/4), at most the prying bound 1 + b'/a'
///
/// with b from the foot of the body to the fastener line, D the plate rigidity.
/// Source:   fitted to three solid-model runs of a 76 mm aluminium base with 9.5 mm bolts (+0.7 %,
///           +2.3 %, +12 % at 1/4, 3/16, 1/8 in; independent finite elements); bound by the statics
///           of prying (Thornton 1985, page seen) with b' = b - d/2, a' = min(a, 1.25 b) + d/2.
/// Valid:    b/l up to 1; above it the bound takes over. Accuracy: judgement, on the high side.
struct BaseFlex {
  double factor = 1;
  bool at_bound = false;
};
[[nodiscard]] BaseFlex flexible_base_factor(Length thickness, Stress modulus, Length body_to_line,
                                            Length line_to_edge, Length bolt_diameter,
                                            BedStiffness bed);
/// The bound alone, for a base whose stiffness is unknown.
[[nodiscard]] double prying_bound(Length body_to_line, Length line_to_edge, Length bolt_diameter);

/// Leg of an angle or flange pulled by a bolt through it, per bolt.
struct PryingLeg {
  Length thickness;
  Length bolt_to_face;  ///< b: bolt line to the face of the standing leg
  Length bolt_to_edge;  ///< a: bolt line to the free edge; counts up to 1.25 b
  Length bolt;          ///< diameter
  Length hole;
  Length tributary;  ///< p: width that goes with one bolt, at most 2 b and the spacing
};
struct Prying {
  Length rigid_thickness;   ///< tc: from here on the whole bolt can be used, without prying
  double alpha_wanted = 0;  ///< alpha': outside 0 to 1 the bolt or the leg governs alone
  double alpha = 0;         ///< bending at the bolt line / bending strength there
  Force pull;               ///< T that the leg and the bolt carry
  Force prying;             ///< q that comes on top in the bolt
};
/// Pull that a leg and a bolt of strength B carry together, and the prying force at that pull:
///
///     tc = sqrt(Omega 4 B b' / (p Fty)), alpha' = ((tc/t)^2 - 1) / (delta (1 + rho))
///     T = B; B (t/tc)^2 (1 + delta alpha'); B (t/tc)^2 (1 + delta) for alpha' < 0, up to 1, above
///     q = B delta alpha rho (t/tc)^2, alpha = ((T/B) (tc/t)^2 - 1) / delta in 0 to 1
///
/// with b' = b - d/2, a' = min(a, 1.25 b) + d/2, rho = b'/a', delta = 1 - hole/p.
/// `omega` divides the yield moment of the leg: 1.65 beside an allowable B, 1 beside a strength.
/// Source:   AISC Manual part 9 (from memory); model and equilibrium by Thornton 1985 (seen). The
///           older form with 8 in place of 4 Omega is omega = 2.
/// Valid:    a leg of ductile metal that can yield at the bolt line; Fty, not the newer Ftu form,
///           which counts on the hardening of steel. Accuracy: a lower bound of the statics.
/// Throws DomainError unless thickness, a', b' and B are above zero and the hole is below p.
[[nodiscard]] Prying prying_of(const PryingLeg& leg, const Metal& metal, Force bolt, double omega);
/// Prying force that a pull of T per bolt calls up in the same leg. Above the bending strength of
/// the leg (alpha = 1) it is that of the full strength, and no balance: `prying_of` says so by T.
/// Source, Valid, Accuracy: as `prying_of`.
[[nodiscard]] Force prying_under(const PryingLeg& leg, const Metal& metal, Force pull,
                                 double omega);

}  // namespace thole
