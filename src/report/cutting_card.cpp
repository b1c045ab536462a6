#include <algorithm>
#include <string>
#include <vector>

#include <thole/parts_list.hpp>

#include "report/cards.hpp"
#include "report/html.hpp"
#include "report/parts_words.hpp"
#include "report/text.hpp"

namespace thole::cards {
namespace {

using html::element;

std::string line(const std::string& content) { return content + "<br>"; }

// Lengths and widths to the sixteenth, thicknesses as they are.
std::string size_of(const PartRow& r, ReaderUnits u) {
  std::string out;
  if (r.length) out += line(html::both(*r.length, u) + " long");
  if (r.width) out += line(html::both(*r.width, u) + " wide");
  if (r.thickness) out += html::both_decimal(*r.thickness, u) + " thick";
  return out;
}

std::string cell(const std::string& of, const std::string& content) {
  return "<td data-of=\"" + of + "\">" + content + "</td>";
}

std::string row(const PartRow& r, ReaderUnits u) {
  std::string piece = line(element("b", std::to_string(r.count) + " x " + html::text(r.what, 80)));
  if (!r.material.empty()) piece += html::users(r.material, 80);
  std::string notes = html::text(text::sentence(r.why), 300);
  if (r.assumed) {
    notes = line(html::mark(html::Mark::triangle) + " " +
                 element("b", "on a guess: measure, then cut")) +
            notes;
  }
  return "<tr><th scope=\"row\">" + piece + "</th>" + cell("Size", size_of(r, u)) +
         cell("Ask for", html::text(r.stock, 200)) + cell("Notes", notes) + "</tr>\n";
}

bool any(const std::vector<PartRow>& rows, const std::string& shelf) {
  return std::any_of(rows.begin(), rows.end(), [&](const PartRow& r) { return r.shelf == shelf; });
}

std::string before_cutting(const SheetContent& c, const std::vector<PartRow>& cut) {
  std::vector<std::string> out;
  if (c.setup.on_board()) {
    out.emplace_back(
        "Measure both sides first: port and starboard often differ by 10 to 20 mm "
        "(3/8 to 3/4 in).");
  }
  out.emplace_back("A saw kerf of " + html::both_decimal(saw_kerf, c.setup.units) +
                   " for each piece is counted in what to ask for.");
  if (any(cut, "lumber")) {
    out.emplace_back(
        "Grain along the length. Cut off ends that are split; where nothing is left to trim, buy "
        "the next longer.");
  }
  if (any(cut, "metal")) {
    out.emplace_back(
        "Metal: deburr every edge, round corners to 6 mm (1/4 in) or more. Washers lie flat, "
        "never on the fillet inside an angle.");
  }
  std::string list;
  for (const std::string& s : out) list += element("li", s);
  return element("ul", list);
}

}  // namespace

Card cutting(const SheetContent& content) {
  Card card{"cutting", "Cut list", ""};
  const PartsList parts = parts_list(content.setup, content.library);
  std::vector<PartRow> cut;
  std::copy_if(parts.rows.begin(), parts.rows.end(), std::back_inserter(cut),
               [](const PartRow& r) { return r.kind == PartKind::cut; });
  if (cut.empty()) return card;
  card.html = before_spending(content.assessment.verdict) + before_cutting(content, cut);
  card.html +=
      "<table class=\"parts-cut\"><thead><tr><th scope=\"col\">Piece</th><th scope=\"col\">"
      "Finished size</th><th scope=\"col\">Ask for</th><th scope=\"col\">Notes</th></tr></thead>"
      "<tbody>\n";
  for (const PartRow& r : cut) card.html += row(r, content.setup.units);
  card.html += "</tbody></table>\n";
  return card;
}

}  // namespace thole::cards
