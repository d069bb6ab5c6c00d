// SPDX-License-Identifier: Apache-2.0
/// \file face_view.h
/// The cut of a photograph that shows one face, with what was seen drawn where it was seen.
#pragma once

#include "report/face_plate.h"

namespace swingloss {

/// The face with its marks and, where a card gave the scale, a scale bar. /// \param face  one
/// of `photo`'s \param width_px, height_px  of the picture
[[nodiscard]] Still picture_of_face(const FacePhoto& photo,
                                    const FaceMeasures& face,
                                    int width_px,
                                    int height_px);

/// What the colours of picture_of_face() mean, in one line.
/// \param left_px, base_px  where the line begins
void draw_legend(Still& plate, int left_px, int base_px);

}  // namespace swingloss
