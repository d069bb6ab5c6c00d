// SPDX-License-Identifier: Apache-2.0
/// \file card_view.h
/// From a photograph with a scale card to lengths in its plane, or in a plane above it.
#pragma once

#include "core/result.h"
#include "view/scale_card.h"

#include <optional>
#include <vector>

#include <Eigen/Core>
#include <opencv2/core.hpp>

namespace swingloss {

/// Pixels and places of the card's plane.
///
///   ideal = H (x, y, 1),   pixel = centre + half diagonal ideal (1 + k1 |ideal|^2)
///
/// A plane map with one radial term about the middle of the picture [HartleyZisserman,
/// ch. 7.4].
struct CardMap {
  Eigen::Matrix3d ideal_from_plane;  ///< plane in metres
  double k1 = 0.0;                   ///< at the picture's corner, relative
  Eigen::Vector2d centre_px;
  double half_diagonal_px = 1.0;

  [[nodiscard]] Eigen::Vector2d pixel_of(const Eigen::Vector2d& plane_m) const;
  [[nodiscard]] Eigen::Vector2d plane_of(const Eigen::Vector2d& pixel) const;
  /// Pixels a metre at a place: root of the area scale.
  [[nodiscard]] double px_per_m(const Eigen::Vector2d& plane_m) const;
  /// The map of the plane `height_m` above the card, toward the camera.
  /// \param focal_ideal  focal length in half diagonals of the picture
  [[nodiscard]] CardMap raised(double height_m, double focal_ideal) const;
};

/// The camera before the card, from the map and the focal length.
struct CardPose {
  double tilt_rad = 0.0;    ///< between line of sight at the window and the card's normal
  double distance_m = 0.0;  ///< from the lens to the card's plane
  Eigen::Vector2d foot_m;   ///< point of the card's plane straight below the lens
};
[[nodiscard]] CardPose pose_of(const CardMap& map,
                               const Eigen::Vector2d& plane_m,
                               double focal_ideal);

struct CardViewOptions {
  /// Focal length that the camera noted, as for 35 mm film [mm]; nothing: 26, as phones have,
  /// with a larger doubt.
  std::optional<double> focal_35mm;
  /// Farthest from square. Beyond it a flat face hides its own far edge behind its relief.
  double most_tilt_rad = 0.6;
  /// Fewest pixels a metre for a section: 6 a millimetre. An edge is placed to 0.1 to 0.2 px.
  double fewest_px_per_m = 6000.0;
  /// Widest blur for a section, one standard deviation. The edges of the tags show it.
  double most_blur_m = 0.2e-3;
};

/// A card found in a photograph.
struct CardView {
  ScaleCard card;
  CardMap map;
  /// The map at one standard deviation along each independent direction of its covariance: what
  /// a length changes under each is one contribution to its uncertainty.
  std::vector<CardMap> one_u_off;
  int tags = 0, tags_left_out = 0;
  double residual_px = 0.0;  ///< root mean square of the corners' residuals, one axis
  double blur_px = 0.0;      ///< standard deviation of the blur across the tags' edges
  double px_per_m = 0.0;     ///< at the middle of the window
  double black_level = 0.0, white_level = 0.0;  ///< of print and paper, 0 to 255
  CardPose pose;
  double focal_ideal = 0.0, u_focal_relative = 0.0;
};

/// Finds the scale card in an upright photograph.
///
/// \param bgr  CV_8UC3, of any size
/// \return the card, or Failure: `no-card`, `two-cards`, `card-cut-off`, `card-hidden` (tags
/// missing
///   though their places are in the picture), `card-tilted`, `picture-too-small`,
///   `picture-blurred`, `picture-underexposed`, `picture-overexposed`, `card-bent` (corners do
///   not lie in one plane)
///
/// Deterministic. Accuracy: corners to about 0.1 px; the covariance is that of the fit, and
/// never less than 0.05 px a corner says (tests/view/card_view_test.cc).
[[nodiscard]] Result<CardView> find_card(const cv::Mat& bgr,
                                         const CardViewOptions& options = {});

}  // namespace swingloss
