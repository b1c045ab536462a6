#pragma once

/// The list of load cases and the owner's edits of it. Private to the core.

#include <vector>

#include <thole/loads.hpp>

namespace thole::load_list {

/// Running with a peak on top of gravity: down and rebound, each with side and fore-and-aft.
[[nodiscard]] std::vector<Shake> running_shakes(double peak);
/// The one that a list of shakes of `running_shakes` was made with.
[[nodiscard]] double peak_of(const LoadCase& c);

/// A pull that the owner sets or a line carries: at the tip, on the line or at the point of a load.
[[nodiscard]] bool is_a_pull(LoadPath path);

/// Directions of a hung-up ball, of a fish, of a hand.
[[nodiscard]] std::vector<DirectionRange> hung_up();
[[nodiscard]] DirectionRange strike_cone();
[[nodiscard]] DirectionRange every_way();
/// The range about all of them.
[[nodiscard]] DirectionRange about(const std::vector<DirectionRange>& parts);

/// Does the slip of its brake count as what lets go? It was measured, and it is no less than the
/// towed pull in waves: one that lets go below that never carried the ball.
[[nodiscard]] bool slip_counts(const Setup& s, const Downrigger& gear);

/// Pull at which a brake has let go for certain: 1.5 x its slip, never below twice the ball, which
/// it must carry.
[[nodiscard]] Force slip_bound(const Downrigger& gear);

/// Pull of a rod while it runs: 1.5 x the running pull for waves, no more than drag, line or weak
/// link let by.
[[nodiscard]] Force running_pull(const RodHolder& rod);

void apply_edits(const Setup& s, std::vector<LoadCase>& cases);

}  // namespace thole::load_list
