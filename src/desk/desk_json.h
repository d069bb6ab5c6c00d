// SPDX-License-Identifier: Apache-2.0
/// \file desk_json.h
/// What the desk's pages show, as JSON. Texts of others are in it as they are: the pages put
/// them in as text, never as markup.
#pragma once

#include "desk/workshop.h"
#include "report/clip_pictures.h"
#include "series/corrections.h"
#include "series/read_specimens.h"
#include "series/series_plan.h"

#include <string>
#include <vector>

namespace swingloss {

/// The series as the page of all bars shows it.
struct SeriesView {
  SeriesPlan plan;
  std::vector<SpecimenRow> rows;
  std::vector<Correction> corrections;  ///< undone ones too
  std::string fault;                    ///< why plan or rows are missing; empty: they are there
  WorkState work;
  std::shared_ptr<const SeriesResult> result;  ///< or null
};

[[nodiscard]] std::string series_view_json(const SeriesView& view);

/// How far a run is, alone: asked for again and again.
[[nodiscard]] std::string work_json(const WorkState& work);

/// One bar: what is known, the swing as corrected and as measured, where the arm is in each
/// picture, blows to choose from, photographs, corrections.
/// \param automatic_json  results/swings/ID.json; empty: none
[[nodiscard]] std::string bar_view_json(const SeriesView& view,
                                        const SpecimenRow& row,
                                        const std::string& automatic_json);

/// How long a clip is, for one that was not measured yet.
[[nodiscard]] std::string clip_json(const ClipFacts& clip);

/// {"error": text}
[[nodiscard]] std::string error_json(const std::string& text);

}  // namespace swingloss
