// SPDX-License-Identifier: Apache-2.0
// One recording of several bars.
#include "series_folder.h"
#include "support/test.h"

#include <algorithm>
#include <cmath>

#include <nlohmann/json.hpp>

using namespace swingloss;
using Catch::Contains;
using Json = nlohmann::json;
using test::SeriesFolder;

namespace {

constexpr double kDegrees = 57.29577951308232;

/// Held at 110 deg for 0.4 s, let go, slowed at the bottom, by the leapfrog rule at 1 kHz;
/// every 16th step becomes a row. \return the rise in degrees
double add_blow(double keeps_of_speed, double& t_s, std::string& text) {
  double theta = 110.0 / kDegrees;
  double omega = 0.0;
  double lowest = 0.0;
  bool struck = false;
  for (int i = 0; i < 1900; ++i, t_s += 1e-3) {
    // A ripple of a hundredth of a degree stands for the noise.
    if (i % 16 == 0)
      text += std::to_string(t_s) + "," +
              std::to_string(theta * kDegrees + 0.01 * std::sin(5e3 * t_s)) + ",0.01\n";
    if (i < 400) continue;
    omega -= 1e-3 * 25.0 * std::sin(theta);
    theta += 1e-3 * omega;
    if (theta < 0.0 && !struck) omega *= keeps_of_speed;
    struck = struck || theta < 0.0;
    lowest = std::min(lowest, theta);
  }
  return -lowest * kDegrees;
}

}  // namespace

TEST_CASE("swing --all measures every blow of one recording, swing the greatest", "[cli]") {
  const SeriesFolder series;
  std::string text = "t_s,angle_deg,u_deg\n";
  double t_s = 0.0;
  const double rises_deg[] = {
      add_blow(0.8, t_s, text), add_blow(0.5, t_s, text), add_blow(0.9, t_s, text)};
  const std::string track = series.write("track.csv", text);
  const std::string out = series / "all.json";
  const auto end = test::run_program({"swing", "--track", track, "--all", "--json", out});
  CAPTURE(end.out, end.err);
  CHECK(end.status == 0);
  CHECK_THAT(end.out, Contains("Blow 1 of 3, at ") && Contains("Blow 3 of 3, at "));
  const Json all = Json::parse(test::bytes_of(out));
  CHECK(all.at("format") == "swingloss/swings/1");
  REQUIRE(all.at("swings").size() == 3);
  for (std::size_t k = 0; k < 3; ++k) {
    CAPTURE(k);
    const Json& swing = all.at("swings")[k];
    CHECK(swing.at("format") == "swingloss/swing/1");
    CHECK(swing.at("outcome") == "broken");
    const Json& rise = swing.at("rise_angle_deg");
    CHECK_THAT(rise.at("value").get<double>(),
               test::to_uncertainty(rises_deg[k], rise.at("u").get<double>()));
  }
  const auto one = test::run_program({"swing", "--track", track, "--json", "-"});
  CHECK(one.status == 0);
  const Json first = Json::parse(one.out);
  const Json& rise = first.at("rise_angle_deg");
  CHECK_THAT(rise.at("value").get<double>(),
             test::to_uncertainty(rises_deg[1], rise.at("u").get<double>()));
}
