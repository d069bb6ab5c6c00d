// SPDX-License-Identifier: Apache-2.0
/// \file sheet_parts.h
/// The shapes that sheets are made of. Internal to view.
#pragma once

#include "view/sheet.h"

namespace swingloss {

/// A filled rectangle with sides along the axes.
[[nodiscard]] SheetShape box_shape(const Eigen::Vector2d& at_m,
                                   const Eigen::Vector2d& size_m,
                                   double grey);

/// The outline of a rectangle, its line lying inside.
[[nodiscard]] SheetShape frame_shape(const Eigen::Vector2d& at_m,
                                     const Eigen::Vector2d& size_m,
                                     double line_m);

/// A disc as a polygon whose area is the disc's to 1e-4.
[[nodiscard]] SheetShape disc_shape(const Eigen::Vector2d& centre_m,
                                    double radius_m,
                                    double grey);

/// A tag of the dictionary 4x4_50: black border one cell wide around 4 x 4 cells.
/// \param at_m    outer corner of the border, top left
/// \param side_m  outer side of the border
[[nodiscard]] SheetShape tag_shape(int id, const Eigen::Vector2d& at_m, double side_m);

/// A ruler with a tick each millimetre and its length in words below; from the outer edge of
/// the first tick to the outer edge of the last is `length_m`.
void add_ruler(SheetPage& page, const Eigen::Vector2d& from_m, double length_m);

}  // namespace swingloss
