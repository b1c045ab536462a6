#pragma once

/// Sentences that every report shares. Private to the core.

#include <cmath>
#include <string>
#include <vector>

#include <thole/assessment.hpp>

#include "core/no_figures.hpp"

namespace thole::wording {

/// Which thole, which tables, whose mount: begins every report on a terminal, on two lines where
/// the title is long.
[[nodiscard]] std::string first_line(const std::string& title);
/// "[x] DOES NOT HOLD": a mark and words, so that colour only repeats them.
[[nodiscard]] std::string headline(Verdict v);
inline constexpr const char* deferral =
    "Have a marine professional (surveyor, boatbuilder, yard) look at the boat before you drill or "
    "rely on this: a calculation is not an inspection.";
inline constexpr const char* scope =
    "Checks listed, at the loads you entered, for a sound wall as described.";
inline constexpr const char* board_scope =
    "Checks listed, at the loads you entered, for a sound board, ledges and hull as described.";
using parts::no_figures;

/// A check of distances, which needs no forces.
[[nodiscard]] inline bool of_distances(const CheckResult& c) {
  return c.case_title.empty() && std::isfinite(c.factor);
}
/// Left out by the owner, or a warning only: there are no figures.
[[nodiscard]] inline bool not_calculated(const LoadCase& c) {
  return c.left_out || c.path == LoadPath::warning;
}
/// Where the pull comes from, one text for each part; nothing for a case without a pull.
[[nodiscard]] std::vector<std::string> directions_of(const LoadCase& c);
/// Greatest vertical acceleration of a ride on top of gravity, in g.
[[nodiscard]] double peak_of(const LoadCase& c);
/// "wires part" for "wire parts": a link that several gears have alike.
[[nodiscard]] std::string of_several(const std::string& link);

}  // namespace thole::wording
