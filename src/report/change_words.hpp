#pragma once

/// What a change brings and asks, in words. Plain texts; those of the setup are still to be
/// escaped. Private to the reports.

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

#include <thole/changes.hpp>

namespace thole::change_words {

/// "96 lbf", "next to nothing", "none".
[[nodiscard]] std::string limit(const std::optional<Force>& v, ReaderUnits u);
/// "0.34 where 3 is needed (threads pull out)".
[[nodiscard]] std::string share(const Worth& w);
/// The first `most` with semicolons between, "; and 2 more" behind.
[[nodiscard]] std::string listed(const std::vector<std::string>& list, std::size_t most);
/// "a -> b", "a as before".
[[nodiscard]] std::string from_to(const std::string& a, const std::string& b);
/// "one trip to the store, 2 new holes in the boat, 1.5 lb more weight".
[[nodiscard]] std::string trouble(const Change& c, ReaderUnits u);
/// One sentence over the list: whether one of them is enough.
[[nodiscard]] std::string opening(const ChangeAnswer& a);

}  // namespace thole::change_words
