#pragma once

/// Geometry of screw threads: the areas that decide tension and stripping.

#include <thole/material.hpp>

namespace thole {

/// A spaced thread of a self-tapping screw; else a machine thread.
[[nodiscard]] inline bool is_spaced(const Thread& thread) { return thread.root.value() > 0; }

/// Tensile stress area At = pi/4 (D - 0.9743 P)^2 of Unified threads,
/// pi/4 (d - 0.9382 P)^2 of ISO threads; of spaced threads the area of their least minor diameter.
/// Source:   ASME B1.1; ISO 898-1 (A_s,nom from d2 and d3 of ISO 724).
/// Valid:    every 60 degree thread.
/// Accuracy: closed form; within the printed digits of both standards' tables.
[[nodiscard]] Area tensile_stress_area(const Thread& thread);

/// Root area pi/4 (D - 1.191 P)^2 of Unified, pi/4 (d - 1.22687 P)^2 of ISO threads, used for the
/// shear and tension of bolts in aluminium.
/// Source:   Aluminum Design Manual 2020, root area of bolts; ISO 898-1 A3 for ISO threads.
/// Valid:    Unified and ISO threads.
/// Accuracy: reproduces the manual's 7075-T73 bolt loads to 0.2 %.
[[nodiscard]] Area root_area(const Thread& thread);

/// Shear area of the internal thread per unit length of full engagement,
///     ASn = pi n Ds,min [1/(2n) + (Ds,min - En,max)/sqrt 3],
/// at the minimum material of both threads.
/// Source:   FED-STD-H28/2, ASME B1.1 appendix; form seen in the errata of AAMA TIR-A9-14.
/// Valid:    engagements of at least 1/4 in (6.35 mm); below, see `thin_wall_pull_out`.
/// Accuracy: closed form. Shortcut formulas overstate it by 9 to 28 %.
[[nodiscard]] Length internal_strip_area_per_length(const Thread& thread);

/// Shear area of the external thread per unit length,
///     ASs = pi n Kn,max [1/(2n) + (Es,min - Kn,max)/sqrt 3].
/// Source, Valid, Accuracy: as `internal_strip_area_per_length`.
[[nodiscard]] Length external_strip_area_per_length(const Thread& thread);

/// Shear area per unit length of the metal round a coil insert: that of the screw's own internal
/// thread, larger by the tapped hole of the coil, whose major diameter is D + 1.2990 P.
/// Source:   hole of ASME B18.29.1 from memory. No limits of it are in hand: those of the screw's
///           own thread stand for them, in proportion (judgement).
/// Valid:    coil inserts, as `internal_strip_area_per_length`.
/// Accuracy: 26 % above the own thread for 1/4-20; above what makers count, see
///           `coil_insert_pull_out`.
[[nodiscard]] Length insert_strip_area_per_length(const Thread& thread);

/// Number of full threads in a hole of the given depth, less the share lost to a countersink.
[[nodiscard]] double threads_engaged(const Thread& thread, Length depth);

/// Limits of size of a Unified 2A/2B thread.
struct UnifiedLimits {
  Length external_major_min;
  Length external_pitch_min;
  Length internal_minor_max;
  Length internal_pitch_max;
};

/// Class 2A/2B limits by the tolerance formulas with LE = D (UNC, UNF).
/// Source:   ASME B1.1 tolerance formulas, from memory; reproduce its 2B table.
/// Valid:    diameters 0.06 to 1 in.
/// Accuracy: 0.0001 in on pitch and major diameters, 0.001 in on the rounded minor diameter.
[[nodiscard]] UnifiedLimits unified_2a_2b_limits(Length diameter, Length pitch);

}  // namespace thole
