// SPDX-License-Identifier: Apache-2.0
/// \file page_sections.h
/// The parts of the report page, in their order. Each gives HTML; empty: nothing to say.
#pragma once

#include "report/page.h"
#include "report/source_families.h"

#include <string>
#include <vector>

namespace swingloss {

[[nodiscard]] std::string verdict_section(const SeriesResult& series,
                                          const PagePictures& pictures);
[[nodiscard]] std::string groups_section(const SeriesResult& series,
                                         const PagePictures& pictures);
[[nodiscard]] std::string comparisons_section(const SeriesResult& series);
[[nodiscard]] std::string effects_section(const SeriesResult& series,
                                          const PagePictures& pictures);
[[nodiscard]] std::string budget_section(const SeriesResult& series,
                                         const PagePictures& pictures);
[[nodiscard]] std::string conditioning_section(const SeriesResult& series,
                                               const PagePictures& pictures);
[[nodiscard]] std::string bars_section(const SeriesResult& series,
                                       const PagePictures& pictures);
[[nodiscard]] std::string faces_section(const SeriesResult& series,
                                        const PagePictures& pictures);
[[nodiscard]] std::string unmeasured_section(const SeriesResult& series,
                                             const PagePictures& pictures);
/// What a person put in the place of automatic values, with when and why. Empty without any.
[[nodiscard]] std::string corrections_section(const SeriesResult& series);
[[nodiscard]] std::string rigs_section(const SeriesResult& series);
/// Whether any bar names a clip. Where none does the page says nothing of cameras and rigs.
[[nodiscard]] bool has_filmed_bar(const SeriesResult& series);
[[nodiscard]] std::string method_section(const SeriesResult& series);
[[nodiscard]] std::string cautions_section(const SeriesResult& series);

[[nodiscard]] std::string remarks_section(const SeriesResult& series);

/// Remarks on the ranking as a whole and on its groups, these with the group's name.
[[nodiscard]] Remarks ranking_remarks(const Ranking& ranking);

/// A group in a table: dot and material, below them condition and orientation.
[[nodiscard]] std::string group_cell(const SeriesResult& series, const GroupSummary& group);

/// Groups with limits: likelihood under two forms, and Kaplan-Meier. Empty without limits.
[[nodiscard]] std::string limits_table(const SeriesResult& series);

/// Grubbs' test and normal scores of each group, with the plot.
[[nodiscard]] std::string scatter_table(const SeriesResult& series,
                                        const PagePictures& pictures);

/// Instruments that a reference material ties together; empty without ties.
[[nodiscard]] std::string ties_table(const SeriesResult& series);

/// Bars whose sources were drawn, beside first order; empty without any.
[[nodiscard]] std::string drawn_table(const SeriesResult& series);

/// A dot in the colour that the material has on the charts.
[[nodiscard]] std::string colour_dot(const SeriesResult& series, const std::string& material);

/// A verdict as a word with its own shape: filled, outlined, dashed.
[[nodiscard]] std::string verdict_word(Verdict verdict);

/// "bar-7": the anchor of the bar with this index.
[[nodiscard]] std::string bar_anchor(std::size_t index);

/// The two arms and the height between them: what the swing did, in one small picture. Empty
/// where release or rise is not known.
[[nodiscard]] std::string swing_dial(const SwingMeasurement& swing);

/// Angles, energies and checks of one bar, as a table.
[[nodiscard]] std::string energy_ledger(const BarResult& bar);

/// Where the doubt of a value comes from: every family, largest first, with a bar in
/// proportion.
[[nodiscard]] std::string source_list(const std::vector<SourceFamily>& families,
                                      const std::string& unit);

}  // namespace swingloss
