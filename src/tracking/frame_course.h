// SPDX-License-Identifier: Apache-2.0
/// \file frame_course.h
/// Where a frame's neighbours say that the arm is.
#pragma once

#include "tracking/arm_crops.h"

#include <optional>
#include <vector>

namespace swingloss {

/// Parabola through up to four trusted neighbours on either side, at the frame's own time.
/// \param theta_rad,trusted  one a crop; the frame itself is not asked
/// \return [rad]; nothing where fewer than five neighbours, or those of one side, are trusted
[[nodiscard]] std::optional<double> course_rad(const std::vector<ArmCrop>& crops,
                                               const std::vector<double>& theta_rad,
                                               const std::vector<bool>& trusted,
                                               std::size_t k);

}  // namespace swingloss
