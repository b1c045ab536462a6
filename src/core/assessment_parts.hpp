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
/// "mount.ledges.both.alloy" is "mount.ledges.alloy" to failure modes and cases.
[[nodiscard]] std::string plain_path(std::string path);
/// Names every assumed input of a deciding case that lies within three times of what it needs
/// (judgement), also where another case is worse: a guess may be farther off than the cases are
/// apart.
void add_assumed_of_cases(const Setup& s, const std::vector<CaseResult>& cases,
                          std::vector<std::string>& conditions);
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
/// Setting, least of use and test pull of a gear whose limits are known.
void add_setting(const Setup& s, std::size_t gear, const std::vector<LoadCase>& cases,
                 GearLimit& limit);
/// Largest setting whose upper bound stays within the hold limit of a brake or drag, and within its
/// pull when all balls hang up at once; nothing for a plain load.
[[nodiscard]] std::optional<Force> setting_within(const Gear& gear, Force hold_limit,
                                                  const std::optional<Force>& all_hung_up);
/// What to do about a brake: measure it, or set it lower.
void advise_brake(const Downrigger& gear, const GearLimit& limit, ReaderUnits units,
                  std::vector<std::string>& to_do);
/// What goes when a brake seizes and something weaker decides; "" when the wire parts first.
[[nodiscard]] std::string if_seized(const Assessment& a, ReaderUnits units);
// Limits by direction: sectors.cpp, and boat_side.cpp for the boat.
[[nodiscard]] bool contains(const DirectionRange& a, const DirectionRange& b);
/// Adds ranges, without those that lie in another.
void join(std::vector<DirectionRange>& all, const std::vector<DirectionRange>& more);
/// One part of the directions of a pull: "on the outboard quarter".
struct Sector {
  std::string where;
  std::vector<DirectionRange> ranges;
};
/// The horizon of a pull cut into sectors of 45 deg, those ahead into one of either side; those
/// that the ranges do not reach are left out.
[[nodiscard]] std::vector<Sector> sectors_of(const std::vector<DirectionRange>& ranges);
[[nodiscard]] RangeLimit row_of(const Gear& gear, const Sector& sector);
/// One angle of the boom, whatever its height.
[[nodiscard]] RangeLimit row_of(const Downrigger& gear, std::size_t angle);
/// Limits of the whole are never above those of its parts: the two searches may differ a little.
void lower_to_rows(GearLimit& whole);
/// Settings of all rows, by the mount and by the boat.
void add_settings(const Setup& s, std::size_t gear, const std::vector<LoadCase>& cases,
                  GearLimit& whole);
/// Setting by the boat's heel with the boom or the line there; nothing where the boat is not
/// described.
[[nodiscard]] std::optional<Force> boat_setting(const Setup& s, const std::vector<LoadCase>& cases,
                                                std::size_t gear, const RangeLimit& part);
/// The same setup a little worse off: more load, parts one size thinner.
struct Worsening {
  std::string what;
  bool more_load = false;
  Setup setup;
};
[[nodiscard]] std::vector<Worsening> worsenings(const Setup& s);
/// Row of an assessment of it.
[[nodiscard]] MarginRow margin_row(const Worsening& w, const Assessment& a);
/// A setup that is not possible so.
[[nodiscard]] MarginRow margin_row(const Worsening& w, const std::string& why_not);
// What is meant to give way before a mount: weak_links.cpp.
/// What lets go on a wire or line, and the holder or body that stands before the mount.
struct Links {
  std::vector<LadderStep> steps;
  Force highest{};      ///< upper bound of what lets go for certain: brake, drag, link, wire, line
  std::string lets_go;  ///< that: "brake", "drag", "weak link", "wire", "line"
  bool tamed = false;   ///< a brake or drag whose slip counts, or a weak link
  Force parts{};        ///< upper bound of what parts though brake or drag is locked
  std::string what_parts;       ///< "wire", "line", "weak link"
  std::optional<Force> holder;  ///< lower bound of the holder or body
};
/// Nothing for a plain load. `whose`: " (port rod)" where there are several.
[[nodiscard]] std::optional<Links> links_of(const Setup& s, std::size_t gear,
                                            const std::string& whose);
/// Least pull at which a gear's own rating is used up: over its directions and boom positions, or
/// those of one part of them; nothing without a rating.
[[nodiscard]] std::optional<Force> holder_takes(const Setup& s, std::size_t gear,
                                                const RangeLimit* part = nullptr);
/// Directions of a gear's own pull: as listed and as its owner has them.
[[nodiscard]] std::vector<DirectionRange> own_ranges(const Setup& s, std::size_t gear);
[[nodiscard]] LoadPath path_of_pull(const Gear& gear);
/// Puts the links of all gears beside the items of the mount that are in the ladder already, sorts
/// it and judges the order. `boat`: what is torn when the boat itself goes, "gunwale".
/// `all_hung_up`: pull of each gear at which the first goes when all balls hang up at once.
void finish_ladder(const Setup& s, Assessment& out, const std::string& boat,
                   const std::vector<std::optional<Force>>& all_hung_up);

// One loss after another: after_loss.cpp, one_missing.cpp.
/// A fastener of a base (the second kind counted after the first), of a fitting, a hold-down or a
/// leg, by its number in the setup.
struct Taken {
  enum class What { fastener, of_fitting, hold_down, leg };
  What what = What::fastener;
  std::size_t number = 0;
};
void take_away(Setup& s, const Taken& taken);
/// How many of its kind there are.
[[nodiscard]] std::size_t count_of(const Setup& s, Taken::What what);
[[nodiscard]] std::vector<LossRow> losses(const Setup& s, const Assessment& a,
                                          const AssessOptions& options);
/// Names an assumed input among the conditions of `holds if`, once.
void add_condition(std::vector<std::string>& conditions, const std::string& text);

}  // namespace thole::parts
