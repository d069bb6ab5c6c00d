// SPDX-License-Identifier: Apache-2.0
/// \file tilt_start.h
/// Which way the camera roughly looks at the swing. Internal to tracking.
#pragma once

#include "core/result.h"
#include "tracking/refine_stage.h"

#include <optional>
#include <vector>

namespace swingloss {

/// The tilt that the refinement of `start` should begin with. From a camera far off square some
/// of the arm's outlines are those of its far side, and which ones follows from the tilt: begun
/// at square, clips 13 degrees off settled at 9, or at the mirrored tilt, with the wrong
/// outlines believed and angles 0.6 degrees off and more. So some of the frames are tried from
/// square and from six tilts about it: all in soft pictures, where the pixels' misfit tells
/// poor tries, then the best in sharp ones, where what is kept is the one whose cells
/// contradict its view least (half as much as in the others, on rendered clips far off square).
///
/// \param crops  that lead \param start  with its view (square), angles and tag
/// \return the start's view with that tilt; nothing where it is within its own doubt (short
/// arcs: a hammer that is thrown back), or where no try held in sharp pictures: start at square
/// then. Failure: that of the soft rounds from square
[[nodiscard]] Result<std::optional<SwingView>> tilt_start(const std::vector<ArmCrop>& crops,
                                                          const cv::Mat& background,
                                                          const RefinedArm& start);

}  // namespace swingloss
