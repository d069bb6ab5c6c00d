// SPDX-License-Identifier: Apache-2.0
#include "series/followed_clip.h"

#include "tracking/steady_clip.h"

#include <algorithm>
#include <optional>

namespace swingloss {

bool was_steadied(const SwingRecord& record) {
  const Remarks& remarks = record.arm.remarks;
  return std::any_of(remarks.begin(), remarks.end(), [](const Remark& remark) {
    return remark.code == kCameraSteadied;
  });
}

ClipOpener followed_clip(const std::string& path, bool steady, const ReadOptions& options) {
  const ClipOpener as_it_is = [path, options] { return open_clip(path, options); };
  if (!steady) return as_it_is;
  const auto opener = std::make_shared<std::optional<ClipOpener>>();
  return [=] {
    if (!*opener) {
      auto shake = follow_camera([path] { return open_clip(path); });
      *opener =
          shake ? steadied(as_it_is, std::make_shared<const CameraShake>(*shake)) : as_it_is;
    }
    return (**opener)();
  };
}

}  // namespace swingloss
