// SPDX-License-Identifier: Apache-2.0
#include "cli/commands.h"
#include "cli/say_series.h"
#include "cli/write_result.h"
#include "report/results_json.h"
#include "report/write_report.h"
#include "series/table_input.h"

#include <algorithm>
#include <iostream>
#include <memory>

#include <CLI/CLI.hpp>

namespace swingloss {
namespace {

struct RankArgs {
  std::string table, json, report, quantity = "auto";
  std::vector<std::string> group_by = {"condition", "orientation"};
  TableOptions options;
};

TableOptions options_of(const RankArgs& args) {
  TableOptions options = args.options;
  const auto has = [&](const char* name) {
    return std::find(args.group_by.begin(), args.group_by.end(), name) != args.group_by.end();
  };
  options.ranking.by_condition = has("condition");
  options.ranking.by_orientation = has("orientation");
  if (args.quantity == "strength") options.ranking.quantity = Quantity::Strength_kJ_m2;
  if (args.quantity == "energy") options.ranking.quantity = Quantity::Energy_J;
  return options;
}

ExitCode rank(const RankArgs& args, const Session& session) {
  TableOptions options = options_of(args);
  options.jobs = session.jobs;
  const SeriesResult result = rank_table(args.table, options);
  if (!args.json.empty()) write_result(args.json, results_json(result));
  const bool is_silent = session.quiet || args.json == "-";
  if (is_silent) {
    std::cerr << problems_of(result.bars);
  } else {
    std::cout << account_of(result);
  }
  if (!args.report.empty()) {
    const ReportFiles files = write_report(result, args.report);
    if (!is_silent) std::cout << "\nReport: " << files.page << "\n";
  }
  return all_measured(result.bars) ? ExitCode::Done : ExitCode::SomeRefused;
}

void add_group_options(CLI::App& command, RankArgs& args) {
  command
      .add_option(
          "--group-by", args.group_by, "beside the material: condition, orientation, none")
      ->delimiter(',')
      ->check(CLI::IsMember({"condition", "orientation", "none", "material"}))
      ->capture_default_str();
  command
      .add_option("--quantity", args.quantity, "strength, energy; auto: as the table allows")
      ->check(CLI::IsMember({"auto", "strength", "energy"}))
      ->capture_default_str();
  command.add_flag("--pool-break-types",
                   args.options.ranking.pool_break_types,
                   "average partial breaks with the others, against ISO 179-1 and ISO 180");
  command.add_option("--masses", args.options.masses, "CSV of weighings, as masses.csv");
  command.add_flag("--monte-carlo",
                   args.options.monte_carlo,
                   "draw the sources of every bar beside first order");
}

void add_comparison_options(CLI::App& command, RankingOptions& ranking) {
  command.add_option("--confidence", ranking.confidence, "of intervals and verdicts")
      ->check(CLI::Range(0.5, 0.999))
      ->capture_default_str();
  command
      .add_option(
          "--within", ranking.equivalence_margin, "margin of 'no big difference', as 0.10")
      ->check(CLI::Range(0.001, 0.999))
      ->capture_default_str();
  command.add_option("--power", ranking.power, "chance that the bars needed would tell")
      ->check(CLI::Range(0.501, 0.999))
      ->capture_default_str();
  command.add_option("--base-condition", ranking.base_condition, "effects are counted from it");
  command.add_option("--base-orientation", ranking.base_orientation, "likewise");
  command.add_option("--reference",
                     ranking.reference_material,
                     "material broken on every rig: ties the rigs together");
}

}  // namespace

void add_rank_command(CLI::App& app, Session& session) {
  const auto args = std::make_shared<RankArgs>();
  CLI::App* command = app.add_subcommand("rank", "Rank typed values of any instrument");
  command
      ->add_option("table",
                   args->table,
                   "CSV: id, material, energy_J, ... as specimens.csv; or a results.csv")
      ->required();
  command->add_option("--json", args->json, "write everything as JSON; - for stdout")
      ->check(check_place);
  command->add_option(
      "--report", args->report, "write report.html and charts into this folder");
  add_comparison_options(*command, args->options.ranking);
  add_group_options(*command, *args);
  command
      ->add_option(
          "--section-u-mm", args->options.section_u_mm, "u of thickness and of width [mm]")
      ->check(CLI::Range(0.0, 1.0))
      ->capture_default_str();
  command->footer(
      "Examples:\n  swingloss rank values.csv --json ranking.json\n"
      "  swingloss rank values.csv --within 0.2 --report values-report");
  command->callback([args, &session] { session.end = rank(*args, session); });
}

}  // namespace swingloss
