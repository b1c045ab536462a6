#include <cmath>

#include <thole/thread.hpp>

#include "checks/checks.hpp"

namespace thole::checks {

namespace {

// Screw strength in tapped metal carries the extra 1.25 of the Aluminum Design Manual 2020 (J.5.4.3
// and J.5.5.3) in tension and in shear.
double screw_divisor(const Fastening& f) { return is_screw(f) ? 1.25 : 1.0; }

Force tension_strength(const Fastening& f) {
  return root_area(f.thread) * f.material.ultimate / screw_divisor(f);
}

// Threads are taken to lie in the shear plane: the root area, whatever the grip.
Force shear_strength(const Fastening& f) {
  return root_area(f.thread) * f.material.shear_ultimate / screw_divisor(f);
}

}  // namespace

Applicability screw_applies(const Setup& s) {
  if (!is_screw(s.plate().fastening)) return {Standing::not_concerned, "through-bolted"};
  return {};
}

Applicability through_bolt_applies(const Setup& s) {
  if (s.plate().fastening.hold != HoldBy::through_bolt) {
    return {Standing::not_concerned, "no through bolts"};
  }
  return {};
}

Use fastener_tension(const Setup& s, const Actions& a, Category) {
  const Force strength = tension_strength(s.plate().fastening);
  return worst_fastener(a, [&](int i) {
    return Use{measured(a.tension[std::size_t(i)]), measured(strength), i};
  });
}

Use fastener_shear(const Setup& s, const Actions& a, Category) {
  const Force strength = shear_strength(s.plate().fastening);
  return worst_fastener(a, [&](int i) {
    return Use{measured(a.shear[std::size_t(i)].size()), measured(strength), i};
  });
}

Use tension_and_shear(const Setup& s, const Actions& a, Category) {
  const Force tension = tension_strength(s.plate().fastening);
  const Force shear = shear_strength(s.plate().fastening);
  return worst_fastener(a, [&](int i) {
    const double t = a.tension[std::size_t(i)] / tension;
    const double v = a.shear[std::size_t(i)].size() / shear;
    return Use{{std::hypot(t, v), Dimension::number}, {1.0, Dimension::number}, i};
  });
}

}  // namespace thole::checks
