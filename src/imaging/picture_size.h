// SPDX-License-Identifier: Apache-2.0
/// \file picture_size.h
/// Width and height of a stored picture, read without decoding it, so that a small file that
/// unpacks to an enormous picture is refused before it does. Internal to imaging.
#pragma once

#include "imaging/picture_structure.h"

#include <cstdint>
#include <string_view>

namespace swingloss {

struct StoredSize {
  std::uint64_t width_px = 0, height_px = 0;
};

/// As the file's head says; zeros where it does not, or for kinds that are not read. The
/// largest where it says so more than once.
[[nodiscard]] StoredSize stored_size(PictureKind kind, std::string_view bytes);

}  // namespace swingloss
