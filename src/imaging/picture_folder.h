// SPDX-License-Identifier: Apache-2.0
/// \file picture_folder.h
/// A folder of numbered pictures as a FrameSource. Internal to imaging: callers use
/// open_clip().
#pragma once

#include "imaging/frame_source.h"

#include <memory>
#include <string>
#include <vector>

namespace swingloss {

/// A picture's file and its place in the clip, in picture intervals; 0 first.
struct NumberedPicture {
  std::string path;
  long place = 0;
};

/// The pictures of a folder (.png .jpg .jpeg .tif .tiff) in the order of their numbers: runs of
/// digits compare as numbers, so that 9 comes before 10. Where all names are alike but for the
/// last number, that number also gives the place, in units of the common step: a missing number
/// is a missing picture. Otherwise places are counted.
/// \throws InputError  no pictures in the folder; two pictures with one number
[[nodiscard]] std::vector<NumberedPicture> numbered_pictures(const std::string& folder);

/// \throws InputError as open_clip(); from next() when a picture has another size
[[nodiscard]] std::unique_ptr<FrameSource> open_picture_folder(const std::string& folder,
                                                               const ReadOptions& options);

}  // namespace swingloss
