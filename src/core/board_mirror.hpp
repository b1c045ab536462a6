#pragma once

/// Boards that are the same from port as from starboard: what a load does on one side, its mirror
/// image does on the other, so that one of the two is enough. Private to the core.

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

#include <thole/loads.hpp>

#include "core/board_engine.hpp"

namespace thole::board {

class Mirror {
 public:
  /// Nothing where ledges, overhangs, hold-downs, legs, gear or load cases differ in anything from
  /// side to side, where there are several downriggers on a side, or the owner edited the cases.
  [[nodiscard]] static std::optional<Mirror> of(const Setup& setup,
                                                const std::vector<LoadCase>& cases);

  [[nodiscard]] int gear(int i) const { return gear_[std::size_t(i)]; }
  /// The case of the gear on the other side; itself where it is about no gear or all of them.
  [[nodiscard]] std::size_t load_case(std::size_t i) const { return case_[i]; }
  [[nodiscard]] Trial image(const Trial& t) const;
  /// Of two loads of one case that are each other's image: the one that may be passed over.
  [[nodiscard]] static bool repeats(const LoadCase& c, const Trial& t);
  /// Words with port for starboard.
  [[nodiscard]] static std::string image(const std::string& words);

 private:
  std::vector<int> gear_;
  std::vector<std::size_t> case_;
};

}  // namespace thole::board
