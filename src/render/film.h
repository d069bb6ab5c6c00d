// SPDX-License-Identifier: Apache-2.0
/// \file film.h
/// From linear light to 8-bit pictures with noise.
#pragma once

#include "render/exposure.h"
#include "render/light_course.h"

#include <cstdint>
#include <vector>

#include <opencv2/core.hpp>

namespace swingloss::render {

/// Display levels with 6 binary places (64 = one of 255 levels), blue green red.
using Levels = cv::Mat;  // CV_16SC3

class Film {
 public:
  /// \param noise_levels standard deviation, in levels of 255, of noise alike in all colours
  Film(double noise_levels, std::uint64_t seed);

  /// The still picture at a brightness; a gain for each of its rows.
  [[nodiscard]] Levels still(const Stage& stage, const RowGains& gains) const;
  /// `still` with what an exposure changed.
  [[nodiscard]] Levels with_motion(const Levels& still,
                                   const Stage& stage,
                                   const Exposure& exposure,
                                   const RowGains& gains) const;
  /// Adds the noise of one frame and rounds. \param frame same number, same noise
  [[nodiscard]] cv::Mat develop(const Levels& levels, int frame) const;

  /// The transfer curve of sRGB [IEC61966-2-1], linear 0..1 to levels; beyond it clips.
  [[nodiscard]] std::int16_t level_of(float linear) const;

 private:
  std::uint64_t seed_;
  std::vector<std::int16_t> curve_;
  std::vector<std::int16_t> noise_;  ///< of 64ths of a level
};

}  // namespace swingloss::render
