// SPDX-License-Identifier: Apache-2.0
#include "render/demo_series.h"

#include <cmath>

namespace swingloss {
namespace {

constexpr std::uint64_t kDesign = 20;  ///< of the room and rig
constexpr std::uint64_t kFirstSeed = 1000;
constexpr double kCutOff_s = 0.98;  ///< after the blow, before the turning point

RenderScene empty_scene() {
  RenderScene scene;
  scene.rig.quadratic_Nms2 = 0.0003;
  scene.camera.yaw_deg = 2.5;
  scene.camera.pitch_deg = -1.5;
  scene.camera.roll_deg = 0.6;
  scene.hold_s = 0.35;
  scene.length_s = 2.2;
  scene.design_seed = kDesign;
  return scene;
}

std::uint64_t seed_of(const DemoBar& bar) {
  const std::vector<DemoBar>& bars = demo_bars();
  for (std::size_t i = 0; i < bars.size(); ++i) {
    if (bars[i].id == bar.id) return kFirstSeed + i;
  }
  return kFirstSeed + bars.size();
}

}  // namespace

const std::vector<DemoBar>& demo_bars() {
  const char* f = "Fennick";
  const char* d = "Dunmarl";
  const char* t = "Tallow-X";
  const char* made = "as-made";
  const char* annealed = "annealed";
  static const std::vector<DemoBar> bars = {
      {"F1", f, made, 4.02, 8.03, 21.9, 2.2, ""},
      {"F2", f, made, 3.98, 7.97, 24.6, 2.2, ""},
      {"F3", f, made, 4.01, 8.01, 23.1, 2.2, ""},
      {"F4", f, made, 4.04, 8.05, 25.4, 2.2, ""},
      {"FA1", f, annealed, 4.00, 7.98, 33.8, 2.2, ""},
      {"FA2", f, annealed, 3.97, 8.02, 31.2, 2.2, ""},
      {"FA3", f, annealed, 4.03, 7.95, 35.1, 2.2, ""},
      {"FA4", f, annealed, 3.99, 8.00, 32.6, 2.2, ""},
      {"D1", d, made, 4.05, 8.02, 45.2, 2.2, ""},
      {"D2", d, made, 4.01, 8.04, 49.6, 2.2, ""},
      {"D3", d, made, 4.03, 7.99, 47.1, 2.2, ""},
      {"DA1", d, annealed, 4.02, 7.96, 46.0, 2.2, ""},
      {"DA2", d, annealed, 3.98, 8.01, 50.8, 2.2, ""},
      {"DA3", d, annealed, 4.00, 8.03, 48.7, 2.2, ""},
      {"DA4", d, annealed, 4.01, 7.98, 47.9, kCutOff_s, "camera stopped too early"},
      {"T1", t, made, 3.96, 8.00, 78.2, 2.2, ""},
      {"T2", t, made, 3.99, 8.04, 84.9, 2.2, ""},
      {"T3", t, made, 4.03, 7.97, 80.6, 2.2, ""},
      {"T4", t, made, 4.02, 8.02, 0.0, 2.2, "bent; did not break"},
  };
  return bars;
}

RenderScene demo_scene(const DemoBar& bar) {
  RenderScene scene = empty_scene();
  scene.seed = seed_of(bar);
  scene.length_s = bar.length_s;
  scene.breaks = bar.strength_kJ_m2 > 0.0;
  const double section_mm2 = bar.thickness_mm * bar.width_mm;
  if (scene.breaks) scene.absorbed_J = bar.strength_kJ_m2 * section_mm2 / 1000.0;
  return scene;
}

RenderScene demo_free_swing() {
  RenderScene scene = empty_scene();
  scene.seed = kFirstSeed - 1;
  scene.length_s = 6.0;
  return scene;
}

}  // namespace swingloss
