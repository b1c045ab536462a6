#pragma once

/// The setups of examples/, compiled in at build time.

#include <cstddef>
#include <string_view>

namespace thole::page {

struct Example {
  const char* id;  ///< name of the file without its end
  const char* text;
};

extern const Example examples[];
extern const std::size_t example_count;

/// Its text. Throws Error when there is no such example.
[[nodiscard]] std::string_view example_text(std::string_view id);

}  // namespace thole::page
