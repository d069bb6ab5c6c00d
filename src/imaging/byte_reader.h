// SPDX-License-Identifier: Apache-2.0
/// \file byte_reader.h
/// Numbers out of bytes, in either order. Reading beyond the end gives zeros. Internal to
/// imaging.
#pragma once

#include <cstddef>
#include <cstdint>
#include <string_view>

namespace swingloss {

inline std::uint32_t byte_at(std::string_view bytes, std::size_t at) {
  return at < bytes.size() ? static_cast<unsigned char>(bytes[at]) : 0U;
}
inline std::uint32_t big_16(std::string_view bytes, std::size_t at) {
  return byte_at(bytes, at) << 8U | byte_at(bytes, at + 1);
}
inline std::uint32_t big_32(std::string_view bytes, std::size_t at) {
  return big_16(bytes, at) << 16U | big_16(bytes, at + 2);
}
inline std::uint64_t big_64(std::string_view bytes, std::size_t at) {
  return static_cast<std::uint64_t>(big_32(bytes, at)) << 32U | big_32(bytes, at + 4);
}
inline std::uint32_t little_16(std::string_view bytes, std::size_t at) {
  return byte_at(bytes, at) | byte_at(bytes, at + 1) << 8U;
}
inline std::uint32_t little_32(std::string_view bytes, std::size_t at) {
  return little_16(bytes, at) | little_16(bytes, at + 2) << 16U;
}

}  // namespace swingloss
