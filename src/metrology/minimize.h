// SPDX-License-Identifier: Apache-2.0
/// \file minimize.h
/// The descent inside least_squares.h: from a start to a point from which the sum of squares
/// falls no further.
#pragma once

#include <functional>
#include <string>

#include <Eigen/Core>

namespace swingloss {

/// A vector of residuals and its slope, as functions of the parameters. Entries that are not
/// finite mark points where there is no model; the descent turns back from them.
struct SquaresToMinimize {
  std::function<Eigen::VectorXd(const Eigen::VectorXd&)> residuals;
  std::function<Eigen::MatrixXd(const Eigen::VectorXd&)> jacobian;
};

struct DescentOptions {
  int max_iterations = 500;
  /// How far the first step may go, relative to where the slope alone would lead it. 1e4 hardly
  /// holds it back; 1e-4 creeps.
  double first_trust_radius = 1e4;
};

/// Where the descent ended. Not yet a proof of a minimum: least_squares() judges that.
struct DescentEnd {
  Eigen::VectorXd x;
  int iterations = 0;
  std::string reason;  ///< in words
};

/// Levenberg-Marquardt with a trust region, each parameter scaled by its own effect.
/// \param start  residuals finite there
[[nodiscard]] DescentEnd descend(const SquaresToMinimize& squares,
                                 const Eigen::VectorXd& start,
                                 const DescentOptions& options);

}  // namespace swingloss
