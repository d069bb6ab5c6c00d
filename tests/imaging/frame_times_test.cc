// SPDX-License-Identifier: Apache-2.0
#include "imaging/frame_times.h"

#include "imaging/made_clip.h"
#include "support/test.h"

#include <cmath>

using namespace swingloss;
using test::has;
using test::to_rounding;

TEST_CASE("FrameTimes counts from the first stamp", "[imaging]") {
  FrameTimes times(TimeSource::TimeStamps, 0.04);
  CHECK(times.next(3.0) == 0.0);
  // A difference of stamps near 3 s: one rounding of a number of that size, 4 units of 1.
  CHECK_THAT(times.next(3.04), to_rounding(0.04, 50));
  CHECK_THAT(times.next(3.12), to_rounding(0.12, 50));
  CHECK(times.repaired() == 0);
  const Remarks remarks = times.remarks();
  REQUIRE(has(remarks, "uneven-time"));
  CHECK(remarks.front().severity == Severity::Note);
  CHECK(remarks.front().text.find("missing in 1 place.") != std::string::npos);
}

TEST_CASE("FrameTimes always grows, whatever the stamps do", "[imaging]") {
  FrameTimes times(TimeSource::TimeStamps, 0.04);
  const std::vector<std::optional<double>> stamps = {1.0, 1.04, 1.04, 1.02, std::nullopt, 1.3};
  double last_s = -1.0;
  for (const auto& stamp : stamps) {
    const double t_s = times.next(stamp);
    CHECK(t_s > last_s);
    last_s = t_s;
  }
  CHECK_THAT(last_s, to_rounding(0.3, 50));  // the last good stamp holds again
  CHECK(times.repaired() == 3);
  CHECK(has(times.remarks(), "time-stamps-repaired"));
}

TEST_CASE("FrameTimes at the nominal rate looks at no stamp", "[imaging]") {
  FrameTimes times(TimeSource::NominalRate, 0.02);
  CHECK(times.next(std::nullopt) == 0.0);
  CHECK(times.next(77.0) == 0.02);
  CHECK(times.next(std::nullopt) == 0.04);
  CHECK(times.remarks().empty());
}

TEST_CASE("FrameTimes is silent about an even clip", "[imaging]") {
  FrameTimes times(TimeSource::TimeStamps, 1.0 / 60.0);
  // Stamps in whole milliseconds, as Matroska has them: 16 and 17 ms alternate.
  for (int k = 0; k < 60; ++k) times.next(std::round(k * 1000.0 / 60.0) / 1000.0);
  CHECK(times.remarks().empty());
}
