// SPDX-License-Identifier: Apache-2.0
#include "tracking/landmarks.h"

#include <algorithm>
#include <cmath>

#include <opencv2/calib3d.hpp>
#include <opencv2/imgproc.hpp>
#include <opencv2/video/tracking.hpp>

namespace swingloss {
namespace {

double shift_at(const PictureMove& move, double x, double y) {
  const cv::Vec2d moved = move * cv::Vec3d(x, y, 1.0);
  return std::hypot(moved[0] - x, moved[1] - y);
}

}  // namespace

double shift_of(const PictureMove& move, const cv::Size& size) {
  return shift_at(move, 0.5 * size.width, 0.5 * size.height);
}

double farthest_shift_of(const PictureMove& move, const cv::Size& size) {
  double most_px = 0.0;
  for (const int x : {0, size.width}) {
    for (const int y : {0, size.height}) most_px = std::max(most_px, shift_at(move, x, y));
  }
  return most_px;
}

Landmarks::Landmarks(const cv::Mat& picture) : picture_(picture.clone()) {
  constexpr int kMost = 300;
  constexpr double kQuality = 0.01;
  const double apart_px = 0.02 * std::max(picture.cols, picture.rows);
  cv::goodFeaturesToTrack(picture_, points_, kMost, kQuality, apart_px);
}

std::optional<PictureMove> Landmarks::move_to(const cv::Mat& frame,
                                              const PictureMove& near,
                                              double least_part) const {
  constexpr int kWindow_px = 21, kLevels = 3;
  constexpr double kAgree_px = 0.7;
  std::vector<cv::Point2f> seen;
  cv::transform(points_, seen, near);
  std::vector<uchar> followed;
  std::vector<float> misfit;
  cv::calcOpticalFlowPyrLK(picture_,
                           frame,
                           points_,
                           seen,
                           followed,
                           misfit,
                           {kWindow_px, kWindow_px},
                           kLevels,
                           {cv::TermCriteria::COUNT | cv::TermCriteria::EPS, 30, 0.003},
                           cv::OPTFLOW_USE_INITIAL_FLOW);
  std::vector<cv::Point2f> from, to;
  for (std::size_t i = 0; i < points_.size(); ++i) {
    if (followed[i] == 0) continue;
    from.push_back(points_[i]);
    to.push_back(seen[i]);
  }
  if (from.size() < kLeast) return std::nullopt;
  std::vector<uchar> agrees;
  const cv::Mat move =
      cv::estimateAffinePartial2D(from, to, agrees, cv::RANSAC, kAgree_px, 1000, 0.99, 20);
  const int agreeing = cv::countNonZero(agrees);
  if (move.empty() || agreeing < int(kLeast) || agreeing < least_part * double(points_.size()))
    return std::nullopt;
  return PictureMove(move);
}

}  // namespace swingloss
