// SPDX-License-Identifier: Apache-2.0
/// \file view_of_swing.h
/// What a measured swing tells of its camera's place, for other clips from there.
#pragma once

#include "series/swing_record.h"
#include "tracking/recall_view.h"

#include <optional>
#include <string>

namespace swingloss {

/// The view as pictures and motion together show it: the law of the swing places the doubts
/// (SwingMeasurement::doubt_scores), and with them axle, tilt and focal length.
/// \param path  where the record's clip is: its first picture is read
/// \return nothing for a typed track, a clip that was steadied, or one whose motion was not
///         explained
/// \throws InputError  as open_clip()
[[nodiscard]] std::optional<KnownView> view_of_swing(const SwingRecord& record,
                                                     const std::string& path);

}  // namespace swingloss
