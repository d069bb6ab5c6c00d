// SPDX-License-Identifier: Apache-2.0
#include "tracking/squared_clip.h"

#include "core/angle.h"
#include "support/test.h"
#include "tracking/oblique_plane.h"

#include <memory>
#include <vector>

#include <opencv2/imgproc.hpp>

using namespace swingloss;

namespace {

const cv::Size kSize(960, 540);
const Eigen::Vector2d kAxle_px(470.0, 270.0);

/// A camera 35 degrees to the side and 8 above.
SwingView oblique_view() {
  return central_view(kSize, {Angle::from_deg(-35.0).rad(), Angle::from_deg(8.0).rad()});
}

/// Where an arm's end comes along, as that camera sees it.
std::vector<cv::Point2d> circle_px(double radius_px) {
  SwingView view = oblique_view();
  view.axle_px = kAxle_px;
  std::vector<cv::Point2d> out;
  for (int deg = 0; deg < 360; ++deg) {
    const Eigen::Vector2d at =
        view.project(swing_from_body({0.0, radius_px, 0.0}, Angle::from_deg(deg).rad()));
    out.emplace_back(at.x(), at.y());
  }
  return out;
}

Eigen::Vector2d through(const cv::Matx33d& homography, const Eigen::Vector2d& px) {
  const cv::Vec3d at = homography * cv::Vec3d(px.x(), px.y(), 1.0);
  return {at[0] / at[2], at[1] / at[2]};
}

/// One picture: the circle, filled.
class OneDisc : public FrameSource {
 public:
  std::optional<Frame> next() override {
    if (done_) return std::nullopt;
    done_ = true;
    Frame frame;
    frame.luma = cv::Mat(kSize, CV_8UC1, cv::Scalar(20));
    frame.bgr = cv::Mat(kSize, CV_8UC3);
    std::vector<cv::Point> outline;
    for (const cv::Point2d& at : circle_px(240.0))
      outline.emplace_back(cvRound(at.x * 16.0), cvRound(at.y * 16.0));
    cv::fillPoly(frame.luma,
                 std::vector<std::vector<cv::Point>>{outline},
                 cv::Scalar(220),
                 cv::LINE_AA,
                 4);
    return frame;
  }
  [[nodiscard]] const ClipInfo& info() const override { return info_; }
  [[nodiscard]] Remarks remarks() const override { return {}; }

 private:
  ClipInfo info_;
  bool done_ = false;
};

}  // namespace

TEST_CASE("what is found in squared pictures is carried over to the filmed ones",
          "[tracking]") {
  const Squaring squaring(oblique_view(), circle_px(240.0), kSize);
  const Eigen::Vector2d squared_axle_px(430.0, 300.0);
  const SwingView view = squaring.view_about(squared_axle_px);
  for (const double theta_deg : {0.0, 77.0, -130.0}) {
    const double theta_rad = Angle::from_deg(theta_deg).rad();
    const Eigen::Vector3d end = swing_from_body({0.0, 100.0, 0.0}, theta_rad);
    const Eigen::Vector2d filmed =
        through(squaring.filmed_from_squared(), squared_axle_px + end.head<2>());
    const Eigen::Vector2d drawn = view.project(squaring.length_scale(squared_axle_px) * end);
    CAPTURE(theta_deg);
    // Two ways through the same perspective, some fifty operations each.
    CHECK_THAT(filmed.x(), test::to_rounding(drawn.x(), 50));
    // Likewise.
    CHECK_THAT(filmed.y(), test::to_rounding(drawn.y(), 50));
  }
}

TEST_CASE("a circle about the axle, an oval on film, is a circle in squared pictures",
          "[tracking]") {
  const Squaring squaring(oblique_view(), circle_px(240.0), kSize);
  const std::unique_ptr<FrameSource> source =
      squared([] { return std::make_unique<OneDisc>(); }, squaring)();
  const std::optional<Frame> frame = source->next();
  REQUIRE(frame);
  CHECK(frame->bgr.empty());
  const cv::Moments m = cv::moments(frame->luma > 120, true);
  // All of it lies within the picture, a tenth free on either side.
  const cv::Rect box = cv::boundingRect(frame->luma > 120);
  CHECK(box.y >= kSize.height / 10 - 1);
  CHECK(box.br().y <= kSize.height - kSize.height / 10 + 1);
  // Of a disc, the second moments along and across are alike and the mixed one is nothing;
  // pixels of its border, 2 pi R of pi R^2, may each go either way.
  const double radius_px = 0.5 * box.height;
  CHECK_THAT(m.mu20 / m.mu02, test::to_truncation(1.0, 2.0 / radius_px));
  CHECK_THAT(m.mu11 / m.mu02, test::to_truncation(0.0, 2.0 / radius_px));
  CHECK_FALSE(source->next());
}
