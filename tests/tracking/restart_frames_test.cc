// SPDX-License-Identifier: Apache-2.0
#include "tracking/restart_frames.h"

#include "support/test.h"
#include "tracking/drawn_crops.h"
#include "tracking/learn_template.h"

using namespace swingloss;

namespace {

constexpr std::size_t kDoubtful = 60;

/// The drawn clip, all known, with one frame that agrees less than the rest.
struct Known {
  std::vector<ArmCrop> crops = test::drawn_crops();
  SwingView view = test::drawn_view();
  std::vector<double> true_rad, score;
  cv::Mat behind;
  BodyTemplate body;

  Known() {
    for (const ArmCrop& crop : crops) true_rad.push_back(crop.theta_rad);
    score.assign(crops.size(), 0.8);
    score[kDoubtful] = 0.4;
    const CameraCurve curve;
    behind = curve.light_of(test::bar_wall());
    body = learn_template(empty_template({131.0, 26.0, 26.0}, curve),
                          {crops, true_rad, view, behind, 0.0});
  }
  [[nodiscard]] std::vector<double> restarted(const std::vector<double>& theta_rad) const {
    return restart_frames({crops, behind, body, view, theta_rad, {}}, score);
  }
};

}  // namespace

TEST_CASE("a frame on its neighbours' course stays, however little it agrees",
          "[tracking][synthetic]") {
  const Known clip;
  CHECK(clip.restarted(clip.true_rad) == clip.true_rad);
}

TEST_CASE("a frame that was drawn off its course is brought home", "[tracking][synthetic]") {
  const Known clip;
  std::vector<double> drawn_off = clip.true_rad;
  drawn_off[kDoubtful] += Angle::from_deg(2.0).rad();
  const std::vector<double> restarted = clip.restarted(drawn_off);
  // Searched in steps of 0.15 degrees.
  CHECK_THAT(restarted[kDoubtful],
             test::to_truncation(clip.true_rad[kDoubtful], Angle::from_deg(0.15).rad()));
  CHECK(std::equal(restarted.begin(), restarted.begin() + kDoubtful, clip.true_rad.begin()));
}
