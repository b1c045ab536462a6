#include "report/scene_shapes.hpp"

#include <algorithm>
#include <cmath>

#include <thole/display.hpp>

namespace thole::scene {
namespace {

using svg::Point;

double turn(const Point& a, const Point& b, const Point& c) {
  return (b.x - a.x) * (c.y - a.y) - (b.y - a.y) * (c.x - a.x);
}

bool same(const Point& a, const Point& b) { return a.x == b.x && a.y == b.y; }

// Half plane a x + b y <= c.
struct Half {
  double a, b, c;
  [[nodiscard]] double beyond(const Point& p) const { return a * p.x + b * p.y - c; }
};

std::vector<Half> halves(const Box& b) {
  return {{-1, 0, -b.x}, {1, 0, b.x + b.width}, {0, -1, -b.y}, {0, 1, b.y + b.height}};
}

Point between(const Point& p, const Point& q, double dp, double dq) {
  const double t = dp / (dp - dq);
  return {p.x + t * (q.x - p.x), p.y + t * (q.y - p.y)};
}

std::vector<Point> cut(const std::vector<Point>& polygon, const Half& h) {
  std::vector<Point> out;
  for (std::size_t i = 0; i < polygon.size(); ++i) {
    const Point& p = polygon[i];
    const Point& q = polygon[(i + 1) % polygon.size()];
    const double dp = h.beyond(p);
    const double dq = h.beyond(q);
    if (dp <= 0) out.push_back(p);
    if ((dp < 0 && dq > 0) || (dp > 0 && dq < 0)) out.push_back(between(p, q, dp, dq));
  }
  return out;
}

}  // namespace

std::vector<Point> silhouette(std::vector<Point> points) {
  std::sort(points.begin(), points.end(),
            [](const Point& a, const Point& b) { return a.x != b.x ? a.x < b.x : a.y < b.y; });
  points.erase(std::unique(points.begin(), points.end(), same), points.end());
  if (points.size() < 3) return points;
  std::vector<Point> out;
  const auto walk = [&](auto from, auto to, std::size_t base) {
    for (auto p = from; p != to; ++p) {
      while (out.size() >= base + 2 && turn(out[out.size() - 2], out.back(), *p) <= 0) {
        out.pop_back();
      }
      out.push_back(*p);
    }
    out.pop_back();
  };
  walk(points.begin(), points.end(), 0);
  walk(points.rbegin(), points.rend(), out.size());
  return out;
}

std::vector<Point> clipped(std::vector<Point> polygon, const Box& to) {
  for (const Half& h : halves(to)) polygon = cut(polygon, h);
  return polygon;
}

std::vector<Point> clipped(Point a, Point b, const Box& to) {
  for (const Half& h : halves(to)) {
    const double da = h.beyond(a);
    const double db = h.beyond(b);
    if (da > 0 && db > 0) return {};
    if (da > 0) a = between(a, b, da, db);
    if (db > 0) b = between(a, b, da, db);
  }
  return {a, b};
}

bool within(Point p, const Box& b) {
  return p.x >= b.x && p.x <= b.x + b.width && p.y >= b.y && p.y <= b.y + b.height;
}

ScaleBar metric_bar(double most) {
  double best = 1e-6;
  for (double decade = 1e-6; decade < 1e4; decade *= 10) {
    for (const double step : {1.0, 2.0, 5.0}) {
      if (step * decade <= most * (1 + 1e-9)) best = std::max(best, step * decade);
    }
  }
  if (best >= 1 - 1e-9) return {best, show_number(best) + " m"};
  return {best, show_number(best * 1000) + " mm"};
}

ScaleBar inch_bar(double most) {
  constexpr double inch = 0.0254;
  constexpr double lengths[] = {1.0 / 64, 1.0 / 32, 1.0 / 16, 1.0 / 8, 1.0 / 4, 1.0 / 2,
                                1,        2,        3,        6,       12,      24,
                                36,       60,       120,      240,     600,     1200};
  constexpr const char* words[] = {"1/64 in", "1/32 in", "1/16 in", "1/8 in", "1/4 in", "1/2 in",
                                   "1 in",    "2 in",    "3 in",    "6 in",   "1 ft",   "2 ft",
                                   "3 ft",    "5 ft",    "10 ft",   "20 ft",  "50 ft",  "100 ft"};
  std::size_t best = 0;
  for (std::size_t i = 0; i < std::size(lengths); ++i) {
    if (lengths[i] * inch <= most * (1 + 1e-9)) best = i;
  }
  return {lengths[best] * inch, words[best]};
}

}  // namespace thole::scene
