#include "report/scene_render.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include "report/scene_panel.hpp"

namespace thole::scene {
namespace {

using pictures::Form;

constexpr View all_views[] = {View::plan, View::side, View::stern};
constexpr double two_scales = 1.8;  // above this the base gets a scale of its own
constexpr double between_panels = 6;
constexpr double too_high = 100;  // price of a unit above what paper has
constexpr double of_drawn = 0.4;  // what a unit of the drawing itself is worth there

double extent(const Scene& scene, Set panels) {
  constexpr double inf = std::numeric_limits<double>::infinity();
  double most = 0;
  for (const View view : all_views) {
    double u0 = inf, u1 = -inf, v0 = inf, v1 = -inf;
    for (const Solid& s : scene.solids) {
      if (!s.frames || (s.panels & panels) == 0 || (s.views & only(view)) == 0) continue;
      for (const Spot& spot : s.corners) {
        const svg::Point p = seen(view, spot);
        u0 = std::min(u0, p.x);
        u1 = std::max(u1, p.x);
        v0 = std::min(v0, p.y);
        v1 = std::max(v1, p.y);
      }
    }
    most = std::max({most, u1 - u0, v1 - v0});
  }
  return most;
}

bool has_two_scales(const Scene& scene) {
  const double base = extent(scene, detail);
  return scene.base_alone && base > 0 && extent(scene, whole) >= two_scales * base;
}

bool any(const Scene& scene, View view) {
  return std::any_of(scene.solids.begin(), scene.solids.end(), [&](const Solid& s) {
    return (s.views & only(view)) != 0 && !s.corners.empty();
  });
}

// From the side the base alone shows nothing that the section and the plan do not. Paper has room
// for one scale: the whole gear is that from the side.
std::vector<Shown> panels_of(const Scene& scene, View view, Form form) {
  Shown one;
  one.view = view;
  one.form = form;
  if (!has_two_scales(scene)) return {one};
  one.panels = whole | overview;
  if (view == View::side) {
    one.worst_words = form == Form::screen;
    return {one};
  }
  Shown base = one;
  base.panels = detail | cut_away;
  base.pull = false;
  if (form == Form::paper) {
    base.worst_words = view == View::plan || (scene.worst && scene.worst->at);
    return {base};
  }
  one.title = "The whole gear";
  one.worst = false;
  base.title = view == View::stern ? "The base, larger, cut across" : "The base, larger";
  base.compass = false;
  return {one, base};
}

std::vector<Layout> layouts(const Shown& shown) {
  std::vector<Layout> out;
  const bool small = (shown.panels & overview) != 0;
  const std::vector<double> heights = shown.paper() ? std::vector<double>{140, 100, 70}
                                      : small       ? std::vector<double>{120}
                                                    : std::vector<double>{170};
  const std::vector<std::pair<double, double>> rooms =
      shown.paper()
          ? std::vector<std::pair<double, double>>{{57, 12}, {33, 33}, {12, 60}}
          : std::vector<std::pair<double, double>>{{81, 81}, {45, 45}, {45, 18}, {18, 60}};
  const std::vector<std::size_t> wraps =
      shown.paper() ? std::vector<std::size_t>{17, 27} : std::vector<std::size_t>{24, 36};
  for (const double most : heights) {
    for (const auto& [above, below] : rooms) {
      for (const std::size_t wrap : wraps) out.push_back({most, 0, above, below, wrap});
    }
  }
  return out;
}

double width_on(Form form) { return form == Form::paper ? paper_width : drawing_width; }

struct Chosen {
  Layout layout;
  double height = 0;
};

// The cheapest of all layouts, what it leaves empty cut off; words far from what they name cost
// height. `room`: of a third of a page that is this high anyway.
Chosen cheapest(const Scene& scene, const Shown& shown, const std::vector<Layout>& all,
                double room = 0) {
  Chosen best;
  double least = std::numeric_limits<double>::infinity();
  for (Layout l : all) {
    svg::Drawing trial("trial", width_on(shown.form), 0, "", "");
    Rendered out;
    const Outcome o = draw_panel(scene, shown, l, 0, trial, out);
    const double height = o.bottom - (l.above - o.above) - (l.below - o.below);
    const double most = room > 0 ? room : paper_height;
    double price = o.worth + std::max(height, room);
    if (shown.paper()) price += too_high * std::max(0.0, height - most) - of_drawn * o.drawn;
    if (price >= least) continue;
    least = price;
    l.above = o.above;
    l.below = o.below;
    best = {l, height};
  }
  return best;
}

double draw_all(const Scene& scene, const std::vector<Shown>& panels,
                const std::vector<Chosen>& chosen, svg::Drawing& to, Rendered& out) {
  double y = 0;
  for (std::size_t i = 0; i < panels.size(); ++i) {
    if (i > 0) {
      to.line({margin, y + 3}, {to.width() - margin, y + 3}, "grid");
      y += between_panels;
    }
    y = draw_panel(scene, panels[i], chosen[i].layout, y, to, out).bottom;
  }
  return std::ceil(y - 1e-6);
}

}  // namespace

double height_on_paper(const Scene& scene) {
  double most = 0;
  for (const View view : all_views) {
    if (!any(scene, view)) continue;
    for (const Shown& s : panels_of(scene, view, Form::paper)) {
      most = std::max(most, cheapest(scene, s, layouts(s)).height);
    }
  }
  return std::ceil(most - 1e-6);
}

Rendered render(const Scene& scene, View view, const Names& names, Form form) {
  Rendered out;
  if (!any(scene, view)) return out;
  const std::vector<Shown> panels = panels_of(scene, view, form);
  const double room = form == Form::paper ? height_on_paper(scene) : 0;
  std::vector<Chosen> chosen;
  for (const Shown& s : panels) {
    Chosen c = cheapest(scene, s, layouts(s), room);
    const double spare = std::max(0.0, room - c.height);
    c.layout.lead = 0.5 * spare;
    c.layout.tail = 0.5 * spare;
    chosen.push_back(c);
  }
  // Where all words find a place the height is known before.
  Rendered trial;
  svg::Drawing first(names.id, width_on(form), 0, "", "");
  out.height = std::max(room, draw_all(scene, panels, chosen, first, trial));
  svg::Drawing drawing(names.id, width_on(form), out.height, names.title, names.description);
  (void)draw_all(scene, panels, chosen, drawing, out);
  out.element = drawing.element();
  return out;
}

Rendered render_quickly(const Scene& scene, View view, const Names& names) {
  Rendered out;
  if (!any(scene, view)) return out;
  const std::vector<Shown> panels = panels_of(scene, view, Form::screen);
  std::vector<Chosen> chosen;
  for (const Shown& s : panels) chosen.push_back(cheapest(scene, s, {layouts(s).front()}));
  Rendered trial;
  svg::Drawing first(names.id, drawing_width, 0, "", "");
  out.height = draw_all(scene, panels, chosen, first, trial);
  svg::Drawing drawing(names.id, drawing_width, out.height, names.title, names.description);
  (void)draw_all(scene, panels, chosen, drawing, out);
  out.element = drawing.element();
  return out;
}

Rendered render_held(const Scene& scene, View view, const Names& names, const Rendered& before) {
  const std::vector<Shown> panels = panels_of(scene, view, Form::screen);
  if (!any(scene, view) || panels.size() != before.layouts.size()) {
    return render(scene, view, names);
  }
  std::vector<Chosen> chosen;
  for (const Layout& l : before.layouts) chosen.push_back({l, 0});
  Rendered out;
  out.height = before.height;
  svg::Drawing drawing(names.id, drawing_width, out.height, names.title, names.description);
  (void)draw_all(scene, panels, chosen, drawing, out);
  out.element = drawing.element();
  return out;
}

}  // namespace thole::scene
