// SPDX-License-Identifier: Apache-2.0
#include "series/rig_shelf.h"

#include "series/clip_record.h"
#include "series/durable_file.h"
#include "series/fingerprint.h"
#include "series/free_swing_findings.h"
#include "series/run_series.h"
#include "series/view_of_swing.h"

#include <filesystem>

namespace swingloss {
namespace {

namespace fs = std::filesystem;

ShelvedRig read_shelved(const std::string& path) {
  ShelvedRig shelved;
  try {
    shelved.rig = read_rig(path);
    shelved.mark = content_mark(path);
  } catch (const InputError& error) {
    shelved.fault = error;
  }
  return shelved;
}

std::optional<SwingRecord> measure_free_swing(const SeriesPlan& plan,
                                              std::size_t k,
                                              const ShelvedRig& shelved,
                                              Reuse reuse) {
  ClipJob job;
  job.clip = path_in_series(plan.folder, plan.free_swings[k], "clips");
  job.shown_as = plan.free_swings[k];
  job.stored_in =
      (fs::path(results_folder(plan)) / "free-swings" / (std::to_string(k + 1) + ".json"))
          .string();
  job.rig_mark = shelved.mark;
  job.pendulum = &shelved.rig->pendulum;
  return clip_record(job, reuse);
}

void add_free_swings(ShelvedRig& shelved, const SeriesPlan& plan, Reuse reuse) {
  std::string marks;
  for (std::size_t k = 0; k < plan.free_swings.size(); ++k) {
    const std::string& clip = plan.free_swings[k];
    try {
      const std::string path = path_in_series(plan.folder, clip, "clips");
      if (auto record = measure_free_swing(plan, k, shelved, reuse)) {
        shelved.free_swings.push_back(std::move(*record));
        if (auto view = view_of_swing(shelved.free_swings.back(), path))
          shelved.views.push_back(std::move(*view));
      } else {
        shelved.not_stored.push_back("free swing " + clip);
      }
      marks += "; free " + content_mark(path);
    } catch (const UnwritableError&) {
      throw;
    } catch (const InputError& error) {
      shelved.remarks.push_back(free_swing_unused(clip, error.what()));
    }
  }
  shelved.mark += marks;
  const FreeSwingFindings findings = findings_of(shelved.free_swings, shelved.rig->pendulum);
  take_in(findings, *shelved.rig);
  append(shelved.remarks, findings.remarks);
}

/// Sources of two rigs must not meet under one name, nor two rigs in the report.
void set_apart(RigShelf& shelf) {
  if (shelf.size() < 2) return;
  std::map<std::string, int> bearers;
  for (const auto& [file, shelved] : shelf) {
    if (shelved.rig) ++bearers[shelved.rig->name];
  }
  for (auto& [file, shelved] : shelf) {
    if (!shelved.rig) continue;
    std::string& name = shelved.rig->name;
    if (bearers[name] > 1) name += " (" + file + ")";
    shelved.suffix = "@" + name;
  }
}

}  // namespace

std::string rig_file_of(const Specimen& specimen, const SeriesPlan& plan) {
  return specimen.rig.empty() ? plan.rig : specimen.rig;
}

RigShelf stock_rigs(const SeriesPlan& plan, const std::vector<SpecimenRow>& rows, Reuse reuse) {
  RigShelf shelf;
  for (const SpecimenRow& row : rows) {
    if (row.specimen.clip.empty()) continue;
    const std::string file = rig_file_of(row.specimen, plan);
    if (shelf.count(file) == 0)
      shelf[file] = read_shelved((fs::path(plan.folder) / file).string());
  }
  set_apart(shelf);
  const auto home = shelf.find(plan.rig);
  if (home != shelf.end() && home->second.rig) add_free_swings(home->second, plan, reuse);
  return shelf;
}

}  // namespace swingloss
