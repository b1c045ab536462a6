#pragma once

/// The cards that follow the two pages of the sheet. Private to the reports.

#include <string>
#include <vector>

#include <thole/sheet.hpp>

namespace thole::cards {

struct Card {
  std::string id;     ///< of its section: letters and hyphens
  std::string title;  ///< plain text
  std::string html;   ///< body; "" where it does not apply
};

/// To fill in at the boat: what is still assumed, how to get it.
[[nodiscard]] Card measuring(const SheetContent& content);
[[nodiscard]] Card cutting(const SheetContent& content);
[[nodiscard]] Card shopping(const SheetContent& content);
[[nodiscard]] Card tightening(const SheetContent& content);
[[nodiscard]] Card test_pull(const SheetContent& content);
[[nodiscard]] Card inspection(const SheetContent& content);
[[nodiscard]] Card stow_and_tow(const SheetContent& content);

}  // namespace thole::cards
