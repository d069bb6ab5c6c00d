// SPDX-License-Identifier: Apache-2.0
#include "metrology/differences.h"

#include "support/test.h"

#include <cmath>

using namespace swingloss;

namespace {

Eigen::VectorXd curves(const Eigen::VectorXd& x) {
  return Eigen::Vector3d(std::sin(x[0]) * x[1], std::exp(x[0] * x[1]), x[1] * x[1] * x[1]);
}

Eigen::MatrixXd slopes_of_curves(const Eigen::VectorXd& x) {
  Eigen::MatrixXd slopes(3, 2);
  slopes << std::cos(x[0]) * x[1], std::sin(x[0]),                 //
      x[1] * std::exp(x[0] * x[1]), x[0] * std::exp(x[0] * x[1]),  //
      0.0, 3.0 * x[1] * x[1];
  return slopes;
}

}  // namespace

TEST_CASE("numeric_jacobian agrees with the closed form", "[metrology]") {
  // Promised in the header: 1e-11 of the largest entry of the column; twice that for a column
  // that stops exactly there.
  for (const Eigen::Vector2d& x :
       {Eigen::Vector2d(0.7, 1.3), Eigen::Vector2d(-2.0, 0.01), Eigen::Vector2d(0.0, 5.0)}) {
    CAPTURE(x.transpose());
    const Eigen::MatrixXd found = numeric_jacobian(curves, x, Eigen::Vector2d(0.1, 0.1));
    const Eigen::MatrixXd wanted = slopes_of_curves(x);
    for (Eigen::Index i = 0; i < 2; ++i) {
      const double largest = wanted.col(i).cwiseAbs().maxCoeff();
      CHECK_THAT((found - wanted).col(i).cwiseAbs().maxCoeff(),
                 test::to_truncation(0.0, 2e-11 * largest));
    }
  }
}

TEST_CASE("numeric_jacobian survives a scale a thousand times too wide", "[metrology]") {
  // The step is halved five times at most: 4 * 2^-5 rad is the last one, extrapolated.
  const auto wave = [](const Eigen::VectorXd& x) {
    return Eigen::VectorXd::Constant(1, std::sin(x[0]));
  };
  const Eigen::VectorXd x = Eigen::VectorXd::Constant(1, 0.4);
  const Eigen::MatrixXd slope = numeric_jacobian(wave, x, Eigen::VectorXd::Constant(1, 1e2));
  CHECK_THAT(slope(0, 0), test::to_truncation(std::cos(0.4), 1e-10));
}

TEST_CASE("numeric_jacobian shortens its step at the edge of the model", "[metrology]") {
  // Square root beside 0: undefined within the first step, smooth on a scale of 1e-4. The slope
  // 1 / (2 sqrt x) is 50; the promised 1e-11 relative with room for a step of x / 4.
  const auto root = [](const Eigen::VectorXd& x) {
    return Eigen::VectorXd::Constant(1, std::sqrt(x[0]));
  };
  const Eigen::VectorXd x = Eigen::VectorXd::Constant(1, 1e-4);
  const Eigen::MatrixXd slope = numeric_jacobian(root, x, Eigen::VectorXd::Constant(1, 1.0));
  CHECK_THAT(slope(0, 0), test::to_truncation(50.0, 50.0 * 1e-8));
}

TEST_CASE("numeric_jacobian says NaN where there is no model at all", "[metrology]") {
  const auto nowhere = [](const Eigen::VectorXd&) {
    return Eigen::VectorXd::Constant(2, std::nan(""));
  };
  const Eigen::VectorXd x = Eigen::VectorXd::Constant(1, 1.0);
  CHECK(numeric_jacobian(nowhere, x, x).array().isNaN().all());
}
