// SPDX-License-Identifier: Apache-2.0
/// \file track_arm.h
/// Follows the arm through a clip: pictures to an angle track.
#pragma once

#include "core/angle_track.h"
#include "core/remark.h"
#include "core/result.h"
#include "imaging/frame_source.h"
#include "view/swing_view.h"

#include <memory>
#include <optional>
#include <string>

namespace swingloss {

enum class TrackMode { Bare, Dots, Sticker };

struct TrackOptions {
  /// Nothing: chosen by what the clip shows (a tag, two dots, or neither).
  std::optional<TrackMode> mode;
  int jobs = 0;  ///< threads; 0 takes the machine's
};

/// The arm of one clip.
struct ArmTrack {
  AngleTrack
      angles;  ///< theta = 0 when the arm points down the picture's vertical at no tilt; sign
               ///< as in the picture: positive when the arm's end is right of the axle
  /// A sample of the angles each: the Cramér-Rao limit of its direction, by the slopes of the
  /// arm's look, the pixels' own misfit and cells whose light is free. What no way of reading
  /// these pixels could beat; of dots, by their look alone.
  std::vector<double> pixel_limit_rad;
  SwingView view;
  double tilt_u_rad = 0.0;  ///< standard uncertainty of either tilt
  /// Covariance of the view apart from what the angles' doubts move it by.
  ViewCovariance view_rest = ViewCovariance::Zero();
  double u_readout_s = 0.0;  ///< of view.readout_s
  TrackMode mode = TrackMode::Bare;
  std::string why_mode;        ///< one sentence: what was seen that decided it
  double arm_length_px = 0.0;  ///< axle to the farthest point followed, for drawing
  double exposure_s = 0.0;     ///< exposure time found from the blur; 0 when none was seen
  ClipInfo clip;
  int frames = 0;  ///< decoded
  Remarks remarks;
};

/// \param open  opens the clip anew from its beginning; called more than once
/// \return the track, or Failure: one-frame, no-pendulum, camera-moved, arm-leaves-picture,
/// camera-oblique (too far off square for this arm); no-tag, no-dots where the mode asks for
/// them \throws InputError from the opener (no such file, not a video ...)
Result<ArmTrack> track_arm(const ClipOpener& open, const TrackOptions& options = {});

}  // namespace swingloss
