#pragma once

/// Where a gear is pulled, from the middle of its foot. Private to the core.

#include <cstddef>
#include <optional>

#include <thole/loads.hpp>

namespace thole::parts {

/// Position of the boom of a gear by its index in a load; nothing for a gear without one.
[[nodiscard]] inline std::optional<Downrigger::Position> boom_at(const Gear& gear,
                                                                 std::size_t index, bool stowed) {
  if (!gear.downrigger) return std::nullopt;
  const Downrigger& d = *gear.downrigger;
  if (!stowed) return d.position(index % d.positions());
  const std::vector<Angle>& away = stowed_angles(d);
  return Downrigger::Position{away[index % away.size()], Angle{}};
}

/// The tip of its boom, the rim of its tube or the point that is pulled.
[[nodiscard]] inline Position<Base> tip_of(const Gear& gear, std::size_t index, bool stowed) {
  if (gear.plain_load) return gear.plain_load->at;
  if (gear.rod_holder) {
    return {gear.rod_holder->forward, gear.rod_holder->outboard, gear.rod_holder->height};
  }
  Downrigger one = *gear.downrigger;
  const Downrigger::Position p = *boom_at(gear, index, stowed);
  one.boom_angles = {p.azimuth};
  one.boom_raised = {p.raised};
  return boom_tip(one, 0);
}

}  // namespace thole::parts
