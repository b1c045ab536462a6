#include "core/one_way.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <vector>

#include <Eigen/Cholesky>
#include <Eigen/QR>
#include <Eigen/SVD>

#include <thole/error.hpp>

namespace thole::one_way {

namespace {

constexpr double tolerance = 1e-9;
// The fallback meets the worst cases; extra digits cost nothing there.
using LongMatrix = Eigen::Matrix<long double, Eigen::Dynamic, Eigen::Dynamic>;
using LongVector = Eigen::Matrix<long double, Eigen::Dynamic, 1>;
// Gains of so many states are kept; the next state then starts a new collection.
constexpr std::size_t most_states = 20000;

State bit(int i) { return State{1} << i; }

// min |A x - b|, x >= 0: Lawson & Hanson, Solving Least Squares Problems, chapter 23. Returns the
// residual b - A x, which at the end is a certificate: A' r <= 0 and b' r = r' r. Columns are of
// length one. Each round lowers |r|, so no set of columns comes back and the rounds are finite.
Vector residual_of_signed_least_squares(const Matrix& A, const Vector& b) {
  const Eigen::Index n = A.cols();
  Vector x = Vector::Zero(n);
  std::vector<bool> in(std::size_t(n), false);
  std::vector<bool> useless(std::size_t(n), false);  // gained nothing since r last moved
  Vector r = b;
  const double size = b.norm();
  if (size == 0) return r;
  for (int round = 0; round < 1000 + 100 * int(n); ++round) {
    Eigen::Index enter = -1;
    double most = 1e-13 * size;
    for (Eigen::Index j = 0; j < n; ++j) {
      if (in[std::size_t(j)] || useless[std::size_t(j)]) continue;
      const double gain = A.col(j).dot(r);
      if (gain > most) {
        most = gain;
        enter = j;
      }
    }
    if (enter < 0) return r;
    const Vector x_before = x;
    const std::vector<bool> in_before = in;
    in[std::size_t(enter)] = true;
    for (bool inside = false; !inside;) {
      std::vector<Eigen::Index> set;
      for (Eigen::Index j = 0; j < n; ++j) {
        if (in[std::size_t(j)]) set.push_back(j);
      }
      if (set.empty()) break;
      const auto m = Eigen::Index(set.size());
      Matrix B(A.rows(), m);
      for (Eigen::Index k = 0; k < m; ++k) B.col(k) = A.col(set[std::size_t(k)]);
      const Vector z = B.completeOrthogonalDecomposition().solve(b);
      double step = 1;
      Eigen::Index leave = -1;
      for (Eigen::Index k = 0; k < m; ++k) {
        if (z(k) > 0) continue;
        const double xk = x(set[std::size_t(k)]);
        const double t = xk > 0 ? xk / (xk - z(k)) : 0.0;
        if (leave < 0 || t < step) {
          step = t;
          leave = k;
        }
      }
      inside = leave < 0;
      for (Eigen::Index k = 0; k < m; ++k) {
        double& xk = x(set[std::size_t(k)]);
        xk = inside ? z(k) : xk + step * (z(k) - xk);
      }
      if (!inside) {
        x(set[std::size_t(leave)]) = 0;
        in[std::size_t(set[std::size_t(leave)])] = false;
      }
    }
    const Vector next = b - A * x;
    if (next.norm() < r.norm() * (1 - 1e-14)) {
      r = next;
      std::fill(useless.begin(), useless.end(), false);
      if (r.norm() < 1e-14 * size) return r;
    } else {
      x = x_before;
      in = in_before;
      useless[std::size_t(enter)] = true;
    }
  }
  return r;
}

}  // namespace

Contacts::Contacts(Problem problem) : p_(std::move(problem)), n_(int(p_.M.rows())) {
  if (p_.M.cols() != n_ || p_.Q.rows() != n_ || p_.E.cols() != n_ || p_.P.rows() != p_.E.rows() ||
      p_.P.cols() != p_.Q.cols() || p_.two_way > n_ || n_ - p_.two_way > most_contacts) {
    throw InternalError("contacts: sizes do not fit");
  }
  scale_ = p_.M.diagonal();
  if (n_ > 0 && !(scale_.minCoeff() > 0))
    throw InternalError("contacts: a compliance is not positive");
  scale_ = scale_.cwiseSqrt();
  const Eigen::Index motions = p_.E.rows();
  if (n_ == 0) {
    turn_ = Matrix::Identity(motions, motions);
    rank_ = 0;
  } else {
    const Eigen::JacobiSVD<Matrix> svd(p_.E, Eigen::ComputeFullU);
    const Vector values = svd.singularValues();
    rank_ = 0;
    while (rank_ < values.size() && values(rank_) > 1e-10 * values(0)) ++rank_;
    turn_ = svd.matrixU().transpose();
  }
  const Matrix turned_E = turn_ * p_.E;
  const Matrix turned_P = turn_ * p_.P;
  Er_ = turned_E.topRows(rank_);
  Pr_ = turned_P.topRows(rank_);
  Pz_ = turned_P.bottomRows(motions - rank_);
  const int one_way = n_ - p_.two_way;
  last_ = one_way == 64 ? ~State{0} : bit(one_way) - 1;  // all closed
}

const Gains* Contacts::gains_of(State state) {
  const auto found = known_.find(state);
  if (found != known_.end()) return found->second.get();
  if (known_.size() >= most_states) known_.clear();

  std::vector<int> closed;
  for (int i = 0; i < n_; ++i) {
    if (i < p_.two_way || (state & bit(i - p_.two_way)) != 0) closed.push_back(i);
  }
  const auto m = Eigen::Index(closed.size());
  const Eigen::Index loads = p_.Q.cols();
  Matrix M(m, m), Q(m, loads), E(rank_, m);
  for (Eigen::Index i = 0; i < m; ++i) {
    for (Eigen::Index j = 0; j < m; ++j)
      M(i, j) = p_.M(closed[std::size_t(i)], closed[std::size_t(j)]);
    Q.row(i) = p_.Q.row(closed[std::size_t(i)]);
    E.col(i) = Er_.col(closed[std::size_t(i)]);
  }
  std::unique_ptr<Gains> g;
  Matrix s_closed = Matrix::Zero(m, loads);
  Matrix a_resisted = Matrix::Zero(rank_, loads);
  bool holds = m > 0 || rank_ == 0;
  if (m > 0) {
    const Eigen::LLT<Matrix> llt(M);
    if (llt.info() != Eigen::Success) throw InternalError("contacts: M is not positive definite");
    const Matrix X = llt.solve(E.transpose());  // M^-1 E'
    const Matrix Y = llt.solve(Q);              // M^-1 Q
    if (rank_ > 0) {
      const Matrix S = E * X;
      // Stiffness of the rigid motions, each measured against the stiffest it could have.
      const Eigen::LDLT<Matrix> ldlt(S);
      const Vector d = ldlt.vectorD();
      const double least = d.cwiseAbs().minCoeff();
      holds = d.minCoeff() > 0 && least > 1e-13 * d.maxCoeff();
      if (holds) {
        // M s + Q F + E' a = 0 and E s + P F = 0.
        a_resisted = ldlt.solve(Pr_ - E * Y);
        s_closed = -Y - X * a_resisted;
        // One step of refinement of the balance, which the acceptance test looks at.
        const Matrix off = E * s_closed + Pr_;
        const Matrix da = ldlt.solve(off);
        a_resisted += da;
        s_closed -= X * da;
        holds = (E * s_closed + Pr_).norm() <= 1e-11 * (Pr_.norm() + s_closed.norm() * E.norm());
      }
    } else {
      s_closed = -Y;
    }
  }
  if (holds) {
    g = std::make_unique<Gains>();
    g->state = state;
    g->s = Matrix::Zero(n_, loads);
    for (Eigen::Index i = 0; i < m; ++i) g->s.row(closed[std::size_t(i)]) = s_closed.row(i);
    g->w = p_.Q;
    g->w.noalias() += p_.M * g->s;
    g->w.noalias() += Er_.transpose() * a_resisted;
    for (Eigen::Index i = 0; i < m; ++i) g->w.row(closed[std::size_t(i)]).setZero();
    g->a = turn_.topRows(rank_).transpose() * a_resisted;
  }
  return known_.emplace(state, std::move(g)).first->second.get();
}

bool Contacts::accept(const Gains& g, const Vector& F, Answer& answer, State* violated) const {
  answer.s.noalias() = g.s * F;
  answer.w.noalias() = g.w * F;
  // Forces and openings are measured by the largest of each, brought to one unit by the compliance.
  double force = 0;
  double opening = 0;
  for (int i = 0; i < n_; ++i) {
    force = std::max(force, std::abs(answer.s(i)) * scale_(i));
    opening = std::max(opening, std::abs(answer.w(i)) / scale_(i));
  }
  opening = std::max(opening, force);
  *violated = 0;
  for (int i = p_.two_way; i < n_; ++i) {
    const bool closed = (g.state & bit(i - p_.two_way)) != 0;
    if (closed ? answer.s(i) * scale_(i) < -0.1 * tolerance * force
               : answer.w(i) / scale_(i) < -0.1 * tolerance * opening) {
      *violated |= bit(i - p_.two_way);
    }
  }
  if (*violated != 0) return false;
  for (int i = p_.two_way; i < n_; ++i) {
    answer.s(i) = std::max(answer.s(i), 0.0);
    answer.w(i) = std::max(answer.w(i), 0.0);
  }
  answer.a.noalias() = g.a * F;
  answer.outcome = Outcome::solved;
  answer.gains = &g;
  return true;
}

void Contacts::solve(const Vector& F, Answer& answer) {
  answer.by_pivoting = false;
  answer.flips = 0;
  answer.outcome = Outcome::solved;
  if (Pz_.rows() > 0) {
    const Vector free_load = Pz_ * F;
    const Vector load = p_.P * F;
    if (free_load.norm() > tolerance * load.norm()) {
      answer.outcome = Outcome::mechanism;
      answer.motion = turn_.bottomRows(Pz_.rows()).transpose() * free_load;
      answer.motion /= answer.motion.norm();
      answer.gains = nullptr;
      return;
    }
  }
  constexpr int most_flips = 12;
  State visited[most_flips + 1];
  State state = last_;
  for (int flips = 0; flips <= most_flips; ++flips) {
    const Gains* g = gains_of(state);
    if (g == nullptr) break;
    State violated = 0;
    if (accept(*g, F, answer, &violated)) {
      answer.flips = flips;
      last_ = state;
      return;
    }
    visited[flips] = state;
    state ^= violated;
    if (std::find(visited, visited + flips + 1, state) != visited + flips + 1) break;
  }
  if (!can_balance(F, &answer.motion)) {
    answer.outcome = Outcome::mechanism;
    answer.gains = nullptr;
    return;
  }
  solve_by_pivoting(F, answer);
}

bool Contacts::can_balance(const Vector& F, Vector* motion) const {
  const Vector load = p_.P * F;
  const double size = load.norm();
  if (size == 0) return true;
  // Two-way springs take any sign: what they can carry is taken out first.
  Matrix keep = Matrix::Identity(p_.E.rows(), p_.E.rows());
  if (p_.two_way > 0) {
    const Eigen::JacobiSVD<Matrix> svd(p_.E.leftCols(p_.two_way), Eigen::ComputeThinU);
    const Vector values = svd.singularValues();
    Eigen::Index rank = 0;
    while (rank < values.size() && values(rank) > 1e-10 * values(0)) ++rank;
    const Matrix U = svd.matrixU().leftCols(rank);
    keep -= U * U.transpose();
  }
  Matrix A = keep * p_.E.rightCols(n_ - p_.two_way);
  for (Eigen::Index j = 0; j < A.cols(); ++j) {
    // What remains of a contact that the springs hold anyway is rounding.
    const double length = A.col(j).norm();
    if (length > 1e-10 * p_.E.col(p_.two_way + j).norm()) {
      A.col(j) /= length;
    } else {
      A.col(j).setZero();
    }
  }
  const Vector b = -(keep * load);
  if (b.norm() <= tolerance * size) return true;
  const Vector r = residual_of_signed_least_squares(A, b);
  if (r.norm() <= tolerance * size) return true;
  if (motion != nullptr) *motion = -r / r.norm();
  return false;
}

void Contacts::solve_by_pivoting(const Vector& F, Answer& answer) {
  answer.by_pivoting = true;
  answer.gains = nullptr;
  if (!lemke(F, answer)) {
    if (!can_balance(F, &answer.motion)) {
      answer.outcome = Outcome::mechanism;
      return;
    }
    throw InternalError("contacts: pivoting ended on a ray although the loads can be balanced");
  }
  answer.outcome = Outcome::solved;
  // The same state by direct elimination, for its accuracy and to keep its gains.
  State state = 0;
  for (int i = p_.two_way; i < n_; ++i) {
    if (answer.s(i) > 0) state |= bit(i - p_.two_way);
  }
  Answer exact;
  State violated = 0;
  const Gains* g = gains_of(state);
  // A contact that just touches may be counted on either side.
  for (int k = 0; g != nullptr && k < 4; ++k) {
    if (accept(*g, F, exact, &violated)) {
      exact.by_pivoting = true;
      last_ = state;
      answer = exact;
      return;
    }
    state ^= violated;
    g = gains_of(state);
  }
  refine(F, answer);
}

// A state whose closed contacts hold the body barely or, at the edge of tipping, not at all: the
// whole system at once by orthogonal elimination. Motions that no closed contact resists keep the
// value that pivoting gave them.
void Contacts::refine(const Vector& F, Answer& answer) const {
  std::vector<int> closed;
  for (int i = 0; i < n_; ++i) {
    if (i < p_.two_way || answer.s(i) > 0) closed.push_back(i);
  }
  const auto m = Eigen::Index(closed.size());
  if (m == 0) return;
  const Vector q = p_.Q * F;
  const Vector load = Pr_ * F;
  Vector d(m);
  Matrix Es(rank_, m);
  for (Eigen::Index i = 0; i < m; ++i) {
    d(i) = 1 / scale_(closed[std::size_t(i)]);
    Es.col(i) = Er_.col(closed[std::size_t(i)]) * d(i);
  }
  const double e_scale = 1 / Es.norm();
  Matrix K = Matrix::Zero(m + rank_, m + rank_);
  Vector b(m + rank_);
  for (Eigen::Index i = 0; i < m; ++i) {
    for (Eigen::Index j = 0; j < m; ++j) {
      K(i, j) = p_.M(closed[std::size_t(i)], closed[std::size_t(j)]) * d(i) * d(j);
    }
    b(i) = -q(closed[std::size_t(i)]) * d(i);
  }
  K.topRightCorner(m, rank_) = e_scale * Es.transpose();
  K.bottomLeftCorner(rank_, m) = e_scale * Es;
  b.tail(rank_) = -e_scale * load;
  Eigen::CompleteOrthogonalDecomposition<LongMatrix> cod(m + rank_, m + rank_);
  cod.setThreshold(1e-18L);
  cod.compute(K.cast<long double>());
  const Vector x = LongVector(cod.solve(b.cast<long double>())).cast<double>();
  Vector a = x.tail(rank_) * e_scale;
  const Vector a_before = turn_.topRows(rank_) * answer.a;
  const Eigen::JacobiSVD<Matrix> svd(Es, Eigen::ComputeFullU);
  for (Eigen::Index k = 0; k < rank_; ++k) {
    const bool resisted = k < svd.singularValues().size() &&
                          svd.singularValues()(k) > 1e-13 * svd.singularValues()(0);
    if (resisted) continue;
    const Vector motion = svd.matrixU().col(k);
    a += motion * motion.dot(a_before - a);
  }
  Vector s = Vector::Zero(n_);
  for (Eigen::Index i = 0; i < m; ++i) {
    const int c = closed[std::size_t(i)];
    s(c) = x(i) * d(i);
    if (c >= p_.two_way) s(c) = std::max(s(c), 0.0);
  }
  Answer better;
  better.by_pivoting = true;
  better.s = s;
  better.w = q + p_.M * s + Er_.transpose() * a;
  for (const int c : closed) better.w(c) = 0;
  better.w = better.w.cwiseMax(0.0);
  better.a = turn_.topRows(rank_).transpose() * a;
  if (error_of(F, better) < error_of(F, answer)) answer = better;
}

double Contacts::error_of(const Vector& F, const Answer& answer) const {
  const Vector load = p_.P * F;
  const Vector w = p_.Q * F + p_.M * answer.s + p_.E.transpose() * answer.a;
  double force = 0;
  double opening = 0;
  for (int i = 0; i < n_; ++i) {
    force = std::max(force, std::abs(answer.s(i)) * scale_(i));
    opening = std::max(opening, std::abs(w(i)) / scale_(i));
  }
  opening = std::max(opening, force);
  double size = load.norm();
  for (int i = 0; i < n_; ++i) {
    size = std::max(size, std::abs(answer.s(i)) * p_.E.col(i).norm());
  }
  double error = size > 0 ? (p_.E * answer.s + load).norm() / size : 0.0;
  for (int i = 0; i < n_ && opening > 0; ++i) {
    const double wi = w(i) / scale_(i) / opening;
    const double si = force > 0 ? answer.s(i) * scale_(i) / force : 0.0;
    error = std::max(error, i < p_.two_way
                                ? std::abs(wi)
                                : std::max({-wi, -si, std::min(std::abs(wi), std::abs(si))}));
  }
  return error;
}

// Lemke's method on  z >= 0, L z + q >= 0, z'(L z + q) = 0  with z = (s, a+, a-) and
//
//     L = [ M'  E''  -E'' ]     after the two-way springs are taken out:
//         [ -E   S    -S  ]     M' = Mcc - Mcb Mbb^-1 Mbc, E' = Ec - Eb Mbb^-1 Mbc,
//         [ E   -S     S  ]     S = Eb Mbb^-1 Eb'.
bool Contacts::lemke(const Vector& F, Answer& answer) {
  const int nb = p_.two_way;
  const int nu = n_ - nb;
  const Vector q_all = p_.Q * F;
  const Vector load = Pr_ * F;
  Matrix Mc = p_.M.bottomRightCorner(nu, nu);
  Matrix Ec = Er_.rightCols(nu);
  Matrix S = Matrix::Zero(rank_, rank_);
  Vector qc = q_all.tail(nu);
  Vector e = load;
  Matrix W, V;  // Mbb^-1 Mbc, Mbb^-1 Eb'
  Vector u;     // Mbb^-1 qb
  if (nb > 0) {
    const Eigen::LLT<Matrix> llt(p_.M.topLeftCorner(nb, nb));
    W = llt.solve(p_.M.topRightCorner(nb, nu));
    V = llt.solve(Er_.leftCols(nb).transpose());
    u = llt.solve(q_all.head(nb));
    const Matrix Mcb = p_.M.bottomLeftCorner(nu, nb);
    const Matrix Eb = Er_.leftCols(nb);
    Mc -= Mcb * W;
    qc -= Mcb * u;
    Ec -= Eb * W;
    S = Eb * V;
    e -= Eb * u;
  }
  // Scales: forces by the compliance, motions so that the balance has numbers near one.
  Vector d(nu);
  for (int i = 0; i < nu; ++i) d(i) = 1 / scale_(nb + i);
  const Matrix Es = Ec * d.asDiagonal();
  Vector row(rank_);
  for (int i = 0; i < rank_; ++i) {
    const double size = std::max(Es.row(i).norm(), std::sqrt(std::abs(S(i, i))));
    row(i) = size > 0 ? 1 / size : 1.0;
  }
  const int m = nu + 2 * rank_;
  Matrix L = Matrix::Zero(m, m);
  Vector q(m);
  L.topLeftCorner(nu, nu) = d.asDiagonal() * Mc * d.asDiagonal();
  const Matrix Er = row.asDiagonal() * Es;
  const Matrix Sr = row.asDiagonal() * S * row.asDiagonal();
  // Balance: Ec s - S a + e = 0 (from s_b = -u - W s - V a). As two inequalities with a+ and a-.
  L.block(0, nu, nu, rank_) = Er.transpose();
  L.block(0, nu + rank_, nu, rank_) = -Er.transpose();
  L.block(nu, 0, rank_, nu) = -Er;
  L.block(nu + rank_, 0, rank_, nu) = Er;
  L.block(nu, nu, rank_, rank_) = Sr;
  L.block(nu, nu + rank_, rank_, rank_) = -Sr;
  L.block(nu + rank_, nu, rank_, rank_) = -Sr;
  L.block(nu + rank_, nu + rank_, rank_, rank_) = Sr;
  q.head(nu) = d.asDiagonal() * qc;
  q.segment(nu, rank_) = -(row.asDiagonal() * e);
  q.tail(rank_) = row.asDiagonal() * e;
  const double q_size = q.cwiseAbs().maxCoeff();

  Vector z = Vector::Zero(m);
  if (q_size > 0 && q.minCoeff() < 0) {
    q /= q_size;
    // Tableau I w - L z - 1 z0 = q; columns: w (m), z (m), z0, q.
    LongMatrix T(m, 2 * m + 2);
    T.leftCols(m) = LongMatrix::Identity(m, m);
    T.middleCols(m, m) = -L.cast<long double>();
    T.col(2 * m).setConstant(-1);
    T.col(2 * m + 1) = q.cast<long double>();
    std::vector<int> basis(std::size_t(m), 0);
    for (int i = 0; i < m; ++i) basis[std::size_t(i)] = i;
    const auto pivot = [&](int r, int c) {
      T.row(r) /= T(r, c);
      for (int i = 0; i < m; ++i) {
        if (i != r && T(i, c) != 0) T.row(i) -= T(i, c) * T.row(r);
      }
      basis[std::size_t(r)] = c;
    };
    // Row i before row j in the order of (q, w columns)?
    const auto less = [&](int i, long double pi, int j, long double pj) {
      const long double a = T(i, 2 * m + 1) / pi;
      const long double b = T(j, 2 * m + 1) / pj;
      if (std::abs(a - b) > 1e-15L * std::max({std::abs(a), std::abs(b), 1e-3L})) return a < b;
      for (int k = 0; k < m; ++k) {
        const long double x = T(i, k) / pi;
        const long double y = T(j, k) / pj;
        if (std::abs(x - y) > 1e-15L * std::max({std::abs(x), std::abs(y), 1e-3L})) return x < y;
      }
      return false;
    };
    // First step: z0 enters, the least q leaves.
    int r = 0;
    for (int i = 1; i < m; ++i) {
      // With q equal, the later row is the lexicographic least of (q, I).
      if (q(i) < q(r) || (q(i) == q(r) && i > r)) r = i;
    }
    int leaving = basis[std::size_t(r)];
    pivot(r, 2 * m);
    bool done = false;
    for (int step = 0; step < 200 * m; ++step) {
      const int enter = leaving < m ? leaving + m : leaving - m;
      r = -1;
      // z0 leaves whenever it can: that ends the method.
      for (int i = 0; i < m; ++i) {
        if (T(i, enter) <= 1e-13L) continue;
        if (r < 0 || less(i, T(i, enter), r, T(r, enter))) r = i;
      }
      if (r < 0) {  // a ray, unless z0 is zero but for rounding
        for (int i = 0; i < m; ++i) {
          done = done || (basis[std::size_t(i)] == 2 * m && T(i, 2 * m + 1) <= 1e-9L);
        }
        if (!done) return false;
        break;
      }
      for (int i = 0; i < m; ++i) {
        if (basis[std::size_t(i)] != 2 * m || T(i, enter) <= 1e-13L) continue;
        const long double mine = T(i, 2 * m + 1) / T(i, enter);
        const long double best = T(r, 2 * m + 1) / T(r, enter);
        if (mine <= best + 1e-15L) r = i;
      }
      leaving = basis[std::size_t(r)];
      pivot(r, enter);
      done = leaving == 2 * m;
      // In a tie z0 may stay in the basis at zero: that is a solution too.
      for (int i = 0; i < m && !done; ++i) {
        done = basis[std::size_t(i)] == 2 * m && T(i, 2 * m + 1) <= 1e-13L;
      }
      if (done) break;
    }
    if (!done) throw InternalError("contacts: pivoting did not end");
    for (int i = 0; i < m; ++i) {
      const int v = basis[std::size_t(i)];
      if (v >= m && v < 2 * m) z(v - m) = std::max(0.0, double(T(i, 2 * m + 1))) * q_size;
    }
  }
  answer.s = Vector::Zero(n_);
  for (int i = 0; i < nu; ++i) answer.s(nb + i) = z(i) * d(i);
  Vector a = Vector::Zero(rank_);
  for (int i = 0; i < rank_; ++i) a(i) = (z(nu + i) - z(nu + rank_ + i)) * row(i);
  if (nb > 0) answer.s.head(nb) = -u - W * answer.s.tail(nu) - V * a;
  answer.w = q_all + p_.M * answer.s + Er_.transpose() * a;
  for (int i = 0; i < n_; ++i) {
    if (i < nb || answer.s(i) > 0) answer.w(i) = 0;
  }
  answer.a = turn_.topRows(rank_).transpose() * a;
  return true;
}

}  // namespace thole::one_way
