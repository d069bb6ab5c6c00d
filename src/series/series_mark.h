// SPDX-License-Identifier: Apache-2.0
/// \file series_mark.h
/// Tells whether anything that a report is drawn from is still the same.
#pragma once

#include "series/series_plan.h"

#include <string>

namespace swingloss {

/// One line that stands for this program, the tables of the series and the records of its bars
/// (these tell which clips and photographs they were measured from). Clips and photographs
/// themselves are not read.
/// \throws InputError  one of them cannot be read
[[nodiscard]] std::string series_mark(const SeriesPlan& plan);

}  // namespace swingloss
