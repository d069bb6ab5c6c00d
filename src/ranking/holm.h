// SPDX-License-Identifier: Apache-2.0
/// \file holm.h
/// Many comparisons at once without more false alarms than one would give.
#pragma once

#include <vector>

namespace swingloss {

/// Holm's adjusted p values [Holm1979]: calling every value at or below alpha "different"
/// keeps the chance of any false call at alpha or less, however the tests depend on one
/// another. Agrees with R's p.adjust (tests/ranking/holm_test.cc).
/// \param p_values  each within [0, 1]
/// \return adjusted values in the given order, at most 1
[[nodiscard]] std::vector<double> holm_adjusted(const std::vector<double>& p_values);

}  // namespace swingloss
