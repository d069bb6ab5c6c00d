// SPDX-License-Identifier: Apache-2.0
/// \file steady_clip.h
/// A clip whose camera shook, as if it had stood still.
#pragma once

#include "tracking/clip_survey.h"
#include "tracking/landmarks.h"

#include <memory>
#include <optional>
#include <vector>

#include <opencv2/core.hpp>

namespace swingloss {

/// Code of the remark on a track whose clip was steadied.
inline constexpr const char* kCameraSteadied = "camera-steadied";

/// Where each picture lies against the first one of the clip.
struct CameraShake {
  std::vector<PictureMove> moves;  ///< one a frame: from the first picture to it
  std::vector<double> shift_px;  ///< one a frame: how far its middle lies from the first one's
  double farthest_px = 0.0;      ///< that any corner of any picture lies from the first one's
};

/// Whether the pictures lie still against each other, as far as their background tells.
/// \return false where it has too few features to tell
[[nodiscard]] bool camera_shakes(const ClipSurvey& survey);

/// Follows the background's features from the first picture through the clip, the moving arm
/// and its shadow being outvoted. Reads the clip once.
///
/// Exact for a camera that turns about itself. One that also moves aside shows the arm shifted
/// against the wall; that is not seen here, and a doubt of the shift's tenth stands for it
/// (add_shake_doubts()).
/// \return nothing where a tenth of the pictures cannot be placed, or one lies off by more than
///         a twentieth of the picture's longer side
[[nodiscard]] std::optional<CameraShake> follow_camera(const ClipOpener& open);

/// The clip with each picture put where the first one was taken from.
[[nodiscard]] ClipOpener steadied(const ClipOpener& open,
                                  std::shared_ptr<const CameraShake> shake);

}  // namespace swingloss
