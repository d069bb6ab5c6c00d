// SPDX-License-Identifier: Apache-2.0
/// \file face_view.h
/// The cut of a photograph that shows one face, with what was seen drawn where it was seen.
#pragma once

#include "report/face_plate.h"

#include <opencv2/core.hpp>

namespace swingloss {

/// The face with its marks and, where a card gave the scale, a scale bar. CV_8UC3 of `size`.
/// \param face  one of `photo`'s
[[nodiscard]] cv::Mat picture_of_face(const FacePhoto& photo,
                                      const FaceMeasures& face,
                                      const cv::Size& size);

/// What the colours of picture_of_face() mean, in one line. \param at  left end of the line
void draw_legend(cv::Mat& plate, const cv::Point& at);

}  // namespace swingloss
