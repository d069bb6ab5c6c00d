// SPDX-License-Identifier: Apache-2.0
/// \file landmarks.h
/// Where a picture lies against another of the same scene.
#pragma once

#include <optional>
#include <vector>

#include <opencv2/core.hpp>

namespace swingloss {

/// Place in one picture to place in another: a shift, a turn and a stretch, which is all that a
/// small turn of a camera does to a picture.
using PictureMove = cv::Matx23d;

/// No move at all.
inline const PictureMove kStill(1, 0, 0, 0, 1, 0);

/// How far the middle of a picture moves [px].
[[nodiscard]] double shift_of(const PictureMove& move, const cv::Size& size);

/// How far that corner of a picture moves that moves most [px].
[[nodiscard]] double farthest_shift_of(const PictureMove& move, const cv::Size& size);

/// Clear corners of one picture, against which others are held.
class Landmarks {
 public:
  /// \param picture  CV_8UC1
  explicit Landmarks(const cv::Mat& picture);

  /// Whether there are enough to place a picture by.
  [[nodiscard]] bool enough() const { return points_.size() >= kLeast; }

  /// What moves by itself (the arm, its shadow, a hand) is outvoted.
  /// \param frame       CV_8UC1, of the same size
  /// \param near        about where it lies
  /// \param least_part  of the landmarks that must agree on one move within 0.7 px
  /// \return nothing where fewer do
  [[nodiscard]] std::optional<PictureMove> move_to(const cv::Mat& frame,
                                                   const PictureMove& near,
                                                   double least_part) const;

 private:
  static constexpr std::size_t kLeast = 12;
  cv::Mat picture_;
  std::vector<cv::Point2f> points_;
};

}  // namespace swingloss
