// SPDX-License-Identifier: Apache-2.0
#include "render/actors.h"

#include "render/random_stream.h"

#include <algorithm>
#include <cmath>

namespace swingloss::render {
namespace {

constexpr std::uint64_t kTossStream = 41;
constexpr double kGravity_m_per_s2 = 9.81;
constexpr double kLiftBefore_s = 1.2;
constexpr double kHinge_s = 0.05;
constexpr double kHinge_rad = 1.75;
constexpr double kBarToBlow_m = 0.022;
constexpr double kBarHalf_m = 0.02;
constexpr double kSpringBack = 0.12;
const cv::Vec3d kHandPull_m_per_s2(11.0, -3.0, 2.0);

}  // namespace

Actors::Actors(const RenderScene& scene, const Design& design, const Motion& motion)
    : design_(design), motion_(motion), fragment_(scene.fragment), hold_s_(scene.hold_s) {
  RandomStream random(scene.seed, kTossStream);
  for (std::size_t i = 0; i < motion.swings().size(); ++i) {
    Act act;
    act.truth = motion.swings()[i];
    const bool further = i > 0;
    const bool breaks = further ? scene.further[i - 1].breaks : scene.breaks;
    const auto& absorbed_J = further ? scene.further[i - 1].absorbed_J : scene.absorbed_J;
    act.has_bar = !breaks || absorbed_J.has_value();
    act.start_s = act.truth.release_s - hold_s_ - kLiftBefore_s;
    act.toss_m_per_s = {
        -random.uniform(1.8, 3.4), random.uniform(0.6, 1.9), random.uniform(0.05, 0.5)};
    act.spin_rad_per_s = random.uniform(15.0, 45.0);
    acts_.push_back(act);
  }
}

const Actors::Act& Actors::act_at(double t_s) const {
  std::size_t i = 0;
  while (i + 1 < acts_.size() && t_s >= acts_[i + 1].start_s) ++i;
  return acts_[i];
}

Pose Actors::arm_pose(double t_s) const { return {motion_.theta_rad(t_s), {0.0, 0.0, 0.0}}; }

Pose Actors::flight_pose(const Act& act, double after_s) const {
  // Falls to the bench, jumps up once, and lies.
  const double start_y = design_.vice_m + kBarHalf_m;
  const double bench_y = design_.bench_m + 0.004;
  const double v = act.toss_m_per_s[1];
  const double drop = start_y - bench_y;
  const double land_s =
      (v + std::sqrt(v * v + 2.0 * kGravity_m_per_s2 * drop)) / kGravity_m_per_s2;
  const double jump = 0.35 * (kGravity_m_per_s2 * land_s - v);
  const double again_s = 2.0 * jump / kGravity_m_per_s2;
  const double first_s = std::min(after_s, land_s);
  const double second_s = std::clamp(after_s - land_s, 0.0, again_s);
  const double way_s = first_s + 0.5 * second_s;
  Pose pose;
  pose.place_m = {act.toss_m_per_s[0] * way_s, 0.0, act.toss_m_per_s[2] * way_s};
  pose.place_m[1] =
      after_s <= land_s
          ? start_y + v * first_s - 0.5 * kGravity_m_per_s2 * first_s * first_s
          : bench_y + jump * second_s - 0.5 * kGravity_m_per_s2 * second_s * second_s;
  const double turns = act.spin_rad_per_s * (first_s + 0.4 * second_s);
  const bool lies = after_s >= land_s + again_s;
  pose.angle_rad = lies ? 0.5 * kPi : turns;
  // The prism's origin is its foot, the flight is that of its middle.
  const double back = kBarHalf_m;
  pose.place_m[0] += back * std::sin(pose.angle_rad);
  pose.place_m[1] -= back * std::cos(pose.angle_rad);
  return pose;
}

Pose Actors::bar_pose(const Act& act, double t_s) const {
  Pose pose{0.0, {0.0, design_.vice_m, 0.0}};
  if (!act.truth.blow_s || t_s < *act.truth.blow_s) return pose;
  const double after_s = t_s - *act.truth.blow_s;
  if (!act.truth.broken) {
    const double dent =
        std::max(-motion_.theta_rad(t_s), (1.0 - kSpringBack) * -motion_.lowest_rad(t_s));
    pose.angle_rad = std::atan(std::max(0.0, dent) * design_.strike_radius_m / kBarToBlow_m);
    return pose;
  }
  if (fragment_) return flight_pose(act, after_s);
  pose.angle_rad = kHinge_rad * std::min(1.0, after_s / kHinge_s);
  return pose;
}

Pose Actors::hand_pose(const Act& act, double t_s) const {
  const double held_s = std::min(t_s, act.truth.release_s);
  const double theta = motion_.theta_rad(held_s);
  const double gone_s = std::max(0.0, t_s - act.truth.release_s);
  const cv::Vec3d hammer(std::sin(theta) * design_.hammer_radius_m,
                         -std::cos(theta) * design_.hammer_radius_m,
                         0.0);
  return {0.0, hammer + 0.5 * gone_s * gone_s * kHandPull_m_per_s2};
}

std::vector<Posed> Actors::at(double t_s) const {
  std::vector<Posed> posed;
  const Pose arm = arm_pose(t_s);
  for (const Prism& prism : design_.arm) posed.push_back({&prism, arm});
  const Pose pointer{motion_.lowest_rad(t_s), {0.0, 0.0, 0.0}};
  for (const Prism& prism : design_.pointer) posed.push_back({&prism, pointer});

  const Act& act = act_at(t_s);
  const bool another_take = t_s >= motion_.cut_s();
  for (const Prism& prism : design_.stub) {
    if (act.has_bar) posed.push_back({&prism, {}});
  }
  const bool cleared = another_take && act.truth.broken;
  if (act.has_bar && !cleared) {
    const Pose bar = bar_pose(act, t_s);
    const bool in_sight = std::abs(bar.place_m[0]) < 2.0;
    for (const Prism& prism : design_.bar) {
      if (in_sight) posed.push_back({&prism, bar});
    }
  }
  if (!another_take && t_s < act.truth.release_s + 0.7) {
    const Pose hand = hand_pose(act, t_s);
    for (const Prism& prism : design_.hand) posed.push_back({&prism, hand});
  }
  return posed;
}

}  // namespace swingloss::render
