// SPDX-License-Identifier: Apache-2.0
#include "view/scale_card.h"

namespace swingloss {
namespace {

constexpr double kMm = 1e-3;
constexpr double kTag_mm = 10.0;
constexpr int kColumns = 4, kRows = 4;
constexpr double kFirst_mm = 6.0;    // left and top of the first tag
constexpr double kColumn_mm = 28.0;  // from tag to tag
constexpr double kRow_mm = 18.0;

CardTag tag_at(int id, int column, int row) {
  const double x = (kFirst_mm + column * kColumn_mm) * kMm;
  const double y = (kFirst_mm + row * kRow_mm) * kMm;
  const double side = kTag_mm * kMm;
  CardTag tag;
  tag.id = id;
  tag.corners_m = {Eigen::Vector2d(x, y),
                   Eigen::Vector2d(x + side, y),
                   Eigen::Vector2d(x + side, y + side),
                   Eigen::Vector2d(x, y + side)};
  return tag;
}

ScaleCard card_with(const std::string& name, CardGround ground, int first_id) {
  ScaleCard card;
  card.name = name;
  card.ground = ground;
  card.size_m = Eigen::Vector2d(106.0, 92.0) * kMm;
  card.window_m = {Eigen::Vector2d(22.0, 22.0) * kMm, Eigen::Vector2d(84.0, 54.0) * kMm};
  card.ruler_from_m = Eigen::Vector2d(13.0, 80.0) * kMm;
  card.ruler_m = 80.0 * kMm;
  card.tag_m = kTag_mm * kMm;
  int id = first_id;
  for (int row = 0; row < kRows; ++row) {
    for (int column = 0; column < kColumns; ++column) {
      const bool inside = row > 0 && row < kRows - 1 && column > 0 && column < kColumns - 1;
      if (!inside) card.tags.push_back(tag_at(id++, column, row));
    }
  }
  return card;
}

}  // namespace

const std::vector<ScaleCard>& scale_cards() {
  static const std::vector<ScaleCard> cards = {
      card_with("dark-ground", CardGround::Dark, kStickerTags),
      card_with("light-ground", CardGround::Light, kStickerTags + 12)};
  return cards;
}

}  // namespace swingloss
