// SPDX-License-Identifier: Apache-2.0
#include "render/random_stream.h"

#include "core/angle.h"
#include "core/expects.h"

#include <cmath>

namespace swingloss::render {

RandomStream::RandomStream(std::uint64_t seed, std::uint64_t purpose)
    : state_(seed * 0xD1342543DE82EF95ULL + purpose * 0x9E3779B97F4A7C15ULL) {
  bits();
  state_ ^= bits() + purpose;
}

std::uint64_t RandomStream::bits() {
  state_ += 0x9E3779B97F4A7C15ULL;
  std::uint64_t z = state_;
  z = (z ^ (z >> 30U)) * 0xBF58476D1CE4E5B9ULL;
  z = (z ^ (z >> 27U)) * 0x94D049BB133111EBULL;
  return z ^ (z >> 31U);
}

double RandomStream::uniform(double low, double high) {
  const double unit = static_cast<double>(bits() >> 11U) * 0x1.0p-53;
  return low + (high - low) * unit;
}

int RandomStream::below(int count) {
  expects(count >= 1, "RandomStream::below() of nothing");
  return static_cast<int>(uniform(0.0, static_cast<double>(count)));
}

double RandomStream::normal() {
  const double radius = std::sqrt(-2.0 * std::log(1.0 - uniform(0.0, 1.0)));
  return radius * std::cos(2.0 * kPi * uniform(0.0, 1.0));
}

}  // namespace swingloss::render
