// SPDX-License-Identifier: Apache-2.0
/// \file render_clip.h
/// One clip of a studio, coded and written.
#pragma once

#include "render/render_frames.h"

#include <string>

namespace swingloss::render {

/// Shoots a scene into a file. \throws InputError as create_clip
RenderTruth render_clip(const Studio& studio,
                        const RenderScene& scene,
                        const std::string& path);

}  // namespace swingloss::render
