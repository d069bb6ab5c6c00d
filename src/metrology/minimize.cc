// SPDX-License-Identifier: Apache-2.0
#include "metrology/minimize.h"

#include <ceres/ceres.h>

namespace swingloss {
namespace {

using Eigen::Index;
using Eigen::MatrixXd;
using Eigen::VectorXd;

/// All residuals as one block of one parameter block.
class OneBlock : public ceres::CostFunction {
 public:
  OneBlock(const SquaresToMinimize& squares, Index residuals, Index parameters)
      : squares_(squares) {
    set_num_residuals(static_cast<int>(residuals));
    mutable_parameter_block_sizes()->push_back(static_cast<int>(parameters));
  }

  bool Evaluate(double const* const* parameters,
                double* residuals,
                double** jacobians) const override {
    const Index n = parameter_block_sizes().front();
    const VectorXd x = Eigen::Map<const VectorXd>(parameters[0], n);
    const VectorXd value = squares_.residuals(x);
    if (value.size() != num_residuals() || !value.allFinite()) return false;
    Eigen::Map<VectorXd>(residuals, num_residuals()) = value;
    if (jacobians == nullptr || jacobians[0] == nullptr) return true;
    const MatrixXd by_rows = squares_.jacobian(x).transpose();
    Eigen::Map<MatrixXd>(jacobians[0], n, num_residuals()) = by_rows;
    return by_rows.allFinite();
  }

 private:
  const SquaresToMinimize& squares_;
};

std::string words_for(ceres::TerminationType type) {
  switch (type) {
    case ceres::CONVERGENCE:
      return "no further decrease";
    case ceres::NO_CONVERGENCE:
      return "limit of steps reached";
    default:
      return "no step led to a better point";
  }
}

}  // namespace

DescentEnd descend(const SquaresToMinimize& squares,
                   const VectorXd& start,
                   const DescentOptions& options) {
  DescentEnd end;
  end.x = start;
  ceres::Problem problem;
  const Index residuals = squares.residuals(start).size();
  problem.AddResidualBlock(
      new OneBlock(squares, residuals, start.size()), nullptr, end.x.data());
  ceres::Solver::Options solver;
  solver.logging_type = ceres::SILENT;
  solver.linear_solver_type = ceres::DENSE_QR;
  solver.num_threads = 1;
  solver.max_num_iterations = options.max_iterations;
  solver.max_num_consecutive_invalid_steps = 20;
  solver.initial_trust_region_radius = options.first_trust_radius;
  // Down to rounding: a long valley is left early otherwise. Only the decrease decides; the
  // size of gradient and step depend on the units of the parameters.
  solver.function_tolerance = 1e-15;
  solver.parameter_tolerance = 1e-15;
  solver.gradient_tolerance = 1e-300;
  ceres::Solver::Summary summary;
  ceres::Solve(solver, &problem, &summary);
  end.iterations = static_cast<int>(summary.iterations.size());
  end.reason = words_for(summary.termination_type);
  return end;
}

}  // namespace swingloss
