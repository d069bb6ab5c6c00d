// SPDX-License-Identifier: Apache-2.0
/// \file single_axis_equations.h
/// The sum of squares that fit_single_axis makes small, and its normal equations. Internal to
/// view.
#pragma once

#include "view/single_axis_fit.h"

#include <vector>

#include <Eigen/Core>

namespace swingloss {

/// Axle x, y; tilt x, y; log f.
inline constexpr int kViewCount = 5;

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
  Eigen::MatrixXd mixed;  ///< frame x common
  double cost = 0.0;
};

/// Cauchy's weight of a normalised squared residual. \param scale2 see scale2_of()
[[nodiscard]] double cauchy_weight(double squared, double scale2);

/// One problem's equations. Keeps references: problem and options must outlive it.
class SingleAxisEquations {
 public:
  SingleAxisEquations(const SingleAxisProblem& problem, const SingleAxisOptions& options);

  [[nodiscard]] SingleAxisState start() const;
  /// Normalised squared residual of each sighting.
  [[nodiscard]] std::vector<double> squares(const SingleAxisState& state) const;
  /// Median of the normalised squares, each over the median that chi-square would have with the
  /// sighting's own count of directions: 1 for an edge, 2 for a corner, between for in between.
  [[nodiscard]] double scale2_of(const std::vector<double>& squares) const;
  [[nodiscard]] SingleAxisNormal normal_at(const SingleAxisState& state, double scale2) const;
  [[nodiscard]] double cost_at(const SingleAxisState& state, double scale2) const;

 private:
  [[nodiscard]] Eigen::Vector2d pixel_of(const SingleAxisState& state,
                                         const PointSighting& s) const;
  [[nodiscard]] Eigen::Index common_count() const;
  void add_priors(const SingleAxisState& state, double scale2, SingleAxisNormal& n) const;

  const SingleAxisProblem& problem_;
  const SingleAxisOptions& options_;
  double arm_px_;
};

}  // namespace swingloss
