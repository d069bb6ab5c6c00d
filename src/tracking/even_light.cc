// SPDX-License-Identifier: Apache-2.0
#include "tracking/even_light.h"

#include "core/median.h"

#include <algorithm>
#include <cmath>
#include <utility>
#include <vector>

namespace swingloss {
namespace {

/// Of a picture's levels over those of a still one of the same scene, both from black.
double brightness_of(const cv::Mat& picture, const cv::Mat& still, double black_level) {
  constexpr float kBright = 245.0F;  // burnt out, as black: these say nothing
  const auto black = static_cast<float>(black_level);
  const float dark = black + 16.0F;
  const auto tells = [dark](float level) { return level > dark && level < kBright; };
  std::vector<float> ratios;
  for (int row = 0; row < still.rows; row += 2) {
    for (int column = 0; column < still.cols; column += 2) {
      const auto seen = static_cast<float>(picture.at<uchar>(row, column));
      const auto usual = static_cast<float>(still.at<uchar>(row, column));
      if (tells(seen) && tells(usual)) ratios.push_back((seen - black) / (usual - black));
    }
  }
  constexpr std::size_t kFew = 100;
  if (ratios.size() < kFew) return 1.0;
  return middle_third_mean(ratios);
}

constexpr int kStrips = 12;

/// Levels from black divided by `by`.
void dim(const cv::Mat& picture, double by, double black_level, cv::Mat& out) {
  picture.convertTo(out, CV_8U, 1.0 / by, black_level - black_level / by);
}

/// A picture is read along its shorter side: so that its lines are rows.
cv::Mat read_downward(const cv::Mat& picture) {
  return picture.rows > picture.cols ? cv::Mat(picture.t()) : picture;
}

cv::Mat strip_of(const cv::Mat& picture, int strip) {
  return picture.rowRange(strip * picture.rows / kStrips, (strip + 1) * picture.rows / kStrips);
}

/// What a line is brighter by, between the strips' middles.
double between_strips(const std::vector<double>& brightness, double line, int lines) {
  const double at = std::clamp((line + 0.5) * kStrips / lines - 0.5, 0.0, kStrips - 1.0);
  const auto before = std::min(static_cast<std::size_t>(at), brightness.size() - 2);
  const double part = at - static_cast<double>(before);
  return (1.0 - part) * brightness[before] + part * brightness[before + 1];
}

}  // namespace

cv::Mat in_light_of(const cv::Mat& usual, const cv::Mat& picture, double black_level) {
  constexpr double kSteady = 0.01;
  const double brightness = brightness_of(picture, usual, black_level);
  if (std::abs(brightness - 1.0) < kSteady) return picture;
  cv::Mat out;
  dim(picture, brightness, black_level, out);
  return out;
}

void even_strips(const cv::Mat& usual,
                 const cv::Mat& small,
                 double black_level,
                 cv::Mat& picture) {
  const cv::Mat still = read_downward(usual), seen = read_downward(small);
  std::vector<double> brightness;
  brightness.reserve(kStrips);
  for (int strip = 0; strip < kStrips; ++strip)
    brightness.push_back(
        brightness_of(strip_of(seen, strip), strip_of(still, strip), black_level));
  const cv::Mat whole = read_downward(picture);
  cv::Mat out(whole.size(), CV_8UC1);
  for (int row = 0; row < whole.rows; ++row) {
    cv::Mat line = out.row(row);
    dim(whole.row(row), between_strips(brightness, row, whole.rows), black_level, line);
  }
  picture = picture.rows > picture.cols ? cv::Mat(out.t()) : out;
}

double light_change(const cv::Mat& before, const cv::Mat& after) {
  const cv::Mat one = read_downward(before), other = read_downward(after);
  std::vector<double> changes;
  changes.reserve(kStrips);
  for (int strip = 0; strip < kStrips; ++strip) {
    const double level = cv::mean(strip_of(one, strip))[0];
    changes.push_back(std::abs(cv::mean(strip_of(other, strip))[0] - level) /
                      std::max(1.0, level));
  }
  return median_of(std::move(changes));
}

}  // namespace swingloss
