// SPDX-License-Identifier: Apache-2.0
#include "tracking/coarse_follow.h"

#include "core/angle.h"
#include "support/test.h"
#include "tracking/drawn_bar.h"

#include <algorithm>
#include <cmath>
#include <memory>
#include <vector>

#include <opencv2/imgproc.hpp>

using namespace swingloss;

namespace {

constexpr int kFrames = 3150;  // the pieces end on different sides: a turn between their bins
const cv::Point2d kAxle(120.0, 110.0);

/// Almost upright on either side at first, losing little.
double swing_rad(int frame) {
  return Angle::from_deg(172.0 * std::exp(-frame / 6000.0) * std::cos(0.08 * frame)).rad();
}

/// A thin arm that swings for the better part of a minute.
class LongClip : public FrameSource {
 public:
  LongClip() { info_.width_px = info_.height_px = 240; }
  std::optional<Frame> next() override {
    if (at_ == kFrames) return std::nullopt;
    Frame frame;
    frame.index = at_;
    frame.t_s = at_ / 60.0;
    frame.luma = wall_.clone();
    const double theta_rad = swing_rad(at_++);
    const cv::Point2d along(std::sin(theta_rad), std::cos(theta_rad));
    cv::line(frame.luma, kAxle, kAxle + 95.0 * along, cv::Scalar(60), 7, cv::LINE_AA);
    return frame;
  }
  [[nodiscard]] const ClipInfo& info() const override { return info_; }
  [[nodiscard]] Remarks remarks() const override { return {}; }

 private:
  cv::Mat wall_ = test::wall(240, 240);
  int at_ = 0;
  ClipInfo info_;
};

}  // namespace

TEST_CASE("of a long clip few pictures are kept, and the arm is found in every frame",
          "[tracking]") {
  const ClipOpener open = [] { return std::make_unique<LongClip>(); };
  SurveyOptions options;
  options.most_bytes = 12U << 20U;  // of 181 MB
  const ClipSurvey survey = survey_clip(open, options);
  REQUIRE(survey.t_s.size() == kFrames);
  CHECK(survey.small.size() <= (12U << 20U) / (240U * 240U));
  CHECK(survey.small.size() >= 64);
  const CoarseAngles of_kept = find_coarse_angles(survey, kAxle);
  CHECK(of_kept.theta_rad.size() == survey.small.size());
  const CoarseAngles found = in_every_frame(open, survey, kAxle, of_kept);
  REQUIRE(found.theta_rad.size() == kFrames);
  double farthest_deg = 0.0;
  for (int k = 0; k < kFrames; ++k) {
    const double off_rad = found.theta_rad[std::size_t(k)] - swing_rad(k);
    farthest_deg = std::max(farthest_deg, std::abs(Angle::from_rad(off_rad).deg()));
  }
  // Whole turns are right, and directions within two of their bins of one degree.
  CHECK_THAT(farthest_deg, test::to_truncation(0.0, 2.0));
  // Likewise, at either end.
  CHECK_THAT(Angle::from_rad(found.swept_rad).deg(), test::to_truncation(343.0, 4.0));
}

TEST_CASE("where every picture was kept, nothing is looked for again", "[tracking]") {
  ClipSurvey survey;
  survey.t_s = {0.0, 0.1};
  survey.frames = {0, 1};
  CoarseAngles found;
  found.theta_rad = {0.5, 0.6};
  const ClipOpener never = []() -> std::unique_ptr<FrameSource> {
    FAIL("opened");
    return nullptr;
  };
  CHECK(in_every_frame(never, survey, {}, found).theta_rad == found.theta_rad);
}
