// SPDX-License-Identifier: Apache-2.0
#include "report/invented_frames.h"

#include <cmath>

#include <opencv2/imgproc.hpp>

namespace swingloss::test {
namespace {

cv::Mat drawn_picture(const Eigen::Vector2d& axle_px, const Eigen::Vector2d& end_px) {
  cv::Mat picture(360, 480, CV_8UC3);
  for (int y = 0; y < picture.rows; ++y) {
    const int blue = 150 - y / 4;
    const int green = 150 - y / 5;
    picture.row(y).setTo(cv::Scalar(blue, green, green - 10));
  }
  const cv::Point axle(static_cast<int>(axle_px.x()), static_cast<int>(axle_px.y()));
  const cv::Point end(static_cast<int>(end_px.x()), static_cast<int>(end_px.y()));
  cv::rectangle(
      picture, {axle.x - 14, axle.y}, {axle.x + 14, 340}, cv::Scalar(70, 80, 90), cv::FILLED);
  cv::line(picture, axle, end, cv::Scalar(40, 40, 120), 12, cv::LINE_AA);
  cv::circle(picture, end, 17, cv::Scalar(50, 50, 60), cv::FILLED, cv::LINE_AA);
  return picture;
}

}  // namespace

std::vector<StripFrame> invented_frames(const BarResult& bar) {
  if (!bar.swing) return {};
  const SwingEvents& events = bar.swing->measurement.events;
  std::vector<StripFrame> frames;
  for (const auto& [event, t_s] : {std::pair("release", events.release_s),
                                   std::pair("blow", events.blow_s),
                                   std::pair("turn", events.turn_s)}) {
    StripFrame frame;
    frame.event = event;
    frame.event_s = t_s.value_or(0.0);
    frame.frame.t_s = frame.event_s;
    frame.fitted_rad = fitted_angle_rad(*bar.swing, frame.event_s);
    const double theta = frame.fitted_rad.value_or(0.0);
    frame.axle_px = {240.0, 150.0};
    frame.arm_end_px =
        frame.axle_px + 110.0 * Eigen::Vector2d(std::sin(theta), std::cos(theta));
    frame.frame.bgr = drawn_picture(frame.axle_px, *frame.arm_end_px);
    frames.push_back(frame);
  }
  return frames;
}

}  // namespace swingloss::test
