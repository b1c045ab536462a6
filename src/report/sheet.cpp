#include <boost/uuid/detail/sha1.hpp>

#include <fmt/format.h>

#include <algorithm>
#include <utility>

#include <thole/report.hpp>
#include <thole/sheet.hpp>

#include "report/cards.hpp"
#include "report/pictures.hpp"
#include "report/sheet_parts.hpp"
#include "report/sheet_style.hpp"
#include "report/text.hpp"

namespace thole {

AssessOptions sheet_options() {
  AssessOptions options;
  options.one_missing = true;
  options.by_direction = true;
  options.after_loss = true;
  options.margins = true;
  options.forces = true;
  return options;
}

std::string file_hash(const std::string& text) {
  boost::uuids::detail::sha1 sha;
  sha.process_bytes(text.data(), text.size());
  unsigned int digest[5];
  sha.get_digest(digest);
  std::string out;
  for (const unsigned int word : digest) out += fmt::format("{:08x}", word);
  return out;
}

namespace {

using html::element;
using sheet_parts::Sheet;

std::vector<cards::Card> all_cards(const SheetContent& c) {
  std::vector<cards::Card> out;
  for (cards::Card (*card)(const SheetContent&) :
       {cards::measuring, cards::cutting, cards::shopping, cards::tightening, cards::test_pull,
        cards::inspection, cards::stow_and_tow}) {
    cards::Card one = card(c);
    if (!one.html.empty()) out.push_back(std::move(one));
  }
  return out;
}

std::string contents(const std::vector<cards::Card>& cards) {
  std::string items =
      "<li><a href=\"#cautions\">Cautions</a></li><li><a href=\"#figures\">Figures</a></li>";
  for (const cards::Card& c : cards) {
    items += "<li><a href=\"#" + c.id + "\">" + html::text(c.title, 60) + "</a></li>";
  }
  return "<nav aria-label=\"Contents\">" + element("ul", items) + "</nav>";
}

// The file's name as on the second page, so that a single leaf still says what it belongs to.
std::string footer(const SheetContent& c) {
  return element("p",
                 html::text(made_by()) + ", " + html::text(c.date, 40) + ", " +
                     html::users(c.file, 60) + " " + html::text(c.hash.substr(0, 8)) + ", page 1",
                 "foot");
}

std::string division(const std::string& of, const std::string& content) {
  return content.empty() ? "" : "<div class=\"" + of + "\">" + content + "</div>\n";
}

// Pictures of both forms stand in the page; each medium shows one of them.
using pictures::Form;
using pictures::Picture;

std::string how_it_stands(const SheetContent& c) {
  using sheet_parts::figure;
  std::string out =
      figure(pictures::plan(c)) + figure(pictures::side(c)) + figure(pictures::stern(c));
  for (const Picture& p : pictures::pull_rulers(c)) out += figure(p);
  return sheet_parts::section("pictures", "How it stands", out, "pictures on-screen");
}

// Sentences that captions share are said once.
std::string said_once(const std::vector<Picture>& all) {
  std::vector<std::string> out;
  for (const Picture& p : all) {
    for (std::size_t at = 0; at < p.caption.size();) {
      const std::size_t end = std::min(p.caption.find(". ", at), p.caption.size() - 1) + 1;
      const std::string one = p.caption.substr(at, end - at);
      if (std::find(out.begin(), out.end(), one) == out.end()) out.push_back(one);
      at = end + 1;
    }
  }
  return text::joined(out, " ");
}

// Once more on the page: under names of its own. Only attributes have bare quotes.
Picture once_more(Picture p) {
  const std::string with = p.id + "-again";
  for (const std::string& before : {std::string("\""), std::string("-t ")}) {
    const std::string name = before + p.id;
    for (std::size_t at = p.element.find(name); at != std::string::npos;
         at = p.element.find(name, at + name.size())) {
      p.element.replace(at + before.size(), p.id.size(), with);
    }
  }
  p.id = with;
  return p;
}

// The movement as well where the texts leave room for it; it has a place on the second page.
std::string views_on_paper(const SheetContent& c) {
  const std::vector<Picture> views{pictures::plan(c, Form::paper), pictures::side(c, Form::paper),
                                   pictures::stern(c, Form::paper)};
  std::string out;
  for (const Picture& p : views) out += sheet_parts::flexible_figure(p, "bare");
  if (out.empty()) return "";
  double high = 0;
  for (const Picture& p : views) high = std::max(high, sheet_parts::height_for_width(p));
  out = fmt::format("<div class=\"row\" style=\"--high:{:.3f}\">{}</div>", high, out) +
        element("p", said_once(views), "fine");
  const Picture moved = pictures::movement(c);
  if (!moved.element.empty()) {
    out += division("spare", sheet_parts::flexible_figure(once_more(moved)));
  }
  return division("views on-paper", out);
}

// The first; a second kind of gear has its own on the screen and where all is printed.
std::string rulers_on_paper(const std::vector<Picture>& all, bool first) {
  std::string out;
  for (std::size_t i = 0; i < all.size(); ++i) {
    if ((i == 0) == first) out += sheet_parts::figure(all[i]);
  }
  return division(first ? "ruler on-paper" : "ruler on-paper extra", out);
}

// Of many alike one is printed.
std::string all_of(const std::vector<Picture>& all, std::size_t printed) {
  std::string out;
  for (std::size_t i = 0; i < all.size(); ++i) {
    out += sheet_parts::flexible_figure(all[i], i == printed ? "" : "extra");
  }
  return out;
}

std::string details(const SheetContent& c) {
  const std::vector<Picture> holes = pictures::hole_forces(c);
  const std::vector<Picture> directions = pictures::directions(c);
  const auto ringed = std::find_if(holes.begin(), holes.end(), [](const Picture& p) {
    return p.element.find("class=\"worst\"") != std::string::npos;
  });
  const std::size_t worst = ringed == holes.end() ? 0 : std::size_t(ringed - holes.begin());
  std::string out = all_of(holes, worst) + all_of(directions, 0);
  const std::size_t left = holes.size() + directions.size() - !holes.empty() - !directions.empty();
  if (left > 0) out += element("p", sheet_parts::more_on_screen(left, "like them"), "paper fine");
  return sheet_parts::section("details", "Holes and directions", out, "pictures flexible");
}

std::string first_page(const Sheet& s, const std::vector<cards::Card>& cards,
                       const std::vector<Picture>& rulers) {
  using namespace sheet_parts;
  const SheetContent& c = s.content;
  return "<div class=\"page one\" id=\"answer\">" + verdict(s) + contents(cards) +
         division("answers", limits(s) + changes(s) + first_to_go(s)) + how_it_stands(c) +
         views_on_paper(c) + rulers_on_paper(rulers, true) + cautions(s) + deferral(false) +
         footer(c) + "</div>\n";
}

std::string second_page(const Sheet& s, const std::vector<Picture>& rulers) {
  using namespace sheet_parts;
  const SheetContent& c = s.content;
  const std::string moves =
      section("moves", "How it moves", flexible_figure(pictures::movement(c)), "pictures flexible");
  // Columns of about the same length.
  const bool few_pictures = pictures::hole_forces(c).empty();
  const std::string drawn = details(c) + (few_pictures ? assumptions(s) : "") + not_checked(s);
  const std::string tables =
      checks(s) + loads(s) + margins(s) + (few_pictures ? "" : assumptions(s)) + moves;
  return "<div class=\"page two\" id=\"figures\">" + rulers_on_paper(rulers, false) +
         division("column", drawn) + division("column", tables) + worked(s) + sources(s) +
         deferral(true) + colophon(s) + "</div>\n";
}

// Without script: the boxes stand before what they print, as siblings.
constexpr const char* what_to_print =
    "<input type=\"checkbox\" id=\"print-tables\">"
    "<label for=\"print-tables\">print all tables and pictures</label>"
    "<input type=\"checkbox\" id=\"print-cards\">"
    "<label for=\"print-cards\">print the cards as well</label>\n";

}  // namespace

std::string sheet_html(const SheetContent& content) {
  const Sheet s(content);
  const std::vector<cards::Card> cards = all_cards(content);
  std::string title = sheet_parts::verdict_words(content.assessment.verdict);
  if (!content.setup.title.empty()) title += ": " + content.setup.title;
  std::string out =
      "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n"
      "<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n<title>" +
      html::text(title, 160) + "</title>\n<style>" + style::of_sheet(content.paper) +
      "</style>\n</head>\n<body>\n<main>\n";
  const std::vector<Picture> rulers = pictures::pull_rulers(content, Form::paper);
  out += first_page(s, cards, rulers) + what_to_print + second_page(s, rulers);
  for (const cards::Card& c : cards) {
    out += sheet_parts::section(c.id, html::text(c.title, 60), c.html, "card");
  }
  return out + "</main>\n</body>\n</html>\n";
}

}  // namespace thole
