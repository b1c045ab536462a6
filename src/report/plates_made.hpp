#pragma once

/// Flat metal pieces of a mount for its drawings. Private to the reports.

#include <vector>

#include <thole/sheet.hpp>

namespace thole::plates_made {

/// The patterns of pieces that are made; none when there is no verdict.
[[nodiscard]] std::vector<HoleSet> of(const SheetContent& content);

struct Box {
  PlanPoint low, high;
};
[[nodiscard]] Box box_of(const HoleSet& set);

}  // namespace thole::plates_made
