// SPDX-License-Identifier: Apache-2.0
/// \file shape_slopes.h
/// What the doubts of a track do to the points of a fit, wherever the points truly are.
#pragma once

#include "swing/joint_model.h"
#include "swing/oriented_track.h"

#include <Eigen/Core>

namespace swingloss {

/// Slope of each doubt's shape over the angle [rad/rad], a row a sample: of a straight line
/// through the samples within 0.1 rad (of a small swing, a sixteenth of its range), at least
/// three on either side. 0 where the angles about a sample do not differ.
///
/// A shape is stated at the angles measured. Were it taken from there as it is, the noise in
/// the angle would be in the shape too, and a fit could make its residuals smaller by shrinking
/// all angles: with a thousand samples a doubt of 3 % of the scale would be drawn ten standard
/// deviations off. joint_model.h takes it at the angle predicted.
[[nodiscard]] Eigen::MatrixXd shape_slopes(const OrientedTrack& track);

/// Sources, shapes and slopes of the problem's points.
void set_shapes(const OrientedTrack& track, JointProblem& problem);

}  // namespace swingloss
