// SPDX-License-Identifier: Apache-2.0
/// \file body_template.h
/// What the arm looks like in its own axes, learnt from the clip.
#pragma once

#include "tracking/arm_crops.h"
#include "tracking/camera_curve.h"

#include <algorithm>
#include <cmath>
#include <vector>

namespace swingloss {

/// A round mark on the arm, in body axes.
struct RoundDot {
  double bx_px = 0.0, by_px = 0.0;  ///< centre
  double reach_px = 0.0;            ///< radius of the neighbourhood that belongs to it
  double window_px = 0.0;           ///< for dot_centre(); 0 where its centre is not sure
};

/// A picture of the arm as a see-through layer over the still background, in light:
///
///   seen(x) = ink(b) + (1 - cover(b)) background(x),    b = body point seen at pixel x
///
/// Learnt pixel by pixel from many frames, so an edge between arm and wall belongs to the layer
/// and an edge of the wall itself does not pull at the arm.
struct BodyTemplate {
  CameraCurve curve;  ///< by which levels were turned into light
  LevelTable levels;  ///< of the curve
  BodyExtent extent;
  cv::Mat ink;    ///< CV_32FC1, light times cover
  cv::Mat cover;  ///< CV_32FC1, 0..1
  cv::Mat outward_x,
      outward_y;  ///< CV_32FC1: direction out of the arm near its outline, body axes; 0 inside
  /// The same and its slopes, eight floats a pixel for one look-up each: ink, cover, d ink/dx,
  /// d ink/dy, d cover/dx, d cover/dy, outward x, outward y.
  cv::Mat layers;      ///< CV_32FC(8)
  cv::Mat telling_px;  ///< CV_32FC1: distance to the nearest pixel with a slope worth reading
  double behind_light = 0.0;  ///< mean of the background that the frames showed behind the arm
  double thickness_px = 0.0;  ///< assumed extent along the axle: a twenty-fifth of the arm
  double cell_px = 0.0;       ///< side of the cells that are followed one by one
  int cell_columns = 0, cell_rows = 0;
  std::vector<RoundDot> dots;         ///< each is a cell of its own, after the grid's cells
  std::vector<double> cell_depth_px;  ///< z of each cell, toward the camera; 0 until known

  /// Template pixel (column, row) of a body point.
  [[nodiscard]] cv::Point2d pixel_of(double bx_px, double by_px) const {
    return {bx_px + extent.half_width_px, by_px + extent.behind_px};
  }
  cv::Mat cell_map;  ///< CV_32SC1: cell of each template pixel
  void map_cells();  ///< to be called when dots have changed
  /// The cell of a body point; -1 outside.
  [[nodiscard]] int cell_of(double bx_px, double by_px) const {
    const cv::Point2d at = pixel_of(bx_px, by_px);
    return is_inside(at) ? cell_map.at<int>(nearest(at)) : -1;
  }
  [[nodiscard]] int cell_count() const { return cell_columns * cell_rows + int(dots.size()); }
  [[nodiscard]] bool is_dot(int cell) const { return cell >= cell_columns * cell_rows; }
  /// Index into dots of a cell that is one.
  [[nodiscard]] int dot_of(int cell) const { return cell - cell_columns * cell_rows; }
  [[nodiscard]] double depth_at(double bx_px, double by_px) const {
    const int cell = cell_of(bx_px, by_px);
    return cell < 0 ? 0.0 : cell_depth_px[std::size_t(cell)];
  }
  /// Whether a template pixel, rounded, is one.
  [[nodiscard]] bool is_inside(const cv::Point2d& at) const {
    return at.x > -0.5 && at.y > -0.5 && at.x < ink.cols - 0.5 && at.y < ink.rows - 0.5;
  }
  /// \pre is_inside(at)
  [[nodiscard]] static cv::Point nearest(const cv::Point2d& at) {
    return {int(std::floor(at.x + 0.5)), int(std::floor(at.y + 0.5))};
  }

 private:
  [[nodiscard]] int dot_at(double bx_px, double by_px) const;  ///< -1 outside all dots
};

/// How much of the arm's side the camera sees beyond an outline. The side belongs to another
/// depth and comes and goes as the arm turns; taken for the front edge it shifts angles by
/// tenths of a degree.
class VisibleSide {
 public:
  /// \param thickness_px  of the arm along its axle, a guess is enough
  VisibleSide(const SwingView& view, double thickness_px);

  /// \param pixel  in the picture \param outward  of the outline there, in the picture
  /// \return [px]; 0 where the arm's front edge is the outline
  [[nodiscard]] double px_at(const Eigen::Vector2d& pixel,
                             const Eigen::Vector2d& outward) const {
    // Where a point one unit farther from the camera is seen, relative to this one.
    const Eigen::Vector2d deeper = deeper_at_centre_ - (pixel - principal_px_) / focal_px_;
    return std::max(0.0, outward.dot(deeper) * thickness_px_);
  }

 private:
  Eigen::Vector2d deeper_at_centre_, principal_px_;
  double focal_px_, thickness_px_;
};

/// How far a pixel beside so much of the side may be believed, 0..1.
[[nodiscard]] inline double front_edge_weight(double side_px) {
  return 1.0 / (1.0 + side_px * side_px / 0.09);
}

/// An empty template of the given size.
BodyTemplate empty_template(const BodyExtent& extent, const CameraCurve& curve);

}  // namespace swingloss
