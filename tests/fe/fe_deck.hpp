#pragma once

/// A rectangular board on its supports as a solid model for CalculiX: the deck, the run, the
/// answer. Shares with the frame only beam, supports and load points; the mechanics is CalculiX's.
///
/// Solid:    C3D20R, grain along the board, across it twenty times as stiff, Poisson's ratio zero:
///           a section that keeps its shape, as the frame has it, but free to warp.
/// Contacts: a spring from the node at the support's place to a held node far along the push, with
///           a table of force against length (zero beyond the gap).
/// Loads:    a wrench on a section as tractions t = a + b x r with its resultant; they do no work
///           on the warping of a rectangle. Movement of a section: conjugate to these tractions.

#include <filesystem>
#include <string>
#include <vector>

#include <Eigen/Core>

#include <thole/board_frame.hpp>

namespace thole::fe {

struct Mesh {
  double step = 0.025;  ///< m, largest element along and across the board
  int layers = 2;       ///< least number through the thickness
};

/// A node that takes part in a wrench on a section, and with how much of each of its components.
struct Share {
  int node = 0;
  Eigen::Matrix<double, 3, 6> of;
};

/// Lengths in the text are mm; everything else here is SI.
struct Deck {
  std::string text;
  std::vector<Support> supports;
  std::vector<int> support_nodes;
  std::vector<std::vector<Share>> points;  ///< of each load point: shares of unit wrenches
  Eigen::Matrix<double, 6, 1> applied;     ///< resultant of loads and weight about the origin
  int elements = 0;
};

/// Throws std::runtime_error for a section that is not a full rectangle.
[[nodiscard]] Deck write_deck(const BeamProperties& beam, const std::vector<Support>& supports,
                              const std::vector<LoadPoint>& points,
                              const std::vector<PointLoad>& loads, const Mesh& mesh = {});

struct Solid {
  std::vector<double> forces;    ///< of the supports, in their order
  std::vector<double> openings;  ///< of the one-way supports, below zero: pressed
  std::vector<PointMotion> points;
  double unbalanced = 0;  ///< force left over when all supports are summed, over the load
  double seconds = 0;     ///< wall time of the run
};

/// The program: $THOLE_CCX, or the first ccx on the path; empty: none.
[[nodiscard]] std::string find_ccx();

/// Runs the deck in `folder` on one thread. Throws std::runtime_error when it does not converge.
[[nodiscard]] Solid run_ccx(const Deck& deck, const std::filesystem::path& folder);

/// Wall time of one run, for comparisons of speed.
[[nodiscard]] double seconds_of_ccx(const Deck& deck, const std::filesystem::path& folder);

}  // namespace thole::fe
