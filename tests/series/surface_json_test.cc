// SPDX-License-Identifier: Apache-2.0
#include "series/surface_json.h"

#include "core/input_error.h"
#include "series/appearance_model.h"
#include "support/test.h"

#include <regex>

using namespace swingloss;

namespace {

SurfaceRecord record_with_all() {
  FaceMeasures face;
  face.outline_px = {{10.5, 20.25}, {30.0, 20.0}, {30.0, 60.0}, {10.0, 60.0}};
  face.broken_px = face.outline_px;
  face.light_px = {{{12.0, 22.0}, {15.0, 22.0}, {15.0, 25.0}}};
  face.notch_found = true;
  SectionSize size;
  size.thickness_m = Uncertain::from(4.02e-3, 0.02e-3, "edge", SourceKind::Own);
  size.width_m = Uncertain::from(8.01e-3, 0.03e-3, "edge", SourceKind::Own);
  size.whole_width_m = Uncertain::from(10.0e-3, 0.03e-3, "edge", SourceKind::Own);
  size.area_m2 = size.thickness_m * size.width_m;
  face.section = size;
  face.appearance.roughness = {0.01, 0.02, 0.03};
  face.appearance.line_angle_rad = 0.5;
  face.appearance.line_pitch_m = 0.2e-3;
  face.appearance.swelling = -0.01;
  face.judgement.probability = {0.7, 0.2, 0.1};
  face.judgement.verdict = FractureLook::Brittle;
  face.judgement.reason = "less roughness than most";
  face.remarks = {{"glare", Severity::Warning, "Glare."}};
  face.marks.glints_px = {{{11.0, 21.0}, {12.0, 21.0}, {12.0, 22.0}}};
  face.marks.specks_px = {{15.0, 30.0}, {16.5, 31.0}};
  face.marks.lines_px = {{{11.0, 25.0}, {29.0, 25.0}}};
  face.marks.sides_px = {{{30.0, 20.0}, {30.0, 60.0}}, {{10.0, 60.0}, {10.0, 20.0}}};
  face.marks.lip_px = {{15.0, 60.0}, {20.0, 62.0}, {25.0, 60.0}};
  face.marks.tile_roughness.fill(-2.5);
  face.marks.tile_roughness[3] = -1.25;
  face.parting.lip = 0.05;
  face.shear =
      ShearReading{62.0, 4.5, 5.5e-3, 5.5e-3, "A 5.5 mm", {{12.0, 22.0}, {15.0, 22.0}}};
  SurfaceMeasurement photo;
  photo.photo = "photos/ä \"quoted\".jpg";
  photo.width_px = 4000;
  photo.height_px = 3000;
  photo.card = CardFacts{"dark-ground", 12, 0.1, 0.05e-3, 30000.0, 0.1, 0.2, 0.999, 0.002};
  FaceMeasures joined;
  joined.parting.joined = true;
  photo.faces = {face, joined};
  photo.pairs = {{0, 1, 0.25}};
  SurfaceRecord record;
  record.orientation = "on-edge";
  record.photos = {photo};
  record.refused = {{"picture-blurred", Severity::Refusal, "b.jpg: blurred."}};
  return record;
}

}  // namespace

TEST_CASE("a surface record reads back as it was written", "[series]") {
  const std::string text = surface_json(record_with_all(), "inputs of a test");
  const StoredSurface read = parse_surface_json(text, "x.json");
  CHECK(read.inputs == "inputs of a test");
  // Whatever was lost on the way would be missing in the second text; parts of u are joined.
  SurfaceRecord once = read.record;
  const std::string again = surface_json(once, read.inputs);
  const StoredSurface twice = parse_surface_json(again, "x.json");
  CHECK(surface_json(twice.record, twice.inputs) == again);
  const FaceMeasures& face = read.record.photos.at(0).faces.at(0);
  REQUIRE(face.section);
  // Six digits are written.
  CHECK_THAT(face.section->width_m.value(), test::to_printed_digits(8.01e-3, 6));
  CHECK_THAT(face.section->width_m.u(), test::to_printed_digits(0.03e-3, 6));
  CHECK(face.judgement.verdict == FractureLook::Brittle);
  CHECK(face.light_px.size() == 1);
  CHECK(face.marks.tile_roughness[3] == -1.25);
  REQUIRE(face.shear);
  CHECK(face.shear->percent == 62.0);
  CHECK(face.shear->u_percent == 4.5);
  REQUIRE(read.record.photos.at(0).pairs.size() == 1);
  CHECK(read.record.photos.at(0).pairs.front().second == 1);
  CHECK(read.record.orientation == "on-edge");
  CHECK(text.find("\"break_type\": \"H\"") != std::string::npos);
  CHECK_FALSE(read.record.photos.at(0).faces.at(1).judgement.verdict);
  CHECK(read.record.photos.at(0).photo == "photos/ä \"quoted\".jpg");
  CHECK(read.record.refused.at(0).severity == Severity::Refusal);
}

TEST_CASE("what is no surface record is refused", "[series]") {
  CHECK_THROWS_AS(parse_surface_json("{", "x.json"), InputError);
  CHECK_THROWS_AS(parse_surface_json("{\"format\": \"swingloss/swing/1\"}", "x.json"),
                  InputError);
}

TEST_CASE("a pair of faces that are not there is refused", "[series]") {
  const std::string text = std::regex_replace(surface_json(record_with_all(), "inputs"),
                                              std::regex(R"("faces": \[(\s*)1,(\s*)2)"),
                                              R"("faces": [$1 1,$2 9)");
  CHECK_THROWS_WITH(parse_surface_json(text, "x.json"), Catch::Contains("not there"));
}

TEST_CASE("the model that comes with the program can be read and says what it rests on",
          "[series]") {
  const AppearanceModel& model = standard_model();
  CHECK(model.features == feature_names());
  CHECK(model.account.bars >= 100);
  CHECK(model.modesty >= 0.1);
  CHECK(model.trained_on.find("rendered") != std::string::npos);
  // Better than chance by more than its interval allows for.
  CHECK(model.account.accuracy_low > 1.0 / 3.0);
  const AppearanceModel again = parse_model(model_json(model), "again");
  CHECK(model_json(again) == model_json(model));
  CHECK_THROWS_AS(parse_model("{}", "x.json"), InputError);
}
