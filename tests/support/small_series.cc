// SPDX-License-Identifier: Apache-2.0
// Writes a series of many small bars for the tests of cluster, faults and scale:
//   small_series FOLDER FILMED TYPED
// FILMED bars on copies of four rendered clips, each copy with a few bytes of its
// own behind the film; TYPED bars beside them.
#include "core/text_file.h"
#include "render/render_swing.h"

#include <array>
#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <string>

using namespace swingloss;

namespace {

constexpr const char* kSeries = R"({ "format": "swingloss/series/1", "title": "Many small bars",
  "label": "invented materials, rendered footage" })";

constexpr const char* kRig = R"({
  "format": "swingloss/rig/1", "name": "small rig",
  "moment_Nm": { "value": 2.2, "u": 0.01 }, "reduced_length_m": { "value": 0.33, "u": 0.001 },
  "strike_radius_m": { "value": 0.33, "u": 0.001 },
  "friction": { "dry_Nm": { "value": 0.004, "u": 0.0002 }, "linear_Nms": { "value": 0, "u": 0 },
                "quadratic_Nms2": { "value": 0.0006, "u": 0.00005 } },
  "gravity_m_per_s2": { "value": 9.80665, "u": 0.0001 } })";

constexpr std::size_t kClips = 4;

std::array<std::string, kClips> filmed() {
  std::array<std::string, kClips> clips;
  const std::string path =
      (std::filesystem::temp_directory_path() / "swingloss-small-series.mp4").string();
  for (std::size_t k = 0; k < kClips; ++k) {
    RenderScene scene;
    scene.camera.width_px = 320;
    scene.camera.height_px = 180;
    scene.camera.rate_per_s = 30.0;
    scene.absorbed_J = 0.70 + 0.05 * static_cast<double>(k);
    scene.hold_s = 0.25;
    scene.length_s = 1.6;
    scene.seed = k + 1;
    scene.design_seed = 1;
    render_swing(scene, path);
    clips[k] = read_file(path);
  }
  std::filesystem::remove(path);
  return clips;
}

/// A free box at the end of an MP4 file: players and this program pass it over.
std::string with_own_bytes(const std::string& film, std::size_t number) {
  std::string text = std::to_string(number);
  text.insert(0, 8 - text.size(), '0');
  return film + std::string("\0\0\0\x10", 4) + "free" + text;
}

std::string film_rows(const std::string& folder, std::size_t bars) {
  if (bars == 0) return "";
  const auto clips = filmed();
  std::string rows;
  for (std::size_t i = 0; i < bars; ++i) {
    const std::string id = "F" + std::to_string(i + 1);
    write_file(folder + "/clips/" + id + ".mp4", with_own_bytes(clips[i % kClips], i + 1));
    rows += id + "," + (i % 2 == 0 ? "Korvel" : "Veltan") + "," + id + ".mp4,,4,8\n";
  }
  return rows;
}

/// Energies spread over about a tenth, the same in every call.
std::string typed_rows(std::size_t bars) {
  std::string rows;
  for (std::size_t i = 0; i < bars; ++i) {
    const std::size_t thousandths = 900 + i * 7919 % 101 + i / 20 % 10 * 20;
    rows += "T" + std::to_string(i + 1) + ",Group" + std::to_string(i / 20 + 1) + ",," +
            std::to_string(thousandths / 1000) + "." +
            std::to_string(1000 + thousandths % 1000).substr(1) + ",4,8\n";
  }
  return rows;
}

}  // namespace

int main(int count, char** words) {
  if (count < 3) {
    std::fputs("usage: small_series FOLDER FILMED TYPED\n", stderr);
    return 2;
  }
  const std::string folder = words[1];
  const std::size_t typed = count > 3 ? std::strtoul(words[3], nullptr, 10) : 0;
  write_file(folder + "/series.json", kSeries);
  write_file(folder + "/rig.json", kRig);
  write_file(folder + "/specimens.csv",
             "id,material,clip,energy_J,thickness_mm,width_mm\n" +
                 film_rows(folder, std::strtoul(words[2], nullptr, 10)) + typed_rows(typed));
  return 0;
}
