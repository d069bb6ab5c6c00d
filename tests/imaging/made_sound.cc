// SPDX-License-Identifier: Apache-2.0
#include "imaging/made_sound.h"

#include "imaging/libav_handles.h"

#include <cmath>
#include <stdexcept>

extern "C" {
#include <libavcodec/avcodec.h>
#include <libavformat/avformat.h>
}

namespace swingloss::test {
namespace {

constexpr int kRate_per_s = 48'000;
constexpr int kPieceOfPcm = 1024;  ///< samples, as AAC has

void need(bool good, const char* what) {
  if (!good) throw std::runtime_error(what);
}

InputHandle opened(const std::string& path) {
  silence_libav();
  AVFormatContext* format = nullptr;
  need(avformat_open_input(&format, path.c_str(), nullptr, nullptr) == 0, "open");
  InputHandle owned(format);
  need(avformat_find_stream_info(format, nullptr) >= 0, "streams");
  return owned;
}

CodecHandle opened_encoder(const std::string& name, bool global_header) {
  const AVCodec* encoder = avcodec_find_encoder_by_name(name.c_str());
  need(encoder != nullptr, "encoder");
  CodecHandle codec(avcodec_alloc_context3(encoder));
  codec->sample_fmt = name == "aac" ? AV_SAMPLE_FMT_FLTP : AV_SAMPLE_FMT_S16;
  codec->sample_rate = kRate_per_s;
  av_channel_layout_default(&codec->ch_layout, 1);
  codec->time_base = {1, kRate_per_s};
  codec->flags |= AV_CODEC_FLAG_BITEXACT;
  if (global_header) codec->flags |= AV_CODEC_FLAG_GLOBAL_HEADER;
  need(avcodec_open2(codec.get(), encoder, nullptr) == 0, "encoder's settings");
  return codec;
}

/// A file that is being put together from coded pictures and coded sound.
class Mux {
 public:
  Mux(const std::string& from, const std::string& to, const std::string& codec)
      : pictures_(opened(from)), packet_(make_packet()) {
    AVFormatContext* format = nullptr;
    avformat_alloc_output_context2(&format, nullptr, nullptr, to.c_str());
    need(format != nullptr, "container");
    format_.reset(format);
    sound_ = opened_encoder(codec, (format->oformat->flags & AVFMT_GLOBALHEADER) != 0);
    video_to_ = avformat_new_stream(format, nullptr);
    sound_to_ = avformat_new_stream(format, nullptr);
    avcodec_parameters_copy(video_to_->codecpar, pictures_->streams[0]->codecpar);
    video_to_->codecpar->codec_tag = 0;
    video_to_->time_base = pictures_->streams[0]->time_base;
    avcodec_parameters_from_context(sound_to_->codecpar, sound_.get());
    sound_to_->time_base = sound_->time_base;
    need(avio_open(&format->pb, to.c_str(), AVIO_FLAG_WRITE) == 0, "file");
    need(avformat_write_header(format, nullptr) >= 0, "header");
  }

  void write() {
    copy_pictures();
    const auto samples = static_cast<std::int64_t>(length_s_ * kRate_per_s);
    const int piece = sound_->frame_size > 0 ? sound_->frame_size : kPieceOfPcm;
    for (std::int64_t at = 0; at < samples; at += piece) send(tone(at, piece).get());
    send(nullptr);
    need(av_write_trailer(format_.get()) == 0, "trailer");
  }

 private:
  void copy_pictures() {
    const AVRational unit = pictures_->streams[0]->time_base;
    while (av_read_frame(pictures_.get(), packet_.get()) >= 0) {
      length_s_ = static_cast<double>(packet_->pts + packet_->duration) * av_q2d(unit);
      av_packet_rescale_ts(packet_.get(), unit, video_to_->time_base);
      packet_->stream_index = video_to_->index;
      need(av_interleaved_write_frame(format_.get(), packet_.get()) == 0, "picture");
    }
  }

  [[nodiscard]] FrameHandle tone(std::int64_t at, int samples) const {
    FrameHandle frame = make_frame();
    frame->format = sound_->sample_fmt;
    frame->nb_samples = samples;
    av_channel_layout_copy(&frame->ch_layout, &sound_->ch_layout);
    need(av_frame_get_buffer(frame.get(), 0) == 0, "buffer");
    frame->pts = at;
    for (int k = 0; k < samples; ++k) {
      const double height = 0.5 * std::sin(0.06 * static_cast<double>(at + k));
      if (sound_->sample_fmt == AV_SAMPLE_FMT_FLTP) {
        reinterpret_cast<float*>(frame->data[0])[k] = static_cast<float>(height);
      } else {
        reinterpret_cast<std::int16_t*>(frame->data[0])[k] =
            static_cast<std::int16_t>(32'000.0 * height);
      }
    }
    return frame;
  }

  void send(const AVFrame* frame) {
    need(avcodec_send_frame(sound_.get(), frame) >= 0, "sound");
    while (avcodec_receive_packet(sound_.get(), packet_.get()) >= 0) {
      packet_->stream_index = sound_to_->index;
      av_packet_rescale_ts(packet_.get(), sound_->time_base, sound_to_->time_base);
      need(av_interleaved_write_frame(format_.get(), packet_.get()) == 0, "sound packet");
    }
  }

  InputHandle pictures_;
  OutputHandle format_;
  CodecHandle sound_;
  PacketHandle packet_;
  AVStream* video_to_ = nullptr;
  AVStream* sound_to_ = nullptr;
  double length_s_ = 0.0;
};

}  // namespace

void add_sound(const std::string& from, const std::string& to, const std::string& codec) {
  Mux(from, to, codec).write();
}

std::vector<SoundPacket> sound_of(const std::string& path) {
  const InputHandle format = opened(path);
  const int stream = av_find_best_stream(format.get(), AVMEDIA_TYPE_AUDIO, -1, -1, nullptr, 0);
  std::vector<SoundPacket> packets;
  if (stream < 0) return packets;
  const PacketHandle packet = make_packet();
  const double unit_s = av_q2d(format->streams[stream]->time_base);
  while (av_read_frame(format.get(), packet.get()) >= 0) {
    if (packet->stream_index == stream && packet->pts >= 0) {
      const auto* bytes = reinterpret_cast<const char*>(packet->data);
      packets.push_back({static_cast<double>(packet->pts) * unit_s,
                         {bytes, static_cast<std::size_t>(packet->size)}});
    }
    av_packet_unref(packet.get());
  }
  return packets;
}

}  // namespace swingloss::test
