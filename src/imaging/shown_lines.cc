// SPDX-License-Identifier: Apache-2.0
#include "imaging/shown_lines.h"

#include "imaging/container_extent.h"
#include "imaging/demuxer.h"
#include "imaging/frame_pixels.h"
#include "imaging/picture_decoder.h"

#include <cstdlib>
#include <filesystem>

extern "C" {
#include <libavutil/frame.h>
}

namespace swingloss {
namespace {

/// A smaller change may be noise [levels].
constexpr int kMoved = 12;
/// Fewer moving pixels tell nothing.
constexpr long kFewest = 2000;
/// Some seventy progressive clips, rendered and filmed, plain and heavily coded, have ratios of
/// 0.33 to 0.57 and pure noise 1.0; woven ones 2.7 to 3.9, and 0.5 to 1.6 where coding has
/// wiped out most of their combs.
constexpr double kCombed = 1.15, kSmooth = 0.7;

}  // namespace

void CombCount::add(const cv::Mat& luma) {
  if (before_.size() != luma.size()) {
    before_ = luma.clone();
    return;
  }
  for (int y = 2; y + 2 < luma.rows; ++y) {
    const auto line = [&](int away) { return luma.ptr<uchar>(y + away); };
    const uchar *far_above = line(-2), *above = line(-1), *here = line(0), *below = line(1),
                *far_below = line(2), *was = before_.ptr<uchar>(y);
    long moved = 0, neighbours = 0, every_other = 0;
    for (int x = 0; x < luma.cols; ++x) {
      const bool moves = std::abs(here[x] - was[x]) > kMoved;
      const int twice = 2 * here[x];
      moved += moves ? 1 : 0;
      neighbours += moves ? std::abs(above[x] + below[x] - twice) : 0;
      every_other += moves ? std::abs(far_above[x] + far_below[x] - twice) : 0;
    }
    moved_ += moved;
    neighbours_ += double(neighbours);
    every_other_ += double(every_other);
  }
  luma.copyTo(before_);
}

bool CombCount::is_combed() const {
  return moved_ >= kFewest && neighbours_ > kCombed * every_other_;
}

bool CombCount::is_smooth() const {
  return moved_ >= kFewest && neighbours_ < kSmooth * every_other_;
}

Lines lines_shown(const std::string& path) {
  namespace fs = std::filesystem;
  std::error_code error;
  if (!fs::is_regular_file(path, error) || fs::file_size(path, error) == 0)
    return Lines::AsMarked;
  const ContainerExtent extent = container_extent(path);
  PictureDecoder decoder(open_demuxer(path, extent), PictureDecoder::Way::Fast, 0);
  FramePixels pixels;
  CombCount combs;
  bool marked = false;
  while (!combs.is_enough()) {
    const AVFrame* picture = decoder.next();
    if (picture == nullptr) break;
    marked = marked || picture->interlaced_frame != 0;
    combs.add(pixels.luma(*picture));
  }
  if (marked) return combs.is_smooth() ? Lines::All : Lines::AsMarked;
  return combs.is_combed() ? Lines::UpperField : Lines::AsMarked;
}

}  // namespace swingloss
