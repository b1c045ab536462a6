#include <algorithm>
#include <cmath>
#include <string>
#include <utility>
#include <vector>

#include <thole/build_info.hpp>
#include <thole/sheet.hpp>

#include "report/html.hpp"
#include "report/svg.hpp"
#include "report/template_drawing.hpp"
#include "report/text.hpp"
#include "report/wording.hpp"

namespace thole {
namespace {

using svg::Anchor;
using svg::Drawing;
using svg::Point;
using template_drawing::Clip;
using template_drawing::Pattern;

// What both papers can print, with room for printers that leave a wide margin: mm.
constexpr double page_width = 180;
constexpr double page_height = 245;
constexpr double plain_head = 30.5;  // a band more where there is one
constexpr double band_height = 6;
constexpr double foot_height = template_drawing::bars_height;
constexpr double drawing_width = 168;  // beside it the upright bar
constexpr double overlap = 15;
constexpr double line_height = 4.3;
constexpr double line_length = 86;
constexpr std::size_t most_tiles = 24;

double head_height(const Assessment& a) {
  return plain_head + (template_drawing::band(a).empty() ? 0 : band_height);
}
double body_height(double head) { return page_height - head - foot_height - 2; }

std::string mm(double v) { return svg::number(v) + "mm"; }

// ---- What is written beside a pattern
// ------------------------------------------------------------

struct Line {
  std::string html;
  double height = line_height;
  bool heading = false;
};

// In letters of usual width, high side: nothing may run off the foot of a page.
double letters_of(const std::string& text) {
  double out = 0;
  for (const char c : text) {
    const auto byte = static_cast<unsigned char>(c);
    if ((byte & 0xc0U) == 0x80U) continue;  // rest of a character
    const bool wide = byte >= 0x80 || (c >= 'A' && c <= 'Z') || c == 'm' || c == 'w' || c == '@';
    out += wide ? 1.8 : 1;
  }
  return out;
}

Line written(const std::string& text, const std::string& of = "") {
  const auto lines = 1 + std::size_t(letters_of(text) / line_length);
  return {html::element("p", html::text(text), of), line_height * double(lines)};
}

Line heading(const std::string& text) {
  return {html::element("h3", html::text(text)), line_height + 2, true};
}

void add_list(std::vector<Line>& out, const std::string& title,
              const std::vector<std::string>& items, const std::string& of) {
  if (items.empty()) return;
  out.push_back(heading(title));
  for (const std::string& i : items) out.push_back(written(text::sentence(i), of));
}

std::vector<std::string> hole_rows(const HoleSet& set, ReaderUnits u) {
  std::vector<std::string> out;
  const auto way = [&](Length v, const std::string& positive) {
    static const std::vector<std::pair<std::string, std::string>> opposite{
        {"forward", "aft"}, {"outboard", "inboard"}, {"up", "down"}};
    std::string word = positive;
    if (v.value() < 0) {
      for (const auto& [one, other] : opposite) {
        if (one == positive) word = other;
      }
    }
    return html::both(abs(v), u) + " " + word;
  };
  for (const Hole& h : set.holes) {
    std::string row = "no. " + std::to_string(h.number);
    if (!h.name.empty()) row += " (" + text::plain(h.name, 50) + ")";
    row += ": " + way(h.at.x - set.datum_at.x, set.x_is) + ", " +
           way(h.at.y - set.datum_at.y, set.y_is);
    if (h.marked_only) row += "; mark only";
    out.push_back(row);
  }
  return out;
}

std::vector<std::string> edge_rows(const HoleSet& set, ReaderUnits u) {
  std::vector<const EdgeNote*> shown;
  for (const EdgeNote& e : set.edges) {
    const std::string kind = e.words.starts_with("to the middle of") ? "spacing" : e.words;
    const auto same = std::find_if(shown.begin(), shown.end(), [&](const EdgeNote* o) {
      return (o->words.starts_with("to the middle of") ? "spacing" : o->words) == kind;
    });
    if (same == shown.end()) {
      shown.push_back(&e);
    } else if (e.distance < (*same)->distance) {
      *same = &e;
    }
  }
  std::vector<std::string> out;
  const auto row = [&](const EdgeNote& e) {
    std::string text =
        "no. " + std::to_string(e.number) + " " + e.words + ": " + html::both(e.distance, u);
    text += e.least ? "; asked for: " + html::both(*e.least, u, Rounding::up)
                    : std::string("; no rule in the checks");
    if (e.is_short()) text += ". SHORT";
    out.push_back(text);
  };
  for (const EdgeNote* e : shown) row(*e);
  for (const EdgeNote& e : set.edges) {
    if (e.is_short() && std::find(shown.begin(), shown.end(), &e) == shown.end()) row(e);
  }
  return out;
}

std::vector<Line> written_of(const HoleSet& set, ReaderUnits u) {
  std::vector<Line> out;
  out.push_back(written("Into: " + text::plain(set.into, 120)));
  out.push_back(written("Seen " + set.face + ". Laid out from: " + set.datum + "."));
  if (!set.other_side.empty()) out.push_back(written(text::sentence(set.other_side)));
  if (set.made) {
    out.push_back(
        written("Make " + std::to_string(set.made->count) + ", " + set.made->advice + "."));
  }
  if (set.assumed) {
    out.push_back(
        written("A place or size in the file is a guess: measure before you mark out.", "guess"));
  }
  add_list(out, "Look behind before you drill: tick each", set.behind, "tick");
  std::vector<std::string> drills, sources;
  for (const Drill& d : set.drills) {
    drills.push_back(template_drawing::drill_words(d, u));
    const std::string source = to_text(d.source);
    if (std::find(sources.begin(), sources.end(), source) == sources.end())
      sources.push_back(source);
  }
  if (!sources.empty()) drills.push_back("sources: " + text::joined(sources, "; "));
  add_list(out, "Drills in the order of use", drills, "");
  add_list(out, "Holes, from the " + std::string("datum"), hole_rows(set, u), "");
  add_list(out, "Distances as drawn and asked for: the least of each kind, all that are short",
           edge_rows(set, u), "");
  add_list(out, "Mind", set.notes, "");
  return out;
}

// ---- Pages
// ---------------------------------------------------------------------------------------

struct Page {
  std::string what;  ///< "board, port end"
  std::string body;
  std::string key{};
  std::string place{};  ///< "row 1/2, column 1/1"
};

std::string drawing_element(const std::string& id, const HoleSet& set, const Pattern& pattern,
                            const Clip& clip, const std::string& more) {
  Drawing d(id, clip.width, clip.height, text::plain(set.name, 80),
            "Hole pattern at its true size: " + std::to_string(set.holes.size()) + " holes, seen " +
                set.face,
            true);
  pattern.draw(d, clip);
  d.raw(more);
  return d.element();
}

// Crosses at the same true places on both neighbours.
struct Register {
  std::string name;
  double x, y;
};

std::vector<Register> registers(std::size_t rows, std::size_t columns, double tile_width,
                                double tile_height) {
  std::vector<Register> out;
  const double step_x = tile_width - overlap;
  const double step_y = tile_height - overlap;
  char letter = 'A';
  const auto seam = [&](std::size_t count, auto place) {
    for (std::size_t i = 0; i < 2 * count; ++i) {
      const double along = double(i / 2) + (i % 2 == 0 ? 0.3 : 0.7);
      const auto [x, y] = place(along);
      out.push_back({letter + std::to_string(i + 1), x, y});
    }
    ++letter;
  };
  for (std::size_t c = 1; c < columns; ++c) {
    seam(rows, [&](double along) {
      return std::pair(double(c) * step_x + 0.5 * overlap, along * step_y);
    });
  }
  for (std::size_t r = 1; r < rows; ++r) {
    seam(columns, [&](double along) {
      return std::pair(along * step_x, double(r) * step_y + 0.5 * overlap);
    });
  }
  return out;
}

std::string register_marks(const std::vector<Register>& all, const Clip& clip) {
  std::string out;
  for (const Register& r : all) {
    const double x = r.x - clip.x;
    const double y = r.y - clip.y;
    if (x < 0 || y < 0 || x > clip.width || y > clip.height) continue;
    out += "<g class=\"register-mark\" data-mark=\"" + r.name + "\" data-x=\"" + svg::number(r.x) +
           "\" data-y=\"" + svg::number(r.y) + "\"><path class=\"register\" d=\"M" +
           svg::number(x - 5) + " " + svg::number(y) + "h10M" + svg::number(x) + " " +
           svg::number(y - 5) + "v10\"/><circle class=\"register\" cx=\"" + svg::number(x) +
           "\" cy=\"" + svg::number(y) + "\" r=\"2.5\"/><text class=\"template-words\" x=\"" +
           svg::number(x + 1) + "\" y=\"" + svg::number(y - 2.8) + "\" font-size=\"3\">" + r.name +
           "</text></g>";
  }
  return out;
}

// Where a tile lies among its neighbours.
std::string key_map(const std::string& id, std::size_t rows, std::size_t columns, std::size_t row,
                    std::size_t column) {
  const double wide = std::min(7.0, 28.0 / double(columns));
  const double high = std::min(5.0, 14.0 / double(rows));
  Drawing d(id, wide * double(columns) + 1, high * double(rows) + 1, "Key map",
            "Row " + std::to_string(row + 1) + ", column " + std::to_string(column + 1), true);
  for (std::size_t r = 0; r < rows; ++r) {
    for (std::size_t c = 0; c < columns; ++c) {
      d.rectangle({0.5 + wide * double(c), 0.5 + high * double(r)}, wide, high,
                  r == row && c == column ? "key-here" : "key");
    }
  }
  return d.element();
}

class Pages {
 public:
  explicit Pages(const SheetContent& c)
      : c_(c), u_(c.setup.units), body_height_(body_height(head_height(c.assessment))) {}

  void add(const HoleSet& set) {
    ++number_;
    const Pattern pattern(set, u_,
                          template_drawing::best_layout(set, u_, drawing_width, body_height_));
    const double step_x = drawing_width - overlap;
    const double step_y = body_height_ - overlap;
    const auto count = [](double size, double page, double step) {
      return size <= page ? std::size_t{1}
                          : std::size_t(std::ceil((size - page) / step - 1e-9)) + 1;
    };
    const std::size_t columns = count(pattern.width(), drawing_width, step_x);
    const std::size_t rows = count(pattern.height(), body_height_, step_y);
    std::vector<Line> lines = written_of(set, u_);
    const std::string id = "pattern-" + std::to_string(number_);
    if (rows * columns > most_tiles) {
      lines.push_back(written("Too large to print: " + std::to_string(rows * columns) +
                                  " pages. Lay it out by the distances above.",
                              "guess"));
      lists(set, lines, "", 0);
      return;
    }
    if (rows * columns == 1) {
      lists(set, lines,
            drawing_element(id, set, pattern, {0, 0, pattern.width(), pattern.height()}, ""),
            pattern.height());
      return;
    }
    lines.insert(lines.begin(),
                 written(std::to_string(rows * columns) +
                         " pages: cut one edge of each, lay the crosses of the same name on each "
                         "other."));
    lists(set, lines, "", 0);
    const auto marks = registers(rows, columns, drawing_width, body_height_);
    for (std::size_t r = 0; r < rows; ++r) {
      for (std::size_t c = 0; c < columns; ++c) {
        const Clip clip{double(c) * step_x, double(r) * step_y, drawing_width, body_height_};
        const std::string place = "row " + std::to_string(r + 1) + "/" + std::to_string(rows) +
                                  ", column " + std::to_string(c + 1) + "/" +
                                  std::to_string(columns);
        pages_.push_back(
            {name_of(set),
             "<div class=\"tile\" data-x=\"" + svg::number(clip.x) + "\" data-y=\"" +
                 svg::number(clip.y) + "\">" +
                 drawing_element(id + "-" + std::to_string(r + 1) + "-" + std::to_string(c + 1),
                                 set, pattern, clip, register_marks(marks, clip)) +
                 "</div>",
             key_map(id + "-key-" + std::to_string(r + 1) + "-" + std::to_string(c + 1), rows,
                     columns, r, c),
             place});
      }
    }
  }

  void add_refusal(const std::string& headline) {
    std::vector<std::string> lines{headline + "."};
    for (const std::string& r : c_.assessment.reasons) lines.push_back(text::sentence(r));
    lines.push_back("Answer these first; then print again.");
    std::string body;
    double height = 0;
    for (const std::string& l : lines) {
      const Line line = written(text::plain(l, 600));
      height += line.height;
      if (height > body_height_) break;
      body += line.html;
    }
    pages_.push_back({"no template", body});
  }

  void add_nothing() {
    pages_.push_back({"no template", written("No hole of this mount is drilled by a template: the "
                                             "file describes none.")
                                         .html});
  }

  [[nodiscard]] std::string html() const {
    std::string out;
    for (std::size_t i = 0; i < pages_.size(); ++i) out += page(i);
    return out;
  }

 private:
  static std::string name_of(const HoleSet& set) { return text::plain(set.name, 70); }

  // Lists page by page, then the drawing where it still fits, else on a page of its own.
  void lists(const HoleSet& set, const std::vector<Line>& lines, const std::string& drawing,
             double height) {
    std::string body;
    double used = 0;
    const auto turn = [&] {
      pages_.push_back({name_of(set), body});
      body.clear();
      used = 0;
    };
    for (std::size_t i = 0; i < lines.size(); ++i) {
      const double wanted =
          lines[i].height + (lines[i].heading && i + 1 < lines.size() ? lines[i + 1].height : 0);
      if (used + wanted > body_height_) turn();
      body += lines[i].html;
      used += lines[i].height;
    }
    if (!drawing.empty()) {
      if (used + height > body_height_) turn();
      body += "<div class=\"whole\">" + drawing + "</div>";
    }
    turn();
  }

  [[nodiscard]] std::string page(std::size_t i) const {
    const std::string of = "page " + std::to_string(i + 1) + " of " +
                           std::to_string(pages_.size()) +
                           (pages_[i].place.empty() ? "" : ", " + pages_[i].place);
    const std::string band = template_drawing::band(c_.assessment);
    Drawing foot("foot-" + std::to_string(i + 1), page_width, foot_height, "Bars to measure",
                 "A bar of 100 mm and one of 4 in", true);
    template_drawing::bars(foot, {0.5, 0.5});
    Drawing side("side-" + std::to_string(i + 1), 8, 52, "Upright bar", "A bar of 50 mm", true);
    template_drawing::upright_bar(side, {0.5, 0.5});
    return "<section class=\"page\"><div class=\"head\">" +
           html::element("h2", html::text(pages_[i].what, 110)) +
           html::element("p", html::users(c_.setup.title, 70), "cut") +
           html::element("p",
                         html::users(c_.file, 40) + ", " + html::text(c_.date, 20) + ", " +
                             made_by() + ", " + of,
                         "cut") +
           (band.empty() ? "" : html::element("p", html::text(band), "band")) +
           html::element("p", "Before you drill: look behind. " + html::text(wording::deferral),
                         "defer") +
           "<div class=\"key-map\">" + pages_[i].key + "</div></div><div class=\"body\">" +
           pages_[i].body + "</div><div class=\"side\">" + side.element() +
           "</div><div class=\"foot\">" + foot.element() + "</div></section>";
  }

  const SheetContent& c_;
  ReaderUnits u_;
  double body_height_;
  std::size_t number_ = 0;
  std::vector<Page> pages_;
};

std::string page_style(const SheetContent& c) {
  const double head = head_height(c.assessment);
  // Margins leave 181 x 246 mm on both papers.
  const std::string size =
      c.paper == Paper::a4 ? "A4;margin:25.5mm 14.3mm" : "letter;margin:16.7mm 17.4mm";
  return "@page{size:" + size +
         "}*{box-sizing:border-box}"
         "html{-webkit-print-color-adjust:exact;print-color-adjust:exact}"
         "body{margin:0;font:10pt/4.3mm Arial,Helvetica,sans-serif;color:#000;background:#fff}"
         "main{width:" +
         mm(page_width) +
         ";overflow:hidden}"
         "@media screen{main{margin:0 auto;max-width:100%;overflow:auto}"
         ".page{margin-bottom:8mm;border-bottom:1px solid #999}}"
         "svg{display:block}"
         ".page{position:relative;width:" +
         mm(page_width) + ";height:" + mm(page_height) +
         ";overflow:hidden;contain:paint;break-after:page}"
         ".page:last-child{break-after:auto}"
         ".head,.body,.side,.foot{position:absolute;overflow:hidden;left:0}"
         ".head{top:0;width:" +
         mm(page_width) + ";height:" + mm(head) +
         "}"
         ".body{top:" +
         mm(head) + ";width:" + mm(drawing_width) + ";height:" + mm(body_height(head)) +
         "}"
         ".side{top:" +
         mm(head) + ";left:" + mm(page_width - 8) +
         ";width:8mm;height:52mm}"
         ".foot{top:" +
         mm(page_height - foot_height) + ";width:" + mm(page_width) + ";height:" + mm(foot_height) +
         "}"
         "p,h2,h3{margin:0;overflow-wrap:anywhere}"
         "h2{font:bold 13pt/6mm Arial,Helvetica,sans-serif;height:6mm;overflow:hidden;"
         "white-space:nowrap;text-overflow:ellipsis;max-width:150mm}"
         "h3{font:bold 10pt/4.3mm Arial,Helvetica,sans-serif;padding-top:2mm}"
         ".cut{height:4.3mm;overflow:hidden;white-space:nowrap;text-overflow:ellipsis}"
         ".key-map{position:absolute;right:0;top:0;background:#fff}"
         ".band{font:bold 12pt/6mm Arial,Helvetica,sans-serif;text-align:center;color:#fff;"
         "background:#000;height:6mm}"
         ".defer{padding-top:.6mm}"
         ".guess{font-weight:bold}"
         ".tick{padding-left:6mm;position:relative}"
         ".tick::before{content:\"\";position:absolute;left:.5mm;top:.7mm;width:3mm;height:3mm;"
         "border:.3mm solid #000}" +
         template_drawing::style();
}

}  // namespace

std::string template_html(const SheetContent& c) {
  Pages pages(c);
  const std::string refusal = template_drawing::refusal(c.assessment);
  if (!refusal.empty()) {
    pages.add_refusal(refusal);
  } else {
    const std::vector<HoleSet> sets = hole_sets(c.setup, c.library);
    for (const HoleSet& s : sets) pages.add(s);
    if (sets.empty()) pages.add_nothing();
  }
  return "<!doctype html>\n<html lang=\"en\"><head><meta charset=\"utf-8\"/><meta "
         "name=\"viewport\" "
         "content=\"width=device-width,initial-scale=1\"/><title>Hole template: " +
         html::text(c.setup.title, 80) + "</title><style>" + page_style(c) +
         "</style></head><body><main>" + pages.html() + "</main></body></html>\n";
}

std::string template_svg(const SheetContent& c, const HoleSet& set) {
  const ReaderUnits u = c.setup.units;
  const std::string refusal = template_drawing::refusal(c.assessment);
  const double infinite = 1e9;
  const Pattern pattern(set, u, template_drawing::best_layout(set, u, infinite, infinite));
  std::vector<std::string> lines{
      text::plain(set.name, 80), text::plain(c.setup.title, 80),
      text::plain(c.file, 50) + ", " + text::plain(c.date, 20) + ", " + made_by(),
      "Seen " + set.face};
  const std::string band = refusal.empty() ? template_drawing::band(c.assessment) : refusal;
  if (!band.empty()) lines.insert(lines.begin(), band);
  if (refusal.empty()) {
    lines.push_back("Datum: " + set.datum);
    for (const Drill& d : set.drills) lines.push_back(template_drawing::drill_words(d, u));
  } else {
    for (const std::string& r : c.assessment.reasons) lines.push_back(text::plain(r, 110));
  }
  lines.emplace_back("Before you drill: look behind. A calculation is not an inspection:");
  lines.emplace_back(
      "have a marine professional look at the boat before you drill or rely on this.");
  constexpr double step = 5;
  const double head = step * double(lines.size()) + 4;
  const double shown_width = refusal.empty() ? pattern.width() : 0;
  const double shown_height = refusal.empty() ? std::max(pattern.height(), 54.0) : 0;
  const double width = std::max(shown_width + 12, 200.0);
  const double bars = refusal.empty() ? template_drawing::bars_height + 4 : 0;
  Drawing d("hole-template", width, head + shown_height + bars, text::plain(set.name, 80),
            refusal.empty() ? "Hole pattern at its true size, a unit is a millimetre" : refusal,
            true);
  for (std::size_t i = 0; i < lines.size(); ++i) {
    d.text({2, step * double(i + 1)}, lines[i], 3.6, Anchor::start,
           i == 0 ? "template-words template-band" : "template-words");
  }
  if (refusal.empty()) {
    pattern.draw(d, {0, 0, pattern.width(), pattern.height()}, {0, head});
    template_drawing::upright_bar(d, {shown_width + 2, head});
    template_drawing::bars(d, {2, head + shown_height + 2});
  }
  return d.file(template_drawing::style());
}

}  // namespace thole
