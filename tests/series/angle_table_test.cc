// SPDX-License-Identifier: Apache-2.0
#include "series/angle_table.h"

#include "core/angle.h"
#include "core/input_error.h"
#include "support/temp_folder.h"
#include "support/test.h"

#include <cmath>
#include <random>
#include <sstream>

using namespace swingloss;
using Catch::Contains;
using test::TempFolder;

namespace {

AngleTable read(const std::string& text) {
  const TempFolder folder;
  return read_angle_table(folder.write("track.csv", text));
}

/// A smooth swing at 1 kHz with normal noise, as text with four decimals.
std::string noisy_swing(double noise_deg, unsigned seed) {
  std::mt19937 generator(seed);
  std::normal_distribution<double> noise(0.0, noise_deg);
  std::ostringstream text;
  text.precision(4);
  text << std::fixed << "t_s,angle_deg\n";
  for (int i = 0; i < 1000; ++i) {
    const double t_s = 1e-3 * i;
    text << t_s << "," << 90.0 * std::cos(6.0 * t_s) + noise(generator) << "\n";
  }
  return text.str();
}

}  // namespace

TEST_CASE("read_angle_table takes degrees or radians, with their u", "[series]") {
  const AngleTable deg = read("t_s,angle_deg,u_deg\n0,90,0.1\n0.01,89,0.2\n");
  REQUIRE(deg.track.samples.size() == 2);
  // One multiplication by pi/180.
  CHECK_THAT(deg.track.samples[0].theta_rad, test::to_rounding(kPi / 2.0, 2));
  CHECK_THAT(deg.track.samples[1].u_rad, test::to_rounding(0.2 * kPi / 180.0, 2));
  CHECK(deg.track.samples[1].t_s == 0.01);
  CHECK(deg.track.samples[1].frame == -1);
  CHECK(deg.remarks.empty());
  const AngleTable rad = read("t_s;angle_rad;u_rad\n0;1,5;0,001\n0,01;1,4;0,001\n");
  CHECK(rad.track.samples[0].theta_rad == 1.5);
  CHECK(rad.track.samples[0].u_rad == 0.001);
}

TEST_CASE("without a u it comes from the scatter, and a remark says so", "[series]") {
  for (const unsigned seed : {1U, 2U, 3U}) {
    CAPTURE(seed);
    const AngleTable table = read(noisy_swing(0.05, seed));
    REQUIRE(table.remarks.size() == 1);
    CHECK(table.remarks[0].code == "u-from-scatter");
    // The spread of a median absolute deviation of n values is 1.17/sqrt(n) of it, and third
    // differences repeat each value four times over: 4 * 2 * 1.17/sqrt(1000) = 30 %.
    CHECK_THAT(table.track.samples[0].u_rad * 180.0 / kPi,
               test::to_truncation(0.05, 0.3 * 0.05));
  }
}

TEST_CASE("the steps of a coarse encoder count as its u", "[series]") {
  // 0.09 deg steps and a swing so slow that most neighbours are equal: scatter says zero.
  std::string text = "t_s,angle_from_hanging_deg\n";
  for (int i = 0; i < 200; ++i) {
    const int step = i / 40;
    text += std::to_string(1e-3 * i) + "," + std::to_string(0.09 * step) + "\n";
  }
  const AngleTable table = read(text);
  // A rectangle of 0.09 deg: 0.09/sqrt(12) [JCGM100 4.3.7]; six decimals in the text.
  CHECK_THAT(table.track.samples[0].u_rad * 180.0 / kPi,
             test::to_truncation(0.09 / std::sqrt(12.0), 1e-6));
}

TEST_CASE("read_angle_table names the row whose time does not grow", "[series]") {
  CHECK_THROWS_WITH(read("t_s,angle_deg\n0,1\n0.02,2\n0.02,3\n"),
                    Contains("row 4, column t_s"));
}

TEST_CASE("read_angle_table refuses a u of zero, a missing and an unknown column", "[series]") {
  CHECK_THROWS_WITH(read("t_s,angle_deg,u_deg\n0,1,0\n"), Contains("row 2, column u_deg"));
  CHECK_THROWS_WITH(read("t_s,u_deg\n0,1\n"), Contains("no column angle_deg"));
  CHECK_THROWS_WITH(read("t_s,angle_degs\n0,1\n"), Contains("Did you mean angle_deg?"));
  CHECK_THROWS_AS(read_angle_table("no-such-track.csv"), InputError);
}
