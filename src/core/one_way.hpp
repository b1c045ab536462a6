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
/// are recorded; when a state comes back or cannot hold the body, a test of feasibility
/// (Lawson-Hanson least squares with signs) decides whether a balance exists, and Lemke's pivoting
/// with the lexicographic rule finds it. For a positive semidefinite matrix that ends after
/// finitely many steps (Cottle, Pang & Stone, The Linear Complementarity Problem, section 4.4, from
/// memory). Within one contact state s, w and a are affine in F: the gains are kept for the next
/// load.

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
  Matrix s;                          ///< n x loads
  Matrix w;                          ///< n x loads
  Matrix a;                          ///< rigid motions x loads
  std::unique_ptr<Matrix> response;  ///< kept here for the owner of the problem
};

enum class Outcome { solved, mechanism };

struct Answer {
  Outcome outcome = Outcome::solved;
  Vector s;                      ///< contact forces
  Vector w;                      ///< openings
  Vector a;                      ///< rigid motion
  const Gains* gains = nullptr;  ///< of the state; null in a degenerate state without gains
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

  /// Gains of a state; null when its contacts cannot hold the body.
  const Gains* gains_of(State state);

  [[nodiscard]] std::size_t states_known() const { return known_.size(); }

  /// Solves from scratch by pivoting alone, for tests of the fallback.
  void solve_by_pivoting(const Vector& F, Answer& answer);

  /// Largest violation of balance and complementarity, relative to the loads, forces and openings.
  [[nodiscard]] double error_of(const Vector& F, const Answer& answer) const;

 private:
  [[nodiscard]] bool accept(const Gains& g, const Vector& F, Answer& answer, State* violated) const;
  bool lemke(const Vector& F, Answer& answer);
  void refine(const Vector& F, Answer& answer) const;

  Problem p_;
  int n_ = 0;
  int rank_ = 0;    ///< motions that some contact resists
  Matrix turn_;     ///< orthogonal: the first rank_ rows span the resisted motions
  Matrix Er_, Pr_;  ///< E and P in the resisted motions
  Matrix Pz_;       ///< P in the motions that nothing resists
  Vector scale_;    ///< sqrt of the diagonal of M
  State last_ = 0;
  std::unordered_map<State, std::unique_ptr<Gains>> known_;
};

}  // namespace thole::one_way
