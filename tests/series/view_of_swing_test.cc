// SPDX-License-Identifier: Apache-2.0
#include "series/view_of_swing.h"

#include "render/render_swing.h"
#include "support/temp_folder.h"
#include "support/test.h"

#include <cmath>

using namespace swingloss;

namespace {

ViewVector moves(double axle_px, double tilt_x_rad, double tilt_y_rad) {
  return (ViewVector() << axle_px, 0.0, tilt_x_rad, tilt_y_rad, 0.0).finished();
}

/// Two doubts of which the motion placed the first at half its size, and told the second
/// nothing.
SwingRecord placed_record() {
  SwingRecord record;
  record.clip = "free.mp4";
  record.arm.view.axle_px = {240.0, 60.0};
  record.arm.view.tilt_x_rad = 0.05;
  record.arm.view.tilt_y_rad = -0.02;
  record.arm.arm_length_px = 150.0;
  record.arm.view.focal_px = 500.0;
  record.arm.view_rest.diagonal() << 0.01, 0.04, 1e-8, 4e-8, 1e-4;
  const Eigen::VectorXd shape = Eigen::VectorXd::Zero(1);
  record.arm.angles.samples.push_back({0.0, 0.0, 1e-4, 0});
  record.arm.angles.doubts = {{"a", shape, {}, moves(0.2, 0.004, 0.002)},
                              {"b", shape, {}, moves(0.0, 0.0, 0.001)}};
  record.measurement.doubt_scores = {Uncertain::from(0.5, 0.1, "x", SourceKind::Own),
                                     Uncertain::from(0.0, 1.0, "y", SourceKind::Own)};
  return record;
}

std::string filmed(const test::TempFolder& folder) {
  RenderScene scene;
  scene.camera.width_px = 480;
  scene.camera.height_px = 270;
  scene.length_s = 0.1;
  const std::string clip = folder / "free.mp4";
  (void)render_swing(scene, clip);
  return clip;
}

}  // namespace

TEST_CASE("a swing's motion tells its camera's tilt through the doubts that it places",
          "[series]") {
  const test::TempFolder folder;
  const auto view = view_of_swing(placed_record(), filmed(folder));
  REQUIRE(view);
  CHECK(view->clip == "free.mp4");
  CHECK(view->picture.size() == cv::Size(480, 270));
  // The track is half a standard deviation of the first doubt off, and so is its view.
  CHECK_THAT(view->view[0], test::to_rounding(240.0 - 0.5 * 0.2, 8));
  CHECK_THAT(view->view[1], test::to_rounding(60.0, 8));
  CHECK_THAT(view->view[2], test::to_rounding(0.05 - 0.5 * 0.004, 8));
  CHECK_THAT(view->view[3], test::to_rounding(-0.02 - 0.5 * 0.002, 8));
  CHECK_THAT(view->view[4], test::to_rounding(std::log(500.0), 8));
  // Sums of squares: (0.1 * 0.2)^2 + 0.01; (0.1 * 0.004)^2 + 1e-8; (0.1 * 0.002)^2 + 0.001^2 +
  // 4e-8; and the first doubt's two moves of the tilt times each other.
  CHECK_THAT(view->covariance(0, 0), test::to_rounding(0.0104, 16));
  CHECK_THAT(view->covariance(1, 1), test::to_rounding(0.04, 16));
  CHECK_THAT(view->covariance(2, 2), test::to_rounding(1.7e-7, 16));
  CHECK_THAT(view->covariance(3, 3), test::to_rounding(1.08e-6, 16));
  CHECK_THAT(view->covariance(2, 3), test::to_rounding(8e-8, 16));
}

TEST_CASE("typed angles, steadied clips and unexplained motion tell no view", "[series]") {
  const test::TempFolder folder;
  const std::string clip = filmed(folder);
  SwingRecord typed = placed_record();
  typed.typed_track = true;
  CHECK_FALSE(view_of_swing(typed, clip));
  SwingRecord steadied = placed_record();
  steadied.arm.remarks.push_back({"camera-steadied", Severity::Note, "It shook."});
  CHECK_FALSE(view_of_swing(steadied, clip));
  SwingRecord unclear = placed_record();
  unclear.measurement.doubt_scores.clear();
  CHECK_FALSE(view_of_swing(unclear, clip));
}
