// SPDX-License-Identifier: Apache-2.0
/// \file read_masses.h
/// Weighings of bars or of witness pieces over days, as their maker lists them.
#pragma once

#include "ranking/conditioning.h"

#include <optional>
#include <string>
#include <vector>

namespace swingloss {

/// All weighings of one bar, or of one piece that stands for its material and condition.
struct WeighedPiece {
  std::string id;
  std::string material, condition;  ///< as typed with the piece; may be empty
  MassRecord masses;                ///< times from its first row; may hold no mass
  SizeRecord sizes;                 ///< may hold no size
  std::optional<int> first_day;     ///< day_number() of its first row, where dates were typed
  double first_typed_day = 0.0;     ///< else its first `day`
};

/// The columns of a table of masses, in the order in which they are documented.
[[nodiscard]] const std::vector<std::string>& mass_columns();

/// Reads a table of masses: a row a weighing, `id` and either `date` or `day` needed, and
/// `mass_g`, `size_mm` or both. `dry_mass_g`, `thickness_mm`, `design_mm`, `material` and
/// `condition` need only stand in one row of a piece. Rows of one piece in order of time; the
/// pieces in the order in which they first come.
/// \throws InputError  the table cannot be read; a date that is none, dates and days mixed in
///                     one piece, a mass or size not above zero, times that do not rise, sizes
///                     without design_mm
[[nodiscard]] std::vector<WeighedPiece> read_masses(const std::string& path);

}  // namespace swingloss
