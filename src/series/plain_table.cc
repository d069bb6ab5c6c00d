// SPDX-License-Identifier: Apache-2.0
#include "series/plain_table.h"

#include "core/input_error.h"

#include <algorithm>
#include <charconv>
#include <cmath>
#include <fstream>
#include <optional>

namespace swingloss {
namespace {

constexpr const char* kBlanks = " \t\r";

std::string trimmed(const std::string& text) {
  const std::size_t begin = text.find_first_not_of(kBlanks);
  if (begin == std::string::npos) return "";
  return text.substr(begin, text.find_last_not_of(kBlanks) - begin + 1);
}

std::vector<std::string> split_at(const std::string& line, char separator) {
  std::vector<std::string> fields;
  std::size_t begin = 0;
  for (;;) {
    const std::size_t end = line.find(separator, begin);
    fields.push_back(trimmed(line.substr(begin, end - begin)));
    if (end == std::string::npos) return fields;
    begin = end + 1;
  }
}

std::vector<std::string> split_at_blanks(const std::string& line) {
  std::vector<std::string> fields;
  std::size_t begin = line.find_first_not_of(kBlanks);
  while (begin != std::string::npos) {
    const std::size_t end = line.find_first_of(kBlanks, begin);
    fields.push_back(line.substr(begin, end - begin));
    begin = line.find_first_not_of(kBlanks, end);
  }
  return fields;
}

std::vector<std::string> fields_of(const std::string& line) {
  if (line.find(';') != std::string::npos) {
    std::vector<std::string> fields = split_at(line, ';');
    for (std::string& field : fields) std::replace(field.begin(), field.end(), ',', '.');
    return fields;
  }
  return line.find(',') != std::string::npos ? split_at(line, ',') : split_at_blanks(line);
}

std::optional<double> number_in(const std::string& text) {
  double x = 0.0;
  const char* begin = text.data() + (text.size() > 1 && text[0] == '+' ? 1 : 0);
  const char* end = text.data() + text.size();
  const auto [stop, error] = std::from_chars(begin, end, x);
  if (error != std::errc() || stop != end || !std::isfinite(x)) return std::nullopt;
  return x;
}

}  // namespace

std::size_t PlainTable::column(const std::string& name_or_number) const {
  const auto named = std::find(names.begin(), names.end(), name_or_number);
  if (named != names.end()) return static_cast<std::size_t>(named - names.begin());
  const std::size_t widest = rows.front().size();
  const std::optional<double> number = number_in(name_or_number);
  if (number && *number >= 1.0 && *number <= static_cast<double>(widest) &&
      *number == std::floor(*number)) {
    return static_cast<std::size_t>(*number) - 1;
  }
  std::string there = "a number from 1 to " + std::to_string(widest);
  for (const std::string& name : names) there += ", " + name;
  throw InputError({file,
                    "--columns",
                    "no column " + name_or_number,
                    there,
                    "Look at the first lines of the file."});
}

double PlainTable::number(std::size_t row, std::size_t column) const {
  const std::optional<double> x =
      column < rows[row].size() ? number_in(rows[row][column]) : std::nullopt;
  if (!x) refuse(row, column, "a number");
  return *x;
}

void PlainTable::refuse(std::size_t row, std::size_t column, const std::string& wanted) const {
  throw InputError(
      {file,
       "line " + std::to_string(lines[row]) + ", column " + std::to_string(column + 1),
       column < rows[row].size() ? "\"" + rows[row][column] + "\"" : "nothing",
       wanted,
       "Lines before the table: --skip N."});
}

PlainTable read_plain_table(const std::string& path, int skip_lines) {
  std::ifstream stream(path);
  if (!stream) {
    throw InputError({path, "", "no file that can be read", "a table of angles", ""});
  }
  PlainTable table;
  table.file = path;
  table.skipped_lines = skip_lines;
  std::string line;
  for (int number = 1; std::getline(stream, line); ++number) {
    if (number <= skip_lines) continue;
    if (number == 1 && line.rfind("\xEF\xBB\xBF", 0) == 0) line.erase(0, 3);
    const std::string text = trimmed(line);
    if (text.empty() || text[0] == '#') continue;
    std::vector<std::string> fields = fields_of(text);
    const bool numeric = std::all_of(fields.begin(), fields.end(), [](const std::string& f) {
      return number_in(f).has_value();
    });
    if (table.rows.empty() && table.names.empty() && !numeric) {
      table.names = std::move(fields);
      continue;
    }
    table.rows.push_back(std::move(fields));
    table.lines.push_back(number);
  }
  if (table.rows.empty()) {
    throw InputError({path, "", "no row of numbers", "a table of angles", ""});
  }
  return table;
}

}  // namespace swingloss
