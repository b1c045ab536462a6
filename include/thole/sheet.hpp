#pragma once

/// The shop sheet and what goes with it: pages, pictures, hole templates, cards and tables, made in
/// memory from setup and assessment. None of them computes physics.

#include <optional>
#include <string>
#include <vector>

#include <thole/assessment.hpp>
#include <thole/changes.hpp>
#include <thole/fit.hpp>
#include <thole/holes.hpp>
#include <thole/parts_list.hpp>
#include <thole/test_pull.hpp>

namespace thole {

enum class Paper { a4, letter };

/// All that a sheet is drawn from. References must outlive the call.
struct SheetContent {
  const Setup& setup;
  const Assessment& assessment;  ///< with `sheet_options()`
  const MaterialLibrary& library;
  std::optional<ChangeAnswer> changes;
  std::vector<BoomRow> booms;  ///< empty without a downrigger
  std::string file;            ///< name of the setup file, as given
  std::string hash;            ///< of its text, see `file_hash`
  std::string date;            ///< as to be printed: "2026-11-27"
  Paper paper = Paper::a4;
};

/// What an assessment must hold for a sheet.
[[nodiscard]] AssessOptions sheet_options();
/// SHA-1 of a text as 40 hexadecimal digits, as `sha1sum` prints it: tells two files apart, proves
/// nothing about who wrote them. Source: FIPS 180-4, by Boost.
[[nodiscard]] std::string file_hash(const std::string& text);

/// One self-contained HTML page: nothing is loaded, no script. Two printed pages of the paper;
/// cards are printed as well where their box is ticked.
[[nodiscard]] std::string sheet_html(const SheetContent& content);

/// Printable pages of every hole pattern at 1:1, tiled with register marks where one is larger than
/// the paper, each with a 100 mm and a 4 in bar.
[[nodiscard]] std::string template_html(const SheetContent& content);
/// One pattern as an SVG at 1:1 (width and height in mm).
[[nodiscard]] std::string template_svg(const SheetContent& content, const HoleSet& set);

/// Forces on fasteners, supports and members, a row each, axes and signs in the head. RFC 4180.
[[nodiscard]] std::string forces_csv(const Setup& setup, const Assessment& assessment);

/// Dimensioned drawing of every flat metal piece to be made, for a fabricator. "" when there is
/// none.
[[nodiscard]] std::string plates_svg(const SheetContent& content);
/// The same outlines and holes as DXF (ASCII, R12 entities), millimetres. "" when there is none.
[[nodiscard]] std::string plates_dxf(const SheetContent& content);

}  // namespace thole
