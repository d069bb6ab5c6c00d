// SPDX-License-Identifier: Apache-2.0
#include "cli/commands.h"
#include "cli/progress.h"
#include "cli/say_series.h"
#include "cli/write_result.h"
#include "report/results_json.h"
#include "report/write_report.h"
#include "series/run_series.h"

#include <algorithm>
#include <iostream>
#include <memory>
#include <string>
#include <vector>

#include <CLI/CLI.hpp>

namespace swingloss {
namespace {

struct RunArgs {
  std::string series, json;
  RunOptions options;
  std::vector<std::string> charts;
  bool overlays = false, sound = false;
};

ChartExtras extras_of(const std::vector<std::string>& words) {
  const auto asked = [&](const char* word) {
    return std::find(words.begin(), words.end(), word) != words.end();
  };
  return {asked("4k"), asked("transparent"), asked("dark")};
}

ReportFiles report_on(const SeriesResult& result,
                      const SeriesPlan& plan,
                      const RunArgs& args,
                      bool quiet) {
  ReportOptions options;
  options.progress = drawing_progress(quiet);
  options.charts = extras_of(args.charts);
  options.jobs = args.options.jobs;
  options.overlays = args.overlays;
  options.sound = args.sound;
  options.strip_of = [&](const BarResult& bar) {
    return strip_frames(*bar.swing, path_in_series(plan.folder, bar.specimen.clip, "clips"));
  };
  return write_report(result, results_folder(plan), options);
}

ExitCode run(RunArgs args, const Session& session) {
  args.options.jobs = session.jobs;
  args.options.progress = progress_lines(session.quiet, "measured");
  const SeriesPlan plan = read_series(args.series);
  const SeriesResult result = run_series(plan, args.options);
  const ReportFiles files = report_on(result, plan, args, session.quiet);
  if (!args.json.empty()) write_result(args.json, results_json(result));
  if (session.quiet || args.json == "-") {
    std::cerr << problems_of(result);
  } else {
    std::cout << account_of(result) << "\nReport: " << files.page << "\n";
  }
  return result.complete() ? ExitCode::Done : ExitCode::SomeRefused;
}

}  // namespace

void add_run_command(CLI::App& app, Session& session) {
  const auto args = std::make_shared<RunArgs>();
  CLI::App* command = app.add_subcommand("run", "Measure and rank the bars of a series folder");
  command->add_option("series", args->series, "folder with series.json and specimens.csv")
      ->required();
  command->add_option("--json", args->json, "write results.json there as well; - for stdout")
      ->check(check_place);
  command->add_flag(
      "--fresh", args->options.fresh, "measure again what is stored and unchanged");
  command->add_flag("--monte-carlo",
                    args->options.monte_carlo,
                    "draw the sources of every bar beside first order");
  command
      ->add_option("--charts",
                   args->charts,
                   "more pictures of every chart: 4k, transparent, dark, or several of them")
      ->delimiter(',')
      ->check(CLI::IsMember({"4k", "transparent", "dark"}));
  command->add_flag("--overlays",
                    args->overlays,
                    "film of every clip with arm, read-outs and slow replay: results/overlays");
  command->add_flag("--sound", args->sound, "keep the clips' sound in these films")
      ->needs("--overlays");
  command->footer(
      "Examples:\n  swingloss run my-series --charts 4k,transparent\n"
      "  swingloss run my-series --overlays --sound");
  command->callback([args, &session] { session.end = run(*args, session); });
}

}  // namespace swingloss
