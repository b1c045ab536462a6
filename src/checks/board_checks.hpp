#pragma once

/// The functions behind the catalogue of a cross-board. Private to the core.

#include <thole/check.hpp>

namespace thole::checks {

/// Fill what several checks share, after supports and gear loads are set: the ledges' own bolts,
/// and the feet of gears on the board.
void complete_ledges(BoardActions& actions);
void complete_feet(BoardActions& actions);

Applicability wooden_board(const Setup& s);
Applicability metal_board(const Setup& s);
Use board_bending(const BoardActions& a, Category category);
Applicability net_applies(const Setup& s);
Use board_net_section(const BoardActions& a, Category category);
Applicability edge_stress_applies(const Setup& s);
Use board_edge_stress(const BoardActions& a, Category category);
Use board_torsion(const BoardActions& a, Category category);
Use board_shear(const BoardActions& a, Category category);
Use metal_board_yield(const BoardActions& a, Category category);
Applicability metal_net_applies(const Setup& s);
Use metal_board_net_section(const BoardActions& a, Category category);
Use ledge_dent(const BoardActions& a, Category category);
Use ledge_crushing(const BoardActions& a, Category category);
Applicability angle_applies(const Setup& s);
Use ledge_leg_bending(const BoardActions& a, Category category);
Applicability leg_lift_applies(const Setup& s);
Use ledge_leg_lift(const BoardActions& a, Category category);
Applicability ledge_bolts_apply(const Setup& s);
Use ledge_bolt_tension(const BoardActions& a, Category category);
Use ledge_bolt_shear(const BoardActions& a, Category category);
Use ledge_bolt_both(const BoardActions& a, Category category);
Applicability hull_pull_applies(const Setup& s);
Use ledge_bolt_pull_through(const BoardActions& a, Category category);
Applicability hull_bearing_applies(const Setup& s);
Use ledge_bolt_bearing(const BoardActions& a, Category category);
Applicability pulls_apply(const Setup& s);
Applicability hold_downs_apply(const Setup& s);
Applicability eye_applies(const Setup& s);
Use eye_bolt_rating(const BoardActions& a, Category category);
Use hold_down_tension(const BoardActions& a, Category category);
Use hold_down_shear(const BoardActions& a, Category category);
Use hold_down_both(const BoardActions& a, Category category);
Applicability standoff_applies(const Setup& s);
Use hold_down_bending(const BoardActions& a, Category category);
Applicability washer_applies(const Setup& s);
Use washer_dent(const BoardActions& a, Category category);
Use washer_crushing(const BoardActions& a, Category category);
Applicability lateral_applies(const Setup& s);
Use board_bolt_bearing(const BoardActions& a, Category category);
Applicability split_applies(const Setup& s);
Use board_splits(const BoardActions& a, Category category);
Applicability bolt_distance_applies(const Setup& s);
Use board_bolt_distance(const BoardActions& a, Category category);
Applicability legs_apply(const Setup& s);
Use leg_crushing(const BoardActions& a, Category category);
Applicability leg_dent_applies(const Setup& s);
Use leg_dent(const BoardActions& a, Category category);
Use leg_buckling(const BoardActions& a, Category category);
Applicability leg_slides_applies(const Setup& s);
Use leg_slides(const BoardActions& a, Category category);
Applicability leg_tips_applies(const Setup& s);
Use leg_tips(const BoardActions& a, Category category);
Applicability foot_applies(const Setup& s);
Applicability foot_on_wood(const Setup& s);
Use foot_bolt_tension(const BoardActions& a, Category category);
Use foot_bolt_shear(const BoardActions& a, Category category);
Use foot_bolt_both(const BoardActions& a, Category category);
Use foot_bolt_bearing(const BoardActions& a, Category category);
Applicability foot_splits_applies(const Setup& s);
Use foot_splits(const BoardActions& a, Category category);
Use foot_washer_dent(const BoardActions& a, Category category);
Use foot_washer_crushing(const BoardActions& a, Category category);
Use foot_press(const BoardActions& a, Category category);

// fatigue_checks.cpp
Applicability hold_down_fatigue_applies(const Setup& s);
Use hold_down_fatigue(const BoardActions& a, Category category);
Applicability ledge_bolt_fatigue_applies(const Setup& s);
Use ledge_bolt_fatigue(const BoardActions& a, Category category);
Applicability gear_bolt_fatigue_applies(const Setup& s);
Use gear_bolt_fatigue(const BoardActions& a, Category category);
Applicability ledge_leg_fatigue_applies(const Setup& s);
Use ledge_leg_fatigue(const BoardActions& a, Category category);
Applicability metal_board_fatigue_applies(const Setup& s);
Use metal_board_fatigue(const BoardActions& a, Category category);

}  // namespace thole::checks
