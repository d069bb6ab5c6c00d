// SPDX-License-Identifier: Apache-2.0
/// \file card_tags.h
/// Tags of scale cards in a picture, and what their edges tell of it. Internal to view.
#pragma once

#include "view/card_view.h"

#include <array>
#include <vector>

namespace swingloss {

/// One tag as it was read.
struct SeenTag {
  int id = 0;
  std::array<Eigen::Vector2d, 4> corners_px;  ///< clockwise from the tag's own top left
};

/// All tags of the dictionary, corners refined in the full picture. The picture is looked at in
/// up to three sizes, so that 48 million pixels do not take long and a blurred picture is still
/// recognised as one with a card.
[[nodiscard]] std::vector<SeenTag> read_card_tags(const cv::Mat& grey);

/// What the black-white edges of the tags show.
struct EdgeLook {
  double blur_px = 0.0;  ///< of the less sharp of the two directions
  double black_level = 0.0, white_level = 0.0;
};
[[nodiscard]] EdgeLook look_of_edges(const cv::Mat& grey, const std::vector<SeenTag>& tags);

/// The map that fits the corners of tags best, with the covariance's directions.
struct FittedMap {
  CardMap map;
  std::vector<CardMap> one_u_off;
  double residual_px = 0.0;
  std::vector<double> tag_residual_px;  ///< root mean square, a tag
};
[[nodiscard]] Result<FittedMap> fit_card_map(const ScaleCard& card,
                                             const std::vector<SeenTag>& tags,
                                             const cv::Size& size_px);

}  // namespace swingloss
