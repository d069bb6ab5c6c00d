// SPDX-License-Identifier: Apache-2.0
/// \file plan_chart.h
/// A plan as pictures: bars against the difference, precision against the bars, u(W) against
/// the release angle.
#pragma once

#include "report/canvas.h"
#include "series/plan_ahead.h"

#include <string>
#include <vector>

namespace swingloss {

/// One chart of a plan, as a gnuplot script for one canvas.
struct PlanChart {
  std::string name;  ///< "bars", "precision", "release-1": a file name without its ending
  std::string script;
};

/// All charts that the answer has numbers for. Computes nothing.
[[nodiscard]] std::vector<PlanChart> plan_charts(const PlanAnswer& answer,
                                                 const Canvas& canvas);

/// Draws plan-NAME.svg and plan-NAME.png (1920 x 1080) into a folder, which is made.
/// \return the files' paths, in order
/// \throws InputError  gnuplot is missing, or the folder cannot be written
std::vector<std::string> write_plan_charts(const PlanAnswer& answer,
                                           const std::string& folder,
                                           const std::string& gnuplot = "gnuplot");

}  // namespace swingloss
