#pragma once

/// Strengths of wooden planks, legs and their fastenings.
///
/// Nominal strengths only, no required factor inside: for NDS grades N = KF Fref CM CF Cfu Ci ...
/// without load duration, time effect and resistance factors; for EN 338 classes the
/// characteristic value. Both are short-term strengths near a 5th percentile, except connections
/// and the dent limit across the grain, which are near a mean. Wood factors never touch a metal
/// part. Clauses are those of the NDS 2018.
///
/// Valid everywhere: sound wood without decay, splits or hidden knots at the fastener. A piece that
/// was ripped has lost its grade.

#include <string>
#include <string_view>
#include <vector>

#include <thole/material.hpp>

namespace thole {

// ---- Pieces
// --------------------------------------------------------------------------------------

struct WoodPiece {
  Length thickness;  ///< the smaller side of the section
  Length width;
  bool wet = true;  ///< above 19 % moisture in service: every open boat
  bool incised = false;
};

/// Nominal strengths of one piece.
struct WoodStrength {
  Stress bending_on_edge;  ///< load on the narrow face, before beam stability
  Stress bending_flat;     ///< load on the wide face
  Stress edge_stress;      ///< bending stress at an edge from warping: no flat-use bonus
  Stress tension;          ///< along the grain
  Stress shear;            ///< along the grain; also in torsion
  Stress bearing;          ///< across the grain, dent limit, Cb = 1
  Stress crushing;         ///< across the grain, characteristic
  Stress compression;      ///< along the grain, before column stability
  Stress modulus;          ///< mean
  Stress modulus_min;      ///< for buckling, nominal
  Stress shear_modulus;
  double lateral = 0;  ///< KF CM: times a reference lateral value of a fastening
  friend bool operator==(const WoodStrength&, const WoodStrength&) = default;
};

/// Nominal strengths of a piece of a grade.
///
/// Source:   NDS 2018 4.3, Supplement Tables 4A and 4B, Table 4.3.1; EN 338 with EN 1995-1-1 Table
///           3.1 (wet 0.9/1.1 of the short strength) and the NDS wet factors of bearing and modulus
///           (judgement); crushing of NDS grades 0.54 Fc-perp, the 5th percentile of a mean with a
///           coefficient of variation of 28 % (Wood Handbook Table 5-6; judgement); G = E/16 (Wood
///           Handbook ch. 9).
///           The wet factor of bending is 1 up to Fb CF = 1150 psi and 0.85 above (compression: 750
///           psi and 0.80), so a slightly higher grade may be slightly weaker when wet.
/// Valid:    NDS tables: 1.5 to 3.5 in thick, 1.5 in wide and wider. Between two sizes of a table
///           the less favourable, sizes outside get its least favourable factor. Southern Pine no
///           wider than the size of its values, except above 12 in. EN 338 without depth factor.
/// Accuracy: code values; EN 338 pieces are never raised.
/// Throws DomainError unless 0 < thickness <= width and the grade covers the width.
[[nodiscard]] WoodStrength nominal_wood(const Wood& wood, const WoodPiece& piece,
                                        const MaterialLibrary& library);

/// Least modulus of a visual grade, E (1 - 1.645 x 0.25) 1.03/1.66.
/// Source: NDS Appendix D (from memory; reproduces the printed values to 10 ksi). Valid:
/// visually graded lumber. Accuracy: 10 ksi. Throws DomainError unless E > 0.
[[nodiscard]] Stress least_modulus(Stress modulus);

/// Strength after a load of `seconds`, over that after ten years.
/// Source:   Madison curve, 18.3 + 108.4 t^-0.04635 (from memory). Valid: 1 s to 10 years.
/// Accuracy: within 3 % of the load duration factors of NDS Table 2.3.2; at 50 years 0.95 where the
/// table has 0.9 for permanent loads. Throws DomainError unless seconds >= 1.
[[nodiscard]] double load_duration(double seconds);

/// Section modulus of a plank bent flat, less `holes` side by side.
/// Source: beam theory. Valid: holes through the thickness. Accuracy: exact for round holes in the
/// middle of the width; no stress raiser (as NDS 3.1.2). Throws DomainError when nothing is left.
[[nodiscard]] Volume net_modulus_flat(const WoodPiece& piece, Length hole, int holes = 1);
/// The same on edge, with one hole centred `offset` from mid-width; the smaller of both edges.
[[nodiscard]] Volume net_modulus_on_edge(const WoodPiece& piece, Length hole, Length offset);
/// Area less `holes` in one cross section. Source: NDS 3.1.2. Valid, Accuracy: as above.
[[nodiscard]] Area net_area(const WoodPiece& piece, Length hole, int holes = 1);

/// Torque at which a rectangle shears, shear x alpha x width x thickness^2.
/// Source:   Saint-Venant; torsional shear strength of solid wood = shear along the grain (Wood
///           Handbook ch. 5). EN 1995-1-1 6.1.8 would raise it by 1.24 for a 2x8: not taken.
/// Valid:    `alpha` of the rectangle, 0.208 (square) to 1/3; warping stress checked apart.
/// Accuracy: low side: tests give torsion the highest of five ways to measure shear.
/// Throws DomainError unless 0 < thickness <= width and 0.2 <= alpha <= 1/3.
[[nodiscard]] Moment torsion_strength(Stress shear, double alpha, Length thickness, Length width);

/// Strength at an angle to the grain, P Q / (P sin^2 + Q cos^2), P along, Q across the grain.
/// Source: NDS 3.10.3 (Hankinson). Valid: 0 to 90 degrees. Accuracy: code value.
/// Throws DomainError outside.
[[nodiscard]] Stress hankinson(Stress parallel, Stress perpendicular, Angle to_grain);

// ---- Bearing across the grain
// --------------------------------------------------------------------

/// Bearing area factor (lb + 3/8 in) / lb of a bearing `length` along the grain; 1 from 6 in on and
/// within 3 in of the end of the piece. A round washer counts with its diameter.
/// Source: NDS 3.10.4 (from memory). Valid, Accuracy: code value. Throws DomainError unless
/// length > 0.
[[nodiscard]] double bearing_area_factor(Length length, bool near_end = false);

/// Area of a washer less the hole in the wood or in the washer, whichever is larger.
/// Throws DomainError unless 0 <= hole < outside. Source: geometry. Valid: a stiff washer, at least
/// as thick as a third of its overhang (judgement). Accuracy: exact.
[[nodiscard]] Area washer_area(Length outside, Length hole);

/// Force at which a washer dents the wood by about 1 mm: bearing x Cb x area.
/// Source, Valid, Accuracy: as `bearing_area_factor` and `nominal_wood`; mean-based for NDS grades.
[[nodiscard]] Force washer_bearing(const WoodStrength& strength, Length outside, Length hole,
                                   bool near_end = false);

/// Force at which wood under a washer or a small plate is crushed, 3.0 fc90k x area.
/// Source: EN 1995-1-1 8.5.2(2). Valid: a washer or plate on a face, surrounded by wood on all
/// sides. Accuracy: characteristic value.
[[nodiscard]] Force crushing_strength(const WoodStrength& strength, Area contact);

// ---- Dowel-type fasteners
// ------------------------------------------------------------------------

enum class WoodFastenerKind { lag_screw, wood_screw };

struct WoodFastener {
  WoodFastenerKind kind = WoodFastenerKind::lag_screw;
  std::string name;
  Length diameter;       ///< nominal: bearing strength, withdrawal and distances
  Length root;           ///< yield equations
  Stress bending_yield;  ///< Fyb
  Length tip;            ///< length of the tapered tip
  Length head;           ///< diameter of the round or flat head of a wood screw; zero for lags
};

/// Lag screw by its size, "1/4" to "3/4".
/// Source: NDS Appendix L2 and Table I1. Valid: full-body lag screws of ordinary steel. Accuracy:
/// printed values. Throws UnknownName.
[[nodiscard]] WoodFastener lag_screw(std::string_view size);
/// Wood screw by its number, 6 to 20 (cut or rolled thread). Source: NDS Appendix L3 and Table I1.
/// Valid: steel. Accuracy: printed values. Throws UnknownName.
[[nodiscard]] WoodFastener wood_screw(int number);

/// Thread length of a screw of `length` under the head: lag min(6 in, length/2 + 1/2 in), of which
/// the tip does not hold in withdrawal; wood screw max(4 D, 2/3 length).
/// Source: NDS Appendix L2, L3. Valid: standard threads. Accuracy: nominal.
/// Throws DomainError unless length > 0.
[[nodiscard]] Length thread_length(const WoodFastener& fastener, Length length);
/// Least penetration into the member that holds the point, lateral load: lag 4 D without tip, wood
/// screw 6 D. Source: NDS 12.1.4.6, 12.1.5.6. Valid, Accuracy: code limit.
[[nodiscard]] Length least_penetration(const WoodFastener& fastener);
/// Bearing length of a fastener whose tip is inside: penetration less half the tip.
/// Source: NDS 12.3.5.3. Valid: penetration above the tip. Accuracy: code value.
/// Throws DomainError unless penetration > tip/2.
[[nodiscard]] Length bearing_length(Length penetration, Length tip);
/// Bending yield strength of another metal, (Fy + Fu)/2, for bolts and screws of stainless or
/// bronze. Source: NDS Appendix I.4. Valid: ductile metals. Accuracy: 10 %.
[[nodiscard]] Stress bending_yield_strength(Stress yield, Stress ultimate);

/// Dowel bearing strength of wood, rounded to 50 psi as in the tables:
///     D >= 1/4 in: 11,200 G along and 6,100 G^1.45 / sqrt(D) across the grain, Hankinson between
///     D <  1/4 in: 16,600 G^1.84 in every direction
/// Source:   NDS 12.3.3 and Table 12.3.3. D is the nominal diameter, of lag screws too. A fastener
///           in end grain takes the value across the grain.
/// Valid:    0 < D <= 1 in, 0.31 <= G <= 0.73; down to 0.258 for a G from a characteristic density,
///           which is 1/1.2 of the average that the range means (EN 384).
/// Accuracy: with it 200 of 200 printed lag screw values are met (independent computation).
/// Throws DomainError outside.
[[nodiscard]] Stress dowel_bearing(double specific_gravity, Length diameter, Angle to_grain);

/// Dowel bearing strength of a steel side plate, bearing strength / 1.6: 1.5 Fu hot rolled from
/// 1/4 in, else 1.375 Fu. Source: NDS Table 12.3.3 notes, Appendix I.2. Valid: steel plate.
/// Accuracy: code value; check the plate itself to the metal rules. Throws DomainError unless > 0.
[[nodiscard]] Stress steel_dowel_bearing(Stress ultimate, Length thickness);
/// The same for aluminium, 2 Ftu / 1.6 = 1.25 Ftu. Source: own derivation by the rule for steel
/// from the Aluminum Design Manual J.3.6 (judgement). Valid: edge of 2 D and more. Accuracy:
/// unproven.
[[nodiscard]] Stress aluminium_dowel_bearing(Stress ultimate);

struct Dowel {
  Length diameter;  ///< of the shank, or the root where threads bear
  Length nominal;   ///< as sold
  Length main;      ///< bearing length in the main member (holds the point, or the middle one)
  Length side;      ///< in the side member, the thinner of two
  Stress main_bearing;
  Stress side_bearing;
  Stress bending_yield;
  Angle to_grain;  ///< the largest angle of load to grain of any wood member
  bool double_shear = false;
};

struct YieldMode {
  std::string_view name;  ///< Im, Is, II, IIIm, IIIs, IV
  Force value;            ///< reference value Z
};

struct DowelYield {
  Force reference;  ///< Z, allowable at normal duration
  std::string_view governing;
  std::vector<YieldMode> modes;
};

/// Reference lateral value of one dowel-type fastener by the yield modes.
/// Source:   NDS 12.3.1, Tables 12.3.1A and B: reduction terms 4 Kt, 3.6 Kt, 3.2 Kt from 1/4 in,
///           KD below, KD Kt for a nominal 1/4 in and more with a smaller root.
/// Valid:    D <= 1 in, single shear or symmetric double shear, members in contact.
/// Accuracy: table values within their rounding. Times KF (`nominal_connection`) it is near the
///           mean yield load at 5 % offset, not a breaking load.
/// Throws DomainError unless all lengths and strengths are above zero and 0 <= angle <= 90.
[[nodiscard]] DowelYield dowel_yield(const Dowel& dowel);

enum class ConnectionLoad { lateral, withdrawal, pull_through };

/// Nominal strength of a fastening from its reference value: KF x CM x reference.
/// Source:   NDS Table 11.3.1 (KF 3.32), Table 11.3.3 (wet in service 0.7). The same for EN 338
///           members, whose G is a characteristic one: then close to the EN 1995-1-1 value.
/// Valid:    the factors Cg, C_delta and end grain still to be applied; made wet and used dry (0.4)
///           is not covered. Accuracy: code value.
[[nodiscard]] Force nominal_connection(Force reference, ConnectionLoad load, bool wet,
                                       const MaterialLibrary& library);

/// Reference withdrawal per length of thread, 1800 G^1.5 D^0.75; in end grain times 0.75.
/// Source: NDS 12.2-1, 12.2.1. Valid: D 1/4 to 1 1/4 in, G as `dowel_bearing`, the tip excluded
/// from the length. Accuracy: 238 of 238 printed values (independent computation).
/// Throws DomainError outside.
[[nodiscard]] LineLoad lag_withdrawal(double specific_gravity, Length diameter,
                                      bool end_grain = false);
/// Reference withdrawal of a wood screw per length of thread, 2850 G^2 D.
/// Source: NDS 12.2-2. Valid: No. 6 to 24 (D 0.138 to 0.372 in), side grain only, not plywood.
/// Accuracy: code value, about 0.18 of the mean ultimate. Throws DomainError outside.
[[nodiscard]] LineLoad wood_screw_withdrawal(double specific_gravity, Length diameter);
/// Reference pull-through of a round head, 690 pi DH G^2 t up to t = 2.5 DH, then 1725 pi DH^2 G^2.
/// Source: NDS 12.2.5, Table 12.2F. Valid: round heads without washer. Accuracy: code value.
/// Throws DomainError unless DH > 0, t > 0 and G in range.
[[nodiscard]] Force head_pull_through(double specific_gravity, Length head, Length thickness);

/// Share of the strength of a lag or wood screw that lateral and axial load use together,
/// (L^2/Z + T^2/W) / sqrt(L^2 + T^2).
/// Source: NDS 12.4.1. Valid: lag and wood screws, not through bolts. Accuracy: code value.
/// Throws DomainError unless Z > 0 and W > 0 and the loads are not negative.
[[nodiscard]] double combined_utilisation(Force lateral, Force axial, Force lateral_strength,
                                          Force axial_strength);
/// The same as a strength for a load at an angle to the surface of the wood.
[[nodiscard]] Force combined_strength(Force lateral_strength, Force axial_strength,
                                      Angle from_surface);

/// Lateral value of a fastener in end grain, 0.67 of a value computed with the bearing strength
/// across the grain. Source: NDS 12.5.2.2. Valid: all dowels. Accuracy: code value.
[[nodiscard]] Force end_grain_lateral(Force lateral, const MaterialLibrary& library);

/// Group action factor of `count` fasteners in a row along the load.
/// Source:   NDS 11.3.6, Eq. 11.3-1. `main`, `side`: E A of the gross members, of all side members.
/// Valid:    D < 1/4 in: 1. Load across the grain: area = thickness x width of the group.
/// Accuracy: code value. Throws DomainError unless count >= 1 and all others are above zero.
[[nodiscard]] double group_action(int count, Length diameter, Length spacing, Force main,
                                  Force side, bool metal_side);

enum class EndLoad {
  across,         ///< load across the grain
  away_from_end,  ///< along the grain, away from the end: the fastener presses inwards
  toward_end,     ///< along the grain, toward the end
};

/// Geometry factor of an end distance: actual / distance for the full value, 1 at most; 0 below the
/// least permitted half of it. Full value: 4 D, 4 D, toward the end 7 D (hardwood 5 D).
/// Source: NDS Table 12.5.1A. Valid: D >= 1/4 in; below the code gives no distance and the factor
/// is 1. The smallest factor holds for the whole group. Accuracy: code value.
/// Throws DomainError unless D > 0 and the distance is not negative.
[[nodiscard]] double end_distance_factor(Length end, Length diameter, EndLoad load, bool hardwood);
/// Geometry factor of the spacing in a row along the grain: full at 4 D, 0 below 3 D.
/// Source: NDS Table 12.5.1B. Valid, Accuracy, Throws: as above.
[[nodiscard]] double row_spacing_factor(Length spacing, Length diameter);

/// Least edge distance; there is no reduced value. Along the grain 1.5 D (slender fasteners, l/D
/// above 6: half the row spacing if more), across 4 D to the loaded and 1.5 D to the other edge.
/// Source: NDS Table 12.5.1C. Valid: D >= 1/4 in. `bearing` is the lesser bearing length of the
/// members. Accuracy: code value. Throws DomainError unless D > 0.
[[nodiscard]] Length least_edge_distance(Length diameter, Length bearing, bool load_across_grain,
                                         bool loaded_edge, Length row_spacing);
/// Least distance of rows: load along the grain 1.5 D; across 2.5 D at l/D = 2, 5 D from l/D = 6,
/// straight between. Source: NDS Table 12.5.1D. Valid, Accuracy, Throws: as above.
[[nodiscard]] Length least_row_distance(Length diameter, Length bearing, bool load_across_grain);
/// Outermost fasteners may lie 5 in apart across the grain without slots. Source: NDS 12.5.1.3.
[[nodiscard]] Length most_across_grain();

/// Advisory distances of screws below 1/4 in in drilled holes, in diameters.
/// Source: NDS commentary to 12.5.1 (from memory). Valid: lead holes drilled. Accuracy: advisory.
struct SmallFastenerDistances {
  double loaded_end = 10;
  double end = 5;
  double edge = 2.5;
  double in_row_along = 10;
  double in_row_across = 5;
  double rows = 3;
};

// ---- Tear-out and splitting
// ----------------------------------------------------------------------

/// A row of fasteners torn out along the grain: count x shear x thickness x least of end distance
/// and spacing. Source: NDS Appendix E.3. Valid: load along the grain toward the end. Accuracy:
/// code value. Throws DomainError unless all are above zero.
[[nodiscard]] Force row_tear_out(Stress shear, Length thickness, int count, Length critical);
/// A group torn out: half of both outer rows and tension between them.
/// Source: NDS Appendix E.4. Valid, Accuracy: as above.
[[nodiscard]] Force group_tear_out(Force first_row, Force last_row, Stress tension, Area between);

struct Splitting {
  Force strength;  ///< the lower
  Force nds;
  Force en;
};

/// Shear force beside a fastening at which a member on edge splits, load across the grain.
///
///     NDS    2/3 Fv b de (de/d)^2, the square only within 5 d of the end
///     EN     14 b sqrt(he / (1 - he/h)) in N and mm, wet times 0.9/1.1
///
/// with de = he from the loaded edge to the farthest fastener. Both stand for the largest shear
/// force beside the joint and both are held against the factor of shear. The NDS form is nominal
/// (`shear` with KF) and lies 1/0.75 above its 5th percentile, the EN form is a 5th percentile as
/// it stands and is not raised: the lower of them errs on the low side.
/// Source:   NDS 3.4.3.3 (from memory); EN 1995-1-1 8.1.4 (softwood; hardwood is not weaker).
/// Valid:    0 < he < h, b not more than the penetration of the fastener.
/// Accuracy: characteristic. Throws DomainError outside.
[[nodiscard]] Splitting splitting_strength(Stress shear, Length thickness, Length depth,
                                           Length loaded_edge_to_farthest, bool near_end, bool wet);

// ---- Stability
// -----------------------------------------------------------------------------------

enum class BeamLoad { uniform, centre, centre_braced, cantilever_end, other };

/// Effective length of a single-span beam or cantilever for lateral buckling.
/// Source: NDS Table 3.3.3. Valid: `unbraced` between points held against turning.
/// Accuracy: code value. Throws DomainError unless both are above zero.
[[nodiscard]] Length beam_effective_length(Length unbraced, Length depth, BeamLoad load);
/// sqrt(le d) / b. Source: NDS 3.3.3.6. Valid: up to 50. Accuracy: code value.
[[nodiscard]] double beam_slenderness(Length effective, Length depth, Length breadth);
/// Factor on bending of a plank on edge; 1 when it is no deeper than broad.
/// `bending`, `modulus_min`: both nominal or both allowable.
/// Source: NDS 3.3.3.8 (c = 0.95, 1.20 E'min). Valid: slenderness up to 50; sawn lumber.
/// Accuracy: code value. Throws DomainError above 50.
[[nodiscard]] double beam_stability(Stress bending, Stress modulus_min, Length effective,
                                    Length depth, Length breadth);
/// Factor on compression along the grain. `side`: of the section, in the plane of buckling.
/// Source: NDS 3.7.1 (c = 0.8 for sawn lumber, 0.822 E'min). Valid: effective / side up to 50.
/// Accuracy: code value; within 1 % of EN 1995-1-1 6.3.2 at a relative slenderness of 1.
/// Throws DomainError outside.
[[nodiscard]] double column_stability(Stress compression, Stress modulus_min, Length effective,
                                      Length side, double c = 0.8);

struct ColumnStrength {
  Force strength;
  double stability = 1;         ///< CP of the governing plane
  bool about_weak_axis = true;  ///< buckles across the thickness
  Force crushing;               ///< without buckling
};

/// Nominal axial strength of a leg. Effective lengths: 1.0 of the length pinned at both ends, 2.1
/// for a leg fixed at the bottom and free at the top (NDS Appendix G, from memory).
/// Nominal values go into both terms, so that at a factor of 1.88 the result lies below the NDS
/// allowable load at a load duration of 1.6.
/// Source, Valid, Accuracy, Throws: as `column_stability`; centred load, no bending.
[[nodiscard]] ColumnStrength column_strength(const WoodStrength& strength, const WoodPiece& piece,
                                             Length effective_across_thickness,
                                             Length effective_across_width);

}  // namespace thole
