// SPDX-License-Identifier: Apache-2.0
/// \file demo_series.h
/// A whole series folder with rendered clips: invented materials, known truth.
#pragma once

#include "render/render_swing.h"

#include <cstddef>
#include <functional>
#include <string>
#include <vector>

#include <opencv2/core.hpp>

namespace swingloss {

/// One filmed bar of the demo as it was made.
struct DemoBar {
  std::string id, material, condition;
  double thickness_mm = 4.0, width_mm = 8.0;
  double strength_kJ_m2 = 0.0;  ///< true; 0 for the bar that does not break
  double length_s = 2.2;        ///< of its clip
  std::string note;
};

/// The scenario (demo/README.md tells its story): 19 filmed bars in 5 groups, one of which does
/// not break and one whose clip ends before the turning point.
[[nodiscard]] const std::vector<DemoBar>& demo_bars();

/// The scene of one bar, or of the free swing without a bar.
[[nodiscard]] RenderScene demo_scene(const DemoBar& bar);
[[nodiscard]] RenderScene demo_free_swing();

/// Scale cards as printed, for the photographs: CV_8UC1. Drawn elsewhere.
struct DemoCards {
  cv::Mat dark, light;  ///< by the ground of their window; empty: no photographs are made
  double px_per_m = 20000.0;
};

struct DemoOptions {
  DemoCards cards;
  int jobs = 2;  ///< threads, >= 1; does not change a byte
  /// Told after each clip: how many are done, of how many, and which; nothing: nobody is told.
  std::function<void(std::size_t done, std::size_t count, const std::string& clip)> progress;
};

/// Writes series.json, specimens.csv, rig.json, clips/, photos/ and truth.json: the same texts
/// and pictures each time. truth.json is written last and is never opened by a run. \return the
/// names of the files written, below the folder \throws InputError  the folder holds something
/// that is not a demo series, or cannot be
///                     written
std::vector<std::string> write_demo_series(const std::string& folder,
                                           const DemoOptions& options = {});

}  // namespace swingloss
