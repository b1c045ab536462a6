#include <thole/fatigue.hpp>

#include <cmath>
#include <limits>

#include <thole/error.hpp>

namespace thole {

using namespace literals;

const FatigueCurve& fatigue_curve(FatigueDetail detail) {
  // Category 50: 50 MPa at 2e6 cycles, slope 3; 0.737 of that at 5e6.
  static const std::array<FatigueCurve, fatigue_details> curves{
      FatigueCurve{"A", 96.5_ksi, 6.85, 10.2_ksi, Seen::memory},
      FatigueCurve{"B", 130.0_ksi, 4.84, 5.4_ksi, Seen::page},
      FatigueCurve{"C", 278.0_ksi, 3.64, 4.0_ksi, Seen::page},
      FatigueCurve{"D", 157.0_ksi, 3.73, 2.5_ksi, Seen::memory},
      FatigueCurve{"E", 160.0_ksi, 3.45, 1.8_ksi, Seen::memory},
      FatigueCurve{"F", 174.0_ksi, 3.42, 1.9_ksi, Seen::memory},
      FatigueCurve{"50", std::cbrt(2e6) * 50.0_MPa, 3, 36.8_MPa, Seen::copy}};
  return curves[std::size_t(detail)];
}

Stress fatigue_range(FatigueDetail detail, double cycles) {
  if (!(cycles >= 1)) throw DomainError("fatigue: at least one cycle is expected");
  const FatigueCurve& c = fatigue_curve(detail);
  return std::pow(cycles, -1 / c.slope) * c.at_one_cycle;
}

double fatigue_cycles(FatigueDetail detail, Stress range) {
  if (!(range.value() > 0)) return std::numeric_limits<double>::infinity();
  const FatigueCurve& c = fatigue_curve(detail);
  return std::pow(c.at_one_cycle / range, c.slope);
}

double miner_sum(FatigueDetail detail, std::span<const RangeCount> ranges) {
  double sum = 0;
  for (const RangeCount& r : ranges) sum += r.cycles / fatigue_cycles(detail, r.range);
  return sum;
}

Stress equivalent_range(FatigueDetail detail, std::span<const RangeCount> ranges) {
  const double m = fatigue_curve(detail).slope;
  double cycles = 0;
  double sum = 0;
  for (const RangeCount& r : ranges) {
    cycles += r.cycles;
    sum += r.cycles * std::pow(r.range.value(), m);
  }
  if (!(cycles > 0)) throw DomainError("fatigue: no cycles");
  return std::pow(sum / cycles, 1 / m) * si::pascal;
}

Stress smooth_6061_mean_amplitude(double cycles) {
  if (!(cycles >= 1)) throw DomainError("fatigue: at least one cycle is expected");
  return (2.1e6 / std::sqrt(cycles) + 14000) * 1.0_psi;
}

}  // namespace thole
