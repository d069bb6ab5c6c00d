// SPDX-License-Identifier: Apache-2.0
/// \file demuxer.h
/// A video file opened, and its one moving picture chosen. Internal to imaging.
#pragma once

#include "imaging/container_extent.h"
#include "imaging/libav_handles.h"

#include <cstdint>
#include <string>

struct AVCodec;
struct AVStream;

namespace swingloss {

/// Three times an 8K picture. A file of a few bytes may claim more than the machine's memory.
inline constexpr std::int64_t kMaxClipPixels = 100'000'000;

/// An opened file whose stream `stream` is a moving picture that can be decoded here.
struct Demuxer {
  InputHandle format;
  int stream = -1;
  const AVCodec* decoder = nullptr;

  [[nodiscard]] AVStream& video() const;
  /// Short name of the container: "mp4", "matroska", "avi", ...
  [[nodiscard]] std::string container_name() const;
  [[nodiscard]] std::string codec_name() const;
};

/// Opens and chooses: the largest moving picture; a cover attached to a sound recording, a text
/// drawing and a single photograph do not count as one.
/// \param extent  of the same file
/// \throws InputError  not a video; audio only; a photograph; index missing; no decoder here;
///                     pictures of more than kMaxClipPixels
[[nodiscard]] Demuxer open_demuxer(const std::string& path, const ContainerExtent& extent);

/// For an mp4 or mov that was cut before its index was written. \throws InputError always
[[noreturn]] void refuse_without_index(const std::string& path);

}  // namespace swingloss
