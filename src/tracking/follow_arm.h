// SPDX-License-Identifier: Apache-2.0
/// \file follow_arm.h
/// From a rough arm to its track, where the camera stands still. Internal to tracking.
#pragma once

#include "core/result.h"
#include "tracking/clip_survey.h"
#include "tracking/track_arm.h"
#include "tracking/working_start.h"

namespace swingloss {

/// The arm followed, in the pixels of its start. Sets what is told by the arm: angles and their
/// doubts, view, exposure, mode; not the clip's own facts.
/// \return the track, or Failure: too-few-frames, camera-oblique, or that of refine_arm()
[[nodiscard]] Result<ArmTrack> follow_arm(const ClipOpener& open,
                                          const ClipSurvey& survey,
                                          const WorkingStart& start,
                                          const TrackOptions& options);

}  // namespace swingloss
