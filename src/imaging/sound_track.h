// SPDX-License-Identifier: Apache-2.0
/// \file sound_track.h
/// The sound of a clip, packet by packet as it was coded. Internal to imaging.
#pragma once

#include "imaging/libav_handles.h"

#include <string>

struct AVStream;

namespace swingloss {

/// Reads the packets of a clip's chief sound track, one in memory at a time.
class SoundTrack {
 public:
  /// A folder of pictures, and a clip without sound, have no stream.
  /// \throws InputError  the file cannot be read
  explicit SoundTrack(const std::string& clip_path);

  /// The coded sound; nullptr: there is none.
  [[nodiscard]] const AVStream* stream() const { return stream_; }

  /// The next packet that begins at the clip's first picture or later, its times counted from
  /// that picture, in stream()'s time base. False at the end.
  [[nodiscard]] bool next(AVPacket& packet);

 private:
  InputHandle format_;
  const AVStream* stream_ = nullptr;  ///< owned by format_
  long long start_ = 0;               ///< of the first picture, in stream_'s time base
};

}  // namespace swingloss
