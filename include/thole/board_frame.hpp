#pragma once

/// A straight beam on supports that push one way: contact forces, openings and forces along it.
/// The general model under a cross-board, also usable on its own.

#include <memory>
#include <optional>
#include <string>
#include <vector>

#include <thole/base_contact.hpp>
#include <thole/section.hpp>
#include <thole/vector.hpp>

namespace thole {

/// A support acts at a point that moves rigidly with its station along the beam.
struct Support {
  std::string name;
  Position<Board> at;
  Direction<Board> push{Eigen::Vector3d(0, 0, 1)};  ///< of the force it can exert on the beam
  LinearStiffness stiffness{};
  Length gap{};          ///< opening without load; below zero: pressed in from the start
  bool two_way = false;  ///< a spring that pushes and pulls; gap is not used
};

/// Where loads may act: rigidly tied to one station, or to two that share the load as the two bolt
/// rows of a stiff base do.
struct LoadPoint {
  std::string name;
  Position<Board> at;
  Length station{};
  std::optional<Length> second;
};

struct PointLoad {
  int point = 0;  ///< index of the load point
  ForceVector<Board> force;
  MomentVector<Board> moment;
};

struct BeamProperties {
  Section section;
  Stress modulus{};
  Stress shear_modulus{};
  Length length{};
  LineLoad weight{};
  Direction<Board> down{Eigen::Vector3d(0, 0, -1)};
  bool warping = true;  ///< false: Saint-Venant torsion alone
};

/// Forces that the part of larger x exerts on the rest, at a cut just before or behind a station.
/// Right-handed about the centroid (bending) and the shear centre (torsion): sagging has
/// bending_flat below zero. Normal stress at a point of the section:
///
///     sigma = N/A + M_flat (z - zc)/I_flat - M_edge (y - yc)/I_edge - bimoment omega/Gamma
struct CutForces {
  Length x{};
  bool behind = false;
  Force axial{};
  Force shear_y{};
  Force shear_z{};
  Moment torsion{};       ///< whole torque
  Moment free_torsion{};  ///< its Saint-Venant part G J phi'
  Moment bending_flat{};
  Moment bending_edge{};
  Bimoment bimoment{};  ///< E Gamma phi''
};

struct PointMotion {
  Vector<Length, Board> shift;
  Vector<Angle, Board> turn;
};

struct BeamAnswer {
  Balance balance = Balance::stable;
  std::string motion;           ///< a mechanism: "the board can tip aft about its aft edge"
  std::string remedy;           ///< what would stop it
  std::vector<Force> supports;  ///< in the order given; two-way springs of either sign
  std::vector<Length> openings;
  std::vector<CutForces> cuts;      ///< before and behind every station
  std::vector<PointMotion> points;  ///< of the load points
};

/// How far a load can grow. Multipliers of the second set of loads on top of the first.
struct BeamLimit {
  double multiplier = 0;  ///< infinity: nothing ends it
  int support = -1;       ///< whose capacity is reached
  bool tips = false;      ///< nothing reaches its capacity before the beam tips
};

class BoardFrame {
 public:
  /// Throws DomainError: a support or load point off the beam, a stiffness or length not above
  /// zero, more than 64 one-way supports, a section whose bending is coupled.
  BoardFrame(const BeamProperties& beam, const std::vector<Support>& supports,
             const std::vector<LoadPoint>& points, const std::vector<Length>& more_stations = {});
  ~BoardFrame();
  BoardFrame(BoardFrame&&) noexcept;
  BoardFrame& operator=(BoardFrame&&) noexcept;

  /// Source:   Timoshenko beam with Vlasov torsion on one-way springs; minimum of a convex energy,
  ///           see one_way.hpp in src/core for the method.
  /// Valid:    small rotations, no friction, sections that keep their shape.
  /// Accuracy: exact for the model (balance and complementarity to 1e-9). Against solid elements a
  ///           flat 2x8 in torsion: contact forces within 2.5 % of the largest, see tests.
  [[nodiscard]] BeamAnswer solve(const std::vector<PointLoad>& loads) const;

  /// Largest multiplier of `growing` beside `steady` until a support (not below -infinity capacity)
  /// reaches its capacity, walked from contact state to contact state, exact.
  /// `capacity`: one for each support, infinity where none. Throws DomainError when `steady` alone
  /// is a mechanism or beyond a capacity.
  [[nodiscard]] BeamLimit first_capacity(const std::vector<PointLoad>& steady,
                                         const std::vector<PointLoad>& growing,
                                         const std::vector<Force>& capacity) const;

  /// Largest multiplier that any set of pushes within the capacities could balance: tipping when
  /// the capacities are infinite, the plastic limit of the supports else (a rigid beam).
  /// Source: lower bound theorem, linear programme. Accuracy: exact for the model.
  [[nodiscard]] BeamLimit balance_limit(const std::vector<PointLoad>& steady,
                                        const std::vector<PointLoad>& growing,
                                        const std::vector<Force>& capacity) const;

 private:
  struct Kernel;
  std::unique_ptr<Kernel> kernel_;
};

}  // namespace thole
