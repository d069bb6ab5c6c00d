// SPDX-License-Identifier: Apache-2.0
#include "imaging/made_photo.h"

#include "imaging/mp4_surgery.h"

#include <stdexcept>
#include <vector>

#include <opencv2/imgcodecs.hpp>

namespace swingloss::test {

std::string coded(const std::string& ending, const cv::Mat& picture) {
  std::vector<unsigned char> bytes;
  if (!cv::imencode(ending, picture, bytes)) throw std::logic_error("cannot code " + ending);
  return {bytes.begin(), bytes.end()};
}

std::string jpeg_with_orientation(const cv::Mat& picture, int orientation, bool little) {
  const std::string jpeg = coded(".jpg", picture);
  const char value = static_cast<char>(orientation);
  std::string tiff;
  if (little) {
    tiff = std::string("II*\0\x08\0\0\0\x01\0\x12\x01\x03\0\x01\0\0\0", 18) + value +
           std::string(7, '\0');
  } else {
    tiff = std::string("MM\0*\0\0\0\x08\0\x01\x01\x12\0\x03\0\0\0\x01\0", 19) + value +
           std::string(6, '\0');
  }
  const std::string body = std::string("Exif\0\0", 6) + tiff;
  const std::string size = big_endian_32(static_cast<std::uint32_t>(body.size() + 2)).substr(2);
  return jpeg.substr(0, 2) + "\xFF\xE1" + size + body + jpeg.substr(2);
}

cv::Mat stored_for(const cv::Mat& upright, int orientation) {
  cv::Mat stored = upright.clone();
  if (orientation == 3) cv::rotate(stored, stored, cv::ROTATE_180);
  if (orientation == 6) cv::rotate(stored, stored, cv::ROTATE_90_COUNTERCLOCKWISE);
  if (orientation == 8) cv::rotate(stored, stored, cv::ROTATE_90_CLOCKWISE);
  return stored;
}

}  // namespace swingloss::test
