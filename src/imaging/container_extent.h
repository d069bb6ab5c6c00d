// SPDX-License-Identifier: Apache-2.0
/// \file container_extent.h
/// What a video file says of its own length, read from its outermost boxes alone. Internal to
/// imaging.
#pragma once

#include <cstdint>
#include <string>

namespace swingloss {

enum class ContainerKind {
  Other,     ///< nothing that is looked into here
  Mp4,       ///< ISO base media: mp4, mov, m4v, 3gp [ISO14496-12 4.2]
  Matroska,  ///< mkv, webm [RFC9559]
  Avi,       ///< RIFF
  Picture,   ///< ISO base media holding a still: HEIC, AVIF, CR3
};

/// The outermost structure of a file.
struct ContainerExtent {
  ContainerKind kind = ContainerKind::Other;
  std::int64_t size_bytes = 0;  ///< what is there
  std::int64_t missing_bytes =
      0;                   ///< by how much the last box ends beyond the file; 0 if whole
  bool has_index = false;  ///< Mp4 only: a "moov" box is there, whole
};

/// Reads box headers only: a few hundred bytes whatever the file's size. A file written to be
/// streamed (unknown size) is taken as whole.
/// \throws InputError when the file cannot be opened for reading
[[nodiscard]] ContainerExtent container_extent(const std::string& path);

}  // namespace swingloss
