// SPDX-License-Identifier: Apache-2.0
/// \file picture_words.h
/// Words on a picture. Internal to report.
#pragma once

#include <string>

namespace cv {
class Mat;
template <typename T>
class Point_;
template <typename T>
class Scalar_;
}  // namespace cv

namespace swingloss {

/// Writes on `bgr` in the drawing font: ASCII, ° and ±; a true minus is written as a hyphen,
/// other blanks as blanks, anything else as a question mark.
/// \param start      left end of the base line
/// \param capital_px height of a capital letter
void draw_words(cv::Mat& bgr,
                const std::string& words,
                const cv::Point_<int>& start,
                double capital_px,
                const cv::Scalar_<double>& colour);

/// How wide draw_words() would write them [px].
[[nodiscard]] int words_width_px(const std::string& words, double capital_px);

}  // namespace swingloss
