#include "core/bracket.hpp"

#include <algorithm>
#include <cmath>

#include <thole/thread.hpp>
#include <thole/tightening.hpp>

#include "core/geometry.hpp"

namespace thole::bracket {

// The part where level(c) > 0; `level` is linear.
template <class Level>
Reactions::Polygon Reactions::cut(const Polygon& p, Level level) {
  Polygon out;
  out.reserve(p.size() + 2);
  for (std::size_t i = 0; i < p.size(); ++i) {
    const Corner& a = p[i];
    const Corner& b = p[(i + 1) % p.size()];
    const double la = level(a);
    const double lb = level(b);
    if (la > 0) out.push_back(a);
    if ((la > 0) == (lb > 0)) continue;
    const double t = la / (la - lb);
    out.push_back(
        {a.x + t * (b.x - a.x), a.y + t * (b.y - a.y), a.pressure + t * (b.pressure - a.pressure)});
  }
  return out;
}

// Of a linear pressure, by triangles from the first corner.
Push Reactions::integral(const Polygon& p) {
  double force = 0, about_x = 0, about_y = 0;
  for (std::size_t i = 1; i + 1 < p.size(); ++i) {
    const Corner& a = p[0];
    const Corner& b = p[i];
    const Corner& c = p[i + 1];
    const double area = 0.5 * ((b.x - a.x) * (c.y - a.y) - (c.x - a.x) * (b.y - a.y));
    const double all = a.pressure + b.pressure + c.pressure;
    force += area / 3 * all;
    about_y += area / 12 *
               (all * (a.x + b.x + c.x) + a.pressure * a.x + b.pressure * b.x + c.pressure * c.x);
    about_x += area / 12 *
               (all * (a.y + b.y + c.y) + a.pressure * a.y + b.pressure * b.y + c.pressure * c.y);
  }
  return {Force::from_value(force), Moment::from_value(about_x), Moment::from_value(about_y)};
}

Reactions::Reactions(const GunwalePlate& m, const ContactResult& r)
    : holes_(m.fastening.holes), result_(r) {
  const double w = r.lift.value();
  const double tx = r.tilt_x.value();
  const double ty = r.tilt_y.value();
  Force all{};
  for (const Outline& o : geometry::bed_of(m)) {
    Polygon whole;
    for (const PlanPoint& p : o) {
      const double x = p.x.value();
      const double y = p.y.value();
      whole.push_back({x, y, -(w + tx * y - ty * x)});
    }
    pressed_.push_back(cut(whole, [](const Corner& c) { return c.pressure; }));
    parts_.push_back(integral(pressed_.back()));
    all += parts_.back().force;
  }
  // How stiff the bed is does not matter: its resultant is known.
  const double scale = all.value() > 0 ? double(r.bed_force / all) : 0.0;
  for (Polygon& p : pressed_) {
    for (Corner& c : p) c.pressure *= scale;
  }
  for (Push& p : parts_) p = {scale * p.force, scale * p.about_x, scale * p.about_y};
}

Push Reactions::beyond(double nx, double ny, Length distance) const {
  const double d = distance.value();
  Push out;
  for (const Polygon& whole : pressed_) {
    const Push p = integral(cut(whole, [&](const Corner& c) { return nx * c.x + ny * c.y - d; }));
    out.force += p.force;
    out.about_x += p.about_x;
    out.about_y += p.about_y;
  }
  for (std::size_t i = 0; i < holes_.size(); ++i) {
    const PlanPoint& p = holes_[i];
    if (!(nx * p.x + ny * p.y > distance)) continue;
    out.force -= result_.tension[i];
    out.about_x -= result_.tension[i] * p.y;
    out.about_y -= result_.tension[i] * p.x;
  }
  return out;
}

Slip slip_of(const GunwalePlate& m) {
  constexpr double low = 0.1;
  constexpr double most_measured = 0.2;
  constexpr double left = 0.5;
  constexpr double by_hand = 0.2;
  const Fastening& f = m.fastening;
  Slip out;
  out.friction = std::min(m.bracket->friction.value_or(low), most_measured);
  if (m.bracket->clamp) {
    const Force drawn =
        preload_of(m.bracket->clamp->tightened, f.thread.diameter, nut_factor(true, false).high);
    out.each = left * drawn;
  } else {
    const Force yields = 2.0 * f.material.yield * tensile_stress_area(f.thread);
    out.each = left * by_hand * yields;
  }
  return out;
}

}  // namespace thole::bracket
