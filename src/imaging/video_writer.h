// SPDX-License-Identifier: Apache-2.0
/// \file video_writer.h
/// Writing pictures as a clip.
#pragma once

#include "core/remark.h"

#include <memory>
#include <string>

#include <opencv2/core.hpp>

namespace swingloss {

struct WriteOptions {
  std::string codec = "h264";  ///< "h264", "hevc", "mjpeg", "vp9", "mpeg4", "ffv1"
  int quality = 23;  ///< constant rate factor where the codec has one: 0 best, 51 worst
  int time_base_per_s = 90000;  ///< resolution of the time stamps
  double nominal_rate_per_s = 60.0;
  int rotation_deg = 0;  ///< display rotation to record, clockwise: 0, 90, 180, 270
  double pixel_aspect_ratio = 1.0;
  bool interlaced = false;  ///< flag the pictures as two woven fields, upper lines first
  /// Clip whose sound is written beside the pictures, as it is coded there; its first picture
  /// has the time 0. Empty: no sound.
  std::string sound_from{};
};

/// A clip being written: container by the file name's ending (.mp4, .mov, .mkv, .avi, .webm).
class VideoWriter {
 public:
  virtual ~VideoWriter() = default;
  /// \param bgr CV_8UC3, even width and height, the size of the first picture
  /// \param t_s presentation time, growing
  virtual void add(const cv::Mat& bgr, double t_s) = 0;
  /// Flushes and closes; without it the file is removed. \throws InputError when the disk
  /// refuses
  virtual void finish() = 0;
  /// From the first picture on, where sound was asked for: "no-sound" (the clip has none),
  /// "sound-left-out" (this kind of file cannot hold it as it is coded).
  [[nodiscard]] virtual Remarks remarks() const = 0;
  /// No sound is to begin after the last picture's interval, however many pictures follow.
  virtual void end_sound() = 0;
};

/// \throws InputError for an unknown codec or ending, or a place that cannot be written
std::unique_ptr<VideoWriter> create_clip(const std::string& path,
                                         const WriteOptions& options = {});

}  // namespace swingloss
