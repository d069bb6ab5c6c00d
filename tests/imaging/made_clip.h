// SPDX-License-Identifier: Apache-2.0
/// \file made_clip.h
/// Clips made for the tests: a counter that survives coding, and a dot at a known place.
#pragma once

#include "imaging/frame_source.h"
#include "imaging/video_writer.h"

#include <optional>
#include <string>
#include <vector>

#include <opencv2/core.hpp>

namespace swingloss::test {

inline constexpr int kMadeWidth_px = 160, kMadeHeight_px = 96;

/// Where the dot of picture `count` is [px]: a curve that visits all fractions of a pixel.
[[nodiscard]] cv::Point2d dot_place(int count);

/// Grey picture (CV_8UC3): number `count` (0 to 127) as black and white blocks along the top,
/// each bit beside its opposite, and a round soft dot on a dark ground below.
[[nodiscard]] cv::Mat made_picture(int count);

/// An interlaced picture: even lines of the one, odd lines of the other, of one size.
[[nodiscard]] cv::Mat woven(const cv::Mat& even, const cv::Mat& odd);

/// The number in the blocks; nothing when a pair of blocks does not say clearly which is which.
[[nodiscard]] std::optional<int> counter_in(const cv::Mat& luma);

/// Centre of brightness of the dot [px], for a picture of any size that
/// shows made_picture() magnified.
[[nodiscard]] cv::Point2d dot_in(const cv::Mat& luma);

/// Times k / rate_per_s, k = 0 ... count - 1.
[[nodiscard]] std::vector<double> even_times(int count, double rate_per_s);

/// Writes made_picture(0), (1), ... at the given times.
void write_made(const std::string& path,
                const std::vector<double>& times_s,
                const WriteOptions& options = {});

/// Everything that a FrameSource gives.
struct ReadClip {
  std::vector<Frame> frames;
  ClipInfo info;
  Remarks remarks;
};
[[nodiscard]] ReadClip read_all(const std::string& path, const ReadOptions& options = {});

/// Whether a remark with this code is among them.
[[nodiscard]] bool has(const Remarks& remarks, const std::string& code);

/// The whole file, and back.
[[nodiscard]] std::string bytes_of(const std::string& path);
void write_bytes(const std::string& path, const std::string& bytes);

}  // namespace swingloss::test
