// SPDX-License-Identifier: Apache-2.0
#include "series/read_specimens.h"

#include "core/csv.h"
#include "core/number_text.h"
#include "core/text_file.h"
#include "series/plausible_size.h"
#include "series/series_plan.h"

#include <filesystem>
#include <map>

namespace swingloss {
namespace {

/// One row under way: takes what can be read and keeps every fault.
class RowReader {
 public:
  RowReader(const CsvTable& table, std::size_t row) : table_(table), row_(row) {}

  [[nodiscard]] std::string text(const std::string& column) const {
    return std::string(trimmed(table_.optional_text(row_, column).value_or("")));
  }

  void refuse(const std::string& column, const std::string& wanted, const std::string& next) {
    add(table_.fault(row_, column, wanted, next));
  }

  std::optional<double> number(const std::string& column) {
    try {
      return table_.optional_number(row_, column);
    } catch (const InputError& error) {
      add(error);
      return {};
    }
  }

  std::optional<double> size(const std::string& column, const PlausibleSize& plausible) {
    const std::optional<double> x = number(column);
    if (!x) return {};
    const bool negative = *x <= 0.0;
    const auto doubt =
        negative ? "Leave the field empty if it was not measured." : size_doubt(*x, plausible);
    if (!doubt) return x;
    refuse(column, negative ? "a number above zero" : wanted_size(plausible), *doubt);
    return {};
  }

  [[nodiscard]] std::optional<BarProblem> problem() const {
    if (faults_.empty()) return {};
    return BarProblem{"row-fault", faults_};
  }

 private:
  void add(const InputError& error) {
    faults_ += (faults_.empty() ? "" : " Also: ") + std::string(error.what());
  }

  const CsvTable& table_;
  std::size_t row_;
  std::string faults_;
};

std::string lower(std::string text) {
  for (char& c : text) c = c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
  return text;
}

std::vector<std::string> split_photos(const std::string& text) {
  std::vector<std::string> names;
  std::string rest = text;
  while (!trimmed(rest).empty()) {
    const std::size_t end = rest.find_first_of("|;");
    const std::string name(trimmed(rest.substr(0, end)));
    if (!name.empty()) names.push_back(name);
    rest = end == std::string::npos ? "" : rest.substr(end + 1);
  }
  return names;
}

BreakType read_break_type(RowReader& reader) {
  static const std::map<std::string, BreakType> kLetters = {{"", BreakType::Unknown},
                                                            {"c", BreakType::Complete},
                                                            {"h", BreakType::Hinge},
                                                            {"p", BreakType::Partial},
                                                            {"n", BreakType::NonBreak}};
  const auto letter = kLetters.find(lower(reader.text("break_type")));
  if (letter != kLetters.end()) return letter->second;
  reader.refuse("break_type",
                "C complete, H hinge, P partial, N none, or nothing",
                "Type one of the four letters, or leave the field empty.");
  return BreakType::Unknown;
}

Limit read_limit(RowReader& reader) {
  static const std::map<std::string, Limit> kSigns = {
      {"", Limit::None}, {">", Limit::Above}, {"<", Limit::Below}};
  const auto sign = kSigns.find(reader.text("limit"));
  if (sign != kSigns.end()) return sign->second;
  reader.refuse("limit",
                "> (more than energy_J), < (less than it), or nothing",
                "Type the sign alone; the energy goes into energy_J.");
  return Limit::None;
}

void read_energy(Specimen& bar, RowReader& reader) {
  bar.energy_J = reader.size("energy_J", plausible_energy_J());
  bar.energy_u_J = reader.number("energy_u_J");
  bar.limit = read_limit(reader);
  if (bar.energy_u_J &&
      (*bar.energy_u_J < 0.0 || (bar.energy_J && *bar.energy_u_J >= *bar.energy_J))) {
    reader.refuse("energy_u_J",
                  "one standard uncertainty in J: zero or more, and below the energy",
                  "Check the value, or leave the field empty.");
    bar.energy_u_J.reset();
  }
  if (bar.limit != Limit::None && reader.text("energy_J").empty()) {
    reader.refuse("limit",
                  "the energy in energy_J that the bar took more, or less, than",
                  "Type that energy, or leave the limit empty.");
  }
}

void check_names(Specimen& bar, RowReader& reader) {
  if (!is_safe_id(bar.id)) {
    reader.refuse("id",
                  "a name fit for a file: up to 64 letters, digits and . _ - +",
                  "Give the bar a short name without blanks, / \\ or other signs.");
    bar.id = "(row " + std::to_string(bar.row) + ")";
  }
  if (bar.material.empty()) {
    reader.refuse("material",
                  "the name of the bar's material",
                  "Type it; it tells groups apart. A swing without a bar is no row: name its "
                  "clip under free_swings in series.json.");
  }
}

void check_source(const Specimen& bar, RowReader& reader, const std::string& folder) {
  const bool typed = !reader.text("energy_J").empty();
  if (folder.empty() && !typed) {
    reader.refuse("energy_J", "the bar's energy in J", "Type it, or take the row out.");
  } else if (!folder.empty() && bar.clip.empty() && !typed) {
    reader.refuse("clip",
                  "a clip, or an energy_J of another instrument",
                  "Name the bar's clip or type its energy.");
  } else if (!folder.empty() && !bar.clip.empty() &&
             !is_there(path_in_series(folder, bar.clip, "clips"))) {
    reader.refuse("clip",
                  "a file in " + folder + " or its folder clips",
                  "Check the spelling, or copy the clip there.");
  }
}

/// A filmed bar's rig is a file; the same column names the instrument of a typed one.
void check_rig(const Specimen& bar, RowReader& reader, const std::string& folder) {
  if (folder.empty() || bar.clip.empty() || bar.rig.empty()) return;
  if (is_there((std::filesystem::path(folder) / bar.rig).string())) return;
  reader.refuse("rig",
                "a rig file in " + folder,
                "Check the spelling, or leave the field empty for the rig of series.json; the "
                "name of an instrument stands in this column only beside a typed energy_J.");
}

SpecimenRow read_row(const CsvTable& table, std::size_t row, const std::string& folder) {
  RowReader reader(table, row);
  Specimen bar;
  bar.row = table.line(row);
  bar.id = reader.text("id");
  bar.material = reader.text("material");
  bar.condition = reader.text("condition");
  bar.orientation = reader.text("orientation");
  bar.rig = reader.text("rig");
  bar.clip = reader.text("clip");
  bar.photos = split_photos(reader.text("photos"));
  check_names(bar, reader);
  bar.thickness_mm = reader.size("thickness_mm", plausible_length_mm());
  bar.width_mm = reader.size("width_mm", plausible_length_mm());
  bar.notch = reader.text("notch");
  bar.break_type = read_break_type(reader);
  read_energy(bar, reader);
  bar.mass_g = reader.size("mass_g", plausible_mass_g());
  bar.made_on = reader.text("made_on");
  bar.tested_on = reader.text("tested_on");
  bar.note = reader.text("note");
  check_source(bar, reader, folder);
  check_rig(bar, reader, folder);
  return {std::move(bar), reader.problem()};
}

void check_each_id_once(const CsvTable& table) {
  std::map<std::string, std::size_t> first_row;
  for (std::size_t row = 0; row < table.row_count(); ++row) {
    const std::string id = lower(table.optional_text(row, "id").value_or(""));
    const auto [seen, is_new] = first_row.emplace(id, row);
    if (is_new || id.empty()) continue;
    throw table.fault(row,
                      "id",
                      "each id once",
                      "It stands already in " + table.place(seen->second, "id") +
                          ": rename one of the two bars.");
  }
}

}  // namespace

const std::vector<std::string>& specimen_columns() {
  static const std::vector<std::string> columns = {"id",
                                                   "material",
                                                   "condition",
                                                   "orientation",
                                                   "rig",
                                                   "clip",
                                                   "photos",
                                                   "thickness_mm",
                                                   "width_mm",
                                                   "notch",
                                                   "break_type",
                                                   "energy_J",
                                                   "energy_u_J",
                                                   "limit",
                                                   "mass_g",
                                                   "made_on",
                                                   "tested_on",
                                                   "note"};
  return columns;
}

std::vector<SpecimenRow> read_specimens(const std::string& path, const std::string& folder) {
  const CsvTable table = read_csv(path);
  table.check_columns(specimen_columns());
  table.require_columns({"id", "material"});
  if (table.row_count() == 0) {
    throw InputError({path,
                      "",
                      "a header row and no bars",
                      "a row for each bar",
                      "Add a row for each bar, below the header."});
  }
  check_each_id_once(table);
  std::vector<SpecimenRow> rows;
  for (std::size_t row = 0; row < table.row_count(); ++row) {
    rows.push_back(read_row(table, row, folder));
  }
  return rows;
}

}  // namespace swingloss
