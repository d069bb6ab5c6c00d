// SPDX-License-Identifier: Apache-2.0
#include "series/run_series.h"

#include "core/shell_word.h"
#include "core/text_file.h"
#include "series/correct_bar.h"
#include "series/draw_bar.h"
#include "series/look_at_faces.h"
#include "series/measure_bars.h"
#include "series/name_list.h"
#include "series/read_specimens.h"
#include "series/refuse_links.h"
#include "series/rig_shelf.h"
#include "series/settle.h"
#include "series/table_doubts.h"

#include <algorithm>
#include <filesystem>

namespace swingloss {
namespace {

namespace fs = std::filesystem;

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

/// Ends a run that was to measure nothing where a record is missing.
void demand_all(const SeriesResult& result, const RigShelf& rigs) {
  std::vector<std::string> missing;
  for (const auto& [file, shelved] : rigs) {
    missing.insert(missing.end(), shelved.not_stored.begin(), shelved.not_stored.end());
  }
  for (const BarResult& bar : result.bars) {
    if (bar.problem && bar.problem->code == kNotMeasuredYet) missing.push_back(bar.specimen.id);
  }
  if (missing.empty()) return;
  throw InputError(
      {result.folder,
       "results",
       std::to_string(missing.size()) + " of " + std::to_string(result.bars.size()) +
           " bars not measured yet, or measured from other clips, rig or program: " +
           name_list(missing),
       "a record of every bar",
       "Run the part again that has them (--only), copy its results here, or measure what is "
       "missing: swingloss run " +
           shell_word(result.folder)});
}

}  // namespace

SeriesResult run_series(const SeriesPlan& as_described, const RunOptions& options) {
  refuse_links_in(results_folder(as_described));
  const std::vector<Correction> corrections = read_corrections(as_described.folder);
  SeriesPlan plan = as_described;
  const std::vector<AppliedCorrection> of_series = regroup(corrections, plan);
  const std::vector<SpecimenRow> rows =
      read_specimens((fs::path(plan.folder) / "specimens.csv").string(), plan.folder);
  const RigShelf rigs = stock_rigs(plan, rows, options.reuse());
  SeriesResult result = described(plan, rigs);
  append(result.remarks, doubts_of_table(rows, plan.folder));
  result.bars = measure_bars({plan, options, rigs, corrections, {}}, rows);
  add_corrections(result, corrections, of_series);
  look_at_faces(plan, {options.reuse(), options.jobs, {}}, result);
  demand_all(result, rigs);
  hold_look_against_energy(result);
  const fs::path masses = fs::path(plan.folder) / "masses.csv";
  if (is_there(masses.string()))
    result.conditioning = settle_bars(masses.string(), result.bars);
  result.ranking = rank_results(result.bars, plan.ranking);
  append(result.remarks, doubts_of_result(result));
  draw_bars(result, options.monte_carlo, options.jobs);
  check_rigs_left_something(result, rigs);
  return result;
}

PartResult measure_part(const SeriesPlan& plan,
                        const SeriesPart& part,
                        const RunOptions& options) {
  refuse_links_in(results_folder(plan));
  const std::vector<Correction> corrections = read_corrections(plan.folder);
  const std::vector<SpecimenRow> rows =
      read_specimens((fs::path(plan.folder) / "specimens.csv").string(), plan.folder);
  const RigShelf rigs = stock_rigs(plan, rows, options.reuse());
  SeriesResult all = described(plan, rigs);
  all.bars = measure_bars({plan, options, rigs, corrections, part}, rows);
  look_at_faces(plan, {options.reuse(), options.jobs, part}, all);
  PartResult result{part, all.bars.size(), {}, all.remarks};
  for (std::size_t i = 0; i < all.bars.size(); ++i) {
    if (part.has(i)) result.bars.push_back(std::move(all.bars[i]));
  }
  return result;
}

std::string results_folder(const SeriesPlan& plan) {
  return (fs::path(plan.folder) / "results").string();
}

}  // namespace swingloss
