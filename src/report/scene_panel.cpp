#include "report/scene_panel.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <string_view>

#include "core/stable_order.hpp"
#include "report/scene_shapes.hpp"

namespace thole::scene {
namespace {

constexpr double column = 20;  // of an upright dimension
constexpr double row = 19;     // of a level dimension
constexpr double head = 9;
constexpr double ring = 8;
constexpr double solid_ink = 8;  // of ring and arrow: not to be covered
constexpr double ring_room = 12;
constexpr double heading = 18;
constexpr double compass_room = 18;
constexpr double bar_room = 36;
constexpr double widest_bar = 96;
constexpr double fan_radius = 0.8 * arrow_length;  // of the directions of a pull
constexpr double water_room = 17;

// Prices, as units of height.
constexpr double of_missing_words = 26;
constexpr double of_missing_note = 8;
constexpr double of_row = 60;
constexpr double of_leader = 0.35;   // for each unit
constexpr double of_name = 120;      // a name that would cover more is left out
constexpr double of_covering = 0.6;  // for each cell of ink
constexpr double short_leader = 12;
constexpr std::size_t most_lines = 5;

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
};

bool is_guess(const Solid& s) { return s.look == "views-guess" || s.look == "hidden"; }

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

class Panel {
 public:
  Panel(const Scene& scene, const Shown& shown, const Layout& layout, svg::Drawing& to,
        Rendered& out)
      : scene_(scene),
        view_(shown.view),
        shown_(shown),
        layout_(layout),
        to_(to),
        out_(out),
        wide_(to.width()),
        with_pull_(shown.pull && scene.pull),
        placer_({}) {}

  Outcome draw(double top) {
    collect();
    const double start = top + (shown_.title.empty() ? 0 : heading);
    lay_out(start);
    placer_ = Placer({margin, room_top_, wide_ - 2 * margin, room_bottom_ - room_top_});
    if (!shown_.title.empty()) {
      fixed({margin, top + 12}, shown_.title, svg::Anchor::start, "strong");
    }
    if (shown_.compass) compass(start);
    water();
    for (const Solid* s : solids_) solid(*s);
    water_word();
    if (with_pull_ && view_ == View::plan) pull_sectors();
    for (const Sign& s : scene_.signs) sign(s);
    dimensions();
    if (shown_.worst) worst();
    if (with_pull_) pull_arrow();
    if (bars_ > 0) scale_bars();
    labels();
    out_.panels.push_back(scale_);
    out_.layouts.push_back(layout_);
    out_.layouts.back().held = scale_;
    out_.layouts.back().held_low = low_;
    return outcome();
  }

 private:
  [[nodiscard]] bool shows(Set views, Set panels) const {
    return (views & only(view_)) != 0 && (panels & shown_.panels) != 0;
  }

  void collect() {
    for (const Solid& s : scene_.solids) {
      if (!shows(s.views, s.panels) || s.corners.empty()) continue;
      solids_.push_back(&s);
      if (!s.frames) continue;
      for (const Spot& p : s.corners) bounds_.take(seen(view_, p));
    }
    sort_stably(solids_, [&](const Solid* a, const Solid* b) {
      if (a->layer != b->layer) return a->layer < b->layer;
      return nearness(view_, *a) < nearness(view_, *b);
    });
    for (const Dimension& d : scene_.dimensions) {
      if (d.view != view_ || (d.panels & shown_.panels) == 0) continue;
      (d.upright ? upright_ : level_).push_back(&d);
    }
    const auto longer = [&](const Dimension* a, const Dimension* b) { return span(*a) < span(*b); };
    sort_stably(level_, longer);
    sort_stably(upright_, longer);
    if (shown_.paper()) {  // the longest each way
      for (auto* d : {&level_, &upright_}) {
        if (d->size() > 1) d->erase(d->begin(), d->end() - 1);
      }
    }
    if (scene_.water && view_ != View::plan && (shown_.panels & whole) != 0) {
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
    const double width = wide_ - margin - 6 - left;
    double scale = fit(width);
    if (with_pull_) {
      take_pull(scale);
      scale = fit(width);
    }
    room_top_ = top + (shown_.compass ? compass_room : 2) + layout_.lead;
    top_ = room_top_ + layout_.above;
    low_ = top_ + (bounds_.v1 - bounds_.v0) * scale;
    scale_.view = view_;
    scale_.units_per_metre = scale;
    scale_.origin = {left + 0.5 * (width - (bounds_.u1 - bounds_.u0) * scale) - bounds_.u0 * scale,
                     top_ - bounds_.v0 * scale};
    if (layout_.held) {
      scale_ = *layout_.held;
      low_ = layout_.held_low;
    }
    room_bottom_ = low_ + layout_.below;
    const bool dims = !level_.empty() || !upright_.empty();
    bars_ = !shown_.paper() ? bar_room : dims ? 0 : bar_room - 6;
    bottom_ =
        room_bottom_ + row * double(level_.size()) + bars_ + (bars_ > 0 ? 0 : 3) + layout_.tail;
    left_ = left;
  }

  // Arrow and sectors are as large on any scale.
  void take_pull(double scale) {
    const Pull& p = *scene_.pull;
    bounds_.take(seen(view_, p.at));
    bounds_.take(seen(view_, p.at + (arrow_length / scale) * p.way));
    if (view_ != View::plan) return;
    for (const auto& [from, to] : p.sectors) {
      for (const Spot& spot : fan(p.at, 0, fan_radius / scale, from, to)) {
        bounds_.take(seen(view_, spot));
      }
    }
  }

  [[nodiscard]] double fit(double width) const {
    const double u = std::max(bounds_.u1 - bounds_.u0, 1e-4);
    const double v = std::max(bounds_.v1 - bounds_.v0, 1e-4);
    return std::min(width / u, layout_.most / v);
  }

  [[nodiscard]] svg::Point on_page(const Spot& p) const { return scale_.at(p); }

  // Nothing is drawn outside of the panel.
  [[nodiscard]] Box frame() const {
    return {margin, room_top_, wide_ - 2 * margin, room_bottom_ - room_top_};
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
    if (!scene_.water || view_ == View::plan || (shown_.panels & whole) == 0) return;
    const double y = on_page({0, 0, *scene_.water}).y;
    reach(y, y + water_room);
    to_.rectangle({margin, y}, wide_ - 2 * margin, room_bottom_ - y, "water");
    placer_.ink({margin, y}, {wide_ - margin, y}, 1);
  }

  void water_word() {
    if (!scene_.water || view_ == View::plan || (shown_.panels & whole) == 0) return;
    const double y = on_page({0, 0, *scene_.water}).y;
    fixed({wide_ - margin - 3, y + 12}, "water line", svg::Anchor::end, "note");
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
    const double right = wide_ - margin;
    const bool plan = view_ == View::plan;
    fixed({margin, y}, view_ == View::side ? "stern" : "port", svg::Anchor::start, "note");
    fixed({right, y}, view_ == View::side ? "bow" : "starboard", svg::Anchor::end, "note");
    const double mid = 0.5 * wide_ - 12;
    fixed({mid + 6, y}, plan ? "bow" : "up", svg::Anchor::start, "note");
    to_.arrow({mid, y + 1}, {mid, y - 10}, 6, "dim");
    if (view_ != View::side) return;
    to_.arrow({right - 52, y - 4}, {right - 34, y - 4}, 6, "dim");
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
      x = b.x + 4 + w > wide_ - margin ? a.x - 4 - w : b.x + 4;
      base = y + 3.5;
    }
    x = std::clamp(x, margin, wide_ - margin - w);
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
    reach(p.y - ring_room, p.y + ring_room);
    to_.circle(p, ring, "worst");
    to_.circle(p, ring + 3, "worst");
    for (const double dy : {-ring, -0.5 * ring, 0.0, 0.5 * ring, ring}) {
      placer_.ink({p.x - ring, p.y + dy}, {p.x + ring, p.y + dy}, solid_ink);
    }
  }

  // Where the line may go in the worst case.
  void pull_sectors() {
    const Pull& p = *scene_.pull;
    for (const auto& [from, to] : p.sectors) {
      std::vector<svg::Point> points;
      for (const Spot& s : fan(p.at, 0, fan_radius / scale_.units_per_metre, from, to)) {
        points.push_back(on_page(s));
      }
      ink(points, true, 0.5);
      to_.polygon(points, "sector");
    }
  }

  void pull_arrow() {
    const Pull& p = *scene_.pull;
    const svg::Point tail = on_page(p.at);
    const svg::Point way = seen(view_, p.way);
    const double share = std::hypot(way.x, way.y);
    if (share < 0.2) {
      reach(tail.y - 9, tail.y + 9);
      end_on(tail, toward_reader(view_, p.way) > 0);
      return;
    }
    const double length = std::max(18.0, arrow_length * share);
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

  void labels() {
    labels_of("strong");
    worst_words();
    if (with_pull_) pull_words();
    labels_of("text");
    if (!shown_.paper()) labels_of("note");
  }

  void worst_words() {
    if (!shown_.worst || !shown_.worst_words || !scene_.worst) return;
    const Worst& w = *scene_.worst;
    const bool placed = w.at || !w.area.empty();
    const bool first = view_ == View::plan || w.in_short.empty();
    const std::vector<std::string> lines =
        lines_of("worst: " + (first ? w.words : w.in_short), layout_.wrap);
    if (placed) {
      label(lines, {on_page(w.at ? *w.at : w.area.front())}, "worst", w.at ? ring + 5 : 6);
    } else if (view_ == View::plan) {  // its place is not known
      label(lines, {}, "worst", 0);
    }
  }

  void pull_words() {
    const Pull& p = *scene_.pull;
    const svg::Point way = seen(view_, p.way);
    const svg::Point tail = on_page(p.at);
    std::vector<std::string> lines = lines_of(p.value, std::max<std::size_t>(layout_.wrap, 24));
    if (!shown_.paper() || view_ == View::plan || scene_.base_alone) {
      for (const std::string& l : lines_of(p.title, layout_.wrap)) {
        if (lines.size() < 4) lines.push_back(l);
      }
    }
    const double half = 0.5 * arrow_length;
    label(lines, {{tail.x + half * way.x, tail.y + half * way.y}}, "load", 9);
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

  void label(std::vector<std::string> lines, const std::vector<svg::Point>& anchors,
             const std::string& look, double nearest) {
    const bool bold = look != "text" && look != "note";
    lines = narrow(lines, bold);
    double width = 0;
    for (const std::string& l : lines) width = std::max(width, width_of(l, bold));
    width = std::min(width, wide_ - 2 * margin);
    const double height = line_height * double(lines.size());
    const bool named = look == "text" || look == "note";
    const double dearest = named ? of_name : std::numeric_limits<double>::infinity();
    Placer::Place place = placer_.place(anchors, width, height, nearest, dearest);
    if (!place.found && named) {
      worth_ += look == "note" ? of_missing_note : of_missing_words;
      return;
    }
    if (place.found) {
      placed_.push_back(place.box);
    } else {  // below everything, in a row of its own
      place.box = {margin, bottom_, width, height};
      bottom_ += height + 4;
      worth_ += of_row;
    }
    worth_ += of_covering * place.covered;
    if (place.found) leader(place, look, nearest);
    out_.texts.push_back(place.box);
    for (std::size_t i = 0; i < lines.size(); ++i) {
      to_.text({place.box.x + 1, place.box.y + 11 + line_height * double(i)}, lines[i], text_size,
               svg::Anchor::start, "views-label " + look);
    }
  }

  // In lines that the drawing holds.
  [[nodiscard]] std::vector<std::string> narrow(const std::vector<std::string>& lines,
                                                bool bold) const {
    const double most = shown_.paper() && !bold ? 0.66 * wide_ : wide_ - 2 * margin;
    std::vector<std::string> out;
    for (const std::string& l : lines) {
      if (width_of(l, bold) <= most) {
        out.push_back(l);
        continue;
      }
      for (const std::string& part : lines_of(l, 18)) out.push_back(part);
    }
    if (out.size() <= most_lines) return out;
    out.resize(most_lines);
    out.back() += " ...";
    return out;
  }

  void leader(const Placer::Place& place, const std::string& look, double nearest) {
    const double far = std::hypot(place.leader.x - place.anchor.x, place.leader.y - place.anchor.y);
    worth_ += of_leader * std::max(0.0, far - nearest - short_leader);
    if (far <= nearest + (look == "load" ? 24 : 3)) return;
    to_.line(from(place.anchor, place.leader, nearest > 6 ? nearest - 1 : 0), place.leader, "thin");
    if (nearest <= 6) to_.circle(place.anchor, 1.4, "views-dot");
  }

  // A leader stops short of a ring or an arrow.
  static svg::Point from(svg::Point a, svg::Point to, double short_of) {
    const double length = std::hypot(to.x - a.x, to.y - a.y);
    if (!(length > short_of)) return a;
    return {a.x + (to.x - a.x) / length * short_of, a.y + (to.y - a.y) / length * short_of};
  }

  // What stands out over or under what is drawn.
  void reach(double top, double bottom) {
    reach_top_ = std::min(reach_top_, top);
    reach_bottom_ = std::max(reach_bottom_, bottom);
  }

  [[nodiscard]] Outcome outcome() const {
    Outcome out;
    out.bottom = bottom_;
    out.worth = worth_;
    out.drawn = low_ - top_;
    out.above = std::max(0.0, top_ - reach_top_) + 1;
    out.below = std::max(0.0, reach_bottom_ - low_) + 3;
    for (const Box& b : placed_) {
      out.above = std::max(out.above, top_ - b.y + 1);
      out.below = std::max(out.below, b.y + b.height - low_ + 3);
    }
    // The placer's cells stay where they are on what is drawn, and so its choices.
    const double spare = layout_.above - out.above;
    out.above = layout_.above - Placer::cell * std::max(0.0, std::floor(spare / Placer::cell));
    out.below = std::min(out.below, layout_.below);
    return out;
  }

  void scale_bars() {
    const double y = bottom_ - layout_.tail - (bar_room - 26);
    const auto one = [&](double x, const ScaleBar& bar) {
      const double w = bar.metres * scale_.units_per_metre;
      to_.line({x, y}, {x + w, y}, "axis");
      to_.line({x, y - 4}, {x, y + 4}, "axis");
      to_.line({x + w, y - 4}, {x + w, y + 4}, "axis");
      to_.text({x, y - 7}, bar.words, text_size, svg::Anchor::start, "text");
      out_.texts.push_back({x, y - 17, width_of(bar.words), 12});
    };
    const double most = std::min(widest_bar, 0.4 * wide_) / scale_.units_per_metre;
    one(margin + 2, metric_bar(most));
    one(0.5 * wide_, inch_bar(most));
  }

  const Scene& scene_;
  View view_;
  const Shown& shown_;
  const Layout& layout_;
  svg::Drawing& to_;
  Rendered& out_;
  double wide_;
  bool with_pull_;
  Placer placer_;
  Bounds bounds_;
  PanelScale scale_;
  std::vector<const Solid*> solids_;
  std::vector<const Dimension*> level_, upright_;
  std::vector<svg::Point> run_;
  std::vector<Box> placed_;
  double left_ = 0, room_top_ = 0, top_ = 0, low_ = 0, room_bottom_ = 0, bottom_ = 0, bars_ = 0;
  double reach_top_ = std::numeric_limits<double>::infinity();
  double reach_bottom_ = -reach_top_;
  double worth_ = 0;
};

}  // namespace

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

svg::Point PanelScale::at(const Spot& p) const {
  const svg::Point q = seen(view, p);
  return {origin.x + q.x * units_per_metre, origin.y + q.y * units_per_metre};
}

Outcome draw_panel(const Scene& scene, const Shown& shown, const Layout& layout, double top,
                   svg::Drawing& to, Rendered& out) {
  return Panel(scene, shown, layout, to, out).draw(top);
}

}  // namespace thole::scene
