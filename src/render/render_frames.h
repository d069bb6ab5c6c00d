// SPDX-License-Identifier: Apache-2.0
/// \file render_frames.h
/// The pictures of a scene before any coding, for tests, benchmarks and render_swing().
#pragma once

#include "render/film.h"
#include "render/motion.h"
#include "render/render_swing.h"
#include "render/stage.h"

#include <functional>
#include <optional>

#include <opencv2/core.hpp>

namespace swingloss::render {

/// Takes one picture (CV_8UC3, as it would be stored) and its time stamp.
using FrameSink = std::function<void(const cv::Mat& bgr, double stamp_s)>;

/// A place with a camera set up: the still part is drawn once and serves many clips.
class Studio {
 public:
  /// Draws the room for this scene's camera, design and faults.
  explicit Studio(const RenderScene& scene);

  /// Renders a clip. \throws std::logic_error when the scene's room or camera is another one
  [[nodiscard]] RenderTruth shoot(const RenderScene& scene, const FrameSink& sink) const;

 private:
  RenderScene set_up_;
  Stage stage_;
};

/// Studio(scene).shoot(scene, sink).
RenderTruth render_frames(const RenderScene& scene, const FrameSink& sink);

}  // namespace swingloss::render
