// SPDX-License-Identifier: Apache-2.0
#include "tracking/arm_doubts.h"

#include "support/has_remark.h"
#include "support/test.h"

#include <cmath>
#include <string>

using namespace swingloss;
using namespace swingloss::test;

TEST_CASE("a readout of rows doubts the angle by speed times lag") {
  AngleTrack track;
  for (int i = 0; i < 9; ++i) track.samples.push_back({0.02 * i, 0.1 * i - 0.4, 1e-4, i});
  add_readout_doubts({400.0, 800.0}, {200.0, 300.0}, 300.0, track);
  REQUIRE(track.doubts.size() == 2);
  const Eigen::VectorXd& across = track.doubts[0].shape_rad;
  const Eigen::VectorXd& down = track.doubts[1].shape_rad;
  // 5 rad/s; the arm's middle is 0.7 * 300 px from the axle; 15 ms across the picture.
  for (Eigen::Index i = 1; i < 8; ++i) {
    const double theta_rad = track.samples[std::size_t(i)].theta_rad;
    CHECK_THAT(across[i], to_rounding(5.0 * 0.015 * 210.0 * std::sin(theta_rad) / 400.0, 8));
    CHECK_THAT(
        down[i],
        to_rounding(5.0 * 0.015 * ((300.0 + 210.0 * std::cos(theta_rad)) / 800.0 - 0.5), 8));
  }
}

TEST_CASE("a picture read line by line is said where the clip shows it") {
  Remarks remarks;
  note_readout(0.0008, 1e-5, remarks);
  note_readout(0.0020, 0.0007, remarks);
  CHECK(remarks.empty());
  note_readout(-0.0193, 0.0004, remarks);
  REQUIRE(has_remark(remarks, "read-line-by-line"));
  CHECK(remarks.front().text.find("in 19 ms (0.4 ms stated)") != std::string::npos);
}

TEST_CASE("the doubts of the look cover every angle passed and no more than is stated") {
  AngleTrack track;
  for (int i = 0; i < 200; ++i) track.samples.push_back({0.01 * i, 0.015 * i - 1.0, 1e-4, i});
  add_look_doubts(500.0, track);
  REQUIRE_FALSE(track.doubts.empty());
  for (std::size_t i = 0; i < track.samples.size(); ++i) {
    double variance = 0.0;
    for (const SharedDoubt& doubt : track.doubts) {
      CHECK(doubt.family == "view.look");
      variance += std::pow(doubt.shape_rad[Eigen::Index(i)], 2);
    }
    const double u_px = 500.0 * std::sqrt(variance);
    CHECK(u_px > 0.5);
    CHECK(u_px < 1.0);
  }
}
