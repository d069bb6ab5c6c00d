// SPDX-License-Identifier: Apache-2.0
/// \file arm_in_picture.h
/// Where a picture of the clip shows the arm, for drawing it there.
#pragma once

#include "series/swing_record.h"

#include <optional>

#include <Eigen/Core>

namespace swingloss {

/// The arm in one picture. Pixels as in imaging/frame_source.h.
struct ArmInPicture {
  std::optional<double> fitted_rad;  ///< angle of the law at the picture's time, from rest;
                                     ///< absent outside the fit, and in touch with the bar
                                     ///< where the angle was tracked
  std::optional<double>
      measured_rad;  ///< angle tracked in this picture, from rest; absent where there is none
  std::optional<Eigen::Vector2d>
      end_px;  ///< where the fitted (else the measured) angle puts the arm's end; where hanging
               ///< rest is not known, neither angle is there and this is as tracked
};

/// \param frame     index of the picture in the clip
/// \param t_s       its time
/// \param in_touch  the bar touches the arm, which the law does not know: measured goes first
[[nodiscard]] ArmInPicture arm_in_picture(const SwingRecord& record,
                                          int frame,
                                          double t_s,
                                          bool in_touch);

}  // namespace swingloss
