// SPDX-License-Identifier: Apache-2.0
#include "tracking/frame_model.h"

#include "support/test.h"

#include <random>
#include <set>
#include <utility>

#include <opencv2/imgproc.hpp>

using namespace swingloss;

namespace {

SwingView far_off_square() {
  SwingView view;
  view.axle_px = {960.0, 400.0};
  view.principal_px = {959.5, 539.5};
  view.tilt_x_rad = -0.15;
  view.tilt_y_rad = 0.20;
  view.focal_px = 1700.0;
  return view;
}

/// A template whose telling places are a few random spots.
BodyTemplate spotted() {
  BodyTemplate body = empty_template({520.0, 40.0, 120.0}, {});
  body.layers = cv::Mat::zeros(body.ink.size(), CV_32FC(8));
  cv::Mat flat(body.ink.size(), CV_8U, cv::Scalar(1));
  std::mt19937 draws(7);
  for (int i = 0; i < 12; ++i) {
    const int x = int(draws() % unsigned(flat.cols)), y = int(draws() % unsigned(flat.rows));
    cv::circle(flat, {x, y}, 3, cv::Scalar(0), cv::FILLED);
  }
  cv::distanceTransform(flat, body.telling_px, cv::DIST_L2, cv::DIST_MASK_3);
  return body;
}

ArmCrop whole_picture(double omega_rad_per_s) {
  ArmCrop crop;
  crop.omega_rad_per_s = omega_rad_per_s;
  crop.offset_px = {300, 20};
  crop.luma = cv::Mat::zeros(1000, 1300, CV_8U);
  return crop;
}

}  // namespace

TEST_CASE("a pixel's place on the arm loses no more than single precision does", "[tracking]") {
  const SwingView view = far_off_square();
  BodyTemplate body = spotted();
  std::fill(body.cell_depth_px.begin(), body.cell_depth_px.end(), 9.0);
  const ArmCrop crop = whole_picture(0.0);
  for (const double theta : {-1.9, -0.4, 0.8, 2.0}) {
    const FrameModel model(body, {crop, theta, view, body.ink}, 0.0);
    for (const auto& [bx, by] : {std::pair(0.0, 500.0),
                                 std::pair(-90.0, 450.0),
                                 std::pair(100.0, 300.0),
                                 std::pair(3.0, 10.0)}) {
      CAPTURE(theta, bx, by);
      const Eigen::Vector2d pixel = view.project(swing_from_body({bx, by, 9.0}, theta));
      const PixelModel found = model.at(pixel, 100.0);
      REQUIRE(found.valid);
      // Places up to 1000 px in 24 bits are good to 6e-5 px, times a few operations.
      CHECK_THAT(found.body.x(), test::to_truncation(bx, 5e-4));
      // Likewise.
      CHECK_THAT(found.body.y(), test::to_truncation(by, 5e-4));
    }
  }
}

TEST_CASE("skipping along a row misses no pixel that tells", "[tracking][property]") {
  const SwingView view = far_off_square();
  const BodyTemplate body = spotted();
  for (const double omega : {0.0, 7.0}) {
    const ArmCrop crop = whole_picture(omega);
    const FrameModel model(body, {crop, 0.7, view, body.ink}, 0.01);
    int telling = 0, looks = 0;
    for (int row = 0; row < crop.luma.rows; row += 7) {
      const TellingRow telling_row =
          model.telling_row({crop.offset_px.x + 0.0, crop.offset_px.y + double(row)});
      std::set<int> visited;
      for (int column = 0; column < crop.luma.cols; ++looks) {
        const int away = telling_row.to_next(column);
        if (away == 0) visited.insert(column);
        column += std::max(1, away);
      }
      for (int column = 0; column < crop.luma.cols; ++column) {
        if (telling_row.to_next(column) != 0) continue;
        ++telling;
        CHECK(visited.count(column) == 1);
      }
    }
    CHECK(telling > 100);
    CHECK(looks < crop.luma.cols * crop.luma.rows / 7 / 3);
  }
}
