// SPDX-License-Identifier: Apache-2.0
#include "cli/commands.h"
#include "cli/say_rig.h"
#include "cli/write_result.h"
#include "report/rig_checks_json.h"
#include "series/free_swing_findings.h"
#include "series/measure_clip.h"

#include <iostream>
#include <memory>

#include <CLI/CLI.hpp>

namespace swingloss {
namespace {

struct RigArgs {
  std::string rig, write, json;
  std::vector<std::string> free;
};

std::vector<SwingRecord> measure(const RigArgs& args, const Rig& rig, int jobs) {
  MeasureOptions options;
  options.track.jobs = jobs;
  std::vector<SwingRecord> records;
  for (const std::string& clip : args.free) {
    records.push_back(measure_clip(clip, clip, &rig.pendulum, options));
  }
  return records;
}

/// The latch's angle, else the one of a free swing.
RigCheckOptions check_options(const Rig& rig, const std::vector<SwingRecord>& records) {
  RigCheckOptions options;
  if (rig.pendulum.release_angle_rad) return options;
  for (const SwingRecord& record : records) {
    if (!options.release_angle_rad) {
      options.release_angle_rad = record.measurement.release_angle_rad;
    }
  }
  return options;
}

ExitCode rig(const RigArgs& args, const Session& session) {
  Rig rig = read_rig(args.rig);
  const std::vector<SwingRecord> records = measure(args, rig, session.jobs);
  const FreeSwingFindings findings = findings_of(records, rig.pendulum);
  take_in(findings, rig);
  if (!args.write.empty()) write_result(args.write, rig_text(rig));
  const std::vector<RigCheck> checks = check_rig(rig, check_options(rig, records));
  if (!args.json.empty()) write_result(args.json, rig_checks_json(rig, checks));
  const bool is_silent = session.quiet || args.json == "-" || args.write == "-";
  if (!is_silent) std::cout << account_of(rig, checks);
  for (const Remark& remark : findings.remarks)
    std::cerr << "swingloss: " << remark.text << "\n";
  return findings.remarks.empty() ? ExitCode::Done : ExitCode::SomeRefused;
}

}  // namespace

void add_rig_command(CLI::App& app, Session& session) {
  const auto args = std::make_shared<RigArgs>();
  CLI::App* command = app.add_subcommand("rig", "Work out and check the rig's constants");
  command->add_option("rig", args->rig, "rig.json")->required();
  command
      ->add_option("--free",
                   args->free,
                   "clip of a swing without a bar, for the friction and the reduced length; "
                   "may be given several times")
      ->expected(1)
      ->take_all();
  command
      ->add_option(
          "--write", args->write, "write the rig, friction included, as rig.json; - for stdout")
      ->check(check_place);
  command->add_option("--json", args->json, "write constants and checks as JSON; - for stdout")
      ->check(check_place);
  command->footer("Example:\n  swingloss rig rig.json --free clips/free1.mp4 --write rig.json");
  command->callback([args, &session] { session.end = rig(*args, session); });
}

}  // namespace swingloss
