#include <thole/metal_strength.hpp>

#include <algorithm>
#include <cmath>
#include <numbers>

#include <thole/error.hpp>

// Departures from the documents, in one place:
// - pull-out: the blend below two threads and the 0.9 are this project's (see the header).
// - pull-over: the lower of two editions; the washer counts up to 5/8 in as in the manual.
// - yield lines: an upper bound by kind for held edges; there `held_pull` stands in their place.

namespace thole {

using namespace literals;

namespace {
constexpr double pi = std::numbers::pi;
// The manual's limits in inches; its metric text rounds them (2, 3, 6.3 mm), the inch text governs.
const Length ks_step = 0.080_in;
const Length range_1_end = 0.125_in;
const Length range_3_start = 0.25_in;

// Commercial "0.080" sheet may measure less: only a hair is forgiven, for rounding of units.
bool below(Length a, Length limit) { return a.value() < limit.value() * (1 - 1e-9); }

double ks(Length engagement) { return below(engagement, ks_step) ? 1.01 : 1.20; }
}  // namespace

Force manual_pull_out_tapped(Length d, Length strip, Length le, const Metal& wall) {
  if (le <= range_1_end) return ks(le) * d * le * wall.yield;
  if (below(le, range_3_start)) {
    return 1.2 * d * wall.yield * (range_3_start - le) +
           1.16 * strip * wall.ultimate * (le - range_1_end);
  }
  return 0.58 * strip * le * wall.ultimate;
}

Force manual_pull_out_spaced(Length d, Length pitch, Length le, const Metal& wall) {
  if (le <= 2.0 * pitch) return ks(le) * d * le * wall.yield;
  if (le < 4.0 * pitch) {
    return 1.2 * d * wall.yield * (4.0 * pitch - le) +
           3.26 * d * wall.ultimate * (le - 2.0 * pitch);
  }
  return 1.63 * d * le * wall.ultimate;
}

Force thread_strip(Length strip_area_per_length, Length engagement, Stress shear) {
  return strip_area_per_length * engagement * shear;
}

namespace {

// The manual's figure, reduced below two threads; the range is set there.
Force blended(PullOut& out, Length d, Length le, const Metal& wall) {
  if (out.threads < 1) {
    out.range = PullOutRange::below_one_thread;
    return std::min<Force>(out.manual, 0.45 * d * le * wall.ultimate);
  }
  if (out.threads >= 2) return out.manual;
  // The lower anchor grows with the wall, so that a thicker wall never loses strength here.
  out.range = PullOutRange::one_to_two;
  const Force at_one = std::min<Force>(out.manual, 0.65 * d * le * wall.ultimate);
  return at_one + (out.threads - 1.0) * (out.manual - at_one);
}

bool beyond_tests(Length d, Length le) {
  constexpr double hair = 1e-9;
  return d < (1 - hair) * 0.164_in || d > (1 + hair) * 0.25_in || le > (1 + hair) * 0.375_in;
}

}  // namespace

PullOut thin_wall_pull_out(const Thread& thread, Length le, const Metal& wall, Stress screw_shear) {
  if (!(le.value() > 0)) throw DomainError("the thread engagement must be above zero");
  const Length d = thread.diameter;
  const Length strip = internal_strip_area_per_length(thread);
  PullOut out;
  out.threads = threads_engaged(thread, le);
  out.manual = manual_pull_out_tapped(d, strip, le, wall);
  Force r = blended(out, d, le, wall);
  if (out.threads >= 2 && le > range_1_end) {
    out.range = below(le, range_3_start) ? PullOutRange::transition : PullOutRange::full_threads;
  }
  if (out.range == PullOutRange::full_threads) {
    r = std::min({r, thread_strip(strip, le, wall.shear_ultimate),
                  thread_strip(external_strip_area_per_length(thread), le, screw_shear)});
  }
  out.strength = 0.9 * r;
  out.extrapolated = beyond_tests(d, le);
  out.below_scope = below(le, 0.060_in);
  return out;
}

PullOut spaced_pull_out(const Thread& thread, Length le, const Metal& wall) {
  if (!(le.value() > 0)) throw DomainError("the thread engagement must be above zero");
  const Length d = thread.diameter;
  PullOut out;
  out.threads = threads_engaged(thread, le);
  out.manual = manual_pull_out_spaced(d, thread.pitch, le, wall);
  const Force r = blended(out, d, le, wall);
  if (out.threads >= 2 && le > 2.0 * thread.pitch) {
    out.range = out.threads < 4 ? PullOutRange::transition : PullOutRange::full_threads;
  }
  out.strength = 0.9 * r;
  out.extrapolated = beyond_tests(d, le);
  out.below_scope = below(le, 0.038_in);
  return out;
}

Force coil_insert_pull_out(const Thread& thread, Length length, Length metal_depth,
                           const Metal& metal, Stress screw_shear) {
  const Length strip = std::min<Length>(0.9 * insert_strip_area_per_length(thread),
                                        2.95 * tensile_stress_area(thread) / thread.diameter);
  const Force by_area = thread_strip(strip, std::min(length, metal_depth), metal.shear_ultimate);
  if (!below(metal_depth, range_3_start)) return by_area;
  return std::min(by_area, thin_wall_pull_out(thread, metal_depth, metal, screw_shear).strength);
}

Force tilting(Length d, Length t, const Metal& metal) {
  return 4.2 * t * std::sqrt(t / d) * d * metal.ultimate;
}

PullOver pull_over(Length t, Length dw, Length hole, const Metal& metal) {
  const Length counted = std::min(dw, 5.0 / 8.0 * 1.0_in);
  PullOver out;
  out.older_form = t * metal.ultimate * std::max(counted - hole, Length{});
  const double ratio = t / counted;
  out.newer_form = (ratio > 0.5 ? 1.85 : 1.0 + 1.7 * ratio) * counted * t * metal.yield;
  out.strength = std::min(out.older_form, out.newer_form);
  return out;
}

Force bearing(Length d, Length t, Length edge, const Metal& metal) {
  return std::min(std::max(edge, Length{}), 2.0 * d) * t * metal.ultimate;
}

Force tear_out(Length d, Length t, Length edge, const Metal& metal) {
  return metal.shear_ultimate * 2.0 * t * std::max(edge - 0.5 * d, Length{});
}

NetSection net_section(Length width, Length t, int holes, Length hole, const Metal& metal) {
  if (holes < 0) throw DomainError("a part cannot have fewer than no holes");
  const Length left = std::max(width - double(holes) * hole, Length{});
  return {metal.yield * width * t, metal.ultimate * left * t};
}

Force block_shear(const BlockAreas& a, const Metal& metal) {
  if (!(a.net_shear.value() >= 0 && a.net_tension.value() >= 0 && a.net_shear <= a.gross_shear &&
        a.net_tension <= a.gross_tension)) {
    throw DomainError("net areas lie between zero and the gross areas");
  }
  const Force tears = metal.ultimate * a.net_tension;
  const Force shears = metal.shear_ultimate * a.net_shear;
  const Force form = tears >= shears ? metal.yield / std::numbers::sqrt3 * a.gross_shear + tears
                                     : shears + metal.yield * a.gross_tension;
  return std::min(form, shears + tears);
}

MomentPerWidth plate_moment(Length t, const Metal& metal) { return 0.25 * metal.yield * t * t; }

namespace {

double boss_over_support(Length boss, Length support) {
  if (!(boss.value() >= 0 && boss < support)) {
    throw DomainError("the boss must be smaller than the circle that supports the wall");
  }
  return boss / support;
}

}  // namespace

Force fan_pull(MomentPerWidth mp, Length boss, Length support, bool edges_held) {
  return (edges_held ? 4.0 : 2.0) * pi * mp / (1.0 - boss_over_support(boss, support));
}

Force held_pull(MomentPerWidth mp, Length boss, Length a, Length c) {
  const auto side = [&](Length support) {
    const double x = std::min(boss_over_support(boss, support), 0.6);
    return std::min({9.9, 8.0 + 20.0 * x, 9.9 - 4.75 * (x - 0.5)}) / (1.0 - x);
  };
  return 0.5 * (side(a) + side(c)) * mp;
}

Force row_pull(MomentPerWidth mp, const PulledRow& r, bool edges_held) {
  const Force ends = edges_held ? held_pull(mp, r.boss, r.a, r.c)
                                : fan_pull(mp, r.boss, std::max(r.a, r.c), false);
  const auto strip = [&](Length support) {
    return double(r.row / (support - r.tied)) * (edges_held ? 2.0 : 1.0) * mp;
  };
  return ends + strip(r.a) + strip(r.c);
}

double lip_root_moment(double x) {
  // Points of the Fourier solution; linear between them, which lies above the concave curve's
  // chord error by under 0.01.
  constexpr double at[] = {0.0, 0.25, 0.5, 0.75, 1.0};
  constexpr double m[] = {1 / std::numbers::pi, 0.3325, 0.3708, 0.4311, 0.5147};
  if (!(x > 0)) return m[0];
  if (x >= 1) return m[4];
  const int i = std::min(3, int(x * 4));
  return m[i] + (m[i + 1] - m[i]) * (x - at[i]) / 0.25;
}

double prying_bound(Length b, Length a, Length d) {
  const Length inner = std::max(b - 0.5 * d, Length{});
  const Length outer = std::min(a, 1.25 * b) + 0.5 * d;
  if (!(outer.value() > 0)) return 1;
  // delta = alpha = 1: Q/T = (b'/a') / 2.
  return 1 + 0.5 * (inner / outer);
}

BaseFlex flexible_base_factor(Length t, Stress modulus, Length b, Length a, Length d,
                              BedStiffness bed) {
  constexpr double nu = 0.33;
  const double rigidity = modulus.value() * std::pow(t.value(), 3) / (12 * (1 - nu * nu));  // N m
  const double length = std::pow(4 * rigidity / bed.value(), 0.25);
  const double ratio = std::max(0.0, b.value()) / length;
  const double grown = 1 + 0.12 * std::pow(ratio, 5.5);
  const double bound = prying_bound(b, a, d);
  // Near-rigid bases never gain from a small bound.
  if (grown >= bound) return {std::max(1.0, bound), true};
  return {grown, false};
}

namespace {

struct Lever {
  Length b, a;  // b', a'
  double delta = 0;
  Moment yields;  // bending strength of the leg on one bolt's width
};

Lever lever_of(const PryingLeg& leg, const Metal& metal, double omega) {
  Lever out;
  out.b = leg.bolt_to_face - 0.5 * leg.bolt;
  out.a = std::min(leg.bolt_to_edge, 1.25 * leg.bolt_to_face) + 0.5 * leg.bolt;
  out.delta = 1 - leg.hole / leg.tributary;
  if (!(leg.thickness.value() > 0) || !(out.b.value() > 0) || !(out.a.value() > 0) ||
      !(out.delta > 0) || !(omega > 0)) {
    throw DomainError("a pried leg needs a thickness, room beside its bolt and a hole below p");
  }
  out.yields = plate_moment(leg.thickness, metal) * leg.tributary / omega;
  return out;
}

}  // namespace

Prying prying_of(const PryingLeg& leg, const Metal& metal, Force bolt, double omega) {
  const Lever l = lever_of(leg, metal, omega);
  if (!(bolt.value() > 0)) throw DomainError("the strength of a bolt must be above zero");
  const double slender = bolt * l.b / l.yields;  // (tc / t)^2
  Prying out;
  out.rigid_thickness = std::sqrt(slender) * leg.thickness;
  out.alpha_wanted = (slender - 1) / (l.delta * (1 + l.b / l.a));
  out.alpha = std::clamp(out.alpha_wanted, 0.0, 1.0);
  out.pull = std::min(bolt, bolt / slender * (1 + l.delta * out.alpha));
  out.prying = l.delta * out.alpha * l.yields / l.a;
  return out;
}

Force prying_under(const PryingLeg& leg, const Metal& metal, Force pull, double omega) {
  const Lever l = lever_of(leg, metal, omega);
  const double alpha = std::clamp((pull * l.b / l.yields - 1) / l.delta, 0.0, 1.0);
  return l.delta * alpha * l.yields / l.a;
}

}  // namespace thole
