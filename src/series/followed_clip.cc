// SPDX-License-Identifier: Apache-2.0
#include "series/followed_clip.h"

#include "tracking/steady_clip.h"

#include <algorithm>
#include <optional>

namespace swingloss {
namespace {

/// \param in_grey  the same pictures, sooner
ClipOpener steadied_again(const ClipOpener& in_grey, const ClipOpener& as_it_is) {
  const std::optional<CameraShake> shake = follow_camera(in_grey);
  return shake ? steadied(as_it_is, std::make_shared<const CameraShake>(*shake)) : as_it_is;
}

bool says(const SwingRecord& record, const char* code) {
  const Remarks& remarks = record.arm.remarks;
  return std::any_of(remarks.begin(), remarks.end(), [&](const Remark& remark) {
    return remark.code == code;
  });
}

}  // namespace

Followed how_followed(const SwingRecord& record) {
  Followed how;
  how.steadied = says(record, kCameraSteadied);
  if (says(record, kInterlacedUnmarked)) how.lines = Lines::UpperField;
  if (says(record, kNotInterlaced)) how.lines = Lines::All;
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
