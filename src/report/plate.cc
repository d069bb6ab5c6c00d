// SPDX-License-Identifier: Apache-2.0
#include "report/plate.h"

#include "core/angle.h"
#include "core/expects.h"
#include "core/number_text.h"
#include "report/drawing.h"
#include "report/words.h"

#include <algorithm>
#include <cmath>

#include <opencv2/imgproc.hpp>

namespace swingloss {
namespace {

constexpr int kPlateWidth_px = 1920;
constexpr int kPanelWidth_px = 512;  ///< of the pictures for pages
constexpr int kCaption_px = 64;

const cv::Scalar kRim(20, 20, 20);

/// The arm's angle that is drawn: fitted, else measured. At the turning point counted as the
/// rise is: positive beyond rest.
std::optional<double> shown_rad(const StripFrame& frame) {
  const std::optional<double> angle_rad =
      frame.fitted_rad ? frame.fitted_rad : frame.measured_rad;
  if (angle_rad && frame.event == "turn") return -*angle_rad;
  return angle_rad;
}

cv::Rect about_axle(const std::vector<StripFrame>& frames) {
  const cv::Rect whole(0, 0, frames.front().frame.bgr.cols, frames.front().frame.bgr.rows);
  double reach_px = 0.0;
  for (const StripFrame& frame : frames) {
    if (frame.arm_end_px) {
      reach_px = std::max(reach_px, (*frame.arm_end_px - frame.axle_px).norm());
    }
  }
  const int half = static_cast<int>(std::ceil(1.2 * reach_px));
  const Eigen::Vector2d centre = frames.front().axle_px;
  const cv::Rect square(static_cast<int>(std::lround(centre.x())) - half,
                        static_cast<int>(std::lround(centre.y())) - half,
                        2 * half + 1,
                        2 * half + 1);
  const cv::Rect part = square & whole;
  return reach_px > 10.0 && part.width > 40 && part.height > 40 ? part : whole;
}

/// A place of the picture in the pixels of an enlarged or reduced cut-out; pixel centres have
/// whole coordinates in both.
Eigen::Vector2d in_panel(const Eigen::Vector2d& px, const cv::Rect& part, double scale) {
  const Eigen::Vector2d half = Eigen::Vector2d::Constant(0.5);
  return scale * (px - Eigen::Vector2d(part.x, part.y) + half) - half;
}

cv::Mat draw_panel(const StripFrame& frame, const cv::Rect& part, int width_px) {
  expects(frame.frame.bgr.type() == CV_8UC3, "a strip frame without colour");
  const double scale = static_cast<double>(width_px) / part.width;
  const cv::Size size(width_px,
                      std::max(1, static_cast<int>(std::lround(scale * part.height))));
  cv::Mat panel;
  cv::resize(frame.frame.bgr(part),
             panel,
             size,
             0.0,
             0.0,
             scale < 1.0 ? cv::INTER_AREA : cv::INTER_CUBIC);
  if (frame.arm_end_px) {
    draw_arm(panel,
             in_panel(frame.axle_px, part, scale),
             in_panel(*frame.arm_end_px, part, scale),
             std::max(1, width_px / 320));
  }
  return panel;
}

std::string description_of(const StripFrame& frame) {
  std::string words = fixed_text(frame.frame.t_s, 3) + "\u00A0s";
  if (const auto angle_rad = shown_rad(frame)) {
    words += frame.fitted_rad ? ", fitted\u00A0" : ", measured\u00A0";
    if (frame.event == "turn") words += "rise\u00A0";
    words += fixed_words(*angle_rad * 180.0 / kPi, 1) + "°";
  }
  return words;
}

/// The drawing font has ASCII only: the degree sign is a small circle.
void write_caption(cv::Mat& plate, const StripFrame& frame, int left_px) {
  const int base_px = plate.rows - 22;
  constexpr int kFont = cv::FONT_HERSHEY_DUPLEX;
  std::string words = frame.event + "   " + fixed_text(frame.frame.t_s, 3) + " s";
  const auto angle_rad = shown_rad(frame);
  const char* before = frame.event == "turn" ? "   rise " : "   ";
  if (angle_rad) words += before + fixed_text(*angle_rad * 180.0 / kPi, 1);
  const cv::Point start(left_px + 18, base_px);
  cv::putText(plate, words, start, kFont, 0.9, colour_of(kInk), 1, cv::LINE_AA);
  int baseline = 0;
  const int width_px = cv::getTextSize(words, kFont, 0.9, 1, &baseline).width;
  if (angle_rad) {
    cv::circle(
        plate, {start.x + width_px + 8, base_px - 16}, 4, colour_of(kInk), 1, cv::LINE_AA);
  }
}

void write_stamp(cv::Mat& plate, const std::string& stamp) {
  if (stamp.empty()) return;
  for (const auto& [colour, width] : {std::pair(kRim, 5), std::pair(colour_of(kPaper), 1)}) {
    cv::putText(
        plate, stamp, {18, 38}, cv::FONT_HERSHEY_DUPLEX, 0.9, colour, width, cv::LINE_AA);
  }
}

std::string draw_png(const std::vector<StripFrame>& frames,
                     const cv::Rect& part,
                     const std::string& stamp) {
  const int count = static_cast<int>(frames.size());
  const int width_px = kPlateWidth_px / count;
  const cv::Mat first = draw_panel(frames.front(), part, width_px);
  cv::Mat plate(first.rows + kCaption_px, kPlateWidth_px, CV_8UC3, colour_of(kPaper));
  for (int i = 0; i < count; ++i) {
    const StripFrame& frame = frames[static_cast<std::size_t>(i)];
    draw_panel(frame, part, width_px)
        .copyTo(plate(cv::Rect(i * width_px, 0, width_px, first.rows)));
    write_caption(plate, frame, i * width_px);
  }
  write_stamp(plate, stamp);
  return png_bytes(plate);
}

}  // namespace

Plate draw_plate(const std::vector<StripFrame>& frames, const PlateOptions& options) {
  Plate plate;
  if (frames.empty()) return plate;
  const cv::Rect part = about_axle(frames);
  for (const StripFrame& frame : frames) {
    const cv::Mat panel = draw_panel(frame, part, kPanelWidth_px);
    plate.panels.push_back(
        {frame.event, description_of(frame), jpeg_bytes(panel, 80), panel.cols, panel.rows});
  }
  plate.png = draw_png(frames, part, options.stamp);
  return plate;
}

}  // namespace swingloss
