// SPDX-License-Identifier: Apache-2.0
/// \file even_light.h
/// A light, or a camera's exposure, that drifts or flickers during the clip. Internal to
/// tracking.
#pragma once

#include "imaging/frame_source.h"

#include <opencv2/core.hpp>

namespace swingloss {

/// A picture of one scene, CV_8UC1, divided by how bright it is over another, as the middle
/// third of its places say; given back as it is within a hundredth. What moves covers far less
/// than half of a picture, so these do not see it. Levels above black grow with a power of the
/// light, so that another light is one factor for all.
/// \param black_level  CameraCurve::black_level of the clip
[[nodiscard]] cv::Mat in_light_of(const cv::Mat& usual,
                                  const cv::Mat& picture,
                                  double black_level);

/// By which part of itself the light of a strip of the picture changed from one picture to the
/// next: the median over strips along the way it is read (SwingView::readout_s). What moves
/// covers a small part of most strips.
[[nodiscard]] double light_change(const cv::Mat& before, const cv::Mat& after);

/// The clip with each picture in the light of the first one, strip by strip: a camera sets its
/// exposure anew, lamps on the mains flicker a hundred or a hundred and twenty times a second,
/// and all that stands still would seem to move. A camera that reads line by line shows the
/// flicker as bands, which a strip is narrower than. Only the brightness is given. \param
/// black_level  as in_light_of()
[[nodiscard]] ClipOpener evened(const ClipOpener& open, double black_level);

}  // namespace swingloss
