// SPDX-License-Identifier: Apache-2.0
#include "tracking/lead_frames.h"

#include "core/angle.h"
#include "support/test.h"

#include <algorithm>
#include <cmath>

using namespace swingloss;

namespace {

/// Held at the top for `held` pictures, then `swings` swings of that amplitude.
std::vector<ArmCrop> swinging(double amplitude_deg, int held, int swings) {
  constexpr int kInSwing = 60;
  const double amplitude_rad = Angle::from_deg(amplitude_deg).rad();
  std::vector<ArmCrop> crops;
  for (int k = 0; k < held + swings * kInSwing; ++k) {
    const double phase_rad = 2.0 * kPi * std::max(0, k - held) / kInSwing;
    ArmCrop crop;
    crop.frame = k;
    crop.theta_rad = amplitude_rad * std::cos(phase_rad);
    crop.omega_rad_per_s = k < held ? 0.0 : -amplitude_rad * std::sin(phase_rad);
    crops.push_back(crop);
  }
  return crops;
}

}  // namespace

TEST_CASE("of a short arc, still pictures do not outvote the swing", "[tracking]") {
  for (const double amplitude_deg : {3.0, 6.0, 20.0, 60.0, 120.0}) {
    CAPTURE(amplitude_deg);
    const std::vector<ArmCrop> crops = swinging(amplitude_deg, 120, 20);
    const std::vector<std::size_t> lead = lead_frames(crops);
    CHECK(std::is_sorted(lead.begin(), lead.end()));
    CHECK(lead.size() > 100);
    CHECK(lead.size() < crops.size() / 2);
    // Held pictures are of one direction.
    CHECK(std::count_if(lead.begin(), lead.end(), [](std::size_t k) { return k < 120; }) <= 12);
    // Each third of the arc leads.
    for (const double from : {-1.0, -1.0 / 3.0, 1.0 / 3.0}) {
      const double amplitude_rad = Angle::from_deg(amplitude_deg).rad();
      CHECK(std::count_if(lead.begin(), lead.end(), [&](std::size_t k) {
              const double part = crops[k].theta_rad / amplitude_rad;
              return part >= from && part < from + 2.0 / 3.0;
            }) >= 30);
    }
  }
}

TEST_CASE("an arm that does not turn at all leads with a few pictures", "[tracking]") {
  std::vector<ArmCrop> crops(500);
  CHECK(lead_frames(crops).size() == 6);
}

TEST_CASE("all pictures of a short clip lead", "[tracking]") {
  CHECK(lead_frames(swinging(120.0, 20, 1)).size() == 80);
}
