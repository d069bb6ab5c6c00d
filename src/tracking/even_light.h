// SPDX-License-Identifier: Apache-2.0
/// \file even_light.h
/// Pictures of one scene in another light. Internal to tracking.
#pragma once

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

/// The same strip by strip along the way a picture is read, told from a shrunk one: a camera
/// that reads line by line shows a light that flickers as bands, which a strip is narrower
/// than. A strip that is all but black is left as it is.
/// \param usual  of the scene, CV_8UC1 \param small  of `picture`, of the size of `usual`
/// \param picture  changed
void even_strips(const cv::Mat& usual,
                 const cv::Mat& small,
                 double black_level,
                 cv::Mat& picture);

/// By which part of itself the light of a strip of the picture changed from one picture to the
/// next: the median over strips along the way it is read (SwingView::readout_s). What moves
/// covers a small part of most strips.
[[nodiscard]] double light_change(const cv::Mat& before, const cv::Mat& after);

}  // namespace swingloss
