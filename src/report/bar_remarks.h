// SPDX-License-Identifier: Apache-2.0
/// \file bar_remarks.h
/// Everything there is to say of one bar.
#pragma once

#include "series/series_result.h"

namespace swingloss {

/// Without the second of two that say the same: same code and severity, and the same text or
/// both notes.
[[nodiscard]] Remarks without_repeats(const Remarks& remarks);

/// The bar's own remarks, then those of its picture and its swing, each once.
[[nodiscard]] Remarks bar_remarks(const BarResult& bar);

}  // namespace swingloss
