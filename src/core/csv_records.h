// SPDX-License-Identifier: Apache-2.0
/// \file csv_records.h
/// The bytes of a table split into records; csv.h gives them their meaning.
#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace swingloss {

/// One record as it stands in the file.
struct CsvRecord {
  std::vector<std::string> fields;  ///< unquoted; blanks dropped around fields without quotes
  int row = 0;                      ///< as a spreadsheet counts, from 1, empty lines too
  int line = 0;                     ///< of the file, from 1, where the record starts
  [[nodiscard]] bool is_empty() const;
};

/// Splits by one separator; nothing is left out, empty lines are records of one empty field.
/// \throws InputError an unclosed quote, or text after a closing one
[[nodiscard]] std::vector<CsvRecord> split_csv(std::string_view text,
                                               char separator,
                                               const std::string& file);

/// The separator of a table among comma, semicolon and tab: the only one in the first line that
/// is not empty; where several are there, the only one that gives every row as many fields.
/// A line without any is a table of one column: comma.
/// \throws InputError when that leaves several or none
[[nodiscard]] char detect_csv_separator(std::string_view text, const std::string& file);

/// \throws InputError bytes that are not UTF-8, a UTF-16 mark, or a zero byte
void check_utf8(std::string_view bytes, const std::string& file);

}  // namespace swingloss
