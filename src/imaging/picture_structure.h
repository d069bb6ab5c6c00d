// SPDX-License-Identifier: Apache-2.0
/// \file picture_structure.h
/// What kind of picture a file holds and whether it is whole, read from its outer structure.
/// Internal to imaging.
#pragma once

#include <optional>
#include <string>
#include <string_view>

namespace swingloss {

enum class PictureKind { Jpeg, Png, Tiff, Bmp, Webp, Gif, Heif, Raw, Other };

/// Decoders forgive what a measurement must not: half a JPEG comes out with a grey lower half.
/// So the structure is walked first.
struct PictureStructure {
  PictureKind kind = PictureKind::Other;
  std::string_view exif;  ///< the TIFF block that holds the EXIF tags; empty when there is none
  bool animated = false;
  std::string fault;  ///< why the file cannot be whole; empty when nothing speaks against it
};

/// \param bytes  the whole file; the result points into it
[[nodiscard]] PictureStructure picture_structure(std::string_view bytes);

/// "JPEG", "PNG", ...
[[nodiscard]] std::string name_of(PictureKind kind);

/// Value of a one-number tag of the first directory of a TIFF block, in either byte order.
[[nodiscard]] std::optional<unsigned> tiff_tag(std::string_view tiff, unsigned tag);

/// EXIF orientation, 1 to 8; 1 when there is none. [EXIF 4.6.4]
[[nodiscard]] int exif_orientation(const PictureStructure& structure);

/// Focal length as for 35 mm film [mm], where the camera noted one. [EXIF 4.6.5, tag 0xA405]
[[nodiscard]] std::optional<double> exif_focal_35mm(const PictureStructure& structure);

}  // namespace swingloss
