// SPDX-License-Identifier: Apache-2.0
#include "core/angle.h"
#include "core/input_error.h"
#include "series/surface_json.h"
#include "surface/judge.h"

#include <algorithm>

#include <nlohmann/json.hpp>

namespace swingloss {
namespace {

using Json = nlohmann::ordered_json;

constexpr double kDeg = 180.0 / kPi;

Uncertain length(const Json& entry, double scale, const std::string& source) {
  return Uncertain::from(scale * entry.at("value").get<double>(),
                         scale * entry.at("u").get<double>(),
                         source,
                         SourceKind::Own);
}

Polygon polygon(const Json& list) {
  Polygon out;
  for (const Json& p : list) out.emplace_back(p.at(0).get<double>(), p.at(1).get<double>());
  return out;
}

Remarks remarks(const Json& list) {
  Remarks out;
  for (const Json& entry : list) {
    Remark remark;
    remark.code = entry.at("code").get<std::string>();
    remark.text = entry.at("text").get<std::string>();
    const std::string severity = entry.at("severity").get<std::string>();
    for (const Severity s : {Severity::Note, Severity::Warning, Severity::Refusal}) {
      if (severity == name_of(s)) remark.severity = s;
    }
    out.push_back(remark);
  }
  return out;
}

std::optional<SectionSize> section(const Json& entry) {
  if (entry.is_null()) return {};
  SectionSize out;
  out.thickness_m = length(entry.at("thickness_mm"), 1e-3, "photo.thickness");
  out.width_m = length(entry.at("width_mm"), 1e-3, "photo.width");
  out.whole_width_m = length(entry.at("whole_width_mm"), 1e-3, "photo.whole-width");
  out.area_m2 = length(entry.at("area_mm2"), 1e-6, "photo.area");
  return out;
}

Appearance look(const Json& e) {
  const auto n = [&](const char* name) { return e.at(name).get<double>(); };
  Appearance a;
  a.light_share = n("light_share");
  a.light_step = n("light_step");
  a.chroma_drop = n("chroma_drop");
  for (std::size_t i = 0; i < 3; ++i) a.roughness[i] = e.at("roughness").at(i).get<double>();
  a.roughness_spread = n("roughness_spread");
  a.edge_rougher = n("edge_rougher");
  a.edge_lighter = n("edge_lighter");
  a.cooccurrence_contrast = n("cooccurrence_contrast");
  a.cooccurrence_correlation = n("cooccurrence_correlation");
  a.cooccurrence_homogeneity = n("cooccurrence_homogeneity");
  a.cooccurrence_entropy = n("cooccurrence_entropy");
  a.pattern_uniform_share = n("pattern_uniform_share");
  a.edge_dimension = n("edge_dimension");
  a.glint_share = n("glint_share");
  a.brightness_skew = n("brightness_skew");
  a.speckles = n("speckles");
  a.line_strength = n("line_strength");
  a.line_angle_rad = n("line_angle_deg") / kDeg;
  a.line_turn_rad = n("line_turn_deg") / kDeg;
  a.line_pitch = n("line_pitch");
  if (!e.at("line_pitch_mm").is_null()) a.line_pitch_m = 1e-3 * n("line_pitch_mm");
  if (!e.at("contraction").is_null()) a.contraction = n("contraction");
  if (!e.at("swelling").is_null()) a.swelling = n("swelling");
  a.clipped_share = n("clipped_share");
  return a;
}

Judgement judgement(const Json& e) {
  Judgement j;
  for (const FractureLook k :
       {FractureLook::Brittle, FractureLook::Mixed, FractureLook::Ductile}) {
    j.probability[std::size_t(k)] = e.at("probability").at(name_of(k)).get<double>();
    if (!e.at("verdict").is_null() && e.at("verdict") == name_of(k)) j.verdict = k;
  }
  j.reason = e.at("reason").get<std::string>();
  return j;
}

std::vector<Polygon> polygons(const Json& list) {
  std::vector<Polygon> out;
  for (const Json& part : list) out.push_back(polygon(part));
  return out;
}

SeenMarks marks(const Json& e) {
  SeenMarks out;
  out.glints_px = polygons(e.at("glints_px"));
  out.specks_px = polygon(e.at("specks_px"));
  out.lines_px = polygons(e.at("lines_px"));
  out.sides_px = polygons(e.at("sides_px"));
  out.lip_px = polygon(e.at("lip_px"));
  for (std::size_t i = 0; i < 16; ++i)
    out.tile_roughness[i] = e.at("tile_log_roughness").at(i).get<double>();
  return out;
}

std::optional<ShearReading> shear(const Json& e) {
  if (e.is_null()) return {};
  const auto m = [&](const char* key) {
    return e.at(key).is_null() ? std::nullopt
                               : std::optional<double>(1e-3 * e.at(key).get<double>());
  };
  const Json& u = e.at("u_percent");
  return ShearReading{e.at("percent").get<double>(),
                      u.is_null() ? std::nullopt : std::optional<double>(u.get<double>()),
                      m("a_mm"),
                      m("b_mm"),
                      e.at("basis").get<std::string>(),
                      polygon(e.at("flat_px"))};
}

FaceMeasures face(const Json& e) {
  FaceMeasures out;
  out.outline_px = polygon(e.at("outline_px"));
  out.broken_px = polygon(e.at("broken_px"));
  out.light_px = polygons(e.at("light_px"));
  out.notch_found = e.at("notch_found").get<bool>();
  out.section = section(e.at("section"));
  out.appearance = look(e.at("appearance"));
  out.judgement = judgement(e.at("judgement"));
  out.parting = {e.at("parting").at("joined").get<bool>(),
                 e.at("parting").at("lip").get<double>()};
  out.shear = shear(e.at("shear"));
  out.marks = marks(e.at("marks"));
  out.remarks = remarks(e.at("remarks"));
  return out;
}

std::optional<CardFacts> card(const Json& e) {
  if (e.is_null()) return {};
  CardFacts out;
  out.name = e.at("name").get<std::string>();
  out.tags = e.at("tags").get<int>();
  out.residual_px = e.at("residual_px").get<double>();
  out.blur_m = 1e-3 * e.at("blur_mm").get<double>();
  out.px_per_m = 1e3 * e.at("px_per_mm").get<double>();
  out.tilt_rad = e.at("tilt_deg").get<double>() / kDeg;
  out.distance_m = 1e-3 * e.at("distance_mm").get<double>();
  out.print_ratio = e.at("print_ratio").at("value").get<double>();
  out.u_print_ratio = e.at("print_ratio").at("u").get<double>();
  return out;
}

/// \param faces  of the photograph; the file counts them from 1
HalfPair pair(const Json& e, std::size_t faces) {
  const auto first = e.at("faces").at(0).get<std::size_t>();
  const auto second = e.at("faces").at(1).get<std::size_t>();
  if (std::min(first, second) < 1 || std::max(first, second) > faces)
    throw Json::other_error::create(501, "a pair of faces that are not there", nullptr);
  return {first - 1, second - 1, e.at("unlikeness").get<double>()};
}

}  // namespace

StoredSurface parse_surface_json(const std::string& text, const std::string& file) {
  try {
    const Json root = Json::parse(text);
    if (root.at("format") != "swingloss/surface/1")
      throw Json::other_error::create(501, "format", nullptr);
    StoredSurface out;
    out.inputs = root.value("inputs", std::string());
    out.record.orientation = root.at("orientation").get<std::string>();
    for (const Json& photo : root.at("photos")) {
      SurfaceMeasurement m;
      m.photo = photo.at("photo").get<std::string>();
      m.width_px = photo.at("width_px").get<int>();
      m.height_px = photo.at("height_px").get<int>();
      m.card = card(photo.at("card"));
      for (const Json& e : photo.at("faces")) m.faces.push_back(face(e));
      for (const Json& e : photo.at("pairs")) m.pairs.push_back(pair(e, m.faces.size()));
      m.remarks = remarks(photo.at("remarks"));
      out.record.photos.push_back(m);
    }
    out.record.refused = remarks(root.at("refused"));
    return out;
  } catch (const Json::exception& error) {
    throw InputError({file,
                      "",
                      std::string("no surface record (") + error.what() + ")",
                      "a file written by swingloss surface --json",
                      "Measure the photographs again."});
  }
}

}  // namespace swingloss
