#pragma once

/// Sentences that every report shares. Private to the core.

#include <string>

#include <thole/assessment.hpp>

namespace thole::wording {

/// "[x] DOES NOT HOLD": a mark and words, so that colour only repeats them.
[[nodiscard]] std::string headline(Verdict v);
inline constexpr const char* deferral =
    "Have a marine professional (surveyor, boatbuilder, yard) look at the boat before you drill or "
    "rely on this: a calculation is not an inspection.";
inline constexpr const char* scope =
    "Checks listed, at the loads you entered, for a sound wall as described.";

}  // namespace thole::wording
