// SPDX-License-Identifier: Apache-2.0
#include "cli/commands.h"
#include "cli/say_swing.h"
#include "cli/write_result.h"
#include "core/input_error.h"
#include "core/number_text.h"
#include "core/text_file.h"
#include "report/overlay_film.h"
#include "rig/rig.h"
#include "series/measure_clip.h"
#include "series/swing_json.h"
#include "series/view_of_swing.h"

#include <filesystem>
#include <iostream>
#include <map>
#include <memory>

#include <CLI/CLI.hpp>

namespace swingloss {
namespace {

struct SwingArgs {
  std::string clip, track, rig, json, mode = "auto", angle_unit = "deg", time_unit = "s";
  std::string overlay;
  std::vector<std::string> view_of;
  bool all = false, sound = false;
  AngleTableOptions table;
  MeasureOptions options;
};

const std::map<std::string, double>& time_units_s() {
  static const std::map<std::string, double> units = {{"s", 1.0}, {"ms", 1e-3}, {"us", 1e-6}};
  return units;
}

const std::map<std::string, std::optional<TrackMode>>& modes() {
  static const std::map<std::string, std::optional<TrackMode>> names = {
      {"auto", std::nullopt},
      {"bare", TrackMode::Bare},
      {"dots", TrackMode::Dots},
      {"sticker", TrackMode::Sticker}};
  return names;
}

/// A record a blow with --all, else one.
std::vector<SwingRecord> measure(const SwingArgs& args, const Pendulum* pendulum) {
  if (args.clip.empty() == args.track.empty()) {
    throw InputError({"",
                      "command line",
                      args.clip.empty() ? "neither a clip nor a track" : "a clip and a track",
                      "one of the two",
                      "See: swingloss swing --help"});
  }
  if (args.track.empty()) {
    if (args.all) return measure_all_of_clip(args.clip, args.clip, pendulum, args.options);
    return {measure_clip(args.clip, args.clip, pendulum, args.options)};
  }
  const TrackFileOptions options{args.table, args.options.swing};
  if (args.all) return measure_all_of_track_file(args.track, pendulum, options);
  return {measure_track_file(args.track, pendulum, options)};
}

std::string account_of(const std::vector<SwingRecord>& records, bool rig_given) {
  if (records.size() == 1) return account_of(records.front(), rig_given);
  std::string text;
  for (std::size_t k = 0; k < records.size(); ++k) {
    const std::optional<double> blow_s = records[k].measurement.events.blow_s;
    text += "Blow " + std::to_string(k + 1) + " of " + std::to_string(records.size()) +
            (blow_s ? ", at " + fixed_text(*blow_s, 2) + " s" : "") + "\n" +
            account_of(records[k], rig_given) + (k + 1 < records.size() ? "\n" : "");
  }
  return text;
}

/// What --overlay cannot be given for is said before anything is measured.
void check_overlay(const SwingArgs& args) {
  if (args.overlay.empty() && args.sound) {
    throw InputError({"",
                      "command line",
                      "--sound without --overlay",
                      "a film to put the sound into",
                      "Add --overlay OUT.mp4."});
  }
  if (args.overlay.empty()) return;
  if (args.track.empty() && !args.all) return check_film_place(args.clip, args.overlay);
  throw InputError({"",
                    "command line",
                    args.all ? "--overlay with --all" : "--overlay with --track",
                    "one clip of one blow",
                    args.all ? "Cut the recording into clips first."
                             : "A table of angles has no pictures; leave --overlay out."});
}

void film(const SwingArgs& args, const SwingRecord& record, const Session& session) {
  OverlayOptions options;
  options.title = std::filesystem::path(args.clip).stem().string();
  options.rig_given = !args.rig.empty();
  options.sound = args.sound;
  options.threads = session.jobs;
  const OverlayFilm film = write_overlay(record, args.clip, args.overlay, options);
  for (const Remark& remark : film.remarks) {
    std::cerr << "swingloss: " << args.overlay << ": " << remark.text << "\n";
  }
}

/// Views of swings that were measured before, each as its record has it.
std::vector<KnownView> views_of(const SwingArgs& args) {
  if (!args.view_of.empty() && args.clip.empty()) {
    throw InputError({"",
                      "command line",
                      "--view-of with --track",
                      "a clip",
                      "A table of angles was seen by no camera; leave --view-of out."});
  }
  std::vector<KnownView> views;
  for (const std::string& path : args.view_of) {
    const SwingRecord record = parse_swing_json(read_file(path), path).record;
    std::optional<KnownView> view = view_of_swing(record, record.clip);
    if (!view) {
      throw InputError(
          {path,
           "--view-of",
           "a swing that does not tell where the camera stood",
           "the result of a clip, filmed with the camera at rest, whose motion was "
           "measured",
           "Measure a free swing filmed from the same place with --json."});
    }
    views.push_back(std::move(*view));
  }
  return views;
}

ExitCode swing(SwingArgs args, const Session& session) {
  args.options.track.jobs = session.jobs;
  args.options.track.mode = modes().at(args.mode);
  args.table.radians = args.angle_unit == "rad";
  args.table.time_unit_s = time_units_s().at(args.time_unit);
  check_overlay(args);
  args.options.views = views_of(args);
  std::optional<Rig> rig;
  if (!args.rig.empty()) rig = read_rig(args.rig);
  const std::vector<SwingRecord> records = measure(args, rig ? &rig->pendulum : nullptr);
  if (!args.json.empty()) {
    write_result(args.json, args.all ? swings_json(records) : swing_json(records.front()));
  }
  if (!args.overlay.empty()) film(args, records.front(), session);
  if (!session.quiet && args.json != "-") std::cout << account_of(records, rig.has_value());
  ExitCode end = ExitCode::Done;
  for (const SwingRecord& record : records) {
    if (answers(record, rig.has_value())) continue;
    std::cerr << "swingloss: " << record.clip << ": " << cause_of_absence(record) << "\n";
    end = ExitCode::SomeRefused;
  }
  return end;
}

/// A table of angles instead of a clip, and where in it they are.
void add_track_options(CLI::App& command, SwingArgs& args) {
  command.add_option(
      "--track", args.track, "instead of a clip: table with t_s, angle_deg[, u_deg]");
  command
      .add_option("--columns",
                  args.table.columns,
                  "TIME,ANGLE of the table: names, or numbers from 1; ANGLE alone with --rate")
      ->delimiter(',');
  command
      .add_option("--rate", args.table.rate_per_s, "samples a second of a table without time")
      ->check(CLI::PositiveNumber);
  command.add_option("--skip", args.table.skip_lines, "lines before the table or its header")
      ->check(CLI::NonNegativeNumber);
  command.add_option("--angle-unit", args.angle_unit, "of the table's angles")
      ->check(CLI::IsMember({"deg", "rad"}))
      ->capture_default_str();
  command.add_option("--time-unit", args.time_unit, "of the table's times")
      ->check(CLI::IsMember(time_units_s()))
      ->capture_default_str();
}

}  // namespace

void add_swing_command(CLI::App& app, Session& session) {
  const auto args = std::make_shared<SwingArgs>();
  CLI::App* command = app.add_subcommand("swing", "Measure one clip");
  command->add_option("clip", args->clip, "video file, or folder of numbered pictures");
  add_track_options(*command, *args);
  command->add_option("--rig", args->rig, "rig.json; without it angles only, no energy");
  command->add_option("--json", args->json, "write everything as JSON; - for stdout")
      ->check(check_place);
  command
      ->add_option("--view-of",
                   args->view_of,
                   "result (--json) of a swing filmed from the same place, a free swing best: "
                   "its view is used; may be given several times")
      ->expected(1)
      ->take_all();
  command
      ->add_option(
          "--overlay", args->overlay, "film with arm, read-outs and slow replay: OUT.mp4")
      ->check(check_place);
  command->add_flag("--sound", args->sound, "keep the clip's sound in the film");
  command->add_flag("--all", args->all, "one recording of several bars: measure every blow");
  command->add_option("--mode", args->mode, "what to follow; auto takes what the clip shows")
      ->check(CLI::IsMember(modes()))
      ->capture_default_str();
  command->footer(
      "Examples:\n  swingloss swing clips/K1.mp4 --rig rig.json --json K1.json\n"
      "  swingloss swing clips/K1.mp4 --rig rig.json --overlay K1-film.mp4 --sound\n"
      "  swingloss swing --track encoder.txt --skip 2 --columns 1 --rate 1000");
  command->callback([args, &session] { session.end = swing(*args, session); });
}

}  // namespace swingloss
