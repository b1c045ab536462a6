#pragma once

/// What the two files of fit share. Private to the core.

#include <vector>

#include <thole/fit.hpp>

namespace thole {

/// Worst first; the same whatever the order before.
void sort_rows(std::vector<FitRow>& rows);

}  // namespace thole
