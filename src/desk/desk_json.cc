// SPDX-License-Identifier: Apache-2.0
#include "desk/desk_json.h"

#include "core/angle.h"
#include "core/text_file.h"
#include "report/words.h"
#include "series/correct_bar.h"
#include "series/picture_angle.h"
#include "series/swing_json.h"

#include <algorithm>
#include <filesystem>

#include <nlohmann/json.hpp>

namespace swingloss {
namespace {

using Json = nlohmann::ordered_json;

constexpr double kDeg = 180.0 / kPi;
constexpr double kMark_px = 2.0;  ///< how well a point is marked, as it is proposed

std::string text_of(const Json& json) {
  return json.dump(-1, ' ', false, Json::error_handler_t::replace);
}

Json words_or_null(const std::optional<Uncertain>& x, const std::string& unit) {
  return x ? Json(with_u_words(*x, unit)) : Json(nullptr);
}

Json number_or_null(const std::optional<double>& x) { return x ? Json(*x) : Json(nullptr); }

Json json_of(const Remarks& remarks) {
  Json list = Json::array();
  for (const Remark& remark : remarks) {
    list.push_back(
        {{"code", remark.code}, {"severity", name_of(remark.severity)}, {"text", remark.text}});
  }
  return list;
}

Json point_json(const Eigen::Vector2d& p) { return {p.x(), p.y()}; }

Json json_of(const WorkState& work) {
  Json bars = Json::object();
  for (const auto& [id, measured] : work.bars) bars[id] = measured;
  return {{"phase", name_of(work.phase)},
          {"waiting", work.waiting},
          {"stopping", work.stopping},
          {"stopped", work.stopped},
          {"done", work.done},
          {"count", work.count},
          {"bars", bars},
          {"fault", work.fault},
          {"finished", work.finished}};
}

const BarResult* result_of(const SeriesView& view, const std::string& id) {
  if (!view.result) return nullptr;
  const auto& bars = view.result->bars;
  const auto found = std::find_if(
      bars.begin(), bars.end(), [&](const BarResult& bar) { return bar.specimen.id == id; });
  return found == bars.end() ? nullptr : &*found;
}

std::size_t count_standing(const SeriesView& view, const std::string& id) {
  return standing(view.corrections, id).size();
}

const char* state_of(const SeriesView& view, const SpecimenRow& row, const BarResult* bar) {
  if (bar != nullptr && bar->problem) return "refused";
  if (bar != nullptr && bar->bar.left_out) return "left-out";
  if (row.problem) return "refused";
  if (row.specimen.clip.empty()) return "typed";
  if (bar != nullptr) return "measured";
  const auto stored = std::filesystem::path(view.plan.folder) / "results" / "swings" /
                      (row.specimen.id + ".json");
  return is_there(stored.string()) ? "stored" : "waiting";
}

Json bar_line(const SeriesView& view, const SpecimenRow& row) {
  const Specimen& specimen = row.specimen;
  const BarResult* bar = result_of(view, specimen.id);
  Json json = {{"id", specimen.id},
               {"material", specimen.material},
               {"condition", specimen.condition},
               {"orientation", specimen.orientation},
               {"clip", specimen.clip},
               {"photos", specimen.photos},
               {"state", state_of(view, row, bar)},
               {"limit", ""},
               {"energy", nullptr},
               {"strength", nullptr},
               {"left_out", nullptr},
               {"problem", row.problem ? Json(row.problem->text) : Json(nullptr)},
               {"corrections", count_standing(view, specimen.id)}};
  if (bar == nullptr) return json;
  json["limit"] = limit_sign(bar->bar.limit);
  json["energy"] = words_or_null(bar->bar.energy_J, "J");
  json["strength"] = words_or_null(bar->bar.strength_kJ_m2, "kJ/m²");
  if (bar->bar.left_out) json["left_out"] = bar->bar.left_out_reason;
  if (bar->problem) json["problem"] = bar->problem->text;
  return json;
}

Json log_of(const std::vector<Correction>& corrections, const std::string* bar) {
  Json list = Json::array();
  const Json all = Json::parse(corrections_json(corrections)).at("corrections");
  for (std::size_t i = 0; i < corrections.size(); ++i) {
    if (bar != nullptr && corrections[i].bar != *bar) continue;
    Json each = all.at(i);
    each["words"] = words_of(corrections[i].kind);
    list.push_back(each);
  }
  return list;
}

/// What stands by hand and what it replaced, of one bar.
Json applied_of(const BarResult* bar) {
  Json list = Json::array();
  if (bar == nullptr) return list;
  for (const AppliedCorrection& applied : bar->corrections) {
    list.push_back({{"number", applied.correction.number},
                    {"automatic", applied.automatic},
                    {"by_hand", applied.by_hand},
                    {"automatic_energy", words_or_null(applied.automatic_energy_J, "J")},
                    {"not_used", applied.not_used}});
  }
  return list;
}

/// Angle and end of the arm in each picture in which it was followed.
Json arm_of(const SwingRecord& swing) {
  Json list = Json::array();
  if (swing.typed_track) return list;
  const auto& samples = swing.arm.angles.samples;
  for (std::size_t i = 0; i < samples.size(); ++i) {
    const Eigen::Vector2d end = arm_end_in_picture_px(
        swing.arm, samples[i].theta_rad, rate_rad_per_s(swing.arm.angles, i));
    list.push_back({{"frame", samples[i].frame},
                    {"t_s", samples[i].t_s},
                    {"end_px", point_json(end)},
                    {"angle_deg", kDeg * angle_from_rest_rad(swing, i)}});
  }
  return list;
}

Json rest_end_of(const SwingRecord& swing) {
  if (!swing.measurement.zero_rad || swing.typed_track) return nullptr;
  return point_json(arm_end_in_picture_px(swing.arm, swing.measurement.zero_rad->value()));
}

void add_swing(const SwingRecord& swing, Json& json) {
  json["swing"] = Json::parse(swing_json(swing));
  json["arm"] = arm_of(swing);
  json["rest_end_px"] = rest_end_of(swing);
  json["blows_s"] = times_of_blows_s(swing.arm.angles);
  if (swing.arm.arm_length_px > 10.0)
    json["mark_u_deg"] = kDeg * kMark_px / swing.arm.arm_length_px;
}

Json photos_of(const Specimen& specimen, const BarResult* bar) {
  Json list = Json::array();
  for (const std::string& name : specimen.photos) {
    Json photo = {{"name", name}, {"corners_px", Json::array()}, {"has_card", nullptr}};
    for (const SurfaceMeasurement& each : bar != nullptr && bar->surface
                                              ? bar->surface->photos
                                              : std::vector<SurfaceMeasurement>()) {
      if (each.photo != name) continue;
      photo["has_card"] = each.card.has_value();
      if (each.faces.empty()) continue;
      for (const auto& corner : each.faces.front().broken_px)
        photo["corners_px"].push_back(point_json(corner));
    }
    list.push_back(photo);
  }
  return list;
}

/// The film of a bar, below results/, and what was said of it by this desk; null without
/// either.
Json film_of(const SeriesView& view, const std::string& id) {
  const std::string name = "overlays/" + id + ".mp4";
  const auto film = std::filesystem::path(view.plan.folder) / "results" / name;
  const bool there = std::filesystem::is_regular_file(film);
  const auto said = view.work.films.find(id);
  if (!there && said == view.work.films.end()) return nullptr;
  return {{"path", there ? Json(name) : Json(nullptr)},
          {"words", said == view.work.films.end() ? "" : said->second}};
}

/// What stands at the place of each kind of correction, in words.
Json values_of(const SeriesView& view, const BarResult& bar) {
  Json values = Json::object();
  for (const CorrectionKind kind : {CorrectionKind::Axle,
                                    CorrectionKind::Rest,
                                    CorrectionKind::Release,
                                    CorrectionKind::Rise,
                                    CorrectionKind::Blow,
                                    CorrectionKind::Outcome,
                                    CorrectionKind::BreakType,
                                    CorrectionKind::Section})
    values[name_of(kind)] = value_words(kind, bar, view.plan.section_u_mm);
  return values;
}

}  // namespace

std::string work_json(const WorkState& work) { return text_of(json_of(work)); }

std::string series_view_json(const SeriesView& view) {
  Json bars = Json::array();
  for (const SpecimenRow& row : view.rows) bars.push_back(bar_line(view, row));
  const std::string report =
      (std::filesystem::path(view.plan.folder) / "results" / "report.html").string();
  return text_of({{"title", view.plan.title},
                  {"label", view.plan.label},
                  {"folder", view.plan.folder},
                  {"geometry", geometry_words(view.plan)},
                  {"grouping", grouping_words(view.plan.ranking)},
                  {"fault", view.fault},
                  {"has_report", is_there(report)},
                  {"bars", bars},
                  {"corrections", log_of(view.corrections, nullptr)},
                  {"work", json_of(view.work)}});
}

std::string bar_view_json(const SeriesView& view,
                          const SpecimenRow& row,
                          const std::string& automatic_json) {
  const Specimen& specimen = row.specimen;
  const BarResult* bar = result_of(view, specimen.id);
  Json json = bar_line(view, row);
  json["title"] = view.plan.title;
  json["label"] = view.plan.label;
  json["thickness_mm"] = number_or_null(specimen.thickness_mm);
  json["width_mm"] = number_or_null(specimen.width_mm);
  json["section_u_mm"] = view.plan.section_u_mm;
  json["note"] = specimen.note;
  json["photo_places"] = photos_of(specimen, bar);
  json["log"] = log_of(view.corrections, &specimen.id);
  json["applied"] = applied_of(bar);
  json["work"] = json_of(view.work);
  for (const char* absent : {"swing", "automatic", "rest_end_px"}) json[absent] = nullptr;
  for (const char* empty : {"arm", "blows_s", "remarks"}) json[empty] = Json::array();
  json["values"] = Json::object();
  json["film"] = film_of(view, specimen.id);
  json["mark_u_deg"] = 0.3;
  if (!automatic_json.empty()) json["automatic"] = Json::parse(automatic_json);
  if (bar == nullptr) return text_of(json);
  json["values"] = values_of(view, *bar);
  json["remarks"] = json_of(bar->remarks);
  if (bar->swing) add_swing(*bar->swing, json);
  return text_of(json);
}

std::string clip_json(const ClipFacts& clip) {
  return text_of({{"frames", clip.frames}, {"rate_per_s", clip.rate_per_s}});
}

std::string error_json(const std::string& text) { return text_of({{"error", text}}); }

}  // namespace swingloss
