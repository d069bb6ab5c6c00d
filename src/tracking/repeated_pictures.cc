// SPDX-License-Identifier: Apache-2.0
#include "tracking/repeated_pictures.h"

#include <algorithm>
#include <memory>
#include <string>
#include <utility>

namespace swingloss {
namespace {

/// Motion is looked at in so many frames before and after one: of a film of 30 pictures a
/// second made one of 120, three in four are repeats.
constexpr int kReach = 5;

/// Greatest motion among the frames from `first` to `last`, both included.
double greatest_motion(const ClipSurvey& survey, int first, int last) {
  double most = 0.0;
  for (int k = std::max(0, first); k <= std::min(last, int(survey.motion.size()) - 1); ++k)
    most = std::max(most, survey.motion[std::size_t(k)]);
  return most;
}

class ThinnedSource : public FrameSource {
 public:
  ThinnedSource(std::unique_ptr<FrameSource> source, std::vector<int> left_out)
      : source_(std::move(source)), left_out_(std::move(left_out)) {}

  std::optional<Frame> next() override {
    std::optional<Frame> frame = source_->next();
    while (frame && std::binary_search(left_out_.begin(), left_out_.end(), frame->index))
      frame = source_->next();
    if (frame) frame->index = count_++;
    return frame;
  }
  [[nodiscard]] const ClipInfo& info() const override { return source_->info(); }
  [[nodiscard]] Remarks remarks() const override { return source_->remarks(); }

 private:
  std::unique_ptr<FrameSource> source_;
  std::vector<int> left_out_;
  int count_ = 0;
};

}  // namespace

std::vector<int> repeated_pictures(const ClipSurvey& survey) {
  constexpr double kLively = 0.2, kNothing = 0.1;
  const double most = greatest_motion(survey, 0, int(survey.motion.size()) - 1);
  std::vector<int> repeated;
  std::size_t lively = 0;
  for (int k = 1; k < int(survey.motion.size()); ++k) {
    const double before = greatest_motion(survey, k - kReach, k - 1);
    const double after = greatest_motion(survey, k + 1, k + kReach);
    const double moves = std::min(before, after);
    const bool judged = survey.frames[std::size_t(k)] == survey.frames[std::size_t(k) - 1] + 1;
    if (!judged || moves < kLively * most) continue;
    ++lively;
    if (survey.motion[std::size_t(k)] < kNothing * moves)
      repeated.push_back(survey.frames[std::size_t(k)]);
  }
  // Thrown back, an arm may be where it was a picture before once.
  const bool often = repeated.size() > 2 && 20 * repeated.size() > lively;
  return often ? repeated : std::vector<int>();
}

ClipOpener without_pictures(const ClipOpener& open, const std::vector<int>& left_out) {
  return [open, left_out] { return std::make_unique<ThinnedSource>(open(), left_out); };
}

std::vector<int> numbers_of_kept(int frames, const std::vector<int>& left_out) {
  std::vector<int> numbers;
  numbers.reserve(std::size_t(frames));
  for (int frame = 0; frame < frames; ++frame) {
    if (!std::binary_search(left_out.begin(), left_out.end(), frame)) numbers.push_back(frame);
  }
  return numbers;
}

Remark repeated_remark(std::size_t repeated, std::size_t frames) {
  return {"pictures-repeated",
          Severity::Note,
          std::to_string(repeated) + " of " + std::to_string(frames) +
              " pictures show the one before once more, as when a film is brought to another "
              "picture rate. They were left out. The camera's own file gives surer angles."};
}

}  // namespace swingloss
