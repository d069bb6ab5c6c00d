// SPDX-License-Identifier: Apache-2.0
/// \file bar_remarks.h
/// Everything there is to say of one bar.
#pragma once

#include "series/series_result.h"

namespace swingloss {

/// The bar's own remarks, then those of its picture and its swing.
[[nodiscard]] Remarks bar_remarks(const BarResult& bar);

}  // namespace swingloss
