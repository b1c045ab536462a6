#pragma once

/// Pieces of HTML that every part of the sheet shares: escaping, marks, lengths in both units.
/// Private to the reports.

#include <cstddef>
#include <string>
#include <string_view>

#include <thole/assessment.hpp>
#include <thole/display.hpp>

namespace thole::html {

/// Text of any origin without what must not be in a page, see `text`, but not escaped: to be
/// measured.
[[nodiscard]] std::string clean(const std::string& any, std::size_t most = std::string::npos);
/// Text of any origin as text of a page: control characters and characters that steer the direction
/// of text are dropped, what is broken UTF-8 becomes U+FFFD, `& < > " '` are written as entities;
/// cut after `most` bytes with "...". Fit for an attribute in quotes as well.
[[nodiscard]] std::string text(const std::string& any, std::size_t most = std::string::npos);
/// The user's own words in a sentence: `text`, isolated in `<bdi>` so that a name written from
/// right to left leaves the rest where it is.
[[nodiscard]] std::string users(const std::string& any, std::size_t most = 120);

/// A symbol beside a word, never alone: tells the same without colour.
enum class Mark { tick, triangle, cross, question };
[[nodiscard]] Mark mark_of(Verdict v);
/// Whether a check holds, counts at all, was refused.
[[nodiscard]] Mark mark_of(const CheckResult& c);
/// As a picture of the height of the text around it; hidden from readers aloud, since the word
/// stands beside it.
[[nodiscard]] std::string mark(Mark m);
/// The same symbol as SVG elements, centred at (x, y), `size` high, in the units of the drawing.
[[nodiscard]] std::string mark_shape(Mark m, double x, double y, double size);

/// "1 3/16 in (30.2 mm)": the nearest sixteenth, the reader's unit first. Where the sixteenth is
/// off by more than 0.1 mm: "about 1 3/16 in". For places and holes; what is asked for goes up.
[[nodiscard]] std::string both(Length v, ReaderUnits u, Rounding r = Rounding::nearest);
/// "0.201 in (5.1 mm)": for drills and thicknesses, which are no sixteenths.
[[nodiscard]] std::string both_decimal(Length v, ReaderUnits u);
/// "7 lbf (31 N)", two figures.
[[nodiscard]] std::string both(Force v, ReaderUnits u, Rounding r = Rounding::nearest);

/// `<tag class="of">content</tag>`: content is HTML already.
[[nodiscard]] std::string element(std::string_view tag, const std::string& content,
                                  std::string_view of = "");

}  // namespace thole::html
