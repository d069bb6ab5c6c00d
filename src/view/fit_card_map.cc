// SPDX-License-Identifier: Apache-2.0
#include "metrology/least_squares.h"
#include "view/card_tags.h"

#include <cmath>

#include <Eigen/Eigenvalues>
#include <opencv2/calib3d.hpp>

namespace swingloss {
namespace {

using Eigen::Index;
using Eigen::Matrix3d;
using Eigen::Vector2d;
using Eigen::VectorXd;

constexpr double kPlaneUnit_m = 0.05;  ///< half a card: the fit's own unit
constexpr double kCorner_u_px = 0.05;  ///< no corner is read better
/// Phones straighten their pictures; what they leave is a percent or two at the corner.
constexpr double kUsualK1 = 0.02;
/// Ink spreads, and bright paper glows over the edge: every tag is a little larger or smaller
/// than drawn, alike on all sides; relative to its side.
constexpr double kInkGain = 0.02;

/// The eight numbers of the map in the fit's units, and k1.
CardMap map_of(const VectorXd& p, const Vector2d& middle_m, const cv::Size& size_px) {
  Matrix3d ideal_from_unit;
  ideal_from_unit << p[0], p[1], p[2], p[3], p[4], p[5], p[6], p[7], 1.0;
  Matrix3d unit_from_plane;
  unit_from_plane << 1.0 / kPlaneUnit_m, 0.0, -middle_m.x() / kPlaneUnit_m, 0.0,
      1.0 / kPlaneUnit_m, -middle_m.y() / kPlaneUnit_m, 0.0, 0.0, 1.0;
  CardMap map;
  map.ideal_from_plane = ideal_from_unit * unit_from_plane;
  map.k1 = p[8];
  map.centre_px = {(size_px.width - 1) / 2.0, (size_px.height - 1) / 2.0};
  map.half_diagonal_px = std::hypot(size_px.width, size_px.height) / 2.0;
  return map;
}

struct Pairs {
  std::vector<Vector2d> plane_m, pixel;
  std::vector<Vector2d> outward_m;  ///< from the tag's middle to the corner
};

void add_corners(const CardTag& tag, const SeenTag& seen, Pairs& pairs) {
  for (std::size_t j = 0; j < 4; ++j) {
    pairs.plane_m.push_back(tag.corners_m[j]);
    pairs.pixel.push_back(seen.corners_px[j]);
    pairs.outward_m.push_back(tag.corners_m[j] - (tag.corners_m[0] + tag.corners_m[2]) / 2.0);
  }
}

Pairs pairs_of(const ScaleCard& card, const std::vector<SeenTag>& tags) {
  Pairs pairs;
  for (const SeenTag& seen : tags) {
    for (const CardTag& tag : card.tags) {
      if (tag.id == seen.id) add_corners(tag, seen, pairs);
    }
  }
  return pairs;
}

/// A start from OpenCV's direct solution without a lens term.
VectorXd start_of(const Pairs& pairs, const Vector2d& middle_m, const cv::Size& size_px) {
  const CardMap frame = map_of(VectorXd::Zero(9), middle_m, size_px);
  std::vector<cv::Point2d> from;
  std::vector<cv::Point2d> to;
  for (std::size_t i = 0; i < pairs.pixel.size(); ++i) {
    const Vector2d unit = (pairs.plane_m[i] - middle_m) / kPlaneUnit_m;
    const Vector2d ideal = (pairs.pixel[i] - frame.centre_px) / frame.half_diagonal_px;
    from.emplace_back(unit.x(), unit.y());
    to.emplace_back(ideal.x(), ideal.y());
  }
  const cv::Mat h = cv::findHomography(from, to);
  VectorXd start = VectorXd::Zero(9);
  if (h.empty()) return start;
  for (int i = 0; i < 8; ++i) start[i] = h.at<double>(i / 3, i % 3) / h.at<double>(2, 2);
  return start;
}

std::vector<double> residuals_a_tag(const VectorXd& residuals) {
  std::vector<double> out;
  for (Index i = 0; i + 8 <= residuals.size(); i += 8) {
    out.push_back(kCorner_u_px * std::sqrt(residuals.segment(i, 8).squaredNorm() / 8.0));
  }
  return out;
}

}  // namespace

Result<FittedMap> fit_card_map(const ScaleCard& card,
                               const std::vector<SeenTag>& tags,
                               const cv::Size& size_px) {
  const Pairs pairs = pairs_of(card, tags);
  const Vector2d middle_m = card.size_m / 2.0;
  LeastSquaresProblem problem;
  for (int i = 0; i < 10; ++i) problem.names.push_back("card map " + std::to_string(i + 1));
  problem.start = VectorXd::Zero(10);
  problem.start.head<9>() = start_of(pairs, middle_m, size_px);
  problem.residuals = [&](const VectorXd& p) {
    const CardMap map = map_of(p, middle_m, size_px);
    VectorXd out(Index(2 * pairs.pixel.size()));
    for (std::size_t i = 0; i < pairs.pixel.size(); ++i) {
      out.segment<2>(Index(2 * i)) =
          (pairs.pixel[i] - map.pixel_of(pairs.plane_m[i] + p[9] * pairs.outward_m[i])) /
          kCorner_u_px;
    }
    return out;
  };
  problem.priors = {{8, 0.0, kUsualK1}, {9, 0.0, kInkGain}};
  problem.scale = VectorXd::Constant(10, 0.01);
  const Result<LeastSquaresFit> fitted = least_squares(problem);
  if (!fitted.ok()) return fitted.failure();
  const LeastSquaresFit& fit = fitted.value();
  FittedMap out;
  out.map = map_of(fit.parameters, middle_m, size_px);
  const Eigen::SelfAdjointEigenSolver<Eigen::MatrixXd> directions(fit.covariance);
  for (Index k = 0; k < 10; ++k) {
    const double u = std::sqrt(std::max(0.0, directions.eigenvalues()[k]));
    out.one_u_off.push_back(
        map_of(fit.parameters + u * directions.eigenvectors().col(k), middle_m, size_px));
  }
  out.residual_px =
      kCorner_u_px * std::sqrt(fit.residuals.squaredNorm() / double(fit.residuals.size()));
  out.tag_residual_px = residuals_a_tag(fit.residuals);
  return out;
}

}  // namespace swingloss
