#include <boost/uuid/detail/sha1.hpp>

#include <fmt/format.h>

#include <array>
#include <utility>

#include <thole/report.hpp>
#include <thole/sheet.hpp>

#include "report/cards.hpp"
#include "report/pictures.hpp"
#include "report/sheet_paper.hpp"
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

// The file's name on each page, so that a single leaf still says what it belongs to.
std::string footer(const SheetContent& c, int page) {
  return element("p",
                 "thole " + html::text(version()) + ", " + html::text(c.date, 40) + ", " +
                     html::users(c.file, 60) + " " + html::text(c.hash.substr(0, 8)) + ", page " +
                     std::to_string(page) + " of 2",
                 "foot");
}

// A picture and the page of paper that it stands on.
struct Placed {
  pictures::Picture picture;
  int page = 1;
  bool on_paper = true;
};

// Pictures in the order of their worth: each where it still fits in full size, else on the screen
// only. Two columns never fill to the last line.
class Placing {
 public:
  Placing(double first, double second) : room_{first - slack, second - slack} {}
  /// How far down the columns of a page pictures begin, and how long a column is.
  void begin(int page, double at, double column) {
    at_[std::size_t(page - 1)] = at;
    column_[std::size_t(page - 1)] = column;
  }

  void place(pictures::Picture picture, int from) {
    if (picture.element.empty()) return;
    const double height = sheet_paper::height_of(picture);
    Placed& p = placed.emplace_back(Placed{std::move(picture), from, false});
    for (int page = from; page <= 2 && !p.on_paper; ++page) {
      const auto i = std::size_t(page - 1);
      // A picture that goes to the next column leaves a gap behind.
      const bool turns = at_[i] < column_[i] && at_[i] + height > column_[i];
      const double takes = height + (turns ? column_[i] - at_[i] : 0);
      if (takes > room_[i]) continue;
      room_[i] -= takes;
      at_[i] += takes;
      p.page = page;
      p.on_paper = true;
    }
  }
  [[nodiscard]] std::string of_page(int page, const std::string& id,
                                    const std::string& heading) const {
    std::string out;
    bool any = false;
    for (const Placed& p : placed) {
      if (p.page != page) continue;
      out += sheet_parts::figure(p.picture, p.on_paper ? "" : "extra");
      any = any || p.on_paper;
    }
    return sheet_parts::section(id, heading, out, any ? "pictures" : "pictures extra");
  }

  std::vector<Placed> placed;

 private:
  static constexpr double slack = 22;  // mm of column
  std::array<double, 2> room_;
  std::array<double, 2> at_{};
  std::array<double, 2> column_{};
};

// What 8.5 pt takes less than 10 pt.
constexpr double fine_print = 0.25;

struct Pages {
  std::string first;
  std::string second;
};

Pages pages_of(const Sheet& s, const std::vector<cards::Card>& cards) {
  using namespace sheet_parts;
  const SheetContent& c = s.content;
  const std::string head = verdict(s);
  const std::string set = limits(s);
  const std::string then = changes(s) + first_to_go(s) + cautions(s) + deferral(false);
  const std::string small = worked(s);
  const std::string cited = sources(s);
  const std::string tables = checks(s) + small + loads(s) + margins(s) + assumptions(s) +
                             not_checked(s) + cited + deferral(true) + colophon(s);
  const double page = sheet_paper::room_on(c.paper);
  Placing places(
      page - 2 * sheet_paper::height_of(head, 2) - sheet_paper::height_of(set + then),
      page - sheet_paper::height_of(tables) + fine_print * sheet_paper::height_of(small + cited));
  places.begin(1, sheet_paper::height_of(set), page / 2 - sheet_paper::height_of(head, 2));
  places.begin(2, 0, page / 2);
  places.place(pictures::plan(c), 1);
  places.place(pictures::stern(c), 1);
  for (pictures::Picture& p : pictures::pull_rulers(c)) places.place(std::move(p), 1);
  for (pictures::Picture& p : pictures::hole_forces(c)) places.place(std::move(p), 2);
  for (pictures::Picture& p : pictures::directions(c)) places.place(std::move(p), 2);
  places.place(pictures::side(c), 2);
  places.place(pictures::movement(c), 2);
  Pages out;
  out.first = "<div class=\"page one\" id=\"answer\">" + head + contents(cards) +
              "<div class=\"columns\">" + set + places.of_page(1, "pictures", "How it stands") +
              then + "</div>" + footer(c, 1) + "</div>\n";
  out.second = "<div class=\"page two\" id=\"figures\"><div class=\"columns\">" +
               places.of_page(2, "details", "More pictures") + tables + "</div>" + footer(c, 2) +
               "</div>\n";
  return out;
}

// Without script: the boxes stand before what they print, as siblings. The first page asks `:has`,
// which old browsers lack; there its further pictures stay on the screen.
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
  const Pages pages = pages_of(s, cards);
  out += pages.first + what_to_print + pages.second;
  for (const cards::Card& c : cards) {
    out += sheet_parts::section(c.id, html::text(c.title, 60), c.html, "card");
  }
  return out + "</main>\n</body>\n</html>\n";
}

}  // namespace thole
