// SPDX-License-Identifier: Apache-2.0
#include "cli/commands.h"
#include "cli/say_swing.h"
#include "cli/write_result.h"
#include "core/input_error.h"
#include "rig/rig.h"
#include "series/measure_clip.h"
#include "series/swing_json.h"

#include <iostream>
#include <map>
#include <memory>

#include <CLI/CLI.hpp>

namespace swingloss {
namespace {

struct SwingArgs {
  std::string clip, track, rig, json, mode = "auto";
  MeasureOptions options;
};

const std::map<std::string, std::optional<TrackMode>>& modes() {
  static const std::map<std::string, std::optional<TrackMode>> names = {
      {"auto", std::nullopt},
      {"bare", TrackMode::Bare},
      {"dots", TrackMode::Dots},
      {"sticker", TrackMode::Sticker}};
  return names;
}

SwingRecord measure(const SwingArgs& args, const Pendulum* pendulum) {
  if (args.clip.empty() == args.track.empty()) {
    throw InputError({"",
                      "command line",
                      args.clip.empty() ? "neither a clip nor a track" : "a clip and a track",
                      "one of the two",
                      "See: swingloss swing --help"});
  }
  return args.track.empty() ? measure_clip(args.clip, args.clip, pendulum, args.options)
                            : measure_track_file(args.track, pendulum, args.options.swing);
}

ExitCode swing(SwingArgs args, const Session& session) {
  args.options.track.jobs = session.jobs;
  args.options.track.mode = modes().at(args.mode);
  std::optional<Rig> rig;
  if (!args.rig.empty()) rig = read_rig(args.rig);
  const SwingRecord record = measure(args, rig ? &rig->pendulum : nullptr);
  if (!args.json.empty()) write_result(args.json, swing_json(record));
  if (!session.quiet && args.json != "-") std::cout << account_of(record, rig.has_value());
  if (answers(record, rig.has_value())) return ExitCode::Done;
  std::cerr << "swingloss: " << record.clip << ": " << cause_of_absence(record) << "\n";
  return ExitCode::SomeRefused;
}

}  // namespace

void add_swing_command(CLI::App& app, Session& session) {
  const auto args = std::make_shared<SwingArgs>();
  CLI::App* command = app.add_subcommand("swing", "Measure one clip");
  command->add_option("clip", args->clip, "video file, or folder of numbered pictures");
  command->add_option(
      "--track", args->track, "instead of a clip: CSV with t_s, angle_deg[, u_deg]");
  command->add_option("--rig", args->rig, "rig.json; without it angles only, no energy");
  command->add_option("--json", args->json, "write everything as JSON; - for stdout");
  command->add_option("--mode", args->mode, "what to follow; auto takes what the clip shows")
      ->check(CLI::IsMember(modes()))
      ->capture_default_str();
  command->footer("Example:\n  swingloss swing clips/K1.mp4 --rig rig.json --json K1.json");
  command->callback([args, &session] { session.end = swing(*args, session); });
}

}  // namespace swingloss
