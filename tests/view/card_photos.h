// SPDX-License-Identifier: Apache-2.0
/// \file card_photos.h
/// Rendered photographs of a card without bars.
#pragma once

#include "render/face_photo.h"
#include "view/sheet.h"

namespace swingloss::test {

/// The dark-ground card filling a picture of 1280 x 960 pixels, seen a little aslant.
inline render::FaceScene card_scene(std::size_t which = 0) {
  static const cv::Mat dark = sheet_picture(card_page(scale_cards()[0]), 20000.0);
  static const cv::Mat light = sheet_picture(card_page(scale_cards()[1]), 20000.0);
  render::FaceScene scene;
  scene.card = which == 0 ? dark : light;
  scene.width_px = 1280;
  scene.height_px = 960;
  scene.distance_m = 0.115;
  scene.tilt_rad = 0.08;
  scene.roll_rad = 0.1;
  return scene;
}

}  // namespace swingloss::test
