// SPDX-License-Identifier: Apache-2.0
#include "imaging/video_clip.h"

#include "core/input_error.h"
#include "imaging/container_extent.h"
#include "imaging/demuxer.h"
#include "imaging/frame_pixels.h"
#include "imaging/frame_times.h"
#include "imaging/one_field.h"
#include "imaging/packet_scan.h"
#include "imaging/picture_decoder.h"
#include "imaging/stream_facts.h"
#include "imaging/video_remarks.h"

#include <utility>

extern "C" {
#include <libavformat/avformat.h>
}

namespace swingloss {
namespace {

class VideoClip final : public FrameSource {
 public:
  VideoClip(const std::string& path, const ReadOptions& options);
  std::optional<Frame> next() override;
  [[nodiscard]] const ClipInfo& info() const override { return info_; }
  [[nodiscard]] Remarks remarks() const override;

 private:
  [[nodiscard]] PictureDecoder decoder_from_start(PictureDecoder::Way way) const;
  const AVFrame* decode_next();
  [[nodiscard]] bool shows(const AVFrame& picture) const;
  [[nodiscard]] std::optional<double> stamp_s(const AVFrame& picture) const;
  [[nodiscard]] cv::Mat upright(const cv::Mat& stored) const;

  std::string path_;
  ReadOptions options_;
  ContainerExtent extent_;
  PacketScan scan_;
  PictureDecoder decoder_;
  bool careful_;
  int decoded_ = 0;                 ///< pictures taken from decoder_
  const AVFrame* first_ = nullptr;  ///< decoded on opening, until delivered; owned by decoder_
  StreamFacts facts_;
  ClipInfo info_;
  FrameTimes times_;
  FramePixels pixels_;
  int delivered_ = 0, other_size_ = 0, marked_ = 0, fields_ = 0;
  double last_s_ = 0.0;
  bool at_end_ = false;
};

PacketScan scanned(const std::string& path, const ContainerExtent& extent) {
  return scan_packets(open_demuxer(path, extent), extent);
}

VideoClip::VideoClip(const std::string& path, const ReadOptions& options)
    : path_(path),
      options_(options),
      extent_(container_extent(path)),
      scan_(scanned(path, extent_)),
      decoder_(decoder_from_start(options.threads == 1 ? PictureDecoder::Way::Careful
                                                       : PictureDecoder::Way::Fast)),
      careful_(options.threads == 1),
      times_(TimeSource::TimeStamps, 1.0) {
  first_ = decode_next();
  if (first_ == nullptr) refuse_without_picture(path, scan_, extent_);
  facts_ = stream_facts(decoder_.source(), *first_);
  info_ = clip_info(decoder_.source(), facts_, scan_);
  times_ = FrameTimes(stamps_usable(scan_) ? TimeSource::TimeStamps : TimeSource::NominalRate,
                      usual_interval_s(info_, scan_));
}

PictureDecoder VideoClip::decoder_from_start(PictureDecoder::Way way) const {
  return PictureDecoder(open_demuxer(path_, extent_), way, options_.threads);
}

/// Fast as long as no decoder objects to anything; then again from the start, carefully.
const AVFrame* VideoClip::decode_next() {
  const AVFrame* picture = decoder_.next();
  if (!careful_ && decoder_.suspicious()) {
    careful_ = true;
    decoder_ = decoder_from_start(PictureDecoder::Way::Careful);
    picture = decoder_.next();
    for (int sound = 0; sound < decoded_ && picture != nullptr; ++sound)
      picture = decoder_.next();
  }
  if (picture != nullptr) ++decoded_;
  return picture;
}

bool VideoClip::shows(const AVFrame& picture) const {
  return picture.width == facts_.stored_width_px && picture.height == facts_.stored_height_px;
}

std::optional<double> VideoClip::stamp_s(const AVFrame& picture) const {
  if (picture.best_effort_timestamp == AV_NOPTS_VALUE) return std::nullopt;
  return static_cast<double>(picture.best_effort_timestamp) *
         av_q2d(decoder_.source().video().time_base);
}

cv::Mat VideoClip::upright(const cv::Mat& stored) const {
  return turned(squared(stored, facts_.pixel_aspect_ratio), facts_.turn);
}

std::optional<Frame> VideoClip::next() {
  const AVFrame* picture = first_ != nullptr ? std::exchange(first_, nullptr) : decode_next();
  while (picture != nullptr && !shows(*picture)) {
    ++other_size_;
    picture = decode_next();
  }
  at_end_ = picture == nullptr;
  if (at_end_) return std::nullopt;
  Frame frame;
  frame.index = delivered_++;
  frame.t_s = times_.next(stamp_s(*picture));
  const bool marked = picture->interlaced_frame != 0;
  const bool field =
      options_.lines == Lines::AsMarked ? marked : options_.lines == Lines::UpperField;
  const auto of_one_moment = [field](const cv::Mat& stored) {
    return field ? one_field(stored) : stored;
  };
  frame.luma = upright(of_one_moment(pixels_.luma(*picture)));
  if (options_.colour) frame.bgr = upright(of_one_moment(pixels_.bgr(*picture)));
  if (marked) ++marked_;
  if (field) ++fields_;
  last_s_ = frame.t_s;
  return frame;
}

Remarks VideoClip::remarks() const {
  VideoLosses losses;
  losses.delivered = delivered_;
  losses.damages = decoder_.damages();
  losses.other_size = other_size_;
  losses.marked = marked_;
  losses.fields = fields_;
  losses.last_s = last_s_;
  losses.at_end = at_end_;
  Remarks out = video_remarks(losses, facts_, info_, scan_, extent_);
  for (const Remark& remark : times_.remarks()) {
    // Where the file has no stamps of its own there is nothing to repair.
    const bool idle =
        remark.code == "time-stamps-repaired" && info_.time_source == TimeSource::NominalRate;
    if (!idle) out.push_back(remark);
  }
  return out;
}

}  // namespace

std::unique_ptr<FrameSource> open_video(const std::string& path, const ReadOptions& options) {
  return std::make_unique<VideoClip>(path, options);
}

}  // namespace swingloss
