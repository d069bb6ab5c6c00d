// SPDX-License-Identifier: Apache-2.0
#include "core/median.h"
#include "imaging/between_pixels.h"
#include "surface/appearance.h"

#include <algorithm>
#include <cmath>
#include <optional>

#include <opencv2/imgproc.hpp>

namespace swingloss {
namespace {

/// Coarse shading goes first: a slope of brightness would correlate over all distances.
/// \param coarse_px  standard deviation of what counts as shading
cv::Mat without_shading(const cv::Mat& values, double coarse_px) {
  cv::Mat coarse;
  cv::GaussianBlur(values, coarse, {}, coarse_px, coarse_px, cv::BORDER_REFLECT);
  cv::Mat fine = values - coarse;
  // A few glints must not make the correlation: all beyond two scatters count as two.
  const double limit = 2.0 * std::sqrt(fine.dot(fine) / double(fine.total()));
  cv::min(fine, limit, fine);
  cv::max(fine, -limit, fine);
  return fine - cv::mean(fine);
}

/// Autocorrelation for shifts of -reach .. reach both ways, each divided by the number of
/// pixels that overlap, and by its value at no shift.
cv::Mat autocorrelation(const cv::Mat& values, int reach) {
  cv::Mat padded;
  cv::copyMakeBorder(values, padded, 0, reach, 0, reach, cv::BORDER_CONSTANT, cv::Scalar(0.0));
  const cv::Size fast(cv::getOptimalDFTSize(padded.cols), cv::getOptimalDFTSize(padded.rows));
  cv::copyMakeBorder(padded,
                     padded,
                     0,
                     fast.height - padded.rows,
                     0,
                     fast.width - padded.cols,
                     cv::BORDER_CONSTANT,
                     cv::Scalar(0.0));
  cv::Mat spectrum;
  cv::dft(padded, spectrum);
  cv::mulSpectrums(spectrum, spectrum, spectrum, 0, true);
  cv::Mat all;
  cv::idft(spectrum, all, cv::DFT_SCALE);
  cv::Mat out(2 * reach + 1, 2 * reach + 1, CV_32FC1);
  const double at_zero = std::max(1e-12, double(all.at<float>(0, 0)) / double(values.total()));
  for (int y = -reach; y <= reach; ++y) {
    for (int x = -reach; x <= reach; ++x) {
      const double overlap =
          double(values.rows - std::abs(y)) * double(values.cols - std::abs(x));
      const float sum = all.at<float>((y + all.rows) % all.rows, (x + all.cols) % all.cols);
      out.at<float>(y + reach, x + reach) = float(double(sum) / overlap / at_zero);
    }
  }
  return out;
}

/// Where the outer points of a side lie within a stretch of its length, and how widely.
struct Stretch {
  double off_px = 0.0, scatter_px = 0.0;
};

/// \param from, to  in shares of the side
Stretch stretch_of(const SideLine& side, double from, double to) {
  const double length = (side.to_px - side.from_px).norm();
  std::vector<double> offs;
  for (const auto& p : side.points) {
    const double share = p.along_px / length + 0.5;
    if (share >= from && share <= to) offs.push_back(p.off_px);
  }
  Stretch out;
  out.off_px = median_of(offs);
  for (double& off : offs) off = std::abs(off - out.off_px);
  out.scatter_px = 1.48 * median_of(std::move(offs));
  return out;
}

constexpr double kStep_px = 0.5;
constexpr double kNearest_px = 2.0;  ///< shorter shifts are the texture's own grain

/// The correlation along one direction of shift, each value the mean over a stretch square to
/// it: along lines it stays, of texture it falls to zero. So the direction is theirs, where
/// single shifts are as good when they go aslant.
std::vector<double> profile_along(const cv::Mat& correlation, int reach, double angle) {
  constexpr int kStretch_px = 10;
  std::vector<double> profile;
  for (int i = 0; kNearest_px + i * kStep_px < reach - kStretch_px / 2.0; ++i) {
    const double r = kNearest_px + i * kStep_px;
    double sum = 0.0;
    int count = 0;
    for (int s = -kStretch_px; s <= kStretch_px; ++s) {
      const double x = r * std::cos(angle) - s * std::sin(angle) + reach;
      const double y = r * std::sin(angle) + s * std::cos(angle) + reach;
      if (x < 0.0 || y < 0.0 || x > 2.0 * reach || y > 2.0 * reach) continue;
      sum += between_pixels(correlation, x, y);
      ++count;
    }
    profile.push_back(sum / std::max(1, count));
  }
  return profile;
}

bool is_peak(const std::vector<double>& v, std::size_t i) {
  return i > 0 && i + 1 < v.size() && v[i] >= v[i - 1] && v[i] >= v[i + 1];
}

/// Place of a peak between its neighbours, by a parabola [px].
double peak_px(const std::vector<double>& v, std::size_t i) {
  const double curve = v[i - 1] - 2.0 * v[i] + v[i + 1];
  const double shift = curve < 0.0 ? 0.5 * (v[i - 1] - v[i + 1]) / curve : 0.0;
  return kNearest_px + kStep_px * (double(i) + std::clamp(shift, -1.0, 1.0));
}

/// The distance once more, from the second to the fourth line on too: least squares.
double over_several_px(const std::vector<double>& profile, double pitch_px) {
  double kk = 1.0;
  double kp = pitch_px;
  for (int k = 2; k <= 4; ++k) {
    const double expected = k * kp / kk;
    std::optional<std::size_t> best;
    for (std::size_t i = 1; i + 1 < profile.size(); ++i) {
      const double place = kNearest_px + kStep_px * double(i);
      const bool near = std::abs(place - expected) < 0.25 * kp / kk;
      if (near && profile[i] > 0.0 && is_peak(profile, i) &&
          (!best || profile[i] > profile[*best]))
        best = i;
    }
    if (!best) break;
    kk += double(k) * k;
    kp += k * peak_px(profile, *best);
  }
  return kp / kk;
}

/// Along one direction of shift: the first hollow, then the peak behind it. Their difference is
/// what evenness adds to plain texture, which falls to zero and stays there. Of several peaks
/// the first that is nearly as good as the best: the others are the second line and so on.
EvenLines lines_along(const cv::Mat& correlation, int reach, double angle) {
  constexpr double kAsGood = 0.75;
  const std::vector<double> profile = profile_along(correlation, reach, angle);
  std::vector<double> rise(profile.size(), 0.0);
  double lowest = 1.0;
  double most = 0.0;
  for (std::size_t i = 0; i < profile.size(); ++i) {
    lowest = std::min(lowest, profile[i]);
    if (profile[i] > 0.0) rise[i] = (profile[i] - std::max(-1.0, lowest)) / 2.0;
    if (is_peak(profile, i)) most = std::max(most, rise[i]);
  }
  for (std::size_t i = 1; i + 1 < rise.size(); ++i) {
    if (!is_peak(profile, i) || rise[i] < kAsGood * most || rise[i] <= 0.0) continue;
    // Lines run square to the shift; from the vertical, folded to 0 .. 90 degrees.
    const double turn = std::remainder(-angle, CV_PI);
    const double turned = std::abs(turn);
    return {rise[i],
            std::min(turned, CV_PI - turned),
            turn,
            over_several_px(profile, peak_px(profile, i))};
  }
  return {};
}

EvenLines lines_beside(const cv::Mat& brightness, double coarse_px) {
  const int reach = std::min({60, brightness.rows / 3, brightness.cols / 3});
  const cv::Mat correlation = autocorrelation(without_shading(brightness, coarse_px), reach);
  EvenLines best;
  constexpr int kWays = 72;
  for (int way = 0; way < kWays; ++way) {
    const EvenLines lines = lines_along(correlation, reach, CV_PI * way / kWays - CV_PI / 2.0);
    if (lines.strength > best.strength) best = lines;
  }
  return best;
}

}  // namespace

EvenLines even_lines(const cv::Mat& brightness) {
  // Facets beside fine lines hide them unless what is coarser than the lines is taken off.
  constexpr double kCoarse_px = 8.0;
  constexpr double kFine_px = 3.0;
  const EvenLines coarse = lines_beside(brightness, kCoarse_px);
  const EvenLines fine = lines_beside(brightness, kFine_px);
  const bool fits = fine.pitch_px < 4.0 * kFine_px;
  return fits && fine.strength > coarse.strength ? fine : coarse;
}

OutlineDeformation deformation_of(const SectionShape& shape) {
  OutlineDeformation out;
  if (!shape.notch_found) return out;
  // Sides clockwise from the notched one: 1 runs from notch to far side, 3 back.
  const auto& right = shape.sides[1];
  const auto& left = shape.sides[3];
  const double h = (right.middle_px - left.middle_px).norm();
  const double length = (right.to_px - right.from_px).norm();
  const double root = shape.notch_depth_px / length;
  const double end = 0.02;
  /// A side that was placed now here, now there, shows no form: where the bar hardly differs
  /// from the ground, its outline is one of shadows and specks.
  constexpr double kUnclear = 0.04;
  bool clear = true;
  const auto width_at = [&](double from, double to) {
    // The fitted sides need not be parallel: what they converge by belongs to the deformation.
    const double s = (from + to) / 2.0;
    const Eigen::Vector2d a = right.from_px + s * (right.to_px - right.from_px);
    const Eigen::Vector2d b = left.to_px + s * (left.from_px - left.to_px);
    const Stretch on_right = stretch_of(right, from, to);
    const Stretch on_left = stretch_of(left, 1.0 - to, 1.0 - from);
    clear = clear && std::max(on_right.scatter_px, on_left.scatter_px) < kUnclear * h;
    return (a - b).norm() + on_right.off_px + on_left.off_px;
  };
  const double middle = width_at(root + 0.35 * (1.0 - root), root + 0.65 * (1.0 - root));
  const double at_root = width_at(root, root + 0.12 * (1.0 - root));
  const double at_end = width_at(1.0 - 0.12 * (1.0 - root), 1.0 - end);
  if (!clear) return out;
  out.contraction = (middle - at_root) / h;
  out.swelling = (at_end - middle) / h;
  return out;
}

}  // namespace swingloss
