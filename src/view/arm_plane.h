// SPDX-License-Identifier: Apache-2.0
/// \file arm_plane.h
/// Where along the axle the arm's points lie, and the axle's place in the picture there.
/// Internal to view.
#pragma once

#include "view/single_axis_equations.h"

#include <vector>

#include <Eigen/Core>

namespace swingloss {

/// Part that each point has in the angles: its sightings' information, as far as they were
/// believed, times its distance from the axle. Their sum is 1.
[[nodiscard]] Eigen::VectorXd shares_of(const SingleAxisProblem& problem,
                                        const std::vector<double>& sighting_weight);

/// The same pictures with the plane z = 0 where the points lie on the mean. Sliding the origin
/// along the axle by d, with t the axle's direction in the picture's axes and f the focal
/// length, leaves every picture as it is when the axle becomes the image of (0, 0, d), the
/// points' depths fall by d, and all their coordinates grow by f / (f - d t_z).
/// \param shares  of the points, as shares_of()
[[nodiscard]] SingleAxisState in_arm_plane(SingleAxisState state,
                                           const Eigen::VectorXd& shares);

/// How the view with its axle in the points' mean plane moves with view and body, for a state
/// in that plane. Depth that is not told, and the axle that slides along with it, are then no
/// doubt of the view: what the pictures tell is the middle of the circles.
/// \return 5 rows; a column an unknown, as SingleAxisNormal::common
[[nodiscard]] Eigen::MatrixXd view_in_arm_plane(const SingleAxisState& state,
                                                const Eigen::VectorXd& shares);

}  // namespace swingloss
