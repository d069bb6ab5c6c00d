// SPDX-License-Identifier: Apache-2.0
#include "series/release_of_rig.h"

#include "support/test.h"

#include <cmath>

using namespace swingloss;

namespace {

BarResult filmed_on(const std::string& rig, double release_rad, double u_rad) {
  BarResult bar;
  bar.bar.rig = rig;
  bar.swing = SwingRecord();
  bar.swing->measurement.release_angle_rad =
      Uncertain::from(release_rad, u_rad, "fit", SourceKind::Own);
  return bar;
}

}  // namespace

TEST_CASE("the release of a rig is the mean of its own clips", "[series]") {
  SeriesResult series;
  series.bars = {filmed_on("A", 2.0, 0.001), filmed_on("A", 2.2, 0.001)};
  series.bars.push_back(filmed_on("B", 1.0, 0.003));
  series.bars.emplace_back();  // typed
  series.bars.back().bar.rig = "A";
  series.bars.push_back(filmed_on("A", 9.0, 0.1));
  series.bars.back().swing->measurement.release_angle_rad.reset();
  const auto by_hand = release_of_rig(series, "A");
  REQUIRE(by_hand.has_value());
  CHECK(by_hand->clips == 2);
  // Two values of one sum each: mean 2.1, s = 0.2/sqrt(2), far above the clips' own u.
  CHECK_THAT(by_hand->angle_rad.value(), test::to_rounding(2.1, 2));
  CHECK_THAT(by_hand->angle_rad.u(), test::to_rounding(0.2 / std::sqrt(2.0), 16));
  const auto once = release_of_rig(series, "B");
  REQUIRE(once.has_value());
  CHECK_THAT(once->angle_rad.u(), test::to_rounding(0.003, 4));
  CHECK_FALSE(release_of_rig(series, "C").has_value());
}

TEST_CASE("a latch is known no better than the clips can tell", "[series]") {
  SeriesResult series;
  series.bars = {filmed_on("A", 2.0, 0.003), filmed_on("A", 2.0, 0.004)};
  // Root of (9 + 16)/2 thousandths, the scatter being none.
  CHECK_THAT(release_of_rig(series, "A")->angle_rad.u(),
             test::to_rounding(0.001 * std::sqrt(12.5), 16));
}
