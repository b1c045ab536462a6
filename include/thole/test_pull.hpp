#pragma once

/// The test pull on the trailer: where, which way, how hard, how far it should move; and whether
/// what was measured agrees with the model.

#include <array>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include <thole/assessment.hpp>
#include <thole/setup.hpp>

namespace thole {

/// Words for the way of a test pull, as in the file. Each stands for the shallowest pull that way
/// which a load case of the gear has.
inline constexpr std::array<std::string_view, 5> test_pull_ways{"astern", "outboard", "down",
                                                                "inboard", "ahead"};

/// One pull by hand with a scale.
struct TestPullStep {
  std::string gear;
  std::string toward;  ///< word of the file: "astern", "outboard", "down" ...
  Direction<Boat> way{Eigen::Vector3d(0, 0, -1)};
  std::optional<Angle> boom;    ///< where its boom points meanwhile
  std::optional<Angle> raised;  ///< of its boom above level
  Force pull{};
  std::string hook_at;   ///< "a loop of cord round the boom tip"
  std::string watch_at;  ///< where to hold the tape, and which way it counts
  Length least{};        ///< movement expected there, over the ends of what is not known
  Length most{};
  bool rough = false;       ///< too uncertain to judge by: `most` is an upper end only
  bool wall_gives = false;  ///< a plate: the wall gives as well, nobody knows how far; then `least`
                            ///< and `most` are the base on its bed alone and bound nothing
  std::vector<std::string> look_for;
};

struct TestPullCard {
  std::string none_because;       ///< not empty: there is no test pull, and why
  std::vector<std::string> none;  ///< the same of single gears: "port rod: ..."
  std::string of_the_verdict;     ///< what the pull does not make of a verdict that is not `holds`
  std::vector<TestPullStep> steps;  ///< gear by gear
  std::vector<std::string> before;  ///< what to do first: trailer, nobody in line, weights off
  std::vector<std::string> during;  ///< how to raise it and what to read
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
  std::string words;  ///< what it means and what to do
};

/// The test pull of one gear: 1.25 x the lower of the settings that mount and boat allow, and never
/// above 0.6 of the pull at which the first item goes. Nothing where no setting is of use.
/// Source: judgement. Throws nothing.
[[nodiscard]] std::optional<Force> test_pull_of(const Assessment& assessment,
                                                const GearLimit& limit);

/// Source:   `assess`; movements from the stiffnesses that it takes, at both ends of their ranges.
/// Valid:    pulls by hand, boat on its trailer. Accuracy: that of the guesses of stiffness, a
///           factor of three either way. In each direction the pull is lowered until nothing goes
///           below it over 0.6.
/// Throws DomainError as `assess`.
[[nodiscard]] TestPullCard test_pull_card(const Setup& setup, const Assessment& assessment);
/// Each of `Setup::test_pulls` against the model. It changes no verdict.
/// Source:   judgement: a tape read to 1 mm, a scale to 5 %; it came back when no more than a tenth
///           of the movement or 0.5 mm stayed, whichever is more.
/// Valid, Accuracy: as `test_pull_card`. Throws DomainError as `assess`.
[[nodiscard]] std::vector<TestPullAnswer> judge_test_pulls(const Setup& setup,
                                                           const Assessment& assessment);

}  // namespace thole
