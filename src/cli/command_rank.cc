// SPDX-License-Identifier: Apache-2.0
#include "cli/commands.h"
#include "cli/say_series.h"
#include "cli/write_result.h"
#include "report/results_json.h"
#include "series/table_input.h"

#include <iostream>
#include <memory>

#include <CLI/CLI.hpp>

namespace swingloss {
namespace {

struct RankArgs {
  std::string table, json;
  TableOptions options;
};

ExitCode rank(const RankArgs& args, const Session& session) {
  const SeriesResult result = rank_table(args.table, args.options);
  if (!args.json.empty()) write_result(args.json, results_json(result));
  if (session.quiet || args.json == "-") {
    std::cerr << problems_of(result);
  } else {
    std::cout << account_of(result);
  }
  return result.complete() ? ExitCode::Done : ExitCode::SomeRefused;
}

}  // namespace

void add_rank_command(CLI::App& app, Session& session) {
  const auto args = std::make_shared<RankArgs>();
  TableOptions& options = args->options;
  CLI::App* command = app.add_subcommand("rank", "Rank typed values of any instrument");
  command->add_option("table", args->table, "CSV: id, material, energy_J, ... as specimens.csv")
      ->required();
  command->add_option("--json", args->json, "write everything as JSON; - for stdout");
  command->add_option("--confidence", options.ranking.confidence, "of intervals and verdicts")
      ->check(CLI::Range(0.5, 0.999))
      ->capture_default_str();
  command
      ->add_option("--section-u-mm", options.section_u_mm, "u of thickness and of width [mm]")
      ->check(CLI::Range(0.0, 1.0))
      ->capture_default_str();
  command->footer("Example:\n  swingloss rank values.csv --json ranking.json");
  command->callback([args, &session] { session.end = rank(*args, session); });
}

}  // namespace swingloss
