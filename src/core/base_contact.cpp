#include <thole/base_contact.hpp>

#include <algorithm>
#include <cmath>

#include <Eigen/Dense>

#include <thole/error.hpp>

namespace thole {
namespace {

using Eigen::Matrix3d;
using Eigen::Vector3d;

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
template <class Xs, class Ys>
Polygon cut(const Xs& xs, const Ys& ys, int n, double c0, double cx, double cy) {
  Polygon out;
  for (int i = 0; i < n; ++i) {
    const auto a = std::size_t(i);
    const auto b = std::size_t((i + 1) % n);
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

Moments moments_of(const Polygon& p) {
  Moments m;
  if (p.n < 3) return m;
  for (int i = 0; i < p.n; ++i) {
    const auto a = std::size_t(i);
    const auto b = std::size_t((i + 1) % p.n);
    const double xa = p.x[a];
    const double ya = p.y[a];
    const double xb = p.x[b];
    const double yb = p.y[b];
    const double c = xa * yb - xb * ya;
    m.A += c / 2;
    m.Sx += c * (xa + xb) / 6;
    m.Sy += c * (ya + yb) / 6;
    m.Sxx += c * (xa * xa + xa * xb + xb * xb) / 12;
    m.Syy += c * (ya * ya + ya * yb + yb * yb) / 12;
    m.Sxy += c * (xa * yb + 2 * xa * ya + 2 * xb * yb + xb * ya) / 24;
  }
  return m;
}

// Rows a pushing bed point and a pulling fastener can exert on (N, Mx/a, My/a) of the *load* that
// they balance: the load must be a sum of such rows with factors >= 0.
Vector3d row(double sign, double x, double y, double a) {
  return {sign, sign * y / a, -sign * x / a};
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
    const Polygon p = cut(x, y, int(x.size()), h[0], h[1], h[2]);
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
                         LinearStiffness fastener_stiffness) {
  if (!bed.empty() && !is_convex(bed)) {
    throw DomainError("the contact outline must be convex and counter-clockwise");
  }
  if (bed.size() > max_outline) throw DomainError("an outline may have at most 56 corners");
  if (fasteners.size() > max_fasteners) throw DomainError("at most 24 fasteners");
  if (!(bed_stiffness.value() > 0) || !(fastener_stiffness.value() > 0)) {
    throw DomainError("contact stiffnesses must be above zero");
  }
  double far = 0;
  for (const PlanPoint& p : bed) {
    k_.x[std::size_t(k_.corners)] = p.x.value();
    k_.y[std::size_t(k_.corners)] = p.y.value();
    ++k_.corners;
    far = std::max({far, std::abs(p.x.value()), std::abs(p.y.value())});
  }
  for (const PlanPoint& p : fasteners) {
    k_.bx[std::size_t(k_.bolts)] = p.x.value();
    k_.by[std::size_t(k_.bolts)] = p.y.value();
    ++k_.bolts;
    far = std::max({far, std::abs(p.x.value()), std::abs(p.y.value())});
  }
  if (!(far > 0)) throw DomainError("a base needs a contact outline or fasteners");
  k_.length = far;
  k_.kf = bed_stiffness.value();
  k_.kb = fastener_stiffness.value();
  k_.area = bed.empty() ? 0 : area_of(bed).value();
}

bool BaseContact::can_balance(double n, double mx, double my, std::string* motion) const {
  // The load is balanced exactly when it lies in the cone of the rows. By Caratheodory three rows
  // suffice; the cone of the bed is spanned by its corners.
  std::vector<Vector3d> rows;
  for (int i = 0; i < k_.corners; ++i) {
    rows.push_back(row(-1, k_.x[std::size_t(i)], k_.y[std::size_t(i)], k_.length));
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

ContactResult BaseContact::solve(Force up, Moment mx_in, Moment my_in) const {
  ContactResult result;
  result.count = k_.bolts;
  const double a = k_.length;
  Vector3d load(up.value(), mx_in.value() / a, my_in.value() / a);
  if (!load.allFinite()) throw DomainError("the load on a base must be finite");
  const double size = load.norm();
  if (size == 0) return result;
  load /= size;  // the answer is homogeneous: solve for a load of size one

  Vector3d gradient;
  Matrix3d hessian;
  const auto evaluate = [&](const Vector3d& q, bool with_hessian) {
    gradient = -load;
    if (with_hessian) hessian.setZero();
    for (int i = 0; i < k_.bolts; ++i) {
      const Vector3d r = row(1, k_.bx[std::size_t(i)], k_.by[std::size_t(i)], a);
      const double u = r.dot(q);
      if (u <= 0) continue;
      gradient += k_.kb * u * r;
      if (with_hessian) hessian += k_.kb * r * r.transpose();
    }
    if (k_.corners == 0) return;
    const Polygon wet = cut(k_.x, k_.y, k_.corners, q.x(), -q.z() / a, q.y() / a);
    const Moments m = moments_of(wet);
    if (m.A <= 0) return;
    Matrix3d bed;                                     // integral of (1, y/a, -x/a) (1, y/a, -x/a)^T
    bed << m.A, m.Sy / a, -m.Sx / a,                  //
        m.Sy / a, m.Syy / (a * a), -m.Sxy / (a * a),  //
        -m.Sx / a, -m.Sxy / (a * a), m.Sxx / (a * a);
    bed *= k_.kf;
    gradient += bed * q;
    if (with_hessian) hessian += bed;
  };

  // Start from everything in contact and all fasteners pulling: a plain linear solution.
  Vector3d q = Vector3d::Zero();
  {
    Matrix3d all = Matrix3d::Zero();
    for (int i = 0; i < k_.bolts; ++i) {
      const Vector3d r = row(1, k_.bx[std::size_t(i)], k_.by[std::size_t(i)], a);
      all += k_.kb * r * r.transpose();
    }
    if (k_.corners > 0) {
      Polygon full;
      for (int i = 0; i < k_.corners; ++i) full.push(k_.x[std::size_t(i)], k_.y[std::size_t(i)]);
      const Moments m = moments_of(full);
      Matrix3d bed;
      bed << m.A, m.Sy / a, -m.Sx / a,                  //
          m.Sy / a, m.Syy / (a * a), -m.Sxy / (a * a),  //
          -m.Sx / a, -m.Sxy / (a * a), m.Sxx / (a * a);
      all += k_.kf * bed;
    }
    all += 1e-9 * all.trace() * Matrix3d::Identity();
    q = all.ldlt().solve(load);
  }

  constexpr double wanted = 1e-13;
  constexpr int rounds = 400;
  bool reached = false;
  bool runs_away = false;
  const double stiff = k_.kb * std::max(k_.bolts, 1) + k_.kf * k_.area;
  for (int round = 0; round < rounds; ++round) {
    evaluate(q, true);
    const double error = gradient.norm();
    if (error <= wanted) {
      reached = true;
      break;
    }
    if (q.norm() * stiff > 1e8) {  // runs away: a mechanism, or so near that no number helps
      runs_away = true;
      break;
    }
    Matrix3d h = hessian;
    h += 1e-12 * stiff * Matrix3d::Identity();
    const Vector3d step = -h.ldlt().solve(gradient);
    // Exact line search on the convex potential: the slope along the step is monotone.
    const auto slope = [&](double s) {
      evaluate(q + s * step, false);
      return gradient.dot(step);
    };
    const double at_zero = gradient.dot(step);
    if (!(at_zero < 0)) {
      reached = error <= 1e-11;  // no descent left: rounding floor
      break;
    }
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
    }
    const Vector3d next = q + s * step;
    if ((next - q).norm() <= 1e-16 * q.norm()) {
      reached = error <= 1e-11;
      break;
    }
    q = next;
  }

  if (!reached) {
    if (!can_balance(load.x(), load.y() * a, load.z() * a, &result.motion)) {
      result.balance = Balance::mechanism;
      return result;
    }
    // Rounding leaves an error in proportion to how far the forces outgrow the load.
    const double outgrown = std::max(1.0, q.norm() * stiff);
    evaluate(q, false);
    const double error = gradient.norm();
    if (runs_away || (error > 1e-8 && error <= 1e-13 * outgrown)) {
      result.balance = Balance::mechanism;
      result.motion = "the base is held by a hair only: a small change tips it";
      return result;
    }
    if (error > 1e-8) {
      throw InternalError("base contact: a balance exists but was not reached");
    }
  }

  q *= size;
  for (int i = 0; i < k_.bolts; ++i) {
    const double u = row(1, k_.bx[std::size_t(i)], k_.by[std::size_t(i)], a).dot(q);
    result.tension[std::size_t(i)] = k_.kb * std::max(0.0, u) * si::newton;
  }
  const auto lift_at = [&](double x, double y) { return q.x() + q.y() / a * y - q.z() / a * x; };
  if (k_.corners > 0) {
    const Moments m = moments_of(cut(k_.x, k_.y, k_.corners, q.x(), -q.z() / a, q.y() / a));
    result.bed_force = -k_.kf * (q.x() * m.A + q.y() / a * m.Sy - q.z() / a * m.Sx) * si::newton;
    result.contact_fraction = m.A / k_.area;
    double deepest = 0;
    for (int i = 0; i < k_.corners; ++i) {
      const double u = lift_at(k_.x[std::size_t(i)], k_.y[std::size_t(i)]);
      if (u < deepest) {
        deepest = u;
        result.pressed_corner = {k_.x[std::size_t(i)] * si::metre,
                                 k_.y[std::size_t(i)] * si::metre};
      }
    }
    result.highest_pressure = -k_.kf * deepest * si::pascal;
  }
  result.lift = q.x() * si::metre;
  result.tilt_x = q.y() / a * si::radian;
  result.tilt_y = q.z() / a * si::radian;
  return result;
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
  if (k_.corners > 0) {
    const Polygon part = cut(k_.x, k_.y, k_.corners, d, -nx, -ny);
    if (part.n >= 3) {
      const double w = r.lift.value();
      const double tx = r.tilt_x.value();
      const double ty = r.tilt_y.value();
      const Moments m = moments_of(cut(part.x, part.y, part.n, w, -ty, tx));
      // pressure p = -kf u; its moment about the line is the integral of p (n.r - d)
      const double force = -k_.kf * (w * m.A + tx * m.Sy - ty * m.Sx);
      const double first_x = -k_.kf * (w * m.Sx + tx * m.Sxy - ty * m.Sxx);
      const double first_y = -k_.kf * (w * m.Sy + tx * m.Syy - ty * m.Sxy);
      moment -= nx * first_x + ny * first_y - d * force;
    }
  }
  return moment * si::newton * si::metre;
}

}  // namespace thole
