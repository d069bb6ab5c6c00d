// SPDX-License-Identifier: Apache-2.0
#include "report/clip_pictures.h"

#include "imaging/still.h"
#include "report/drawing.h"

#include <algorithm>

#include <opencv2/imgproc.hpp>

namespace swingloss {
namespace {

constexpr std::size_t kMostKept_bytes = std::size_t{200} << 20U;
constexpr int kQuality = 82;

}  // namespace

ClipPictures::ClipPictures(ClipOpener open) : open_(std::move(open)), source_(open_()) {}

ClipPictures::~ClipPictures() = default;

void ClipPictures::take_next() {
  const std::optional<Frame> frame = source_->next();
  at_end_ = !frame;
  if (at_end_) counted_ = next_;
  if (!frame) return;
  std::string bytes = jpeg_bytes(frame->bgr, kQuality);
  if (kept_bytes_ + bytes.size() > kMostKept_bytes) {
    kept_.clear();
    kept_bytes_ = 0;
  }
  kept_bytes_ += bytes.size();
  kept_[next_++] = std::move(bytes);
}

std::string ClipPictures::jpeg(int index) {
  const std::lock_guard<std::mutex> lock(mutex_);
  const auto known = kept_.find(index);
  if (known != kept_.end()) return known->second;
  if (index < 0 || (at_end_ && index >= next_)) return {};
  if (index < next_) {
    source_ = open_();
    next_ = 0;
    at_end_ = false;
    kept_.clear();
    kept_bytes_ = 0;
  }
  while (next_ <= index && !at_end_) take_next();
  const auto found = kept_.find(index);
  return found == kept_.end() ? std::string() : found->second;
}

ClipFacts ClipPictures::facts() {
  const std::lock_guard<std::mutex> lock(mutex_);
  const ClipInfo& info = source_->info();
  return {counted_ > 0 ? counted_ : info.expected_frames, info.nominal_rate_per_s};
}

PhotoPicture photo_picture(const std::string& path, int most_px) {
  const Still still = read_still(path);
  PhotoPicture picture;
  picture.width_px = still.bgr.cols;
  picture.height_px = still.bgr.rows;
  const double shrink =
      std::min(1.0, double(most_px) / std::max(still.bgr.cols, still.bgr.rows));
  cv::Mat small;
  cv::resize(still.bgr, small, {}, shrink, shrink, cv::INTER_AREA);
  picture.jpeg = jpeg_bytes(small, kQuality);
  return picture;
}

}  // namespace swingloss
