// SPDX-License-Identifier: Apache-2.0
/// \file made_sound.h
/// Clips with sound made for the tests, and the coded sound of a clip read back.
#pragma once

#include <string>
#include <vector>

namespace swingloss::test {

/// Writes `to` with the pictures of `from` as they are coded and a tone as long beside them.
/// \param codec  "aac" or "pcm_s16le"
void add_sound(const std::string& from, const std::string& to, const std::string& codec);

/// One coded piece of sound.
struct SoundPacket {
  double t_s = 0.0;  ///< container time
  std::string bytes;
};

/// All pieces of a clip's sound that begin at its zero or later, in order.
[[nodiscard]] std::vector<SoundPacket> sound_of(const std::string& path);

}  // namespace swingloss::test
