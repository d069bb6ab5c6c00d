// SPDX-License-Identifier: Apache-2.0
#include "tracking/coarse_angles.h"

#include "core/angle.h"
#include "tracking/all_cores.h"
#include "tracking/polar_match.h"

#include <algorithm>
#include <cmath>

#include <opencv2/imgproc.hpp>

namespace swingloss {
namespace {

constexpr int kBins = kDirectionBins;

/// A pixel that differs from the background by less shows nothing that moved.
double moved_levels(const ClipSurvey& survey) { return std::max(10.0, 5.0 * survey.noise); }

class CoarseSearch {
 public:
  CoarseSearch(const ClipSurvey& survey, const cv::Point2d& axle)
      : survey_(survey),
        unwrap_(axle, survey.small.front().size()),
        threshold_(moved_levels(survey)) {
    background_ = unwrap_(survey.small_background, -1.0);
    if (survey.small.size() > kMostKept) return;
    for (const cv::Mat& small : survey.small) looks_.push_back(unwrap_(small, 0.0));
  }

  /// CV_8UC1, 0 outside the picture. Of a long clip made anew each time: kept, they would fill
  /// the memory.
  [[nodiscard]] cv::Mat look(std::size_t frame) const {
    return looks_.empty() ? unwrap_(survey_.small[frame], 0.0) : looks_[frame];
  }

  /// How far each place of a frame differs from the background, 0..1.
  [[nodiscard]] cv::Mat moved(std::size_t frame) const {
    cv::Mat levels, difference, part;
    look(frame).convertTo(levels, CV_32F);
    cv::absdiff(levels, background_, difference);
    part = difference / (2.0 * threshold_);
    cv::min(part, 1.0, part);
    part.setTo(0.0F, difference < threshold_);
    return part;
  }

  /// First look: the direction along which most radii show something that is not background.
  [[nodiscard]] std::vector<std::vector<float>> coverage() const {
    std::vector<std::vector<float>> scores;
    for (std::size_t k = 0; k < survey_.small.size(); ++k) {
      cv::Mat sum, smooth;
      cv::reduce(moved(k), sum, 0, cv::REDUCE_SUM);
      cv::Mat wide;
      cv::hconcat(std::vector<cv::Mat>{sum.colRange(kBins - 4, kBins), sum, sum.colRange(0, 4)},
                  wide);
      cv::blur(wide, smooth, cv::Size(5, 1));
      const cv::Mat row = smooth.colRange(4, kBins + 4);
      scores.emplace_back(row.begin<float>(), row.end<float>());
    }
    return scores;
  }

  /// Mean look and presence over the frames, each turned back by its own angle.
  [[nodiscard]] PolarArm arm_along(const std::vector<int>& path) const {
    PolarArm arm{cv::Mat::zeros(background_.size(), CV_32F),
                 cv::Mat::zeros(background_.size(), CV_32F)};
    cv::Mat seen = cv::Mat::zeros(background_.size(), CV_32F) + 1e-3F;
    double total = 0.0;
    for (std::size_t k = 0; k < path.size(); ++k) {
      const double w = frame_weight(survey_, k);
      const cv::Mat differs = turned(moved(k), path[k]);
      cv::Mat levels;
      turned(look(k), path[k]).convertTo(levels, CV_32F);
      arm.presence += w * differs;
      arm.look += w * differs.mul(levels);
      seen += w * differs;
      total += w;
    }
    arm.look /= seen;
    arm.presence /= total;
    return arm;
  }

  /// How much better the arm explains each frame than the background does, in every direction.
  /// \param least_presence  places where less of the arm was found do not count
  [[nodiscard]] std::vector<std::vector<float>> likelihood(const PolarArm& arm,
                                                           float least_presence) const;

 private:
  const ClipSurvey& survey_;
  PolarMap unwrap_;
  double threshold_;
  static constexpr std::size_t kMostKept = 500;  ///< some 50 MB
  cv::Mat background_;                           ///< CV_32FC1, -1 outside the picture
  std::vector<cv::Mat> looks_;
};

std::vector<std::vector<float>> CoarseSearch::likelihood(const PolarArm& arm,
                                                         float least_presence) const {
  const PolarMatch match(background_, arm, least_presence, match_cap_levels(survey_));
  std::vector<std::vector<float>> scores(survey_.small.size());
  on_all_cores(scores.size(), [&](std::size_t k) { scores[k] = match.scores(look(k)); });
  return scores;
}

double explained_part(const CoarseSearch& search,
                      const PolarArm& arm,
                      const std::vector<int>& path) {
  cv::Mat area(arm.presence.size(), CV_32F);
  for (int r = 0; r < area.rows; ++r) area.row(r).setTo(float(r + 1));
  cv::Mat near_arm;
  cv::dilate(arm.presence > 0.25F, near_arm, cv::Mat::ones(5, 7, CV_8U));
  double inside = 0.0, all = 1e-9;
  for (std::size_t k = 0; k < path.size(); ++k) {
    const cv::Mat weighted = turned(search.moved(k), path[k]).mul(area);
    all += cv::sum(weighted)[0];
    cv::Mat masked;
    weighted.copyTo(masked, near_arm);
    inside += cv::sum(masked)[0];
  }
  return inside / all;
}

std::vector<double> times_of(const ClipSurvey& survey) {
  std::vector<double> out;
  for (const int frame : survey.frames) out.push_back(survey.t_s[std::size_t(frame)]);
  return out;
}

}  // namespace

double frame_weight(const ClipSurvey& survey, std::size_t picture) {
  return std::min(1.0, 0.02 + 20.0 * survey.motion[picture]);
}

double match_cap_levels(const ClipSurvey& survey) { return 3.0 * moved_levels(survey); }

double direction_rad(const std::vector<float>& scores, int bin, int off_bins) {
  return (bin + vertex(scores, wrapped_bin(bin)) + off_bins) * kDirectionBin_rad;
}

void rescale_lengths(double scale, CoarseAngles& angles) {
  for (double CoarseAngles::*length_px : {&CoarseAngles::arm_length_px,
                                          &CoarseAngles::arm_half_width_px,
                                          &CoarseAngles::arm_behind_px})
    angles.*length_px *= scale;
}

void settle_turns(CoarseAngles& angles) {
  const auto [low, high] =
      std::minmax_element(angles.theta_rad.begin(), angles.theta_rad.end());
  angles.swept_rad = *high - *low;
  const double turns = 2.0 * kPi * std::round(0.5 * (*high + *low) / (2.0 * kPi));
  for (double& theta : angles.theta_rad) theta -= turns;
}

CoarseAngles find_coarse_angles(const ClipSurvey& survey, const cv::Point2d& axle_small_px) {
  const CoarseSearch search(survey, axle_small_px);
  const std::vector<double> t_s = times_of(survey);
  std::vector<std::vector<float>> scores = search.coverage();
  std::vector<int> path = best_path(scores, t_s);
  CoarseAngles out;
  out.arm = search.arm_along(path);
  // Shadows turn with the arm in part: they are let go as the arm gets clearer.
  for (const float least_presence : {0.25F, 0.45F, kClearPresence}) {
    scores = search.likelihood(out.arm, least_presence);
    path = best_path(scores, t_s);
    out.arm = search.arm_along(path);
  }
  out.off_bins = bins_to_far_half(out.arm, path);
  const PolarExtent extent = extent_of({out.arm.look, turned(out.arm.presence, out.off_bins)});
  out.arm_length_px = extent.length_px * survey.shrink;
  out.arm_half_width_px = extent.half_width_px * survey.shrink;
  out.arm_behind_px = extent.behind_px * survey.shrink;
  out.quality = explained_part(search, out.arm, path);
  for (std::size_t k = 0; k < path.size(); ++k)
    out.theta_rad.push_back(direction_rad(scores[k], path[k], out.off_bins));
  settle_turns(out);
  return out;
}

}  // namespace swingloss
