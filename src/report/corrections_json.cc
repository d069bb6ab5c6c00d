// SPDX-License-Identifier: Apache-2.0
#include "report/corrections_json.h"

#include <nlohmann/json.hpp>

namespace swingloss {
namespace {

using Json = nlohmann::ordered_json;

Json value_and_u(const std::optional<Uncertain>& x) {
  return x ? Json({{"value", x->value()}, {"u", x->u()}}) : Json(nullptr);
}

Json json_of(const AppliedCorrection& applied) {
  const Correction& c = applied.correction;
  return {{"number", c.number},
          {"kind", name_of(c.kind)},
          {"bar", c.bar.empty() ? Json(nullptr) : Json(c.bar)},
          {"when", c.when},
          {"why", c.why},
          {"automatic", applied.automatic},
          {"by_hand", applied.by_hand},
          {"automatic_energy_J", value_and_u(applied.automatic_energy_J)},
          {"not_used", applied.not_used.empty() ? Json(nullptr) : Json(applied.not_used)}};
}

}  // namespace

std::string applied_corrections_json(const SeriesResult& series) {
  Json list = Json::array();
  for (const AppliedCorrection& applied : series.corrections) list.push_back(json_of(applied));
  for (const BarResult& bar : series.bars) {
    for (const AppliedCorrection& applied : bar.corrections) list.push_back(json_of(applied));
  }
  return list.dump(-1, ' ', false, Json::error_handler_t::replace);
}

}  // namespace swingloss
