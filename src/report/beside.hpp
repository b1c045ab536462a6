#pragma once

/// What a report says beside the checks: settings as the lower of mount and boat, towed lines, rods
/// in their tubes, the boat's side. Texts without line ends; names are the user's own, still to be
/// cleaned. Private to the reports.

#include <optional>
#include <string>
#include <vector>

#include <thole/assessment.hpp>

namespace thole::beside {

/// What the owner may set: the lower of what mount and boat allow.
struct Setting {
  std::optional<Force> pull;
  std::optional<Force> test_pull;  ///< 1.25 x the setting at most
  bool by_boat = false;
  Force least_useful{};  ///< below it no brake holds the ball
};
[[nodiscard]] Setting setting_of(const Assessment& a, const GearLimit& limit);
/// Of the mount as a whole.
[[nodiscard]] Setting setting_of(const Assessment& a);
[[nodiscard]] const HeelPull* heel_pull(const Assessment& a, const std::string& gear);
/// The pull at the notice, or where the boat may swamp with a person at that side, if that is less.
/// A strong heel with that person sets no limit: the person alone may cause it.
[[nodiscard]] Force boat_limit(const HeelPull& p);
/// "notice from 31 lbf", "may swamp from 24 lbf": what `boat_limit` stands for.
[[nodiscard]] std::string first_level(const HeelPull& p, ReaderUnits u);

/// Whether there is a setting that a brake or drag can work at.
[[nodiscard]] bool of_use(const Setting& setting);
/// Why there is none, and what then.
[[nodiscard]] std::string none_of_use(const Setting& setting, ReaderUnits u);

/// Gears whose limits agree, with the lesser of each.
struct GearGroup {
  GearLimit limit;
  const Gear* gear = nullptr;
  std::vector<std::string> names;
  Setting setting;
  std::optional<HeelPull> heel;
};
/// Gears without a hold limit are left out. `either`: of one group even where the boat sets the
/// limit of one and the mount that of another.
[[nodiscard]] std::vector<GearGroup> gear_groups(const Setup& s, const Assessment& a,
                                                 double within = 0.02, bool either = false);

/// Things to do, the settings in them as the lower of mount and boat.
[[nodiscard]] std::vector<std::string> to_do(const Setup& s, const Assessment& a);
/// Those of the assessment and of the boat, each once; `after_boat`: the block of the boat has said
/// what kind of comparison it is.
[[nodiscard]] std::vector<std::string> cautions(const Assessment& a, bool after_boat = false);

/// What went wrong at a test pull that is in the file: softer than the model, or did not come back.
[[nodiscard]] std::vector<std::string> failed_pulls(const Setup& s, const Assessment& a);

[[nodiscard]] int kind_of(const Gear& g);
[[nodiscard]] std::string word_for_kind(const Gear& g);
[[nodiscard]] const Gear* gear_called(const Setup& s, const std::string& name);
/// "each downrigger: ", the names, or nothing where there is one gear only.
[[nodiscard]] std::string whose(const Setup& s, const std::vector<std::string>& names);

/// "100 ft down needs about 105 ft of wire at 3 mph, ...": equal gears share one.
[[nodiscard]] std::vector<std::string> wires(const Setup& s, const std::vector<TowingRow>& rows,
                                             bool brief);
[[nodiscard]] std::vector<std::string> wires_in_full(const Setup& s,
                                                     const std::vector<TowingRow>& rows);
[[nodiscard]] std::string socket(const SocketRow& r, ReaderUnits u);

/// One paragraph for the screen; nothing where the boat is not described.
[[nodiscard]] std::string boat(const Setup& s, const BoatSide& b, bool brief);
/// GM and threshold, the pulls of each gear, every row.
[[nodiscard]] std::vector<std::string> boat_in_full(const Setup& s, const BoatSide& b);

}  // namespace thole::beside
