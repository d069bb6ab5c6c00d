// SPDX-License-Identifier: Apache-2.0
/// \file desk_series.h
/// A series folder for the desk, and the desk asked as a browser would.
#pragma once

#include "desk/desk.h"
#include "support/temp_folder.h"

#include <nlohmann/json.hpp>

namespace swingloss::test {

/// Two groups of typed bars that can be ranked; invented values.
inline const std::string kTwoGroups =
    "id,material,condition,energy_J,width_mm,thickness_mm\n"
    "T1,Korvel,as-made,1.02,8,4\nT2,Korvel,as-made,0.98,8,4\nT3,Korvel,as-made,1.45,8,4\n"
    "T4,Korvel,annealed,1.22,8,4\nT5,Korvel,annealed,1.18,8,4\nT6,Korvel,annealed,1.25,8,4\n";

class DeskSeries {
 public:
  explicit DeskSeries(const std::string& rows = kTwoGroups) {
    folder_.write("series.json",
                  R"({ "format": "swingloss/series/1", "title": "Test",
                       "group_by": ["material", "condition"] })");
    folder_.write("specimens.csv", rows);
  }

  [[nodiscard]] const TempFolder& folder() const { return folder_; }
  [[nodiscard]] DeskOptions options() const {
    return {folder_.path(), 1, [] { return std::string("2026-01-02T03:04:05Z"); }};
  }

 private:
  TempFolder folder_;
};

inline DeskReply ask(Desk& desk,
                     const std::string& method,
                     const std::string& target,
                     const nlohmann::json& body = {}) {
  DeskRequest request;
  request.method = method;
  request.path = target.substr(0, target.find('?'));
  if (target.find('?') != std::string::npos) {
    const std::string query = target.substr(target.find('?') + 1);
    request.query[query.substr(0, query.find('='))] = query.substr(query.find('=') + 1);
  }
  if (!body.is_null()) request.body = body.dump();
  return desk.answer(request);
}

inline nlohmann::json data_of(Desk& desk, const std::string& target) {
  return nlohmann::json::parse(ask(desk, "GET", target).body);
}

}  // namespace swingloss::test
