#pragma once

/// What to look at, for every failure mode. Private to the reports.

#include <string_view>

namespace thole::cards {

/// What an eye or a hand finds before the part goes. All of it: common practice, no source.
struct Look {
  std::string_view what;    ///< "threads in the metal"
  std::string_view how;     ///< what to do and what shows
  std::string_view when;    ///< "before each trip", "each month", "each season"
  std::string_view reject;  ///< what ends its use
};

/// Of a mode of either catalogue. Throws InternalError for an id without a text.
[[nodiscard]] const Look& look_for(std::string_view mode);

}  // namespace thole::cards
