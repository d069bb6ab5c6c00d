// SPDX-License-Identifier: Apache-2.0
/// A camera's clip of a real pendulum, against what was read from its pictures by eye.
#include "core/angle.h"
#include "series/measure_clip.h"
#include "support/shared_file.h"
#include "support/test.h"

#include <cmath>
#include <map>
#include <string>
#include <vector>

using namespace swingloss;

namespace {

struct Reading {
  int frame;
  double angle_deg;
};

}  // namespace

TEST_CASE("turning points and period of a rod that a camera filmed", "[series][truth]") {
  const std::string path = test::shared_file("real/rod-clip/clip.mp4");
  if (path.empty()) return;
  const SwingRecord record = measure_clip(path, "clip.mp4", nullptr);
  std::map<int, double> found_deg;
  for (const AngleSample& sample : record.arm.angles.samples)
    found_deg[sample.frame] = Angle::from_rad(sample.theta_rad).deg();
  // REFERENCE.json beside the clip: "rest" and "turning_points", each read by eye to 0.1 to
  // 0.12 deg from the picture's vertical.
  const std::vector<Reading> rest = {{0, -0.2}, {20, -0.1}, {40, -0.2}, {60, -0.1}};
  const std::vector<Reading> turns = {{150, 5.74},
                                      {181, -5.88},
                                      {205, 5.79},
                                      {461, -6.0},
                                      {485, 5.62},
                                      {765, 5.59},
                                      {788, -6.0},
                                      {1068, -5.91},
                                      {1092, 5.53},
                                      {1395, -5.87},
                                      {1419, 5.49}};
  double zero_deg = 0.0;
  for (const Reading& each : rest)
    zero_deg += (found_deg.at(each.frame) - each.angle_deg) / double(rest.size());
  for (const Reading& each : turns) {
    CAPTURE(each.frame);
    CHECK_THAT(found_deg.at(each.frame) - zero_deg,
               test::to_uncertainty(each.angle_deg, 0.12, 1.0));
  }
  // The whole answer: from the hand that holds the rod at frame 150, less the rest.
  const SwingMeasurement& swing = record.measurement;
  CHECK(swing.outcome == Outcome::FreeSwing);
  REQUIRE(swing.release_angle_rad);
  const double release_deg = Angle::from_rad(swing.release_angle_rad->value()).deg();
  const double u_deg = Angle::from_rad(swing.release_angle_rad->u()).deg();
  CHECK_THAT(release_deg, test::to_uncertainty(5.74 + 0.15, std::hypot(0.12, u_deg), 1.0));
  // "half_span_deg": both sides together, free of the zero, to 0.08 deg.
  const auto half_span_deg = [&](int one, int other) {
    return 0.5 * std::abs(found_deg.at(one) - found_deg.at(other));
  };
  CHECK_THAT(half_span_deg(181, 205), test::to_uncertainty(5.84, 0.08, 1.0));
  CHECK_THAT(half_span_deg(461, 485), test::to_uncertainty(5.81, 0.08, 1.0));
  CHECK_THAT(half_span_deg(788, 765), test::to_uncertainty(5.80, 0.08, 1.0));
  CHECK_THAT(half_span_deg(1068, 1092), test::to_uncertainty(5.72, 0.08, 1.0));
  CHECK_THAT(half_span_deg(1395, 1419), test::to_uncertainty(5.68, 0.08, 1.0));
  // "period_s" 1.556 s to 0.002 s, of swings of 5.76 deg: 1 + 5.76^2 / 16 in radians times the
  // period of the smallest.
  REQUIRE(record.decay);
  const double smallest_s =
      2.0 * kPi / std::sqrt(9.80665 / record.decay->reduced_length_m.value());
  const double amplitude_rad = Angle::from_deg(5.76).rad();
  CHECK_THAT(smallest_s * (1.0 + amplitude_rad * amplitude_rad / 16.0),
             test::to_uncertainty(1.556, 0.002, 1.0));
}
