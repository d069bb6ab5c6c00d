// SPDX-License-Identifier: Apache-2.0
#include "tracking/clip_faults.h"

#include "core/median.h"
#include "tracking/camera_curve.h"
#include "tracking/even_light.h"

#include <algorithm>
#include <utility>
#include <vector>

#include <opencv2/imgproc.hpp>

namespace swingloss {
namespace {

/// Pixels on a clear edge of a picture; all but the arm's few belong to what should stand
/// still.
cv::Mat edges_of(const cv::Mat& picture) {
  cv::Mat dx, dy, slope;
  cv::Sobel(picture, dx, CV_32F, 1, 0, 3, 0.125);
  cv::Sobel(picture, dy, CV_32F, 0, 1, 3, 0.125);
  cv::magnitude(dx, dy, slope);
  return slope > 12.0;
}

/// Those ninths of the picture in which there are edges enough to tell by.
std::vector<cv::Rect> telling_parts(const cv::Mat& edges) {
  std::vector<cv::Rect> parts;
  for (int part = 0; part < 9; ++part) {
    const cv::Rect window((part % 3) * edges.cols / 3,
                          (part / 3) * edges.rows / 3,
                          edges.cols / 3,
                          edges.rows / 3);
    if (cv::countNonZero(edges(window)) > int(edges.total() / 4000)) parts.push_back(window);
  }
  return parts;
}

/// Enough edges, in enough parts of the picture, to tell the camera from the arm.
bool tells(const cv::Mat& edges, const std::vector<cv::Rect>& parts) {
  return cv::countNonZero(edges) >= int(edges.total() / 200) && parts.size() >= 4;
}

/// Part of the edges that changed since the first picture, median over the parts: somebody who
/// walks by changes all edges of a few.
/// \param picture  index among the survey's small ones
double changed_edges(const ClipSurvey& survey,
                     const cv::Mat& edges,
                     const std::vector<cv::Rect>& parts,
                     int picture) {
  const cv::Mat& first = survey.small[std::size_t(survey.spread.front())];
  // Where the light drifts, all edges change though none moves.
  cv::Mat difference;
  const double black_level = curve_of(survey.info).black_level;
  cv::absdiff(
      in_light_of(first, survey.small[std::size_t(picture)], black_level), first, difference);
  const cv::Mat changed = (difference > std::max(12.0, 6.0 * survey.noise)) & edges;
  std::vector<double> shares;
  shares.reserve(parts.size());
  for (const cv::Rect& part : parts)
    shares.push_back(double(cv::countNonZero(changed(part))) /
                     double(cv::countNonZero(edges(part))));
  return median_of(std::move(shares));
}

bool inside(const ClipInfo& info, const Eigen::Vector2d& p) {
  return p.x() >= 0.0 && p.y() >= 0.0 && p.x() <= info.width_px - 1 &&
         p.y() <= info.height_px - 1;
}

/// "33 of 132 frames": those in which that part of the arm's length lies outside; nothing where
/// they are fewer than one in twenty.
std::optional<std::string> frames_outside(const ClipInfo& info,
                                          const CoarseAngles& angles,
                                          const SwingView& view,
                                          double part) {
  const Eigen::Vector3d place(0.0, part * angles.arm_length_px, 0.0);
  std::size_t outside = 0;
  for (double theta : angles.theta_rad) {
    if (!inside(info, view.project(swing_from_body(place, theta)))) ++outside;
  }
  const std::size_t frames = angles.theta_rad.size();
  if (20 * outside < frames) return std::nullopt;
  return std::to_string(outside) + " of " + std::to_string(frames) + " frames";
}

constexpr const char* kWholeSwing =
    "move the camera back or turn it until the whole swing, from release to the far side, is "
    "in the picture";

}  // namespace

std::optional<Failure> camera_moved(const ClipSurvey& survey) {
  const cv::Mat edges = edges_of(survey.small[std::size_t(survey.spread.front())]);
  const std::vector<cv::Rect> parts = telling_parts(edges);
  if (!tells(edges, parts)) return std::nullopt;
  std::size_t moved = 0;
  for (int picture : survey.spread) {
    if (changed_edges(survey, edges, parts, picture) > 0.4) ++moved;
  }
  if (5 * moved < survey.spread.size()) return std::nullopt;
  return Failure{"camera-moved",
                 "most edges of the background move in " + std::to_string(moved) + " of " +
                     std::to_string(survey.spread.size()) +
                     " frames looked at: the camera did not stand still",
                 "fix the camera to something heavy that does not touch the rig, and start it "
                 "by remote or timer"};
}

std::optional<Failure> arm_leaves_picture(const ClipInfo& info,
                                          const CoarseAngles& angles,
                                          const SwingView& view) {
  constexpr double kInner = 0.3;
  const auto frames = frames_outside(info, angles, view, kInner);
  if (!frames) return std::nullopt;
  return Failure{"arm-leaves-picture",
                 "all but the innermost part of the arm is outside the picture in " + *frames,
                 kWholeSwing};
}

std::optional<Remark> arm_partly_outside(const ClipInfo& info,
                                         const CoarseAngles& angles,
                                         const SwingView& view) {
  // The outer third tells most of the angle; a tip that is cut a little does no harm.
  constexpr double kOuter = 0.7;
  const auto frames = frames_outside(info, angles, view, kOuter);
  if (!frames) return std::nullopt;
  return Remark{"arm-partly-outside",
                Severity::Warning,
                "The outer part of the arm is outside the picture in " + *frames +
                    "; there its inner part alone tells the angle. For surer ones, " +
                    kWholeSwing + "."};
}

}  // namespace swingloss
