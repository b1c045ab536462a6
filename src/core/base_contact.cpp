#include <thole/base_contact.hpp>

#include <algorithm>
#include <cmath>

#include <Eigen/Dense>

#include <thole/error.hpp>

namespace thole {
namespace {

using Eigen::Matrix3d;
using Eigen::Vector3d;
using Three = std::array<double, 3>;

// Kernel in SI numbers. Unknowns q = (w, a tx, a ty) with a length a, so that all three are metres:
// u(x, y) = q0 + q1 y/a - q2 x/a.

struct Polygon {
  Polygon() {}  // NOLINT: the arrays stay as they are, only n corners are ever read
  std::array<double, max_outline + 8> x, y;
  int n = 0;
  void push(double px, double py) {
    x[std::size_t(n)] = px;
    y[std::size_t(n)] = py;
    ++n;
  }
};

// The part of the polygon where c0 + cx x + cy y < 0.
Polygon cut(const double* xs, const double* ys, int n, double c0, double cx, double cy) {
  Polygon out;
  for (int i = 0; i < n; ++i) {
    const int a = i;
    const int b = (i + 1) % n;
    const double ua = c0 + cx * xs[a] + cy * ys[a];
    const double ub = c0 + cx * xs[b] + cy * ys[b];
    if (ua < 0) out.push(xs[a], ys[a]);
    if ((ua < 0) != (ub < 0)) {
      const double s = ua / (ua - ub);
      out.push(xs[a] + s * (xs[b] - xs[a]), ys[a] + s * (ys[b] - ys[a]));
    }
  }
  return out;
}

struct Moments {
  double A = 0, Sx = 0, Sy = 0, Sxx = 0, Syy = 0, Sxy = 0;  // integrals of 1, x, y, xx, yy, xy
};

// Sums over the edges of a polygon, once round; `done` makes the integrals of them.
struct EdgeSums {
  Moments sum;
  void edge(double xa, double ya, double xb, double yb) {
    const double c = xa * yb - xb * ya;
    sum.A += c;
    sum.Sx += c * (xa + xb);
    sum.Sy += c * (ya + yb);
    sum.Sxx += c * (xa * xa + xa * xb + xb * xb);
    sum.Syy += c * (ya * ya + ya * yb + yb * yb);
    sum.Sxy += c * (xa * yb + 2 * (xa * ya + xb * yb) + xb * ya);
  }
  [[nodiscard]] Moments done() const {
    return {sum.A * (1.0 / 2),    sum.Sx * (1.0 / 6),   sum.Sy * (1.0 / 6),
            sum.Sxx * (1.0 / 12), sum.Syy * (1.0 / 12), sum.Sxy * (1.0 / 24)};
  }
};

Moments moments_of(const Polygon& p) {
  EdgeSums s;
  if (p.n < 3) return {};
  for (int i = 0; i < p.n; ++i) {
    const auto a = std::size_t(i);
    const auto b = std::size_t((i + 1) % p.n);
    s.edge(p.x[a], p.y[a], p.x[b], p.y[b]);
  }
  return s.done();
}

// Those of the part of a convex polygon where c0 + cx x + cy y < 0, some corners of which are.
Moments moments_below(const double* xs, const double* ys, int n, double c0, double cx, double cy) {
  EdgeSums s;
  const auto level = [&](int i) { return c0 + cx * xs[i] + cy * ys[i]; };
  // The line comes in at one edge and goes out at another.
  double in_x = 0, in_y = 0, out_x = 0, out_y = 0;
  bool crossed = false;
  double ua = level(n - 1);
  int a = n - 1;
  for (int b = 0; b < n; a = b, ++b) {
    const double ub = level(b);
    if (ua < 0 && ub < 0) {
      s.edge(xs[a], ys[a], xs[b], ys[b]);
    } else if ((ua < 0) != (ub < 0)) {
      const double t = ua / (ua - ub);
      const double x = xs[a] + t * (xs[b] - xs[a]);
      const double y = ys[a] + t * (ys[b] - ys[a]);
      crossed = true;
      if (ua < 0) {
        s.edge(xs[a], ys[a], x, y);
        out_x = x;
        out_y = y;
      } else {
        s.edge(x, y, xs[b], ys[b]);
        in_x = x;
        in_y = y;
      }
    }
    ua = ub;
  }
  if (crossed) s.edge(out_x, out_y, in_x, in_y);
  return s.done();
}

// Rows a pushing bed point and a pulling fastener can exert on (N, Mx/a, My/a) of the *load* that
// they balance: the load must be a sum of such rows with factors >= 0.
Vector3d row(double sign, double x, double y, double a) {
  return {sign, sign * y / a, -sign * x / a};
}

double turn_of(const PlanPoint& a, const PlanPoint& b, const PlanPoint& c) {
  return ((b.x - a.x) * (c.y - a.y) - (b.y - a.y) * (c.x - a.x)).value();
}

// Two convex outlines are apart when all of one lies beyond an edge of the other; a hair may
// overlap, as where one outline was cut in two.
bool apart(const Outline& a, const Outline& b) {
  const auto beyond_an_edge = [](const Outline& of, const Outline& other) {
    const double hair = 1e-9 * std::min(area_of(of), area_of(other)).value();
    for (std::size_t i = 0; i < of.size(); ++i) {
      const PlanPoint& from = of[i];
      const PlanPoint& to = of[(i + 1) % of.size()];
      if (from == to) continue;
      if (std::all_of(other.begin(), other.end(),
                      [&](const PlanPoint& p) { return turn_of(from, to, p) <= hair; })) {
        return true;
      }
    }
    return false;
  };
  return beyond_an_edge(a, b) || beyond_an_edge(b, a);
}

// The corners of the smallest convex outline round all points, once round.
std::vector<PlanPoint> hull_of(std::vector<PlanPoint> points) {
  std::sort(points.begin(), points.end(), [](const PlanPoint& a, const PlanPoint& b) {
    return a.x < b.x || (a.x == b.x && a.y < b.y);
  });
  std::vector<PlanPoint> out;
  for (int side = 0; side < 2; ++side) {
    const std::size_t start = out.size();
    for (const PlanPoint& p : points) {
      while (out.size() >= start + 2 && turn_of(out[out.size() - 2], out[out.size() - 1], p) <= 0) {
        out.pop_back();
      }
      out.push_back(p);
    }
    out.pop_back();
    std::reverse(points.begin(), points.end());
  }
  return out;
}

}  // namespace

Area area_of(const Outline& o) {
  double twice = 0;
  for (std::size_t i = 0; i < o.size(); ++i) {
    const PlanPoint& a = o[i];
    const PlanPoint& b = o[(i + 1) % o.size()];
    twice += a.x.value() * b.y.value() - b.x.value() * a.y.value();
  }
  return 0.5 * twice * si::square_metre;
}

bool is_convex(const Outline& o) {
  if (o.size() < 3) return false;
  const double size = std::abs(area_of(o).value());
  double turn = 0;
  for (std::size_t i = 0; i < o.size(); ++i) {
    const PlanPoint& a = o[i];
    const PlanPoint& b = o[(i + 1) % o.size()];
    const PlanPoint& c = o[(i + 2) % o.size()];
    const double x1 = (b.x - a.x).value();
    const double y1 = (b.y - a.y).value();
    const double x2 = (c.x - b.x).value();
    const double y2 = (c.y - b.y).value();
    const double z = x1 * y2 - y1 * x2;
    if (z < -1e-9 * size) return false;
    turn += std::atan2(z, x1 * x2 + y1 * y2);
  }
  return size > 0 && std::abs(turn - 2 * std::numbers::pi) < 1e-6;  // once round, not a star
}

Outline clip_to(const Outline& outline, PlanPoint low, PlanPoint high) {
  const bool inside = std::all_of(outline.begin(), outline.end(), [&](const PlanPoint& p) {
    return p.x > low.x && p.x < high.x && p.y > low.y && p.y < high.y;
  });
  if (inside && outline.size() >= 3 && outline.size() <= max_outline) return outline;
  std::vector<double> x;
  std::vector<double> y;
  for (const PlanPoint& p : outline) {
    x.push_back(p.x.value());
    y.push_back(p.y.value());
  }
  const std::array<std::array<double, 3>, 4> half_planes{{{low.x.value(), -1, 0},
                                                          {-high.x.value(), 1, 0},
                                                          {low.y.value(), 0, -1},
                                                          {-high.y.value(), 0, 1}}};
  for (const auto& h : half_planes) {
    if (x.size() > max_outline) throw DomainError("an outline may have at most 56 corners");
    const Polygon p = cut(x.data(), y.data(), int(x.size()), h[0], h[1], h[2]);
    x.assign(p.x.begin(), p.x.begin() + p.n);
    y.assign(p.y.begin(), p.y.begin() + p.n);
  }
  Outline out;
  for (std::size_t i = 0; i < x.size(); ++i) out.push_back({x[i] * si::metre, y[i] * si::metre});
  if (out.size() < 3) out.clear();
  return out;
}

BaseContact::BaseContact(const Outline& bed, BedStiffness bed_stiffness,
                         const std::vector<PlanPoint>& fasteners,
                         LinearStiffness fastener_stiffness)
    : BaseContact(std::vector<Outline>{bed}, bed_stiffness, fasteners,
                  std::vector<LinearStiffness>(fasteners.size(), fastener_stiffness)) {
  if (!(fastener_stiffness.value() > 0)) {
    throw DomainError("contact stiffnesses must be above zero");
  }
}

BaseContact::BaseContact(const std::vector<Outline>& beds, BedStiffness bed_stiffness,
                         const std::vector<PlanPoint>& fasteners,
                         const std::vector<LinearStiffness>& stiffness) {
  if (fasteners.size() > max_fasteners) throw DomainError("at most 24 fasteners");
  if (stiffness.size() != fasteners.size()) {
    throw DomainError("every fastener needs its own stiffness");
  }
  if (!(bed_stiffness.value() > 0) ||
      !std::all_of(stiffness.begin(), stiffness.end(),
                   [](LinearStiffness k) { return k.value() > 0; })) {
    throw DomainError("contact stiffnesses must be above zero");
  }
  double far = 0;
  const auto reach = [&](const PlanPoint& p) {
    far = std::max({far, std::abs(p.x.value()), std::abs(p.y.value())});
  };
  std::vector<const Outline*> taken;
  for (const Outline& bed : beds) {
    if (bed.empty()) continue;
    if (!is_convex(bed)) {
      throw DomainError("the contact outline must be convex and counter-clockwise");
    }
    if (bed.size() > max_outline) throw DomainError("an outline may have at most 56 corners");
    if (taken.size() == max_patches) throw DomainError("a bed may have at most 6 patches");
    for (const Outline* other : taken) {
      if (!apart(bed, *other)) throw DomainError("the patches of a bed must not overlap");
    }
    taken.push_back(&bed);
    for (const PlanPoint& p : bed) reach(p);
  }
  for (const PlanPoint& p : fasteners) reach(p);
  if (!(far > 0)) throw DomainError("a base needs a contact outline or fasteners");
  k_.length = far;
  k_.kf = bed_stiffness.value();
  for (const Outline* bed : taken) {
    Patch& patch = k_.patch[std::size_t(k_.patches++)];
    patch.first = k_.corners;
    patch.count = int(bed->size());
    k_.area += area_of(*bed).value();
    Polygon all;
    for (const PlanPoint& p : *bed) {
      const auto c = std::size_t(k_.corners++);
      k_.x[c] = p.x.value();
      k_.y[c] = p.y.value();
      k_.sx[c] = k_.x[c] / far;
      k_.sy[c] = k_.y[c] / far;
      all.push(k_.sx[c], k_.sy[c]);
    }
    const Moments m = moments_of(all);
    patch.whole = {m.A, m.Sx, m.Sy, m.Sxx, m.Syy, m.Sxy};
  }
  double pull = 0;
  for (std::size_t i = 0; i < fasteners.size(); ++i) {
    k_.bx[i] = fasteners[i].x.value();
    k_.by[i] = fasteners[i].y.value();
    k_.kb[i] = stiffness[i].value();
    pull += k_.kb[i];
  }
  k_.bolts = int(fasteners.size());
  k_.stiff = pull + k_.kf * k_.area;
}

bool BaseContact::can_balance(double n, double mx, double my, std::string* motion) const {
  // The load is balanced exactly when it lies in the cone of the rows. By Caratheodory three rows
  // suffice; the cone of the bed is spanned by its outermost corners.
  std::vector<Vector3d> rows;
  std::vector<PlanPoint> corners;
  for (int i = 0; i < k_.corners; ++i) {
    corners.push_back({k_.x[std::size_t(i)] * si::metre, k_.y[std::size_t(i)] * si::metre});
  }
  if (k_.patches > 1) corners = hull_of(std::move(corners));
  for (const PlanPoint& p : corners) {
    rows.push_back(row(-1, p.x.value(), p.y.value(), k_.length));
  }
  for (int i = 0; i < k_.bolts; ++i) {
    rows.push_back(row(1, k_.bx[std::size_t(i)], k_.by[std::size_t(i)], k_.length));
  }
  const Vector3d load = Vector3d(n, mx / k_.length, my / k_.length);
  const double size = load.norm();
  constexpr double tolerance = 1e-10;
  const auto holds = [&](const Vector3d& sum) { return (sum - load).norm() <= tolerance * size; };
  for (std::size_t i = 0; i < rows.size(); ++i) {
    const double one = rows[i].dot(load) / rows[i].squaredNorm();
    if (one >= 0 && holds(one * rows[i])) return true;
    for (std::size_t j = i + 1; j < rows.size(); ++j) {
      Eigen::Matrix<double, 3, 2> two;
      two << rows[i], rows[j];
      const Eigen::Vector2d s = two.colPivHouseholderQr().solve(load);
      if (s.minCoeff() >= -tolerance * size && holds(two * s)) return true;
      for (std::size_t k = j + 1; k < rows.size(); ++k) {
        Matrix3d three;
        three << rows[i], rows[j], rows[k];
        if (std::abs(three.determinant()) < 1e-12) continue;
        const Vector3d t = three.fullPivLu().solve(load);
        if (t.minCoeff() >= -tolerance * size && holds(three * t)) return true;
      }
    }
  }
  if (motion != nullptr) {
    // A motion q that no contact resists (u >= 0 on the bed, u <= 0 at the fasteners) and on which
    // the load works. Its line of no lift passes through two contacts: try all pairs.
    double best = 0;
    Vector3d q = Vector3d::Zero();
    const auto try_motion = [&](const Vector3d& m) {
      const double work = m.dot(load);
      if (!(work > best * (1 + 1e-12))) return;
      // A row (1, y/a, -x/a) gives u; a bed row is its negative. Free when row . m <= 0 for all.
      for (const Vector3d& r : rows) {
        if (r.dot(m) > 1e-9) return;
      }
      best = work;
      q = m;
    };
    try_motion(Vector3d(1, 0, 0));
    for (std::size_t i = 0; i < rows.size(); ++i) {
      for (std::size_t j = i + 1; j < rows.size(); ++j) {
        const Vector3d m = rows[i].cross(rows[j]);
        if (m.norm() < 1e-9) continue;
        try_motion(m.normalized());
        try_motion(-m.normalized());
      }
    }
    if (best <= 0) {
      *motion = "the base moves freely";
    } else if (std::hypot(q.y(), q.z()) < 1e-6 * std::abs(q.x())) {
      *motion = "the base lifts straight off: nothing holds it down";
    } else {
      // u grows along (-q2, q1): the base rises on that side and tips about the opposite edge.
      const double fore = -q.z();
      const double out = q.y();
      const bool about_athwart = std::abs(fore) > std::abs(out);
      const char* edge =
          about_athwart ? (fore > 0 ? "aft" : "forward") : (out > 0 ? "inboard" : "outboard");
      *motion = std::string("the base tips about its ") + edge +
                " edge: no fastener holds the other side down";
    }
  }
  return false;
}

// Gradient and second derivatives of the potential at one position.
struct BaseContact::Tangent {
  std::array<double, 3> g{};
  std::array<double, 6> h{};  // 00, 01, 02, 11, 12, 22
  double push = 0;            // of the bed
  double pressed = 0;         // area of it, scaled

  void add(double k, double r1, double r2, double u) {
    g[0] += k * u;
    g[1] += k * u * r1;
    g[2] += k * u * r2;
    h[0] += k;
    h[1] += k * r1;
    h[2] += k * r2;
    h[3] += k * r1 * r1;
    h[4] += k * r1 * r2;
    h[5] += k * r2 * r2;
  }
  [[nodiscard]] double error() const { return std::sqrt(g[0] * g[0] + g[1] * g[1] + g[2] * g[2]); }
  [[nodiscard]] double along(const Three& s) const {
    return g[0] * s[0] + g[1] * s[1] + g[2] * s[2];
  }
};

namespace {

// (h + shift) x = -g for a symmetric positive matrix.
Three newton_step(const std::array<double, 6>& h, double shift, const Three& g) {
  const double d0 = h[0] + shift;
  const double l10 = h[1] / d0;
  const double l20 = h[2] / d0;
  const double d1 = h[3] + shift - l10 * h[1];
  const double e = h[4] - l20 * h[1];
  const double l21 = e / d1;
  const double d2 = h[5] + shift - l20 * h[2] - l21 * e;
  const double y0 = -g[0];
  const double y1 = -g[1] - l10 * y0;
  const double y2 = -g[2] - l20 * y0 - l21 * y1;
  Three x;
  x[2] = y2 / d2;
  x[1] = y1 / d1 - l21 * x[2];
  x[0] = y0 / d0 - l10 * x[1] - l20 * x[2];
  return x;
}

}  // namespace

void BaseContact::evaluate(const Three& q, const Three& load, Tangent& out) const {
  out.g = {-load[0], -load[1], -load[2]};
  out.h = {};
  out.push = 0;
  out.pressed = 0;
  const double a = k_.length;
  const double per_length = 1 / a;
  for (int i = 0; i < k_.bolts; ++i) {
    const double r1 = k_.by[std::size_t(i)] * per_length;
    const double r2 = -k_.bx[std::size_t(i)] * per_length;
    const double u = q[0] + r1 * q[1] + r2 * q[2];
    if (u > 0) out.add(k_.kb[std::size_t(i)], r1, r2, u);
  }
  const double k = k_.kf * a * a;
  for (int i = 0; i < k_.patches; ++i) {
    const Patch& patch = k_.patch[std::size_t(i)];
    const double* xs = k_.sx.data() + patch.first;
    const double* ys = k_.sy.data() + patch.first;
    int below = 0;
    for (int c = 0; c < patch.count; ++c) {
      if (q[0] + q[1] * ys[c] - q[2] * xs[c] < 0) ++below;
    }
    if (below == 0) continue;
    Moments m;
    if (below == patch.count) {
      const auto& w = patch.whole;
      m = {w[0], w[1], w[2], w[3], w[4], w[5]};
    } else {
      m = moments_below(xs, ys, patch.count, q[0], -q[2], q[1]);
      if (m.A <= 0) continue;
    }
    const std::array<double, 6> bed{k * m.A, k * m.Sy, -k * m.Sx, k * m.Syy, -k * m.Sxy, k * m.Sxx};
    const double pull = bed[0] * q[0] + bed[1] * q[1] + bed[2] * q[2];
    out.push -= pull;
    out.pressed += m.A;
    out.g[0] += pull;
    out.g[1] += bed[1] * q[0] + bed[3] * q[1] + bed[4] * q[2];
    out.g[2] += bed[2] * q[0] + bed[4] * q[1] + bed[5] * q[2];
    for (std::size_t h = 0; h < 6; ++h) out.h[h] += bed[h];
  }
}

// Newton's method from q. `at` belongs to the q that is left.
bool BaseContact::minimise(const Three& load, Three& q, Tangent& at, bool& runs_away) const {
  constexpr double wanted = 1e-13;
  constexpr int rounds = 400;
  const double stiff = k_.stiff;
  const auto norm = [](const Three& v) {
    return std::sqrt(v[0] * v[0] + v[1] * v[1] + v[2] * v[2]);
  };
  const auto moved = [&](const Three& step, double s) {
    return Three{q[0] + s * step[0], q[1] + s * step[1], q[2] + s * step[2]};
  };
  runs_away = false;
  evaluate(q, load, at);
  Tangent next;
  for (int round = 0; round < rounds; ++round) {
    const double error = at.error();
    if (error <= wanted) return true;
    if (norm(q) * stiff > 1e8) {  // runs away: a mechanism, or so near that no number helps
      runs_away = true;
      return false;
    }
    const Three step = newton_step(at.h, 1e-12 * stiff, at.g);
    // Exact line search on the convex potential: the slope along the step is monotone.
    double evaluated = 0;
    const auto slope = [&](double s) {
      evaluated = s;
      evaluate(moved(step, s), load, next);
      return next.along(step);
    };
    const double at_zero = at.along(step);
    if (!(at_zero < 0)) return error <= 1e-11;  // no descent left: rounding floor
    double s = 1;
    double f = slope(1);
    if (std::abs(f) > 0.1 * std::abs(at_zero)) {
      double low = 0;
      double high = 1;
      double f_low = at_zero;
      double f_high = f;
      while (f_high < 0 && high < 1e12) {
        low = high;
        f_low = f_high;
        high *= 4;
        f_high = slope(high);
      }
      for (int i = 0; i < 60 && f_high > 0; ++i) {
        s = low - f_low * (high - low) / (f_high - f_low);
        const double inside = (high - low) * 1e-3;
        s = std::clamp(s, low + inside, high - inside);
        f = slope(s);
        if (std::abs(f) <= 1e-3 * std::abs(at_zero)) break;
        if (f < 0) {
          low = s;
          f_low = f;
        } else {
          high = s;
          f_high = f;
        }
      }
      if (f_high <= 0) s = high;
      if (s != evaluated) (void)slope(s);
    }
    const double change = std::abs(s) * norm(step);
    if (change <= 1e-16 * norm(q)) return error <= 1e-11;
    q = moved(step, s);
    at = next;
  }
  return false;
}

ContactResult BaseContact::solve(Force up, Moment mx, Moment my) const {
  ContactStart start;
  ContactResult result;
  solve(up, mx, my, start, result);
  return result;
}

void BaseContact::solve(Force up, Moment mx_in, Moment my_in, ContactStart& start,
                        ContactResult& result) const {
  result = {};
  result.count = k_.bolts;
  const double a = k_.length;
  Three load{up.value(), mx_in.value() / a, my_in.value() / a};
  const double size = std::sqrt(load[0] * load[0] + load[1] * load[1] + load[2] * load[2]);
  if (!std::isfinite(size)) throw DomainError("the load on a base must be finite");
  if (size == 0) return;
  for (double& l : load) l /= size;  // the answer is homogeneous: solve for a load of size one

  Tangent at;
  Three q{};
  bool runs_away = false;
  bool reached = false;
  if (start.known) {
    q = start.position;
    reached = minimise(load, q, at, runs_away);
  }
  if (!reached) {
    // Start from everything in contact and all fasteners pulling: a plain linear solution.
    Tangent all;
    for (int i = 0; i < k_.bolts; ++i) {
      const auto b = std::size_t(i);
      all.add(k_.kb[b], k_.by[b] / a, -k_.bx[b] / a, 0);
    }
    const double k = k_.kf * a * a;
    for (int i = 0; i < k_.patches; ++i) {
      const auto& w = k_.patch[std::size_t(i)].whole;
      const std::array<double, 6> bed{k * w[0], k * w[2], -k * w[1], k * w[4], -k * w[5], k * w[3]};
      for (std::size_t h = 0; h < 6; ++h) all.h[h] += bed[h];
    }
    q = newton_step(all.h, 1e-9 * (all.h[0] + all.h[3] + all.h[5]), {-load[0], -load[1], -load[2]});
    reached = minimise(load, q, at, runs_away);
  }
  start.known = reached;
  start.position = q;

  if (!reached) {
    if (!can_balance(load[0], load[1] * a, load[2] * a, &result.motion)) {
      result.balance = Balance::mechanism;
      return;
    }
    // Rounding leaves an error in proportion to how far the forces outgrow the load.
    const double outgrown =
        std::max(1.0, std::sqrt(q[0] * q[0] + q[1] * q[1] + q[2] * q[2]) * k_.stiff);
    const double error = at.error();
    if (runs_away || (error > 1e-8 && error <= 1e-13 * outgrown)) {
      result.balance = Balance::mechanism;
      result.motion = "the base is held by a hair only: a small change tips it";
      return;
    }
    if (error > 1e-8) {
      throw InternalError("base contact: a balance exists but was not reached");
    }
  }

  for (double& v : q) v *= size;
  for (int i = 0; i < k_.bolts; ++i) {
    const auto b = std::size_t(i);
    const double u = q[0] + q[1] * k_.by[b] / a - q[2] * k_.bx[b] / a;
    result.tension[b] = k_.kb[b] * std::max(0.0, u) * si::newton;
  }
  const auto lift_at = [&](double x, double y) { return q[0] + q[1] / a * y - q[2] / a * x; };
  if (k_.patches > 0) {
    result.bed_force = size * at.push * si::newton;
    result.contact_fraction = at.pressed * a * a / k_.area;
    double deepest = 0;
    for (int i = 0; i < k_.corners; ++i) {
      const auto c = std::size_t(i);
      const double u = lift_at(k_.x[c], k_.y[c]);
      if (u < deepest) {
        deepest = u;
        result.pressed_corner = {k_.x[c] * si::metre, k_.y[c] * si::metre};
      }
    }
    result.highest_pressure = -k_.kf * deepest * si::pascal;
  }
  result.lift = q[0] * si::metre;
  result.tilt_x = q[1] / a * si::radian;
  result.tilt_y = q[2] / a * si::radian;
}

Moment BaseContact::moment_beyond(const ContactResult& r, double nx, double ny,
                                  Length distance) const {
  const double d = distance.value();
  double moment = 0;  // pulls down are positive
  for (int i = 0; i < k_.bolts; ++i) {
    const auto b = std::size_t(i);
    const double beyond = nx * k_.bx[b] + ny * k_.by[b] - d;
    if (beyond > 0) moment += r.tension[b].value() * beyond;
  }
  const double w = r.lift.value();
  const double tx = r.tilt_x.value();
  const double ty = r.tilt_y.value();
  for (int i = 0; i < k_.patches; ++i) {
    const Patch& patch = k_.patch[std::size_t(i)];
    const Polygon part =
        cut(k_.x.data() + patch.first, k_.y.data() + patch.first, patch.count, d, -nx, -ny);
    if (part.n < 3) continue;
    const Moments m = moments_below(part.x.data(), part.y.data(), part.n, w, -ty, tx);
    // pressure p = -kf u; its moment about the line is the integral of p (n.r - d)
    const double force = -k_.kf * (w * m.A + tx * m.Sy - ty * m.Sx);
    const double first_x = -k_.kf * (w * m.Sx + tx * m.Sxy - ty * m.Sxx);
    const double first_y = -k_.kf * (w * m.Sy + tx * m.Syy - ty * m.Sxy);
    moment -= nx * first_x + ny * first_y - d * force;
  }
  return moment * si::newton * si::metre;
}

}  // namespace thole
