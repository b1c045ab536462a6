#pragma once

/// Cross-sections of boards, tubes and channels: bending, Saint-Venant torsion and warping; and the
/// bending of the leg of an angle. Geometry only, no strength and no safety factor inside.
///
/// Axes: y forward (horizontal), z up. The origin is the middle of the board's rectangle; for tubes
/// and channels it is the middle of the bounding box. One isotropic material.
///
/// Sectorial coordinate: a twist phi (turning y toward z) moves a point along the axis by
/// -phi' omega, so that the warping stress is -E omega phi'' = B omega / Gamma with the bimoment
/// B = -E Gamma phi''. It is about the shear centre, with zero mean.

#include <vector>

#include <thole/quantities.hpp>

namespace thole {

/// A place where the normal stress of bending and warping may peak.
struct SectionPoint {
  Length y;
  Length z;
  Area sectorial;  ///< omega there
  /// Largest |omega| close by, with the sign of `sectorial`: for checks, to be added to the bending
  /// stress of this point. In a board it lies on the wide face, 0.17 thicknesses from the edge.
  Area sectorial_peak;
};

struct Section {
  Area area;
  SecondMoment bending_flat;      ///< integral z^2 about the centroid: vertical loads
  SecondMoment bending_edge;      ///< integral y^2 about the centroid: loads along y
  SecondMoment bending_product;   ///< integral y z about the centroid: not zero for an offset strip
  SecondMoment torsion;           ///< J
  WarpingConstant warping;        ///< Gamma about the shear centre; zero for closed tubes
  double shear_area_y = 5.0 / 6;  ///< shear area / area, loads along y
  double shear_area_z = 5.0 / 6;  ///< shear area / area, loads along z
  Length centroid_y;
  Length centroid_z;
  Length shear_centre_y;
  Length shear_centre_z;
  bool closed = false;               ///< a tube: Saint-Venant torsion is enough
  bool rough_torsion = false;        ///< a strip so wide that J is far low and Gamma far high
  std::vector<SectionPoint> points;  ///< corners; four for a rectangle and for tubes
  Volume torsion_modulus;            ///< T / tau_max
  double narrow_side = 1;            ///< tau at the middle of the narrow side / tau_max
  Length width;                      ///< overall size along y
  Length depth;                      ///< overall size along z
  Length thickness;                  ///< of the board (its smaller side) or of the wall
};

/// Torsion of a rectangle with sides a >= b, as functions of a/b.
///
///     J = k1 a b^3,  tau_max = T / (k2 a b^2) at the middle of the long side,
///     k1 = (1/3) [1 - (192/pi^5) (b/a) sum tanh(n pi a/2b) / n^5],  n odd,
///     k1/k2 = 1 - (8/pi^2) sum 1 / (n^2 cosh(n pi a/2b))
///
/// Source:   Saint-Venant; Timoshenko & Goodier, Theory of Elasticity, sec. 109 (from memory).
/// Valid:    a/b from 1 to 1e6, isotropic; else DomainError.
/// Accuracy: exact; summed to 1e-12.
[[nodiscard]] double torsion_k1(double ratio);
[[nodiscard]] double torsion_k2(double ratio);
/// Shear stress at the middle of the short side / tau_max.
/// Source: the same stress function. Valid, Accuracy: as above.
[[nodiscard]] double torsion_gamma(double ratio);
/// Gamma / (a^3 b^3 / 144) from the warping function
///     omega = y z - (8 b^2/pi^3) sum (-1)^((n-1)/2) sin(n pi z/b) sinh(n pi y/b)
///                                / (n^3 cosh(n pi a/2b)),   Gamma = integral omega^2.
/// Source: the same; integrated here. Valid, Accuracy: as above.
[[nodiscard]] double warping_ratio(double ratio);
/// omega at the corner / (a b / 4). Source, Valid, Accuracy: as above. Zero for a square.
[[nodiscard]] double warping_corner(double ratio);
/// Largest omega / (a b / 4): on the long side, 0.17 b from the corner of a long rectangle.
/// Source, Valid, Accuracy: as above.
[[nodiscard]] double warping_peak(double ratio);

/// A board, width along y and thickness along z; on edge the thickness is the larger one.
/// Source:   functions above; shear area 5/6 (Timoshenko).
/// Valid:    sides above zero, ratio up to 1e6; else DomainError.
/// Accuracy: exact for an isotropic board; grain changes the torsion by about 2 %.
[[nodiscard]] Section rectangle(Length width, Length thickness);

/// A rectangular tube, outside width along y and outside depth along z, corners mitred.
///
///     J = 4 Am^2 t / p, torsion modulus 2 Am t (Am, p: area inside and length of the centre line)
///
/// Source:   Bredt; shear areas by the energy of the shear flow (5/12 for a square tube).
/// Valid:    2 x wall < smaller outside size; else DomainError. Rounded outside corners take up to
///           a few per cent off the area: then give the smaller wall.
/// Accuracy: J 1 to 3 % low for walls up to a tenth of the side; warping of the tube neglected.
[[nodiscard]] Section rectangular_tube(Length width, Length depth, Length wall);

/// A round tube.
/// Source:   Saint-Venant (exact); shear area by Cowper 1966 with nu = 0 (from memory).
/// Valid:    2 x wall < diameter; else DomainError.
/// Accuracy: exact.
[[nodiscard]] Section round_tube(Length outside_diameter, Length wall);

/// Which way the flanges of a channel point.
enum class Flanges { forward, up, aft, down };

/// A channel of one thickness; `depth` over the flanges, `flange` over the web.
///
///     h = depth - t, b = flange - t/2:  J = (h + 2 b) t^3 / 3, tau_max = T t / J,
///     shear centre 3 b^2 / (6 b + h) behind the web, Gamma = t b^3 h^2 (3b + 2h) / (12 (6b + h))
///
/// Source:   Roark; Timoshenko & Gere (thin walls, centre lines; from memory). Shear areas by the
///           energy of the shear flow.
/// Valid:    2 x thickness < depth, thickness < flange; else DomainError. `sectorial_peak` adds the
///           warping across the thickness. The peak of shear in the inner corners is not included.
/// Accuracy: thin wall: a few per cent at a thickness of a tenth of the flange.
[[nodiscard]] Section channel(Length depth, Length flange, Length thickness, Flanges flanges);

/// A board with a strip of the same material glued and bolted below it, its middle at
/// `strip_offset_y`. Both are rectangles whose warping joins at the middle of the contact.
///
///     J = sum of k1 a b^3;  shear centre where integral omega y = integral omega z = 0;
///     Gamma = sum of Gamma_i + (zs - z_i)^2 Iz_i + (ys - y_i)^2 Iy_i + c_i^2 A_i
///
/// For a strip in the middle zs = sum(Iz_i z_i) / sum Iz_i.
/// Source:   this project, from Vlasov's theory; compared with independent finite elements.
/// Valid:    strip within the width of the board; else DomainError. Glued all along: a strip that
/// is
///           only bolted works less. A strip wider than the board is thick, or than its own depth,
///           sets `rough_torsion`.
/// Accuracy: J 5 to 20 % low (the joint itself is left out), Gamma 1 to 9 % high, shear centre
///           within 3 mm for a 184 x 38 mm board; `sectorial_peak` carries 5 % more for that.
///           Rough: a strip of 88 x 38 mm gave 0.46 of J and 2.3 of Gamma.
[[nodiscard]] Section plank_with_strip(Length width, Length thickness, Length strip_width,
                                       Length strip_depth, Length strip_offset_y);

/// Warping length sqrt(E Gamma / G J): the distance over which held warping dies away.
/// Source: Vlasov. Valid: moduli above zero; else DomainError. Accuracy: exact.
[[nodiscard]] Length warping_length(const Section& section, Stress modulus, Stress shear_modulus);

/// Largest root moment per width of the leg of an angle (a cantilever plate of width a) under a
/// point load P: m = P x result. Lengths are over a: `load_position` from the root,
/// `end_distance` and `other_end_distance` from the two ends of the angle.
/// Source:   independent finite elements (conforming bicubic plate, nu = 0.33), far from the ends
///           the Fourier solution of `lip_root_moment` (Jaramillo 1950).
/// Valid:    0 < load_position <= 1, distances >= 0, not both zero; else DomainError. A load nearer
///           to the root than a quarter counts as at a quarter.
/// Accuracy: high side, mostly 0 to 5 % away from the ends; up to 10 % where both ends are near.
inline constexpr double no_end = 1e9;
[[nodiscard]] double ledge_leg_root_moment(double load_position, double end_distance = no_end,
                                           double other_end_distance = no_end);

/// The same for P spread evenly along a line of the given length (over a), whose ends are the given
/// distances from the ends of the angle. The smaller of
///     the Fourier solution of the long leg x the end effect on a point load a quarter of the
///     line's length inside x 1.05 (1.00 where the ends are 2.5 a away), and the load continued
///     over the whole leg, c/L (1.045 + 0.21 exp(-leg length / a)).
/// Source:   Fourier series in the strip; end effect fitted to the finite elements above.
/// Valid:    as above, length >= 0.
/// Accuracy: high side, 0 to 25 %; 0.7 % for a line of 3.7 a over an angle as long.
[[nodiscard]] double ledge_leg_line_moment(double load_position, double length,
                                           double end_distance = no_end,
                                           double other_end_distance = no_end);

}  // namespace thole
