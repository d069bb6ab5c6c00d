// SPDX-License-Identifier: Apache-2.0
#include "tracking/cast_shadow.h"

#include "core/angle.h"
#include "tracking/camera_curve.h"

#include <cmath>

#include <opencv2/imgproc.hpp>

namespace swingloss {
namespace {

/// Weighted sums over the frames of one place of what turns: levels seen there, and those of
/// the background behind it, both from black.
struct PlaceSums {
  double weight = 0.0, seen = 0.0, seen_squared = 0.0, both = 0.0, behind_squared = 0.0;

  void add(double w, double level, double behind) {
    weight += w;
    seen += w * level;
    seen_squared += w * level * level;
    both += w * level * behind;
    behind_squared += w * behind * behind;
  }
  /// About levels of its own. \pre weight > 0
  [[nodiscard]] double squares_as_arm() const { return seen_squared - seen * seen / weight; }
  /// About a part of what is behind it. \pre weight > 0
  [[nodiscard]] double squares_as_shadow() const {
    return behind_squared > 0.0 ? seen_squared - both * both / behind_squared : seen_squared;
  }
};

/// Of the places of the unwrapped arm, row by row.
class ArmPlaces {
 public:
  ArmPlaces(const cv::Mat& presence, double black_level)
      : black_level_(black_level), sums_(presence.total()) {
    // At its edges both an arm and its shadow are mixed with what is beside them.
    cv::erode(presence >= kClearPresence, inside_, cv::Mat::ones(3, 3, CV_8U));
  }

  /// \param behind  CV_32FC1, negative outside the picture; both turned as the presence
  void add(double weight, const cv::Mat& look, const cv::Mat& behind) {
    for (int row = 0; row < inside_.rows; ++row) {
      for (int bin = 0; bin < inside_.cols; ++bin) {
        const float level = behind.at<float>(row, bin);
        if (inside_.at<uchar>(row, bin) == 0 || level < 0.0F) continue;
        sums_[place(row, bin)].add(
            weight, look.at<uchar>(row, bin) - black_level_, double(level) - black_level_);
      }
    }
  }

  [[nodiscard]] double shadow_likeness() const {
    double as_arm = 0.0, as_shadow = 0.0;
    for (int row = 0; row < inside_.rows; ++row) {
      for (int bin = 0; bin < inside_.cols; ++bin) {
        const PlaceSums& sums = sums_[place(row, bin)];
        if (sums.weight <= 0.0) continue;
        const double area = row + 1.0;
        as_arm += area * sums.squares_as_arm();
        as_shadow += area * sums.squares_as_shadow();
      }
    }
    return as_arm > 0.0 && as_shadow > 0.0 ? std::sqrt(as_arm / as_shadow) : 1.0;
  }

 private:
  [[nodiscard]] std::size_t place(int row, int bin) const {
    return static_cast<std::size_t>(row) * static_cast<std::size_t>(inside_.cols) +
           static_cast<std::size_t>(bin);
  }

  cv::Mat inside_;  ///< CV_8UC1
  double black_level_;
  std::vector<PlaceSums> sums_;
};

}  // namespace

double shadow_likeness(const ClipSurvey& survey,
                       const cv::Point2d& axle_small_px,
                       const CoarseAngles& angles) {
  const PolarMap unwrap(axle_small_px, survey.small.front().size());
  const cv::Mat background = unwrap(survey.small_background, -1.0);
  ArmPlaces places(angles.arm.presence, curve_of(survey.info).black_level);
  for (std::size_t k = 0; k < survey.small.size(); ++k) {
    const int bin = int(std::lround(angles.theta_rad[k] / kDirectionBin_rad)) - angles.off_bins;
    places.add(frame_weight(survey, k),
               turned(unwrap(survey.small[k], 0.0), bin),
               turned(background, bin));
  }
  return places.shadow_likeness();
}

}  // namespace swingloss
