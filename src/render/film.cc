// SPDX-License-Identifier: Apache-2.0
#include "render/film.h"

#include "render/random_stream.h"

#include <algorithm>
#include <cmath>

namespace swingloss::render {
namespace {

constexpr int kPlaces = 64;
constexpr int kCurveSteps = 16384;
constexpr std::size_t kNoiseValues = std::size_t{1} << 19U;
constexpr std::uint64_t kNoiseStream = 51;

double srgb(double linear) {
  return linear <= 0.0031308 ? 12.92 * linear : 1.055 * std::pow(linear, 1.0 / 2.4) - 0.055;
}

}  // namespace

Film::Film(double noise_levels, std::uint64_t seed) : seed_(seed) {
  curve_.reserve(kCurveSteps + 1);
  for (int i = 0; i <= kCurveSteps; ++i) {
    const double level = 255.0 * srgb(static_cast<double>(i) / kCurveSteps);
    curve_.push_back(static_cast<std::int16_t>(std::lround(kPlaces * level)));
  }
  if (noise_levels <= 0.0) return;
  RandomStream random(seed, kNoiseStream);
  noise_.reserve(kNoiseValues);
  for (std::size_t i = 0; i < kNoiseValues; ++i) {
    const double value = std::clamp(noise_levels * random.normal(), -200.0, 200.0);
    noise_.push_back(static_cast<std::int16_t>(std::lround(kPlaces * value)));
  }
}

std::int16_t Film::level_of(float linear) const {
  const float place = std::clamp(linear, 0.0F, 1.0F) * kCurveSteps + 0.5F;
  return curve_[static_cast<std::size_t>(place)];
}

Levels Film::still(const Stage& stage, const RowGains& gains) const {
  Levels levels(stage.ambient.size(), CV_16SC3);
  for (int row = 0; row < levels.rows; ++row) {
    const float gain = gains[static_cast<std::size_t>(row)];
    const auto* ambient = stage.ambient.ptr<float>(row);
    const auto* lamp = stage.lamp.ptr<float>(row);
    auto* to = levels.ptr<std::int16_t>(row);
    for (int i = 0; i < 3 * levels.cols; ++i) to[i] = level_of(gain * (ambient[i] + lamp[i]));
  }
  return levels;
}

Levels Film::with_motion(const Levels& still,
                         const Stage& stage,
                         const Exposure& exposure,
                         const RowGains& gains) const {
  Levels levels = still.clone();
  for (int row = 0; row < levels.rows; ++row) {
    const float gain = gains[static_cast<std::size_t>(row)];
    const Exposure::Extent& extent = exposure.touched(row);
    auto* to = levels.ptr<cv::Vec3s>(row);
    for (int column = extent.begin; column < extent.end; ++column) {
      const Colour light = exposure.light(stage, row, column) * gain;
      to[column] = {level_of(light[0]), level_of(light[1]), level_of(light[2])};
    }
  }
  return levels;
}

cv::Mat Film::develop(const Levels& levels, int frame) const {
  cv::Mat picture(levels.size(), CV_8UC3);
  const auto number = static_cast<std::uint64_t>(frame);
  RandomStream random(seed_ + std::uint64_t{81} * number, kNoiseStream + 1);
  const auto columns = static_cast<std::size_t>(levels.cols);
  const std::vector<std::int16_t> none(columns, 0);
  for (int row = 0; row < levels.rows; ++row) {
    // A stretch of the noise from another place for every row of every frame.
    const std::int16_t* grain =
        noise_.empty() ? none.data() : noise_.data() + random.bits() % (kNoiseValues - columns);
    const auto* from = levels.ptr<std::int16_t>(row);
    auto* to = picture.ptr<std::uint8_t>(row);
    for (std::size_t i = 0; i < 3 * columns; ++i) {
      const int level = (from[i] + grain[i / 3] + kPlaces / 2) >> 6;
      to[i] = static_cast<std::uint8_t>(std::clamp(level, 0, 255));
    }
  }
  return picture;
}

}  // namespace swingloss::render
