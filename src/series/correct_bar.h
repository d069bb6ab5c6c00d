// SPDX-License-Identifier: Apache-2.0
/// \file correct_bar.h
/// Conclusions on a bar (series/conclude.h) with what a person put right.
#pragma once

#include "series/conclude.h"
#include "series/corrections.h"
#include "series/series_plan.h"
#include "swing/pendulum.h"

#include <string>
#include <vector>

namespace swingloss {

/// As conclude_filmed(), after correct_swing(): the result holds the corrected swing, and each
/// correction with what the program had in its place. A section drawn by hand wins over the
/// typed one, a break type set by hand over the typed letter. A note says what was changed.
/// \param standing  corrections of this bar; none: conclude_filmed()
[[nodiscard]] BarResult conclude_filmed_by_hand(const Specimen& specimen,
                                                SwingRecord automatic,
                                                const ConcludeOptions& options,
                                                const std::vector<Correction>& standing,
                                                const Pendulum* pendulum);

/// As conclude_typed(), with section, break type and leaving out by hand; what needs a clip is
/// not used, and that is said.
[[nodiscard]] BarResult conclude_typed_by_hand(const Specimen& specimen,
                                               const ConcludeOptions& options,
                                               const std::vector<Correction>& standing);

/// What stands at the place of a correction, in words: "125.03° (u 0.04°)".
/// \param section_u_mm  standard uncertainty taken for the section
[[nodiscard]] std::string value_words(CorrectionKind kind,
                                      const BarResult& bar,
                                      double section_u_mm);

/// "material, condition": what tells groups apart.
[[nodiscard]] std::string grouping_words(const RankingOptions& ranking);

/// Puts the standing grouping in the place of series.json's.
/// \return it, with what stood there; nothing without one
[[nodiscard]] std::vector<AppliedCorrection> regroup(const std::vector<Correction>& corrections,
                                                     SeriesPlan& plan);

/// Those that stand and name a bar that the table does not have: they are kept, and said.
[[nodiscard]] std::vector<AppliedCorrection> without_bar(
    const std::vector<Correction>& corrections, const std::vector<BarResult>& bars);

}  // namespace swingloss
