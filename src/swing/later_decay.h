// SPDX-License-Identifier: Apache-2.0
/// \file later_decay.h
/// What the swings after a bottom say about the loss at it.
#pragma once

#include "swing/explain_clip.h"

#include <optional>

namespace swingloss {

/// Energy over M that friction takes from the release to the next turning point by the law of
/// the later swings alone (swing/fit_decay.h).
/// \return nothing where the track shows fewer than five half swings after the bottom
[[nodiscard]] std::optional<double> loss_by_later_swings(const Explained& apart);

}  // namespace swingloss
