#include "core/one_way.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <optional>
#include <utility>
#include <vector>

#include <Eigen/Cholesky>
#include <Eigen/SVD>

#include <thole/error.hpp>

namespace thole::one_way {

namespace {

// A load that is further than this part of itself from those that can be balanced is not held.
constexpr double edge = 1e-9;
// A motion that all contacts together resist by no more than this part counts as not resisted.
constexpr double least_resistance = 1e-10;
// Answers are wrong by no more than this.
constexpr double worst_error = 1e-9;
// Forces and openings with the wrong sign that count as zero: rounding.
constexpr double slack = 1e-12;
constexpr double slack_of_verified = 1e-12;
// Gains of all states together, bytes.
constexpr std::size_t most_memory = 64U << 20U;

using LongMatrix = Eigen::Matrix<long double, Eigen::Dynamic, Eigen::Dynamic>;
using LongVector = Eigen::Matrix<long double, Eigen::Dynamic, 1>;

State bit(int i) { return State{1} << i; }

// The point y nearest to b with  N_k' y = g_k  (the first so many k)  and  N_k' y >= g_k  (the
// others); y - b = N u. Columns of N are of length one, or zero when they say nothing.
template <class T>
using VectorOf = Eigen::Matrix<T, Eigen::Dynamic, 1>;
template <class T>
using MatrixOf = Eigen::Matrix<T, Eigen::Dynamic, Eigen::Dynamic>;

template <class T>
struct Nearest {
  VectorOf<T> y;
  VectorOf<T> u;
  std::vector<bool> held;
};

// In extended precision it ends for all that was ever tried; in double it is quick, and nothing
// where it does not end.
template <class T>
class DualMethod {
 public:
  DualMethod(const MatrixOf<T>& N, const VectorOf<T>& g, int equalities, const VectorOf<T>& b)
      : N_(N), g_(g), b_(b), equalities_(equalities), y_(b) {
    const Eigen::Index most = std::min(N.rows(), N.cols());
    Q_.resize(N.rows(), most);
    R_ = MatrixOf<T>::Zero(most, most);
    u_.resize(most);
  }

  std::optional<Nearest<T>> run() {
    std::vector<bool> skip(std::size_t(N_.cols()), false);  // held, or says nothing
    for (int k = 0; k < equalities_; ++k) {
      skip[std::size_t(k)] = true;
      split(k);
      if (height_ > dependent) hold(k);
    }
    for (Eigen::Index k = 0; k < N_.cols(); ++k) {
      if (N_.col(k).squaredNorm() == 0) skip[std::size_t(k)] = true;
    }
    settle();
    const T size = std::max({b_.norm(), y_.norm(), std::numeric_limits<T>::min()});
    T tolerance = (quick ? T(1e-14) : T(4e-18L)) * size;
    T far = (y_ - b_).squaredNorm();
    std::vector<int> unmet;
    const long rounds = 1000 + 100 * long(N_.cols());
    for (long round = 0; round < rounds; ++round) {
      int enter = -1;
      T least = -tolerance;
      for (Eigen::Index k = equalities_; k < N_.cols(); ++k) {
        if (skip[std::size_t(k)]) continue;
        const T gap = N_.col(k).dot(y_) - g_(k);
        if (gap < least) {
          least = gap;
          enter = int(k);
        }
      }
      if (enter < 0) return result();
      skip[std::size_t(enter)] = true;
      for (;;) {
        split(enter);
        // Held conditions pull less as the new one pulls more.
        const VectorOf<T> less =
            R_.topLeftCorner(size_, size_).template triangularView<Eigen::Upper>().solve(c_);
        T step = std::numeric_limits<T>::infinity();
        int leave = -1;
        for (int j = 0; j < size_; ++j) {
          if (set_[std::size_t(j)] < equalities_ || less(j) <= T(1e-18L)) continue;
          const T t = u_(j) / less(j);
          if (leave < 0 || t < step) {
            step = t;
            leave = j;
          }
        }
        const bool moves = height_ > dependent;
        const T gap = N_.col(enter).dot(y_) - g_(enter);
        if (moves) {
          const T full = std::max(-gap, T(0)) / (height_ * height_);
          if (leave < 0 || full <= step) {
            hold(enter);
            settle();
            for (const int k : unmet) skip[std::size_t(k)] = false;
            unmet.clear();
            break;
          }
        } else if (leave < 0) {
          // Cannot be met, which is rounding as the polyhedron has points. Looked at again when
          // others are held; verified by the caller.
          unmet.push_back(enter);
          settle();
          break;
        }
        if (moves) y_ += step * rest_;
        u_.head(size_) -= step * less;
        skip[std::size_t(set_[std::size_t(leave)])] = false;
        release(leave);
      }
      // Without progress what is left is rounding.
      const T now = (y_ - b_).squaredNorm();
      if (!(now > far * (1 + (quick ? T(1e-15) : T(1e-18L))))) tolerance *= 4;
      far = std::max(far, now);
    }
    return std::nullopt;
  }

 private:
  static constexpr bool quick = sizeof(T) == sizeof(double);
  // A condition whose normal is so close to the held ones follows from them.
  static constexpr T dependent = T(1e-12L);

  // Column k as c_ within the held normals and rest_ outside.
  void split(int k) {
    rest_ = N_.col(k);
    const auto Q = Q_.leftCols(size_);
    c_ = Q.transpose() * rest_;
    rest_ -= Q * c_;
    const VectorOf<T> more = Q.transpose() * rest_;
    rest_ -= Q * more;
    c_ += more;
    height_ = rest_.norm();
  }

  void hold(int k) {
    R_.col(size_).head(size_) = c_;
    R_(size_, size_) = height_;
    Q_.col(size_) = rest_ / height_;
    u_(size_) = 0;
    set_.push_back(k);
    ++size_;
  }

  void release(int j) {
    const std::vector<int> tail(set_.begin() + j + 1, set_.end());
    const VectorOf<T> u_tail = u_.segment(j + 1, size_ - j - 1);
    set_.resize(std::size_t(j));
    size_ = j;
    for (std::size_t k = 0; k < tail.size(); ++k) {
      split(tail[k]);
      hold(tail[k]);
      u_(size_ - 1) = u_tail(Eigen::Index(k));
    }
  }

  // y and u of the held conditions anew, free of the rounding of the steps.
  void settle() {
    const auto Q = Q_.leftCols(size_);
    const auto R = R_.topLeftCorner(size_, size_).template triangularView<Eigen::Upper>();
    VectorOf<T> g(size_);
    for (int j = 0; j < size_; ++j) g(j) = g_(set_[std::size_t(j)]);
    const VectorOf<T> target = R.transpose().solve(g);
    VectorOf<T> along = target - Q.transpose() * b_;
    y_ = b_ + Q * along;
    const VectorOf<T> more = target - Q.transpose() * y_;
    y_ += Q * more;
    along += more;
    u_.head(size_) = R.solve(along);
    for (int j = 0; j < size_; ++j) {
      if (set_[std::size_t(j)] >= equalities_) u_(j) = std::max(u_(j), T(0));
    }
  }

  Nearest<T> result() const {
    Nearest<T> out{y_, VectorOf<T>::Zero(N_.cols()),
                   std::vector<bool>(std::size_t(N_.cols()), false)};
    for (int j = 0; j < size_; ++j) {
      out.u(set_[std::size_t(j)]) = u_(j);
      out.held[std::size_t(set_[std::size_t(j)])] = true;
    }
    return out;
  }

  const MatrixOf<T>& N_;
  const VectorOf<T>& g_;
  const VectorOf<T>& b_;
  int equalities_;
  VectorOf<T> y_;
  std::vector<int> set_;  // held conditions; their normals are Q R
  int size_ = 0;
  MatrixOf<T> Q_, R_;
  VectorOf<T> u_;
  VectorOf<T> c_, rest_;
  T height_ = 0;
};

Nearest<long double> sure(std::optional<Nearest<long double>> found) {
  if (!found) throw InternalError("contacts: the dual method did not end");
  return std::move(*found);
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
  row_ = Vector::Ones(motions);
  if (n_ > 0 && motions > 0) {
    const double most = p_.E.rowwise().norm().maxCoeff();
    for (Eigen::Index k = 0; k < motions; ++k) {
      const double length = p_.E.row(k).norm();
      if (length > least_resistance * most) row_(k) = 1 / length;
    }
  }
  const Matrix E = row_.asDiagonal() * p_.E;
  Ps_ = row_.asDiagonal() * p_.P;
  hold_ = E.colwise().norm();
  stiffest_ = n_ > 0 ? hold_.cwiseQuotient(scale_).maxCoeff() : 0.0;
  turn_ = Matrix::Identity(motions, motions);
  if (n_ > 0 && motions > 0) {
    const Eigen::JacobiSVD<Matrix> svd(E, Eigen::ComputeFullU);
    const Vector values = svd.singularValues();
    while (rank_ < values.size() && values(rank_) > least_resistance * values(0)) ++rank_;
    // Turning brings rounding into E. Where motions along the axes are all that is not resisted, as
    // for flat plates, the rows are only sorted.
    const Vector rows = E.rowwise().norm();
    const auto free_row = [&](Eigen::Index k) { return rows(k) <= least_resistance * values(0); };
    int free_rows = 0;
    for (Eigen::Index k = 0; k < motions; ++k) free_rows += free_row(k) ? 1 : 0;
    if (rank_ + free_rows == motions) {
      turn_.setZero();
      Eigen::Index first = 0;
      Eigen::Index last = motions;
      for (Eigen::Index k = 0; k < motions; ++k) turn_(free_row(k) ? --last : first++, k) = 1;
    } else {
      turn_ = svd.matrixU().transpose();
    }
  }
  // In long double, so that a motion that is barely resisted keeps its digits.
  const LongMatrix turn = turn_.cast<long double>() * row_.cast<long double>().asDiagonal();
  const Matrix turned_E = LongMatrix(turn * p_.E.cast<long double>()).cast<double>();
  const Matrix turned_P = LongMatrix(turn * p_.P.cast<long double>()).cast<double>();
  Er_ = turned_E.topRows(rank_);
  Pr_ = turned_P.topRows(rank_);
  Pz_ = turned_P.bottomRows(motions - rank_);
  if (rank_ > 0) {
    const Vector lengths = Er_.rowwise().norm();
    weak_ = lengths.minCoeff() < 1e-3 * lengths.maxCoeff();
  }
  const std::size_t bytes =
      sizeof(double) * std::size_t((2 * n_ + motions) * std::max<Eigen::Index>(loads(), 1)) + 200;
  most_states_ = std::clamp<std::size_t>(most_memory / bytes, 1000, 20000);
  const int one_way = n_ - p_.two_way;
  last_ = one_way == 64 ? ~State{0} : bit(one_way) - 1;  // all closed
}

const Gains* Contacts::gains_of(State state) {
  const auto found = known_.find(state);
  if (found != known_.end()) return found->second.get();
  if (known_.size() < most_states_)
    return known_.emplace(state, make_gains(state)).first->second.get();
  if (!overflow_used_ || overflow_state_ != state) {
    overflow_ = make_gains(state);
    overflow_state_ = state;
    overflow_used_ = true;
  }
  return overflow_.get();
}

std::unique_ptr<Gains> Contacts::make_gains(State state) const {
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
  bool delicate = false;
  if (m > 0) {
    const Eigen::LLT<Matrix> llt(M);
    if (llt.info() != Eigen::Success) throw InternalError("contacts: M is not positive definite");
    Matrix X(m, 0);  // M^-1 E'
    if (rank_ > 0) X = llt.solve(E.transpose());
    const Matrix Y = llt.solve(Q);  // M^-1 Q
    if (rank_ > 0) {
      Matrix S = E * X;
      // Stiffness of the rigid motions, each measured against its own, so that stiff and soft
      // directions do not matter.
      const Vector unit = S.diagonal().cwiseMax(1e-300).cwiseSqrt().cwiseInverse();
      S = unit.asDiagonal() * S * unit.asDiagonal();
      const Eigen::LDLT<Matrix> ldlt(S);
      const double least = ldlt.vectorD().minCoeff();
      holds = least > 1e-13;
      delicate = weak_ || least < 1e-6;
      const auto give = [&](const Matrix& load) -> Matrix {
        return unit.asDiagonal() * ldlt.solve(unit.asDiagonal() * load);
      };
      if (holds) {
        // M s + Q F + E' a = 0 and E s + P F = 0.
        a_resisted = give(Pr_ - E * Y);
        s_closed = -Y - X * a_resisted;
        // One step of refinement of the balance.
        const Matrix da = give(E * s_closed + Pr_);
        a_resisted += da;
        s_closed -= X * da;
        // Large forces of a unit load may cancel when loads act together, their rounding does not.
        const Matrix off = E * s_closed + Pr_;
        const Vector lengths = E.colwise().norm();
        for (Eigen::Index j = 0; j < loads; ++j) {
          const double load = Pr_.col(j).norm();
          const double force = s_closed.col(j).cwiseAbs().cwiseProduct(lengths).maxCoeff();
          const double held = Y.col(j).cwiseAbs().cwiseProduct(lengths).maxCoeff();  // motion held
          const double wrong = off.col(j).norm();
          holds = holds && wrong <= 1e-11 * std::max({load, force, held});
          delicate = delicate || wrong > 1e-13 * (load > 0 ? load : std::max(force, held)) ||
                     (load > 0 && force > 1e3 * std::max(load, held));
        }
      }
    } else {
      s_closed = -Y;
    }
  }
  if (holds) {
    g = std::make_unique<Gains>();
    g->state = state;
    g->delicate = delicate;
    g->s = Matrix::Zero(n_, loads);
    for (Eigen::Index i = 0; i < m; ++i) g->s.row(closed[std::size_t(i)]) = s_closed.row(i);
    g->w = p_.Q;
    g->w.noalias() += p_.M * g->s;
    g->w.noalias() += Er_.transpose() * a_resisted;
    for (Eigen::Index j = 0; j < loads && m > 0; ++j) {
      double opening = 0;
      for (int i = 0; i < n_; ++i) {
        opening =
            std::max({opening, std::abs(g->s(i, j)) * scale_(i), std::abs(g->w(i, j)) / scale_(i)});
      }
      for (const int i : closed) {
        if (std::abs(g->w(i, j)) > 1e-12 * opening * scale_(i)) g->delicate = true;
        g->w(i, j) = 0;
      }
    }
    g->a = row_.asDiagonal() * (turn_.topRows(rank_).transpose() * a_resisted);
    g->both = g->w;
    for (const int i : closed) g->both.row(i) = g->s.row(i);
  }
  return g;
}

bool Contacts::accept(const Gains& g, const Vector& F, double tolerance, Answer& answer,
                      State* violated) const {
  answer.s.resize(n_);
  answer.s.noalias() = g.both * F;
  answer.w.setZero(n_);
  for (int i = p_.two_way; i < n_; ++i) {
    if ((g.state & bit(i - p_.two_way)) == 0) std::swap(answer.s(i), answer.w(i));
  }
  // Forces and openings are measured by the largest of each, brought to one unit by the compliance;
  // forces also by what they do to the balance.
  double force = 0;
  double balance = 0;
  double opening = 0;
  for (int i = 0; i < n_; ++i) {
    const double si = std::abs(answer.s(i));
    force = std::max(force, si * scale_(i));
    balance = std::max(balance, si * hold_(i));
    opening = std::max(opening, std::abs(answer.w(i)) / scale_(i));
  }
  // The rounding of the openings is felt by the forces, more so by the stiffest.
  opening = std::max(opening, force);
  force = -tolerance * std::max(force, 1e-3 * opening);
  balance = -tolerance * std::max(balance, 1e-3 * opening * stiffest_);
  opening *= -tolerance;
  State bad = 0;
  for (int i = p_.two_way; i < n_; ++i) {
    const State b = bit(i - p_.two_way);
    if ((g.state & b) != 0) {
      if (answer.s(i) * scale_(i) < force || answer.s(i) * hold_(i) < balance) bad |= b;
    } else if (answer.w(i) < opening * scale_(i)) {
      bad |= b;
    }
  }
  *violated = bad;
  if (bad != 0) return false;
  for (int i = p_.two_way; i < n_; ++i) {
    answer.s(i) = std::max(answer.s(i), 0.0);
    answer.w(i) = std::max(answer.w(i), 0.0);
  }
  answer.a.noalias() = g.a * F;
  answer.outcome = Outcome::solved;
  answer.gains = kept(&g);
  return true;
}

// Is there a load in the motions that nothing resists?
bool Contacts::slides(const Vector& F, Answer& answer) const {
  if (Pz_.rows() == 0) return false;
  const Vector free_load = Pz_ * F;
  if (free_load.norm() <= edge * (Ps_ * F).norm()) return false;
  answer.outcome = Outcome::mechanism;
  answer.motion = row_.asDiagonal() * (turn_.bottomRows(Pz_.rows()).transpose() * free_load);
  answer.motion /= answer.motion.norm();
  answer.gains = nullptr;
  return true;
}

void Contacts::solve(const Vector& F, Answer& answer) {
  if (F.size() != p_.Q.cols() || !F.allFinite()) {
    throw InternalError("contacts: loads do not fit or are not finite");
  }
  answer.by_pivoting = false;
  answer.flips = 0;
  answer.outcome = Outcome::solved;
  if (slides(F, answer)) return;
  constexpr int most_flips = 12;
  constexpr int most_single = 24;  // beyond it the sure way is cheaper
  State visited[most_flips + 1];
  State state = last_;
  bool single = false;
  for (int flips = 0; flips <= most_flips + most_single; ++flips) {
    const Gains* g = gains_of(state);
    if (g == nullptr) break;
    State violated = 0;
    if (accept(*g, F, slack, answer, &violated)) {
      if (g->delicate && error_of(F, answer) > slack_of_verified) break;
      answer.flips = flips;
      settled(g, state);
      return;
    }
    if (flips == 0 && recent_state(F, answer)) return;
    if (!single) {
      visited[flips] = state;
      const State next = state ^ violated;
      single = flips == most_flips ||
               std::find(visited, visited + flips + 1, next) != visited + flips + 1;
      if (!single) state = next;
    }
    // All at once goes in circles: one at a time, always the first, rarely does.
    if (single) state ^= violated & (~violated + 1);
  }
  if (!quick_state(F, answer)) solve_by_pivoting(F, answer);
}

// The state of least energy in plain double: a guess, taken when its gains confirm it.
bool Contacts::quick_state(const Vector& F, Answer& answer) {
  make_normals();
  const Vector load = Pr_ * F;
  const Vector b = -(quick_root_.transpose() * (p_.Q * F));
  Vector g = Vector::Zero(quick_normals_.cols());
  g.head(rank_) = -load.cwiseQuotient(lengths_.head(rank_).cast<double>());
  const auto nearest = DualMethod<double>(quick_normals_, g, rank_, b).run();
  if (!nearest) return false;
  State state = 0;
  for (int i = p_.two_way; i < n_; ++i) {
    if (!nearest->held[std::size_t(rank_ + i - p_.two_way)]) state |= bit(i - p_.two_way);
  }
  const Gains* gains = gains_of(state);
  State violated = 0;
  if (gains == nullptr || !accept(*gains, F, slack, answer, &violated)) return false;
  if (gains->delicate && error_of(F, answer) > slack_of_verified) return false;
  answer.flips = 1;
  settled(gains, state);
  return true;
}

void Contacts::make_normals() {
  if (normals_.cols() > 0 || n_ == 0) return;
  const int nb = p_.two_way;
  const Eigen::LLT<LongMatrix> llt(p_.M.cast<long double>());
  if (llt.info() != Eigen::Success) throw InternalError("contacts: M is not positive definite");
  root_ = llt.matrixU().solve(LongMatrix::Identity(n_, n_));
  normals_.resize(n_, rank_ + n_ - nb);
  normals_.leftCols(rank_) = root_.transpose() * Er_.transpose().cast<long double>();
  normals_.rightCols(n_ - nb) = root_.transpose().rightCols(n_ - nb);
  lengths_ = normals_.colwise().norm();
  for (Eigen::Index k = 0; k < normals_.cols(); ++k) normals_.col(k) /= lengths_(k);
  quick_root_ = root_.cast<double>();
  quick_normals_ = normals_.cast<double>();
}

// Loads that follow each other come back to states that were met before.
bool Contacts::recent_state(const Vector& F, Answer& answer) {
  for (const Gains* g : recent_) {
    State violated = 0;
    if (g == nullptr || g->state == last_ || !accept(*g, F, slack, answer, &violated)) continue;
    if (g->delicate && error_of(F, answer) > slack_of_verified) continue;
    answer.flips = 1;
    last_ = g->state;
    return true;
  }
  return false;
}

void Contacts::settled(const Gains* g, State state) {
  last_ = state;
  if (kept(g) == nullptr || std::find(recent_.begin(), recent_.end(), g) != recent_.end()) return;
  recent_[next_recent_] = g;
  next_recent_ = (next_recent_ + 1) % recent_.size();
}

// The motion nearest to the load (resisted part) that presses no contact and holds the two-way
// springs still. The load less this motion can be balanced.
Contacts::LongVector Contacts::nearest_motion(const LongVector& load) const {
  LongMatrix N = Er_.cast<long double>();
  const double most = n_ > 0 ? hold_.maxCoeff() : 0.0;
  for (Eigen::Index j = 0; j < N.cols(); ++j) {
    const long double length = N.col(j).norm();
    if (length > 1e-14L * static_cast<long double>(most)) {
      N.col(j) /= length;
    } else {
      N.col(j).setZero();
    }
  }
  const LongVector g = LongVector::Zero(N.cols());
  // A short motion is found once more from itself, to the digits of its own length: with each, the
  // load less the motion is balanced.
  LongVector v = sure(DualMethod<long double>(N, g, p_.two_way, load).run()).y;
  if (v.norm() < 1e-3L * load.norm()) {
    const LongVector rough = v;
    v = sure(DualMethod<long double>(N, g, p_.two_way, rough).run()).y;
  }
  return v;
}

bool Contacts::can_balance(const Vector& F, Vector* motion) const {
  const double size = (Ps_ * F).norm();
  if (size == 0) return true;
  const LongVector load = Pr_.cast<long double>() * F.cast<long double>();
  const Vector free_load = Pz_ * F;
  Vector v(p_.E.rows());
  v.head(rank_) = nearest_motion(load).cast<double>();
  v.tail(free_load.size()) = free_load;
  if (v.norm() <= edge * size) return true;
  if (motion != nullptr) {
    *motion = row_.asDiagonal() * (turn_.transpose() * v);
    *motion /= motion->norm();
  }
  return false;
}

void Contacts::solve_by_pivoting(const Vector& F, Answer& answer) {
  answer.by_pivoting = true;
  answer.gains = nullptr;
  if (slides(F, answer)) return;
  LongVector load = Pr_.cast<long double>() * F.cast<long double>();
  const LongVector motion = nearest_motion(load);
  if (double(motion.norm()) > edge * (Ps_ * F).norm()) {
    answer.outcome = Outcome::mechanism;
    answer.motion = row_.asDiagonal() * (turn_.topRows(rank_).transpose() * motion.cast<double>());
    answer.motion /= answer.motion.norm();
    return;
  }
  load -= motion;
  State closed = 0;
  least_energy(F, load, answer, &closed);
  // The same state by its gains, to keep them for the next load.
  const Gains* g = gains_of(closed);
  Answer again;
  State violated = 0;
  if (g != nullptr && accept(*g, F, slack_of_verified, again, &violated) &&
      error_of(F, again) <= slack_of_verified) {
    again.by_pivoting = true;
    last_ = closed;
    answer = std::move(again);
    return;
  }
  if (!(error_of(F, answer) <= worst_error)) {
    throw InternalError("contacts: the forces found do not balance the loads");
  }
}

// Least energy  s' M s / 2 + s' Q F  with  E s + load = 0  and s >= 0.
void Contacts::least_energy(const Vector& F, const LongVector& load, Answer& answer,
                            State* closed) {
  const int nb = p_.two_way;
  make_normals();
  const LongVector q = p_.Q.cast<long double>() * F.cast<long double>();
  LongVector g = LongVector::Zero(normals_.cols());
  g.head(rank_) = -load.cwiseQuotient(lengths_.head(rank_));
  const LongVector b = -(root_.transpose() * q);
  const auto nearest = sure(DualMethod<long double>(normals_, g, rank_, b).run());

  LongVector s = root_ * nearest.y;
  const LongVector a = -nearest.u.head(rank_).cwiseQuotient(lengths_.head(rank_));
  *closed = 0;
  for (int i = nb; i < n_; ++i) {
    const bool open = nearest.held[std::size_t(rank_ + i - nb)];
    if (!open) *closed |= bit(i - nb);
    s(i) = open ? 0.0L : std::max(s(i), 0.0L);
  }
  const LongVector w = q + p_.M.cast<long double>() * s + Er_.transpose().cast<long double>() * a;
  answer.s = s.cast<double>();
  answer.w = w.cast<double>();
  for (int i = 0; i < n_; ++i) {
    if (i < nb || (*closed & bit(i - nb)) != 0) answer.w(i) = 0;
    answer.w(i) = std::max(answer.w(i), 0.0);
  }
  answer.a = LongVector(row_.cast<long double>().asDiagonal() *
                        (turn_.topRows(rank_).transpose().cast<long double>() * a))
                 .cast<double>();
  answer.outcome = Outcome::solved;
}

double Contacts::error_of(const Vector& F, const Answer& answer) const {
  const LongVector f = F.cast<long double>();
  const LongVector s = answer.s.cast<long double>();
  const LongVector load = Ps_.cast<long double>() * f;
  const LongVector motion = p_.E.transpose().cast<long double>() * answer.a.cast<long double>();
  const Vector w =
      (p_.Q.cast<long double>() * f + p_.M.cast<long double>() * s + motion).cast<double>();
  double force = 0;
  double opening = 0;
  double terms = 0;
  double size = double(load.norm());
  for (int i = 0; i < n_; ++i) {
    force = std::max(force, std::abs(answer.s(i)) * scale_(i));
    size = std::max(size, std::abs(answer.s(i)) * hold_(i));
    opening = std::max(opening, std::abs(w(i)) / scale_(i));
    terms = std::max(terms, p_.E.col(i).cwiseAbs().dot(answer.a.cwiseAbs()) / scale_(i));
  }
  terms = std::max({terms, opening, force});
  opening = std::max({opening, force, 1e-6 * terms});
  force = std::max(force, 1e-6 * terms);
  size = std::max(size, 1e-6 * terms * stiffest_);
  const LongVector off =
      row_.cast<long double>().asDiagonal() * (p_.E.cast<long double>() * s) + load;
  double error = size > 0 ? double(off.norm()) / size : 0.0;
  for (int i = 0; i < n_ && opening > 0; ++i) {
    const double wi = w(i) / scale_(i) / opening;
    const double si = force > 0 ? answer.s(i) * scale_(i) / force : 0.0;
    error = std::max(error, i < p_.two_way
                                ? std::abs(wi)
                                : std::max({-wi, -si, std::min(std::abs(wi), std::abs(si))}));
  }
  return error;
}

}  // namespace thole::one_way
