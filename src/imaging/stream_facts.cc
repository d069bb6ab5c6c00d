// SPDX-License-Identifier: Apache-2.0
#include "imaging/stream_facts.h"

#include "imaging/frame_pixels.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdlib>
#include <cstring>

extern "C" {
#include <libavcodec/avcodec.h>
#include <libavformat/avformat.h>
#include <libavutil/display.h>
}

namespace swingloss {
namespace {

using Matrix = std::array<std::int32_t, 9>;

std::optional<Matrix> matrix_from(const std::uint8_t* bytes, std::size_t size) {
  Matrix matrix{};
  if (bytes == nullptr || size < sizeof matrix) return std::nullopt;
  std::memcpy(matrix.data(), bytes, sizeof matrix);
  return matrix;
}

/// The container's matrix; where it has none, the one coded with the pictures.
std::optional<Matrix> display_matrix(const AVStream& stream, const AVFrame& first) {
  std::size_t size = 0;
  const std::uint8_t* bytes =
      av_stream_get_side_data(&stream, AV_PKT_DATA_DISPLAYMATRIX, &size);
  if (const auto matrix = matrix_from(bytes, size)) return matrix;
  const AVFrameSideData* coded = av_frame_get_side_data(&first, AV_FRAME_DATA_DISPLAYMATRIX);
  return coded != nullptr ? matrix_from(coded->data, coded->size) : std::nullopt;
}

double ratio_or_zero(AVRational ratio) {
  return ratio.num > 0 && ratio.den > 0 ? av_q2d(ratio) : 0.0;
}

/// Phones that slow motion down write how fast they filmed beside it.
double capture_rate_per_s(const AVFormatContext& format) {
  const AVDictionaryEntry* entry =
      av_dict_get(format.metadata, "com.android.capture.fps", nullptr, 0);
  const double rate = entry != nullptr ? std::strtod(entry->value, nullptr) : 0.0;
  return std::isfinite(rate) && rate > 0.0 ? rate : 0.0;
}

}  // namespace

StreamFacts stream_facts(const Demuxer& demuxer, const AVFrame& first) {
  StreamFacts facts;
  AVStream& stream = demuxer.video();
  facts.stored_width_px = first.width;
  facts.stored_height_px = first.height;
  facts.interlaced = first.interlaced_frame != 0;
  facts.video_range = FramePixels::video_range(first);
  if (const auto matrix = display_matrix(stream, first)) {
    const std::optional<PictureTurn> turn = turn_from_matrix(*matrix);
    facts.turn = turn.value_or(PictureTurn{});
    facts.turn_ignored = !turn;
  }
  const AVRational aspect = av_guess_sample_aspect_ratio(
      demuxer.format.get(), &stream, const_cast<AVFrame*>(&first));  // read only, by its text
  const double ratio = ratio_or_zero(aspect);
  facts.aspect_ignored = ratio != 0.0 && (ratio < 0.25 || ratio > 4.0);
  if (ratio != 0.0 && !facts.aspect_ignored) facts.pixel_aspect_ratio = ratio;
  facts.stated_rate_per_s = ratio_or_zero(stream.avg_frame_rate);
  if (facts.stated_rate_per_s == 0.0)
    facts.stated_rate_per_s = ratio_or_zero(stream.r_frame_rate);
  facts.capture_rate_per_s = capture_rate_per_s(*demuxer.format);
  return facts;
}

bool stamps_usable(const PacketScan& scan) {
  return scan.pictures > 0 && 50 * (scan.without_stamp + scan.repeated_stamp) <= scan.pictures;
}

ClipInfo clip_info(const Demuxer& demuxer, const StreamFacts& facts, const PacketScan& scan) {
  ClipInfo info;
  const double wider = std::max(1.0, facts.pixel_aspect_ratio);
  const double higher = std::max(1.0, 1.0 / facts.pixel_aspect_ratio);
  info.width_px = static_cast<int>(std::lrint(facts.stored_width_px * wider));
  info.height_px = static_cast<int>(std::lrint(facts.stored_height_px * higher));
  if (facts.turn.transpose) std::swap(info.width_px, info.height_px);
  info.rotation_deg = facts.turn.rotation_deg();
  info.mirrored = facts.turn.mirrored();
  info.pixel_aspect_ratio = facts.pixel_aspect_ratio;
  info.interlaced = facts.interlaced;
  info.video_range = facts.video_range;
  info.nominal_rate_per_s = facts.stated_rate_per_s;
  info.capture_rate_per_s = facts.capture_rate_per_s;
  info.codec = demuxer.codec_name();
  info.container = demuxer.container_name();
  // An .avi holds no time stamps: what the library calls so is the count over the rate.
  const bool stamped = stamps_usable(scan) && info.container != "avi";
  info.time_source = stamped ? TimeSource::TimeStamps : TimeSource::NominalRate;
  info.expected_frames = scan.promised;
  const double length_s = scan.promised_end_s;
  if (info.expected_frames == 0 && length_s > 0.0) {
    info.expected_frames = static_cast<int>(std::lrint(length_s * info.nominal_rate_per_s));
  }
  return info;
}

double usual_interval_s(const ClipInfo& info, const PacketScan& scan) {
  if (info.time_source == TimeSource::TimeStamps && scan.median_interval_s > 0.0) {
    return scan.median_interval_s;
  }
  if (info.nominal_rate_per_s > 0.0) return 1.0 / info.nominal_rate_per_s;
  return scan.median_interval_s > 0.0 ? scan.median_interval_s : 1.0 / kAssumedRate_per_s;
}

}  // namespace swingloss
