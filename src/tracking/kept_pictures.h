// SPDX-License-Identifier: Apache-2.0
/// \file kept_pictures.h
/// As many of a clip's pictures as there is room for. Internal to tracking.
#pragma once

#include <cstddef>
#include <vector>

#include <opencv2/core.hpp>

namespace swingloss {

/// Keeps every picture while there is room. Then every second run of consecutive frames goes,
/// later every second of those left: what is kept is spread evenly over the clip, and each
/// picture but a run's first has the frame before it beside it.
class KeptPictures {
 public:
  /// \param most_bytes  of the pictures; those that share their pixels count once
  explicit KeptPictures(std::size_t most_bytes) : most_bytes_(most_bytes) {}

  /// \param frame  0, 1, 2, ... without a gap
  void add(int frame, const cv::Mat& picture);

  [[nodiscard]] const std::vector<int>& frames() const { return frames_; }
  [[nodiscard]] const std::vector<cv::Mat>& pictures() const { return pictures_; }

 private:
  [[nodiscard]] bool wanted(int frame) const;
  void thin();

  std::size_t most_bytes_, bytes_ = 0;
  int every_ = 1;  // run that is kept
  std::vector<int> frames_;
  std::vector<cv::Mat> pictures_;
};

}  // namespace swingloss
