// SPDX-License-Identifier: Apache-2.0
#include "tracking/working_start.h"

#include "support/test.h"
#include "tracking/arm_crops.h"
#include "tracking/shrunk_picture.h"

#include <memory>
#include <utility>
#include <vector>

using namespace swingloss;

namespace {

constexpr int kWidth_px = 1279, kHeight_px = 721;

/// One picture whose brightness is its column, then the end.
class OnePicture : public FrameSource {
 public:
  std::optional<Frame> next() override {
    if (std::exchange(given_, true)) return std::nullopt;
    Frame frame;
    frame.luma = cv::Mat(kHeight_px, kWidth_px, CV_8UC1);
    for (int column = 0; column < kWidth_px; ++column)
      frame.luma.col(column) = cv::Scalar(column % 256);
    return frame;
  }
  [[nodiscard]] const ClipInfo& info() const override { return info_; }
  [[nodiscard]] Remarks remarks() const override { return {}; }

 private:
  ClipInfo info_;
  bool given_ = false;
};

/// \param side_px  of the picture, the longer one
SwingView view_of(int side_px) {
  SwingView view;
  view.axle_px = {640.5, 200.0};
  view.principal_px = {0.5 * (side_px - 1.0), 360.0};
  view.focal_px = 1300.0;
  view.tilt_x_rad = 0.05;
  view.tilt_y_rad = -0.03;
  return view;
}

WorkingStart start_with_arm(double length_px, int side_px) {
  CoarseAngles angles;
  angles.arm_length_px = length_px;
  angles.arm_half_width_px = 0.2 * length_px;
  angles.arm_behind_px = 0.1 * length_px;
  ClipInfo info;
  info.width_px = side_px;
  info.height_px = side_px / 2;
  return working_start(info, angles, view_of(side_px));
}

}  // namespace

TEST_CASE("an arm of many pixels in a picture of many is followed in fewer", "[tracking]") {
  CHECK(start_with_arm(90.0, 3840).shrink == 1);
  CHECK(start_with_arm(399.0, 3840).shrink == 1);
  CHECK(start_with_arm(401.0, 3840).shrink == 2);
  CHECK(start_with_arm(1300.0, 3840).shrink == 4);
  CHECK(start_with_arm(1300.0, 1799).shrink == 1);
  CHECK(start_with_arm(1300.0, 1801).shrink == 2);
  const CoarseAngles angles = start_with_arm(601.5, 2701).angles;
  // 601.5 / 3 and its parts: a division and a multiplication each.
  CHECK_THAT(angles.arm_length_px, test::to_rounding(200.5, 4));
  // Likewise.
  CHECK_THAT(angles.arm_half_width_px, test::to_rounding(40.1, 4));
  // Likewise.
  CHECK_THAT(angles.arm_behind_px, test::to_rounding(20.05, 4));
}

TEST_CASE("a small picture's pixels are means of squares, what is left over is cut off",
          "[tracking]") {
  const ClipOpener open = [] { return std::make_unique<OnePicture>(); };
  ClipSurvey survey;
  survey.frames = survey.spread = {0};
  survey.t_s = {0.0};
  const cv::Mat background = full_background(open, survey, 3);
  CHECK(background.size() == cv::Size(426, 240));
  // Columns 0, 1, 2 and 150, 151, 152.
  CHECK(background.at<float>(0, 0) == 1.0F);
  CHECK(background.at<float>(239, 50) == 151.0F);
  // An arm of 120 small pixels that hangs down from place (50, 20) among them.
  SwingView view;
  view.axle_px = {50.0, 20.0};
  view.focal_px = 400.0;
  const std::vector<ArmCrop> crops =
      cut_arm_crops(open, survey, {0}, {{0.0}, 3, view, {120.0, 10.0, 10.0}});
  REQUIRE(crops.size() == 1);
  const cv::Point middle = cv::Point(50, 20) - crops[0].offset_px;
  CHECK(crops[0].luma.at<uchar>(middle) == 151);
  CHECK(crops[0].luma.rows > 120);
  CHECK(crops[0].luma.rows < 240);
}

TEST_CASE("a picture of fewer rows than a square has shrinks to one row", "[tracking]") {
  const cv::Mat small = shrunk_picture(cv::Mat(5, 40, CV_8UC1, cv::Scalar(7)), 10);
  CHECK(small.size() == cv::Size(4, 1));
  CHECK(small.at<uchar>(0, 3) == 7);
}

TEST_CASE("the view in small pixels shows the same, and is enlarged again", "[tracking]") {
  const WorkingStart start = start_with_arm(601.5, 2701);
  const Eigen::Vector3d place(150.0, 420.0, -20.0);
  const SwingView filmed = view_of(2701);
  const Eigen::Vector2d full = filmed.project(place);
  const Eigen::Vector2d small = start.view.project(place / 3.0);
  // The corner of pixel (0, 0) is at -0.5 in both. Some ten operations on numbers of hundreds.
  CHECK_THAT(small.x(), test::to_rounding((full.x() + 0.5) / 3.0 - 0.5, 16));
  // Likewise.
  CHECK_THAT(small.y(), test::to_rounding((full.y() + 0.5) / 3.0 - 0.5, 16));

  ArmTrack arm;
  arm.view = start.view;
  arm.arm_length_px = start.angles.arm_length_px;
  arm.view_rest = ViewVector(1.0, 2.0, 3.0, 4.0, 5.0).asDiagonal();
  arm.angles.doubts.push_back({"view.geometry-1", {}, {}, ViewVector(1.0, 2.0, 3.0, 4.0, 5.0)});
  enlarge(start.shrink, arm);
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
