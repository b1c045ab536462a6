#pragma once

/// Forces on the fasteners of a plate under the hardest load of each case. Private to the core.

#include <cstddef>
#include <optional>
#include <vector>

#include <thole/assessment.hpp>

#include "core/plate_engine.hpp"

namespace thole::plate {

/// The load that is hardest in a case, on the bed on which it is.
struct Hardest {
  Setting setting;
  Direction<Boat> way;
  Force pull{};
  std::size_t bed = 0;
};

/// Fills `forces` and `worst_forces`. `hardest`: of each case of the assessment; `worst`: index of
/// the case that holds the worst check under load. Solves each load anew: the engine's own starts
/// stay as they are.
void write_forces(Engine& engine, const Setup& setup,
                  const std::vector<std::optional<Hardest>>& hardest,
                  std::optional<std::size_t> worst, Assessment& out);

}  // namespace thole::plate
