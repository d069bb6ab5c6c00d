// SPDX-License-Identifier: Apache-2.0
#include "report/overlay_film.h"

#include "core/expects.h"
#include "core/input_error.h"
#include "imaging/frame_source.h"
#include "imaging/video_writer.h"
#include "report/overlay_painter.h"
#include "series/followed_clip.h"

#include <algorithm>
#include <cmath>
#include <filesystem>
#include <memory>

#include <opencv2/imgproc.hpp>

namespace swingloss {
namespace {

constexpr int kLongestSide_px = 3840;  ///< what phones' H.264 decoders take
constexpr int kSlowest = 8;
constexpr double kLeastRate_per_s = 10.0;            ///< below it a replay looks like slides
constexpr double kBefore_s = 0.15, kAfter_s = 0.35;  ///< of the blow, true time
constexpr double kLongest_s = 0.9, kPastTurn_s = 0.04;
constexpr double kHold_s = 1.0;

double usual_rate_per_s(const ClipInfo& info) {
  constexpr double kAssumed = 30.0;
  const double rate = info.nominal_rate_per_s;
  return rate >= 1.0 && rate <= 1e4 ? rate : kAssumed;
}

/// How a clip's pictures become the film's: even sides, none too long for a phone.
struct Format {
  explicit Format(const ClipInfo& info) {
    const int longest = std::max({info.width_px, info.height_px, 1});
    scale = std::min(1.0, static_cast<double>(kLongestSide_px) / longest);
    const auto even = [&](int side_px) {
      return 2 * std::max(1, static_cast<int>(std::ceil(0.5 * scale * side_px)));
    };
    size = {even(info.width_px), even(info.height_px)};
  }
  [[nodiscard]] cv::Mat fitted(const cv::Mat& bgr) const {
    cv::Mat picture;
    if (scale < 1.0) {
      cv::resize(bgr, picture, size, 0.0, 0.0, cv::INTER_AREA);
    } else {
      cv::copyMakeBorder(bgr,
                         picture,
                         0,
                         size.height - bgr.rows,
                         0,
                         size.width - bgr.cols,
                         cv::BORDER_REPLICATE);
    }
    return picture;
  }
  double scale = 1.0;
  cv::Size size;
};

/// The replay goes on to the turning point where that is near, so that its last picture has all
/// the read-outs.
double replay_until_s(const SwingEvents& events, double ratio) {
  const double least_s = *events.blow_s + kAfter_s * ratio;
  if (!events.turn_s) return least_s;
  const double past_turn_s = *events.turn_s + kPastTurn_s * ratio;
  return std::max(least_s, std::min(past_turn_s, *events.blow_s + kLongest_s * ratio));
}

class Projector {
 public:
  Projector(const SwingRecord& record,
            const std::string& clip_path,
            const std::string& film_path,
            const OverlayOptions& options)
      : record_(record),
        clip_path_(clip_path),
        options_(options),
        open_(followed_clip(clip_path, how_followed(record), reading(options))),
        source_(open_()) {
    const ClipInfo& info = source_->info();
    rate_per_s_ = usual_rate_per_s(info);
    WriteOptions writing;
    writing.quality = 20;
    writing.nominal_rate_per_s = rate_per_s_;
    if (options.sound) writing.sound_from = clip_path;
    writer_ = create_clip(film_path, writing);
  }

  OverlayFilm show() {
    const Format format(source_->info());
    const OverlayPainter painter(
        record_, options_, format.size.width, format.size.height, format.scale);
    at_own_speed(format, painter);
    writer_->end_sound();
    if (record_.measurement.events.blow_s && film_.pictures > 0)
      in_slow_motion(format, painter, *record_.measurement.events.blow_s);
    if (film_.pictures == 0) {
      throw InputError({clip_path_,
                        "",
                        "no picture that can be decoded",
                        "a clip with pictures",
                        "Copy the file from the camera again."});
    }
    writer_->finish();
    film_.remarks = writer_->remarks();
    return film_;
  }

 private:
  static ReadOptions reading(const OverlayOptions& options) {
    ReadOptions reading;
    reading.colour = true;
    reading.threads = options.threads;
    return reading;
  }

  void at_own_speed(const Format& format, const OverlayPainter& painter) {
    while (const std::optional<Frame> frame = source_->next()) {
      cv::Mat picture = format.fitted(frame->bgr);
      painter.paint(picture, frame->index, frame->t_s, "");
      writer_->add(picture, frame->t_s);
      end_s_ = frame->t_s + 1.0 / rate_per_s_;
      ++film_.pictures;
    }
  }

  void in_slow_motion(const Format& format, const OverlayPainter& painter, double blow_s) {
    const double ratio = std::max(1.0, record_.measurement.capture_rate_ratio);
    const double true_rate_per_s = rate_per_s_ * ratio;
    film_.slower =
        std::clamp(static_cast<int>(true_rate_per_s / kLeastRate_per_s), 1, kSlowest);
    const double stretch = std::max(1.0, film_.slower / ratio);
    const std::string speed = "slow 1/" + std::to_string(film_.slower);
    const double from_s = std::max(0.0, blow_s - kBefore_s * ratio);
    const double until_s = replay_until_s(record_.measurement.events, ratio);
    film_.slow_from_s = end_s_;
    source_ = open_();
    cv::Mat picture;
    double shown_s = end_s_;
    while (const std::optional<Frame> frame = source_->next()) {
      if (frame->t_s > until_s) break;
      if (frame->t_s < from_s) continue;
      shown_s = end_s_ + stretch * (frame->t_s - from_s);
      picture = format.fitted(frame->bgr);
      painter.paint(picture, frame->index, frame->t_s, speed);
      writer_->add(picture, shown_s);
      ++film_.slow_pictures;
    }
    if (film_.slow_pictures == 0) return;
    writer_->add(picture, shown_s + kHold_s);
    ++film_.slow_pictures;
  }

  const SwingRecord& record_;
  std::string clip_path_;
  OverlayOptions options_;
  ClipOpener open_;
  std::unique_ptr<FrameSource> source_;
  std::unique_ptr<VideoWriter> writer_;
  double rate_per_s_ = 0.0;
  double end_s_ = 0.0;  ///< of the part at the clip's own speed
  OverlayFilm film_;
};

void refuse_own_clip(const std::string& clip_path, const std::string& film_path) {
  std::error_code fault;
  if (!std::filesystem::equivalent(
          std::filesystem::path(clip_path), std::filesystem::path(film_path), fault))
    return;
  throw InputError({film_path,
                    "",
                    "the clip itself",
                    "another name for the film",
                    "The clip would be lost; choose a new name."});
}

}  // namespace

void check_film_place(const std::string& clip_path, const std::string& film_path) {
  refuse_own_clip(clip_path, film_path);
  static_cast<void>(create_clip(film_path));
}

OverlayFilm write_overlay(const SwingRecord& record,
                          const std::string& clip_path,
                          const std::string& film_path,
                          const OverlayOptions& options) {
  expects(!record.typed_track, "write_overlay: a typed track has no pictures");
  refuse_own_clip(clip_path, film_path);
  return Projector(record, clip_path, film_path, options).show();
}

}  // namespace swingloss
