// SPDX-License-Identifier: Apache-2.0
#include "report/ranking_details_json.h"

#include "ranking/improvement.h"

#include <cmath>

#include <nlohmann/json.hpp>

namespace swingloss {
namespace {

using Json = nlohmann::ordered_json;

constexpr double kDay_s = 86400.0;

/// JSON has no infinity.
Json number(double value) { return std::isfinite(value) ? Json(value) : Json(nullptr); }

Json number(const std::optional<double>& value, double scale = 1.0) {
  return value ? number(scale * *value) : Json(nullptr);
}

Json json_of(const Interval& interval) {
  return {{"low", number(interval.low)}, {"high", number(interval.high)}};
}

Json json_of(const std::optional<LogNormalView>& view) {
  if (!view) return nullptr;
  return {{"median", number(view->median)},
          {"median_interval", json_of(view->median_interval)},
          {"mean", number(view->mean)}};
}

Json json_of(const std::optional<SurvivalCurve>& curve) {
  if (!curve) return nullptr;
  Json steps = Json::array();
  for (const SurvivalStep& step : curve->steps) {
    steps.push_back({{"value", number(step.value)},
                     {"at_risk", step.at_risk},
                     {"broken", step.broken},
                     {"share", number(step.share)},
                     {"u_share", number(step.u_share)},
                     {"interval", json_of(step.interval)}});
  }
  return {{"median", number(curve->median)},
          {"median_interval", json_of(curve->median_interval)},
          {"steps", steps}};
}

/// Id of a bar by its place among the group's plain values.
std::string id_of(const SeriesResult& series, const GroupSummary& group, std::size_t exact) {
  return series.bars.at(group.exact_bars.at(exact)).specimen.id;
}

Json grubbs_of(const SeriesResult& series, const GroupSummary& group) {
  if (!group.grubbs) return nullptr;
  return {{"bar", id_of(series, group, group.grubbs->farthest)},
          {"g", number(group.grubbs->g)},
          {"critical", number(group.grubbs->critical)},
          {"flagged", group.grubbs->flagged}};
}

Json scores_of(const SeriesResult& series, const GroupSummary& group) {
  if (!group.normal_scores) return nullptr;
  Json points = Json::array();
  for (const NormalScore& point : group.normal_scores->points) {
    points.push_back({{"bar", id_of(series, group, point.index)},
                      {"score", number(point.score)},
                      {"value", number(point.value)}});
  }
  return {{"correlation", number(group.normal_scores->correlation)},
          {"critical", number(group.normal_scores->critical)},
          {"flagged", group.normal_scores->flagged},
          {"points", points}};
}

Json json_of(const SeriesResult& series, const GroupSummary& group) {
  return {{"pooled_break_types", group.pooled_break_types},
          {"rank_low", group.rank_low ? Json(*group.rank_low) : Json(nullptr)},
          {"rank_high", group.rank_high ? Json(*group.rank_high) : Json(nullptr)},
          {"log_normal", json_of(group.log_normal)},
          {"kaplan_meier", json_of(group.survival)},
          {"grubbs", grubbs_of(series, group)},
          {"normal_scores", scores_of(series, group)},
          {"worth_improving", improvement_of(group)}};
}

Json json_of(const std::vector<Reading>& readings, const char* name, double scale) {
  Json list = Json::array();
  for (const Reading& reading : readings) {
    list.push_back(
        {{"day", number(reading.t_s / kDay_s)}, {name, number(scale * reading.value)}});
  }
  return list;
}

Json fit_of(const std::optional<ApproachFit>& fit) {
  if (!fit) return nullptr;
  return {{"initial_g", number(fit->initial)},
          {"final_g", number(fit->final)},
          {"u_final_g", number(fit->u_final)},
          {"time_constant_days", number(fit->time_constant_s / kDay_s)},
          {"residual_s_g", number(fit->residual_s)}};
}

Json judged_of(const std::optional<Conditioning>& judged) {
  if (!judged) return nullptr;
  constexpr double kPerDay = 1.0 / kDay_s;
  return {{"settled", name_of(judged->settled)},
          {"uptake", judged->uptake},
          {"law", judged->better ? Json(name_of(*judged->better)) : Json(nullptr)},
          {"plate", fit_of(judged->plate)},
          {"exponential", fit_of(judged->exponential)},
          {"final_uptake", number(judged->final_uptake)},
          {"u_final_uptake", number(judged->u_final_uptake)},
          {"reached", number(judged->reached)},
          {"diffusion_m2_s", number(judged->diffusion_m2_per_s)},
          {"settles_on_day", number(judged->settles_at_s, kPerDay)},
          {"days_to_go", number(judged->to_go_s, kPerDay)}};
}

}  // namespace

std::string group_details_json(const SeriesResult& series) {
  Json list = Json::array();
  for (const GroupSummary& group : series.ranking->groups)
    list.push_back(json_of(series, group));
  return list.dump(-1, ' ', false, Json::error_handler_t::replace);
}

std::string conditioning_json(const SeriesResult& series) {
  Json list = Json::array();
  for (const ConditioningRecord& record : series.conditioning) {
    Json bars = Json::array();
    for (const std::size_t b : record.bars) bars.push_back(series.bars.at(b).specimen.id);
    constexpr double kMillimetre = 1000.0;
    list.push_back({{"piece", record.name},
                    {"bars", bars},
                    {"masses", json_of(record.masses.masses, "mass_g", 1.0)},
                    {"judged", judged_of(record.judged)},
                    {"design_mm",
                     record.sizes.sizes.empty() ? Json(nullptr)
                                                : number(kMillimetre * record.sizes.design_m)},
                    {"sizes", json_of(record.sizes.sizes, "size_mm", kMillimetre)},
                    {"size_changes", record.size_changes}});
  }
  return list.dump(-1, ' ', false, Json::error_handler_t::replace);
}

std::string drawn_json(const BarResult& bar) {
  if (!bar.drawn) return "null";
  const DrawnBar& drawn = *bar.drawn;
  const Json json = {{"trials", drawn.drawn.trials},
                     {"mean", number(drawn.drawn.mean)},
                     {"u", number(drawn.drawn.u)},
                     {"low", number(drawn.drawn.symmetric.low)},
                     {"high", number(drawn.drawn.symmetric.high)},
                     {"first_order_u", number(drawn.first_order_u)},
                     {"degrees_of_freedom", number(drawn.degrees_of_freedom)},
                     {"gap_in_u", number(drawn.gap_in_u)},
                     {"differs", drawn.differs}};
  return json.dump();
}

std::string ranking_options_json(const RankingOptions& options) {
  const Json json = {{"by_condition", options.by_condition},
                     {"by_orientation", options.by_orientation},
                     {"pool_break_types", options.pool_break_types},
                     {"confidence", options.confidence},
                     {"equivalence_margin", options.equivalence_margin},
                     {"power", options.power},
                     {"base_condition", options.base_condition},
                     {"base_orientation", options.base_orientation},
                     {"reference_material", options.reference_material},
                     {"draws", options.draws},
                     {"seed", options.seed}};
  return json.dump(-1, ' ', false, Json::error_handler_t::replace);
}

}  // namespace swingloss
