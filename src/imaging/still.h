// SPDX-License-Identifier: Apache-2.0
/// \file still.h
/// Single pictures: reading a photograph, writing a PNG.
#pragma once

#include <optional>
#include <string>

#include <opencv2/core.hpp>

namespace swingloss {

/// A photograph, upright. (0,0) is the centre of the top-left pixel, x right, y down.
struct Still {
  cv::Mat bgr;  ///< CV_8UC3, full range; 16-bit files are reduced, transparency is dropped
  std::string format;     ///< "JPEG", "PNG", "TIFF", "BMP" or "WebP"
  int rotation_deg = 0;   ///< clockwise turn that was applied, by EXIF: 0, 90, 180 or 270
  bool mirrored = false;  ///< left and right were exchanged before the turn, by EXIF
  std::optional<double> focal_35mm;  ///< focal length as for 35 mm film [mm], by EXIF
};

/// Reads a JPEG, PNG, TIFF, BMP or WebP of at most 250 million pixels.
///
/// A damaged file is refused as a whole: decoders fill what is missing with grey or with
/// neighbours, and a section measured there would be wrong without a sign. HEIC, camera raw
/// files and GIF are refused with what to do instead; so is anything animated. \throws
/// InputError  no such file; not a picture; damaged; animated; a kind named above
[[nodiscard]] Still read_still(const std::string& path);

/// Writes `image` whole or not at all (core/whole_file.h); no folder is made for it. The same
/// picture gives the same bytes.
/// \param image  CV_8UC1, CV_8UC3 (blue, green, red) or CV_8UC4, not empty
/// \throws InputError  a place that cannot be written
void write_png(const std::string& path, const cv::Mat& image);

}  // namespace swingloss
