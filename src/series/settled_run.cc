// SPDX-License-Identifier: Apache-2.0
#include "series/settled_run.h"

#include "core/input_error.h"
#include "core/text_file.h"
#include "series/fingerprint.h"
#include "series/read_specimens.h"
#include "series/run_series.h"
#include "series/version.h"

#include <filesystem>
#include <vector>

#include <nlohmann/json.hpp>

namespace swingloss {
namespace {

namespace fs = std::filesystem;

using Json = nlohmann::ordered_json;

constexpr const char* kFormat = "swingloss/settled/1";
/// The coarsest step of a file system's clock that is in use: FAT's.
constexpr std::int64_t kStep_ns = 2000000000;

/// One line for them all; empty where a folder could not be looked through.
std::string mark_of(const FileStates& states) {
  const std::string text = states.text();
  return text.empty() ? "" : std::to_string(fnv1a(text));
}

/// Both places that path_in_series() chooses from.
void add_named(const std::string& folder,
               const std::string& name,
               const char* shelf,
               FileStates& states) {
  if (name.empty()) return;
  states.add((fs::path(folder) / name).string());
  states.add((fs::path(folder) / shelf / name).string());
}

void add_named_by(const Specimen& specimen, const std::string& folder, FileStates& states) {
  add_named(folder, specimen.clip, "clips", states);
  add_named(folder, specimen.rig, "", states);
  for (const std::string& photo : specimen.photos) add_named(folder, photo, "photos", states);
}

Json marks_of(const std::vector<std::string>& files) {
  Json marks = Json::object();
  for (const std::string& file : files) marks[file] = content_mark(file);
  return marks;
}

bool have_marks(const Json& marks) {
  for (const auto& [file, mark] : marks.items()) {
    if (mark_if_there(file) != mark.get<std::string>()) return false;
  }
  return true;
}

}  // namespace

SettledRun::SettledRun(const SeriesPlan& plan,
                       const std::string& request,
                       const std::vector<std::string>& tools)
    : plan_(plan),
      request_(std::string(kVersion) + " " + plan.folder + " " + request),
      path_((fs::path(results_folder(plan)) / "settled.json").string()),
      tools_(tools),
      inputs_mark_(mark_of(inputs())) {}

FileStates SettledRun::inputs() const {
  FileStates states;
  states.add(plan_.folder);
  states.leave_out(results_folder(plan_));
  states.add((fs::path(results_folder(plan_)) / "corrections.json").string());
  states.add("/proc/self/exe");
  for (const std::string& tool : tools_) states.add(tool);
  add_named(plan_.folder, plan_.rig, "", states);
  for (const std::string& clip : plan_.free_swings)
    add_named(plan_.folder, clip, "clips", states);
  const std::string table = (fs::path(plan_.folder) / "specimens.csv").string();
  for (const SpecimenRow& row : read_specimens(table, plan_.folder))
    add_named_by(row.specimen, plan_.folder, states);
  return states;
}

FileStates SettledRun::results() const {
  FileStates states;
  states.add(results_folder(plan_));
  states.leave_out(path_);
  return states;
}

std::optional<std::string> SettledRun::unchanged() const {
  if (!is_there(path_)) return std::nullopt;
  const Json kept = Json::parse(read_file(path_), nullptr, false);
  try {
    if (kept.at("format") != kFormat || kept.at("request") != request_ ||
        kept.at("inputs") != inputs_mark_ || kept.at("results") != mark_of(results()) ||
        !have_marks(kept.at("last_written")))
      return std::nullopt;
    return kept.at("words").get<std::string>();
  } catch (const Json::exception&) {
    return std::nullopt;  // damaged, or of another program's time
  }
}

std::string SettledRun::note_of(const std::string& words, std::int64_t now_ns) const {
  const FileStates inputs_now = inputs(), results_now = results();
  const std::string results_mark = mark_of(results_now);
  if (mark_of(inputs_now) != inputs_mark_ || inputs_mark_.empty() || results_mark.empty())
    return "";
  Json last_written = marks_of(inputs_now.since(now_ns - kStep_ns));
  last_written.update(marks_of(results_now.since(now_ns - kStep_ns)));
  const Json kept = {{"format", kFormat},
                     {"request", request_},
                     {"inputs", inputs_mark_},
                     {"results", results_mark},
                     {"last_written", last_written},
                     {"words", words}};
  return kept.dump(1) + "\n";
}

void SettledRun::keep(const std::string& words) const {
  std::string note;
  try {
    write_file(path_, "");  // its time is the file system's now
    note = note_of(words, changed_ns(path_));
    if (!note.empty()) write_file(path_, note);
  } catch (const InputError&) {
    note.clear();
  } catch (const Json::exception&) {
    note.clear();  // a name that is no UTF-8
  }
  std::error_code ignored;
  if (note.empty()) fs::remove(path_, ignored);
}

}  // namespace swingloss
