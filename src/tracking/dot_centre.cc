// SPDX-License-Identifier: Apache-2.0
#include "tracking/dot_centre.h"

#include <algorithm>
#include <cmath>

#include <Eigen/Cholesky>

namespace swingloss {
namespace {

using Eigen::Vector2d;
using Eigen::Vector3d;

constexpr double kRing_px = 1.25;  ///< width of the ring
/// Part of the window that is surely of the mark: its sign is that of the contrast.
constexpr double kMiddle = 0.3;

/// Calls what(offset from the centre, distance, light) for all pixels within `reach_px`.
template <typename What>
void for_pixels_about(const cv::Mat& light,
                      const Vector2d& centre,
                      double reach_px,
                      What what) {
  const int first_row = int(std::ceil(centre.y() - reach_px));
  const int first_column = int(std::ceil(centre.x() - reach_px));
  for (int row = first_row; row <= centre.y() + reach_px; ++row) {
    for (int column = first_column; column <= centre.x() + reach_px; ++column) {
      const Vector2d off(column - centre.x(), row - centre.y());
      const double distance_px = off.norm();
      if (distance_px <= reach_px) what(off, distance_px, double(light.at<float>(row, column)));
    }
  }
}

/// What the surroundings would show where the mark is: a plane.
struct Surroundings {
  Vector3d plane = Vector3d::Zero();  ///< level at the centre, slope in x, in y
  double uneven = 0.0;                ///< rms of the ring about the plane

  [[nodiscard]] double at(const Vector2d& off) const {
    return plane[0] + plane[1] * off.x() + plane[2] * off.y();
  }
};

Surroundings surroundings_of(const cv::Mat& light, const Vector2d& centre, double inner_px) {
  Eigen::Matrix3d normal = 1e-9 * Eigen::Matrix3d::Identity();
  Vector3d rhs = Vector3d::Zero();
  double squares = 0.0, count = 0.0;
  for_pixels_about(
      light, centre, inner_px + kRing_px, [&](const Vector2d& off, double away, double level) {
        if (away < inner_px) return;
        const Vector3d by(1.0, off.x(), off.y());
        normal += by * by.transpose();
        rhs += by * level;
        squares += level * level;
        count += 1.0;
      });
  Surroundings out;
  out.plane = normal.ldlt().solve(rhs);
  const double left = squares - rhs.dot(out.plane);
  out.uneven = std::sqrt(std::max(0.0, left) / std::max(1.0, count - 3.0));
  return out;
}

struct Window {
  double radius_px, middle_px;
};

/// Sums over the window: of the contrast, of it times place; of the middle alone.
struct Moments {
  double sum = 0.0, weight_squares_px2 = 0.0, middle = 0.0;
  Vector2d first = Vector2d::Zero();
};

Moments moments_of(const cv::Mat& light,
                   const Vector2d& centre,
                   const Surroundings& around,
                   const Window& window) {
  Moments out;
  for_pixels_about(light,
                   centre,
                   window.radius_px + 0.5,
                   [&](const Vector2d& off, double away, double level) {
                     const double part = std::clamp(window.radius_px + 0.5 - away, 0.0, 1.0);
                     const double contrast = around.at(off) - level;
                     out.sum += part * contrast;
                     out.first += part * contrast * off;
                     out.weight_squares_px2 += part * part * off.squaredNorm();
                     if (away <= window.middle_px) out.middle += contrast;
                   });
  return out;
}

bool inside(const cv::Mat& light, const Vector2d& centre, double reach_px) {
  return centre.x() >= reach_px && centre.y() >= reach_px &&
         centre.x() + reach_px <= light.cols - 1.0 && centre.y() + reach_px <= light.rows - 1.0;
}

}  // namespace

std::optional<DotCentre> dot_centre(const cv::Mat& light, const DotPlace& start) {
  constexpr int kRounds = 12;
  constexpr double kDone_px = 0.003, kUseless_px = 0.3;
  /// Part of the ring's unevenness that lies under the mark as well, all on one side.
  constexpr double kOneSided = 0.3;
  const double window_px = start.window_px, middle_px = std::max(0.8, kMiddle * window_px);
  DotCentre out{start.pixel, 0.0};
  for (int round = 0; round < kRounds; ++round) {
    if (!inside(light, out.pixel, window_px + kRing_px)) return std::nullopt;
    const Surroundings around = surroundings_of(light, out.pixel, window_px);
    const Moments m = moments_of(light, out.pixel, around, {window_px, middle_px});
    if (!(m.sum * m.middle > 0.0)) return std::nullopt;
    const double total = std::abs(m.sum);
    const Vector2d step = m.first / m.sum;
    out.u_px = around.uneven / total *
               std::hypot(std::sqrt(0.5 * m.weight_squares_px2),
                          kOneSided * window_px * window_px * window_px);
    out.pixel += step;
    if ((out.pixel - start.pixel).norm() > window_px) return std::nullopt;
    if (step.norm() < kDone_px) break;
  }
  if (!(out.u_px < kUseless_px)) return std::nullopt;
  return out;
}

}  // namespace swingloss
