// SPDX-License-Identifier: Apache-2.0
/// \file single_axis_fit.h
/// From picture positions of points of one turning body to the view, the angles and the body.
#pragma once

#include "core/result.h"
#include "view/swing_view.h"

#include <vector>

#include <Eigen/Core>

namespace swingloss {

/// One point of the body seen in one frame.
struct PointSighting {
  int frame = 0;  ///< index into SingleAxisProblem::theta_rad
  int point = 0;  ///< index into SingleAxisProblem::body_px
  Eigen::Vector2d pixel;
  /// Inverse covariance [px^-2]: an edge has one strong direction, a corner two.
  Eigen::Matrix2d information;
};

/// What is seen, and where to start.
struct SingleAxisProblem {
  SwingView view;                        ///< start values; principal point is kept
  std::vector<double> theta_rad;         ///< start value for each frame
  std::vector<double> omega_rad_per_s;   ///< rate of each; empty: all were taken at an instant
  std::vector<Eigen::Vector3d> body_px;  ///< start value for each point
  std::vector<PointSighting> sightings;
};

struct SingleAxisOptions {
  double focal_prior_px = 0.0;     ///< > 0; phones see 55 to 75 degrees across the long side
  double focal_prior_log_u = 0.2;  ///< its standard uncertainty, relative
  double depth_prior_ratio =
      0.15;  ///< points lie within this part of the arm's length of one plane (1 sigma)
  double tilt_prior_rad =
      0.2;                 ///< people aim a camera square to the swing within this (1 sigma)
  bool hold_tilt = false;  ///< keep the tilt where it starts
  double readout_prior_s = 0.015;  ///< cameras read a picture within about this (1 sigma)
  bool hold_readout = false;       ///< keep the readout where it starts
  /// Errors of the look (sides, light, shadow) are alike in neighbouring frames and cells: this
  /// many sightings count as one when the view's doubt is stated. Found on rendered clips. The
  /// motion itself narrows that doubt later (swing/joint_fit.h).
  double alike_count = 200.0;
  /// Likewise for the readout alone: what it does grows with the arm's speed and changes sign
  /// with it, and errors of the look do neither. Found on the same clips.
  double readout_alike_count = 22.0;
  /// Priors weigh as much as this many sightings' say on their own: the same thought, milder,
  /// as too strong a prior would pull the tilt toward square.
  double prior_count = 60.0;
  int max_iterations = 100;
  bool try_mirror = true;  ///< of the tilt; false where the start has its sign from before
};

/// The answer. theta keeps the zero of the start values' body axes.
struct SingleAxisFit {
  SwingView view;
  /// The same with z = 0 where the points lie on the mean, each by its part in the angles:
  /// depth as a whole is not told by the pictures, and the axle's place in them means something
  /// there only.
  SwingView plane_view;
  std::vector<double> theta_rad;
  std::vector<double> u_theta_rad;  ///< random part of each frame, the view held fixed
  std::vector<Eigen::Vector3d> body_px;
  ViewCovariance view_covariance;  ///< of plane_view
  /// One column a direction of doubt of view and body together (1 sigma each): how all angles
  /// move with it. Ordered by size, tiny ones left out. What all angles share is taken off: a
  /// body and its angles turned against each other look the same, and a direction that is not
  /// told at all would hide the others.
  Eigen::MatrixXd theta_doubt_rad;
  /// How the view moves with the same directions, and the covariance that it has apart from
  /// these.
  Eigen::Matrix<double, 5, Eigen::Dynamic> view_doubt;
  ViewCovariance view_rest = ViewCovariance::Zero();
  double u_readout_s = 0.0;  ///< of view.readout_s
  double scatter =
      0.0;  ///< robust rms of normalised residuals; 1 when the information is honest
  std::vector<double> sighting_weight;  ///< 0..1, how far each sighting was believed
};

/// Least squares over all frames and points at once ("bundle"): every point runs on its own
/// circle about one axle, every frame has one angle. The ellipses give the tilt up to a mirror
/// choice, perspective decides the choice, the points' common centre gives the axle in their
/// own plane, which is what the angles need: a wrong axle plane is the largest error of the
/// naive way [HartleyZisserman 8.6].
///
/// Identifiable from what: axle and angles from any arc over about 60 degrees; tilt from about
/// 120 degrees of arc; focal length hardly ever (prior). Short arcs are answered with the
/// prior's width in `theta_doubt_rad`.
///
/// Robust: sightings are weighted by Cauchy's function of their normalised residual.
/// \return the fit, or Failure "view-not-solved" when the normal equations break down
Result<SingleAxisFit> fit_single_axis(const SingleAxisProblem& problem,
                                      const SingleAxisOptions& options);

}  // namespace swingloss
