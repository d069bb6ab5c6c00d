// SPDX-License-Identifier: Apache-2.0
#include "report/invented_series.h"
#include "report/invented_surface.h"
#include "report/results_csv.h"
#include "report/results_json.h"
#include "report/schema_check.h"
#include "series/corrections.h"
#include "series/swing_json.h"
#include "series/table_input.h"
#include "support/temp_folder.h"
#include "support/test.h"

#include <algorithm>

namespace swingloss {
namespace {

using Json = nlohmann::json;
using Faults = std::vector<std::string>;

Json schema_of(const std::string& name) {
  return Json::parse(
      test::bytes_of(std::string(SWINGLOSS_SOURCE_DIR) + "/samples/schema/" + name));
}

/// Two materials in two conditions on two rigs tied by a third, bars that held, weighings, and
/// every bar drawn: all that results.json can hold of a table.
Json full_results() {
  const test::TempFolder folder;
  std::string rows = "id,material,condition,rig,energy_J,energy_u_J,limit\n";
  int number = 0;
  const auto add = [&](const std::string& group, const std::vector<std::string>& energies) {
    for (const std::string& energy : energies)
      rows += "B" + std::to_string(++number) + "," + group + "," + energy + "\n";
  };
  add("Norm,as-made,east", {"1.00,0.01,", "1.04,0.01,", "0.98,0.01,", "1.03,0.01,"});
  add("Norm,as-made,west", {"1.12,0.01,", "1.10,0.01,", "1.15,0.01,"});
  add("Korvel,as-made,east", {"2.0,0.02,", "2.2,0.02,", "2.1,0.02,", "2.4,0.02,>"});
  add("Korvel,annealed,east", {"2.9,0.02,", "3.1,0.02,", "2.8,0.02,"});
  add("Morna,as-made,west", {"1.5,0.02,", "1.6,0.02,", "1.4,0.02,", "1.55,0.02,"});
  add("Morna,annealed,west", {"1.5,0.02,", "1.7,0.02,", "1.6,0.02,"});
  add("Veltan,as-made,", {"3.4,0.02,>", "3.4,0.02,>", "3.4,0.02,>"});
  TableOptions options;
  options.ranking.reference_material = "Norm";
  options.monte_carlo = true;
  options.masses = folder.write("masses.csv",
                                "id,material,condition,day,mass_g,size_mm,design_mm\n"
                                "W,Korvel,as-made,0,10.00,79.8,80\nW,,,1,10.06,,\n"
                                "W,,,2,10.09,,\nW,,,4,10.13,,\nW,,,8,10.16,79.9,\n"
                                "W,,,16,10.17,,\n");
  return Json::parse(results_json(rank_table(folder.write("values.csv", rows), options)));
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
    "type": "object", "required": ["a"], "additionalProperties": false,
    "properties": {
      "a": {"type": ["integer", "null"], "minimum": 1, "maximum": 3},
      "b": {"enum": ["x", null]}, "c": {"const": 2},
      "d": {"type": "array", "items": {"$ref": "#/$defs/t"}},
      "e": {"anyOf": [{"type": "null"}, {"$ref": "#/$defs/t"}]},
      "f": {"type": "object", "properties": {"k": {"type": "null"}}}},
    "$defs": {"t": {"type": "object", "required": ["k"], "properties": {"k": {"type": "boolean"}}}}
  })");
  for (const char* good :
       {R"({"a": 1})",
        R"({"a": null, "b": null, "c": 2, "d": [], "e": null, "f": {"others": 0}})",
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
                          R"({"a": 1, "e": {"k": 1}})",
                          R"({"a": 1, "g": 0})"}) {
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

TEST_CASE("every field that a full ranking writes is in the published schema", "[report]") {
  const Json whole = full_results();
  CHECK(test::schema_faults(whole, schema_of("results.schema.json")) == Faults());
  // Nothing optional was left out by chance: each of these is there and holds something.
  for (const char* place : {"/ties/0",
                            "/effects/1",
                            "/effect_contrasts/0",
                            "/overall/f",
                            "/ranking_remarks/0",
                            "/conditioning/0/judged/plate",
                            "/conditioning/0/judged/law",
                            "/conditioning/0/sizes/0",
                            "/comparisons/0/differ_in/0",
                            "/bars/0/drawn/u"}) {
    CAPTURE(place);
    const Json::json_pointer pointer(place);
    REQUIRE(whole.contains(pointer));
    CHECK_FALSE(whole.at(pointer).is_null());
  }
  for (const char* name :
       {"log_normal", "kaplan_meier", "grubbs", "normal_scores", "bound", "rank_low"}) {
    CAPTURE(name);
    const Json& groups = whole.at("groups");
    CHECK(std::any_of(groups.begin(), groups.end(), [&](const Json& group) {
      return !group.at(name).is_null();
    }));
  }
}

TEST_CASE("a field that the published schema does not know is found wherever it stands",
          "[report]") {
  const Json schema = schema_of("results.schema.json");
  const Json whole = full_results();
  for (const char* place : {"",
                            "/options",
                            "/groups/0",
                            "/groups/0/interval",
                            "/groups/0/break_classes/0",
                            "/comparisons/0",
                            "/effects/0",
                            "/effect_contrasts/0/test",
                            "/ties/0",
                            "/conditioning/0",
                            "/conditioning/0/judged",
                            "/conditioning/0/masses/0",
                            "/bars/0",
                            "/bars/0/energy_J",
                            "/bars/0/drawn"}) {
    CAPTURE(place);
    Json more = whole;
    more[Json::json_pointer(place)]["unheard_of"] = 1;
    CHECK(test::schema_faults(more, schema).size() == 1);
  }
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

TEST_CASE("surfaces/ID.json keeps the published schema", "[report]") {
  const Json schema = schema_of("surface.schema.json");
  const SurfaceRecord record = test::invented_surface();
  const Json whole = Json::parse(surface_json(record, "inputs"));
  CHECK(test::schema_faults(whole, schema) == Faults());
  const auto check = [&](const Json& required, const char* place) {
    check_that_each_is_missed(whole, schema, required, Json::json_pointer(place));
  };
  check(schema["required"], "");
  check(schema["$defs"]["photo"]["required"], "/photos/0");
  check(schema["$defs"]["marks"]["required"], "/photos/0/faces/0/marks");
  check(schema["$defs"]["pair"]["required"], "/photos/0/pairs/0");
  for (const char* place : {"",
                            "/photos/0",
                            "/photos/0/card",
                            "/photos/0/pairs/0",
                            "/photos/0/faces/0/appearance",
                            "/photos/0/faces/0/parting"}) {
    CAPTURE(place);
    Json more = whole;
    more[Json::json_pointer(place)]["unheard_of"] = 1;
    CHECK(test::schema_faults(more, schema).size() == 1);
  }
  // What may be absent, and what has more than one form.
  CHECK(test::schema_faults(Json::parse(surface_json(SurfaceRecord())), schema) == Faults());
  SurfaceRecord bare = record;
  bare.photos[0].card.reset();
  bare.photos[0].faces[0].section.reset();
  bare.photos[0].faces[0].judgement.verdict.reset();
  bare.photos[0].faces[0].shear = ShearReading{40.0, 3.0, 5e-3, 4e-3, "A and B", {}};
  CHECK(test::schema_faults(Json::parse(surface_json(bare)), schema) == Faults());
}

TEST_CASE("results.json says in short what photographs gave, and keeps its schema",
          "[report]") {
  const Json schema = schema_of("results.schema.json");
  SeriesResult series = test::invented_series();
  series.bars[0].surface = test::invented_surface();
  series.bars[1].surface = SurfaceRecord();
  const Json whole = Json::parse(results_json(series));
  CHECK(test::schema_faults(whole, schema) == Faults());
  const Json& surface = whole["bars"][0]["surface"];
  CHECK(surface["look"] == "ductile");
  CHECK(surface["break_type"] == "C");
  CHECK(surface["section"]["width_mm"]["value"] == 8.01);
  CHECK(whole["bars"][1]["surface"]["look"].is_null());
  CHECK(whole["bars"][2]["surface"].is_null());
  check_that_each_is_missed(
      whole,
      schema,
      schema["$defs"]["bar"]["properties"]["surface"]["anyOf"][1]["required"],
      Json::json_pointer("/bars/0/surface"));
  const std::string table = results_csv(series);
  CHECK(table.find("photo_width_mm") != std::string::npos);
  CHECK(table.find(",8.01,") != std::string::npos);
  CHECK(table.find(",ductile,") != std::string::npos);
}

TEST_CASE("corrections.json keeps the published schema, with every kind of value", "[report]") {
  const Json schema = schema_of("corrections.schema.json");
  Correction c;
  c.number = 1;
  c.bar = "K1";
  c.point_px = Eigen::Vector2d(1.0, 2.0);
  c.t_s = 0.5;
  c.angle_rad = 0.0;
  c.u_rad = 0.01;
  c.u_px = 2.0;
  c.outcome = Outcome::NotBroken;
  c.break_type = BreakType::Hinge;
  c.thickness_mm = c.width_mm = 4.0;
  c.u_mm = 0.1;
  c.photo = "a.jpg";
  c.outline_px = {{0.0, 0.0}, {1.0, 0.0}, {1.0, 1.0}, {0.0, 1.0}};
  c.group_by = {"material"};
  const Json whole = Json::parse(corrections_json({c}));
  CHECK(test::schema_faults(whole, schema) == Faults());
  const Json& fields = schema["$defs"]["correction"];
  CHECK(whole["corrections"][0].size() == fields["properties"].size());
  check_that_each_is_missed(
      whole, schema, fields["required"], Json::json_pointer("/corrections/0"));
}

}  // namespace swingloss
