// SPDX-License-Identifier: Apache-2.0
#include "tracking/squared_clip.h"

#include "core/expects.h"
#include "tracking/changed_clip.h"
#include "view/turned_view.h"

#include <algorithm>

#include <Eigen/Geometry>
#include <opencv2/imgproc.hpp>

namespace swingloss {
namespace {

/// Part of the picture left free around what moves: its ends are seldom followed.
constexpr double kRoom = 0.1;

}  // namespace

Squaring::Squaring(const SwingView& view,
                   const std::vector<cv::Point2d>& moving,
                   const cv::Size& size)
    : view_(view) {
  expects(!moving.empty(), "Squaring: nothing moves");
  const TurnedView turned(view, 0.0);
  Eigen::AlignedBox<double, 2> box;
  for (const cv::Point2d& place : moving) {
    const Eigen::Vector3d at = turned.plane({place.x, place.y});
    if (at.z() > 0.0) box.extend(Eigen::Vector2d(at.head<2>() / at.z()));
  }
  expects(!box.isEmpty(), "Squaring: all that moves lies beyond the horizon");
  const Eigen::Vector2d free_px =
      (1.0 - 2.0 * kRoom) * Eigen::Vector2d(size.width, size.height);
  scale_ = std::min(1.0, (free_px.array() / box.sizes().array().max(1.0)).minCoeff());
  shift_px_ = 0.5 * Eigen::Vector2d(size.width - 1, size.height - 1) - scale_ * box.center();
}

cv::Matx33d Squaring::filmed_from_squared() const {
  // SwingView's perspective of the plane z = 0, its axle at the principal point.
  const Eigen::Vector3d x = view_.tilted({1.0, 0.0, 0.0}), y = view_.tilted({0.0, 1.0, 0.0});
  const double f = view_.focal_px;
  const double cx = view_.principal_px.x(), cy = view_.principal_px.y();
  const cv::Matx33d filmed_from_plane(f * x.x() - cx * x.z(),
                                      f * y.x() - cx * y.z(),
                                      f * cx,
                                      f * x.y() - cy * x.z(),
                                      f * y.y() - cy * y.z(),
                                      f * cy,
                                      -x.z(),
                                      -y.z(),
                                      f);
  const cv::Matx33d plane_from_squared(1.0 / scale_,
                                       0.0,
                                       -shift_px_.x() / scale_,
                                       0.0,
                                       1.0 / scale_,
                                       -shift_px_.y() / scale_,
                                       0.0,
                                       0.0,
                                       1.0);
  return filmed_from_plane * plane_from_squared;
}

Eigen::Vector3d Squaring::in_plane(const Eigen::Vector2d& squared_px) const {
  const Eigen::Vector2d place = (squared_px - shift_px_) / scale_;
  return {place.x(), place.y(), 0.0};
}

SwingView Squaring::view_about(const Eigen::Vector2d& squared_axle_px) const {
  SwingView view = view_;
  view.axle_px = view_.project(in_plane(squared_axle_px));
  return view;
}

double Squaring::length_scale(const Eigen::Vector2d& squared_axle_px) const {
  const double depth_px = view_.tilted(in_plane(squared_axle_px)).z();
  return view_.focal_px / (view_.focal_px - depth_px) / scale_;
}

ClipOpener squared(const ClipOpener& open, const Squaring& squaring) {
  return changed_clip(open,
                      [filmed_from_squared = squaring.filmed_from_squared()](Frame& frame) {
                        cv::Mat square;
                        cv::warpPerspective(frame.luma,
                                            square,
                                            filmed_from_squared,
                                            frame.luma.size(),
                                            cv::INTER_LINEAR | cv::WARP_INVERSE_MAP,
                                            cv::BORDER_REPLICATE);
                        frame.luma = square;
                        frame.bgr.release();
                      });
}

}  // namespace swingloss
