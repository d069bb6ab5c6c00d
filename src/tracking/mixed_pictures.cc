// SPDX-License-Identifier: Apache-2.0
#include "tracking/mixed_pictures.h"

#include "tracking/changed_clip.h"
#include "tracking/every_few.h"

#include <algorithm>
#include <array>
#include <cstddef>
#include <vector>

namespace swingloss {
namespace {

/// In how many places and pictures something passed, by how long it was seen there.
struct Passages {
  double in_one = 0.0, in_two = 0.0, in_three = 0.0;
  double in_two_alike = 0.0;       ///< as strongly in both
  double in_three_and_half = 0.0;  ///< half as strongly in the first and the last together
};

/// Counts what comes and goes within five pictures in a row.
/// \param seen  difference from the background in each, CV_32FC1
/// \param clear  difference that is something [levels]
void count_passages(const std::array<cv::Mat, 5>& seen, double clear, Passages& out) {
  std::array<cv::Mat, 5> there, size, gone;
  for (std::size_t i = 0; i < seen.size(); ++i) {
    size[i] = cv::abs(seen[i]);
    there[i] = size[i] > clear;
    gone[i] = size[i] < 0.5 * clear;
  }
  const auto places = [](const cv::Mat& mask) { return double(cv::countNonZero(mask)); };
  const auto near = [clear](const cv::Mat& a, const cv::Mat& b) -> cv::Mat {
    return cv::abs(a - b) < cv::max(0.5 * clear, 0.2 * cv::abs(b));
  };
  const cv::Mat enters = gone[0] & there[1];
  out.in_one += places(enters & gone[2]);
  const cv::Mat two = enters & there[2] & gone[3];
  out.in_two += places(two);
  out.in_two_alike += places(two & near(seen[1], seen[2]));
  const cv::Mat three = enters & there[2] & there[3] & gone[4];
  out.in_three += places(three);
  out.in_three_and_half += places(three & near(seen[1] + seen[3], seen[2]));
}

/// Pictures of fast motion that have two more on either side, a hundred at most; indices into
/// the survey's kept ones.
std::vector<std::size_t> fast_pictures(const ClipSurvey& survey) {
  constexpr double kFast = 0.3;
  constexpr std::size_t kMost = 100;
  const double most = *std::max_element(survey.motion.begin(), survey.motion.end());
  std::vector<std::size_t> fast;
  for (std::size_t k = 2; k + 2 < survey.small.size(); ++k) {
    const bool in_a_row = survey.frames[k + 2] == survey.frames[k - 2] + 4;
    if (in_a_row && survey.motion[k] >= kFast * most) fast.push_back(k);
  }
  std::vector<std::size_t> spread;
  for (const std::size_t i : every_few(fast.size(), kMost)) spread.push_back(fast[i]);
  return spread;
}

/// Mean of two moments undone, picture by picture. Copies share no pixels: they are replaced,
/// never written to.
class Unmixing {
 public:
  void operator()(Frame& frame) {
    // Of what was wrong in the moment before, so much stays in this one.
    constexpr double kLeft = 0.9;
    // Three pictures closer than that show something at rest [levels].
    constexpr double kAtRest = 3.0;
    cv::Mat mean;
    frame.luma.convertTo(mean, CV_32F);
    if (moment_.empty()) moment_ = mean_before_ = mean_before_that_ = mean;
    cv::Mat moment = mean + kLeft * (mean - moment_);
    const cv::Mat at_rest = (cv::abs(mean - mean_before_) < kAtRest) &
                            (cv::abs(mean - mean_before_that_) < kAtRest);
    mean.copyTo(moment, at_rest);
    mean_before_that_ = mean_before_;
    mean_before_ = mean;
    moment_ = moment;
    moment.convertTo(frame.luma, CV_8U);
    frame.bgr.release();
  }

 private:
  cv::Mat moment_, mean_before_, mean_before_that_;
};

}  // namespace

std::optional<Remark> mixed_pictures(const ClipSurvey& survey) {
  const double clear = std::max(12.0, 6.0 * survey.noise);
  Passages passages;
  for (const std::size_t middle : fast_pictures(survey)) {
    std::array<cv::Mat, 5> seen;
    for (std::size_t i = 0; i < seen.size(); ++i) {
      survey.small[middle - 2 + i].convertTo(seen[i], CV_32F);
      seen[i] -= survey.small_background;
    }
    count_passages(seen, clear, passages);
  }
  // Of some 150 clips, most of them rendered, three in ten passages or more are seen in one
  // picture and half of those in two are alike; of three with mixed pictures it is 0.2 % and
  // 98 %. At other rates of mixing the clips are followed well as they are.
  const double seen_often = passages.in_two + passages.in_three;
  const bool mixed = passages.in_two > 100.0 && passages.in_one < 0.03 * seen_often &&
                     passages.in_two_alike > 0.85 * passages.in_two &&
                     passages.in_three_and_half > 0.7 * passages.in_three;
  if (!mixed) return std::nullopt;
  return Remark{"pictures-mixed",
                Severity::Warning,
                "Each picture is the mean of two moments (frame blending, as editing programs "
                "do it): the arm is seen twice. The moments were taken apart again. The "
                "camera's own file gives surer angles."};
}

ClipOpener unmixed(const ClipOpener& open) { return changed_clip(open, Unmixing{}); }

}  // namespace swingloss
