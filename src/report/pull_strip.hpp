#pragma once

/// The pull ruler across a printed page. Private to the reports.

#include <vector>

#include "report/pictures.hpp"
#include "report/pull_items.hpp"

namespace thole::ruler {

/// One picture, or two of half the height; of more unlike gears the worst one only, and it is said.
[[nodiscard]] std::vector<pictures::Picture> across_paper(const Setup& s,
                                                          const std::vector<Ruler>& all);

}  // namespace thole::ruler
