// SPDX-License-Identifier: Apache-2.0
#include "report/plan_json.h"

#include "core/angle.h"

#include <nlohmann/json.hpp>

namespace swingloss {
namespace {

using Json = nlohmann::ordered_json;

template <typename T>
Json or_null(const std::optional<T>& value) {
  return value ? Json(*value) : Json(nullptr);
}

Json degrees(const std::optional<double>& angle_rad) {
  return angle_rad ? Json(Angle::from_rad(*angle_rad).deg()) : Json(nullptr);
}

Json question_of(const PlanAnswer& answer) {
  return {{"cv", answer.question.cv},
          {"cv_from", answer.cv_words},
          {"alpha", answer.question.alpha},
          {"comparisons", answer.question.comparisons},
          {"powers", answer.question.powers}};
}

Json bars_of(const PlanAnswer& answer) {
  Json list = Json::array();
  for (const BarsRow& row : answer.bars) {
    Json bars = Json::array();
    for (const std::optional<int>& count : row.bars) bars.push_back(or_null(count));
    list.push_back({{"difference", row.difference}, {"bars", bars}});
  }
  return list;
}

Json precision_of(const PlanAnswer& answer) {
  Json list = Json::array();
  for (const PrecisionRow& row : answer.precision) {
    list.push_back({{"bars", row.bars},
                    {"half_width", row.half_width},
                    {"difference_found", row.difference_found}});
  }
  return list;
}

Json reached_of(const PlanAnswer& answer) {
  Json list = Json::array();
  for (const ReachedRow& row : answer.reached) {
    Json bars = Json::array();
    for (const std::optional<int>& count : row.bars_for) bars.push_back(or_null(count));
    list.push_back({{"group", answer.source->ranking->groups.at(row.group).name},
                    {"bars", row.bars},
                    {"half_width", or_null(row.half_width)},
                    {"cautious_cv", or_null(row.cautious_cv)},
                    {"bars_for", bars}});
  }
  return list;
}

Json hammers_of(const PlanAnswer& answer) {
  Json list = Json::array();
  for (const HammerChoice& choice : answer.hammers) {
    list.push_back({{"name", choice.name},
                    {"available_J", choice.available_J},
                    {"suits", choice.suits},
                    {"recommended", choice.recommended},
                    {"release_low_deg", degrees(choice.release_low_rad)},
                    {"release_high_deg", degrees(choice.release_high_rad)},
                    {"words", choice.words}});
  }
  return list;
}

Json release_row(const ReleaseRow& row) {
  return {{"release_deg", degrees(row.release_rad)},
          {"available_J", row.available_J},
          {"used_fraction", row.used_fraction},
          {"in_window", row.in_window},
          {"rise_deg", degrees(row.rise_rad)},
          {"absorbed_u_J", row.absorbed_J ? Json(row.absorbed_J->u()) : Json(nullptr)},
          {"impact_speed_m_s", or_null(row.impact_speed_m_per_s)}};
}

Json curves_of(const PlanAnswer& answer) {
  Json list = Json::array();
  for (const ReleaseCurve& curve : answer.curves) {
    Json rows = Json::array();
    for (const ReleaseRow& row : curve.rows) rows.push_back(release_row(row));
    list.push_back(
        {{"hammer", curve.hammer}, {"expected_J", curve.expected_J}, {"releases", rows}});
  }
  return list;
}

}  // namespace

std::string plan_json(const PlanAnswer& answer) {
  Json remarks = Json::array();
  for (const Remark& remark : answer.remarks) {
    remarks.push_back(
        {{"code", remark.code}, {"severity", name_of(remark.severity)}, {"text", remark.text}});
  }
  const Json root = {{"format", "swingloss/plan/1"},
                     {"question", question_of(answer)},
                     {"bars_for_difference", bars_of(answer)},
                     {"precision", precision_of(answer)},
                     {"half_widths", answer.half_widths},
                     {"reached", reached_of(answer)},
                     {"expected_low_J", or_null(answer.expected_low_J)},
                     {"expected_high_J", or_null(answer.expected_high_J)},
                     {"window", {{"low", answer.window.low}, {"high", answer.window.high}}},
                     {"hammers", hammers_of(answer)},
                     {"curves", curves_of(answer)},
                     {"remarks", remarks}};
  return root.dump(1, ' ', false, Json::error_handler_t::replace) + "\n";
}

}  // namespace swingloss
