// SPDX-License-Identifier: Apache-2.0
#include "cli/commands.h"
#include "cli/say_plan.h"
#include "cli/write_result.h"
#include "core/angle.h"
#include "report/plan_chart.h"
#include "report/plan_json.h"

#include <algorithm>
#include <iostream>
#include <memory>

#include <CLI/CLI.hpp>

namespace swingloss {
namespace {

struct PlanArgs {
  PlanRequest request;
  std::vector<double> energies_J;
  double release_deg = 0.0;
  double angle_u_deg = Angle::from_rad(PlanRequest().u_angle_rad).deg();
  double zero_u_deg = Angle::from_rad(PlanRequest().u_zero_rad).deg();
  std::string json, charts;
};

PlanRequest request_of(const PlanArgs& args) {
  PlanRequest request = args.request;
  if (!args.energies_J.empty()) {
    const auto [low, high] =
        std::minmax_element(args.energies_J.begin(), args.energies_J.end());
    request.expected_low_J = *low;
    request.expected_high_J = *high;
  }
  if (args.release_deg > 0.0) {
    request.release_most_rad = Angle::from_deg(args.release_deg).rad();
  }
  request.u_angle_rad = Angle::from_deg(args.angle_u_deg).rad();
  request.u_zero_rad = Angle::from_deg(args.zero_u_deg).rad();
  return request;
}

ExitCode plan(const PlanArgs& args, const Session& session) {
  const PlanAnswer answer = plan_ahead(request_of(args));
  if (!args.json.empty()) write_result(args.json, plan_json(answer));
  if (!session.quiet && args.json != "-") std::cout << account_of(answer);
  if (args.charts.empty()) return ExitCode::Done;
  const std::vector<std::string> files = write_plan_charts(answer, args.charts);
  if (!session.quiet && args.json != "-") {
    for (const std::string& file : files) std::cout << file << "\n";
  }
  return ExitCode::Done;
}

void add_bars_options(CLI::App& command, PlanRequest& request) {
  command.add_option("source",
                     request.source,
                     "CSV of typed values, results.csv, or a series folder: its scatter is "
                     "planned with, and what it has reached is said");
  command.add_option("--cv", request.cv, "scatter from bar to bar over the mean, as 0.08")
      ->check(CLI::PositiveNumber);
  command
      .add_option(
          "--difference", request.question.differences, "of two means, relative, as 0.15")
      ->check(CLI::PositiveNumber)
      ->capture_default_str();
  command.add_option("--power", request.question.powers, "chance to find the difference")
      ->check(CLI::Range(0.5, 0.999))
      ->capture_default_str();
  command.add_option("--alpha", request.question.alpha, "chance of a false alarm")
      ->check(CLI::Range(0.0001, 0.4))
      ->capture_default_str();
  command
      .add_option("--comparisons", request.question.comparisons, "pairs looked at at one time")
      ->check(CLI::Range(1, 10000))
      ->capture_default_str();
  command.add_option("--half-width", request.half_widths, "wanted for a mean, relative")
      ->check(CLI::PositiveNumber)
      ->capture_default_str();
}

void add_hammer_options(CLI::App& command, PlanArgs& args) {
  command.add_option("--rig", args.request.rigs, "rig.json of a hammer in question")
      ->expected(1)
      ->take_all();
  command.add_option("--energy", args.energies_J, "expected [J]: one, or lowest and highest")
      ->expected(1, 2)
      ->check(CLI::PositiveNumber);
  command
      .add_option("--release-deg",
                  args.release_deg,
                  "highest release, where the rig file has no latch angle [deg]")
      ->check(CLI::Range(5.0, 179.0));
  command.add_option("--angle-u-deg", args.angle_u_deg, "u of release and rise, each [deg]")
      ->check(CLI::Range(0.0, 5.0))
      ->capture_default_str();
  command.add_option("--zero-u-deg", args.zero_u_deg, "u of hanging rest [deg]")
      ->check(CLI::Range(0.0, 5.0))
      ->capture_default_str();
}

}  // namespace

void add_plan_command(CLI::App& app, Session& session) {
  const auto args = std::make_shared<PlanArgs>();
  CLI::App* command =
      app.add_subcommand("plan", "How many bars, which hammer, released from how high");
  add_bars_options(*command, args->request);
  add_hammer_options(*command, *args);
  command->add_option("--json", args->json, "write everything as JSON; - for stdout")
      ->check(check_place);
  command->add_option("--charts", args->charts, "folder for the charts, SVG and PNG");
  command->footer(
      "Examples:\n  swingloss plan --cv 0.08 --difference 0.10 0.20\n"
      "  swingloss plan values.csv --rig rig.json --energy 0.8 2.6 --charts plan");
  command->callback([args, &session] { session.end = plan(*args, session); });
}

}  // namespace swingloss
