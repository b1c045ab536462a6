#include "core/board_kernel.hpp"

#include <algorithm>
#include <cmath>

#include <Eigen/Cholesky>
#include <Eigen/Geometry>

#include <thole/error.hpp>

namespace thole::board_kernel {

namespace {

// Torsion element on (phi1, phi1', phi2, phi2'): GJ phi'' - E Gamma phi'''' = 0 solved exactly.
Eigen::Matrix4d torsion_element(const BeamData& d, double L) {
  Eigen::Matrix4d k = Eigen::Matrix4d::Zero();
  const double gj = d.G * d.j;
  if (!d.warping) {
    k(0, 0) = k(2, 2) = gj / L;
    k(0, 2) = k(2, 0) = -gj / L;
    return k;
  }
  const double eg = d.E * d.gamma;
  const double q = L * std::sqrt(gj / eg);
  double shear = 0, couple = 0, near = 0, far = 0;  // as 12, 6, 4, 2 of a beam without tension
  if (q < 0.05) {
    // Series of the same functions; the next terms are below 1e-9.
    shear = 12 + 1.2 * q * q;
    couple = 6 + 0.1 * q * q;
    near = 4 + 2 * q * q / 15;
    far = 2 - q * q / 30;
  } else {
    // Numerator and denominator over cosh q, so that long elements do not overflow.
    const double t = std::tanh(q);
    const double c = q < 700 ? 1 / std::cosh(q) : 0.0;
    const double D = 2 * c - 2 + q * t;
    shear = q * q * q * t / D;
    couple = q * q * (1 - c) / D;
    near = q * (q - t) / D;
    far = q * (t - q * c) / D;
  }
  const double a = eg / (L * L * L) * shear;
  const double b = eg / (L * L) * couple;
  const double n = eg / L * near;
  const double f = eg / L * far;
  k << a, b, -a, b,   //
      b, n, -b, f,    //
      -a, -b, a, -b,  //
      b, f, -b, n;
  return k;
}

// Bending element on (w1, w1', w2, w2').
Eigen::Matrix4d bending_element(double ei, double ga, double L) {
  const double phi = 12 * ei / (ga * L * L);
  const double f = ei / (L * L * L * (1 + phi));
  Eigen::Matrix4d k;
  k << 12, 6 * L, -12, 6 * L,                               //
      6 * L, (4 + phi) * L * L, -6 * L, (2 - phi) * L * L,  //
      -12, -6 * L, 12, -6 * L,                              //
      6 * L, (2 - phi) * L * L, -6 * L, (4 + phi) * L * L;
  return f * k;
}

Matrix inverse_of(const Matrix& k) {
  const Eigen::LLT<Matrix> llt(k);
  if (llt.info() != Eigen::Success) throw InternalError("board: the held beam is not stiff");
  return llt.solve(Matrix::Identity(k.rows(), k.cols()));
}

}  // namespace

Beam::Beam(const BeamData& data, std::vector<double> stations) : data_(data) {
  stations.push_back(0);
  stations.push_back(data.length);
  std::sort(stations.begin(), stations.end());
  for (const double s : stations) {
    if (s < -1e-9 || s > data.length + 1e-9) throw InternalError("board: a station off the beam");
    if (x_.empty() || s > x_.back() + same_station) x_.push_back(s);
  }
  if (x_.size() < 2) throw InternalError("board: no length");
  x_.back() = data.length;
  const auto n = Eigen::Index(x_.size());
  Matrix axial = Matrix::Zero(n, n);
  Matrix flat = Matrix::Zero(2 * n, 2 * n);
  Matrix edge = Matrix::Zero(2 * n, 2 * n);
  Matrix twist = Matrix::Zero(2 * n, 2 * n);
  for (Eigen::Index e = 0; e + 1 < n; ++e) {
    const double L = x_[std::size_t(e) + 1] - x_[std::size_t(e)];
    const double ea = data.E * data.area / L;
    axial(e, e) += ea;
    axial(e + 1, e + 1) += ea;
    axial(e, e + 1) -= ea;
    axial(e + 1, e) -= ea;
    const double ga = data.G * data.area;
    flat.block<4, 4>(2 * e, 2 * e) += bending_element(data.E * data.i_flat, data.kappa_z * ga, L);
    edge.block<4, 4>(2 * e, 2 * e) += bending_element(data.E * data.i_edge, data.kappa_y * ga, L);
    twist_element_.push_back(torsion_element(data, L));
    twist.block<4, 4>(2 * e, 2 * e) += twist_element_.back();
  }
  if (!data.warping) {
    for (Eigen::Index i = 0; i < n; ++i) twist(2 * i + 1, 2 * i + 1) = data.G * data.j;
  }
  // Held at the first node: all but phi'.
  axial_ = inverse_of(axial.bottomRightCorner(n - 1, n - 1));
  flat_ = inverse_of(flat.bottomRightCorner(2 * n - 2, 2 * n - 2));
  edge_ = inverse_of(edge.bottomRightCorner(2 * n - 2, 2 * n - 2));
  twist_ = inverse_of(twist.bottomRightCorner(2 * n - 1, 2 * n - 1));
}

int Beam::node_at(double station) const {
  int best = 0;
  for (int i = 1; i < nodes(); ++i) {
    if (std::abs(x(i) - station) < std::abs(x(best) - station)) best = i;
  }
  if (std::abs(x(best) - station) > 1.01 * same_station)
    throw InternalError("board: no node at a station");
  return best;
}

Column Beam::push(const Vector3& at, double station, const Vector3& direction) const {
  NodeWrench w;
  w.node = node_at(station);
  const Vector3 arm(at.x() - x(w.node), at.y(), at.z());
  w.wrench << direction, arm.cross(direction);
  return {w};
}

std::array<Column, 6> Beam::loads_at(const Tie& tie) const {
  std::array<Column, 6> out;
  for (int c = 0; c < 6; ++c) {
    Vector3 force = Vector3::Zero();
    Vector3 moment = Vector3::Zero();
    (c < 3 ? force : moment)(c % 3) = 1;
    if (tie.second < 0) {
      NodeWrench w;
      w.node = node_at(tie.station);
      const Vector3 arm(tie.at.x() - x(w.node), tie.at.y(), tie.at.z());
      w.wrench << force, moment + arm.cross(force);
      out[std::size_t(c)] = {w};
      continue;
    }
    NodeWrench a, b;
    a.node = node_at(tie.station);
    b.node = node_at(tie.second);
    const double span = x(b.node) - x(a.node);
    const double middle = 0.5 * (x(a.node) + x(b.node));
    const Vector3 arm(tie.at.x() - middle, tie.at.y(), tie.at.z());
    const Vector3 m = moment + arm.cross(force);
    // Halves of force and torque; the moments across the board as couples of forces.
    a.wrench << 0.5 * force, 0.5 * m.x(), 0, 0;
    b.wrench = a.wrench;
    a.wrench(2) += m.y() / span;
    b.wrench(2) -= m.y() / span;
    a.wrench(1) -= m.z() / span;
    b.wrench(1) += m.z() / span;
    out[std::size_t(c)] = {a, b};
  }
  return out;
}

Column Beam::own_weight(const Vector3& direction) const {
  const Vector3 q = data_.line_load * direction;
  Column out;
  for (int i = 0; i < nodes(); ++i) out.push_back({i, Wrench::Zero()});
  for (int e = 0; e + 1 < nodes(); ++e) {
    const double L = x(e + 1) - x(e);
    const Vector3 half = 0.5 * L * q;
    const Vector3 arm(0, data_.yc, data_.zc);
    for (const int end : {0, 1}) {
      Wrench& w = out[std::size_t(e + end)].wrench;
      w.head<3>() += half;
      w.tail<3>() += arm.cross(half);
      // Consistent end moments of a uniform load: q L^2 / 12.
      const double sign = end == 0 ? 1 : -1;
      w(4) -= sign * q.z() * L * L / 12;
      w(5) += sign * q.y() * L * L / 12;
    }
  }
  return out;
}

// Work-conjugate to (u_c, v_s, w_s, tx, ty, tz) of a wrench about the origin of the section.
Wrench Beam::generalised(const Wrench& w) const {
  Wrench g = w;
  g(3) += w(1) * data_.zs - w(2) * data_.ys;
  g(4) -= w(0) * data_.zc;
  g(5) += w(0) * data_.yc;
  return g;
}

Vector Beam::motion_under(const Column& column) const {
  const auto n = Eigen::Index(x_.size());
  Vector fa = Vector::Zero(n - 1), ff = Vector::Zero(2 * n - 2), fe = Vector::Zero(2 * n - 2),
         ft = Vector::Zero(2 * n - 1);
  for (const NodeWrench& w : column) {
    const Wrench g = generalised(w.wrench);
    const Eigen::Index i = w.node;
    if (i > 0) {
      fa(i - 1) += g(0);
      ff(2 * i - 2) += g(2);
      ff(2 * i - 1) -= g(4);  // w' = -ty
      fe(2 * i - 2) += g(1);
      fe(2 * i - 1) += g(5);
      ft(2 * i - 1) += g(3);
    }
  }
  const Vector ua = axial_ * fa;
  const Vector uf = flat_ * ff;
  const Vector ue = edge_ * fe;
  const Vector ut = twist_ * ft;
  Vector u = Vector::Zero(7 * n);
  u(6) = ut(0);
  for (Eigen::Index i = 1; i < n; ++i) {
    u(7 * i) = ua(i - 1);
    u(7 * i + 1) = ue(2 * i - 2);
    u(7 * i + 2) = uf(2 * i - 2);
    u(7 * i + 3) = ut(2 * i - 1);
    u(7 * i + 4) = -uf(2 * i - 1);
    u(7 * i + 5) = ue(2 * i - 1);
    u(7 * i + 6) = ut(2 * i);
  }
  return u;
}

double Beam::work(const Column& column, const Vector& motion) const {
  double sum = 0;
  for (const NodeWrench& w : column) {
    sum += generalised(w.wrench).dot(motion.segment<6>(7 * w.node));
  }
  return sum;
}

Wrench Beam::resultant(const Column& column) const {
  Wrench sum = Wrench::Zero();
  for (const NodeWrench& w : column) {
    sum += w.wrench;
    sum.tail<3>() += Vector3(x(w.node), 0, 0).cross(w.wrench.head<3>());
  }
  return sum;
}

Vector Beam::rigid(const Wrench& motion) const {
  const auto n = Eigen::Index(x_.size());
  Vector u = Vector::Zero(7 * n);
  const Vector3 t = motion.head<3>();
  const Vector3 r = motion.tail<3>();
  for (Eigen::Index i = 0; i < n; ++i) {
    const double xi = x_[std::size_t(i)];
    const Vector3 at_c = t + r.cross(Vector3(xi, data_.yc, data_.zc));
    const Vector3 at_s = t + r.cross(Vector3(xi, data_.ys, data_.zs));
    u(7 * i) = at_c.x();
    u(7 * i + 1) = at_s.y();
    u(7 * i + 2) = at_s.z();
    u.segment<3>(7 * i + 3) = r;
  }
  return u;
}

void Beam::cut_warping(int node, const Vector& motion, std::array<double, cut_forces>& out) const {
  out[free_torque] = data_.G * data_.j * motion(7 * node + 6);
  out[bimoment] = 0;
  if (!data_.warping) return;
  if (node == 0 || node == nodes() - 1) return;  // warping is free at the ends
  const Eigen::Matrix4d& k = twist_element_[std::size_t(node) - 1];
  const Eigen::Vector4d u(motion(7 * node - 4), motion(7 * node - 1), motion(7 * node + 3),
                          motion(7 * node + 6));
  out[bimoment] = k.row(3) * u;  // E Gamma phi''
}

void Beam::cut(int node, int side, const Column& column, const Vector& motion,
               std::array<double, cut_forces>& out) const {
  Wrench sum = Wrench::Zero();
  for (const NodeWrench& w : column) {
    if (w.node > node || (w.node == node && side == 0)) continue;
    sum += w.wrench;
    sum.tail<3>() += Vector3(x(w.node) - x(node), 0, 0).cross(w.wrench.head<3>());
  }
  // What the part beyond does to this part, about the centroid (bending) and shear centre (twist).
  const Wrench g = -generalised(sum);
  out[axial] = g(0);
  out[shear_y] = g(1);
  out[shear_z] = g(2);
  out[torque] = g(3);
  out[bend_flat] = g(4);
  out[bend_edge] = g(5);
  cut_warping(node, motion, out);
}

void Beam::cut_own_weight(int node, const Vector3& direction, const Vector& motion,
                          std::array<double, cut_forces>& out) const {
  const double L = x(node);
  const Vector3 force = L * data_.line_load * direction;
  Wrench sum;
  sum << force, Vector3(-0.5 * L, data_.yc, data_.zc).cross(force);
  const Wrench g = -generalised(sum);
  out = {g(0), g(1), g(2), g(3), g(4), g(5), 0, 0};
  cut_warping(node, motion, out);
}

Condensed condense(const Beam& beam, const std::vector<Column>& supports,
                   const std::vector<Column>& loads, const std::vector<std::pair<int, int>>& cuts,
                   const std::vector<Column>& watched, int first_weight,
                   const std::vector<Vector3>& weight_directions) {
  const auto n = Eigen::Index(supports.size());
  const auto m = Eigen::Index(loads.size());
  Condensed c;
  c.motion_length = beam.data().length;
  std::vector<Vector> by_support, by_load;
  for (const Column& s : supports) by_support.push_back(beam.motion_under(s));
  for (const Column& f : loads) by_load.push_back(beam.motion_under(f));
  c.M.resize(n, n);
  c.Q.resize(n, m);
  c.E.resize(6, n);
  c.P.resize(6, m);
  for (Eigen::Index i = 0; i < n; ++i) {
    for (Eigen::Index j = 0; j <= i; ++j) {
      c.M(i, j) = c.M(j, i) = beam.work(supports[std::size_t(i)], by_support[std::size_t(j)]);
    }
    for (Eigen::Index j = 0; j < m; ++j) {
      c.Q(i, j) = beam.work(supports[std::size_t(i)], by_load[std::size_t(j)]);
    }
    c.E.col(i) = beam.resultant(supports[std::size_t(i)]);
  }
  for (Eigen::Index j = 0; j < m; ++j) c.P.col(j) = beam.resultant(loads[std::size_t(j)]);
  c.E.bottomRows(3) /= c.motion_length;
  c.P.bottomRows(3) /= c.motion_length;

  const auto rows = Eigen::Index(cuts.size()) * cut_forces + Eigen::Index(watched.size());
  c.response_s.resize(rows, n);
  c.response_f.resize(rows, m);
  std::array<double, cut_forces> forces{};
  const auto fill = [&](Matrix& out, Eigen::Index j, const Column& column, const Vector& u,
                        const Vector3* weight) {
    Eigen::Index row = 0;
    for (const auto& [node, side] : cuts) {
      if (weight != nullptr) {
        beam.cut_own_weight(node, *weight, u, forces);
      } else {
        beam.cut(node, side, column, u, forces);
      }
      for (const double f : forces) out(row++, j) = f;
    }
    for (const Column& w : watched) out(row++, j) = beam.work(w, u);
  };
  for (Eigen::Index j = 0; j < n; ++j) {
    fill(c.response_s, j, supports[std::size_t(j)], by_support[std::size_t(j)], nullptr);
  }
  for (Eigen::Index j = 0; j < m; ++j) {
    const auto w = j - first_weight;
    const bool weight = w >= 0 && w < Eigen::Index(weight_directions.size());
    fill(c.response_f, j, loads[std::size_t(j)], by_load[std::size_t(j)],
         weight ? &weight_directions[std::size_t(w)] : nullptr);
  }
  return c;
}

}  // namespace thole::board_kernel
