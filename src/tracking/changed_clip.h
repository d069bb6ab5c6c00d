// SPDX-License-Identifier: Apache-2.0
/// \file changed_clip.h
/// A clip whose pictures are changed on their way. Internal to tracking.
#pragma once

#include "imaging/frame_source.h"

#include <functional>

namespace swingloss {

/// Changes a frame's pictures. May keep a state: each reading of the clip starts with a copy.
using FrameChange = std::function<void(Frame&)>;

/// The clip with every frame changed. \param change  not called itself, only copies of it
[[nodiscard]] ClipOpener changed_clip(const ClipOpener& open, const FrameChange& change);

}  // namespace swingloss
