// SPDX-License-Identifier: Apache-2.0
#include "tracking/changed_clip.h"

#include <memory>
#include <utility>

namespace swingloss {
namespace {

class ChangedSource : public FrameSource {
 public:
  ChangedSource(std::unique_ptr<FrameSource> source, FrameChange change)
      : source_(std::move(source)), change_(std::move(change)) {}

  std::optional<Frame> next() override {
    std::optional<Frame> frame = source_->next();
    if (frame) change_(*frame);
    return frame;
  }
  [[nodiscard]] const ClipInfo& info() const override { return source_->info(); }
  [[nodiscard]] Remarks remarks() const override { return source_->remarks(); }

 private:
  std::unique_ptr<FrameSource> source_;
  FrameChange change_;
};

}  // namespace

ClipOpener changed_clip(const ClipOpener& open, const FrameChange& change) {
  return [open, change] { return std::make_unique<ChangedSource>(open(), change); };
}

}  // namespace swingloss
