// SPDX-License-Identifier: Apache-2.0
#include "imaging/picture_structure.h"

#include "imaging/byte_reader.h"

#include <cstdint>

extern "C" {
#include <libavutil/crc.h>
}

namespace swingloss {
namespace {

using std::string_view;
using namespace std::string_view_literals;

constexpr const char* kCut = "it ends before the picture is complete";

bool starts_with(string_view bytes, string_view head) {
  return bytes.substr(0, head.size()) == head;
}

/// Where the coded picture data that begin at `place` end: at the next marker of their own.
std::size_t after_entropy_data(string_view bytes, std::size_t place) {
  while (place + 1 < bytes.size()) {
    const unsigned next = byte_at(bytes, place + 1);
    const bool restart = next >= 0xD0 && next <= 0xD7;
    if (byte_at(bytes, place) == 0xFF && next != 0x00 && next != 0xFF && !restart) return place;
    ++place;
  }
  return bytes.size();
}

void walk_jpeg(string_view bytes, PictureStructure& found) {
  constexpr unsigned kEnd = 0xD9, kScan = 0xDA, kApp1 = 0xE1;
  constexpr auto kExif = "Exif\0\0"sv;
  std::size_t place = 2;
  found.fault = kCut;
  while (place + 4 <= bytes.size() || place + 2 == bytes.size()) {
    if (byte_at(bytes, place) != 0xFF) {
      found.fault = "its segments do not follow each other";
      return;
    }
    const unsigned marker = byte_at(bytes, place + 1);
    if (marker == kEnd) {
      found.fault.clear();
      return;
    }
    if (marker == 0xFF) {
      ++place;
      continue;
    }
    if (place + 4 > bytes.size()) return;
    const std::size_t length = big_16(bytes, place + 2);
    const string_view body = bytes.substr(std::min(place + 4, bytes.size()),
                                          length - std::min<std::size_t>(length, 2));
    if (marker == kApp1 && starts_with(body, kExif)) found.exif = body.substr(kExif.size());
    place += 2 + std::max<std::size_t>(length, 2);
    if (marker == kScan) place = after_entropy_data(bytes, place);
  }
}

bool png_sum_matches(string_view bytes, std::size_t place, std::size_t length) {
  const auto covered = bytes.substr(place + 4, length + 4);
  const auto* data = reinterpret_cast<const std::uint8_t*>(covered.data());
  const std::uint32_t sum =
      av_crc(av_crc_get_table(AV_CRC_32_IEEE_LE), ~0U, data, covered.size()) ^ ~0U;
  return sum == big_32(bytes, place + 8 + length);
}

void walk_png(string_view bytes, PictureStructure& found) {
  std::size_t place = 8;
  found.fault = kCut;
  while (place + 12 <= bytes.size()) {
    const std::size_t length = big_32(bytes, place);
    const string_view name = bytes.substr(place + 4, 4);
    if (length > bytes.size() - place - 12) return;
    const bool critical = (byte_at(bytes, place + 4) & 0x20U) == 0;
    if (critical && !png_sum_matches(bytes, place, length)) {
      found.fault = "the check sum of its part " + std::string(name) + " is wrong";
      return;
    }
    if (name == "acTL") found.animated = true;
    if (name == "eXIf") found.exif = bytes.substr(place + 8, length);
    if (name == "IEND") {
      found.fault.clear();
      return;
    }
    place += 12 + length;
  }
}

void walk_webp(string_view bytes, PictureStructure& found) {
  const std::size_t promised = little_32(bytes, 4) + std::size_t{8};
  if (promised > bytes.size()) found.fault = kCut;
  std::size_t place = 12;
  while (place + 8 <= bytes.size()) {
    const string_view name = bytes.substr(place, 4);
    const std::size_t length = little_32(bytes, place + 4);
    if (name == "ANIM") found.animated = true;
    if (name == "EXIF") found.exif = bytes.substr(std::min(place + 8, bytes.size()), length);
    place += 8 + length + length % 2;
  }
}

/// TIFF is also the shell of many cameras' raw files.
void walk_tiff(string_view bytes, PictureStructure& found) {
  constexpr unsigned kDngVersion = 0xC612;
  const bool canon = bytes.size() > 10 && bytes.substr(8, 2) == "CR";
  found.exif = bytes;
  if (canon || tiff_tag(bytes, kDngVersion)) found.kind = PictureKind::Raw;
}

PictureKind kind_of(string_view bytes) {
  if (starts_with(bytes, "\xFF\xD8\xFF"sv)) return PictureKind::Jpeg;
  if (starts_with(bytes, "\x89PNG\r\n\x1A\n"sv)) return PictureKind::Png;
  if (starts_with(bytes, "II*\0"sv) || starts_with(bytes, "MM\0*"sv)) return PictureKind::Tiff;
  if (starts_with(bytes, "BM"sv) && bytes.size() > 26) return PictureKind::Bmp;
  if (starts_with(bytes, "GIF8"sv)) return PictureKind::Gif;
  const bool shorter_than_heads = bytes.size() < 12;
  if (!shorter_than_heads && starts_with(bytes, "RIFF"sv) && bytes.substr(8, 4) == "WEBP")
    return PictureKind::Webp;
  const bool raw = starts_with(bytes, "FUJIFILMCCD-RAW"sv) || starts_with(bytes, "IIRO"sv) ||
                   starts_with(bytes, "IIU\0"sv) || starts_with(bytes, "MMOR"sv);
  if (raw) return PictureKind::Raw;
  if (shorter_than_heads || bytes.substr(4, 4) != "ftyp") return PictureKind::Other;
  const string_view brand = bytes.substr(8, 4);
  if (brand == "crx ") return PictureKind::Raw;
  const bool heif = starts_with(brand, "hei") || starts_with(brand, "avi") || brand == "mif1" ||
                    brand == "msf1" || brand == "hevc";
  return heif ? PictureKind::Heif : PictureKind::Other;
}

}  // namespace

PictureStructure picture_structure(string_view bytes) {
  PictureStructure found;
  found.kind = kind_of(bytes);
  switch (found.kind) {
    case PictureKind::Jpeg:
      walk_jpeg(bytes, found);
      break;
    case PictureKind::Png:
      walk_png(bytes, found);
      break;
    case PictureKind::Webp:
      walk_webp(bytes, found);
      break;
    case PictureKind::Tiff:
      walk_tiff(bytes, found);
      break;
    case PictureKind::Bmp:
      if (little_32(bytes, 2) > bytes.size()) found.fault = kCut;
      break;
    case PictureKind::Gif:
    case PictureKind::Heif:
    case PictureKind::Raw:
    case PictureKind::Other:
      break;
  }
  return found;
}

std::string name_of(PictureKind kind) {
  switch (kind) {
    case PictureKind::Jpeg:
      return "JPEG";
    case PictureKind::Png:
      return "PNG";
    case PictureKind::Tiff:
      return "TIFF";
    case PictureKind::Bmp:
      return "BMP";
    case PictureKind::Webp:
      return "WebP";
    case PictureKind::Gif:
      return "GIF";
    case PictureKind::Heif:
      return "HEIC";
    case PictureKind::Raw:
      return "raw";
    case PictureKind::Other:
      return "unknown";
  }
  return "unknown";
}

namespace {

/// A tag of the directory that starts at `place`, 0 for the first one.
std::optional<unsigned> tag_in_directory(string_view tiff, unsigned tag, std::size_t place) {
  if (tiff.size() < 8) return std::nullopt;
  const bool little = tiff[0] == 'I';
  const auto number_16 = [&](std::size_t at) {
    return little ? little_16(tiff, at) : big_16(tiff, at);
  };
  const auto number_32 = [&](std::size_t at) {
    return little ? little_32(tiff, at) : big_32(tiff, at);
  };
  const std::size_t directory = place == 0 ? number_32(4) : place;
  if (directory > tiff.size() || directory + 2 > tiff.size()) return std::nullopt;
  const std::size_t count = number_16(directory);
  for (std::size_t i = 0; i < count; ++i) {
    const std::size_t entry = directory + 2 + 12 * i;
    if (entry + 12 > tiff.size()) return std::nullopt;
    constexpr unsigned kShort = 3;
    if (number_16(entry) != tag) continue;
    return number_16(entry + 2) == kShort ? number_16(entry + 8) : number_32(entry + 8);
  }
  return std::nullopt;
}

}  // namespace

std::optional<unsigned> tiff_tag(string_view tiff, unsigned tag) {
  return tag_in_directory(tiff, tag, 0);
}

std::optional<double> exif_focal_35mm(const PictureStructure& structure) {
  constexpr unsigned kPhotoDirectory = 0x8769;
  constexpr unsigned kFocal35mm = 0xA405;
  const auto directory = tiff_tag(structure.exif, kPhotoDirectory);
  if (!directory || *directory == 0) return std::nullopt;
  const auto focal_mm = tag_in_directory(structure.exif, kFocal35mm, *directory);
  if (!focal_mm || *focal_mm == 0) return std::nullopt;  // 0 is "unknown"
  return double(*focal_mm);
}

int exif_orientation(const PictureStructure& structure) {
  constexpr unsigned kOrientation = 0x0112;
  const unsigned value = tiff_tag(structure.exif, kOrientation).value_or(1);
  return value >= 1 && value <= 8 ? static_cast<int>(value) : 1;
}

}  // namespace swingloss
