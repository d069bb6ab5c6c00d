// SPDX-License-Identifier: Apache-2.0
/// \file face_photos.h
/// Rendered photographs of broken bars on a card, small enough for tests.
#pragma once

#include "render/face_photo.h"
#include "surface/judge.h"
#include "view/sheet.h"

#include <cmath>

namespace swingloss::test {

/// A model that knows nothing: sizes and refusals do not depend on it.
inline AppearanceModel blank_model() {
  AppearanceModel model;
  model.features = feature_names();
  const auto n = Eigen::Index(model.features.size());
  model.mean = Eigen::VectorXd::Zero(n);
  model.scale = Eigen::VectorXd::Constant(n, 10.0);
  model.weights = Eigen::MatrixXd::Zero(3, n);
  return model;
}

/// A card (0 dark, 1 light ground) with one face of each kind, seen a little aslant.
inline render::FaceScene scene_with_faces(std::uint64_t seed, std::size_t ground) {
  using namespace render;
  static const cv::Mat dark = sheet_picture(card_page(scale_cards()[0]), 20000.0);
  static const cv::Mat light = sheet_picture(card_page(scale_cards()[1]), 20000.0);
  FaceScene scene;
  scene.card = ground == 0 ? dark : light;
  scene.width_px = 1400;
  scene.height_px = 1050;
  scene.distance_m = 0.125;
  scene.tilt_rad = 0.02 * double(seed % 5);
  scene.tilt_toward_rad = 0.7 * double(seed);
  scene.roll_rad = 0.3 * double(seed);
  scene.seed = seed;
  const double round = 1.1 * double(seed);
  scene.light.direction = {0.6 * std::cos(round), 0.6 * std::sin(round), 0.7};
  for (int k = 0; k < 3; ++k) {
    PlacedFace face;
    face.look = random_face(static_cast<FaceKind>(k), 3 * seed + std::uint64_t(k));
    face.middle_m = {0.034 + 0.019 * k, 0.038};
    face.turn_rad = 0.05 * k + 0.2 * double(seed % 3);
    scene.faces.push_back(face);
  }
  return scene;
}

/// A steel-like bar with one plain notch, alone in the middle of the window.
inline render::FaceScene scene_with_one(double torn = 0.9) {
  render::FaceScene scene = scene_with_faces(2, 0);
  render::FaceLook look;
  look.seed = 11;
  look.thickness_m = 6e-3;
  look.width_m = 10e-3;
  look.torn = torn;
  look.albedo = render::colour(180, 60, 40);
  look.whitening = 0.6;
  scene.faces = {{look, {0.053, 0.038}, 0.2, 0.0}};
  return scene;
}

}  // namespace swingloss::test
