// SPDX-License-Identifier: Apache-2.0
#include "tracking/frame_model.h"

#include <algorithm>
#include <cmath>
#include <cstddef>

#include <Eigen/LU>

namespace swingloss {
namespace {

using Eigen::Vector2d;

/// The eight layer values at one template place.
using LayerSample = Eigen::Array<float, 8, 1>;

/// Bilinear; false outside.
bool sample_layer(const BodyTemplate& body, double bx, double by, LayerSample& out) {
  const cv::Point2d at = body.pixel_of(bx, by);
  const int x = int(std::floor(at.x)), y = int(std::floor(at.y));
  if (x < 1 || y < 1 || x + 2 >= body.layers.cols || y + 2 >= body.layers.rows) return false;
  const float fx = float(at.x - x), fy = float(at.y - y);
  using Eight = Eigen::Map<const LayerSample>;
  const float* top = body.layers.ptr<float>(y) + std::ptrdiff_t{8} * x;
  const float* low = body.layers.ptr<float>(y + 1) + std::ptrdiff_t{8} * x;
  out = (1 - fy) * ((1 - fx) * Eight(top) + fx * Eight(top + 8)) +
        fy * ((1 - fx) * Eight(low) + fx * Eight(low + 8));
  return true;
}

}  // namespace

BodyFromPixel::BodyFromPixel(const SwingView& view, double theta_rad) {
  // Three columns of the plane's homography by projecting basis points in homogeneous form.
  const auto homogeneous = [&](const Eigen::Vector3d& b) {
    const Eigen::Vector3d swing = swing_from_body(b, theta_rad);
    const double ca = std::cos(view.tilt_x_rad), sa = std::sin(view.tilt_x_rad);
    const double cb = std::cos(view.tilt_y_rad), sb = std::sin(view.tilt_y_rad);
    const Eigen::Vector3d yawed(
        ca * swing.x() + sa * swing.z(), swing.y(), ca * swing.z() - sa * swing.x());
    return Eigen::Vector3d(
        yawed.x(), cb * yawed.y() + sb * yawed.z(), cb * yawed.z() - sb * yawed.y());
  };
  const Eigen::Vector3d along_x = homogeneous({1, 0, 0}), along_y = homogeneous({0, 1, 0}),
                        along_z = homogeneous({0, 0, 1});
  const Vector2d axle = view.axle_px - view.principal_px;
  const double f = view.focal_px;
  Eigen::Matrix3d camera_from_body;
  camera_from_body << along_x.x(), along_y.x(), axle.x(), along_x.y(), along_y.y(), axle.y(),
      -along_x.z() / f, -along_y.z() / f, 1.0;
  flat_ = camera_from_body.inverse();
  by_depth_ = flat_ * Eigen::Vector3d(along_z.x(), along_z.y(), -along_z.z() / f);
}

Vector2d BodyFromPixel::operator()(const Vector2d& centred, double depth_px) const {
  Eigen::Vector3d place = flat_ * Eigen::Vector3d(centred.x(), centred.y(), 1.0);
  place -= by_depth_ * (depth_px * place.z() / (1.0 + depth_px * by_depth_.z()));
  return place.head<2>() / place.z();
}

FrameModel::FrameModel(const BodyTemplate& body, const FrameStart& start, double exposure_s)
    : body_(body), view_(start.view) {
  const double turn = start.crop.omega_rad_per_s * exposure_s;
  const double reach = body.extent.ahead_px * std::abs(turn);
  const int count = 2 * std::clamp(int(std::ceil(reach / 5.0)), 0, 6) + 1;
  for (int i = 0; i < count; ++i) {
    const double theta = start.theta_rad + turn * ((i + 0.5) / count - 0.5);
    cosines_.push_back(std::cos(theta));
    sines_.push_back(std::sin(theta));
    turns_.emplace_back(start.view, theta);
  }
}

PixelModel FrameModel::at(const Vector2d& pixel, double background) const {
  PixelModel out;
  const Vector2d centred = pixel - view_.principal_px;
  const std::size_t middle = turns_.size() / 2;
  // One depth for all turns of the exposure: that of the cell at its middle.
  const Vector2d flat = turns_[middle](centred, 0.0);
  const double depth = body_.depth_at(flat.x(), flat.y());
  for (std::size_t i = 0; i < turns_.size(); ++i) {
    const Vector2d b = turns_[i](centred, depth);
    LayerSample layer;
    if (!sample_layer(body_, b.x(), b.y(), layer)) return out;
    out.ink += double(layer[0]);
    out.cover += double(layer[1]);
    // Moving the arm by +s shows the layer at the place that was s before.
    const double c = cosines_[i], s = sines_[i];
    const Vector2d slope(double(layer[2]) - background * double(layer[4]),
                         double(layer[3]) - background * double(layer[5]));
    out.by_shift -= Vector2d(c * slope.x() + s * slope.y(), -s * slope.x() + c * slope.y());
    out.outward += Vector2d(c * double(layer[6]) + s * double(layer[7]),
                            -s * double(layer[6]) + c * double(layer[7]));
    if (i == middle) out.body = b;
  }
  const double n = double(turns_.size());
  out.ink /= n, out.cover /= n, out.by_shift /= n, out.outward /= n;
  const StoredLevel stored = body_.curve.level_of(out.ink + (1.0 - out.cover) * background);
  out.seen_model = stored.level;
  out.by_light = stored.by_light;
  out.by_shift *= stored.by_light;
  out.valid = true;
  return out;
}

}  // namespace swingloss
