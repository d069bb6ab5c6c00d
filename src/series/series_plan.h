// SPDX-License-Identifier: Apache-2.0
/// \file series_plan.h
/// What series.json asks for.
#pragma once

#include "ranking/ranking.h"
#include "series/specimen.h"

#include <optional>
#include <string>
#include <vector>

namespace swingloss {

/// A series folder as its owner describes it; file names are as typed, from the folder.
struct SeriesPlan {
  std::string folder;              ///< as given
  std::string title;               ///< the folder's name where series.json has none
  std::string rig = "rig.json";    ///< of bars whose row names no other
  std::string standard, geometry;  ///< "ISO 179-1", "edgewise, notch A"; words for the report
  std::string label;  ///< demo data: "invented materials, rendered footage"; else empty
  std::vector<std::string> free_swings;  ///< clips without a bar, of the default rig
  double section_u_mm = 0.02;            ///< standard uncertainty of either size of the section
  /// Length of the scale card's ruler on the owner's print; nothing: not measured.
  std::optional<double> ruler_mm;
  RankingOptions ranking;  ///< group_by, confidence, quantity, within, ...
};

/// Reads FOLDER/series.json, format "swingloss/series/1".
/// \throws InputError  no such folder; not JSON; an unknown field (the nearest known is named);
///                     a field of another kind or out of range; a free-swing clip not there
[[nodiscard]] SeriesPlan read_series(const std::string& folder);

/// The place of a file of the series: as typed from the folder, or in `shelf` ("clips",
/// "photos") under it where only that exists.
[[nodiscard]] std::string path_in_series(const std::string& folder,
                                         const std::string& name,
                                         const std::string& shelf);

/// "made like ISO 179-1, edgewise, notch A": never "according to".
[[nodiscard]] std::string geometry_words(const SeriesPlan& plan);

}  // namespace swingloss
