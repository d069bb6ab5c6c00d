// SPDX-License-Identifier: Apache-2.0
#include "surface/measure_surface.h"

#include "core/number_text.h"
#include "surface/pair_halves.h"
#include "surface/percent_shear.h"
#include "surface/seen_marks.h"
#include "surface/size_section.h"

#include <algorithm>
#include <cmath>

#include <opencv2/imgproc.hpp>

namespace swingloss {
namespace {

using Eigen::Vector2d;

constexpr double kMostPrintError = 0.02;
/// A face whose finest band holds less than this share of the next has lost it to blur.
constexpr double kSharpRatio = 0.12;

Result<ScaleFacts> scale_facts(const CardView& card, const SurfaceOptions& options) {
  ScaleFacts facts;
  facts.face_height_m = options.face_height_m;
  facts.u_face_height_m = options.u_face_height_m;
  if (!options.ruler_m) return facts;
  facts.print_ratio = *options.ruler_m / card.card.ruler_m;
  facts.u_print_ratio = options.u_ruler_m / card.card.ruler_m;
  if (std::abs(facts.print_ratio - 1.0) > kMostPrintError) {
    return Failure{"print-scaled",
                   "the ruler of the card measures " + fixed_text(1e3 * *options.ruler_m, 2) +
                       " mm instead of " + fixed_text(1e3 * card.card.ruler_m, 2) +
                       ": the card was printed at " + fixed_text(100.0 * facts.print_ratio, 1) +
                       " %",
                   "Print it again at 100 % (\"actual size\"), without fitting to the page."};
  }
  return facts;
}

Polygon in_photo(const PlanePicture& plane, const std::array<Vector2d, 4>& corners) {
  Polygon out;
  for (const Vector2d& corner : corners) out.push_back(plane.photo_px(corner));
  return out;
}

/// Without a notch up and down are not known; the longer way is taken for the crack's.
void stand_upright(std::array<Vector2d, 4>& corners) {
  if ((corners[1] - corners[0]).norm() > (corners[2] - corners[1]).norm()) {
    std::rotate(corners.begin(), corners.begin() + 1, corners.end());
  }
}

void add_refusal(const Failure& why, FaceMeasures& face) {
  face.remarks.push_back({why.code, Severity::Refusal, sentences_of(why)});
}

void add_section(const PlanePicture& plane,
                 const SectionShape& shape,
                 const ScaleFacts& facts,
                 const Lip& lip,
                 FaceMeasures& face) {
  const auto sized = size_section(plane, shape, facts, lip);
  if (!sized.ok()) {
    add_refusal(sized.failure(), face);
    return;
  }
  face.section = sized.value();
  if (!shape.notch_found) {
    face.remarks.push_back({"no-notch-root",
                            Severity::Warning,
                            "No root of a notch can be told on this face: the width is that of "
                            "the whole outline."});
  }
}

void add_lip_remark(FaceMeasures& face) {
  face.remarks.push_back(
      {"lip",
       Severity::Note,
       "A lip of " + fixed_text(100.0 * face.parting.lip, 0) +
           " % of the way stands beyond the far side: b_N is taken beside it, "
           "with more doubt. Caliper it there."});
}

void add_look_remarks(bool whole_picture, FaceMeasures& face) {
  if (whole_picture) {
    face.remarks.push_back({"whole-picture",
                            Severity::Warning,
                            "No bar's end stands out from a ground: the whole picture is taken "
                            "for the face. Leave plain ground around it."});
  }
  constexpr double kSomeGlare = 0.05;
  if (face.appearance.clipped_share > kSomeGlare) {
    face.remarks.push_back({"glare",
                            Severity::Warning,
                            "Glare covers " +
                                fixed_text(100.0 * face.appearance.clipped_share, 0) +
                                " % of the face. Turn the lamp or the bar until it is gone."});
  }
}

/// The shape of an area, where one can be told; why not is remarked on where sizes were hoped
/// for.
std::optional<SectionShape> shape_of(const PlanePicture& plane,
                                     const FaceArea& area,
                                     FaceMeasures& face) {
  if (area.whole_picture) return {};
  const auto fitted = fit_section(plane, area);
  if (fitted.ok()) return fitted.value();
  if (plane.card) add_refusal(fitted.failure(), face);
  return {};
}

/// Outline, section and what the outline says of the parting.
void add_shape(const PlanePicture& plane,
               const FaceArea& area,
               const SectionShape& shape,
               const std::optional<ScaleFacts>& facts,
               FaceMeasures& face) {
  face.notch_found = shape.notch_found;
  const OutlineDeformation deformed = deformation_of(shape);
  face.appearance.contraction = deformed.contraction;
  face.appearance.swelling = deformed.swelling;
  face.outline_px.clear();
  for (const SideLine& side : shape.sides)
    face.outline_px.push_back(plane.photo_px(side.from_px));
  const Lip lip = lip_of(area, shape);
  face.parting = parting_of(plane, area, shape, lip, face.marks);
  if (face.parting.joined) {
    face.remarks.push_back({"halves-joined",
                            Severity::Warning,
                            "Both ends of the outline have a notch: the two halves still hang "
                            "together. No sizes are given; cut them apart to measure."});
    return;
  }
  if (facts) add_section(plane, shape, *facts, lip, face);
  if (face.parting.lip > 0.0) add_lip_remark(face);
}

/// Where on the plane the face is looked at, and how much of its rim is left out.
PatchPlace place_of(const PlanePicture& plane,
                    const FaceArea& area,
                    const std::optional<SectionShape>& shape) {
  PatchPlace place{plane, box_around(area), area.whole_picture ? 0.0 : 0.12, {}};
  if (shape) {
    place.corners = shape->broken_px;
    place.inset = 0.04;
  }
  if (!shape || !shape->notch_found) stand_upright(place.corners);
  return place;
}

/// Percent shear of a metal bar, or why there is none.
void add_shear(const FacePatch& patch, double inset, FaceMeasures& face) {
  const Result<FlatPart> flat =
      face.notch_found ? find_flat_part(patch, inset)
                       : Failure{"flat-part-not-told",
                                 "which part broke is not known without the notch's root",
                                 "Mark the flat part yourself (--flat)."};
  if (flat.ok()) {
    face.shear = shear_found(face, flat.value());
    return;
  }
  const Failure& why = flat.failure();
  face.remarks.push_back({why.code, Severity::Warning, sentences_of(why)});
}

/// One face and what the pairing of halves wants to know of it.
struct SeenFace {
  FaceMeasures face;
  HalfTraits traits;
};

SeenFace measure_face(const PlanePicture& plane,
                      const FaceArea& area,
                      const AppearanceModel& model,
                      const std::optional<ScaleFacts>& facts,
                      bool find_shear) {
  SeenFace seen;
  FaceMeasures& face = seen.face;
  const auto shape = shape_of(plane, area, face);
  PatchPlace place = place_of(plane, area, shape);
  const FacePatch patch = cut_patch(plane, place.corners, place.inset);
  place.patch_px = patch.brightness.size();
  face.outline_px = face.broken_px = in_photo(plane, place.corners);
  face.appearance = look_of(patch);
  face.light_px = outlines_of(place, light_part(patch).mask, 200.0);
  face.marks = marks_of(place, patch, face.appearance);
  if (shape) add_shape(plane, area, *shape, facts, face);
  if (face.section) {
    face.appearance.line_pitch_m = face.appearance.line_pitch *
                                   std::sqrt(face.section->area_m2.value()) *
                                   (1.0 - 2.0 * place.inset);
  }
  if (find_shear) add_shear(patch, place.inset, face);
  const bool sharp = face.appearance.roughness[0] > kSharpRatio * face.appearance.roughness[1];
  face.judgement = judge(model, face.appearance, {patch.source_px, sharp, shape.has_value()});
  add_look_remarks(area.whole_picture, face);
  seen.traits = {patch.medians[0],
                 patch.medians[1],
                 patch.medians[2],
                 (face.outline_px[0] + face.outline_px[2]) / 2.0};
  return seen;
}

void add_pairs(const std::vector<SeenFace>& seen,
               const SurfaceOptions& options,
               SurfaceMeasurement& out) {
  std::vector<HalfTraits> traits;
  traits.reserve(seen.size());
  for (const SeenFace& one : seen) traits.push_back(one.traits);
  const auto pairs = pair_halves(out.faces, traits, options.bars);
  if (pairs.ok()) {
    out.pairs = pairs.value();
    return;
  }
  out.remarks.push_back(
      {pairs.failure().code, Severity::Warning, sentences_of(pairs.failure())});
}

CardFacts facts_of(const CardView& card, const ScaleFacts& facts) {
  return {card.card.name,
          card.tags,
          card.residual_px,
          card.blur_px / card.px_per_m,
          card.px_per_m,
          card.pose.tilt_rad,
          card.pose.distance_m,
          facts.print_ratio,
          facts.u_print_ratio};
}

void add_card_remarks(const SurfaceOptions& options, SurfaceMeasurement& out) {
  if (!out.card) {
    out.remarks.push_back({"no-card",
                           Severity::Note,
                           "No scale card is in the picture: no sizes are given, and features "
                           "are relative to the face itself."});
    return;
  }
  if (!options.ruler_m) {
    out.remarks.push_back(
        {"print-not-checked",
         Severity::Warning,
         "The printed size of the card was not checked: sizes may be off by "
         "up to 3 %. Measure the card's ruler and give its length (--ruler)."});
  }
}

}  // namespace

Result<SurfaceMeasurement> measure_surface(const cv::Mat& photo,
                                           const std::string& name,
                                           const AppearanceModel& model,
                                           const SurfaceOptions& options) {
  SurfaceMeasurement out;
  out.photo = name;
  out.width_px = photo.cols;
  out.height_px = photo.rows;
  CardViewOptions card_options;
  card_options.focal_35mm = options.focal_35mm;
  const auto card = find_card(photo, card_options);
  if (!card.ok() && card.failure().code != "no-card") return card.failure();
  std::optional<ScaleFacts> facts;
  if (card.ok()) {
    const auto known = scale_facts(card.value(), options);
    if (!known.ok()) return known.failure();
    facts = known.value();
    out.card = facts_of(card.value(), *facts);
  }
  const PlanePicture plane = card.ok() ? window_of(photo, card.value()) : without_scale(photo);
  const auto areas = find_faces(plane);
  if (!areas.ok()) return areas.failure();
  std::vector<SeenFace> seen;
  for (const FaceArea& area : areas.value()) {
    seen.push_back(measure_face(plane, area, model, facts, options.find_shear));
    out.faces.push_back(seen.back().face);
  }
  add_card_remarks(options, out);
  add_pairs(seen, options, out);
  return out;
}

}  // namespace swingloss
