// SPDX-License-Identifier: Apache-2.0
/// \file period_ratio.h
/// How much slower than a small swing a large one is.
#pragma once

#include "core/angle.h"

namespace swingloss {

/// Complete elliptic integral of the first kind by the arithmetic-geometric mean
/// [AbramowitzStegun 17.6].
///
///   K(k) = integral over 0..pi/2 of dx / sqrt(1 - k^2 sin^2 x)
///
/// \param modulus  k (not m = k^2), in (-1, 1); dimensionless
/// \throws std::logic_error  outside that range
///
/// Accuracy: a few units in the last place (tests/swing/period_ratio_test.cc).
[[nodiscard]] double complete_elliptic_k(double modulus);

/// Period of a frictionless swing over that of an infinitely small one, T/T0 = (2/pi)
/// K(sin(a/2)); dimensionless, >= 1.
///
/// \param amplitude  between -180 and 180 degrees, ends excluded
/// \throws std::logic_error  outside that range
[[nodiscard]] double period_ratio(Angle amplitude);

/// Reduced length I/(mL) of a rigid pendulum from a period and the amplitude it was timed at.
///
///   l = g (T / (2 pi period_ratio(amplitude)))^2
///
/// \param period_s  a full swing, there and back, > 0
[[nodiscard]] double reduced_length_m(double period_s,
                                      Angle amplitude,
                                      double gravity_m_per_s2);

}  // namespace swingloss
