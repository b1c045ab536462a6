#pragma once

/// Forces in a cross-board under the hardest load of each case. Private to the core.

#include <optional>

#include <thole/assessment.hpp>

#include "core/board_engine.hpp"

namespace thole::board {

/// The load that is hardest in a case, at the end of the ranges at which it is.
struct Hardest {
  Trial trial;
  int variant = 0;
  double pull = 0;  ///< N
};

/// All of it but the place and words of its `Loading`. Nothing: the board moves as a whole.
[[nodiscard]] std::optional<CaseForces> forces_of(Engine& engine, const Setup& setup,
                                                  const LoadCase& load_case,
                                                  const Hardest& hardest);

}  // namespace thole::board
