// SPDX-License-Identifier: Apache-2.0
#include "tracking/cell_registration.h"

#include "core/median.h"
#include "tracking/frame_model.h"

#include <algorithm>
#include <cmath>

#include <Eigen/Eigenvalues>
#include <Eigen/LU>

namespace swingloss {
namespace {

using Eigen::Matrix2d;
using Eigen::Vector2d;

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

  /// \param misfit  seen less expected, levels \param under  background, light
  /// \param believed_part  0..1 \param seen_side_px  of the arm's side beside this pixel
  void add(const PixelModel& m,
           double misfit,
           double under,
           double believed_part,
           double seen_side_px) {
    const double slope2 = m.by_shift.squaredNorm(), say = believed_part * slope2;
    CellVector j;
    j << m.by_shift, m.by_light * m.ink, m.cover, m.by_light * (1.0 - m.cover) * under;
    normal += believed_part * j * j.transpose();
    rhs += believed_part * misfit * j;
    squares += believed_part * misfit * misfit;
    weight += believed_part;
    place += say * m.body;
    place_weight += say;
    side_px += say * seen_side_px;
    believed += say;
    total += slope2;
  }
};

/// Quick refusal of what lies outside the body's box, give or take tilt and blur.
class BodyBox {
 public:
  BodyBox(const BodyExtent& extent, const FrameStart& start, double exposure_s)
      : extent_(extent),
        axle_px_(start.view.axle_px),
        cosine_(std::cos(start.theta_rad)),
        sine_(std::sin(start.theta_rad)),
        turn_rad_(std::abs(start.crop.omega_rad_per_s) * exposure_s) {}

  [[nodiscard]] bool may_hold(const Vector2d& pixel) const {
    const Vector2d arm = pixel - axle_px_;
    const double bx = cosine_ * arm.x() - sine_ * arm.y(),
                 by = sine_ * arm.x() + cosine_ * arm.y();
    return std::abs(bx) <= extent_.half_width_px + kRoom_px + turn_rad_ * std::abs(by) &&
           by <= extent_.ahead_px + kRoom_px && by >= -extent_.behind_px - kRoom_px;
  }

 private:
  static constexpr double kRoom_px = 12.0;
  const BodyExtent& extent_;
  Vector2d axle_px_;
  double cosine_, sine_, turn_rad_;
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
/// \param expected_at  picture of a body point as the start has it
template <typename ExpectedAt>
void add_cell(const CellSums& sums,
              int cell,
              const ExpectedAt& expected_at,
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
  shift.pixel = expected_at(shift.body_px) + measured;
  shift.weight = sums.total > 0.0 ? sums.believed / sums.total : 0.0;
  out.cells.push_back(shift);
}

}  // namespace

FrameRegistration register_frame(const BodyTemplate& body,
                                 const FrameStart& start,
                                 const RegistrationOptions& options) {
  const ArmCrop& crop = start.crop;
  const FrameModel model(body, start, options.exposure_s);
  std::vector<CellSums> sums(std::size_t(body.cell_count()));
  std::vector<float> misfits;
  const BodyBox box(body.extent, start, options.exposure_s);
  for (int row = 0; row < crop.luma.rows; row += options.stride) {
    for (int column = 0; column < crop.luma.cols; column += options.stride) {
      const Vector2d pixel(column + crop.offset_px.x - crop.shift_px.x,
                           row + crop.offset_px.y - crop.shift_px.y);
      if (!box.may_hold(pixel)) continue;
      const double under = background_at(start.background, pixel.x(), pixel.y());
      const PixelModel m = model.at(pixel, under);
      if (!m.valid) continue;
      const double slope2 = m.by_shift.squaredNorm();
      if (slope2 < 0.25) continue;  // flat: says nothing about place
      const double misfit = double(crop.luma.at<uchar>(row, column)) - m.seen_model;
      misfits.push_back(float(std::abs(misfit)));
      // A misfit that a small shift explains is what is looked for, not an outlier.
      const double halving2 = options.outlier_levels * options.outlier_levels +
                              options.reach_px * options.reach_px * slope2;
      const double side_px = visible_side_px(start.view, pixel, m.outward, body.thickness_px);
      const double weight = front_edge_weight(side_px) / (1.0 + misfit * misfit / halving2);
      const int cell = body.cell_of(m.body.x(), m.body.y());
      if (cell >= 0) sums[std::size_t(cell)].add(m, misfit, under, weight, side_px);
    }
  }
  FrameRegistration out;
  double believed = 0.0, total = 1e-9;
  out.residual_level = 1.48 * double(median_of(std::move(misfits)));
  for (std::size_t cell = 0; cell < sums.size(); ++cell) {
    believed += sums[cell].believed, total += sums[cell].total;
    const double depth_px = body.cell_depth_px[cell];
    const auto expected_at = [&](const Vector2d& body_px) {
      return start.view.project(
          swing_from_body({body_px.x(), body_px.y(), depth_px}, start.theta_rad));
    };
    add_cell(sums[cell], int(cell), expected_at, out);
  }
  out.score = believed / total;
  return out;
}

}  // namespace swingloss
