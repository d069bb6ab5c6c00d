// SPDX-License-Identifier: Apache-2.0
#include "tracking/arm_crops.h"

#include "tracking/shrunk_picture.h"

#include <algorithm>
#include <cmath>

#include <opencv2/imgproc.hpp>

namespace swingloss {
namespace {

/// Bounding box of the body at one direction, with room for a few degrees of error.
cv::Rect window_of(double theta_rad,
                   const SwingView& view,
                   const BodyExtent& e,
                   const cv::Size& size) {
  const double margin = 8.0 + 0.06 * e.ahead_px;
  double left = 1e9, right = -1e9, top = 1e9, bottom = -1e9;
  for (double bx : {-e.half_width_px, e.half_width_px}) {
    for (double by : {-e.behind_px, e.ahead_px}) {
      const Eigen::Vector2d at = view.project(swing_from_body({bx, by, 0.0}, theta_rad));
      left = std::min(left, at.x()), right = std::max(right, at.x());
      top = std::min(top, at.y()), bottom = std::max(bottom, at.y());
    }
  }
  const cv::Rect box(
      cv::Point(int(std::floor(left - margin)), int(std::floor(top - margin))),
      cv::Point(int(std::ceil(right + margin)), int(std::ceil(bottom + margin))));
  return box & cv::Rect(cv::Point(0, 0), size);
}

/// Rate by central differences of the coarse directions, in true time.
double rate_at(const std::vector<double>& theta_rad,
               const std::vector<double>& t_s,
               std::size_t k) {
  const std::size_t a = k > 0 ? k - 1 : 0, b = std::min(k + 1, t_s.size() - 1);
  return t_s[b] > t_s[a] ? (theta_rad[b] - theta_rad[a]) / (t_s[b] - t_s[a]) : 0.0;
}

}  // namespace

ArmCrop softened(const ArmCrop& crop, double smooth_px) {
  ArmCrop out = crop;
  if (smooth_px <= 0.0) return out;
  cv::Mat soft;  // not in place: copies of a crop share their pixels
  cv::GaussianBlur(crop.luma, soft, {}, smooth_px);
  out.luma = soft;
  return out;
}

std::vector<ArmCrop> cut_arm_crops(const ClipOpener& open,
                                   const ClipSurvey& survey,
                                   const std::vector<int>& wanted,
                                   const ArmWhereabouts& arm) {
  std::vector<ArmCrop> crops;
  const std::vector<double>& theta_rad = arm.theta_rad;
  const std::unique_ptr<FrameSource> source = open();
  std::size_t next = 0;
  while (next < wanted.size()) {
    const std::optional<Frame> frame = source->next();
    if (!frame) break;
    if (frame->index != wanted[next]) continue;
    const auto k = std::size_t(wanted[next++]);
    if (k >= theta_rad.size()) break;
    const cv::Mat picture = shrunk_picture(frame->luma, arm.shrink);
    const cv::Rect window = window_of(theta_rad[k], arm.view, arm.extent, picture.size());
    if (window.width < 16 || window.height < 16) continue;
    ArmCrop crop;
    crop.frame = frame->index;
    crop.t_s = frame->t_s;
    crop.theta_rad = theta_rad[k];
    crop.omega_rad_per_s = rate_at(theta_rad, survey.t_s, k);
    crop.offset_px = window.tl();
    crop.luma = picture(window).clone();
    crops.push_back(crop);
  }
  return crops;
}

}  // namespace swingloss
