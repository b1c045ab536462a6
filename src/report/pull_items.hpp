#pragma once

/// What stands on a pull ruler: every figure as setup and assessment have it. Private to the
/// reports.

#include <optional>
#include <string>
#include <vector>

#include <thole/sheet.hpp>

#include "report/beside.hpp"

namespace thole::ruler {

/// How an item is drawn.
enum class Look {
  setting,  ///< a heavy line across: what may be set
  test,     ///< a short line: what is tested with
  band,     ///< from a low to a high bound: drag, brake, link, line, wire
  limit,    ///< a line across: hold limit
  boat,     ///< a wave: what the boat takes
  item,     ///< a wedge: not before this pull
};

struct Item {
  std::string what;
  std::string figure;  ///< in the reader's units, "" where it is not known
  Look look = Look::item;
  bool left = false;          ///< of what should hold; else of what is set or lets go
  bool wrong = false;         ///< may go before what should let go first
  bool useless = false;       ///< a setting that is none
  bool over = false;          ///< set in the file to more than may be set
  std::optional<Force> low;   ///< nothing: not known
  std::optional<Force> high;  ///< of a band
};

/// Gears of one kind whose figures agree.
struct Ruler {
  const Gear* gear = nullptr;
  std::vector<std::string> names;
  std::vector<Item> items;    ///< with a place on the scale, the lowest first
  std::vector<Item> beyond;   ///< of the mount: beyond the end, or too many to be named beside it
  std::vector<Item> unknown;  ///< nobody has given a strength
  Force top{};                ///< the greatest pull that has to be on the scale
  std::string order;          ///< "the drag slips first; ..." of the assessment, "" without one
  bool mixed = false;         ///< items of the mount are the least under any kind of gear
  bool least_of_any = false;  ///< and may stand below the first to go under this one
  bool person_heels = false;  ///< one person at that side heels the boat strongly without a pull
  bool refused = false;       ///< no verdict: no setting, and something else may go first
};

/// One for each kind of gear, or each gear where figures differ. Without any figure: none.
[[nodiscard]] std::vector<Ruler> rulers(const Setup& s, const Assessment& a);

}  // namespace thole::ruler
