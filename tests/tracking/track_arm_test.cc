// SPDX-License-Identifier: Apache-2.0
#include "tracking/track_arm.h"

#include "core/angle.h"
#include "render/render_swing.h"
#include "support/temp_folder.h"
#include "support/test.h"

#include <algorithm>
#include <cmath>
#include <vector>

#include <opencv2/imgproc.hpp>

using namespace swingloss;

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

cv::Mat wall(int width, int height) {
  cv::Mat picture(height, width, CV_8UC1, cv::Scalar(190));
  cv::RNG random(7);
  for (int i = 0; i < 60; ++i) {
    const cv::Point corner(random.uniform(0, width), random.uniform(0, height));
    cv::rectangle(picture,
                  corner,
                  corner + cv::Point(random.uniform(4, 30), random.uniform(4, 20)),
                  cv::Scalar(random.uniform(140, 230)),
                  cv::FILLED);
  }
  return picture;
}

/// A flat bar: each pixel is covered by as many of its 8 x 8 parts as lie in the outline.
/// (OpenCV's own antialiased edges are off by tenths of a pixel.)
cv::Mat with_bar(const cv::Mat& background, const cv::Point2d& axle, double theta_rad) {
  constexpr int kParts = 8, kShift = 4;
  const double c = std::cos(theta_rad), s = std::sin(theta_rad);
  std::vector<cv::Point> corners;
  for (const cv::Point2d b : {cv::Point2d(-7, -20),
                              cv::Point2d(7, -20),
                              cv::Point2d(7, 95),
                              cv::Point2d(18, 95),
                              cv::Point2d(18, 125),
                              cv::Point2d(-18, 125),
                              cv::Point2d(-18, 95),
                              cv::Point2d(-7, 95)}) {
    const cv::Point2d p = axle + cv::Point2d(b.x * c + b.y * s, b.y * c - b.x * s);
    // The centre of a pixel has whole numbers; that of its first part lies half a part inside.
    const cv::Point2d part =
        double(kParts) * (p + cv::Point2d(0.5, 0.5)) - cv::Point2d(0.5, 0.5);
    corners.emplace_back(int(std::lround(part.x * (1 << kShift))),
                         int(std::lround(part.y * (1 << kShift))));
  }
  cv::Mat fine = cv::Mat::zeros(background.size() * kParts, CV_8UC1), cover;
  cv::fillPoly(
      fine, std::vector<std::vector<cv::Point>>{corners}, cv::Scalar(255), cv::LINE_8, kShift);
  cv::resize(fine, cover, background.size(), 0.0, 0.0, cv::INTER_AREA);
  cv::Mat picture = background.clone();
  for (int row = 0; row < picture.rows; ++row) {
    for (int column = 0; column < picture.cols; ++column) {
      const double part = double(cover.at<uchar>(row, column)) / 255.0;
      uchar& level = picture.at<uchar>(row, column);
      level = cv::saturate_cast<uchar>(60.0 * part + double(level) * (1.0 - part));
    }
  }
  return picture;
}

std::vector<double> swing_deg() {
  std::vector<double> out(12, 110.0);
  for (int k = 0; k < 110; ++k)
    out.push_back(110.0 * std::exp(-0.002 * k) * std::cos(0.075 * k));
  return out;
}

std::vector<cv::Mat> bar_clip() {
  const cv::Mat background = wall(400, 300);
  std::vector<cv::Mat> pictures;
  for (double theta : swing_deg())
    pictures.push_back(with_bar(background, {205.3, 131.7}, Angle::from_deg(theta).rad()));
  return pictures;
}

Result<ArmTrack> track(const std::vector<cv::Mat>& pictures, const TrackOptions& options = {}) {
  return track_arm([&] { return std::make_unique<MadeSource>(pictures); }, options);
}

/// The track's errors about their median [rad].
std::vector<double> errors_of(const AngleTrack& found,
                              const std::vector<double>& true_deg,
                              double sign) {
  std::vector<double> errors;
  for (const AngleSample& s : found.samples) {
    errors.push_back(sign * s.theta_rad -
                     Angle::from_deg(true_deg[std::size_t(s.frame)]).rad());
  }
  std::vector<double> sorted = errors;
  std::sort(sorted.begin(), sorted.end());
  for (double& error : errors) error = std::abs(error - sorted[sorted.size() / 2]);
  return errors;
}

/// What two thirds of the values stay below.
double two_thirds(std::vector<double> values) {
  std::sort(values.begin(), values.end());
  return values[values.size() * 68 / 100];
}

/// The errors, each over its own stated uncertainty with all doubts: near 1 when that is
/// honest, far below when it is timid.
double two_thirds_in_u(const AngleTrack& found,
                       const std::vector<double>& true_deg,
                       double sign) {
  std::vector<double> errors = errors_of(found, true_deg, sign);
  for (std::size_t i = 0; i < errors.size(); ++i) {
    double variance = std::pow(found.samples[i].u_rad, 2);
    for (const SharedDoubt& doubt : found.doubts) {
      // The zero is free, in the errors as in the doubts.
      variance += std::pow(doubt.shape_rad(Eigen::Index(i)) - doubt.shape_rad.mean(), 2);
    }
    errors[i] /= std::sqrt(variance);
  }
  return two_thirds(std::move(errors));
}

/// One error of a whole clip is one draw of its shared doubts: between a tenth and one and a
/// half.
const auto kHonest = test::to_truncation(0.8, 0.7);

/// A drawn bar has no depth, no shadow and no perspective, so most of what the doubts are for
/// is not there and they may be as large as they like: the errors themselves must be small.
void check_drawn(const AngleTrack& found, double sign) {
  const double error_rad = two_thirds(errors_of(found, swing_deg(), sign));
  // A quarter of a pixel at the bar's end, 125 px out: the wall's cards pass behind its edges.
  CHECK_THAT(Angle::from_rad(error_rad).deg(), test::to_truncation(0.0, 0.115));
  // One draw again, and not above one and a half.
  CHECK_THAT(two_thirds_in_u(found, swing_deg(), sign), test::to_truncation(0.75, 0.75));
}

}  // namespace

TEST_CASE("track_arm follows a plain bar before a cluttered wall", "[tracking][synthetic]") {
  const std::vector<cv::Mat> pictures = bar_clip();
  const Result<ArmTrack> found = track(pictures);
  REQUIRE(found.ok());
  CHECK(found.value().angles.samples.size() > pictures.size() * 9 / 10);
  check_drawn(found.value().angles, 1.0);
  // Half a pixel at the axle is half a pixel at the arm's end.
  CHECK_THAT(found.value().view.axle_px.x(), test::to_truncation(205.3, 0.5));
  // Likewise.
  CHECK_THAT(found.value().view.axle_px.y(), test::to_truncation(131.7, 0.5));
}

TEST_CASE("a mirrored clip gives the mirrored angles", "[tracking][property]") {
  std::vector<cv::Mat> mirrored = bar_clip();
  for (cv::Mat& picture : mirrored) {
    cv::Mat other;
    cv::flip(picture, other, 1);
    picture = other;
  }
  const Result<ArmTrack> found = track(mirrored);
  REQUIRE(found.ok());
  check_drawn(found.value().angles, -1.0);
}

TEST_CASE("track_arm refuses what is no swing, with the cause", "[tracking]") {
  const cv::Mat background = wall(400, 300);
  CHECK(track({background}).failure().code == "one-frame");
  CHECK(track(std::vector<cv::Mat>(30, background)).failure().code == "no-pendulum");

  std::vector<cv::Mat> shaken = bar_clip();
  for (std::size_t k = 0; k < shaken.size(); ++k) {
    const cv::Mat shift = (cv::Mat_<double>(2, 3) << 1,
                           0,
                           9.0 * std::sin(0.9 * double(k)),
                           0,
                           1,
                           7.0 * std::cos(0.7 * double(k)));
    cv::Mat moved;
    cv::warpAffine(
        shaken[k], moved, shift, shaken[k].size(), cv::INTER_LINEAR, cv::BORDER_REFLECT);
    shaken[k] = moved;
  }
  CHECK(track(shaken).failure().code == "camera-moved");

  std::vector<cv::Mat> cut = bar_clip();
  for (cv::Mat& picture : cut) picture = picture(cv::Rect(0, 0, 240, 300)).clone();
  CHECK(track(cut).failure().code == "arm-leaves-picture");

  TrackOptions asked;
  asked.mode = TrackMode::Sticker;
  CHECK(track(bar_clip(), asked).failure().code == "no-tag");
}

TEST_CASE("track_arm follows the rendered rig through perspective, blur and coding",
          "[tracking][synthetic]") {
  const test::TempFolder folder;
  RenderScene scene;
  scene.absorbed_J = 1.0;
  scene.length_s = 2.0;
  const std::string path = folder / "clip.mp4";
  const RenderTruth truth = render_swing(scene, path);
  const Result<ArmTrack> found = track_arm([&] { return open_clip(path); });
  REQUIRE(found.ok());
  CHECK_THAT(two_thirds_in_u(found.value().angles, truth.frame_angle_deg, 1.0), kHonest);
}
