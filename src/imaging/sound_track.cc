// SPDX-License-Identifier: Apache-2.0
#include "imaging/sound_track.h"

#include "core/input_error.h"
#include "imaging/container_extent.h"
#include "imaging/demuxer.h"

#include <filesystem>
#include <utility>

extern "C" {
#include <libavcodec/avcodec.h>
#include <libavformat/avformat.h>
}

namespace swingloss {

SoundTrack::SoundTrack(const std::string& clip_path) {
  if (std::filesystem::is_directory(std::filesystem::path(clip_path))) return;
  Demuxer demuxer = open_demuxer(clip_path, container_extent(clip_path));
  const AVStream& video = demuxer.video();
  AVFormatContext& format = *demuxer.format;
  const int chosen =
      av_find_best_stream(&format, AVMEDIA_TYPE_AUDIO, -1, video.index, nullptr, 0);
  if (chosen < 0) return;
  for (unsigned i = 0; i < format.nb_streams; ++i) {
    if (static_cast<int>(i) != chosen) format.streams[i]->discard = AVDISCARD_ALL;
  }
  stream_ = format.streams[chosen];
  if (video.start_time != AV_NOPTS_VALUE) {
    start_ = av_rescale_q(video.start_time, video.time_base, stream_->time_base);
  }
  format_ = std::move(demuxer.format);
}

bool SoundTrack::next(AVPacket& packet) {
  while (stream_ != nullptr) {
    av_packet_unref(&packet);
    if (av_read_frame(format_.get(), &packet) < 0) return false;
    const bool timed = packet.pts != AV_NOPTS_VALUE && packet.dts != AV_NOPTS_VALUE;
    if (packet.stream_index != stream_->index || !timed) continue;
    packet.pts -= start_;
    packet.dts -= start_;
    if (packet.pts >= 0 && packet.dts >= 0) return true;
  }
  return false;
}

}  // namespace swingloss
