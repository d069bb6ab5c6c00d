// SPDX-License-Identifier: Apache-2.0
/// \file face_look.h
/// Broken faces as they might look, from the physics of how they came about.
#pragma once

#include "render/prism.h"

#include <cstdint>

#include <opencv2/core.hpp>

namespace swingloss::render {

/// One end of a broken bar. Lengths in metres. Bar frame: u across the bar along the notch
/// (thickness h), v from the notched side to the far side, both from the middle of the section.
struct FaceLook {
  std::uint64_t seed = 1;
  double thickness_m = 4e-3;    ///< h
  double width_m = 10e-3;       ///< whole, before the notch was cut
  double notch_depth_m = 2e-3;  ///< 0: no notch
  Colour albedo{0.5F, 0.5F, 0.5F};
  double gloss = 0.15;         ///< share of light thrown back as by a mirror
  double gloss_exponent = 40;  ///< its sharpness

  /// Share of the face that tore with flow: from the notch root, the two sides and the far
  /// side inward; the rest split without. 0 brittle, 1 ductile.
  double torn = 0.0;
  // Of what split: facets with a tilt each, and fine steps that run away from the notch.
  double facet_m = 0.5e-3, facet_tilt_rad = 0.2, hackle_rad = 0.1;
  // Of what tore: dimples and drawn tufts, whiter and less coloured than the skin.
  double dimple_m = 0.25e-3, dimple_slope = 0.6, whitening = 0.5;
  /// Sideways drawing-in below the notch and swelling at the far side, relative to h.
  double contraction = 0.0, swelling = 0.0;
  /// A lip that was drawn out of the far side: how far it reaches beyond it over the middle
  /// `lip_share` of the thickness, with a ragged edge.
  double lip_m = 0.0, lip_share = 0.5;
  /// The other half of the same break: the mirror picture, hills where the first has hollows;
  /// what tore has cups on both.
  bool other_half = false;
  double fine_slope = 0.05;  ///< of grain of 60 um all over

  // Printed parts: steps from layer to layer, their normal along u (0) or turned.
  double layer_m = 0.0, layer_turn_rad = 0.0, layer_slope = 0.0;
  // Filled parts: ends and holes of fibres.
  double fibres_per_mm2 = 0.0, fibre_m = 20e-6;
};

/// Light upon the face: from `direction` (toward the lamp, z up from the face) and all round.
struct FaceLight {
  cv::Vec3d direction{0.5, -0.4, 0.75};
  float lamp = 0.75F, sky = 0.3F;
};

/// The face as light thrown toward a camera straight above, CV_32FC3 linear, beside which lies
/// nothing: `inside` is the share of each pixel that the face covers.
struct FacePicture {
  cv::Mat light;   ///< CV_32FC3
  cv::Mat inside;  ///< CV_32FC1, 0 to 1
  double px_per_m = 30000.0;
  [[nodiscard]] cv::Point2d pixel_of(double u_m, double v_m) const {
    return {(light.cols - 1) / 2.0 + u_m * px_per_m, (light.rows - 1) / 2.0 + v_m * px_per_m};
  }
};

[[nodiscard]] FacePicture picture_of(const FaceLook& look,
                                     const FaceLight& light,
                                     double px_per_m = 30000.0);

/// How far a lip reaches beyond the far side at a place across the bar [m].
[[nodiscard]] double lip_at(const FaceLook& look, double u_m);

/// Half the face's width across the bar at a distance v from the middle [m].
[[nodiscard]] double half_thickness_at(const FaceLook& look, double v_m);

enum class FaceKind { Brittle, Mixed, Ductile };

/// A face of a kind drawn at random: plastics plain, printed and filled, white to black, and
/// metal. The kinds overlap in everything but the share that tore: brittle below 0.15, ductile
/// above 0.85, mixed from 0.3 to 0.7.
[[nodiscard]] FaceLook random_face(FaceKind kind, std::uint64_t seed);

}  // namespace swingloss::render
