// SPDX-License-Identifier: Apache-2.0
/// \file measure_surface.h
/// A photograph of broken bars in, size and look of every face out.
#pragma once

#include "surface/judge.h"
#include "surface/measures.h"

#include <optional>
#include <string>

#include <opencv2/core.hpp>

namespace swingloss {

struct SurfaceOptions {
  std::optional<double>
      ruler_m;                 ///< length of the card's ruler as printed; nothing: not measured
  double u_ruler_m = 0.15e-3;  ///< of that reading: a steel rule read by eye at two ends
  double face_height_m = 0.0;  ///< of the broken face above the card's print
  double u_face_height_m = 0.5e-3;
  std::optional<double> focal_35mm;  ///< as the camera noted it [mm]
  std::optional<int> bars;  ///< that lie on the photograph, each with one half or both;
                            ///< nothing: not known
  bool find_shear = false;  ///< the bars are metal: look for the flat part (find_flat_part.h)
};

/// \param photo  upright, CV_8UC3
/// \param name   as the user gave it
/// \return Failure: those of find_card() but no-card, of find_faces(), and `print-scaled` (the
///   ruler shows that the card was printed more than 2 % off: such a print is not trusted to be
///   off alike in both directions)
[[nodiscard]] Result<SurfaceMeasurement> measure_surface(const cv::Mat& photo,
                                                         const std::string& name,
                                                         const AppearanceModel& model,
                                                         const SurfaceOptions& options = {});

}  // namespace swingloss
