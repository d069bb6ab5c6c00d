// SPDX-License-Identifier: Apache-2.0
#include "tracking/even_light.h"

#include "core/median.h"

#include <cmath>
#include <memory>
#include <utility>
#include <vector>

namespace swingloss {
namespace {

/// Of a picture's levels over those of a still one of the same scene.
double brightness_of(const cv::Mat& picture, const cv::Mat& still) {
  constexpr float kDark = 16.0F, kBright = 245.0F;  // black, burnt out: these say nothing
  const auto tells = [](float level) { return level > kDark && level < kBright; };
  std::vector<float> ratios;
  for (int row = 0; row < still.rows; row += 2) {
    for (int column = 0; column < still.cols; column += 2) {
      const auto seen = static_cast<float>(picture.at<uchar>(row, column));
      const auto usual = static_cast<float>(still.at<uchar>(row, column));
      if (tells(seen) && tells(usual)) ratios.push_back(seen / usual);
    }
  }
  constexpr std::size_t kFew = 100;
  if (ratios.size() < kFew) return 1.0;
  return middle_third_mean(ratios);
}

/// Pictures of another source, each in the light of the first.
class EvenSource : public FrameSource {
 public:
  explicit EvenSource(std::unique_ptr<FrameSource> source) : source_(std::move(source)) {}

  std::optional<Frame> next() override {
    std::optional<Frame> frame = source_->next();
    if (!frame) return frame;
    if (first_.empty()) first_ = frame->luma.clone();
    frame->luma = in_light_of(first_, frame->luma);
    frame->bgr.release();
    return frame;
  }
  [[nodiscard]] const ClipInfo& info() const override { return source_->info(); }
  [[nodiscard]] Remarks remarks() const override { return source_->remarks(); }

 private:
  std::unique_ptr<FrameSource> source_;
  cv::Mat first_;
};

}  // namespace

cv::Mat in_light_of(const cv::Mat& usual, const cv::Mat& picture) {
  constexpr double kSteady = 0.01;
  const double brightness = brightness_of(picture, usual);
  if (std::abs(brightness - 1.0) < kSteady) return picture;
  cv::Mat out;
  picture.convertTo(out, CV_8U, 1.0 / brightness);
  return out;
}

ClipOpener evened(const ClipOpener& open) {
  return [open] { return std::make_unique<EvenSource>(open()); };
}

}  // namespace swingloss
