// SPDX-License-Identifier: Apache-2.0
/// \file single_axis_equations.h
/// The sum of squares that fit_single_axis makes small, and its normal equations. Internal to
/// view.
#pragma once

#include "view/single_axis_fit.h"

#include <algorithm>
#include <cstddef>
#include <vector>

#include <Eigen/Core>

namespace swingloss {

/// Axle x, y; tilt x, y; log f.
inline constexpr int kViewCount = 5;
/// What all frames and points share: these and the readout.
inline constexpr int kReadout = kViewCount, kSharedCount = kViewCount + 1;

/// Everything that is solved for.
struct SingleAxisState {
  SwingView view;
  std::vector<double> theta_rad;
  std::vector<Eigen::Vector3d> body_px;
};

/// Normal equations with the angles, which meet only in their own frame, kept apart.
struct SingleAxisNormal {
  Eigen::MatrixXd common;  ///< view and body, priors included
  Eigen::VectorXd common_rhs;
  Eigen::VectorXd angle;  ///< one diagonal entry a frame
  Eigen::VectorXd angle_rhs;
  Eigen::MatrixXd mixed;  ///< common x frame
  double cost = 0.0;
};

/// Cauchy's weight of a normalised squared residual. \param scale2  of a typical one
[[nodiscard]] double cauchy_weight(double squared, double scale2);

/// How well the sightings agree with a state.
struct SingleAxisScatter {
  double scale2 = 1.0;  ///< of all: median of the normalised squares, each over the median that
                        ///< chi-square has with the sighting's own count of directions (1 for
                        ///< an edge, 2 for a corner)
  std::vector<double> frame, point;  ///< of each frame and point over that of all, >= 1

  /// For cauchy_weight(): sightings that lie within their own stated noise are no outliers.
  /// Many cautious ones (edges beside dots) would else make the few sharp ones look like it.
  [[nodiscard]] double cauchy_scale2() const { return std::max(1.0, scale2); }
};

/// One problem's equations. Keeps references: problem and options must outlive it.
class SingleAxisEquations {
 public:
  SingleAxisEquations(const SingleAxisProblem& problem, const SingleAxisOptions& options);

  [[nodiscard]] SingleAxisState start() const;
  /// Normalised squared residual of each sighting.
  [[nodiscard]] std::vector<double> squares(const SingleAxisState& state) const;
  [[nodiscard]] SingleAxisScatter scatter_at(const SingleAxisState& state) const;
  /// For a start that may be far off: one more than the mean in place of the median, and all
  /// frames and points alike. What disagrees with a poor start is no outlier yet: the sharpest
  /// sightings disagree most.
  [[nodiscard]] SingleAxisScatter trusting_scatter_at(const SingleAxisState& state) const;
  [[nodiscard]] SingleAxisNormal normal_at(const SingleAxisState& state,
                                           const SingleAxisScatter& scatter) const;
  [[nodiscard]] double cost_at(const SingleAxisState& state,
                               const SingleAxisScatter& scatter) const;

 private:
  [[nodiscard]] Eigen::Index common_count() const;
  /// The body's turn at the time at which a sighting was read.
  [[nodiscard]] double turn_rad(const SingleAxisState& state, std::size_t sighting) const;
  void add_priors(const SingleAxisState& state, double scale2, SingleAxisNormal& n) const;

  const SingleAxisProblem& problem_;
  const SingleAxisOptions& options_;
  double arm_px_;
  std::vector<double> typical_square_;   ///< of each sighting: median of its chi-square
  std::vector<double> turn_by_readout_;  ///< of each: d(turn) / d(readout) [rad/s]
};

}  // namespace swingloss
