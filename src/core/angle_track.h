// SPDX-License-Identifier: Apache-2.0
/// \file angle_track.h
/// The narrow waist between pictures and physics: an angle for each instant.
#pragma once

#include <cstddef>
#include <string>
#include <vector>

#include <Eigen/Core>

namespace swingloss {

/// One instant of the swing.
struct AngleSample {
  double t_s = 0.0;  ///< time stamp: middle of the exposure, 0 at the first frame of the clip
  double theta_rad = 0.0;  ///< in the plane of swing, unwrapped, any fixed zero, positive
                           ///< toward the release side
  double u_rad = 0.0;      ///< standard uncertainty of this sample alone (random part), > 0
  int frame = -1;          ///< index in the clip, 0 first; -1 when the track came from a file
};

/// A camera's view of the swing as numbers: axle x, y [px]; tilt x, y [rad]; natural logarithm
/// of the focal length [px] (view/swing_view.h).
using ViewVector = Eigen::Matrix<double, 5, 1>;
using ViewCovariance = Eigen::Matrix<double, 5, 5>;

/// A way in which all samples may be wrong together: one standard deviation of the cause moves
/// sample i by shape_rad[i]. Tilt of the camera, place of the axle, lens: what the pictures
/// left in doubt. A fit of the pendulum's law treats each as one unknown with a standard
/// normal prior, so that the law itself tells tilt from swing; what remains enters u.
struct SharedDoubt {
  std::string source;         ///< "view.tilt-x", "view.axle-y", ...
  Eigen::VectorXd shape_rad;  ///< one entry a sample, in the order of the samples
  /// Doubts with one name here are of one size, which is at most that of their shapes: how
  /// large it really is the motion tells (swing/doubt_size.h). Empty: the shape is the size.
  std::string family{};
  /// What the same standard deviation moves the view by, where the angles were read under one:
  /// whoever knows the view from elsewhere knows something of this doubt
  /// (tracking/recall_view.h).
  ViewVector view = ViewVector::Zero();
};

/// Angles of one clip in time order. Frames that could not be measured are simply missing.
struct AngleTrack {
  std::vector<AngleSample> samples;
  std::vector<SharedDoubt> doubts;
  /// What no law can put right: how far the direction of the arm at any one place may be off,
  /// beyond the doubts above (its sides, light and shadow there). Enters each turning angle on
  /// its own.
  double u_place_rad = 0.0;
};

/// Rate of the angle at a sample, from its neighbours; at the first and the last from the one
/// that is there; 0 where there is none. \pre sample < track.samples.size()
[[nodiscard]] double rate_rad_per_s(const AngleTrack& track, std::size_t sample);

/// The samples from one time to another, ends included, and the same rows of the doubts.
[[nodiscard]] AngleTrack stretch_of(const AngleTrack& track, double from_s, double to_s);

}  // namespace swingloss
