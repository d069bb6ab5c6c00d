// SPDX-License-Identifier: Apache-2.0
#include "render/demo_faces.h"

#include "core/expects.h"
#include "render/random_stream.h"

#include <algorithm>
#include <cmath>
#include <set>

namespace swingloss {
namespace {

using render::FaceLook;
using render::FaceScene;

constexpr double kNotch_m = 2e-3;

/// Place among the demo's bars.
std::uint64_t number_of(const DemoBar& bar) {
  const auto& bars = demo_bars();
  return std::uint64_t(std::find_if(bars.begin(),
                                    bars.end(),
                                    [&](const DemoBar& other) { return other.id == bar.id; }) -
                       bars.begin());
}

FaceLook look_of(const DemoBar& bar, const std::string& kind) {
  render::RandomStream random(700 + number_of(bar), 3);
  FaceLook look;
  look.seed = 700 + number_of(bar);
  look.thickness_m = 1e-3 * bar.thickness_mm;
  look.width_m = 1e-3 * bar.width_mm + kNotch_m;
  look.notch_depth_m = kNotch_m;
  look.torn = kind == "brittle"   ? random.uniform(0.02, 0.12)
              : kind == "ductile" ? random.uniform(0.9, 1.0)
                                  : random.uniform(0.35, 0.65);
  if (bar.material == "Fennick") look.albedo = render::colour(214, 206, 186);
  if (bar.material == "Dunmarl") look.albedo = render::colour(44, 80, 146);
  if (bar.material == "Tallow-X") look.albedo = render::colour(222, 140, 44);
  look.facet_m = random.uniform(0.3e-3, 0.9e-3);
  look.facet_tilt_rad = random.uniform(0.1, 0.3);
  look.hackle_rad = random.uniform(0.05, 0.25);
  look.whitening = random.uniform(0.35, 0.6);
  look.contraction = 0.06 * look.torn;
  look.swelling = 0.08 * look.torn;
  look.layer_m = 0.2e-3;  // printed flat: layers stacked along the notch
  look.layer_slope = 0.25;
  return look;
}

}  // namespace

std::optional<std::string> demo_look(const DemoBar& bar) {
  // Two or three of a group, so that rendering stays short.
  static const std::set<std::string> kPhotographed = {
      "F1", "F2", "F3", "FA1", "FA2", "D1", "D2", "T1", "T2"};
  if (kPhotographed.count(bar.id) == 0) return {};
  if (bar.material == "Fennick") return bar.condition == "annealed" ? "mixed" : "brittle";
  return bar.material == "Dunmarl" ? "mixed" : "ductile";
}

FaceScene demo_photo(const DemoBar& bar, const DemoCards& cards) {
  const auto kind = demo_look(bar);
  expects(kind.has_value(), "demo_photo: a bar that is photographed");
  render::RandomStream random(900 + number_of(bar), 4);
  FaceScene scene;
  scene.seed = 900 + number_of(bar);
  scene.card = bar.material == "Dunmarl" ? cards.light : cards.dark;
  scene.card_px_per_m = cards.px_per_m;
  scene.width_px = 2800;
  scene.height_px = 2100;
  scene.distance_m = 0.125;
  scene.tilt_rad = random.uniform(0.02, 0.09);
  scene.tilt_toward_rad = random.uniform(0.0, 6.28);
  scene.roll_rad = random.uniform(-0.1, 0.1);
  const double round = random.uniform(0.0, 6.28);
  scene.light.direction = {0.6 * std::cos(round), 0.6 * std::sin(round), 0.7};
  scene.exposure = float(random.uniform(0.85, 1.05));
  scene.noise_levels = 1.5;
  for (const bool other : {false, true}) {
    render::PlacedFace face;
    face.look = look_of(bar, *kind);
    face.look.other_half = other;
    face.middle_m = {other ? 0.060 : 0.046, 0.038};
    face.turn_rad = random.uniform(-0.06, 0.06);
    scene.faces.push_back(face);
  }
  return scene;
}

}  // namespace swingloss
