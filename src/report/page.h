// SPDX-License-Identifier: Apache-2.0
/// \file page.h
/// The report as one HTML file that needs nothing beside it.
#pragma once

#include "report/plate.h"
#include "series/series_result.h"

#include <string>
#include <vector>

namespace swingloss {

/// Drawn things of one bar; all may be empty.
struct BarPictures {
  std::string angle_chart;  ///< <svg> for pages (report/inline_svg.h)
  std::vector<PlatePanel> strip;
  std::string strip_fault;  ///< why there is no strip though there is a clip
  std::string film;         ///< path of its overlay film from the page; empty: none
  std::string film_fault;   ///< why there is none though it was asked for
  std::string face_jpeg;    ///< plate of its broken faces (report/face_plate.h), 960 px wide
};

/// Drawn things of the page.
struct PagePictures {
  std::string ranking_wide, ranking_narrow;  ///< <svg> for pages; empty without a ranking
  std::string effects;                       ///< <svg> for pages; empty without effects
  std::string strips, energies;              ///< likewise (report/column_charts.h)
  std::string budget, scores, conditioning;  ///< likewise (report/detail_charts.h)
  std::vector<BarPictures> bars;             ///< one a bar of the series
  std::string contact_jpeg;                  ///< all faces by energy (report/contact_sheet.h)
};

/// Verdict first; then groups, comparisons, effects, budget, conditioning, corrections, every
/// bar, bars that could not be measured, rigs, method, cautions. Makes no request: a content
/// security policy in the page forbids it. \param pictures  with as many bars as the series
[[nodiscard]] std::string report_page(const SeriesResult& series, const PagePictures& pictures);

}  // namespace swingloss
