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

/// A screw in tapped metal.
inline bool is_screw(const Fastening& f) {
  return f.hold == HoldBy::tapped || f.hold == HoldBy::tapped_bar;
}

// thread_checks.cpp
Applicability thread_pull_out_applies(const Setup& s);
Use thread_pull_out(const Setup& s, const Actions& a, Category c);
Applicability full_thread_applies(const Setup& s);
Use thread_strip_hole(const Setup& s, const Actions& a, Category c);
Use thread_strip_screw(const Setup& s, const Actions& a, Category c);
Use pull_out_with_bearing(const Setup& s, const Actions& a, Category c);

// bolt_checks.cpp
Applicability screw_applies(const Setup& s);
Applicability through_bolt_applies(const Setup& s);
Use fastener_tension(const Setup& s, const Actions& a, Category c);
Use fastener_shear(const Setup& s, const Actions& a, Category c);
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

// base_checks.cpp
Applicability base_metal_applies(const Setup& s);
Applicability base_bending_applies(const Setup& s);
Use base_bending(const Setup& s, const Actions& a, Category c);
Use base_bearing(const Setup& s, const Actions& a, Category c);
Applicability backing_applies(const Setup& s);
Use backing_bending(const Setup& s, const Actions& a, Category c);

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
Use wood_tear_out(const Setup& s, const Actions& a, Category c);
Use wood_distance(const Setup& s, const Actions& a, Category c);

// laminate_checks.cpp
Applicability panel_punch_applies(const Setup& s);
Use panel_punch(const Setup& s, const Actions& a, Category c);
Applicability laminate_bearing_applies(const Setup& s);
Use laminate_bearing(const Setup& s, const Actions& a, Category c);
Applicability core_applies(const Setup& s);
Use core_crushing(const Setup& s, const Actions& a, Category c);
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
