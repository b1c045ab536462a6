#pragma once

/// The setups of examples/, compiled in at build time.

#include <cstddef>

namespace thole::page {

struct Example {
  const char* id;  ///< name of the file without its end
  const char* text;
};

extern const Example examples[];
extern const std::size_t example_count;

}  // namespace thole::page
