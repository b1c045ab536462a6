#pragma once

/// A cheap look at one of many mounts under the same gear: does it fit, and is there one load that
/// breaks it? Private to the core and to the search for sizes.
///
/// Loads that were hard for one mount are tried first on the next. Each is one that a full
/// assessment of that mount has to consider: a deciding case of its own at its own pull in a
/// direction of its range. So what is ruled out does not depend on which loads are known, and what
/// is not ruled out is left to a full assessment.

#include <optional>
#include <span>
#include <string>
#include <vector>

#include <thole/assessment.hpp>

#include "core/board_engine.hpp"
#include "core/plate_engine.hpp"

namespace thole {

/// The search over directions is good to about 1 %: a mount is ruled out beyond that only.
inline constexpr double surely_fails = 0.99;

/// A load that was hard for some mount.
struct HardLoad {
  enum class Kind {
    breaks,  ///< of a deciding case
    moves,   ///< of a deciding case: the mount moves as a whole, so that it has no hold limit
    limits,  ///< of the hold limit of a gear
    swings,  ///< moves the tip of a boom too far for the model
  };
  Kind kind = Kind::breaks;
  std::size_t load_case = 0;  ///< of a board: of its engine
  // Of a board.
  board::Trial trial;
  int variant = 0;
  bool of_feet = false;
  // Of a plate.
  plate::Setting setting;
  Direction<Boat> way{Eigen::Vector3d(0, 0, -1)};
};

struct Look {
  enum class Result {
    open,  ///< nothing against it is known
    does_not_fit,
    refused,     ///< no verdict is possible
    distance,    ///< a check of distances fails
    breaks,      ///< under one load
    outweighed,  ///< its hold limit is no more than what was asked for
  };
  Result result = Result::open;
  /// Of one that does not fit or is refused, or what gives way. A board that does not fit: which
  /// rule it breaks, the same for all that break it; `validate` has the words.
  std::string why;
  int by = -1;  ///< the load, among those that were given
};

class QuickLook {
 public:
  /// Gear, boat and use are those of every mount that is looked at.
  explicit QuickLook(const Setup& setup);

  /// `breaking` are tried in their order. With `more_than`, mounts whose hold limit is no more are
  /// ruled out by `limiting`.
  [[nodiscard]] Look look(const Setup& mount, std::span<const HardLoad> breaking,
                          std::span<const HardLoad> limiting,
                          const std::optional<Force>& more_than) const;

  /// Loads that are hard for a mount, after its full assessment: those that break it and, with
  /// `limits`, the one that ends the pull of its gear.
  [[nodiscard]] std::vector<HardLoad> hard_loads(const Setup& mount, const Assessment& assessment,
                                                 Angle step, bool limits) const;

 private:
  [[nodiscard]] Look look_at_board(const Setup& mount, std::span<const HardLoad> breaking,
                                   std::span<const HardLoad> limiting,
                                   const std::optional<Force>& more_than) const;
  [[nodiscard]] Look look_at_plate(const Setup& mount, std::span<const HardLoad> breaking,
                                   std::span<const HardLoad> limiting,
                                   const std::optional<Force>& more_than) const;
  [[nodiscard]] std::vector<HardLoad> hard_for_board(const Setup& mount, const Assessment& a,
                                                     Angle step, bool limits) const;
  [[nodiscard]] std::vector<HardLoad> hard_for_plate(const Setup& mount, const Assessment& a,
                                                     Angle step, bool limits) const;

  KnownLoads known_;
  bool wall_assumed_ = false;  ///< of a plate: near its limit there is no verdict
  std::vector<std::string> refusals_;
};

}  // namespace thole
