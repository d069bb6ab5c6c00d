// SPDX-License-Identifier: Apache-2.0
#include "imaging/picture_decoder.h"

#include "core/input_error.h"
#include "imaging/packet_scan.h"

#include <algorithm>
#include <new>
#include <utility>

extern "C" {
#include <libavcodec/avcodec.h>
#include <libavformat/avformat.h>
}

namespace swingloss {
namespace {

CodecHandle open_codec(const Demuxer& demuxer, int threads) {
  CodecHandle codec(avcodec_alloc_context3(demuxer.decoder));
  if (codec == nullptr) throw std::bad_alloc();
  const AVStream& stream = demuxer.video();
  int status = avcodec_parameters_to_context(codec.get(), stream.codecpar);
  codec->pkt_timebase = stream.time_base;
  codec->thread_count = threads;
  codec->thread_type = FF_THREAD_FRAME | FF_THREAD_SLICE;
  codec->err_recognition = AV_EF_CRCCHECK;
  codec->max_pixels = kMaxClipPixels;
  if (status >= 0) status = avcodec_open2(codec.get(), demuxer.decoder, nullptr);
  if (status < 0) {
    throw InputError({demuxer.format->url,
                      "",
                      "a " + demuxer.codec_name() + " stream that the decoder refuses (" +
                          libav_message(status) + ")",
                      "a video that can be decoded",
                      "Save it as H.264 in an .mp4 file and try again."});
  }
  return codec;
}

}  // namespace

PictureDecoder::PictureDecoder(Demuxer demuxer, Way way, int threads)
    : demuxer_(std::move(demuxer)),
      way_(way),
      codec_(open_codec(demuxer_, way == Way::Careful ? 1 : threads)),
      packet_(make_packet()),
      frame_(make_frame()),
      objections_before_(decoder_objections_anywhere()) {}

bool PictureDecoder::suspicious() const {
  return damages_ > 0 || decoder_objections_anywhere() != objections_before_;
}

void PictureDecoder::note_damage(std::size_t order) {
  ++damages_;
  open_damage_.push_back({order, stamps_.at(order)});
}

/// What was coded before a key picture cannot spoil it, nor can what is coded after it but
/// shown before it (such pictures bridge over it and are built upon by no other).
void PictureDecoder::forget_damage_before(const AVFrame& key) {
  const auto order = static_cast<std::size_t>(key.reordered_opaque);
  const std::int64_t stamp = stamps_.at(order);
  const auto past = [&](const Damage& damage) {
    return damage.order < order || (damage.order > order && damage.stamp < stamp);
  };
  open_damage_.erase(std::remove_if(open_damage_.begin(), open_damage_.end(), past),
                     open_damage_.end());
}

// Pictures that an edit list hides are decoded and dropped by the library itself.
bool PictureDecoder::trusted(const AVFrame& frame) {
  const auto order = static_cast<std::size_t>(frame.reordered_opaque);
  const bool faulty =
      frame.decode_error_flags != 0 || (frame.flags & AV_FRAME_FLAG_CORRUPT) != 0;
  if (faulty) note_damage(order);
  if (frame.key_frame != 0) forget_damage_before(frame);
  const bool spoilt = std::any_of(open_damage_.begin(),
                                  open_damage_.end(),
                                  [&](const Damage& damage) { return damage.order <= order; });
  return !spoilt || way_ == Way::Fast;
}

bool PictureDecoder::feed() {
  if (ended_) return false;
  while (read_packet(*demuxer_.format, *packet_, read_errors_)) {
    if (packet_->stream_index != demuxer_.stream || packet_->size == 0) {
      av_packet_unref(packet_.get());
      continue;
    }
    const bool incomplete = (packet_->flags & AV_PKT_FLAG_CORRUPT) != 0;
    const std::size_t order = stamps_.size();
    stamps_.push_back(packet_->pts != AV_NOPTS_VALUE ? packet_->pts : packet_->dts);
    codec_->reordered_opaque = static_cast<std::int64_t>(order);
    const long before = decoder_objections_here();
    const int status = incomplete ? 0 : avcodec_send_packet(codec_.get(), packet_.get());
    av_packet_unref(packet_.get());
    if (incomplete || status < 0 || decoder_objections_here() != before) note_damage(order);
    return true;
  }
  ended_ = true;
  return avcodec_send_packet(codec_.get(), nullptr) >= 0;
}

const AVFrame* PictureDecoder::next() {
  while (true) {
    const int status = avcodec_receive_frame(codec_.get(), frame_.get());
    if (status == 0) {
      if (trusted(*frame_)) return frame_.get();
    } else if (status == AVERROR_EOF) {
      return nullptr;
    } else if (status == AVERROR(EAGAIN)) {
      if (!feed()) return nullptr;
    } else if (!stamps_.empty()) {
      note_damage(stamps_.size() - 1);
    }
  }
}

}  // namespace swingloss
