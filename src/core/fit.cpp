// Distances of shapes in plan. Plain metres inside.
//
// A shape becomes convex pieces: fine ones whose union it is, which tell how far apart two shapes
// are; and coarse ones, hulls of a quarter turn or a whole outline, which tell how deep they
// overlap.

#include <thole/fit.hpp>

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>

#include <thole/error.hpp>

#include "core/fit_parts.hpp"
#include "core/stable_order.hpp"

namespace thole {
namespace {

constexpr double sagitta = 0.00008;  // a polygon in place of an arc, never smaller than it
constexpr double hair = 1e-9;
constexpr double turn = 2 * std::numbers::pi;

struct P {
  double x = 0;
  double y = 0;
  friend P operator+(P a, P b) { return {a.x + b.x, a.y + b.y}; }
  friend P operator-(P a, P b) { return {a.x - b.x, a.y - b.y}; }
  friend P operator*(double f, P a) { return {f * a.x, f * a.y}; }
};
double dot(P a, P b) { return a.x * b.x + a.y * b.y; }
double cross(P a, P b) { return a.x * b.y - a.y * b.x; }
double norm(P a) { return std::hypot(a.x, a.y); }
P plain(const FitPoint& p) { return {p.x.value(), p.y.value()}; }
FitPoint typed(P p) { return {p.x * si::metre, p.y * si::metre}; }
// The way that an angle from astern, clockwise, points.
P way(double angle) { return {-std::cos(angle), -std::sin(angle)}; }

struct Piece {
  std::vector<P> corners;  // convex, either way round; two: a segment
  P low, high;
};

Piece piece(std::vector<P> corners) {
  Piece c{std::move(corners), {}, {}};
  c.low = c.high = c.corners.front();
  for (const P& p : c.corners) {
    c.low = {std::min(c.low.x, p.x), std::min(c.low.y, p.y)};
    c.high = {std::max(c.high.x, p.x), std::max(c.high.y, p.y)};
  }
  return c;
}

struct Region {
  std::vector<Piece> fine;
  std::vector<Piece> coarse;
};

// No less than this lie two regions apart.
double least_apart(const Region& a, const Region& b) {
  double least = std::numeric_limits<double>::infinity();
  for (const Piece& p : a.coarse) {
    for (const Piece& q : b.coarse) {
      const double x = std::max({0.0, p.low.x - q.high.x, q.low.x - p.high.x});
      const double y = std::max({0.0, p.low.y - q.high.y, q.low.y - p.high.y});
      least = std::min(least, std::hypot(x, y));
    }
  }
  return least;
}

std::vector<P> hull_of(std::vector<P> points) {
  std::sort(points.begin(), points.end(),
            [](P a, P b) { return a.x != b.x ? a.x < b.x : a.y < b.y; });
  std::vector<P> out;
  for (int pass = 0; pass < 2; ++pass) {
    const std::size_t first = out.size();
    for (const P& p : points) {
      while (out.size() >= first + 2 &&
             cross(out[out.size() - 1] - out[out.size() - 2], p - out.back()) <= 0) {
        out.pop_back();
      }
      out.push_back(p);
    }
    out.pop_back();
    std::reverse(points.begin(), points.end());
  }
  return out.empty() ? points : out;
}

bool convex(const std::vector<P>& c) {
  double sign = 0;
  for (std::size_t i = 0; i < c.size(); ++i) {
    const double t =
        cross(c[(i + 1) % c.size()] - c[i], c[(i + 2) % c.size()] - c[(i + 1) % c.size()]);
    if (std::abs(t) < 1e-15) continue;
    if (sign * t < 0) return false;
    sign = t;
  }
  return true;
}

// Ears of a simple polygon.
std::vector<std::vector<P>> triangles(std::vector<P> c) {
  double area = 0;
  for (std::size_t i = 0; i < c.size(); ++i) area += cross(c[i], c[(i + 1) % c.size()]);
  if (area < 0) std::reverse(c.begin(), c.end());
  std::vector<std::vector<P>> out;
  while (c.size() > 3) {
    const std::size_t n = c.size();
    std::size_t ear = n;
    for (std::size_t i = 0; i < n && ear == n; ++i) {
      const P a = c[(i + n - 1) % n];
      const P b = c[i];
      const P d = c[(i + 1) % n];
      const double turned = cross(b - a, d - b);
      if (turned < 0) continue;
      bool empty = true;
      for (std::size_t k = 0; k < n && empty && turned > 0; ++k) {
        if (k == i || k == (i + 1) % n || k == (i + n - 1) % n) continue;
        empty = !(cross(b - a, c[k] - a) >= 0 && cross(d - b, c[k] - b) >= 0 &&
                  cross(a - d, c[k] - d) >= 0);
      }
      if (empty) ear = i;
    }
    if (ear == n) {  // corners that touch: the rest whole, which is never too small
      out.push_back(hull_of(c));
      return out;
    }
    const std::vector<P> t{c[(ear + n - 1) % n], c[ear], c[(ear + 1) % n]};
    if (cross(t[1] - t[0], t[2] - t[1]) > 0) out.push_back(t);
    c.erase(c.begin() + std::ptrdiff_t(ear));
  }
  out.push_back(c);
  return out;
}

[[noreturn]] void refuse(const char* why) { throw DomainError(why); }

// Two edges that do not follow each other meet.
bool crosses_itself(const std::vector<P>& c) {
  const std::size_t n = c.size();
  const auto between = [](P a, P b, P p) {
    return p.x >= std::min(a.x, b.x) - hair && p.x <= std::max(a.x, b.x) + hair &&
           p.y >= std::min(a.y, b.y) - hair && p.y <= std::max(a.y, b.y) + hair;
  };
  for (std::size_t i = 0; i < n; ++i) {
    for (std::size_t k = i + 2; k < n; ++k) {
      if (i == 0 && k == n - 1) continue;
      const P a = c[i];
      const P b = c[i + 1];
      const P d = c[k];
      const P e = c[(k + 1) % n];
      const double u = cross(b - a, d - a);
      const double v = cross(b - a, e - a);
      const double w = cross(e - d, a - d);
      const double z = cross(e - d, b - d);
      if (((u > 0) != (v > 0)) && ((w > 0) != (z > 0)) && u != 0 && v != 0 && w != 0 && z != 0) {
        return true;
      }
      if ((std::abs(u) < 1e-12 && between(a, b, d)) || (std::abs(v) < 1e-12 && between(a, b, e)) ||
          (std::abs(w) < 1e-12 && between(d, e, a)) || (std::abs(z) < 1e-12 && between(d, e, b))) {
        return true;
      }
    }
  }
  return false;
}

Region outline_region(const FitShape& s) {
  std::vector<P> c;
  for (const FitPoint& p : s.points) c.push_back(plain(p));
  double area = 0;
  for (std::size_t i = 0; i < c.size(); ++i) area += cross(c[i], c[(i + 1) % c.size()]);
  if (c.size() < 3 || std::abs(area) < 1e-12) {
    refuse("an outline needs three corners and an area");
  }
  if (crosses_itself(c)) refuse("the outline crosses or touches itself");
  Region r;
  r.coarse = {piece(hull_of(c))};
  if (convex(c)) {
    r.fine = {piece(c)};
  } else {
    for (std::vector<P>& t : triangles(c)) r.fine.push_back(piece(std::move(t)));
  }
  return r;
}

Region sector_region(const FitShape& s) {
  const double span = s.to.value() - s.from.value();
  const double outer = s.outer.value();
  const double inner = s.inner.value();
  if (s.points.size() != 1) refuse("a sector needs one middle");
  if (!(outer > 0) || !(inner >= 0) || inner > outer) refuse("a sector needs a radius above zero");
  if (!(span >= 0) || span > turn + hair) refuse("a sector turns by 0 to 360 deg");
  const P middle = plain(s.points.front());
  const double widest = 2 * std::acos(1 - std::min(sagitta / outer, 0.5));
  // Convex where it does not reach round its middle; parts alike, so that mirroring changes
  // nothing.
  const int parts = std::max(1, int(std::ceil(span / (inner > 0 ? turn / 4 : turn / 2) - 1e-9)));
  const int n = parts * std::max(1, int(std::ceil(span / widest / parts)));
  const double step = span / n;
  const double reach = outer / std::cos(0.5 * step);  // the polygon goes round the arc
  Region r;
  if (span < 1e-9) {
    r.fine = {piece({middle + inner * way(s.from.value()), middle + outer * way(s.from.value())})};
    r.coarse = r.fine;
    return r;
  }
  const auto at = [&](int i, double radius) {
    return middle + radius * way(s.from.value() + i * step);
  };
  const auto chunk = [&](int first, int last) {
    std::vector<P> c;
    for (int i = first; i <= last; ++i) c.push_back(at(i, reach));
    if (inner > 0) {
      for (int i = last; i >= first; --i) c.push_back(at(i, inner));
    } else {
      c.push_back(middle);
    }
    return piece(hull_of(c));
  };
  if (inner == 0 && span >= turn - 1e-9) {
    std::vector<P> c;
    for (int i = 0; i < n; ++i) c.push_back(at(i, reach));
    r.fine = {piece(c)};
    r.coarse = r.fine;
    return r;
  }
  for (int k = 0; k < parts; ++k) r.coarse.push_back(chunk(n * k / parts, n * (k + 1) / parts));
  if (inner == 0) {
    r.fine = r.coarse;
  } else {
    for (int i = 0; i < n; ++i) r.fine.push_back(chunk(i, i + 1));
  }
  return r;
}

Region path_region(const FitShape& s) {
  if (s.points.size() < 2) refuse("a line needs two ends");
  const double half = 0.5 * s.width.value();
  if (!(half >= 0)) refuse("the width of a line must not be negative");
  Region r;
  for (std::size_t i = 0; i + 1 < s.points.size(); ++i) {
    const P a = plain(s.points[i]);
    const P b = plain(s.points[i + 1]);
    const double length = norm(b - a);
    if (length < hair) refuse("a line needs two ends that lie apart");
    const P side = half / length * P{a.y - b.y, b.x - a.x};
    r.fine.push_back(half > 0 ? piece({a + side, b + side, b - side, a - side}) : piece({a, b}));
    if (i == 0 || half == 0) continue;
    std::vector<P> round;  // the joint
    for (int k = 0; k < 32; ++k) {
      round.push_back(a + half / std::cos(turn / 64) * way(turn * k / 32));
    }
    r.fine.push_back(piece(round));
  }
  r.coarse = r.fine;
  return r;
}

Region region_of(const FitShape& s) {
  const auto finite = [](double v) { return std::isfinite(v); };
  bool good = finite(s.inner.value()) && finite(s.outer.value()) && finite(s.width.value()) &&
              finite(s.from.value()) && finite(s.to.value());
  for (const FitPoint& p : s.points) good = good && finite(p.x.value()) && finite(p.y.value());
  if (!good) refuse("a shape needs finite sizes");
  switch (s.form) {
    case FitShape::Form::outline:
      return outline_region(s);
    case FitShape::Form::sector:
      return sector_region(s);
    case FitShape::Form::path:
      return path_region(s);
  }
  throw InternalError("a shape without a form");
}

// How deep two convex pieces overlap: the least move that parts them. Below zero: apart, by no
// more than that.
double depth_of(const Piece& a, const Piece& b) {
  double depth = std::numeric_limits<double>::infinity();
  const auto along = [&](P axis) {
    const double size = norm(axis);
    if (size < 1e-12) return;
    axis = 1 / size * axis;
    double a_low = std::numeric_limits<double>::infinity();
    double a_high = -a_low;
    double b_low = a_low;
    double b_high = -a_low;
    for (const P& p : a.corners) {
      const double v = dot(axis, p);
      a_low = std::min(a_low, v);
      a_high = std::max(a_high, v);
    }
    for (const P& p : b.corners) {
      const double v = dot(axis, p);
      b_low = std::min(b_low, v);
      b_high = std::max(b_high, v);
    }
    depth = std::min({depth, a_high - b_low, b_high - a_low});
  };
  for (const Piece* c : {&a, &b}) {
    const std::size_t n = c->corners.size();
    for (std::size_t i = 0; i < n && depth >= 0; ++i) {
      const P edge = c->corners[(i + 1) % n] - c->corners[i];
      along({-edge.y, edge.x});
      if (n == 2) along(edge);
    }
  }
  return depth;
}

struct Near {
  double distance = std::numeric_limits<double>::infinity();
  P at;
};

// Two convex pieces that do not overlap: a corner of one is nearest to an edge of the other.
void nearest(const Piece& a, const Piece& b, Near& best) {
  const auto corners_to_edges = [&](const Piece& one, const Piece& other) {
    const std::size_t n = other.corners.size();
    for (const P& p : one.corners) {
      const double x = std::max({0.0, other.low.x - p.x, p.x - other.high.x});
      const double y = std::max({0.0, other.low.y - p.y, p.y - other.high.y});
      if (x * x + y * y > best.distance * best.distance) continue;
      for (std::size_t i = 0; i < n; ++i) {
        const P q = other.corners[i];
        const P edge = other.corners[(i + 1) % n] - q;
        const double length2 = dot(edge, edge);
        const double t = length2 > 0 ? std::clamp(dot(p - q, edge) / length2, 0.0, 1.0) : 0.0;
        const P foot = q + t * edge;
        const P away = p - foot;
        if (dot(away, away) > best.distance * best.distance) continue;  // most: no root for them
        const double d = norm(away);
        if (d < best.distance - 1e-12) best = {d, 0.5 * (p + foot)};
      }
    }
  };
  corners_to_edges(a, b);
  corners_to_edges(b, a);
}

double box_distance(const Piece& a, const Piece& b) {
  const double x = std::max({0.0, a.low.x - b.high.x, b.low.x - a.high.x});
  const double y = std::max({0.0, a.low.y - b.high.y, b.low.y - a.high.y});
  return std::hypot(x, y);
}

// Middle of what two convex pieces share.
P shared(const Piece& a, const Piece& b) {
  std::vector<P> c = a.corners;
  std::vector<P> clip = hull_of(b.corners);  // counter-clockwise
  if (clip.size() >= 3) {
    for (std::size_t i = 0; i < clip.size() && !c.empty(); ++i) {
      const P q = clip[i];
      const P edge = clip[(i + 1) % clip.size()] - q;
      std::vector<P> kept;
      for (std::size_t k = 0; k < c.size(); ++k) {
        const P u = c[k];
        const P v = c[(k + 1) % c.size()];
        const double du = cross(edge, u - q);
        const double dv = cross(edge, v - q);
        if (du >= 0) kept.push_back(u);
        if ((du < 0) != (dv < 0)) kept.push_back(u + du / (du - dv) * (v - u));
      }
      c = std::move(kept);
    }
  } else if (c.size() == 2 && b.corners.size() == 2) {
    const P u = c[1] - c[0];
    const P v = b.corners[1] - b.corners[0];
    const double d = cross(u, v);
    if (std::abs(d) > 1e-15) return c[0] + cross(b.corners[0] - c[0], v) / d * u;
  } else {
    return shared(b, a);
  }
  if (c.empty()) return 0.5 * (a.low + a.high);
  P low = c.front();
  P high = low;
  for (const P& p : c) {
    low = {std::min(low.x, p.x), std::min(low.y, p.y)};
    high = {std::max(high.x, p.x), std::max(high.y, p.y)};
  }
  return 0.5 * (low + high);
}

Gap gap_of(const Region& a, const Region& b) {
  Near near;
  bool overlap = false;
  double deepest = 0;
  P at;
  for (const Piece& p : a.fine) {
    for (const Piece& q : b.fine) {
      const double box = box_distance(p, q);
      if (box > 0 && (overlap || box >= near.distance)) continue;
      const double depth = box > 0 ? -1 : depth_of(p, q);
      if (depth < 0) {
        if (!overlap) nearest(p, q, near);
        continue;
      }
      if (!overlap || depth > deepest) {
        at = shared(p, q);
        deepest = depth;
      }
      overlap = true;
    }
  }
  if (!overlap) return {near.distance * si::metre, typed(near.at)};
  for (const Piece& p : a.coarse) {
    for (const Piece& q : b.coarse) {
      const double depth = box_distance(p, q) > 0 ? -1 : depth_of(p, q);
      if (depth <= deepest) continue;
      deepest = depth;
      at = shared(p, q);
    }
  }
  return {-deepest * si::metre, typed(at)};
}

// The farther of two angles within the half turn.
bool plain_swing(double from, double to) { return to >= from && to - from <= turn / 2 + hair; }

}  // namespace

Gap gap_between(const FitShape& a, const FitShape& b) { return gap_of(region_of(a), region_of(b)); }

std::vector<FitShape> swept(const FitSwing& s, std::optional<Length> bottom,
                            std::optional<Length> top) {
  const double half = s.half_width.value();
  if (!(half > 0) || !(s.front > s.back)) throw DomainError("a box that swings needs an extent");
  if (!plain_swing(s.from.value(), s.to.value())) {
    throw DomainError("a box swings by 0 to 180 deg");
  }
  std::vector<FitShape> out;
  const P about = plain(s.about);
  const double middle = 0.5 * (s.from.value() + s.to.value());
  const double lock = 0.5 * (s.to.value() - s.from.value());
  const auto box = [&](double angle) {
    const P ahead = way(angle);
    const P right{-ahead.y, ahead.x};
    FitShape b;
    for (const auto& [u, v] : {std::pair{s.back.value(), -half}, std::pair{s.front.value(), -half},
                               std::pair{s.front.value(), half}, std::pair{s.back.value(), half}}) {
      b.points.push_back(typed(about + u * ahead + v * right));
    }
    b.bottom = bottom;
    b.top = top;
    out.push_back(b);
  };
  const auto sector = [&](double inner, double outer, double from, double to) {
    FitShape c;
    c.form = FitShape::Form::sector;
    c.points = {s.about};
    c.inner = inner * si::metre;
    c.outer = outer * si::metre;
    c.from = from * si::radian;
    c.to = std::min(to, from + turn) * si::radian;
    c.bottom = bottom;
    c.top = top;
    if (outer > inner) out.push_back(c);
  };
  box(middle - lock);
  if (lock == 0) return out;
  box(middle + lock);
  // The part ahead of the point and that behind it, each as a box from `near` to `far` that looks
  // along `axis`: the corners sweep a sector each, and its middle line another.
  const auto part = [&](double near, double far, double axis) {
    if (!(far > near)) return;
    const double corner = std::atan2(half, far);
    const double reach = std::hypot(half, far);
    const double inner = std::min(near / std::cos(corner), far);
    sector(near, far, axis - lock, axis + lock);
    sector(inner, reach, axis - corner - lock, axis - corner + lock);
    sector(inner, reach, axis + corner - lock, axis + corner + lock);
  };
  part(std::max(s.back.value(), 0.0), s.front.value(), middle);
  part(std::max(-s.front.value(), 0.0), -s.back.value(), middle + turn / 2);
  return out;
}

std::vector<FitThing> motor_things(const FitMotor& m) {
  if (!(m.width > Length{}) || !(m.cowl_forward + m.cowl_aft > Length{})) {
    throw DomainError("the cowl of the motor needs a length and a width");
  }
  const Angle ahead = std::numbers::pi * si::radian;
  const auto swing = [&](Length back, Length front, Length width, Angle lock) {
    return FitSwing{m.pivot, back, front, 0.5 * width, ahead - lock, ahead + lock};
  };
  std::vector<FitThing> out;
  out.push_back(
      fit_thing("motor", "motor, down",
                swept(swing(-m.cowl_aft, m.cowl_forward, m.width, m.lock), m.bottom, m.top)));
  if (m.tilted_forward > Length{}) {
    // From the axis forward; what hangs behind the boat then is beyond the mount.
    out.push_back(fit_thing(
        "motor", "motor, tilted up",
        swept(swing(Length{}, m.tilted_forward, m.width, m.lock), m.tilted_bottom, m.tilted_top)));
  }
  if (m.tiller > Length{}) {
    out.push_back(fit_thing(
        "hand", "tiller hand",
        swept(swing(Length{}, m.tiller, 0.1 * si::metre, m.lock), m.tiller_bottom, m.tiller_top)));
  }
  return out;
}

namespace {

// A thing with its shapes in pieces, each with its heights.
struct Body {
  const FitThing* thing = nullptr;
  std::vector<Region> regions;
};

struct Meeting {
  double distance = std::numeric_limits<double>::infinity();
  P at;
  std::string note;
};

// `over` above zero: so far above or below; below zero: at one height.
constexpr double at_every_height = -std::numeric_limits<double>::infinity();
double height_gap(const FitShape& a, const FitShape& b) {
  double over = at_every_height;
  if (a.bottom && b.top) over = std::max(over, (*a.bottom - *b.top).value());
  if (b.bottom && a.top) over = std::max(over, (*b.bottom - *a.top).value());
  return over;
}

// `in_plan`: whatever their heights.
Meeting meeting_of(const Body& a, const Body& b, bool in_plan) {
  struct Pair {
    double bound;  // no nearer than this
    std::size_t i, k;
  };
  std::vector<Pair> pairs;
  for (std::size_t i = 0; i < a.regions.size(); ++i) {
    for (std::size_t k = 0; k < b.regions.size(); ++k) {
      const double over =
          in_plan ? at_every_height : height_gap(a.thing->shapes[i], b.thing->shapes[k]);
      pairs.push_back({std::max(least_apart(a.regions[i], b.regions[k]), over), i, k});
    }
  }
  sort_stably(pairs, [](const Pair& x, const Pair& y) { return x.bound < y.bound; });
  Meeting best;
  for (const Pair& p : pairs) {
    if (p.bound >= best.distance && best.distance > 0) break;
    const FitShape& one = a.thing->shapes[p.i];
    const FitShape& other = b.thing->shapes[p.k];
    const double over = in_plan ? at_every_height : height_gap(one, other);
    const Gap gap = gap_of(a.regions[p.i], b.regions[p.k]);
    const double plan = gap.distance.value();
    const double distance = over > 0 && plan > 0 ? std::hypot(plan, over) : std::max(plan, over);
    if (distance >= best.distance - 1e-12) continue;
    best.distance = distance;
    best.at = plain(gap.at);
    const bool above = one.bottom && other.top && (*one.bottom - *other.top).value() == over;
    best.note.clear();
    if (plan <= 0 && over > 0) best.note = above ? "passes above it" : "passes below it";
    if (plan <= 0 && over <= 0 && over > plan) {
      best.note =
          above ? "would pass above if it stood higher" : "would pass below if it stood lower";
    }
  }
  return best;
}

bool one_of(const std::string& kind, std::initializer_list<std::string_view> kinds) {
  return std::find(kinds.begin(), kinds.end(), kind) != kinds.end();
}

bool comes_away(const FitThing& part) { return one_of(part.kind, {"boom", "rod", "line", "reel"}); }

// What of the mount is looked at against what of the boat.
bool matters(const FitThing& part, const FitThing& other) {
  if (part.kind == "lifted") return false;
  // The line hangs outboard or astern: only the motor and its hand come near it.
  if (part.kind == "line") return one_of(other.kind, {"motor", "hand", "oar"});
  if (one_of(other.kind, {"wiring", "outlet"})) {
    return one_of(part.kind, {"board", "ledge", "leg", "base", "winch", "holder"});
  }
  return true;
}

// Of two parts of the mount: of different gear only.
bool meet(const FitThing& a, const FitThing& b) {
  if (a.gear == b.gear || a.gear.empty() || b.gear.empty()) return false;
  const auto pair = [&](const FitThing& x, const FitThing& y) {
    return (one_of(x.kind, {"crank", "reel"}) &&
            one_of(y.kind, {"crank", "reel", "winch", "holder", "butt", "rod"})) ||
           (one_of(x.kind, {"rod", "lifted"}) && y.kind == "rod") ||
           (x.kind == "boom" && one_of(y.kind, {"boom", "rod", "winch", "holder"}));
  };
  return pair(a, b) || pair(b, a);
}

void settle(FitRow& row, bool only_close, double close) {
  const double d = row.distance.value();
  if (d > hair) {
    row.clear = d >= row.wanted.value() - hair ? Clear::clear : Clear::close;
  } else {  // touching is none where nothing at all is wanted between them
    row.clear = d >= -hair && row.wanted.value() <= hair ? Clear::close : Clear::hits;
  }
  const auto add = [&](const std::string& text) {
    row.note += (row.note.empty() ? "" : "; ") + text;
  };
  if (row.clear == Clear::hits && only_close) {
    row.clear = Clear::close;
    add("in its way until it is swung or taken away");
  }
  if (row.clear == Clear::close && d > 0 && d < close - hair) add("touches when anything moves");
}

}  // namespace

void sort_rows(std::vector<FitRow>& rows) {
  const auto rank = [](const FitRow& r) {
    return r.clear == Clear::hits ? 0 : r.clear == Clear::close ? 1 : 2;
  };
  const auto spare = [](const FitRow& r) {
    const double v = (r.distance - r.wanted).value();
    return std::round((r.rule == FitRule::reach ? -v : v) * 1e7);  // no order by rounding errors
  };
  sort_stably(rows, [&](const FitRow& a, const FitRow& b) {
    if (rank(a) != rank(b)) return rank(a) < rank(b);
    if (spare(a) != spare(b)) return spare(a) < spare(b);
    return a.one != b.one ? a.one < b.one : a.other < b.other;
  });
}

FitAnswer look_at_fit(const std::vector<FitThing>& things) {
  FitAnswer out;
  out.described = true;
  out.things = things;
  std::vector<Body> bodies;
  for (const FitThing& t : out.things) {
    Body b;
    b.thing = &t;
    for (const FitShape& s : t.shapes) b.regions.push_back(region_of(s));
    bodies.push_back(std::move(b));
  }
  const auto row_of = [&](const Body& part, const Body& other) {
    // Rods and their lines tangle where they cross, however high one passes over the other.
    const bool rods =
        one_of(part.thing->kind, {"rod", "lifted"}) && one_of(other.thing->kind, {"rod", "lifted"});
    const Meeting m = meeting_of(part, other, rods);
    FitRow row;
    row.one = part.thing->name;
    row.other = other.thing->name;
    row.distance = m.distance * si::metre;
    row.at = typed(m.at);
    row.note = rods && m.distance <= 0 ? "they cross as seen from above" : m.note;
    const FitThing& wants =
        part.thing->clearance > other.thing->clearance ? *part.thing : *other.thing;
    row.wanted = wants.clearance;
    row.wanted_given = wants.clearance_given;
    row.source = wants.source;
    row.advice = (wants.advice.empty() ? *part.thing : wants).advice;
    const bool thin_before_light =
        other.thing->kind == "light" && one_of(part.thing->kind, {"rod", "line", "boom"});
    settle(row,
           thin_before_light ||
               (fit_kind(other.thing->kind).comes_away && comes_away(*part.thing)) ||
               (part.thing->kind == "boom" && other.thing->kind == "boom"),
           wants.close.value());
    return row;
  };
  for (const Body& other : bodies) {
    if (other.thing->of_mount || other.regions.empty()) continue;
    if (fit_kind(other.thing->kind).rule != FitRule::keep_clear) continue;
    std::vector<FitRow> rows;
    for (const Body& part : bodies) {
      if (!part.thing->of_mount || part.regions.empty() || !matters(*part.thing, *other.thing)) {
        continue;
      }
      rows.push_back(row_of(part, other));
    }
    sort_rows(rows);
    // All that comes too near; else the nearest.
    for (std::size_t i = 0; i < rows.size() && (i == 0 || rows[i].clear != Clear::clear); ++i) {
      out.rows.push_back(rows[i]);
    }
  }
  for (std::size_t i = 0; i < bodies.size(); ++i) {
    for (std::size_t k = i + 1; k < bodies.size(); ++k) {
      const FitThing& a = *bodies[i].thing;
      const FitThing& b = *bodies[k].thing;
      if (!a.of_mount || !b.of_mount || !meet(a, b)) continue;
      if (bodies[i].regions.empty() || bodies[k].regions.empty()) continue;
      const FitRow row = row_of(bodies[i], bodies[k]);
      // Far apart, and nothing to say of it.
      if (row.clear != Clear::clear || row.distance.value() < 0.3) out.rows.push_back(row);
    }
  }
  sort_rows(out.rows);
  return out;
}

}  // namespace thole
