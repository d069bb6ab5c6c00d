// SPDX-License-Identifier: Apache-2.0
#include "series/new_series.h"

#include "core/csv.h"
#include "core/input_error.h"
#include "core/text_file.h"
#include "series/read_specimens.h"

#include <filesystem>
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

void check_empty(const std::string& folder) {
  std::error_code error;
  if (!fs::exists(folder, error)) return;
  if (fs::is_directory(folder, error) && fs::is_empty(folder, error)) return;
  throw InputError({folder,
                    "",
                    "something that is there already",
                    "a folder that is not there yet, or an empty one",
                    "Choose another name; nothing was changed."});
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
  check_empty(folder);
  const fs::path root(folder);
  make_folder((root / "clips").string());
  make_folder((root / "photos").string());
  const std::vector<std::pair<std::string, std::string>> files = {
      {"FIELDS.md", fields_text()},
      {"series.json", kSeries},
      {"specimens.csv", csv_line(specimen_columns())},
      {"rig.json", kRig}};
  std::vector<std::string> names;
  for (const auto& [name, text] : files) {
    write_file((root / name).string(), text);
    names.push_back(name);
  }
  return names;
}

}  // namespace swingloss
