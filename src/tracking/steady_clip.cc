// SPDX-License-Identifier: Apache-2.0
#include "tracking/steady_clip.h"

#include "tracking/changed_clip.h"

#include <algorithm>
#include <utility>

#include <opencv2/imgproc.hpp>

namespace swingloss {
namespace {

/// Of the landmarks: the arm and its shadow may cover or outnumber many.
constexpr double kLeastPart = 0.35;

/// As it would lie with the camera held where it was at the first one.
void put_back(const PictureMove& move, cv::Mat& picture) {
  if (picture.empty()) return;
  cv::Mat steady;
  cv::warpAffine(picture,
                 steady,
                 move,
                 picture.size(),
                 cv::INTER_CUBIC | cv::WARP_INVERSE_MAP,
                 cv::BORDER_REPLICATE);
  picture = steady;
}

/// Not the greatest: a picture or two may be followed wrongly, where the arm fills it.
double ninth_of_ten(std::vector<double> values) {
  std::sort(values.begin(), values.end());
  return values[values.size() * 9 / 10];
}

}  // namespace

bool camera_shakes(const ClipSurvey& survey) {
  // Of small pixels: what following can tell there. A camera that turns about its line of
  // sight, or whose lens seeks its focus, leaves the middle where it is.
  constexpr double kStill_px = 0.15, kStillCorner_px = 0.25;
  const Landmarks landmarks(survey.small.front());
  if (!landmarks.enough()) return false;
  std::vector<double> shifts, at_corner;
  PictureMove near = kStill;
  for (const int k : survey.spread) {
    const cv::Mat& picture = survey.small[static_cast<std::size_t>(k)];
    const auto move = landmarks.move_to(picture, near, kLeastPart);
    near = move.value_or(kStill);
    if (!move) continue;
    shifts.push_back(shift_of(*move, picture.size()));
    at_corner.push_back(farthest_shift_of(*move, picture.size()));
  }
  if (shifts.empty()) return false;
  return ninth_of_ten(shifts) > kStill_px || ninth_of_ten(at_corner) > kStillCorner_px;
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
    const PictureMove near = shake.moves.empty() ? kStill : shake.moves.back();
    const auto move = landmarks.move_to(frame->luma, near, kLeastPart);
    if (!move) ++lost;
    shake.moves.push_back(move.value_or(near));
    const cv::Size size = frame->luma.size();
    shake.shift_px.push_back(shift_of(shake.moves.back(), size));
    shake.farthest_px =
        std::max(shake.farthest_px, farthest_shift_of(shake.moves.back(), size));
    if (shake.shift_px.back() > kFarthest * std::max(size.width, size.height))
      return std::nullopt;
  }
  if (10 * lost > shake.moves.size()) return std::nullopt;
  return shake;
}

ClipOpener steadied(const ClipOpener& open, std::shared_ptr<const CameraShake> shake) {
  return changed_clip(open, [shake = std::move(shake)](Frame& frame) {
    const auto k = static_cast<std::size_t>(frame.index);
    if (k >= shake->moves.size()) return;
    for (cv::Mat Frame::*picture : {&Frame::luma, &Frame::bgr})
      put_back(shake->moves[k], frame.*picture);
  });
}

}  // namespace swingloss
