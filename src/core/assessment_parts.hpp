#pragma once

/// What the assessments of all mounts share. Private to the core.

#include <string>
#include <string_view>
#include <vector>

#include <thole/assessment.hpp>

namespace thole {

[[nodiscard]] Assessment assess_plate(const Setup& setup, const AssessOptions& options);
[[nodiscard]] Assessment assess_board(const Setup& setup, const AssessOptions& options);

}  // namespace thole

namespace thole::parts {

[[nodiscard]] bool is_assumed(const Setup& s, std::string_view path);
/// "wall thickness is 0.090 in".
[[nodiscard]] std::string label_of(const Setup& s, std::string_view path);
/// The factor of a mode's group as the user has it, and at full: never below the stored one.
struct GroupFactor {
  double needed = 0;
  double full = 0;
  bool lowered = false;
};
[[nodiscard]] GroupFactor group_factor(const Setup& s, const FailureMode& mode);
/// What somebody saw that no calculation covers.
[[nodiscard]] std::vector<std::string> refusals(const Setup& s);
void add_source(std::vector<Citation>& all, Citation c);
/// Refused first, then by factor over factor needed, distances that are kept last.
void sort_checks(std::vector<CheckResult>& checks);
// Beside the checks: by_products.cpp, boat_side.cpp, plausibility.cpp, load_edits.cpp.
[[nodiscard]] std::vector<TowingRow> towing_rows(const Setup& s);
[[nodiscard]] std::vector<SocketRow> socket_rows(const Setup& s,
                                                 const std::vector<LoadCase>& cases);
/// Does the boat carry more than the wire takes up when a ball hangs up under way?
[[nodiscard]] std::vector<std::string> snag_notes(const Setup& s);
[[nodiscard]] BoatSide boat_side(const Setup& s, const std::vector<LoadCase>& cases);
[[nodiscard]] std::vector<std::string> look_again(const Setup& s);
[[nodiscard]] std::vector<std::string> case_changes(const Setup& s,
                                                    const std::vector<LoadCase>& cases);
/// What must be so for a verdict to hold where the owner made the list of cases milder.
[[nodiscard]] std::vector<std::string> owners_conditions(const Setup& s,
                                                         const std::vector<LoadCase>& cases);
/// An input that only the report beside the checks uses.
[[nodiscard]] bool only_beside(std::string_view path);
[[nodiscard]] std::optional<MissingRow> one_missing(const Setup& s, const Assessment& a,
                                                    const AssessOptions& options);
/// Assumed hours that several times as many would not change: no condition of the verdict.
[[nodiscard]] bool hardly_counts(std::string_view path, const CheckResult& check);
/// Does the mode end the life of a part, under no pull in particular?
[[nodiscard]] bool limits_life(const Setup& s, std::string_view mode);
/// What may crack over the seasons by an estimate whose constants nobody has seen: a condition of
/// the verdict and a caution, never a refusal by itself. "" when nothing.
[[nodiscard]] std::string may_crack(const Setup& s, const std::vector<CheckResult>& checks,
                                    bool figures = true);
/// What the road does to the life of the metal and what taking the gear off for it is worth; ""
/// where it is not counted.
[[nodiscard]] std::string road_note(const Setup& s);
/// What of fatigue remains.
void add_fatigue_not_checked(const Setup& s, const std::vector<LoadCase>& cases,
                             std::vector<std::string>& not_checked);
// Of downriggers: downrigger_parts.cpp.
/// "boom 45 deg from astern, raised 30 deg, wire ".
[[nodiscard]] std::string boom_words(const Downrigger& gear, std::size_t position);
/// What lets go on a wire. `highest`: upper bound of what does so for certain; `tamed`: that is a
/// brake whose slip counts or a weak link.
struct Links {
  std::vector<LadderStep> steps;
  Force highest{};
  bool tamed = false;
};
[[nodiscard]] Links links_of(const Setup& s, const Downrigger& gear, const std::string& whose);
/// Verdict of the ladder on them where the mount goes at `mount`.
[[nodiscard]] std::string order_of_links(Force highest, bool tamed, Force mount);
/// Setting, least of use and test pull of a gear whose limits are known.
void add_setting(const Setup& s, std::size_t gear, const std::vector<LoadCase>& cases,
                 GearLimit& limit);
/// What to do about a brake: measure it, or set it lower.
void advise_brake(const Downrigger& gear, const GearLimit& limit, ReaderUnits units,
                  std::vector<std::string>& to_do);
/// What goes when a brake seizes and something weaker decides; "" when the wire parts first.
[[nodiscard]] std::string if_seized(const Assessment& a, ReaderUnits units);
/// Names an assumed input among the conditions of `holds if`, once.
void add_condition(std::vector<std::string>& conditions, const std::string& text);

}  // namespace thole::parts
