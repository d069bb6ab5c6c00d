// SPDX-License-Identifier: Apache-2.0
/// \file made_turn.h
/// A body that turns about an axle, seen through OpenCV's camera.
#pragma once

#include "core/angle.h"
#include "view/single_axis_fit.h"

#include <cmath>
#include <random>
#include <vector>

#include <Eigen/LU>
#include <opencv2/calib3d.hpp>

namespace swingloss::test {

/// A camera that reads its picture of 961 x 541 pixels, or 541 x 961, line by line.
struct Rolling {
  double readout_s = 0.0;
  bool upright = false;
};

/// A turning body seen through OpenCV's own camera model, which shares no code with ours.
struct MadeTurn {
  SingleAxisProblem problem;
  std::vector<double> theta_rad;
};

inline MadeTurn made_turn(double yaw_deg,
                          double noise_px,
                          unsigned seed,
                          const Rolling& rolling = {}) {
  std::mt19937 random(seed);
  std::normal_distribution<double> noise(0.0, noise_px > 0.0 ? noise_px : 1.0);
  const double focal = 1000.0;
  const cv::Point2d centre = rolling.upright ? cv::Point2d(270, 480) : cv::Point2d(480, 270);
  const cv::Mat camera =
      (cv::Mat_<double>(3, 3) << focal, 0, centre.x, 0, focal, centre.y, 0, 0, 1);
  const double yaw = Angle::from_deg(yaw_deg).rad();
  const cv::Vec3d rvec(0.0, -yaw, 0.0), tvec(0.05, -0.1, 1.0);  // metres; the axle 1 m away
  std::vector<cv::Point3d> body;
  for (double r : {0.08, 0.15, 0.20, 0.24}) {
    for (double side : {-0.02, 0.02}) body.emplace_back(side, r, r > 0.18 ? -0.01 : 0.01);
  }
  MadeTurn made;
  made.problem.view.axle_px = {centre.x + 50.0 + 2.0,
                               centre.y - 100.0 - 1.5};  // start: two pixels off
  made.problem.view.focal_px = 900.0;
  made.problem.view.principal_px = {centre.x, centre.y};
  for (const cv::Point3d& b : body)
    made.problem.body_px.emplace_back(b.x * 1000.0, b.y * 1000.0, 0.0);
  for (int k = 0; k < 60; ++k) {
    const double theta = Angle::from_deg(-85.0 + 3.5 * k).rad();
    made.theta_rad.push_back(theta);
    made.problem.theta_rad.push_back(theta + 0.01 * std::sin(2.0 * k));
    const double omega_rad_per_s = 6.0 * std::sin(0.31 * k);
    if (rolling.readout_s != 0.0) made.problem.omega_rad_per_s.push_back(omega_rad_per_s);
    std::vector<cv::Point2d> seen(body.size(), centre);
    for (std::size_t i = 0; i < body.size(); ++i) {
      // When a point is read depends on where it is seen, and the other way round.
      for (int round = 0; round < 8; ++round) {
        const cv::Point2d off = seen[i] - centre;
        const double late_s = rolling.readout_s * (rolling.upright ? off.x : off.y) / 541.0;
        const double at = theta + omega_rad_per_s * late_s;
        const std::vector<cv::Point3d> turned = {
            {body[i].x * std::cos(at) + body[i].y * std::sin(at),
             body[i].y * std::cos(at) - body[i].x * std::sin(at),
             body[i].z}};
        std::vector<cv::Point2d> pixel;
        cv::projectPoints(turned, rvec, tvec, camera, cv::noArray(), pixel);
        seen[i] = pixel.front();
        if (rolling.readout_s == 0.0) break;
      }
    }
    for (std::size_t i = 0; i < seen.size(); ++i) {
      const double nx = noise_px > 0.0 ? noise(random) : 0.0,
                   ny = noise_px > 0.0 ? noise(random) : 0.0;
      const double u = noise_px > 0.0 ? noise_px : 0.01;
      made.problem.sightings.push_back(
          {k, int(i), {seen[i].x + nx, seen[i].y + ny}, Eigen::Matrix2d::Identity() / (u * u)});
    }
  }
  return made;
}

inline SingleAxisOptions usual_options() {
  SingleAxisOptions out;
  out.focal_prior_px = 950.0;
  return out;
}

/// Errors of the fitted angles about their mean: the zero is a convention.
inline std::vector<double> errors(const SingleAxisFit& fit,
                                  const std::vector<double>& theta_rad) {
  std::vector<double> out;
  double mean = 0.0;
  for (std::size_t k = 0; k < theta_rad.size(); ++k) {
    out.push_back(fit.theta_rad[k] - theta_rad[k]);
    mean += out.back() / double(theta_rad.size());
  }
  for (double& e : out) e -= mean;
  return out;
}

}  // namespace swingloss::test
