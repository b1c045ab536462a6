#pragma once

/// How much of a page of paper a piece of the sheet takes, so that what is left over is known
/// before it is printed: an estimate by counting letters, in widths of the widest of the usual
/// fonts. Pages have two columns. Private to the reports.

#include <string>

#include <thole/sheet.hpp>

#include "report/pictures.hpp"

namespace thole::sheet_paper {

inline constexpr double column = 94;         ///< mm wide
inline constexpr double picture_width = 84;  ///< mm: the smallest letters come out at 7.5 pt

/// mm of both columns of one page together, margins and footer taken off.
[[nodiscard]] double room_on(Paper paper);
/// mm of one column that a piece of the page takes. `of_columns`: it goes over so many.
[[nodiscard]] double height_of(const std::string& html, int of_columns = 1);
/// mm of one column that a picture with its caption takes.
[[nodiscard]] double height_of(const pictures::Picture& picture);

}  // namespace thole::sheet_paper
