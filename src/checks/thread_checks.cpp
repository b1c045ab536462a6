#include <thole/metal_strength.hpp>
#include <thole/thread.hpp>

#include "checks/checks.hpp"
#include "core/geometry.hpp"
#include "core/metal_hold.hpp"

namespace thole::checks {

using namespace literals;

namespace {

bool enough_for_area(const Setup& s) {
  const Length depth = geometry::thread_depth(s.plate().fastening, s.plate().host);
  return depth.value() >= (0.25_in).value() * (1 - 1e-9);
}

Applicability tapped_applies(const Setup& s) {
  const Fastening& f = s.plate().fastening;
  if (s.plate().host.screw_channel && f.hold != HoldBy::tapped_bar) {
    return {Standing::refused,
            "a screw channel of an extrusion is no tapped hole: no published rule covers it"};
  }
  if (!geometry::threaded_metal(f, s.plate().host).aluminium) {
    return {Standing::refused,
            "the rule for tapped walls is for aluminium: no published source for this metal"};
  }
  const Length depth = geometry::thread_depth(f, s.plate().host);
  if (!(depth.value() > 0)) return {Standing::refused, "the countersink leaves no thread"};
  const PullOut p = pull_out_of(f, s.plate().host);
  if (p.range == PullOutRange::below_one_thread) {
    return {Standing::refused, "less than one full thread is engaged (" + show_number(p.threads) +
                                   "): that is no joint"};
  }
  if (p.below_scope) {
    return {Standing::refused,
            is_spaced(f.thread)
                ? "the rule for spaced threads begins at 0.038 in (1 mm) of metal: no published "
                  "source"
                : "the rule for tapped walls begins at 0.060 in (1.5 mm) of thread: "
                  "no published source"};
  }
  return {};
}

}  // namespace

Applicability thread_pull_out_applies(const Setup& s) {
  const Fastening& f = s.plate().fastening;
  if (!is_tapped(f)) return {Standing::not_concerned, "nothing is tapped"};
  if (is_spaced(f.thread)) return {Standing::not_concerned, "a spaced thread"};
  return tapped_applies(s);
}

Applicability spaced_pull_out_applies(const Setup& s) {
  if (!is_spaced(s.plate().fastening.thread)) return {Standing::not_concerned, "no spaced thread"};
  return tapped_applies(s);
}

Applicability any_pull_out_applies(const Setup& s) {
  switch (s.plate().fastening.hold) {
    case HoldBy::thread_insert:
      return insert_pull_out_applies(s);
    case HoldBy::blind_insert:
      return blind_insert_applies(s);
    default:
      return is_spaced(s.plate().fastening.thread) ? spaced_pull_out_applies(s)
                                                   : thread_pull_out_applies(s);
  }
}

Use thread_pull_out(const Setup& s, const Actions& a, Category) {
  const PullOut p = pull_out_of(s.plate().fastening, s.plate().host);
  return worst_fastener(a, [&](int i) {
    return Use{measured(a.tension[std::size_t(i)]), measured(p.strength), i};
  });
}

Applicability full_thread_applies(const Setup& s) {
  const Fastening& f = s.plate().fastening;
  if (!is_tapped(f)) return {Standing::not_concerned, "nothing is tapped"};
  if (is_spaced(f.thread)) return {Standing::not_concerned, "a spaced thread"};
  if (!enough_for_area(s)) {
    return {Standing::not_concerned,
            "below 1/4 in of thread the strip area alone is on the unsafe side"};
  }
  return {};
}

Applicability screw_thread_applies(const Setup& s) {
  // Inside a coil the sheet cannot dish away from the screw.
  if (s.plate().fastening.hold == HoldBy::thread_insert) return {};
  return full_thread_applies(s);
}

Use thread_strip_hole(const Setup& s, const Actions& a, Category) {
  const Fastening& f = s.plate().fastening;
  const Force strength = thread_strip(internal_strip_area_per_length(f.thread),
                                      geometry::thread_depth(f, s.plate().host),
                                      geometry::threaded_metal(f, s.plate().host).shear_ultimate);
  return worst_fastener(a, [&](int i) {
    return Use{measured(a.tension[std::size_t(i)]), measured(strength), i};
  });
}

Use thread_strip_screw(const Setup& s, const Actions& a, Category) {
  const Fastening& f = s.plate().fastening;
  Length depth = geometry::thread_depth(f, s.plate().host);
  if (f.insert) depth = std::min(depth, f.insert->length);
  const Force strength =
      thread_strip(external_strip_area_per_length(f.thread), depth, f.material.shear_ultimate);
  return worst_fastener(a, [&](int i) {
    return Use{measured(a.tension[std::size_t(i)]), measured(strength), i};
  });
}

Use pull_out_with_bearing(const Setup& s, const Actions& a, Category c) {
  const Fastening& f = s.plate().fastening;
  const Host& h = s.plate().host;
  const double repeated = f.blind && c == Category::everyday ? 0.5 : 1.0;
  const Force out = repeated * held_in_metal(f, h).value_or(Force{});
  return worst_fastener(a, [&](int i) {
    const PlanPoint& p = f.holes[std::size_t(i)];
    const Force side =
        bearing(f.thread.diameter, h.thickness, geometry::to_free_wall_edge(s.plate(), p), h.metal);
    const double sum = a.tension[std::size_t(i)] / out + a.shear[std::size_t(i)].size() / side;
    return Use{{sum, Dimension::number}, {1.0, Dimension::number}, i};
  });
}

}  // namespace thole::checks
