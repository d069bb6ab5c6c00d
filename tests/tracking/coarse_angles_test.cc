// SPDX-License-Identifier: Apache-2.0
#include "tracking/coarse_angles.h"

#include "core/angle.h"
#include "render/render_swing.h"
#include "support/temp_folder.h"
#include "support/test.h"
#include "tracking/axle_search.h"

#include <algorithm>
#include <cmath>

using namespace swingloss;

TEST_CASE("the arm's shadow, as large as the arm and turning too, does not lead the search",
          "[tracking][synthetic]") {
  const test::TempFolder folder;
  RenderScene scene;
  scene.camera.yaw_deg = 8.0;
  scene.camera.pitch_deg = -4.0;
  scene.absorbed_J = 1.5;
  scene.length_s = 1.8;
  scene.seed = 5;
  const std::string path = folder / "clip.mp4";
  const RenderTruth truth = render_swing(scene, path);
  const ClipSurvey survey = survey_clip([&] { return open_clip(path); });
  const std::vector<AxleCandidate> axles = find_axle_candidates(survey, 1);
  REQUIRE(axles.size() == 1);
  const CoarseAngles found = find_coarse_angles(survey, axles[0].small_px);
  REQUIRE(found.theta_rad.size() == truth.frame_angle_deg.size());
  std::vector<double> off_deg;
  for (std::size_t k = 0; k < found.theta_rad.size(); ++k) {
    off_deg.push_back(
        std::abs(Angle::from_rad(found.theta_rad[k]).deg() - truth.frame_angle_deg[k]));
  }
  std::sort(off_deg.begin(), off_deg.end());
  // Four degrees of perspective at this yaw, and bins of one degree; the shadow stands up to a
  // hundred degrees off.
  CHECK_THAT(off_deg[off_deg.size() * 9 / 10], test::to_truncation(0.0, 6.0));
}
