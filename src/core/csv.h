// SPDX-License-Identifier: Apache-2.0
/// \file csv.h
/// Tables as spreadsheets write them, read strictly and with the place of every fault; and
/// tables as programs like to read them, written.
#pragma once

#include "core/input_error.h"

#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace swingloss {

/// A table with a header row, held as text until a number is asked for.
///
/// Understood: UTF-8 with or without byte order mark; fields in double quotes with doubled
/// quotes, separators and line breaks inside [RFC4180]; LF, CRLF or CR at line ends; comma,
/// semicolon or tab between fields, told from the header row, or by a first line "sep=;".
/// Blanks around unquoted fields are dropped; empty lines, rows of empty fields, and empty
/// columns at the right edge are passed over.
///
/// Decimal marks: point or comma, the latter in quotes where commas separate the columns. A
/// number with both is refused, and so is one that could be digit grouping, rather than
/// guessed, for a wrong guess is a factor of 1000: 1.234 or 1,234 in a table that uses both
/// marks, and "1,234" between commas unless another number (1,5) shows that the comma is
/// decimal.
///
/// Rows are counted as a spreadsheet counts them, the header being row 1; where quoted line
/// breaks make the line in the file another, messages name both.
///
/// Every fault is an InputError that names file, row, column, what was found and what is
/// wanted.
class CsvTable {
 public:
  /// \param bytes  the file's content
  /// \param file   its name, for messages
  /// \throws InputError  not UTF-8; no header; ambiguous separator; a column without a name or
  ///                     named twice; an unclosed quote; a row with too few or too many fields
  static CsvTable parse(std::string_view bytes, const std::string& file);

  [[nodiscard]] const std::string& file() const { return file_; }
  [[nodiscard]] const std::vector<std::string>& columns() const { return columns_; }
  [[nodiscard]] bool has_column(const std::string& column) const;
  [[nodiscard]] char separator() const { return separator_; }
  /// Rows under the header; `row` below counts them from 0.
  [[nodiscard]] std::size_t row_count() const { return rows_.size(); }

  /// \throws InputError a column of the table is not among `known`: names the nearest that is
  void check_columns(const std::vector<std::string>& known) const;
  /// \throws InputError one of `required` is missing: names the nearest column that is there
  void require_columns(const std::vector<std::string>& required) const;

  /// The field's text, perhaps empty.
  /// \throws InputError the table has no such column; std::logic_error no such row
  [[nodiscard]] const std::string& text(std::size_t row, const std::string& column) const;
  /// The same; nothing when the field is empty or the table has no such column.
  [[nodiscard]] std::optional<std::string> optional_text(std::size_t row,
                                                         const std::string& column) const;
  /// The field as a number.
  /// \throws InputError as text(); empty, no number, or ambiguous
  [[nodiscard]] double number(std::size_t row, const std::string& column) const;
  /// The same; nothing when the field is empty or the table has no such column.
  /// \throws InputError no number, or ambiguous
  [[nodiscard]] std::optional<double> optional_number(std::size_t row,
                                                      const std::string& column) const;

  /// Line of the file, from 1, on which the row starts.
  [[nodiscard]] int line(std::size_t row) const;
  /// "row 7, column width_mm"; "row 7 (line 9), column width_mm" where they differ.
  [[nodiscard]] std::string place(std::size_t row, const std::string& column) const;
  /// For faults that only the caller can see (a negative width): the error, its file and place
  /// filled in and `found` taken from the field.
  [[nodiscard]] InputError fault(std::size_t row,
                                 const std::string& column,
                                 const std::string& wanted,
                                 const std::string& next) const;

 private:
  struct Row {
    std::vector<std::string> fields;
    int row = 0;
    int line = 0;
  };

  [[nodiscard]] std::optional<std::size_t> index_of(const std::string& column) const;
  [[nodiscard]] std::size_t index_or_throw(const std::string& column) const;
  [[nodiscard]] const Row& row_at(std::size_t row) const;
  [[nodiscard]] double number_in(std::size_t row, std::size_t index) const;
  [[nodiscard]] InputError number_fault(std::size_t row, std::size_t index) const;
  void take_header(const Row& header);
  void take_row(Row row);
  void note_decimal_marks();
  [[nodiscard]] bool could_be_read_in_two_ways(const std::string& field) const;

  std::string file_;
  char separator_ = ',';
  bool uses_both_marks_ = false;
  bool shows_decimal_comma_ = false;  ///< a number with a comma that cannot be grouping
  std::vector<std::string> columns_;
  std::vector<Row> rows_;
};

/// CsvTable::parse of a file.
/// \throws InputError also when the file cannot be read
[[nodiscard]] CsvTable read_csv(const std::string& path);

/// One line of a table, decimal point (use number_text()) and LF at the end. Fields with the
/// separator, a quote, line break or blank at an end are quoted [RFC4180].
[[nodiscard]] std::string csv_line(const std::vector<std::string>& fields,
                                   char separator = ',');

}  // namespace swingloss
