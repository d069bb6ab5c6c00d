// SPDX-License-Identifier: Apache-2.0
#include "tracking/coarse_follow.h"

#include "tracking/all_cores.h"
#include "tracking/polar_match.h"
#include "tracking/shrunk_picture.h"

#include <algorithm>
#include <cmath>
#include <utility>

namespace swingloss {
namespace {

/// So many frames are settled at a time, with so many on either side to tell their path.
constexpr std::size_t kPiece = 1000, kBeside = 250;
/// Pictures in memory at once.
constexpr std::size_t kAtOnce = 128;

using Scores = std::vector<std::vector<float>>;

/// The next small pictures, unwrapped and scored; none at the clip's end.
Scores next_scores(FrameSource& source,
                   int shrink,
                   const PolarMap& unwrap,
                   const PolarMatch& match) {
  std::vector<cv::Mat> pictures;
  while (pictures.size() < kAtOnce) {
    const std::optional<Frame> frame = source.next();
    if (!frame) break;
    pictures.push_back(shrunk_picture(frame->luma, shrink));
  }
  Scores out(pictures.size());
  on_all_cores(out.size(),
               [&](std::size_t k) { out[k] = match.scores(unwrap(pictures[k], 0.0)); });
  return out;
}

/// The path through scores as they come, settled where enough of what follows is known.
class RunningPath {
 public:
  RunningPath(const std::vector<double>& t_s, int off_bins) : t_s_(t_s), off_bins_(off_bins) {}

  void add(Scores scores) {
    for (std::vector<float>& row : scores) open_.push_back(std::move(row));
    if (open_.size() >= kBeside + kPiece + kBeside) settle(kBeside);
  }

  std::vector<double> finish() {
    if (theta_rad_.size() < first_ + open_.size()) settle(0);
    return std::move(theta_rad_);
  }

 private:
  /// Settles all but so many of the last.
  void settle(std::size_t but_last) {
    const auto from = t_s_.begin() + std::ptrdiff_t(first_);
    std::vector<int> path = best_path(open_, {from, from + std::ptrdiff_t(open_.size())});
    const std::size_t known = theta_rad_.size() - first_;
    if (known > 0) {
      // Each piece's path counts whole turns anew.
      const int turns = int(std::lround(double(last_bin_ - path[known - 1]) / kDirectionBins));
      for (int& bin : path) bin += turns * kDirectionBins;
    }
    const std::size_t to = open_.size() - but_last;
    for (std::size_t k = known; k < to; ++k)
      theta_rad_.push_back(direction_rad(open_[k], path[k], off_bins_));
    last_bin_ = path[to - 1];
    const std::size_t drop = to > kBeside ? to - kBeside : 0;
    open_.erase(open_.begin(), open_.begin() + std::ptrdiff_t(drop));
    first_ += drop;
  }

  const std::vector<double>& t_s_;
  int off_bins_;
  Scores open_;            // of frames from first_ on
  std::size_t first_ = 0;  // frame of open_'s first row
  int last_bin_ = 0;       // of the last settled frame
  std::vector<double> theta_rad_;
};

}  // namespace

CoarseAngles in_every_frame(const ClipOpener& open,
                            const ClipSurvey& survey,
                            const cv::Point2d& axle_small_px,
                            CoarseAngles found) {
  if (survey.frames.size() == survey.t_s.size()) return found;
  const PolarMap unwrap(axle_small_px, survey.small_background.size());
  const PolarMatch match(unwrap(survey.small_background, -1.0),
                         found.arm,
                         kClearPresence,
                         match_cap_levels(survey));
  RunningPath path(survey.t_s, found.off_bins);
  const std::unique_ptr<FrameSource> source = open();
  while (true) {
    Scores scores = next_scores(*source, survey.shrink, unwrap, match);
    if (scores.empty()) break;
    path.add(std::move(scores));
  }
  found.theta_rad = path.finish();
  settle_turns(found);
  return found;
}

}  // namespace swingloss
