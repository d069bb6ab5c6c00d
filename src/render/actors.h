// SPDX-License-Identifier: Apache-2.0
/// \file actors.h
/// Where every moving body is at a given time.
#pragma once

#include "render/design.h"
#include "render/motion.h"

#include <vector>

namespace swingloss::render {

/// A body and its place. The prism lives in the Design.
struct Posed {
  const Prism* prism = nullptr;
  Pose pose;
};

/// The arm, the pointer, the bar's upper part before and after the blow, the hand.
class Actors {
 public:
  /// Keeps references: design and motion must outlive this.
  Actors(const RenderScene& scene, const Design& design, const Motion& motion);
  [[nodiscard]] std::vector<Posed> at(double t_s) const;
  [[nodiscard]] double arm_angle_rad(double t_s) const { return motion_.theta_rad(t_s); }

 private:
  /// One swing of the recording with what flies off in it.
  struct Act {
    double start_s = 0.0;  ///< its bar stands in the vice from here
    RenderSwingTruth truth;
    bool has_bar = false;
    cv::Vec3d toss_m_per_s;
    double spin_rad_per_s = 0.0;
  };
  [[nodiscard]] const Act& act_at(double t_s) const;
  [[nodiscard]] Pose arm_pose(double t_s) const;
  [[nodiscard]] Pose bar_pose(const Act& act, double t_s) const;
  [[nodiscard]] Pose flight_pose(const Act& act, double after_s) const;
  [[nodiscard]] Pose hand_pose(const Act& act, double t_s) const;

  const Design& design_;
  const Motion& motion_;
  bool fragment_ = true;
  double hold_s_ = 0.0;
  std::vector<Act> acts_;
};

}  // namespace swingloss::render
