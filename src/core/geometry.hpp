#pragma once

/// Distances on a gunwale plate that several checks need. Private to the core.

#include <limits>

#include <thole/setup.hpp>

namespace thole::geometry {

/// Far away: no edge there.
inline const Length far_away = 1000.0 * si::metre;

/// Edges of the flat of the wall in frame `Base`.
struct Flat {
  Length inboard;   ///< y of the inboard edge (negative)
  Length outboard;  ///< y of the outboard edge
  Length aft;       ///< x
  Length forward;   ///< x
  bool inboard_free = false;
  bool outboard_free = false;
  bool ends_free = false;
};
[[nodiscard]] Flat flat_of(const GunwalePlate& mount);

/// Nearest free edge of the wall; `far_away` where there is none.
[[nodiscard]] Length to_free_wall_edge(const GunwalePlate& mount, const PlanPoint& p);
/// Nearest edge of a convex outline, negative outside.
[[nodiscard]] Length to_outline_edge(const Outline& outline, const PlanPoint& p);
/// Smallest width of a convex outline, square to one of its sides.
[[nodiscard]] Length smallest_width(const Outline& outline);
/// Length of the line n . r = distance inside the outline.
[[nodiscard]] Length chord(const Outline& outline, double nx, double ny, Length distance);
/// Nearest edge of the plate or bar behind the wall, centred under the base.
[[nodiscard]] Length to_backing_edge(const Backing& backing, const PlanPoint& p);
/// Nearest line that supports the wall (bend, root or stiffener).
[[nodiscard]] Length to_support(const GunwalePlate& mount, const PlanPoint& p);
/// The farther one of two supports: the boss helps a fan least against that.
[[nodiscard]] Length to_far_support(const GunwalePlate& mount, const PlanPoint& p);
/// U-bolts or clamps go round something: nothing of the fastening enters the host.
[[nodiscard]] bool is_clasped(const GunwalePlate& mount);
/// The fitting under U-bolts as a mount of its own.
[[nodiscard]] GunwalePlate stand_of(const GunwalePlate& bracket);
/// Where the base can bear: base outline and flat together; of a bracket, each part that finds the
/// host.
[[nodiscard]] std::vector<Outline> bed_of(const GunwalePlate& mount);
/// Threads are in the bar behind the wall, not in the wall.
[[nodiscard]] bool in_bar(const Fastening& f);
/// Of a thread or blind insert the hole for the insert; else as wide as the fastener.
[[nodiscard]] Length widest_hole(const Fastening& f);
/// Metal thickness that holds threads, less half a pitch for a countersink.
[[nodiscard]] Length thread_depth(const Fastening& f, const Host& h);
[[nodiscard]] const Metal& threaded_metal(const Fastening& f, const Host& h);

}  // namespace thole::geometry
