// SPDX-License-Identifier: Apache-2.0
#include "report/rig_checks_json.h"

#include <nlohmann/json.hpp>

namespace swingloss {
namespace {

using Json = nlohmann::ordered_json;

Json or_null(const std::optional<double>& value) {
  return value ? Json(*value) : Json(nullptr);
}

Json check_json(const RigCheck& check) {
  Json measured = nullptr;
  if (check.measured)
    measured = {{"value", check.measured->value()}, {"u", check.measured->u()}};
  return {{"id", check.id},
          {"what", check.what},
          {"measured", measured},
          {"unit", check.unit},
          {"low", or_null(check.low)},
          {"high", or_null(check.high)},
          {"source", check.source},
          {"verdict", name_of(check.verdict)},
          {"note", check.note}};
}

}  // namespace

std::string rig_checks_json(const Rig& rig, const std::vector<RigCheck>& checks) {
  Json json = {{"format", "swingloss/rig-checks/1"},
               {"rig", Json::parse(rig_text(rig))},
               {"checks", Json::array()}};
  for (const RigCheck& check : checks) json["checks"].push_back(check_json(check));
  return json.dump(2, ' ', false, Json::error_handler_t::replace) + "\n";
}

}  // namespace swingloss
