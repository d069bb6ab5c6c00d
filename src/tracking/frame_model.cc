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

/// Bilinear; false outside. \param place  template pixel
bool sample_layer(const BodyTemplate& body, const Eigen::Array2f& place, LayerSample& out) {
  if (!(place.x() >= 1.0F && place.y() >= 1.0F)) return false;
  const int x = int(place.x()), y = int(place.y());
  if (x + 2 >= body.layers.cols || y + 2 >= body.layers.rows) return false;
  const float fx = place.x() - float(x), fy = place.y() - float(y);
  const float both = fx * fy;
  using Eight = Eigen::Map<const LayerSample>;
  const float* top = body.layers.ptr<float>(y) + std::ptrdiff_t{8} * x;
  const float* low = body.layers.ptr<float>(y + 1) + std::ptrdiff_t{8} * x;
  out = (1 - fx - fy + both) * Eight(top) + (fx - both) * Eight(top + 8) +
        (fy - both) * Eight(low) + both * Eight(low + 8);
  return true;
}

/// Layers summed over the turns of an exposure. A slope of the arm is one of the picture once
/// it is turned along: its two parts times cosine and sine are summed apart and joined at the
/// end.
struct LayerSums {
  LayerSample plain = LayerSample::Zero(), by_cosine = LayerSample::Zero(),
              by_sine = LayerSample::Zero();

  void add(const LayerSample& layer, float cosine, float sine) {
    plain += layer;
    by_cosine += cosine * layer;
    by_sine += sine * layer;
  }
  /// The slope at `first` and the place after it, in the picture.
  [[nodiscard]] Vector2d turned(Eigen::Index first) const {
    return {double(by_cosine[first] + by_sine[first + 1]),
            double(by_cosine[first + 1] - by_sine[first])};
  }
};

}  // namespace

TellingRow::TellingRow(const BodyTemplate& body,
                       const TurnedView& turned,
                       const Vector2d& first,
                       double blur_rad)
    : body_(body),
      turned_(turned),
      first_(first),
      start_(turned.plane(first)),
      step_(turned.plane_per_column()),
      half_turn_rad_(0.5 * std::abs(blur_rad)) {}

int TellingRow::to_next(int column) const {
  // Rounding and interpolation reach this far, and so may a depth that is left out here.
  constexpr double kRoom_px = 4.0;
  // The arm's places, what it sweeps and what is between two looks grow by less a column.
  constexpr double kFastest = 1.6, kBetweenLooks_px = 1.5;
  const Eigen::Vector3d place = start_ + double(column) * step_;
  const Eigen::Array2d body = turned_.as_read<double>(place.head<2>() / place.z(),
                                                      first_ + Vector2d(double(column), 0.0));
  const double bx = body.x(), by = body.y();
  const cv::Point2d at = body_.pixel_of(bx, by);
  double spare_px = 0.0;
  if (body_.is_inside(at)) {
    const double swept_px = half_turn_rad_ * (std::abs(bx) + std::abs(by));
    spare_px =
        double(body_.telling_px.at<float>(BodyTemplate::nearest(at))) - swept_px - kRoom_px;
    if (spare_px < 0.0) return 0;
  } else {
    spare_px = std::max({-at.x, -at.y, at.x - body_.ink.cols, at.y - body_.ink.rows});
  }
  return std::max(1, int((spare_px - kBetweenLooks_px) / kFastest));
}

FrameModel::Turn::Turn(const BodyTemplate& body,
                       const TurnedView& view,
                       const Vector2d& first,
                       double theta_rad)
    : cosine(float(std::cos(theta_rad))), sine(float(std::sin(theta_rad))) {
  const cv::Point2d axle = body.pixel_of(0.0, 0.0);
  const auto in_template = [&](const Eigen::Vector3d& place) {
    return Eigen::Array4f(float(place.x() + axle.x * place.z()),
                          float(place.y() + axle.y * place.z()),
                          float(place.z()),
                          0.0F);
  };
  at_first = in_template(view.plane(first));
  per_column = in_template(view.plane_per_column());
  per_row = in_template(view.plane_per_row());
  by_depth = in_template(view.by_depth());
}

FrameModel::FrameModel(const BodyTemplate& body, const FrameStart& start, double exposure_s)
    : body_(body),
      turn_rad_(start.crop.omega_rad_per_s * exposure_s),
      first_(start.crop.offset_px.x, start.crop.offset_px.y),
      middle_(start.view, start.theta_rad, start.crop.omega_rad_per_s) {
  const double reach = body.extent.ahead_px * std::abs(turn_rad_);
  const int count = 2 * std::clamp(int(std::ceil(reach / 5.0)), 0, 6) + 1;
  for (int i = 0; i < count; ++i) {
    const double theta = start.theta_rad + turn_rad_ * ((i + 0.5) / count - 0.5);
    turns_.emplace_back(body, TurnedView(start.view, theta), first_, theta);
  }
}

PixelModel FrameModel::at(const Vector2d& pixel, double background) const {
  PixelModel out;
  const std::size_t middle = turns_.size() / 2;
  const Eigen::Array2f in_crop = (pixel - first_).cast<float>();
  const cv::Point2d axle_px = body_.pixel_of(0.0, 0.0);
  const Eigen::Array2f axle(float(axle_px.x), float(axle_px.y));
  const auto read_at = [&](const Turn& turn, float depth_px) {
    return middle_.as_read<float>(turn.place_of(in_crop, depth_px) - axle, pixel);
  };
  // One depth for all turns of the exposure: that of the cell at its middle.
  const Eigen::Array2f flat = read_at(turns_[middle], 0.0F);
  const auto depth_px = float(body_.depth_at(double(flat.x()), double(flat.y())));
  LayerSums sums;
  for (std::size_t i = 0; i < turns_.size(); ++i) {
    const Turn& turn = turns_[i];
    const Eigen::Array2f body = read_at(turn, depth_px);
    if (i == middle) out.body = body.matrix().cast<double>();
    LayerSample layer;
    if (!sample_layer(body_, body + axle, layer)) return out;
    sums.add(layer, turn.cosine, turn.sine);
  }
  const double share = 1.0 / double(turns_.size());
  out.ink = share * double(sums.plain[0]);
  out.cover = share * double(sums.plain[1]);
  const StoredLevel stored = body_.levels.level_of(out.ink + (1.0 - out.cover) * background);
  out.seen_model = stored.level;
  out.by_light = stored.by_light;
  // Moving the arm by +s shows the layer at the place that was s before.
  out.by_shift = -share * stored.by_light * (sums.turned(2) - background * sums.turned(4));
  out.outward = share * sums.turned(6);
  out.valid = true;
  return out;
}

}  // namespace swingloss
