// SPDX-License-Identifier: Apache-2.0
/// \file one_field.h
/// A picture of one moment out of one that is woven from two. Internal to imaging.
#pragma once

#include <opencv2/core.hpp>

namespace swingloss {

/// The upper field of a woven picture in all its lines: 0, 2, 4, ... as they are, and those
/// between them from their four neighbours of the same moment, by the cubic through these. What
/// stands still loses detail finer than two lines; what moves is no longer combed.
/// \param woven  CV_8UC1 or CV_8UC3 \return of the same size; shares nothing with it
[[nodiscard]] cv::Mat one_field(const cv::Mat& woven);

}  // namespace swingloss
