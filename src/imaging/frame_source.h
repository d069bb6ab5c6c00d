// SPDX-License-Identifier: Apache-2.0
/// \file frame_source.h
/// A clip as a stream of upright, timed pictures.
#pragma once

#include "core/remark.h"
#include "core/result.h"

#include <functional>
#include <memory>
#include <optional>
#include <string>

#include <opencv2/core.hpp>

namespace swingloss {

/// One picture. (0,0) is the centre of the top-left pixel, x right, y down, upright as a person
/// would watch it: rotation metadata applied, non-square pixels made square.
struct Frame {
  int index = 0;     ///< count of decoded pictures, 0 first
  double t_s = 0.0;  ///< presentation time, 0 at the first picture
  cv::Mat luma;      ///< CV_8UC1, brightness as stored, full or video range as the file has it;
                     ///< where the upper field is taken (Lines), that with all lines filled
  cv::Mat bgr;       ///< CV_8UC3; empty unless ReadOptions::colour
};

enum class TimeSource { TimeStamps, NominalRate };

/// What the container says, after the corrections above.
struct ClipInfo {
  int width_px = 0, height_px = 0;  ///< upright, square pixels
  double nominal_rate_per_s = 0.0;  ///< container's average rate; 0 when unknown
  TimeSource time_source = TimeSource::TimeStamps;
  int rotation_deg = 0;             ///< clockwise turn that was applied: 0, 90, 180 or 270
  double pixel_aspect_ratio = 1.0;  ///< stored pixel width / height before squaring
  int expected_frames = 0;          ///< by the container; 0 when unknown. Never relied upon
  std::string codec, container;     ///< short names, for the report
  bool mirrored = false;  ///< left and right were exchanged (before the turn), as the file asks
  bool interlaced = false;   ///< the first picture is marked as woven from two moments
  bool video_range = false;  ///< brightness is stored from 16 to 235, not from 0 to 255
  /// Filmed at, as some phones write beside slow motion; 0 when the file does not say.
  double capture_rate_per_s = 0.0;
};

/// Which lines of a video's pictures count. Interlaced ones are woven from two moments, line by
/// line: even lines (the upper field) show one, odd lines the other.
enum class Lines {
  AsMarked,    ///< the upper field of each picture that is marked as interlaced
  All,         ///< all, whatever is marked
  UpperField,  ///< the upper field of each picture
};

struct ReadOptions {
  bool colour = false;               ///< also deliver Frame::bgr (costs a conversion a frame)
  double picture_rate_per_s = 60.0;  ///< for folders of numbered pictures, which carry no time
  int threads = 0;  ///< of the decoder; 0 takes the machine's. The pictures do not depend on it
  Lines lines = Lines::AsMarked;  ///< of a video file; a folder's pictures have all lines
};

/// Codes of remarks on the lines: fields were taken as marked; though nothing is marked; all
/// lines were taken though pictures are marked.
inline constexpr const char *kInterlaced = "interlaced",
                            *kInterlacedUnmarked = "interlaced-unmarked",
                            *kNotInterlaced = "not-interlaced";

/// A clip being read from its beginning to its end, one picture in memory at a time.
class FrameSource {
 public:
  virtual ~FrameSource() = default;
  /// The next picture, or nothing at the end. A damaged stretch is skipped and remarked.
  virtual std::optional<Frame> next() = 0;
  [[nodiscard]] virtual const ClipInfo& info() const = 0;
  /// What was odd so far: "clip-cut-off", "clip-damaged", "uneven-time", ...; complete once
  /// next() has returned nothing.
  [[nodiscard]] virtual Remarks remarks() const = 0;
};

/// Opens a clip anew from its first picture.
using ClipOpener = std::function<std::unique_ptr<FrameSource>()>;

/// Opens a video file (any codec and container that the installed libav* can read) or a folder
/// of numbered pictures (PNG, JPEG, TIFF; numeric order).
/// \throws InputError  no such file; not a video; audio only; no pictures in the folder
std::unique_ptr<FrameSource> open_clip(const std::string& path,
                                       const ReadOptions& options = {});

}  // namespace swingloss
