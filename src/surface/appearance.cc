// SPDX-License-Identifier: Apache-2.0
#include "surface/appearance.h"

#include "core/median.h"
#include "surface/texture.h"

#include <algorithm>
#include <cmath>

#include <opencv2/imgproc.hpp>

namespace swingloss {
namespace {

constexpr double kHundredth_px = kPatch_px / 100.0;

cv::Mat smoothed(const cv::Mat& values, double sigma_px) {
  cv::Mat out;
  cv::GaussianBlur(values, out, {}, sigma_px, sigma_px, cv::BORDER_REFLECT);
  return out;
}

double rms(const cv::Mat& values) {
  return std::sqrt(values.dot(values) / double(values.total()));
}

bool is_inner(std::size_t i) {
  return (i % 4 == 1 || i % 4 == 2) && (i / 4 == 1 || i / 4 == 2);
}

double outer_less_inner(const std::array<double, 16>& tiles) {
  double inner = 0.0;
  double outer = 0.0;
  for (std::size_t i = 0; i < 16; ++i) (is_inner(i) ? inner : outer) += tiles[i];
  return outer / 12.0 - inner / 4.0;
}

double deviation(const std::array<double, 16>& tiles) {
  double mean = 0.0;
  for (const double t : tiles) mean += t / 16.0;
  double square = 0.0;
  for (const double t : tiles) square += (t - mean) * (t - mean) / 15.0;
  return std::sqrt(square);
}

void add_cooccurrence(const cv::Mat& brightness, Appearance& look) {
  constexpr int kLevels = 16;
  const cv::Mat levels = equal_levels(smoothed(brightness, kHundredth_px / 2.0), kLevels);
  const int step = int(std::lround(2.0 * kHundredth_px));
  const std::array<cv::Point, 4> ways = {
      {{step, 0}, {step, -step}, {0, -step}, {-step, -step}}};
  for (const cv::Point& way : ways) {
    const CooccurrenceFeatures f = features_of(cooccurrence(levels, kLevels, way));
    look.cooccurrence_contrast += f.contrast / 4.0;
    look.cooccurrence_correlation += f.correlation / 4.0;
    look.cooccurrence_homogeneity += f.homogeneity / 4.0;
    look.cooccurrence_entropy += f.entropy / 4.0;
  }
}

/// Steepest fifth of the face, as a set for box counting.
double edge_dimension_of(const cv::Mat& brightness) {
  const cv::Mat smooth = smoothed(brightness, kHundredth_px);
  cv::Mat x;
  cv::Mat y;
  cv::Sobel(smooth, x, CV_32F, 1, 0);
  cv::Sobel(smooth, y, CV_32F, 0, 1);
  cv::Mat steep;
  cv::magnitude(x, y, steep);
  return box_dimension(equal_levels(steep, 5) == 4, {2, 4, 8, 16, 32});
}

/// Brightness in the band of small spots.
cv::Mat spot_band(const cv::Mat& brightness) {
  return smoothed(brightness, 0.6 * kHundredth_px) - smoothed(brightness, 3.0 * kHundredth_px);
}

void add_spots(const cv::Mat& brightness, Appearance& look) {
  const cv::Mat fine = spot_band(brightness);
  cv::Mat cube;
  cv::pow(fine, 3, cube);
  look.brightness_skew = cv::mean(cube)[0] / std::pow(std::max(1e-6, rms(fine)), 3);
  look.glint_share =
      double(cv::countNonZero(glint_mask(brightness))) / double(brightness.total());
  look.speckles = double(cv::countNonZero(speck_mask(brightness))) /
                  (double(brightness.total()) / (kPatch_px * kPatch_px)) / 100.0;
}

}  // namespace

FaceTiles tiles_of(const cv::Mat& brightness) {
  const cv::Mat band =
      smoothed(brightness, kHundredth_px) - smoothed(brightness, 4.0 * kHundredth_px);
  FaceTiles tiles;
  for (int i = 0; i < 16; ++i) {
    const int x0 = brightness.cols * (i % 4) / 4;
    const int x1 = brightness.cols * (i % 4 + 1) / 4;
    const int y0 = brightness.rows * (i / 4) / 4;
    const int y1 = brightness.rows * (i / 4 + 1) / 4;
    const cv::Rect box(x0, y0, x1 - x0, y1 - y0);
    tiles.roughness[std::size_t(i)] = std::log(0.005 + rms(band(box).clone()));
    tiles.brightness[std::size_t(i)] = cv::mean(brightness(box))[0];
  }
  return tiles;
}

cv::Mat glint_mask(const cv::Mat& brightness) {
  constexpr double kGlint = 0.6;  // a mirror is nearly twice as bright as what lies around it
  return brightness - smoothed(brightness, 6.0 * kHundredth_px) > kGlint;
}

cv::Mat speck_mask(const cv::Mat& brightness) {
  // Places more than three scatters off, that are the extreme of their neighbourhood.
  const cv::Mat fine = spot_band(brightness);
  cv::Mat size;
  cv::absdiff(fine, cv::Scalar(0.0), size);
  cv::Mat highest;
  cv::dilate(size, highest, cv::getStructuringElement(cv::MORPH_ELLIPSE, {5, 5}));
  return (size >= highest) & (size > 3.0 * std::max(1e-6, rms(fine)));
}

double band_roughness(const cv::Mat& brightness, double fine_px, double coarse_px) {
  const cv::Mat band = smoothed(brightness, fine_px) - smoothed(brightness, coarse_px);
  return rms(band);
}

LightPart light_part(const FacePatch& patch) {
  const cv::Mat smooth = smoothed(patch.brightness, 3.0 * kHundredth_px);
  std::vector<float> values(smooth.begin<float>(), smooth.end<float>());
  std::sort(values.begin(), values.end());
  // Otsu: the split with the largest variance between the groups.
  double total = 0.0;
  for (const float v : values) total += double(v);
  double low_sum = 0.0;
  double best = -1.0;
  std::size_t split = 0;
  const double n = double(values.size());
  for (std::size_t i = 1; i < values.size(); ++i) {
    low_sum += double(values[i - 1]);
    const double between =
        std::pow(low_sum - total * double(i) / n, 2) / (double(i) * (n - double(i)));
    if (between > best) {
      best = between;
      split = i;
    }
  }
  LightPart part;
  if (split == 0) return part;
  const auto group = [&](std::size_t from, std::size_t to) {
    double mean = 0.0;
    double square = 0.0;
    for (std::size_t i = from; i < to; ++i) mean += double(values[i]) / double(to - from);
    for (std::size_t i = from; i < to; ++i)
      square += std::pow(double(values[i]) - mean, 2) / double(to - from);
    return std::pair<double, double>(mean, square);
  };
  const auto [low, low_variance] = group(0, split);
  const auto [high, high_variance] = group(split, values.size());
  const double apart =
      (high - low) / std::sqrt(std::max(1e-9, (low_variance + high_variance) / 2.0));
  // Otsu's halves of one normal distribution stand 2.65 apart by this measure, of an even slope
  // of light sqrt(12) = 3.46; two groups more.
  constexpr double kApart = 4.0;
  constexpr double kStep = 0.15;  // 16 % in light: less may be a lamp from aside
  if (apart < kApart || high - low < kStep) return part;
  part.mask = smooth >= double(values[split]);
  part.share = 1.0 - double(split) / n;
  part.step = high - low;
  const auto chroma = [&](const cv::Mat& where) {
    return Eigen::Vector2d(cv::mean(patch.red_ratio, where)[0],
                           cv::mean(patch.blue_ratio, where)[0]);
  };
  part.chroma_drop = (chroma(part.mask) - chroma(~part.mask)).norm();
  return part;
}

Appearance look_of(const FacePatch& patch) {
  Appearance look;
  const cv::Mat& b = patch.brightness;
  const LightPart light = light_part(patch);
  look.light_share = light.share;
  look.light_step = light.step;
  look.chroma_drop = light.chroma_drop;
  for (std::size_t i = 0; i < 3; ++i) {
    const double fine = std::pow(2.0, double(i)) * kHundredth_px;
    look.roughness[i] = band_roughness(b, fine, 2.0 * fine);
  }
  const FaceTiles tiles = tiles_of(b);
  look.roughness_spread = deviation(tiles.roughness);
  look.edge_rougher = outer_less_inner(tiles.roughness);
  look.edge_lighter = outer_less_inner(tiles.brightness);
  add_cooccurrence(b, look);
  look.pattern_uniform_share = 1.0 - pattern_shares(smoothed(b, kHundredth_px))[9];
  look.edge_dimension = edge_dimension_of(b);
  add_spots(b, look);
  const EvenLines lines = even_lines(b);
  look.line_strength = lines.strength;
  look.line_angle_rad = lines.angle_rad;
  look.line_turn_rad = lines.turn_rad;
  look.line_pitch = lines.pitch_px / kPatch_px;
  look.clipped_share = patch.clipped_share;
  return look;
}

}  // namespace swingloss
