#include "report/scene_render.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <string_view>

#include "report/scene_shapes.hpp"

namespace thole::scene {
namespace {

constexpr double margin = 4;
constexpr double column = 20;  // of an upright dimension
constexpr double row = 19;     // of a level dimension
constexpr double arrow = 46;   // of a pull square to the line of sight
constexpr double head = 9;
constexpr double ring = 8;
constexpr double solid_ink = 8;  // of ring and arrow: not to be covered
constexpr double heading = 18;
constexpr double bar_room = 36;
constexpr double widest_bar = 96;
constexpr double two_scales = 1.8;  // above this the base gets a scale of its own

struct Room {
  double top = 44;  // for words and the compass
  double bottom = 16;
  double most = 190;   // height of what is drawn
  double least = 110;  // with the room for words
};

struct Bounds {
  double u0 = std::numeric_limits<double>::infinity();
  double v0 = u0;
  double u1 = -u0;
  double v1 = -u0;
  void take(svg::Point p) {
    u0 = std::min(u0, p.x);
    u1 = std::max(u1, p.x);
    v0 = std::min(v0, p.y);
    v1 = std::max(v1, p.y);
  }
  [[nodiscard]] bool empty() const { return !(u1 >= u0) || !(v1 >= v0); }
  [[nodiscard]] double size() const { return std::max(u1 - u0, v1 - v0); }
};

bool is_guess(const Solid& s) { return s.look == "views-guess" || s.look == "hidden"; }

// Spots in metres of the picture, down the page.
svg::Point seen(View view, const Spot& p) {
  switch (view) {
    case View::plan:
      return {p.y, -p.x};
    case View::side:
      return {p.x, -p.z};
    case View::stern:
      break;
  }
  return {p.y, -p.z};
}

// Greater is nearer to the reader.
double nearness(View view, const Solid& s) {
  double most = -std::numeric_limits<double>::infinity();
  for (const Spot& p : s.corners) {
    most = std::max(most, view == View::plan ? p.z : view == View::side ? p.y : -p.x);
  }
  return most;
}

double toward_reader(View view, const Spot& way) {
  return view == View::plan ? way.z : view == View::side ? way.y : -way.x;
}

// One panel: its layout, then what it draws.
class Panel {
 public:
  Panel(const Scene& scene, View view, Set shown, svg::Drawing& to, Rendered& out)
      : scene_(scene), view_(view), shown_(shown), to_(to), out_(out), placer_({}) {}

  // Draws below `top`; how far down it came. `title`: of one of two panels.
  double draw(double top, const std::string& title, bool with_pull, bool with_worst) {
    with_pull_ = with_pull && scene_.pull;
    collect();
    lay_out(top + (title.empty() ? 0 : heading));
    placer_ = Placer({margin, top + 1, drawing_width - 2 * margin, room_bottom_ - top - 1});
    if (!title.empty()) fixed({margin, top + 12}, title, svg::Anchor::start, "strong");
    compass(top + (title.empty() ? 0 : heading));
    water();
    for (const Solid* s : solids_) solid(*s);
    water_word();
    for (const Sign& s : scene_.signs) sign(s);
    dimensions();
    if (with_worst) worst();
    if (with_pull_) pull_arrow();
    scale_bars();
    labels(with_worst);
    out_.panels.push_back(scale_);
    return bottom_;
  }

 private:
  [[nodiscard]] bool shows(Set views, Set panels) const {
    return (views & only(view_)) != 0 && (panels & shown_) != 0;
  }

  void collect() {
    for (const Solid& s : scene_.solids) {
      if (!shows(s.views, s.panels) || s.corners.empty()) continue;
      solids_.push_back(&s);
      if (!s.frames) continue;
      for (const Spot& p : s.corners) bounds_.take(seen(view_, p));
    }
    std::stable_sort(solids_.begin(), solids_.end(), [&](const Solid* a, const Solid* b) {
      if (a->layer != b->layer) return a->layer < b->layer;
      return nearness(view_, *a) < nearness(view_, *b);
    });
    for (const Dimension& d : scene_.dimensions) {
      if (d.view != view_ || (d.panels & shown_) == 0) continue;
      (d.upright ? upright_ : level_).push_back(&d);
    }
    const auto longer = [&](const Dimension* a, const Dimension* b) { return span(*a) < span(*b); };
    std::stable_sort(level_.begin(), level_.end(), longer);
    std::stable_sort(upright_.begin(), upright_.end(), longer);
    if (scene_.water && view_ != View::plan && (shown_ & whole) != 0) {
      bounds_.take({bounds_.u0, -*scene_.water + 0.05 * (bounds_.u1 - bounds_.u0)});
    }
  }

  [[nodiscard]] double span(const Dimension& d) const {
    const svg::Point a = seen(view_, d.from);
    const svg::Point b = seen(view_, d.to);
    return d.upright ? std::abs(a.y - b.y) : std::abs(a.x - b.x);
  }

  void lay_out(double top) {
    const double left = margin + 6 + column * double(upright_.size());
    const double width = drawing_width - margin - 6 - left;
    double scale = fit(width);
    if (with_pull_) {
      const Spot tip = scene_.pull->at + (arrow / scale) * scene_.pull->way;
      bounds_.take(seen(view_, scene_.pull->at));
      bounds_.take(seen(view_, tip));
      scale = fit(width);
    }
    const double high = (bounds_.v1 - bounds_.v0) * scale;
    const double spare = std::max(crowd(), room_.least - high);
    const double y = top + room_.top + 0.5 * spare;
    scale_.view = view_;
    scale_.units_per_metre = scale;
    scale_.origin = {left + 0.5 * (width - (bounds_.u1 - bounds_.u0) * scale) - bounds_.u0 * scale,
                     y - bounds_.v0 * scale};
    room_bottom_ = y + high + 0.5 * spare + room_.bottom;
    bottom_ = room_bottom_ + row * double(level_.size()) + bar_room;
    left_ = left;
  }

  // Room for words: a third of their height, as if they stood three in a row.
  [[nodiscard]] double crowd() const {
    double lines = (with_pull_ ? 3 : 0) + (scene_.worst ? 3 : 0);
    for (const Label& l : scene_.labels) {
      if (shows(l.views, l.panels) && l.look != "strong") lines += 0.5 + double(l.lines.size());
    }
    return std::max(0.0, lines * line_height / 1.8 - room_.top);
  }

  [[nodiscard]] double fit(double width) const {
    const double u = std::max(bounds_.u1 - bounds_.u0, 1e-4);
    const double v = std::max(bounds_.v1 - bounds_.v0, 1e-4);
    return std::min(width / u, room_.most / v);
  }

  [[nodiscard]] svg::Point on_page(const Spot& p) const { return scale_.at(p); }

  // Nothing is drawn outside of the panel.
  [[nodiscard]] Box frame() const {
    const double top = scale_.origin.y + bounds_.v0 * scale_.units_per_metre - room_.top;
    return {margin, top, drawing_width - 2 * margin, room_bottom_ - top};
  }

  void ink(const std::vector<svg::Point>& points, bool closed, double weight) {
    for (std::size_t i = 1; i < points.size(); ++i) placer_.ink(points[i - 1], points[i], weight);
    if (closed && points.size() > 2) placer_.ink(points.back(), points.front(), weight);
  }

  void solid(const Solid& s) {
    std::vector<svg::Point> points;
    for (const Spot& p : s.corners) points.push_back(on_page(p));
    out_.guessed = out_.guessed || is_guess(s);
    const double weight = s.layer == Layer::boat ? 0.5 : 1;
    if (s.form == Solid::Form::line) {
      for (std::size_t i = 1; i < points.size(); ++i) {
        const auto part = clipped(points[i - 1], points[i], frame());
        if (part.empty()) continue;
        ink(part, false, weight);
        if (part.front().x == points[i - 1].x && part.front().y == points[i - 1].y &&
            !run_.empty()) {
          run_.push_back(part.back());
        } else {
          flush(s.look);
          run_ = part;
        }
      }
      flush(s.look);
      return;
    }
    if (s.form == Solid::Form::hull) points = silhouette(points);
    points = clipped(points, frame());
    if (points.size() < 2) return;
    ink(points, true, weight);
    to_.polygon(points, s.look);
  }

  void flush(const std::string& look) {
    if (run_.size() > 1) to_.polyline(run_, look);
    run_.clear();
  }

  void sign(const Sign& s) {
    if (!shows(s.views, whole)) return;
    const svg::Point p = on_page(s.at);
    to_.raw(html::mark_shape(s.mark, p.x, p.y, 11));
    placer_.words({p.x - 6, p.y - 6, 12, 12});
  }

  void water() {
    if (!scene_.water || view_ == View::plan || (shown_ & whole) == 0) return;
    const double y = on_page({0, 0, *scene_.water}).y;
    to_.rectangle({margin, y}, drawing_width - 2 * margin, room_bottom_ - y, "water");
    placer_.ink({margin, y}, {drawing_width - margin, y}, 1);
  }

  void water_word() {
    if (!scene_.water || view_ == View::plan || (shown_ & whole) == 0) return;
    const double y = on_page({0, 0, *scene_.water}).y;
    fixed({drawing_width - margin - 3, y + 12}, "water line", svg::Anchor::end, "note");
  }

  // Words at a place of their own.
  void fixed(svg::Point at, const std::string& words, svg::Anchor anchor, const char* look) {
    const double w = width_of(words, std::string_view(look) == "strong");
    const double x = anchor == svg::Anchor::start    ? at.x
                     : anchor == svg::Anchor::middle ? at.x - 0.5 * w
                                                     : at.x - w;
    to_.text(at, words, text_size, anchor, look);
    note_words({x, at.y - 10, w, 12});
  }

  void note_words(const Box& box) {
    placer_.words(box);
    out_.texts.push_back(box);
  }

  void compass(double top) {
    const double y = top + 12;
    const double right = drawing_width - margin;
    const bool plan = view_ == View::plan;
    fixed({margin, y}, view_ == View::side ? "stern" : "port", svg::Anchor::start, "note");
    fixed({right, y}, view_ == View::side ? "bow" : "starboard", svg::Anchor::end, "note");
    const double mid = 0.5 * drawing_width;
    fixed({mid + 6, y}, plan ? "bow" : "up", svg::Anchor::start, "note");
    to_.arrow({mid, y + 1}, {mid, y - 10}, 6, "dim");
    placer_.words({mid - 4, y - 10, 8, 12});
    if (view_ == View::side) {
      to_.arrow({right - 52, y - 4}, {right - 34, y - 4}, 6, "dim");
    }
  }

  void dimensions() {
    double y = room_bottom_ + row - 4;
    for (const Dimension* d : level_) {
      level(*d, y);
      y += row;
    }
    double x = left_ - 8;
    for (const Dimension* d : upright_) {
      upright(*d, x);
      x -= column;
    }
  }

  void level(const Dimension& d, double y) {
    svg::Point a = on_page(d.from);
    svg::Point b = on_page(d.to);
    if (a.x > b.x) std::swap(a, b);
    to_.line({a.x, a.y + 2}, {a.x, y + 3}, "dim");
    to_.line({b.x, b.y + 2}, {b.x, y + 3}, "dim");
    placer_.ink(a, {a.x, y}, 0.4);
    placer_.ink(b, {b.x, y}, 0.4);
    measure({a.x, y}, {b.x, y});
    const double w = width_of(d.text);
    double x = 0.5 * (a.x + b.x) - 0.5 * w;
    double base = y - 3;
    if (w > b.x - a.x - 4) {  // beside the line
      x = b.x + 4 + w > drawing_width - margin ? a.x - 4 - w : b.x + 4;
      base = y + 4;
    }
    x = std::clamp(x, margin, drawing_width - margin - w);
    to_.text({x, base}, d.text, text_size, svg::Anchor::start, "dim");
    note_words({x, base - 10, w, 12});
  }

  void upright(const Dimension& d, double x) {
    svg::Point a = on_page(d.from);
    svg::Point b = on_page(d.to);
    if (a.y > b.y) std::swap(a, b);
    to_.line({x - 3, a.y}, {a.x - 2, a.y}, "dim");
    to_.line({x - 3, b.y}, {b.x - 2, b.y}, "dim");
    placer_.ink({x, a.y}, a, 0.4);
    placer_.ink({x, b.y}, b, 0.4);
    measure({x, a.y}, {x, b.y});
    const double w = width_of(d.text);
    const double y = std::clamp(0.5 * (a.y + b.y), frame().y + 0.5 * w + 16,
                                std::max(frame().y + 0.5 * w + 16, room_bottom_ - 0.5 * w));
    to_.text({x - 3, y}, d.text, text_size, svg::Anchor::middle, "dim", -90);
    note_words({x - 13, y - 0.5 * w, 12, w});
  }

  // Arrow heads inside, or a plain line with ticks where it is short.
  void measure(svg::Point a, svg::Point b) {
    const double length = std::hypot(b.x - a.x, b.y - a.y);
    if (length < 14) {
      to_.line(a, b, "dim");
      return;
    }
    const svg::Point mid{0.5 * (a.x + b.x), 0.5 * (a.y + b.y)};
    to_.arrow(mid, a, 5, "dim");
    to_.arrow(mid, b, 5, "dim");
  }

  void worst() {
    if (!scene_.worst) return;
    if (!scene_.worst->area.empty()) {
      std::vector<svg::Point> points;
      for (const Spot& p : scene_.worst->area) points.push_back(on_page(p));
      points = silhouette(points);
      to_.polygon(points, "worst");
      ink(points, true, 2);
    }
    if (!scene_.worst->at) return;
    const svg::Point p = on_page(*scene_.worst->at);
    to_.circle(p, ring, "worst");
    to_.circle(p, ring + 3, "worst");
    for (const double dy : {-ring, -0.5 * ring, 0.0, 0.5 * ring, ring}) {
      placer_.ink({p.x - ring, p.y + dy}, {p.x + ring, p.y + dy}, solid_ink);
    }
  }

  void pull_arrow() {
    const Pull& p = *scene_.pull;
    const svg::Point tail = on_page(p.at);
    const svg::Point way = seen(view_, p.way);
    const double share = std::hypot(way.x, way.y);
    if (share < 0.2) {
      end_on(tail, toward_reader(view_, p.way) > 0);
      return;
    }
    const double length = std::max(18.0, arrow * share);
    const svg::Point tip{tail.x + way.x / share * length, tail.y + way.y / share * length};
    to_.circle(tail, 2.5, "load head");
    to_.arrow(tail, tip, head, "load");
    for (const double d : {-4.0, 0.0, 4.0}) {
      placer_.ink({tail.x + d, tail.y}, {tip.x + d, tip.y}, solid_ink);
      placer_.ink({tail.x, tail.y + d}, {tip.x, tip.y + d}, solid_ink);
    }
  }

  // An arrow along the line of sight: its point, or its feathers.
  void end_on(svg::Point at, bool toward) {
    to_.circle(at, 7, "load");
    if (toward) {
      to_.circle(at, 2.5, "load head");
    } else {
      to_.line({at.x - 5, at.y - 5}, {at.x + 5, at.y + 5}, "load");
      to_.line({at.x - 5, at.y + 5}, {at.x + 5, at.y - 5}, "load");
    }
    for (const double dy : {-6.0, -3.0, 0.0, 3.0, 6.0}) {
      placer_.ink({at.x - 7, at.y + dy}, {at.x + 7, at.y + dy}, solid_ink);
    }
  }

  void labels(bool with_worst) {
    labels_of("strong");
    if (with_worst && scene_.worst && (scene_.worst->at || !scene_.worst->area.empty())) {
      const Worst& w = *scene_.worst;
      const std::string words = view_ == View::plan || w.in_short.empty() ? w.words : w.in_short;
      const Spot at = w.at ? *w.at : w.area.front();
      label(lines_of("worst: " + words, 24), {on_page(at)}, "worst", w.at ? ring + 5 : 6);
    }
    if (with_pull_) {
      const Pull& p = *scene_.pull;
      const svg::Point way = seen(view_, p.way);
      const svg::Point tail = on_page(p.at);
      label(p.lines, {{tail.x + 0.5 * arrow * way.x, tail.y + 0.5 * arrow * way.y}}, "load", 9);
    }
    labels_of("text");
    labels_of("note");
  }

  void labels_of(std::string_view look) {
    for (const Label& l : scene_.labels) {
      if (!shows(l.views, l.panels) || l.look != look) continue;
      std::vector<svg::Point> anchors;
      for (int i = 0; i <= (l.to ? 4 : 0); ++i) {
        const double part = 0.25 * i;
        const Spot at = l.to ? (1 - part) * l.at + part * *l.to : l.at;
        if (within(on_page(at), frame())) anchors.push_back(on_page(at));
      }
      if (!anchors.empty()) label(l.lines, anchors, l.look, l.look == "strong" ? 4 : 6);
    }
  }

  void label(const std::vector<std::string>& lines, const std::vector<svg::Point>& anchors,
             const std::string& look, double nearest) {
    double width = 0;
    const bool bold = look != "text" && look != "note";
    for (const std::string& l : lines) width = std::max(width, width_of(l, bold));
    width = std::min(width, drawing_width - 2 * margin);
    const double height = line_height * double(lines.size());
    Placer::Place place = placer_.place(anchors, width, height, nearest);
    if (!place.found && look == "note") return;
    if (!place.found) {  // below everything, in a row of its own
      place.box = {margin, bottom_, width, height};
      bottom_ += height + 4;
    }
    const double far = std::hypot(place.leader.x - place.anchor.x, place.leader.y - place.anchor.y);
    if (place.found && far > nearest + (look == "load" ? 24 : 3)) {
      const double short_of = nearest > 6 ? nearest - 1 : 0;
      to_.line(from(place.anchor, place.leader, short_of), place.leader, "thin");
      if (nearest <= 6) to_.circle(place.anchor, 1.4, "views-dot");
    }
    out_.texts.push_back(place.box);
    for (std::size_t i = 0; i < lines.size(); ++i) {
      to_.text({place.box.x + 1, place.box.y + 11 + line_height * double(i)}, lines[i], text_size,
               svg::Anchor::start, "views-label " + look);
    }
  }

  // A leader stops short of a ring or an arrow.
  static svg::Point from(svg::Point a, svg::Point to, double short_of) {
    const double length = std::hypot(to.x - a.x, to.y - a.y);
    if (!(length > short_of)) return a;
    return {a.x + (to.x - a.x) / length * short_of, a.y + (to.y - a.y) / length * short_of};
  }

  void scale_bars() {
    const double y = bottom_ - (bar_room - 26);
    const auto one = [&](double x, const ScaleBar& bar) {
      const double w = bar.metres * scale_.units_per_metre;
      to_.line({x, y}, {x + w, y}, "axis");
      to_.line({x, y - 4}, {x, y + 4}, "axis");
      to_.line({x + w, y - 4}, {x + w, y + 4}, "axis");
      to_.text({x, y - 7}, bar.words, text_size, svg::Anchor::start, "text");
      out_.texts.push_back({x, y - 17, width_of(bar.words), 12});
    };
    one(margin + 2, metric_bar(widest_bar / scale_.units_per_metre));
    one(0.5 * drawing_width, inch_bar(widest_bar / scale_.units_per_metre));
  }

  const Scene& scene_;
  View view_;
  Set shown_;
  svg::Drawing& to_;
  Rendered& out_;
  Placer placer_;
  Room room_;
  Bounds bounds_;
  PanelScale scale_;
  std::vector<const Solid*> solids_;
  std::vector<const Dimension*> level_, upright_;
  std::vector<svg::Point> run_;
  bool with_pull_ = false;
  double left_ = 0, room_bottom_ = 0, bottom_ = 0;
};

double extent(const Scene& scene, Set panels) {
  double most = 0;
  for (const View view : {View::plan, View::side, View::stern}) {
    Bounds b;
    for (const Solid& s : scene.solids) {
      if (!s.frames || (s.panels & panels) == 0 || (s.views & only(view)) == 0) continue;
      for (const Spot& p : s.corners) b.take(seen(view, p));
    }
    if (!b.empty()) most = std::max(most, b.size());
  }
  return most;
}

double draw(const Scene& scene, View view, svg::Drawing& to, Rendered& out) {
  const double base = extent(scene, detail);
  if (!scene.base_alone || !(base > 0) || extent(scene, whole) < two_scales * base) {
    return Panel(scene, view, whole | detail, to, out).draw(0, "", true, true);
  }
  double y = Panel(scene, view, whole | overview, to, out).draw(0, "The whole gear", true, false);
  to.line({margin, y + 3}, {drawing_width - margin, y + 3}, "grid");
  y += 6;
  return Panel(scene, view, detail | cut_away, to, out)
      .draw(y, view == View::stern ? "The base, larger, cut across" : "The base, larger", false,
            true);
}

}  // namespace

svg::Point PanelScale::at(const Spot& p) const {
  const svg::Point q = seen(view, p);
  return {origin.x + q.x * units_per_metre, origin.y + q.y * units_per_metre};
}

Rendered render(const Scene& scene, View view, const std::string& id, const std::string& title,
                const std::string& description) {
  Rendered out;
  const bool any = std::any_of(scene.solids.begin(), scene.solids.end(), [&](const Solid& s) {
    return (s.views & only(view)) != 0 && !s.corners.empty();
  });
  if (!any) return out;
  // The height follows from where the words find room: drawn once to know it.
  Rendered trial;
  svg::Drawing first(id, drawing_width, 0, title, description);
  out.height = std::ceil(draw(scene, view, first, trial));
  svg::Drawing drawing(id, drawing_width, out.height, title, description);
  (void)draw(scene, view, drawing, out);
  out.element = drawing.element();
  return out;
}

}  // namespace thole::scene
