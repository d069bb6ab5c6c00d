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
#include "surface/percent_shear.h"

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
  int bars = 0;
  std::string orientation;
  bool find_shear = false;
  double shear_a_mm = -1.0, shear_b_mm = -1.0;
  std::vector<double> flat_px;
  std::size_t face = 1;
  bool afresh = false;
};

SurfaceOptions options_of(const SurfaceArgs& args) {
  SurfaceOptions options;
  if (args.ruler_mm > 0.0) options.ruler_m = 1e-3 * args.ruler_mm;
  if (args.focal_35mm > 0.0) options.focal_35mm = args.focal_35mm;
  options.u_ruler_m = 1e-3 * args.ruler_u_mm;
  options.face_height_m = 1e-3 * args.face_height_mm;
  options.u_face_height_m = 1e-3 * args.face_height_u_mm;
  if (args.bars > 0) options.bars = args.bars;
  options.find_shear = args.find_shear;
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

InputError wrong_words(const std::string& found, const std::string& wanted) {
  return InputError({"", "command line", found, wanted, "See: swingloss surface --help"});
}

bool shear_is_asked(const SurfaceArgs& args) {
  return args.shear_a_mm >= 0.0 || args.shear_b_mm >= 0.0 || !args.flat_px.empty();
}

/// A and B or an outline, for one face of one photograph.
void check_shear(const SurfaceArgs& args) {
  if (!shear_is_asked(args)) return;
  if (args.find_shear)
    throw wrong_words("--shear together with marks of the flat part",
                      "either --shear, or the marks");
  const bool sizes = args.shear_a_mm >= 0.0 && args.shear_b_mm >= 0.0;
  const bool outline = args.flat_px.size() >= 6 && args.flat_px.size() % 2 == 0;
  if (sizes == outline || (!sizes && args.flat_px.empty()))
    throw wrong_words("marks of the flat part that do not go together",
                      "either --shear-a and --shear-b, or --flat with three corners or more");
  if (args.photos.size() != 1)
    throw wrong_words(std::to_string(args.photos.size()) + " photographs with marks",
                      "one photograph, whose face the marks belong to");
}

void add_shear(const SurfaceArgs& args, SurfaceMeasurement& photo) {
  if (!shear_is_asked(args)) return;
  if (args.face < 1 || args.face > photo.faces.size())
    throw wrong_words("--face " + std::to_string(args.face),
                      "one of the " + std::to_string(photo.faces.size()) + " faces");
  FaceMeasures& face = photo.faces[args.face - 1];
  if (args.flat_px.empty()) {
    face.shear = shear_from_sizes(face, 1e-3 * args.shear_a_mm, 1e-3 * args.shear_b_mm);
    return;
  }
  Polygon flat;
  for (std::size_t i = 0; i + 1 < args.flat_px.size(); i += 2)
    flat.emplace_back(args.flat_px[i], args.flat_px[i + 1]);
  const auto shear = shear_from_outline(face, flat);
  if (shear.ok()) {
    face.shear = shear.value();
    return;
  }
  const Failure& why = shear.failure();
  face.remarks.push_back({why.code, Severity::Refusal, sentences_of(why)});
}

/// One photograph into the record; one that cannot be read or measured is refused there.
/// \return whether it could be read
bool measure_into(const SurfaceArgs& args,
                  const std::string& path,
                  const AppearanceModel& model,
                  SurfaceRecord& record) {
  try {
    auto measured = measure_photo(path, path, model, options_of(args));
    if (measured.ok()) {
      record.photos.push_back(measured.value());
      return true;
    }
    const Failure& why = measured.failure();
    record.refused.push_back({why.code, Severity::Refusal, path + ": " + sentences_of(why)});
    return true;
  } catch (const InputError& error) {
    // One alone is wrong use of the command; beside others it is one refusal more.
    if (args.photos.size() == 1) throw;
    record.refused.push_back({"unusable-photo", Severity::Refusal, error.what()});
    return false;
  }
}

void write_plate(const SurfaceArgs& args, const SurfaceRecord& record) {
  if (args.plate.empty() || record.photos.empty()) return;
  std::vector<FacePhoto> shown;
  for (const SurfaceMeasurement& photo : record.photos)
    shown.push_back({photo, read_still(photo.photo)});
  FacePlateOptions options;
  options.orientation = args.orientation;
  write_result(args.plate, draw_face_plate(shown, options).png);
}

ExitCode surface(const SurfaceArgs& args, const Session& session) {
  if (!args.learn.empty()) return learn_labels(args, session);
  if (args.photos.empty()) {
    throw wrong_words("no photograph", "one photograph or more");
  }
  check_shear(args);
  const AppearanceModel model = model_of(args);
  SurfaceRecord record;
  record.orientation = args.orientation;
  bool any_read = false;
  for (const std::string& path : args.photos)
    any_read = measure_into(args, path, model, record) || any_read;
  for (SurfaceMeasurement& photo : record.photos) add_shear(args, photo);
  if (!args.json.empty()) write_result(args.json, surface_json(record));
  if (!session.quiet && args.json != "-") {
    for (const SurfaceMeasurement& photo : record.photos)
      std::cout << account_of(photo, args.orientation);
  }
  for (const Remark& remark : record.refused) std::cerr << "swingloss: " << remark.text << "\n";
  write_plate(args, record);
  if (!any_read) return ExitCode::BadInput;
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

void add_bar_options(CLI::App& command, SurfaceArgs& args) {
  command
      .add_option(
          "--bars",
          args.bars,
          "how many bars lie on the photograph, each with one half or with both side by "
          "side")
      ->check(CLI::PositiveNumber);
  command
      .add_option("--orientation",
                  args.orientation,
                  "how the bars were printed, for the sentence on layers")
      ->check(CLI::IsMember({"flat", "on-edge", "upright"}));
  command.add_flag("--shear",
                   args.find_shear,
                   "metal bars: find the flat, bright part and give percent shear");
  command
      .add_option("--shear-a",
                  args.shear_a_mm,
                  "metal bars: mean width of the flat, bright part along the notch [mm]")
      ->check(CLI::NonNegativeNumber);
  command.add_option("--shear-b", args.shear_b_mm, "its mean depth [mm]")
      ->check(CLI::NonNegativeNumber);
  command
      .add_option("--flat",
                  args.flat_px,
                  "or its outline on the photograph as it stands upright: X,Y,X,Y,X,Y... [px]")
      ->delimiter(',');
  command.add_option("--face", args.face, "the face that these marks belong to")
      ->capture_default_str();
}

}  // namespace

void add_surface_command(CLI::App& app, Session& session) {
  const auto args = std::make_shared<SurfaceArgs>();
  CLI::App* command =
      app.add_subcommand("surface", "Measure broken sections and judge the fracture's look");
  command->add_option(
      "photo", args->photos, "photographs of broken faces, on a card of swingloss sheet");
  add_scale_options(*command, *args);
  add_bar_options(*command, *args);
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
      "  swingloss surface steel.jpg --shear\n"
      "  swingloss surface steel.jpg --shear-a 5.5 --shear-b 4\n"
      "  swingloss surface --learn labels.csv --model-out mine.json");
  command->callback([args, &session] { session.end = surface(*args, session); });
}

}  // namespace swingloss
