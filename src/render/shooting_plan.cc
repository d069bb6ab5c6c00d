// SPDX-License-Identifier: Apache-2.0
#include "render/shooting_plan.h"

#include "core/expects.h"
#include "render/random_stream.h"

#include <algorithm>
#include <cmath>

namespace swingloss::render {
namespace {

constexpr std::uint64_t kTimeStream = 61;
constexpr std::uint64_t kShakeStream = 62;
constexpr double kJitterFraction = 0.12;
constexpr double kDropProbability = 0.06;
constexpr double kBumpTakes_s = 0.06;

}  // namespace

std::vector<FrameTime> frame_times(const RenderScene& scene, double end_s) {
  const RenderCamera& camera = scene.camera;
  expects(camera.rate_per_s > 0.0, "RenderCamera: rate_per_s is positive");
  expects(scene.faults.capture_rate_ratio > 0.0,
          "RenderFaults: capture_rate_ratio is positive");
  RandomStream random(scene.seed, kTimeStream);
  // A frame is taken only when it starts before the end.
  const int count = std::max(1, static_cast<int>(std::ceil(end_s * camera.rate_per_s - 1e-9)));
  std::vector<FrameTime> times;
  for (int k = 0; k < count; ++k) {
    double place = k;
    if (camera.uneven_time && k > 0) {
      place += random.uniform(-kJitterFraction, kJitterFraction);
      if (random.chance(kDropProbability)) continue;
    }
    const double true_s = place / camera.rate_per_s;
    times.push_back({true_s, true_s * scene.faults.capture_rate_ratio});
  }
  return times;
}

CameraTurn::CameraTurn(const RenderScene& scene)
    : shake_rad_(Angle::from_deg(scene.faults.shake_deg).rad()),
      bump_rad_(Angle::from_deg(scene.faults.bump_deg).rad()),
      bump_at_s_(scene.faults.bump_at_s) {
  RandomStream random(scene.seed, kShakeStream);
  for (auto& axis : waves_) {
    for (Wave& wave : axis) wave = {random.uniform(0.4, 5.0), random.uniform(0.0, 2.0 * kPi)};
  }
}

cv::Vec3d CameraTurn::at(double t_s) const {
  // Four sines of equal size a have the rms a sqrt(2).
  const double size_rad = shake_rad_ / std::sqrt(kWaves / 2.0);
  cv::Vec3d turn;
  for (int axis = 0; axis < 3; ++axis) {
    for (const Wave& wave : waves_[static_cast<std::size_t>(axis)]) {
      turn[axis] += size_rad * std::sin(2.0 * kPi * wave.rate_per_s * t_s + wave.phase_rad);
    }
  }
  const double bumped = std::clamp((t_s - bump_at_s_) / kBumpTakes_s, 0.0, 1.0);
  turn[0] += bump_rad_ * bumped;
  turn[1] += 0.5 * bump_rad_ * bumped;
  return turn;
}

int CameraTurn::margin_px(const Pinhole& camera) const {
  if (still()) return 0;
  const double most_rad = shake_rad_ * kWaves / std::sqrt(kWaves / 2.0) + std::abs(bump_rad_);
  const double focal_px = std::max(camera.focal_px.x, camera.focal_px.y);
  // A turn by t moves a point by f t (1 + r^2), and roll by half the diagonal; 1.6 covers 75
  // degrees of field.
  const double half_diagonal_px = 0.5 * std::hypot(camera.width_px, camera.height_px);
  return static_cast<int>(std::ceil(most_rad * (1.6 * focal_px + half_diagonal_px))) + 4;
}

}  // namespace swingloss::render
