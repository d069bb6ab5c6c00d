// SPDX-License-Identifier: Apache-2.0
/// \file clip_survey.h
/// One pass over a clip at reduced size: what stands still, what moves, and when.
#pragma once

#include "core/remark.h"
#include "imaging/frame_source.h"

#include <cstddef>
#include <vector>

#include <opencv2/core.hpp>

namespace swingloss {

/// A clip at reduced size with its still background. "Small" pixels are `shrink` full ones
/// wide. Of a long clip only as many small pictures are kept as there is room for, in runs of
/// consecutive frames (kept_pictures.h).
struct ClipSurvey {
  ClipInfo info;
  int shrink = 1;
  std::vector<double> t_s;     ///< one entry a frame
  std::vector<int> frames;     ///< of which the small pictures are kept, ascending
  std::vector<cv::Mat> small;  ///< CV_8UC1, one each; still stretches share one picture
  std::vector<double> motion;  ///< likewise: part of the small picture that changed since the
                               ///< frame before, 0..1; 0 where that is not kept
  double noise = 1.0;    ///< standard deviation of a small pixel between still frames [levels]
  double flicker = 0.0;  ///< median over the frames: light_change() since the one before
  double light_range = 0.0;  ///< greatest over the frames: light_change() since the first one
  cv::Mat small_background;  ///< CV_32FC1: median of pictures spread evenly over the motion
  std::vector<int> spread;   ///< indices into `frames` of those, ascending
  Remarks remarks;           ///< of the reader
};

struct SurveyOptions {
  int small_side_px =
      400;  ///< longest side of the small pictures: arms then span tens of pixels
  int background_frames = 31;  ///< the arm hides any one place in a few of these at most
  std::size_t most_bytes = 128U << 20U;  ///< of the small pictures
};

/// \throws InputError from the opener
ClipSurvey survey_clip(const ClipOpener& open, const SurveyOptions& options = {});

/// Median of the pictures that `survey.spread` points at, CV_32FC1. Opens the clip again.
/// \param shrink  for shrunk_picture(); 1 leaves them as they are
cv::Mat full_background(const ClipOpener& open, const ClipSurvey& survey, int shrink);

}  // namespace swingloss
