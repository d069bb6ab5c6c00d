// SPDX-License-Identifier: Apache-2.0
/// \file mp4_surgery.h
/// Changes in the bytes of an .mp4 or .mov that our writer cannot make. [ISO14496-12]
#pragma once

#include <array>
#include <cstdint>
#include <string>

namespace swingloss::test {

/// Where the contents of the first box of this name begin, after its 8 bytes of head.
/// \throws std::logic_error when there is none
[[nodiscard]] std::size_t inside_box(const std::string& bytes, const std::string& name);

[[nodiscard]] std::string big_endian_32(std::uint32_t value);

/// Sets the display matrix of the track header.
void set_matrix(std::string& bytes, const std::array<std::int32_t, 9>& matrix);

/// Changes the one edit: shows `length` (in units of the whole file, 1/1000 s) from `start` (in
/// units of the track) on.
void set_edit(std::string& bytes, std::uint32_t length, std::uint32_t start);
/// Start of the edit as it stands.
[[nodiscard]] std::uint32_t edit_start(const std::string& bytes);

/// Sets the duration of the samples of the first run of the table of times.
void set_first_duration(std::string& bytes, std::uint32_t duration);

/// Appends to a file whose index comes last (.mov) what phones write beside slow motion.
void add_capture_rate(std::string& bytes, float rate_per_s);

}  // namespace swingloss::test
