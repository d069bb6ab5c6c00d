// SPDX-License-Identifier: Apache-2.0
/// \file video_clip.h
/// A video file as a FrameSource. Internal to imaging: callers use open_clip().
#pragma once

#include "imaging/frame_source.h"

#include <memory>
#include <string>

namespace swingloss {

/// \throws InputError as open_clip()
[[nodiscard]] std::unique_ptr<FrameSource> open_video(const std::string& path,
                                                      const ReadOptions& options);

}  // namespace swingloss
