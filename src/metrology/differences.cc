// SPDX-License-Identifier: Apache-2.0
#include "metrology/differences.h"

#include "core/expects.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>

namespace swingloss {
namespace {

using VectorFunction = std::function<Eigen::VectorXd(const Eigen::VectorXd&)>;

constexpr int kLevels = 6;
// Error of the second extrapolation ~ (step)^6, rounding ~ 1e-16 / step: both near 1e-13.
constexpr double kFirstStep = 4e-3;
constexpr double kGoodEnough = 1e-11;

double size_of(const Eigen::VectorXd& v) {
  return v.size() == 0 ? 0.0 : v.lpNorm<Eigen::Infinity>();
}

Eigen::VectorXd central(const VectorFunction& f,
                        Eigen::VectorXd x,
                        Eigen::Index parameter,
                        double step) {
  const double centre = x[parameter];
  const double above = centre + step;
  const double below = centre - step;
  x[parameter] = above;
  const Eigen::VectorXd f_above = f(x);
  x[parameter] = below;
  // Divided by the difference as rounded, not as wanted.
  return (f_above - f(x)) / (above - below);
}

/// The largest step not above `step` at which `f` is defined on both sides, tried by quarters.
Eigen::VectorXd first_defined(const VectorFunction& f,
                              const Eigen::VectorXd& x,
                              Eigen::Index parameter,
                              double& step) {
  Eigen::VectorXd slope = central(f, x, parameter, step);
  for (int i = 0; i < 8 && !slope.allFinite(); ++i) {
    step /= 4.0;
    slope = central(f, x, parameter, step);
  }
  return slope;
}

/// Ridders' table: row k of extrapolations from steps h, h/2, ..., h/2^k.
Eigen::VectorXd column(const VectorFunction& f,
                       const Eigen::VectorXd& x,
                       Eigen::Index parameter,
                       double step) {
  std::array<Eigen::VectorXd, kLevels> before;
  before[0] = first_defined(f, x, parameter, step);
  if (!before[0].allFinite()) return before[0] * std::numeric_limits<double>::quiet_NaN();
  Eigen::VectorXd best = before[0];
  double best_error = std::numeric_limits<double>::infinity();
  for (std::size_t level = 1; level < kLevels; ++level) {
    step /= 2.0;
    std::array<Eigen::VectorXd, kLevels> now;
    now[0] = central(f, x, parameter, step);
    double factor = 4.0;
    for (std::size_t order = 1; order <= level; ++order, factor *= 4.0) {
      now[order] = now[order - 1] + (now[order - 1] - before[order - 1]) / (factor - 1.0);
    }
    const double error =
        std::max(size_of(now[level] - now[level - 1]), size_of(now[level] - before[level - 1]));
    if (error < best_error) {
      best_error = error;
      best = now[level];
    }
    const bool getting_worse = size_of(now[level] - before[level - 1]) > 2.0 * best_error;
    if (best_error <= kGoodEnough * size_of(best) || getting_worse) break;
    before = now;
  }
  return best;
}

}  // namespace

Eigen::MatrixXd numeric_jacobian(const VectorFunction& f,
                                 const Eigen::VectorXd& x,
                                 const Eigen::VectorXd& scale) {
  expects(scale.size() == x.size(), "differences need one scale for each parameter");
  expects(x.allFinite() && (scale.array() > 0.0).all(),
          "differences need a finite point and scales above 0");
  Eigen::MatrixXd jacobian;
  for (Eigen::Index i = 0; i < x.size(); ++i) {
    const double step = kFirstStep * std::max(scale[i], std::abs(x[i]));
    const Eigen::VectorXd slope = column(f, x, i, step);
    if (i == 0) jacobian.resize(slope.size(), x.size());
    jacobian.col(i) = slope;
  }
  return jacobian;
}

}  // namespace swingloss
