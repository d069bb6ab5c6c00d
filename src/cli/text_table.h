// SPDX-License-Identifier: Apache-2.0
/// \file text_table.h
/// Columns that line up in a terminal.
#pragma once

#include <string>
#include <vector>

namespace swingloss {

/// Rows of cells, the first being the heads; cells of a number column stand to the right.
struct TextTable {
  std::vector<std::vector<std::string>> rows;
  std::vector<bool> is_number;  ///< one a column
};

/// The table with two blanks between columns and none at line ends. Letters are counted as
/// UTF-8 code points, each one place wide.
[[nodiscard]] std::string text_of(const TextTable& table);

/// "name            text": the name padded to a common width, as accounts list facts.
[[nodiscard]] std::string fact_line(const std::string& name, const std::string& text);

}  // namespace swingloss
