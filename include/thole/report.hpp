#pragma once

/// Reports are texts made in memory from an assessment; none of them computes physics.

#include <string>
#include <vector>

#include <thole/assessment.hpp>
#include <thole/assumptions.hpp>
#include <thole/build_info.hpp>
#include <thole/fit.hpp>

namespace thole {

struct ReportStyle {
  bool colour = false;
  bool details = false;
};

inline constexpr int report_format = 2;

/// Verdict first, at most one screen of 80 columns; `details` adds every check, case and source.
/// The setting named is the lower of what mount and boat allow.
[[nodiscard]] std::string terminal_report(const Setup& setup, const Assessment& assessment,
                                          const ReportStyle& style = {});

/// The complete report, SI values, keys sorted by meaning. Schema: `report_schema()`.
[[nodiscard]] std::string json_report(const Setup& setup, const Assessment& assessment);
[[nodiscard]] std::string report_schema();

/// The table of load cases: pull, direction range, category, how often, what combines, and why;
/// how to argue with it and how to measure the pulls. `side` is `beside_the_checks` of the same
/// cases; `details` adds the boat's side of each.
[[nodiscard]] std::string load_table(const Setup& setup, const std::vector<LoadCase>& cases,
                                     const Assessment& side, const ReportStyle& style = {});
/// The same complete, as JSON.
[[nodiscard]] std::string load_table_json(const Setup& setup, const std::vector<LoadCase>& cases,
                                          const Assessment& side);

/// Where the booms may point: a table and a strip for each downrigger.
[[nodiscard]] std::string boom_table(const Setup& setup, const std::vector<BoomRow>& rows,
                                     const ReportStyle& style = {});
[[nodiscard]] std::string boom_table_json(const Setup& setup, const std::vector<BoomRow>& rows);

/// What clears, is close and hits, worst first, and where; what is not described.
[[nodiscard]] std::string fit_table(const Setup& setup, const FitAnswer& answer,
                                    const ReportStyle& style = {});
/// The same complete, with all shapes, for drawings.
[[nodiscard]] std::string fit_table_json(const Setup& setup, const FitAnswer& answer);
/// One line for `thole check`: "port boom hits motor, tilted up, 42 mm deep; 3 close; 5 clear; see
/// thole fit"; "" without a block `fit`. `in_brief`: without sizes and what is clear.
[[nodiscard]] std::string fit_line(const Setup& setup, const FitAnswer& answer,
                                   bool in_brief = false);

/// What is assumed, which way each errs and why, and where a report says it; counted at the end.
[[nodiscard]] std::string assumption_table(const std::vector<Assumption>& assumptions);

/// The failure modes whose words hold all of `words`: what gives way, on what, source, where it is
/// valid, how close, how far it is proved outside, the factor needed. "" when there is none.
[[nodiscard]] std::string mode_table(const MaterialLibrary& library,
                                     const std::vector<std::string>& words = {});

}  // namespace thole
