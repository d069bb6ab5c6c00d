// SPDX-License-Identifier: Apache-2.0
#include "series/picture_angle.h"

#include "core/angle.h"
#include "swing/find_falls.h"
#include "swing/split_blows.h"
#include "view/turned_view.h"

#include <algorithm>
#include <cmath>
#include <functional>

#include <Eigen/LU>

namespace swingloss {
namespace {

using Eigen::Vector2d;

/// Angles of all samples' arm ends under another view, unwrapped along the old ones.
std::vector<double> angles_under(const SwingView& view, const ArmTrack& arm) {
  std::vector<double> angles_rad;
  for (const AngleSample& sample : arm.angles.samples) {
    const Vector2d end_px = arm_end_in_picture_px(arm, sample.theta_rad);
    const auto angle_rad = angle_in_picture_rad(view, end_px);
    angles_rad.push_back(
        turned_near_rad(angle_rad.value_or(sample.theta_rad), sample.theta_rad));
  }
  return angles_rad;
}

using Change = std::function<void(SwingView&)>;

/// What one standard deviation of a change of the view moves every sample by.
SharedDoubt doubt_of(const std::string& source,
                     const SwingView& view,
                     const ArmTrack& arm,
                     const Change& change) {
  SwingView moved = view;
  change(moved);
  const std::vector<double> before = angles_under(view, arm);
  const std::vector<double> after = angles_under(moved, arm);
  SharedDoubt doubt{source, Eigen::VectorXd(static_cast<Eigen::Index>(before.size())), {}};
  for (std::size_t i = 0; i < before.size(); ++i)
    doubt.shape_rad[static_cast<Eigen::Index>(i)] = after[i] - before[i];
  doubt.view = vector_of(moved) - vector_of(view);
  return doubt;
}

bool is_of_geometry(const SharedDoubt& doubt) {
  return doubt.source.rfind("view.geometry-", 0) == 0;
}

/// When the fall of the blow reaches the bottom.
std::optional<double> bottom_s(const AngleTrack& track) {
  const Result<FallsFound> found = find_falls(track.samples);
  if (!found.ok()) return {};
  const std::vector<Fall>& falls = found.value().falls;
  return falls[fall_of_blow(falls)].bottom_s;
}

std::vector<AngleTrack> parts_of(const AngleTrack& track) {
  const Result<std::vector<AngleTrack>> parts = split_blows(track);
  return parts.ok() ? parts.value() : std::vector<AngleTrack>{track};
}

}  // namespace

double turned_near_rad(double angle_rad, double other_rad) {
  return other_rad + std::remainder(angle_rad - other_rad, 2.0 * kPi);
}

std::optional<double> angle_in_picture_rad(const SwingView& view, const Vector2d& point_px) {
  constexpr int kMostSteps = 30;
  const Vector2d off = point_px - view.axle_px;
  if (off.norm() < 1.0) return {};
  double theta_rad = std::atan2(off.x(), off.y());
  double length_px = off.norm();
  const BodyProjection projection(view);
  for (int step = 0; step < kMostSteps; ++step) {
    const ProjectedPoint seen = projection({0.0, length_px, 0.0}, theta_rad);
    Eigen::Matrix2d slope;
    slope << seen.by_theta, seen.by_body.col(1);
    const Vector2d change = slope.fullPivLu().solve(point_px - seen.pixel);
    if (!change.allFinite()) return {};
    theta_rad += change.x();
    length_px += change.y();
    if (change.cwiseAbs().maxCoeff() < 1e-12 * (1.0 + length_px)) break;
    if (step + 1 == kMostSteps || length_px <= 0.0) return {};
  }
  return turned_near_rad(theta_rad, 0.0);
}

Vector2d arm_end_in_picture_px(const ArmTrack& arm,
                               double picture_rad,
                               double omega_rad_per_s) {
  return TurnedView(arm.view, picture_rad, omega_rad_per_s)
      .pixel_of({0.0, arm.arm_length_px, 0.0});
}

ArmTrack arm_about(const ArmTrack& arm,
                   const Vector2d& axle_px,
                   double u_px,
                   const std::string& suffix) {
  ArmTrack moved = arm;
  moved.view.axle_px = axle_px;
  const std::vector<double> angles_rad = angles_under(moved.view, arm);
  for (std::size_t i = 0; i < angles_rad.size(); ++i)
    moved.angles.samples[i].theta_rad = angles_rad[i];
  auto& doubts = moved.angles.doubts;
  doubts.erase(std::remove_if(doubts.begin(), doubts.end(), is_of_geometry), doubts.end());
  moved.view_rest.setZero();
  const double u_tilt_rad = arm.tilt_u_rad;
  const std::vector<std::pair<const char*, Change>> changes = {
      {"hand.axle-x", [u_px](SwingView& view) { view.axle_px.x() += u_px; }},
      {"hand.axle-y", [u_px](SwingView& view) { view.axle_px.y() += u_px; }},
      {"hand.tilt-x", [u_tilt_rad](SwingView& view) { view.tilt_x_rad += u_tilt_rad; }},
      {"hand.tilt-y", [u_tilt_rad](SwingView& view) { view.tilt_y_rad += u_tilt_rad; }}};
  for (const auto& [source, change] : changes)
    doubts.push_back(doubt_of(source + suffix, moved.view, arm, change));
  return moved;
}

std::vector<double> times_of_blows_s(const AngleTrack& track) {
  std::vector<double> times_s;
  const std::vector<AngleTrack> parts = parts_of(track);
  if (parts.size() < 2) return times_s;
  for (const AngleTrack& part : parts) {
    if (const auto at_s = bottom_s(part)) times_s.push_back(*at_s);
  }
  return times_s;
}

AngleTrack stretch_of_blow(const AngleTrack& track, double t_s) {
  const std::vector<AngleTrack> parts = parts_of(track);
  AngleTrack chosen = track;
  double nearest_s = 1e9;
  for (const AngleTrack& part : parts) {
    const auto at_s = bottom_s(part);
    if (!at_s || std::abs(*at_s - t_s) >= nearest_s) continue;
    nearest_s = std::abs(*at_s - t_s);
    chosen = part;
  }
  return chosen;
}

}  // namespace swingloss
