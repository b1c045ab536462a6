#pragma once

/// Words for a rigid motion of a board. Private to the core.

#include <string>

#include <Eigen/Core>

namespace thole {

struct MotionWords {
  std::string motion;
  std::string remedy;
};

/// `motion`: translation of the origin, rotation (about x along the board to starboard, y forward,
/// z up), at any scale; SI numbers.
[[nodiscard]] MotionWords describe_motion(const Eigen::Matrix<double, 6, 1>& motion, double length,
                                          double width);

}  // namespace thole
