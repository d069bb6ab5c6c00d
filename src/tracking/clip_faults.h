// SPDX-License-Identifier: Apache-2.0
/// \file clip_faults.h
/// Faults of a clip that tracking cannot put right.
#pragma once

#include "core/remark.h"
#include "core/result.h"
#include "tracking/clip_survey.h"
#include "tracking/coarse_angles.h"
#include "view/swing_view.h"

#include <optional>

namespace swingloss {

/// Whether the camera moved: then most edges of the still background change at once, which an
/// arm that crosses some of them cannot do. Says nothing about a clip whose background has too
/// few edges to tell. \return Failure "camera-moved", or nothing
[[nodiscard]] std::optional<Failure> camera_moved(const ClipSurvey& survey);

/// Whether all but the innermost third of the arm lies outside the picture in some stretch of
/// the swing. \param view  full pixels, as the angles
/// \return Failure "arm-leaves-picture", or nothing
[[nodiscard]] std::optional<Failure> arm_leaves_picture(const ClipInfo& info,
                                                        const CoarseAngles& angles,
                                                        const SwingView& view);

/// The same of the outer third, which tells most of the angle: what is left tells it less well.
/// \return a warning "arm-partly-outside", or nothing
[[nodiscard]] std::optional<Remark> arm_partly_outside(const ClipInfo& info,
                                                       const CoarseAngles& angles,
                                                       const SwingView& view);

}  // namespace swingloss
