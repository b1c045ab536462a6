#include "report/scene_labels.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>

namespace thole::scene {
namespace {

constexpr double gap = 2;  // between two texts
constexpr double never = std::numeric_limits<double>::infinity();

svg::Point nearest_on(const Box& b, svg::Point p) {
  return {std::clamp(p.x, b.x, b.x + b.width), std::clamp(p.y, b.y, b.y + b.height)};
}

bool meet(svg::Point a, svg::Point b, svg::Point c, svg::Point d) {
  const auto turn = [](svg::Point p, svg::Point q, svg::Point r) {
    return (q.x - p.x) * (r.y - p.y) - (q.y - p.y) * (r.x - p.x);
  };
  return turn(a, b, c) * turn(a, b, d) < 0 && turn(c, d, a) * turn(c, d, b) < 0;
}

// Whether a line passes through the inside of a box.
bool crosses(const Box& b, svg::Point from, svg::Point to) {
  double enters = 0;
  double leaves = 1;
  const auto cut = [&](double start, double way, double low, double high) {
    if (way == 0) {
      if (start <= low || start >= high) leaves = -1;
      return;
    }
    const double one = (low - start) / way;
    const double two = (high - start) / way;
    enters = std::max(enters, std::min(one, two));
    leaves = std::min(leaves, std::max(one, two));
  };
  cut(from.x, to.x - from.x, b.x, b.x + b.width);
  cut(from.y, to.y - from.y, b.y, b.y + b.height);
  return enters < leaves;
}

}  // namespace

bool overlap(const Box& a, const Box& b) {
  return a.x < b.x + b.width && b.x < a.x + a.width && a.y < b.y + b.height && b.y < a.y + a.height;
}

double width_of(const std::string& text, bool bold) {
  // Hundredths of the size, from the space to the tilde: DejaVu Sans 2.37, which is wide.
  constexpr int widths[] = {32,  41, 46, 84, 64, 96, 78, 28, 40, 40, 50, 84, 32, 37, 32, 34,
                            64,  64, 64, 64, 64, 64, 64, 64, 64, 64, 34, 34, 84, 84, 84, 54,
                            100, 69, 69, 70, 77, 64, 58, 78, 76, 30, 30, 66, 56, 87, 75, 79,
                            61,  79, 70, 64, 62, 74, 69, 99, 69, 62, 69, 40, 34, 40, 84, 50,
                            50,  62, 64, 55, 64, 62, 36, 64, 64, 28, 28, 58, 28, 98, 64, 62,
                            64,  64, 42, 53, 40, 64, 60, 82, 60, 60, 53, 64, 34, 64, 84};
  // Beyond ASCII each byte counts: wide scripts have three. One that is out of place is drawn as a
  // character of three.
  constexpr int other = 60;
  const auto byte = [&](std::size_t i) {
    return i < text.size() ? unsigned(static_cast<unsigned char>(text[i])) : 0U;
  };
  const auto follows = [&](std::size_t i) { return (byte(i) & 0xc0U) == 0x80U; };
  int sum = 0;
  for (std::size_t i = 0; i < text.size(); ++i) {
    const unsigned u = byte(i);
    if (u < 0x7f) {
      sum += u >= 0x20 ? widths[u - 0x20] : 0;
      continue;
    }
    sum += u >= 0xc0 && follows(i + 1) ? other : 3 * other;
    while (u >= 0xc0 && follows(i + 1)) {
      sum += other;
      ++i;
    }
  }
  return 0.01 * sum * text_size * (bold ? 1.14 : 1) + 2;
}

Placer::Placer(const Box& room)
    : room_(room),
      columns_(int(room.width / cell) + 1),
      rows_(int(room.height / cell) + 1),
      ink_(std::size_t(columns_) * std::size_t(rows_), 0.0F) {}

void Placer::ink(svg::Point a, svg::Point b, double weight) {
  sums_.clear();
  const double length = std::hypot(b.x - a.x, b.y - a.y);
  const int steps = std::clamp(int(length / cell * 1.5), 1, 2000);
  for (int i = 0; i <= steps; ++i) {
    const double t = double(i) / steps;
    const int c = int(std::floor((a.x + t * (b.x - a.x) - room_.x) / cell));
    const int r = int(std::floor((a.y + t * (b.y - a.y) - room_.y) / cell));
    if (c < 0 || r < 0 || c >= columns_ || r >= rows_) continue;
    float& at = ink_[std::size_t(r) * std::size_t(columns_) + std::size_t(c)];
    at = std::max(at, float(weight));
  }
}

// Sums over all cells up and to the left, a row and a column of zeros before them.
void Placer::sum_up() {
  const auto wide = std::size_t(columns_) + 1;
  sums_.assign(wide * (std::size_t(rows_) + 1), 0);
  for (std::size_t r = 1; r <= std::size_t(rows_); ++r) {
    double line = 0;
    for (std::size_t c = 1; c < wide; ++c) {
      line += double(ink_[(r - 1) * (wide - 1) + c - 1]);
      sums_[r * wide + c] = sums_[(r - 1) * wide + c] + line;
    }
  }
}

double Placer::ink_under(const Box& box) const {
  const auto cell_of = [](double v, int most) {
    return std::size_t(std::clamp(int(std::floor(v / cell)), 0, most));
  };
  const std::size_t c0 = cell_of(box.x - room_.x, columns_ - 1);
  const std::size_t r0 = cell_of(box.y - room_.y, rows_ - 1);
  const std::size_t c1 = cell_of(box.x + box.width - room_.x, columns_ - 1) + 1;
  const std::size_t r1 = cell_of(box.y + box.height - room_.y, rows_ - 1) + 1;
  const auto wide = std::size_t(columns_) + 1;
  return sums_[r1 * wide + c1] - sums_[r0 * wide + c1] - sums_[r1 * wide + c0] +
         sums_[r0 * wide + c0];
}

double Placer::ink_along(svg::Point a, svg::Point b) const {
  const double length = std::hypot(b.x - a.x, b.y - a.y);
  const int steps = std::max(1, int(length / cell));
  double sum = 0;
  for (int i = 0; i <= steps; ++i) {
    const double t = double(i) / steps;
    sum += ink_under({a.x + t * (b.x - a.x), a.y + t * (b.y - a.y), 0, 0});
  }
  return sum;
}

// Nothing is added up that cannot be less than `least`.
double Placer::cost(const Box& box, svg::Point anchor, svg::Point leader, double least) const {
  if (box.x < room_.x || box.y < room_.y || box.x + box.width > room_.x + room_.width ||
      box.y + box.height > room_.y + room_.height) {
    return never;
  }
  double sum = std::hypot(leader.x - anchor.x, leader.y - anchor.y);
  if (sum >= least) return never;
  const Box wide{box.x - gap, box.y - gap, box.width + 2 * gap, box.height + 2 * gap};
  for (const Box& t : taken_) {
    if (overlap(wide, t) || crosses(t, anchor, leader)) return never;
  }
  for (const auto& [from, to] : leaders_) {
    if (crosses(wide, from, to)) sum += 200;
    if (meet(anchor, leader, from, to)) sum += 80;
  }
  if (sum >= least) return never;
  return sum + 3.5 * ink_under(box) + 0.8 * ink_along(anchor, leader);
}

Placer::Place Placer::place(const std::vector<svg::Point>& anchors, double width, double height,
                            double nearest, double dearest) {
  Place best;
  double least = dearest;
  if (sums_.empty()) sum_up();
  const auto look_round = [&](svg::Point anchor, double far, double angle) {
    const double dx = std::cos(angle);
    const double dy = std::sin(angle);
    const Box box{anchor.x + dx * (nearest + far + 0.5 * width) - 0.5 * width,
                  anchor.y + dy * (nearest + far + 0.5 * height) - 0.5 * height, width, height};
    const svg::Point leader = nearest_on(box, anchor);
    if (std::hypot(leader.x - anchor.x, leader.y - anchor.y) < 0.6 * nearest) return;
    const double now = cost(box, anchor, leader, least);
    if (now >= least) return;
    least = now;
    best = {box, leader, anchor, 0, true};
  };
  for (const svg::Point& anchor : anchors) {
    for (const double far : {0.0, 6.0, 14.0, 24.0, 36.0, 50.0, 68.0, 90.0, 120.0, 160.0, 210.0}) {
      for (int i = 0; i < 32; ++i) look_round(anchor, far, 2 * std::numbers::pi * i / 32);
    }
  }
  if (!best.found) return best;
  best.covered = ink_under(best.box);
  taken_.push_back(best.box);
  leaders_.emplace_back(best.anchor, best.leader);
  return best;
}

}  // namespace thole::scene
