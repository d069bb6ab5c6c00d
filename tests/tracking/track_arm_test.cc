// SPDX-License-Identifier: Apache-2.0
#include "tracking/track_arm.h"

#include "core/angle.h"
#include "render/render_swing.h"
#include "support/has_remark.h"
#include "support/temp_folder.h"
#include "support/test.h"
#include "tracking/drawn_bar.h"

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
  const double error_rad = two_thirds(errors_of(found, test::swing_deg(), sign));
  // A quarter of a pixel at the bar's end, 125 px out: the wall's cards pass behind its edges.
  CHECK_THAT(Angle::from_rad(error_rad).deg(), test::to_truncation(0.0, 0.115));
  // One draw again, and not above one and a half.
  CHECK_THAT(two_thirds_in_u(found, test::swing_deg(), sign), test::to_truncation(0.75, 0.75));
}

struct Rendered {
  Result<ArmTrack> found;
  RenderTruth truth;
};

/// The scene with a bar that breaks, followed.
Rendered rendered(RenderScene scene, double length_s = 2.0) {
  const test::TempFolder folder;
  if (!scene.absorbed_J) scene.absorbed_J = 1.0;
  scene.length_s = length_s;
  const std::string path = folder / "clip.mp4";
  RenderTruth truth = render_swing(scene, path);
  return {track_arm([&] { return open_clip(path); }), std::move(truth)};
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

TEST_CASE("track_arm follows the rendered rig through perspective, blur and coding",
          "[tracking][synthetic]") {
  const auto [found, truth] = rendered({});
  REQUIRE(found.ok());
  CHECK_THAT(two_thirds_in_u(found.value().angles, truth.frame_angle_deg, 1.0), kHonest);
}

TEST_CASE("two dots give the angles free of what edges and shadows do",
          "[tracking][synthetic]") {
  RenderScene scene;
  scene.stickers = true;
  const auto [found, truth] = rendered(scene);
  REQUIRE(found.ok());
  CHECK(found.value().mode == TrackMode::Dots);
  const double error_rad =
      two_thirds(errors_of(found.value().angles, truth.frame_angle_deg, 1.0));
  // A tenth of a pixel at the outer dot, 131 px out.
  CHECK_THAT(Angle::from_rad(error_rad).deg(), test::to_truncation(0.0, 0.045));
}

TEST_CASE("a camera twelve degrees off square is found to stand there",
          "[tracking][synthetic]") {
  RenderScene scene;
  scene.seed = 100;
  scene.release_deg = 118.0;
  scene.camera.yaw_deg = 12.0;
  scene.camera.pitch_deg = -6.0;
  const auto [found, truth] = rendered(scene);
  REQUIRE(found.ok());
  const SwingView& view = found.value().view;
  // Seen from the right, the swing's plane is turned to the left. The foreshortening that the
  // tilt is read from changes by a pixel at the arm's end with a degree of it.
  CHECK_THAT(Angle::from_rad(view.tilt_x_rad).deg(), test::to_truncation(-12.0, 1.0));
  // Likewise.
  CHECK_THAT(Angle::from_rad(view.tilt_y_rad).deg(), test::to_truncation(-6.0, 1.0));
  const double error_rad =
      two_thirds(errors_of(found.value().angles, truth.frame_angle_deg, 1.0));
  // Half a pixel at the bar, which is 0.33 m of 1.6 m times 1029 px out.
  CHECK_THAT(Angle::from_rad(error_rad).deg(), test::to_truncation(0.0, 0.135));
}

TEST_CASE("a light that grows on a wall full of edges is no camera that moved",
          "[tracking][synthetic]") {
  RenderScene scene;
  scene.seed = 701;  // this room has a pegboard
  scene.release_deg = 118.0;
  scene.faults.exposure_drift_fraction = 0.3;
  const auto [found, truth] = rendered(scene, 2.2);
  REQUIRE(found.ok());
  CHECK_THAT(two_thirds_in_u(found.value().angles, truth.frame_angle_deg, 1.0), kHonest);
}

TEST_CASE("the readout of a rolling shutter is found and its bend of the arm undone",
          "[tracking][synthetic]") {
  RenderScene scene;
  scene.seed = 101;
  scene.faults.readout_s = 0.016;
  const auto [found, truth] = rendered(scene);
  REQUIRE(found.ok());
  // A millisecond bends the arm by a third of a pixel between its middle and its end.
  CHECK_THAT(found.value().view.readout_s, test::to_truncation(0.016, 0.0015));
  CHECK(test::has_remark(found.value().remarks, "read-line-by-line"));
  const double error_rad =
      two_thirds(errors_of(found.value().angles, truth.frame_angle_deg, 1.0));
  // Half a pixel at the bar, which is 0.33 m of 1.6 m times 1029 px out.
  CHECK_THAT(Angle::from_rad(error_rad).deg(), test::to_truncation(0.0, 0.135));
}

TEST_CASE("a dark hammer before a white sheet of paper is followed", "[tracking][synthetic]") {
  RenderScene scene;
  scene.seed = 100;  // this room has such a sheet behind the rise
  scene.release_deg = 118.0;
  scene.absorbed_J = 0.5;
  scene.camera.yaw_deg = scene.camera.pitch_deg = 0.0;
  scene.camera.width_px = 1280;
  scene.camera.height_px = 720;
  const auto [found, truth] = rendered(scene, 2.2);
  REQUIRE(found.ok());
  // From 0.9 s to 1.4 s, the arm is before it.
  const std::vector<AngleSample>& samples = found.value().angles.samples;
  const auto before_it =
      std::count_if(samples.begin(), samples.end(), [](const AngleSample& s) {
        return s.frame >= 54 && s.frame < 84;
      });
  CHECK(before_it >= 22);
  const double error_rad =
      two_thirds(errors_of(found.value().angles, truth.frame_angle_deg, 1.0));
  // Half a pixel at the bar, which is 0.33 m of 1.6 m times 1372 px out.
  CHECK_THAT(Angle::from_rad(error_rad).deg(), test::to_truncation(0.0, 0.10));
}
