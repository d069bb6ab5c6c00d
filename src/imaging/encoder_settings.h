// SPDX-License-Identifier: Apache-2.0
/// \file encoder_settings.h
/// How the codecs of VideoWriter are set up. Internal to imaging.
#pragma once

#include "imaging/libav_handles.h"
#include "imaging/video_writer.h"

#include <string>

struct AVOutputFormat;

namespace swingloss {

/// The muxer for the ending of `path`. \throws InputError for an unknown ending
[[nodiscard]] const AVOutputFormat& output_format(const std::string& path);

/// An opened encoder for pictures of the given size. One thread and no version strings: the
/// same pictures give the same bytes. \throws InputError  unknown codec; container that cannot
/// hold it; option out of range
[[nodiscard]] CodecHandle open_encoder(const std::string& path,
                                       const WriteOptions& options,
                                       int width_px,
                                       int height_px);

}  // namespace swingloss
