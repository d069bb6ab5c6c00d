// SPDX-License-Identifier: Apache-2.0
#include "tracking/kept_pictures.h"

#include <utility>

namespace swingloss {
namespace {

/// Frames of a run: half a second of usual footage.
constexpr int kRun = 32;

std::size_t bytes_beside(const cv::Mat& picture, const std::vector<cv::Mat>& kept) {
  const bool shared = !kept.empty() && kept.back().data == picture.data;
  return shared ? 0 : picture.total() * picture.elemSize();
}

}  // namespace

void KeptPictures::add(int frame, const cv::Mat& picture) {
  if (!wanted(frame)) return;
  bytes_ += bytes_beside(picture, pictures_);
  frames_.push_back(frame);
  pictures_.push_back(picture);
  // One run always stays, however large its pictures.
  while (bytes_ > most_bytes_ && frames_.back() >= every_ * kRun) thin();
}

bool KeptPictures::wanted(int frame) const { return frame / kRun % every_ == 0; }

void KeptPictures::thin() {
  every_ *= 2;
  bytes_ = 0;
  std::vector<int> frames;
  std::vector<cv::Mat> pictures;
  for (std::size_t k = 0; k < frames_.size(); ++k) {
    if (!wanted(frames_[k])) continue;
    bytes_ += bytes_beside(pictures_[k], pictures);
    frames.push_back(frames_[k]);
    pictures.push_back(pictures_[k]);
  }
  frames_ = std::move(frames);
  pictures_ = std::move(pictures);
}

}  // namespace swingloss
