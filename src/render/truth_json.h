// SPDX-License-Identifier: Apache-2.0
/// \file truth_json.h
/// What truly happened, as JSON text.
#pragma once

#include "render/render_swing.h"

#include <string>

namespace swingloss {

/// Truth of one clip with every frame: { "format": "swingloss/clip-truth/1", "outcome":
/// "broken" | "not-broken" | "free-swing", "absorbed_J": number | null, "release_deg",
/// "rise_deg", "available_J", "friction_J", "rig": {...}, "camera": {...}, "swings": [...],
/// "frame_time_s": [...], "frame_stamp_s": [...], "frame_angle_deg": [...] }
[[nodiscard]] std::string clip_truth_json(const RenderScene& scene, const RenderTruth& truth);

/// The fields of one swing, without braces: for lists of clips.
[[nodiscard]] std::string swing_truth_fields(const RenderSwingTruth& swing, bool had_bar);

/// The constants of a rendered rig as a JSON object.
[[nodiscard]] std::string rig_truth_json(const RenderRig& rig);

}  // namespace swingloss
