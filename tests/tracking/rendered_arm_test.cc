// SPDX-License-Identifier: Apache-2.0
#include "core/angle.h"
#include "render/render_swing.h"
#include "support/has_remark.h"
#include "support/temp_folder.h"
#include "support/test.h"
#include "tracking/track_arm.h"
#include "tracking/track_errors.h"

#include <algorithm>
#include <vector>

using namespace swingloss;
using namespace swingloss::test;

namespace {

struct Rendered {
  Result<ArmTrack> found;
  RenderTruth truth;
};

/// The scene with a bar that breaks, followed.
Rendered rendered(RenderScene scene, double length_s = 2.0) {
  const test::TempFolder folder;
  if (!scene.absorbed_J) scene.absorbed_J = 1.0;
  scene.length_s = length_s;
  const std::string path = folder / "clip.mp4";
  RenderTruth truth = render_swing(scene, path);
  return {track_arm([&] { return open_clip(path); }), std::move(truth)};
}

/// What two thirds of the angles are less off than.
double off_deg(const Result<ArmTrack>& found, const RenderTruth& truth) {
  const double off_rad =
      two_thirds(errors_of(found.value().angles, truth.frame_angle_deg, 1.0));
  return Angle::from_rad(off_rad).deg();
}

}  // namespace

TEST_CASE("track_arm follows the rendered rig through perspective, blur and coding",
          "[tracking][synthetic]") {
  const auto [found, truth] = rendered({});
  REQUIRE(found.ok());
  CHECK_THAT(two_thirds_in_u(found.value().angles, truth.frame_angle_deg, 1.0), kHonest);
}

TEST_CASE("two dots give the angles free of what edges and shadows do",
          "[tracking][synthetic]") {
  RenderScene scene;
  scene.stickers = true;
  const auto [found, truth] = rendered(scene);
  REQUIRE(found.ok());
  CHECK(found.value().mode == TrackMode::Dots);
  // A tenth of a pixel at the outer dot, 131 px out.
  CHECK_THAT(off_deg(found, truth), test::to_truncation(0.0, 0.045));
}

TEST_CASE("a tag does not silence the arm's edges", "[tracking][synthetic]") {
  RenderScene scene;
  scene.seed = 700;
  scene.tag = true;
  scene.absorbed_J = 1.21;
  scene.camera.yaw_deg = 3.0;
  scene.camera.pitch_deg = -2.0;
  const auto [found, truth] = rendered(scene, 2.2);
  REQUIRE(found.ok());
  CHECK(found.value().mode == TrackMode::Sticker);
  // Half a pixel at the bar, which is 0.33 m of 1.6 m times 1029 px out.
  CHECK_THAT(off_deg(found, truth), test::to_truncation(0.0, 0.135));
}

TEST_CASE("from thirty degrees off square the arm is followed, and said to be seen from there",
          "[tracking][synthetic]") {
  RenderScene scene;
  scene.seed = 202;
  scene.camera.yaw_deg = 30.0;
  scene.camera.pitch_deg = -5.0;
  const auto [found, truth] = rendered(scene, 2.2);
  REQUIRE(found.ok());
  CHECK(test::has_remark(found.value().remarks, "camera-oblique"));
  CHECK_THAT(two_thirds_in_u(found.value().angles, truth.frame_angle_deg, 1.0), kHonest);
  // Half a pixel at the bar, which is 0.33 m of 1.6 m times 1029 px out, foreshortened by the
  // cosine of 30 degrees.
  CHECK_THAT(off_deg(found, truth), test::to_truncation(0.0, 0.156));
}

TEST_CASE("a hammer whose sides outdo its face is refused from far off square",
          "[tracking][synthetic]") {
  RenderScene scene;
  scene.seed = 203;
  scene.release_deg = 120.0;
  scene.absorbed_J = 0.6;
  scene.camera.yaw_deg = -30.0;
  scene.camera.pitch_deg = -5.0;
  const auto [found, truth] = rendered(scene, 2.2);
  REQUIRE_FALSE(found.ok());
  CHECK(found.failure().code == "camera-oblique");
}

TEST_CASE("a camera twelve degrees off square is found to stand there",
          "[tracking][synthetic]") {
  RenderScene scene;
  scene.seed = 100;
  scene.release_deg = 118.0;
  scene.camera.yaw_deg = 12.0;
  scene.camera.pitch_deg = -6.0;
  const auto [found, truth] = rendered(scene);
  REQUIRE(found.ok());
  const SwingView& view = found.value().view;
  // Seen from the right, the swing's plane is turned to the left. The foreshortening that the
  // tilt is read from changes by a pixel at the arm's end with a degree of it.
  CHECK_THAT(Angle::from_rad(view.tilt_x_rad).deg(), test::to_truncation(-12.0, 1.0));
  // Likewise.
  CHECK_THAT(Angle::from_rad(view.tilt_y_rad).deg(), test::to_truncation(-6.0, 1.0));
  // Half a pixel at the bar, which is 0.33 m of 1.6 m times 1029 px out.
  CHECK_THAT(off_deg(found, truth), test::to_truncation(0.0, 0.135));
}

TEST_CASE("the readout of a rolling shutter is found and its bend of the arm undone",
          "[tracking][synthetic]") {
  RenderScene scene;
  scene.seed = 101;
  scene.faults.readout_s = 0.016;
  const auto [found, truth] = rendered(scene);
  REQUIRE(found.ok());
  // A millisecond bends the arm by a third of a pixel between its middle and its end.
  CHECK_THAT(found.value().view.readout_s, test::to_truncation(0.016, 0.0015));
  CHECK(test::has_remark(found.value().remarks, "read-line-by-line"));
  // Half a pixel at the bar, which is 0.33 m of 1.6 m times 1029 px out.
  CHECK_THAT(off_deg(found, truth), test::to_truncation(0.0, 0.135));
}

TEST_CASE("a dark hammer before a white sheet of paper is followed", "[tracking][synthetic]") {
  RenderScene scene;
  scene.seed = 100;  // this room has such a sheet behind the rise
  scene.release_deg = 118.0;
  scene.absorbed_J = 0.5;
  scene.camera.yaw_deg = scene.camera.pitch_deg = 0.0;
  scene.camera.width_px = 1280;
  scene.camera.height_px = 720;
  const auto [found, truth] = rendered(scene, 2.2);
  REQUIRE(found.ok());
  // From 0.9 s to 1.4 s, the arm is before it.
  const std::vector<AngleSample>& samples = found.value().angles.samples;
  const auto before_it =
      std::count_if(samples.begin(), samples.end(), [](const AngleSample& s) {
        return s.frame >= 54 && s.frame < 84;
      });
  CHECK(before_it >= 22);
  // Half a pixel at the bar, which is 0.33 m of 1.6 m times 1372 px out.
  CHECK_THAT(off_deg(found, truth), test::to_truncation(0.0, 0.10));
}
