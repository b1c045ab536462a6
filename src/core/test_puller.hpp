#pragma once

/// Chooses the pulls of the test on the trailer. Private to the core.

#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include <thole/test_pull.hpp>

#include "core/pulled_mount.hpp"

namespace thole {

class TestPuller {
 public:
  /// Both must outlive it. Throws DomainError as `assess`.
  TestPuller(const Setup& setup, const Assessment& assessment);

  /// Way of a word of `test_pull_ways`; nothing where no load case pulls that way.
  [[nodiscard]] std::optional<Direction<Boat>> way(std::size_t gear, std::string_view word) const;
  /// With its boom where the pull is worst, or at that angle.
  [[nodiscard]] HandPull hardest(std::size_t gear, const Direction<Boat>& way, Force pull,
                                 const std::optional<Angle>& boom);
  /// Lowers it until nothing goes below it over 0.6.
  void lower(HandPull& p);
  /// One of each of the everyday kinds, and another way where that is worse than all of them.
  [[nodiscard]] std::vector<TestPullStep> steps(std::size_t gear, Force pull);
  /// The test pull of a gear as the verdict leaves it.
  [[nodiscard]] std::optional<Force> pull_of(std::size_t gear) const;
  [[nodiscard]] const GearLimit* limit_of(const std::string& gear) const;
  [[nodiscard]] PulledMount& mount() { return *mount_; }
  [[nodiscard]] std::string how_to_watch() const { return mount_->how_to_watch(); }

 private:
  [[nodiscard]] std::optional<TestPullStep> step(std::size_t gear, std::string_view word,
                                                 Force pull, double& factor);

  const Setup& setup_;
  const Assessment& assessment_;
  std::unique_ptr<PulledMount> mount_;
  std::vector<std::vector<DirectionRange>> ranges_;  ///< of each gear
};

}  // namespace thole
