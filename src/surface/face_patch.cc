// SPDX-License-Identifier: Apache-2.0
#include "surface/face_patch.h"

#include "core/median.h"

#include <algorithm>
#include <cmath>

#include <opencv2/imgproc.hpp>

namespace swingloss {
namespace {

using Eigen::Vector2d;

/// Dark pixels hold noise rather than light: about one level of 255.
constexpr float kFloor = 3e-4F;

double take_off_median(cv::Mat& values) {
  std::vector<float> all(values.begin<float>(), values.end<float>());
  const double median = double(median_of(std::move(all)));
  values -= cv::Scalar(median);
  return median;
}

/// \param scale  patch pixels for each of the picture's
cv::Mat cut_smoothly(const cv::Mat& light,
                     const cv::Mat& to_patch,
                     const cv::Size& size,
                     double scale) {
  cv::Mat soft = light;
  // Making smaller must not fold fine texture into coarse: blur to the new pixel first.
  if (scale < 1.0) {
    const double sigma = 0.5 * std::sqrt(1.0 / (scale * scale) - 1.0);
    cv::GaussianBlur(light, soft, {}, std::max(0.3, sigma));
  }
  cv::Mat cut;
  cv::warpPerspective(soft, cut, to_patch, size, cv::INTER_LINEAR, cv::BORDER_REPLICATE);
  return cut;
}

}  // namespace

FacePatch cut_patch(const PlanePicture& plane,
                    const std::array<Vector2d, 4>& corners_px,
                    double inset) {
  const double across =
      ((corners_px[1] - corners_px[0]).norm() + (corners_px[2] - corners_px[3]).norm()) / 2.0;
  const double down =
      ((corners_px[3] - corners_px[0]).norm() + (corners_px[2] - corners_px[1]).norm()) / 2.0;
  const double side = std::sqrt(std::max(1.0, across * down)) * (1.0 - 2.0 * inset);
  const double scale = kPatch_px / side;
  FacePatch patch;
  patch.source_px = side / plane.px_per_m * (plane.card ? plane.card->px_per_m : 1.0);
  // A face longer than four times its other side is cut to that: texture is told from the rest.
  const double ratio = std::clamp(std::sqrt(across / std::max(1.0, down)), 0.5, 2.0);
  const cv::Size size(int(kPatch_px * ratio), int(kPatch_px / ratio));
  const cv::Point2f to[4] = {{0.0F, 0.0F},
                             {float(size.width - 1), 0.0F},
                             {float(size.width - 1), float(size.height - 1)},
                             {0.0F, float(size.height - 1)}};
  cv::Point2f from[4];
  const Vector2d middle = (corners_px[0] + corners_px[1] + corners_px[2] + corners_px[3]) / 4.0;
  for (std::size_t i = 0; i < 4; ++i) {
    const Vector2d p = middle + (1.0 - 2.0 * inset) * (corners_px[i] - middle);
    from[i] = {float(p.x()), float(p.y())};
  }
  const cv::Mat to_patch = cv::getPerspectiveTransform(from, to);
  const cv::Mat cut = cut_smoothly(plane.linear, to_patch, size, scale);
  cv::Mat levels;
  cv::warpPerspective(
      plane.bgr, levels, to_patch, size, cv::INTER_NEAREST, cv::BORDER_REPLICATE);
  patch.brightness.create(size, CV_32FC1);
  patch.red_ratio.create(size, CV_32FC1);
  patch.blue_ratio.create(size, CV_32FC1);
  int clipped = 0;
  for (int row = 0; row < size.height; ++row) {
    for (int column = 0; column < size.width; ++column) {
      const cv::Vec3f& c = cut.at<cv::Vec3f>(row, column);
      const float blue = std::log(std::max(kFloor, c[0]));
      const float green = std::log(std::max(kFloor, c[1]));
      const float red = std::log(std::max(kFloor, c[2]));
      // The mean of logarithms, not the logarithm of a mean: gains of channels fall out of it.
      patch.brightness.at<float>(row, column) = 0.25F * blue + 0.5F * green + 0.25F * red;
      patch.red_ratio.at<float>(row, column) = red - green;
      patch.blue_ratio.at<float>(row, column) = blue - green;
      const cv::Vec3b& l = levels.at<cv::Vec3b>(row, column);
      clipped += l[0] >= 254 || l[1] >= 254 || l[2] >= 254 ? 1 : 0;
    }
  }
  patch.clipped_share = double(clipped) / double(size.area());
  patch.medians = {take_off_median(patch.brightness),
                   take_off_median(patch.red_ratio),
                   take_off_median(patch.blue_ratio)};
  return patch;
}

}  // namespace swingloss
