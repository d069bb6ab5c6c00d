// SPDX-License-Identifier: Apache-2.0
#include "series/new_series.h"

#include "core/csv.h"
#include "core/input_error.h"
#include "core/text_file.h"
#include "series/add_specimen.h"
#include "series/read_specimens.h"

#include <algorithm>
#include <filesystem>
#include <set>
#include <utility>

namespace swingloss {
namespace {

namespace fs = std::filesystem;

constexpr const char* kSeries = R"({
  "format": "swingloss/series/1",
  "title": "My series",
  "rig": "rig.json",
  "standard": "",
  "geometry": "",
  "free_swings": [],
  "group_by": ["condition", "orientation"],
  "confidence": 0.95,
  "section_u_mm": 0.02
}
)";

// null where only the owner can know: reading the file as it is names each one still missing.
constexpr const char* kRig = R"({
  "format": "swingloss/rig/1",
  "name": "my rig",
  "moment_Nm": { "value": null, "u": null },
  "reduced_length_m": { "value": null, "u": null },
  "strike_radius_m": { "value": null, "u": null },
  "gravity_m_per_s2": { "value": 9.81, "u": 0.02 }
}
)";

/// Folders that a person may have filled before the rest is made.
bool is_shelf(const fs::directory_entry& entry) {
  const fs::path name = entry.path().filename();
  return entry.is_directory() && (name == "clips" || name == "photos");
}

void check_nothing_else(const std::string& folder) {
  std::error_code error;
  if (!fs::exists(folder, error)) return;
  if (fs::is_directory(folder, error)) {
    const fs::directory_iterator entries(folder, error);
    if (!error && std::all_of(begin(entries), end(entries), is_shelf)) return;
  }
  throw InputError(
      {folder,
       "",
       "something that is there already",
       "a folder that is not there yet, an empty one, or one that holds nothing but "
       "your folders clips and photos",
       "Choose another name; nothing was changed."});
}

/// Header row, and a row a clip.
std::string table_for(const fs::path& clips) {
  std::vector<std::string> names;
  for (const auto& entry : fs::directory_iterator(clips)) {
    const std::string name = entry.path().filename().string();
    if (entry.is_regular_file() && name.front() != '.') names.push_back(name);
  }
  std::sort(names.begin(), names.end());
  std::string table = csv_line(specimen_columns());
  std::set<std::string> ids;
  for (const std::string& name : names) {
    const std::string stem = fs::path(safe_file_name(name)).stem().string();
    std::string id = stem;
    for (int k = 2; !ids.insert(id).second; ++k) id = stem + "-" + std::to_string(k);
    std::vector<std::string> row;
    for (const std::string& column : specimen_columns())
      row.push_back(column == "id" ? id : column == "clip" ? name : "");
    table += csv_line(row);
  }
  return table;
}

void make_folder(const std::string& path) {
  std::error_code error;
  fs::create_directories(path, error);
  if (!error) return;
  throw InputError({path,
                    "",
                    "a place where no folder can be made (" + error.message() + ")",
                    "a place with permission to write",
                    "Choose another place."});
}

}  // namespace

std::vector<std::string> write_new_series(const std::string& folder) {
  check_nothing_else(folder);
  const fs::path root(folder);
  make_folder((root / "clips").string());
  make_folder((root / "photos").string());
  const std::vector<std::pair<std::string, std::string>> files = {
      {"FIELDS.md", fields_text()},
      {"series.json", kSeries},
      {"specimens.csv", table_for(root / "clips")},
      {"rig.json", kRig}};
  std::vector<std::string> names;
  for (const auto& [name, text] : files) {
    write_file((root / name).string(), text);
    names.push_back(name);
  }
  return names;
}

}  // namespace swingloss
