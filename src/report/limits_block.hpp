#pragma once

/// Limits by direction, and what a little more load or a thinner part does, in words and as JSON.
/// Texts without line ends; names are the user's own, still to be cleaned. Private to the reports.

#include <string>
#include <vector>

#include <thole/assessment.hpp>

#include "report/json_writer.hpp"

namespace thole::limits {

/// One line of hold limits, where those of a gear differ by more than half; else nothing.
[[nodiscard]] std::string on_screen(const Setup& s, const Assessment& a);
/// A small table for each gear: ready lines, the heading first.
[[nodiscard]] std::vector<std::string> in_full(const Setup& s, const GearLimit& limit);
/// "20 % more pull: 0.91 of the factor needed, does not hold; ...". `brief`: the verdicts of more
/// load and of the worst thinner part in one line; `wall`: that of a thinner wall as well.
[[nodiscard]] std::string margins(const Setup& s, const Assessment& a, bool brief, bool wall);

/// "0.080 in holds, limit 4 lbf; 0.090 in (this) ...".
[[nodiscard]] std::string walls(const Setup& s, const Assessment& a);
/// "without fastener no. 2, missed most of 4: the rest holds; ...".
[[nodiscard]] std::string missing(const MissingRow& m, ReaderUnits u);

/// "by_direction" of one gear.
void write(Json& j, const GearLimit& limit);
/// "margins": every row.
void write_margins(Json& j, const Assessment& a);

}  // namespace thole::limits
