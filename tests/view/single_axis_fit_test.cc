// SPDX-License-Identifier: Apache-2.0
#include "view/single_axis_fit.h"

#include "core/angle.h"
#include "support/test.h"

#include <cmath>
#include <random>
#include <vector>

#include <Eigen/LU>
#include <opencv2/calib3d.hpp>

using namespace swingloss;

namespace {

/// A turning body seen through OpenCV's own camera model, which shares no code with ours.
struct MadeTurn {
  SingleAxisProblem problem;
  std::vector<double> theta_rad;
};

MadeTurn made_turn(double yaw_deg, double noise_px, unsigned seed) {
  std::mt19937 random(seed);
  std::normal_distribution<double> noise(0.0, noise_px > 0.0 ? noise_px : 1.0);
  const double focal = 1000.0;
  const cv::Mat camera = (cv::Mat_<double>(3, 3) << focal, 0, 480, 0, focal, 270, 0, 0, 1);
  const double yaw = Angle::from_deg(yaw_deg).rad();
  const cv::Vec3d rvec(0.0, -yaw, 0.0), tvec(0.05, -0.1, 1.0);  // metres; the axle 1 m away
  std::vector<cv::Point3d> body;
  for (double r : {0.08, 0.15, 0.20, 0.24}) {
    for (double side : {-0.02, 0.02}) body.emplace_back(side, r, r > 0.18 ? -0.01 : 0.01);
  }
  MadeTurn made;
  made.problem.view.axle_px = {480.0 + 50.0 + 2.0,
                               270.0 - 100.0 - 1.5};  // start: two pixels off
  made.problem.view.focal_px = 900.0;
  made.problem.view.principal_px = {480.0, 270.0};
  for (const cv::Point3d& b : body)
    made.problem.body_px.emplace_back(b.x * 1000.0, b.y * 1000.0, 0.0);
  for (int k = 0; k < 60; ++k) {
    const double theta = Angle::from_deg(-85.0 + 3.5 * k).rad();
    made.theta_rad.push_back(theta);
    made.problem.theta_rad.push_back(theta + 0.01 * std::sin(2.0 * k));
    std::vector<cv::Point3d> turned;
    for (const cv::Point3d& b : body) {
      turned.emplace_back(b.x * std::cos(theta) + b.y * std::sin(theta),
                          b.y * std::cos(theta) - b.x * std::sin(theta),
                          b.z);
    }
    std::vector<cv::Point2d> seen;
    cv::projectPoints(turned, rvec, tvec, camera, cv::noArray(), seen);
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

SingleAxisOptions options() {
  SingleAxisOptions out;
  out.focal_prior_px = 950.0;
  return out;
}

/// Errors of the fitted angles about their mean: the zero is a convention.
std::vector<double> errors(const SingleAxisFit& fit, const std::vector<double>& theta_rad) {
  std::vector<double> out;
  double mean = 0.0;
  for (std::size_t k = 0; k < theta_rad.size(); ++k) {
    out.push_back(fit.theta_rad[k] - theta_rad[k]);
    mean += out.back() / double(theta_rad.size());
  }
  for (double& e : out) e -= mean;
  return out;
}

}  // namespace

TEST_CASE("fit_single_axis finds the turn of a body seen askew, without calibration",
          "[view][synthetic]") {
  for (double yaw_deg : {0.0, 3.0, -8.0}) {
    CAPTURE(yaw_deg);
    const MadeTurn made = made_turn(yaw_deg, 0.0, 1);
    const auto fit = fit_single_axis(made.problem, options());
    REQUIRE(fit.ok());
    for (double e : errors(fit.value(), made.theta_rad)) {
      // The focal prior is off by 5 %, which perspective must overcome: a hundredth of a
      // degree.
      CHECK_THAT(Angle::from_rad(e).deg(), test::to_truncation(0.0, 0.01));
    }
  }
}

TEST_CASE("fit_single_axis states the scatter of its angles", "[view][synthetic]") {
  double squares = 0.0;
  int count = 0;
  for (unsigned seed = 1; seed <= 6; ++seed) {
    const MadeTurn made = made_turn(3.0, 0.02, seed);
    const auto fit = fit_single_axis(made.problem, options());
    REQUIRE(fit.ok());
    const std::vector<double> e = errors(fit.value(), made.theta_rad);
    for (std::size_t k = 0; k < e.size(); ++k, ++count)
      squares += std::pow(e[k] / fit.value().u_theta_rad[k], 2);
  }
  // 360 squared scores: deviation sqrt(2 / 360) = 0.075, four of them; and up to a tenth of the
  // variance on top from the view, which u_theta holds fixed.
  CHECK_THAT(squares / count, test::to_truncation(1.05, 4.0 * std::sqrt(2.0 / 360.0) + 0.05));
}

TEST_CASE("a mistaken sighting does not move the angles", "[view][synthetic]") {
  MadeTurn made = made_turn(3.0, 0.05, 3);
  for (std::size_t i = 0; i < made.problem.sightings.size(); i += 13)
    made.problem.sightings[i].pixel.x() += 25.0;
  const auto fit = fit_single_axis(made.problem, options());
  REQUIRE(fit.ok());
  const std::vector<double> e = errors(fit.value(), made.theta_rad);
  for (std::size_t k = 0; k < e.size(); ++k) {
    CHECK_THAT(e[k], test::to_uncertainty(0.0, 2.0 * fit.value().u_theta_rad[k]));
  }
}

TEST_CASE("frames with a shadow along one edge leave the view and the other frames alone",
          "[view][synthetic]") {
  MadeTurn made = made_turn(3.0, 0.1, 4);
  const auto shadowed = [&](int frame) { return frame >= 20 && frame < 32; };
  for (PointSighting& s : made.problem.sightings) {
    if (shadowed(s.frame) && s.point % 2 == 1) s.pixel.x() += 1.5;
  }
  const auto fit = fit_single_axis(made.problem, options());
  REQUIRE(fit.ok());
  std::vector<double> kept_rad;
  double mean = 0.0;
  for (int k = 0; k < 60; ++k) {
    if (shadowed(k)) continue;
    kept_rad.push_back(fit.value().theta_rad[std::size_t(k)] - made.theta_rad[std::size_t(k)]);
    mean += kept_rad.back() / 48.0;
  }
  for (const double e : kept_rad) {
    // Noise of 0.1 px on eight points is 0.015 degrees a frame; three of it and the view's
    // part. A fifth of the shift, taken on by the axle, would be 0.1 degrees.
    CHECK_THAT(Angle::from_rad(e - mean).deg(), test::to_truncation(0.0, 0.06));
  }
  CHECK(fit.value().u_theta_rad[25] > 2.0 * fit.value().u_theta_rad[5]);
}

TEST_CASE("points of edges do not slide along them", "[view][synthetic]") {
  MadeTurn made = made_turn(3.0, 0.05, 5);
  for (PointSighting& s : made.problem.sightings) {
    if (s.point >= 6)
      continue;  // two corners are left; the rest are places on the shaft's sides
    const double theta = made.theta_rad[std::size_t(s.frame)];
    const Eigen::Vector2d across(std::cos(theta), -std::sin(theta));
    s.information = across * across.transpose() / (0.05 * 0.05);
  }
  const auto fit = fit_single_axis(made.problem, options());
  REQUIRE(fit.ok());
  for (std::size_t p = 0; p < 6; ++p) {
    const Eigen::Vector3d moved = fit.value().body_px[p] - made.problem.body_px[p];
    CAPTURE(p, moved);
    // The axle started 2.5 px off, and so did every point.
    CHECK(moved.head<2>().norm() < 8.0);
  }
}

TEST_CASE("many cautious points do not make few sharp ones look mistaken",
          "[view][synthetic]") {
  MadeTurn made = made_turn(3.0, 0.05, 6);
  for (PointSighting& s : made.problem.sightings) {
    // Two dots; all others state forty times their noise.
    if (s.point > 1) s.information /= 1600.0;
  }
  const auto fit = fit_single_axis(made.problem, options());
  REQUIRE(fit.ok());
  double dots = 0.0, count = 0.0;
  for (std::size_t i = 0; i < made.problem.sightings.size(); ++i) {
    if (made.problem.sightings[i].point > 1) continue;
    dots += fit.value().sighting_weight[i];
    count += 1.0;
  }
  // Cauchy's weight with a scale of 1, averaged over a chi-square of two directions: 0.70.
  CHECK_THAT(dots / count, test::to_truncation(0.70, 0.1));
}

TEST_CASE("the doubts of a fit say how its angles move with its view", "[view][synthetic]") {
  MadeTurn made = made_turn(5.0, 0.05, 8);
  const auto free = fit_single_axis(made.problem, options());
  REQUIRE(free.ok());
  const SingleAxisFit& fit = free.value();
  const ViewCovariance told = fit.view_doubt * fit.view_doubt.transpose() + fit.view_rest;
  // A sum taken apart and put together again.
  CHECK_THAT((told - fit.view_covariance).norm(),
             test::to_truncation(0.0, 1e-12 * fit.view_covariance.norm()));
  // Each direction is told apart from what all angles share.
  for (const double mean : fit.theta_doubt_rad.colwise().mean())
    CHECK_THAT(mean, test::to_truncation(0.0, 1e-12));
  // Held some tenths of a standard deviation off, the fit must go where the doubts say: the
  // scores most likely with that tilt are T'(T T' + R)^-1 d.
  SingleAxisOptions held = options();
  held.hold_tilt = true;
  held.try_mirror = false;
  made.problem.view = fit.view;
  made.problem.theta_rad = fit.theta_rad;
  made.problem.body_px = fit.body_px;
  const Eigen::Matrix2d tilts = fit.view_covariance.block<2, 2>(2, 2);
  const Eigen::Vector2d off_rad(0.3 * std::sqrt(tilts(0, 0)), 0.0);
  made.problem.view.tilt_x_rad += off_rad.x();
  const auto elsewhere = fit_single_axis(made.problem, held);
  REQUIRE(elsewhere.ok());
  const Eigen::VectorXd scores =
      fit.view_doubt.middleRows<2>(2).transpose() * (tilts.inverse() * off_rad);
  Eigen::VectorXd moved_rad(static_cast<Eigen::Index>(fit.theta_rad.size()));
  for (Eigen::Index k = 0; k < moved_rad.size(); ++k) {
    const auto at = static_cast<std::size_t>(k);
    moved_rad[k] = elsewhere.value().theta_rad[at] - fit.theta_rad[at];
  }
  moved_rad.array() -= moved_rad.mean();
  const double largest_rad = moved_rad.cwiseAbs().maxCoeff();
  const double wrong_rad = (moved_rad - fit.theta_doubt_rad * scores).cwiseAbs().maxCoeff();
  CAPTURE(largest_rad, wrong_rad, off_rad.x());
  // Beyond first order, and by sightings believed otherwise: a tenth. The wrong sign makes two.
  CHECK(wrong_rad < 0.1 * largest_rad);
}
