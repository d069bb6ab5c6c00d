// SPDX-License-Identifier: Apache-2.0
/// \file working_clip.h
/// A clip in the pixels in which its arm is followed. Internal to tracking.
#pragma once

#include "tracking/coarse_angles.h"
#include "tracking/track_arm.h"

namespace swingloss {

/// A clip, and where the arm roughly is in it. Where arm and picture have more pixels than are
/// needed, each pixel is the mean of a square of `shrink` x `shrink` of the file's: the arm
/// keeps 200 and the picture's longer side 900 (a thin rod that fills a small picture needs
/// them). What sets how well a picture is read (the arm's sides, shadows, coding) grows with
/// the picture: rendered clips of 1080 rows were read no better than of 540, in three times the
/// time and twice the memory.
struct WorkingClip {
  int shrink = 1;       ///< 1 or more
  ClipOpener open;      ///< brightness only; rows and columns left over are cut off
  CoarseAngles angles;  ///< lengths in its pixels
  SwingView start;      ///< likewise
};

/// \param angles,start  in the pixels of the file
[[nodiscard]] WorkingClip working_clip(const ClipOpener& open,
                                       CoarseAngles angles,
                                       const SwingView& start);

/// From the pixels in which the arm was followed to those of the file. What is in px in the
/// track is changed; pixel_limit_rad stays that of the pixels read.
void enlarge(int factor, ArmTrack& arm);

}  // namespace swingloss
