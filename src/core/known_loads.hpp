#pragma once

/// What an engine derives from gear and boat alone, for many mounts under the same gear. Private to
/// the core.

#include <vector>

#include <thole/fatigue.hpp>
#include <thole/loads.hpp>
#include <thole/towed_line.hpp>

namespace thole {

struct KnownLoads {
  std::vector<LoadCase> cases;    ///< `load_cases`
  std::vector<LoadCase> listed;   ///< `listed_cases`; empty without edits by the owner
  std::vector<PullRange> towing;  ///< `trolling_pull` of each gear
  FatigueLife life;               ///< `fatigue_life_of`
};

/// Throws DomainError as `load_cases`.
[[nodiscard]] KnownLoads known_loads(const Setup& setup);

}  // namespace thole
