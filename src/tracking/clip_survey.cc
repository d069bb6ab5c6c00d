// SPDX-License-Identifier: Apache-2.0
#include "tracking/clip_survey.h"

#include "core/median.h"
#include "tracking/even_light.h"
#include "tracking/kept_pictures.h"
#include "tracking/shrunk_picture.h"

#include <algorithm>
#include <cmath>

namespace swingloss {
namespace {

/// Standard deviation of the difference of two pictures, blind to what moved: from the median
/// absolute difference of a sparse grid. Whole levels make that coarse, so the mean of the
/// smaller half is used instead: for a normal difference it is 0.3246 standard deviations.
double quiet_deviation(const cv::Mat& a, const cv::Mat& b) {
  std::vector<double> differences;
  for (int y = 1; y < a.rows; y += 3) {
    for (int x = 1; x < a.cols; x += 3) {
      differences.push_back(std::abs(double(a.at<uchar>(y, x)) - double(b.at<uchar>(y, x))));
    }
  }
  if (differences.size() < 8) return 0.0;
  std::sort(differences.begin(), differences.end());
  double sum = 0.0;
  const std::size_t half = differences.size() / 2;
  for (std::size_t i = 0; i < half; ++i) sum += differences[i];
  return sum / static_cast<double>(half) / 0.3246;
}

double changed_part(const cv::Mat& a, const cv::Mat& b, double threshold) {
  cv::Mat difference;
  cv::absdiff(a, b, difference);
  return double(cv::countNonZero(difference > threshold)) / double(difference.total());
}

/// Whether two small pictures show the same, but for noise.
/// \param deviation  of the difference of two pictures of a still scene
bool alike(const cv::Mat& a, const cv::Mat& b, double deviation) {
  return changed_part(a, b, std::max(8.0, 6.0 * deviation)) == 0.0;
}

/// Pictures whose cumulated motion is evenly spaced: a long rest counts once.
std::vector<int> spread_by_motion(const std::vector<double>& motion, int wanted) {
  std::vector<double> cumulated(motion.size(), 0.0);
  for (std::size_t k = 1; k < motion.size(); ++k) cumulated[k] = cumulated[k - 1] + motion[k];
  const double total = cumulated.back();
  std::vector<int> frames;
  if (total <= 0.0) return {0};
  for (int i = 0; i < wanted; ++i) {
    const double at = total * (i + 0.5) / wanted;
    const auto k = static_cast<int>(std::lower_bound(cumulated.begin(), cumulated.end(), at) -
                                    cumulated.begin());
    if (frames.empty() || frames.back() < k)
      frames.push_back(std::min(k, int(motion.size()) - 1));
  }
  return frames;
}

/// Pixelwise median of CV_8UC1 pictures of one size.
cv::Mat median_picture(const std::vector<cv::Mat>& pictures) {
  cv::Mat out(pictures.front().size(), CV_32FC1);
  const std::size_t n = pictures.size();
  std::vector<uchar> column(n);
  for (int y = 0; y < out.rows; ++y) {
    for (int x = 0; x < out.cols; ++x) {
      for (std::size_t i = 0; i < n; ++i) column[i] = pictures[i].at<uchar>(y, x);
      out.at<float>(y, x) = float(middle_third_mean(column));
    }
  }
  return out;
}

}  // namespace

ClipSurvey survey_clip(const ClipOpener& open, const SurveyOptions& options) {
  ClipSurvey survey;
  const std::unique_ptr<FrameSource> source = open();
  survey.info = source->info();
  std::vector<double> deviations, changes;
  KeptPictures kept(options.most_bytes);
  cv::Mat first, last, shared;
  while (const std::optional<Frame> frame = source->next()) {
    const int side = std::max(frame->luma.cols, frame->luma.rows);
    survey.shrink = std::max(1, (side + options.small_side_px - 1) / options.small_side_px);
    const cv::Mat small = shrunk_picture(frame->luma, survey.shrink);
    if (!last.empty()) {
      deviations.push_back(quiet_deviation(last, small));
      changes.push_back(light_change(last, small));
      survey.light_range = std::max(survey.light_range, light_change(first, small));
    } else {
      first = small;
    }
    const bool is_still = !last.empty() && alike(shared, small, deviations.back());
    if (!is_still) shared = small;
    kept.add(int(survey.t_s.size()), shared);
    survey.t_s.push_back(frame->t_s);
    last = small;
  }
  survey.remarks = source->remarks();
  survey.frames = kept.frames();
  survey.small = kept.pictures();
  if (survey.small.size() < 2) return survey;

  survey.flicker = median_of(std::move(changes));
  survey.noise = std::max(0.5, median_of(deviations) / std::sqrt(2.0));
  const double threshold = std::max(8.0, 6.0 * survey.noise);
  survey.motion.assign(survey.small.size(), 0.0);
  for (std::size_t k = 1; k < survey.small.size(); ++k) {
    if (survey.frames[k] == survey.frames[k - 1] + 1)
      survey.motion[k] = changed_part(survey.small[k - 1], survey.small[k], threshold);
  }
  survey.spread = spread_by_motion(survey.motion, options.background_frames);
  std::vector<cv::Mat> chosen;
  for (int k : survey.spread) chosen.push_back(survey.small[std::size_t(k)]);
  survey.small_background = median_picture(chosen);
  return survey;
}

cv::Mat full_background(const ClipOpener& open, const ClipSurvey& survey, int shrink) {
  std::vector<cv::Mat> chosen;
  const std::unique_ptr<FrameSource> source = open();
  for (const int k : survey.spread) {
    const int wanted = survey.frames[std::size_t(k)];
    std::optional<Frame> frame = source->next();
    while (frame && frame->index < wanted) frame = source->next();
    if (!frame) break;
    chosen.push_back(shrunk_picture(frame->luma, shrink));
  }
  return median_picture(chosen);
}

}  // namespace swingloss
