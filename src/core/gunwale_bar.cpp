#include <thole/gunwale_bar.hpp>

#include <algorithm>
#include <cmath>
#include <numbers>

#include <thole/error.hpp>
#include <thole/section.hpp>

#include "core/geometry.hpp"

namespace thole {

namespace {

constexpr double poisson = 0.33;

}  // namespace

BarTorsion bar_torsion(const Host& h) {
  if (!h.is_metal() || h.form == WallForm::sheet || !h.bar) {
    throw DomainError("only a gunwale whose section is given turns as a bar");
  }
  const Length t = h.thickness;
  const Stress yield = 0.6 * h.metal.yield;
  if (h.form == WallForm::open_lip) {
    const SecondMoment j = (h.flat + h.bar->depth - t) * t * t * t / 3.0;
    return {j, yield * j / t, false};
  }
  const Section box = rectangular_tube(h.flat, h.bar->depth, t);
  const double slender = t / (std::max(h.flat, h.bar->depth) - t);
  const Stress buckling = 5.34 * std::numbers::pi * std::numbers::pi * h.metal.modulus /
                          (12.0 * (1 - poisson * poisson)) * slender * slender;
  return {box.torsion, std::min(yield, buckling) * box.torsion_modulus, buckling < yield};
}

Moment bar_torque(const GunwalePlate& m, const BaseLoad& load) {
  const geometry::Flat flat = geometry::flat_of(m);
  const bool lip = m.host.form == WallForm::open_lip;
  const Length across = lip ? (m.host.lip_root_inboard ? flat.inboard : flat.outboard)
                            : Length(0.5 * (flat.inboard + flat.outboard));
  const Length below = lip ? Length{} : Length(0.5 * m.host.bar->depth);
  return load.moment.x() - across * load.force.z() - below * load.force.y();
}

Angle bar_turn(const Host& h, Moment torque) {
  const Stress shear_modulus = h.metal.modulus / (2 * (1 + poisson));
  const double angle =
      torque * h.bar->between_ties / (4.0 * shear_modulus * bar_torsion(h).torsion);
  return std::abs(angle) * si::radian;
}

}  // namespace thole
