// SPDX-License-Identifier: Apache-2.0
// What measuring a clip costs: its time over that of decoding alone, in the same run, and the
// most memory it needs, by picture size and by length. The clips are rendered. Each is drawn,
// decoded and measured in processes of their own, so that none answers for another's memory.
//
//   swing_cost
#include "imaging/frame_source.h"
#include "render/render_swing.h"
#include "series/measure_clip.h"

#include <chrono>
#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <functional>
#include <string>

#include <sys/resource.h>
#include <sys/wait.h>
#include <unistd.h>

using namespace swingloss;

namespace {

struct Footage {
  const char* name;
  int width_px, height_px;
  double length_s;
};

constexpr Footage kFootage[] = {
    {"swing", 960, 540, 2.2},
    {"swing", 1920, 1080, 2.2},
    {"swing", 3840, 2160, 2.2},
    {"left to swing", 960, 540, 10.0},
    {"left to swing", 960, 540, 40.0},
    {"left to swing", 960, 540, 160.0},
};

RenderScene scene_of(const Footage& footage) {
  RenderScene scene;
  scene.absorbed_J = 0.5;
  scene.length_s = footage.length_s;
  scene.camera.width_px = footage.width_px;
  scene.camera.height_px = footage.height_px;
  return scene;
}

struct Cost {
  double time_s = 0.0;  ///< on the wall
  double most_MB = 0.0;
  bool done = false;  ///< false: it failed, and said why
};

/// Does it in a process of its own. \param what  false: failed
Cost cost_of(const std::function<bool()>& what) {
  const auto from = std::chrono::steady_clock::now();
  const pid_t child = fork();
  if (child == 0) {
    bool did = false;
    try {
      did = what();
    } catch (const std::exception& failure) {
      std::fprintf(stderr, "swing_cost: %s\n", failure.what());
    }
    _exit(did ? EXIT_SUCCESS : EXIT_FAILURE);
  }
  int status = EXIT_FAILURE;
  rusage used{};
  const bool waited = child > 0 && wait4(child, &status, 0, &used) == child;
  const std::chrono::duration<double> took = std::chrono::steady_clock::now() - from;
  return {took.count(), double(used.ru_maxrss) / 1024.0, waited && status == 0};
}

bool decode(const std::string& path) {
  const auto source = open_clip(path);
  while (source->next()) {
  }
  return true;
}

bool measure(const std::string& path) {
  const SwingRecord record = measure_clip(path, "bar", nullptr);
  if (answers(record, false)) return true;
  std::fprintf(stderr, "swing_cost: %s\n", cause_of_absence(record).c_str());
  return false;
}

/// \return whether all went well
bool print(const Footage& footage, const std::string& path) {
  const RenderScene scene = scene_of(footage);
  const Cost drawn = cost_of([&] { return !render_swing(scene, path).frame_time_s.empty(); });
  const Cost decoded = cost_of([&] { return decode(path); });
  const Cost measured = cost_of([&] { return measure(path); });
  std::printf("| %s | %d × %d | %.0f | %.2f | %.1f | %.1f | %.0f |\n",
              footage.name,
              footage.width_px,
              footage.height_px,
              footage.length_s * scene.camera.rate_per_s,
              decoded.time_s,
              measured.time_s,
              measured.time_s / decoded.time_s,
              measured.most_MB);
  std::fflush(stdout);
  return drawn.done && decoded.done && measured.done;
}

}  // namespace

int main() {
  const std::filesystem::path folder = std::filesystem::temp_directory_path() / "swing-cost";
  std::filesystem::create_directories(folder);
  std::puts(
      "Rendered clips, H.264, 60 pictures a second.\n\n"
      "| clip | size | pictures | decoding, s | measuring, s | times | most memory, MB |\n"
      "| --- | --- | --- | --- | --- | --- | --- |");
  std::fflush(stdout);
  bool all_well = true;
  for (const Footage& footage : kFootage)
    all_well = print(footage, (folder / "clip.mp4").string()) && all_well;
  std::filesystem::remove_all(folder);
  return all_well ? EXIT_SUCCESS : EXIT_FAILURE;
}
