#pragma once

/// Reports are texts made in memory from an assessment; none of them computes physics.

#include <string>

#include <thole/assessment.hpp>

namespace thole {

struct ReportStyle {
  bool colour = false;
  bool details = false;
};

/// Version of the program and of the JSON report.
[[nodiscard]] std::string version();
inline constexpr int report_format = 1;

/// Verdict first, at most one screen of 80 columns; `details` adds every check, case and source.
[[nodiscard]] std::string terminal_report(const Setup& setup, const Assessment& assessment,
                                          const ReportStyle& style = {});

/// The complete report, SI values, keys sorted by meaning. Schema: `report_schema()`.
[[nodiscard]] std::string json_report(const Setup& setup, const Assessment& assessment);
[[nodiscard]] std::string report_schema();

}  // namespace thole
