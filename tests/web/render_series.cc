// SPDX-License-Identifier: Apache-2.0
// Writes a small series with rendered clips for the browser test:
//   web_series FOLDER     two invented materials, two filmed bars each, and a fifth clip beside
#include "core/text_file.h"
#include "render/render_swing.h"

#include <cstdio>
#include <filesystem>
#include <string>

using namespace swingloss;

namespace {

constexpr const char* kSeries = R"({ "format": "swingloss/series/1", "title": "Desk test",
  "label": "invented materials, rendered footage", "group_by": ["material", "condition"] })";

constexpr const char* kRig = R"({
  "format": "swingloss/rig/1", "name": "east rig",
  "moment_Nm": { "value": 2.2, "u": 0.01 }, "reduced_length_m": { "value": 0.33, "u": 0.001 },
  "friction": { "dry_Nm": { "value": 0.004, "u": 0.0002 }, "linear_Nms": { "value": 0, "u": 0 },
                "quadratic_Nms2": { "value": 0.0006, "u": 0.00005 } },
  "gravity_m_per_s2": { "value": 9.80665, "u": 0.0001 } })";

void film(const std::string& folder,
          const std::string& name,
          double absorbed_J,
          unsigned seed) {
  RenderScene scene;
  scene.camera.width_px = 480;
  scene.camera.height_px = 270;
  scene.absorbed_J = absorbed_J;
  scene.hold_s = 0.25;
  scene.length_s = 2.2;
  scene.seed = seed;
  scene.design_seed = 1;
  render_swing(scene, folder + "/" + name);
}

}  // namespace

int main(int count, char** words) {
  if (count != 2) {
    std::fputs("usage: web_series FOLDER\n", stderr);
    return 2;
  }
  const std::string folder = words[1];
  std::filesystem::create_directories(folder + "/s/clips");
  write_file(folder + "/s/series.json", kSeries);
  write_file(folder + "/s/rig.json", kRig);
  write_file(folder + "/s/specimens.csv",
             "id,material,condition,orientation,clip,photos,thickness_mm,width_mm,note\n"
             "K1,Korvel,as-made,,k1.mp4,,4,8,\nK2,Korvel,as-made,,k2.mp4,,4,8,\n"
             "V1,Veltan,as-made,,v1.mp4,,4,8,\nV2,Veltan,as-made,,v2.mp4,,4,8,\n");
  film(folder + "/s/clips", "k1.mp4", 0.80, 1);
  film(folder + "/s/clips", "k2.mp4", 0.82, 2);
  film(folder + "/s/clips", "v1.mp4", 0.84, 3);
  film(folder + "/s/clips", "v2.mp4", 0.85, 4);
  film(folder, "one more.mp4", 0.81, 5);
  return 0;
}
