// SPDX-License-Identifier: Apache-2.0
/// \file working_start.h
/// Where the arm roughly is, in the pixels in which it is followed. Internal to tracking.
#pragma once

#include "tracking/coarse_angles.h"
#include "tracking/track_arm.h"

namespace swingloss {

/// Where arm and picture have more pixels than are needed, the arm is followed in pictures
/// shrunk by a whole factor: the arm keeps 200 pixels and the picture's longer side 900 (a thin
/// rod that fills a small picture needs them). What sets how well a picture is read (the arm's
/// sides, shadows, coding) grows with the picture: rendered clips of 1080 rows were read no
/// better than of 540, in three times the time and twice the memory.
struct WorkingStart {
  int shrink = 1;       ///< 1 or more, for shrunk_picture()
  CoarseAngles angles;  ///< lengths in its pixels
  SwingView view;       ///< likewise
};

/// \param angles,view  in the pixels of the file
[[nodiscard]] WorkingStart working_start(const ClipInfo& info,
                                         CoarseAngles angles,
                                         const SwingView& view);

/// From the pixels in which the arm was followed to those of the file. What is in px in the
/// track is changed; pixel_limit_rad stays that of the pixels read.
void enlarge(int factor, ArmTrack& arm);

}  // namespace swingloss
