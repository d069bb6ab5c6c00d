// SPDX-License-Identifier: Apache-2.0
/// \file strip_frames.h
/// The pictures of a clip that tell its story: release, blow, turning point.
#pragma once

#include "imaging/frame_source.h"
#include "series/swing_record.h"

#include <optional>
#include <string>
#include <vector>

#include <Eigen/Core>

namespace swingloss {

/// One picture with the fitted arm, for drawing. Pixels as in imaging/frame_source.h.
struct StripFrame {
  std::string event;                 ///< "release", "blow", "turn"
  double event_s = 0.0;              ///< when it happened, clip time
  Frame frame;                       ///< the picture nearest to it: colour, no luma
  std::optional<double> fitted_rad;  ///< angle of the law at the picture's time, from rest;
                                     ///< absent outside the fit, and at the blow where the
                                     ///< angle was tracked: the bar is in touch with the arm
  std::optional<double>
      measured_rad;  ///< angle tracked in this picture, from rest; absent where there is none
  Eigen::Vector2d axle_px = Eigen::Vector2d::Zero();
  std::optional<Eigen::Vector2d>
      arm_end_px;  ///< where the fitted (else the measured) angle puts the arm's end
};

/// Decodes the clip once, in colour, and keeps one picture for each event that the record has a
/// time for, in order of time; none when it has none, or only a typed track.
/// \param clip_path  where the clip is (series/series_plan.h, path_in_series())
/// \throws InputError  as open_clip()
[[nodiscard]] std::vector<StripFrame> strip_frames(const SwingRecord& record,
                                                   const std::string& clip_path);

}  // namespace swingloss
