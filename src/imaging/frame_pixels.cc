// SPDX-License-Identifier: Apache-2.0
#include "imaging/frame_pixels.h"

#include "core/expects.h"

#include <algorithm>
#include <cstdint>

extern "C" {
#include <libavutil/frame.h>
#include <libavutil/pixdesc.h>
#include <libswscale/swscale.h>
}

#include <opencv2/imgproc.hpp>

namespace swingloss {
namespace {

AVPixelFormat format_of(const AVFrame& frame) {
  return static_cast<AVPixelFormat>(frame.format);  // libav keeps the enumeration in an int
}

const AVPixFmtDescriptor& description_of(const AVFrame& frame) {
  const AVPixFmtDescriptor* description = av_pix_fmt_desc_get(format_of(frame));
  expects(description != nullptr, "a decoded picture without pixel format");
  return *description;
}

/// Whether component 0 is brightness that can be read sample by sample.
bool stores_brightness(const AVPixFmtDescriptor& description) {
  constexpr std::uint64_t kOther = AV_PIX_FMT_FLAG_RGB | AV_PIX_FMT_FLAG_PAL |
                                   AV_PIX_FMT_FLAG_BITSTREAM | AV_PIX_FMT_FLAG_HWACCEL |
                                   AV_PIX_FMT_FLAG_BAYER | AV_PIX_FMT_FLAG_FLOAT |
                                   AV_PIX_FMT_FLAG_BE;
  return (description.flags & kOther) == 0;
}

const std::uint8_t* row_of(const AVFrame& frame, const AVComponentDescriptor& y, int row) {
  return frame.data[y.plane] + static_cast<std::ptrdiff_t>(row) * frame.linesize[y.plane] +
         y.offset;
}

/// Brightness of more than 8 bits: divided by the power of two, rounded, held to 255.
cv::Mat reduced(const AVFrame& frame, const AVComponentDescriptor& y) {
  cv::Mat out(frame.height, frame.width, CV_8UC1);
  const int drop = y.depth - 8;
  const unsigned half = 1U << static_cast<unsigned>(drop - 1);
  const unsigned mask = (1U << static_cast<unsigned>(y.depth)) - 1U;
  for (int row = 0; row < frame.height; ++row) {
    const std::uint8_t* in = row_of(frame, y, row);
    auto* to = out.ptr<std::uint8_t>(row);
    for (int x = 0; x < frame.width; ++x, in += y.step) {
      const unsigned stored = static_cast<unsigned>(in[0]) | static_cast<unsigned>(in[1]) << 8U;
      const unsigned value = (stored >> static_cast<unsigned>(y.shift)) & mask;
      to[x] = static_cast<std::uint8_t>(
          std::min(255U, (value + half) >> static_cast<unsigned>(drop)));
    }
  }
  return out;
}

/// 8-bit brightness interleaved with colour.
cv::Mat picked(const AVFrame& frame, const AVComponentDescriptor& y) {
  cv::Mat out(frame.height, frame.width, CV_8UC1);
  for (int row = 0; row < frame.height; ++row) {
    const std::uint8_t* in = row_of(frame, y, row);
    auto* to = out.ptr<std::uint8_t>(row);
    for (int x = 0; x < frame.width; ++x, in += y.step) to[x] = *in;
  }
  return out;
}

/// The "J" formats say full range by their name; the scaler wants that said by the range alone.
AVPixelFormat without_range(AVPixelFormat format) {
  switch (format) {
    case AV_PIX_FMT_YUVJ420P:
      return AV_PIX_FMT_YUV420P;
    case AV_PIX_FMT_YUVJ422P:
      return AV_PIX_FMT_YUV422P;
    case AV_PIX_FMT_YUVJ444P:
      return AV_PIX_FMT_YUV444P;
    case AV_PIX_FMT_YUVJ440P:
      return AV_PIX_FMT_YUV440P;
    case AV_PIX_FMT_YUVJ411P:
      return AV_PIX_FMT_YUV411P;
    default:
      return format;
  }
}

bool full_range(const AVFrame& frame) {
  if (without_range(format_of(frame)) != format_of(frame)) return true;
  const bool grey = description_of(frame).nb_components <= 2;
  return frame.color_range == AVCOL_RANGE_JPEG ||
         (grey && frame.color_range == AVCOL_RANGE_UNSPECIFIED);
}

int matrix_of(const AVFrame& frame) {
  if (frame.colorspace != AVCOL_SPC_UNSPECIFIED && frame.colorspace != AVCOL_SPC_RGB) {
    return frame.colorspace;  // swscale's table is indexed by the same numbers
  }
  return frame.height >= kHighDefinitionRows_px ? SWS_CS_ITU709 : SWS_CS_ITU601;
}

}  // namespace

bool FramePixels::video_range(const AVFrame& frame) {
  return stores_brightness(description_of(frame)) && !full_range(frame);
}

cv::Mat FramePixels::luma(const AVFrame& frame) {
  const AVPixFmtDescriptor& description = description_of(frame);
  const AVComponentDescriptor& y = description.comp[0];
  if (!stores_brightness(description) || y.depth < 8 || y.depth > 16) {
    cv::Mat grey;
    cv::cvtColor(bgr(frame), grey, cv::COLOR_BGR2GRAY);
    return grey;
  }
  if (y.depth > 8) return reduced(frame, y);
  if (y.step != 1 || frame.linesize[y.plane] < 0) return picked(frame, y);
  return cv::Mat(frame.height,
                 frame.width,
                 CV_8UC1,
                 frame.data[y.plane] + y.offset,
                 static_cast<std::size_t>(frame.linesize[y.plane]));
}

cv::Mat FramePixels::bgr(const AVFrame& frame) {
  constexpr int kFlags = SWS_BICUBIC | SWS_ACCURATE_RND | SWS_FULL_CHR_H_INT | SWS_BITEXACT;
  scaler_.reset(sws_getCachedContext(scaler_.release(),
                                     frame.width,
                                     frame.height,
                                     without_range(format_of(frame)),
                                     frame.width,
                                     frame.height,
                                     AV_PIX_FMT_BGR24,
                                     kFlags,
                                     nullptr,
                                     nullptr,
                                     nullptr));
  expects(scaler_ != nullptr, "no conversion from this pixel format");
  constexpr int kUnit_16_16 = 1 << 16;
  sws_setColorspaceDetails(scaler_.get(),
                           sws_getCoefficients(matrix_of(frame)),
                           full_range(frame) ? 1 : 0,
                           sws_getCoefficients(SWS_CS_DEFAULT),
                           1,
                           0,
                           kUnit_16_16,
                           kUnit_16_16);
  cv::Mat out(frame.height, frame.width, CV_8UC3);
  std::uint8_t* const planes[] = {out.data, nullptr, nullptr, nullptr};
  const int strides[] = {static_cast<int>(out.step[0]), 0, 0, 0};
  sws_scale(scaler_.get(), frame.data, frame.linesize, 0, frame.height, planes, strides);
  return out;
}

cv::Mat squared(const cv::Mat& picture, double pixel_aspect_ratio) {
  expects(pixel_aspect_ratio > 0.0, "squared: aspect ratio must be positive");
  if (pixel_aspect_ratio == 1.0) return picture;
  const double wider = std::max(1.0, pixel_aspect_ratio);
  const double higher = std::max(1.0, 1.0 / pixel_aspect_ratio);
  cv::Mat out;
  // Linear: exact on ramps, so an edge stays where it is; the cubic of this library is not.
  cv::resize(picture, out, cv::Size(), wider, higher, cv::INTER_LINEAR);
  return out;
}

}  // namespace swingloss
