// SPDX-License-Identifier: Apache-2.0
#include "imaging/encoder_settings.h"

#include "core/input_error.h"
#include "imaging/frame_pixels.h"

#include <algorithm>
#include <array>
#include <cctype>
#include <cmath>
#include <cstring>
#include <filesystem>
#include <new>

extern "C" {
#include <libavcodec/avcodec.h>
#include <libavformat/avformat.h>
#include <libavutil/opt.h>
}

namespace swingloss {
namespace {

constexpr int kWorstQuality = 51;

/// A codec's name here, and the encoder that makes it.
struct Codec {
  const char* name;
  const char* encoder;
  AVPixelFormat pixels;
};

constexpr std::array<Codec, 6> kCodecs = {{{"h264", "libx264", AV_PIX_FMT_YUV420P},
                                           {"hevc", "libx265", AV_PIX_FMT_YUV420P},
                                           {"mjpeg", "mjpeg", AV_PIX_FMT_YUVJ420P},
                                           {"vp9", "libvpx-vp9", AV_PIX_FMT_YUV420P},
                                           {"mpeg4", "mpeg4", AV_PIX_FMT_YUV420P},
                                           {"ffv1", "ffv1", AV_PIX_FMT_YUV420P}}};

std::string ending_of(const std::string& path) {
  std::string ending = std::filesystem::path(path).extension().string();
  std::transform(ending.begin(), ending.end(), ending.begin(), [](unsigned char c) {
    return static_cast<char>(std::tolower(c));
  });
  return ending;
}

const Codec& codec_of(const std::string& path, const std::string& name) {
  for (const Codec& codec : kCodecs) {
    if (name == codec.name) return codec;
  }
  throw InputError({path,
                    "codec",
                    "\"" + name + "\"",
                    "h264, hevc, mjpeg, vp9, mpeg4 or ffv1",
                    "Choose one of these."});
}

void check_options(const std::string& path, const WriteOptions& options) {
  const auto need =
      [&](bool good, const char* field, const std::string& found, const char* wanted) {
        if (!good) throw InputError({path, field, found, wanted, "Correct the option."});
      };
  const int turn = options.rotation_deg;
  need(options.quality >= 0 && options.quality <= kWorstQuality,
       "quality",
       std::to_string(options.quality),
       "0 (best) to 51 (worst)");
  need(options.time_base_per_s >= 1 && options.time_base_per_s <= 1'000'000,
       "time base",
       std::to_string(options.time_base_per_s),
       "1 to 1000000 units a second");
  need(options.nominal_rate_per_s >= 1.0 && options.nominal_rate_per_s <= 100'000.0,
       "rate",
       std::to_string(options.nominal_rate_per_s),
       "1 to 100000 pictures a second");
  need(turn == 0 || turn == 90 || turn == 180 || turn == 270,
       "rotation",
       std::to_string(turn),
       "0, 90, 180 or 270");
  const std::string ending = ending_of(path);
  need(turn == 0 || ending == ".mp4" || ending == ".mov",
       "rotation",
       ending,
       "an .mp4 or .mov file, which alone record a turn");
  need(options.pixel_aspect_ratio >= 0.25 && options.pixel_aspect_ratio <= 4.0,
       "pixel aspect ratio",
       std::to_string(options.pixel_aspect_ratio),
       "0.25 to 4");
}

/// The unit of the encoder's time stamps.
AVRational time_base(const std::string& path, const WriteOptions& options, AVCodecID codec) {
  if (ending_of(path) == ".avi") {  // holds no time stamps, only the count at one rate
    return av_inv_q(av_d2q(options.nominal_rate_per_s, 60'000));
  }
  int per_s = options.time_base_per_s;
  constexpr int kMostOfMpeg4 = 65'535;  // its syntax has 16 bits for it
  while (codec == AV_CODEC_ID_MPEG4 && per_s > kMostOfMpeg4) per_s /= 2;
  return {1, per_s};
}

/// 0 to 51 onto the quantiser steps 1 to 31 of the older codecs.
int quantiser(int quality) {
  const double part = static_cast<double>(quality) / kWorstQuality;
  return 1 + static_cast<int>(std::lrint(30.0 * part * part));
}

void set_rate(AVCodecContext& codec, const WriteOptions& options) {
  const auto set = [&](const char* name, const std::string& value) {
    av_opt_set(codec.priv_data, name, value.c_str(), 0);
  };
  switch (codec.codec_id) {
    case AV_CODEC_ID_H264:
      set("crf", std::to_string(options.quality));
      set("preset", "veryfast");
      // Where the rows are no multiple of 16 its look ahead at the costs of blocks reads memory
      // that nothing was written to, and the same pictures give other bytes each time.
      set("x264-params", "mbtree=0");
      break;
    case AV_CODEC_ID_HEVC:
      set("crf", std::to_string(options.quality));
      set("preset", "veryfast");
      // A check sum with each picture; nothing on stderr; no pool of threads.
      set("x265-params",
          "log-level=none:info=0:wpp=0:lookahead-slices=0:frame-threads=1:hash=1");
      break;
    case AV_CODEC_ID_VP9:
      set("crf", std::to_string(options.quality * 63 / kWorstQuality));
      set("deadline", "good");
      set("cpu-used", "5");
      break;
    case AV_CODEC_ID_FFV1:
      codec.level = 3;
      set("slicecrc", "1");
      break;
    default:
      codec.flags |= AV_CODEC_FLAG_QSCALE;
      codec.global_quality = FF_QP2LAMBDA * quantiser(options.quality);
      break;
  }
}

void set_interlaced(AVCodecContext& codec, const WriteOptions& options) {
  if (!options.interlaced) return;
  codec.flags |= AV_CODEC_FLAG_INTERLACED_DCT | AV_CODEC_FLAG_INTERLACED_ME;
  codec.field_order = AV_FIELD_TT;
}

void set_colour(AVCodecContext& codec, const Codec& kind) {
  const bool high_definition = codec.height >= kHighDefinitionRows_px;
  const bool full = kind.pixels == AV_PIX_FMT_YUVJ420P;
  codec.pix_fmt = kind.pixels;
  codec.color_range = full ? AVCOL_RANGE_JPEG : AVCOL_RANGE_MPEG;
  codec.colorspace = high_definition && !full ? AVCOL_SPC_BT709 : AVCOL_SPC_SMPTE170M;
  codec.color_primaries = high_definition ? AVCOL_PRI_BT709 : AVCOL_PRI_SMPTE170M;
  codec.color_trc = high_definition ? AVCOL_TRC_BT709 : AVCOL_TRC_SMPTE170M;
}

}  // namespace

const AVOutputFormat& output_format(const std::string& path) {
  static const std::array<std::array<const char*, 2>, 5> kMuxers = {{{".mp4", "mp4"},
                                                                     {".mov", "mov"},
                                                                     {".mkv", "matroska"},
                                                                     {".avi", "avi"},
                                                                     {".webm", "webm"}}};
  const std::string ending = ending_of(path);
  for (const auto& [known, muxer] : kMuxers) {
    if (ending != known) continue;
    if (const AVOutputFormat* format = av_guess_format(muxer, nullptr, nullptr)) return *format;
  }
  throw InputError({path,
                    "",
                    "the ending \"" + ending + "\"",
                    ".mp4, .mov, .mkv, .avi or .webm",
                    "Give the clip one of these endings."});
}

CodecHandle open_encoder(const std::string& path,
                         const WriteOptions& options,
                         int width_px,
                         int height_px) {
  check_options(path, options);
  const Codec& kind = codec_of(path, options.codec);
  const AVCodec* encoder = avcodec_find_encoder_by_name(kind.encoder);
  if (encoder == nullptr) {
    throw InputError({path,
                      "codec",
                      options.codec + ", for which no encoder is installed",
                      "another codec",
                      "Choose mjpeg or mpeg4, which are always there."});
  }
  const AVOutputFormat& format = output_format(path);
  // The muxer's own table lists VP9 under QuickTime, but writing its header then fails.
  const bool refused = encoder->id == AV_CODEC_ID_VP9 && std::strcmp(format.name, "mov") == 0;
  if (refused || avformat_query_codec(&format, encoder->id, FF_COMPLIANCE_NORMAL) != 1) {
    throw InputError({path,
                      "codec",
                      options.codec + " for an " + ending_of(path) + " file",
                      "a codec that this kind of file can hold",
                      "Use .mkv, which holds all."});
  }
  CodecHandle codec(avcodec_alloc_context3(encoder));
  if (codec == nullptr) throw std::bad_alloc();
  codec->width = width_px;
  codec->height = height_px;
  codec->time_base = time_base(path, options, encoder->id);
  codec->framerate = av_d2q(options.nominal_rate_per_s, 60'000);
  codec->sample_aspect_ratio = av_d2q(options.pixel_aspect_ratio, 255);
  codec->gop_size = std::max(1, static_cast<int>(std::lrint(options.nominal_rate_per_s)));
  codec->thread_count = 1;
  codec->flags |= AV_CODEC_FLAG_BITEXACT;
  if ((format.flags & AVFMT_GLOBALHEADER) != 0) codec->flags |= AV_CODEC_FLAG_GLOBAL_HEADER;
  if (std::strcmp(format.name, "avi") == 0) codec->max_b_frames = 0;
  set_colour(*codec, kind);
  set_rate(*codec, options);
  set_interlaced(*codec, options);
  const int status = avcodec_open2(codec.get(), encoder, nullptr);
  if (status < 0) {
    throw InputError({path,
                      "codec",
                      options.codec + ", whose encoder refuses these pictures (" +
                          libav_message(status) + ")",
                      "a size and rate that it accepts",
                      "Try another size or codec."});
  }
  return codec;
}

}  // namespace swingloss
