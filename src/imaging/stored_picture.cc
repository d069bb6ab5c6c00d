// SPDX-License-Identifier: Apache-2.0
#include "imaging/stored_picture.h"

#include "core/input_error.h"
#include "imaging/picture_size.h"
#include "imaging/picture_structure.h"

#include <algorithm>
#include <array>
#include <cctype>
#include <cstdint>
#include <cstring>
#include <filesystem>
#include <fstream>
#include <new>
#include <optional>

extern "C" {
#include <libavcodec/avcodec.h>
}

namespace swingloss {
namespace {

/// Five times the largest telephone picture; beyond it memory, not sense, would decide.
constexpr std::int64_t kMaxPixels = 250'000'000;

std::string lower_ending(const std::string& path) {
  std::string ending = std::filesystem::path(path).extension().string();
  std::transform(ending.begin(), ending.end(), ending.begin(), [](unsigned char c) {
    return static_cast<char>(std::tolower(c));
  });
  return ending;
}

bool raw_ending(const std::string& path) {
  static const std::array<const char*, 16> kRaw = {".dng",
                                                   ".cr2",
                                                   ".cr3",
                                                   ".nef",
                                                   ".nrw",
                                                   ".arw",
                                                   ".srf",
                                                   ".sr2",
                                                   ".raf",
                                                   ".orf",
                                                   ".rw2",
                                                   ".pef",
                                                   ".srw",
                                                   ".3fr",
                                                   ".iiq",
                                                   ".erf"};
  const std::string ending = lower_ending(path);
  return std::any_of(kRaw.begin(), kRaw.end(), [&](const char* raw) { return ending == raw; });
}

Failure damaged(PictureKind kind, const std::string& why) {
  return {"picture-damaged",
          "a damaged " + name_of(kind) + " picture: " + why,
          "Copy it from the camera again."};
}

std::optional<Failure> refusal(const std::string& path, const PictureStructure& structure) {
  if (structure.kind == PictureKind::Heif) {
    return Failure{
        "picture-format",
        "a HEIC or AVIF picture, which is not read here",
        "Set the telephone to JPEG (\"most compatible\"), or save it as JPEG or PNG in "
        "full size."};
  }
  if (structure.kind == PictureKind::Raw || raw_ending(path)) {
    return Failure{
        "picture-format",
        "a camera's raw picture, which is not read here",
        "Develop it without sharpening and save it as 8-bit TIFF, PNG or JPEG in full "
        "size."};
  }
  if (structure.kind == PictureKind::Gif) {
    return Failure{"picture-format",
                   "a GIF, which has lost the photograph's colours",
                   "Give the photograph as the camera stored it."};
  }
  if (structure.kind == PictureKind::Other) {
    return Failure{"not-a-picture", "a file that is not a picture", "Check the name."};
  }
  if (structure.animated) {
    return Failure{"picture-animated",
                   "an animated " + name_of(structure.kind),
                   "Give a single photograph."};
  }
  if (!structure.fault.empty()) return damaged(structure.kind, structure.fault);
  return std::nullopt;
}

/// Before anything is unpacked: a few kilobytes may stand for gigabytes.
std::optional<Failure> too_large(PictureKind kind, const std::string& bytes) {
  constexpr std::size_t kMaxBytes = std::size_t{1} << 30U;
  if (bytes.size() > kMaxBytes) {
    return Failure{
        "picture-too-large", "a picture file of more than 1 GiB", "Save it smaller."};
  }
  const StoredSize size = stored_size(kind, bytes);
  if (size.width_px * size.height_px <= std::uint64_t{kMaxPixels}) return std::nullopt;
  return Failure{"picture-too-large",
                 "a picture of " + std::to_string(size.width_px) + " x " +
                     std::to_string(size.height_px) + " pixels",
                 "At most " + std::to_string(kMaxPixels / 1'000'000) +
                     " million pixels are read: save it smaller."};
}

AVCodecID codec_of(PictureKind kind) {
  switch (kind) {
    case PictureKind::Jpeg:
      return AV_CODEC_ID_MJPEG;
    case PictureKind::Png:
      return AV_CODEC_ID_PNG;
    case PictureKind::Tiff:
      return AV_CODEC_ID_TIFF;
    case PictureKind::Bmp:
      return AV_CODEC_ID_BMP;
    default:
      return AV_CODEC_ID_WEBP;
  }
}

/// One frame out of one packet. \return null, with the library's reason in `status`
FrameHandle decode_once(AVCodecID id, const std::string& bytes, int& status) {
  const AVCodec* decoder = avcodec_find_decoder(id);
  CodecHandle codec(avcodec_alloc_context3(decoder));
  if (decoder == nullptr || codec == nullptr) throw std::bad_alloc();
  codec->err_recognition = AV_EF_CRCCHECK;
  codec->thread_count = 1;
  codec->max_pixels = kMaxPixels;
  status = avcodec_open2(codec.get(), decoder, nullptr);
  const PacketHandle packet = make_packet();
  if (status >= 0) status = av_new_packet(packet.get(), static_cast<int>(bytes.size()));
  if (status < 0) return nullptr;
  std::memcpy(packet->data, bytes.data(), bytes.size());
  FrameHandle frame = make_frame();
  status = avcodec_send_packet(codec.get(), packet.get());
  if (status >= 0) status = avcodec_send_packet(codec.get(), nullptr);
  if (status >= 0) status = avcodec_receive_frame(codec.get(), frame.get());
  if (status < 0) return nullptr;
  return frame;
}

}  // namespace

std::string file_bytes(const std::string& path) {
  std::ifstream file(path, std::ios::binary | std::ios::ate);
  const std::streamoff size = file ? static_cast<std::streamoff>(file.tellg()) : -1;
  std::string bytes(static_cast<std::size_t>(std::max<std::streamoff>(0, size)), '\0');
  file.seekg(0);
  file.read(bytes.data(), static_cast<std::streamsize>(bytes.size()));
  if (size < 0 || !file) {
    throw InputError({path,
                      "",
                      "a file that cannot be read",
                      "a picture",
                      "Check the path and the permissions."});
  }
  return bytes;
}

Result<StoredPicture> decode_picture(const std::string& path, const std::string& bytes) {
  silence_libav();
  const PictureStructure structure = picture_structure(bytes);
  if (const auto refused = refusal(path, structure)) return *refused;
  if (const auto refused = too_large(structure.kind, bytes)) return *refused;
  int status = 0;
  const long before = decoder_objections_here();
  FrameHandle frame = decode_once(codec_of(structure.kind), bytes, status);
  if (frame == nullptr && status == AVERROR_PATCHWELCOME) {
    return Failure{"picture-format",
                   "an unusual kind of " + name_of(structure.kind),
                   "Save it as a plain PNG or JPEG in full size."};
  }
  if (frame == nullptr) return damaged(structure.kind, libav_message(status));
  const bool objected = decoder_objections_here() != before || frame->decode_error_flags != 0;
  if (objected) return damaged(structure.kind, "it decodes with errors");
  StoredPicture picture;
  picture.frame = std::move(frame);
  picture.turn = turn_from_exif(exif_orientation(structure));
  picture.focal_35mm = exif_focal_35mm(structure);
  picture.format = name_of(structure.kind);
  return Result<StoredPicture>(std::move(picture));
}

}  // namespace swingloss
