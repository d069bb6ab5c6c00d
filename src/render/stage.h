// SPDX-License-Identifier: Apache-2.0
/// \file stage.h
/// Everything that does not move, drawn once for a clip.
#pragma once

#include "render/design.h"
#include "render/pinhole.h"

#include <vector>

#include <opencv2/core.hpp>

namespace swingloss::render {

/// The still picture, kept in two parts so that a moving shadow can take the lamp's part away.
/// Linear light.
struct Stage {
  Pinhole camera;    ///< may see a margin around the picture, for a camera that shakes
  cv::Mat ambient;   ///< CV_32FC3: light from all round
  cv::Mat lamp;      ///< CV_32FC3: light from the lamp, standing shadows taken off
  cv::Mat receiver;  ///< CV_8UC1: 1 + index into `receivers` at the pixel's centre, 0 for none
  std::vector<Receiver> receivers;
};

/// Draws the room by point samples, 16 to the pixel, each with three points of the lamp.
/// \param jobs threads; the result does not depend on it
[[nodiscard]] Stage draw_stage(const Design& design, const Pinhole& camera, int jobs);

/// The stage as a turned camera sees it (same place, same lens): resampled from `stage`.
[[nodiscard]] Stage seen_by(const Stage& stage, const Pinhole& turned);

}  // namespace swingloss::render
