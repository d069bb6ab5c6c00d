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
  /// \param first  pixel at column 0
  TellingRow(const BodyTemplate& body,
             const TurnedView& turned,
             const Eigen::Vector2d& first,
             double turn_rad);

  /// Columns from here to the next that may tell: 0 where this one does.
  [[nodiscard]] int to_next(int column) const;

 private:
  const BodyTemplate& body_;
  Eigen::Vector3d start_, step_;
  double half_turn_rad_;
};

/// The layered picture of one frame. Keeps references to template and start.
class FrameModel {
 public:
  FrameModel(const BodyTemplate& body, const FrameStart& start, double exposure_s);

  /// \param first  pixel at column 0
  [[nodiscard]] TellingRow telling_row(const Eigen::Vector2d& first) const {
    return {body_, turns_[turns_.size() / 2].view, first, turn_rad_};
  }

  /// \param pixel in the picture's coordinates \param background  there, light
  [[nodiscard]] PixelModel at(const Eigen::Vector2d& pixel, double background) const;

 private:
  /// The arm at one moment of the exposure.
  struct Turn {
    TurnedView view;
    float cosine, sine;
  };

  const BodyTemplate& body_;
  double turn_rad_;  // during the exposure
  std::vector<Turn> turns_;
};

}  // namespace swingloss
