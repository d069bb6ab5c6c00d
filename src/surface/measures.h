// SPDX-License-Identifier: Apache-2.0
/// \file measures.h
/// What a photograph of a broken bar gave: size and look of each face. Plain values, no
/// pictures.
#pragma once

#include "core/remark.h"
#include "core/result.h"
#include "core/uncertain.h"

#include <array>
#include <cstddef>
#include <optional>
#include <string>
#include <vector>

#include <Eigen/Core>

namespace swingloss {

using Polygon = std::vector<Eigen::Vector2d>;

/// Sizes of one broken section. Present only where a scale card gave the scale.
struct SectionSize {
  Uncertain thickness_m;  ///< h, along the notch; without a notch the shorter side
  Uncertain width_m;      ///< b_N, from the root of the notch to the far side; whole where none
  Uncertain whole_width_m;  ///< with the notch
  Uncertain area_m2;        ///< thickness times width: the section that broke
};

/// How the fracture looks. Everything relative to the face itself: brightness in natural
/// logarithms against the face's median, lengths in roots of the face's area. So distance,
/// exposure and the colour of the light leave it alone.
struct Appearance {
  /// Share of the face that is lighter than the rest by a clear step (two separate groups of
  /// brightness; 0 where there is no such step), and the step.
  double light_share = 0.0, light_step = 0.0;
  /// Whether the lighter part is also less coloured: loss of chroma in log ratios; > 0
  /// whitened.
  double chroma_drop = 0.0;
  /// Root mean square of brightness in bands of 1-2, 2-4 and 4-8 % of the face.
  std::array<double, 3> roughness{};
  double roughness_spread = 0.0;  ///< of its logarithm, from tile to tile of a 4 x 4 grid
  double edge_rougher = 0.0;  ///< log roughness of the outer tiles less that of the inner four
  double edge_lighter = 0.0;  ///< brightness likewise
  /// Grey-level co-occurrence [Haralick1973] at 2 % of the face, 16 equally filled levels.
  double cooccurrence_contrast = 0.0, cooccurrence_correlation = 0.0,
         cooccurrence_homogeneity = 0.0, cooccurrence_entropy = 0.0;
  double pattern_uniform_share = 0.0;  ///< of local binary patterns [Ojala2002]
  double edge_dimension = 0.0;         ///< box counting of the steepest fifth [Mandelbrot1984]
  double glint_share = 0.0;      ///< far brighter than its surroundings: facets that mirror
  double brightness_skew = 0.0;  ///< of the fine brightness: > 0 glints, < 0 holes
  double speckles = 0.0;         ///< small bright or dark spots on a hundredth of the face
  /// Lines at one distance: strength 0 to 1, angle from the crack's direction (0 along, 90
  /// degrees across it), distance in roots of the area.
  double line_strength = 0.0, line_angle_rad = 0.0, line_pitch = 0.0;
  double line_turn_rad = 0.0;  ///< the same angle signed, for drawing: > 0 leans to the right
                               ///< going down
  std::optional<double> line_pitch_m;  ///< where there is a scale
  /// Sideways drawing-in at the notch root and swelling at the far side, relative to h; nothing
  /// where the bar's sides or the root were not seen.
  std::optional<double> contraction, swelling;
  double clipped_share = 0.0;  ///< of the face at full white: nothing can be read there
};

/// Features for the model, in the order of feature_names(); nothing for what was not seen.
using Features = std::vector<std::optional<double>>;
[[nodiscard]] Features features_of(const Appearance& look);
[[nodiscard]] const std::vector<std::string>& feature_names();

enum class FractureLook { Brittle, Mixed, Ductile };

/// "brittle", "mixed", "ductile", as files and people spell it.
[[nodiscard]] const char* name_of(FractureLook look);

struct Judgement {
  std::array<double, 3> probability{1.0 / 3, 1.0 / 3, 1.0 / 3};  ///< brittle, mixed, ductile
  std::optional<FractureLook> verdict;                           ///< nothing: cannot tell
  std::string reason;  ///< of the verdict, or of there being none
};

/// Places of single features, to be drawn where they were seen; in the upright photograph.
struct SeenMarks {
  std::vector<Polygon> glints_px;          ///< outlines of what mirrors: facets
  std::vector<Eigen::Vector2d> specks_px;  ///< middles of small spots; at most 400
  std::vector<Polygon> lines_px;  ///< some of the even lines, as open lines of two points
  std::vector<Polygon> sides_px;  ///< the two long sides as found, open; empty without a shape
  Polygon lip_px;  ///< what reaches beyond the far side; empty where nothing does
  /// Root mean square of brightness, middle band, in a 4 x 4 grid of the broken part, row by
  /// row from the notch.
  std::array<double, 16> tile_roughness{};
};

/// What the outline says of how the bar came apart.
struct PartingTraits {
  /// Both ends of the outline have a notch: the two halves still hang together, opened flat.
  bool joined = false;
  /// How far the middle of the far side reaches beyond its ends, relative to the outline's way
  /// from notch to far side; 0 where nothing stands out.
  double lip = 0.0;
};

/// Percent shear of a metal bar, from what the user marked or measured, or as it was found.
struct ShearReading {
  double percent = 0.0;
  std::optional<double> u_percent;  ///< standard uncertainty; only where it was found
  std::optional<double> a_m, b_m;   ///< mean width and depth of the flat part, where known
  std::string basis;                ///< what it was worked out from, in words
  Polygon flat_px;  ///< the flat part on the photograph, as marked or found; else empty
};

/// One broken face.
struct FaceMeasures {
  Polygon outline_px;  ///< of the whole end of the bar, in the upright photograph
  Polygon broken_px;  ///< of the part that broke, as four corners: root left, right, far right,
                      ///< left
  std::vector<Polygon> light_px;  ///< the lighter part of the face, where there is a step
  bool notch_found = false;
  std::optional<SectionSize> section;
  Appearance appearance;
  Judgement judgement;
  SeenMarks marks;
  PartingTraits parting;
  std::optional<ShearReading> shear;  ///< only where A and B or an outline were given, or asked
  Remarks remarks;
};

/// Two faces that belong to one bar.
struct HalfPair {
  std::size_t first = 0, second = 0;  ///< of the photograph's faces
  /// How far the two differ in size, notch, colour and in where they are rough, the halves seen
  /// as mirror pictures: root mean square of differences in units of what true halves differ by
  /// at most; below 1 they are alike.
  double unlikeness = 0.0;
};

/// The card that gave the scale.
struct CardFacts {
  std::string name;
  int tags = 0;
  double residual_px = 0.0, blur_m = 0.0, px_per_m = 0.0, tilt_rad = 0.0, distance_m = 0.0;
  double print_ratio = 1.0, u_print_ratio = 0.0;
};

struct SurfaceMeasurement {
  std::string photo;  ///< as the user named it
  int width_px = 0, height_px = 0;
  std::optional<CardFacts> card;    ///< absent: no sizes, relative features only
  std::vector<FaceMeasures> faces;  ///< row by row as read on the card, from left to right
  std::vector<HalfPair> pairs;      ///< empty where none can be told; a remark says why
  Remarks remarks;
};

}  // namespace swingloss
