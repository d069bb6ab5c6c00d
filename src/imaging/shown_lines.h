// SPDX-License-Identifier: Apache-2.0
/// \file shown_lines.h
/// Whether the pictures of a clip are woven from two moments, by what they show.
#pragma once

#include "imaging/frame_source.h"

#include <string>

#include <opencv2/core.hpp>

namespace swingloss {

/// What moves in a woven picture is combed: its odd lines lie elsewhere than its even ones.
/// Where brightness changes from picture to picture, the second differences of neighbouring
/// lines are summed, and those of every other line (which are of one moment). A smooth
/// progressive picture has a ratio of a quarter, a sharp level edge or pixel noise of one, a
/// comb of several.
class CombCount {
 public:
  /// The next picture, with the lines as stored. \param luma  CV_8UC1; not kept. One of another
  /// size than the last one starts anew, without losing what was counted.
  void add(const cv::Mat& luma);
  /// Enough has moved to stop looking: a million pixels, a swing or part of one.
  [[nodiscard]] bool is_enough() const { return moved_ >= 1'000'000; }
  /// More combed than anything but a comb.
  [[nodiscard]] bool is_combed() const;
  /// So smooth from line to line that no comb can be in it.
  [[nodiscard]] bool is_smooth() const;

 private:
  cv::Mat before_;
  double neighbours_ = 0.0, every_other_ = 0.0;  // sums of second differences [levels]
  long moved_ = 0;                               // pixels
};

/// How the lines of a video file are best taken: the upper field of all pictures where they are
/// combed and none is marked as interlaced, all lines where some are marked but smooth, else as
/// marked. Decodes the clip until enough has moved. Coding so heavy that it wipes the combs out
/// hides them from this as well.
/// \return Lines::AsMarked for all that is not a file with pictures of its own time
/// \throws InputError as open_clip() for a file that is not a clip
[[nodiscard]] Lines lines_shown(const std::string& path);

}  // namespace swingloss
