// SPDX-License-Identifier: Apache-2.0
/// \file picture_zero.h
/// Which direction of the body is drawn as the arm.
#pragma once

#include "tracking/arm_crops.h"
#include "view/swing_view.h"

#include <vector>

namespace swingloss {

/// A fit of the view knows the body's directions but for a common turn, and on a short arc it
/// may slide the axle by some pixels. The turn asked for is the one that, in the median
/// picture, brings the arm's drawn end to where the coarse look saw it.
/// \param crops      with their coarse directions, about the axle of `coarse`
/// \param theta_rad  of the fit, one a crop
/// \return to be added to every theta [rad]
[[nodiscard]] double turn_to_arm_rad(const std::vector<ArmCrop>& crops,
                                     const SwingView& coarse,
                                     const SwingView& fine,
                                     const std::vector<double>& theta_rad,
                                     double arm_length_px);

}  // namespace swingloss
