// SPDX-License-Identifier: Apache-2.0
#include "cli/commands.h"
#include "cli/say_surface.h"
#include "cli/write_result.h"
#include "core/input_error.h"
#include "core/text_file.h"
#include "imaging/still.h"
#include "report/face_plate.h"
#include "series/appearance_model.h"
#include "series/measure_photo.h"

#include <iostream>
#include <memory>

#include <CLI/CLI.hpp>

namespace swingloss {
namespace {

struct SurfaceArgs {
  std::vector<std::string> photos;
  std::string json, plate, learn, model, model_out, trained_on;
  double ruler_mm = 0.0, ruler_u_mm = 1e3 * SurfaceOptions().u_ruler_m;
  double face_height_mm = 0.0, face_height_u_mm = 1e3 * SurfaceOptions().u_face_height_m;
  double focal_35mm = 0.0;
  bool afresh = false;
};

SurfaceOptions options_of(const SurfaceArgs& args) {
  SurfaceOptions options;
  if (args.ruler_mm > 0.0) options.ruler_m = 1e-3 * args.ruler_mm;
  if (args.focal_35mm > 0.0) options.focal_35mm = args.focal_35mm;
  options.u_ruler_m = 1e-3 * args.ruler_u_mm;
  options.face_height_m = 1e-3 * args.face_height_mm;
  options.u_face_height_m = 1e-3 * args.face_height_u_mm;
  return options;
}

AppearanceModel model_of(const SurfaceArgs& args) {
  return args.model.empty() ? standard_model() : parse_model(read_file(args.model), args.model);
}

ExitCode learn_labels(const SurfaceArgs& args, const Session& session) {
  const AppearanceModel prior = model_of(args);
  const LabelledFaces labelled = read_labels(args.learn, prior, session.jobs);
  for (const Remark& remark : labelled.left_out) {
    std::cerr << "swingloss: " << remark.text << "\n";
  }
  LearnOptions options;
  if (!args.afresh) options.prior = &prior;
  options.trained_on =
      args.trained_on.empty() ? std::string("the owner's labels") : args.trained_on;
  if (!args.afresh) options.trained_on += ", starting from " + prior.trained_on;
  const auto learnt = learn(labelled.faces, options);
  if (!learnt.ok()) {
    throw InputError(
        {args.learn, "", learnt.failure().cause, "more labels", learnt.failure().advice});
  }
  if (!args.model_out.empty()) write_result(args.model_out, model_json(learnt.value()));
  if (!session.quiet && args.model_out != "-") std::cout << account_of(learnt.value());
  return labelled.left_out.empty() ? ExitCode::Done : ExitCode::SomeRefused;
}

/// One photograph: into the record and, if asked for, onto a plate.
void measure_into(const SurfaceArgs& args,
                  const std::string& path,
                  const AppearanceModel& model,
                  SurfaceRecord& record) {
  const auto measured = measure_photo(path, path, model, options_of(args));
  if (!measured.ok()) {
    const Failure& why = measured.failure();
    record.refused.push_back({why.code, Severity::Refusal, path + ": " + sentences_of(why)});
    return;
  }
  record.photos.push_back(measured.value());
}

ExitCode surface(const SurfaceArgs& args, const Session& session) {
  if (!args.learn.empty()) return learn_labels(args, session);
  if (args.photos.empty()) {
    throw InputError({"",
                      "command line",
                      "no photograph",
                      "one photograph or more",
                      "See: swingloss surface --help"});
  }
  const AppearanceModel model = model_of(args);
  SurfaceRecord record;
  for (const std::string& path : args.photos) measure_into(args, path, model, record);
  if (!args.json.empty()) write_result(args.json, surface_json(record));
  if (!session.quiet && args.json != "-") {
    for (const SurfaceMeasurement& photo : record.photos) std::cout << account_of(photo);
  }
  for (const Remark& remark : record.refused) std::cerr << "swingloss: " << remark.text << "\n";
  if (!args.plate.empty() && !record.photos.empty()) {
    std::vector<FacePhoto> shown;
    for (const SurfaceMeasurement& photo : record.photos) {
      shown.push_back({photo, read_still(photo.photo)});
    }
    write_result(args.plate, draw_face_plate(shown).png);
  }
  return record.refused.empty() ? ExitCode::Done : ExitCode::SomeRefused;
}

void add_scale_options(CLI::App& command, SurfaceArgs& args) {
  command.add_option("--ruler", args.ruler_mm, "length of the card's ruler on your print [mm]")
      ->check(CLI::PositiveNumber);
  command.add_option("--ruler-u", args.ruler_u_mm, "standard uncertainty of that reading [mm]")
      ->check(CLI::PositiveNumber)
      ->capture_default_str();
  command
      .add_option(
          "--face-height", args.face_height_mm, "of the broken face above the card [mm]")
      ->capture_default_str();
  command.add_option("--face-height-u", args.face_height_u_mm, "its standard uncertainty [mm]")
      ->check(CLI::NonNegativeNumber)
      ->capture_default_str();
  command
      .add_option("--focal-35mm",
                  args.focal_35mm,
                  "focal length as for 35 mm film, where the file does not note it [mm]")
      ->check(CLI::PositiveNumber);
}

}  // namespace

void add_surface_command(CLI::App& app, Session& session) {
  const auto args = std::make_shared<SurfaceArgs>();
  CLI::App* command =
      app.add_subcommand("surface", "Measure broken sections and judge the fracture's look");
  command->add_option(
      "photo", args->photos, "photographs of broken faces, on a card of swingloss sheet");
  add_scale_options(*command, *args);
  command->add_option("--json", args->json, "write everything as JSON; - for stdout")
      ->check(check_place);
  command->add_option("--plate", args->plate, "write a picture with what was seen, PNG")
      ->check(check_place);
  command->add_option(
      "--learn", args->learn, "CSV of your own labels: bar, photo, face, label");
  command->add_flag("--afresh", args->afresh, "learn from the labels alone");
  command->add_option(
      "--trained-on", args->trained_on, "words on the labels, kept in the model");
  command->add_option("--model-out", args->model_out, "write the learnt model; - for stdout")
      ->check(check_place);
  command->add_option(
      "--model", args->model, "judge by this model instead of the built-in one");
  command->footer(
      "Examples:\n  swingloss surface photos/K1.jpg --ruler 79.9 --json K1.json --plate "
      "K1.png\n"
      "  swingloss surface --learn labels.csv --model-out mine.json");
  command->callback([args, &session] { session.end = surface(*args, session); });
}

}  // namespace swingloss
