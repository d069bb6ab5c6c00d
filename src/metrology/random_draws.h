// SPDX-License-Identifier: Apache-2.0
/// \file random_draws.h
/// Random numbers that are the same wherever the program runs.
#pragma once

#include <cstdint>
#include <optional>
#include <random>

namespace swingloss {

/// A stream of draws from one seed. The generator is fixed by the language standard (Mersenne
/// twister, 64 bits); the shapes are made here, because the library's own differ between
/// implementations. Up to the last bits of the machine's log and sqrt, one seed gives one
/// stream everywhere.
class RandomDraws {
 public:
  explicit RandomDraws(std::uint64_t seed) : bits_(seed) {}

  /// Uniform on the open interval (0, 1), in steps of 2^-53.
  double uniform();
  /// Standard normal, by the polar method [Knuth2 3.4.1].
  double normal();
  /// Chi squared with degrees_of_freedom > 0, finite [MarsagliaTsang2000].
  double chi_squared(double degrees_of_freedom);
  /// Student's t with degrees_of_freedom > 0; infinite: the normal.
  double student(double degrees_of_freedom);

 private:
  std::mt19937_64 bits_;
  std::optional<double> second_normal_;
};

}  // namespace swingloss
