// SPDX-License-Identifier: Apache-2.0
#include "imaging/made_clip.h"

#include <algorithm>
#include <cmath>
#include <fstream>
#include <iterator>

namespace swingloss::test {
namespace {

constexpr int kBits = 7, kBlock_px = 10, kTop_px = 24;
constexpr double kGround = 60.0, kDot = 150.0, kDotWidth_px = 3.0;

/// Mean of the inner part of block `at` (0 ... 2 kBits - 1) of the top row.
double block_level(const cv::Mat& luma, int at) {
  const cv::Rect inner(10 + at * kBlock_px + 2, 4 + 2, kBlock_px - 4, kBlock_px - 4);
  return cv::mean(luma(inner))[0];
}

void draw_counter(cv::Mat& grey, int count) {
  for (int bit = 0; bit < kBits; ++bit) {
    const bool set = (count >> bit & 1) != 0;
    grey(cv::Rect(10 + 2 * bit * kBlock_px, 4, kBlock_px, kBlock_px)) = set ? 220.0F : 30.0F;
    grey(cv::Rect(10 + (2 * bit + 1) * kBlock_px, 4, kBlock_px, kBlock_px)) =
        set ? 30.0F : 220.0F;
  }
}

}  // namespace

cv::Point2d dot_place(int count) {
  return {80.0 + 50.0 * std::sin(0.31 * count), 60.0 + 15.0 * std::cos(0.47 * count)};
}

cv::Mat made_picture(int count) {
  cv::Mat_<float> grey(kMadeHeight_px, kMadeWidth_px, static_cast<float>(kGround));
  const cv::Point2d dot = dot_place(count);
  for (int y = kTop_px; y < grey.rows; ++y) {
    for (int x = 0; x < grey.cols; ++x) {
      const double r2 = std::pow(x - dot.x, 2) + std::pow(y - dot.y, 2);
      grey(y, x) +=
          static_cast<float>(kDot * std::exp(-0.5 * r2 / (kDotWidth_px * kDotWidth_px)));
    }
  }
  cv::Mat one = grey;
  draw_counter(one, count);
  cv::Mat bytes, bgr;
  one.convertTo(bytes, CV_8U);
  cv::merge(std::vector<cv::Mat>{bytes, bytes, bytes}, bgr);
  return bgr;
}

cv::Mat woven(const cv::Mat& even, const cv::Mat& odd) {
  cv::Mat out = even.clone();
  for (int row = 1; row < out.rows; row += 2) odd.row(row).copyTo(out.row(row));
  return out;
}

std::optional<int> counter_in(const cv::Mat& luma) {
  int count = 0;
  for (int bit = 0; bit < kBits; ++bit) {
    const double a = block_level(luma, 2 * bit), b = block_level(luma, 2 * bit + 1);
    if (std::abs(a - b) < 120.0) return std::nullopt;
    if (a > b) count |= 1 << bit;
  }
  return count;
}

cv::Point2d dot_in(const cv::Mat& luma) {
  double sum = 0.0, sum_x = 0.0, sum_y = 0.0;
  const int top = luma.rows * kTop_px / kMadeHeight_px + 2;
  for (int y = top; y < luma.rows; ++y) {
    for (int x = 0; x < luma.cols; ++x) {
      const double weight = std::max(0.0, luma.at<unsigned char>(y, x) - 1.25 * kGround - 20.0);
      sum += weight;
      sum_x += weight * x;
      sum_y += weight * y;
    }
  }
  return {sum_x / sum, sum_y / sum};
}

std::vector<double> even_times(int count, double rate_per_s) {
  std::vector<double> times_s;
  for (int k = 0; k < count; ++k) times_s.push_back(k / rate_per_s);
  return times_s;
}

void write_made(const std::string& path,
                const std::vector<double>& times_s,
                const WriteOptions& options) {
  const auto writer = create_clip(path, options);
  int count = 0;
  for (const double t_s : times_s) writer->add(made_picture(count++), t_s);
  writer->finish();
}

ReadClip read_all(const std::string& path, const ReadOptions& options) {
  ReadClip clip;
  const auto source = open_clip(path, options);
  while (auto frame = source->next()) clip.frames.push_back(std::move(*frame));
  clip.info = source->info();
  clip.remarks = source->remarks();
  return clip;
}

bool has(const Remarks& remarks, const std::string& code) {
  return std::any_of(remarks.begin(), remarks.end(), [&](const Remark& remark) {
    return remark.code == code;
  });
}

std::string bytes_of(const std::string& path) {
  std::ifstream file(path, std::ios::binary);
  return {std::istreambuf_iterator<char>(file), std::istreambuf_iterator<char>()};
}

void write_bytes(const std::string& path, const std::string& bytes) {
  std::ofstream(path, std::ios::binary) << bytes;
}

}  // namespace swingloss::test
