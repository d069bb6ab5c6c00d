// SPDX-License-Identifier: Apache-2.0
#include "core/input_error.h"
#include "imaging/frame_source.h"
#include "imaging/picture_folder.h"
#include "imaging/video_clip.h"

#include <filesystem>

namespace swingloss {

std::unique_ptr<FrameSource> open_clip(const std::string& path, const ReadOptions& options) {
  namespace fs = std::filesystem;
  const char* wanted = "a video file or a folder of numbered pictures";
  std::error_code error;
  const fs::file_status status = fs::status(fs::path(path), error);
  if (!fs::exists(status)) {
    throw InputError({path, "", "no such file", wanted, "Check the path and the name."});
  }
  if (fs::is_directory(status)) return open_picture_folder(path, options);
  if (!fs::is_regular_file(status)) {
    throw InputError({path, "", "something that is neither file nor folder", wanted, ""});
  }
  if (fs::file_size(fs::path(path), error) == 0) {
    throw InputError({path,
                      "",
                      "an empty file (0 bytes)",
                      wanted,
                      "The recording or the copying failed; copy it from the camera again."});
  }
  return open_video(path, options);
}

}  // namespace swingloss
