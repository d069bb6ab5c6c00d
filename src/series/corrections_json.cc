// SPDX-License-Identifier: Apache-2.0
#include "core/angle.h"
#include "core/input_error.h"
#include "core/number_text.h"
#include "series/corrections.h"

#include <algorithm>
#include <array>

#include <nlohmann/json.hpp>

namespace swingloss {
namespace {

using Json = nlohmann::ordered_json;

constexpr const char* kFormat = "swingloss/corrections/1";
constexpr double kDeg = 180.0 / kPi;

constexpr std::array kKinds = {CorrectionKind::Axle,
                               CorrectionKind::Rest,
                               CorrectionKind::Release,
                               CorrectionKind::Rise,
                               CorrectionKind::Blow,
                               CorrectionKind::Outcome,
                               CorrectionKind::BreakType,
                               CorrectionKind::Section,
                               CorrectionKind::LeaveOut,
                               CorrectionKind::GroupBy};

Json point_json(const Eigen::Vector2d& p) { return {p.x(), p.y()}; }

/// Twelve digits, so that 120 degrees typed come out as 120.
void put(Json& json, const char* key, const std::optional<double>& x, double scale = 1.0) {
  if (x) json[key] = parse_number(significant_text(scale * *x, 12)).value_or(0.0);
}

Json json_of(const Correction& c) {
  Json json = {{"number", c.number},
               {"kind", name_of(c.kind)},
               {"bar", c.bar},
               {"when", c.when},
               {"why", c.why},
               {"automatic", c.automatic},
               {"undone", c.undone.empty() ? Json(nullptr) : Json(c.undone)}};
  if (c.point_px) json["point_px"] = point_json(*c.point_px);
  put(json, "t_s", c.t_s);
  put(json, "angle_deg", c.angle_rad, kDeg);
  put(json, "u_deg", c.u_rad, kDeg);
  put(json, "u_px", c.u_px);
  if (c.outcome) json["outcome"] = name_of(*c.outcome);
  if (c.break_type) json["break_type"] = letter_of(*c.break_type);
  put(json, "thickness_mm", c.thickness_mm);
  put(json, "width_mm", c.width_mm);
  put(json, "u_mm", c.u_mm);
  if (!c.photo.empty()) json["photo"] = c.photo;
  for (const Eigen::Vector2d& p : c.outline_px) json["outline_px"].push_back(point_json(p));
  if (!c.group_by.empty()) json["group_by"] = c.group_by;
  return json;
}

std::optional<double> number(const Json& json, const char* key, double scale = 1.0) {
  if (!json.contains(key) || json.at(key).is_null()) return {};
  return scale * json.at(key).get<double>();
}

Eigen::Vector2d point_of(const Json& json) {
  return {json.at(0).get<double>(), json.at(1).get<double>()};
}

CorrectionKind kind_of(const std::string& word) {
  for (const CorrectionKind kind : kKinds) {
    if (word == name_of(kind)) return kind;
  }
  throw std::out_of_range("no kind of correction is called \"" + word + "\"");
}

std::optional<Outcome> outcome_of(const std::string& word) {
  for (const Outcome outcome : {Outcome::Broken, Outcome::NotBroken}) {
    if (word == name_of(outcome)) return outcome;
  }
  return {};
}

std::optional<BreakType> break_type_of(const std::string& letter) {
  for (const BreakType type :
       {BreakType::Complete, BreakType::Hinge, BreakType::Partial, BreakType::NonBreak}) {
    if (letter == letter_of(type)) return type;
  }
  return {};
}

std::string text_or_nothing(const Json& json, const char* key) {
  if (!json.contains(key) || json.at(key).is_null()) return {};
  return json.at(key).get<std::string>();
}

Correction correction_of(const Json& json) {
  Correction c;
  c.number = json.value("number", 0);
  c.kind = kind_of(json.at("kind").get<std::string>());
  c.bar = text_or_nothing(json, "bar");
  c.when = text_or_nothing(json, "when");
  c.why = text_or_nothing(json, "why");
  c.automatic = text_or_nothing(json, "automatic");
  c.undone = text_or_nothing(json, "undone");
  if (json.contains("point_px")) c.point_px = point_of(json.at("point_px"));
  c.t_s = number(json, "t_s");
  c.angle_rad = number(json, "angle_deg", 1.0 / kDeg);
  c.u_rad = number(json, "u_deg", 1.0 / kDeg);
  c.u_px = number(json, "u_px");
  c.outcome = outcome_of(text_or_nothing(json, "outcome"));
  c.break_type = break_type_of(text_or_nothing(json, "break_type"));
  c.thickness_mm = number(json, "thickness_mm");
  c.width_mm = number(json, "width_mm");
  c.u_mm = number(json, "u_mm");
  c.photo = text_or_nothing(json, "photo");
  for (const Json& p : json.value("outline_px", Json::array()))
    c.outline_px.push_back(point_of(p));
  c.group_by = json.value("group_by", std::vector<std::string>());
  return c;
}

/// Runs `read` on the parsed text; its faults become the five parts of ours.
template <typename Read>
auto read_json(const std::string& text, const std::string& file, const Read& read) {
  const auto fault = [&](const std::string& found) {
    return InputError({file,
                       "",
                       found,
                       std::string("corrections of format ") + kFormat,
                       "Mend it by hand (samples/schema/corrections.schema.json says what it "
                       "holds), or move it away to begin without corrections."});
  };
  try {
    return read(Json::parse(text));
  } catch (const Json::exception& error) {
    throw fault(std::string("text that is damaged or of another kind (") + error.what() + ")");
  } catch (const std::out_of_range& error) {
    throw fault(error.what());
  }
}

}  // namespace

std::string corrections_json(const std::vector<Correction>& corrections) {
  Json root = {{"format", kFormat}, {"corrections", Json::array()}};
  for (const Correction& c : corrections) root["corrections"].push_back(json_of(c));
  return root.dump(1, ' ', false, Json::error_handler_t::replace) + "\n";
}

std::vector<Correction> parse_corrections(const std::string& text, const std::string& file) {
  return read_json(text, file, [&](const Json& root) {
    if (root.at("format") != kFormat)
      throw std::out_of_range("format " + root.at("format").dump());
    std::vector<Correction> corrections;
    for (const Json& each : root.at("corrections")) {
      corrections.push_back(correction_of(each));
      check_correction(corrections.back(), file);
    }
    return corrections;
  });
}

Correction parse_correction(const std::string& text, const std::string& file) {
  return read_json(text, file, [&](const Json& root) {
    Correction correction = correction_of(root);
    correction.number = 0;
    correction.when.clear();
    correction.undone.clear();
    correction.automatic.clear();
    check_correction(correction, file);
    return correction;
  });
}

}  // namespace swingloss
