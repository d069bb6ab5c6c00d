// SPDX-License-Identifier: Apache-2.0
/// \file followed_clip.h
/// A clip's pictures as its arm was followed in them, to draw the arm on.
#pragma once

#include "imaging/frame_source.h"
#include "series/swing_record.h"

#include <string>

namespace swingloss {

/// Whether the arm was followed in pictures that were steadied first.
[[nodiscard]] bool was_steadied(const SwingRecord& record);

/// Opens the clip from its beginning, again and again: as it is, or, where `steady`, with its
/// camera's shake taken out as when it was measured. That is found at the first opening, which
/// then reads the clip once more.
/// \throws InputError  (the opener) as open_clip()
[[nodiscard]] ClipOpener followed_clip(const std::string& path,
                                       bool steady,
                                       const ReadOptions& options);

}  // namespace swingloss
