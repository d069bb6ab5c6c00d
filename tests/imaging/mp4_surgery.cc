// SPDX-License-Identifier: Apache-2.0
#include "imaging/mp4_surgery.h"

#include <cstring>
#include <stdexcept>

namespace swingloss::test {
namespace {

std::uint32_t number_at(const std::string& bytes, std::size_t at) {
  std::uint32_t value = 0;
  for (std::size_t i = at; i < at + 4; ++i)
    value = value << 8U | static_cast<unsigned char>(bytes[i]);
  return value;
}

void put(std::string& bytes, std::size_t at, std::uint32_t value) {
  bytes.replace(at, 4, big_endian_32(value));
}

std::string box(const std::string& name, const std::string& contents) {
  return big_endian_32(static_cast<std::uint32_t>(contents.size() + 8)) + name + contents;
}

}  // namespace

std::string big_endian_32(std::uint32_t value) {
  std::string bytes;
  for (int shift = 24; shift >= 0; shift -= 8)
    bytes += static_cast<char>(value >> shift & 0xFFU);
  return bytes;
}

std::size_t inside_box(const std::string& bytes, const std::string& name) {
  const std::size_t at = bytes.find(name);
  if (at == std::string::npos) throw std::logic_error("no box " + name);
  return at + 4;
}

void set_matrix(std::string& bytes, const std::array<std::int32_t, 9>& matrix) {
  // Version 0: 4 + 5 * 4 bytes of flags, times and number, then 8 + 2 + 2 + 2 + 2 before it.
  std::size_t at = inside_box(bytes, "tkhd") + 40;
  for (const std::int32_t value : matrix) {
    put(bytes, at, static_cast<std::uint32_t>(value));
    at += 4;
  }
}

void set_edit(std::string& bytes, std::uint32_t length, std::uint32_t start) {
  const std::size_t at = inside_box(bytes, "elst");
  if (number_at(bytes, at + 4) != 1) throw std::logic_error("more than one edit");
  put(bytes, at + 8, length);
  put(bytes, at + 12, start);
}

std::uint32_t edit_start(const std::string& bytes) {
  return number_at(bytes, inside_box(bytes, "elst") + 12);
}

void set_first_duration(std::string& bytes, std::uint32_t duration) {
  put(bytes, inside_box(bytes, "stts") + 12, duration);
}

void add_capture_rate(std::string& bytes, float rate_per_s) {
  std::uint32_t bits = 0;
  std::memcpy(&bits, &rate_per_s, sizeof bits);
  const std::string zero = big_endian_32(0), one = big_endian_32(1);
  const std::string kind = zero + zero + "mdta" + zero + zero + zero + std::string(1, '\0');
  const std::string key = "com.android.capture.fps";
  const std::string entry =
      big_endian_32(static_cast<std::uint32_t>(key.size() + 8)) + "mdta" + key;
  const std::string value = box("data", big_endian_32(23) + zero + big_endian_32(bits));
  const std::string item =
      big_endian_32(static_cast<std::uint32_t>(value.size() + 8)) + one + value;
  const std::string meta =
      box("meta", box("hdlr", kind) + box("keys", zero + one + entry) + box("ilst", item));
  const std::size_t index = inside_box(bytes, "moov") - 8;
  if (index + number_at(bytes, index) != bytes.size()) throw std::logic_error("index not last");
  put(bytes, index, static_cast<std::uint32_t>(number_at(bytes, index) + meta.size()));
  bytes += meta;
}

}  // namespace swingloss::test
