// SPDX-License-Identifier: Apache-2.0
#include "imaging/made_photo.h"
#include "imaging/mp4_surgery.h"
#include "imaging/picture_structure.h"
#include "support/test.h"

using namespace swingloss;

namespace {

/// A JPEG whose EXIF holds a photo directory with tag 0xA405, SHORT, in Intel byte order
/// [EXIF 4.6.5].
std::string jpeg_with_focal(int focal_mm) {
  std::string tiff("II*\0\x08\0\0\0", 8);
  tiff += std::string("\x01\0\x69\x87\x04\0\x01\0\0\0\x1a\0\0\0\0\0\0\0", 18);  // to offset 26
  tiff += std::string("\x01\0\x05\xa4\x03\0\x01\0\0\0", 10);
  tiff += static_cast<char>(focal_mm);
  tiff += std::string("\0\0\0\0\0\0\0", 7);
  const std::string body = std::string("Exif\0\0", 6) + tiff;
  const std::string jpeg = test::coded(".jpg", cv::Mat(16, 16, CV_8UC3, cv::Scalar(9, 9, 9)));
  const std::string size =
      test::big_endian_32(static_cast<std::uint32_t>(body.size() + 2)).substr(2);
  return jpeg.substr(0, 2) + "\xFF\xE1" + size + body + jpeg.substr(2);
}

std::optional<double> focal_of(const std::string& bytes) {
  return exif_focal_35mm(picture_structure(bytes));
}

}  // namespace

TEST_CASE("the focal length for 35 mm film is read from EXIF, and 0 is unknown", "[imaging]") {
  CHECK(focal_of(jpeg_with_focal(26)) == 26.0);
  CHECK_FALSE(focal_of(jpeg_with_focal(0)));
  CHECK_FALSE(focal_of(test::coded(".jpg", cv::Mat(16, 16, CV_8UC3, cv::Scalar(9, 9, 9)))));
  // Cut short inside the directory.
  CHECK_FALSE(focal_of(jpeg_with_focal(26).substr(0, 50)));
}
