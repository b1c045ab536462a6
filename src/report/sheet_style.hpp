#pragma once

/// The style sheet of all pages and pictures: one place for colours, widths and print rules.
/// Private to the reports.

#include <string>

#include <thole/sheet.hpp>

namespace thole::style {

/// Classes of pictures, for use inside a page or an SVG file.
[[nodiscard]] std::string of_pictures();
/// The whole of the sheet's page.
[[nodiscard]] std::string of_sheet(Paper paper);

}  // namespace thole::style
