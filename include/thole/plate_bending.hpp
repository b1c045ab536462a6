#pragma once

/// Elastic bending of a flat sheet, as of a panel under a base: small deflections, no membrane
/// help.
///
/// A sheet that has dished by half its thickness or more is stiffer and less stressed than here.

#include <thole/quantities.hpp>

namespace thole {

enum class SheetEdge {
  supported,  ///< rests along its edge, free to turn
  held,       ///< cannot turn: a welded or deep stiffener all round
};

struct Sheet {
  Length thickness;
  Stress modulus;
  double poisson = 0.33;  ///< aluminium; steel 0.3
};

struct SheetBending {
  Stress stress;      ///< highest bending stress at the surface
  Length deflection;  ///< at the middle or the boss
};

/// Rectangular sheet supported on all edges, uniform pressure; sides in any order.
/// Source:   Levy's series (Timoshenko & Woinowsky-Krieger, Theory of Plates and Shells, from
///           memory); Roark's Formulas, 7th ed., Table 11.4 case 1a (page seen) within 0.5 %.
/// Valid:    deflection below half the thickness. Accuracy: the series summed to rounding.
/// Throws DomainError unless sides, thickness and modulus are above zero.
[[nodiscard]] SheetBending pressed_sheet(const Sheet& sheet, Length a, Length b, Stress pressure);

/// Rectangular sheet supported on all edges, a load in its middle over a circle of radius `radius`:
///
///     6/t^2 P/(4 pi) [(1 + nu) ln(2 b / (pi r')) + beta]
///
/// with b the shorter side and r' = sqrt(1.6 r^2 + t^2) - 0.675 t where r < t/2, else r. The
/// deflection is that of a point load, on the high side.
/// Source:   Timoshenko & Woinowsky-Krieger (from memory), beta summed here and equal to the table
///           of Roark's Formulas, 7th ed., Table 11.4 case 1b (stress from memory, deflection
///           seen); r' of Westergaard (from memory).
/// Valid:    r' below a quarter of the shorter side. A stiff boss that does not bend with the sheet
///           stresses it more at its rim: see `pulled_boss`. Accuracy: 0.2 % (deflection as
///           printed).
/// Throws DomainError as `pressed_sheet`, and unless the circle lies within the sheet.
[[nodiscard]] SheetBending middle_load(const Sheet& sheet, Length a, Length b, Force load,
                                       Length radius);

struct BossTurn {
  Stress stress;  ///< highest radial bending stress, at the rim of the boss
  Angle turn;     ///< of the boss
};

/// Sheet with a rigid boss of radius `boss` turned by a couple inside an edge circle of radius
/// `edge`: stress beta M/(a t^2), turn alpha M/(E t^3).
/// Source:   closed form of w = (c1 r + c2 r^3 + c3/r + c4 r ln r) cos, re-derived; Roark's
/// Formulas,
///           7th ed., Table 11.2 cases 20 and 21 (from memory) within 0.3 %.
/// Valid:    a square sheet of side s and a stiff pad with radius s/2 and the pad's
///           `equal_area_radius`, up to a pad of 0.3 s: finite elements turn 0.4 to 5.5 % less.
///           A longer sheet is stressed more, an endless one by 3 M/(pi boss t^2): use that bound
///           where the shape is far from square.
/// Accuracy: closed form; stress at a square pad's corners is higher by an unknown share.
/// Throws DomainError unless 0 < boss < edge, thickness and modulus above zero.
[[nodiscard]] BossTurn turned_boss(const Sheet& sheet, Length boss, Length edge, Moment couple,
                                   SheetEdge at_edge);

/// Sheet with a rigid boss pulled or pressed square to it inside an edge circle.
/// Source:   ring plate with both rims guided, elementary (Timoshenko & Woinowsky-Krieger, ch. 3);
///           integration constants re-derived, checked against a numerical solution and a beam.
/// Valid:    as `turned_boss`. Accuracy: closed form.
/// Throws DomainError as `turned_boss`.
[[nodiscard]] SheetBending pulled_boss(const Sheet& sheet, Length boss, Length edge, Force pull,
                                       SheetEdge at_edge);

/// Radius of the circle with the area of a pad x by y. Throws DomainError unless both are above 0.
[[nodiscard]] Length equal_area_radius(Length x, Length y);

}  // namespace thole
