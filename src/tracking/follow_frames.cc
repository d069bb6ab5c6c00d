// SPDX-License-Identifier: Apache-2.0
#include "tracking/follow_frames.h"

#include "tracking/all_cores.h"
#include "tracking/learn_template.h"
#include "view/turned_view.h"

#include <algorithm>

#include <opencv2/imgproc.hpp>

namespace swingloss {
namespace {

/// One step of the way: how soft the pictures are, and what counts as a misfit there.
struct Step {
  double smooth_px;
  RegistrationOptions options;
  int rounds;
};

/// The turn that suits the cells' shifts best, the view held fixed.
double turn_of(const FrameRegistration& seen,
               const BodyTemplate& body,
               const BodyProjection& projection,
               const FrameStart& at) {
  constexpr double kFarthest_rad = 0.05;
  const TurnedView turned(at.view, at.theta_rad, at.crop.omega_rad_per_s);
  double pull = 0.0, weight = 1e-9;
  for (const CellShift& cell : seen.cells) {
    const double depth_px = body.cell_depth_px[std::size_t(cell.cell)];
    const Eigen::Vector3d body_px(cell.body_px.x(), cell.body_px.y(), depth_px);
    const Eigen::Vector2d by_theta = projection(body_px, at.theta_rad).by_theta;
    const Eigen::RowVector2d along = by_theta.transpose() * cell.information;
    pull += along * (cell.pixel - turned.pixel_of(body_px));
    weight += along * by_theta;
  }
  return std::clamp(pull / weight, -kFarthest_rad, kFarthest_rad);
}

}  // namespace

std::vector<double> follow_frames(const RegistrationScene& scene,
                                  const std::vector<std::size_t>& which) {
  const double exposure_s = scene.options.exposure_s;
  const BodyProjection projection(scene.view);
  std::vector<double> theta_rad = scene.theta_rad;
  for (const Step& step :
       {Step{3.0, {exposure_s, 40.0, 2, 3.0}, 3}, Step{1.2, {exposure_s, 20.0, 2, 2.0}, 2}}) {
    const BodyTemplate look = softened(scene.body, step.smooth_px);
    cv::Mat behind;
    cv::GaussianBlur(scene.background, behind, {}, step.smooth_px);
    on_all_cores(which.size(), [&](std::size_t i) {
      const std::size_t k = which[i];
      const ArmCrop crop = softened(scene.crops[k], step.smooth_px);
      for (int round = 0; round < step.rounds; ++round) {
        const FrameStart at{crop, theta_rad[k], scene.view, behind};
        const FrameRegistration seen = register_frame(look, at, step.options);
        theta_rad[k] += turn_of(seen, scene.body, projection, at);
      }
    });
  }
  return theta_rad;
}

}  // namespace swingloss
