#pragma once

/// The straight beam of a cross-board condensed to its supports and loads. Numeric kernel: plain SI
/// doubles, axes of frame `Board`. Private to the core.
///
/// Beam: Timoshenko bending about both axes, axial, torsion with warping (seventh freedom phi') or
/// Saint-Venant alone. Transverse motion and twist belong to the shear centre, axial motion and
/// bending to the centroid (Vlasov). Stiffness matrices: Przemieniecki, Theory of Matrix Structural
/// Analysis, from memory; the torsion element is exact, with the stability functions of a beam
/// under tension, whose equation is the same. Nodes at all stations make nodal results exact.
///
/// The beam is held at its first node; what the supports push and the loads do to it is a set of
/// wrenches on nodes. Forces of a cut come from statics, warping from the condensed beam.

#include <array>
#include <vector>

#include <Eigen/Core>

#include "core/one_way.hpp"

namespace thole {
struct BeamProperties;
}

namespace thole::board_kernel {

using one_way::Matrix;
using one_way::Vector;
using Vector3 = Eigen::Vector3d;
using Wrench = Eigen::Matrix<double, 6, 1>;  ///< force, then moment about the section's origin

struct BeamData {
  double length = 0;
  double E = 0, G = 0;
  double area = 0, i_flat = 0, i_edge = 0, j = 0, gamma = 0;
  double kappa_y = 5.0 / 6, kappa_z = 5.0 / 6;
  double yc = 0, zc = 0, ys = 0, zs = 0;
  bool warping = true;
  double line_load = 0;  ///< weight per length
};

/// The numbers of a beam given with its quantities.
[[nodiscard]] BeamData data_of(const BeamProperties& beam);

/// A unit load or push as wrenches on nodes.
struct NodeWrench {
  int node = 0;
  Wrench wrench = Wrench::Zero();
};
using Column = std::vector<NodeWrench>;

/// A point rigidly tied to one station, or to two that share its load as a stiff base does.
struct Tie {
  Vector3 at = Vector3::Zero();
  double station = 0;
  double second = -1;  ///< below zero: one station only
};

/// Quantities at a cut, in this order; the last two are those of the node.
enum CutForce {
  axial,
  shear_y,
  shear_z,
  torque,
  bend_flat,
  bend_edge,
  bimoment,
  free_torque,
  cut_forces
};

/// Nodes nearer than this would spoil the stiffness matrix.
inline constexpr double same_station = 1e-4;  // m

class Beam {
 public:
  /// Stations closer than `same_station` are one node; levers stay exact. The ends are always
  /// nodes.
  Beam(const BeamData& data, std::vector<double> stations);

  [[nodiscard]] int nodes() const { return int(x_.size()); }
  [[nodiscard]] double x(int node) const { return x_[std::size_t(node)]; }
  [[nodiscard]] int node_at(double station) const;
  [[nodiscard]] const BeamData& data() const { return data_; }

  [[nodiscard]] Column push(const Vector3& at, double station, const Vector3& direction) const;
  /// The six unit loads (forces along x, y, z at the point, moments) of a tied point.
  [[nodiscard]] std::array<Column, 6> loads_at(const Tie& tie) const;
  /// The weight of the beam itself along a direction.
  [[nodiscard]] Column own_weight(const Vector3& direction) const;

  /// Motions of the freedoms of the held beam under a column: 7 per node (u v w tx ty tz phi').
  [[nodiscard]] Vector motion_under(const Column& column) const;
  /// Work of a column on a motion.
  [[nodiscard]] double work(const Column& column, const Vector& motion) const;
  /// Resultant about the origin of the axes: force, moment.
  [[nodiscard]] Wrench resultant(const Column& column) const;
  /// Motion of the freedoms under a rigid motion (translation of the origin, rotation).
  [[nodiscard]] Vector rigid(const Wrench& motion) const;

  /// Forces of the cut just before (side 0) or behind (side 1) a node under a column.
  void cut(int node, int side, const Column& column, const Vector& motion,
           std::array<double, cut_forces>& out) const;
  /// Adds what the distributed own weight before the node does; `own_weight` as a column is the
  /// weight gathered at nodes, which is exact for motions of the nodes but not for cuts.
  void cut_own_weight(int node, const Vector3& direction, const Vector& motion,
                      std::array<double, cut_forces>& out) const;

 private:
  [[nodiscard]] Wrench generalised(const Wrench& w) const;
  void cut_warping(int node, const Vector& motion, std::array<double, cut_forces>& out) const;

  BeamData data_;
  std::vector<double> x_;
  Matrix axial_, flat_, edge_, twist_;  // inverses on the freedoms that are not held
  std::vector<Eigen::Matrix4d> twist_element_;
};

/// Supports and loads of one beam, condensed. Rows: supports; columns: constants first.
struct Condensed {
  Matrix M;  ///< without the supports' own compliance
  Matrix Q;
  Matrix E;
  Matrix P;
  Matrix response_s;         ///< responses x supports
  Matrix response_f;         ///< responses x loads
  double motion_length = 1;  ///< rotations in E, P are multiplied by it
};

/// The loads from `first_weight` on, one for each direction, are own weights.
[[nodiscard]] Condensed condense(const Beam& beam, const std::vector<Column>& supports,
                                 const std::vector<Column>& loads,
                                 const std::vector<std::pair<int, int>>& cuts,
                                 const std::vector<Column>& watched, int first_weight,
                                 const std::vector<Vector3>& weight_directions);

}  // namespace thole::board_kernel
