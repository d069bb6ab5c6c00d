// SPDX-License-Identifier: Apache-2.0
#include "tracking/frame_model.h"

#include <algorithm>
#include <cmath>
#include <cstddef>

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

TellingRow::TellingRow(const BodyTemplate& body,
                       const TurnedView& turned,
                       const Vector2d& first,
                       double turn_rad)
    : body_(body),
      start_(turned.plane(first)),
      step_(turned.plane_per_column()),
      half_turn_rad_(0.5 * std::abs(turn_rad)) {}

bool TellingRow::at(int column) const {
  // Rounding and interpolation reach this far, and so may a depth that is left out here.
  constexpr double kRoom_px = 4.0;
  const Eigen::Vector3d place = start_ + double(column) * step_;
  const double bx = place.x() / place.z(), by = place.y() / place.z();
  const double swept_px = half_turn_rad_ * (std::abs(bx) + std::abs(by));
  return body_.telling_px_from(bx, by) < swept_px + kRoom_px;
}

FrameModel::FrameModel(const BodyTemplate& body, const FrameStart& start, double exposure_s)
    : body_(body), turn_rad_(start.crop.omega_rad_per_s * exposure_s) {
  const double reach = body.extent.ahead_px * std::abs(turn_rad_);
  const int count = 2 * std::clamp(int(std::ceil(reach / 5.0)), 0, 6) + 1;
  for (int i = 0; i < count; ++i) {
    const double theta = start.theta_rad + turn_rad_ * ((i + 0.5) / count - 0.5);
    cosines_.push_back(std::cos(theta));
    sines_.push_back(std::sin(theta));
    turns_.emplace_back(start.view, theta);
  }
}

PixelModel FrameModel::at(const Vector2d& pixel, double background) const {
  PixelModel out;
  const std::size_t middle = turns_.size() / 2;
  // One depth for all turns of the exposure: that of the cell at its middle.
  const Vector2d flat = turns_[middle].body_of(pixel, 0.0);
  const double depth = body_.depth_at(flat.x(), flat.y());
  out.body = turns_[middle].body_of(pixel, depth);
  for (std::size_t i = 0; i < turns_.size(); ++i) {
    const Vector2d b = i == middle ? out.body : turns_[i].body_of(pixel, depth);
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
  }
  const double n = double(turns_.size());
  out.ink /= n, out.cover /= n, out.by_shift /= n, out.outward /= n;
  const StoredLevel stored = body_.levels.level_of(out.ink + (1.0 - out.cover) * background);
  out.seen_model = stored.level;
  out.by_light = stored.by_light;
  out.by_shift *= stored.by_light;
  out.valid = true;
  return out;
}

}  // namespace swingloss
