// SPDX-License-Identifier: Apache-2.0
/// \file arm_doubts.h
/// What a tracked arm may be off by, the same way in many frames.
#pragma once

#include "core/angle_track.h"
#include "core/remark.h"
#include "tracking/steady_clip.h"

#include <Eigen/Core>

namespace swingloss {

/// What no view explains: the arm's sides, its light and its shadow change with its direction,
/// so that each direction has its own small error, the same at every pass. Stated as a row of
/// overlapping bumps over the angles passed (family `view.look`). How large they are the motion
/// shows (swing/doubt_size.h): what is stated is the most.
void add_look_doubts(double arm_length_px, AngleTrack& track);

/// Most cameras expose row after row: what is seen farther along was seen later, by up to some
/// hundredths of a second across the picture. The rows run along either side of it, as a
/// picture filmed upright may have been turned since. Each direction makes a doubt
/// (`view.readout-x`, `-y`): the arm's speed times the lag at its middle. Stated with 15 ms
/// across the picture (1 sigma); the motion shows how large it is. For arcs too short to find
/// the readout itself.
/// \param size_px  width, height of the picture \param axle_px  in it
void add_readout_doubts(const Eigen::Vector2d& size_px,
                        const Eigen::Vector2d& axle_px,
                        double arm_length_px,
                        AngleTrack& track);

/// Says so where the clip shows that its pictures were read line by line
/// (SwingView::readout_s), by more than three times its doubt and a thousandth of a second.
void note_readout(double readout_s, double u_readout_s, Remarks& remarks);

/// A camera that shook may also have moved aside, which shifts the arm against the wall by less
/// than it shifted all: a tenth of each picture's shift is doubted, sample by sample.
void add_shake_doubts(const CameraShake& shake, double arm_length_px, AngleTrack& track);

}  // namespace swingloss
