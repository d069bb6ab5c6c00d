// SPDX-License-Identifier: Apache-2.0
#include "report/schema_check.h"

#include <algorithm>
#include <set>

namespace swingloss::test {
namespace {

using Json = nlohmann::json;

bool has_type(const Json& value, const std::string& type) {
  if (type == "null") return value.is_null();
  if (type == "boolean") return value.is_boolean();
  if (type == "string") return value.is_string();
  if (type == "array") return value.is_array();
  if (type == "object") return value.is_object();
  if (type == "integer") return value.is_number_integer();
  return type == "number" && value.is_number();
}

bool has_one_type(const Json& value, const Json& types) {
  if (types.is_string()) return has_type(value, types.get<std::string>());
  return std::any_of(types.begin(), types.end(), [&](const Json& type) {
    return has_type(value, type.get<std::string>());
  });
}

class Checker {
 public:
  explicit Checker(const Json& root) : root_(root) {}
  std::vector<std::string> faults;

  void check(const Json& value, const Json& schema, const std::string& place) {
    static const std::set<std::string> kKnown = {"type",
                                                 "const",
                                                 "enum",
                                                 "minimum",
                                                 "maximum",
                                                 "additionalProperties",
                                                 "required",
                                                 "properties",
                                                 "items",
                                                 "anyOf",
                                                 "$ref",
                                                 "$defs",
                                                 "$comment",
                                                 "title",
                                                 "description"};
    for (const auto& [word, content] : schema.items()) {
      if (kKnown.count(word) == 0) fault(place, "unknown word in the schema: " + word);
    }
    if (schema.contains("$ref")) check(value, referred(schema["$ref"]), place);
    check_value(value, schema, place);
    if (value.is_object()) check_fields(value, schema, place);
    if (value.is_array() && schema.contains("items")) {
      for (std::size_t i = 0; i < value.size(); ++i)
        check(value[i], schema["items"], place + "/" + std::to_string(i));
    }
    if (schema.contains("anyOf")) check_any(value, schema["anyOf"], place);
  }

 private:
  void fault(const std::string& place, const std::string& what) {
    faults.push_back((place.empty() ? "/" : place) + ": " + what);
  }
  [[nodiscard]] const Json& referred(const std::string& reference) const {
    return root_.at(
        Json::json_pointer(reference.substr(1)));  // throws for one that is not there
  }
  void check_value(const Json& value, const Json& schema, const std::string& place) {
    if (schema.contains("type") && !has_one_type(value, schema["type"]))
      fault(place, "not of type " + schema["type"].dump());
    if (schema.contains("const") && value != schema["const"])
      fault(place, "not " + schema["const"].dump());
    if (schema.contains("enum") &&
        std::find(schema["enum"].begin(), schema["enum"].end(), value) == schema["enum"].end())
      fault(place, "not one of " + schema["enum"].dump());
    if (!value.is_number()) return;
    if (schema.contains("minimum") && value < schema["minimum"]) fault(place, "too small");
    if (schema.contains("maximum") && value > schema["maximum"]) fault(place, "too large");
  }
  void check_fields(const Json& value, const Json& schema, const std::string& place) {
    if (schema.contains("required")) {
      for (const Json& name : schema["required"]) {
        if (!value.contains(name.get<std::string>()))
          fault(place, "without " + name.get<std::string>());
      }
    }
    if (!schema.contains("properties")) return;
    for (const auto& [name, field] : schema["properties"].items()) {
      if (value.contains(name)) check(value[name], field, place + "/" + name);
    }
    if (schema.value("additionalProperties", true)) return;
    for (const auto& [name, content] : value.items()) {
      if (!schema["properties"].contains(name)) fault(place, "with an unknown " + name);
    }
  }
  void check_any(const Json& value, const Json& choices, const std::string& place) {
    std::vector<std::string> closest;
    for (const Json& choice : choices) {
      Checker one(root_);
      one.check(value, choice, place);
      if (one.faults.empty()) return;
      closest = one.faults;
    }
    faults.insert(faults.end(), closest.begin(), closest.end());
  }
  const Json& root_;
};

}  // namespace

std::vector<std::string> schema_faults(const nlohmann::json& document,
                                       const nlohmann::json& schema) {
  Checker checker(schema);
  checker.check(document, schema, "");
  return checker.faults;
}

}  // namespace swingloss::test
