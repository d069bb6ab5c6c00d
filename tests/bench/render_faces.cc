// SPDX-License-Identifier: Apache-2.0
// Renders labelled faces of invented bars: the training of calibration/appearance/model.json.
//   render_faces FOLDER [BARS] [FIRST SEED]
// One face a photograph, brittle, mixed, ductile in turn, on a plain table under its own lamp,
// camera and exposure, 19 to 28 pixels a millimetre; labels.csv goes beside. Light is drawn
// widely: a lamp from steep to grazing, hard to a cloudy sky, half to one and a half of the
// right exposure, yellow lamps to blue shade, surfaces half to twice as glossy as usual.
#include "core/text_file.h"
#include "imaging/still.h"
#include "render/face_photo.h"
#include "render/random_stream.h"

#include <algorithm>
#include <cmath>
#include <cstdlib>

using namespace swingloss;
using namespace swingloss::render;

namespace {

constexpr const char* kLabels[] = {"brittle", "mixed", "ductile"};

FaceScene scene_of(std::uint64_t seed) {
  RandomStream random(seed, 5);
  FaceScene scene;
  scene.seed = seed;
  scene.width_px = 560;
  scene.height_px = 560;
  scene.distance_m = random.uniform(0.13, 0.16);
  scene.tilt_rad = random.uniform(0.0, 0.15);
  scene.tilt_toward_rad = random.uniform(0.0, 6.28);
  scene.roll_rad = random.uniform(-0.5, 0.5);
  scene.k1 = random.uniform(-0.02, 0.02);
  const double round = random.uniform(0.0, 6.28);
  const double up = random.uniform(0.2, 1.45);
  scene.light.direction = {
      std::cos(round) * std::cos(up), std::sin(round) * std::cos(up), std::sin(up)};
  scene.light.sky = float(random.uniform(0.06, 0.8));
  scene.light.lamp = float(random.uniform(0.3, 0.95));
  scene.exposure = float(std::exp(random.uniform(std::log(0.5), std::log(1.5))));
  const double warm = random.uniform(-0.3, 0.3);  // a lamp's colour that was not put right
  scene.white_balance = {float(std::exp(-warm) * random.uniform(0.93, 1.07)),
                         1.0F,
                         float(std::exp(warm) * random.uniform(0.93, 1.07))};
  scene.blur_px = random.uniform(0.5, 1.5);
  scene.zoom = random.uniform(5.5, 8.0);
  const float ground = float(random.uniform(0.02, 0.7));
  scene.table = {ground, ground * float(random.uniform(0.8, 1.1)), ground};
  scene.noise_levels = random.uniform(1.0, 4.0);
  return scene;
}

FaceLook face_of(int kind, std::uint64_t seed) {
  RandomStream random(seed, 7);
  FaceLook look = random_face(static_cast<FaceKind>(kind), seed);
  look.gloss = std::min(0.6, look.gloss * std::exp(random.uniform(-0.7, 0.7)));
  return look;
}

}  // namespace

int main(int count, char** words) {
  if (count < 2) return 2;
  const std::string folder = words[1];
  const int bars = count > 2 ? std::atoi(words[2]) : 240;
  const std::uint64_t first = count > 3 ? std::strtoull(words[3], nullptr, 10) : 1;
  std::string labels = "bar,photo,label\n";
  for (int i = 0; i < bars; ++i) {
    const std::uint64_t seed = first + std::uint64_t(i);
    const int kind = i % 3;
    FaceScene scene = scene_of(seed);
    scene.faces = {{face_of(kind, seed), scene.aim_m, 0.1, 0.0}};
    const std::string name = "bar-" + std::to_string(i + 1) + ".png";
    write_png(folder + "/" + name, photograph(scene));
    labels += std::to_string(i + 1) + "," + name + "," + kLabels[kind] + "\n";
  }
  write_file(folder + "/labels.csv", labels);
  return 0;
}
