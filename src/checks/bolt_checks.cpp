#include <cmath>
#include <numbers>

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
  if (!is_screw(s.plate().fastening)) return {Standing::not_concerned, "no screws in metal"};
  return {};
}

Applicability through_bolt_applies(const Setup& s) {
  if (s.plate().fastening.hold != HoldBy::through_bolt) {
    return {Standing::not_concerned, "no through bolts"};
  }
  return {};
}

Applicability bolt_bending_applies(const Setup& s) {
  const Fastening& f = s.plate().fastening;
  if (f.packing.value() > 0) {
    if (f.hold == HoldBy::rivet) {
      return {Standing::refused, "rivets over a pad: no published source"};
    }
    return {};
  }
  const auto& bedding = f.assembly.bedding;
  if (bedding && *bedding != Bedding::none && *bedding != Bedding::sealant) {
    return {Standing::not_checked, "fastening.packing (how thick the pad is) is not given"};
  }
  return {Standing::not_concerned, "the base lies on the host itself"};
}

Use bolt_bending(const Setup& s, const Actions& a, Category) {
  const Fastening& f = s.plate().fastening;
  const Area root = root_area(f.thread);
  const Length d = std::sqrt(root.value() * 4 / std::numbers::pi) * si::metre;
  const Moment plastic = d * d * d / 6.0 * f.material.yield;
  return worst_fastener(a, [&](int i) {
    const double bend = a.shear[std::size_t(i)].size() * f.packing / plastic;
    const double pull = a.tension[std::size_t(i)] / Force(root * f.material.yield);
    return Use{{bend + pull, Dimension::number}, {1.0, Dimension::number}, i};
  });
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

namespace {

// Share of their strength that the bolts use in the plane by the instantaneous centre, each alike.
double group_use(const Fastening& f, const Actions& a) {
  const auto fx = Force(a.load.force.x());
  const auto fy = Force(a.load.force.y());
  const auto mz = Moment(a.load.moment.z());
  if (std::hypot(fx.value(), fy.value()) < 1e-9 && std::abs(mz.value()) < 1e-9) return 0;
  return 1.0 / (instantaneous_centre(f.holes, fx, fy, mz).per_load * shear_strength(f).value());
}

}  // namespace

Use bolt_shear(const Setup& s, const Actions& a, Category c) {
  const Fastening& f = s.plate().fastening;
  if (!f.instantaneous_centre) return fastener_shear(s, a, c);
  const Force bolt = shear_strength(f);
  return {measured(Force(group_use(f, a) * bolt)), measured(bolt), -1};
}

Use tension_and_shear(const Setup& s, const Actions& a, Category) {
  const Fastening& f = s.plate().fastening;
  const Force tension = tension_strength(f);
  const Force shear = shear_strength(f);
  const double group = f.instantaneous_centre ? group_use(f, a) : 0;
  return worst_fastener(a, [&](int i) {
    const double t = a.tension[std::size_t(i)] / tension;
    const double v =
        f.instantaneous_centre ? group : double(a.shear[std::size_t(i)].size() / shear);
    return Use{{std::hypot(t, v), Dimension::number}, {1.0, Dimension::number}, i};
  });
}

}  // namespace thole::checks
