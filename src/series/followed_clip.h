// SPDX-License-Identifier: Apache-2.0
/// \file followed_clip.h
/// A clip's pictures as its arm was followed in them, to draw the arm on.
#pragma once

#include "imaging/frame_source.h"
#include "series/swing_record.h"

#include <string>

namespace swingloss {

/// What was done to the pictures before the arm was followed in them.
struct Followed {
  bool steadied = false;  ///< the camera's shake was taken out
  Lines lines = Lines::AsMarked;
};

[[nodiscard]] Followed how_followed(const SwingRecord& record);

/// Opens the clip from its beginning, again and again, with the same done to its pictures. The
/// camera's shake is found at the first opening, which then reads the clip once more.
/// \param options  but for its `lines` \throws InputError  (the opener) as open_clip()
[[nodiscard]] ClipOpener followed_clip(const std::string& path,
                                       const Followed& how,
                                       ReadOptions options = {});

}  // namespace swingloss
