#pragma once

/// Where to measure: a small drawing, not to scale, with a letter at each size. Private to the
/// reports.

#include <string>
#include <string_view>

#include <thole/measuring.hpp>

namespace thole::cards {

[[nodiscard]] std::string measuring_sketch(MountKind kind);
/// Letters of the sketch that belong to a row of `measuring_rows` or to the path of an input: "A",
/// "C, D"; "" for none.
[[nodiscard]] std::string letters_of_row(MountKind kind, std::string_view what);
[[nodiscard]] std::string letters_of_path(MountKind kind, std::string_view path);

}  // namespace thole::cards
