#pragma once

/// Lines of text for a terminal, and figures in prose. Private to the reports and the program.

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include <thole/display.hpp>

namespace thole::text {

inline constexpr std::size_t columns = 79;

/// Text from the user goes to a terminal: control characters must not. Cut after `most` bytes.
[[nodiscard]] std::string plain(const std::string& text, std::size_t most = std::string::npos);
/// The same for a whole page: line ends stay.
[[nodiscard]] std::string printable(const std::string& text);

/// Columns of a terminal: code points of UTF-8.
[[nodiscard]] std::size_t width(const std::string& text);
[[nodiscard]] std::string padded(const std::string& text, std::size_t to);
[[nodiscard]] std::string aligned(const std::string& text, std::size_t to);
/// Wraps at `columns`; the first line begins with `lead`, the others as far in.
[[nodiscard]] std::string wrapped(const std::string& lead, const std::string& text);
/// "Its first letter large and a full stop."
[[nodiscard]] std::string sentence(std::string text);
[[nodiscard]] std::string joined(const std::vector<std::string>& list,
                                 std::string_view between = ", ");
[[nodiscard]] bool ends_with(const std::string& text, const std::string& end);

/// Within 2 % of each other: mirrored gears differ by the grid of directions only.
[[nodiscard]] bool alike(const std::optional<Force>& a, const std::optional<Force>& b,
                         double within = 0.02);
[[nodiscard]] std::optional<Force> lesser(const std::optional<Force>& a,
                                          const std::optional<Force>& b);

/// "105 ft", "32 m", "2.4 ft": water, wire and boats.
[[nodiscard]] std::string far(Length v, ReaderUnits u);
/// "3 mph" or "2.6 kn".
[[nodiscard]] std::string pace(const Speed& v, ReaderUnits u);
/// "3 mph (2.6 kn)", whichever the reader uses first.
[[nodiscard]] std::string both_paces(const Speed& v, ReaderUnits u);
/// "9.1 to 9.6 lbf"; one figure where both read the same.
[[nodiscard]] std::string between(Force low, Force high, ReaderUnits u);
[[nodiscard]] std::string between(Angle low, Angle high);
/// "about two full buckets" (of 22 lb or 10 kg of water), "about a grown person's weight"; nothing
/// where neither helps.
[[nodiscard]] std::string in_plain_terms(Force v);

}  // namespace thole::text
