// SPDX-License-Identifier: Apache-2.0
/// \file solve_cell.h
/// From the pixels of one cell of the arm to its shift. Internal to tracking.
#pragma once

#include "tracking/frame_model.h"

#include <optional>
#include <vector>

#include <Eigen/Core>

namespace swingloss {

/// Unknowns of one cell: its shift (2), then its light: gain of the ink, offset of the ink,
/// shade on the background (a shadow that goes along with the arm).
inline constexpr std::size_t kCellUnknowns = 5;
using CellVector = Eigen::Matrix<double, kCellUnknowns, 1>;

/// What one pixel says of its cell.
struct CellPixel {
  /// d(model level) / d(unknown) of each, then the misfit (seen less expected, levels), then
  /// two zeros: in one piece, so that four products are worked out at a time.
  using Told = Eigen::Array<float, 8, 1>;

  Told told;
  float slope2 = 0.0F;   ///< of the model by a shift, squared
  float front = 0.0F;    ///< 0..1: front_edge_weight() of side_px
  float side_px = 0.0F;  ///< of the arm's side seen beside it
  Eigen::Vector2f body = Eigen::Vector2f::Zero();
  Eigen::Vector2f pixel = Eigen::Vector2f::Zero();
  float seen = 0.0F, under = 0.0F;  ///< level there; background, light

  /// \param at  the pixel \param level  seen there \param background  there, light
  /// \param seen_side_px  of the arm's side beside it
  CellPixel(const PixelModel& m,
            const Eigen::Vector2d& at,
            double level,
            double background,
            double seen_side_px);

  [[nodiscard]] float misfit() const { return told[Eigen::Index(kCellUnknowns)]; }
};

/// Part of a pixel that is believed when `left_levels` of it are not explained. What a shift of
/// reach_px explains is no outlier.
[[nodiscard]] inline float believed_part(const CellPixel& pixel,
                                         float left_levels,
                                         const RegistrationOptions& options) {
  const auto outlier = float(options.outlier_levels), reach = float(options.reach_px);
  const float halving2 = outlier * outlier + reach * reach * pixel.slope2;
  return pixel.front * halving2 / (halving2 + left_levels * left_levels);
}

/// One linear step of a cell's shift and light, robust against pixels that show something else:
/// first with a reach wide enough for what is looked for, then with the one asked for, about
/// the place that was found. Weights taken at "no shift" believe those pixels most that happen
/// to agree with it, and answer a third of a pixel too little of every pixel. \return its
/// `pixel` is the shift alone, its `cell` is not set; nothing for a cell that says too little
[[nodiscard]] std::optional<CellShift> step_of_cell(const std::vector<CellPixel>& pixels,
                                                    const RegistrationOptions& options);

}  // namespace swingloss
