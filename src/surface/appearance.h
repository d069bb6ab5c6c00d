// SPDX-License-Identifier: Apache-2.0
/// \file appearance.h
/// What a broken face looks like, as numbers with a physical meaning each.
#pragma once

#include "surface/face_patch.h"
#include "surface/fit_section.h"
#include "surface/measures.h"

#include <array>
#include <optional>

namespace swingloss {

/// Features of a patch alone; those of the outline stay empty.
///
/// Why each: stress whitening shows as a lighter, less coloured part with a step between;
/// tearing roughens and dulls; splitting leaves flat or faceted, glossy places; a mixed break
/// is rough at the edges and flat in the middle; layers of a printed part show as lines, and
/// run across the crack's way or along it; fibres as specks.
[[nodiscard]] Appearance look_of(const FacePatch& patch);

/// Sideways drawing-in at the notch root and swelling at the far side, relative to h, from the
/// points of the two long sides; nothing where the root was not found, or where the points of a
/// side scatter so widely (4 % of h) that they show no form.
struct OutlineDeformation {
  std::optional<double> contraction, swelling;
};
[[nodiscard]] OutlineDeformation deformation_of(const SectionShape& shape);

/// Root mean square of brightness within a band of sizes.
/// \param fine_px, coarse_px  standard deviations of the two Gaussians whose difference is
/// taken
[[nodiscard]] double band_roughness(const cv::Mat& brightness,
                                    double fine_px,
                                    double coarse_px);

/// The face in a 4 x 4 grid, row by row from the notch.
struct FaceTiles {
  std::array<double, 16> roughness{};   ///< natural logarithm, bands of 1-4 % of the face
  std::array<double, 16> brightness{};  ///< means
};
[[nodiscard]] FaceTiles tiles_of(const cv::Mat& brightness);

/// Pixels far brighter than their surroundings: facets that mirror. CV_8UC1.
[[nodiscard]] cv::Mat glint_mask(const cv::Mat& brightness);

/// Single pixels, the middles of small bright or dark spots. CV_8UC1.
[[nodiscard]] cv::Mat speck_mask(const cv::Mat& brightness);

/// Lines at an even distance: the largest peak of the autocorrelation away from its middle.
struct EvenLines {
  double strength = 0.0;   ///< 0 none to 1 perfect
  double angle_rad = 0.0;  ///< of the lines from the vertical, 0 to pi / 2
  double turn_rad = 0.0;   ///< the same with its sign: > 0 leans to the right going down
  double pitch_px = 0.0;
};
[[nodiscard]] EvenLines even_lines(const cv::Mat& brightness);

/// Two groups of brightness: Otsu's split, where the groups stand apart.
struct LightPart {
  double share = 0.0, step = 0.0, chroma_drop = 0.0;
  cv::Mat mask;  ///< CV_8UC1 of the lighter group; empty where there is no step
};
[[nodiscard]] LightPart light_part(const FacePatch& patch);

}  // namespace swingloss
