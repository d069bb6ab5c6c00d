// SPDX-License-Identifier: Apache-2.0
/// \file picture_angle.h
/// From points marked in a picture to angles of the arm, and back.
#pragma once

#include "series/swing_record.h"
#include "view/swing_view.h"

#include <optional>
#include <string>
#include <vector>

#include <Eigen/Core>

namespace swingloss {

/// The angle plus the whole turns that bring it within half a turn of another [rad].
[[nodiscard]] double turned_near_rad(double angle_rad, double other_rad);

/// Angle [rad] of an arm, in the plane of swing, that passes through a picture point: 0 down
/// the picture's vertical at no tilt, positive to the right, in (-pi, pi]. The inverse of
/// SwingView::project(swing_from_body({0, R, 0}, angle)), by Newton's method.
/// \return nothing on the axle itself (nearer than a pixel) or where no length R gives it
[[nodiscard]] std::optional<double> angle_in_picture_rad(const SwingView& view,
                                                         const Eigen::Vector2d& point_px);

/// The end of the arm in the picture at an angle of the track. \param omega_rad_per_s  its
/// rate: what a camera that reads line by line shows of the end was turned on by then
[[nodiscard]] Eigen::Vector2d arm_end_in_picture_px(const ArmTrack& arm,
                                                    double picture_rad,
                                                    double omega_rad_per_s = 0.0);

/// The arm as tracked, its end left where the pictures show it and its angle taken about
/// another axle. The view keeps its tilt. What the tracker held possible of the view's geometry
/// (`view.geometry-*`) gives way to the doubt of the axle (`hand.axle-x`, `-y`) and to that of
/// the tilt (`hand.tilt-x`, `-y`); each with `suffix`, for it belongs to this bar alone. Its
/// other doubts stay.
/// \param u_px  standard uncertainty of the axle's place, each way
[[nodiscard]] ArmTrack arm_about(const ArmTrack& arm,
                                 const Eigen::Vector2d& axle_px,
                                 double u_px,
                                 const std::string& suffix);

/// Clip times of the blows that a track shows, when it shows more than one
/// (swing/split_blows.h).
[[nodiscard]] std::vector<double> times_of_blows_s(const AngleTrack& track);

/// The stretch of the track that belongs to the blow nearest to `t_s`; the whole where there is
/// one blow.
[[nodiscard]] AngleTrack stretch_of_blow(const AngleTrack& track, double t_s);

}  // namespace swingloss
