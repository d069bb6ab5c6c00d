// SPDX-License-Identifier: Apache-2.0
#include "tracking/solve_cell.h"

#include <algorithm>
#include <array>
#include <cmath>

#include <Eigen/Eigenvalues>
#include <Eigen/LU>

namespace swingloss {
namespace {

using Eigen::Matrix2d;
using Eigen::Vector2d;

constexpr int kLights = int(kCellUnknowns) - 2;
using CellMatrix = Eigen::Matrix<double, kCellUnknowns, kCellUnknowns>;

using Told = CellPixel::Told;

/// Sums over one cell's pixels.
struct CellSums {
  CellMatrix normal = CellMatrix::Zero();
  CellVector rhs = CellVector::Zero();
  double squares = 0.0, weight = 0.0;
  Vector2d place = Vector2d::Zero();
  double side_px = 0.0, believed = 0.0, total = 0.0;

  /// \param left  what the present solution leaves of the pixel's misfit, levels
  void add_rest(const CellPixel& p, double left, double part) {
    const double say = part * double(p.slope2);
    squares += part * left * left;
    weight += part;
    place += say * p.body.cast<double>();
    side_px += say * double(p.side_px);
    believed += say;
    total += double(p.slope2);
  }
};

/// Products of some pixels, in single precision: a row an unknown.
class SomeProducts {
 public:
  SomeProducts() { rows_.fill(Told::Zero()); }
  void add(const CellPixel& p, float part) {
    for (std::size_t row = 0; row < kCellUnknowns; ++row)
      rows_[row] += (part * p.told[Eigen::Index(row)]) * p.told;
  }
  void move_to(CellSums& sums) {
    constexpr auto kCount = Eigen::Index(kCellUnknowns);
    for (Eigen::Index row = 0; row < kCount; ++row) {
      Told& products = rows_[std::size_t(row)];
      sums.normal.row(row) += products.head<kCount>().cast<double>().matrix().transpose();
      sums.rhs(row) += double(products[kCount]);
      products.setZero();
    }
  }

 private:
  std::array<Told, kCellUnknowns> rows_;
};

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

/// One cell solved.
struct CellSolution {
  CellVector unknowns = CellVector::Zero();
  Matrix2d told = Matrix2d::Zero();  ///< see Solved
};

/// The light is taken out by a Schur complement with priors. \return nothing for a cell that
/// says too little
std::optional<CellSolution> solve_cell(const CellSums& sums) {
  if (sums.weight < 6.0 || sums.believed <= 0.0) return std::nullopt;
  CellMatrix normal = sums.normal;
  normal(2, 2) += light_prior(kGain_u);
  normal(3, 3) += light_prior(kOffset_u_levels);
  normal(4, 4) += light_prior(kShade_u);
  using Light = Eigen::Matrix<double, kLights, kLights>;
  const Light light = normal.bottomRightCorner<kLights, kLights>().inverse();
  const Eigen::Matrix<double, 2, kLights> cross = normal.topRightCorner<2, kLights>();
  const Matrix2d information = normal.topLeftCorner<2, 2>() - cross * light * cross.transpose();
  if (!(information.trace() > 50.0)) return std::nullopt;
  const Vector2d rhs = sums.rhs.head<2>() - cross * light * sums.rhs.tail<kLights>();
  const Solved step = solve_told(information, rhs);
  CellSolution out;
  out.told = step.told;
  out.unknowns << step.shift,
      light * (sums.rhs.tail<kLights>() - cross.transpose() * step.shift);
  return out;
}

CellSums sums_at(const std::vector<CellPixel>& pixels,
                 const CellVector& unknowns,
                 const RegistrationOptions& options) {
  constexpr std::size_t kAtATime = 64;  // single precision is good enough for so many
  Told leaves = Told::Zero();
  leaves.head<kCellUnknowns>() = -unknowns.array().cast<float>();
  leaves[Eigen::Index(kCellUnknowns)] = 1.0F;
  CellSums sums;
  SomeProducts products;
  for (std::size_t i = 0; i < pixels.size(); ++i) {
    const CellPixel& p = pixels[i];
    const float left = (p.told * leaves).sum();
    const float part = believed_part(p, left, options);
    products.add(p, part);
    sums.add_rest(p, double(left), double(part));
    if ((i + 1) % kAtATime == 0) products.move_to(sums);
  }
  products.move_to(sums);
  return sums;
}

}  // namespace

CellPixel::CellPixel(const PixelModel& m,
                     const Vector2d& at,
                     double level,
                     double background,
                     double seen_side_px)
    : slope2(float(m.by_shift.squaredNorm())),
      front(float(front_edge_weight(seen_side_px))),
      side_px(float(seen_side_px)),
      body(m.body.cast<float>()),
      pixel(at.cast<float>()),
      seen(float(level)),
      under(float(background)) {
  told << m.by_shift.cast<float>().array(), float(m.by_light * m.ink), float(m.cover),
      float(m.by_light * (1.0 - m.cover) * background), float(level - m.seen_model), 0.0F, 0.0F;
}

std::optional<CellShift> step_of_cell(const std::vector<CellPixel>& pixels,
                                      const RegistrationOptions& options) {
  constexpr double kWideReach_px = 1.5;
  constexpr int kRounds = 4;
  RegistrationOptions wide = options;
  wide.reach_px = std::max(kWideReach_px, options.reach_px);
  CellSolution solution;
  for (int round = 0; round < kRounds; ++round) {
    const std::optional<CellSolution> next =
        solve_cell(sums_at(pixels, solution.unknowns, round == 0 ? wide : options));
    if (!next) return std::nullopt;
    solution = *next;
  }
  const CellSums sums = sums_at(pixels, solution.unknowns, options);
  CellShift shift;
  shift.noise_levels = std::sqrt(std::max(0.25, sums.squares / sums.weight));
  shift.information = solution.told / (shift.noise_levels * shift.noise_levels);
  shift.body_px = sums.place / sums.believed;
  shift.shade = solution.unknowns(kCellUnknowns - 1);
  shift.side_px = sums.side_px / sums.believed;
  shift.pixel = solution.unknowns.head<2>();
  shift.weight = sums.total > 0.0 ? sums.believed / sums.total : 0.0;
  return shift;
}

}  // namespace swingloss
