// SPDX-License-Identifier: Apache-2.0
#include "imaging/packet_scan.h"

#include <algorithm>
#include <cstdint>
#include <vector>

extern "C" {
#include <libavcodec/avcodec.h>
#include <libavformat/avformat.h>
}

namespace swingloss {
namespace {

/// Failures in a row after which the rest counts as unreadable: a demuxer that cannot get
/// further says so again and again.
constexpr int kMaxErrorsInRow = 100;

std::int64_t stamp_of(const AVPacket& packet) {
  return packet.pts != AV_NOPTS_VALUE ? packet.pts : packet.dts;
}

/// What is noted packet by packet.
struct Notes {
  std::vector<std::int64_t> stamps;  ///< of the pictures to be shown
  std::int64_t last_place = -1;      ///< latest time of decoding, in the stream's unit
  int hidden = 0;                    ///< pictures that an edit list leaves out
};

void note_end(const AVStream& stream, const AVPacket& packet, PacketScan& scan) {
  const std::int64_t stamp = stamp_of(packet);
  if (stamp == AV_NOPTS_VALUE) return;
  const auto end = static_cast<double>(stamp + std::max<std::int64_t>(0, packet.duration));
  scan.end_s = std::max(scan.end_s, end * av_q2d(stream.time_base));
}

void note_picture(const AVPacket& packet, Notes& notes, PacketScan& scan) {
  if (packet.dts != AV_NOPTS_VALUE) notes.last_place = std::max(notes.last_place, packet.dts);
  if (packet.size == 0) return;
  if ((packet.flags & AV_PKT_FLAG_CORRUPT) != 0) {
    ++scan.damaged;
  } else if ((packet.flags & AV_PKT_FLAG_DISCARD) != 0) {
    ++notes.hidden;
  } else {
    ++scan.pictures;
    const std::int64_t stamp = stamp_of(packet);
    if (stamp == AV_NOPTS_VALUE) ++scan.without_stamp;
    if (stamp != AV_NOPTS_VALUE) notes.stamps.push_back(stamp);
  }
}

/// Fills what follows from the stamps of the pictures, whatever their order of decoding.
void judge_stamps(std::vector<std::int64_t> stamps, double unit_s, PacketScan& scan) {
  std::sort(stamps.begin(), stamps.end());
  std::vector<std::int64_t> gaps;
  for (std::size_t i = 1; i < stamps.size(); ++i) {
    const std::int64_t gap = stamps[i] - stamps[i - 1];
    if (gap == 0) ++scan.repeated_stamp;
    if (gap > 0) gaps.push_back(gap);
  }
  if (gaps.empty()) return;
  const auto middle = gaps.begin() + static_cast<std::ptrdiff_t>((gaps.size() - 1) / 2);
  std::nth_element(gaps.begin(), middle, gaps.end());
  scan.median_interval_s = static_cast<double>(*middle) * unit_s;
}

/// The demuxer of mp4 files holds one entry a picture, edit lists applied.
int index_entries(const Demuxer& demuxer, const ContainerExtent& extent) {
  if (extent.kind != ContainerKind::Mp4) return 0;
  return avformat_index_get_entries_count(&demuxer.video());
}

/// An .avi counts its pictures in the header, empty places for dropped ones included.
int pictures_not_found(const Demuxer& demuxer,
                       const Notes& notes,
                       const ContainerExtent& extent) {
  if (extent.kind != ContainerKind::Avi || extent.missing_bytes > 0) return 0;
  const std::int64_t announced = demuxer.video().nb_frames;
  return static_cast<int>(std::max<std::int64_t>(0, announced - (notes.last_place + 1)));
}

}  // namespace

bool read_packet(AVFormatContext& format, AVPacket& packet, int& read_errors) {
  for (int in_row = 0; in_row < kMaxErrorsInRow; ++in_row) {
    const int got = av_read_frame(&format, &packet);
    if (got >= 0) return true;
    if (got == AVERROR_EOF) return false;
    ++read_errors;
  }
  return false;
}

PacketScan scan_packets(const Demuxer& demuxer, const ContainerExtent& extent) {
  PacketScan scan;
  Notes notes;
  const PacketHandle packet = make_packet();
  const long before = container_objections_here();
  while (read_packet(*demuxer.format, *packet, scan.read_errors)) {
    note_end(*demuxer.format->streams[packet->stream_index], *packet, scan);
    if (packet->stream_index == demuxer.stream) note_picture(*packet, notes, scan);
    av_packet_unref(packet.get());
  }
  const bool objected = container_objections_here() != before;
  scan.broken_structure =
      objected && extent.kind == ContainerKind::Matroska && extent.missing_bytes == 0;
  judge_stamps(notes.stamps, av_q2d(demuxer.video().time_base), scan);
  const int indexed = index_entries(demuxer, extent);
  scan.promised = indexed > 0 ? indexed - notes.hidden : 0;
  scan.not_found = pictures_not_found(demuxer, notes, extent);
  const AVFormatContext& format = *demuxer.format;
  if (format.duration_estimation_method == AVFMT_DURATION_FROM_STREAM && format.duration > 0) {
    const std::int64_t start = format.start_time != AV_NOPTS_VALUE ? format.start_time : 0;
    scan.promised_end_s = static_cast<double>(start + format.duration) / AV_TIME_BASE;
  }
  return scan;
}

bool ends_early(const PacketScan& scan, const ContainerExtent& extent) {
  if (extent.missing_bytes > 0) return true;
  if (scan.promised > 0) return scan.pictures < scan.promised;
  if (scan.not_found > 0) return false;  // told apart: lost, not cut
  // The last picture's duration is often guessed: a few intervals are no proof of a cut.
  const double slack_s = std::max(0.1, 3.0 * scan.median_interval_s);
  return scan.promised_end_s > scan.end_s + slack_s;
}

}  // namespace swingloss
