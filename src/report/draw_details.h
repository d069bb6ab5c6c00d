// SPDX-License-Identifier: Apache-2.0
/// \file draw_details.h
/// Charts of what stands behind the ranking, into their files and onto the page.
#pragma once

#include "report/page.h"
#include "report/shelf.h"
#include "report/write_report.h"

namespace swingloss {

/// charts/strips, charts/energies, charts/budget, charts/normal-scores and charts/conditioning,
/// each where there is something to draw. \throws as run_gnuplot()
void draw_details(const SeriesResult& series,
                  const ReportOptions& options,
                  Shelf& shelf,
                  PagePictures& pictures);

}  // namespace swingloss
