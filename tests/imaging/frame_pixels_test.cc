// SPDX-License-Identifier: Apache-2.0
#include "imaging/frame_pixels.h"

#include "support/test.h"

#include <cstddef>
#include <cstdint>

extern "C" {
#include <libavutil/frame.h>
#include <libavutil/pixdesc.h>
}

#include <opencv2/imgproc.hpp>

using namespace swingloss;

namespace {

FrameHandle frame_of(AVPixelFormat format, int width_px, int height_px) {
  FrameHandle frame = make_frame();
  frame->format = format;
  frame->width = width_px;
  frame->height = height_px;
  REQUIRE(av_frame_get_buffer(frame.get(), 0) >= 0);
  return frame;
}

/// Writes `value` into sample x of row y of plane 0, two bytes each, low one first.
void put_16(AVFrame& frame, int x, int y, unsigned value) {
  std::uint8_t* at =
      frame.data[0] + std::ptrdiff_t{y} * frame.linesize[0] + std::ptrdiff_t{2} * x;
  at[0] = static_cast<std::uint8_t>(value & 0xFFU);
  at[1] = static_cast<std::uint8_t>(value >> 8U);
}

}  // namespace

TEST_CASE("deep brightness is divided and rounded, not cut", "[imaging]") {
  // 10 bits to 8: 4 levels are one. 940 is studio white, 235 in 8 bits (ITU-R BT.601, BT.2020).
  const std::vector<std::pair<unsigned, int>> ten = {
      {0, 0}, {64, 16}, {65, 16}, {66, 17}, {940, 235}, {941, 235}, {942, 236}, {1023, 255}};
  const FrameHandle planar = frame_of(AV_PIX_FMT_YUV420P10LE, 8, 2);
  const FrameHandle shifted = frame_of(AV_PIX_FMT_P010LE, 8, 2);  // the 10 bits lie at the top
  const FrameHandle twelve = frame_of(AV_PIX_FMT_GRAY12LE, 8, 2);
  const FrameHandle sixteen = frame_of(AV_PIX_FMT_GRAY16LE, 8, 2);
  for (int x = 0; x < 8; ++x) {
    const unsigned value = ten[static_cast<unsigned>(x)].first;
    put_16(*planar, x, 1, value);
    put_16(*shifted, x, 1, value << 6U);
    put_16(*twelve, x, 1, value << 2U);
    put_16(*sixteen, x, 1, value << 6U);
  }
  for (const AVFrame* frame : {planar.get(), shifted.get(), twelve.get(), sixteen.get()}) {
    CAPTURE(av_get_pix_fmt_name(static_cast<AVPixelFormat>(frame->format)));
    const cv::Mat luma = FramePixels().luma(*frame);
    REQUIRE(luma.type() == CV_8UC1);
    for (int x = 0; x < 8; ++x) {
      CHECK(luma.at<unsigned char>(1, x) == ten[static_cast<unsigned>(x)].second);
    }
  }
}

TEST_CASE("8-bit brightness is the decoder's own plane", "[imaging]") {
  const FrameHandle frame = frame_of(AV_PIX_FMT_YUV420P, 16, 4);
  const cv::Mat luma = FramePixels().luma(*frame);
  CHECK(luma.data == frame->data[0]);
  CHECK(luma.cols == 16);
  CHECK(luma.rows == 4);
}

TEST_CASE("interleaved brightness is picked out", "[imaging]") {
  for (const AVPixelFormat format : {AV_PIX_FMT_YUYV422, AV_PIX_FMT_UYVY422}) {
    const FrameHandle frame = frame_of(format, 4, 1);
    const int offset = format == AV_PIX_FMT_UYVY422 ? 1 : 0;
    for (int i = 0; i < 8; ++i) frame->data[0][i] = 128;
    for (int x = 0; x < 4; ++x)
      frame->data[0][2 * x + offset] = static_cast<std::uint8_t>(10 * x);
    const cv::Mat luma = FramePixels().luma(*frame);
    for (int x = 0; x < 4; ++x) CHECK(luma.at<unsigned char>(0, x) == 10 * x);
  }
}

TEST_CASE("red, green and blue give brightness by their weights", "[imaging][truth]") {
  // 0.299 R + 0.587 G + 0.114 B (ITU-R BT.601-7, 2.5.1), full range.
  const FrameHandle frame = frame_of(AV_PIX_FMT_RGB24, 4, 1);
  const std::uint8_t bytes[12] = {255, 0, 0, 0, 255, 0, 0, 0, 255, 255, 255, 255};
  std::copy(std::begin(bytes), std::end(bytes), frame->data[0]);
  const cv::Mat luma = FramePixels().luma(*frame);
  const int truth[4] = {76, 150, 29, 255};  // 76.2, 149.7, 29.1, 255
  for (int x = 0; x < 4; ++x) CHECK(luma.at<unsigned char>(0, x) == truth[x]);
}

TEST_CASE("colour follows the range and matrix that the picture states", "[imaging][truth]") {
  // Pure red in 8-bit studio range: Y, Cb, Cr = 81, 90, 240 by BT.601; 63, 102, 240 by BT.709
  // (ITU-R BT.601-7 and BT.709-6, section 3 of each: 16 + 219 Y', 128 + 224 C', rounded).
  struct Red {
    AVColorSpace matrix;
    std::uint8_t y, cb, cr;
  };
  for (const Red& red :
       {Red{AVCOL_SPC_SMPTE170M, 81, 90, 240}, Red{AVCOL_SPC_BT709, 63, 102, 240}}) {
    const FrameHandle frame = frame_of(AV_PIX_FMT_YUV444P, 16, 16);
    frame->colorspace = red.matrix;
    frame->color_range = AVCOL_RANGE_MPEG;
    const std::uint8_t values[3] = {red.y, red.cb, red.cr};
    for (int plane = 0; plane < 3; ++plane) {
      std::fill_n(frame->data[plane], 16 * frame->linesize[plane], values[plane]);
    }
    const cv::Mat bgr = FramePixels().bgr(*frame);
    const auto& pixel = bgr.at<cv::Vec3b>(8, 8);
    // Half a level of each of the three, times the largest weight, 2.1: about 2 levels.
    CHECK_THAT(pixel[2], test::to_truncation(255.0, 2.0));
    CHECK_THAT(pixel[1], test::to_truncation(0.0, 2.0));
    CHECK_THAT(pixel[0], test::to_truncation(0.0, 2.0));
  }
}

TEST_CASE("grey stays grey from black to white", "[imaging]") {
  const FrameHandle frame = frame_of(AV_PIX_FMT_GRAY8, 256, 2);
  for (int y = 0; y < 2; ++y) {
    for (int x = 0; x < 256; ++x) {
      frame->data[0][y * frame->linesize[0] + x] = static_cast<std::uint8_t>(x);
    }
  }
  const cv::Mat bgr = FramePixels().bgr(*frame);
  for (int x = 0; x < 256; ++x) {
    // One rounding of fixed-point weights.
    CHECK_THAT(bgr.at<cv::Vec3b>(0, x)[1], test::to_truncation(x, 1.0));
  }
}

TEST_CASE("squared keeps a ramp a ramp", "[imaging]") {
  cv::Mat ramp(4, 100, CV_8UC1);
  for (int x = 0; x < 100; ++x) ramp.col(x) = 2 * x;
  const double ratio = 64.0 / 45.0;
  const cv::Mat wide = squared(ramp, ratio);
  REQUIRE(wide.cols == 142);  // 142.2
  REQUIRE(wide.rows == 4);
  for (int x = 2; x < 138; ++x) {
    // Linear interpolation is exact on a ramp but for rounding to whole levels and to weights
    // of 1/2048 of the step of 2.
    CHECK_THAT(wide.at<unsigned char>(1, x),
               test::to_truncation(2.0 * ((x + 0.5) / ratio - 0.5), 0.502));
  }
  CHECK(squared(ramp, 1.0).data == ramp.data);
}
