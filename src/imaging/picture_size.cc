// SPDX-License-Identifier: Apache-2.0
#include "imaging/picture_size.h"

#include "imaging/byte_reader.h"

#include <algorithm>

namespace swingloss {
namespace {

using std::string_view;

StoredSize larger(const StoredSize& a, const StoredSize& b) {
  return a.width_px * a.height_px < b.width_px * b.height_px ? b : a;
}

/// Frame headers: markers C0 to CF without C4, C8 and CC.
bool is_frame_header(unsigned marker) {
  return marker >= 0xC0 && marker <= 0xCF && marker != 0xC4 && marker != 0xC8 && marker != 0xCC;
}

/// Every frame header in the bytes, also where segments do not follow each other: a decoder may
/// look for them as well.
StoredSize size_of_jpeg(string_view bytes) {
  StoredSize size;
  for (std::size_t place = bytes.find('\xFF'); place != string_view::npos;
       place = bytes.find('\xFF', place + 1)) {
    if (byte_at(bytes, place + 1) == 0xDA) break;
    if (!is_frame_header(byte_at(bytes, place + 1))) continue;
    if (big_16(bytes, place + 2) < 11) continue;  // its length: 8 and 3 a component
    size = larger(size, {big_16(bytes, place + 7), big_16(bytes, place + 5)});
  }
  return size;
}

StoredSize size_of_webp(string_view bytes) {
  StoredSize size;
  std::size_t place = 12;
  while (place + 8 <= bytes.size()) {
    const string_view name = bytes.substr(place, 4);
    const string_view body = bytes.substr(place + 8);
    if (name == "VP8X")
      size = larger(
          size, {(little_32(body, 4) & 0xFFFFFFU) + 1, (little_32(body, 7) & 0xFFFFFFU) + 1});
    if (name == "VP8 ")
      size = larger(size, {little_16(body, 6) & 0x3FFFU, little_16(body, 8) & 0x3FFFU});
    if (name == "VP8L") {
      const std::uint32_t bits = little_32(body, 1);
      size = larger(size, {(bits & 0x3FFFU) + 1, (bits >> 14U & 0x3FFFU) + 1});
    }
    const std::size_t length = little_32(bytes, place + 4);
    place += 8 + length + length % 2;
  }
  return size;
}

/// The height is negative where rows run downward.
std::uint64_t magnitude(std::uint32_t number) {
  return std::min<std::uint64_t>(number, (std::uint64_t{1} << 32U) - number);
}

}  // namespace

StoredSize stored_size(PictureKind kind, string_view bytes) {
  constexpr unsigned kWidth = 256, kHeight = 257;
  switch (kind) {
    case PictureKind::Jpeg:
      return size_of_jpeg(bytes);
    case PictureKind::Png:
      return {big_32(bytes, 16), big_32(bytes, 20)};
    case PictureKind::Tiff:
      return {tiff_tag(bytes, kWidth).value_or(0), tiff_tag(bytes, kHeight).value_or(0)};
    case PictureKind::Bmp:
      return {magnitude(little_32(bytes, 18)), magnitude(little_32(bytes, 22))};
    case PictureKind::Webp:
      return size_of_webp(bytes);
    case PictureKind::Gif:
    case PictureKind::Heif:
    case PictureKind::Raw:
    case PictureKind::Other:
      return {};
  }
  return {};
}

}  // namespace swingloss
