// SPDX-License-Identifier: Apache-2.0
/// \file frame_model.h
/// What a frame should show at a pixel, if the arm is where it is thought to be. Internal to
/// tracking.
#pragma once

#include "tracking/cell_registration.h"
#include "view/turned_view.h"

#include <vector>

#include <Eigen/Core>

namespace swingloss {

/// One pixel's composite over the turns passed during the exposure.
struct PixelModel {
  double seen_model = 0.0;  // levels
  double by_light = 0.0;    // d(level) / d(light)
  double ink = 0.0, cover = 0.0;
  Eigen::Vector2d outward = Eigen::Vector2d::Zero();  // in the picture
  Eigen::Vector2d by_shift =
      Eigen::Vector2d::Zero();  // d(model) / d(shift of the arm in the picture)
  Eigen::Vector2d body = Eigen::Vector2d::Zero();  // body place at mid-exposure
  bool valid = false;                              // false: outside the template
};

/// Which pixels of one row of the picture lie near something of the arm that tells of a shift:
/// a quick look that spares the rest of the work.
class TellingRow {
 public:
  /// \param first  pixel at column 0 \param blur_rad  turn during the exposure
  TellingRow(const BodyTemplate& body,
             const TurnedView& turned,
             const Eigen::Vector2d& first,
             double blur_rad);

  /// Columns from here to the next that may tell: 0 where this one does.
  [[nodiscard]] int to_next(int column) const;

 private:
  const BodyTemplate& body_;
  const TurnedView& turned_;
  Eigen::Vector2d first_;
  Eigen::Vector3d start_, step_;
  double half_turn_rad_;
};

/// The layered picture of one frame. Keeps references to template and start.
class FrameModel {
 public:
  FrameModel(const BodyTemplate& body, const FrameStart& start, double exposure_s);

  /// \param first  pixel at column 0
  [[nodiscard]] TellingRow telling_row(const Eigen::Vector2d& first) const {
    return {body_, middle_, first, turn_rad_};
  }

  /// \param pixel in the picture's coordinates \param background  there, light
  [[nodiscard]] PixelModel at(const Eigen::Vector2d& pixel, double background) const;

 private:
  /// The arm at one moment of the exposure: TurnedView in single precision, from pixels of the
  /// crop to pixels of the template (a ten thousandth of a pixel is lost).
  struct Turn {
    Eigen::Array4f at_first, per_column, per_row, by_depth;
    float cosine, sine;

    Turn(const BodyTemplate& body,
         const TurnedView& view,
         const Eigen::Vector2d& first,
         double theta_rad);
    /// Template pixel of a crop's pixel. \param depth_px  toward the camera
    [[nodiscard]] Eigen::Array2f place_of(const Eigen::Array2f& pixel, float depth_px) const {
      Eigen::Array4f place = at_first + pixel.x() * per_column + pixel.y() * per_row;
      place -= by_depth * (depth_px * place[2] / (1.0F + depth_px * by_depth[2]));
      return place.head<2>() / place[2];
    }
  };

  const BodyTemplate& body_;
  double turn_rad_;        // during the exposure
  Eigen::Vector2d first_;  // the crop's first pixel in the picture
  TurnedView middle_;      // of the exposure
  std::vector<Turn> turns_;
};

}  // namespace swingloss
