// SPDX-License-Identifier: Apache-2.0
/// \file tilt_start.h
/// View and look of the arm from some of the frames. Internal to tracking.
#pragma once

#include "core/result.h"
#include "tracking/refine_stage.h"

#include <cstddef>
#include <optional>
#include <vector>

namespace swingloss {

/// The arm as some of the frames show it.
struct TiltedStart {
  RefinedArm arm;
  std::vector<std::size_t> frames;  ///< which of the crops, in order
};

/// Where the refinement of `start` should begin. From a camera far off square some of the arm's
/// outlines are those of its far side, and which ones follows from the tilt: begun at square,
/// clips 13 degrees off settled at 9, or at the mirrored tilt, with the wrong outlines believed
/// and angles 0.6 degrees off and more. So some of the frames are tried from the start and from
/// six tilts about it: all in soft pictures, where the pixels' misfit tells poor tries, then
/// the best in sharp ones, where what is kept is the one whose cells contradict its view least
/// (half as much as in the others, on rendered clips far off square).
///
/// \param crops  that lead \param start  with its view (square, or as a coarse look has it),
/// angles and tag \return the best try; that from the start where the best one's tilt lies as
/// near to it as its own doubt (short arcs: a hammer that is thrown back); nothing where that
/// one does not hold in sharp pictures. Failure: that of the soft rounds from the start
[[nodiscard]] Result<std::optional<TiltedStart>> tilt_start(const std::vector<ArmCrop>& crops,
                                                            const cv::Mat& background,
                                                            const RefinedArm& start);

}  // namespace swingloss
