// SPDX-License-Identifier: Apache-2.0
#include "surface/find_flat_part.h"

#include "render/random_stream.h"
#include "support/test.h"
#include "surface/face_photos.h"
#include "surface/measure_surface.h"

#include <algorithm>
#include <cmath>

using namespace swingloss;

namespace {

/// A steel-like bar of 10 x 10 mm with a notch of 2 mm, on a dark table, each with its own
/// lamp, grain and camera.
render::FaceScene steel(std::uint64_t seed, double torn) {
  render::RandomStream random(seed, 78);
  render::FaceScene scene;
  scene.seed = seed;
  scene.width_px = 600;
  scene.height_px = 600;
  scene.zoom = 5.0;
  scene.distance_m = 0.15;
  scene.tilt_rad = random.uniform(0.0, 0.1);
  scene.tilt_toward_rad = random.uniform(0.0, 6.28);
  const double round = random.uniform(0.0, 6.28);
  const double up = random.uniform(0.3, 1.3);
  scene.light.direction = {
      std::cos(round) * std::cos(up), std::sin(round) * std::cos(up), std::sin(up)};
  scene.table = {0.05F, 0.05F, 0.05F};
  render::FaceLook look = render::random_face(render::FaceKind::Mixed, seed);
  look.thickness_m = 10e-3;
  look.width_m = 10e-3;
  look.notch_depth_m = 2e-3;
  look.layer_m = 0.0;
  look.fibres_per_mm2 = 0.0;
  look.whitening = 0.0;
  look.albedo = render::colour(150, 150, 152);
  look.gloss = random.uniform(0.2, 0.5);
  look.torn = torn;
  scene.faces = {{look, scene.aim_m, 0.1, 0.0}};
  scene.light.sky = float(random.uniform(0.1, 0.5));
  scene.exposure = float(random.uniform(0.6, 1.1));
  return scene;
}

/// What the renderer's rule (render/face_look.cc) leaves flat: a rectangle whose sides draw in
/// from the two sides, the root and the far side at rates 1/2, 1/1.6 and 1/2.2 of a depth that
/// grows as the torn share does. Its ragged border adds as much as it takes.
double true_percent(double torn) {
  const double depth = 1.0 - std::sqrt(1.0 - torn);
  return 100.0 * (1.0 - (1.0 - depth) * (1.0 - depth / 1.6 - depth / 2.2));
}

FaceMeasures measured(const render::FaceScene& scene) {
  SurfaceOptions options;
  options.find_shear = true;
  const auto surface =
      measure_surface(render::photograph(scene), "steel", test::blank_model(), options);
  REQUIRE(surface.ok());
  REQUIRE(surface.value().faces.size() == 1);
  return surface.value().faces.front();
}

bool cannot_tell(const FaceMeasures& face) {
  return !face.shear &&
         std::any_of(face.remarks.begin(), face.remarks.end(), [](const Remark& r) {
           return r.code == "flat-part-not-told";
         });
}

}  // namespace

TEST_CASE("the flat part of a steel-like face is found, with an honest uncertainty",
          "[surface][synthetic]") {
  double squares = 0.0;
  int told = 0;
  int seen = 0;
  for (std::uint64_t seed = 1; seed <= 12; ++seed) {
    const double torn = 0.3 + 0.05 * double(seed);
    const FaceMeasures face = measured(steel(seed, torn));
    CAPTURE(seed, torn);
    if (!face.notch_found) continue;
    ++seen;
    if (!face.shear) {
      CHECK(cannot_tell(face));
      continue;
    }
    ++told;
    REQUIRE(face.shear->u_percent);
    const double u = *face.shear->u_percent;
    CHECK_THAT(face.shear->percent, test::to_uncertainty(true_percent(torn), u));
    CHECK(u < 10.0);
    CHECK(face.shear->flat_px.size() == 4);
    squares += std::pow((face.shear->percent - true_percent(torn)) / u, 2);
  }
  CHECK(seen >= 8);
  CHECK(4 * told >= 3 * seen);
  // The mean square of n standard scores is 1 with deviation sqrt(2 / n).
  CHECK_THAT(squares / told, test::to_truncation(1.0, 3.0 * std::sqrt(2.0 / told)));
}

TEST_CASE("a face without a border between flat and torn is not given a percentage",
          "[surface][synthetic]") {
  for (std::uint64_t seed = 21; seed <= 24; ++seed) {
    for (const double torn : {0.0, 1.0}) {
      const FaceMeasures face = measured(steel(seed, torn));
      CAPTURE(seed, torn);
      CHECK(cannot_tell(face));
    }
  }
}

TEST_CASE("a face of few pixels is not given a percentage", "[surface][synthetic]") {
  render::FaceScene scene = steel(5, 0.6);
  scene.width_px = scene.height_px = 240;
  CHECK(cannot_tell(measured(scene)));
}

TEST_CASE("percent shear is looked for only where it was asked", "[surface]") {
  SurfaceOptions options;
  const auto surface =
      measure_surface(render::photograph(steel(5, 0.6)), "steel", test::blank_model(), options);
  REQUIRE(surface.ok());
  CHECK_FALSE(surface.value().faces.front().shear);
}
