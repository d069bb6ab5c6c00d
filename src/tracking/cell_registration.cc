// SPDX-License-Identifier: Apache-2.0
#include "tracking/cell_registration.h"

#include "core/median.h"

#include <algorithm>
#include <cmath>

#include <Eigen/Eigenvalues>
#include <Eigen/LU>

namespace swingloss {
namespace {

using Eigen::Matrix2d;
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
  const float* top = body.layers.ptr<float>(y) + 8 * x;
  const float* low = body.layers.ptr<float>(y + 1) + 8 * x;
  out = (1 - fy) * ((1 - fx) * Eight(top) + fx * Eight(top + 8)) +
        fy * ((1 - fx) * Eight(low) + fx * Eight(low + 8));
  return true;
}

/// Pixel to body axes at one turn, exact for the camera model: the homography of the plane
/// z = 0, and what a depth changes (Sherman-Morrison: depth adds one column).
class BodyFromPixel {
 public:
  BodyFromPixel(const SwingView& view, double theta_rad) {
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

  /// \param centred  pixel from the principal point \param depth_px  z of the body there
  [[nodiscard]] Vector2d operator()(const Vector2d& centred, double depth_px) const {
    Eigen::Vector3d place = flat_ * Eigen::Vector3d(centred.x(), centred.y(), 1.0);
    place -= by_depth_ * (depth_px * place.z() / (1.0 + depth_px * by_depth_.z()));
    return place.head<2>() / place.z();
  }

 private:
  Eigen::Matrix3d flat_;
  Eigen::Vector3d by_depth_;
};

/// Unknowns of one cell: its shift (2), then its light: gain of the ink, offset of the ink,
/// shade on the background (a shadow that goes along with the arm).
constexpr int kUnknowns = 5, kLights = kUnknowns - 2;
using CellMatrix = Eigen::Matrix<double, kUnknowns, kUnknowns>;
using CellVector = Eigen::Matrix<double, kUnknowns, 1>;

/// Sums over one cell's pixels.
struct CellSums {
  CellMatrix normal = CellMatrix::Zero();
  CellVector rhs = CellVector::Zero();
  double squares = 0.0, weight = 0.0;
  Vector2d place = Vector2d::Zero();
  double place_weight = 0.0, side_px = 0.0, believed = 0.0, total = 0.0;
};

/// One pixel's composite over the turns passed during the exposure.
struct PixelModel {
  double seen_model = 0.0;  // levels
  double by_light = 0.0;    // d(level) / d(light)
  double ink = 0.0, cover = 0.0;
  Vector2d outward = Vector2d::Zero();   // in the picture
  Vector2d by_shift = Vector2d::Zero();  // d(model) / d(shift of the arm in the picture)
  Vector2d body = Vector2d::Zero();      // body place at mid-exposure
  bool valid = false;
};

class FrameModel {
 public:
  FrameModel(const BodyTemplate& body,
             const ArmCrop& crop,
             double theta_rad,
             const SwingView& view,
             double exposure_s)
      : body_(body), view_(view) {
    const double turn = crop.omega_rad_per_s * exposure_s;
    const double reach = body.extent.ahead_px * std::abs(turn);
    const int count = 2 * std::clamp(int(std::ceil(reach / 5.0)), 0, 6) + 1;
    for (int i = 0; i < count; ++i) {
      const double theta = theta_rad + turn * ((i + 0.5) / count - 0.5);
      cosines_.push_back(std::cos(theta));
      sines_.push_back(std::sin(theta));
      turns_.emplace_back(view, theta);
    }
  }

  /// \param pixel in the picture's (stabilised) coordinates
  [[nodiscard]] PixelModel at(const Vector2d& pixel, double background) const {
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

 private:
  const BodyTemplate& body_;
  const SwingView& view_;
  std::vector<double> cosines_, sines_;
  std::vector<BodyFromPixel> turns_;
};

double background_at(const cv::Mat& background, double x, double y) {
  const int ix = std::clamp(int(std::floor(x)), 0, background.cols - 2);
  const int iy = std::clamp(int(std::floor(y)), 0, background.rows - 2);
  const double fx = std::clamp(x - ix, 0.0, 1.0), fy = std::clamp(y - iy, 0.0, 1.0);
  const float* top = background.ptr<float>(iy) + ix;
  const float* low = background.ptr<float>(iy + 1) + ix;
  return (1 - fy) * ((1 - fx) * double(top[0]) + fx * double(top[1])) +
         fy * ((1 - fx) * double(low[0]) + fx * double(low[1]));
}

/// A shift, and what is known of it.
struct Solved {
  Vector2d shift = Vector2d::Zero();
  Matrix2d told = Matrix2d::Zero();  ///< information [px^-2 before the noise is divided out]
};

/// Along an edge the slopes are those of the template's noise. Such a direction answers "no
/// shift" wherever the arm is, and many cells' faint say of this kind would hold the view at
/// its start: it is left open.
Solved solve_told(const Matrix2d& information, const Vector2d& rhs) {
  constexpr double kLeastPart = 0.05;
  const Eigen::SelfAdjointEigenSolver<Matrix2d> eigen(information);
  Solved out;
  for (Eigen::Index i = 0; i < 2; ++i) {
    const double value = eigen.eigenvalues()(i);
    if (value < kLeastPart * information.trace()) continue;
    const Vector2d direction = eigen.eigenvectors().col(i);
    out.told += value * direction * direction.transpose();
    out.shift += direction * (direction.dot(rhs) / value);
  }
  return out;
}

/// Solves one cell: the light is taken out by a Schur complement with mild priors.
void add_cell(const CellSums& sums,
              int cell,
              const SwingView& view,
              double theta_rad,
              double depth_px,
              FrameRegistration& out) {
  if (sums.weight < 6.0 || sums.place_weight <= 0.0) return;
  CellMatrix normal = sums.normal;
  // Priors against pixel noise of about 3 levels: gain 15 %, offset 10 levels, shade 20 %.
  normal(2, 2) += 9.0 / (0.15 * 0.15);
  normal(3, 3) += 9.0 / (10.0 * 10.0);
  normal(4, 4) += 9.0 / (0.20 * 0.20);
  using Light = Eigen::Matrix<double, kLights, kLights>;
  const Light light = normal.bottomRightCorner<kLights, kLights>().inverse();
  const Eigen::Matrix<double, 2, kLights> cross = normal.topRightCorner<2, kLights>();
  const Matrix2d information = normal.topLeftCorner<2, 2>() - cross * light * cross.transpose();
  const Vector2d rhs = sums.rhs.head<2>() - cross * light * sums.rhs.tail<kLights>();
  const double strength = information.trace();
  if (!(strength > 50.0)) return;
  const Solved step = solve_told(information, rhs);
  const Vector2d& solved = step.shift;
  const double explained =
      rhs.dot(solved) + sums.rhs.tail<kLights>().dot(light * sums.rhs.tail<kLights>());
  CellShift shift;
  shift.cell = cell;
  shift.noise_levels = std::sqrt(std::max(0.25, (sums.squares - explained) / sums.weight));
  shift.information = step.told / (shift.noise_levels * shift.noise_levels);
  const double length = solved.norm();
  const Vector2d measured =
      length > 6.0 ? Vector2d(solved * (6.0 / length)) : solved;  // reach of one linear step
  shift.body_px = sums.place / sums.place_weight;
  const Eigen::Matrix<double, kLights, 1> lights =
      light * (sums.rhs.tail<kLights>() - cross.transpose() * solved);
  shift.shade = lights(2);
  shift.side_px = sums.side_px / sums.place_weight;
  shift.pixel = view.project(swing_from_body({shift.body_px.x(), shift.body_px.y(), depth_px},
                                             theta_rad)) +
                measured;
  shift.weight = sums.total > 0.0 ? sums.believed / sums.total : 0.0;
  out.cells.push_back(shift);
}

}  // namespace

FrameRegistration register_frame(const BodyTemplate& body,
                                 const ArmCrop& crop,
                                 double theta_rad,
                                 const SwingView& view,
                                 const cv::Mat& background,
                                 const RegistrationOptions& options) {
  const FrameModel model(body, crop, theta_rad, view, options.exposure_s);
  std::vector<CellSums> sums(std::size_t(body.cell_count()));
  std::vector<float> misfits;
  double believed = 0.0, total = 1e-9;
  const double c = std::cos(theta_rad), s = std::sin(theta_rad);
  for (int row = 0; row < crop.luma.rows; row += options.stride) {
    for (int column = 0; column < crop.luma.cols; column += options.stride) {
      const Vector2d pixel(column + crop.offset_px.x - crop.shift_px.x,
                           row + crop.offset_px.y - crop.shift_px.y);
      const Vector2d arm = pixel - view.axle_px;
      // Quick refusal: outside the body's box, give or take the tilt.
      const double bx = c * arm.x() - s * arm.y(), by = s * arm.x() + c * arm.y();
      const double blur = std::abs(crop.omega_rad_per_s) * options.exposure_s * std::abs(by);
      if (std::abs(bx) > body.extent.half_width_px + 12.0 + blur ||
          by > body.extent.ahead_px + 12.0 || by < -body.extent.behind_px - 12.0) {
        continue;
      }
      const double under = background_at(background, pixel.x(), pixel.y());
      const PixelModel m = model.at(pixel, under);
      if (!m.valid) continue;
      const double slope2 = m.by_shift.squaredNorm();
      if (slope2 < 0.25) continue;  // flat: says nothing about place
      const double misfit = double(crop.luma.at<uchar>(row, column)) - m.seen_model;
      misfits.push_back(float(std::abs(misfit)));
      // A misfit that a small shift explains is what is looked for, not an outlier.
      const double halving2 = options.outlier_levels * options.outlier_levels +
                              options.reach_px * options.reach_px * slope2;
      const double side_px = visible_side_px(view, pixel, m.outward, body.thickness_px);
      const double w = front_edge_weight(side_px) / (1.0 + misfit * misfit / halving2);
      const int cell = body.cell_of(m.body.x(), m.body.y());
      if (cell < 0) continue;
      CellSums& sum = sums[std::size_t(cell)];
      CellVector j;
      j << m.by_shift, m.by_light * m.ink, m.cover, m.by_light * (1.0 - m.cover) * under;
      sum.normal += w * j * j.transpose();
      sum.rhs += w * misfit * j;
      sum.squares += w * misfit * misfit;
      sum.weight += w;
      sum.place += w * slope2 * m.body;
      sum.place_weight += w * slope2;
      sum.side_px += w * slope2 * side_px;
      sum.believed += w * slope2;
      sum.total += slope2;
      believed += w * slope2;
      total += slope2;
    }
  }
  FrameRegistration out;
  out.score = believed / total;
  out.residual_level = 1.48 * double(median_of(std::move(misfits)));
  for (std::size_t cell = 0; cell < sums.size(); ++cell) {
    add_cell(sums[cell], int(cell), view, theta_rad, body.cell_depth_px[cell], out);
  }
  return out;
}

}  // namespace swingloss
