// SPDX-License-Identifier: Apache-2.0
#include "report/shelf.h"

#include "core/text_file.h"
#include "core/whole_file.h"
#include "report/chart_files.h"

#include <algorithm>
#include <filesystem>

namespace swingloss {
namespace {

namespace fs = std::filesystem;

bool starts_with(const std::string& text, const std::string& start) {
  return text.rfind(start, 0) == 0;
}

/// A chart's or plate's name as this program gives them.
bool is_ours(const std::string& file) {
  if (starts_with(file, "angle-") || starts_with(file, "strip-") || starts_with(file, "face"))
    return true;
  const std::vector<ChartFile> all = chart_files(1, 1, {true, true, true});
  for (const char* name : {"ranking",
                           "table",
                           "strips",
                           "energies",
                           "effects",
                           "budget",
                           "normal-scores",
                           "conditioning"}) {
    const bool is_one = std::any_of(all.begin(), all.end(), [&](const ChartFile& chart) {
      return file == name + chart.ending;
    });
    if (is_one) return true;
  }
  return false;
}

}  // namespace

std::string Shelf::path_of(const std::string& name) const {
  return (fs::path(folder_) / name).string();
}

void Shelf::put(const std::string& name, const std::string& bytes) {
  write_file(path_of(name), bytes);
  keep(name);
}

void Shelf::keep(const std::string& name) {
  const std::lock_guard<std::mutex> one_at_a_time(mutex_);
  names_.insert(name);
}

/// Films bear the bars' bare names, so only those go that have our note beside them.
void Shelf::remove_stale_films() const {
  std::error_code fault;
  std::vector<fs::path> notes;
  for (const auto& entry : fs::directory_iterator(path_of("overlays"), fault)) {
    const fs::path& note = entry.path();
    const bool is_note = note.extension() == ".made-from";
    if (is_note && names_.count("overlays/" + note.filename().string()) == 0)
      notes.push_back(note);
  }
  for (fs::path note : notes) {
    fs::remove(note, fault);
    fs::remove(note.replace_extension(".mp4"), fault);
  }
}

void Shelf::remove_stale() const {
  remove_half_files(folder_);
  remove_stale_films();
  for (const char* part : {"charts", "plates"}) {
    std::error_code fault;
    for (const auto& entry : fs::directory_iterator(path_of(part), fault)) {
      const std::string file = entry.path().filename().string();
      if (is_ours(file) && names_.count(std::string(part) + "/" + file) == 0)
        fs::remove(entry.path(), fault);
    }
  }
}

}  // namespace swingloss
