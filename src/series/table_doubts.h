// SPDX-License-Identifier: Apache-2.0
/// \file table_doubts.h
/// Slips that no row shows by itself: they come to light beside the other rows.
#pragma once

#include "series/read_specimens.h"
#include "series/series_result.h"

#include <string>
#include <vector>

namespace swingloss {

/// Looks through a table of bars for what is most likely a slip of typing or copying. Nothing
/// is changed by it: what was typed is used.
///
/// Warnings: `size-unlike-others` (a thickness or width more than a factor 1.5 from the median
/// of all bars: common practice, no source; it is to catch a point that slipped, not to judge
/// bars), `same-clip` (two bars with one clip, by path or by content), `photo-missing`,
/// `date-unread` (made_on or tested_on that is no day of a calendar). Notes: `date-form` (a day
/// that is not written as ISO 8601 has it), `typed-energy-unused` (beside a clip).
///
/// \param folder  where clips and photos are looked for; empty: they are not
[[nodiscard]] Remarks doubts_of_table(const std::vector<SpecimenRow>& rows,
                                      const std::string& folder);

/// What the whole series must be told of once its bars are concluded and ranked. Warnings:
/// `unit-by-missing-section` (a bar without a section made energy the ranked quantity of all),
/// `friction-guessed` (bars whose rig has no friction and whose clips do not show it).
[[nodiscard]] Remarks doubts_of_result(const SeriesResult& result);

}  // namespace swingloss
