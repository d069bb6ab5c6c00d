// SPDX-License-Identifier: Apache-2.0
/// \file stored_picture.h
/// A single picture decoded from the bytes of its file. Internal to imaging.
#pragma once

#include "core/result.h"
#include "imaging/libav_handles.h"
#include "imaging/picture_turn.h"

#include <optional>
#include <string>

namespace swingloss {

/// As stored, before the turn that makes it upright.
struct StoredPicture {
  FrameHandle frame;
  PictureTurn turn;                  ///< by EXIF
  std::string format;                ///< "JPEG", ...
  std::optional<double> focal_35mm;  ///< by EXIF [mm]
};

/// The whole file. \throws InputError when it cannot be read
[[nodiscard]] std::string file_bytes(const std::string& path);

/// \param path   for its ending alone: some cameras' raw files can be told by nothing else
/// \param bytes  the whole file
/// \return the picture, or Failure: not-a-picture, picture-damaged, picture-animated,
///         picture-format (HEIC, raw, GIF: with what to do), picture-too-large
[[nodiscard]] Result<StoredPicture> decode_picture(const std::string& path,
                                                   const std::string& bytes);

}  // namespace swingloss
