// SPDX-License-Identifier: Apache-2.0
/// \file plain_table.h
/// Tables of numbers as loggers write them: any separator, with or without a header.
#pragma once

#include <cstddef>
#include <string>
#include <vector>

namespace swingloss {

/// Fields as text. Ragged rows are kept as they are; a fault shows when a field is asked for.
struct PlainTable {
  std::string file;
  int skipped_lines = 0;
  std::vector<std::string> names;  ///< of the header; empty: the first line was numbers
  std::vector<std::vector<std::string>> rows;
  std::vector<int> lines;  ///< of the file, from 1, one a row

  /// Index of a column by its name or its number from 1. \throws InputError there is none
  [[nodiscard]] std::size_t column(const std::string& name_or_number) const;
  /// \throws InputError no such field in the row, or no finite number
  [[nodiscard]] double number(std::size_t row, std::size_t column) const;
  /// InputError about a field.
  [[noreturn]] void refuse(std::size_t row,
                           std::size_t column,
                           const std::string& wanted) const;
};

/// Reads a text file. Between fields: semicolon (then a comma is a decimal mark), else comma,
/// else tab or blanks, told line by line; blanks about fields, empty lines and lines that begin
/// with # are passed over. The first line counts as header when any of its fields is no number.
/// \throws InputError  no such file; nothing in it after `skip_lines`
[[nodiscard]] PlainTable read_plain_table(const std::string& path, int skip_lines);

}  // namespace swingloss
