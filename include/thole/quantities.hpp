#pragma once

/// The dimensional vocabulary of thole: one alias per kind of quantity, SI units inside.
///
/// A moment is force x length and has the dimension of energy in Boost.Units; Boost's torque
/// carries a plane angle and is not used. Angles are in radians, by pi/180 exactly as the compiler
/// rounds it (Boost's own degree is off by 7e-14).

#include <boost/units/cmath.hpp>
#include <boost/units/quantity.hpp>
#include <boost/units/systems/si.hpp>
#include <numbers>

namespace thole {

namespace units = boost::units;
namespace si = boost::units::si;

using Dimensionless = double;
using Length = units::quantity<si::length>;
using Area = units::quantity<si::area>;
using Volume = units::quantity<si::volume>;
using Force = units::quantity<si::force>;
using Moment = decltype(Force{} * Length{});
using Stress = units::quantity<si::pressure>;
using Mass = units::quantity<si::mass>;
using Density = units::quantity<si::mass_density>;
using Speed = units::quantity<si::velocity>;
using Acceleration = units::quantity<si::acceleration>;
using Angle = units::quantity<si::plane_angle>;
using LinearStiffness = decltype(Force{} / Length{});        ///< N/m
using BedStiffness = decltype(Stress{} / Length{});          ///< N/m^3: pressure per settlement
using BendingStiffness = decltype(Force{} * Area{});         ///< EI, N m^2
using SecondMoment = decltype(Area{} * Area{});              ///< m^4
using WarpingConstant = decltype(Area{} * Area{} * Area{});  ///< m^6
using Bimoment = decltype(Force{} * Area{});                 ///< N m^2
using LineLoad = decltype(Force{} / Length{});               ///< N/m
using MomentPerWidth = decltype(Moment{} / Length{});        ///< plate moment, N m per m

/// Standard gravity, exact by definition (3rd CGPM 1901; BIPM SI Brochure).
inline const Acceleration standard_gravity = 9.80665 * si::metre_per_second_squared;

/// Radians as a bare number, for trigonometry in kernels.
[[nodiscard]] inline double radians(Angle a) { return a.value(); }
[[nodiscard]] inline Angle degrees(double d) { return d * (std::numbers::pi / 180.0) * si::radian; }
[[nodiscard]] inline double in_degrees(Angle a) { return a.value() * (180.0 / std::numbers::pi); }

/// Literals take decimal points only, so that no integer division can hide in them.
namespace literals {
inline Length operator""_mm(long double v) { return double(v) / 1000.0 * si::metre; }
inline Length operator""_m(long double v) { return double(v) * si::metre; }
inline Length operator""_in(long double v) { return double(v) * 254.0 / 10000.0 * si::metre; }
inline Area operator""_mm2(long double v) { return double(v) / 1e6 * si::square_metre; }
inline Area operator""_in2(long double v) { return double(v) * 0.00064516 * si::square_metre; }
inline Force operator""_N(long double v) { return double(v) * si::newton; }
inline Force operator""_lbf(long double v) { return double(v) * 4.4482216152605 * si::newton; }
inline Stress operator""_MPa(long double v) { return double(v) * 1e6 * si::pascal; }
inline Stress operator""_psi(long double v) {
  return double(v) * (4.4482216152605 / 0.00064516) * si::pascal;
}
inline Stress operator""_ksi(long double v) {
  return double(v) * (4448.2216152605 / 0.00064516) * si::pascal;
}
inline Angle operator""_deg(long double v) { return degrees(double(v)); }
inline Mass operator""_kg(long double v) { return double(v) * si::kilogram; }
}  // namespace literals

}  // namespace thole
