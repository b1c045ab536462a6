#pragma once

/// What somebody typed, tapped or dragged, as edits of the file.

#include <string>
#include <string_view>
#include <vector>

#include <thole/changes.hpp>

#include "page/read_text.hpp"

namespace thole::page {

/// A value as typed at an entry, put in so that what is known of it stays; "" leaves the key out.
/// Throws Error for what cannot stand on one line.
[[nodiscard]] std::vector<Edit> typed(const ReadText& read, const std::string& path,
                                      const std::string& value);
/// The same edits, and that a measured value which they change is none any more.
[[nodiscard]] std::vector<Edit> not_measured_now(const ReadText& read, std::vector<Edit> edits);
/// How a value is known. Throws Error where there is no value, or the word is none.
[[nodiscard]] std::vector<Edit> marked(const ReadText& read, const std::string& path,
                                       const std::string& known);
/// Another like an item of a list ("gear.0"), without its name: several drafts, the likeliest place
/// first, since two cannot be in one. Throws Error for what is no item.
[[nodiscard]] std::vector<std::vector<Edit>> others_like(const ReadText& read,
                                                         const std::string& path);
/// The path to set a value at: with `.is` where the file says how it is known.
[[nodiscard]] std::string value_path(const ReadText& read, const std::string& path);

/// A length in steps of 1/16 in or 1 mm, by the unit that `like` is written in ("7 ft", "2.20 m")
/// or, where it has none, by the reader's. `low` and `high` hold it, each to the step inside.
[[nodiscard]] std::string written_like(const std::string& like, ReaderUnits units, double metres,
                                       double low, double high);
/// That step, in words, and in metres.
[[nodiscard]] std::string step_words(const std::string& like, ReaderUnits units);
[[nodiscard]] double step_of(const std::string& like, ReaderUnits units);
/// An angle in steps of 5 deg.
[[nodiscard]] std::string written_angle(double radians);

}  // namespace thole::page
