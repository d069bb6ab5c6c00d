// SPDX-License-Identifier: Apache-2.0
/// \file read_specimens.h
/// The bars of a series, or of any table of typed values, as their maker lists them.
#pragma once

#include "series/bar_problem.h"
#include "series/specimen.h"

#include <optional>
#include <string>
#include <vector>

namespace swingloss {

/// A bar as read. A row with a fault still gives a bar, so that it is named and not lost.
struct SpecimenRow {
  Specimen
      specimen;  ///< with what could be read; id "(row 7)" if it has none fit for a file name
  std::optional<BarProblem> problem;  ///< all faults of the row, each in five parts
};

/// The columns that a table of bars may have, in the order in which they are documented.
[[nodiscard]] const std::vector<std::string>& specimen_columns();

/// Reads a table of bars: columns as in specimen_columns(), of which `id` and `material` must
/// be there.
///
/// One faulty row is that bar's problem: text in a number, a size that is not above zero or is
/// a likely slip of unit, an id that is no safe file name, a limit or break type that is none,
/// neither clip nor energy, a clip that is not there, a rig file of a filmed bar that is not
/// there.
///
/// \param folder  where clips and rigs are looked for (series/series_plan.h, clip_path());
/// empty: clips
///                are not looked for, and every bar needs a typed energy
/// \throws InputError  the whole table cannot be used: missing or unreadable file, unknown or
///                     missing column, no rows, one id twice (large and small letters alike)
[[nodiscard]] std::vector<SpecimenRow> read_specimens(const std::string& path,
                                                      const std::string& folder);

/// Whether an id may become a file name in results/: 1 to 64 bytes of letters, digits and
/// . _ - +; no blanks, no path separators; no dot at either end; none of the names that other
/// systems reserve (CON, NUL, ...). UTF-8 letters beyond ASCII are accepted.
[[nodiscard]] bool is_safe_id(const std::string& id);

}  // namespace swingloss
