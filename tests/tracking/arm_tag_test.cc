// SPDX-License-Identifier: Apache-2.0
#include "tracking/arm_tag.h"

#include "support/test.h"

#include <cmath>
#include <vector>

#include <opencv2/aruco.hpp>
#include <opencv2/imgproc.hpp>

using namespace swingloss;

namespace {

constexpr double kSide_px = 40.0, kAxleX_px = 160.4, kAxleY_px = 130.7, kArm_px = 95.0;
const cv::Point kOffset(30, 12);

/// Corner of the tag on the arm in the picture.
Eigen::Vector2d corner_px(int corner, double theta_rad) {
  const double bx = (corner == 1 || corner == 2 ? 0.5 : -0.5) * kSide_px;
  const double by = kArm_px + (corner >= 2 ? 0.5 : -0.5) * kSide_px;
  const double c = std::cos(theta_rad), s = std::sin(theta_rad);
  return {kAxleX_px + bx * c + by * s, kAxleY_px + by * c - bx * s};
}

/// Prints a tag with its white border into the picture so that its corners lie where given.
void print_tag(int id, const std::vector<Eigen::Vector2d>& corners, cv::Mat& picture) {
  constexpr int kCells = 8, kCell_px = 20;  // six of the tag, one of border on either side
  cv::Mat tag(kCells * kCell_px, kCells * kCell_px, CV_8UC1, cv::Scalar(230));
  cv::Mat inner;
  cv::aruco::drawMarker(cv::aruco::getPredefinedDictionary(cv::aruco::DICT_4X4_50),
                        id,
                        (kCells - 2) * kCell_px,
                        inner);
  inner.copyTo(tag(cv::Rect(kCell_px, kCell_px, inner.cols, inner.rows)));
  const float low = kCell_px - 0.5F, high = low + float(inner.cols);
  const std::vector<cv::Point2f> from = {{low, low}, {high, low}, {high, high}, {low, high}};
  std::vector<cv::Point2f> to;
  for (const Eigen::Vector2d& p : corners) to.emplace_back(float(p.x()), float(p.y()));
  const cv::Mat map = cv::getPerspectiveTransform(from, to);
  cv::Mat soft;
  cv::GaussianBlur(tag, soft, {}, 1.5);  // the print is shrunk about four times
  cv::warpPerspective(
      soft, picture, map, picture.size(), cv::INTER_LINEAR, cv::BORDER_TRANSPARENT);
}

std::vector<ArmCrop> turning_tag() {
  std::vector<ArmCrop> crops;
  for (int k = 0; k < 12; ++k) {
    const double theta = -1.0 + 0.15 * k;
    cv::Mat picture(330, 330, CV_8UC1, cv::Scalar(150));
    print_tag(9, {{20, 20}, {52, 20}, {52, 52}, {20, 52}}, picture);  // on the wall
    std::vector<Eigen::Vector2d> corners;
    for (int j = 0; j < 4; ++j) corners.push_back(corner_px(j, theta));
    print_tag(5, corners, picture);
    ArmCrop crop;
    crop.frame = k;
    crop.theta_rad = theta;
    crop.offset_px = kOffset;
    crop.luma = picture;
    crops.push_back(crop);
  }
  return crops;
}

}  // namespace

TEST_CASE("find_arm_tag reads the corners of the tag that turns, not of one on the wall",
          "[tracking][tag]") {
  const std::vector<ArmCrop> crops = turning_tag();
  const std::optional<ArmTag> tag = find_arm_tag(crops);
  REQUIRE(tag);
  CHECK(tag->id == 5);
  CHECK(tag->frames >= 10);
  for (const TagCorner& c : tag->corners) {
    const Eigen::Vector2d expected =
        corner_px(c.corner, crops[std::size_t(c.frame)].theta_rad) +
        Eigen::Vector2d(kOffset.x, kOffset.y);
    // Corner refinement on a print of seven pixels a cell stays within a third of a pixel.
    CHECK_THAT((c.pixel - expected).norm(), test::to_truncation(0.0, 0.33));
  }
}

TEST_CASE("add_tag gives four points on the arm that the directions explain",
          "[tracking][tag]") {
  const std::vector<ArmCrop> crops = turning_tag();
  const std::optional<ArmTag> tag = find_arm_tag(crops);
  REQUIRE(tag);
  SingleAxisProblem problem;
  problem.view.axle_px = {kAxleX_px + kOffset.x, kAxleY_px + kOffset.y};
  problem.view.focal_px = 300.0;
  for (const ArmCrop& crop : crops) problem.theta_rad.push_back(crop.theta_rad);
  add_tag(*tag, 0.15, problem);
  REQUIRE(problem.body_px.size() == 4);
  CHECK(problem.sightings.size() == tag->corners.size());
  // As above, and the mean of ten frames.
  CHECK_THAT(problem.body_px[0].x(), test::to_truncation(-0.5 * kSide_px, 0.2));
  // Likewise.
  CHECK_THAT(problem.body_px[0].y(), test::to_truncation(kArm_px - 0.5 * kSide_px, 0.2));
}

TEST_CASE("a clip without tags has none", "[tracking][tag]") {
  std::vector<ArmCrop> crops = turning_tag();
  for (ArmCrop& crop : crops) crop.luma = cv::Mat(330, 330, CV_8UC1, cv::Scalar(150));
  CHECK_FALSE(find_arm_tag(crops));
}
