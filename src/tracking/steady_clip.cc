// SPDX-License-Identifier: Apache-2.0
#include "tracking/steady_clip.h"

#include <algorithm>
#include <cmath>
#include <utility>

#include <opencv2/calib3d.hpp>
#include <opencv2/imgproc.hpp>
#include <opencv2/video/tracking.hpp>

namespace swingloss {
namespace {

using Points = std::vector<cv::Point2f>;

const cv::Matx23d kStill(1, 0, 0, 0, 1, 0);

/// Corners of the picture that all frames are held against.
class Landmarks {
 public:
  explicit Landmarks(const cv::Mat& first) : first_(first.clone()) {
    constexpr int kMost = 300;
    constexpr double kQuality = 0.01;
    const double apart_px = 0.02 * std::max(first.cols, first.rows);
    cv::goodFeaturesToTrack(first_, points_, kMost, kQuality, apart_px);
  }

  [[nodiscard]] bool enough() const { return points_.size() >= kLeast; }

  /// \param near  where the frame before lay
  /// \return nothing where too few landmarks agree
  [[nodiscard]] std::optional<cv::Matx23d> move_to(const cv::Mat& frame,
                                                   const cv::Matx23d& near) const {
    constexpr int kWindow_px = 21, kLevels = 3;
    constexpr double kAgree_px = 0.7, kLeastPart = 0.35;
    Points seen;
    cv::transform(points_, seen, near);
    std::vector<uchar> followed;
    std::vector<float> misfit;
    cv::calcOpticalFlowPyrLK(first_,
                             frame,
                             points_,
                             seen,
                             followed,
                             misfit,
                             {kWindow_px, kWindow_px},
                             kLevels,
                             {cv::TermCriteria::COUNT | cv::TermCriteria::EPS, 30, 0.003},
                             cv::OPTFLOW_USE_INITIAL_FLOW);
    Points from, to;
    for (std::size_t i = 0; i < points_.size(); ++i) {
      if (followed[i] == 0) continue;
      from.push_back(points_[i]);
      to.push_back(seen[i]);
    }
    if (from.size() < kLeast) return std::nullopt;
    std::vector<uchar> agrees;
    const cv::Mat move =
        cv::estimateAffinePartial2D(from, to, agrees, cv::RANSAC, kAgree_px, 1000, 0.99, 20);
    const int agreeing = cv::countNonZero(agrees);
    if (move.empty() || agreeing < int(kLeast) ||
        agreeing < kLeastPart * double(points_.size()))
      return std::nullopt;
    return cv::Matx23d(move);
  }

 private:
  static constexpr std::size_t kLeast = 12;
  cv::Mat first_;
  Points points_;
};

double shift_of(const cv::Matx23d& move, const cv::Size& size) {
  const cv::Vec3d middle(0.5 * size.width, 0.5 * size.height, 1.0);
  const cv::Vec2d moved = move * middle;
  return std::hypot(moved[0] - middle[0], moved[1] - middle[1]);
}

/// Pictures of another source, each moved back.
class SteadySource : public FrameSource {
 public:
  SteadySource(std::unique_ptr<FrameSource> source, std::shared_ptr<const CameraShake> shake)
      : source_(std::move(source)), shake_(std::move(shake)) {}

  std::optional<Frame> next() override {
    std::optional<Frame> frame = source_->next();
    if (!frame) return frame;
    const auto k = static_cast<std::size_t>(frame->index);
    if (k >= shake_->moves.size()) return frame;
    for (cv::Mat Frame::*picture : {&Frame::luma, &Frame::bgr}) {
      cv::Mat& shaken = (*frame).*picture;
      if (shaken.empty()) continue;
      cv::Mat steady;
      cv::warpAffine(shaken,
                     steady,
                     shake_->moves[k],
                     shaken.size(),
                     cv::INTER_CUBIC | cv::WARP_INVERSE_MAP,
                     cv::BORDER_REPLICATE);
      shaken = steady;
    }
    return frame;
  }
  [[nodiscard]] const ClipInfo& info() const override { return source_->info(); }
  [[nodiscard]] Remarks remarks() const override { return source_->remarks(); }

 private:
  std::unique_ptr<FrameSource> source_;
  std::shared_ptr<const CameraShake> shake_;
};

}  // namespace

bool camera_shakes(const ClipSurvey& survey) {
  constexpr double kStill_px = 0.15;  // of small pixels: what following can tell there
  const Landmarks landmarks(survey.small.front());
  if (!landmarks.enough()) return false;
  std::vector<double> shifts;
  cv::Matx23d near = kStill;
  for (const int frame : survey.spread_frames) {
    const cv::Mat& picture = survey.small[static_cast<std::size_t>(frame)];
    const auto move = landmarks.move_to(picture, near);
    near = move.value_or(kStill);
    if (move) shifts.push_back(shift_of(*move, picture.size()));
  }
  if (shifts.empty()) return false;
  // The ninth of ten: a picture or two may be followed wrongly, where the arm fills it.
  std::sort(shifts.begin(), shifts.end());
  return shifts[shifts.size() * 9 / 10] > kStill_px;
}

std::optional<CameraShake> follow_camera(const ClipOpener& open) {
  constexpr double kFarthest = 0.05;
  const std::unique_ptr<FrameSource> source = open();
  std::optional<Frame> frame = source->next();
  if (!frame) return std::nullopt;
  const Landmarks landmarks(frame->luma);
  if (!landmarks.enough()) return std::nullopt;
  CameraShake shake;
  std::size_t lost = 0;
  for (; frame; frame = source->next()) {
    const cv::Matx23d near = shake.moves.empty() ? kStill : shake.moves.back();
    const auto move = landmarks.move_to(frame->luma, near);
    if (!move) ++lost;
    shake.moves.push_back(move.value_or(near));
    const cv::Size size = frame->luma.size();
    shake.shift_px.push_back(shift_of(shake.moves.back(), size));
    if (shake.shift_px.back() > kFarthest * std::max(size.width, size.height))
      return std::nullopt;
  }
  if (10 * lost > shake.moves.size()) return std::nullopt;
  return shake;
}

ClipOpener steadied(const ClipOpener& open, std::shared_ptr<const CameraShake> shake) {
  return [open, shake = std::move(shake)] {
    return std::make_unique<SteadySource>(open(), shake);
  };
}

}  // namespace swingloss
