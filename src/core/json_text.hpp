#pragma once

/// JSON escaping, for the report and for the schema of the setup. Private to the libraries.

#include <string>
#include <string_view>

namespace thole {

/// The text in quotes, everything that JSON wants escaped escaped.
[[nodiscard]] std::string json_text(std::string_view text);

}  // namespace thole
