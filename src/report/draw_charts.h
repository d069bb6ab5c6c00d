// SPDX-License-Identifier: Apache-2.0
/// \file draw_charts.h
/// Every chart of a series, into its files and onto the page.
#pragma once

#include "report/page.h"
#include "report/shelf.h"
#include "report/write_report.h"

#include <cstddef>
#include <string>

namespace swingloss {

/// Charts of the whole series: ranking, table of groups, effects. Nothing without a ranking.
/// \throws as run_gnuplot()
void draw_series_charts(const SeriesResult& series,
                        const ReportOptions& options,
                        Shelf& shelf,
                        PagePictures& pictures);

/// The angle chart of one bar. \return <svg> for the page; empty when it has no track
[[nodiscard]] std::string draw_bar_chart(const SeriesResult& series,
                                         std::size_t index,
                                         const ReportOptions& options,
                                         Shelf& shelf);

/// There is something to draw a chart of.
[[nodiscard]] bool needs_charts(const SeriesResult& series);

/// What a bar's files are called: its id where that is a safe file name, else its place, in a
/// form that no safe id has.
[[nodiscard]] std::string stem_of(const SeriesResult& series, std::size_t index);

}  // namespace swingloss
