// SPDX-License-Identifier: Apache-2.0
/// \file arm_tag.h
/// A printed square tag on the arm.
#pragma once

#include "tracking/arm_crops.h"
#include "view/single_axis_fit.h"

#include <optional>
#include <vector>

#include <Eigen/Core>

namespace swingloss {

/// One corner of the tag in one frame.
struct TagCorner {
  int frame = 0;   ///< index of the crop
  int corner = 0;  ///< 0 to 3, clockwise from the tag's own top left
  Eigen::Vector2d pixel;
};

/// The tag that goes round with the arm.
struct ArmTag {
  int id = 0;
  int frames = 0;  ///< in which it was read
  std::vector<TagCorner> corners;
};

/// Looks for tags of OpenCV's dictionary DICT_4X4_50 in all crops. A tag on the stand or the
/// wall does not count: the one that is read most often while it moves by more than its own
/// size. \return nothing when no tag was read in at least six frames
[[nodiscard]] std::optional<ArmTag> find_arm_tag(const std::vector<ArmCrop>& crops);

/// Adds the four corners as points of the bundle, with their sightings, after what is there.
/// Directions and view as in `problem`. \param corner_u_px  how well a corner is read
void add_tag(const ArmTag& tag, double corner_u_px, SingleAxisProblem& problem);

}  // namespace swingloss
