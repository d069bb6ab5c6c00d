// SPDX-License-Identifier: Apache-2.0
/// \file follow_frames.h
/// Directions of the arm where view and look are known already.
#pragma once

#include "tracking/exposure_search.h"

#include <vector>

namespace swingloss {

/// Moves each listed frame from its coarse direction to within a fraction of a pixel of the
/// look's: first on smoothed pictures, so that a start a degree off still pulls.
/// \param scene  look, view and full-size crops; the background in light
/// \param which  the frames to move, ascending \return directions, one a crop of the scene
[[nodiscard]] std::vector<double> follow_frames(const RegistrationScene& scene,
                                                const std::vector<std::size_t>& which);

}  // namespace swingloss
