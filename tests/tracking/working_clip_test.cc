// SPDX-License-Identifier: Apache-2.0
#include "tracking/working_clip.h"

#include "support/test.h"

#include <memory>
#include <utility>

using namespace swingloss;

namespace {

constexpr int kWidth_px = 1279, kHeight_px = 721;

/// One picture whose brightness is its column, then the end.
class OnePicture : public FrameSource {
 public:
  OnePicture() { info_.width_px = kWidth_px, info_.height_px = kHeight_px; }
  std::optional<Frame> next() override {
    if (std::exchange(given_, true)) return std::nullopt;
    Frame frame;
    frame.luma = cv::Mat(kHeight_px, kWidth_px, CV_8UC1);
    for (int column = 0; column < kWidth_px; ++column)
      frame.luma.col(column) = cv::Scalar(column % 256);
    frame.bgr = cv::Mat(kHeight_px, kWidth_px, CV_8UC3);
    return frame;
  }
  [[nodiscard]] const ClipInfo& info() const override { return info_; }
  [[nodiscard]] Remarks remarks() const override { return {{"odd", Severity::Note, "Odd."}}; }

 private:
  ClipInfo info_;
  bool given_ = false;
};

/// \param side_px  of the picture, the longer one
SwingView view_of(double side_px) {
  SwingView view;
  view.axle_px = {640.5, 200.0};
  view.principal_px = {0.5 * (side_px - 1.0), 360.0};
  view.focal_px = 1300.0;
  view.tilt_x_rad = 0.05;
  view.tilt_y_rad = -0.03;
  return view;
}

WorkingClip clip_with_arm(double length_px, double side_px) {
  CoarseAngles angles;
  angles.arm_length_px = length_px;
  angles.arm_half_width_px = 0.2 * length_px;
  angles.arm_behind_px = 0.1 * length_px;
  return working_clip([] { return std::make_unique<OnePicture>(); }, angles, view_of(side_px));
}

}  // namespace

TEST_CASE("an arm of many pixels in a picture of many is followed in fewer", "[tracking]") {
  CHECK(clip_with_arm(90.0, 3840.0).shrink == 1);
  CHECK(clip_with_arm(399.0, 3840.0).shrink == 1);
  CHECK(clip_with_arm(401.0, 3840.0).shrink == 2);
  CHECK(clip_with_arm(1300.0, 3840.0).shrink == 4);
  CHECK(clip_with_arm(1300.0, 1799.0).shrink == 1);
  CHECK(clip_with_arm(1300.0, 1801.0).shrink == 2);
  const CoarseAngles angles = clip_with_arm(601.5, 2701.0).angles;
  // 601.5 / 3 and its parts: a division and a multiplication each.
  CHECK_THAT(angles.arm_length_px, test::to_rounding(200.5, 4));
  // Likewise.
  CHECK_THAT(angles.arm_half_width_px, test::to_rounding(40.1, 4));
  // Likewise.
  CHECK_THAT(angles.arm_behind_px, test::to_rounding(20.05, 4));
}

TEST_CASE("a small picture's pixels are means of squares, what is left over is cut off",
          "[tracking]") {
  const std::unique_ptr<FrameSource> source = clip_with_arm(601.5, 2701.0).open();
  CHECK(source->info().width_px == 426);
  CHECK(source->info().height_px == 240);
  CHECK(source->remarks().size() == 1);
  const std::optional<Frame> frame = source->next();
  REQUIRE(frame);
  CHECK(frame->luma.size() == cv::Size(426, 240));
  // Columns 0, 1, 2 and 150, 151, 152.
  CHECK(frame->luma.at<uchar>(0, 0) == 1);
  CHECK(frame->luma.at<uchar>(239, 50) == 151);
  CHECK(frame->bgr.empty());
  CHECK_FALSE(source->next());
}

TEST_CASE("the view in small pixels shows the same, and is enlarged again", "[tracking]") {
  const WorkingClip clip = clip_with_arm(601.5, 2701.0);
  const Eigen::Vector3d place(150.0, 420.0, -20.0);
  const SwingView filmed = view_of(2701.0);
  const Eigen::Vector2d full = filmed.project(place);
  const Eigen::Vector2d small = clip.start.project(place / 3.0);
  // The corner of pixel (0, 0) is at -0.5 in both. Some ten operations on numbers of hundreds.
  CHECK_THAT(small.x(), test::to_rounding((full.x() + 0.5) / 3.0 - 0.5, 16));
  // Likewise.
  CHECK_THAT(small.y(), test::to_rounding((full.y() + 0.5) / 3.0 - 0.5, 16));

  ArmTrack arm;
  arm.view = clip.start;
  arm.arm_length_px = clip.angles.arm_length_px;
  arm.view_rest = ViewVector(1.0, 2.0, 3.0, 4.0, 5.0).asDiagonal();
  arm.angles.doubts.push_back({"view.geometry-1", {}, {}, ViewVector(1.0, 2.0, 3.0, 4.0, 5.0)});
  enlarge(clip.shrink, arm);
  // A division and a multiplication, and the half pixel.
  CHECK_THAT(arm.view.axle_px.x(), test::to_rounding(filmed.axle_px.x(), 4));
  // Likewise.
  CHECK_THAT(arm.view.principal_px.y(), test::to_rounding(filmed.principal_px.y(), 4));
  // Likewise.
  CHECK_THAT(arm.view.focal_px, test::to_rounding(filmed.focal_px, 4));
  // Likewise.
  CHECK_THAT(arm.arm_length_px, test::to_rounding(601.5, 4));
  CHECK(arm.angles.doubts[0].view == ViewVector(3.0, 6.0, 3.0, 4.0, 5.0));
  CHECK(arm.view_rest.diagonal() == ViewVector(9.0, 18.0, 3.0, 4.0, 5.0));
}
