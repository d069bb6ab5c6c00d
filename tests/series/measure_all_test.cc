// SPDX-License-Identifier: Apache-2.0
#include "core/angle.h"
#include "core/csv.h"
#include "core/number_text.h"
#include "series/measure_clip.h"
#include "series/swing_json.h"
#include "support/temp_folder.h"
#include "support/test.h"
#include "swing/swing_path.h"

#include <cmath>

#include <nlohmann/json.hpp>

using namespace swingloss;
using namespace swingloss::test;

namespace {

constexpr double kW0 = 5.0;
constexpr double kRate = 60.0;
const SwingLaw kLaw{0.002, 0.0, 0.006};

/// Held at 120 degrees, let go, through a bar to a rise, as rows of a table; without a lift:
/// the recording was stopped between the tests.
double add_test(std::string& text, double from_s, double rise_deg) {
  PathSpan span;
  span.after = 3.0;
  const SwingPath fall(Angle::from_deg(120.0).rad(), kLaw, span);
  PathSpan around;
  around.before = 3.0;
  around.after = 4.0;
  const SwingPath rise(-Angle::from_deg(rise_deg).rad(), kLaw, around);
  const double down = fall.first_after(0.0)->s;
  const double up = -rise.last_before(0.0)->s;
  const double held_s = 0.5;
  double t_s = 0.0;
  for (; t_s < held_s + (down + up + 3.5) / kW0; t_s += 1.0 / kRate) {
    const double s = (t_s - held_s) * kW0;
    const double theta_rad = s < 0.0    ? Angle::from_deg(120.0).rad()
                             : s < down ? fall.at(s).theta_rad
                                        : rise.at(s - down - up).theta_rad;
    // Less than a hundredth of a degree of what is no noise but keeps samples apart.
    const double ripple_deg = 0.004 * std::sin(37.0 * (from_s + t_s));
    text += csv_line({number_text(from_s + t_s),
                      number_text(Angle::from_rad(theta_rad).deg() + ripple_deg),
                      "0.005"});
  }
  return from_s + t_s;
}

}  // namespace

TEST_CASE("measure_all_of_track_file measures each bar of one recording", "[series]") {
  std::string text = "t_s,angle_deg,u_deg\n";
  const double rises_deg[] = {80.0, 50.0, 95.0};
  double t_s = 0.0;
  for (const double rise_deg : rises_deg) t_s = add_test(text, t_s, rise_deg);
  const TempFolder folder;
  const std::string path = folder.write("all.csv", text);
  const std::vector<SwingRecord> records = measure_all_of_track_file(path, nullptr);
  REQUIRE(records.size() == 3);
  for (std::size_t k = 0; k < records.size(); ++k) {
    CAPTURE(k);
    const SwingMeasurement& m = records[k].measurement;
    CHECK(m.outcome == Outcome::Broken);
    REQUIRE(m.rise_angle_rad.has_value());
    // A fifth of what the method is to reach.
    CHECK_THAT(Angle::from_rad(m.rise_angle_rad->value()).deg(),
               to_truncation(rises_deg[k], 0.02));
  }
  const nlohmann::json json = nlohmann::json::parse(swings_json(records));
  CHECK(json.at("format") == "swingloss/swings/1");
  CHECK(json.at("clip") == path);
  REQUIRE(json.at("swings").size() == 3);
  CHECK(json.at("swings")[1].at("outcome") == "broken");
}

TEST_CASE("one bar gives one record, with --all or without", "[series]") {
  std::string text = "t_s,angle_deg,u_deg\n";
  add_test(text, 0.0, 80.0);
  const TempFolder folder;
  const std::string path = folder.write("one.csv", text);
  const std::vector<SwingRecord> records = measure_all_of_track_file(path, nullptr);
  REQUIRE(records.size() == 1);
  CHECK(swing_json(records[0]) == swing_json(measure_track_file(path, nullptr)));
}
