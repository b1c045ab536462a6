#pragma once

/// A small dense linear programme. Numeric kernel, private to the core.

#include <Eigen/Core>

namespace thole::linear_program {

enum class Result { optimal, unbounded, infeasible };

/// max c'x, A x = b, 0 <= x: two-phase simplex with Bland's rule, which ends after finitely many
/// steps. Rows are scaled inside; for tens of rows and columns.
Result maximise(const Eigen::VectorXd& c, const Eigen::MatrixXd& A, const Eigen::VectorXd& b,
                Eigen::VectorXd* x);

}  // namespace thole::linear_program
