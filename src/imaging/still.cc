// SPDX-License-Identifier: Apache-2.0
#include "imaging/still.h"

#include "core/expects.h"
#include "core/input_error.h"
#include "core/text_file.h"
#include "imaging/frame_pixels.h"
#include "imaging/stored_picture.h"

#include <cstdint>
#include <filesystem>
#include <vector>

extern "C" {
#include <libavutil/frame.h>
}

#include <opencv2/imgcodecs.hpp>

namespace swingloss {
namespace {

namespace fs = std::filesystem;

void require_file(const std::string& path) {
  const char* wanted = "a photograph (JPEG, PNG, TIFF, BMP or WebP)";
  std::error_code error;
  const fs::file_status status = fs::status(fs::path(path), error);
  if (!fs::exists(status)) {
    throw InputError({path, "", "no such file", wanted, "Check the path and the name."});
  }
  if (!fs::is_regular_file(status)) {
    throw InputError({path, "", "a folder or device", wanted, "Give the picture itself."});
  }
  if (fs::file_size(fs::path(path), error) == 0) {
    throw InputError({path, "", "an empty file (0 bytes)", wanted, "Copy it again."});
  }
}

}  // namespace

Still read_still(const std::string& path) {
  require_file(path);
  const Result<StoredPicture> stored = decode_picture(path, file_bytes(path));
  if (!stored.ok()) {
    const Failure& failure = stored.failure();
    throw InputError({path,
                      "",
                      failure.cause,
                      "a whole photograph (JPEG, PNG, TIFF, BMP or WebP)",
                      failure.advice});
  }
  const StoredPicture& picture = stored.value();
  Still still;
  still.bgr = FramePixels().bgr(*picture.frame);
  if (!picture.turn.none()) still.bgr = turned(still.bgr, picture.turn);
  still.format = picture.format;
  still.rotation_deg = picture.turn.rotation_deg();
  still.mirrored = picture.turn.mirrored();
  still.focal_35mm = picture.focal_35mm;
  return still;
}

void write_png(const std::string& path, const cv::Mat& image) {
  expects(!image.empty() && image.depth() == CV_8U && image.channels() != 2,
          "write_png: wants 8-bit pictures of 1, 3 or 4 channels");
  std::vector<std::uint8_t> bytes;
  expects(cv::imencode(".png", image, bytes), "write_png: the encoder failed");
  check_folder_of(path);
  // The file writer takes char; the bytes are the same.
  write_file(path, {reinterpret_cast<const char*>(bytes.data()), bytes.size()});
}

}  // namespace swingloss
