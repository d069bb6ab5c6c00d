// SPDX-License-Identifier: Apache-2.0
/// \file same_clip.h
/// Finds one film behind several names.
#pragma once

#include <cstddef>
#include <string>
#include <vector>

namespace swingloss {

/// Groups of two and more paths that are the same file, or files with the same bytes (only
/// files of equal size are read); folders are compared by place alone. Indices into `paths`, in
/// order; empty paths and what cannot be read belong to no group.
[[nodiscard]] std::vector<std::vector<std::size_t>> same_clips(
    const std::vector<std::string>& paths);

}  // namespace swingloss
