// SPDX-License-Identifier: Apache-2.0
/// \file compare_common.h
/// What both parts of demo_compare read and print with.
#pragma once

#include <fstream>
#include <iomanip>
#include <optional>
#include <sstream>
#include <stdexcept>
#include <string>

#include <nlohmann/json.hpp>

namespace swingloss::demo {

using nlohmann::json;

/// A difference beyond this many standard uncertainties happens once in 16 000 honest,
/// normally distributed measurements; in a demo of some twenty bars it means a fault.
inline constexpr double kLimit_in_u = 4.0;

struct Estimate {
  double value = 0.0, u = 0.0;
};

inline bool is_there(const std::string& path) { return bool(std::ifstream(path)); }

inline json read_json(const std::string& path) {
  std::ifstream file(path);
  if (!file) throw std::runtime_error(path + ": cannot be opened");
  return json::parse(file);
}

inline std::optional<double> number(const json& object, const char* key) {
  const auto found = object.find(key);
  if (found == object.end() || !found->is_number()) return std::nullopt;
  return found->get<double>();
}

inline std::optional<Estimate> estimate(const json& object, const char* key) {
  const auto found = object.find(key);
  if (found == object.end() || !found->is_object()) return std::nullopt;
  const auto value = number(*found, "value");
  const auto u = number(*found, "u");
  if (!value || !u) return std::nullopt;
  return Estimate{*value, *u};
}

inline std::string fixed(double value, int decimals, bool sign = false) {
  std::ostringstream text;
  text << std::fixed << std::setprecision(decimals) << (sign ? std::showpos : std::noshowpos)
       << value;
  return text.str();
}

}  // namespace swingloss::demo
