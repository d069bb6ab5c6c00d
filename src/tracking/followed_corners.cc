// SPDX-License-Identifier: Apache-2.0
#include "tracking/followed_corners.h"

#include <algorithm>

#include <opencv2/imgproc.hpp>
#include <opencv2/video/tracking.hpp>

namespace swingloss {
namespace {

constexpr std::size_t kMost = 20000;
/// Frames so far apart give slow swings chords long enough to have a direction.
constexpr std::size_t kFarApart = 6;

/// Follows corners of the moving region from one small picture to another.
void follow(const ClipSurvey& survey,
            std::size_t from,
            std::size_t to,
            std::vector<FollowedCorner>& out) {
  cv::Mat background8, mask;
  survey.small_background.convertTo(background8, CV_8U);
  cv::absdiff(survey.small[from], background8, mask);
  mask = mask > std::max(10.0, 6.0 * survey.noise);
  std::vector<cv::Point2f> corners;
  cv::goodFeaturesToTrack(survey.small[from], corners, 60, 0.02, 3.0, mask, 3);
  if (corners.empty()) return;
  std::vector<cv::Point2f> moved, back;
  std::vector<uchar> found, found_back;
  std::vector<float> error;
  const cv::Size window(11, 11);
  cv::calcOpticalFlowPyrLK(
      survey.small[from], survey.small[to], corners, moved, found, error, window, 3);
  cv::calcOpticalFlowPyrLK(
      survey.small[to], survey.small[from], moved, back, found_back, error, window, 3);
  for (std::size_t i = 0; i < corners.size(); ++i) {
    if (!found[i] || !found_back[i] || cv::norm(back[i] - corners[i]) > 0.5) continue;
    const FollowedCorner corner{corners[i], moved[i]};
    if (cv::norm(corner.to - corner.from) >= 1.0) out.push_back(corner);
  }
}

}  // namespace

std::vector<FollowedCorner> follow_corners(const ClipSurvey& survey) {
  std::vector<FollowedCorner> out;
  for (std::size_t k = 1; k < survey.small.size(); ++k) {
    if (survey.motion[k] > 0.0 && out.size() < kMost) follow(survey, k - 1, k, out);
  }
  for (std::size_t k = kFarApart; k < survey.small.size() && out.size() < kMost; k += 2) {
    const bool in_one_run = survey.frames[k] == survey.frames[k - kFarApart] + int(kFarApart);
    if (in_one_run && survey.motion[k] > 0.0) follow(survey, k - kFarApart, k, out);
  }
  return out;
}

}  // namespace swingloss
