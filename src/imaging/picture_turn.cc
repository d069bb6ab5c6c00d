// SPDX-License-Identifier: Apache-2.0
#include "imaging/picture_turn.h"

#include "core/expects.h"

#include <cmath>

namespace swingloss {
namespace {

constexpr std::int32_t kOne_16_16 = 1 << 16;
constexpr std::int32_t kOne_2_30 = 1 << 30;

/// OpenCV's code for a flip about one axis or both.
int flip_code(const PictureTurn& turn) {
  if (turn.flip_x && turn.flip_y) return -1;
  return turn.flip_x ? 1 : 0;
}

}  // namespace

int PictureTurn::rotation_deg() const {
  // Undo the mirroring (left-right, before the turn), then read the turn that remains.
  const bool x = mirrored() && !transpose ? !flip_x : flip_x;
  const bool y = mirrored() && transpose ? !flip_y : flip_y;
  if (!transpose) return x && y ? 180 : 0;
  return x ? 90 : 270;
}

PictureTurn turn_from_rotation(int rotation_deg) {
  switch (rotation_deg) {
    case 0:
      return {};
    case 90:
      return {true, true, false};
    case 180:
      return {false, true, true};
    case 270:
      return {true, false, true};
    default:
      expects(false, "turn_from_rotation: not a multiple of a right angle");
      return {};
  }
}

PictureTurn turn_from_exif(int orientation) {
  switch (orientation) {
    case 2:
      return {false, true, false};
    case 3:
      return {false, true, true};
    case 4:
      return {false, false, true};
    case 5:
      return {true, false, false};
    case 6:
      return {true, true, false};
    case 7:
      return {true, true, true};
    case 8:
      return {true, false, true};
    default:
      return {};
  }
}

std::optional<PictureTurn> turn_from_matrix(const std::array<std::int32_t, 9>& matrix) {
  const double a = matrix[0], b = matrix[1], c = matrix[3], d = matrix[4];
  const double straight = std::min(std::abs(a), std::abs(d));
  const double crossed = std::min(std::abs(b), std::abs(c));
  const double rest_straight = std::max(std::abs(b), std::abs(c));
  const double rest_crossed = std::max(std::abs(a), std::abs(d));
  constexpr double kSlack = 0.01;
  if (straight > 0.0 && rest_straight <= kSlack * straight)
    return PictureTurn{false, a < 0, d < 0};
  if (crossed > 0.0 && rest_crossed <= kSlack * crossed) return PictureTurn{true, c < 0, b < 0};
  return std::nullopt;
}

std::array<std::int32_t, 9> matrix_from_turn(const PictureTurn& turn) {
  const std::int32_t x = turn.flip_x ? -kOne_16_16 : kOne_16_16;
  const std::int32_t y = turn.flip_y ? -kOne_16_16 : kOne_16_16;
  if (turn.transpose) return {0, y, 0, x, 0, 0, 0, 0, kOne_2_30};
  return {x, 0, 0, 0, y, 0, 0, 0, kOne_2_30};
}

cv::Mat turned(const cv::Mat& picture, const PictureTurn& turn) {
  if (turn.none()) return picture.clone();
  const bool flip = turn.flip_x || turn.flip_y;
  cv::Mat out;
  if (!turn.transpose) {
    cv::flip(picture, out, flip_code(turn));
    return out;
  }
  cv::transpose(picture, out);
  if (flip) cv::flip(out, out, flip_code(turn));
  return out;
}

}  // namespace swingloss
