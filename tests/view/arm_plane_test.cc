// SPDX-License-Identifier: Apache-2.0
#include "view/arm_plane.h"

#include "support/test.h"

#include <vector>

using namespace swingloss;

namespace {

SingleAxisState askew() {
  SingleAxisState state;
  state.view.axle_px = {430.0, 120.0};
  state.view.tilt_x_rad = 0.15;
  state.view.tilt_y_rad = -0.08;
  state.view.focal_px = 800.0;
  state.view.principal_px = {480.0, 270.0};
  state.theta_rad = {-1.2, 0.3, 1.9};
  state.body_px = {{5.0, 100.0, 12.0}, {-9.0, 180.0, 30.0}, {20.0, 240.0, 41.0}};
  return state;
}

std::vector<Eigen::Vector2d> pictures_of(const SingleAxisState& state) {
  std::vector<Eigen::Vector2d> seen;
  for (const double theta_rad : state.theta_rad) {
    for (const Eigen::Vector3d& point : state.body_px)
      seen.push_back(state.view.project(swing_from_body(point, theta_rad)));
  }
  return seen;
}

}  // namespace

TEST_CASE("pictures do not change when the axle's origin slides into the arm's plane",
          "[view]") {
  const Eigen::Vector3d shares(0.2, 0.5, 0.3);
  const SingleAxisState before = askew();
  const SingleAxisState after = in_arm_plane(before, shares);
  double depth_px = 0.0;
  for (Eigen::Index i = 0; i < 3; ++i)
    depth_px += shares[i] * after.body_px[std::size_t(i)].z();
  // Sums and products of numbers below 1000.
  CHECK_THAT(depth_px, test::to_truncation(0.0, 1e-12));
  CHECK((after.view.axle_px - before.view.axle_px).norm() > 2.0);
  const auto seen_before = pictures_of(before), seen_after = pictures_of(after);
  for (std::size_t k = 0; k < seen_before.size(); ++k)
    CHECK_THAT((seen_before[k] - seen_after[k]).norm(), test::to_truncation(0.0, 1e-11));
}

TEST_CASE("the axle in the arm's plane moves with view and depths as its derivative says",
          "[view]") {
  const Eigen::Vector3d shares(0.2, 0.5, 0.3);
  const SingleAxisState state = in_arm_plane(askew(), shares);
  const Eigen::MatrixXd by = view_in_arm_plane(state, shares);
  REQUIRE(by.rows() == kViewCount);
  REQUIRE(by.cols() == kSharedCount + 9);
  constexpr double kStep_px = 1e-4;
  for (Eigen::Index i = 0; i < 3; ++i) {
    SingleAxisState near = state, far = state;
    near.body_px[std::size_t(i)].z() -= kStep_px;
    far.body_px[std::size_t(i)].z() += kStep_px;
    const ViewVector slope = (vector_of(in_arm_plane(far, shares).view) -
                              vector_of(in_arm_plane(near, shares).view)) /
                             (2.0 * kStep_px);
    // Central difference: rounding of 1e-13 over the step.
    CHECK_THAT((slope - by.col(kSharedCount + 3 * i + 2)).norm(),
               test::to_truncation(0.0, 1e-8));
    CHECK(by.middleCols<2>(kSharedCount + 3 * i).isZero(0.0));
  }
  CHECK(by.leftCols<kViewCount>().isIdentity(0.0));
  CHECK(by.col(kReadout).isZero(0.0));
}

TEST_CASE("a point has its part by what is seen of it, believed, and how far out", "[view]") {
  SingleAxisProblem problem;
  problem.body_px = {{0.0, 100.0, 0.0}, {0.0, 200.0, 0.0}};
  const Eigen::Matrix2d one = Eigen::Matrix2d::Identity();
  problem.sightings = {{0, 0, {}, one}, {1, 0, {}, one}, {0, 1, {}, 3.0 * one}};
  const Eigen::VectorXd shares = shares_of(problem, {1.0, 0.5, 1.0});
  // 1.5 * 100 against 3 * 200.
  CHECK_THAT(shares[0], test::to_rounding(0.2, 4));
  CHECK_THAT(shares[1], test::to_rounding(0.8, 4));
}
