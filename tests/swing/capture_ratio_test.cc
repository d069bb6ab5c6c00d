// SPDX-License-Identifier: Apache-2.0
#include "swing/capture_ratio.h"

#include "support/test.h"

#include <cmath>

using namespace swingloss;

namespace {

CaptureRatio ratio_of(double by_rig, double by_clip, double relative_u) {
  return capture_ratio(
      Uncertain::from(by_rig, relative_u * by_rig, "rig.reduced-length", SourceKind::Shared),
      Uncertain::exact(by_clip));
}

}  // namespace

TEST_CASE("rates of capture and play that cameras use are slow motion", "[swing]") {
  for (const double ratio : {2.0,
                             4.0,
                             8.0,
                             32.0,
                             240.0 / 25.0,
                             60.0 / 25.0,
                             25.0 / 24.0,
                             30.0 / 25.0,
                             0.5,
                             24.0 / 25.0,
                             240.0 / (30000.0 / 1001.0)}) {
    CAPTURE(ratio);
    const CaptureRatio found = ratio_of(ratio, 1.0, 2e-4);
    CHECK(found.is_understood);
    REQUIRE(found.remark.has_value());
    CHECK(found.remark->code == "slow-motion");
    CHECK(found.ratio.value() == ratio);
  }
}

TEST_CASE("any other ratio is a wrong length or rate, and its doubt is carried", "[swing]") {
  // 1.252: a reduced length of 0.25 m typed for 0.392 m, sqrt(0.392 / 0.25).
  for (const double ratio : {1.2522, 1.01, 1.5, 2.2, 3.3, 0.8, 100.0}) {
    CAPTURE(ratio);
    const CaptureRatio found = ratio_of(ratio, 1.0, 5e-4);
    CHECK_FALSE(found.is_understood);
    REQUIRE(found.remark.has_value());
    CHECK(found.remark->code == "time-or-length-off");
    CHECK(found.remark->severity == Severity::Warning);
    CHECK(found.ratio.value() == ratio);
    // One standard uncertainty reaches 1/sqrt(2) of the way to a clip whose time is true.
    const double reach = std::abs(ratio - 1.0) / found.ratio.u(SourceKind::Shared);
    CHECK(reach > 1.4);
    CHECK(reach < 1.42);
  }
}

TEST_CASE("a clip in true time says nothing", "[swing]") {
  const CaptureRatio found = ratio_of(1.0014, 1.0, 5e-4);
  CHECK(found.is_understood);
  CHECK_FALSE(found.remark.has_value());
  CHECK(found.ratio.value() == 1.0);
  CHECK(found.ratio.u() == 0.0);
}

TEST_CASE("what is usual narrows with the uncertainty of the ratio", "[swing]") {
  CHECK(is_usual_rate_ratio(2.02, 0.01));
  CHECK_FALSE(is_usual_rate_ratio(2.02, 0.002));
}
