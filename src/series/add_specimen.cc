// SPDX-License-Identifier: Apache-2.0
#include "series/add_specimen.h"

#include "core/csv.h"
#include "core/number_text.h"
#include "core/text_file.h"
#include "series/durable_file.h"
#include "series/read_specimens.h"

#include <algorithm>
#include <filesystem>

namespace swingloss {
namespace {

namespace fs = std::filesystem;

std::string value_of(const SpecimenFields& fields, const std::string& column) {
  for (const auto& [name, text] : fields) {
    if (name == column) return text;
  }
  return {};
}

bool is_number_column(const std::string& column) {
  for (const char* ending : {"_mm", "_J", "_g"}) {
    const std::string end = ending;
    if (column.size() > end.size() &&
        column.compare(column.size() - end.size(), end.size(), end) == 0)
      return true;
  }
  return false;
}

/// A line break or control sign in a name is a slip; a blank is what was meant.
std::string one_line(std::string text) {
  std::replace_if(
      text.begin(), text.end(), [](unsigned char c) { return c < 0x20 || c == 0x7F; }, ' ');
  return text;
}

std::string line_of(const CsvTable& table, const SpecimenFields& fields, bool decimal_comma) {
  std::vector<std::string> texts;
  for (const std::string& column : table.columns()) {
    std::string text(trimmed(one_line(value_of(fields, column))));
    if (decimal_comma && is_number_column(column))
      std::replace(text.begin(), text.end(), '.', ',');
    texts.push_back(text);
  }
  return csv_line(texts, table.separator());
}

/// Tables with semicolons come from spreadsheets whose decimal mark is the comma, unless one
/// of their numbers shows a point.
bool writes_decimal_comma(const CsvTable& table) {
  if (table.separator() == ',') return false;
  for (std::size_t row = 0; row < table.row_count(); ++row) {
    for (const std::string& column : table.columns()) {
      if (!is_number_column(column)) continue;
      const std::string text = table.text(row, column);
      if (text.find('.') != std::string::npos) return false;
      if (text.find(',') != std::string::npos) return true;
    }
  }
  return false;
}

void check_columns_there(const CsvTable& table, const SpecimenFields& fields) {
  for (const auto& [column, text] : fields) {
    if (text.empty() || table.has_column(column)) continue;
    throw InputError({table.file(),
                      "header row",
                      "no column " + column + ", but a value for it",
                      "a column for every value of the new bar",
                      "Add " + column + " to the header row, or leave the value out."});
  }
}

/// Reads the longer table as the run will, from beside the old one.
void check_new_row(const std::string& path,
                   const std::string& folder,
                   const std::string& text) {
  const std::string trial = path + ".trial";
  write_file_durably(trial, text);
  std::vector<SpecimenRow> rows;
  try {
    rows = read_specimens(trial, folder);
  } catch (const InputError&) {
    fs::remove(trial);
    throw;
  }
  fs::remove(trial);
  if (rows.back().problem)
    throw InputError({path, "", rows.back().problem->text, "a bar without a fault", ""});
}

}  // namespace

void add_specimen(const std::string& folder, const SpecimenFields& fields) {
  const std::string path = (fs::path(folder) / "specimens.csv").string();
  std::string text = read_file(path);
  const CsvTable table = CsvTable::parse(text, path);
  table.check_columns(specimen_columns());
  table.require_columns({"id", "material"});
  check_columns_there(table, fields);
  const std::string id = value_of(fields, "id");
  if (!is_safe_id(id)) {
    throw InputError({path,
                      "id of the new bar",
                      id.empty() ? "nothing" : "\"" + id + "\"",
                      "a name fit for a file: up to 64 letters, digits and . _ - +",
                      "Give the bar a short name without blanks, / \\ or other signs."});
  }
  if (text.back() != '\n') text += '\n';
  text += line_of(table, fields, writes_decimal_comma(table));
  check_new_row(path, folder, text);
  write_file_durably(path, text);
}

std::string safe_file_name(const std::string& given) {
  constexpr std::size_t kMost = 64;
  std::string name = given.substr(given.find_last_of("/\\") + 1);
  for (char& c : name) {
    const bool ascii = static_cast<unsigned char>(c) < 0x80;
    if (!ascii || !is_safe_id(std::string("a") + c + "a")) c = '-';
  }
  name.erase(0, name.find_first_not_of(".-"));
  const std::size_t dot = name.find_last_of('.');
  const std::string ending =
      dot == std::string::npos || name.size() - dot > 8 ? "" : name.substr(dot);
  std::string stem = name.substr(0, name.size() - ending.size());
  if (stem.size() + ending.size() > kMost) stem.resize(kMost - ending.size());
  while (!stem.empty() && stem.back() == '.') stem.pop_back();
  if (stem.empty()) stem = "file";
  return (is_safe_id(stem + ending) ? "" : "x-") + stem + ending;
}

}  // namespace swingloss
