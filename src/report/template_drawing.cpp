#include "report/template_drawing.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <utility>

#include "report/html.hpp"
#include "report/text.hpp"

namespace thole::template_drawing {

using svg::Anchor;
using svg::Drawing;
using svg::Point;

namespace {

constexpr double small = 2.8;  // mm: just under 8 pt
constexpr double gap = 7.4;    // between labels of two lines

// "1 3/16 in (30.2 mm)" as two lines, "about" as a sign.
std::pair<std::string, std::string> two_lines(const std::string& both) {
  const std::size_t at = both.find(" (");
  if (at == std::string::npos) return {both, ""};
  const auto short_of = [](const std::string& s) {
    return s.starts_with("about ") ? "~ " + s.substr(6) : s;
  };
  return {short_of(both.substr(0, at)), short_of(both.substr(at + 2, both.size() - at - 3))};
}

double width_of(const std::string& text, double size) {
  return 0.56 * size * double(text::width(text));
}

// Moves labels apart, in order, as little as a single pass can.
void move_apart(std::vector<double>& at) {
  for (std::size_t i = 1; i < at.size(); ++i) at[i] = std::max(at[i], at[i - 1] + gap);
}

bool upward(const HoleSet& set) { return set.y_is == "up"; }

std::string toward(const std::string& way) { return way == "forward" ? "this end forward" : way; }

}  // namespace

std::string drill_words(const Drill& d, ReaderUnits u) {
  std::string out = d.use + ": " + d.name;
  if (d.diameter.value() > 0) out += ", " + html::both_decimal(d.diameter, u);
  if (!d.only.empty()) {
    std::vector<std::string> numbers;
    for (const int n : d.only) numbers.push_back(std::to_string(n));
    out += ", no. " + text::joined(numbers);
  }
  return out;
}

std::string drill_for(const HoleSet& set, int number) {
  std::string out;
  for (const Drill& d : set.drills) {
    const bool other = d.use == "tap" || d.use == "pilot" || d.use.starts_with("in its place") ||
                       !(d.diameter.value() > 0);
    const bool mine =
        d.only.empty() || std::find(d.only.begin(), d.only.end(), number) != d.only.end();
    if (other || !mine) continue;
    out = d.name;
    // What follows goes only as deep as the shank.
    if (d.use.starts_with("lead hole")) break;
  }
  return out;
}

Pattern::Pattern(const HoleSet& set, ReaderUnits units, Layout layout)
    : set_(set), units_(units), turn_(layout.turn), outside_(layout.labels_outside) {
  lay_out();
  outlines();
  edges();
  ordinates();
  holes();
  side_labels();
  compass();
}

Point Pattern::at(const PlanPoint& p) const {
  const double x = p.x.value() * 1000;
  const double y = p.y.value() * 1000 * (set_.y_left ? 1 : -1);
  switch (turn_) {
    case Turn::x_up:
      return {-y - off_x_, -x - off_y_};
    case Turn::x_right:
      return {x - off_x_, -y - off_y_};
    case Turn::x_left:
      break;
  }
  return {-x - off_x_, y - off_y_};
}

void Pattern::lay_out() {
  double low_x = std::numeric_limits<double>::infinity();
  double low_y = low_x, high_x = -low_x, high_y = -low_x;
  const auto take = [&](const PlanPoint& p) {
    const Point q = at(p);
    low_x = std::min(low_x, q.x);
    low_y = std::min(low_y, q.y);
    high_x = std::max(high_x, q.x);
    high_y = std::max(high_y, q.y);
  };
  if (set_.window) {
    take(set_.window->low);
    take(set_.window->high);
  } else {
    for (const PlanPoint& p : set_.part) take(p);
    for (const Outline& o : set_.others) {
      for (const PlanPoint& p : o) take(p);
    }
  }
  for (const Hole& h : set_.holes) take(h.at);
  // Between what is drawn and the labels, and the room for these.
  around_ = outside_ ? 4 : 2;
  const double beside = outside_ ? 27 : 3;
  const double above = outside_ ? 27 : 20;
  off_x_ = low_x - beside - around_;
  off_y_ = low_y - above - around_;
  width_ = high_x - low_x + 2 * (beside + around_);
  height_ = high_y - low_y + above + beside + 2 * around_;
  left_ = beside;
  top_ = above;
  right_ = width_ - beside;
  bottom_ = height_ - beside;
}

void Pattern::draw(Drawing& drawing, const Clip& c, Point to) const {
  for (const Piece& p : pieces_) {
    double low_x = p.low_x, low_y = p.low_y, high_x = p.high_x, high_y = p.high_y;
    if (p.whole) {
      low_x = high_x = 0.5 * (low_x + high_x);
      low_y = high_y = 0.5 * (low_y + high_y);
    }
    if (high_x < c.x || low_x > c.x + c.width || high_y < c.y || low_y > c.y + c.height) continue;
    p.draw(drawing, to.x - c.x, to.y - c.y);
  }
}

void Pattern::line(Point a, Point b, const char* of) {
  pieces_.push_back({std::min(a.x, b.x), std::min(a.y, b.y), std::max(a.x, b.x), std::max(a.y, b.y),
                     [=](Drawing& d, double dx, double dy) {
                       d.line({a.x + dx, a.y + dy}, {b.x + dx, b.y + dy}, of);
                     }});
}

void Pattern::chain(const std::vector<Point>& points, bool closed, const char* of) {
  for (std::size_t i = 0; i + 1 < points.size(); ++i) line(points[i], points[i + 1], of);
  if (closed && points.size() > 2) line(points.back(), points.front(), of);
}

void Pattern::words(Point p, const std::string& text, double size, Anchor anchor, double turned) {
  if (text.empty()) return;
  const double wide = width_of(text, size);
  double low = 0, high = wide;
  if (anchor == Anchor::middle) {
    low = -0.5 * wide;
    high = 0.5 * wide;
  } else if (anchor == Anchor::end) {
    low = -wide;
    high = 0;
  }
  Piece piece{p.x + low, p.y - size, p.x + high, p.y + 0.3 * size,
              [=](Drawing& d, double dx, double dy) {
                d.text({p.x + dx, p.y + dy}, text, size, anchor, "template-words", turned);
              }};
  if (turned != 0) {  // upward
    piece.low_x = p.x - size;
    piece.high_x = p.x + 0.3 * size;
    piece.low_y = p.y - high;
    piece.high_y = p.y - low;
  }
  pieces_.push_back(std::move(piece));
}

void Pattern::arrow(Point tail, Point head) {
  pieces_.push_back(
      {std::min(tail.x, head.x) - 1, std::min(tail.y, head.y) - 1, std::max(tail.x, head.x) + 1,
       std::max(tail.y, head.y) + 1, [=](Drawing& d, double dx, double dy) {
         d.arrow({tail.x + dx, tail.y + dy}, {head.x + dx, head.y + dy}, 3, "template-arrow");
       }});
}

// Of a long piece only what the window shows; where it is cut there is no line.
void Pattern::side(Point a, Point b) {
  if (!set_.window) return line(a, b, "template-part");
  double from = 0, to = 1;
  const auto keep = [&](double start, double step, double low, double high) {
    if (std::abs(step) < 1e-9) {
      if (start < low - 0.01 || start > high + 0.01) to = -1;
      return;
    }
    const double one = (low - start) / step;
    const double two = (high - start) / step;
    from = std::max(from, std::min(one, two));
    to = std::min(to, std::max(one, two));
  };
  keep(a.x, b.x - a.x, left_ + around_, right_ - around_);
  keep(a.y, b.y - a.y, top_ + around_, bottom_ - around_);
  if (to <= from) return;
  line({a.x + from * (b.x - a.x), a.y + from * (b.y - a.y)},
       {a.x + to * (b.x - a.x), a.y + to * (b.y - a.y)}, "template-part");
}

void Pattern::outlines() {
  for (std::size_t i = 0; i < set_.part.size(); ++i)
    side(at(set_.part[i]), at(set_.part[(i + 1) % set_.part.size()]));
  double middle = 0;
  for (const Hole& h : set_.holes) middle += at(h.at).x / double(set_.holes.size());
  std::vector<std::pair<double, double>> taken;
  for (std::size_t i = 0; i < set_.others.size(); ++i) {
    std::vector<Point> other;
    for (const PlanPoint& p : set_.others[i]) other.push_back(at(p));
    if (other.size() < 2) continue;
    chain(other, true, "template-other");
    const std::string is = i < set_.others_are.size() ? text::plain(set_.others_are[i], 70) : "";
    if (other.size() == 2 && std::abs(other[0].x - other[1].x) < 0.01) {
      // On the side away from the holes.
      const double side = other[0].x > middle - 0.01 ? 2.9 : -0.8;
      words({other[0].x + side, std::max(other[0].y, other[1].y) - 1.5}, is, small, Anchor::start,
            -90);
      continue;
    }
    // Level: on its upper left corner, moved down where another one is written there.
    Point corner = other[0];
    for (const Point& p : other) {
      if (p.x < corner.x - 0.01 || (std::abs(p.x - corner.x) < 0.01 && p.y < corner.y)) corner = p;
    }
    double y = corner.y - 0.8;
    while (std::any_of(taken.begin(), taken.end(), [&](const auto& t) {
      return std::abs(t.first - corner.x) < 40 && std::abs(t.second - y) < 3;
    })) {
      y += 3.2;
    }
    taken.emplace_back(corner.x, y);
    words({corner.x + 1.5, y}, is, small, Anchor::start);
  }
}

void Pattern::holes() {
  for (const Hole& h : set_.holes) {
    const Point p = at(h.at);
    const double radius = std::max(500 * h.diameter.value(), 0.0);
    const double arm = std::max(radius + 2.5, 4.0);
    const std::string number = std::to_string(h.number);
    const bool mark = h.marked_only;
    const std::string drill = mark ? "mark only" : drill_for(set_, h.number);
    const double aside = 0.72 * radius + 1.2;
    pieces_.push_back(
        {p.x - arm, p.y - arm, p.x + arm, p.y + arm,
         [=](Drawing& d, double dx, double dy) {
           const Point q{p.x + dx, p.y + dy};
           d.line({q.x - arm, q.y}, {q.x + arm, q.y}, "centre-mark");
           d.line({q.x, q.y - arm}, {q.x, q.y + arm}, "centre-mark");
           d.circle(q, 0.6, "centre-ring");
           d.raw("<circle class=\"" + std::string(mark ? "mark-only" : "hole") +
                 "\" data-number=\"" + number + "\" cx=\"" + svg::number(q.x) + "\" cy=\"" +
                 svg::number(q.y) + "\" r=\"" + svg::number(std::max(radius, 0.3)) + "\"/>");
           d.text({q.x + aside, q.y - aside}, number, 4.2, Anchor::start, "template-words");
           d.text({q.x + aside, q.y + aside + 2.2}, drill, small, Anchor::start, "template-words");
         },
         true});
  }
}

// Distances from the datum, along the left and the lower side.
void Pattern::ordinates() {
  const Point datum = at(set_.datum_at);
  std::vector<double> xs, ys;
  const auto add = [](std::vector<double>& all, double v) {
    for (const double have : all) {
      if (std::abs(have - v) < 0.02) return;
    }
    all.push_back(v);
  };
  for (const Hole& h : set_.holes) {
    const Point p = at(h.at);
    add(xs, p.x);
    add(ys, p.y);
  }
  std::sort(xs.begin(), xs.end());
  std::sort(ys.begin(), ys.end());
  std::vector<double> at_x = xs, at_y = ys;
  move_apart(at_x);
  move_apart(at_y);
  const auto both = [&](double mm) {
    return two_lines(html::both(std::abs(mm) / 1000 * si::metre, units_));
  };
  for (std::size_t i = 0; i < ys.size(); ++i) {
    const auto [one, two] = both(ys[i] - datum.y);
    if (!outside_) {
      words({left_ + around_ + 1, at_y[i] - 0.5}, one, small, Anchor::start);
      words({left_ + around_ + 1, at_y[i] + 2.5}, two, small, Anchor::start);
      continue;
    }
    chain({{left_ + 2, ys[i]}, {left_ - 1, ys[i]}, {left_ - 5, at_y[i]}}, false, "template-dim");
    words({left_ - 6, at_y[i] - 0.3}, one, small, Anchor::end);
    words({left_ - 6, at_y[i] + 2.7}, two, small, Anchor::end);
  }
  for (std::size_t i = 0; i < xs.size(); ++i) {
    const auto [one, two] = both(xs[i] - datum.x);
    if (!outside_) {
      words({at_x[i] - 0.5, bottom_ - around_ - 1}, one, small, Anchor::start, -90);
      words({at_x[i] + 2.5, bottom_ - around_ - 1}, two, small, Anchor::start, -90);
      continue;
    }
    chain({{xs[i], bottom_ - 2}, {xs[i], bottom_ + 1}, {at_x[i], bottom_ + 5}}, false,
          "template-dim");
    words({at_x[i] - 0.3, bottom_ + 6}, one, small, Anchor::end, -90);
    words({at_x[i] + 2.7, bottom_ + 6}, two, small, Anchor::end, -90);
  }
  // The datum itself, where it lies on the drawing.
  const bool on_x = datum.x > left_ && datum.x < right_;
  const bool on_y = datum.y > top_ && datum.y < bottom_;
  if (on_y) line({left_ - 4, datum.y}, {right_ + 1, datum.y}, "template-centre");
  if (on_x) line({datum.x, top_ - 1}, {datum.x, bottom_ + 4}, "template-centre");
}

// The least distance of each kind, and every one that is short.
void Pattern::edges() {
  std::vector<const EdgeNote*> least;
  for (const EdgeNote& e : set_.edges) {
    const bool spacing = e.words.starts_with("to the middle of");
    if (spacing && !e.is_short()) continue;
    const auto same = std::find_if(least.begin(), least.end(),
                                   [&](const EdgeNote* o) { return o->words == e.words; });
    if (same == least.end()) {
      least.push_back(&e);
      continue;
    }
    // Of equal ones that whose edge lies to the right or above: there is room for words.
    const double closer = ((*same)->distance - e.distance).value();
    const Point a = at((*same)->to);
    const Point b = at(e.to);
    if (closer > 1e-7 || (closer > -1e-7 && b.x - b.y > a.x - a.y + 0.01)) *same = &e;
  }
  for (const EdgeNote* e : least) edge(*e);
}

void Pattern::edge(const EdgeNote& e) {
  const auto hole = std::find_if(set_.holes.begin(), set_.holes.end(),
                                 [&](const Hole& h) { return h.number == e.number; });
  if (hole == set_.holes.end()) return;
  const Point a = at(hole->at);
  const Point b = at(e.to);
  if (set_.window && (b.x < left_ || b.x > right_ || b.y < top_ || b.y > bottom_)) return;
  if (std::hypot(b.x - a.x, b.y - a.y) < 0.2) return;
  line(a, b, "template-edge");
  std::string text = html::both(e.distance, units_) + " " + e.words;
  if (e.is_short()) text += ", SHORT: least " + html::both(*e.least, units_, Rounding::up);
  const bool level = std::abs(b.y - a.y) < 0.05;
  const bool upright = std::abs(b.x - a.x) < 0.05;
  if (outside_ && level && b.x > a.x) {
    to_right_.push_back({a.y, b.x, text});
  } else if (outside_ && upright && b.y < a.y) {
    to_top_.push_back({a.x, b.y, text});
  } else {
    const auto [one, two] = two_lines(html::both(e.distance, units_));
    const Point mid{0.5 * (a.x + b.x), 0.5 * (a.y + b.y)};
    const double turned = upright ? -90 : 0;
    const auto back = [&](double by) {
      return upright ? Point{mid.x - by, mid.y} : Point{mid.x, mid.y - by};
    };
    words(back(3.8), one + (e.is_short() ? " SHORT" : ""), small, Anchor::middle, turned);
    words(back(0.8), two, small, Anchor::middle, turned);
  }
}

void Pattern::side_labels() {
  const auto place = [&](std::vector<Label>& labels, bool right) {
    std::sort(labels.begin(), labels.end(),
              [](const Label& a, const Label& b) { return a.at < b.at; });
    std::vector<double> moved;
    for (const Label& l : labels) moved.push_back(l.at);
    move_apart(moved);
    for (std::size_t i = 0; i < labels.size(); ++i) {
      const auto [one, two] = two_lines(labels[i].text.substr(0, labels[i].text.find(") ") + 1));
      const bool is_short = labels[i].text.find("SHORT") != std::string::npos;
      const std::string first = one + (is_short ? " SHORT" : "");
      if (right) {
        chain({{labels[i].from, labels[i].at}, {right_ + 1, labels[i].at}, {right_ + 5, moved[i]}},
              false, "template-dim");
        words({right_ + 6, moved[i] - 0.3}, first, small, Anchor::start);
        words({right_ + 6, moved[i] + 2.7}, two, small, Anchor::start);
      } else {
        chain({{labels[i].at, labels[i].from}, {labels[i].at, top_ - 1}, {moved[i], top_ - 5}},
              false, "template-dim");
        words({moved[i] - 0.3, top_ - 6}, first, small, Anchor::start, -90);
        words({moved[i] + 2.7, top_ - 6}, two, small, Anchor::start, -90);
      }
    }
  };
  place(to_right_, true);
  place(to_top_, false);
}

// Which way the paper lies on the boat.
void Pattern::compass() {
  const Length unit = 0.001 * si::metre;
  const Point o = at({});
  const bool down = at({unit, Length{}}).y > o.y + 0.5 || at({Length{}, unit}).y > o.y + 0.5;
  const Point from{14, down ? 4.0 : 15.0};
  const auto way = [&](const PlanPoint& one, const std::string& is) {
    const Point p = at(one);
    const Point u{p.x - o.x, p.y - o.y};
    const Point head{from.x + 10 * u.x, from.y + 10 * u.y};
    arrow(from, head);
    if (std::abs(u.y) > 0.5) {
      words({std::max(1.0, head.x - 12), head.y + (u.y < 0 ? -1.2 : 3.6)}, toward(is), small,
            Anchor::start);
    } else {
      words({std::max(1.0, head.x - (u.x < 0 ? 2 : 10)), head.y + 4}, toward(is), small,
            Anchor::start);
    }
  };
  way({unit, Length{}}, set_.x_is);
  way({Length{}, unit}, set_.y_is);
}

Layout best_layout(const HoleSet& set, ReaderUnits units, double width, double height) {
  const Turn level = set.y_left ? Turn::x_right : Turn::x_left;
  std::vector<Layout> tried;
  for (const bool outside : {true, false}) {
    if (!upward(set)) tried.push_back({Turn::x_up, outside});
    tried.push_back({upward(set) ? level : Turn::x_right, outside});
  }
  const auto sheets = [&](const Layout& l) {
    const Pattern p(set, units, l);
    return std::ceil(p.width() / width) * std::ceil(p.height() / height);
  };
  return *std::min_element(tried.begin(), tried.end(),
                           [&](const Layout& a, const Layout& b) { return sheets(a) < sheets(b); });
}

void bars(Drawing& d, Point at) {
  const auto bar = [&](double y, double length, const char* mm, const std::string& name) {
    d.raw("<rect class=\"check-bar\" data-mm=\"" + std::string(mm) + "\" x=\"" + svg::number(at.x) +
          "\" y=\"" + svg::number(y) + "\" width=\"" + svg::number(length) + "\" height=\"3\"/>");
    d.text({at.x + length + 2, y + 2.7}, name, 3.2, Anchor::start, "template-words");
  };
  bar(at.y, 100, "100", "100 mm");
  bar(at.y + 4.5, 101.6, "101.6", "4 in");
  const std::array<const char*, 3> words{"Measure all three bars before",
                                         "you trust the print. Print at",
                                         "100 %, no \"fit to page\"."};
  for (std::size_t i = 0; i < words.size(); ++i) {
    d.text({at.x + 116, at.y + 2.6 + 3.7 * double(i)}, words[i], 3.1, Anchor::start,
           "template-words");
  }
}

void upright_bar(Drawing& d, Point at) {
  d.raw("<rect class=\"check-bar\" data-mm=\"50\" x=\"" + svg::number(at.x) + "\" y=\"" +
        svg::number(at.y) + "\" width=\"3\" height=\"50\"/>");
  d.text({at.x + 6.5, at.y + 50}, "50 mm", 3.2, Anchor::start, "template-words", -90);
}

std::string band(const Assessment& a) {
  if (a.verdict == Verdict::does_not_hold) return "DOES NOT HOLD AS DRAWN: do not drill from this";
  if (a.verdict == Verdict::holds_if)
    return "HOLDS ONLY IF what is assumed is true: find out before you drill";
  return "";
}

std::string refusal(const Assessment& a) {
  return a.verdict == Verdict::no_verdict ? "NO VERDICT: no template to drill from" : "";
}

std::string style() {
  return ".template-part{stroke:#000;stroke-width:.35px;fill:none}"
         ".template-other{stroke:#555;stroke-width:.25px;stroke-dasharray:3 1.5;fill:none}"
         ".template-centre{stroke:#555;stroke-width:.15px;stroke-dasharray:6 1 1 1}"
         ".template-dim{stroke:#555;stroke-width:.15px;fill:none}"
         ".template-edge{stroke:#000;stroke-width:.2px;fill:none}"
         ".template-arrow{stroke:#000;stroke-width:.6px;fill:#000}"
         ".template-words{font-family:Arial,Helvetica,sans-serif;fill:#000;paint-order:stroke;"
         "stroke:#fff;stroke-width:.6px;stroke-linejoin:round}"
         ".template-band{font-weight:bold}"
         ".centre-mark{stroke:#000;stroke-width:.2px}"
         ".centre-ring{stroke:#000;stroke-width:.15px;fill:none}"
         ".hole{stroke:#000;stroke-width:.2px;fill:none}"
         ".mark-only{stroke:#000;stroke-width:.2px;stroke-dasharray:.8 .8;fill:none}"
         ".register{stroke:#000;stroke-width:.2px;fill:none}"
         ".frame{stroke:#999;stroke-width:.15px;stroke-dasharray:1 1;fill:none}"
         ".key{stroke:#000;stroke-width:.2px;fill:none}"
         ".key-here{stroke:#000;stroke-width:.2px;fill:#555}"
         ".check-bar{fill:#000}";
}

}  // namespace thole::template_drawing
