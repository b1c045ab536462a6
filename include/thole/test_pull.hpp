#pragma once

/// The test pull on the trailer: where, which way, how hard, how far it should move; and whether
/// what was measured agrees with the model.

#include <optional>
#include <string>
#include <vector>

#include <thole/assessment.hpp>
#include <thole/setup.hpp>

namespace thole {

/// One pull by hand with a scale.
struct TestPullStep {
  std::string gear;
  std::string toward;  ///< word of the file: "astern", "outboard", "down" ...
  Direction<Boat> way{Eigen::Vector3d(0, 0, -1)};
  std::optional<Angle> boom;  ///< where its boom points meanwhile
  Force pull{};
  std::string hook_at;   ///< "at the boom tip"
  std::string watch_at;  ///< where to hold the tape, and which way it counts
  Length least{};        ///< movement expected there, over the ends of what is not known
  Length most{};
  bool rough = false;  ///< too uncertain to judge by: `most` is an upper end only
  std::vector<std::string> look_for;
};

struct TestPullCard {
  std::string none_because;  ///< not empty: there is no test pull, and why
  std::vector<TestPullStep> steps;
  std::vector<std::string> before;  ///< what to do first: trailer, nobody in line, weights off
  std::vector<std::string> after;   ///< what to look at, in order
  std::vector<std::string> stop;    ///< when to let go at once and not use it
};

enum class Agreement {
  agrees,
  stiffer,     ///< moves less than the stiffest of the model
  softer,      ///< moves more than the softest
  came_short,  ///< did not come back: something slipped, bent or crushed
  cannot_say,
};
[[nodiscard]] std::string_view word_for(Agreement a);

struct TestPullAnswer {
  TestPull measured;
  Agreement agreement = Agreement::cannot_say;
  Length least{};  ///< expected under the pull that was measured
  Length most{};
  std::string words;  ///< one sentence: what it means and what to do
};

/// Source:   `assess`; movements from the stiffnesses that it takes, at both ends of their ranges.
/// Valid:    pulls by hand, boat on its trailer. Accuracy: that of the guesses of stiffness, a
///           factor of three either way.
/// Throws DomainError as `assess`.
[[nodiscard]] TestPullCard test_pull_card(const Setup& setup, const Assessment& assessment);
/// Each of `Setup::test_pulls` against the model. Throws DomainError as `assess`.
[[nodiscard]] std::vector<TestPullAnswer> judge_test_pulls(const Setup& setup,
                                                           const Assessment& assessment);

}  // namespace thole
