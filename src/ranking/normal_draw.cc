// SPDX-License-Identifier: Apache-2.0
#include "ranking/normal_draw.h"

#include "metrology/distributions.h"

#include <cmath>
#include <cstring>

namespace swingloss {
namespace {

constexpr int kOctaves = 31;  // tail chances from 2^-32 to 2^-1
constexpr int kPieces = 16;   // in each

}  // namespace

NormalDraw::NormalDraw(std::uint64_t seed) : bits_(seed) {
  table_.reserve(kOctaves * kPieces + 1);
  for (int octave = 0; octave < kOctaves; ++octave) {
    for (int piece = 0; piece < kPieces; ++piece) {
      const double chance = std::ldexp(1.0 + static_cast<double>(piece) / kPieces, octave - 32);
      table_.push_back(-normal_quantile(chance));
    }
  }
  table_.push_back(0.0);
}

double NormalDraw::operator()() {
  const std::uint64_t bits = bits_();
  // 52 bits make the tail's chance (in units of 2^-53), one makes the side. As a double the
  // chance carries its octave in the exponent and its piece in the top of the mantissa.
  const double chance = static_cast<double>((bits >> 12) | 1U);
  std::uint64_t pattern = 0;
  std::memcpy(&pattern, &chance, sizeof pattern);
  constexpr std::uint64_t kFirst = static_cast<std::uint64_t>(1023 + 53 - 32) * kPieces;
  const std::uint64_t place = pattern >> 48;
  if (place < kFirst) return (bits & 1U) != 0 ? table_.front() : -table_.front();
  const std::uint64_t i = place - kFirst;
  constexpr double kUnit = 1.0 / 281474976710656.0;  // 2^-48
  const double share = static_cast<double>(pattern & 0xFFFFFFFFFFFFU) * kUnit;
  const double size = table_[i] + share * (table_[i + 1] - table_[i]);
  return (bits & 1U) != 0 ? size : -size;
}

}  // namespace swingloss
