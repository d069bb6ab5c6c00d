// SPDX-License-Identifier: Apache-2.0
#include "cli/commands.h"
#include "cli/progress.h"
#include "cli/say_series.h"
#include "cli/write_result.h"
#include "core/input_error.h"
#include "core/number_text.h"
#include "core/text_file.h"
#include "report/write_report.h"
#include "series/run_series.h"
#include "series/series_mark.h"
#include "series/settled_run.h"

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <filesystem>
#include <iostream>
#include <memory>
#include <optional>
#include <sstream>
#include <string>
#include <vector>

#include <CLI/CLI.hpp>

namespace swingloss {
namespace {

struct RunArgs {
  std::string series, json;
  std::optional<std::string> only;
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

/// A whole number from 1 on; 0 where the text is none.
std::size_t count_of(const std::string& text) {
  constexpr double kMost = 1e6;
  const std::optional<double> number = parse_number(text);
  const bool whole =
      number && *number >= 1.0 && *number <= kMost && *number == std::floor(*number);
  return whole ? static_cast<std::size_t>(*number) : 0;
}

/// "2/8": the second of eight parts.
SeriesPart part_of(const std::string& text) {
  const std::size_t slash = std::min(text.find('/'), text.size());
  SeriesPart part;
  part.number = count_of(text.substr(0, slash));
  part.of = count_of(text.substr(std::min(slash + 1, text.size())));
  if (part.number >= 1 && part.of >= part.number) return part;
  throw InputError({"",
                    "option --only",
                    "\"" + text + "\"",
                    "I/N with whole numbers, I from 1 to N",
                    "Write 1/4 for the first of four parts."});
}

ReportFiles report_on(const SeriesResult& result,
                      const SeriesPlan& plan,
                      const RunArgs& args,
                      bool quiet) {
  ReportOptions options;
  options.progress = drawing_progress(quiet);
  options.source_mark = series_mark(plan);
  options.redraw = args.options.fresh;
  options.charts = extras_of(args.charts);
  options.jobs = args.options.jobs;
  options.overlays = args.overlays;
  options.sound = args.sound;
  options.strip_of = [&](const BarResult& bar) {
    return strip_frames(*bar.swing, path_in_series(plan.folder, bar.specimen.clip, "clips"));
  };
  return write_report(result, results_folder(plan), options);
}

/// Where report_on() puts results.json.
std::string json_in(const SeriesPlan& plan) {
  return (std::filesystem::path(results_folder(plan)) / "results.json").string();
}

/// Every place where a program would be looked for.
std::vector<std::string> places_of(const std::string& program) {
  std::vector<std::string> places;
  // NOLINTNEXTLINE(concurrency-mt-unsafe): no other thread runs yet
  const char* const path = std::getenv("PATH");
  std::istringstream folders(path == nullptr ? "" : path);
  std::string folder;
  while (std::getline(folders, folder, ':'))
    places.push_back((std::filesystem::path(folder) / program).string());
  return places;
}

/// All that the account and the files come from beside the series itself.
std::string request_of(const RunArgs& args) {
  std::string request = args.options.monte_carlo ? "monte-carlo" : "first order";
  for (const std::string& chart : args.charts) request += " " + chart;
  return request;
}

/// What the run says, and whether anything was in its way.
struct RunAccount {
  std::string words, problems;
  bool all_measured = true, all_drawn = true;
};

RunAccount rank_and_draw(const RunArgs& args, const SeriesPlan& plan, bool quiet) {
  const SeriesResult result = run_series(plan, args.options);
  const ReportFiles files = report_on(result, plan, args, quiet);
  return {account_of(result) + "\nReport: " + files.page + "\n",
          problems_of(result.bars),
          all_measured(result.bars),
          files.whole};
}

/// The account of a run that found everything as the last one left it.
std::optional<RunAccount> settled_account(const SettledRun& settled,
                                          const RunArgs& args,
                                          bool quiet) {
  if (args.options.fresh || args.overlays) return std::nullopt;
  const std::optional<std::string> words = settled.unchanged();
  if (!words) return std::nullopt;
  if (!quiet) std::cerr << "Nothing was changed since the last run.\n";
  return RunAccount{*words, "", true, true};
}

ExitCode rank_and_report(const RunArgs& args, const SeriesPlan& plan, const Session& session) {
  const SettledRun settled(plan, request_of(args), places_of(ReportOptions().gnuplot));
  std::optional<RunAccount> account = settled_account(settled, args, session.quiet);
  if (!account) {
    account = rank_and_draw(args, plan, session.quiet);
    const bool settles = account->all_measured && account->all_drawn && !args.overlays;
    if (settles) settled.keep(account->words);
  }
  if (!args.json.empty()) write_result(args.json, read_file(json_in(plan)));
  if (session.quiet || args.json == "-") {
    std::cerr << account->problems;
  } else {
    std::cout << account->words;
  }
  return account->all_measured ? ExitCode::Done : ExitCode::SomeRefused;
}

ExitCode run_part(const RunArgs& args, const SeriesPlan& plan, bool quiet) {
  const PartResult result = measure_part(plan, part_of(*args.only), args.options);
  if (quiet) {
    std::cerr << problems_of(result.bars);
  } else {
    std::cout << account_of(result, args.series);
  }
  return all_measured(result.bars) ? ExitCode::Done : ExitCode::SomeRefused;
}

ExitCode run(RunArgs args, const Session& session) {
  args.options.jobs = session.jobs;
  args.options.progress = progress_lines(session.quiet, "measured");
  const SeriesPlan plan = read_series(args.series);
  if (args.only) return run_part(args, plan, session.quiet);
  return rank_and_report(args, plan, session);
}

ExitCode collect(RunArgs args, const Session& session) {
  args.options.jobs = session.jobs;
  args.options.stored_only = true;
  return rank_and_report(args, read_series(args.series), session);
}

/// What both commands take for ranking and report.
void add_report_options(CLI::App& command, RunArgs& args) {
  command.add_option("series", args.series, "folder with series.json and specimens.csv")
      ->required();
  command.add_option("--json", args.json, "write results.json there as well; - for stdout")
      ->check(check_place);
  command.add_flag("--monte-carlo",
                   args.options.monte_carlo,
                   "draw the sources of every bar beside first order");
  command
      .add_option("--charts",
                  args.charts,
                  "more pictures of every chart: 4k, transparent, dark, or several of them")
      ->delimiter(',')
      ->check(CLI::IsMember({"4k", "transparent", "dark"}));
  command.add_flag("--overlays",
                   args.overlays,
                   "film of every clip with arm, read-outs and slow replay: results/overlays");
  command.add_flag("--sound", args.sound, "keep the clips' sound in these films")
      ->needs("--overlays");
}

}  // namespace

void add_run_command(CLI::App& app, Session& session) {
  const auto args = std::make_shared<RunArgs>();
  CLI::App* command = app.add_subcommand("run", "Measure and rank the bars of a series folder");
  add_report_options(*command, *args);
  command->add_flag(
      "--fresh", args->options.fresh, "measure again what is stored and unchanged");
  CLI::Option* only = command->add_option(
      "--only",
      args->only,
      "I/N: measure every N-th bar from the I-th on and rank nothing; see collect");
  for (const char* other : {"--json", "--monte-carlo", "--charts", "--overlays"})
    only->excludes(other);
  command->footer(
      "Examples:\n  swingloss run my-series --charts 4k,transparent\n"
      "  swingloss run my-series --overlays --sound\n"
      "  swingloss run my-series --only 2/8");
  command->callback([args, &session] { session.end = run(*args, session); });
}

void add_collect_command(CLI::App& app, Session& session) {
  const auto args = std::make_shared<RunArgs>();
  CLI::App* command = app.add_subcommand(
      "collect", "Rank and report a series whose bars were measured in parts (run --only)");
  add_report_options(*command, *args);
  command->footer("Example:\n  swingloss collect my-series");
  command->callback([args, &session] { session.end = collect(*args, session); });
}

}  // namespace swingloss
