#include "page/setup_drawing.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include <thole/display.hpp>
#include <thole/error.hpp>

#include "page/handles.hpp"
#include "page/text_edits.hpp"
#include "report/text.hpp"

namespace thole::page {
namespace {

using scene::PanelScale;
using scene::Rendered;
using scene::Scene;
using scene::Spot;
using scene::View;
using Way = Axis::Way;

constexpr double step_angle = 5 * std::numbers::pi / 180;

const Rendered& view_of(const Drawn& d, View v) { return d.views[v == View::plan ? 0 : 1]; }

const PanelScale& scale_of(const Drawn& d, const Handle& h) {
  const std::vector<PanelScale>& panels = view_of(d, h.view).panels;
  return h.detail ? panels.back() : panels.front();
}

scene::Names names_for(const Scene& scene, View view) {
  const std::string title = view == View::plan ? "Seen from above" : "Seen from astern";
  return {"view-" + std::string(word_for(view)), title, title + ": " + scene.what + "."};
}

// The third coordinate is that of the handle.
Spot spot_at(const Drawn& d, const Handle& h, double x, double y) {
  const PanelScale& s = scale_of(d, h);
  const double u = (x - s.origin.x) / s.units_per_metre;
  const double v = (y - s.origin.y) / s.units_per_metre;
  return h.view == View::plan ? Spot{-v, u, h.at.z} : Spot{h.at.x, u, -v};
}

// The turn nearest to the value before.
double unwound(double angle, double before) {
  const double turn = 2 * std::numbers::pi;
  return angle + turn * std::round((before - angle) / turn);
}

std::optional<Edit> edit_to(const Drawn& d, const Axis& a, double value) {
  std::string words = words_of(d, a, value);
  if (words == words_of(d, a, a.value)) return std::nullopt;
  if (a.written) words = a.written(words);
  return Edit{value_path(*d.read, a.path), words};
}

// One more on the picture: to the right, or up.
double sense(const Handle& h, const Axis& a, bool upright) {
  constexpr double little = 1e-3;
  Spot there = h.at;
  if (!upright) {
    there.y += little;
  } else if (h.view == View::plan) {
    there.x += little;
  } else {
    there.z += little;
  }
  return a.of(there) < a.of(h.at) ? -1 : 1;
}

}  // namespace

std::string_view word_for(View v) {
  switch (v) {
    case View::plan:
      return "plan";
    case View::side:
      return "side";
    case View::stern:
      break;
  }
  return "stern";
}

Rendered picture_of(const Scene& scene, View view) {
  return render(scene, view, names_for(scene, view));
}

std::shared_ptr<const Drawn> drawn(std::unique_ptr<ReadText> read, const MaterialLibrary& library,
                                   const Drawn* before) {
  const Setup& s = *read->setup;
  const Assessment none;
  const Scene scene =
      scene::scene_of({s, none, library, {}, {}, read->document.file, "", "", Paper::a4});
  std::array<Rendered, 2> views;
  for (const View v : {View::plan, View::stern}) {
    const Rendered* old = before == nullptr ? nullptr : &view_of(*before, v);
    const scene::Names names = names_for(scene, v);
    views[v == View::plan ? 0 : 1] =
        old == nullptr ? render_quickly(scene, v, names) : render_held(scene, v, names, *old);
  }
  return on_pictures(std::move(read), std::move(views));
}

std::shared_ptr<const Drawn> on_pictures(std::unique_ptr<ReadText> read,
                                         std::array<Rendered, 2> views) {
  auto out = std::make_shared<Drawn>();
  out->read = std::move(read);
  out->views = std::move(views);
  const Setup& s = *out->read->setup;
  out->handles = s.on_board() ? board_handles(*out->read) : plate_handles(*out->read);
  std::erase_if(out->handles,
                [&](const Handle& h) { return view_of(*out, h.view).panels.empty(); });
  return out;
}

svg::Point place_of(const Drawn& d, const Handle& h, const Spot& at) {
  return scale_of(d, h).at(at);
}
svg::Point place_of(const Drawn& d, const Handle& h) { return place_of(d, h, h.at); }

std::string words_of(const Drawn& d, const Axis& a, double value) {
  if (a.angle) return written_angle(std::clamp(value, a.low, a.high));
  return written_like(a.like, d.read->setup->units, value, a.low, a.high);
}

std::string step_of(const Drawn& d, const Axis& a) {
  return a.angle ? "5 deg" : step_words(a.like, d.read->setup->units);
}

std::vector<Edit> moved(const Drawn& d, const Handle& h, double x, double y) {
  const Spot to = spot_at(d, h, x, y);
  std::vector<Edit> out;
  for (const Axis& a : h.axes) {
    const double value = a.angle ? unwound(a.of(to), a.value) : a.of(to);
    if (const auto e = edit_to(d, a, value)) out.push_back(*e);
  }
  return out;
}

std::vector<Edit> stepped(const Drawn& d, const Handle& h, long steps, std::string_view key) {
  const bool upright = key == "up" || key == "down";
  const Axis* axis = &h.axes.front();
  for (const Axis& a : h.axes) {
    if (!key.empty() && a.way == (upright ? Way::upright : Way::across)) axis = &a;
  }
  double n = double(steps);
  if (key == "left" || key == "down") n = -n;
  const bool placed = axis->way == Way::across || axis->way == Way::upright;
  if (!key.empty() && placed) n *= sense(h, *axis, axis->way == Way::upright);
  const double step = axis->angle ? step_angle : page::step_of(axis->like, d.read->setup->units);
  const auto e = edit_to(d, *axis, axis->value + n * step);
  return e ? std::vector<Edit>{*e} : std::vector<Edit>{};
}

}  // namespace thole::page
