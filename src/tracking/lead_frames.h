// SPDX-License-Identifier: Apache-2.0
/// \file lead_frames.h
/// The frames that view and look are found from.
#pragma once

#include "tracking/arm_crops.h"
#include "tracking/arm_tag.h"

#include <vector>

namespace swingloss {

/// Frames spread evenly over all directions of the arm, the stillest of each first. More of the
/// same direction tell nothing new of the view: their errors (light, sides, shadow) are alike.
/// So the cost of finding the view does not grow with the clip. \return indices, ascending; all
/// of them where the clip is short
[[nodiscard]] std::vector<std::size_t> lead_frames(const std::vector<ArmCrop>& crops);

/// The clip with some of its frames. \param which  indices, ascending
[[nodiscard]] std::vector<ArmCrop> only(const std::vector<ArmCrop>& crops,
                                        const std::vector<std::size_t>& which);

/// The tag in those frames, numbered as they are in the shorter clip.
[[nodiscard]] ArmTag only(const ArmTag& tag, const std::vector<std::size_t>& which);

}  // namespace swingloss
