// SPDX-License-Identifier: Apache-2.0
#include "series/measure_bars.h"

#include "core/parallel.h"
#include "series/clip_record.h"
#include "series/correct_bar.h"
#include "series/durable_file.h"
#include "series/store.h"

#include <algorithm>
#include <atomic>
#include <filesystem>
#include <mutex>

namespace swingloss {
namespace {

namespace fs = std::filesystem;

Reuse reuse_for(const RunOptions& options, const std::string& id) {
  const auto& bars = options.fresh_bars;
  const bool fresh = std::find(bars.begin(), bars.end(), id) != bars.end();
  return fresh ? Reuse::Nothing : options.reuse();
}

std::string stored_in(const BarsRun& run, const Specimen& specimen) {
  return (fs::path(results_folder(run.plan)) / "swings" / (specimen.id + ".json")).string();
}

BarResult filmed_bar(const BarsRun& run, const Specimen& specimen, int jobs) {
  const ShelvedRig& shelved = run.rigs.at(rig_file_of(specimen, run.plan));
  if (shelved.fault)
    return conclude_problem(specimen, problem_of(*shelved.fault, "unusable-rig"));
  ClipJob job;
  job.clip = path_in_series(run.plan.folder, specimen.clip, "clips");
  job.shown_as = specimen.clip;
  job.stored_in = stored_in(run, specimen);
  job.rig_mark = shelved.mark;
  job.pendulum = &shelved.rig->pendulum;
  job.views = shelved.views;
  job.jobs = jobs;
  auto record = clip_record(job, reuse_for(run.options, specimen.id));
  if (!record) return conclude_problem(specimen, {kNotMeasuredYet, specimen.clip});
  ConcludeOptions options;
  options.section_u_mm = run.plan.section_u_mm;
  options.rig_name = shelved.rig->name;
  options.rig_suffix = shelved.suffix;
  return conclude_filmed_by_hand(specimen,
                                 std::move(*record),
                                 options,
                                 standing(run.corrections, specimen.id),
                                 &shelved.rig->pendulum);
}

BarResult measure_bar(const BarsRun& run, const SpecimenRow& row, int jobs) {
  if (row.problem) return conclude_problem(row.specimen, *row.problem);
  if (!row.specimen.clip.empty()) return filmed_bar(run, row.specimen, jobs);
  ConcludeOptions options;
  options.section_u_mm = run.plan.section_u_mm;
  return conclude_typed_by_hand(
      row.specimen, options, standing(run.corrections, row.specimen.id));
}

BarResult measure_bar_or_say_why(const BarsRun& run, const SpecimenRow& row, int jobs) {
  try {
    return measure_bar(run, row, jobs);
  } catch (const UnwritableError&) {
    throw;
  } catch (const InputError& error) {
    forget_swing(stored_in(run, row.specimen));
    return conclude_problem(row.specimen, problem_of(error));
  } catch (const std::exception& error) {
    forget_swing(stored_in(run, row.specimen));
    return conclude_problem(row.specimen,
                            {"internal-fault",
                             row.specimen.clip + ": an internal fault (" + error.what() +
                                 "). Please report it with the clip; the other bars stand."});
  }
}

bool is_stopped(const RunOptions& options) { return options.stopped && options.stopped(); }

/// Threads left over for each bar when there are fewer bars than threads.
int jobs_for_each_bar(const RunOptions& options, std::size_t bars) {
  const std::size_t machine = workers_for(options.jobs, std::size_t{1} << 16);
  return static_cast<int>(std::max<std::size_t>(1, machine / workers_for(options.jobs, bars)));
}

}  // namespace

std::vector<BarResult> measure_bars(const BarsRun& run, const std::vector<SpecimenRow>& rows) {
  std::vector<BarResult> bars(rows.size());
  std::vector<std::size_t> own;
  for (std::size_t i = 0; i < rows.size(); ++i) {
    bars[i].specimen = rows[i].specimen;
    if (run.part.has(i)) own.push_back(i);
  }
  const int jobs_a_bar = jobs_for_each_bar(run.options, own.size());
  std::mutex one_at_a_time;
  std::size_t done = 0;
  std::atomic<bool> unwritable{false};
  for_each_index(own.size(), run.options.jobs, [&](std::size_t k) {
    if (unwritable || is_stopped(run.options)) return;
    const std::size_t i = own[k];
    try {
      bars[i] = measure_bar_or_say_why(run, rows[i], jobs_a_bar);
    } catch (const UnwritableError&) {
      unwritable = true;
      throw;
    }
    const std::lock_guard<std::mutex> lock(one_at_a_time);
    ++done;
    if (!run.options.progress) return;
    run.options.progress({done, own.size(), bars[i].specimen.id, !bars[i].problem});
  });
  if (is_stopped(run.options)) throw RunStopped();
  return bars;
}

}  // namespace swingloss
