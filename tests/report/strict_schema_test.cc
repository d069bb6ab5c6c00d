// SPDX-License-Identifier: Apache-2.0
// The published schemas leave room for later fields; nothing that is written today may use it.
#include "report/invented_series.h"
#include "report/results_json.h"
#include "report/schema_check.h"
#include "series/surface_json.h"
#include "series/swing_json.h"
#include "support/temp_folder.h"
#include "support/test.h"

namespace swingloss {
namespace {

using Json = nlohmann::json;
using Faults = std::vector<std::string>;

/// Every object that names fields is closed for others.
void close_objects(Json& schema) {
  if (schema.is_object() && schema.contains("properties"))
    schema["additionalProperties"] = false;
  for (Json& part : schema) {
    if (part.is_structured()) close_objects(part);
  }
}

Json strict_schema(const std::string& name) {
  Json schema = Json::parse(
      test::bytes_of(std::string(SWINGLOSS_SOURCE_DIR) + "/samples/schema/" + name));
  close_objects(schema);
  return schema;
}

/// The places of all objects in a document.
void list_objects(const Json& value, const std::string& place, std::vector<std::string>& to) {
  if (value.is_object()) to.push_back(place);
  if (!value.is_structured()) return;
  for (const auto& [key, part] : value.items()) list_objects(part, place + "/" + key, to);
}

/// A key that nobody published is found wherever it is put.
void check_closed(const Json& document, const Json& schema) {
  std::vector<std::string> places;
  list_objects(document, "", places);
  REQUIRE(places.size() > 3);
  for (const std::string& place : places) {
    CAPTURE(place);
    Json more = document;
    more[Json::json_pointer(place)]["unheard_of"] = 1;
    CHECK_FALSE(test::schema_faults(more, schema).empty());
  }
}

SwingRecord full_swing() {
  SwingRecord record = test::invented_swing(125.0, 80.0);
  const auto own = [](double value) {
    return Uncertain::from(value, 0.01, "test", SourceKind::Own);
  };
  record.arm.angles.doubts.push_back(
      {"view.tilt-x",
       Eigen::VectorXd::Ones(static_cast<Eigen::Index>(record.arm.angles.samples.size())),
       ""});
  record.measurement.doubt_scores = {own(0.1)};
  record.measurement.friction_fitted = FrictionModel{own(0.01), own(0.0), own(0.001)};
  record.measurement.remarks.push_back({"note", Severity::Note, "A note."});
  record.decay.emplace();
  record.decay->reduced_length_m = own(0.33);
  record.decay->decay.natural_rad_per_s = own(5.4);
  record.decay->decay.zero_rad = own(0.01);
  record.decay->decay.first_loss_fraction = own(0.02);
  record.decay->decay.law.dry = own(0.003);
  record.decay->decay.t_s = {0.0, 0.1};
  record.decay->decay.theta_rad = {0.1, 0.05};
  record.decay->decay.residual_rad = {0.0, 0.001};
  return record;
}

SurfaceRecord full_surface() {
  FaceMeasures face;
  face.outline_px = {{1.0, 2.0}, {3.0, 2.0}, {3.0, 6.0}};
  face.light_px = {face.outline_px};
  SectionSize size;
  size.thickness_m = Uncertain::from(4e-3, 2e-5, "edge", SourceKind::Own);
  size.width_m = Uncertain::from(8e-3, 2e-5, "card.print", SourceKind::Shared);
  size.whole_width_m = size.width_m;
  size.area_m2 = size.thickness_m * size.width_m;
  face.section = size;
  face.appearance.line_pitch_m = 2e-4;
  face.judgement.verdict = FractureLook::Brittle;
  face.remarks = {{"glare", Severity::Warning, "Glare."}};
  SurfaceMeasurement photo;
  photo.photo = "a.jpg";
  photo.card = CardFacts{"dark", 12, 0.1, 5e-5, 3e4, 0.1, 0.2, 0.999, 0.002};
  photo.faces = {face, FaceMeasures()};
  SurfaceMeasurement without;
  without.photo = "b.jpg";
  SurfaceRecord record;
  record.photos = {photo, without};
  record.refused = {{"blurred", Severity::Refusal, "c.jpg: blurred."}};
  return record;
}

}  // namespace

TEST_CASE("results.json writes no field that its schema does not name", "[report]") {
  const Json schema = strict_schema("results.schema.json");
  SeriesResult series = test::invented_series();
  const Json document = Json::parse(results_json(series));
  CHECK(test::schema_faults(document, schema) == Faults());
  const Json of_bar = {{"$defs", schema.at("$defs")}, {"$ref", "#/$defs/bar"}};
  check_closed(document.at("bars").at(0), of_bar);
}

TEST_CASE("swings/ID.json writes no field that its schema does not name", "[report]") {
  const Json schema = strict_schema("swing.schema.json");
  const Json document = Json::parse(swing_json(full_swing(), "inputs"));
  CHECK(test::schema_faults(document, schema) == Faults());
  check_closed(document, schema);
}

TEST_CASE("surfaces/ID.json keeps its schema and writes no other field", "[report]") {
  const Json schema = strict_schema("surface.schema.json");
  const Json document = Json::parse(surface_json(full_surface(), "inputs"));
  CHECK(test::schema_faults(document, schema) == Faults());
  check_closed(document, schema);
  Json wrong = document;
  wrong["photos"][0]["faces"][0]["section"]["width_mm"]["u"] = -1;
  CHECK_FALSE(test::schema_faults(wrong, schema).empty());
}

}  // namespace swingloss
