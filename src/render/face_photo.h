// SPDX-License-Identifier: Apache-2.0
/// \file face_photo.h
/// Photographs of broken bars on a card, by rays from the lens.
#pragma once

#include "render/face_look.h"
#include "render/pinhole.h"

#include <vector>

#include <opencv2/core.hpp>

namespace swingloss::render {

/// One half of a bar standing on the card or level with it.
struct PlacedFace {
  FaceLook look;
  cv::Point2d middle_m;   ///< of the section, in the card's frame (x right, y down)
  double turn_rad = 0.0;  ///< of the bar's u axis, from x toward y
  double height_m = 0.0;  ///< of the face above the card's print
};

/// Camera, light and paper.
struct FaceScene {
  cv::Mat card;  ///< CV_8UC1, as printed; empty: a plain table
  double card_px_per_m = 20000.0;
  double print_ratio = 1.0;  ///< true size of the print over what it should be
  Colour ink{0.03F, 0.03F, 0.03F}, paper{0.8F, 0.8F, 0.8F}, table{0.3F, 0.26F, 0.2F};
  std::vector<PlacedFace> faces;
  FaceLight light;
  cv::Point2d aim_m{0.053, 0.046};  ///< the point that the camera looks at
  double distance_m = 0.3;          ///< from lens to that point
  double tilt_rad = 0.0, tilt_toward_rad = 0.0, roll_rad = 0.0;
  double focal_35mm = 26.0;
  double zoom = 1.0;  ///< a crop, as when going on with fewer pixels
  double k1 = 0.0;    ///< as in Pinhole
  int width_px = 1600, height_px = 1200;
  float exposure = 1.0F;
  Colour white_balance{1.0F, 1.0F, 1.0F};
  double blur_px = 0.6, noise_levels = 1.5;
  std::uint64_t seed = 1;
};

/// The photograph, CV_8UC3. Same scene, same bytes. \param jobs  threads, >= 1
[[nodiscard]] cv::Mat photograph(const FaceScene& scene, int jobs = 1);

/// The camera of the scene; room axes are the card's with z toward the camera (so y is turned).
[[nodiscard]] Pinhole camera_over(const FaceScene& scene);

/// Pixel of a place of the card's frame at a height above it.
[[nodiscard]] cv::Point2d pixel_over(const FaceScene& scene,
                                     cv::Point2d card_m,
                                     double height_m);

}  // namespace swingloss::render
