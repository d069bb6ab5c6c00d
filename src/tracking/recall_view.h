// SPDX-License-Identifier: Apache-2.0
/// \file recall_view.h
/// A camera that was not moved since another clip sees the swing from the same side.
#pragma once

#include "tracking/track_arm.h"

#include <string>
#include <vector>

#include <Eigen/Core>
#include <opencv2/core.hpp>

namespace swingloss {

/// How another clip of the same arm was seen.
struct KnownView {
  std::string clip;            ///< its name, for remarks
  cv::Mat picture;             ///< its first one, CV_8UC1
  double arm_length_px = 0.0;  ///< ArmTrack::arm_length_px
  ViewVector view = ViewVector::Zero();
  ViewCovariance covariance = ViewCovariance::Zero();  ///< of it
};

/// How the view that a clip shows by itself and one known from elsewhere go together.
struct ViewMerge {
  double contradiction = 0.0;  ///< squared distance of the two in their joint covariance:
                               ///< chi-square of 5 degrees when they are of one view
  ArmTrack arm;                ///< with what both together say
};

/// Takes a known view into a track, to first order: angles, view and what is left of the doubts
/// are those of the normal distribution of all doubts given that view. With d the difference of
/// the views, T what the doubts move the view by, R its covariance apart from that, and C that
/// of the known one: scores s = T'(T T' + R + C)^-1 d, and their covariance I - T'(...)^-1 T
/// [Anderson2003 2.5].
/// \param covariance  of the known view, positive definite
[[nodiscard]] ViewMerge with_known_view(const ArmTrack& arm,
                                        const ViewVector& known,
                                        const ViewCovariance& covariance);

/// Short arcs and arms without stickers leave the view in doubt; a free swing from the same
/// place tells it better, as its own motion narrows it. Used is the view whose picture lies
/// nearest, where
/// - pictures are of one size, and most landmarks agree that they lie within 0.2 % of the
///   longer side of each other;
/// - the arm is as long within a fifth (it is seen to its last clear edge), its axle in the
///   same place within 0.5 % of that side;
/// - the views do not contradict each other (1 in 1000). Else a remark `view-contradicted`.
///
/// What the pictures are shifted by moves the axle too. It may come from a camera that moved
/// round the rig: seen against a wall a quarter of the way farther off, four times as large an
/// angle. That much is added to the known tilt's doubt; and 0.03 degrees, 0.1 px and 0.1 % of
/// focal length for what rig and lens may rock. Common practice, no source.
/// \param picture  first one of the arm's clip, CV_8UC1
/// \return the track with a remark `view-recalled`, or as it was
[[nodiscard]] ArmTrack recall_view(const ArmTrack& arm,
                                   const cv::Mat& picture,
                                   const std::vector<KnownView>& known);

}  // namespace swingloss
