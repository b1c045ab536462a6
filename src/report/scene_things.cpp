// What the setup names round the mount, in plan.

#include <algorithm>
#include <cmath>
#include <numbers>
#include <set>

#include "report/scene.hpp"

namespace thole::scene {
namespace {

constexpr std::size_t most_names = 5;

std::vector<Spot> corners_of(const FitShape& s, double transom, double middle) {
  const auto spot = [&](const FitPoint& p) {
    return Spot{transom + p.x.value(), middle + p.y.value(), 0};
  };
  std::vector<Spot> out;
  if (s.points.empty()) return out;
  if (s.form == FitShape::Form::sector) {
    // Clockwise seen from above: to port.
    const double to = std::min(s.to.value(), s.from.value() + 2 * std::numbers::pi);
    return fan(spot(s.points.front()), s.inner.value(), s.outer.value(), -s.from.value(), -to);
  }
  for (const FitPoint& p : s.points) out.push_back(spot(p));
  if (s.form == FitShape::Form::outline || out.size() < 2) return out;
  const double half = 0.5 * s.width.value();
  const Spot along = out.back() + -1.0 * out.front();
  const double length = std::hypot(along.x, along.y);
  if (!(half > 0) || !(length > 0)) return out;
  const Spot across{-along.y / length * half, along.x / length * half, 0};
  std::vector<Spot> ribbon;
  for (const Spot& p : out) ribbon.push_back(p + across);
  for (auto p = out.rbegin(); p != out.rend(); ++p) ribbon.push_back(*p + -1.0 * across);
  return ribbon;
}

bool swings(const FitThing& t) { return t.kind == "motor" || t.kind == "hand"; }

// What swings is many shapes: their hull as one.
std::vector<std::vector<Spot>> parts_of(const FitThing& t, double transom, double middle) {
  std::vector<std::vector<Spot>> out;
  std::vector<Spot> all;
  for (const FitShape& s : t.shapes) {
    const std::vector<Spot> corners = corners_of(s, transom, middle);
    if (!swings(t) && corners.size() > 1) out.push_back(corners);
    all.insert(all.end(), corners.begin(), corners.end());
  }
  if (swings(t) && all.size() > 1) out.push_back(all);
  return out;
}

Spot middle_of(const std::vector<Spot>& corners) {
  Spot sum;
  for (const Spot& c : corners) sum = sum + c;
  return (1.0 / double(corners.size())) * sum;
}

}  // namespace

void add_things(Scene& scene, const SheetContent& content, double transom, double middle) {
  const FitAnswer answer = look_at_fit(content.setup);
  std::set<std::string> hit;
  for (const FitRow& r : answer.rows) {
    if (r.rule == FitRule::keep_clear && r.clear == Clear::hits) hit.insert(r.other);
  }
  std::set<std::string> named;
  for (const FitThing& t : answer.things) {
    if (t.of_mount || t.kind == "light" || fit_kind(t.kind).rule != FitRule::keep_clear) continue;
    const bool hits = hit.count(t.name) > 0;
    std::optional<Spot> at;
    const std::vector<std::vector<Spot>> parts = parts_of(t, transom, middle);
    for (const std::vector<Spot>& part : parts) {
      Solid solid;
      solid.look = hits ? "views-hit" : "thin";
      solid.layer = Layer::boat;
      solid.corners = part;
      solid.form = swings(t) ? Solid::Form::hull : Solid::Form::outline;
      solid.views = in_plan;
      solid.panels = whole;
      solid.frames = false;
      if (!at) at = middle_of(solid.corners);
      scene.solids.push_back(solid);
    }
    if (!at || named.size() >= most_names || !named.insert(t.name).second) continue;
    const std::string name = brief(t.name);
    scene.labels.push_back(
        {{hits ? name + ": in the way" : name}, *at, hits ? "text" : "note", in_plan, whole});
  }
  if (hit.empty()) return;
  scene.notes.push_back({"Heavy dashes: in the way of gear or mount.", in_plan});
}

}  // namespace thole::scene
