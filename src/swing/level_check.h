// SPDX-License-Identifier: Apache-2.0
/// \file level_check.h
/// Whether a hold or a rest agrees with the motion.
#pragma once

#include "swing/explain_clip.h"

namespace swingloss {

/// How far a level is from the fit, in standard deviations of the difference.
[[nodiscard]] double contradiction(const Explained& e, const FitLevel& level);

/// Largest angle at which dry friction, as far as it is known, can hold the arm [rad].
[[nodiscard]] double dead_band_rad(const Explained& e);

}  // namespace swingloss
