// SPDX-License-Identifier: Apache-2.0
/// \file scale_card.h
/// The printed cards that give a photograph its scale.
#pragma once

#include <array>
#include <string>
#include <vector>

#include <Eigen/Core>

namespace swingloss {

/// One square tag (ArUco, dictionary 4x4_50) of a card, its black border's outer corners.
struct CardTag {
  int id = 0;
  /// Clockwise from the tag's own top left, in the card's frame.
  std::array<Eigen::Vector2d, 4> corners_m;
};

/// What is printed inside the window, behind the bar.
enum class CardGround {
  Dark,   ///< for light bars
  Light,  ///< for dark bars
};

/// A rectangle of the card's frame with sides along its axes.
struct CardBox {
  Eigen::Vector2d low_m, high_m;
};

/// A card as it is printed true to size. Frame: origin at the card's top left corner, x right,
/// y down, z away from a reader (so a face raised above the card has z < 0).
struct ScaleCard {
  std::string name;  ///< "dark-ground"
  CardGround ground = CardGround::Dark;
  Eigen::Vector2d size_m;
  CardBox window_m;              ///< where the bar is laid; may be cut out
  Eigen::Vector2d ruler_from_m;  ///< left end of the size-check ruler
  double ruler_m = 0.0;          ///< its length when printed true
  std::vector<CardTag> tags;     ///< around the window, on all four sides
  double tag_m = 0.0;            ///< side of a tag
};

/// The cards of `swingloss sheet`. Their tags' numbers differ, so a photograph tells which card
/// lies in it; numbers 0 to 9 are left to the stickers of the rig.
[[nodiscard]] const std::vector<ScaleCard>& scale_cards();

/// Numbers of tags that stickers of the rig carry: 0 .. kStickerTags - 1.
inline constexpr int kStickerTags = 10;

}  // namespace swingloss
