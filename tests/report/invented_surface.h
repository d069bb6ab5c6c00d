// SPDX-License-Identifier: Apache-2.0
/// \file invented_surface.h
/// A bar's photograph as if it had been measured: two halves on a card.
#pragma once

#include "series/surface_json.h"

namespace swingloss::test {

[[nodiscard]] inline FaceMeasures invented_face(double left_px) {
  FaceMeasures face;
  face.outline_px = {
      {left_px, 20.0}, {left_px + 40.0, 20.0}, {left_px + 40.0, 120.0}, {left_px, 120.0}};
  face.broken_px = {
      {left_px, 40.0}, {left_px + 40.0, 40.0}, {left_px + 40.0, 120.0}, {left_px, 120.0}};
  face.light_px = {{{left_px + 5.0, 45.0}, {left_px + 15.0, 45.0}, {left_px + 15.0, 60.0}}};
  face.notch_found = true;
  SectionSize size;
  size.thickness_m = Uncertain::from(4.02e-3, 0.02e-3, "edge", SourceKind::Own);
  size.width_m = Uncertain::from(8.01e-3, 0.03e-3, "edge", SourceKind::Own);
  size.whole_width_m = Uncertain::from(10.0e-3, 0.03e-3, "edge", SourceKind::Own);
  size.area_m2 = size.thickness_m * size.width_m;
  face.section = size;
  face.appearance.line_pitch_m = 0.2e-3;
  face.judgement.verdict = FractureLook::Ductile;
  face.judgement.probability = {0.1, 0.2, 0.7};
  face.judgement.reason = "more roughness than most";
  face.marks.specks_px = {{left_px + 8.0, 50.0}};
  face.remarks = {{"glare", Severity::Warning, "Glare covers 6 % of the face."}};
  return face;
}

[[nodiscard]] inline SurfaceRecord invented_surface() {
  SurfaceMeasurement photo;
  photo.photo = "halves.jpg";
  photo.width_px = 400;
  photo.height_px = 300;
  photo.card = CardFacts{"dark-ground", 12, 0.1, 0.05e-3, 30000.0, 0.1, 0.2, 0.999, 0.002};
  photo.faces = {invented_face(10.0), invented_face(70.0)};
  photo.pairs = {{0, 1, 0.25}};
  SurfaceRecord record;
  record.orientation = "flat";
  record.photos = {photo};
  record.refused = {{"picture-blurred", Severity::Refusal, "b.jpg: blurred."}};
  return record;
}

}  // namespace swingloss::test
