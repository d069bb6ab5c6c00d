// SPDX-License-Identifier: Apache-2.0
#include "render/face_photo.h"
#include "series/appearance_model.h"
#include "support/test.h"
#include "surface/measure_surface.h"

#include <cmath>

#include <opencv2/imgproc.hpp>

using namespace swingloss;
using namespace swingloss::render;

namespace {

FaceScene plain_scene(FaceKind kind, std::uint64_t seed) {
  FaceScene scene;
  scene.seed = seed;
  scene.width_px = 560;
  scene.height_px = 560;
  scene.distance_m = 0.15;
  scene.zoom = 7.0;
  scene.table = {0.02F, 0.02F, 0.02F};
  scene.light.direction = {0.5, -0.4, 0.75};
  scene.light.sky = 0.3F;
  scene.exposure = 0.8F;
  scene.faces = {{random_face(kind, seed), scene.aim_m, 0.1, 0.0}};
  return scene;
}

Judgement judged(const cv::Mat& photo) {
  const auto surface = measure_surface(photo, "photo", standard_model());
  REQUIRE(surface.ok());
  REQUIRE(surface.value().faces.size() == 1);
  return surface.value().faces.front().judgement;
}

/// "brittle", "cannot tell" ...
std::string word(const Judgement& judgement) {
  return judgement.verdict ? name_of(*judgement.verdict) : "cannot tell";
}

/// Every change that a photographer makes without touching the bar.
std::vector<std::pair<std::string, cv::Mat>> changes_of(const FaceScene& scene) {
  std::vector<std::pair<std::string, cv::Mat>> changed;
  const auto add = [&](const char* what, const FaceScene& other) {
    changed.emplace_back(what, photograph(other));
  };
  FaceScene other = scene;
  other.roll_rad = CV_PI / 2.0;
  add("turned by 90 degrees", other);
  other = scene;
  other.roll_rad = 0.4;
  add("turned by 23 degrees", other);
  other = scene;
  other.distance_m *= 1.2;
  add("from farther away", other);
  other = scene;
  other.exposure *= 0.6F;
  add("darker", other);
  other = scene;
  other.white_balance = {1.2F, 1.0F, 0.8F};
  add("bluer", other);
  other = scene;
  other.blur_px = 1.1;
  add("a little blurred", other);
  return changed;
}

}  // namespace

TEST_CASE("turn, scale, exposure, white balance and mild blur turn no verdict into another",
          "[series][synthetic]") {
  int verdicts = 0;
  int kept = 0;
  int compared = 0;
  for (std::uint64_t seed = 501; seed < 507; ++seed) {
    const FaceScene scene = plain_scene(static_cast<FaceKind>(seed % 3), seed);
    const Judgement before = judged(photograph(scene));
    if (!before.verdict) continue;
    ++verdicts;
    for (const auto& [what, photo] : changes_of(scene)) {
      const Judgement after = judged(photo);
      CAPTURE(seed, what, word(before), word(after));
      // Doubt may arise, another class may not.
      CHECK((!after.verdict || *after.verdict == *before.verdict));
      kept += after.verdict ? 1 : 0;
      ++compared;
    }
  }
  CHECK(verdicts >= 4);
  // "Cannot tell" must not be the way out: nine in ten verdicts stay.
  CHECK(kept * 10 >= compared * 9);
}

TEST_CASE("very different light leaves the verdicts of most faces, for no level is fixed",
          "[series][synthetic]") {
  int same = 0;
  int turned = 0;
  int faces = 0;
  for (std::uint64_t seed = 601; seed < 607; ++seed) {
    FaceScene scene = plain_scene(static_cast<FaceKind>(seed % 3), seed);
    const Judgement before = judged(photograph(scene));
    if (!before.verdict) continue;
    // A low lamp from the other side with little light around it, half as bright; then a dull
    // sky with hardly a lamp, in yellow light.
    FaceScene low = scene;
    low.light.direction = {-0.7, 0.5, 0.5};
    low.light.sky = 0.12F;
    low.exposure = 0.5F;
    FaceScene dull = scene;
    dull.light.lamp = 0.35F;
    dull.light.sky = 0.7F;
    dull.white_balance = {0.7F, 1.0F, 1.15F};
    for (const FaceScene& other : {low, dull}) {
      const Judgement after = judged(photograph(other));
      ++faces;
      same += after.verdict && *after.verdict == *before.verdict ? 1 : 0;
      turned += after.verdict && *after.verdict != *before.verdict ? 1 : 0;
    }
  }
  CAPTURE(faces, same, turned);
  // Relief itself looks otherwise under another lamp, so some doubt is right; a fixed level
  // would turn about two verdicts of three (chance).
  CHECK(faces >= 8);
  CHECK(same * 3 >= faces * 2);
  CHECK(turned * 5 <= faces);
}
