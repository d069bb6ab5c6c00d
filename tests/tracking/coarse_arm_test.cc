// SPDX-License-Identifier: Apache-2.0
#include "tracking/coarse_arm.h"

#include "render/render_swing.h"
#include "support/temp_folder.h"
#include "support/test.h"
#include "tracking/axle_search.h"

using namespace swingloss;

TEST_CASE("a shadow that is followed in more places than its arm does not pass for the arm",
          "[tracking][synthetic]") {
  const test::TempFolder folder;
  RenderScene scene;
  scene.seed = 400;
  scene.camera.yaw_deg = -3.0;
  scene.release_deg = 120.0;
  scene.absorbed_J = 0.7;
  scene.length_s = 2.0;
  const std::string path = folder / "clip.mp4";
  render_swing(scene, path);
  const ClipOpener open = [&] { return open_clip(path); };
  const ClipSurvey survey = survey_clip(open);
  const std::vector<AxleCandidate> axles =
      find_axle_candidates(follow_corners(survey), survey.small.front().size());
  const Result<CoarseArm> found = find_coarse_arm(open, survey);
  REQUIRE(axles.size() > 1);
  REQUIRE(found.ok());
  // The picture's middle is what the camera is aimed at, so that the axle lies straight above
  // it; the shadow's, the first of them, lies to the left and 20 small pixels lower.
  const double middle_px = 0.5 * (scene.camera.width_px - 1);
  CHECK(survey.shrink * axles.front().small_px.x < middle_px - 20.0);
  // A hundredth of the picture: three small pixels.
  CHECK_THAT(found.value().view.axle_px.x(), test::to_truncation(middle_px, 10.0));
  CHECK(survey.shrink * axles.front().small_px.y > found.value().view.axle_px.y() + 40.0);
}
