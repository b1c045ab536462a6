#include "core/linear_program.hpp"

#include <cmath>
#include <vector>

#include <thole/error.hpp>

namespace thole::linear_program {

namespace {

constexpr double small = 1e-11;

// Tableau rows: A x = b with the basis made unit; the last column is b.
Result run(Eigen::MatrixXd& t, std::vector<int>& basis, Eigen::VectorXd cost, int columns) {
  // Reduced costs.
  for (Eigen::Index i = 0; i < t.rows(); ++i) {
    const double c = cost(basis[std::size_t(i)]);
    if (c != 0) cost -= c * t.row(i).head(cost.size()).transpose();
  }
  for (long step = 0; step < 100000; ++step) {
    int enter = -1;
    for (int j = 0; j < columns && enter < 0; ++j) {
      if (cost(j) > 1e-10) enter = j;
    }
    if (enter < 0) return Result::optimal;
    Eigen::Index leave = -1;
    double least = 0;
    for (Eigen::Index i = 0; i < t.rows(); ++i) {
      if (t(i, enter) <= small) continue;
      const double ratio = t(i, t.cols() - 1) / t(i, enter);
      if (leave < 0 || ratio < least - 1e-14 ||
          (ratio <= least + 1e-14 && basis[std::size_t(i)] < basis[std::size_t(leave)])) {
        leave = i;
        least = ratio;
      }
    }
    if (leave < 0) return Result::unbounded;
    t.row(leave) /= t(leave, enter);
    for (Eigen::Index i = 0; i < t.rows(); ++i) {
      if (i != leave && t(i, enter) != 0) t.row(i) -= t(i, enter) * t.row(leave);
    }
    cost -= cost(enter) * t.row(leave).head(cost.size()).transpose();
    basis[std::size_t(leave)] = enter;
  }
  throw InternalError("linear programme: did not end");
}

}  // namespace

Result maximise(const Eigen::VectorXd& c, const Eigen::MatrixXd& A, const Eigen::VectorXd& b,
                Eigen::VectorXd* x) {
  const Eigen::Index m = A.rows();
  const Eigen::Index n = A.cols();
  Eigen::MatrixXd t = Eigen::MatrixXd::Zero(m, n + m + 1);
  std::vector<int> basis;
  for (Eigen::Index i = 0; i < m; ++i) {
    double size = A.row(i).cwiseAbs().maxCoeff();
    if (size == 0) size = 1;
    const double sign = b(i) < 0 ? -1 / size : 1 / size;
    t.row(i).head(n) = sign * A.row(i);
    t(i, n + i) = 1;
    t(i, n + m) = sign * b(i);
    basis.push_back(int(n + i));
  }
  Eigen::VectorXd phase1 = Eigen::VectorXd::Zero(n + m);
  phase1.tail(m).setConstant(-1);
  (void)run(t, basis, phase1, int(n + m));
  double left = 0;
  for (Eigen::Index i = 0; i < m; ++i) {
    if (basis[std::size_t(i)] >= n) left += t(i, n + m);
  }
  if (left > 1e-9 * (1 + t.col(n + m).cwiseAbs().maxCoeff())) return Result::infeasible;
  // Artificial variables at zero leave the basis, or their rows are redundant.
  for (Eigen::Index i = 0; i < m; ++i) {
    if (basis[std::size_t(i)] < n) continue;
    for (Eigen::Index j = 0; j < n; ++j) {
      if (std::abs(t(i, j)) > 1e-9) {
        t.row(i) /= t(i, j);
        for (Eigen::Index k = 0; k < m; ++k) {
          if (k != i) t.row(k) -= t(k, j) * t.row(i);
        }
        basis[std::size_t(i)] = int(j);
        break;
      }
    }
  }
  Eigen::VectorXd phase2 = Eigen::VectorXd::Zero(n + m);
  phase2.head(n) = c;
  const Result result = run(t, basis, phase2, int(n));
  if (x != nullptr) {
    *x = Eigen::VectorXd::Zero(n);
    for (Eigen::Index i = 0; i < m; ++i) {
      if (basis[std::size_t(i)] < n) (*x)(basis[std::size_t(i)]) = t(i, n + m);
    }
  }
  return result;
}

}  // namespace thole::linear_program
