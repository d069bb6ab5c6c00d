// SPDX-License-Identifier: Apache-2.0
#include "tracking/working_clip.h"

#include <algorithm>
#include <memory>
#include <utility>

#include <opencv2/imgproc.hpp>

namespace swingloss {
namespace {

/// Pictures of another source, each made smaller.
class ShrunkSource : public FrameSource {
 public:
  ShrunkSource(std::unique_ptr<FrameSource> source, int factor)
      : source_(std::move(source)), factor_(factor), info_(source_->info()) {
    info_.width_px /= factor;
    info_.height_px /= factor;
  }

  std::optional<Frame> next() override {
    std::optional<Frame> frame = source_->next();
    if (!frame) return frame;
    const cv::Size size(frame->luma.cols / factor_, frame->luma.rows / factor_);
    cv::Mat small;
    cv::resize(frame->luma(cv::Rect({}, size * factor_)), small, size, 0, 0, cv::INTER_AREA);
    frame->luma = small;
    frame->bgr.release();
    return frame;
  }
  [[nodiscard]] const ClipInfo& info() const override { return info_; }
  [[nodiscard]] Remarks remarks() const override { return source_->remarks(); }

 private:
  std::unique_ptr<FrameSource> source_;
  int factor_;
  ClipInfo info_;
};

int shrink_for(double arm_length_px, double longest_side_px) {
  constexpr double kLongArm_px = 200.0, kLongSide_px = 900.0;
  const double most = std::min(arm_length_px / kLongArm_px, longest_side_px / kLongSide_px);
  return std::max(1, static_cast<int>(most));
}

ClipOpener shrunk(const ClipOpener& open, int factor) {
  if (factor == 1) return open;
  return [open, factor] { return std::make_unique<ShrunkSource>(open(), factor); };
}

/// The same view in pictures with `scale` times as many pixels a side.
SwingView rescaled(SwingView view, double scale) {
  // (0, 0) is the centre of a pixel, whose corner stays where it is.
  const auto corner = Eigen::Vector2d::Constant(0.5);
  view.axle_px = (view.axle_px + corner) * scale - corner;
  view.principal_px = (view.principal_px + corner) * scale - corner;
  view.focal_px *= scale;
  return view;
}

}  // namespace

WorkingClip working_clip(const ClipOpener& open, CoarseAngles angles, const SwingView& start) {
  WorkingClip clip;
  // The principal point is the picture's centre.
  clip.shrink = shrink_for(angles.arm_length_px, 2.0 * start.principal_px.maxCoeff() + 1.0);
  clip.open = shrunk(open, clip.shrink);
  clip.angles = std::move(angles);
  for (double CoarseAngles::*length_px : {&CoarseAngles::arm_length_px,
                                          &CoarseAngles::arm_half_width_px,
                                          &CoarseAngles::arm_behind_px})
    clip.angles.*length_px /= clip.shrink;
  clip.start = rescaled(start, 1.0 / clip.shrink);
  return clip;
}

void enlarge(int factor, ArmTrack& arm) {
  arm.view = rescaled(arm.view, factor);
  arm.view_rest.topRows<2>() *= factor;
  arm.view_rest.leftCols<2>() *= factor;
  for (SharedDoubt& doubt : arm.angles.doubts) doubt.view.head<2>() *= factor;
  arm.arm_length_px *= factor;
}

}  // namespace swingloss
