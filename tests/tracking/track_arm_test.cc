// SPDX-License-Identifier: Apache-2.0
#include "tracking/track_arm.h"

#include "core/angle.h"
#include "support/has_remark.h"
#include "support/test.h"
#include "tracking/drawn_bar.h"
#include "tracking/track_errors.h"

#include <algorithm>
#include <cmath>
#include <string>
#include <tuple>
#include <vector>

#include <opencv2/imgproc.hpp>

using namespace swingloss;
using namespace swingloss::test;

namespace {

/// Pictures held in memory.
class MadeSource : public FrameSource {
 public:
  explicit MadeSource(const std::vector<cv::Mat>& pictures) : pictures_(pictures) {
    info_.width_px = pictures.front().cols;
    info_.height_px = pictures.front().rows;
  }
  std::optional<Frame> next() override {
    if (at_ == pictures_.size()) return std::nullopt;
    Frame frame;
    frame.index = int(at_);
    frame.t_s = double(at_) / 60.0;
    frame.luma = pictures_[at_++];
    return frame;
  }
  [[nodiscard]] const ClipInfo& info() const override { return info_; }
  [[nodiscard]] Remarks remarks() const override { return {}; }

 private:
  const std::vector<cv::Mat>& pictures_;
  std::size_t at_ = 0;
  ClipInfo info_;
};

Result<ArmTrack> track(const std::vector<cv::Mat>& pictures, const TrackOptions& options = {}) {
  return track_arm([&] { return std::make_unique<MadeSource>(pictures); }, options);
}

/// A drawn bar has no depth, no shadow and no perspective, so most of what the doubts are for
/// is not there and they may be as large as they like: the errors themselves must be small.
void check_drawn(const AngleTrack& found, double sign) {
  const double error_rad = two_thirds(errors_of(found, test::swing_deg(), sign));
  // A quarter of a pixel at the bar's end, 125 px out: the wall's cards pass behind its edges.
  CHECK_THAT(Angle::from_rad(error_rad).deg(), test::to_truncation(0.0, 0.115));
  // One draw again, and not above one and a half.
  CHECK_THAT(two_thirds_in_u(found, test::swing_deg(), sign), test::to_truncation(0.75, 0.75));
}

/// Each picture shifted: by up to 9 px one way and 7 the other, times `size`.
std::vector<cv::Mat> shaken_clip(double size) {
  std::vector<cv::Mat> shaken = test::bar_clip();
  for (std::size_t k = 0; k < shaken.size(); ++k) {
    const cv::Mat shift = (cv::Mat_<double>(2, 3) << 1,
                           0,
                           9.0 * size * std::sin(0.9 * double(k)),
                           0,
                           1,
                           7.0 * size * std::cos(0.7 * double(k)));
    cv::Mat moved;
    cv::warpAffine(
        shaken[k], moved, shift, shaken[k].size(), cv::INTER_LINEAR, cv::BORDER_REFLECT);
    shaken[k] = moved;
  }
  return shaken;
}

/// Each picture turned about its middle and stretched: by up to so much, not the first one.
std::vector<cv::Mat> turned_clip(double turn_deg, double stretch) {
  std::vector<cv::Mat> pictures = test::bar_clip();
  for (std::size_t k = 0; k < pictures.size(); ++k) {
    const double part = std::sin(0.31 * double(k));
    const cv::Point2f middle(0.5F * float(pictures[k].cols - 1),
                             0.5F * float(pictures[k].rows - 1));
    const cv::Mat move = cv::getRotationMatrix2D(middle, turn_deg * part, 1.0 + stretch * part);
    cv::Mat moved;
    cv::warpAffine(
        pictures[k], moved, move, pictures[k].size(), cv::INTER_CUBIC, cv::BORDER_REFLECT);
    pictures[k] = moved;
  }
  return pictures;
}

/// Somebody in a coat with buttons walks by beside the swing.
std::vector<cv::Mat> walker_clip() {
  cv::Mat coat(260, 45, CV_8UC1, cv::Scalar(60));
  for (int y = 20; y < coat.rows; y += 40) {
    for (const int x : {10, 40})
      cv::rectangle(coat, {x, y, 10, 10}, cv::Scalar(75), cv::FILLED);
  }
  std::vector<cv::Mat> pictures = test::bar_clip();
  for (std::size_t k = 0; k < pictures.size(); ++k) {
    cv::Mat wide;
    cv::copyMakeBorder(pictures[k], wide, 0, 0, 0, 300, cv::BORDER_REFLECT);
    coat.copyTo(wide(cv::Rect({505 - 3 * int(k) / 2, 20}, coat.size())));
    pictures[k] = wide;
  }
  return pictures;
}

/// The camera sets its exposure anew, twice.
std::vector<cv::Mat> exposed_anew_clip() {
  std::vector<cv::Mat> pictures = test::bar_clip();
  for (std::size_t k = 40; k < pictures.size(); ++k) {
    const double light = k < 65 ? 0.8 : 0.7;
    pictures[k].convertTo(pictures[k], CV_8U, std::pow(light, 1.0 / 2.2));
  }
  return pictures;
}

/// The light by up to a quarter more and less, as lamps on 50 Hz make it at 240 pictures a
/// second, read line by line in 4 ms; levels are the light to the power 1 / 2.2.
std::vector<cv::Mat> flickering_clip() {
  std::vector<cv::Mat> pictures = test::bar_clip();
  for (std::size_t k = 0; k < pictures.size(); ++k) {
    cv::Mat lit(pictures[k].size(), CV_8UC1);
    for (int row = 0; row < lit.rows; ++row) {
      const double t_s = double(k) / 240.0 + 0.004 * row / lit.rows;
      const double light = 1.0 + 0.25 * std::sin(2.0 * kPi * 100.0 * t_s);
      cv::Mat line = lit.row(row);
      pictures[k].row(row).convertTo(line, CV_8U, std::pow(light, 1.0 / 2.2));
    }
    pictures[k] = lit;
  }
  return pictures;
}

/// The drawn pictures on a wall that the camera sees from 30 degrees to the side and 8 below.
std::vector<cv::Mat> oblique_clip() {
  std::vector<cv::Mat> pictures = test::bar_clip();
  const cv::Size size = pictures.front().size();
  SwingView view;
  view.principal_px = {0.5 * (size.width - 1), 0.5 * (size.height - 1)};
  view.axle_px = {195.0, 140.0};
  view.focal_px = 0.95 * size.width;
  view.tilt_x_rad = Angle::from_deg(30.0).rad();
  view.tilt_y_rad = Angle::from_deg(-8.0).rad();
  std::vector<cv::Point2f> drawn, seen;
  for (const cv::Point2d corner : {cv::Point2d(-90, -90),
                                   cv::Point2d(90, -90),
                                   cv::Point2d(90, 90),
                                   cv::Point2d(-90, 90)}) {
    drawn.emplace_back(test::bar_axle_px() + corner);
    const Eigen::Vector2d at = view.project({corner.x, corner.y, 0.0});
    seen.emplace_back(float(at.x()), float(at.y()));
  }
  const cv::Mat seen_from_drawn = cv::getPerspectiveTransform(drawn, seen);
  for (cv::Mat& picture : pictures) {
    cv::Mat oblique;
    cv::warpPerspective(
        picture, oblique, seen_from_drawn, size, cv::INTER_LINEAR, cv::BORDER_REPLICATE);
    picture = oblique;
  }
  return pictures;
}

}  // namespace

TEST_CASE("track_arm follows a plain bar before a cluttered wall", "[tracking][synthetic]") {
  const std::vector<cv::Mat> pictures = test::bar_clip();
  const Result<ArmTrack> found = track(pictures);
  REQUIRE(found.ok());
  CHECK(found.value().angles.samples.size() > pictures.size() * 9 / 10);
  check_drawn(found.value().angles, 1.0);
  // Half a pixel at the axle is half a pixel at the arm's end.
  CHECK_THAT(found.value().view.axle_px.x(), test::to_truncation(205.3, 0.5));
  // Likewise.
  CHECK_THAT(found.value().view.axle_px.y(), test::to_truncation(131.7, 0.5));
}

TEST_CASE("a clip of five times as many pixels a side gives the same angles",
          "[tracking][property]") {
  std::vector<cv::Mat> large = test::bar_clip();
  for (cv::Mat& picture : large) {
    cv::Mat other;
    cv::resize(picture, other, {}, 5.0, 5.0, cv::INTER_LINEAR);
    picture = other;
  }
  const Result<ArmTrack> found = track(large);
  REQUIRE(found.ok());
  check_drawn(found.value().angles, 1.0);
  CHECK(found.value().clip.width_px == large.front().cols);
  // Half a pixel of the small pictures, in the large ones.
  CHECK_THAT(found.value().view.axle_px.x(), test::to_truncation(5.0 * 205.8 - 0.5, 2.5));
  // Likewise.
  CHECK_THAT(found.value().view.axle_px.y(), test::to_truncation(5.0 * 132.2 - 0.5, 2.5));
}

TEST_CASE("a mirrored clip gives the mirrored angles", "[tracking][property]") {
  std::vector<cv::Mat> mirrored = test::bar_clip();
  for (cv::Mat& picture : mirrored) {
    cv::Mat other;
    cv::flip(picture, other, 1);
    picture = other;
  }
  const Result<ArmTrack> found = track(mirrored);
  REQUIRE(found.ok());
  check_drawn(found.value().angles, -1.0);
}

TEST_CASE("a bar in flickering light gives the same angles, and that is said",
          "[tracking][property]") {
  const Result<ArmTrack> found = track(flickering_clip());
  REQUIRE(found.ok());
  CHECK(test::has_remark(found.value().remarks, "light-flickers"));
  check_drawn(found.value().angles, 1.0);
  const Result<ArmTrack> steady = track(test::bar_clip());
  REQUIRE(steady.ok());
  CHECK_FALSE(test::has_remark(steady.value().remarks, "light-flickers"));
}

TEST_CASE("a camera that sets its exposure anew gives the same angles, and that is said",
          "[tracking][property]") {
  const Result<ArmTrack> found = track(exposed_anew_clip());
  REQUIRE(found.ok());
  CHECK(test::has_remark(found.value().remarks, "light-changes"));
  check_drawn(found.value().angles, 1.0);
}

TEST_CASE("somebody who walks by beside the bar is not taken for the arm", "[tracking]") {
  const Result<ArmTrack> found = track(walker_clip());
  REQUIRE(found.ok());
  check_drawn(found.value().angles, 1.0);
}

TEST_CASE("a picture that comes out of black is brought to light", "[tracking][property]") {
  std::vector<cv::Mat> pictures = test::bar_clip();
  for (int k = 0; k < 30; ++k) pictures[std::size_t(k)] *= k / 30.0;
  const Result<ArmTrack> found = track(pictures);
  REQUIRE(found.ok());
  CHECK(test::has_remark(found.value().remarks, "light-changes"));
  check_drawn(found.value().angles, 1.0);
}

TEST_CASE("a flat bar seen from thirty degrees off square gives the same angles",
          "[tracking][property]") {
  const Result<ArmTrack> found = track(oblique_clip());
  REQUIRE(found.ok());
  CHECK(test::has_remark(found.value().remarks, "camera-oblique"));
  check_drawn(found.value().angles, 1.0);
}

TEST_CASE("a camera that shook is steadied, and that is said and doubted",
          "[tracking][synthetic]") {
  const Result<ArmTrack> found = track(shaken_clip(0.5));
  REQUIRE(found.ok());
  CHECK(test::has_remark(found.value().remarks, "camera-steadied"));
  check_drawn(found.value().angles, 1.0);
  const Result<ArmTrack> still = track(test::bar_clip());
  REQUIRE(still.ok());
  CHECK_FALSE(test::has_remark(still.value().remarks, "camera-steadied"));
  CHECK(found.value().angles.samples[60].u_rad > 2.0 * still.value().angles.samples[60].u_rad);
}

TEST_CASE("a camera that turned about its line of sight, or sought its focus, is steadied",
          "[tracking][property]") {
  // The middle of the picture stays where it is; its corners, 250 px off, move by 250 times
  // half a degree, or a hundredth of that.
  const std::vector<std::tuple<double, double, std::string>> clips = {
      {0.5, 0.0, "up to 2.2 px apart"}, {0.0, 0.01, "up to 2.5 px apart"}};
  for (const auto& [turn_deg, stretch, apart] : clips) {
    CAPTURE(turn_deg, stretch);
    const Result<ArmTrack> found = track(turned_clip(turn_deg, stretch));
    REQUIRE(found.ok());
    const Remarks& remarks = found.value().remarks;
    CHECK(std::any_of(remarks.begin(), remarks.end(), [&text = apart](const Remark& remark) {
      return remark.code == "camera-steadied" && remark.text.find(text) != std::string::npos;
    }));
    check_drawn(found.value().angles, 1.0);
  }
}

TEST_CASE("track_arm refuses what is no swing, with the cause", "[tracking]") {
  const cv::Mat background = test::bar_wall();
  CHECK(track({background}).failure().code == "one-frame");
  CHECK(track(std::vector<cv::Mat>(30, background)).failure().code == "no-pendulum");

  CHECK(track(shaken_clip(4.0)).failure().code == "camera-moved");

  std::vector<cv::Mat> cut = test::bar_clip();
  for (cv::Mat& picture : cut) picture = picture(cv::Rect(0, 0, 240, 300)).clone();
  CHECK(track(cut).failure().code == "arm-leaves-picture");

  TrackOptions asked;
  asked.mode = TrackMode::Sticker;
  CHECK(track(test::bar_clip(), asked).failure().code == "no-tag");
}
