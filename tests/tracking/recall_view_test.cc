// SPDX-License-Identifier: Apache-2.0
#include "tracking/recall_view.h"

#include "core/angle.h"
#include "support/has_remark.h"
#include "support/test.h"

#include <cmath>
#include <random>

#include <Eigen/Cholesky>
#include <Eigen/LU>
#include <opencv2/imgproc.hpp>

using namespace swingloss;

namespace {

/// A wall of rectangles, each of its own shade, seen with a shift.
cv::Mat wall(unsigned seed, double dx_px = 0.0, double dy_px = 0.0) {
  std::mt19937 random(seed);
  std::uniform_int_distribution<int> x(0, 640), y(0, 360), size(10, 60), shade(20, 235);
  cv::Mat picture(360, 640, CV_8UC1, cv::Scalar(128));
  for (int i = 0; i < 300; ++i) {
    const cv::Rect place(x(random), y(random), size(random), size(random));
    cv::rectangle(picture, place, cv::Scalar(shade(random)), cv::FILLED);
  }
  const cv::Matx23d move(1.0, 0.0, dx_px, 0.0, 1.0, dy_px);
  cv::Mat shifted;
  cv::warpAffine(
      picture, shifted, move, picture.size(), cv::INTER_LINEAR, cv::BORDER_REPLICATE);
  return shifted;
}

constexpr Eigen::Index kSamples = 5, kDoubts = 3;

/// Half sizes of the view's numbers, to speak of each in its own: pixels, radians, a part.
const ViewVector kSizes = (ViewVector() << 0.5, 0.5, 0.01, 0.01, 0.05).finished();

/// A full covariance with these sizes.
ViewCovariance mixed_covariance(double part) {
  ViewCovariance mixed = ViewCovariance::Identity();
  for (Eigen::Index i = 0; i + 1 < 5; ++i) mixed(i, i + 1) = mixed(i + 1, i) = 0.3;
  return part * part * kSizes.asDiagonal() * mixed * kSizes.asDiagonal();
}

/// Five samples with three doubts, two of which move the view.
ArmTrack doubted_track() {
  ArmTrack arm;
  for (int i = 0; i < kSamples; ++i) arm.angles.samples.push_back({0.1 * i, 0.2 * i, 1e-4, i});
  Eigen::MatrixXd shapes(kSamples, kDoubts);
  shapes << 2.0, 0.5, 0.1, 1.0, 0.4, 0.0, 0.0, 0.3, 0.2, -1.0, 0.6, 0.0, -2.0, 0.9, 0.1;
  Eigen::Matrix<double, 5, kDoubts> by;
  by << 0.8, 0.0, 0.1, -0.2, 0.0, 0.3, 0.9, 0.0, -0.4, 0.3, 0.0, 0.7, 0.1, 0.0, 0.5;
  for (Eigen::Index j = 0; j < kDoubts; ++j)
    arm.angles.doubts.push_back({"doubt-" + std::to_string(j),
                                 1e-3 * shapes.col(j),
                                 {},
                                 kSizes.cwiseProduct(by.col(j))});
  arm.view_rest = mixed_covariance(0.2);
  arm.view.tilt_x_rad = 0.05;
  arm.view.tilt_y_rad = -0.02;
  arm.view.focal_px = 600.0;
  arm.view.axle_px = {320.0, 90.0};
  arm.arm_length_px = 200.0;
  return arm;
}

/// Everything that is stated: angles, then the view.
Eigen::VectorXd state_of(const ArmTrack& arm) {
  Eigen::VectorXd state(kSamples + 5);
  for (Eigen::Index i = 0; i < kSamples; ++i)
    state[i] = arm.angles.samples[std::size_t(i)].theta_rad;
  state.tail<5>() = vector_of(arm.view);
  return state;
}

/// And its covariance as the track states it.
Eigen::MatrixXd covariance_of_state(const ArmTrack& arm) {
  Eigen::MatrixXd by(kSamples + 5, kDoubts);
  for (Eigen::Index j = 0; j < kDoubts; ++j) {
    const SharedDoubt& doubt = arm.angles.doubts[std::size_t(j)];
    by.col(j) << doubt.shape_rad, doubt.view;
  }
  Eigen::MatrixXd covariance = by * by.transpose();
  covariance.bottomRightCorner<5, 5>() += arm.view_rest;
  return covariance;
}

KnownView known_view(const ArmTrack& arm, const cv::Mat& picture) {
  KnownView known;
  known.clip = "free.mp4";
  known.picture = picture;
  known.arm_length_px = arm.arm_length_px;
  known.view = vector_of(arm.view);
  known.view[2] += 0.004;
  known.covariance = mixed_covariance(0.1);
  return known;
}

double tilt_u_rad(const ArmTrack& arm) {
  const Eigen::MatrixXd covariance = covariance_of_state(arm);
  return std::sqrt(
      0.5 * (covariance(kSamples + 2, kSamples + 2) + covariance(kSamples + 3, kSamples + 3)));
}

}  // namespace

TEST_CASE("a known view enters a track as the textbook has it for normal distributions",
          "[tracking]") {
  // Conditional mean and covariance of jointly normal variables, written out for angles and
  // view as one vector [Anderson2003 2.5]; the program works on the doubts' scores instead.
  const ArmTrack arm = doubted_track();
  const ViewVector known = vector_of(arm.view) + 0.7 * kSizes;
  const ViewCovariance known_covariance = mixed_covariance(0.3);
  const ViewMerge merge = with_known_view(arm, known, known_covariance);
  const Eigen::MatrixXd before = covariance_of_state(arm);
  const ViewCovariance sum = before.bottomRightCorner<5, 5>() + known_covariance;
  const Eigen::MatrixXd gain = before.rightCols<5>() * sum.inverse();
  const Eigen::VectorXd wanted = state_of(arm) + gain * (known - vector_of(arm.view));
  const Eigen::MatrixXd wanted_covariance = before - gain * before.bottomRows<5>();
  const Eigen::VectorXd got = state_of(merge.arm);
  const Eigen::MatrixXd got_covariance = covariance_of_state(merge.arm);
  for (Eigen::Index i = 0; i < wanted.size(); ++i) {
    CAPTURE(i);
    // Some tens of sums; the inverse's condition is about ten thousand.
    CHECK_THAT(got[i], test::to_truncation(wanted[i], 1e-11 * (1.0 + std::abs(wanted[i]))));
    for (Eigen::Index j = 0; j < wanted.size(); ++j) {
      const double scale = std::sqrt(before(i, i) * before(j, j));
      CHECK_THAT(got_covariance(i, j),
                 test::to_truncation(wanted_covariance(i, j), 1e-11 * scale));
    }
  }
  CHECK_THAT(merge.arm.tilt_u_rad, test::to_truncation(tilt_u_rad(merge.arm), 1e-12));
}

TEST_CASE("what a known view leaves in doubt is as large as the errors that it leaves",
          "[tracking]") {
  // Errors drawn as the track states them: squares of what is left over what is stated.
  const ArmTrack truth = doubted_track();
  const ViewCovariance known_covariance = mixed_covariance(0.1);
  const ViewCovariance rest = truth.view_rest.llt().matrixL();
  const ViewCovariance known_root = known_covariance.llt().matrixL();
  std::mt19937 random(7);
  std::normal_distribution<double> normal;
  const auto drawn = [&](const ViewCovariance& root) {
    ViewVector scores;
    for (double& score : scores) score = normal(random);
    return ViewVector(root * scores);
  };
  constexpr int kTrials = 4000;
  double squares = 0.0, alone = 0.0, contradiction = 0.0;
  for (int trial = 0; trial < kTrials; ++trial) {
    ArmTrack arm = truth;
    ViewVector error = drawn(rest);
    for (const SharedDoubt& doubt : truth.angles.doubts) {
      const double score = normal(random);
      error += score * doubt.view;
      for (Eigen::Index i = 0; i < kSamples; ++i)
        arm.angles.samples[std::size_t(i)].theta_rad += score * doubt.shape_rad[i];
    }
    arm.view = with_vector(arm.view, vector_of(truth.view) + error);
    const ViewMerge merge =
        with_known_view(arm, vector_of(truth.view) + drawn(known_root), known_covariance);
    const double left = covariance_of_state(merge.arm)(0, 0);
    squares += std::pow(state_of(merge.arm)[0] - state_of(truth)[0], 2) / left / kTrials;
    alone += std::pow(state_of(arm)[0] - state_of(truth)[0], 2) / left / kTrials;
    contradiction += merge.contradiction / kTrials;
  }
  // Standard deviation of the mean of squares of 4000 normal numbers: sqrt(2 / 4000); of
  // chi-square with five degrees of freedom: sqrt(10 / 4000). Four of each.
  CHECK_THAT(squares, test::to_truncation(1.0, 4.0 * std::sqrt(2.0 / kTrials)));
  CHECK_THAT(contradiction, test::to_truncation(5.0, 4.0 * std::sqrt(10.0 / kTrials)));
  CHECK(alone > 3.0);
}

TEST_CASE("a view is recalled where the camera stood, and nowhere else", "[tracking]") {
  const ArmTrack arm = doubted_track();
  const cv::Mat here = wall(3);
  const KnownView known = known_view(arm, here);
  const auto recalled = [&](const cv::Mat& picture, const KnownView& view) {
    const ArmTrack with = recall_view(arm, picture, {view});
    const bool moved = with.view.tilt_x_rad != arm.view.tilt_x_rad;
    CHECK(moved == test::has_remark(with.remarks, "view-recalled"));
    return moved;
  };
  CHECK(recalled(here, known));
  CHECK(recalled(wall(3, 0.6, -0.4), known));
  SECTION("with an arm and a bar that are not the same") {
    cv::Mat other_bar = here.clone();
    cv::rectangle(other_bar, {300, 60, 40, 220}, cv::Scalar(10), cv::FILLED);
    CHECK(recalled(other_bar, known));
  }
  SECTION("not from beside it") { CHECK_FALSE(recalled(wall(3, 4.0, 0.0), known)); }
  SECTION("not before another wall") { CHECK_FALSE(recalled(wall(4), known)); }
  SECTION("not in pictures of another size") {
    cv::Mat large;
    cv::resize(here, large, {}, 2.0, 2.0);
    CHECK_FALSE(recalled(large, known));
  }
  SECTION("not for another arm") {
    KnownView longer = known;
    longer.arm_length_px *= 1.3;
    CHECK_FALSE(recalled(here, longer));
  }
  SECTION("not where the rig stood elsewhere") {
    KnownView moved = known;
    moved.view[0] += 5.0;
    CHECK_FALSE(recalled(here, moved));
  }
  SECTION("not before a bare wall, which tells nothing") {
    const cv::Mat bare(here.size(), CV_8UC1, cv::Scalar(128));
    CHECK_FALSE(recalled(bare, known_view(arm, bare)));
  }
}

TEST_CASE("a tilt that the clip contradicts is not used, and that is said", "[tracking]") {
  const ArmTrack arm = doubted_track();
  const cv::Mat here = wall(3);
  KnownView known = known_view(arm, here);
  known.view[2] += 0.08;
  const ArmTrack with = recall_view(arm, here, {known});
  CHECK(with.view.tilt_x_rad == arm.view.tilt_x_rad);
  CHECK(test::has_remark(with.remarks, "view-contradicted"));
}

TEST_CASE("of several views the one whose picture lies nearest is recalled", "[tracking]") {
  const ArmTrack arm = doubted_track();
  KnownView near = known_view(arm, wall(3));
  near.clip = "near.mp4";
  KnownView far = known_view(arm, wall(3, 0.8, 0.0));
  far.clip = "far.mp4";
  for (const auto& views : {std::vector{near, far}, std::vector{far, near}}) {
    const ArmTrack with = recall_view(arm, wall(3), views);
    REQUIRE(with.remarks.size() == 1);
    CHECK_THAT(with.remarks.front().text, Catch::Contains("near.mp4"));
  }
}

TEST_CASE("a shift of the pictures widens what is taken over", "[tracking]") {
  const ArmTrack arm = doubted_track();
  const KnownView known = known_view(arm, wall(3));
  const ArmTrack still = recall_view(arm, wall(3), {known});
  const ArmTrack shifted = recall_view(arm, wall(3, 1.0, 0.0), {known});
  // 4 px/px over a focal length of 600 px: 0.0067 rad beside the 0.001 rad known.
  CHECK(shifted.tilt_u_rad > 1.3 * still.tilt_u_rad);
  CHECK(still.tilt_u_rad < 0.5 * tilt_u_rad(arm));
  // The axle goes with the pictures, but for the part that the clip itself says.
  CHECK(shifted.view.axle_px.x() - still.view.axle_px.x() > 0.5);
}
