#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <utility>

#include "core/stable_order.hpp"
#include "report/chart_labels.hpp"
#include "report/html.hpp"
#include "report/pictures.hpp"
#include "report/text.hpp"

namespace thole::pictures {
namespace {

using charts::Block;
using charts::line_height;
using charts::text_size;
using svg::Anchor;
using svg::Drawing;
using svg::Point;

constexpr double margin = 2;
constexpr double column = 86;  // of labels, on either side
constexpr double gap = 26;     // between labels and pattern
constexpr double room_across = charts::drawing_width - 2 * (column + gap);
constexpr double room_up = 170;
constexpr double head_room = 34;  // over the pattern
constexpr double longest_arrow = 28;
constexpr double between_labels = 6;

// A pattern of fasteners on one face. Places in metres: along x forward, y outboard or, of a
// ledge, below its seat.
struct Group {
  std::string part;
  std::string title;
  std::vector<FastenerForce> fasteners;
  Outline outline;
  bool ledge = false;
  bool port = false;
  bool directed = true;  // which way the shear points is known
  int worst = 0;         // its number; 0: all may be
  bool named = false;    // the worst check names it
  std::string more;      // under other loads, "" where none takes more
  bool at_most = false;  // bounds that no fastener of it exceeds
};

double shear_of(const FastenerForce& f) {
  return std::hypot(f.forward.value(), f.outboard.value());
}

Force shear(const FastenerForce& f) { return Force::from_value(shear_of(f)); }

const Ledge* ledge_called(const Setup& s, const std::string& part) {
  if (!s.on_board()) return nullptr;
  if (part == "port ledge") return &s.board().port;
  if (part == "starboard ledge") return &s.board().starboard;
  return nullptr;
}

Outline upright_leg(const Ledge& l) {
  const Length half = 0.5 * l.fore_aft;
  const Length low = l.fastening ? l.fastening->foot_below : Length{};
  return {{-half, Length{}}, {half, Length{}}, {half, low}, {-half, low}};
}

void describe(const Setup& s, Group& g) {
  g.port = s.fit && !s.fit->starboard;
  if (const Ledge* l = ledge_called(s, g.part)) {
    g.ledge = true;
    g.port = l == &s.board().port;
    g.outline = upright_leg(*l);
    g.title = "Bolts of the " + g.part;
    return;
  }
  if (s.on_board()) {
    g.title = "Bolts of the " + charts::short_name(g.part);
    for (const Gear& gear : s.gear) {
      if (gear.name != g.part) continue;
      g.port = gear.place.side == Side::port;
      if (gear.foot) g.outline = gear.foot->outline;
    }
    return;
  }
  const GunwalePlate& m = s.plate();
  if (!g.part.empty()) {
    g.title = "Fasteners of the " + charts::short_name(g.part);
    if (m.bracket && m.bracket->fitting) g.outline = m.bracket->fitting->foot.outline;
    return;
  }
  g.title = m.bracket ? "Fasteners of the bracket" : "Fasteners of the base";
  g.outline = m.base.outline;
}

// What the worst check names, or else what takes most.
int worst_of(const Assessment& a, Group& g) {
  for (const CheckResult& c : a.checks) {
    if (c.standing != Standing::applies || c.case_title.empty()) continue;
    const bool own = c.part == g.part || (g.part.empty() && c.part == "other fasteners");
    if (g.ledge || !own || c.fastener < 0) break;
    for (const FastenerForce& f : g.fasteners) {
      if (f.number != c.fastener + 1) continue;
      g.named = true;
      return f.number;
    }
    break;
  }
  const auto most = std::max_element(g.fasteners.begin(), g.fasteners.end(),
                                     [](const FastenerForce& x, const FastenerForce& y) {
                                       return std::hypot(x.tension.value(), shear_of(x)) <
                                              std::hypot(y.tension.value(), shear_of(y));
                                     });
  return most->number;
}

struct Worst {
  std::vector<Group> groups;
  std::string load;  // case and direction
};

// Of the loads that are worst for anything else, the greatest on one of these fasteners.
std::string more_elsewhere(const SheetContent& c, const Group& g) {
  const Assessment& a = c.assessment;
  Force own_pull{};
  Force own_shear{};
  for (const FastenerForce& f : g.fasteners) {
    own_pull = std::max(own_pull, f.tension);
    own_shear = std::max(own_shear, shear(f));
  }
  Force pull = own_pull;
  Force side = own_shear;
  for (const CaseForces& forces : a.forces) {
    for (const FastenerForce& f : forces.fasteners) {
      if ((f.part == "other fasteners" ? "" : f.part) != g.part) continue;
      pull = std::max(pull, f.tension);
      side = std::max(side, shear(f));
    }
  }
  const ReaderUnits u = c.setup.units;
  std::vector<std::string> out;
  if (pull > 1.01 * own_pull) out.push_back("pull to " + about(pull, u, Rounding::up));
  if (side > 1.01 * own_shear) out.push_back("shear to " + about(side, u, Rounding::up));
  return text::joined(out);
}

void add(std::vector<Group>& groups, const FastenerForce& f) {
  // Other fasteners of the same base are on the same drawing, numbers go on.
  const std::string part = f.part == "other fasteners" ? "" : f.part;
  auto own =
      std::find_if(groups.begin(), groups.end(), [&](const Group& g) { return g.part == part; });
  if (own == groups.end()) {
    own = groups.insert(own, Group{});
    own->part = part;
  }
  own->fasteners.push_back(f);
}

Worst worst_case(const SheetContent& content) {
  const Assessment& a = content.assessment;
  Worst out;
  if (a.worst_forces && *a.worst_forces < a.forces.size()) {
    const CaseForces& f = a.forces[*a.worst_forces];
    for (const FastenerForce& one : f.fasteners) add(out.groups, one);
    if (f.loading.load_case < a.cases.size()) {
      out.load = a.cases[f.loading.load_case].load_case.title;
    }
    if (!f.loading.words.empty()) out.load += (out.load.empty() ? "" : ", ") + f.loading.words;
  }
  if (out.groups.empty() && !content.setup.on_board()) {
    for (const FastenerRow& r : a.fasteners) {
      FastenerForce f;
      f.number = out.groups.empty() ? 1 : int(out.groups.front().fasteners.size()) + 1;
      f.at = r.at;
      f.tension = r.tension;
      f.forward = r.shear;
      add(out.groups, f);
    }
    for (Group& g : out.groups) g.directed = false;
    for (const CheckResult& c : a.checks) {
      if (c.standing != Standing::applies || c.case_title.empty()) continue;
      out.load = c.case_title + (c.direction.empty() ? "" : ", " + c.direction);
      break;
    }
  }
  for (Group& g : out.groups) {
    describe(content.setup, g);
    g.at_most = g.fasteners.front().at_most;
    if (!g.at_most) g.worst = worst_of(a, g);
    g.more = more_elsewhere(content, g);
  }
  return out;
}

class Pattern {
 public:
  Pattern(const Setup& s, const Group& g, const std::string& load, std::string id)
      : s_(s), g_(g), load_(load), id_(std::move(id)) {
    Point low{1e9, 1e9};
    Point high{-1e9, -1e9};
    const auto cover = [&](const PlanPoint& p) {
      const Point at = turned(p.x.value(), p.y.value());
      low = {std::min(low.x, at.x), std::min(low.y, at.y)};
      high = {std::max(high.x, at.x), std::max(high.y, at.y)};
    };
    for (const PlanPoint& p : g.outline) cover(p);
    for (const FastenerForce& f : g.fasteners) cover(f.at);
    const double width = std::max(1e-3, high.x - low.x);
    const double height = std::max(1e-3, high.y - low.y);
    scale_ = std::min(room_across / width, room_up / height);
    middle_ = {(low.x + high.x) / 2, (low.y + high.y) / 2};
    pattern_height_ = scale_ * height;
    for (const FastenerForce& f : g.fasteners) most_shear_ = std::max(most_shear_, shear_of(f));
    sort_labels();
    const double needed = std::max(charts::height_of(blocks(left_), between_labels),
                                   charts::height_of(blocks(right_), between_labels));
    height_ = head_room + std::max(pattern_height_ + 2 * gap, needed + gap) + 4;
  }

  Picture picture() const {
    Drawing d(id_, charts::drawing_width, height_, g_.title, description());
    heads(d);
    std::vector<Point> outline;
    for (const PlanPoint& p : g_.outline) outline.push_back(page(p));
    if (outline.size() > 2) d.polygon(outline, "part");
    column_of(d, left_, true);
    column_of(d, right_, false);
    for (const FastenerForce& f : g_.fasteners) hole(d, f);
    for (const FastenerForce& f : g_.fasteners) number(d, f);
    return {id_, g_.title, d.element(), caption()};
  }

 private:
  // Forward is up the page and starboard to the right; of a ledge, seen from inside, down is down.
  [[nodiscard]] Point turned(double x, double y) const {
    const double side = g_.port ? -1 : 1;
    if (g_.ledge) return {-side * x, y};
    return {side * y, -x};
  }

  [[nodiscard]] Point page(const PlanPoint& p) const {
    const Point t = turned(p.x.value(), p.y.value());
    const double centre = head_room + (height_ - head_room) / 2;
    return {charts::drawing_width / 2 + scale_ * (t.x - middle_.x),
            centre + scale_ * (t.y - middle_.y)};
  }

  [[nodiscard]] std::vector<std::string> label(const FastenerForce& f) const {
    return {fmt::format("no. {}{}", f.number, f.at_most ? ", up to" : ""),
            "pull " + about(f.tension, s_.units, Rounding::up),
            "shear " + about(shear(f), s_.units, Rounding::up)};
  }

  [[nodiscard]] std::vector<Block> blocks(const std::vector<const FastenerForce*>& list) const {
    std::vector<Block> out;
    for (const FastenerForce* f : list) out.push_back({page(f->at).y, 3 * line_height});
    return out;
  }

  // The left half of the holes to the left column, each from the top down.
  void sort_labels() {
    std::vector<const FastenerForce*> all;
    for (const FastenerForce& f : g_.fasteners) all.push_back(&f);
    const auto across = [this](const FastenerForce* f) {
      return turned(f->at.x.value(), f->at.y.value()).x;
    };
    const auto down = [this](const FastenerForce* f) {
      return turned(f->at.x.value(), f->at.y.value()).y;
    };
    sort_stably(all, [&](const auto* a, const auto* b) {
      if (std::abs(across(a) - across(b)) > 1e-6) return across(a) < across(b);
      return down(a) < down(b);
    });
    const std::size_t half = (all.size() + 1) / 2;
    left_.assign(all.begin(), all.begin() + std::ptrdiff_t(half));
    right_.assign(all.begin() + std::ptrdiff_t(half), all.end());
    for (auto* list : {&left_, &right_}) {
      sort_stably(*list, [&](const auto* a, const auto* b) { return down(a) < down(b); });
    }
  }

  void heads(Drawing& d) const {
    const double y = 13;
    const double centre = charts::drawing_width / 2;
    if (g_.ledge) {
      const double way = g_.port ? 1 : -1;
      d.text({centre, y}, "seen from inside the boat", text_size, Anchor::middle, "note");
      d.text({centre, y + 15}, "forward", text_size, Anchor::middle, "strong");
      d.arrow({centre + way * 28, y + 11}, {centre + way * 56, y + 11}, 8, "dim");
      return;
    }
    d.text({margin, y}, "seen from above", text_size, Anchor::start, "note");
    d.text({centre + 10, y}, "forward", text_size, Anchor::start, "strong");
    d.arrow({centre, y + 13}, {centre, 3}, 8, "dim");
  }

  void column_of(Drawing& d, const std::vector<const FastenerForce*>& list, bool left) const {
    const std::vector<double> middles =
        charts::moved_apart(blocks(list), between_labels, head_room, height_ - 4);
    for (std::size_t i = 0; i < list.size(); ++i) {
      const double x = left ? column : charts::drawing_width - column;
      double y = middles[i] - 1.5 * line_height + 11;
      const Point hole_at = page(list[i]->at);
      d.line({x + (left ? 3 : -3), middles[i]}, hole_at, "thin");
      bool first = true;
      for (const std::string& line : label(*list[i])) {
        d.text({x, y}, charts::fitted(line, column - margin, first), text_size,
               left ? Anchor::end : Anchor::start, first ? "strong" : "text");
        y += line_height;
        first = false;
      }
    }
  }

  // A dot in a circle: an arrow that comes out of the page.
  void hole(Drawing& d, const FastenerForce& f) const {
    const Point at = page(f.at);
    d.circle(at, 6, "hole-rim");
    if (f.tension.value() > 0) d.circle(at, 2.4, "hole-pull");
    if (f.number == g_.worst) {
      d.circle(at, 10, "worst");
      d.circle(at, 15, "worst");
    }
    if (!g_.directed || !(most_shear_ > 0)) return;
    const double length = longest_arrow * shear_of(f) / most_shear_;
    if (length < 1) return;
    const Point way = turned(f.forward.value(), f.outboard.value());
    const double size = std::hypot(way.x, way.y);
    const Point tip{at.x + length * way.x / size, at.y + length * way.y / size};
    d.arrow(at, tip, std::min(8.0, 0.6 * length), "load");
  }

  void number(Drawing& d, const FastenerForce& f) const {
    const Point at = page(f.at);
    const double away = f.number == g_.worst ? 13 : 6;
    d.text({at.x + away, at.y - away}, fmt::format("{}", f.number), text_size, Anchor::start,
           "strong chart-figure");
  }

  [[nodiscard]] std::string load_words() const {
    return load_.empty() ? std::string("the worst load") : load_;
  }

  [[nodiscard]] std::string description() const {
    std::string out = charts::short_name(load_words(), 120) + ": ";
    for (const FastenerForce& f : g_.fasteners) {
      const std::string most = f.at_most ? "at most " : "";
      out += fmt::format("no. {} pull {}, shear {}; ", f.number, most + show(f.tension, s_.units),
                         most + show(shear(f), s_.units));
    }
    if (g_.worst == 0) return out;
    return out + fmt::format("no. {} is ringed.", g_.worst);
  }

  [[nodiscard]] std::string caption() const {
    std::string words = html::text(text::sentence(load_words()), 200);
    if (g_.worst > 0) {
      words += fmt::format(" Ringed: no. {}, {}.", g_.worst,
                           g_.named ? "the worst" : "which takes most of these");
    }
    words += " Dot in a circle: pulled out of the page.";
    words += g_.directed ? " Arrow: shear on the fastener."
                         : " Which way the shear points is not drawn.";
    if (g_.at_most) {
      words += " Which bolt of the row takes most is not known: none takes more than this.";
    }
    words += g_.more.empty() ? " Under other loads a fastener may take more: see the checks."
                             : " Under other loads one of them takes more, " + g_.more +
                                   " or beyond: see the checks.";
    if (!g_.ledge && !s_.on_board() && !s_.fit) words += " Drawn as on the starboard side.";
    return html::element("p", words, "note") + table();
  }

  [[nodiscard]] std::string table() const {
    const auto cell = [](const std::string& t) { return html::element("td", t); };
    const auto head = [](const std::string& t) { return "<th scope=\"col\">" + t + "</th>"; };
    std::string rows = "<tr>" + head("No.") + head("forward") +
                       head(g_.ledge ? "below the seat" : "outboard") + head("pull") +
                       head("shear") + "</tr>";
    for (const FastenerForce& f : g_.fasteners) {
      const std::string most = f.at_most ? "up to " : "";
      rows += "<tr>" + cell(std::to_string(f.number)) + cell(html::both(f.at.x, s_.units)) +
              cell(html::both(f.at.y, s_.units)) + cell(most + show(f.tension, s_.units)) +
              cell(most + show(shear(f), s_.units)) + "</tr>";
    }
    return html::element("table", rows, "hole-table");
  }

  const Setup& s_;
  const Group& g_;
  std::string load_;
  std::string id_;
  double scale_ = 1;  // drawing units for a metre
  Point middle_;
  double pattern_height_ = 0;
  double most_shear_ = 0;
  double height_ = 0;
  std::vector<const FastenerForce*> left_;
  std::vector<const FastenerForce*> right_;
};

}  // namespace

std::vector<Picture> hole_forces(const SheetContent& content) {
  const Worst worst = worst_case(content);
  std::vector<Picture> out;
  for (const Group& g : worst.groups) {
    out.push_back(
        Pattern(content.setup, g, worst.load, "hole-forces-" + std::to_string(out.size() + 1))
            .picture());
  }
  return out;
}

}  // namespace thole::pictures
