// SPDX-License-Identifier: Apache-2.0
/// \file drawn_crops.h
/// The drawn bar's clip as the trackers take it, and the view that it was drawn in.
#pragma once

#include "tracking/arm_crops.h"
#include "tracking/drawn_bar.h"
#include "view/swing_view.h"

#include <vector>

namespace swingloss::test {

/// Whole pictures at 60 a second, each with its true direction.
inline std::vector<ArmCrop> drawn_crops() {
  const std::vector<double> true_deg = swing_deg();
  const std::vector<cv::Mat> pictures = bar_clip();
  std::vector<ArmCrop> crops;
  for (std::size_t k = 0; k < pictures.size(); ++k) {
    ArmCrop crop;
    crop.frame = int(k);
    crop.t_s = double(k) / 60.0;
    crop.theta_rad = Angle::from_deg(true_deg[k]).rad();
    crop.luma = pictures[k];
    crops.push_back(crop);
  }
  return crops;
}

/// Without perspective.
inline SwingView drawn_view() {
  SwingView view;
  view.axle_px = {bar_axle_px().x, bar_axle_px().y};
  view.principal_px = {199.5, 149.5};
  view.focal_px = 1e6;
  return view;
}

}  // namespace swingloss::test
