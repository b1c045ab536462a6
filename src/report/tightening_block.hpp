#pragma once

/// How tight, and what keeps it tight, in words and as JSON. Texts without line ends; names are the
/// user's own, still to be cleaned. Private to the reports.

#include <string>
#include <vector>

#include <thole/assessment.hpp>

#include "report/json_writer.hpp"

namespace thole::tightening {

/// "6.9 lbf in", "21 lbf ft", "1.7 N m": two figures, ceilings down and floors up.
[[nodiscard]] std::string torque(Moment m, ReaderUnits u, Rounding r);
/// How such a torque feels: "a screwdriver's twist".
[[nodiscard]] std::string feel(Moment m);

/// "hold-downs", or the names where there are several of a kind.
[[nodiscard]] std::string called(const Assessment& a, const TighteningRow& r);
/// "from 21 lbf ft on it stays closed under the 96 lbf that ...", or that it does not.
[[nodiscard]] std::string stays(const TighteningRow& r, ReaderUnits u);
/// Of the threads: "oiled", "dry".
[[nodiscard]] std::string state(const TighteningRow& r);
/// A caution that each of several rows has: said once.
[[nodiscard]] bool in_all(const std::vector<TighteningRow>& rows, const std::string& caution);

/// One paragraph for the screen; `brief`: the fastening that takes least.
[[nodiscard]] std::string on_screen(const Setup& s, const Assessment& a, bool brief);
/// A paragraph for each kind of fastening, and what all have in common.
[[nodiscard]] std::vector<std::string> in_full(const Setup& s, const Assessment& a);
/// "tightening": every row.
void write(Json& j, const std::vector<TighteningRow>& rows);

}  // namespace thole::tightening
