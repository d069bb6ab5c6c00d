// SPDX-License-Identifier: Apache-2.0
#include "series/followed_clip.h"

#include "tracking/steady_clip.h"

#include <algorithm>
#include <optional>

namespace swingloss {
namespace {

ClipOpener steadied_again(const std::string& path, const ClipOpener& as_it_is) {
  const std::optional<CameraShake> shake = follow_camera([&] { return open_clip(path); });
  return shake ? steadied(as_it_is, std::make_shared<const CameraShake>(*shake)) : as_it_is;
}

}  // namespace

bool was_steadied(const SwingRecord& record) {
  const Remarks& remarks = record.arm.remarks;
  return std::any_of(remarks.begin(), remarks.end(), [](const Remark& remark) {
    return remark.code == kCameraSteadied;
  });
}

ClipOpener followed_clip(const std::string& path, bool steady, const ReadOptions& options) {
  ClipOpener as_it_is = [path, options] { return open_clip(path, options); };
  if (!steady) return as_it_is;
  return [=, opener = std::make_shared<ClipOpener>()] {
    if (!*opener) *opener = steadied_again(path, as_it_is);
    return (*opener)();
  };
}

}  // namespace swingloss
