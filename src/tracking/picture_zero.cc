// SPDX-License-Identifier: Apache-2.0
#include "tracking/picture_zero.h"

#include "core/angle.h"
#include "core/expects.h"
#include "core/median.h"

#include <cmath>

namespace swingloss {
namespace {

/// Direction from the axle to a place in the picture, as theta has it at no tilt.
double direction_rad(const SwingView& view, const Eigen::Vector2d& px) {
  const Eigen::Vector2d along = px - view.axle_px;
  return std::atan2(along.x(), along.y());
}

}  // namespace

double turn_to_arm_rad(const std::vector<ArmCrop>& crops,
                       const SwingView& coarse,
                       const SwingView& fine,
                       const std::vector<double>& theta_rad,
                       double arm_length_px) {
  expects(!crops.empty() && crops.size() == theta_rad.size(), "turn_to_arm_rad: sizes differ");
  const Eigen::Vector3d end(0.0, arm_length_px, 0.0);
  std::vector<double> turns_rad;
  for (std::size_t k = 0; k < crops.size(); ++k) {
    const double seen_rad =
        direction_rad(fine, coarse.project(swing_from_body(end, crops[k].theta_rad)));
    const double drawn_rad =
        direction_rad(fine, fine.project(swing_from_body(end, theta_rad[k])));
    turns_rad.push_back(std::remainder(seen_rad - drawn_rad, 2.0 * kPi));
  }
  return median_of(turns_rad);
}

}  // namespace swingloss
