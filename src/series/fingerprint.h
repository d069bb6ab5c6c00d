// SPDX-License-Identifier: Apache-2.0
/// \file fingerprint.h
/// Tells whether the inputs of a stored result are still the same.
#pragma once

#include <cstdint>
#include <string>
#include <string_view>

namespace swingloss {

/// 64-bit FNV-1a hash of bytes, continued from `state`. [FNV]
/// Not for: anything that an adversary may aim at; it tells a changed file from an unchanged
/// one.
[[nodiscard]] std::uint64_t fnv1a(std::string_view bytes,
                                  std::uint64_t state = 14695981039346656037ULL);

/// "SIZE-HASH" of a file's bytes, or of the names and bytes of all files directly in a folder
/// (a clip may be a folder of numbered pictures).
/// \throws InputError  when it cannot be read
[[nodiscard]] std::string content_mark(const std::string& path);

/// The same, and "none" where nothing lies at `path`.
[[nodiscard]] std::string mark_if_there(const std::string& path);

}  // namespace swingloss
