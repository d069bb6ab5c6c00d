// SPDX-License-Identifier: Apache-2.0
#include "imaging/demuxer.h"

#include "core/input_error.h"

#include <cstdint>
#include <new>
#include <vector>

extern "C" {
#include <libavcodec/avcodec.h>
#include <libavformat/avformat.h>
#include <libavutil/dict.h>
}

namespace swingloss {
namespace {

constexpr const char* kWantedVideo =
    "a video file (mp4, mov, mkv, avi, webm, ...) or a folder of numbered pictures";

[[noreturn]] void refuse(const std::string& path, std::string found, std::string next) {
  throw InputError({path, "", std::move(found), kWantedVideo, std::move(next)});
}

[[noreturn]] void refuse_photograph(const std::string& path) {
  refuse(path,
         "a single picture",
         "Give the clip that the camera recorded; photographs of the broken bar belong in the "
         "column photos.");
}

[[noreturn]] void refuse_size(const std::string& path, const AVCodecParameters& codec) {
  refuse(path,
         "pictures of " + std::to_string(codec.width) + " x " + std::to_string(codec.height) +
             " pixels",
         "At most " + std::to_string(kMaxClipPixels / 1'000'000) +
             " million pixels are read: save the clip smaller.");
}

[[noreturn]] void refuse_unopened(const std::string& path, const ContainerExtent& extent) {
  if (extent.kind == ContainerKind::Picture) refuse_photograph(path);
  if (extent.kind == ContainerKind::Mp4 && !extent.has_index) refuse_without_index(path);
  if (extent.kind != ContainerKind::Other) {
    refuse(path,
           "a video file whose beginning is damaged or cut off",
           "Copy the file from the camera again.");
  }
  refuse(
      path, "a file that is not a video", "Check the name; nothing in it looks like a clip.");
}

/// Decoders that draw text as pictures: a text file is not a clip.
bool draws_text(AVCodecID codec) {
  return codec == AV_CODEC_ID_ANSI || codec == AV_CODEC_ID_BINTEXT ||
         codec == AV_CODEC_ID_XBIN || codec == AV_CODEC_ID_IDF;
}

/// Readers of single pictures ("png_pipe", "image2", ...).
bool reads_photographs(const AVInputFormat& format) {
  const std::string name = format.name;
  constexpr const char* kPipe = "_pipe";
  const bool pipe = name.size() > 5 && name.compare(name.size() - 5, 5, kPipe) == 0;
  return pipe || name == "image2" || name == "ico";
}

/// Looks into the streams, and decodes where their heads do not say enough; no picture above
/// the limit.
bool find_streams(AVFormatContext& format) {
  std::vector<AVDictionary*> limits(format.nb_streams, nullptr);
  for (AVDictionary*& limit : limits) av_dict_set_int(&limit, "max_pixels", kMaxClipPixels, 0);
  const int status = avformat_find_stream_info(&format, limits.data());
  for (AVDictionary*& limit : limits) av_dict_free(&limit);
  return status >= 0;
}

InputHandle open_format(const std::string& path, const ContainerExtent& extent) {
  AVFormatContext* format = avformat_alloc_context();
  if (format == nullptr) throw std::bad_alloc();
  // avformat_open_input frees the context itself when it fails.
  if (avformat_open_input(&format, libav_url(path).c_str(), nullptr, nullptr) < 0) {
    refuse_unopened(path, extent);
  }
  InputHandle owned(format);
  if (reads_photographs(*format->iformat)) refuse_photograph(path);
  if (!find_streams(*format)) refuse_unopened(path, extent);
  return owned;
}

struct Choice {
  int stream = -1;
  std::int64_t area_px2 = 0;
  bool sound = false, cover = false;
  std::string no_decoder;
};

void consider(const AVStream& stream, Choice& choice) {
  const AVCodecParameters& codec = *stream.codecpar;
  if (codec.codec_type == AVMEDIA_TYPE_AUDIO) choice.sound = true;
  if (codec.codec_type != AVMEDIA_TYPE_VIDEO || draws_text(codec.codec_id)) return;
  if ((stream.disposition & (AV_DISPOSITION_ATTACHED_PIC | AV_DISPOSITION_TIMED_THUMBNAILS)) !=
      0) {
    choice.cover = true;
    return;
  }
  if (avcodec_find_decoder(codec.codec_id) == nullptr) {
    const bool named = codec.codec_id != AV_CODEC_ID_NONE;
    choice.no_decoder = named ? avcodec_get_name(codec.codec_id) : "unknown";
    return;
  }
  const std::int64_t area_px2 = static_cast<std::int64_t>(codec.width) * codec.height;
  if (area_px2 <= choice.area_px2) return;
  choice.area_px2 = area_px2;
  choice.stream = stream.index;
}

[[noreturn]] void refuse_choice(const std::string& path,
                                const Choice& choice,
                                const ContainerExtent& extent) {
  if (extent.kind == ContainerKind::Mp4 && !extent.has_index) refuse_without_index(path);
  if (!choice.no_decoder.empty()) {
    refuse(path,
           "a video coded as \"" + choice.no_decoder + "\", for which no decoder is here",
           "Save it as H.264 in an .mp4 file and try again.");
  }
  if (choice.sound) {
    refuse(path,
           choice.cover ? "sound with a cover picture, no moving picture" : "sound only",
           "Give the clip that shows the swing.");
  }
  refuse(path, "a file without a moving picture", "Give the clip that shows the swing.");
}

}  // namespace

void refuse_without_index(const std::string& path) {
  refuse(path,
         "a recording without its index (the \"moov\" box that mp4 and mov files need)",
         "The recording or the copying stopped before its end; copy the file from the camera "
         "again. If the camera's own file is cut too, the pictures cannot be placed in time.");
}

AVStream& Demuxer::video() const { return *format->streams[stream]; }

std::string Demuxer::container_name() const {
  const std::string names = format->iformat->name;
  if (names.find("mp4") != std::string::npos) return "mp4";
  return names.substr(0, names.find(','));
}

std::string Demuxer::codec_name() const { return avcodec_get_name(video().codecpar->codec_id); }

Demuxer open_demuxer(const std::string& path, const ContainerExtent& extent) {
  silence_libav();
  Demuxer demuxer;
  demuxer.format = open_format(path, extent);
  Choice choice;
  for (unsigned i = 0; i < demuxer.format->nb_streams; ++i) {
    consider(*demuxer.format->streams[i], choice);
  }
  if (choice.stream < 0) refuse_choice(path, choice, extent);
  if (choice.area_px2 > kMaxClipPixels)
    refuse_size(path, *demuxer.format->streams[choice.stream]->codecpar);
  demuxer.stream = choice.stream;
  demuxer.decoder = avcodec_find_decoder(demuxer.video().codecpar->codec_id);
  return demuxer;
}

}  // namespace swingloss
