#pragma once

/// The sections of the two pages of the sheet, as HTML. Private to the reports.

#include <cstddef>
#include <string>
#include <vector>

#include <thole/sheet.hpp>

#include "report/html.hpp"
#include "report/pictures.hpp"
#include "report/short_names.hpp"

namespace thole::sheet_parts {

/// What every section needs.
struct Sheet {
  explicit Sheet(const SheetContent& c) : content(c), names(c.setup) {}

  const SheetContent& content;
  ShortNames names;

  [[nodiscard]] const Setup& setup() const { return content.setup; }
  [[nodiscard]] const Assessment& result() const { return content.assessment; }
  [[nodiscard]] ReaderUnits units() const { return content.setup.units; }
  /// A text of the reports that may repeat names, as a sentence of the page.
  [[nodiscard]] std::string words(const std::string& any, std::size_t most = 2000) const;
};

/// `<section class="of" id="id"><h2>heading</h2>body</section>`; "" without a body.
[[nodiscard]] std::string section(const std::string& id, const std::string& heading,
                                  const std::string& body, const std::string& of = "");
[[nodiscard]] std::string list(const std::vector<std::string>& items, const std::string& of = "");
/// `<figure>` with its caption; "" without a picture.
[[nodiscard]] std::string figure(const pictures::Picture& picture, const std::string& of = "");
/// Of its frame, `viewBox="0 0 width height"`, height over width; 0 without a picture.
[[nodiscard]] double height_for_width(const pictures::Picture& picture);
/// One that takes on paper the height that the texts leave, up to what its width allows.
[[nodiscard]] std::string flexible_figure(const pictures::Picture& picture,
                                          const std::string& of = "");
/// Where the rest is of what paper has no room for.
[[nodiscard]] std::string more_on_screen(std::size_t left, const std::string& what = "");

/// "HOLDS IF": the words of the headline without its mark.
[[nodiscard]] std::string verdict_words(Verdict v);

// Page 1.
[[nodiscard]] std::string verdict(const Sheet& s);
[[nodiscard]] std::string limits(const Sheet& s);
[[nodiscard]] std::string changes(const Sheet& s);
[[nodiscard]] std::string first_to_go(const Sheet& s);
[[nodiscard]] std::string cautions(const Sheet& s);
/// Who should look, when, with what in hand. `again`: the short form of the end.
[[nodiscard]] std::string deferral(bool again);

// Page 2.
[[nodiscard]] std::string checks(const Sheet& s);
[[nodiscard]] std::string worked(const Sheet& s);
[[nodiscard]] std::string loads(const Sheet& s);
[[nodiscard]] std::string margins(const Sheet& s);
[[nodiscard]] std::string assumptions(const Sheet& s);
[[nodiscard]] std::string not_checked(const Sheet& s);
[[nodiscard]] std::string sources(const Sheet& s);
[[nodiscard]] std::string colophon(const Sheet& s);

}  // namespace thole::sheet_parts
