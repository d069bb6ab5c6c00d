// SPDX-License-Identifier: Apache-2.0
/// \file normal_tail.h
/// The standard normal's lower tail on a logarithmic scale, far past where it underflows.
#pragma once

namespace swingloss {

/// ln Phi(x) for any finite x.
/// Accuracy: 14 digits (tests/ranking/normal_tail_test.cc).
[[nodiscard]] double log_normal_cdf(double x);

/// phi(x) / Phi(x), the mean step down when a normal value is only known to lie below x.
/// Tends to -x for large negative x, to 0 for large positive x.
[[nodiscard]] double tail_ratio(double x);

}  // namespace swingloss
