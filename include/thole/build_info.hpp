#pragma once

/// Which thole this is, and which tables its numbers come from: the one place for all reports.

#include <string>

namespace thole {

struct BuildInfo {
  std::string version;     ///< "0.1.0"
  std::string commit;      ///< twelve hex digits; "..., changed" with edits; "unknown" without git
  std::string compiler;    ///< "GNU 12.2.0"
  std::string build_type;  ///< "Release"
  /// Eight hex digits of the tables in materials/ that it was built with, as printed by
  /// `LC_ALL=C; sha256sum *.yaml | sha256sum` in that folder.
  std::string tables;
};

[[nodiscard]] const BuildInfo& build_info();
/// Version of the program and of the JSON report.
[[nodiscard]] std::string version();
/// "thole 0.1.0, tables 1a2b3c4d": the same whoever compiled it, from whatever commit.
[[nodiscard]] std::string made_by();
/// All of it, a line each, for `thole --version`.
[[nodiscard]] std::string build_text();

}  // namespace thole
