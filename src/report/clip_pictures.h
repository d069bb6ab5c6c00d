// SPDX-License-Identifier: Apache-2.0
/// \file clip_pictures.h
/// Pictures of a clip, and photographs, as JPEG for a browser.
#pragma once

#include "imaging/frame_source.h"

#include <map>
#include <memory>
#include <mutex>
#include <string>

namespace swingloss {

/// What is known of a clip before it is measured.
struct ClipFacts {
  int frames = 0;           ///< by the file, or counted once its end was seen; 0: not known
  double rate_per_s = 0.0;  ///< pictures a second, on average, by the file; 0: not known
};

/// One clip's pictures by their index. Clips are decoded from their beginning, so what was
/// passed is kept, up to a bound; for several threads.
class ClipPictures {
 public:
  /// \param open  opens the clip from its beginning, in colour \throws InputError  as it does
  explicit ClipPictures(ClipOpener open);
  ~ClipPictures();

  /// The picture as JPEG, full size; empty beyond the last one.
  /// \throws InputError  the clip cannot be opened again
  [[nodiscard]] std::string jpeg(int index);

  [[nodiscard]] ClipFacts facts();

 private:
  void take_next();

  ClipOpener open_;
  std::mutex mutex_;
  std::unique_ptr<FrameSource> source_;
  int next_ = 0;
  bool at_end_ = false;
  int counted_ = 0;  ///< pictures in all, once the end was seen
  std::map<int, std::string> kept_;
  std::size_t kept_bytes_ = 0;
};

/// A photograph, upright, at most `most_px` wide and high.
struct PhotoPicture {
  std::string jpeg;
  int width_px = 0, height_px = 0;  ///< of the photograph, before it was made smaller
};

/// \throws InputError  as read_still()
[[nodiscard]] PhotoPicture photo_picture(const std::string& path, int most_px);

}  // namespace swingloss
