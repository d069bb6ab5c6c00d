// SPDX-License-Identifier: Apache-2.0
#include "imaging/video_writer.h"

#include "core/expects.h"
#include "core/input_error.h"
#include "core/whole_file.h"
#include "imaging/encoder_settings.h"
#include "imaging/frame_pixels.h"
#include "imaging/libav_handles.h"
#include "imaging/picture_turn.h"
#include "imaging/sound_track.h"

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <cstring>
#include <filesystem>
#include <fstream>
#include <limits>
#include <memory>
#include <new>
#include <optional>

extern "C" {
#include <libavcodec/avcodec.h>
#include <libavformat/avformat.h>
#include <libswscale/swscale.h>
}

namespace swingloss {
namespace {

namespace fs = std::filesystem;

class LibavWriter final : public VideoWriter {
 public:
  LibavWriter(const std::string& path, const WriteOptions& options);
  LibavWriter(const LibavWriter&) = delete;
  LibavWriter& operator=(const LibavWriter&) = delete;
  ~LibavWriter() override;
  void add(const cv::Mat& bgr, double t_s) override;
  void finish() override;
  [[nodiscard]] Remarks remarks() const override { return remarks_; }
  void end_sound() override;

 private:
  void start(int width_px, int height_px);
  void add_stream();
  void add_sound_stream();
  void copy_sound(double until_s);
  void convert(const cv::Mat& bgr);
  void send(const AVFrame* frame);
  [[noreturn]] void refuse(const std::string& what, int status) const;

  std::string path_, part_;
  WriteOptions options_;
  CodecHandle codec_;
  OutputHandle format_;
  ScalerHandle scaler_;
  FrameHandle frame_;
  PacketHandle packet_;
  AVStream* stream_ = nullptr;  ///< owned by format_
  std::unique_ptr<SoundTrack> sound_;
  PacketHandle sound_packet_;         ///< read, and not yet due
  AVStream* sound_stream_ = nullptr;  ///< owned by format_
  double sound_end_s_ = std::numeric_limits<double>::infinity();
  Remarks remarks_;
  std::optional<std::int64_t> last_stamp_;
  std::optional<double> last_s_;
  bool finished_ = false;
};

LibavWriter::LibavWriter(const std::string& path, const WriteOptions& options)
    : path_(path), part_(half_file_beside(path)), options_(options) {
  silence_libav();
  // All that can be wrong with the request is found now, not at the first picture.
  constexpr int kAnySize_px = 64;
  static_cast<void>(open_encoder(path, options, kAnySize_px, kAnySize_px));
  std::error_code error;
  if (fs::is_directory(fs::path(path), error) || is_device_or_pipe(path) ||
      !std::ofstream(part_, std::ios::binary)) {
    throw InputError({path,
                      "",
                      "a place that cannot be written",
                      "a file in a writable folder",
                      "Check that the folder exists and may be written, and that no folder, "
                      "device or pipe has the name."});
  }
}

LibavWriter::~LibavWriter() {
  format_.reset();
  std::error_code ignored;
  if (!finished_) fs::remove(fs::path(part_), ignored);
}

void LibavWriter::refuse(const std::string& what, int status) const {
  throw InputError({path_,
                    "",
                    what + " (" + libav_message(status) + ")",
                    "a place to write to",
                    "Check free space and permissions."});
}

void LibavWriter::add_stream() {
  stream_ = avformat_new_stream(format_.get(), nullptr);
  if (stream_ == nullptr) throw std::bad_alloc();
  avcodec_parameters_from_context(stream_->codecpar, codec_.get());
  const bool quicktime = (format_->oformat->flags & AVFMT_GLOBALHEADER) != 0 &&
                         std::strcmp(format_->oformat->name, "matroska") != 0;
  if (codec_->codec_id == AV_CODEC_ID_HEVC && quicktime) {
    stream_->codecpar->codec_tag = MKTAG('h', 'v', 'c', '1');  // players know this name only
  }
  stream_->time_base = codec_->time_base;
  stream_->avg_frame_rate = codec_->framerate;
  stream_->sample_aspect_ratio = codec_->sample_aspect_ratio;
  if (options_.rotation_deg == 0) return;
  const auto matrix = matrix_from_turn(turn_from_rotation(options_.rotation_deg));
  std::uint8_t* to = av_stream_new_side_data(stream_, AV_PKT_DATA_DISPLAYMATRIX, sizeof matrix);
  if (to == nullptr) throw std::bad_alloc();
  std::memcpy(to, matrix.data(), sizeof matrix);
}

void LibavWriter::add_sound_stream() {
  if (options_.sound_from.empty()) return;
  sound_ = std::make_unique<SoundTrack>(options_.sound_from);
  if (sound_->stream() == nullptr) {
    remarks_.push_back({"no-sound", Severity::Note, "The clip has no sound."});
    return;
  }
  const AVCodecParameters& coded = *sound_->stream()->codecpar;
  if (avformat_query_codec(format_->oformat, coded.codec_id, FF_COMPLIANCE_NORMAL) != 1) {
    remarks_.push_back({"sound-left-out",
                        Severity::Warning,
                        std::string("The clip's sound is coded as ") +
                            avcodec_get_name(coded.codec_id) + ", which " +
                            fs::path(path_).extension().string() +
                            " files cannot hold; it was left out. An .mkv file holds it."});
    return;
  }
  sound_packet_ = make_packet();
  AVStream* stream = avformat_new_stream(format_.get(), nullptr);
  if (stream == nullptr || avcodec_parameters_copy(stream->codecpar, &coded) < 0) {
    throw std::bad_alloc();
  }
  stream->codecpar->codec_tag = 0;  // this file's own name for the codec
  stream->time_base = sound_->stream()->time_base;
  sound_stream_ = stream;
}

/// Writes the sound that begins before `until_s`, so that neither kind waits for the other.
void LibavWriter::copy_sound(double until_s) {
  const double end_s = std::min(until_s, sound_end_s_);
  while (sound_ && sound_stream_ != nullptr) {
    const AVRational unit = sound_->stream()->time_base;
    if (sound_packet_->data == nullptr && !sound_->next(*sound_packet_)) {
      sound_.reset();
      return;
    }
    if (static_cast<double>(sound_packet_->pts) * av_q2d(unit) >= end_s) return;
    sound_packet_->stream_index = sound_stream_->index;
    sound_packet_->pos = -1;
    av_packet_rescale_ts(sound_packet_.get(), unit, sound_stream_->time_base);
    const int status = av_interleaved_write_frame(format_.get(), sound_packet_.get());
    if (status < 0) refuse("a disk that takes no more", status);
  }
}

void LibavWriter::end_sound() {
  sound_end_s_ = last_s_.value_or(0.0) + 1.0 / options_.nominal_rate_per_s;
}

void LibavWriter::start(int width_px, int height_px) {
  codec_ = open_encoder(path_, options_, width_px, height_px);
  AVFormatContext* format = nullptr;
  avformat_alloc_output_context2(
      &format, &output_format(path_), nullptr, libav_url(part_).c_str());
  if (format == nullptr) throw std::bad_alloc();
  format_.reset(format);
  format_->flags |= AVFMT_FLAG_BITEXACT;
  add_stream();
  add_sound_stream();
  frame_ = make_frame();
  packet_ = make_packet();
  frame_->format = codec_->pix_fmt;
  frame_->width = width_px;
  frame_->height = height_px;
  if (av_frame_get_buffer(frame_.get(), 0) < 0) throw std::bad_alloc();
  int status = avio_open(&format_->pb, libav_url(part_).c_str(), AVIO_FLAG_WRITE);
  if (status < 0) refuse("a file that cannot be created", status);
  AVDictionary* settings = nullptr;
  if (fs::path(path_).extension() == ".mp4") av_dict_set(&settings, "movflags", "faststart", 0);
  status = avformat_write_header(format_.get(), &settings);
  av_dict_free(&settings);
  if (status < 0) refuse("a file that cannot be begun", status);
}

void LibavWriter::convert(const cv::Mat& bgr) {
  if (av_frame_make_writable(frame_.get()) < 0) throw std::bad_alloc();
  const bool full = codec_->color_range == AVCOL_RANGE_JPEG;
  if (!scaler_) {
    constexpr int kFlags = SWS_BICUBIC | SWS_ACCURATE_RND | SWS_BITEXACT;
    scaler_.reset(sws_getContext(bgr.cols,
                                 bgr.rows,
                                 AV_PIX_FMT_BGR24,
                                 bgr.cols,
                                 bgr.rows,
                                 AV_PIX_FMT_YUV420P,
                                 kFlags,
                                 nullptr,
                                 nullptr,
                                 nullptr));
    if (!scaler_) throw std::bad_alloc();
    constexpr int kUnit_16_16 = 1 << 16;
    sws_setColorspaceDetails(scaler_.get(),
                             sws_getCoefficients(SWS_CS_DEFAULT),
                             1,
                             sws_getCoefficients(codec_->colorspace),
                             full ? 1 : 0,
                             0,
                             kUnit_16_16,
                             kUnit_16_16);
  }
  const std::uint8_t* const planes[] = {bgr.data, nullptr, nullptr, nullptr};
  const int strides[] = {static_cast<int>(bgr.step[0]), 0, 0, 0};
  sws_scale(scaler_.get(), planes, strides, 0, bgr.rows, frame_->data, frame_->linesize);
}

void LibavWriter::add(const cv::Mat& bgr, double t_s) {
  expects(!finished_, "VideoWriter::add after finish");
  expects(bgr.type() == CV_8UC3 && !bgr.empty(), "VideoWriter::add: wants CV_8UC3");
  expects(bgr.cols % 2 == 0 && bgr.rows % 2 == 0, "VideoWriter::add: wants an even size");
  expects(std::isfinite(t_s) && t_s >= 0.0, "VideoWriter::add: time must be 0 or later");
  expects(!last_s_ || t_s > *last_s_, "VideoWriter::add: time must grow");
  if (!codec_) start(bgr.cols, bgr.rows);
  expects(bgr.cols == codec_->width && bgr.rows == codec_->height,
          "VideoWriter::add: all pictures must have the size of the first");
  convert(bgr);
  std::int64_t stamp = std::llround(t_s / av_q2d(codec_->time_base));
  if (last_stamp_) stamp = std::max(stamp, *last_stamp_ + 1);
  frame_->pts = stamp;
  frame_->interlaced_frame = options_.interlaced ? 1 : 0;
  frame_->top_field_first = options_.interlaced ? 1 : 0;
  frame_->quality = codec_->global_quality;
  last_stamp_ = stamp;
  last_s_ = t_s;
  copy_sound(t_s);
  send(frame_.get());
}

void LibavWriter::send(const AVFrame* frame) {
  int status = avcodec_send_frame(codec_.get(), frame);
  if (status < 0) refuse("a picture that cannot be encoded", status);
  const double interval_s = 1.0 / options_.nominal_rate_per_s;
  while ((status = avcodec_receive_packet(codec_.get(), packet_.get())) >= 0) {
    packet_->stream_index = stream_->index;
    packet_->duration = std::llround(interval_s / av_q2d(codec_->time_base));
    av_packet_rescale_ts(packet_.get(), codec_->time_base, stream_->time_base);
    status = av_interleaved_write_frame(format_.get(), packet_.get());
    if (status < 0) refuse("a disk that takes no more", status);
  }
  if (status != AVERROR(EAGAIN) && status != AVERROR_EOF) {
    refuse("a picture that cannot be encoded", status);
  }
}

void LibavWriter::finish() {
  expects(!finished_, "VideoWriter::finish twice");
  expects(codec_ != nullptr, "VideoWriter::finish without a picture");
  copy_sound(std::numeric_limits<double>::infinity());
  send(nullptr);
  int status = av_write_trailer(format_.get());
  if (status >= 0) status = avio_closep(&format_->pb);
  if (status < 0) refuse("a disk that takes no more", status);
  format_.reset();
  std::error_code error;
  fs::rename(fs::path(part_), fs::path(path_), error);
  if (error) {
    throw InputError({path_,
                      "",
                      "a file that cannot be replaced (" + error.message() + ")",
                      "a place to write to",
                      "Close what has the file open."});
  }
  finished_ = true;
}

}  // namespace

std::unique_ptr<VideoWriter> create_clip(const std::string& path, const WriteOptions& options) {
  return std::make_unique<LibavWriter>(path, options);
}

}  // namespace swingloss
