// SPDX-License-Identifier: Apache-2.0
#include "series/run_series.h"

#include "series/conclude.h"
#include "series/correct_bar.h"
#include "series/draw_bar.h"
#include "series/look_at_faces.h"
#include "series/measure_clip.h"
#include "series/parallel.h"
#include "series/read_specimens.h"
#include "series/refuse_links.h"
#include "series/rig_shelf.h"
#include "series/settle.h"
#include "series/store.h"
#include "series/table_doubts.h"

#include <algorithm>
#include <filesystem>
#include <mutex>

namespace swingloss {
namespace {

namespace fs = std::filesystem;

/// What all bars of a run have in common.
struct Run {
  const SeriesPlan& plan;
  const RunOptions& options;
  const RigShelf& rigs;
  const std::vector<Correction>& corrections;
  int jobs_a_bar = 1;
};

bool is_wanted_fresh(const RunOptions& options, const std::string& id) {
  const auto& bars = options.fresh_bars;
  return options.fresh || std::find(bars.begin(), bars.end(), id) != bars.end();
}

bool is_stopped(const RunOptions& options) { return options.stopped && options.stopped(); }

std::string stored_in(const Run& run, const Specimen& specimen) {
  return (fs::path(results_folder(run.plan)) / "swings" / (specimen.id + ".json")).string();
}

SwingRecord swing_of(const Run& run, const Specimen& specimen, const ShelvedRig& shelved) {
  const std::string clip = path_in_series(run.plan.folder, specimen.clip, "clips");
  const std::string inputs = inputs_mark(clip, shelved.mark);
  const std::string path = stored_in(run, specimen);
  if (!is_wanted_fresh(run.options, specimen.id)) {
    if (auto stored = stored_swing(path, inputs)) return std::move(*stored);
  }
  MeasureOptions options;
  options.track.jobs = run.jobs_a_bar;
  return keep_swing(
      path, inputs, measure_clip(clip, specimen.clip, &shelved.rig->pendulum, options));
}

BarResult measure_bar(const Run& run, const SpecimenRow& row) {
  if (row.problem) return conclude_problem(row.specimen, *row.problem);
  ConcludeOptions options;
  options.section_u_mm = run.plan.section_u_mm;
  const std::vector<Correction> by_hand = standing(run.corrections, row.specimen.id);
  if (row.specimen.clip.empty()) return conclude_typed_by_hand(row.specimen, options, by_hand);
  const ShelvedRig& shelved = run.rigs.at(rig_file_of(row.specimen, run.plan));
  if (shelved.fault)
    return conclude_problem(row.specimen, problem_of(*shelved.fault, "unusable-rig"));
  options.rig_name = shelved.rig->name;
  options.rig_suffix = shelved.suffix;
  return conclude_filmed_by_hand(row.specimen,
                                 swing_of(run, row.specimen, shelved),
                                 options,
                                 by_hand,
                                 &shelved.rig->pendulum);
}

/// Whatever goes wrong with one bar stays with that bar.
BarResult measure_bar_or_say_why(const Run& run, const SpecimenRow& row) {
  try {
    return measure_bar(run, row);
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

std::vector<BarResult> measure_bars(const Run& run, const std::vector<SpecimenRow>& rows) {
  std::vector<BarResult> bars(rows.size());
  std::mutex one_at_a_time;
  std::size_t done = 0;
  for_each_index(rows.size(), run.options.jobs, [&](std::size_t i) {
    if (is_stopped(run.options)) return;
    bars[i] = measure_bar_or_say_why(run, rows[i]);
    const std::lock_guard<std::mutex> lock(one_at_a_time);
    ++done;
    if (!run.options.progress) return;
    run.options.progress({done, rows.size(), bars[i].specimen.id, !bars[i].problem});
  });
  if (is_stopped(run.options)) throw RunStopped();
  return bars;
}

SeriesResult described(const SeriesPlan& plan, const RigShelf& rigs) {
  SeriesResult result;
  result.title = plan.title;
  result.folder = plan.folder;
  result.geometry_words = geometry_words(plan);
  result.label = plan.label;
  result.rendered_or_invented = !plan.label.empty();
  result.section_u_mm = plan.section_u_mm;
  result.ranking_options = plan.ranking;
  for (const auto& [file, shelved] : rigs) {
    if (shelved.rig) result.rigs.push_back(*shelved.rig);
    append(result.remarks, shelved.remarks);
    result.free_swings.insert(
        result.free_swings.end(), shelved.free_swings.begin(), shelved.free_swings.end());
  }
  return result;
}

/// Corrections that are of no single bar, and how many were taken back.
void add_corrections(SeriesResult& result,
                     const std::vector<Correction>& corrections,
                     const std::vector<AppliedCorrection>& of_series) {
  result.corrections = of_series;
  for (AppliedCorrection& each : without_bar(corrections, result.bars)) {
    result.remarks.push_back({"correction-not-used",
                              Severity::Warning,
                              "The correction by hand of " + each.correction.bar +
                                  " could not be used. " + each.not_used});
    result.corrections.push_back(std::move(each));
  }
  result.corrections_undone = static_cast<std::size_t>(
      std::count_if(corrections.begin(), corrections.end(), [](const Correction& each) {
        return !each.undone.empty();
      }));
}

/// A rig that cannot be used is one bar's problem only while there are other bars.
void check_rigs_left_something(const SeriesResult& result, const RigShelf& rigs) {
  if (result.ranking) return;
  for (const auto& [file, shelved] : rigs) {
    if (shelved.fault) throw *shelved.fault;
  }
}

/// Threads left over for each bar when there are fewer bars than threads.
int jobs_for_each_bar(const RunOptions& options, std::size_t bars) {
  const std::size_t machine = workers_for(options.jobs, std::size_t{1} << 16);
  return static_cast<int>(std::max<std::size_t>(1, machine / workers_for(options.jobs, bars)));
}

}  // namespace

SeriesResult run_series(const SeriesPlan& as_described, const RunOptions& options) {
  refuse_links_in(results_folder(as_described));
  const std::vector<Correction> corrections = read_corrections(as_described.folder);
  SeriesPlan plan = as_described;
  const std::vector<AppliedCorrection> of_series = regroup(corrections, plan);
  const std::vector<SpecimenRow> rows =
      read_specimens((fs::path(plan.folder) / "specimens.csv").string(), plan.folder);
  const RigShelf rigs = stock_rigs(plan, rows, options.fresh);
  SeriesResult result = described(plan, rigs);
  append(result.remarks, doubts_of_table(rows, plan.folder));
  result.bars = measure_bars(
      {plan, options, rigs, corrections, jobs_for_each_bar(options, rows.size())}, rows);
  add_corrections(result, corrections, of_series);
  look_at_faces(plan, options.fresh, options.jobs, result);
  hold_look_against_energy(result);
  const fs::path masses = fs::path(plan.folder) / "masses.csv";
  if (fs::exists(masses)) result.conditioning = settle_bars(masses.string(), result.bars);
  result.ranking = rank_results(result.bars, plan.ranking);
  append(result.remarks, doubts_of_result(result));
  draw_bars(result, options.monte_carlo);
  check_rigs_left_something(result, rigs);
  return result;
}

std::string results_folder(const SeriesPlan& plan) {
  return (fs::path(plan.folder) / "results").string();
}

}  // namespace swingloss
