// SPDX-License-Identifier: Apache-2.0
#include "core/csv.h"

#include "core/csv_records.h"
#include "core/expects.h"
#include "core/joined.h"
#include "core/nearest_name.h"
#include "core/number_text.h"
#include "core/text_file.h"

#include <algorithm>

namespace swingloss {
namespace {

constexpr std::string_view kByteOrderMark = "\xEF\xBB\xBF";

/// The separator that a first line "sep=;" names, which is then dropped from `text`.
std::optional<char> take_declared_separator(std::string_view& text) {
  const std::string_view line = text.substr(0, text.find_first_of("\r\n"));
  if (line.size() != 5 || line.substr(0, 4) != "sep=") return {};
  const char separator = line[4];
  if (separator != ',' && separator != ';' && separator != '\t') return {};
  text.remove_prefix(line.size());
  return separator;
}

std::string row_text(int row, int line) {
  std::string text = "row " + std::to_string(row);
  if (line != row) text += " (line " + std::to_string(line) + ")";
  return text;
}

/// One to three digits that are not all zero at the front, a mark, three digits: "1.234".
bool could_be_grouping(std::string_view field) {
  field = trimmed(field);
  if (!field.empty() && (field.front() == '-' || field.front() == '+')) field.remove_prefix(1);
  const std::size_t mark = field.find_first_of(".,");
  return mark >= 1 && mark <= 3 && mark + 4 == field.size() && field.front() != '0';
}

bool contains(const std::string& text, char c) { return text.find(c) != std::string::npos; }

bool is_number_with(const std::string& field, char mark) {
  return contains(field, mark) && parse_number(field, mark).has_value();
}

}  // namespace

CsvTable CsvTable::parse(std::string_view bytes, const std::string& file) {
  check_utf8(bytes, file);
  if (bytes.substr(0, kByteOrderMark.size()) == kByteOrderMark) {
    bytes.remove_prefix(kByteOrderMark.size());
  }
  CsvTable table;
  table.file_ = file;
  const std::optional<char> declared = take_declared_separator(bytes);
  table.separator_ = declared ? *declared : detect_csv_separator(bytes, file);
  for (CsvRecord& record : split_csv(bytes, table.separator_, file)) {
    if (record.is_empty()) continue;
    Row row{std::move(record.fields), record.row, record.line};
    if (table.columns_.empty()) {
      table.take_header(row);
    } else {
      table.take_row(std::move(row));
    }
  }
  if (table.columns_.empty()) {
    throw InputError({file,
                      "",
                      "an empty table",
                      "a header row with column names",
                      "Start the file with a row of column names."});
  }
  table.note_decimal_marks();
  return table;
}

void CsvTable::take_header(const Row& header) {
  columns_ = header.fields;
  while (columns_.back().empty()) columns_.pop_back();
  for (std::size_t i = 0; i < columns_.size(); ++i) {
    const std::string where = row_text(header.row, header.line);
    if (columns_[i].empty()) {
      throw InputError({file_,
                        where,
                        "column " + std::to_string(i + 1) + " without a name",
                        "a name over every column",
                        "Name the column or take it out."});
    }
    const auto end = columns_.begin() + static_cast<std::ptrdiff_t>(i);
    if (std::find(columns_.begin(), end, columns_[i]) != end) {
      throw InputError({file_,
                        where,
                        "column " + columns_[i] + " twice",
                        "each column name once",
                        "Rename or take out one of the two."});
    }
  }
}

void CsvTable::take_row(Row row) {
  while (row.fields.size() > columns_.size() && row.fields.back().empty())
    row.fields.pop_back();
  if (row.fields.size() != columns_.size()) {
    const bool comma = separator_ == ',';
    throw InputError(
        {file_,
         row_text(row.row, row.line),
         std::to_string(row.fields.size()) + " fields",
         std::to_string(columns_.size()) + " fields, one for each column name",
         comma ? "Quote texts that hold a comma; with decimal commas, separate the columns by "
                 "semicolons."
               : "Quote texts that hold the separator, and keep the separators of empty "
                 "fields."});
  }
  rows_.push_back(std::move(row));
}

void CsvTable::note_decimal_marks() {
  bool point = false;
  bool comma = false;
  for (const Row& row : rows_) {
    for (const std::string& field : row.fields) {
      point = point || is_number_with(field, '.');
      const bool with_comma = is_number_with(field, ',');
      comma = comma || with_comma;
      shows_decimal_comma_ = shows_decimal_comma_ || (with_comma && !could_be_grouping(field));
    }
  }
  uses_both_marks_ = point && comma;
}

/// Between commas a point is a decimal point and nothing else, and a quoted comma is one that
/// groups digits (1,234) unless the table shows elsewhere that it writes decimal commas.
bool CsvTable::could_be_read_in_two_ways(const std::string& field) const {
  if (!could_be_grouping(field)) return false;
  if (separator_ != ',') return uses_both_marks_;
  return contains(field, ',') && (uses_both_marks_ || !shows_decimal_comma_);
}

bool CsvTable::has_column(const std::string& column) const {
  return index_of(column).has_value();
}

void CsvTable::check_columns(const std::vector<std::string>& known) const {
  for (const std::string& column : columns_) {
    if (std::find(known.begin(), known.end(), column) != known.end()) continue;
    const std::optional<std::string> nearest = nearest_name(column, known);
    throw InputError(
        {file_,
         "header",
         "unknown column " + column,
         "one of " + joined(known, ", "),
         nearest ? "Did you mean " + *nearest + "?" : "Rename the column or take it out."});
  }
}

void CsvTable::require_columns(const std::vector<std::string>& required) const {
  for (const std::string& column : required) static_cast<void>(index_or_throw(column));
}

const std::string& CsvTable::text(std::size_t row, const std::string& column) const {
  return row_at(row).fields[index_or_throw(column)];
}

std::optional<std::string> CsvTable::optional_text(std::size_t row,
                                                   const std::string& column) const {
  const std::optional<std::size_t> index = index_of(column);
  if (!index || trimmed(row_at(row).fields[*index]).empty()) return {};
  return row_at(row).fields[*index];
}

double CsvTable::number(std::size_t row, const std::string& column) const {
  return number_in(row, index_or_throw(column));
}

std::optional<double> CsvTable::optional_number(std::size_t row,
                                                const std::string& column) const {
  const std::optional<std::size_t> index = index_of(column);
  if (!index || trimmed(row_at(row).fields[*index]).empty()) return {};
  return number_in(row, *index);
}

double CsvTable::number_in(std::size_t row, std::size_t index) const {
  const std::string& field = row_at(row).fields[index];
  const std::optional<double> number = parse_number(field, contains(field, '.') ? '.' : ',');
  if (!number || could_be_read_in_two_ways(field)) throw number_fault(row, index);
  return *number;
}

InputError CsvTable::number_fault(std::size_t row, std::size_t index) const {
  const std::string& field = row_at(row).fields[index];
  const std::string found = trimmed(field).empty() ? "nothing" : "\"" + field + "\"";
  std::string wanted = "a number";
  std::string next = "Write digits and one decimal mark, without a unit.";
  if (is_number_with(field, ',') && separator_ == ',') {
    wanted = "a number that cannot be read in two ways: the comma may group digits here";
    next = "Write a decimal point, or no mark where the comma groups digits.";
  } else if (contains(field, '.') && contains(field, ',')) {
    wanted = "a number without digit grouping";
    next = "Leave out the marks that group digits.";
  } else if (parse_number(field, contains(field, ',') ? ',' : '.')) {
    wanted = "one decimal mark throughout: the table has both, so this may be digit grouping";
    next = "Use the comma or the point in all numbers of the table.";
  }
  return InputError({file_, place(row, columns_[index]), found, wanted, next});
}

int CsvTable::line(std::size_t row) const { return row_at(row).line; }

std::string CsvTable::place(std::size_t row, const std::string& column) const {
  return row_text(row_at(row).row, row_at(row).line) + ", column " + column;
}

InputError CsvTable::fault(std::size_t row,
                           const std::string& column,
                           const std::string& wanted,
                           const std::string& next) const {
  const std::string field = optional_text(row, column).value_or("");
  const std::string found = field.empty() ? "nothing" : "\"" + field + "\"";
  return InputError({file_, place(row, column), found, wanted, next});
}

std::optional<std::size_t> CsvTable::index_of(const std::string& column) const {
  const auto found = std::find(columns_.begin(), columns_.end(), column);
  if (found == columns_.end()) return {};
  return static_cast<std::size_t>(found - columns_.begin());
}

std::size_t CsvTable::index_or_throw(const std::string& column) const {
  const std::optional<std::size_t> index = index_of(column);
  if (index) return *index;
  const std::optional<std::string> nearest = nearest_name(column, columns_);
  throw InputError({file_,
                    "header",
                    "no column " + column,
                    "a column of that name",
                    nearest ? "Is " + *nearest + " meant to be it? Rename it."
                            : "Add the column to the table."});
}

const CsvTable::Row& CsvTable::row_at(std::size_t row) const {
  expects(row < rows_.size(), "a table has no such row");
  return rows_[row];
}

CsvTable read_csv(const std::string& path) { return CsvTable::parse(read_file(path), path); }

std::string csv_line(const std::vector<std::string>& fields, char separator) {
  const std::string special = std::string("\"\r\n") + separator;
  std::string line;
  for (std::size_t i = 0; i < fields.size(); ++i) {
    if (i > 0) line += separator;
    const std::string& field = fields[i];
    const bool quote = field.find_first_of(special) != std::string::npos ||
                       trimmed(field).size() != field.size();
    if (!quote) {
      line += field;
      continue;
    }
    line += '"';
    for (const char c : field) line += c == '"' ? std::string("\"\"") : std::string(1, c);
    line += '"';
  }
  return line + "\n";
}

}  // namespace swingloss
