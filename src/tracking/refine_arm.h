// SPDX-License-Identifier: Apache-2.0
/// \file refine_arm.h
/// From a degree to hundredths: look, view and angles of the arm found together.
#pragma once

#include "core/result.h"
#include "tracking/arm_crops.h"
#include "tracking/refine_stage.h"

#include <vector>

namespace swingloss {

struct RefineOptions {
  bool use_dots = true;  ///< give round dots cells of their own
  bool use_tag = true;   ///< look for a tag on the arm
  /// Fit how fast the camera reads a picture; a short arc does not tell it.
  bool find_readout = true;
  CameraCurve curve;  ///< of the clip
};

/// Alternates three steps: learn the arm's look from the aligned frames; register its cells in
/// every frame; fit view, cells and angles to all sightings at once (view/single_axis_fit.h).
/// Early rounds work on smoothed pictures so that a start a few pixels off still pulls; they
/// hold the tilt at the best of several (tilt_start.h). Of a long clip, the leading frames find
/// view and look (lead_frames.h); the others are followed, and all take part in the last round.
///
/// \return the arm, or Failure "no-arm-texture" (nothing on it that could be followed) or that
/// of the fit
Result<RefinedArm> refine_arm(const std::vector<ArmCrop>& crops,
                              const cv::Mat& background,
                              const SwingView& start,
                              const BodyExtent& extent,
                              const RefineOptions& options = {});

}  // namespace swingloss
