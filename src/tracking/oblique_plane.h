// SPDX-License-Identifier: Apache-2.0
/// \file oblique_plane.h
/// A swing filmed from far off square: how its plane lies, from motion alone. Internal to
/// tracking.
#pragma once

#include "tracking/followed_corners.h"
#include "view/swing_view.h"

#include <vector>

namespace swingloss {

/// The camera as it is taken to be before anything is fitted, the axle in the picture's middle.
/// \param size  of the picture \param tilt_rad  SwingView's tilt_x, tilt_y; none: square
[[nodiscard]] SwingView central_view(const cv::Size& size,
                                     const Eigen::Vector2d& tilt_rad = Eigen::Vector2d::Zero());

/// Circles about the axle are seen as ovals from far off square, and bisectors of what is
/// followed along them miss the axle. Tilts are tried by ten degrees in twelve directions, and
/// the best by smaller steps, for the one by which most of the motion turns about one place
/// once it is drawn in the plane of swing. On 33 rendered clips 20 to 48 degrees
/// off square the tries by ten degrees bring 9 to 84 % more of it about, and the tilt comes out
/// within 5 degrees or, beside it, mirrored; on 40 up to 13 degrees off square and one of a
/// camera, no more than 4 %.
///
/// \param size  of the small pictures
/// \return the tilt found, for central_view(); both ways of it where they do nearly alike;
/// nothing where the camera does not stand far off square, or the motion does not tell
[[nodiscard]] std::vector<Eigen::Vector2d> oblique_tilts_rad(
    const std::vector<FollowedCorner>& corners, const cv::Size& size);

}  // namespace swingloss
