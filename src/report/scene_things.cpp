// What the setup names round the mount, in plan.

#include <algorithm>
#include <cmath>
#include <numbers>
#include <set>
#include <utility>

#include "report/scene.hpp"

namespace thole::scene {
namespace {

constexpr std::size_t most_names = 5;
constexpr double point_radius = 0.025;

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
    std::vector<Spot> corners = corners_of(s, transom, middle);
    if (t.kind == "light" && !corners.empty()) corners.resize(1);  // not where it shines
    if (!swings(t) && !corners.empty()) out.push_back(corners);
    all.insert(all.end(), corners.begin(), corners.end());
  }
  if (swings(t) && all.size() > 1) out.push_back(all);
  return out;
}

// A light, a seat, a place to stand is a point: a small ring, of no size of its own.
std::vector<Solid> solids_of(const FitThing& t, double transom, double middle) {
  std::vector<Solid> out;
  for (const std::vector<Spot>& part : parts_of(t, transom, middle)) {
    Solid solid;
    solid.look = "thin";
    solid.layer = Layer::boat;
    solid.corners = part.size() > 1 ? part : drum(part.front(), 0, point_radius);
    solid.form = swings(t) || part.size() == 1 ? Solid::Form::hull : Solid::Form::outline;
    solid.views = in_plan;
    solid.panels = whole;
    solid.frames = false;
    out.push_back(std::move(solid));
  }
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
    if (t.of_mount) continue;
    const bool hits = hit.count(t.name) > 0;
    std::optional<Spot> at;
    for (Solid& solid : solids_of(t, transom, middle)) {
      if (hits) solid.look = "views-hit";
      if (!at) at = middle_of(solid.corners);
      scene.solids.push_back(std::move(solid));
    }
    if (!at || named.size() >= most_names || !named.insert(t.name).second) continue;
    const std::string name = brief(t.name);
    scene.labels.push_back(
        {{hits ? name + ": in the way" : name}, *at, hits ? "text" : "note", in_plan, whole});
  }
  if (hit.empty()) return;
  scene.note("Heavy dashes: in the way of gear or mount.", in_plan);
}

}  // namespace thole::scene
