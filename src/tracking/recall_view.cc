// SPDX-License-Identifier: Apache-2.0
#include "tracking/recall_view.h"

#include "core/angle.h"
#include "core/number_text.h"
#include "tracking/landmarks.h"

#include <algorithm>
#include <cmath>
#include <optional>

#include <Eigen/Cholesky>
#include <Eigen/LU>

namespace swingloss {
namespace {

/// Of a picture's longer side.
constexpr double kNearPicture = 0.002, kNearAxle = 0.005;
constexpr double kNearLength = 0.2;
/// Landmarks that may be hidden by the arm, a hand or the next bar.
constexpr double kLeastPart = 0.6;
/// Chi-square with 5 degrees of freedom, 1 in 1000 [AbramowitzStegun table 26.8].
constexpr double kContradiction = 20.515;
constexpr double kRound = 4.0, kRocks_deg = 0.03, kRocks_px = 0.1, kRocksFocal = 0.001;

using ByDoubt = Eigen::Matrix<double, 5, Eigen::Dynamic>;

/// A view with its place in the picture of the clip in hand.
struct Candidate {
  const KnownView* of = nullptr;
  PictureMove move;
  double apart_px = 0.0;
};

Eigen::Vector2d moved(const PictureMove& move, const Eigen::Vector2d& px) {
  const cv::Vec2d to = move * cv::Vec3d(px.x(), px.y(), 1.0);
  return {to[0], to[1]};
}

/// \return nothing where the two pictures are not from one place
std::optional<Candidate> candidate_of(const ArmTrack& arm,
                                      const cv::Mat& picture,
                                      const KnownView& known) {
  if (picture.size() != known.picture.size()) return std::nullopt;
  const double side_px = std::max(picture.cols, picture.rows);
  if (std::abs(arm.arm_length_px / known.arm_length_px - 1.0) > kNearLength)
    return std::nullopt;
  const Landmarks landmarks(known.picture);
  if (!landmarks.enough()) return std::nullopt;
  const std::optional<PictureMove> move = landmarks.move_to(picture, kStill, kLeastPart);
  if (!move) return std::nullopt;
  const double far_px = farthest_shift_of(*move, picture.size());
  const double axle_off_px = (arm.view.axle_px - moved(*move, known.view.head<2>())).norm();
  if (far_px > kNearPicture * side_px || axle_off_px > kNearAxle * side_px) return std::nullopt;
  return Candidate{&known, *move, far_px};
}

std::optional<Candidate> nearest_view(const ArmTrack& arm,
                                      const cv::Mat& picture,
                                      const std::vector<KnownView>& known) {
  std::optional<Candidate> nearest;
  for (const KnownView& view : known) {
    const std::optional<Candidate> candidate = candidate_of(arm, picture, view);
    if (candidate && (!nearest || candidate->apart_px < nearest->apart_px)) nearest = candidate;
  }
  return nearest;
}

/// The known view as the camera's own small move leaves it.
ViewVector view_now(const Candidate& near) {
  ViewVector view = near.of->view;
  view.head<2>() = moved(near.move, near.of->view.head<2>());
  view[4] += std::log(std::hypot(near.move(0, 0), near.move(1, 0)));
  return view;
}

ViewCovariance covariance_now(const Candidate& near) {
  const double tilt_rad = std::hypot(kRound * near.apart_px / std::exp(near.of->view[4]),
                                     Angle::from_deg(kRocks_deg).rad());
  ViewVector more;
  more << kRocks_px, kRocks_px, tilt_rad, tilt_rad, kRocksFocal;
  ViewCovariance covariance = near.of->covariance;
  covariance.diagonal() += more.cwiseAbs2();
  return covariance;
}

/// Doubts of a track that move its view.
struct ViewDoubts {
  std::vector<std::size_t> which;
  Eigen::MatrixXd shapes_rad;  ///< a column each
  ByDoubt by;
};

ViewDoubts view_doubts(const AngleTrack& track) {
  ViewDoubts doubts;
  for (std::size_t j = 0; j < track.doubts.size(); ++j)
    if (!track.doubts[j].view.isZero(0.0)) doubts.which.push_back(j);
  const auto n = Eigen::Index(doubts.which.size());
  doubts.shapes_rad.resize(Eigen::Index(track.samples.size()), n);
  doubts.by.resize(5, n);
  for (Eigen::Index j = 0; j < n; ++j) {
    const SharedDoubt& doubt = track.doubts[doubts.which[std::size_t(j)]];
    doubts.shapes_rad.col(j) = doubt.shape_rad;
    doubts.by.col(j) = doubt.view;
  }
  return doubts;
}

std::string tilt_text(const SwingView& view) {
  return fixed_text(Angle::from_rad(view.off_square_rad()).deg(), 1) + "°";
}

}  // namespace

ViewMerge with_known_view(const ArmTrack& arm,
                          const ViewVector& known,
                          const ViewCovariance& covariance) {
  const ViewDoubts doubts = view_doubts(arm.angles);
  const ByDoubt& by = doubts.by;
  const Eigen::Index n = by.cols();
  const ViewCovariance own = by * by.transpose() + arm.view_rest;
  const ViewCovariance weight = (own + covariance).inverse();
  const ViewVector pull = weight * (vector_of(arm.view) - known);
  ViewMerge merge;
  merge.contradiction = pull.dot(vector_of(arm.view) - known);
  merge.arm = arm;
  const Eigen::MatrixXd root =
      (Eigen::MatrixXd::Identity(n, n) - by.transpose() * weight * by).llt().matrixL();
  const Eigen::VectorXd moved_rad = doubts.shapes_rad * (by.transpose() * pull);
  std::vector<AngleSample>& samples = merge.arm.angles.samples;
  for (std::size_t i = 0; i < samples.size(); ++i)
    samples[i].theta_rad -= moved_rad[Eigen::Index(i)];
  const Eigen::MatrixXd shapes_rad = doubts.shapes_rad * root;
  // View and scores keep a covariance of C (...)^-1 T, which the new scores must show.
  const Eigen::MatrixXd kept = by.transpose() * weight * covariance;
  const ByDoubt left_by = root.triangularView<Eigen::Lower>().solve(kept).transpose();
  for (Eigen::Index j = 0; j < n; ++j) {
    SharedDoubt& doubt = merge.arm.angles.doubts[doubts.which[std::size_t(j)]];
    doubt.shape_rad = shapes_rad.col(j);
    doubt.view = left_by.col(j);
  }
  merge.arm.view = with_vector(arm.view, vector_of(arm.view) - own * pull);
  const ViewCovariance left = own - own * weight * own;
  merge.arm.view_rest = left - left_by * left_by.transpose();
  merge.arm.tilt_u_rad = std::sqrt(0.5 * (left(2, 2) + left(3, 3)));
  return merge;
}

ArmTrack recall_view(const ArmTrack& arm,
                     const cv::Mat& picture,
                     const std::vector<KnownView>& known) {
  const std::optional<Candidate> near = nearest_view(arm, picture, known);
  if (!near) return arm;
  const ViewVector view = view_now(*near);
  ViewMerge merge = with_known_view(arm, view, covariance_now(*near));
  const std::string where = "The camera stood as for " + near->of->clip;
  // A record that was tampered with may hold what is no covariance at all.
  const bool agrees = merge.contradiction >= 0.0 && merge.contradiction <= kContradiction;
  if (!agrees) {
    ArmTrack as_it_was = arm;
    as_it_was.remarks.push_back(
        {"view-contradicted",
         Severity::Warning,
         where + ", but sees the swing otherwise (" + tilt_text(arm.view) +
             " off square, there " + tilt_text(with_vector(arm.view, view)) +
             "): was the rig turned? What this clip shows by itself was used."});
    return as_it_was;
  }
  merge.arm.remarks.push_back(
      {"view-recalled", Severity::Note, where + "; the view found there was used here too."});
  return merge.arm;
}

}  // namespace swingloss
