// SPDX-License-Identifier: Apache-2.0
/// \file learn_template.h
/// From aligned frames to the arm's look.
#pragma once

#include "tracking/body_template.h"

#include <vector>

namespace swingloss {

/// What the look is learnt from. Keeps references.
struct LearningScene {
  const std::vector<ArmCrop>& crops;
  const std::vector<double>& theta_rad;  ///< one a crop, current best
  const SwingView& view;
  const cv::Mat& background;  ///< full-size, light
  double exposure_s = 0.0;    ///< frames whose blur exceeds a few pixels are left out
};

/// Learns ink and cover into a copy of the layout.
BodyTemplate learn_template(const BodyTemplate& layout, const LearningScene& scene);

/// The same look seen through a blur. \param smooth_px  its standard deviation, > 0
BodyTemplate softened(const BodyTemplate& body, double smooth_px);

}  // namespace swingloss
