// SPDX-License-Identifier: Apache-2.0
#include "tracking/tilt_start.h"

#include "core/angle.h"
#include "tracking/all_cores.h"
#include "tracking/every_few.h"
#include "tracking/lead_frames.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <optional>
#include <utility>

#include <Eigen/LU>

namespace swingloss {
namespace {

/// After the soft ones, for the best tries.
constexpr Stage kSharp[] = {
    {1.2, 20.0, 2.0, true, false, true, false, false, false},
    {0.6, 12.0, 1.0, true, true, false, false, false, false},
    {0.0, 12.0, 0.6, true, true, false, false, false, false},
};
constexpr std::size_t kDirections = 6;
constexpr double kTilt_rad = 9.0 * kPi / 180.0;
constexpr std::size_t kFrames = 24;
/// After the soft rounds a try goes on beside that from the start where its pixels' misfit is
/// within this of the least; at most so many do.
constexpr double kAlike = 1.15;
constexpr std::size_t kMostBesideStart = 2;

/// Some of the crops, and what is behind them. Keeps references.
struct Scene {
  const std::vector<ArmCrop>& crops;
  const cv::Mat& background;
  double focal_px;
};

template <typename Stages>
std::optional<Failure> run_stages(const Stages& stages, const Scene& scene, RefinedArm& arm) {
  for (const Stage& stage : stages) {
    if (auto failure = run_stage(stage, scene.crops, scene.background, scene.focal_px, arm))
      return failure;
  }
  return std::nullopt;
}

/// After the soft rounds from six tilts about the start: those that explain the pixels about as
/// well as the best of all, the best first.
std::vector<RefinedArm> good_tries(const RefinedArm& start,
                                   const Scene& scene,
                                   double started_levels) {
  std::vector<RefinedArm> tries(kDirections, start);
  std::array<bool, kDirections> holds{};
  on_all_cores(tries.size(), [&](std::size_t i) {
    const double toward_rad = 2.0 * kPi * double(i) / double(kDirections);
    RefinedArm& arm = tries[i];
    arm.fit.view.tilt_x_rad += kTilt_rad * std::cos(toward_rad);
    arm.fit.view.tilt_y_rad += kTilt_rad * std::sin(toward_rad);
    holds[i] = !run_stages(kSoftStages, scene, arm);
  });
  std::vector<RefinedArm> good;
  double least_levels = started_levels;
  for (std::size_t i = 0; i < tries.size(); ++i) {
    if (!holds[i]) continue;
    least_levels = std::min(least_levels, tries[i].noise_levels);
    good.push_back(std::move(tries[i]));
  }
  std::stable_sort(good.begin(), good.end(), [](const RefinedArm& a, const RefinedArm& b) {
    return a.noise_levels < b.noise_levels;
  });
  while (!good.empty() &&
         (good.size() > kMostBesideStart || good.back().noise_levels > kAlike * least_levels))
    good.pop_back();
  return good;
}

/// Whether the tilt is off its start by more than what the clip leaves open: a short arc hardly
/// tells it.
bool told_from_start(const SingleAxisFit& fit, const SwingView& start) {
  constexpr double kLeast_u = 1.4;
  const Eigen::Vector2d tilt_rad(fit.view.tilt_x_rad - start.tilt_x_rad,
                                 fit.view.tilt_y_rad - start.tilt_y_rad);
  const Eigen::Matrix2d covariance = fit.view_covariance.block<2, 2>(2, 2);
  return tilt_rad.dot(covariance.inverse() * tilt_rad) > kLeast_u * kLeast_u;
}

/// How far the cells' places contradict the view, in levels of the pixels that tell of them.
double contradiction(const RefinedArm& arm) { return arm.fit.scatter * arm.noise_levels; }

}  // namespace

Result<std::optional<TiltedStart>> tilt_start(const std::vector<ArmCrop>& crops,
                                              const cv::Mat& background,
                                              const RefinedArm& start) {
  std::vector<std::size_t> some = every_few(crops.size(), kFrames);
  const std::vector<ArmCrop> tried = only(crops, some);
  const Scene scene{tried, background, start.fit.view.focal_px};
  RefinedArm arm = start;
  arm.fit.theta_rad.clear();
  for (const std::size_t k : some) arm.fit.theta_rad.push_back(start.fit.theta_rad[k]);
  if (start.tag) arm.tag = only(*start.tag, some);

  RefinedArm as_started = arm;
  if (const auto failure = run_stages(kSoftStages, scene, as_started)) return *failure;
  std::vector<RefinedArm> tries = good_tries(arm, scene, as_started.noise_levels);
  tries.push_back(std::move(as_started));
  std::array<bool, kMostBesideStart + 1> holds{};
  on_all_cores(tries.size(),
               [&](std::size_t i) { holds[i] = !run_stages(kSharp, scene, tries[i]); });
  RefinedArm* best = nullptr;
  for (std::size_t i = 0; i < tries.size(); ++i) {
    const bool is_start = i + 1 == tries.size();
    if (!holds[i] || (!is_start && !told_from_start(tries[i].fit, start.fit.view))) continue;
    if (best == nullptr || contradiction(tries[i]) < contradiction(*best)) best = &tries[i];
  }
  if (best == nullptr) return std::optional<TiltedStart>();
  return std::optional<TiltedStart>({std::move(*best), std::move(some)});
}

}  // namespace swingloss
