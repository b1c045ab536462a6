#include <thole/fastener_group.hpp>

#include <algorithm>
#include <array>
#include <cmath>

#include <thole/error.hpp>

namespace thole {

Force PlaneForce::size() const {
  return std::sqrt(x.value() * x.value() + y.value() * y.value()) * si::newton;
}

namespace {

// Weights of mean one: `weight(i)` of fastener i.
template <class Weight>
std::vector<PlaneForce> share(const std::vector<PlanPoint>& fasteners, Weight weight, Force fx,
                              Force fy, Moment mz) {
  const double n = double(fasteners.size());
  PlanPoint centre;
  for (std::size_t i = 0; i < fasteners.size(); ++i) {
    centre.x += weight(i) * fasteners[i].x / n;
    centre.y += weight(i) * fasteners[i].y / n;
  }
  Area polar{};
  for (std::size_t i = 0; i < fasteners.size(); ++i) {
    const Length dx = fasteners[i].x - centre.x;
    const Length dy = fasteners[i].y - centre.y;
    polar += weight(i) * (dx * dx + dy * dy);
  }
  const Moment twist = mz - (centre.x * fy - centre.y * fx);
  const bool one_point = polar.value() <= 1e-18;
  if (one_point && std::abs(twist.value()) > 1e-9 * (std::abs(mz.value()) + 1e-12)) {
    throw DomainError("fasteners in one point cannot take a twist");
  }
  std::vector<PlaneForce> out;
  for (std::size_t i = 0; i < fasteners.size(); ++i) {
    PlaneForce f{fx / n, fy / n};
    if (!one_point) {
      f.x += -twist * (fasteners[i].y - centre.y) / polar;
      f.y += twist * (fasteners[i].x - centre.x) / polar;
    }
    out.push_back({weight(i) * f.x, weight(i) * f.y});
  }
  return out;
}

}  // namespace

std::vector<PlaneForce> share_in_plane(const std::vector<PlanPoint>& fasteners, Force fx, Force fy,
                                       Moment mz) {
  if (fasteners.empty()) throw DomainError("a pattern needs at least one fastener");
  return share(
      fasteners, [](std::size_t) { return 1.0; }, fx, fy, mz);
}

std::vector<PlaneForce> share_in_plane(const std::vector<PlanPoint>& fasteners,
                                       const std::vector<LinearStiffness>& stiffness, Force fx,
                                       Force fy, Moment mz) {
  if (fasteners.empty()) throw DomainError("a pattern needs at least one fastener");
  if (stiffness.size() != fasteners.size()) {
    throw DomainError("every fastener needs its own stiffness");
  }
  LinearStiffness mean{};
  for (const LinearStiffness& k : stiffness) {
    if (!(k.value() >= 0)) throw DomainError("the stiffness of a fastener must not be below zero");
    mean += k / double(stiffness.size());
  }
  if (!(mean.value() > 0)) throw DomainError("no fastener of the pattern has any stiffness");
  return share(
      fasteners, [&](std::size_t i) -> double { return stiffness[i] / mean; }, fx, fy, mz);
}

namespace {

using Three = std::array<double, 3>;
using Two = std::array<double, 2>;

double dot(const Three& a, const Three& b) { return a[0] * b[0] + a[1] * b[1] + a[2] * b[2]; }

// Slips of a group at its ultimate load. Lengths in inches, as the law wants them; unknowns
// q = (slip of the centroid x, y, turn x length), so that all three are inches. For a given work of
// the load on the slips the bolts take the slips of least energy: the force that follows from that
// is in line with the load. `plane` spans the slips on which the load does no work.
class SlippingGroup {
 public:
  static constexpr double most = 0.34;  // in

  SlippingGroup(std::vector<Two> bolts, double length, const Three& load)
      : bolts_(std::move(bolts)), length_(length), load_(load) {
    // Two directions square to the load: the axis least along it, made square, and their product.
    std::size_t least = 0;
    for (std::size_t i = 1; i < 3; ++i) {
      if (std::abs(load[i]) < std::abs(load[least])) least = i;
    }
    Three& a = plane_[0];
    a = {};
    a[least] = 1;
    for (std::size_t i = 0; i < 3; ++i) a[i] -= load[least] * load[i];
    const double size = std::sqrt(dot(a, a));
    for (double& v : a) v /= size;
    plane_[1] = {load[1] * a[2] - load[2] * a[1], load[2] * a[0] - load[0] * a[2],
                 load[0] * a[1] - load[1] * a[0]};
  }

  // Slips at the work `s`, from those in `z`. False: not reached.
  bool settle(double s, Two& z) {
    evaluate(s, z);
    for (int round = 0; round < 200; ++round) {
      const double error = std::hypot(g_[0], g_[1]);
      if (error <= 1e-12 * double(bolts_.size())) return true;
      const double det = h_[0] * h_[2] - h_[1] * h_[1];
      const Two step{-(h_[2] * g_[0] - h_[1] * g_[1]) / det,
                     -(h_[0] * g_[1] - h_[1] * g_[0]) / det};
      const Two from = z;
      const double before = g_[0] * step[0] + g_[1] * step[1];
      if (!(before < 0)) return error <= 1e-9;
      // The energy is convex: shorten until the slope along the step has come down.
      double low = 0;
      double high = 0;  // not known yet
      double t = 1;
      for (int i = 0; i < 60; ++i) {
        z = {from[0] + t * step[0], from[1] + t * step[1]};
        evaluate(s, z);
        const double slope = g_[0] * step[0] + g_[1] * step[1];
        if (std::abs(slope) <= 0.5 * std::abs(before)) break;
        (slope < 0 ? low : high) = t;
        t = high > 0 ? 0.5 * (low + high) : 2 * t;
      }
      if (z == from) return error <= 1e-9;
    }
    return false;
  }

  [[nodiscard]] double largest_slip() const {
    return *std::max_element(slip_.begin(), slip_.end());
  }
  // Force in line with the load, in strengths of one bolt.
  [[nodiscard]] double carried() const { return dot(force_, load_); }
  [[nodiscard]] std::vector<double> share() const {
    std::vector<double> out;
    for (const double d : slip_) out.push_back(law(d));
    return out;
  }

 private:
  static double law(double slip) { return std::pow(-std::expm1(-10 * slip), 0.55); }

  void evaluate(double s, const Two& z) {
    Three q;
    for (std::size_t i = 0; i < 3; ++i)
      q[i] = s * load_[i] + z[0] * plane_[0][i] + z[1] * plane_[1][i];
    force_ = {};
    h_ = {};
    slip_.clear();
    for (const Two& b : bolts_) {
      const double x = b[0] / length_;
      const double y = b[1] / length_;
      const double ux = q[0] - q[2] * y;
      const double uy = q[1] + q[2] * x;
      const double d = std::hypot(ux, uy);
      slip_.push_back(d);
      // At the centre of turning the law is infinitely stiff: a hair of slip keeps numbers finite.
      const double held = std::max(d, 1e-12);
      const double r = law(held);
      const double nx = d > 0 ? ux / d : 1;
      const double ny = d > 0 ? uy / d : 0;
      const double along = r * 5.5 / std::expm1(10 * held);  // slope of the law
      const double across = r / held;
      const double f = d > 0 ? r : 0;
      force_[0] += f * nx;
      force_[1] += f * ny;
      force_[2] += f * (ny * x - nx * y);
      for (std::size_t i = 0; i < 2; ++i) {
        for (std::size_t j = i; j < 2; ++j) {
          const Two a = slip_by(plane_[i], x, y);
          const Two c = slip_by(plane_[j], x, y);
          h_[i + j] += along * (a[0] * nx + a[1] * ny) * (c[0] * nx + c[1] * ny) +
                       across * (a[1] * nx - a[0] * ny) * (c[1] * nx - c[0] * ny);
        }
      }
    }
    g_ = {dot(force_, plane_[0]), dot(force_, plane_[1])};
  }

  static Two slip_by(const Three& q, double x, double y) {
    return {q[0] - q[2] * y, q[1] + q[2] * x};
  }

  std::vector<Two> bolts_;
  double length_;
  Three load_;  // of size one
  std::array<Three, 2> plane_{};
  std::vector<double> slip_;
  Three force_{};
  Two g_{};
  Three h_{};  // 00, 01, 11
};

}  // namespace

UltimateGroup instantaneous_centre(const std::vector<PlanPoint>& bolts, Force fx, Force fy,
                                   Moment mz) {
  if (bolts.empty()) throw DomainError("a pattern needs at least one fastener");
  constexpr double inch = 0.0254;
  const double n = double(bolts.size());
  double cx = 0;
  double cy = 0;
  for (const PlanPoint& p : bolts) {
    cx += p.x.value() / inch / n;
    cy += p.y.value() / inch / n;
  }
  std::vector<Two> about;
  double far = 0;
  for (const PlanPoint& p : bolts) {
    about.push_back({p.x.value() / inch - cx, p.y.value() / inch - cy});
    far = std::max(far, std::hypot(about.back()[0], about.back()[1]));
  }
  const double twist = mz.value() / inch - (cx * fy.value() - cy * fx.value());
  const double force = std::hypot(fx.value(), fy.value());
  UltimateGroup out;
  if (far <= 1e-9) {
    if (std::abs(twist) > 1e-9 * std::abs(mz.value() / inch)) {
      throw DomainError("fasteners in one point cannot take a twist");
    }
    if (!std::isfinite(force) || !(force > 0)) {
      throw DomainError("the load on a bolt group must be finite and not zero");
    }
    const double all = std::pow(-std::expm1(-10 * SlippingGroup::most), 0.55);
    out.share.assign(bolts.size(), all);
    out.coefficient = n * all;
    out.per_load = out.coefficient / force;
    return out;
  }
  Three load{fx.value(), fy.value(), twist / far};
  const double size = std::sqrt(dot(load, load));
  if (!std::isfinite(size) || !(size > 0)) {
    throw DomainError("the load on a bolt group must be finite and not zero");
  }
  for (double& l : load) l /= size;

  // The largest slip grows nearly in proportion to the work.
  SlippingGroup group(std::move(about), far, load);
  Two z{};
  double low = 0;
  double high = 0;  // not known yet
  double s = SlippingGroup::most;
  bool reached = false;
  for (int round = 0; round < 200 && !reached; ++round) {
    if (!group.settle(s, z)) break;
    const double ratio = group.largest_slip() / SlippingGroup::most;
    reached = std::abs(ratio - 1) <= 1e-10;
    if (reached) break;
    (ratio < 1 ? low : high) = s;
    double next = s / ratio;
    if (high > 0 && !(next > low && next < high)) next = 0.5 * (low + high);
    for (double& v : z) v *= next / s;
    s = next;
  }
  if (!reached) throw InternalError("bolt group: the least energy was not reached");
  out.per_load = group.carried() / size;
  out.coefficient = out.per_load * force;
  out.share = group.share();
  return out;
}

}  // namespace thole
