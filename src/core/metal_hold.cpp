#include "core/metal_hold.hpp"

#include <algorithm>
#include <numbers>

#include "core/geometry.hpp"

namespace thole {

bool is_tapped(const Fastening& f) {
  return f.hold == HoldBy::tapped || f.hold == HoldBy::tapped_bar || f.hold == HoldBy::self_tapping;
}

PullOut pull_out_of(const Fastening& f, const Host& h) {
  const Length depth = geometry::thread_depth(f, h);
  const Metal& metal = geometry::threaded_metal(f, h);
  return is_spaced(f.thread)
             ? spaced_pull_out(f.thread, depth, metal)
             : thin_wall_pull_out(f.thread, depth, metal, f.material.shear_ultimate);
}

std::optional<Force> held_in_metal(const Fastening& f, const Host& h) {
  if (f.insert) {
    const std::optional<GivenForce>& given = f.insert->pull_out;
    if (f.insert->solid) {
      // No more than it takes to shear out all the metal round it.
      if (!given) return std::nullopt;
      const Length deep = std::min(f.insert->length, geometry::thread_depth(f, h));
      return std::min<Force>(given->value,
                             thread_strip(std::numbers::pi * geometry::widest_hole(f), deep,
                                          geometry::threaded_metal(f, h).shear_ultimate));
    }
    const Force coil =
        coil_insert_pull_out(f.thread, f.insert->length, geometry::thread_depth(f, h),
                             geometry::threaded_metal(f, h), f.material.shear_ultimate);
    return given ? std::min(coil, given->value) : coil;
  }
  if (f.blind) {
    // No more than it takes to draw the bulb through its hole.
    if (!f.blind->pull_out) return std::nullopt;
    return std::min(f.blind->pull_out->value,
                    pull_over(h.thickness, f.blind->bulb, f.blind->hole, h.metal).strength);
  }
  if (!is_tapped(f)) return std::nullopt;
  return pull_out_of(f, h).strength;
}

std::optional<Force> insert_thread_strength(const BlindInsert& b) {
  std::optional<Force> out = b.like.thread_proof;
  if (b.thread_holds && (!out || b.thread_holds->value < *out)) out = b.thread_holds->value;
  return out;
}

}  // namespace thole
