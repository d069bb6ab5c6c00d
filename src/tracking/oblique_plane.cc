// SPDX-License-Identifier: Apache-2.0
#include "tracking/oblique_plane.h"

#include "core/angle.h"
#include "tracking/axle_search.h"
#include "tracking/every_few.h"
#include "view/turned_view.h"

#include <algorithm>
#include <cmath>

namespace swingloss {
namespace {

/// Phones see about 56 degrees across the long side of a video picture.
constexpr double kFocalOverLongSide = 0.95;
constexpr double kDegree_rad = kPi / 180.0;
constexpr double kRings_rad[] = {
    10.0 * kDegree_rad, 20.0 * kDegree_rad, 30.0 * kDegree_rad, 40.0 * kDegree_rad};
constexpr double kMost_rad = 50.0 * kDegree_rad;
constexpr int kDirections = 12;
/// Nearer to square the ordinary way does as well.
constexpr double kFar_rad = 15.0 * kDegree_rad;
/// So much more of the motion must turn about one place than from square.
constexpr double kClearly = 1.08;
/// Two tilts that bring so nearly the same about are both left open.
constexpr double kAlike = 0.95;
/// So many followed places tell as much as all.
constexpr std::size_t kEnough = 2000;

/// Two tilts, and which part of the motion turns about one place with them.
struct Try {
  Eigen::Vector2d tilt_rad;
  double part = 0.0;
};

class TiltSearch {
 public:
  TiltSearch(const std::vector<FollowedCorner>& corners, const cv::Size& size) : size_(size) {
    for (const std::size_t i : every_few(corners.size(), kEnough))
      corners_.push_back(corners[i]);
  }

  [[nodiscard]] Try at(const Eigen::Vector2d& tilt_rad) const {
    const SwingView view = central_view(size_, tilt_rad);
    const TurnedView turned(view, 0.0);
    std::vector<FollowedCorner> drawn;
    for (const FollowedCorner& corner : corners_) {
      const Eigen::Vector3d from = turned.plane({corner.from.x, corner.from.y});
      const Eigen::Vector3d to = turned.plane({corner.to.x, corner.to.y});
      // Beyond the plane's horizon nothing of it is seen.
      if (from.z() <= 0.0 || to.z() <= 0.0) continue;
      drawn.push_back({in_picture(view, from), in_picture(view, to)});
    }
    return {tilt_rad, part_about_one_axle(drawn, size_)};
  }

  /// Uphill from a try by steps in eight directions, until none leads higher.
  [[nodiscard]] Try uphill(Try best, double step_rad) const {
    constexpr int kMostSteps = 10;
    for (int step = 0; step < kMostSteps; ++step) {
      const Eigen::Vector2d from_rad = best.tilt_rad;
      for (int toward = 0; toward < 8; ++toward) {
        const double way_rad = kPi / 4.0 * toward;
        const Try next =
            at(from_rad + step_rad * Eigen::Vector2d(std::cos(way_rad), std::sin(way_rad)));
        if (next.tilt_rad.norm() <= kMost_rad && next.part > best.part) best = next;
      }
      if (best.tilt_rad == from_rad) break;
    }
    return best;
  }

 private:
  static cv::Point2d in_picture(const SwingView& view, const Eigen::Vector3d& place) {
    return {view.axle_px.x() + place.x() / place.z(), view.axle_px.y() + place.y() / place.z()};
  }

  std::vector<FollowedCorner> corners_;
  cv::Size size_;
};

}  // namespace

SwingView central_view(const cv::Size& size, const Eigen::Vector2d& tilt_rad) {
  SwingView view;
  view.principal_px = {0.5 * (size.width - 1), 0.5 * (size.height - 1)};
  view.axle_px = view.principal_px;
  view.tilt_x_rad = tilt_rad.x();
  view.tilt_y_rad = tilt_rad.y();
  view.focal_px = kFocalOverLongSide * std::max(size.width, size.height);
  return view;
}

std::vector<Eigen::Vector2d> oblique_tilts_rad(const std::vector<FollowedCorner>& corners,
                                               const cv::Size& size) {
  const TiltSearch search(corners, size);
  const Try square = search.at(Eigen::Vector2d::Zero());
  Try best = square;
  for (const double ring_rad : kRings_rad) {
    for (int toward = 0; toward < kDirections; ++toward) {
      const double way_rad = 2.0 * kPi * toward / kDirections;
      const Try next =
          search.at(ring_rad * Eigen::Vector2d(std::cos(way_rad), std::sin(way_rad)));
      if (next.part > best.part) best = next;
    }
  }
  if (best.part < kClearly * square.part) return {};
  // From afar both ways of the tilt look alike: which one climbs higher may tell.
  std::vector<Try> both = {best, search.at(-best.tilt_rad)};
  for (Try& each : both) {
    for (const double step_rad : {5.0 * kDegree_rad, 2.5 * kDegree_rad})
      each = search.uphill(each, step_rad);
  }
  const double most = std::max(both[0].part, both[1].part);
  std::vector<Eigen::Vector2d> tilts_rad;
  const bool are_one = (both[0].tilt_rad - both[1].tilt_rad).norm() < kFar_rad;
  if (are_one) both.pop_back();
  for (const Try& each : both) {
    if (each.part >= kAlike * most && each.tilt_rad.norm() >= kFar_rad)
      tilts_rad.push_back(each.tilt_rad);
  }
  return tilts_rad;
}

}  // namespace swingloss
