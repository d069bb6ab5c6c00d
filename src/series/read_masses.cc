// SPDX-License-Identifier: Apache-2.0
#include "series/read_masses.h"

#include "core/csv.h"
#include "series/calendar.h"

#include <algorithm>

namespace swingloss {
namespace {

constexpr double kDay_s = 86400.0;
constexpr double kMillimetre_m = 0.001;

/// The table and one row of it.
struct Row {
  const CsvTable& table;
  std::size_t row;

  [[nodiscard]] std::string text(const std::string& column) const {
    return table.optional_text(row, column).value_or("");
  }
  /// A number above zero, where there is one.
  [[nodiscard]] std::optional<double> size(const std::string& column) const {
    const std::optional<double> x = table.optional_number(row, column);
    if (x && !(*x > 0.0)) {
      throw table.fault(row, column, "a number above zero", "Correct it or leave it empty.");
    }
    return x;
  }
};

bool has_readings(const WeighedPiece& piece) {
  return !piece.masses.masses.empty() || !piece.sizes.sizes.empty();
}

/// Time of a row from the first row of its piece [s].
double time_of(const Row& row, WeighedPiece& piece) {
  const std::string date = row.text("date");
  const std::optional<double> day = row.table.optional_number(row.row, "day");
  const std::optional<int> dated = day_number(date);
  if (!date.empty() && !dated) {
    throw row.table.fault(
        row.row, "date", "a date as 2024-03-01", "Type year-month-day, or use the column day.");
  }
  if (!dated && !day) {
    throw row.table.fault(
        row.row, "day", "when the piece was weighed", "Type a date, or a day counted from 0.");
  }
  if (!has_readings(piece)) {
    piece.first_day = dated;
    piece.first_typed_day = day.value_or(0.0);
  }
  if (piece.first_day.has_value() != dated.has_value()) {
    throw row.table.fault(row.row,
                          "date",
                          "dates in all rows of a piece, or days in all",
                          "Use one of the two for " + piece.id + ".");
  }
  return dated ? kDay_s * (*dated - *piece.first_day) : kDay_s * (*day - piece.first_typed_day);
}

void add_reading(const Row& row,
                 const std::string& column,
                 const Reading& reading,
                 std::vector<Reading>& readings) {
  if (!readings.empty() && reading.t_s <= readings.back().t_s) {
    throw row.table.fault(row.row,
                          column,
                          "weighings of a piece in order of time, one a day or hour",
                          "Sort the rows by date.");
  }
  readings.push_back(reading);
}

void add_row(const Row& row, WeighedPiece& piece) {
  const std::optional<double> mass_g = row.size("mass_g");
  const std::optional<double> size_mm = row.size("size_mm");
  if (const auto dry_g = row.size("dry_mass_g")) piece.masses.dry_mass = dry_g;
  if (const auto thickness_mm = row.size("thickness_mm")) {
    piece.masses.thickness_m = kMillimetre_m * *thickness_mm;
  }
  if (const auto design_mm = row.size("design_mm")) {
    piece.sizes.design_m = kMillimetre_m * *design_mm;
  }
  if (!row.text("material").empty()) piece.material = row.text("material");
  if (!row.text("condition").empty()) piece.condition = row.text("condition");
  if (!mass_g && !size_mm) return;
  const double t_s = time_of(row, piece);
  if (mass_g) add_reading(row, "mass_g", {t_s, *mass_g}, piece.masses.masses);
  if (size_mm) add_reading(row, "size_mm", {t_s, kMillimetre_m * *size_mm}, piece.sizes.sizes);
}

}  // namespace

const std::vector<std::string>& mass_columns() {
  static const std::vector<std::string> columns = {"id",
                                                   "material",
                                                   "condition",
                                                   "date",
                                                   "day",
                                                   "mass_g",
                                                   "dry_mass_g",
                                                   "thickness_mm",
                                                   "size_mm",
                                                   "design_mm",
                                                   "note"};
  return columns;
}

std::vector<WeighedPiece> read_masses(const std::string& path) {
  const CsvTable table = read_csv(path);
  table.check_columns(mass_columns());
  table.require_columns({"id"});
  std::vector<WeighedPiece> pieces;
  for (std::size_t i = 0; i < table.row_count(); ++i) {
    const Row row{table, i};
    const std::string id = row.text("id");
    if (id.empty()) throw table.fault(i, "id", "the name of a bar or piece", "Type it.");
    auto piece = std::find_if(
        pieces.begin(), pieces.end(), [&](const WeighedPiece& p) { return p.id == id; });
    if (piece == pieces.end()) {
      pieces.emplace_back();
      piece = std::prev(pieces.end());
      piece->id = piece->masses.name = piece->sizes.name = id;
    }
    add_row(row, *piece);
  }
  for (const WeighedPiece& piece : pieces) {
    if (piece.sizes.sizes.empty() || piece.sizes.design_m > 0.0) continue;
    throw InputError({path,
                      "piece " + piece.id + ", column design_mm",
                      "sizes without the size on the drawing",
                      "design_mm in one row of the piece",
                      "Type it, or leave size_mm empty."});
  }
  return pieces;
}

}  // namespace swingloss
