// SPDX-License-Identifier: Apache-2.0
#include "imaging/libav_handles.h"

#include <array>
#include <atomic>
#include <cstdarg>
#include <cstring>
#include <mutex>
#include <new>

extern "C" {
#include <libavcodec/avcodec.h>
#include <libavformat/avformat.h>
#include <libswscale/swscale.h>
}

namespace swingloss {
namespace {

thread_local long decoder_objections = 0, container_objections = 0;
std::atomic<long> all_decoder_objections{0};

bool is_decoder(const void* context) {
  return av_codec_is_decoder(static_cast<const AVCodecContext*>(context)->codec) != 0;
}

/// Replaces the printing of messages by counting those that matter.
void count_objections(void* context, int level, const char* format, va_list /*values*/) {
  if (context == nullptr || level > AV_LOG_INFO) return;
  const AVClass* kind = *static_cast<AVClass**>(context);  // every libav context begins with it
  if (kind == avformat_get_class()) ++container_objections;
  if (kind != avcodec_get_class() || level > AV_LOG_ERROR || !is_decoder(context)) return;
  const bool aside =
      std::strstr(format, "SEI") != nullptr || std::strstr(format, "EXIF") != nullptr;
  if (aside) return;
  ++decoder_objections;
  ++all_decoder_objections;
}

template <typename Handle, typename T>
Handle owned(T* object) {
  if (object == nullptr) throw std::bad_alloc();
  return Handle(object);
}

}  // namespace

void LibavDeleter::operator()(AVCodecContext* codec) const { avcodec_free_context(&codec); }
void LibavDeleter::operator()(AVFrame* frame) const { av_frame_free(&frame); }
void LibavDeleter::operator()(AVPacket* packet) const { av_packet_free(&packet); }
void LibavDeleter::operator()(SwsContext* scaler) const { sws_freeContext(scaler); }

void LibavInputDeleter::operator()(AVFormatContext* format) const {
  avformat_close_input(&format);
}

void LibavOutputDeleter::operator()(AVFormatContext* format) const {
  if (format->pb != nullptr) avio_closep(&format->pb);
  avformat_free_context(format);
}

FrameHandle make_frame() { return owned<FrameHandle>(av_frame_alloc()); }
PacketHandle make_packet() { return owned<PacketHandle>(av_packet_alloc()); }

void silence_libav() {
  static std::once_flag once;
  std::call_once(once, [] { av_log_set_callback(count_objections); });
}

long decoder_objections_here() { return decoder_objections; }
long decoder_objections_anywhere() { return all_decoder_objections; }
long container_objections_here() { return container_objections; }

std::string libav_url(const std::string& path) { return "file:" + path; }

std::string libav_message(int code) {
  std::array<char, AV_ERROR_MAX_STRING_SIZE> text{};
  av_strerror(code, text.data(), text.size());
  return text.data();
}

}  // namespace swingloss
