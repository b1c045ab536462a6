#pragma once

/// Why a check of a board has no figures, in core and reports alike.

namespace thole::parts {

inline constexpr const char* no_figures = "the board moves as a whole: there are no forces";

}  // namespace thole::parts
