#include <algorithm>
#include <string>
#include <vector>

#include <thole/metal_pairs.hpp>
#include <thole/parts_list.hpp>

#include "report/cards.hpp"
#include "report/html.hpp"
#include "report/parts_words.hpp"
#include "report/text.hpp"

namespace thole::cards {
namespace {

using html::element;

struct Shelf {
  const char* word;
  const char* title;
};
// In the order that one walks through a store.
constexpr Shelf shelves[] = {{"lumber", "Lumber"},
                             {"metal", "Metal"},
                             {"bolts", "Bolts and screws"},
                             {"chandlery", "Chandlery: seal, isolate, safety"},
                             {"tools", "Tools, if they are not in your box"}};

// A box that can be ticked on the phone and on paper.
std::string box(const std::string& content) {
  return "<li class=\"parts-tick\"><label><input type=\"checkbox\"> <span>" + content +
         "</span></label></li>\n";
}

std::string guess(const PartRow& r) {
  if (!r.assumed) return "";
  return "<br>" + html::mark(html::Mark::triangle) + " a size is a guess: measure before you buy";
}

std::string small(const std::string& any) {
  if (any.empty()) return "";
  return "<br>" + element("span", html::text(any, 260), "parts-why");
}

std::string with_material(const std::string& what, const PartRow& r) {
  if (r.material.empty()) return what;
  return what + ", " + html::users(r.material, 80);
}

std::string stock(const PartRow& r) {
  const bool counted = r.stock_count > 0;
  const std::string lead = counted ? "" : std::to_string(r.count) + " x ";
  return box(element("b", html::text(lead + r.stock, 200)) + with_material("", r) +
             small("for the " + r.what) + guess(r));
}

std::string bought(const PartRow& r) {
  std::string count = std::to_string(r.count);
  if (r.spare > 0) count += " + " + std::to_string(r.spare) + " spare";
  return box(element("b", count) + " " + with_material(html::text(r.what, 200), r) + small(r.why) +
             guess(r));
}

std::string on_shelf(const std::vector<PartRow>& rows, const Shelf& shelf) {
  std::string items;
  for (const PartRow& r : rows) {
    if (r.shelf != shelf.word) continue;
    if (r.kind != PartKind::cut) {
      items += bought(r);
    } else if (r.stock.rfind("from the same stock", 0) != 0) {
      items += stock(r);
    }
  }
  if (items.empty()) return "";
  return element("h3", shelf.title) + element("ul", items, "parts-ticks");
}

// ---- What to leave on the shelf

bool mentions(const std::vector<PartRow>& rows, const std::string& word) {
  return std::any_of(rows.begin(), rows.end(), [&](const PartRow& r) {
    return r.what.find(word) != std::string::npos || r.material.find(word) != std::string::npos;
  });
}

bool has_aluminium(const SheetContent& c) {
  for (const MetalPair& p : metal_pairs(c.setup)) {
    if (p.kind == GalvanicKind::aluminium || p.other_kind == GalvanicKind::aluminium) return true;
  }
  return false;
}

bool has_nuts(const std::vector<PartRow>& rows) { return mentions(rows, "nut "); }

std::vector<std::string> refusals(const SheetContent& c, const std::vector<PartRow>& rows) {
  std::vector<std::string> out;
  const Setup& s = c.setup;
  const bool aluminium = has_aluminium(c);
  if (mentions(rows, "eye bolt")) {
    out.emplace_back("Eyes of bent wire, with a gap in the loop: they open. Forged ones only.");
  }
  if (mentions(rows, "stainless, unmarked")) {
    out.emplace_back(
        "Stainless without a mark on its head counts as the lowest grade: look for A2-70 or "
        "A4-70.");
  } else if (mentions(rows, "A2-") || mentions(rows, "A4-")) {
    out.emplace_back(
        "Stainless without the mark named here on its head: it counts as the lowest grade.");
  }
  if (s.salt_water) {
    out.emplace_back("Zinc-plated bolts, nuts and washers: in salt water they last a season.");
  }
  const bool wooden = s.on_board() && s.board().board.wood;
  if (wooden && s.board().board.treated) {
    out.emplace_back(
        "Treated lumber without its end tag. Copper in it eats aluminium: lay the barrier.");
  } else if (wooden) {
    out.emplace_back(
        "Treated lumber, green or brown or with rows of slits: the copper in it eats aluminium.");
  }
  if (wooden) {
    out.emplace_back(
        "Boards with a knot or a split in the middle third or at the bolts; boards of plastic and "
        "sawdust: no beam.");
  }
  if (mentions(rows, "sealant")) {
    out.emplace_back(
        "Silicone: it carries no load, and the kind that smells of vinegar attacks metal.");
  }
  if (aluminium) {
    out.emplace_back("Grease with copper or graphite: near aluminium it makes things worse.");
  }
  if (has_nuts(rows)) out.emplace_back("Split washers as a lock: they are none.");
  if (mentions(rows, "threaded rivet insert")) {
    out.emplace_back("Rubber well nuts: they pull through.");
  }
  return out;
}

std::string as_list(const std::string& title, const std::vector<std::string>& items) {
  if (items.empty()) return "";
  std::string list;
  for (const std::string& i : items) list += element("li", html::text(text::sentence(i), 260));
  return element("h3", title) + element("ul", list, "parts-two");
}

}  // namespace

Card shopping(const SheetContent& content) {
  Card card{"shopping", "Shopping list", ""};
  const PartsList parts = parts_list(content.setup, content.library);
  card.html = before_spending(content.assessment.verdict);
  card.html += element("p",
                       "One trip, in the order of the shelves. Spares: one in ten, at least one, "
                       "two of small things (common practice). Bolts are measured under the head.");
  for (const Shelf& shelf : shelves) card.html += on_shelf(parts.rows, shelf);
  card.html += as_list("Leave on the shelf", refusals(content, parts.rows));
  card.html += as_list("Not in the file: look before you buy", parts.notes);
  return card;
}

}  // namespace thole::cards
