// SPDX-License-Identifier: Apache-2.0
#include "view/swing_view.h"

#include "core/angle.h"
#include "support/test.h"
#include "view/turned_view.h"

#include <cmath>
#include <vector>

#include <Eigen/Dense>

using namespace swingloss;

namespace {

/// Centre of the conic through many exact points, by the null vector of the design matrix.
Eigen::Vector2d conic_centre(const std::vector<Eigen::Vector2d>& points,
                             const Eigen::Vector2d& near) {
  Eigen::MatrixXd design(Eigen::Index(points.size()), 6);
  for (std::size_t i = 0; i < points.size(); ++i) {
    const double x = (points[i].x() - near.x()) / 100.0, y = (points[i].y() - near.y()) / 100.0;
    design.row(Eigen::Index(i)) << x * x, x * y, y * y, x, y, 1.0;
  }
  const Eigen::VectorXd c = design.jacobiSvd(Eigen::ComputeFullV).matrixV().col(5);
  Eigen::Matrix2d quadratic;
  quadratic << 2.0 * c(0), c(1), c(1), 2.0 * c(2);
  return near - 100.0 * (quadratic.inverse() * Eigen::Vector2d(c(3), c(4)));
}

SwingView tilted_view() {
  SwingView view;
  view.axle_px = {700.0, 200.0};
  view.tilt_x_rad = 0.12;
  view.tilt_y_rad = -0.08;
  view.focal_px = 950.0;
  view.principal_px = {480.0, 270.0};
  return view;
}

}  // namespace

TEST_CASE("a circle is seen as the ellipse of perspective geometry", "[view][truth]") {
  // Circle of radius 50 mm at (30, -20, 600) mm, normal (0.338095, -0.253571, 0.906308), focal
  // length 1200 px, centre (960, 540): the circle's centre is seen at (1020, 500), the centre
  // of its ellipse at (1022.631164, 498.032836). Computed with the projection matrix form (dual
  // conic P C P^T) in another program; geometry as in Hartley & Zisserman, ch. 8.
  SwingView view;
  view.principal_px = {960.0, 540.0};
  view.focal_px = 1200.0;
  view.axle_px = {1020.0, 500.0};
  view.tilt_x_rad = std::asin(-0.338095);
  view.tilt_y_rad = std::asin(0.253571 / std::cos(view.tilt_x_rad));
  std::vector<Eigen::Vector2d> points;
  for (int i = 0; i < 72; ++i) {
    points.push_back(view.project(swing_from_body({0.0, 100.0, 0.0}, i * kPi / 36.0)));
  }
  const Eigen::Vector2d centre = conic_centre(points, {1020.0, 500.0});
  // The normal is printed to six digits: 5e-7 of 100 px radius, times the ellipse's slope in
  // it.
  CHECK_THAT(centre.x(), test::to_truncation(1022.631164, 1e-4));
  CHECK_THAT(centre.y(), test::to_truncation(498.032836, 1e-4));
}

TEST_CASE("a body point's picture has the derivatives that differences show", "[view]") {
  const SwingView view = tilted_view();
  const Eigen::Vector3d body(13.0, 210.0, -9.0);
  const double theta = 1.1, h = 1e-6;
  const ProjectedPoint p = BodyProjection(view)(body, theta);
  const auto at = [&](int parameter, double step) {
    SwingView v = view;
    Eigen::Vector3d b = body;
    double t = theta;
    if (parameter == 0) v.axle_px.x() += step;
    if (parameter == 1) v.axle_px.y() += step;
    if (parameter == 2) v.tilt_x_rad += step;
    if (parameter == 3) v.tilt_y_rad += step;
    if (parameter == 4) v.focal_px *= std::exp(step);
    if (parameter >= 5 && parameter < 8) b(parameter - 5) += step;
    if (parameter == 8) t += step;
    return v.project(swing_from_body(b, t));
  };
  for (int parameter = 0; parameter < 9; ++parameter) {
    CAPTURE(parameter);
    const Eigen::Vector2d by_difference = (at(parameter, h) - at(parameter, -h)) / (2.0 * h);
    const Eigen::Vector2d stated = parameter < 5 ? Eigen::Vector2d(p.by_view.col(parameter))
                                   : parameter < 8
                                       ? Eigen::Vector2d(p.by_body.col(parameter - 5))
                                       : p.by_theta;
    // Central differences of values near 1000 px: rounding 1e-13 / h dominates.
    CHECK_THAT(stated.x(), test::to_truncation(by_difference.x(), 1e-5));
    CHECK_THAT(stated.y(), test::to_truncation(by_difference.y(), 1e-5));
  }
}

TEST_CASE("a pixel's place on the body undoes the view at any depth", "[view][property]") {
  SwingView view;
  view.axle_px = {480.0, 231.0};
  view.principal_px = {479.5, 269.5};
  view.tilt_x_rad = -0.15;
  view.tilt_y_rad = 0.08;
  view.focal_px = 900.0;
  for (const double theta : {-1.7, 0.3, 2.1}) {
    const TurnedView turned(view, theta);
    for (const double depth : {-20.0, 0.0, 35.0}) {
      const Eigen::Vector3d point(12.0, 210.0, depth);
      const Eigen::Vector2d pixel = view.project(swing_from_body(point, theta));
      Eigen::Vector3d place = turned.plane(pixel);
      place -= turned.by_depth() * (depth * place.z() / (1.0 + depth * turned.by_depth().z()));
      const Eigen::Vector2d found = place.head<2>() / place.z();
      const Eigen::Vector2d forward = turned.pixel_of(point);
      // The same product taken in another order: some ten roundings.
      CHECK_THAT(forward.x(), test::to_rounding(pixel.x(), 64));
      // Likewise.
      CHECK_THAT(forward.y(), test::to_rounding(pixel.y(), 64));
      // Two inversions of well-conditioned 3 x 3 matrices: some hundred roundings.
      CHECK_THAT(found.x(), test::to_rounding(12.0, 2000));
      // Likewise.
      CHECK_THAT(found.y(), test::to_rounding(210.0, 2000));
    }
  }
}

TEST_CASE("a rolling shutter shows a body point where it is when its line is read", "[view]") {
  SwingView view = tilted_view();
  view.readout_s = 0.020;
  const double theta_rad = 0.7, omega_rad_per_s = -9.0;
  const TurnedView turned(view, theta_rad, omega_rad_per_s);
  for (const Eigen::Vector3d& body :
       {Eigen::Vector3d(0.0, 260.0, 0.0), Eigen::Vector3d(-40.0, 80.0, 0.0)}) {
    const Eigen::Vector2d pixel = turned.pixel_of(body);
    // 541 rows, the middle one read at the frame's time.
    const double late_s = 0.020 * (pixel.y() - 270.0) / 541.0;
    const Eigen::Vector2d there =
        view.project(swing_from_body(body, theta_rad + omega_rad_per_s * late_s));
    // A twentieth of a twentieth of a twentieth of the 20 px passed.
    CHECK_THAT((pixel - there).norm(), test::to_truncation(0.0, 0.003));
    const Eigen::Vector3d plane = turned.plane(pixel);
    const Eigen::Array2d back =
        turned.as_read<double>(plane.head<2>().array() / plane.z(), pixel);
    // As above, and the sines' fourth order.
    CHECK_THAT((back.matrix() - body.head<2>()).norm(), test::to_truncation(0.0, 0.005));
  }
}

TEST_CASE("a picture is read along its shorter side", "[view]") {
  SwingView view = tilted_view();
  // A quotient of sums of whole and half numbers.
  CHECK_THAT(view.part_of_readout({900.0, 270.0 + 541.0 / 4.0}), test::to_rounding(0.25, 4));
  view.principal_px = {270.0, 480.0};
  // Likewise.
  CHECK_THAT(view.part_of_readout({270.0 - 541.0 / 2.0, 900.0}), test::to_rounding(-0.5, 4));
}
