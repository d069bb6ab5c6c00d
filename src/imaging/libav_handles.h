// SPDX-License-Identifier: Apache-2.0
/// \file libav_handles.h
/// Owners for the objects of FFmpeg's libraries, so that no path leaks them. Internal to
/// imaging.
#pragma once

#include <memory>
#include <string>

struct AVCodecContext;
struct AVFormatContext;
struct AVFrame;
struct AVPacket;
struct SwsContext;

namespace swingloss {

struct LibavDeleter {
  void operator()(AVCodecContext* codec) const;
  void operator()(AVFrame* frame) const;
  void operator()(AVPacket* packet) const;
  void operator()(SwsContext* scaler) const;
};

/// Closes a file being read, with its streams.
struct LibavInputDeleter {
  void operator()(AVFormatContext* format) const;
};

/// Closes a file being written (without its trailer: that is finish()'s work), with its
/// streams.
struct LibavOutputDeleter {
  void operator()(AVFormatContext* format) const;
};

using CodecHandle = std::unique_ptr<AVCodecContext, LibavDeleter>;
using FrameHandle = std::unique_ptr<AVFrame, LibavDeleter>;
using PacketHandle = std::unique_ptr<AVPacket, LibavDeleter>;
using ScalerHandle = std::unique_ptr<SwsContext, LibavDeleter>;
using InputHandle = std::unique_ptr<AVFormatContext, LibavInputDeleter>;
using OutputHandle = std::unique_ptr<AVFormatContext, LibavOutputDeleter>;

/// Empty objects to be filled. \throws std::bad_alloc
[[nodiscard]] FrameHandle make_frame();
[[nodiscard]] PacketHandle make_packet();

/// The libraries write their own log to stderr unless told not to; a library of ours never
/// prints. Every door into imaging calls this first; more than once does no harm.
void silence_libav();

/// How often a decoder has objected to its data since the program began: their logs are the
/// only place where most of them say so. Counted for this thread alone, and for all threads
/// together. Objections to side information (SEI, EXIF) do not touch the picture and are not
/// counted.
[[nodiscard]] long decoder_objections_here();
[[nodiscard]] long decoder_objections_anywhere();

/// The same for the readers of containers, this thread alone, notes included.
[[nodiscard]] long container_objections_here();

/// The file by its path alone: never a protocol, an option or a pattern hidden in the name.
[[nodiscard]] std::string libav_url(const std::string& path);

/// The libraries' own words for a negative return value.
[[nodiscard]] std::string libav_message(int code);

}  // namespace swingloss
