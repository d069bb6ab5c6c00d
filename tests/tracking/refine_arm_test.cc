// SPDX-License-Identifier: Apache-2.0
#include "tracking/refine_arm.h"

#include "support/test.h"
#include "tracking/drawn_crops.h"
#include "tracking/lead_frames.h"
#include "tracking/learn_template.h"

#include <cmath>
#include <set>

using namespace swingloss;

TEST_CASE("an axle that starts eight pixels off is pulled in", "[tracking][synthetic]") {
  const std::vector<ArmCrop> crops = test::drawn_crops();
  SwingView start;
  start.axle_px = {test::bar_axle_px().x + 5.0, test::bar_axle_px().y + 6.0};
  start.principal_px = {199.5, 149.5};
  start.focal_px = 400.0;
  const Result<RefinedArm> arm =
      refine_arm(crops, test::bar_wall(), start, {131.0, 26.0, 26.0});
  REQUIRE(arm.ok());
  // A quarter of a pixel is a tenth of a degree at the bar's end.
  CHECK_THAT(arm.value().fit.view.axle_px.x(),
             test::to_uncertainty(test::bar_axle_px().x, 0.25, 1.0));
  // Likewise.
  CHECK_THAT(arm.value().fit.view.axle_px.y(),
             test::to_uncertainty(test::bar_axle_px().y, 0.25, 1.0));
}

TEST_CASE("the background is as sharp after all stages as before", "[tracking][property]") {
  const cv::Mat wall = test::bar_wall(), before = wall.clone();
  REQUIRE(refine_arm(test::drawn_crops(), wall, test::drawn_view(), {131.0, 26.0, 26.0}).ok());
  CHECK(cv::norm(wall, before, cv::NORM_INF) == 0.0);
}

TEST_CASE("what is learnt into a template does not show in its copies",
          "[tracking][property]") {
  const std::vector<ArmCrop> crops = test::drawn_crops();
  const BodyTemplate before = empty_template({131.0, 26.0, 26.0}, {});
  std::vector<double> theta_rad;
  for (const ArmCrop& crop : crops) theta_rad.push_back(crop.theta_rad);
  const cv::Mat behind = before.curve.light_of(test::bar_wall());
  const LearningScene scene{crops, theta_rad, test::drawn_view(), behind, 0.0};
  const BodyTemplate once = learn_template(before, scene);
  CHECK(cv::norm(before.cover, cv::NORM_INF) == 0.0);
  CHECK(cv::norm(before.outward_x, cv::NORM_INF) == 0.0);
  CHECK(cv::norm(once.cover, cv::NORM_INF) > 0.0);
  const cv::Mat cover = once.cover.clone(), layers = once.layers.clone();
  (void)learn_template(once, scene);
  CHECK(cv::norm(once.cover, cover, cv::NORM_INF) == 0.0);
  CHECK(cv::norm(once.layers, layers, cv::NORM_INF) == 0.0);
}

TEST_CASE("leading frames cover every direction and do not grow with the clip",
          "[tracking][property]") {
  std::vector<ArmCrop> crops = test::drawn_crops();
  const std::vector<std::size_t> lead = lead_frames(crops);
  std::set<int> all, led;
  for (const ArmCrop& crop : crops) all.insert(int(std::floor(crop.theta_rad / 0.2)));
  for (std::size_t k : lead) led.insert(int(std::floor(crops[k].theta_rad / 0.2)));
  CHECK(all == led);
  CHECK(std::is_sorted(lead.begin(), lead.end()));

  std::vector<ArmCrop> long_clip;
  for (int turn = 0; turn < 16; ++turn)
    long_clip.insert(long_clip.end(), crops.begin(), crops.end());
  CHECK(lead_frames(long_clip).size() < long_clip.size() / 4);
}
