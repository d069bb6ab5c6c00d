// SPDX-License-Identifier: Apache-2.0
/// \file swing_curve.h
/// The fitted law as a curve to draw, with its residuals.
#pragma once

#include "swing/explain_clip.h"
#include "swing/measurement.h"

namespace swingloss {

/// From the hold (or the first sample used) to the last sample used, about 600 points; the blow
/// is a kink where fall and rise pass hanging rest.
[[nodiscard]] SwingCurve curve_of(const Explained& explained);

}  // namespace swingloss
