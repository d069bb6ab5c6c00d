// SPDX-License-Identifier: Apache-2.0
/// \file overlay_painter.h
/// The arm, its trail and the read-outs, on one picture of a clip.
#pragma once

#include "report/overlay_texts.h"
#include "series/swing_record.h"

#include <string>
#include <vector>

#include <Eigen/Core>

namespace cv {
class Mat;
}

namespace swingloss {

/// Draws on the pictures of one clip, each on its own: nothing of one is kept for the next.
class OverlayPainter {
 public:
  /// \param record  outlives the painter
  /// \param width_px, height_px  of the pictures to draw on
  /// \param scale   their pixels to one of the clip's
  OverlayPainter(const SwingRecord& record,
                 const OverlayOptions& options,
                 int width_px,
                 int height_px,
                 double scale);

  /// \param bgr    CV_8UC3, the picture `frame` of the clip at the painter's size
  /// \param t_s    its time in the clip
  /// \param speed  "slow: 1/8" or empty
  void paint(cv::Mat& bgr, int frame, double t_s, const std::string& speed) const;

 private:
  [[nodiscard]] Eigen::Vector2d on_picture(const Eigen::Vector2d& clip_px) const;
  [[nodiscard]] bool near_blow(double t_s, double within_s) const;
  void choose_corner(int width_px, int height_px);
  void draw_trail(cv::Mat& bgr, double t_s) const;
  void draw_moving_arm(cv::Mat& bgr, int frame, double t_s) const;
  void draw_panel(cv::Mat& bgr, int frame, double t_s, const std::string& speed) const;
  void draw_foot(cv::Mat& bgr) const;
  [[nodiscard]] std::string angle_now(int frame, double t_s) const;

  const SwingRecord& record_;
  std::string title_;
  std::vector<ReadOut> lines_;
  std::vector<std::string> foot_;  ///< lines along the lower edge
  double scale_;
  double row_px_;  ///< height of a line of type with its lead
  int thin_px_;    ///< of lines
  int panel_x_px_ = 0, panel_y_px_ = 0, panel_width_px_ = 0, panel_height_px_ = 0;
};

}  // namespace swingloss
