// SPDX-License-Identifier: Apache-2.0
#include "report/results_json.h"

#include "core/angle.h"
#include "report/bar_remarks.h"
#include "report/corrections_json.h"
#include "report/ranking_details_json.h"
#include "report/surface_summary_json.h"
#include "report/words.h"

#include <cmath>

#include <nlohmann/json.hpp>

namespace swingloss {
namespace {

using Json = nlohmann::ordered_json;

constexpr double kDeg = 180.0 / kPi;

/// JSON has no infinity: an unlimited number of degrees of freedom is null.
Json number(double value) { return std::isfinite(value) ? Json(value) : Json(nullptr); }

Json number(const std::optional<double>& value) {
  return value ? number(*value) : Json(nullptr);
}

Json json_of(const Remarks& remarks) {
  Json list = Json::array();
  for (const Remark& remark : remarks) {
    const char* severity = name_of(remark.severity);
    list.push_back({{"code", remark.code}, {"severity", severity}, {"text", remark.text}});
  }
  return list;
}

Json json_of(const Interval& interval) {
  return {{"low", number(interval.low)}, {"high", number(interval.high)}};
}

Json json_of(const Uncertain& value, double scale = 1.0) {
  Json parts = Json::array();
  for (const Contribution& part : value.parts()) {
    parts.push_back({{"source", part.source},
                     {"kind", part.kind == SourceKind::Shared ? "shared" : "own"},
                     {"signed_u", number(scale * part.signed_u)},
                     {"degrees_of_freedom", number(part.degrees_of_freedom)}});
  }
  return {{"value", number(scale * value.value())},
          {"u", number(scale * value.u())},
          {"degrees_of_freedom", number(value.degrees_of_freedom())},
          {"parts", parts}};
}

Json json_of(const std::optional<Uncertain>& value, double scale = 1.0) {
  return value ? json_of(*value, scale) : Json(nullptr);
}

Json swing_of(const SwingMeasurement& swing) {
  Json json = {{"outcome", name_of(swing.outcome)},
               {"release_angle_deg", json_of(swing.release_angle_rad, kDeg)},
               {"rise_angle_deg", json_of(swing.rise_angle_rad, kDeg)},
               {"raw_absorbed_J", json_of(swing.raw_absorbed_J)},
               {"friction_J", json_of(swing.friction_J)},
               {"friction_swept_J", json_of(swing.friction_swept_J)},
               {"impact_speed_m_s", json_of(swing.impact_speed_m_per_s)},
               {"textbook_speed_m_s", number(swing.textbook_speed_m_per_s)},
               {"speed_drop_check", nullptr}};
  if (const auto& drop = swing.speed_drop) {
    const Json absorbed_J = json_of(drop->absorbed_J);
    json["speed_drop_check"] = {{"absorbed_J", absorbed_J}, {"agrees", drop->agrees}};
  }
  return json;
}

Json json_of(const BarResult& bar) {
  const Specimen& specimen = bar.specimen;
  Json json = {{"id", specimen.id},
               {"row", specimen.row},
               {"material", specimen.material},
               {"condition", specimen.condition},
               {"orientation", specimen.orientation},
               {"rig", bar.bar.rig},
               {"clip", specimen.clip},
               {"thickness_mm", number(specimen.thickness_mm)},
               {"width_mm", number(specimen.width_mm)},
               {"notch", specimen.notch},
               {"mass_g", number(specimen.mass_g)},
               {"made_on", specimen.made_on},
               {"tested_on", specimen.tested_on},
               {"note", specimen.note},
               {"break_type", letter_of(bar.bar.break_type)},
               {"limit", limit_sign(bar.bar.limit)},
               {"energy_J", json_of(bar.bar.energy_J)},
               {"strength_kJ_m2", json_of(bar.bar.strength_kJ_m2)},
               {"unsettled", bar.bar.unsettled},
               {"drawn", Json::parse(drawn_json(bar))},
               {"left_out", bar.bar.left_out ? Json(bar.bar.left_out_reason) : Json(nullptr)},
               {"swing", bar.swing ? swing_of(bar.swing->measurement) : Json(nullptr)},
               {"surface", Json::parse(surface_summary_json(bar))},
               {"problem", nullptr},
               {"remarks", json_of(bar_remarks(bar))}};
  if (bar.problem) json["problem"] = {{"code", bar.problem->code}, {"text", bar.problem->text}};
  return json;
}

Json json_of(const std::vector<BudgetPart>& budget) {
  Json list = Json::array();
  for (const BudgetPart& part : budget) {
    list.push_back({{"source", part.source},
                    {"kind", name_of(part.kind)},
                    {"u", number(part.u)},
                    {"fraction", number(part.fraction)}});
  }
  return list;
}

Json json_of(const std::vector<BreakClass>& classes) {
  Json list = Json::array();
  for (const BreakClass& part : classes) {
    list.push_back({{"name", part.name},
                    {"n", part.bars.size()},
                    {"mean", number(part.mean)},
                    {"s", number(part.s)},
                    {"interval", json_of(part.interval)},
                    {"in_group_mean", part.in_group_mean}});
  }
  return list;
}

Json json_of(const GroupSummary& group, const std::vector<BarResult>& bars) {
  Json ids = Json::array();
  for (const std::size_t i : group.bars) ids.push_back(bars.at(i).specimen.id);
  return {{"name", group.name},
          {"material", group.material},
          {"condition", group.condition},
          {"orientation", group.orientation},
          {"break_type", letter_of(group.main_break_type)},
          {"bars", ids},
          {"n_exact", group.n_exact},
          {"n_above", group.n_above},
          {"n_below", group.n_below},
          {"n_apart", group.n_apart},
          {"n_left_out", group.n_left_out},
          {"n_no_value", group.n_no_value},
          {"method", name_of(group.method)},
          {"mean", number(group.mean)},
          {"bound", number(group.bound)},
          {"bound_confidence", group.bound ? number(group.bound_confidence) : Json(nullptr)},
          {"s", number(group.s)},
          {"cv", number(group.cv)},
          {"interval", json_of(group.interval)},
          {"interval_with_shared", json_of(group.interval_with_shared)},
          {"u_shared", number(group.u_shared)},
          {"budget", json_of(group.budget)},
          {"break_classes", json_of(group.break_classes)},
          {"letters", group.letters},
          {"rank_probability", group.rank_probability},
          {"p_best", number(group.p_best)},
          {"remarks", json_of(group.remarks)}};
}

Json json_of(const Comparison& comparison, const std::vector<GroupSummary>& groups) {
  return {{"first", groups.at(comparison.first).name},
          {"second", groups.at(comparison.second).name},
          {"differ_in", comparison.differ_in},
          {"difference", number(comparison.difference)},
          {"difference_interval", json_of(comparison.difference_interval)},
          {"ratio", number(comparison.ratio)},
          {"ratio_interval", json_of(comparison.ratio_interval)},
          {"p_value", number(comparison.p_value)},
          {"p_holm", number(comparison.p_holm)},
          {"method", comparison.method},
          {"u_shared", number(comparison.u_shared)},
          {"verdict", name_of(comparison.verdict)},
          {"equivalent", comparison.equivalent},
          {"p_equivalent", number(comparison.p_equivalent)},
          {"bars_words", comparison.bars_words},
          {"bars_to_resolve",
           comparison.bars_to_resolve ? Json(*comparison.bars_to_resolve) : Json(nullptr)}};
}

Json json_of(const FactorEffect& effect, const std::vector<GroupSummary>& groups) {
  return {{"factor", name_of(effect.factor)},
          {"setting", effect.setting},
          {"level", effect.level},
          {"base", effect.base},
          {"group", groups.at(effect.group).name},
          {"base_group", groups.at(effect.base_group).name},
          {"change", number(effect.change)},
          {"change_interval", json_of(effect.change_interval)},
          {"p_value", number(effect.p_value)},
          {"p_holm", number(effect.p_holm)},
          {"verdict", name_of(effect.verdict)}};
}

Json json_of(const WelchAnova& test) {
  return {{"f", number(test.f)},
          {"degrees_of_freedom_1", number(test.degrees_of_freedom_1)},
          {"degrees_of_freedom_2", number(test.degrees_of_freedom_2)},
          {"p_value", number(test.p_value)}};
}

Json json_of(const EffectContrast& contrast) {
  return {{"factor", name_of(contrast.factor)},
          {"level", contrast.level},
          {"base", contrast.base},
          {"effects", contrast.effects},
          {"test", json_of(contrast.test)},
          {"differs", contrast.differs}};
}

Json json_of(const RigTie& tie) {
  return {{"rig", tie.rig},
          {"base_rig", tie.base_rig},
          {"reference", tie.reference},
          {"factor", number(tie.factor)},
          {"u_factor", number(tie.u_factor)},
          {"degrees_of_freedom", number(tie.degrees_of_freedom)}};
}

Json json_of(const Rig& rig) {
  const Pendulum& pendulum = rig.pendulum;
  Json json = {{"name", rig.name},
               {"moment_Nm", json_of(pendulum.moment_Nm)},
               {"reduced_length_m", json_of(pendulum.reduced_length_m)},
               {"gravity_m_s2", json_of(pendulum.gravity_m_per_s2)},
               {"strike_radius_m", json_of(pendulum.strike_radius_m)},
               {"latch_angle_deg", json_of(pendulum.release_angle_rad, kDeg)},
               {"mass_kg", json_of(rig.mass_kg)},
               {"capacity_J", number(rig.capacity_J)},
               {"friction", nullptr},
               {"remarks", json_of(rig.remarks)}};
  if (pendulum.friction) {
    json["friction"] = {{"dry_Nm", json_of(pendulum.friction->dry_Nm)},
                        {"linear_Nms", json_of(pendulum.friction->linear_Nms)},
                        {"quadratic_Nms2", json_of(pendulum.friction->quadratic_Nms2)}};
  }
  return json;
}

void add_ranking(Json& root, const SeriesResult& series) {
  root["verdict"] = Json::array();
  root["groups"] = Json::array();
  root["comparisons"] = Json::array();
  if (!series.ranking) return;
  const Ranking& ranking = *series.ranking;
  root["verdict"] = ranking.verdict_sentences;
  const Json details = Json::parse(group_details_json(series));
  for (std::size_t g = 0; g < ranking.groups.size(); ++g) {
    Json group = json_of(ranking.groups[g], series.bars);
    group.update(details.at(g));
    root["groups"].push_back(group);
  }
  for (const Comparison& comparison : ranking.comparisons) {
    root["comparisons"].push_back(json_of(comparison, ranking.groups));
  }
  root["overall"] = ranking.overall ? json_of(*ranking.overall) : Json(nullptr);
  for (const char* list : {"effects", "effect_contrasts", "ties"}) root[list] = Json::array();
  for (const FactorEffect& effect : ranking.effects) {
    root["effects"].push_back(json_of(effect, ranking.groups));
  }
  for (const EffectContrast& contrast : ranking.effect_contrasts) {
    root["effect_contrasts"].push_back(json_of(contrast));
  }
  root["effect_sentences"] = ranking.effect_sentences;
  for (const RigTie& tie : ranking.ties) root["ties"].push_back(json_of(tie));
  root["ranking_remarks"] = json_of(ranking.remarks);
}

}  // namespace

std::string results_json(const SeriesResult& series) {
  Json root = {{"format", "swingloss/results/1"},
               {"title", series.title},
               {"geometry", series.geometry_words},
               {"label", series.label},
               {"rendered_or_invented", series.rendered_or_invented},
               {"complete", all_measured(series.bars)},
               {"quantity", nullptr},
               {"unit", nullptr},
               {"options", Json::parse(ranking_options_json(series.ranking_options))}};
  if (series.ranking) {
    const Quantity quantity = series.ranking->quantity;
    root["quantity"] = quantity == Quantity::Strength_kJ_m2 ? "strength_kJ_m2" : "energy_J";
    root["unit"] = unit_of(quantity);
  }
  add_ranking(root, series);
  root["conditioning"] = Json::parse(conditioning_json(series));
  for (const char* list : {"bars", "rigs"}) root[list] = Json::array();
  for (const BarResult& bar : series.bars) root["bars"].push_back(json_of(bar));
  root["corrections"] = Json::parse(applied_corrections_json(series));
  for (const Rig& rig : series.rigs) root["rigs"].push_back(json_of(rig));
  root["remarks"] = json_of(series.remarks);
  return root.dump(1, ' ', false, Json::error_handler_t::replace) + "\n";
}

}  // namespace swingloss
