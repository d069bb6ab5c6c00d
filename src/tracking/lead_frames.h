// SPDX-License-Identifier: Apache-2.0
/// \file lead_frames.h
/// The frames that view and look are found from.
#pragma once

#include "tracking/arm_crops.h"

#include <vector>

namespace swingloss {

/// Frames spread over all directions of the arm, the stillest of each first. More of the same
/// direction tell nothing new of the view: their errors (light, sides, shadow) are alike. So
/// the cost of finding the view does not grow with the clip. \return indices, ascending; all of
/// them where the clip is short
[[nodiscard]] std::vector<std::size_t> lead_frames(const std::vector<ArmCrop>& crops);

}  // namespace swingloss
