// SPDX-License-Identifier: Apache-2.0
#include "tracking/working_start.h"

#include "tracking/shrunk_picture.h"

#include <algorithm>
#include <utility>

namespace swingloss {
namespace {

int shrink_for(double arm_length_px, const ClipInfo& info) {
  constexpr double kLongArm_px = 200.0, kLongSide_px = 900.0;
  const double side_px = std::max(info.width_px, info.height_px);
  const double most = std::min(arm_length_px / kLongArm_px, side_px / kLongSide_px);
  return std::max(1, static_cast<int>(most));
}

SwingView rescaled_view(SwingView view, double scale) {
  view.axle_px = rescaled(view.axle_px, scale);
  view.principal_px = rescaled(view.principal_px, scale);
  view.focal_px *= scale;
  return view;
}

}  // namespace

WorkingStart working_start(const ClipInfo& info, CoarseAngles angles, const SwingView& view) {
  WorkingStart start;
  start.shrink = shrink_for(angles.arm_length_px, info);
  start.angles = std::move(angles);
  rescale_lengths(1.0 / start.shrink, start.angles);
  start.view = rescaled_view(view, 1.0 / start.shrink);
  return start;
}

void enlarge(int factor, ArmTrack& arm) {
  arm.view = rescaled_view(arm.view, factor);
  arm.view_rest.topRows<2>() *= factor;
  arm.view_rest.leftCols<2>() *= factor;
  for (SharedDoubt& doubt : arm.angles.doubts) doubt.view.head<2>() *= factor;
  arm.arm_length_px *= factor;
}

}  // namespace swingloss
