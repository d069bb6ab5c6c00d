// SPDX-License-Identifier: Apache-2.0
#include "rig/rig_json.h"

#include "core/input_error.h"
#include "core/nearest_name.h"
#include "core/number_text.h"
#include "metrology/correlated.h"
#include "rig/rig_fields.h"

#include <algorithm>
#include <array>
#include <cmath>

#include <Eigen/Eigenvalues>
#include <nlohmann/json.hpp>

namespace swingloss {
namespace {

using nlohmann::json;

constexpr const char* kFormat = "swingloss/rig/1";
constexpr std::array<const char*, 3> kTerms = {"dry_Nm", "linear_Nms", "quadratic_Nms2"};
constexpr std::array<const char*, 3> kPairs = {
    "dry_linear", "dry_quadratic", "linear_quadratic"};

std::string line_and_column(const std::string& text, std::size_t byte) {
  std::size_t line = 1;
  std::size_t column = 1;
  for (std::size_t i = 0; i + 1 < byte && i < text.size(); ++i) {
    ++column;
    if (text[i] != '\n') continue;
    ++line;
    column = 1;
  }
  return "line " + std::to_string(line) + ", column " + std::to_string(column);
}

std::string shown(const json& value) {
  std::string text = value.dump();
  if (text.size() > 40) text = text.substr(0, 37) + "...";
  if (value.is_string()) return "the text " + text;
  if (value.is_null()) return "null, nothing filled in yet";
  return text;
}

/// "1,1" or "1.1 kg" typed where 1.1 is wanted: what to type instead.
std::string instead_of(const json& value) {
  if (value.is_null()) return "Measure it and fill it in, or take the field out.";
  if (!value.is_string()) return "Write a plain number, or { \"value\": ..., \"u\": ... }.";
  std::string text = value.get<std::string>();
  std::replace(text.begin(), text.end(), ',', '.');
  const std::string number = text.substr(0, text.find_first_not_of("0123456789.+-eE"));
  if (!parse_number(number)) return "Write the number alone, without quotes.";
  return "Write " + number + " without quotes; the unit is the one in the field's name.";
}

}  // namespace

struct RigJson::Held {
  json root;
};

namespace {

[[noreturn]] void refuse(const std::string& path,
                         const std::string& field,
                         const std::string& found,
                         const std::string& wanted,
                         const std::string& next) {
  throw InputError({path, field.empty() ? "" : "field " + field, found, wanted, next});
}

/// The known name that this one is a slip of, or that it is without its unit.
std::optional<std::string> meant_by(const std::string& key,
                                    const std::vector<std::string>& known) {
  for (const std::string& name : known) {
    if (name.rfind(key + "_", 0) == 0) return name;
  }
  return nearest_name(key, known);
}

void expect_known(const json& object,
                  const std::vector<std::string>& known,
                  const std::string& path,
                  const std::string& prefix) {
  for (const auto& [key, value] : object.items()) {
    if (std::find(known.begin(), known.end(), key) != known.end()) continue;
    const std::optional<std::string> near = meant_by(key, known);
    std::string list;
    for (const std::string& name : known) list += (list.empty() ? "" : ", ") + name;
    refuse(path,
           prefix + key,
           "a field of that name",
           "one of " + list,
           near ? "Did you mean " + *near + "?" : "Take it out, or put it under note.");
  }
}

double number_of(const json& value, const std::string& path, const std::string& field) {
  if (value.is_number()) return value.get<double>();
  refuse(path, field, shown(value), "a number", instead_of(value));
}

struct ValueAndU {
  double value = 0.0;
  std::optional<double> u;
};

/// { "value":, "u": } or a plain number.
ValueAndU pair_of(const json& entry, const std::string& path, const std::string& field) {
  if (!entry.is_object()) return {number_of(entry, path, field), std::nullopt};
  expect_known(entry, {"value", "u", "note"}, path, field + ".");
  if (!entry.contains("value")) {
    refuse(path, field, shown(entry), "\"value\" and \"u\" in it", "Add the value.");
  }
  ValueAndU pair{number_of(entry["value"], path, field + ".value"), std::nullopt};
  if (!entry.contains("u")) {
    refuse(path,
           field,
           shown(entry),
           "\"u\", its standard uncertainty, beside the value",
           "Add u, or write a plain number to have a customary one taken.");
  }
  pair.u = number_of(entry["u"], path, field + ".u");
  if (*pair.u < 0.0) {
    refuse(path,
           field + ".u",
           shown(entry["u"]),
           "a standard uncertainty, 0 or more",
           "Write it without the sign.");
  }
  return pair;
}

}  // namespace

RigJson::RigJson(const std::string& text, const std::string& path)
    : held_(std::make_unique<Held>()), path_(path) {
  try {
    held_->root = json::parse(text);
  } catch (const json::parse_error& error) {
    throw InputError({path,
                      line_and_column(text, error.byte),
                      "something that is not JSON",
                      "JSON: names and texts in double quotes, a comma between members, none "
                      "after the last, decimal points",
                      "Put it right there or shortly before."});
  } catch (const json::out_of_range&) {  // thrown for nothing else while a text is parsed
    refuse(path, "", "a number too large", "numbers below 1e308", "Look at the exponents.");
  }
  if (!held_->root.is_object()) {
    refuse(path,
           "",
           shown(held_->root),
           "an object: { \"format\": \"" + std::string(kFormat) + "\", ... }",
           "Begin with a file that `swingloss new` writes.");
  }
  if (held_->root.contains("format") && held_->root["format"] != kFormat) {
    refuse(path,
           "format",
           shown(held_->root["format"]),
           "\"" + std::string(kFormat) + "\"",
           "Is this the rig's file?");
  }
  expect_known(held_->root, rig_keys(), path, "");
}

RigJson::~RigJson() = default;

std::optional<Uncertain> RigJson::quantity(const std::string& name) {
  if (!held_->root.contains(name)) return std::nullopt;
  const QuantityField& field = quantity_field(name);
  const json& entry = held_->root[name];
  const ValueAndU pair = pair_of(entry, path_, name);
  const std::string place = entry.is_object() ? name + ".value" : name;
  if (const std::optional<Implausible> why = implausible(field, pair.value)) {
    refuse(path_, place, number_text(pair.value), why->wanted, why->next);
  }
  const double u = pair.u.value_or(customary_u(field, pair.value));
  if (pair.u && pair.value > 0.0 && u > 0.5 * pair.value) {
    refuse(path_,
           name + ".u",
           number_text(u),
           "a standard uncertainty well below the value, " + number_text(pair.value),
           "u is in the unit of the value, not in per cent.");
  }
  if (!pair.u && field.u_matters) {
    remarks_.push_back({"u-assumed",
                        Severity::Warning,
                        "The rig file gives " + name +
                            " without its uncertainty; a standard "
                            "uncertainty of " +
                            significant_text(u, 2) + " was assumed. Write { \"value\": " +
                            number_text(pair.value) + ", \"u\": ... } to give your own."});
  }
  return Uncertain::from(pair.value, u, field.source, SourceKind::Shared);
}

std::optional<double> RigJson::number(const std::string& name, double low, double high) {
  if (!held_->root.contains(name)) return std::nullopt;
  const double value = number_of(held_->root[name], path_, name);
  if (value < low || value > high) {
    refuse(path_,
           name,
           number_text(value),
           "a number from " + number_text(low) + " to " + number_text(high),
           "Check the unit: it is the last part of the field's name.");
  }
  return value;
}

std::string RigJson::text(const std::string& name) {
  if (!held_->root.contains(name)) return "";
  const json& value = held_->root[name];
  if (!value.is_string()) refuse(path_, name, shown(value), "a text", "Put it in quotes.");
  return value.get<std::string>();
}

namespace {

/// Of the terms of friction; the identity when the file states none.
Eigen::Matrix3d correlation_of(const json& friction, const std::string& path) {
  Eigen::Matrix3d correlation = Eigen::Matrix3d::Identity();
  if (!friction.contains("correlation")) return correlation;
  const std::string field = "friction.correlation";
  const json& pairs = friction["correlation"];
  if (!pairs.is_object()) refuse(path, field, shown(pairs), "an object", "Take it out.");
  expect_known(pairs, {kPairs[0], kPairs[1], kPairs[2]}, path, field + ".");
  const std::array<std::pair<int, int>, 3> places = {{{0, 1}, {0, 2}, {1, 2}}};
  for (std::size_t k = 0; k < kPairs.size(); ++k) {
    if (!pairs.contains(kPairs[k])) continue;
    const std::string place = field + "." + kPairs[k];
    const double r = number_of(pairs[kPairs[k]], path, place);
    if (std::abs(r) > 1.0) refuse(path, place, number_text(r), "a number from -1 to 1", "");
    correlation(places[k].first, places[k].second) = r;
    correlation(places[k].second, places[k].first) = r;
  }
  return correlation;
}

}  // namespace

std::optional<std::vector<Uncertain>> RigJson::friction() {
  if (!held_->root.contains("friction")) return std::nullopt;
  const json& entry = held_->root["friction"];
  const std::string wanted = "{ \"dry_Nm\":, \"linear_Nms\":, \"quadratic_Nms2\": }";
  if (!entry.is_object() || entry.empty()) {
    refuse(path_,
           "friction",
           shown(entry),
           wanted,
           "Let `swingloss rig` work it out from a free swing, or take it out.");
  }
  expect_known(entry, {kTerms[0], kTerms[1], kTerms[2], "correlation"}, path_, "friction.");
  Eigen::Vector3d values = Eigen::Vector3d::Zero();
  Eigen::Vector3d u = Eigen::Vector3d::Zero();
  for (std::size_t k = 0; k < kTerms.size(); ++k) {
    if (!entry.contains(kTerms[k])) continue;
    const std::string place = std::string("friction.") + kTerms[k];
    const ValueAndU pair = pair_of(entry[kTerms[k]], path_, place);
    if (pair.value < 0.0) {
      refuse(path_,
             place,
             number_text(pair.value),
             "a loss, 0 or more",
             "Write it without the sign.");
    }
    const auto at = static_cast<Eigen::Index>(k);
    values[at] = pair.value;
    // A fifth: what free swings of one rig on two days differ by (common practice, no source).
    u[at] = pair.u.value_or(0.2 * pair.value);
  }
  const Eigen::Matrix3d correlation = correlation_of(entry, path_);
  const Eigen::SelfAdjointEigenSolver<Eigen::Matrix3d> eigen(correlation);
  if (eigen.eigenvalues().minCoeff() < -1e-9) {
    refuse(path_,
           "friction.correlation",
           shown(entry["correlation"]),
           "three coefficients that can be true together",
           "Take it out, or derive it anew.");
  }
  const Eigen::Matrix3d covariance = u.asDiagonal() * correlation * u.asDiagonal();
  return correlated(values, covariance, "rig.friction", SourceKind::Shared);
}

void RigJson::missing(const std::string& place,
                      const std::string& wanted,
                      const std::string& next) const {
  throw InputError({path_, place, "nothing", wanted, next});
}

}  // namespace swingloss
