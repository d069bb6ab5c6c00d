// SPDX-License-Identifier: Apache-2.0
/// \file refine_arm.h
/// From a degree to hundredths: look, view and angles of the arm found together.
#pragma once

#include "core/result.h"
#include "tracking/arm_crops.h"
#include "tracking/arm_tag.h"
#include "tracking/body_template.h"
#include "view/single_axis_fit.h"

#include <vector>

namespace swingloss {

struct RefineOptions {
  bool use_dots = true;  ///< give round dots cells of their own
  bool use_tag = true;   ///< look for a tag on the arm
  CameraCurve curve;     ///< of the clip
};

/// The refined arm.
struct RefinedArm {
  SingleAxisFit fit;  ///< theta, u, doubts: one entry a crop
  BodyTemplate body;
  std::optional<ArmTag> tag;  ///< read on the arm
  double exposure_s = 0.0;    ///< found from the blur, once exposure_known
  bool exposure_known = false;
  double noise_levels = 0.0;        ///< typical misfit of a pixel
  std::vector<double> frame_score;  ///< 0..1 a crop: how far its pixels agree with the arm
};

/// Alternates three steps: learn the arm's look from the aligned frames; register its cells in
/// every frame; fit view, cells and angles to all sightings at once (view/single_axis_fit.h).
/// Early rounds work on smoothed pictures so that a start a few pixels off still pulls. Of a
/// long clip, the leading frames find view and look (lead_frames.h); the others are followed,
/// and all take part in the last round.
///
/// \return the arm, or Failure "no-arm-texture" (nothing on it that could be followed) or that
/// of the fit
Result<RefinedArm> refine_arm(const std::vector<ArmCrop>& crops,
                              const cv::Mat& background,
                              const SwingView& start,
                              const BodyExtent& extent,
                              const RefineOptions& options = {});

}  // namespace swingloss
