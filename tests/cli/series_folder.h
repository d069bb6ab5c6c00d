// SPDX-License-Identifier: Apache-2.0
/// \file series_folder.h
/// Series folders for whole-program tests, and files that are no proper clips.
#pragma once

#include "imaging/video_writer.h"
#include "render/render_swing.h"
#include "support/run_program.h"

#include <map>
#include <string>
#include <vector>

#include <opencv2/core.hpp>

namespace swingloss::test {

/// Constants of the rendered rig (render/render_swing.h, RenderRig).
inline const std::string kRigJson = R"({ "format": "swingloss/rig/1", "name": "test rig",
  "moment_Nm": { "value": 2.2, "u": 0.002 }, "reduced_length_m": { "value": 0.33, "u": 0.0005 },
  "strike_radius_m": { "value": 0.33, "u": 0.0005 },
  "gravity_m_per_s2": { "value": 9.80665, "u": 0.0001 } }
)";

/// Two groups of typed bars that can always be ranked, whatever else is in the series.
inline const std::string kTypedRows =
    "T1,Korvel,as-made,,1.02,,8\nT2,Korvel,as-made,,0.98,,8\nT3,Korvel,as-made,,1.05,,8\n"
    "T4,Korvel,annealed,,2.02,,8\nT5,Korvel,annealed,,1.98,,8\nT6,Korvel,annealed,,2.05,,8\n";

/// A temporary series folder with series.json and rig.json.
class SeriesFolder {
 public:
  SeriesFolder() {
    write("series.json", R"({ "format": "swingloss/series/1", "title": "Test" })");
    write("rig.json", kRigJson);
  }

  std::string write(const std::string& name, const std::string& text) const {
    return temp_.write("s/" + name, text);
  }
  /// Rows of id, material, condition, clip, energy_J, limit, width_mm.
  void specimens(const std::string& rows) const {
    write("specimens.csv", "id,material,condition,clip,energy_J,limit,width_mm\n" + rows);
  }
  [[nodiscard]] std::string operator/(const std::string& name) const {
    return temp_ / ("s/" + name);
  }
  /// `swingloss run s ...` from the folder above.
  [[nodiscard]] ProgramEnd run(const std::vector<std::string>& more = {}) const {
    std::vector<std::string> words = {"run", "s"};
    words.insert(words.end(), more.begin(), more.end());
    return run_program(words, temp_.path());
  }
  /// Size and time of every file and folder outside results/, to see that none was touched.
  [[nodiscard]] std::map<std::string, std::string> outside_results() const {
    namespace fs = std::filesystem;
    std::map<std::string, std::string> files;
    for (auto entry = fs::recursive_directory_iterator(temp_.path());
         entry != fs::recursive_directory_iterator();
         ++entry) {
      if (entry->path() == fs::path(*this / "results")) {
        entry.disable_recursion_pending();
        continue;
      }
      const auto time = entry->last_write_time().time_since_epoch().count();
      files[entry->path().string()] =
          entry->is_directory() ? "folder"
                                : bytes_of(entry->path().string()) + std::to_string(time);
    }
    return files;
  }

 private:
  TempFolder temp_;
};

/// A second of silence: RIFF/WAVE, PCM, mono, 8000 samples/s, 8 bit.
inline std::string silent_wav() {
  const auto little = [](unsigned value, int bytes) {
    std::string text;
    for (int i = 0; i < bytes; ++i) text += static_cast<char>((value >> (8 * i)) & 0xFFU);
    return text;
  };
  constexpr unsigned kSamples = 8000;
  return "RIFF" + little(36 + kSamples, 4) + "WAVEfmt " + little(16, 4) + little(1, 2) +
         little(1, 2) + little(8000, 4) + little(8000, 4) + little(1, 2) + little(8, 2) +
         "data" + little(kSamples, 4) + std::string(kSamples, '\x80');
}

/// A clip of one grey picture.
inline void write_one_picture(const std::string& path) {
  std::filesystem::create_directories(std::filesystem::path(path).parent_path());
  const auto writer = create_clip(path);
  writer->add(cv::Mat(120, 160, CV_8UC3, cv::Scalar::all(90)), 0.0);
  writer->finish();
}

/// A small and short scene: the arm of kRigJson from 125 deg, 0.8 J taken, seen until just
/// after it turned.
inline RenderScene small_scene() {
  RenderScene scene;
  scene.camera.width_px = 480;
  scene.camera.height_px = 270;
  scene.absorbed_J = 0.8;
  scene.hold_s = 0.25;
  scene.length_s = 2.2;
  return scene;
}

}  // namespace swingloss::test
