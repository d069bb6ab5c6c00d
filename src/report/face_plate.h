// SPDX-License-Identifier: Apache-2.0
/// \file face_plate.h
/// A broken face with what was seen on it drawn in, and said beside it.
#pragma once

#include "imaging/still.h"
#include "surface/measures.h"

#include <string>
#include <vector>

namespace swingloss {

/// A photograph with its measurement.
struct FacePhoto {
  SurfaceMeasurement measured;
  Still still;
};

/// A drawn plate, encoded; both empty where there is nothing to show.
struct FacePlate {
  std::string png;
  std::string jpeg;  ///< half as wide, for pages
};

struct FacePlateOptions {
  std::string title;        ///< of the plate; ASCII
  std::string stamp;        ///< for invented data; ASCII
  std::string orientation;  ///< of the bar, for the sentence on its layers; empty: not known
};

/// One row a face, 1920 pixels wide: the face with a scale bar and, each in its colour, the
/// outline of the bar's end, what broke, its long sides as found, the lighter part, glints,
/// specks, even lines, a lip and a marked flat part; beside it sizes, features, the grid of
/// roughness and the judgement with its probabilities. Rows are in the order of the photographs
/// and their faces; a legend stands below. \return nothing in either without faces
[[nodiscard]] FacePlate draw_face_plate(const std::vector<FacePhoto>& photos,
                                        const FacePlateOptions& options = {});

/// A picture of plates as files have it. \param bgr  CV_8UC3
[[nodiscard]] FacePlate encoded_plate(const Still& bgr);

/// The face alone with outline and scale bar, to fit a box. \param face  one of `photo`'s
[[nodiscard]] Still draw_face(const FacePhoto& photo, const FaceMeasures& face);

}  // namespace swingloss
