#pragma once

/// The functions behind the catalogue: for each failure mode, whether it concerns a setup and its
/// demand and strength under given actions. Private to the core.

#include <algorithm>

#include <thole/check.hpp>

namespace thole::checks {

template <class Q>
Measure measured(Q q) {
  return {q.value(), DimensionOf<Q>::value};
}

/// The worst fastener by `ratio_of(i)` = demand / strength.
template <class UseOf>
Use worst_fastener(const Actions& a, UseOf use_of) {
  Use worst;
  double highest = -1;
  for (int i = 0; i < a.count; ++i) {
    const Use u = use_of(i);
    const double ratio =
        u.strength.si > 0 ? u.demand.si / u.strength.si : (u.demand.si > 0 ? 1e300 : 0.0);
    if (ratio > highest) {
      highest = ratio;
      worst = u;
      worst.fastener = i;
    }
  }
  return worst;
}

/// A screw in tapped metal, in an insert or in threads that it made itself.
inline bool is_screw(const Fastening& f) {
  return f.hold == HoldBy::tapped || f.hold == HoldBy::tapped_bar ||
         f.hold == HoldBy::self_tapping || f.hold == HoldBy::thread_insert ||
         f.hold == HoldBy::blind_insert;
}

// thread_checks.cpp
Applicability any_pull_out_applies(const Setup& s);
Applicability thread_pull_out_applies(const Setup& s);
Applicability spaced_pull_out_applies(const Setup& s);
Use thread_pull_out(const Setup& s, const Actions& a, Category c);
Applicability full_thread_applies(const Setup& s);
Applicability screw_thread_applies(const Setup& s);
Use thread_strip_hole(const Setup& s, const Actions& a, Category c);
Use thread_strip_screw(const Setup& s, const Actions& a, Category c);
Use pull_out_with_bearing(const Setup& s, const Actions& a, Category c);

// insert_checks.cpp
Applicability insert_pull_out_applies(const Setup& s);
Use insert_pull_out(const Setup& s, const Actions& a, Category c);
Applicability blind_insert_applies(const Setup& s);
Use blind_insert_pull_out(const Setup& s, const Actions& a, Category c);
Applicability insert_thread_applies(const Setup& s);
Use insert_thread(const Setup& s, const Actions& a, Category c);
Applicability tilting_applies(const Setup& s);
Use screw_tilting(const Setup& s, const Actions& a, Category c);
Applicability rivet_applies(const Setup& s);
Applicability rivet_shear_applies(const Setup& s);
Use rivet_shear(const Setup& s, const Actions& a, Category c);
Applicability rivet_tension_applies(const Setup& s);
Use rivet_tension(const Setup& s, const Actions& a, Category c);
Applicability rivet_both_applies(const Setup& s);
Use rivet_tension_and_shear(const Setup& s, const Actions& a, Category c);

// bolt_checks.cpp
Applicability screw_applies(const Setup& s);
Applicability bolt_bending_applies(const Setup& s);
Use bolt_bending(const Setup& s, const Actions& a, Category c);
Applicability through_bolt_applies(const Setup& s);
Use fastener_tension(const Setup& s, const Actions& a, Category c);
Use fastener_shear(const Setup& s, const Actions& a, Category c);
Use bolt_shear(const Setup& s, const Actions& a, Category c);
Use tension_and_shear(const Setup& s, const Actions& a, Category c);

// wall_checks.cpp
Applicability always(const Setup& s);
Applicability pull_over_base_applies(const Setup& s);
Use pull_over_base(const Setup& s, const Actions& a, Category c);
Applicability pull_over_behind_applies(const Setup& s);
Use pull_over_behind(const Setup& s, const Actions& a, Category c);
Use wall_bearing(const Setup& s, const Actions& a, Category c);
Applicability tear_out_applies(const Setup& s);
Use wall_tear_out(const Setup& s, const Actions& a, Category c);
Use wall_yield(const Setup& s, const Actions& a, Category c);
Applicability lip_applies(const Setup& s);
Use lip_bending(const Setup& s, const Actions& a, Category c);
Use wall_press(const Setup& s, const Actions& a, Category c);
Applicability rotation_applies(const Setup& s);
Use wall_rotation(const Setup& s, const Actions& a, Category c);
Use edge_distance(const Setup& s, const Actions& a, Category c);
Use hole_spacing(const Setup& s, const Actions& a, Category c);

// edge_checks.cpp
Applicability block_shear_applies(const Setup& s);
Use block_shear_use(const Setup& s, const Actions& a, Category c);
Applicability net_section_applies(const Setup& s);
Use net_section_use(const Setup& s, const Actions& a, Category c);

// gunwale_checks.cpp
Applicability gunwale_applies(const Setup& s);
Use gunwale_roll(const Setup& s, const Actions& a, Category c);

// base_checks.cpp
Applicability base_metal_applies(const Setup& s);
Applicability base_bending_applies(const Setup& s);
Use base_bending(const Setup& s, const Actions& a, Category c);
Use base_bearing(const Setup& s, const Actions& a, Category c);
Applicability backing_applies(const Setup& s);
Use backing_bending(const Setup& s, const Actions& a, Category c);

// bracket_checks.cpp
Applicability bracket_bends_applies(const Setup& s);
Use bracket_bends(const Setup& s, const Actions& a, Category c);
Applicability u_bolt_applies(const Setup& s);
Use u_bolt_breaks(const Setup& s, const Actions& a, Category c);
Applicability clamp_applies(const Setup& s);
Use clamp_opens(const Setup& s, const Actions& a, Category c);
Applicability slip_applies(const Setup& s);
Use bracket_slip(const Setup& s, const Actions& a, Category c);
/// Whether anything but friction keeps it in its place: applies never.
Applicability stop_applies(const Setup& s);

// timber_checks.cpp
Applicability wood_screw_applies(const Setup& s);
Use wood_screw_withdrawal_use(const Setup& s, const Actions& a, Category c);
Use wood_screw_combined(const Setup& s, const Actions& a, Category c);
Use wood_screw_breaks(const Setup& s, const Actions& a, Category c);
Applicability wood_lateral_applies(const Setup& s);
Use wood_lateral(const Setup& s, const Actions& a, Category c);
Applicability wood_washer_applies(const Setup& s);
Use wood_washer_dent(const Setup& s, const Actions& a, Category c);
Use wood_washer_crushing(const Setup& s, const Actions& a, Category c);
Use wood_base_dent(const Setup& s, const Actions& a, Category c);
Use wood_base_crushing(const Setup& s, const Actions& a, Category c);
Use wood_splits(const Setup& s, const Actions& a, Category c);
Applicability wood_lifts_applies(const Setup& s);
Use wood_lifts(const Setup& s, const Actions& a, Category c);
Use wood_tear_out(const Setup& s, const Actions& a, Category c);
Use wood_distance(const Setup& s, const Actions& a, Category c);

// laminate_checks.cpp
Applicability panel_punch_applies(const Setup& s);
Use panel_punch(const Setup& s, const Actions& a, Category c);
Applicability laminate_bearing_applies(const Setup& s);
Use laminate_bearing(const Setup& s, const Actions& a, Category c);
Applicability core_applies(const Setup& s);
Use core_crushing(const Setup& s, const Actions& a, Category c);
Applicability panel_bending_applies(const Setup& s);
Use panel_bending(const Setup& s, const Actions& a, Category c);
Use laminate_distance(const Setup& s, const Actions& a, Category c);

// fatigue_checks.cpp
Applicability wall_fatigue_applies(const Setup& s);
Use wall_fatigue(const Setup& s, const Actions& a, Category c);
Applicability base_fatigue_applies(const Setup& s);
Use base_fatigue(const Setup& s, const Actions& a, Category c);
Applicability backing_fatigue_applies(const Setup& s);
Use backing_fatigue(const Setup& s, const Actions& a, Category c);
Applicability fastener_fatigue_applies(const Setup& s);
Use fastener_fatigue(const Setup& s, const Actions& a, Category c);
Applicability thread_fatigue_applies(const Setup& s);
Use thread_fatigue(const Setup& s, const Actions& a, Category c);

}  // namespace thole::checks
