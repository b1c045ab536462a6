#pragma once

/// What goes first, second, third, and what then, in words and as JSON. Texts without line ends;
/// names are the user's own, still to be cleaned. Private to the reports.

#include <string>
#include <vector>

#include <thole/assessment.hpp>

#include "report/json_writer.hpp"

namespace thole::ladder {

/// "drag slips 7 lbf to 14 lbf", "! threads pull out from 14 lbf", ...: all links, and of the mount
/// no more than `items`; a mark where something goes too early.
[[nodiscard]] std::vector<std::string> steps(const Setup& s, const Assessment& a, std::size_t items,
                                             bool details);
/// "drag slips 7 lbf to 14 lbf > ! threads pull out from 14 lbf > ...": the steps.
[[nodiscard]] std::string order(const Setup& s, const Assessment& a, std::size_t items,
                                bool details);
/// "when the first goes: the other three hold to about 90 lbf", of the gear that goes first.
[[nodiscard]] std::string after_first(const Setup& s, const Assessment& a);
/// Every loss of every gear, one after another.
[[nodiscard]] std::vector<std::string> in_full(const Setup& s, const Assessment& a);
/// "ladder", "ladder_verdict", "orders", "losses".
void write(Json& j, const Assessment& a);

}  // namespace thole::ladder
