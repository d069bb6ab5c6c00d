// SPDX-License-Identifier: Apache-2.0
#include "core/angle.h"
#include "core/number_text.h"
#include "series/surface_json.h"
#include "surface/judge.h"
#include "surface/layer_course.h"
#include "surface/suggest_break.h"

#include <nlohmann/json.hpp>

namespace swingloss {
namespace {

using Json = nlohmann::ordered_json;

constexpr double kDeg = 180.0 / kPi;

/// Six digits: a millionth of a section is far below what a photograph shows.
double short_number(double x) { return rounded_number(x, 6); }

Json length(const Uncertain& x, double scale) {
  return {{"value", short_number(scale * x.value())}, {"u", short_number(scale * x.u())}};
}

Json polygon(const Polygon& points) {
  Json list = Json::array();
  for (const Eigen::Vector2d& p : points)
    list.push_back({short_number(p.x()), short_number(p.y())});
  return list;
}

Json remarks_json(const Remarks& remarks) {
  Json list = Json::array();
  for (const Remark& remark : remarks) {
    list.push_back(
        {{"code", remark.code}, {"severity", name_of(remark.severity)}, {"text", remark.text}});
  }
  return list;
}

Json section_json(const std::optional<SectionSize>& section) {
  if (!section) return nullptr;
  Json parts = Json::array();
  for (const Contribution& part : section->width_m.parts()) {
    parts.push_back({{"source", part.source},
                     {"kind", part.kind == SourceKind::Shared ? "shared" : "own"},
                     {"u_mm", short_number(1e3 * part.signed_u)}});
  }
  return {{"thickness_mm", length(section->thickness_m, 1e3)},
          {"width_mm", length(section->width_m, 1e3)},
          {"whole_width_mm", length(section->whole_width_m, 1e3)},
          {"area_mm2", length(section->area_m2, 1e6)},
          {"width_parts", parts}};
}

Json look_json(const Appearance& a) {
  const auto n = [](double x) { return Json(short_number(x)); };
  return {{"light_share", n(a.light_share)},
          {"light_step", n(a.light_step)},
          {"chroma_drop", n(a.chroma_drop)},
          {"roughness", {n(a.roughness[0]), n(a.roughness[1]), n(a.roughness[2])}},
          {"roughness_spread", n(a.roughness_spread)},
          {"edge_rougher", n(a.edge_rougher)},
          {"edge_lighter", n(a.edge_lighter)},
          {"cooccurrence_contrast", n(a.cooccurrence_contrast)},
          {"cooccurrence_correlation", n(a.cooccurrence_correlation)},
          {"cooccurrence_homogeneity", n(a.cooccurrence_homogeneity)},
          {"cooccurrence_entropy", n(a.cooccurrence_entropy)},
          {"pattern_uniform_share", n(a.pattern_uniform_share)},
          {"edge_dimension", n(a.edge_dimension)},
          {"glint_share", n(a.glint_share)},
          {"brightness_skew", n(a.brightness_skew)},
          {"speckles", n(a.speckles)},
          {"line_strength", n(a.line_strength)},
          {"line_angle_deg", n(kDeg * a.line_angle_rad)},
          {"line_turn_deg", n(kDeg * a.line_turn_rad)},
          {"line_pitch", n(a.line_pitch)},
          {"line_pitch_mm", a.line_pitch_m ? n(1e3 * *a.line_pitch_m) : Json(nullptr)},
          {"contraction", a.contraction ? n(*a.contraction) : Json(nullptr)},
          {"swelling", a.swelling ? n(*a.swelling) : Json(nullptr)},
          {"clipped_share", n(a.clipped_share)}};
}

Json judgement_json(const Judgement& j) {
  return {{"verdict", j.verdict ? Json(name_of(*j.verdict)) : Json(nullptr)},
          {"probability",
           {{"brittle", short_number(j.probability[0])},
            {"mixed", short_number(j.probability[1])},
            {"ductile", short_number(j.probability[2])}}},
          {"reason", j.reason}};
}

Json polygons(const std::vector<Polygon>& parts) {
  Json list = Json::array();
  for (const Polygon& part : parts) list.push_back(polygon(part));
  return list;
}

Json marks_json(const SeenMarks& marks) {
  Json tiles = Json::array();
  for (const double tile : marks.tile_roughness) tiles.push_back(short_number(tile));
  return {{"glints_px", polygons(marks.glints_px)},
          {"specks_px", polygon(marks.specks_px)},
          {"lines_px", polygons(marks.lines_px)},
          {"sides_px", polygons(marks.sides_px)},
          {"lip_px", polygon(marks.lip_px)},
          {"tile_log_roughness", tiles}};
}

Json layers_json(const LayerReading& reading) {
  return {
      {"course", name_of(reading.course)}, {"sure", reading.sure}, {"reason", reading.reason}};
}

Json shear_json(const std::optional<ShearReading>& shear) {
  if (!shear) return nullptr;
  const auto mm = [](const std::optional<double>& x) {
    return x ? Json(short_number(1e3 * *x)) : Json(nullptr);
  };
  return {{"percent", short_number(shear->percent)},
          {"u_percent", shear->u_percent ? Json(short_number(*shear->u_percent)) : nullptr},
          {"a_mm", mm(shear->a_m)},
          {"b_mm", mm(shear->b_m)},
          {"basis", shear->basis},
          {"flat_px", polygon(shear->flat_px)}};
}

Json face_json(const FaceMeasures& face, const std::string& orientation) {
  return {
      {"outline_px", polygon(face.outline_px)},
      {"broken_px", polygon(face.broken_px)},
      {"light_px", polygons(face.light_px)},
      {"notch_found", face.notch_found},
      {"section", section_json(face.section)},
      {"appearance", look_json(face.appearance)},
      {"judgement", judgement_json(face.judgement)},
      {"layers", layers_json(read_layers(face, orientation))},
      {"parting", {{"joined", face.parting.joined}, {"lip", short_number(face.parting.lip)}}},
      {"shear", shear_json(face.shear)},
      {"marks", marks_json(face.marks)},
      {"remarks", remarks_json(face.remarks)}};
}

Json pairs_json(const SurfaceMeasurement& photo) {
  Json list = Json::array();
  for (const HalfPair& pair : photo.pairs) {
    const BreakGuess guess = suggest_break(faces_of(photo, pair), true);
    list.push_back({{"faces", {pair.first + 1, pair.second + 1}},
                    {"unlikeness", short_number(pair.unlikeness)},
                    {"break_type", guess.letter.empty() ? Json(nullptr) : Json(guess.letter)},
                    {"reason", guess.reason}});
  }
  return list;
}

Json card_json(const std::optional<CardFacts>& card) {
  if (!card) return nullptr;
  return {
      {"name", card->name},
      {"tags", card->tags},
      {"residual_px", short_number(card->residual_px)},
      {"blur_mm", short_number(1e3 * card->blur_m)},
      {"px_per_mm", short_number(1e-3 * card->px_per_m)},
      {"tilt_deg", short_number(kDeg * card->tilt_rad)},
      {"distance_mm", short_number(1e3 * card->distance_m)},
      {"print_ratio",
       {{"value", short_number(card->print_ratio)}, {"u", short_number(card->u_print_ratio)}}}};
}

}  // namespace

std::vector<const FaceMeasures*> faces_of(const SurfaceMeasurement& photo,
                                          const HalfPair& pair) {
  return {&photo.faces.at(pair.first), &photo.faces.at(pair.second)};
}

std::string surface_json(const SurfaceRecord& record, const std::string& inputs) {
  Json root = {{"format", "swingloss/surface/1"}};
  if (!inputs.empty()) root["inputs"] = inputs;
  root["orientation"] = record.orientation;
  root["photos"] = Json::array();
  for (const SurfaceMeasurement& photo : record.photos) {
    Json faces = Json::array();
    for (const FaceMeasures& face : photo.faces)
      faces.push_back(face_json(face, record.orientation));
    root["photos"].push_back({{"photo", photo.photo},
                              {"width_px", photo.width_px},
                              {"height_px", photo.height_px},
                              {"card", card_json(photo.card)},
                              {"faces", faces},
                              {"pairs", pairs_json(photo)},
                              {"remarks", remarks_json(photo.remarks)}});
  }
  root["refused"] = remarks_json(record.refused);
  return root.dump(1) + "\n";
}

}  // namespace swingloss
