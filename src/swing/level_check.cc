// SPDX-License-Identifier: Apache-2.0
#include "swing/level_check.h"

#include <algorithm>
#include <cmath>

namespace swingloss {

double contradiction(const Explained& e, const FitLevel& level) {
  Eigen::VectorXd by = Eigen::VectorXd::Zero(e.fit.parameters.size());
  by[ParameterPlaces::kZero] = 1.0;
  if (level.piece >= 0) by[e.places().amplitude(static_cast<std::size_t>(level.piece))] = 1.0;
  if (level.shape_rad.size() > 0) by.tail(e.places().doubts) = level.shape_rad;
  const double variance = std::max(by.dot(e.fit.covariance * by), by.dot(e.fit.tracking * by));
  return std::abs(level.theta_rad - by.dot(e.fit.parameters)) /
         std::sqrt(level.u_rad * level.u_rad + variance);
}

double dead_band_rad(const Explained& e) {
  const Eigen::Index dry = ParameterPlaces::kLaw;
  return e.fit.parameters[dry] + 2.0 * std::sqrt(e.fit.covariance(dry, dry));
}

}  // namespace swingloss
