// SPDX-License-Identifier: Apache-2.0
#include "report/surface_summary_json.h"

#include "series/look_at_faces.h"
#include "surface/judge.h"
#include "surface/layer_course.h"

#include <nlohmann/json.hpp>

namespace swingloss {
namespace {

using Json = nlohmann::ordered_json;

Json with_u(const Uncertain& x, double scale) {
  return {{"value", scale * x.value()}, {"u", scale * x.u()}};
}

Json section_of(const SurfaceRecord& record) {
  for (const SurfaceMeasurement& photo : record.photos) {
    for (const FaceMeasures& face : photo.faces) {
      if (!face.section) continue;
      return {{"thickness_mm", with_u(face.section->thickness_m, 1e3)},
              {"width_mm", with_u(face.section->width_m, 1e3)},
              {"area_mm2", with_u(face.section->area_m2, 1e6)},
              {"notch_found", face.notch_found}};
    }
  }
  return nullptr;
}

Json refused_of(const SurfaceRecord& record) {
  Json list = Json::array();
  for (const Remark& remark : record.refused)
    list.push_back({{"code", remark.code}, {"text", remark.text}});
  return list;
}

}  // namespace

std::string surface_summary_json(const BarResult& bar) {
  if (!bar.surface) return "null";
  const SurfaceRecord& record = *bar.surface;
  const BreakGuess guess = break_guess_of(record);
  const LayerReading layers = layers_of_bar(bar);
  std::size_t faces = 0;
  for (const SurfaceMeasurement& photo : record.photos) faces += photo.faces.size();
  Json json = {{"faces", faces},
               {"section", section_of(record)},
               {"look", nullptr},
               {"probability", nullptr},
               {"break_type", guess.letter.empty() ? Json(nullptr) : Json(guess.letter)},
               {"break_type_reason", guess.reason},
               {"layers", name_of(layers.course)},
               {"layers_sure", layers.sure},
               {"refused", refused_of(record)}};
  const FaceMeasures* face = speaking_face(record);
  if (face == nullptr) return json.dump();
  const auto& p = face->judgement.probability;
  json["look"] = name_of(*face->judgement.verdict);
  json["probability"] = {{"brittle", p[0]}, {"mixed", p[1]}, {"ductile", p[2]}};
  return json.dump();
}

}  // namespace swingloss
