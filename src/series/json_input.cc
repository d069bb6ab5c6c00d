// SPDX-License-Identifier: Apache-2.0
#include "series/json_input.h"

#include "core/input_error.h"
#include "core/nearest_name.h"
#include "core/text_file.h"

#include <algorithm>

#include <nlohmann/json.hpp>

namespace swingloss {
namespace {

using Json = nlohmann::json;

std::string place_of_byte(const std::string& text, std::size_t byte) {
  const std::size_t end = std::min(byte > 0 ? byte - 1 : 0, text.size());
  const std::string before = text.substr(0, end);
  const auto line = 1 + std::count(before.begin(), before.end(), '\n');
  const std::size_t start = before.rfind('\n');
  const std::size_t column = end - (start == std::string::npos ? 0 : start + 1) + 1;
  return "near line " + std::to_string(line) + ", column " + std::to_string(column);
}

Json parse(const std::string& path) {
  const std::string text = read_file(path);
  try {
    Json root = Json::parse(text);
    if (root.is_object()) return root;
  } catch (const Json::parse_error& error) {
    throw InputError({path,
                      place_of_byte(text, error.byte),
                      "text that is not JSON",
                      "JSON",
                      "Look there for a missing or extra comma, quote or bracket."});
  } catch (const Json::out_of_range&) {  // thrown for nothing else while a text is parsed
    throw InputError({path,
                      "",
                      "a number too large for this program",
                      "numbers below 1e308",
                      "Look for digits that ran together, or for a wrong exponent."});
  }
  throw InputError({path,
                    "",
                    "JSON that is no object",
                    "one object: { \"field\": value, ... }",
                    "Put the fields in curly brackets."});
}

std::string listed(const std::vector<std::string>& words) {
  std::string text;
  for (const std::string& word : words) text += (text.empty() ? "" : ", ") + word;
  return text;
}

}  // namespace

struct JsonInput::Root {
  Json json;
};

JsonInput::JsonInput(const std::string& path, const std::string& format)
    : path_(path), root_(std::make_unique<Root>(Root{parse(path)})) {
  if (text("format") != format) {
    refuse("format", "\"" + format + "\"", "Write it so; it says what kind of file this is.");
  }
}

JsonInput::JsonInput(JsonInput&&) noexcept = default;
JsonInput::~JsonInput() = default;

void JsonInput::check_fields(const std::vector<std::string>& known) const {
  for (const auto& [field, value] : root_->json.items()) {
    if (std::find(known.begin(), known.end(), field) != known.end()) continue;
    const auto nearest = nearest_name(field, known);
    throw InputError({path_,
                      "field " + field,
                      "an unknown field",
                      "one of " + listed(known),
                      nearest ? "Did you mean " + *nearest + "?" : "Take it out."});
  }
}

std::optional<std::string> JsonInput::text(const std::string& field) const {
  if (!root_->json.contains(field)) return {};
  const Json& value = root_->json.at(field);
  if (!value.is_string()) refuse(field, "a text in double quotes", "Write it as a text.");
  return value.get<std::string>();
}

std::optional<double> JsonInput::number(const std::string& field,
                                        double low,
                                        double high,
                                        const std::string& wanted) const {
  if (!root_->json.contains(field)) return {};
  const Json& value = root_->json.at(field);
  if (!value.is_number() || value.get<double>() < low || value.get<double>() > high) {
    refuse(field, wanted, "Write the number without quotes or unit, or take the field out.");
  }
  return value.get<double>();
}

std::optional<std::vector<std::string>> JsonInput::texts(const std::string& field) const {
  if (!root_->json.contains(field)) return {};
  const Json& value = root_->json.at(field);
  const bool good =
      value.is_array() && std::all_of(value.begin(), value.end(), [](const Json& item) {
        return item.is_string();
      });
  if (!good) refuse(field, "a list of texts: [\"...\", \"...\"]", "Put it in square brackets.");
  return value.get<std::vector<std::string>>();
}

void JsonInput::refuse(const std::string& field,
                       const std::string& wanted,
                       const std::string& next) const {
  const auto value = root_->json.find(field);
  const std::string found =
      value == root_->json.end()
          ? "nothing"
          : value->dump(-1, ' ', false, Json::error_handler_t::replace).substr(0, 60);
  throw InputError({path_, "field " + field, found, wanted, next});
}

}  // namespace swingloss
