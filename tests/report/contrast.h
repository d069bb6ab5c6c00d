// SPDX-License-Identifier: Apache-2.0
/// \file contrast.h
/// How well two colours are told apart, after [WCAG2]; written for the tests.
#pragma once

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdlib>
#include <string>

namespace swingloss::test {

using Triple = std::array<double, 3>;

/// One channel, 0 to 255, to linear sRGB. IEC 61966-2-1's curve, value from memory.
inline double linear_channel(double byte) {
  const double c = byte / 255.0;
  return c <= 0.04045 ? c / 12.92 : std::pow((c + 0.055) / 1.055, 2.4);
}

/// "#rrggbb" to linear sRGB.
inline Triple linear_rgb(const std::string& hex) {
  Triple rgb{};
  for (std::size_t i = 0; i < 3; ++i)
    rgb[i] = linear_channel(std::strtod(("0x" + hex.substr(1 + 2 * i, 2)).c_str(), nullptr));
  return rgb;
}

/// Relative luminance and contrast [WCAG2], formula from memory.
inline double luminance(const Triple& rgb) {
  return 0.2126 * rgb[0] + 0.7152 * rgb[1] + 0.0722 * rgb[2];
}

inline double contrast(const Triple& one, const Triple& other) {
  const auto [low, high] = std::minmax({luminance(one), luminance(other)});
  return (high + 0.05) / (low + 0.05);
}

inline double contrast(const std::string& one, const std::string& other) {
  return contrast(linear_rgb(one), linear_rgb(other));
}

}  // namespace swingloss::test
