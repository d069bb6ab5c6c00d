// SPDX-License-Identifier: Apache-2.0
/// \file learn_row.h
/// From frames laid upon each other to what the arm looks like, a row of the template at a
/// time. Internal to tracking.
#pragma once

#include <vector>

#include <opencv2/core.hpp>

namespace swingloss {

/// One frame resampled into body axes: CV_32FC1 of the template's size, in light.
struct AlignedFrame {
  cv::Mat seen, background;
  cv::Mat weight;  ///< how far each pixel is to be believed; 0 outside the frame's crop
};

/// What is learnt: CV_32FC1 of the template's size, in light. What no frame shows stays.
struct LearntLook {
  cv::Mat& ink;     ///< light times cover
  cv::Mat& cover;   ///< 0..1
  cv::Mat& opaque;  ///< what the ink would be if the pixel were covered
};

/// Robust regression of each pixel of one row over the frames:
///
///   seen - background = ink - cover * background
///
/// A pixel for which the background never varies has its cover from how far it differs.
/// \param frames  one or more
void learn_row(const std::vector<AlignedFrame>& frames, int row, const LearntLook& look);

}  // namespace swingloss
