// SPDX-License-Identifier: Apache-2.0
/// \file random_stream.h
/// Random numbers that are the same on every machine.
#pragma once

#include <cstdint>

namespace swingloss::render {

/// The splitmix64 sequence [SteeleLeaFlood2014]: any seed is a good seed, and a stream for each
/// purpose is made by a seed for each purpose.
class RandomStream {
 public:
  explicit RandomStream(std::uint64_t seed, std::uint64_t purpose = 0);
  std::uint64_t bits();
  /// In [low, high).
  double uniform(double low, double high);
  /// 0 .. count - 1. \throws std::logic_error for count < 1
  int below(int count);
  bool chance(double probability) { return uniform(0.0, 1.0) < probability; }
  /// Mean 0, standard deviation 1 (Box-Muller).
  double normal();

 private:
  std::uint64_t state_;
};

}  // namespace swingloss::render
