// SPDX-License-Identifier: Apache-2.0
#include "tracking/cell_registration.h"

#include "core/median.h"
#include "tracking/frame_model.h"

#include <algorithm>
#include <array>
#include <cmath>

#include <Eigen/Eigenvalues>
#include <Eigen/LU>

namespace swingloss {
namespace {

using Eigen::Matrix2d;
using Eigen::Vector2d;

/// Unknowns of one cell: its shift (2), then its light: gain of the ink, offset of the ink,
/// shade on the background (a shadow that goes along with the arm).
constexpr std::size_t kUnknowns = 5, kLights = kUnknowns - 2;
using CellMatrix = Eigen::Matrix<double, kUnknowns, kUnknowns>;
using CellVector = Eigen::Matrix<double, kUnknowns, 1>;

/// Sums over one cell's pixels.
struct CellSums {
  std::array<double, kUnknowns*(kUnknowns + 1) / 2> upper{};  ///< of the normal matrix, by rows
  std::array<double, kUnknowns> rhs_sums{};
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
    const std::array<double, kUnknowns> j{m.by_shift.x(),
                                          m.by_shift.y(),
                                          m.by_light * m.ink,
                                          m.cover,
                                          m.by_light * (1.0 - m.cover) * under};
    std::size_t at = 0;
    for (std::size_t row = 0; row < kUnknowns; ++row) {
      const double scaled = believed_part * j[row];
      for (std::size_t column = row; column < kUnknowns; ++column)
        upper[at++] += scaled * j[column];
      rhs_sums[row] += scaled * misfit;
    }
    squares += believed_part * misfit * misfit;
    weight += believed_part;
    place += say * m.body;
    place_weight += say;
    side_px += say * seen_side_px;
    believed += say;
    total += slope2;
  }

  [[nodiscard]] CellMatrix normal() const {
    CellMatrix out;
    std::size_t at = 0;
    for (Eigen::Index row = 0; row < out.rows(); ++row) {
      for (Eigen::Index column = row; column < out.cols(); ++column)
        out(row, column) = out(column, row) = upper[at++];
    }
    return out;
  }
  [[nodiscard]] CellVector rhs() const { return Eigen::Map<const CellVector>(rhs_sums.data()); }
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

/// How much a cell's light changes as the arm turns, one standard uncertainty each. Narrow,
/// since a look that is still blurred by a wrong axle takes most of a shift for a change of
/// light where it may: with ten times these the axle crept to its place by a tenth a round, and
/// clips that started 8 px off stayed a degree off.
constexpr double kGain_u = 0.015, kOffset_u_levels = 1.0, kShade_u = 0.06;

/// Against pixel noise of about 3 levels.
constexpr double light_prior(double u) { return 9.0 / (u * u); }

/// Solves one cell: the light is taken out by a Schur complement with priors.
/// \param expected_at  picture of a body point as the start has it
template <typename ExpectedAt>
void add_cell(const CellSums& sums,
              int cell,
              const ExpectedAt& expected_at,
              FrameRegistration& out) {
  if (sums.weight < 6.0 || sums.place_weight <= 0.0) return;
  CellMatrix normal = sums.normal();
  const CellVector all_rhs = sums.rhs();
  normal(2, 2) += light_prior(kGain_u);
  normal(3, 3) += light_prior(kOffset_u_levels);
  normal(4, 4) += light_prior(kShade_u);
  using Light = Eigen::Matrix<double, kLights, kLights>;
  const Light light = normal.bottomRightCorner<kLights, kLights>().inverse();
  const Eigen::Matrix<double, 2, kLights> cross = normal.topRightCorner<2, kLights>();
  const Matrix2d information = normal.topLeftCorner<2, 2>() - cross * light * cross.transpose();
  const Vector2d rhs = all_rhs.head<2>() - cross * light * all_rhs.tail<kLights>();
  const double strength = information.trace();
  if (!(strength > 50.0)) return;
  const Solved step = solve_told(information, rhs);
  const Vector2d& solved = step.shift;
  const double explained =
      rhs.dot(solved) + all_rhs.tail<kLights>().dot(light * all_rhs.tail<kLights>());
  CellShift shift;
  shift.cell = cell;
  shift.noise_levels = std::sqrt(std::max(0.25, (sums.squares - explained) / sums.weight));
  shift.information = step.told / (shift.noise_levels * shift.noise_levels);
  const double length = solved.norm();
  const Vector2d measured =
      length > 6.0 ? Vector2d(solved * (6.0 / length)) : solved;  // reach of one linear step
  shift.body_px = sums.place / sums.place_weight;
  const Eigen::Matrix<double, kLights, 1> lights =
      light * (all_rhs.tail<kLights>() - cross.transpose() * solved);
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
  const VisibleSide side(start.view, body.thickness_px);
  const double outlier2 = options.outlier_levels * options.outlier_levels,
               reach2 = options.reach_px * options.reach_px;
  for (int row = 0; row < crop.luma.rows; row += options.stride) {
    TellingRow telling = model.telling_row(
        {crop.offset_px.x - crop.shift_px.x, row + crop.offset_px.y - crop.shift_px.y});
    for (int column = 0; column < crop.luma.cols; column += options.stride) {
      if (!telling.at(column)) continue;
      const Vector2d pixel(column + crop.offset_px.x - crop.shift_px.x,
                           row + crop.offset_px.y - crop.shift_px.y);
      const double under = background_at(start.background, pixel.x(), pixel.y());
      const PixelModel m = model.at(pixel, under);
      if (!m.valid) continue;
      const double slope2 = m.by_shift.squaredNorm();
      const double misfit = double(crop.luma.at<uchar>(row, column)) - m.seen_model;
      // Flat pixels say nothing of place. They say what the light is on either side of an edge:
      // without them a shift and a change of the light look alike.
      if (slope2 >= 0.25) misfits.push_back(float(std::abs(misfit)));
      // A misfit that a small shift explains is what is looked for, not an outlier.
      const double halving2 = outlier2 + reach2 * slope2;
      const double side_px = side.px_at(pixel, m.outward);
      const double weight = front_edge_weight(side_px) / (1.0 + misfit * misfit / halving2);
      const int cell = body.cell_of(m.body.x(), m.body.y());
      if (cell >= 0) sums[std::size_t(cell)].add(m, misfit, under, weight, side_px);
    }
  }
  FrameRegistration out;
  double believed = 0.0, total = 1e-9;
  out.residual_level = 1.48 * double(median_of(std::move(misfits)));
  const TurnedView turned(start.view, start.theta_rad);
  for (std::size_t cell = 0; cell < sums.size(); ++cell) {
    believed += sums[cell].believed, total += sums[cell].total;
    const double depth_px = body.cell_depth_px[cell];
    const auto expected_at = [&](const Vector2d& body_px) {
      return turned.pixel_of({body_px.x(), body_px.y(), depth_px});
    };
    add_cell(sums[cell], int(cell), expected_at, out);
  }
  out.score = believed / total;
  return out;
}

}  // namespace swingloss
