// SPDX-License-Identifier: Apache-2.0
#include "series/followed_clip.h"

#include "core/has_remark.h"
#include "tracking/steady_clip.h"

#include <optional>

namespace swingloss {
namespace {

/// \param in_grey  the same pictures, sooner
ClipOpener steadied_again(const ClipOpener& in_grey, const ClipOpener& as_it_is) {
  const std::optional<CameraShake> shake = follow_camera(in_grey);
  return shake ? steadied(as_it_is, std::make_shared<const CameraShake>(*shake)) : as_it_is;
}

}  // namespace

Followed how_followed(const SwingRecord& record) {
  Followed how;
  const Remarks& remarks = record.arm.remarks;
  how.steadied = has_remark(remarks, kCameraSteadied);
  if (has_remark(remarks, kInterlacedUnmarked)) how.lines = Lines::UpperField;
  if (has_remark(remarks, kNotInterlaced)) how.lines = Lines::All;
  return how;
}

ClipOpener followed_clip(const std::string& path, const Followed& how, ReadOptions options) {
  options.lines = how.lines;
  ClipOpener as_it_is = [path, options] { return open_clip(path, options); };
  if (!how.steadied) return as_it_is;
  options.colour = false;
  const ClipOpener in_grey = [path, options] { return open_clip(path, options); };
  return [=, opener = std::make_shared<ClipOpener>()] {
    if (!*opener) *opener = steadied_again(in_grey, as_it_is);
    return (*opener)();
  };
}

}  // namespace swingloss
