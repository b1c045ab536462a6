#pragma once

/// Flat metal pieces of a mount for its drawings. Private to the reports.

#include <cstddef>
#include <string>
#include <vector>

#include <thole/sheet.hpp>

namespace thole::plates_made {

/// The patterns of pieces that are made; none when there is no verdict.
[[nodiscard]] std::vector<HoleSet> of(const SheetContent& content);

struct Box {
  PlanPoint low, high;
};
[[nodiscard]] Box box_of(const HoleSet& set);

/// Lines of at most `most` characters.
[[nodiscard]] std::vector<std::string> broken(const std::vector<std::string>& lines,
                                              std::size_t most);

}  // namespace thole::plates_made
