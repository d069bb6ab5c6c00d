// SPDX-License-Identifier: Apache-2.0
#include "render/pinhole.h"

#include "core/angle.h"
#include "support/test.h"

#include <algorithm>
#include <cmath>

#include <opencv2/core.hpp>

using namespace swingloss;
using namespace swingloss::render;
using test::to_printed_decimals;
using test::to_printed_digits;
using test::to_truncation;

namespace {

struct Ellipse {
  cv::Point2d centre;
  double major_px = 0.0, minor_px = 0.0;
};

/// The conic a x^2 + b xy + c y^2 + d x + e y = 1 through points, in coordinates about
/// `origin`.
Ellipse ellipse_through(const std::vector<cv::Point2d>& points, cv::Point2d origin) {
  cv::Mat left(static_cast<int>(points.size()), 5, CV_64F);
  const cv::Mat right = cv::Mat::ones(left.rows, 1, CV_64F);
  for (int i = 0; i < left.rows; ++i) {
    const cv::Point2d p = (points[static_cast<std::size_t>(i)] - origin) / 100.0;
    auto* row = left.ptr<double>(i);
    row[0] = p.x * p.x;
    row[1] = p.x * p.y;
    row[2] = p.y * p.y;
    row[3] = p.x;
    row[4] = p.y;
  }
  cv::Mat solution;
  cv::solve(left, right, solution, cv::DECOMP_SVD);
  const auto q = [&solution](int i) { return solution.at<double>(i); };
  const cv::Matx22d shape(q(0), 0.5 * q(1), 0.5 * q(1), q(2));
  const cv::Vec2d linear(q(3), q(4));
  const cv::Vec2d middle = shape.inv() * linear * -0.5;
  const double level = 1.0 - 0.5 * linear.dot(middle);
  cv::Mat values;
  cv::eigen(cv::Mat(shape), values);
  Ellipse ellipse;
  ellipse.centre = origin + 100.0 * cv::Point2d(middle[0], middle[1]);
  ellipse.minor_px = 100.0 * std::sqrt(level / values.at<double>(0));
  ellipse.major_px = 100.0 * std::sqrt(level / values.at<double>(1));
  return ellipse;
}

RenderCamera square_camera() {
  RenderCamera camera;
  camera.yaw_deg = camera.pitch_deg = camera.roll_deg = 0.0;
  camera.aim_y_m = 0.0;
  return camera;
}

}  // namespace

TEST_CASE("a circle in the room is the published ellipse in the picture", "[render][truth]") {
  // The project's table of reference values, section 7: r 50 mm at (30, -20, 600) mm, normal
  // (0.338095, -0.253571, 0.906308), f 1200, centre (960, 540) give an ellipse about
  // (1022.631164, 498.032836) with semi-axes 100.062833 and 93.281480; the circle's own centre
  // is seen at (1020, 500).
  Pinhole camera;
  camera.focal_px = {1200.0, 1200.0};
  camera.centre_px = {960.0, 540.0};
  const cv::Vec3d centre_m(0.030, -0.020, 0.600);
  const cv::Vec3d normal = cv::normalize(cv::Vec3d(0.338095, -0.253571, 0.906308));
  const cv::Vec3d side = cv::normalize(normal.cross(cv::Vec3d(0.0, 1.0, 0.0)));
  const cv::Vec3d other = normal.cross(side);
  std::vector<cv::Point2d> points;
  for (int i = 0; i < 60; ++i) {
    const double turn = 2.0 * kPi * i / 60.0;
    points.push_back(
        camera.pixel_of(centre_m + 0.050 * (std::cos(turn) * side + std::sin(turn) * other)));
  }
  const cv::Point2d middle = camera.pixel_of(centre_m);
  const Ellipse ellipse = ellipse_through(points, middle);
  CHECK_THAT(middle.x, to_printed_digits(1020.0, 12));
  CHECK_THAT(middle.y, to_printed_digits(500.0, 12));
  // The normal is printed to six decimals, half a unit of which turns the plane by up to 7e-7;
  // the axes follow with up to 100 px of it, the centre with less.
  CHECK_THAT(ellipse.centre.x, to_truncation(1022.631164, 1e-4));
  CHECK_THAT(ellipse.centre.y, to_truncation(498.032836, 1e-4));
  CHECK_THAT(ellipse.major_px, to_truncation(100.062833, 1e-4));
  CHECK_THAT(ellipse.minor_px, to_truncation(93.281480, 1e-4));
}

TEST_CASE("the camera looks at the point it is aimed at, whatever its turn", "[render]") {
  RenderCamera camera;
  camera.yaw_deg = 11.0;
  camera.pitch_deg = -7.0;
  camera.roll_deg = 3.0;
  camera.aim_x_m = 0.05;
  const Pinhole pinhole = camera_of(camera);
  const cv::Point2d seen = pinhole.pixel_of({0.05, -0.06, 0.0});
  CHECK_THAT(seen.x, to_printed_decimals(479.5, 9));
  CHECK_THAT(seen.y, to_printed_decimals(269.5, 9));
}

TEST_CASE("a square camera sees lengths by distance and field", "[render]") {
  const RenderCamera camera = square_camera();
  const Pinhole pinhole = camera_of(camera);
  const cv::Point2d side = pinhole.pixel_of({0.1, 0.0, 0.0});
  const cv::Point2d above = pinhole.pixel_of({0.0, 0.1, 0.0});
  // Half the width is seen under half the field.
  const double px_per_m = 480.0 / (1.6 * std::tan(Angle::from_deg(25.0).rad()));
  CHECK_THAT(side.x - 479.5, to_printed_digits(0.1 * px_per_m, 12));
  CHECK_THAT(269.5 - above.y, to_printed_digits(0.1 * px_per_m, 12));
}

TEST_CASE("yaw, pitch and roll have the signs of their description", "[render]") {
  RenderCamera camera = square_camera();
  const cv::Vec3d before(0.0, 0.0, 0.1);  // a point in front of the plane of swing
  camera.yaw_deg = 10.0;                  // seen from the right it is left of the axle
  CHECK(camera_of(camera).pixel_of(before).x < 479.5);
  camera = square_camera();
  camera.pitch_deg = 10.0;  // seen from above it is below the axle
  CHECK(camera_of(camera).pixel_of(before).y > 269.5);
  camera = square_camera();
  camera.roll_deg = 10.0;  // content turns clockwise: the hanging arm's end goes left
  CHECK(camera_of(camera).pixel_of({0.0, -0.3, 0.0}).x < 479.5);
}

TEST_CASE("a ray goes back to its pixel, also through a bending lens", "[render]") {
  for (const double k1 : {0.0, -0.12, 0.08}) {
    RenderCamera camera;
    camera.lens_k1 = k1;
    camera.pixel_aspect_ratio = 1.2;
    const Pinhole pinhole = camera_of(camera);
    for (const cv::Point2d& pixel :
         {cv::Point2d(3, 5), cv::Point2d(900, 80), cv::Point2d(480, 539)}) {
      CAPTURE(k1, pixel.x, pixel.y);
      const cv::Point2d back = pinhole.pixel_of(pinhole.lens_m + 2.0 * pinhole.ray_of(pixel));
      // Newton's rule squares its error: from 0.05 below 1e-12 in five steps; focal 1000 px.
      CHECK_THAT(back.x, to_truncation(pixel.x, 1e-9));
      CHECK_THAT(back.y, to_truncation(pixel.y, 1e-9));
    }
  }
}

TEST_CASE("a turned camera sees the room turned the other way", "[render]") {
  const Pinhole pinhole = camera_of(square_camera());
  const cv::Vec3d point(0.0, 0.0, 0.0);
  CHECK(pinhole.turned({0.01, 0.0, 0.0}).pixel_of(point).x < 479.5);
  CHECK(pinhole.turned({0.0, 0.01, 0.0}).pixel_of(point).y > 269.5);
  CHECK(pinhole.turned({0.0, 0.0, 0.01}).pixel_of({0.2, 0.0, 0.0}).y > 269.5);
}

TEST_CASE("a picture of half the size sees half the pixels", "[render]") {
  RenderCamera camera;
  const cv::Vec3d point(0.21, -0.13, 0.02);
  const cv::Point2d large = camera_of(camera).pixel_of(point);
  camera.width_px /= 2;
  camera.height_px /= 2;
  const cv::Point2d small = camera_of(camera).pixel_of(point);
  // Pixel centres are whole numbers, so edges are at -0.5.
  CHECK_THAT(small.x + 0.5, to_printed_digits(0.5 * (large.x + 0.5), 12));
  CHECK_THAT(small.y + 0.5, to_printed_digits(0.5 * (large.y + 0.5), 12));
}

TEST_CASE("pictures that no coder takes are our own mistake", "[render]") {
  RenderCamera camera;
  camera.width_px = 961;
  CHECK_THROWS_AS(camera_of(camera), std::logic_error);
  camera = {};
  camera.horizontal_field_deg = 0.0;
  CHECK_THROWS_AS(camera_of(camera), std::logic_error);
}
