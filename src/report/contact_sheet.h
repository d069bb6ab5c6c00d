// SPDX-License-Identifier: Apache-2.0
/// \file contact_sheet.h
/// Broken faces of a series: one plate a bar, and all side by side in the order of energy.
#pragma once

#include "report/face_plate.h"
#include "series/series_result.h"

#include <cstddef>

namespace swingloss {

/// The plate of one bar: every face of every photograph that was measured. Reads the
/// photographs again; one that is gone is left out. Nothing for a bar without.
[[nodiscard]] FacePlate draw_bar_faces(const SeriesResult& series, std::size_t index);

/// One face of every bar, from the bar that took least to the one that took most (the ranked
/// quantity), each with its name, value and look: so that eye and number can be compared.
[[nodiscard]] FacePlate draw_contact_sheet(const SeriesResult& series);

/// Bars with a measured face, in that order; those without a value come last.
[[nodiscard]] std::vector<std::size_t> bars_by_energy(const SeriesResult& series);

}  // namespace swingloss
