// SPDX-License-Identifier: Apache-2.0
#include "tracking/frame_course.h"

#include "support/test.h"

using namespace swingloss;

namespace {

/// Twelve frames at uneven times, along a parabola.
struct Course {
  std::vector<ArmCrop> crops;
  std::vector<double> theta_rad;
  std::vector<bool> trusted = std::vector<bool>(12, true);

  Course() {
    for (int k = 0; k < 12; ++k) {
      ArmCrop crop;
      crop.t_s = k / 60.0 + 0.003 * (k % 3);
      crops.push_back(crop);
      theta_rad.push_back(at(crop.t_s));
    }
  }
  static double at(double t_s) { return 0.4 - 3.0 * t_s + 20.0 * t_s * t_s; }
  [[nodiscard]] std::optional<double> of(std::size_t k) const {
    return course_rad(crops, theta_rad, trusted, k);
  }
};

}  // namespace

TEST_CASE("neighbours on a parabola tell a frame's place on it", "[tracking]") {
  Course course;
  for (std::size_t k = 1; k + 1 < course.crops.size(); ++k) {
    CAPTURE(k);
    course.theta_rad[k] += 1.0;  // the frame itself is not asked
    REQUIRE(course.of(k));
    // A few hundred roundings in the normal equations, whose terms are some ten times larger.
    CHECK_THAT(*course.of(k), test::to_rounding(Course::at(course.crops[k].t_s), 10000));
    course.theta_rad[k] -= 1.0;
  }
}

TEST_CASE("frames that are not trusted are not asked for the course", "[tracking]") {
  Course course;
  course.theta_rad[5] = 100.0;
  course.trusted[5] = false;
  REQUIRE(course.of(6));
  // As above.
  CHECK_THAT(*course.of(6), test::to_rounding(Course::at(course.crops[6].t_s), 10000));
}

TEST_CASE("too few neighbours, or those of one side, tell no course", "[tracking]") {
  Course course;
  CHECK_FALSE(course.of(0));
  CHECK_FALSE(course.of(11));
  course.trusted.assign(12, false);
  for (const std::size_t k : {3U, 4U, 7U, 8U}) course.trusted[k] = true;
  CHECK_FALSE(course.of(6));
  course.trusted[9] = true;
  CHECK(course.of(6));
}
