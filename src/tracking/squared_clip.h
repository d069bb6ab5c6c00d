// SPDX-License-Identifier: Apache-2.0
/// \file squared_clip.h
/// A clip filmed from far off square, as if the camera had stood square to the swing. Internal
/// to tracking.
#pragma once

#include "imaging/frame_source.h"
#include "tracking/followed_corners.h"
#include "view/swing_view.h"

#include <vector>

namespace swingloss {

/// From squared pictures, in which the plane of swing is drawn without tilt, to the filmed
/// ones. Both have one size; what moves lies within the squared ones, at a smaller scale if it
/// must.
class Squaring {
 public:
  /// \param view  full pixels; axle in the picture's middle \param moving  likewise, what must
  /// lie within; some
  Squaring(const SwingView& view, const std::vector<cv::Point2d>& moving, const cv::Size& size);

  /// For cv::warpPerspective() with WARP_INVERSE_MAP.
  [[nodiscard]] cv::Matx33d filmed_from_squared() const;

  /// The view about an axle seen in the squared pictures: its angles are those seen there.
  [[nodiscard]] SwingView view_about(const Eigen::Vector2d& squared_axle_px) const;

  /// What a length in the squared pictures is in that view [pixels at the axle's distance].
  [[nodiscard]] double length_scale(const Eigen::Vector2d& squared_axle_px) const;

 private:
  /// In the plane of swing, from the picture's middle [pixels at its distance].
  [[nodiscard]] Eigen::Vector3d in_plane(const Eigen::Vector2d& squared_px) const;

  SwingView view_;
  double scale_ = 1.0;        // squared pixels for one of the plane's
  Eigen::Vector2d shift_px_;  // where the picture's middle lies in the squared ones
};

/// The clip in squared pictures, for a coarse look. Only their brightness is given.
[[nodiscard]] ClipOpener squared(const ClipOpener& open, const Squaring& squaring);

}  // namespace swingloss
