#pragma once

/// One-way contacts condensed to themselves: a convex complementarity problem, solved exactly.
/// Numeric kernel: plain SI doubles. Private to the core.
///
/// Contact i pushes with s_i >= 0 along its own direction; its opening is
///
///     w = M s + Q F + E' a >= 0,   s >= 0,   w s = 0      (two-way springs: w = 0, s of any sign)
///     E s + P F = 0                                        (balance of the rigid motions a)
///
/// with the loads F, M symmetric and positive definite (the compliance of the body on a statically
/// determinate hold, plus that of each contact on the diagonal). Minimum of a convex energy, so s
/// is unique wherever the loads can be balanced at all.
///
/// Method: from the last contact state all violated contacts are flipped at once, states visited
/// are recorded, so that this ends. When a state comes back, or cannot hold the body, or its
/// numbers are too delicate for doubles, two problems of the nearest point in a convex polyhedron
/// decide, both in long double by the dual method of Goldfarb & Idnani (Math. Programming 27,
/// 1983, from memory): first the motion nearest to the load among those that press no contact
/// (zero: the loads can be balanced; else it proves that they cannot), then the forces of least
/// energy. Each round of that method holds one more violated condition, releasing what stands in
/// its way, and moves the point strictly further from its start; so no set of held conditions
/// comes back, whatever the ties, and the rounds are finite. Forces found this
/// second way are verified; what fails raises InternalError and is never returned. A motion that
/// proves a mechanism is met to rounding by construction; the tests verify it.
///
/// The edge: loads are a `mechanism` when the nearest motion is longer than 1e-9 of the load.
/// Closer ones are balanced after that least change of the load. Rows of E and P (forces, moments)
/// are first divided by the length of the row of E, so that units of length do not matter.
/// At the edge s is unique, w and a are not: one vertex of the possible ones is answered.
///
/// Within one contact state s, w and a are affine in F: the gains are kept for the next load.

#include <array>
#include <cstdint>
#include <memory>
#include <unordered_map>

#include <Eigen/Core>

namespace thole::one_way {

using Matrix = Eigen::MatrixXd;
using Vector = Eigen::VectorXd;

inline constexpr int most_contacts = 64;  ///< bits of a contact state

struct Problem {
  int two_way = 0;  ///< the first so many contacts are springs both ways
  Matrix M;         ///< n x n
  Matrix Q;         ///< n x loads
  Matrix E;         ///< rigid motions x n
  Matrix P;         ///< rigid motions x loads
};

/// Which one-way contacts are closed; bit i belongs to contact two_way + i.
using State = std::uint64_t;

struct Gains {
  State state = 0;
  Matrix s;               ///< n x loads
  Matrix w;               ///< n x loads
  Matrix a;               ///< rigid motions x loads
  Matrix both;            ///< rows of s where closed or two-way, rows of w where open: all that is
                          ///< not zero
  bool delicate = false;  ///< barely holds: each use of it is verified
  // Kept here for the owner of the problem:
  std::unique_ptr<Matrix> response;
  int used = 0;
};

enum class Outcome { solved, mechanism };

struct Answer {
  Outcome outcome = Outcome::solved;
  Vector s;                      ///< contact forces
  Vector w;                      ///< openings
  Vector a;                      ///< rigid motion
  const Gains* gains = nullptr;  ///< of the state, valid as long as the contacts; null in a
                                 ///< degenerate state without gains, or when no more are kept
  Vector motion;                 ///< mechanism: presses no contact, holds two-way springs still,
                                 ///< and the load does work on it
  int flips = 0;
  bool by_pivoting = false;
};

class Contacts {
 public:
  /// Throws InternalError when sizes do not fit or M is not positive definite.
  explicit Contacts(Problem problem);

  [[nodiscard]] int count() const { return n_; }
  [[nodiscard]] int loads() const { return int(p_.Q.cols()); }
  [[nodiscard]] const Problem& problem() const { return p_; }

  /// Fills `answer`, whose vectors are reused. Not thread-safe: remembers the last state and gains.
  void solve(const Vector& F, Answer& answer);

  /// Can one-way pushes balance the loads? The motion is written when they cannot.
  [[nodiscard]] bool can_balance(const Vector& F, Vector* motion) const;

  /// Gains of a state; null when its contacts cannot hold the body. Kept as long as this object
  /// up to most_states() states; of further ones only the last, until the next call that is not
  /// const.
  const Gains* gains_of(State state);

  [[nodiscard]] std::size_t states_known() const { return known_.size(); }
  [[nodiscard]] std::size_t most_states() const { return most_states_; }

  /// Solves from scratch by the second way alone, for tests of the fallback.
  void solve_by_pivoting(const Vector& F, Answer& answer);

  /// Largest violation of balance, relative to the largest of load and force terms, and of
  /// complementarity, relative to the largest force and opening. Openings are differences of motion
  /// terms, and forces feel their rounding: the measures are no less than 1e-6 of these terms,
  /// so that 1e-9 is never asked beyond the digits of a double.
  [[nodiscard]] double error_of(const Vector& F, const Answer& answer) const;

 private:
  using LongMatrix = Eigen::Matrix<long double, Eigen::Dynamic, Eigen::Dynamic>;
  using LongVector = Eigen::Matrix<long double, Eigen::Dynamic, 1>;

  [[nodiscard]] bool accept(const Gains& g, const Vector& F, double tolerance, Answer& answer,
                            State* violated) const;
  [[nodiscard]] bool slides(const Vector& F, Answer& answer) const;
  [[nodiscard]] std::unique_ptr<Gains> make_gains(State state) const;
  const Gains* kept(const Gains* g) const { return g == overflow_.get() ? nullptr : g; }
  bool quick_state(const Vector& F, Answer& answer);
  void make_normals();
  bool recent_state(const Vector& F, Answer& answer);
  void settled(const Gains* g, State state);
  [[nodiscard]] LongVector nearest_motion(const LongVector& load) const;
  void least_energy(const Vector& F, const LongVector& load, Answer& answer, State* closed);

  Problem p_;
  int n_ = 0;
  int rank_ = 0;         ///< motions that some contact resists
  Vector row_;           ///< factors of the rows of E and P
  Matrix turn_;          ///< orthogonal: the first rank_ rows span the resisted motions
  Matrix Er_, Pr_;       ///< E and P in the resisted motions
  Matrix Pz_;            ///< P in the motions that nothing resists
  Matrix Ps_;            ///< P with its rows divided
  Vector scale_;         ///< sqrt of the diagonal of M
  Vector hold_;          ///< length of the columns of E, rows divided
  double stiffest_ = 0;  ///< largest of hold_ / scale_
  bool weak_ = false;    ///< some resisted motion is barely resisted
  State last_ = 0;
  std::array<const Gains*, 10> recent_{};  ///< states met last, of `known_`
  std::size_t next_recent_ = 0;
  std::size_t most_states_ = 0;
  std::unordered_map<State, std::unique_ptr<Gains>> known_;
  std::unique_ptr<Gains> overflow_;
  State overflow_state_ = 0;
  bool overflow_used_ = false;
  // Forces as s = R y with M = R^-T R^-1: energy is the square of y. Made when first needed.
  LongMatrix root_;                    ///< R
  LongMatrix normals_;                 ///< of the balance and of s_i >= 0, each of length one
  LongVector lengths_;                 ///< before that
  Matrix quick_root_, quick_normals_;  ///< the same in double
};

}  // namespace thole::one_way
