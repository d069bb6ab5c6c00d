// SPDX-License-Identifier: Apache-2.0
/// \file coarse_arm.h
/// The arm of a clip to about a degree, and how the camera seems to see its swing. Internal to
/// tracking.
#pragma once

#include "core/result.h"
#include "tracking/clip_survey.h"
#include "tracking/coarse_angles.h"
#include "view/swing_view.h"

namespace swingloss {

/// Where the arm roughly is. Lengths in full pixels at the axle's distance.
struct CoarseArm {
  SwingView view;       ///< square, or tilted as one of oblique_tilts_rad()
  CoarseAngles angles;  ///< of every frame, in that view's plane of swing
};

/// Looks for what turns about one place, in the pictures as they are and, where the camera
/// seems to stand far off square, in squared ones (squared_clip.h), for which the clip is read
/// once more. These are taken where they explain about as much of what moves.
/// A shadow turns about a place as well and may be followed in more places than its arm: of two
/// things that turn clearly, what looks less like a shadow is favoured (cast_shadow.h).
/// \return Failure "no-pendulum" where nothing does
[[nodiscard]] Result<CoarseArm> find_coarse_arm(const ClipOpener& open,
                                                const ClipSurvey& survey);

}  // namespace swingloss
