#pragma once

/// Several files written in one go: all or none.

#include <string>
#include <vector>

namespace thole::cli {

struct Output {
  std::string option;                 ///< "--holes", for messages
  std::string path;                   ///< where to; "": not wanted
  std::vector<std::string> suffixes;  ///< it must end with one of them, ".html"
  std::string words;                  ///< "the shop sheet"
  std::string text{};
};

[[nodiscard]] bool has_suffix(const std::string& path, const std::string& suffix);

/// Throws Error where a suffix is not of the list, two outputs or an output and one of `inputs` are
/// the same file, or for what `why_not_written` tells. Writes nothing.
void check_outputs(const std::vector<Output>& outputs, const std::vector<std::string>& inputs,
                   bool replace);
/// Throws Error for the first that cannot be written: what this call wrote is taken away again, and
/// files that were there stay as they were.
void write_outputs(const std::vector<Output>& outputs, bool replace);

/// Throws Error where `path` cannot become a new file, as far as can be seen. Writes nothing.
void check_new_file(const std::string& path);
/// One file that is not there yet.
void write_new_file(const std::string& path, const std::string& text);

}  // namespace thole::cli
