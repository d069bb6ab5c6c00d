// SPDX-License-Identifier: Apache-2.0
#include "tracking/coarse_angles.h"

#include "core/angle.h"
#include "core/median.h"
#include "tracking/all_cores.h"
#include "tracking/best_path.h"

#include <algorithm>
#include <cmath>

#include <opencv2/imgproc.hpp>

namespace swingloss {
namespace {

constexpr int kBins = kDirectionBins;
constexpr double kBin_rad = 2.0 * kPi / kBins;

/// Unwrapping tables about one axle: rows are radii, columns are directions.
struct Unwrap {
  cv::Mat map_x, map_y;
  std::vector<int> last_row_inside;  // per direction: radii beyond it lie outside the picture

  Unwrap(const cv::Point2d& axle, const cv::Size& size) {
    const int radii = int(std::hypot(size.width, size.height));
    map_x.create(radii, kBins, CV_32F);
    map_y.create(radii, kBins, CV_32F);
    for (int r = 0; r < radii; ++r) {
      for (int b = 0; b < kBins; ++b) {
        map_x.at<float>(r, b) = float(axle.x + (r + 1.0) * std::sin(b * kBin_rad));
        map_y.at<float>(r, b) = float(axle.y + (r + 1.0) * std::cos(b * kBin_rad));
      }
    }
  }
  [[nodiscard]] cv::Mat operator()(const cv::Mat& picture, double outside) const {
    cv::Mat out;
    cv::remap(
        picture, out, map_x, map_y, cv::INTER_LINEAR, cv::BORDER_CONSTANT, cv::Scalar(outside));
    return out;
  }
};

/// The arm in unwrapped form: how it looks and where it is, turned so that it points to bin 0.
struct PolarArm {
  cv::Mat look, presence;  // CV_32F, radii x bins
};

cv::Mat turned(const cv::Mat& polar, int bins) {
  const int shift = wrapped_bin(bins);
  if (shift == 0) return polar;
  cv::Mat out;
  cv::hconcat(polar.colRange(shift, kBins), polar.colRange(0, shift), out);
  return out;
}

class CoarseSearch {
 public:
  CoarseSearch(const ClipSurvey& survey, const cv::Point2d& axle)
      : survey_(survey),
        unwrap_(axle, survey.small.front().size()),
        threshold_(std::max(10.0, 5.0 * survey.noise)) {
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
      // Still stretches would outvote the swing; a frame counts by what changed, at least a
      // little.
      const double w = std::min(1.0, 0.02 + 20.0 * survey_.motion[k]);
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
  Unwrap unwrap_;
  double threshold_;
  static constexpr std::size_t kMostKept = 500;  ///< some 50 MB
  cv::Mat background_;                           ///< CV_32FC1, -1 outside the picture
  std::vector<cv::Mat> looks_;
};

std::vector<std::vector<float>> CoarseSearch::likelihood(const PolarArm& arm,
                                                         float least_presence) const {
  struct Cell {
    int row, bin;
    float look, weight;
  };
  std::vector<Cell> cells;
  for (int r = 0; r < arm.presence.rows; ++r) {
    for (int b = 0; b < kBins; ++b) {
      const float presence = arm.presence.at<float>(r, b);
      // A direction bin at radius r is r wide: weigh by area.
      if (presence > least_presence)
        cells.push_back({r, b, arm.look.at<float>(r, b), presence * float(r + 1)});
    }
  }
  const float cap = float(3.0 * threshold_);
  std::vector<std::vector<float>> scores(survey_.small.size(), std::vector<float>(kBins, 0.0F));
  const auto score_of = [&](const cv::Mat& look, int turn) {
    float sum = 0.0F;
    for (const Cell& c : cells) {
      const int bin = c.bin + turn < kBins ? c.bin + turn : c.bin + turn - kBins;
      const float behind = background_.at<float>(c.row, bin);
      if (behind < 0.0F) continue;  // outside the picture: says nothing
      const auto value = float(look.at<uchar>(c.row, bin));
      const float to_background = std::min(cap, std::abs(value - behind));
      sum += c.weight * (to_background - std::min(cap, std::abs(value - c.look)));
    }
    return std::max(0.0F, sum);
  };
  on_all_cores(scores.size(), [&](std::size_t k) {
    const cv::Mat unwrapped = look(k);
    for (int turn = 0; turn < kBins; ++turn)
      scores[k][std::size_t(turn)] = score_of(unwrapped, turn);
  });
  return scores;
}

/// Vertex of the parabola through the best bin and its neighbours, in bins from it.
double vertex(const std::vector<float>& row, int bin) {
  const double left = double(row[std::size_t(wrapped_bin(bin - 1))]),
               mid = double(row[std::size_t(wrapped_bin(bin))]),
               right = double(row[std::size_t(wrapped_bin(bin + 1))]);
  const double bend = left - 2.0 * mid + right;
  return bend < 0.0 ? std::clamp(0.5 * (left - right) / bend, -1.0, 1.0) : 0.0;
}

/// Whether the arm was at that radius and bin in more than four pictures of ten.
bool is_arm(const PolarArm& arm, int r, int b) {
  return arm.presence.at<float>(r, wrapped_bin(b)) > 0.4F;
}

/// Whole bins from bin 0 to the middle of the arm's far half, on a short arc: its axle may be
/// off, and most radii then lie along a line that crosses the arm. On a long one bin 0 is
/// right, and the far half may have its shadow beside it.
int bins_to_far_half(const PolarArm& arm, const std::vector<int>& path) {
  constexpr int kShort = 45;
  const auto [lowest, highest] = std::minmax_element(path.begin(), path.end());
  if (*highest - *lowest > kShort) return 0;
  int length = 0;
  for (int r = 0; r < arm.presence.rows; ++r) {
    for (int b = -60; b <= 60; ++b) length = is_arm(arm, r, b) ? r + 1 : length;
  }
  double area = 0.0, moment = 0.0;
  for (int r = length / 2; r < length; ++r) {
    for (int b = -60; b <= 60; ++b) {
      if (!is_arm(arm, r, b)) continue;
      area += r + 1.0;
      moment += b * (r + 1.0);
    }
  }
  return area > 0.0 ? int(std::lround(moment / area)) : 0;
}

/// Extent of the arm's presence, in small pixels.
void measure_extent(const PolarArm& arm, CoarseAngles& out) {
  for (int r = 0; r < arm.presence.rows; ++r) {
    int widest = 0;
    for (int b = -60; b <= 60; ++b) {
      if (is_arm(arm, r, b)) widest = std::max(widest, std::abs(b));
    }
    const bool ahead = is_arm(arm, r, 0) || widest > 0;
    if (ahead) {
      out.arm_length_px = r + 1.0;
      out.arm_half_width_px =
          std::max(out.arm_half_width_px, (r + 1.0) * std::sin(widest * kBin_rad));
    }
    for (int b = 150; b <= 210; ++b) {
      if (is_arm(arm, r, b)) out.arm_behind_px = r + 1.0;
    }
  }
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

}  // namespace

CoarseAngles find_coarse_angles(const ClipSurvey& survey, const cv::Point2d& axle_small_px) {
  const CoarseSearch search(survey, axle_small_px);
  std::vector<std::vector<float>> scores = search.coverage();
  std::vector<int> path = best_path(scores, survey.t_s);
  PolarArm arm = search.arm_along(path);
  // Shadows turn with the arm in part: they are let go as the arm gets clearer.
  for (const float least_presence : {0.25F, 0.45F, 0.6F}) {
    scores = search.likelihood(arm, least_presence);
    path = best_path(scores, survey.t_s);
    arm = search.arm_along(path);
  }
  const int off = bins_to_far_half(arm, path);
  CoarseAngles out;
  measure_extent({arm.look, turned(arm.presence, off)}, out);
  out.arm_length_px *= survey.shrink;
  out.arm_half_width_px *= survey.shrink;
  out.arm_behind_px *= survey.shrink;
  out.quality = explained_part(search, arm, path);
  std::vector<float> best;
  for (std::size_t k = 0; k < path.size(); ++k)
    best.push_back(scores[k][std::size_t(wrapped_bin(path[k]))]);
  const double typical = std::max(1e-6, double(median_of(best)));
  for (std::size_t k = 0; k < path.size(); ++k) {
    out.theta_rad.push_back((path[k] + vertex(scores[k], path[k]) + off) * kBin_rad);
    out.support.push_back(std::min(1.0, double(best[k]) / typical));
  }
  // The unwrapped path may be off by whole turns: bring its middle nearest to hanging down.
  const auto [low, high] = std::minmax_element(out.theta_rad.begin(), out.theta_rad.end());
  out.swept_rad = *high - *low;
  const double turns = 2.0 * kPi * std::round(0.5 * (*high + *low) / (2.0 * kPi));
  for (double& theta : out.theta_rad) theta -= turns;
  return out;
}

}  // namespace swingloss
