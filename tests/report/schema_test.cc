// SPDX-License-Identifier: Apache-2.0
#include "report/invented_series.h"
#include "report/results_json.h"
#include "report/schema_check.h"
#include "series/swing_json.h"
#include "support/temp_folder.h"
#include "support/test.h"

namespace swingloss {
namespace {

using Json = nlohmann::json;
using Faults = std::vector<std::string>;

Json schema_of(const std::string& name) {
  return Json::parse(
      test::bytes_of(std::string(SWINGLOSS_SOURCE_DIR) + "/samples/schema/" + name));
}

/// Every required field of an object taken away in turn is missed.
void check_that_each_is_missed(const Json& document,
                               const Json& schema,
                               const Json& required,
                               const Json::json_pointer& place) {
  for (const Json& name : required) {
    Json without = document;
    without[place].erase(name.get<std::string>());
    CAPTURE(name);
    CHECK(test::schema_faults(without, schema).size() == 1);
  }
}

}  // namespace

// [JSONSchema] what each word demands, by documents that keep and that break it.
TEST_CASE("the schema checker tells valid from invalid", "[report]") {
  const Json schema = Json::parse(R"({
    "type": "object", "required": ["a"],
    "properties": {
      "a": {"type": ["integer", "null"], "minimum": 1, "maximum": 3},
      "b": {"enum": ["x", null]}, "c": {"const": 2},
      "d": {"type": "array", "items": {"$ref": "#/$defs/t"}},
      "e": {"anyOf": [{"type": "null"}, {"$ref": "#/$defs/t"}]}},
    "$defs": {"t": {"type": "object", "required": ["k"], "properties": {"k": {"type": "boolean"}}}}
  })");
  for (const char* good : {R"({"a": 1})",
                           R"({"a": null, "b": null, "c": 2, "d": [], "e": null, "f": 0})",
                           R"({"a": 3, "b": "x", "d": [{"k": true}], "e": {"k": false}})"}) {
    CAPTURE(good);
    CHECK(test::schema_faults(Json::parse(good), schema) == Faults());
  }
  for (const char* bad : {R"([])",
                          R"({"b": "x"})",
                          R"({"a": 1.5})",
                          R"({"a": 0})",
                          R"({"a": 4})",
                          R"({"a": 1, "b": "y"})",
                          R"({"a": 1, "c": 3})",
                          R"({"a": 1, "d": {}})",
                          R"({"a": 1, "d": [{"k": true}, {}]})",
                          R"({"a": 1, "e": {"k": 1}})"}) {
    CAPTURE(bad);
    CHECK_FALSE(test::schema_faults(Json::parse(bad), schema).empty());
  }
  CHECK(test::schema_faults(Json(1), Json::parse(R"({"typ": "number"})")).size() == 1);
}

TEST_CASE("results.json keeps the published schema", "[report]") {
  const Json schema = schema_of("results.schema.json");
  SeriesResult series = test::invented_series();
  CHECK(test::schema_faults(Json::parse(results_json(series)), schema) == Faults());
  series.ranking.reset();
  CHECK(test::schema_faults(Json::parse(results_json(series)), schema) == Faults());
}

TEST_CASE("results.json without a published field is told from a whole one", "[report]") {
  const Json schema = schema_of("results.schema.json");
  const Json whole = Json::parse(results_json(test::invented_series()));
  const auto check = [&](const Json& required, const char* place) {
    check_that_each_is_missed(whole, schema, required, Json::json_pointer(place));
  };
  check(schema["required"], "");
  check(schema["$defs"]["bar"]["required"], "/bars/0");
  check(schema["$defs"]["group"]["required"], "/groups/0");
  check(schema["$defs"]["comparison"]["required"], "/comparisons/0");
  check(schema["$defs"]["effect"]["required"], "/effects/0");
  Json wrong = whole;
  wrong["bars"][0]["energy_J"]["u"] = -1;
  CHECK_FALSE(test::schema_faults(wrong, schema).empty());
}

TEST_CASE("swings/ID.json keeps the published schema", "[report]") {
  const Json schema = schema_of("swing.schema.json");
  SwingRecord record = test::invented_swing(125.0, 80.0);
  const Json whole = Json::parse(swing_json(record, "inputs"));
  CHECK(test::schema_faults(whole, schema) == Faults());
  check_that_each_is_missed(whole, schema, schema["required"], Json::json_pointer(""));
  record.measurement.absorbed_J.reset();
  record.measurement.rise_angle_rad.reset();
  record.measurement.events = {};
  CHECK(test::schema_faults(Json::parse(swing_json(record)), schema) == Faults());
  record.typed_track = true;
  CHECK(test::schema_faults(Json::parse(swing_json(record)), schema) == Faults());
}

}  // namespace swingloss
