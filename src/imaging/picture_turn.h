// SPDX-License-Identifier: Apache-2.0
/// \file picture_turn.h
/// The turn or mirroring that makes a stored picture upright.
#pragma once

#include <array>
#include <cstdint>
#include <optional>

#include <opencv2/core.hpp>

namespace swingloss {

/// One of the eight ways to lay a rectangle on itself: rows and columns are exchanged first
/// (when `transpose`), then the result is flipped left-right and top-bottom.
struct PictureTurn {
  bool transpose = false;
  bool flip_x = false;  ///< left to right, after the exchange
  bool flip_y = false;  ///< top to bottom, after the exchange

  [[nodiscard]] bool none() const { return !transpose && !flip_x && !flip_y; }
  /// True when writing in the stored picture would be mirror writing in the upright one.
  [[nodiscard]] bool mirrored() const { return (transpose != flip_x) != flip_y; }
  /// Clockwise turn: 0, 90, 180 or 270; of the left-right mirrored picture when mirrored().
  [[nodiscard]] int rotation_deg() const;

  friend bool operator==(const PictureTurn& a, const PictureTurn& b) {
    return a.transpose == b.transpose && a.flip_x == b.flip_x && a.flip_y == b.flip_y;
  }
};

/// The clockwise turn of a right angle's multiple. \param rotation_deg 0, 90, 180 or 270
[[nodiscard]] PictureTurn turn_from_rotation(int rotation_deg);

/// EXIF tag 0x0112, 1 to 8; anything else is no turn. [EXIF 4.6.4]
[[nodiscard]] PictureTurn turn_from_exif(int orientation);

/// A container's display matrix {a b u; c d v; x y w}: the stored point (p, q), y down, is
/// shown at (a p + c q + x, b p + d q + y). Scale and shift are left out. [ISO14496-12 6.2.2]
/// \return nothing when the matrix is not a multiple of a right angle (with or without
/// mirroring)
///         to within 1 part in 100, or singular
[[nodiscard]] std::optional<PictureTurn> turn_from_matrix(
    const std::array<std::int32_t, 9>& matrix);

/// The matrix for the same turn, in 16.16 (last column 2.30), without shift.
[[nodiscard]] std::array<std::int32_t, 9> matrix_from_turn(const PictureTurn& turn);

/// A turned copy; a plain copy when there is nothing to turn. Any type of pixel.
[[nodiscard]] cv::Mat turned(const cv::Mat& picture, const PictureTurn& turn);

}  // namespace swingloss
