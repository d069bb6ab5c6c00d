// SPDX-License-Identifier: Apache-2.0
/// \file draw_bar.h
/// First-order uncertainty of a bar, checked by drawing.
#pragma once

#include "series/series_result.h"

namespace swingloss {

/// Draws every source of a bar's result and works out
///
///   W = M (cos rise - cos release) - W_f,   strength = 1000 W / (h b_N)
///
/// each time without linearising (W_f is taken as first order gives it) [JCGM101]. A typed bar
/// has W as typed. Censored bars draw the energy that was available.
/// \param moment_Nm  of the bar's rig; not read for typed bars
/// \return nothing for a bar without a value, and where a draw has no finite result
[[nodiscard]] std::optional<DrawnBar> draw_bar(const BarResult& bar,
                                               Quantity quantity,
                                               const std::optional<Uncertain>& moment_Nm,
                                               const MonteCarloOptions& options);

/// Draws the bars of a result whose ranking is there: all where `every_bar` is asked for, with
/// 200000 draws each; else with 20000, and only those are kept whose two uncertainties differ
/// by more than 10 %. Bars whose law is straight over two standard uncertainties of all its
/// sources are not drawn then: it would show nothing. \param jobs  bars at a time; 0 takes the
/// machine's threads
void draw_bars(SeriesResult& result, bool every_bar, int jobs);

}  // namespace swingloss
