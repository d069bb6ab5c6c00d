// SPDX-License-Identifier: Apache-2.0
/// \file shooting_plan.h
/// When frames are taken, and where the camera looks meanwhile.
#pragma once

#include "render/pinhole.h"
#include "render/render_swing.h"

#include <array>
#include <vector>

namespace swingloss::render {

struct FrameTime {
  double true_s = 0.0;   ///< middle of the exposure
  double stamp_s = 0.0;  ///< what the container will say
};

/// Times of all frames of a clip that ends at `end_s`; the first at 0.
[[nodiscard]] std::vector<FrameTime> frame_times(const RenderScene& scene, double end_s);

/// How a hand-held or knocked camera turns: a sum of slow sines, and one step.
class CameraTurn {
 public:
  explicit CameraTurn(const RenderScene& scene);
  [[nodiscard]] bool still() const { return shake_rad_ == 0.0 && bump_rad_ == 0.0; }
  /// Yaw, pitch, roll away from the set-up [rad].
  [[nodiscard]] cv::Vec3d at(double t_s) const;
  /// Farthest that a picture point may move [px], for a margin round the picture.
  [[nodiscard]] int margin_px(const Pinhole& camera) const;

 private:
  static constexpr int kWaves = 4;
  struct Wave {
    double rate_per_s = 0.0, phase_rad = 0.0;
  };
  double shake_rad_ = 0.0, bump_rad_ = 0.0, bump_at_s_ = 0.0;
  std::array<std::array<Wave, kWaves>, 3> waves_;
};

}  // namespace swingloss::render
